/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_ROWS_H
#define TCR_MODEL_ROWS_H

/*
 * Tips of many lashes, in blocks of columns that a compiler makes vectors of. The lanes are those
 * of evaluate.h, so that a tip has the bits of tcr_evaluate. What lashes share is worked out once
 * and stays in the block: the seat on the lid at an opening, where an extension parts at a length
 * of bond. A lane that is not as usual (attach_kernel.h) is marked, and is to be evaluated alone.
 *
 * Rows behind the last of a block hold copies of the first, so that loops always run over whole
 * vectors.
 */

#include "model/evaluate.h"

enum { TCR_ROWS = 32, TCR_ROWS_AT_ONCE = 8 };

/* Numbers of lashes, as in tcr_lash. */
typedef struct tcr_lash_rows {
    double u[TCR_ROWS], height_mm[TCR_ROWS];
    double pitch_rad[TCR_ROWS], yaw_rad[TCR_ROWS], roll_rad[TCR_ROWS];
    double length_mm[TCR_ROWS], turn_rad[TCR_ROWS];
    double root_mm[TCR_ROWS], tip_mm[TCR_ROWS]; /* diameters */
} tcr_lash_rows;

/* Seats, as in tcr_seat. */
typedef struct tcr_seat_rows {
    double x[TCR_ROWS], rho[TCR_ROWS], sine[TCR_ROWS], cosine[TCR_ROWS];
    double n_x[TCR_ROWS], n_r[TCR_ROWS];
    double t_x[TCR_ROWS], t_r[TCR_ROWS], t_p[TCR_ROWS], b_p[TCR_ROWS];
} tcr_seat_rows;

/* What is worn and how it is bonded, as in tcr_fibre and tcr_parting. */
typedef struct tcr_worn_rows {
    double offset_mm[TCR_ROWS], most_mm[TCR_ROWS]; /* of the bond; c may be shorter */
    double radius_mm[TCR_ROWS];                    /* half a fibre, and the glue */
    double upward[TCR_ROWS], outward[TCR_ROWS];
    double first_mm[TCR_ROWS], second_mm[TCR_ROWS], curvature[2][TCR_ROWS];
    double tip_x[TCR_ROWS], tip_y[TCR_ROWS], loss[TCR_ROWS];
    /* The parting at c = bond_mm. */
    double bond_mm[TCR_ROWS], chord_mm[TCR_ROWS], upright[TCR_ROWS];
    double along_x[TCR_ROWS], along_y[TCR_ROWS], rest_x[TCR_ROWS], rest_y[TCR_ROWS];
    double joint_x[TCR_ROWS], joint_y[TCR_ROWS], joint_to_x[TCR_ROWS], joint_to_y[TCR_ROWS];
} tcr_worn_rows;

/* Tips in the eye's frame. */
typedef struct tcr_tip_rows {
    double x[TCR_ROWS], y[TCR_ROWS], z[TCR_ROWS];
    double usual[TCR_ROWS]; /* 1, or 0 where a tip is wrong and is to be evaluated alone */
} tcr_tip_rows;

/* How extensions lie, in the own axes of their lashes: where the bond ends, and by what the
 * extension's own axes are turned. */
typedef struct tcr_lie_rows {
    double part_x[TCR_ROWS], part_y[TCR_ROWS], part_z[TCR_ROWS];
    double turn_cosine[TCR_ROWS], turn_sine[TCR_ROWS];
} tcr_lie_rows;

/* The seats of n lashes, at most TCR_ROWS rounded up. */
void tcr_seats_n(const tcr_lid_constants *lid, double opening, size_t n, const tcr_lash_rows *lash,
                 tcr_seat_rows *seat);

/* Where extensions part, each with its bond_mm. */
void tcr_partings_n(size_t n, tcr_worn_rows *worn);

/* The tips, and how extensions lie unless lie is NULL. touching: any is worn on top or underneath.
 */
void tcr_tip_rows_n(size_t n, const tcr_lash_rows *lash, const tcr_seat_rows *seat,
                    const tcr_worn_rows *worn, bool touching, tcr_tip_rows *tip, tcr_lie_rows *lie);

/* Writes a lash to row i. */
static inline void tcr_lash_row(tcr_lash_rows *rows, size_t i, const tcr_lash *lash) {
    rows->u[i] = lash->u;
    rows->height_mm[i] = lash->height_mm;
    rows->pitch_rad[i] = lash->pitch_rad;
    rows->yaw_rad[i] = lash->yaw_rad;
    rows->roll_rad[i] = lash->roll_rad;
    rows->length_mm[i] = lash->length_mm;
    rows->turn_rad[i] = lash->turn_rad;
    rows->root_mm[i] = lash->root_diameter_mm;
    rows->tip_mm[i] = lash->tip_diameter_mm;
}

/* A row as a suitable lash of the bottom layer; tips ask for no more. */
static inline tcr_lash tcr_lash_of_row(const tcr_lash_rows *rows, size_t i) {
    tcr_lash lash;
    lash.u = rows->u[i];
    lash.height_mm = rows->height_mm[i];
    lash.pitch_rad = rows->pitch_rad[i];
    lash.yaw_rad = rows->yaw_rad[i];
    lash.roll_rad = rows->roll_rad[i];
    lash.length_mm = rows->length_mm[i];
    lash.final_length_mm = NAN;
    lash.turn_rad = rows->turn_rad[i];
    lash.root_diameter_mm = rows->root_mm[i];
    lash.tip_diameter_mm = rows->tip_mm[i];
    lash.layer = TCR_BOTTOM;
    lash.condition = TCR_SUITABLE;
    return lash;
}

/* Writes what is worn and how it is bonded to row i, but for its placement; the bond covers as much
 * as both allow. */
static inline void tcr_bonded_row(tcr_worn_rows *w, size_t i, double length_mm, double diameter_mm,
                                  const tcr_fibre *fibre, const tcr_bond *bond) {
    const double most_mm = tcr_less(bond->length_mm, length_mm);
    w->offset_mm[i] = bond->offset_mm;
    w->most_mm[i] = most_mm;
    w->bond_mm[i] = most_mm;
    w->radius_mm[i] = tcr_radius(diameter_mm, bond->glue_mm);
    w->first_mm[i] = fibre->first_mm;
    w->second_mm[i] = fibre->second_mm;
    w->curvature[0][i] = fibre->curvature[0];
    w->curvature[1][i] = fibre->curvature[1];
    w->tip_x[i] = fibre->tip.x;
    w->tip_y[i] = fibre->tip.y;
    w->loss[i] = fibre->loss;
}

static inline void tcr_placement_row(tcr_worn_rows *w, size_t i, tcr_placement placement) {
    w->upward[i] = tcr_placement_upward(placement);
    w->outward[i] = tcr_placement_outward(placement);
}

/* Both, of an extension whose profile is not read. */
static inline void tcr_worn_row(tcr_worn_rows *w, size_t i, const tcr_extension *ext,
                                const tcr_fibre *fibre, const tcr_bond *bond) {
    tcr_bonded_row(w, i, ext->length_mm, ext->diameter_mm, fibre, bond);
    tcr_placement_row(w, i, ext->placement);
}

/* Copies row 'from' of a struct of columns, 'size' bytes long, to row i. */
static inline void tcr_rows_copy(void *rows, size_t size, size_t i, size_t from) {
    double *column = rows;
    for (size_t at = 0; at < size / sizeof(double); at += TCR_ROWS)
        column[at + i] = column[at + from];
}

/* How many rows loops run over. */
static inline size_t tcr_rows_whole(size_t n) {
    return (n + TCR_ROWS_AT_ONCE - 1) / TCR_ROWS_AT_ONCE * TCR_ROWS_AT_ONCE;
}

#endif
