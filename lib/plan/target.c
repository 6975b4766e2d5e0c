/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line that is planned for. */
#include "plan/target.h"

#include "line/intended.h"

tcr_status tcr_plan_target(const tcr_set *set, const tcr_view *view, tcr_line *line) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(set, sides);
    return tcr_intended_through(set, sides, eyes, view, line);
}
