/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plans, their reports and the lesson to which memory fails, as faults/failing.h says. */
#include "faults/failing.h"

#include "file/sample.h"

/* ---- Plans --------------------------------------------------------------------------- */

/* Few lashes: each way to fail plans anew. Two eyes share a line or do not. */
static tcr_set *small_set(bool described, bool shared) {
    static const tcr_zone ZONES[] = {{.to = 0.5, .length_mm = 10, .curl = "C"},
                                     {.to = 1, .length_mm = 11, .curl = "D"}};
    tcr_set *set = new_set("two eyes");
    tcr_line_rule rule = *tcr_set_line(set);
    rule.shared = shared;
    expect_status(tcr_set_put_line(set, &rule), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_description description = tcr_description_default();
        description.count = 60; /* of which some are not suitable */
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, ZONES, 2), TCR_OK);
        if (described)
            expect_status(tcr_set_describe(set, (tcr_side)side, &description), TCR_OK);
        for (int i = 0; i < 18 && !described; i++) {
            char id[16];
            snprintf(id, sizeof id, "x%d", i);
            const tcr_lash lash = tcr_lash_unknown(0.05 + 0.05 * i, (tcr_layer)(i % TCR_LAYERS));
            add_lash(set, (tcr_side)side, id, &lash, NULL);
        }
    }
    return set;
}

/* What the next trial plans. */
static bool described, shared;
static tcr_plan_options options;

static tcr_status try_plan(void) {
    tcr_set *set = small_set(described, shared);
    tcr_plan *const sentinel = (tcr_plan *)&memory, *plan = sentinel;
    tcr_error error = tcr_error_none();
    arm();
    const tcr_status status = tcr_plan_new(set, &options, &plan, &error);
    disarm();
    expect_true((plan == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_plan_free(plan);
    else
        expect_status(error.status, status);
    tcr_set_free(set);
    return status;
}

static tcr_plan_options usual(void) {
    tcr_plan_options o = tcr_plan_options_default();
    o.corrections = 3;
    return o;
}

CLAIM(a_plan_says_that_memory_is_short) {
    expect_true(watch_behind());
    described = false, shared = true;
    options = usual();
    fail_each("tcr_plan_new", try_plan, 20);
    options.objective = TCR_LEAST_MAXIMUM;
    options.lengths_most = 3;
    options.zone_step_most_mm = 1;
    fail_each("tcr_plan_new, the least maximum with few lengths", try_plan, 20);
    shared = false;
    options = usual();
    options.free_mm = 0.5;
    fail_each("tcr_plan_new, with a free line for each eye", try_plan, 20);
}

CLAIM(a_plan_over_samples_says_that_memory_is_short) {
    expect_true(watch_behind());
    described = false, shared = true;
    options = usual();
    options.samples = 3;
    fail_each("tcr_plan_new, over samples", try_plan, 20);
    options.objective = TCR_LEAST_MAXIMUM;
    fail_each("tcr_plan_new, the least maximum over samples", try_plan, 20);
    described = true;
    options = usual();
    options.samples = 3;
    fail_each("tcr_plan_new, of eyes that nobody measured", try_plan, 20);
}

/* ---- What is made of a plan ---------------------------------------------------------- */

static tcr_set *planned_of;
static tcr_plan *plan;
static tcr_plan_work *work;
static tcr_check *before, *after;
static tcr_set *planned;

static tcr_status try_apply(void) {
    tcr_set *const sentinel = (tcr_set *)&memory, *made = sentinel;
    arm();
    const tcr_status status = tcr_plan_apply(plan, &made);
    disarm();
    expect_true((made == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_set_free(made);
    return status;
}

static tcr_status try_work(void) {
    tcr_plan_work *const sentinel = (tcr_plan_work *)&memory, *made = sentinel;
    arm();
    const tcr_status status = tcr_plan_work_new(plan, NULL, &made);
    disarm();
    expect_true((made == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_plan_work_free(made);
    return status;
}

/* A sink that takes no memory, and how much came: a report whose memory fails has put nothing out.
 */
static size_t taken;
static int take(void *context, const void *bytes, size_t count) {
    (void)context;
    (void)bytes;
    taken += count;
    return 0;
}

static tcr_status whole(tcr_status status) {
    disarm();
    expect_true((taken > 0) == (status == TCR_OK));
    taken = 0;
    return status;
}

static tcr_status try_json(void) {
    arm();
    return whole(tcr_report_plan_json(plan, work, before, after, NULL, take, NULL));
}
static tcr_status try_csv(void) {
    arm();
    return whole(tcr_report_plan_csv(plan, planned_of, NULL, take, NULL));
}
static tcr_status try_table(void) {
    tcr_plan_report_options full = tcr_plan_report_options_default();
    full.full = true;
    arm();
    return whole(tcr_report_plan_table(plan, work, before, after, &full, take, NULL));
}
static tcr_status try_survey(void) {
    arm();
    return whole(tcr_survey_write(planned, TCR_LEFT, NULL, NULL, NULL, take, NULL));
}

CLAIM(what_is_made_of_a_plan_says_that_memory_is_short) {
    expect_true(watch_behind());
    planned_of = small_set(false, true);
    options = usual();
    expect_status(tcr_plan_new(planned_of, &options, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    before = new_check(planned_of, NULL);
    after = new_check(planned, NULL);
    fail_each("tcr_plan_apply", try_apply, 5);
    fail_each("tcr_plan_work_new", try_work, 3);
    fail_each("tcr_report_plan_json", try_json, 0);
    fail_each("tcr_report_plan_csv", try_csv, 0);
    fail_each("tcr_report_plan_table", try_table, 0);
    fail_each("tcr_survey_write", try_survey, 0);
    tcr_check_free(before);
    tcr_check_free(after);
    tcr_plan_work_free(work);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    tcr_set_free(planned_of);
}

/* ---- The lesson and doubts ----------------------------------------------------------- */

static tcr_status try_lesson(void) {
    tcr_set *set = small_set(false, true);
    tcr_lesson lesson[2], kept[2];
    tcr_lesson_place place[2] = {tcr_lesson_place_default(), tcr_lesson_place_default()};
    place[1].alike = true;
    place[1].pitch_sd_rad = 0.1;
    memset(lesson, 0x5A, sizeof lesson);
    memcpy(kept, lesson, sizeof kept);
    arm();
    const tcr_status status = tcr_lesson_of(set, TCR_LEFT, place, 2, NULL, lesson);
    disarm();
    if (status != TCR_OK)
        expect_bytes(lesson, kept, sizeof kept);
    tcr_set_free(set);
    return status;
}

static tcr_status try_pays(void) {
    tcr_set *set = small_set(false, true);
    double apart_mm = 77;
    arm();
    const tcr_status status = tcr_lesson_pays_from(set, TCR_LEFT, 1, false, &apart_mm);
    disarm();
    expect_true((apart_mm == 77) == (status != TCR_OK));
    tcr_set_free(set);
    return status;
}

static tcr_status try_turns(void) {
    tcr_set *set = small_set(false, true);
    const tcr_lesson_place place = tcr_lesson_place_default();
    double viewer_rad = 77;
    arm();
    const tcr_status status = tcr_lesson_turns_at(set, TCR_LEFT, &place, &viewer_rad);
    disarm();
    expect_true((viewer_rad == 77) == (status != TCR_OK));
    tcr_set_free(set);
    return status;
}

static tcr_status try_look(void) {
    tcr_set *set = small_set(false, true);
    tcr_set *const sentinel = (tcr_set *)&memory, *made = sentinel;
    arm();
    const tcr_status status = tcr_set_new_by_look(NULL, set, tcr_look_find("cat"), 12, &made);
    disarm();
    expect_true((made == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_set_free(made);
    tcr_set_free(set);
    return status;
}

CLAIM(the_lesson_and_looks_say_that_memory_is_short) {
    expect_true(watch_behind());
    fail_each("tcr_lesson_of", try_lesson, 2);
    fail_each("tcr_lesson_pays_from", try_pays, 2);
    fail_each("tcr_lesson_turns_at", try_turns, 2);
    fail_each("tcr_set_new_by_look", try_look, 10);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_plan_says_that_memory_is_short,
        &a_plan_over_samples_says_that_memory_is_short,
        &what_is_made_of_a_plan_says_that_memory_is_short,
        &the_lesson_and_looks_say_that_memory_is_short,
    };
    return RUN_FAILURES("memory that fails plans", claims);
}
