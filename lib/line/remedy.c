/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to do about a staggered lash: every length of the tray is laid on it and held to the line.
 */
#include "line/check_data.h"

#include <math.h>

#include "model/lash_kernel.h"

/* Gains below this are rounding, not a reason to change a length. */
static const double GAIN_LEAST_MM = 1e-9;

/* Steps of the tray from one length to another, negative to a shorter one. */
static int tray_steps(const tcr_tray *tray, double from, double to) {
    int steps = 0;
    for (size_t i = 0; i < tray->count; i++) {
        const double length = tray->length_mm[i];
        if (length >= to - GAIN_LEAST_MM && length < from - GAIN_LEAST_MM)
            steps--;
        if (length <= to + GAIN_LEAST_MM && length > from + GAIN_LEAST_MM)
            steps++;
    }
    return steps;
}

tcr_remedy tcr_check_remedy(const tcr_set *set, tcr_side side, size_t i,
                            const tcr_lash_result *result, const tcr_view *view,
                            const tcr_line *line) {
    const tcr_lash *lash = tcr_set_get_lash(set, side, i);
    const tcr_tray *tray = tcr_set_get_tray(set);
    const double present = result->choice.length_mm;
    tcr_remedy best = {.length_mm = present,
                       .deviation_mm = result->seen.y - tcr_line_at(line, result->seen.x)};
    for (size_t t = 0; t < tray->count; t++) {
        tcr_choice choice = result->choice;
        choice.length_mm = tray->length_mm[t];
        const tcr_extension ext = tcr_set_extension(set, &choice);
        tcr_attachment attachment;
        if (tcr_attach_kernel(lash, &ext, tcr_set_get_bond(set), &attachment) != TCR_OK)
            continue;
        const tcr_vec2 seen =
            tcr_view_project(view, tcr_stance_point_kernel(&result->stance, attachment.tip));
        const double deviation = seen.y - tcr_line_at(line, seen.x);
        if (fabs(deviation) < fabs(best.deviation_mm) - GAIN_LEAST_MM)
            best = (tcr_remedy){.length_mm = choice.length_mm, .deviation_mm = deviation};
    }
    best.sizes = tray_steps(tray, present, best.length_mm);
    return best;
}
