/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls of libtipcrest-file with NULL for what they read or write, for each argument in turn, and
 * with numbers that no file may hold. Expected is what file.h and report.h say; nothing is put out.
 */
#include "file/folder.h"
#include "file/sample.h"
#include "support/client.h"

static size_t came;
static int count_bytes(void *context, const void *bytes, size_t count) {
    (void)context;
    (void)bytes;
    came += count;
    return 0;
}

CLAIM(no_set_file_has_nothing) {
    tcr_check *check = NULL;
    tcr_set_file *file = NULL;
    tcr_error error;
    const tcr_limits limits = tcr_set_file_plan_limits(NULL), usual = tcr_limits_default();
    ck_assert_ptr_null(tcr_set_file_set(NULL));
    ck_assert_ptr_null(tcr_set_file_digest(NULL));
    expect_count(tcr_set_file_input_count(NULL), 0);
    ck_assert_ptr_null(tcr_set_file_input(NULL, 0));
    expect_same(limits.overlength_mm, usual.overlength_mm, "the default");
    expect_same(tcr_set_file_pace(NULL).lash_s, tcr_plan_pace_default().lash_s, "the default");
    expect_status(tcr_set_file_check(NULL, NULL, &check, &error), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_read(NULL, NULL, &file, &error), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_read("a.yaml", NULL, NULL, &error), TCR_E_ARGUMENT);
    ck_assert_ptr_null(file);
    ck_assert_ptr_null(check);
    tcr_set_file_free(NULL);
}

CLAIM(a_set_file_has_its_inputs_and_no_more) {
    tcr_set_file *file = NULL;
    tcr_check *check = NULL;
    enter_folder();
    put("a.yaml", "tipcrest: 1\neyes:\n- {side: left, lashes: {survey: a.csv}, "
                  "map: [{to: 1, length_mm: 10, curl: C}]}\n");
    put("a.csv", "id,u,layer,length_mm\na,0.5,top,8\n");
    expect_status(tcr_set_file_read("a.yaml", NULL, &file, NULL), TCR_OK);
    expect_count(tcr_set_file_input_count(file), 2);
    expect_text(tcr_set_file_input(file, 1), "a.csv");
    ck_assert_ptr_null(tcr_set_file_input(file, 2));
    expect_status(tcr_set_file_check(file, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_check(file, NULL, &check, NULL), TCR_OK);
    tcr_check_free(check);
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(no_outputs_take_nothing) {
    size_t index = 7;
    tcr_error error;
    tcr_outputs *outputs = new_outputs();
    expect_status(tcr_outputs_new(NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(NULL, "a", &index, &error), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, NULL, &index, &error), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, "a", NULL, &error), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_protect(NULL, "a"), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_protect(outputs, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_may_seal(NULL, &error), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_write(NULL, 0, "a", 1), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_write(outputs, 0, "a", 1), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_finish(NULL, 0), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_finish(outputs, 0), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_commit(NULL, &error), TCR_E_ARGUMENT);
    tcr_outputs_leftovers(NULL, NULL, NULL);
    tcr_outputs_leftovers(outputs, NULL, NULL);
    tcr_outputs_abandon(NULL);
    expect_status(tcr_outputs_commit(outputs, &error), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_ARGUMENT); /* it is over */
    expect_status(tcr_outputs_finish(outputs, 0), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, "a", &index, &error), TCR_E_ARGUMENT);
    expect_count(index, 7);
    tcr_outputs_free(outputs);
    tcr_outputs_free(NULL);
}

CLAIM(a_set_is_written_whole_or_not) {
    tcr_set *set = tcr_make_measured(NULL, 1, 20), *empty = new_set("");
    tcr_set_write_options o = tcr_set_write_options_default();
    tcr_limits limits = tcr_limits_default();
    tcr_plan_pace pace = tcr_plan_pace_default();
    came = 0;
    expect_status(tcr_set_write(set, &o, count_bytes, NULL), TCR_E_ARGUMENT); /* no survey */
    o.survey[TCR_LEFT] = o.survey[TCR_RIGHT] = "a.csv";
    expect_status(tcr_set_write(NULL, &o, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_write(set, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_write(set, &o, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_write(empty, &o, count_bytes, NULL), TCR_E_MISSING);
    expect_status(tcr_set_add_eye(empty, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_write(empty, &o, count_bytes, NULL), TCR_E_MAP);
    limits.overlength_mm = -1;
    o.limits = &limits;
    expect_status(tcr_set_write(set, &o, count_bytes, NULL), TCR_E_RANGE);
    o.limits = NULL;
    pace.lash_s = -1;
    o.pace = &pace;
    expect_status(tcr_set_write(set, &o, count_bytes, NULL), TCR_E_RANGE);
    expect_status(tcr_survey_write(NULL, TCR_LEFT, NULL, NULL, NULL, count_bytes, NULL),
                  TCR_E_ARGUMENT);
    expect_status(tcr_survey_write(set, TCR_LEFT, NULL, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_survey_write(set, TCR_RIGHT, NULL, NULL, NULL, count_bytes, NULL),
                  TCR_E_MISSING);
    expect_count(came, 0);
    tcr_set_free(empty);
    tcr_set_free(set);
}

CLAIM(any_tray_is_written_as_any) {
    tcr_set *set = tcr_make_measured(NULL, 1, 20);
    const tcr_tray any = {.count = 0};
    text written = {0};
    tcr_set_write_options o = tcr_set_write_options_default();
    o.survey[TCR_LEFT] = "a.csv";
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    expect_status(tcr_set_write(set, &o, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "\ntray: any\n") != NULL); /* as interface.md has it */
    free(written.bytes);
    tcr_set_free(set);
}

CLAIM(no_check_has_no_report) {
    tcr_set *set = tcr_make_measured(NULL, 1, 20);
    tcr_check *check = new_check(set, NULL);
    came = 0;
    expect_status(tcr_report_json(NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_json(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_csv(NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_csv(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_table(NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_table(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_json(NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_json(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_csv(NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_csv(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_table(NULL, false, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_table(check, false, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_json(NULL, NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_json(set, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_csv(NULL, NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_csv(set, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_table(NULL, NULL, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_table(set, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_rank_sets(NULL, 1), TCR_E_ARGUMENT);
    expect_status(tcr_report_ranking(NULL, 1, count_bytes, NULL), TCR_E_ARGUMENT);
    expect_count(came, 0);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* A sink that fails at each call in turn: the report then says so, and goes no further. */
typedef tcr_status report(const tcr_check *check, tcr_sink sink, void *context);
static tcr_status as_json(const tcr_check *check, tcr_sink sink, void *context) {
    return tcr_report_json(check, NULL, sink, context);
}
static tcr_status as_csv(const tcr_check *check, tcr_sink sink, void *context) {
    return tcr_report_csv(check, NULL, sink, context);
}
static tcr_status as_table(const tcr_check *check, tcr_sink sink, void *context) {
    tcr_table_options full = tcr_table_options_default();
    full.full = true;
    return tcr_report_table(check, &full, sink, context);
}
static tcr_status as_why(const tcr_check *check, tcr_sink sink, void *context) {
    return tcr_report_why_csv(check, NULL, sink, context);
}
static tcr_status as_survey(const tcr_check *check, tcr_sink sink, void *context) {
    return tcr_survey_write(tcr_check_set(check), TCR_LEFT, NULL, NULL, NULL, sink, context);
}

CLAIM(a_report_ends_where_its_sink_does) {
    static report *const reports[] = {as_json, as_csv, as_table, as_why, as_survey};
    tcr_set *set = tcr_make_measured(NULL, 2, 60);
    tcr_check *check = new_check(set, NULL);
    for (size_t i = 0; i < sizeof reports / sizeof *reports; i++) {
        text whole = {0};
        expect_status(reports[i](check, keep_text, &whole), TCR_OK);
        for (size_t call = 1; call <= whole.calls; call++) {
            text cut = {.fail_at = call};
            given("report %zu, call %zu of %zu", i, call, whole.calls);
            expect_status(reports[i](check, keep_text, &cut), TCR_E_WRITE);
            expect_count(cut.calls, call);
            expect_bytes(cut.bytes, whole.bytes, cut.count);
            free(cut.bytes);
        }
        free(whole.bytes);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &no_set_file_has_nothing,           &a_set_file_has_its_inputs_and_no_more,
        &no_outputs_take_nothing,           &a_set_is_written_whole_or_not,
        &any_tray_is_written_as_any,        &no_check_has_no_report,
        &a_report_ends_where_its_sink_does,
    };
    return RUN_CLAIMS("null in files", claims);
}
