/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Set files and outputs to which memory fails, as faults/failing.h says. */
#include <tipcrest/begin.h>

#include "faults/failing.h"
#include "file/folder.h"

/* ---- Files --------------------------------------------------------------------------- */

static const char SET_FILE[] =
    "tipcrest: 1\ntitle: \"two eyes\"\ncurls: {X: {8: [[1, 60]], 12: [[1, 80]]}}\n"
    "eyes:\n- {side: left, lashes: {survey: a.csv}, map: [{to: 1, length_mm: 9, curl: X}]}\n"
    "- {side: right, lashes: {describe: {count: 40}}, map: [{to: 1, length_mm: 9, curl: C}]}\n";
static const char SURVEY_FILE[] = "id;u;layer;length_mm;note of mine\na;0,2;bottom;8;x\n"
                                  "b;0,4;bottom;8;\n\"c\";0,5;bottom;8;\nd;0,6;top;8;\n";

static tcr_status try_set_file(void) {
    tcr_set_file *const sentinel = (tcr_set_file *)&memory, *file = sentinel;
    tcr_error error;
    arm();
    const tcr_status status = tcr_set_file_read("a.yaml", &FAILING, &file, &error);
    disarm();
    expect_true((file == sentinel) == (status != TCR_OK));
    if (status != TCR_OK)
        expect_status(error.status, status);
    else
        tcr_set_file_free(file);
    return status;
}

static tcr_status try_file_check(void) {
    tcr_set_file *file;
    tcr_error error;
    tcr_check *const sentinel = (tcr_check *)&memory, *check = sentinel;
    expect_status(tcr_set_file_read("a.yaml", &FAILING, &file, &error), TCR_OK);
    arm();
    const tcr_status status = tcr_set_file_check(file, NULL, &check, &error);
    disarm();
    expect_true((check == sentinel) == (status != TCR_OK));
    if (status != TCR_OK) {
        expect_status(error.status, status);
        expect_status(tcr_set_file_check(file, NULL, &check, &error), TCR_OK);
    }
    tcr_check_free(check);
    tcr_set_file_free(file);
    return status;
}

CLAIM(a_set_file_that_finds_no_memory_says_so) {
    expect_true(watch_behind());
    enter_folder();
    put("a.yaml", SET_FILE);
    put("a.csv", SURVEY_FILE);
    fail_each("tcr_set_file_read", try_set_file, 30);
    fail_each("tcr_set_file_check", try_file_check, 3);
    leave_folder();
}

static tcr_status try_outputs_new(void) {
    tcr_outputs *const sentinel = (tcr_outputs *)&memory, *outputs = sentinel;
    arm();
    const tcr_status status = tcr_outputs_new(&FAILING, &outputs);
    disarm();
    expect_true((outputs == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_outputs_free(outputs);
    return status;
}

static tcr_status try_protect(void) {
    tcr_outputs *outputs = new_outputs();
    size_t index = 77;
    arm();
    const tcr_status status = tcr_outputs_protect(outputs, "old");
    disarm();
    if (status != TCR_OK)
        expect_status(tcr_outputs_protect(outputs, "old"), TCR_OK);
    expect_status(tcr_outputs_add(outputs, "old", &index, NULL), TCR_E_CONTENT);
    tcr_outputs_free(outputs);
    return status;
}

/* Adds one output after another fared well; what fails can be added again. */
static tcr_status try_add_as(bool is_new) {
    tcr_outputs *outputs = new_outputs();
    size_t first, index = 77;
    tcr_error error;
    const char *name = is_new ? "new" : "old";
    expect_status(tcr_outputs_add(outputs, "other", &first, NULL), TCR_OK);
    arm();
    const tcr_status status = is_new ? tcr_outputs_add_new(outputs, name, &index, &error)
                                     : tcr_outputs_add(outputs, name, &index, &error);
    disarm();
    if (status != TCR_OK) {
        expect_status(error.status, status);
        expect_count(index, 77);
        expect_count(names_in(".", ".tipcrest-", NULL), 1);
        expect_status(tcr_outputs_add(outputs, name, &index, &error), TCR_OK);
    }
    expect_status(tcr_outputs_write(outputs, index, "after", 5), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, &error), TCR_OK);
    tcr_outputs_free(outputs);
    expect_text(held(name), "after");
    expect_count(unlink("other"), 0);
    if (is_new)
        expect_count(unlink("new"), 0);
    put("old", "before");
    return status;
}
static tcr_status try_add(void) { return try_add_as(false); }
static tcr_status try_add_new(void) { return try_add_as(true); }

/* Text for a device is kept in memory; where there is none, no file is put in place. */
static tcr_status try_write(void) {
    static char piece[50000];
    memset(piece, 'p', sizeof piece);
    tcr_outputs *outputs = new_outputs();
    size_t file, device;
    tcr_error error;
    expect_status(add(outputs, "old", "after", NULL), TCR_OK);
    file = 0;
    expect_status(tcr_outputs_add(outputs, "/dev/null", &device, NULL), TCR_OK);
    tcr_status status = TCR_OK;
    for (int i = 0; i < 8 && status == TCR_OK; i++) {
        arm();
        status = tcr_outputs_write(outputs, device, piece, sizeof piece);
        disarm();
    }
    if (status != TCR_OK)
        expect_status(tcr_outputs_write(outputs, file, "more", 4), TCR_E_MEMORY);
    expect_status(tcr_outputs_commit(outputs, &error), status);
    tcr_outputs_free(outputs);
    expect_text(held("old"), status == TCR_OK ? "after" : "before");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    put("old", "before");
    return status;
}

static tcr_status try_commit(void) {
    tcr_outputs *outputs = new_outputs();
    tcr_error error;
    expect_status(add(outputs, "old", "after", NULL), TCR_OK);
    expect_status(add(outputs, "/dev/null", "after", NULL), TCR_OK);
    arm();
    const tcr_status status = tcr_outputs_commit(outputs, &error);
    disarm();
    tcr_outputs_free(outputs);
    expect_text(held("old"), status == TCR_OK ? "after" : "before");
    put("old", "before");
    return status;
}

static tcr_status try_seeds(void) {
    tcr_begin_options options = tcr_begin_options_default();
    uint64_t seed[TCR_SIDES] = {77, 77};
    tcr_error error;
    options.count = 40;
    options.diameter_mm = 0.1;
    arm();
    const tcr_status status = tcr_begin_find_seeds(&options, seed, &error);
    disarm();
    expect_true((seed[TCR_LEFT] == 0) == (status != TCR_OK));
    expect_true((seed[TCR_RIGHT] == 0) == (status != TCR_OK));
    return status;
}

static tcr_status try_begin(void) {
    const tcr_begin_options options = tcr_begin_options_default();
    tcr_error error;
    arm();
    const tcr_status status = begin_files(&options, "b.yaml", "s.csv", &error);
    disarm();
    int others;
    expect_count(names_in(".", ".tipcrest-", &others), 0);
    expect_count(others, status == TCR_OK ? 4 : 1); /* with the file "old" */
    if (status != TCR_OK)
        expect_status(error.status, status);
    else
        expect_count(unlink("b.yaml") + unlink("s-left.csv") + unlink("s-right.csv"), 0);
    return status;
}

CLAIM(outputs_that_find_no_memory_leave_old_files_and_can_be_asked_again) {
    expect_true(watch_behind());
    enter_folder();
    put("old", "before");
    fail_each("tcr_outputs_new", try_outputs_new, 1);
    fail_each("tcr_outputs_protect", try_protect, 2);
    fail_each("tcr_outputs_add", try_add, 4);
    fail_each("tcr_outputs_add_new", try_add_new, 4);
    fail_each("tcr_outputs_write", try_write, 3);
    fail_each("tcr_outputs_commit", try_commit, 0);
    fail_each("tcr_begin_files", try_begin, 10);
    fail_each("tcr_begin_find_seeds", try_seeds, 10);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_set_file_that_finds_no_memory_says_so,
        &outputs_that_find_no_memory_leave_old_files_and_can_be_asked_again,
    };
    return RUN_FAILURES("memory that fails files", claims);
}
