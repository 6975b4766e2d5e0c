/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What both reports of a plan share. */
#include "file/report_plan.h"

#include <math.h>

tcr_status tcr_plan_report_validate(const tcr_plan *plan, const tcr_plan_work *work,
                                    const tcr_check *before, const tcr_check *after,
                                    tcr_sink sink) {
    tcr_status status = tcr_report_validate(before, sink);
    if (status == TCR_OK)
        status = tcr_report_validate(after, sink);
    if (status != TCR_OK)
        return status;
    return work != NULL && work->plan == plan && tcr_plan_fits(plan, tcr_check_set(before)) &&
                   tcr_plan_fits(plan, tcr_check_set(after))
               ? TCR_OK
               : TCR_E_ARGUMENT;
}

static const char *const USES[TCR_USES] = {"used",           "used-by-row", "bare-cover",
                                           "bare-condition", "bare-by-row", "bare-baby",
                                           "bare-stray",     "bare-bond",   "bare-weak"};
const tcr_words tcr_words_use = {USES, TCR_USES};

static const char *const ORDERS[] = {"found", "not-found", "crowded", "narrow", "too-many-lashes"};
const tcr_words tcr_words_order = {ORDERS, sizeof ORDERS / sizeof *ORDERS};

const char *tcr_use_text(tcr_use use) {
    static const char *const TEXT[TCR_USES] = {
        "carry what the plan gives them",
        "keep what their row gives them",
        "bare: the line is covered without them",
        "bare by their condition",
        "bare because their row says so",
        "bare: baby lashes, short or thin",
        "bare: strays, above the top row or out of the fan",
        "bare: too short for the bond",
        "bare: too short or too weak for what their zone needs",
    };
    return (int)use >= 0 && (int)use < TCR_USES ? TEXT[use] : "unknown";
}

const char *tcr_use_brief(tcr_use use) {
    static const char *const TEXT[TCR_USES] = {"used",
                                               "as their row says",
                                               "spared: --share",
                                               "bare by condition",
                                               "bare by row",
                                               "babies",
                                               "strays",
                                               "too short to bond",
                                               "too short or weak"};
    return (int)use >= 0 && (int)use < TCR_USES ? TEXT[use] : "unknown";
}

const char *tcr_plan_limit_name(int k) {
    static const char *const NAMES[] = {"overlength_mm", "mass_ratio", "moment_ratio", "bond"};
    return k >= 0 && k < (int)(sizeof NAMES / sizeof *NAMES) ? NAMES[k] : NULL;
}

double tcr_plan_limit_value(const tcr_limits *limits, int k) {
    const double values[] = {limits->overlength_mm, limits->mass_ratio, limits->moment_ratio};
    return k >= 0 && k < 3 ? values[k] : NAN;
}

tcr_as_is tcr_plan_as_is(const tcr_plan *plan, const tcr_check *before) {
    size_t tips;
    const bool moved = tcr_plan_options_of(plan)->free_mm > 0.0;
    const double rms_mm = tcr_check_rms_off(before, tcr_plan_result_of(plan)->line, moved, &tips);
    return (tcr_as_is){tips, rms_mm};
}

int tcr_plan_eyes(const tcr_plan *plan, bool zones_only, tcr_side *side) {
    int eyes = 0;
    for (int s = 0; s < TCR_SIDES; s++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)s);
        if (eye == NULL || eye->zones_only != zones_only)
            continue;
        *side = (tcr_side)s;
        eyes++;
    }
    return eyes;
}

const tcr_plan_cell *tcr_plan_cell_at(const tcr_plan_result *result, tcr_side side, size_t zone,
                                      tcr_layer layer) {
    for (size_t c = 0; c < result->cells; c++)
        if (result->cell[c].side == side && result->cell[c].zone == zone &&
            result->cell[c].layer == layer)
            return &result->cell[c];
    return NULL;
}

const tcr_plan_cell *tcr_plan_cell_of(const tcr_plan *plan, const tcr_set *set, tcr_side side,
                                      size_t lash) {
    const tcr_lash *natural = tcr_set_lash(set, side, lash);
    return tcr_plan_cell_at(tcr_plan_result_of(plan), side, tcr_set_zone_at(set, side, natural->u),
                            natural->layer);
}
