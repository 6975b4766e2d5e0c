/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_CELLS_H
#define TCR_LINE_CELLS_H

/*
 * What the lashes of an eye wear, split into what their cell (a zone of a layer) wears and their
 * own choice (model.md, section 8).
 */

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

#include "model/evaluate.h"

/* What a cell wears; its length depends on the place where lengths blend. */
typedef struct tcr_cell {
    size_t lashes;    /* that wear an extension; 0: the cell takes no part */
    double beyond_mm; /* its length beyond that of map and rule */
    tcr_choice worn;  /* all but the length */
} tcr_cell;

/* What a lash has chosen beside its cell. */
typedef struct tcr_own_choice {
    size_t place;     /* of its cell in the table */
    double longer_mm; /* than the cell's length at the lash's u */
    unsigned differs; /* members of tcr_choice that are not the cell's: bits TCR_FIX_... */
} tcr_own_choice;

typedef struct tcr_cells {
    const tcr_variant *v;
    tcr_cell *cell;      /* of zone z and layer l at z * TCR_LAYERS + l */
    tcr_own_choice *own; /* of each wearing lash */
} tcr_cells;

/* Which of a cell's lengths are levelled. */
typedef struct tcr_levels {
    bool shortening, steps; /* true: as they are */
} tcr_levels;

/* Takes the properties of these bits, the length excepted. */
void tcr_choice_take(tcr_choice *to, const tcr_choice *from, unsigned bits);

/* Splits what the wearing lashes of a variant wear. TCR_OK or TCR_E_MEMORY; freed by
 * tcr_cells_free in either case. */
tcr_status tcr_cells_make(const tcr_variant *v, const tcr_allocator *allocator, tcr_cells *cells);
void tcr_cells_free(const tcr_allocator *allocator, tcr_cells *cells);

/* The cell of wearing lash j, and its length there. */
const tcr_cell *tcr_cells_of(const tcr_cells *cells, size_t j);
double tcr_cells_length(const tcr_cells *cells, size_t j, tcr_levels levels);

/* What the cell of a layer wears at u; where no lash wears it, what map and rule give. */
tcr_choice tcr_cells_choice_at(const tcr_cells *cells, double u, tcr_layer layer);

/* Whether rows give the lengths of more than half of the wearing lashes, and no plan chose them. */
bool tcr_cells_worn_by_rows(const tcr_cells *cells);

#endif
