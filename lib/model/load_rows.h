/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_LOAD_ROWS_H
#define TCR_MODEL_LOAD_ROWS_H

/*
 * Loads of many lashes, in the blocks of rows.h and with the bits of tcr_usual_load. What a lash
 * turns by itself, and how its axes stand, is kept in the block as long as it stays; what belongs
 * to an extension on a bond of a length is worked out once by whoever fills the rows.
 */

#include "model/load.h"
#include "model/rows.h"

/* What lashes that wear an extension alike share of its load. */
typedef struct tcr_borne {
    double d2;         /* the fibre's diameter squared, mm2 */
    tcr_moments free;  /* tcr_free_moments */
    double turned_rad; /* of the tangent, from the base to where the bond ends */
    double fibres_uN;  /* of all fibres of which d^2 sums to 1 mm3 */
    double mass_mg;    /* of all fibres */
    double usual; /* 1, or 0 where the fibre tapers within the bond: a lash is then weighed alone */
} tcr_borne;

typedef struct tcr_borne_rows {
    double d2[TCR_ROWS], weight[TCR_ROWS], first_x[TCR_ROWS], first_y[TCR_ROWS];
    double turned_rad[TCR_ROWS], fibres_uN[TCR_ROWS], mass_mg[TCR_ROWS], usual[TCR_ROWS];
} tcr_borne_rows;

/* Loads, as in tcr_load; the mass of the extension is that of tcr_borne_rows. */
typedef struct tcr_load_rows {
    double natural_mass_mg[TCR_ROWS], mass_ratio[TCR_ROWS];
    double natural_moment_uNmm[TCR_ROWS], root_moment_uNmm[TCR_ROWS], moment_ratio[TCR_ROWS];
} tcr_load_rows;

/* A block of loads with what is kept of it; all 0 at first. */
typedef struct tcr_load_block {
    tcr_borne_rows borne;
    tcr_lie_rows lie;
    tcr_load_rows load;
    /* First moments of the lash and of a fibre 1 mm thick, and the numbers that they are made of.
     */
    double own_x[TCR_ROWS], own_y[TCR_ROWS], bonded_x[TCR_ROWS], bonded_y[TCR_ROWS];
    double length_mm[TCR_ROWS], turn_rad[TCR_ROWS], root_mm[TCR_ROWS], tip_mm[TCR_ROWS];
    double offset_mm[TCR_ROWS], bond_mm[TCR_ROWS];
    /* The lash's axes, as in tcr_across, and the directions that they are made of. */
    double along_x[TCR_ROWS], up_x[TCR_ROWS], out_x[TCR_ROWS];
    double along_z[TCR_ROWS], up_z[TCR_ROWS], out_z[TCR_ROWS];
    double pitch_rad[TCR_ROWS], yaw_rad[TCR_ROWS], roll_rad[TCR_ROWS];
    size_t weighed, stood; /* rows that these are made for; 0 stood: the seats are new */
} tcr_load_block;

/* What an extension with a bond of bond_mm is to any lash, with the default materials. */
tcr_borne tcr_borne_of(const tcr_extension *ext, const tcr_fibre *fibre, double bond_mm);

/* The loads of n lashes, which lie as block->lie says and wear what block->borne says, for rows
 * that are as usual in rows.h. */
void tcr_load_rows_n(size_t n, const tcr_lash_rows *lash, const tcr_seat_rows *seat,
                     const tcr_worn_rows *worn, tcr_load_block *block);

/* Writes what is borne to row i. */
static inline void tcr_borne_row(tcr_borne_rows *rows, size_t i, const tcr_borne *borne) {
    rows->d2[i] = borne->d2;
    rows->weight[i] = borne->free.weight;
    rows->first_x[i] = borne->free.first.x;
    rows->first_y[i] = borne->free.first.y;
    rows->turned_rad[i] = borne->turned_rad;
    rows->fibres_uN[i] = borne->fibres_uN;
    rows->mass_mg[i] = borne->mass_mg;
    rows->usual[i] = borne->usual;
}

static inline tcr_load tcr_load_in_row(const tcr_load_block *b, size_t i) {
    return (tcr_load){
        .natural_mass_mg = b->load.natural_mass_mg[i],
        .extension_mass_mg = b->borne.mass_mg[i],
        .mass_ratio = b->load.mass_ratio[i],
        .natural_moment_uNmm = b->load.natural_moment_uNmm[i],
        .root_moment_uNmm = b->load.root_moment_uNmm[i],
        .moment_ratio = b->load.moment_ratio[i],
    };
}

#endif
