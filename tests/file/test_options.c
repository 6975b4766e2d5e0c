/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options of libtipcrest-file: defaults and sizes. The set is INVENTED. */
#include <tipcrest/begin.h>

#include <math.h>
#include <string.h>

#include "file/folder.h"
#include "file/sample.h"
#include "support/options.h"

CLAIM(the_defaults_are_what_the_headers_say) {
    const tcr_begin_options begin = tcr_begin_options_default();
    expect_count(begin.size, sizeof begin); /* source: begin.h */
    expect_true(begin.eye[TCR_LEFT] && begin.eye[TCR_RIGHT]);
    expect_count(begin.zones, 0);
    expect_true(begin.look == NULL && begin.curl == NULL && !begin.has_layers);
    expect_true(begin.survey[TCR_LEFT] == NULL && begin.survey[TCR_RIGHT] == NULL);
    const tcr_step_report_options step = tcr_step_report_options_default();
    expect_count(step.size, sizeof step); /* source: file.h */
    expect_true(!step.has_side && step.curl == NULL);
    expect_same(step.length_mm, 0.0, "given");
    const tcr_csv_options csv = tcr_csv_options_default();
    expect_count(csv.size, sizeof csv); /* source: report.h */
    expect_true(!csv.decimal_comma && csv.digits == 0);
    const tcr_table_options table = tcr_table_options_default();
    expect_count(table.size, sizeof table); /* source: report.h */
    expect_true(!table.full && table.limits == NULL);
    const tcr_plan_report_options plan = tcr_plan_report_options_default();
    expect_count(plan.size, sizeof plan); /* source: file.h */
    expect_true(!plan.full && plan.map == NULL);
    const tcr_set_write_options write = tcr_set_write_options_default();
    expect_count(write.size, sizeof write); /* source: file.h */
    expect_true(write.comment == NULL && write.limits == NULL && write.pace == NULL);
    expect_true(write.survey[TCR_LEFT] == NULL && write.survey[TCR_RIGHT] == NULL);
}

static tcr_status begin(const void *options, void *unused) {
    static const char NAME[] = "begun.yaml";
    text to = {0};
    tcr_error error = {.status = TCR_OK};
    (void)unused;
    const tcr_status status = tcr_begin_write(options, keep_text, &to);
    expect_true((status == TCR_OK) == (to.calls > 0));
    free(to.bytes);
    expect_status(tcr_begin_validate(options, &error), status);
    expect_status(begin_files(options, NAME, NULL, &error), status);
    expect_true((status == TCR_OK) == (unlink(NAME) == 0));
    return status;
}

static tcr_status report(const void *options, void *set) {
    text json = {0}, table = {0};
    const tcr_status status = tcr_report_step_json(set, options, NULL, keep_text, &json);
    expect_status(tcr_report_step_table(set, options, keep_text, &table), status);
    expect_true((status == TCR_OK) == (json.calls > 0));
    expect_true((status == TCR_OK) == (table.calls > 0));
    free(json.bytes);
    free(table.bytes);
    return status;
}

static tcr_status write_set(const void *options, void *set) {
    text to = {0};
    const tcr_status status = tcr_set_write(set, options, keep_text, &to);
    expect_true((status == TCR_OK) == (to.calls > 0));
    free(to.bytes);
    return status;
}

static tcr_status write_csv(const void *options, void *set) {
    text survey = {0}, rows = {0};
    tcr_check *check = new_check(set, NULL);
    const tcr_status status =
        tcr_survey_write(set, TCR_LEFT, NULL, NULL, options, keep_text, &survey);
    expect_status(tcr_report_csv(check, options, keep_text, &rows), status);
    expect_true((status == TCR_OK) == (survey.calls > 0));
    expect_true((status == TCR_OK) == (rows.calls > 0));
    free(survey.bytes);
    free(rows.bytes);
    tcr_check_free(check);
    return status;
}

static tcr_status write_table(const void *options, void *set) {
    text table = {0};
    tcr_check *check = new_check(set, NULL);
    const tcr_status status = tcr_report_table(check, options, keep_text, &table);
    expect_true((status == TCR_OK) == (table.calls > 0));
    free(table.bytes);
    tcr_check_free(check);
    return status;
}

/* The check of a set file hands its options on. */
static tcr_status check(const void *options, void *file) {
    tcr_check *made = NULL;
    tcr_error error;
    const tcr_status status = tcr_set_file_check(file, options, &made, &error);
    expect_true((status == TCR_OK) == (made != NULL));
    tcr_check_free(made);
    return status;
}

CLAIM(a_smaller_older_size_is_taken_and_a_wrong_one_refused) {
    tcr_set *set = new_small(5);
    enter_folder();
    const tcr_begin_options begin_options = tcr_begin_options_default();
    tcr_expect_sizes(&begin_options, sizeof begin_options, begin, NULL);
    const tcr_step_report_options step_report_options = tcr_step_report_options_default();
    tcr_expect_sizes(&step_report_options, sizeof step_report_options, report, set);
    tcr_set_write_options set_write_options = tcr_set_write_options_default();
    set_write_options.survey[TCR_LEFT] = "left.csv";
    tcr_expect_sizes(&set_write_options, sizeof set_write_options, write_set, set);
    const tcr_csv_options csv_options = tcr_csv_options_default();
    tcr_expect_sizes(&csv_options, sizeof csv_options, write_csv, set);
    const tcr_table_options table_options = tcr_table_options_default();
    tcr_expect_sizes(&table_options, sizeof table_options, write_table, set);
    tcr_error error;
    tcr_set_file *file = NULL;
    const tcr_begin_options usual = tcr_begin_options_default();
    expect_status(begin_files(&usual, "set.yaml", NULL, &error), TCR_OK);
    expect_status(tcr_set_file_read("set.yaml", NULL, &file, &error), TCR_OK);
    const tcr_check_options check_options = tcr_check_options_default();
    tcr_expect_sizes(&check_options, sizeof check_options, check, file);
    tcr_set_file_free(file);
    leave_folder();
    tcr_set_free(set);
}

/* Source: what tcr_check_new says of the same options, which no file is to blame for. */
CLAIM(a_wrong_option_is_named_as_for_a_set_without_a_file) {
    enter_folder();
    const tcr_begin_options usual = tcr_begin_options_default();
    tcr_set_file *file = NULL;
    expect_status(begin_files(&usual, "set.yaml", NULL, NULL), TCR_OK);
    expect_status(tcr_set_file_read("set.yaml", NULL, &file, NULL), TCR_OK);
    tcr_line_options line = tcr_line_options_default();
    line.huber = 0;
    tcr_check_options options[7];
    for (size_t i = 0; i < 7; i++)
        options[i] = tcr_check_options_default();
    options[0].has_view = options[1].has_view = true;
    options[0].view.opening = 2;
    options[1].view.opening = 1;
    options[1].view.viewer_rad = NAN;
    options[2].tolerance_mm = 9;
    options[3].line = &line;
    options[4].parts = 1u << 20;
    options[5].against = (tcr_against)7;
    options[6].figures_only = true;
    static const char *const MEMBERS[] = {"opening", "viewer_rad", "tolerance_mm", "huber",
                                          "parts",   "against",    "parts"};
    for (size_t i = 0; i < 7; i++) {
        tcr_error found = {0}, expected = {0};
        tcr_check *check = NULL;
        given("option %zu", i);
        const tcr_status status =
            tcr_check_new(tcr_set_file_set(file), &options[i], &check, &expected);
        expect_status(status, i < 4 ? TCR_E_RANGE : TCR_E_ARGUMENT);
        expect_status(tcr_set_file_check(file, &options[i], &check, &found), status);
        expect_status(tcr_set_file_check(file, &options[i], &check, NULL), status);
        expect_true(check == NULL);
        expect_status(found.status, status);
        expect_text(found.member, MEMBERS[i]);
        expect_text(found.message, expected.message);
        expect_true(strstr(found.message, found.member) != NULL);
        expect_same(found.value, expected.value, "handed on");
        expect_same(found.least, expected.least, "handed on");
        expect_same(found.most, expected.most, "handed on");
        expect_text(found.path, "");
        expect_count(found.line, 0);
    }
    tcr_set_file_free(file);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &the_defaults_are_what_the_headers_say,
        &a_wrong_option_is_named_as_for_a_set_without_a_file,
        &a_smaller_older_size_is_taken_and_a_wrong_one_refused,
    };
    return RUN_CLAIMS("file/options", claims);
}
