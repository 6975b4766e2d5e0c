/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_CHECK_CLASS_H
#define TCR_CLI_CHECK_CLASS_H

/* The picture of check of many sets: a bar for each, the most even first. */

#include "picture.h"

#ifdef TCR_WITH_DRAW

/* Draws sets that have a check, of which the first are shown where they are too many. Statuses of
 * tcr_chart_write; TCR_E_MISSING where none can be judged. */
tcr_status tcr_class_picture(const tcr_ranked_set *sets, size_t count, const tcr_picture_look *look,
                             tcr_sink sink, void *context);

#endif

#endif
