/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for a plan, whatever set it was made of. */
#include "fuzz/evaluate.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "fuzz/claim.h"
#include "fuzz/sinks.h"

static const double ROUNDING = 1e-9; /* as in evaluate.c */

/* Options picked by what the set is, so that one input always meets the same ones. */
static tcr_plan_options pick_options(const tcr_set *set, uint64_t *which) {
    const tcr_tray *tray = tcr_set_tray(set);
    const tcr_lid *lid = tcr_set_lid(set, tcr_set_has_eye(set, TCR_LEFT) ? TCR_LEFT : TCR_RIGHT);
    const double lengths[] = {tray->length_mm[0], (double)tray->count, lid->mrd1_mm,
                              (double)tcr_lashes_of(set), tcr_set_tolerance(set)};
    uint64_t number = tcr_hash((const uint8_t *)(const void *)lengths, sizeof lengths);
    *which = number;
    number /= 8;
    tcr_plan_options o = tcr_plan_options_default();
    o.objective = number % 3 == 0 ? TCR_LEAST_MAXIMUM : TCR_LEAST_SQUARES;
    o.free_mm = number / 3 % 3 == 0 ? 1.0 : 0.0;
    o.lengths_most = number / 9 % 4;
    o.zone_step_most_mm = number / 36 % 3 == 0 ? 1.0 : INFINITY;
    o.correct_all = number / 108 % 2 == 0;
    o.placement[TCR_INNER_SIDE] = number / 216 % 2 == 0;
    o.samples = o.objective == TCR_LEAST_SQUARES || !(o.free_mm > 0.0) ? number / 432 % 3 : 0;
    o.fans = number / 25920 % 3;
    o.fan[0] = 1;
    o.fan[1] = 2 + (int)(number / 77760 % 19);
    o.limits.overlength_mm = 2.0 + (double)(number / 1296 % 20);
    return o;
}

static void claim_lash(const tcr_plan_lash *lash) {
    const bool used = lash->use == TCR_USED || lash->use == TCR_USED_BY_ROW;
    claim((int)lash->use >= 0 && (int)lash->use < TCR_USES, "use %d", (int)lash->use);
    claim(used ? isfinite(lash->deviation_mm) && isfinite(lash->zone_deviation_mm)
               : isnan(lash->deviation_mm),
          "use %d, %.17g off the line", (int)lash->use, lash->deviation_mm);
    claim(!lash->corrected || fabs(lash->deviation_mm) < fabs(lash->zone_deviation_mm),
          "corrected from %.17g to %.17g", lash->zone_deviation_mm, lash->deviation_mm);
}

static void claim_wanting(const tcr_set *set, const tcr_plan_over *over, tcr_side side) {
    for (int w = 0; w < TCR_PLAN_WANTS; w++) {
        char text[TCR_PLAN_WANTING_SIZE];
        memset(text, 'x', sizeof text);
        tcr_plan_wanting_text(&over->wants[w], tcr_plan_lash_mm(set, side), text);
        claim(memchr(text, '\0', sizeof text) != NULL, "no end of what tells want %d", w);
    }
}

static void claim_reach(const tcr_plan *plan) {
    char text[TCR_PLAN_REACH_SIZE];
    memset(text, 'x', sizeof text);
    tcr_plan_reach_text(plan, text);
    claim(memchr(text, '\0', sizeof text) != NULL, "no end of what is out of reach");
}

static void claim_result(const tcr_plan *plan, const tcr_set *set) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const double numbers[] = {r->rms_mm, r->max_mm, r->bound_mm, r->shift_mm, r->tilt};
    const bool maximum = tcr_plan_options_of(plan)->objective == TCR_LEAST_MAXIMUM;
    const double expected = maximum ? r->samples_max_mm : r->expected_rms_mm;
    const double on_paper = maximum ? r->max_mm : r->rms_mm;
    const double value = isnan(expected) ? on_paper : expected;
    claim_reach(plan);
    tcr_claim_finite("plan", numbers, sizeof numbers / sizeof numbers[0]);
    claim_finite(r->line);
    claim(r->bound_mm <= value + ROUNDING, "bound %.17g, reached %.17g", r->bound_mm, value);
    claim(r->rms_mm <= r->max_mm + ROUNDING, "rms %.17g, most %.17g", r->rms_mm, r->max_mm);
    for (size_t i = 1; i < r->points; i++)
        claim(r->point[i].rms_mm <= r->point[i - 1].rms_mm + ROUNDING, "%zu corrections: %.17g",
              r->point[i].corrections, r->point[i].rms_mm);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++)
            claim_lash(&eye->lash[i]);
        if (eye != NULL)
            claim_wanting(set, &eye->over, (tcr_side)side);
        claim(eye == NULL || eye->gap_mm >= eye->least_gap_mm, "gap %.17g, at least %.17g",
              eye != NULL ? eye->gap_mm : 0.0, eye != NULL ? eye->least_gap_mm : 0.0);
    }
}

/* A survey may hold any character in quotes. */
static int count_bytes(void *context, const void *bytes, size_t count) {
    (void)bytes;
    *(size_t *)context += count;
    return 0;
}

/* Reports of the plan and the planned set as files. */
static tcr_status write_all(const tcr_plan *plan, const tcr_check *before, const tcr_check *after) {
    tcr_set_write_options options = tcr_set_write_options_default();
    options.comment = "planned";
    options.survey[TCR_LEFT] = "left.csv";
    options.survey[TCR_RIGHT] = "right.csv";
    options.limits = &tcr_plan_options_of(plan)->limits;
    tcr_json_sink json = {0};
    tcr_table_sink table = {0}, text = {0};
    size_t bytes = 0;
    tcr_plan_work *work;
    tcr_status status = tcr_plan_work_new(plan, NULL, &work);
    if (status != TCR_OK) {
        claim(status == TCR_E_MEMORY, "the work of a plan: %s", tcr_status_text(status));
        return status;
    }
    status = tcr_report_plan_json(plan, work, before, after, NULL, tcr_json_sink_take, &json);
    if (status == TCR_OK) {
        tcr_json_sink_end(&json);
        status =
            tcr_report_plan_table(plan, work, before, after, NULL, tcr_table_sink_take, &table);
    }
    if (status == TCR_OK)
        status = tcr_report_plan_csv(plan, tcr_check_set(before), NULL, count_bytes, &bytes);
    options.pace = work->pace;
    if (status == TCR_OK) {
        tcr_table_sink_end(&table);
        status = tcr_set_write(tcr_check_set(after), &options, tcr_table_sink_take, &text);
    }
    tcr_plan_work_free(work);
    if (status == TCR_OK)
        tcr_table_sink_end(&text);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (tcr_set_has_eye(tcr_check_set(after), (tcr_side)side))
            status = tcr_survey_write(tcr_check_set(after), (tcr_side)side, NULL, NULL, NULL,
                                      count_bytes, &bytes);
    claim(status == TCR_OK || status == TCR_E_MEMORY, "a report of a plan: %s",
          tcr_status_text(status));
    return status;
}

/* The tips of the planned set stand where the plan says. What is planned by zones alone says
 * nothing of a lash, so that one too weak for its zone carries it all the same. */
static void claim_applied(const tcr_plan *plan, const tcr_check *after) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            const tcr_lash_result *lash = &tcr_check_eye(after, (tcr_side)side)->lash[i];
            const double off = lash->seen.y - tcr_line_at(&r->line[side], lash->seen.x) -
                               r->shift_mm - r->tilt * lash->seen.x;
            if (isnan(eye->lash[i].deviation_mm))
                claim(eye->zones_only || lash->status != TCR_OK,
                      "lash %zu carries one that the plan leaves bare", i);
            else
                claim(fabs(off - eye->lash[i].deviation_mm) <= ROUNDING * (1.0 + fabs(off)),
                      "lash %zu stands %.17g off, planned %.17g", i, off,
                      eye->lash[i].deviation_mm);
        }
    }
}

/* The set with some look for a map is a set, if the tray has its longest length. */
static void claim_look(const tcr_set *set, uint64_t number) {
    size_t looks;
    const tcr_look *look = &tcr_look_catalogue(&looks)[number % 4];
    const double longest_mm = tcr_tray_nearest(tcr_set_tray(set), tcr_set_longest_mm(set));
    tcr_set *by_look;
    tcr_mark(&by_look, sizeof by_look);
    const tcr_status status = tcr_set_new_by_look(NULL, set, look, longest_mm, &by_look);
    tcr_claim_untouched("tcr_set_new_by_look", status, &by_look, sizeof by_look);
    claim(looks >= 4 && status == TCR_OK, "the look %s: %s", look->name, tcr_status_text(status));
    for (int side = 0; side < TCR_SIDES; side++) {
        size_t zones = 0;
        (void)tcr_set_map(by_look, (tcr_side)side, &zones);
        claim(zones == (tcr_set_has_eye(set, (tcr_side)side) ? look->zones : 0), "%zu zones",
              zones);
        claim(tcr_set_lash_count(by_look, (tcr_side)side) ==
                      tcr_set_lash_count(set, (tcr_side)side) &&
                  tcr_set_drawn_count(by_look, (tcr_side)side) ==
                      tcr_set_drawn_count(set, (tcr_side)side),
              "%zu lashes", tcr_set_lash_count(by_look, (tcr_side)side));
    }
    tcr_set_free(by_look);
}

tcr_status tcr_claim_plan(const tcr_check *before) {
    enum { EVERY = 8 }; /* a plan takes as long as a hundred checks */
    const tcr_set *set = tcr_check_set(before);
    uint64_t number;
    const tcr_plan_options options = pick_options(set, &number);
    if (number % EVERY != 0)
        return TCR_OK;
    claim_look(set, number / EVERY);
    tcr_plan *plan;
    tcr_error error = tcr_error_none();
    tcr_mark(&plan, sizeof plan);
    tcr_status status = tcr_plan_new(set, &options, &plan, &error);
    tcr_claim_untouched("tcr_plan_new", status, &plan, sizeof plan);
    claim(error.status == status, "the error tells %s", tcr_status_text(error.status));
    claim(status != TCR_E_NO_SOLUTION || error.member != NULL, "no obstacle named");
    const tcr_tray *tray = tcr_set_tray(set);
    claim(status != TCR_E_TRAY || tray->count == 0 || tray->kinds > 0, "the tray has all");
    claim(status == TCR_OK || status == TCR_E_MEMORY || status == TCR_E_NO_SOLUTION ||
              status == TCR_E_BOND || status == TCR_E_ONE_X || status == TCR_E_TRAY,
          "a plan: %s", tcr_status_text(status));
    if (status != TCR_OK)
        return status == TCR_E_MEMORY ? status : TCR_OK;
    claim_result(plan, set);
    tcr_set *planned = NULL;
    tcr_check *after = NULL;
    status = tcr_plan_apply(plan, &planned);
    if (status == TCR_OK)
        status = tcr_check_new(planned, NULL, &after, NULL);
    claim(status == TCR_OK || status == TCR_E_MEMORY, "a planned set: %s", tcr_status_text(status));
    if (status == TCR_OK) {
        claim_applied(plan, after);
        status = write_all(plan, before, after);
    }
    tcr_check_free(after);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    return status;
}
