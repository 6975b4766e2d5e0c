/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_FIT_H
#define TCR_LINE_FIT_H

#include <tipcrest/error.h>
#include <tipcrest/line.h>

/* Line options over their defaults, checked; NULL gives the defaults. TCR_E_ARGUMENT (size),
 * TCR_E_RANGE; error, which may be NULL, names the number. */
tcr_status tcr_line_options_take(const tcr_line_options *given, tcr_line_options *options,
                                 tcr_error *error);

/* tcr_line_fit without the quick way, which must end at the same line: for tests. */
tcr_status tcr_line_fit_carefully(const double *x_mm, const double *y_mm, size_t n,
                                  const tcr_line_options *options, double *scratch, tcr_line *line);

#endif
