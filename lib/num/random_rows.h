/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_RANDOM_ROWS_H
#define TCR_NUM_RANDOM_ROWS_H

/* Random numbers of many lashes at once, with the bits of single ones (random.h). */

#include <stddef.h>

#include <tipcrest/random.h>

/* Normal numbers of n lashes from number->lash on, as tcr_random_normal of each. */
void tcr_random_normals(const tcr_random *number, size_t n, double *normal);

/* Uniform numbers, as tcr_random_uniform. */
void tcr_random_uniforms(const tcr_random *number, size_t n, double *uniform);

#endif
