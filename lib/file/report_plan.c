/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What both reports of a plan share. */
#include "file/report_plan.h"

#include <math.h>

static const char *const USES[TCR_USES] = {"used",           "used-by-row", "bare-cover",
                                           "bare-condition", "bare-by-row", "bare-baby",
                                           "bare-stray",     "bare-bond",   "bare-weak"};
const tcr_words tcr_words_use = {USES, TCR_USES};

static const char *const ORDERS[] = {"found",  "not-found", "crowded",
                                     "narrow", "none",      "too-many-lashes"};
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
        "bare: too weak for what their zone needs",
    };
    return (int)use >= 0 && (int)use < TCR_USES ? TEXT[use] : "unknown";
}

tcr_as_is tcr_plan_as_is(const tcr_plan *plan, const tcr_check *before) {
    const tcr_plan_result *r = tcr_plan_get(plan);
    tcr_as_is as_is = {0, 0.0};
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(before, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            const tcr_lash_result *lash = &eye->lash[i];
            if (lash->bare != TCR_OK)
                continue;
            const double off = lash->seen.y - tcr_line_at(&r->line, lash->seen.x) - r->shift_mm -
                               r->tilt * lash->seen.x;
            as_is.rms_mm += off * off;
            as_is.lashes++;
        }
    }
    as_is.rms_mm = as_is.lashes > 0 ? sqrt(as_is.rms_mm / (double)as_is.lashes) : NAN;
    return as_is;
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
    const tcr_lash *natural = tcr_set_get_lash(set, side, lash);
    return tcr_plan_cell_at(tcr_plan_get(plan), side, tcr_set_zone_at(set, side, natural->u),
                            natural->layer);
}
