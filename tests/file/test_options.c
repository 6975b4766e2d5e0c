/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Options of libtipcrest-file, for programs of other releases. The structs named first_ are those
 * of version 0.1.0 and never change; the set is INVENTED.
 */
#include <tipcrest/begin.h>

#include "file/folder.h"
#include "file/sample.h"
#include "num/options.h"
#include "support/options.h"

typedef struct first_begin_options {
    size_t size;
    bool eye[2];
    size_t zones;
    double length_mm[64];
    const char *look;
    const char *curl;
    bool has_layers;
    double layer_mm[3];
    const char *survey[2];
} first_begin_options;

typedef struct first_check_options { /* held to check.h in tests/plan/test_options.c */
    size_t size;
    tcr_against against;
    bool has_view;
    tcr_view view;
} first_check_options;

typedef struct first_step_options {
    size_t size;
    bool has_side;
    tcr_side side;
    const char *curl;
    double length_mm;
} first_step_options;

typedef struct first_write_options {
    size_t size;
    const char *comment;
    const char *survey[2];
    const tcr_plan_limits *limits;
    const tcr_plan_pace *pace;
} first_write_options;

INIT_OF(tcr_set_write_options)
INIT_OF(tcr_begin_options)
INIT_OF(tcr_check_options)
INIT_OF(tcr_step_report_options)

CLAIM(members_of_the_first_release_lie_where_they_lay) {
    SAME_PLACE(first_begin_options, tcr_begin_options, size);
    SAME_PLACE(first_begin_options, tcr_begin_options, eye);
    SAME_PLACE(first_begin_options, tcr_begin_options, zones);
    SAME_PLACE(first_begin_options, tcr_begin_options, length_mm);
    SAME_PLACE(first_begin_options, tcr_begin_options, look);
    SAME_PLACE(first_begin_options, tcr_begin_options, curl);
    SAME_PLACE(first_begin_options, tcr_begin_options, has_layers);
    SAME_PLACE(first_begin_options, tcr_begin_options, layer_mm);
    SAME_PLACE(first_begin_options, tcr_begin_options, survey);
    SAME_PLACE(first_step_options, tcr_step_report_options, size);
    SAME_PLACE(first_step_options, tcr_step_report_options, has_side);
    SAME_PLACE(first_step_options, tcr_step_report_options, side);
    SAME_PLACE(first_step_options, tcr_step_report_options, curl);
    SAME_PLACE(first_step_options, tcr_step_report_options, length_mm);
    SAME_PLACE(first_write_options, tcr_set_write_options, size);
    SAME_PLACE(first_write_options, tcr_set_write_options, comment);
    SAME_PLACE(first_write_options, tcr_set_write_options, survey);
    SAME_PLACE(first_write_options, tcr_set_write_options, limits);
    SAME_PLACE(first_write_options, tcr_set_write_options, pace);
}

CLAIM(defaults_fill_a_struct_of_any_size_and_no_byte_behind_it) {
    tcr_expect_init("tcr_begin_options", init_tcr_begin_options, sizeof(tcr_begin_options));
    tcr_expect_init("tcr_step_report_options", init_tcr_step_report_options,
                    sizeof(tcr_step_report_options));
    tcr_expect_init("tcr_set_write_options", init_tcr_set_write_options,
                    sizeof(tcr_set_write_options));
}

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
    const tcr_set_write_options write = tcr_set_write_options_default();
    expect_count(write.size, sizeof write); /* source: file.h */
    expect_true(write.comment == NULL && write.limits == NULL && write.pace == NULL);
    expect_true(write.survey[TCR_LEFT] == NULL && write.survey[TCR_RIGHT] == NULL);
}

static tcr_status begin(const void *options, void *unused) {
    static const char NAME[] = "begun.yaml";
    text to = {0};
    tcr_file_error error = {.status = TCR_OK};
    (void)unused;
    const tcr_status status = tcr_begin_write(options, keep_text, &to);
    expect_true((status == TCR_OK) == (to.calls > 0));
    free(to.bytes);
    expect_status(tcr_begin_check(options, &error), status);
    expect_status(tcr_begin_files(options, NAME, NULL, &error), status);
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

static void init_named(void *options, size_t size) {
    tcr_set_write_options_init(options, size);
    if (size >= TCR_SIZE_THROUGH(tcr_set_write_options, survey))
        ((tcr_set_write_options *)options)->survey[TCR_LEFT] = "left.csv";
}

static tcr_status write_set(const void *options, void *set) {
    text to = {0};
    const tcr_status status = tcr_set_write(set, options, keep_text, &to);
    expect_true((status == TCR_OK) == (to.calls > 0));
    free(to.bytes);
    return status;
}

/* The check of a set file hands its options on. */
static tcr_status check(const void *options, void *file) {
    tcr_check *made = NULL;
    tcr_file_error error;
    const tcr_status status = tcr_set_file_check(file, options, &made, &error);
    expect_true((status == TCR_OK) == (made != NULL));
    tcr_check_free(made);
    return status;
}

CLAIM(every_size_from_the_first_releases_to_todays_is_taken_and_no_other) {
    tcr_set *set = new_small(5);
    enter_folder();
    tcr_expect_sizes(init_tcr_begin_options, sizeof(first_begin_options), sizeof(tcr_begin_options),
                     begin, NULL);
    tcr_expect_sizes(init_tcr_step_report_options, sizeof(first_step_options),
                     sizeof(tcr_step_report_options), report, set);
    tcr_expect_sizes(init_named, sizeof(first_write_options), sizeof(tcr_set_write_options),
                     write_set, set);
    tcr_file_error error;
    tcr_set_file *file = NULL;
    const tcr_begin_options usual = tcr_begin_options_default();
    expect_status(tcr_begin_files(&usual, "set.yaml", NULL, &error), TCR_OK);
    expect_status(tcr_set_file_read("set.yaml", NULL, &file, &error), TCR_OK);
    tcr_expect_sizes(init_tcr_check_options, sizeof(first_check_options), sizeof(tcr_check_options),
                     check, file);
    tcr_set_file_free(file);
    leave_folder();
    tcr_set_free(set);
}

CLAIM(a_program_of_the_first_release_gets_what_it_asks_for) {
    /* Source: the same call with today's struct. */
    first_begin_options asked;
    tcr_begin_options_init((tcr_begin_options *)&asked, sizeof asked);
    tcr_begin_options same = tcr_begin_options_default();
    asked.eye[TCR_RIGHT] = same.eye[TCR_RIGHT] = false;
    asked.look = same.look = "cat";
    asked.survey[TCR_LEFT] = same.survey[TCR_LEFT] = "lashes.csv";
    text older = {0}, today = {0}, usual = {0};
    expect_status(tcr_begin_write((const tcr_begin_options *)&asked, keep_text, &older), TCR_OK);
    expect_status(tcr_begin_write(&same, keep_text, &today), TCR_OK);
    same = tcr_begin_options_default();
    expect_status(tcr_begin_write(&same, keep_text, &usual), TCR_OK);
    expect_text(older.bytes, today.bytes);
    expect_true(strcmp(older.bytes, usual.bytes) != 0); /* or nothing was asked for */
    asked.survey[TCR_LEFT] = NULL; /* tcr_begin_files names the surveys itself */
    enter_folder();
    expect_status(
        tcr_begin_files((const tcr_begin_options *)&asked, "set.yaml", "lashes.csv", NULL), TCR_OK);
    expect_true(access("lashes.csv", R_OK) == 0); /* one eye: no FILE-left.csv */
    leave_folder();
    free(older.bytes);
    free(today.bytes);
    free(usual.bytes);
}

int main(void) {
    static const TTest *const claims[] = {
        &members_of_the_first_release_lie_where_they_lay,
        &defaults_fill_a_struct_of_any_size_and_no_byte_behind_it,
        &the_defaults_are_what_the_headers_say,
        &every_size_from_the_first_releases_to_todays_is_taken_and_no_other,
        &a_program_of_the_first_release_gets_what_it_asks_for,
    };
    return RUN_CLAIMS("file/options", claims);
}
