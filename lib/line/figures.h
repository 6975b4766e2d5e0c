/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_FIGURES_H
#define TCR_LINE_FIGURES_H

/* The tips of an eye for a check that gives figures alone: in blocks, and from run to run with what
 * map, rule, tray, curls and bond give, as long as these stay the same. */

#include "line/check_data.h"

/*
 * Places the lashes of an eye that wear an extension: number, layers and tips of its variant, whose
 * room is there. The eye is there and has lashes and a map. TCR_OK; TCR_E_MEMORY; or the status of
 * a lash that cannot be placed, with its index in 'lash' and, for TCR_E_TRAY, its length.
 */
tcr_status tcr_figures_place(const tcr_check *check, tcr_checked_eye *eye, size_t *lash,
                             double *length_mm);

/* Frees what has been kept. */
void tcr_figures_free(tcr_figures *figures, const tcr_allocator *allocator);

#endif
