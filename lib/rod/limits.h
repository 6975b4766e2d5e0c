/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_LIMITS_H
#define TCR_ROD_LIMITS_H

#include <tipcrest/limits.h>

#include "rod/lash_rod.h"

/* The load of a valid lash, of the default materials. */
tcr_load tcr_limits_load(const tcr_lash *lash, const tcr_stance *stance, tcr_worn worn);

/* tcr_limits_beyond for valid arguments, of an extension that is attached. */
unsigned tcr_limits_beyond_kernel(const tcr_limits *limits, const tcr_lash *lash,
                                  const tcr_stance *stance, tcr_worn worn);

#endif
