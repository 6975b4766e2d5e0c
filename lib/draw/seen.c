/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tips of an eye in any view: a check of that view, with one line alone. */
#include "draw/seen.h"

bool tcr_seen_is_judged(const tcr_seen *seen) {
    return seen->status == TCR_OK && seen->even.lashes >= TCR_TOO_FEW;
}

tcr_status tcr_seen_of(const tcr_check *check, tcr_side side, const tcr_view *view,
                       tcr_seen *seen) {
    tcr_check_options options = tcr_check_options_default();
    options.has_view = true;
    options.view = *view;
    const bool fitted = tcr_check_against(check) == TCR_FITTED;
    options.against = tcr_check_against(check);
    options.parts = fitted ? TCR_PART_FITTED : TCR_PART_INTENDED;
    options.tolerance_mm = tcr_check_tolerance(check);
    tcr_check *there;
    const tcr_status status = tcr_check_new(tcr_check_set(check), &options, &there, NULL);
    if (status != TCR_OK)
        return status;
    const tcr_eye_result *eye = tcr_check_eye(there, side);
    *seen = fitted
                ? (tcr_seen){TCR_FITTED, eye->fitted_status, eye->fitted_line, eye->fitted}
                : (tcr_seen){TCR_INTENDED, eye->intended_status, eye->intended_line, eye->intended};
    tcr_check_free(there);
    return TCR_OK;
}
