/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_LIMITS_H
#define TCR_ROD_LIMITS_H

#include <stdbool.h>

#include <tipcrest/limits.h>

#include "rod/lash_rod.h"

/* Whether any limit needs the load. */
bool tcr_limits_weigh(const tcr_limits *limits);

/* Whether an extension of a length is beyond the limit of overlength. */
bool tcr_limits_too_long(const tcr_limits *limits, const tcr_lash *lash, double length_mm);

/* The limits that a load is beyond: bits TCR_BEYOND_MASS and TCR_BEYOND_MOMENT. */
unsigned tcr_limits_beyond_load(const tcr_limits *limits, const tcr_load *load);

#endif
