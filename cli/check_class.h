/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_CHECK_CLASS_H
#define TCR_CLI_CHECK_CLASS_H

/* The picture of check of many sets: a bar for each, the most even first. */

#include "picture.h"

#ifdef TCR_WITH_DRAW

/* Whether any of these sets, as tcr_rank_sets leaves them, can be judged. */
bool tcr_class_has_picture(const tcr_ranked_set *sets, size_t count);

/* Draws them, of which at least one can be judged; only the first where they are too many. Statuses
 * of tcr_chart_write. */
tcr_status tcr_class_picture(const tcr_ranked_set *sets, size_t count, const tcr_picture_look *look,
                             tcr_sink sink, void *context);

#endif

#endif
