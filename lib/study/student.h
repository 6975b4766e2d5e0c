/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_STUDENT_H
#define TCR_STUDY_STUDENT_H

/* Intervals of a mean by Student's t. */

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/study_answer.h>

/* Levels of intervals that answers may have. */
#define TCR_LEVEL_LEAST 0.5
#define TCR_LEVEL_MOST 0.9999

/* The number of standard errors that an interval of 1 - alpha reaches to either side, n - 1 degrees
 * of freedom: alpha above 0 and below 1, n at least 2. */
double tcr_student_reach(double alpha, size_t n);

/* The mean of n values with its interval; 'reach' from tcr_student_reach. n is at least 2. */
tcr_interval tcr_interval_of_mean(const double *value, size_t n, double reach);

#endif
