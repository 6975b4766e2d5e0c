/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The intended line: what the map asks for, with every lash the mean lash (model.md, section 7). */
#include "line/check_data.h"

#include "model/lash_kernel.h"

tcr_status tcr_check_intended_points(const tcr_set *set, tcr_side side, const tcr_view *view,
                                     double *x, double *y) {
    enum { N = TCR_LINE_SAMPLES };
    const tcr_lid_constants k = tcr_lid_prepare(tcr_set_get_lid(set, side));
    const tcr_bond *bond = tcr_set_get_bond(set);
    for (int i = 0; i < N; i++) {
        /* 0.05 to 0.95, each nearest to its decimal, so that a place on a zone's border is on it.
         */
        const double u = (100.0 + 9.0 * i) / 2000.0;
        const tcr_lash mean = tcr_set_mean_lash_at(set, u);
        const tcr_extension ext = tcr_set_intended_extension(set, side, u);
        tcr_attachment attachment;
        const tcr_status status = tcr_attach_kernel(&mean, &ext, bond, &attachment);
        if (status != TCR_OK)
            return status;
        const tcr_stance stance = tcr_lash_stance_kernel(&mean, &k, view->opening);
        const tcr_vec2 seen =
            tcr_view_project(view, tcr_stance_point_kernel(&stance, attachment.tip));
        x[i] = seen.x;
        y[i] = seen.y;
    }
    return TCR_OK;
}

tcr_status tcr_check_intended_line(const tcr_set *set, tcr_side side, const tcr_view *view,
                                   tcr_line *line) {
    double x[TCR_LINE_SAMPLES], y[TCR_LINE_SAMPLES], scratch[TCR_LINE_SAMPLES];
    const tcr_status status = tcr_check_intended_points(set, side, view, x, y);
    if (status != TCR_OK)
        return status;
    tcr_line_options plain = tcr_line_options_default();
    plain.robust = false;
    return tcr_line_fit(x, y, TCR_LINE_SAMPLES, &plain, scratch, line);
}
