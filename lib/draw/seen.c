/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tips of an eye in any view, through the library's own line and figures. */
#include "draw/seen.h"

#include <stdlib.h>

/* Columns of the tips of lashes that carry an extension. */
typedef struct columns {
    double *x, *y, *scratch, *deviation, *across;
    tcr_layer *layer;
    size_t count;
} columns;

static tcr_status fill(const tcr_check *check, tcr_side side, const tcr_view *view, columns *to) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash *lash = tcr_set_get_lash(set, side, i);
        tcr_stance stance;
        if (eye->lash[i].bare != TCR_OK)
            continue;
        const tcr_status status =
            tcr_lash_stance(lash, tcr_set_get_lid(set, side), view->opening, &stance);
        if (status != TCR_OK)
            return status;
        const tcr_vec2 tip =
            tcr_view_project(view, tcr_stance_point(&stance, eye->lash[i].attachment.tip));
        to->x[to->count] = tip.x;
        to->y[to->count] = tip.y;
        to->layer[to->count++] = lash->layer;
    }
    return TCR_OK;
}

static void judge(const columns *tips, double tolerance_mm, tcr_seen *seen) {
    seen->status = tcr_line_fit(tips->x, tips->y, tips->count, NULL, tips->scratch, &seen->line);
    if (seen->status == TCR_OK)
        seen->status =
            tcr_line_evenness(&seen->line, tips->x, tips->y, tips->layer, tips->count, tolerance_mm,
                              tips->deviation, tips->across, tips->scratch, &seen->even);
}

bool tcr_seen_is_judged(const tcr_seen *seen) {
    return seen->status == TCR_OK && seen->even.lashes >= TCR_TOO_FEW;
}

tcr_status tcr_seen_of(const tcr_check *check, tcr_side side, const tcr_view *view,
                       tcr_seen *seen) {
    enum { COLUMNS = 5 };
    const size_t n = tcr_check_eye(check, side)->lashes;
    double *numbers = malloc((n > 0 ? n : 1) * COLUMNS * sizeof *numbers);
    tcr_layer *layer = malloc((n > 0 ? n : 1) * sizeof *layer);
    tcr_status status = numbers != NULL && layer != NULL ? TCR_OK : TCR_E_MEMORY;
    if (status == TCR_OK) {
        columns tips = {
            numbers, numbers + n, numbers + 2 * n, numbers + 3 * n, numbers + 4 * n, layer, 0};
        status = fill(check, side, view, &tips);
        if (status == TCR_OK)
            judge(&tips, tcr_set_get_tolerance(tcr_check_set(check)), seen);
    }
    free(layer);
    free(numbers);
    return status;
}
