/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_DEVIATIONS_H
#define TCR_LINE_DEVIATIONS_H

/* Deviations of many points from a line, with the bits of single ones. */

#include <tipcrest/line.h>

/* Y less the line, and the same at right angles to it, of n points. */
void tcr_line_deviations(const tcr_line *line, const double *x_mm, const double *y_mm, size_t n,
                         double *deviation_mm, double *across_mm);

#endif
