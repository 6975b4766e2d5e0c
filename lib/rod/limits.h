/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_LIMITS_H
#define TCR_ROD_LIMITS_H

#include <tipcrest/limits.h>

/* tcr_limits_beyond for valid arguments; attachment receives how the extension lies, unless
 * TCR_BEYOND_BOND is returned. */
unsigned tcr_limits_beyond_kernel(const tcr_limits *limits, const tcr_set *set,
                                  const tcr_lash *lash, const tcr_stance *stance,
                                  const tcr_choice *choice, tcr_attachment *attachment);

#endif
