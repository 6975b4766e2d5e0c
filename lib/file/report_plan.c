/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What both reports of a plan share. */
#include "file/report_plan.h"

#include <math.h>

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

/* Sums over tips: of places, of how far off they are, and of products. */
typedef struct sums {
    double n, x, xx, y, xy, yy;
} sums;

/* What is left of the squares once the straight line that suits best is taken off. */
static double left_of(const sums *s) {
    const double xx = s->xx - s->x * s->x / s->n, xy = s->xy - s->x * s->y / s->n;
    const double flat = s->yy - s->y * s->y / s->n;
    return fmax(0.0, xx > 0.0 ? flat - xy * xy / xx : flat);
}

tcr_as_is tcr_plan_as_is(const tcr_plan *plan, const tcr_check *before) {
    const tcr_plan_result *r = tcr_plan_get(plan);
    sums of = {0};
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(before, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            const tcr_lash_result *lash = &eye->lash[i];
            if (lash->bare != TCR_OK)
                continue;
            const double x = lash->seen.x, y = lash->seen.y - tcr_line_at(&r->line, x);
            of.n += 1.0;
            of.x += x;
            of.xx += x * x;
            of.y += y;
            of.xy += x * y;
            of.yy += y * y;
        }
    }
    if (of.n == 0.0)
        return (tcr_as_is){0, NAN};
    const bool moves = tcr_plan_get_options(plan)->free_line;
    return (tcr_as_is){(size_t)of.n, sqrt((moves ? left_of(&of) : of.yy) / of.n)};
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
