/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line that is planned for. */
#include "plan/target.h"

#include "line/check_data.h"

tcr_status tcr_plan_target(const tcr_set *set, const tcr_view *view, tcr_line *line) {
    enum { N = TCR_LINE_SAMPLES };
    double x[2 * N], y[2 * N], scratch[2 * N];
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++) {
        const tcr_status status =
            tcr_check_intended_points(set, sides[e], view, x + e * N, y + e * N);
        if (status != TCR_OK)
            return status;
    }
    tcr_line_options plain = tcr_line_options_default();
    plain.robust = false;
    return tcr_line_fit(x, y, eyes * N, &plain, scratch, line);
}
