/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The causes of each eye, gathered before a report of them begins. */
#include "file/report_why.h"

const char *const tcr_cause_key[TCR_CAUSES] = {
    [TCR_CAUSE_HEIGHTS] = "root_heights",  [TCR_CAUSE_SHORTENING] = "layer_shortening",
    [TCR_CAUSE_PLACEMENT] = "placement",   [TCR_CAUSE_ZONES] = "zone_steps",
    [TCR_CAUSE_SINGLE] = "single_choices", [TCR_CAUSE_VARIATION] = "natural_variation",
};

/* Why there are no causes to tell, in words; NULL where the work itself failed. */
static const char *reason_of(const tcr_check *check, const tcr_eye_result *eye, tcr_status status) {
    const bool fitted = tcr_check_against(check) == TCR_FITTED;
    const tcr_status line = fitted ? eye->fitted_status : eye->intended_status;
    if (line != TCR_OK)
        return fitted ? tcr_no_line_reason(line, eye->extended) : tcr_no_intended_reason(line);
    if (status == TCR_E_BOND)
        return "with some causes levelled out, a lash has less than 1 mm to bond to";
    return status == TCR_E_ONE_X ? "with some causes levelled out, all tips stand above one place"
                                 : NULL;
}

tcr_status tcr_collect_causes(const tcr_check *check, tcr_eye_causes causes[TCR_SIDES],
                              size_t *count) {
    const bool fitted = tcr_check_against(check) == TCR_FITTED;
    tcr_side sides[TCR_SIDES];
    *count = tcr_set_eyes(tcr_check_set(check), sides);
    for (size_t e = 0; e < *count; e++) {
        tcr_eye_causes *of = &causes[e];
        *of = (tcr_eye_causes){.eye = tcr_check_eye(check, sides[e])};
        const tcr_status status = tcr_why_of(check, sides[e], &of->why);
        of->known = status == TCR_OK && !(fitted && of->eye->too_few);
        if (status == TCR_OK)
            continue;
        of->reason = reason_of(check, of->eye, status);
        if (of->reason == NULL)
            return status;
    }
    return TCR_OK;
}
