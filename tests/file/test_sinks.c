/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every report to a sink that refuses one of its calls: it ends, and the sink is not called again.
 */
#include "file/sample.h"

static tcr_set *set, *planned;
static tcr_check *before, *after;
static tcr_plan *plan;
static tcr_plan_work *work;

static tcr_plan_report_options full(void) {
    tcr_plan_report_options o = tcr_plan_report_options_default();
    o.full = true;
    return o;
}

static tcr_status json(text *to) { return tcr_report_json(before, NULL, keep_text, to); }
static tcr_status csv(text *to) { return tcr_report_csv(before, NULL, keep_text, to); }
static tcr_status table(text *to) { return tcr_report_table(before, NULL, keep_text, to); }
static tcr_status plan_json(text *to) {
    return tcr_report_plan_json(plan, work, before, after, NULL, keep_text, to);
}
static tcr_status plan_csv(text *to) { return tcr_report_plan_csv(plan, set, NULL, keep_text, to); }
static tcr_status plan_table(text *to) {
    const tcr_plan_report_options o = full();
    return tcr_report_plan_table(plan, work, before, after, &o, keep_text, to);
}
static tcr_status survey(text *to) {
    return tcr_survey_write(planned, TCR_LEFT, NULL, NULL, NULL, keep_text, to);
}
static tcr_status ranking(text *to) {
    enum { SETS = 400 };
    static tcr_ranked_set ranked[SETS];
    for (size_t i = 0; i < SETS; i++)
        ranked[i] = (tcr_ranked_set){.name = i % 2 == 0 ? "a.yaml" : "b.yaml", .check = before};
    expect_status(tcr_rank_sets(ranked, SETS), TCR_OK);
    return tcr_report_ranking(ranked, SETS, keep_text, to);
}

static const struct {
    const char *name;
    tcr_status (*write)(text *to);
} REPORTS[] = {{"JSON", json},
               {"CSV", csv},
               {"table", table},
               {"JSON of a plan", plan_json},
               {"CSV of a plan", plan_csv},
               {"table of a plan", plan_table},
               {"survey", survey},
               {"ranking", ranking}};

CLAIM(a_report_ends_with_the_call_that_its_sink_refuses) {
    tcr_plan_options options = tcr_plan_options_default();
    options.corrections = SIZE_MAX;
    set = new_sample();
    expect_status(tcr_plan_new(set, &options, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    before = new_check(set, NULL);
    after = new_check(planned, NULL);
    for (size_t i = 0; i < sizeof REPORTS / sizeof *REPORTS; i++) {
        text whole = {0};
        expect_status(REPORTS[i].write(&whole), TCR_OK);
        for (size_t at = 1; at <= whole.calls; at += 1 + whole.calls / 4) {
            text written = {.fail_at = at};
            given("%s, call %zu of %zu", REPORTS[i].name, at, whole.calls);
            expect_status(REPORTS[i].write(&written), TCR_E_WRITE);
            expect_count(written.calls, at);
            expect_true(written.count < whole.count);
            expect_bytes(whole.bytes, written.count > 0 ? written.bytes : "", written.count);
            free(written.bytes);
        }
        free(whole.bytes);
    }
    tcr_check_free(after);
    tcr_check_free(before);
    tcr_plan_work_free(work);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* Fifteen lashes that stand in one place. */
CLAIM(tips_above_one_place_have_no_line_and_are_told) {
    tcr_set *one = new_set("");
    text written = {0};
    tcr_table_options options = tcr_table_options_default();
    add_eye(one, TCR_LEFT);
    for (int i = 0; i < 15; i++) {
        char id[16];
        snprintf(id, sizeof id, "n%d", i);
        const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
        add_lash(one, TCR_LEFT, id, &lash, NULL);
    }
    tcr_check *check = new_check(one, NULL);
    expect_status(tcr_check_eye(check, TCR_LEFT)->fitted_status, TCR_E_ONE_X);
    expect_status(tcr_report_table(check, &options, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "Not judged: all tips stand above one place\n") ==
                written.bytes);
    options.full = true;
    written.count = 0;
    expect_status(tcr_report_table(check, &options, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "no line, because all tips stand above one place") != NULL);
    free(written.bytes);
    tcr_check_free(check);
    tcr_set_free(one);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_report_ends_with_the_call_that_its_sink_refuses,
        &tips_above_one_place_have_no_line_and_are_told,
    };
    return RUN_CLAIMS("sinks", claims);
}
