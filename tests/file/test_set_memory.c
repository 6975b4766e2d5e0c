/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Set files from memory, with surveys that a host hands out by their names. */
#include <stdlib.h>

#include "file/folder.h"
#include "file/same_set.h"
#include "support/memory.h"

static const char SURVEY[] = "id,u,layer,length_mm\na01,0.1,bottom,8\na02,0.5,middle,7.5\n";
static const char SET[] =
    "{\"tipcrest\": 1, \"title\": \"Drill\",\n"
    " \"eyes\": [{\"side\": \"left\", \"lashes\": {\"survey\": \"left.csv\"},\n"
    "           \"map\": [{\"to\": 1, \"length_mm\": 10, \"curl\": \"C\"}]},\n"
    "          {\"side\": \"right\", \"lashes\": {\"describe\": {\"count\": 30}},\n"
    "           \"map\": [{\"to\": 1, \"length_mm\": 11, \"curl\": \"D\"}]}]}\n";

static const char *find(void *context, const char *name, size_t *size) {
    const char *text = context;
    *size = strlen(text);
    return strcmp(name, "left.csv") == 0 ? text : NULL;
}

static tcr_error refused(const char *text, tcr_survey_find finds, void *context,
                         tcr_status expected) {
    tcr_error error = tcr_error_none();
    tcr_set_file *file = NULL;
    given("%s", text);
    expect_status(
        tcr_set_file_parse(text, strlen(text), "mine.json", finds, context, NULL, &file, &error),
        expected);
    expect_true(file == NULL);
    return error;
}

CLAIM(memory_and_files_give_the_same_set) {
    char survey[sizeof SURVEY];
    tcr_set_file *memory = NULL, *files = NULL;
    memcpy(survey, SURVEY, sizeof SURVEY);
    expect_status(
        tcr_set_file_parse(SET, sizeof SET - 1, "mine.json", find, survey, NULL, &memory, NULL),
        TCR_OK);
    memset(survey, 'x', sizeof survey - 1); /* the host may have freed it */
    enter_folder();
    put("left.csv", SURVEY);
    put("mine.json", SET);
    expect_status(tcr_set_file_read("mine.json", NULL, &files, NULL), TCR_OK);
    expect_same_set(tcr_set_file_set(memory), tcr_set_file_set(files));
    expect_text(tcr_set_file_digest(memory), tcr_set_file_digest(files));
    expect_count(tcr_set_file_input_count(memory), 2);
    expect_text(tcr_set_file_input(memory, 1), "left.csv");
    tcr_set_file_free(memory);
    tcr_set_file_free(files);
    leave_folder();
}

CLAIM(a_survey_that_the_host_lacks_is_told_where_it_is_named) {
    tcr_error error = refused(SET, NULL, NULL, TCR_E_OPEN);
    expect_text(error.message, "survey \"left.csv\" is not here; open it too");
    expect_text(error.path, "mine.json");
    expect_count(error.line, 2);
    expect_count(error.column, 49); /* counted by hand */
}

CLAIM(faults_of_a_survey_are_told_in_it) {
    char survey[] = "id,u,layer,length_mm\na01,2,bottom,8\n";
    tcr_error error = refused(SET, find, survey, TCR_E_CONTENT);
    expect_text(error.path, "left.csv");
    expect_count(error.line, 2);
}

/* The limits of interface.md: 1 MB and 20 MB. */
static const char *find_large(void *context, const char *name, size_t *size) {
    static char *bytes;
    const size_t *count = context;
    (void)name;
    *size = *count;
    if (bytes == NULL) {
        bytes = malloc(20000002);
        memset(bytes, '\n', 20000002);
    }
    return bytes;
}

CLAIM(what_is_too_large_is_refused) {
    tcr_error error = tcr_error_none();
    tcr_set_file *file = NULL;
    char *large = malloc(1000001);
    memset(large, ' ', 1000001);
    expect_status(tcr_set_file_parse(large, 1000001, "mine.json", NULL, NULL, NULL, &file, &error),
                  TCR_E_CONTENT);
    expect_text(error.message, "the file is too large; it may have at most 1 MB");
    expect_status(tcr_set_file_parse(large, 1000000, "mine.json", NULL, NULL, NULL, &file, &error),
                  TCR_E_CONTENT);
    expect_text(error.message, "the file is empty; a set file begins with the line tipcrest: 1");
    free(large);
    size_t count = 20000001;
    error = refused(SET, find_large, &count, TCR_E_CONTENT);
    expect_text(error.message, "the file is too large; it may have at most 20 MB");
    expect_text(error.path, "left.csv");
    count--;
    error = refused(SET, find_large, &count, TCR_E_CONTENT);
    expect_true(strstr(error.message, "too large") == NULL);
}

CLAIM(null_arguments_are_refused) {
    tcr_set_file *file = NULL;
    expect_status(tcr_set_file_parse(NULL, 0, "a", NULL, NULL, NULL, &file, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_parse("", 0, NULL, NULL, NULL, NULL, &file, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_parse("", 0, "a", NULL, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_parse("", 0, "a", NULL, NULL, NULL, &file, NULL), TCR_E_CONTENT);
}

CLAIM(every_allocation_may_fail) {
    char survey[sizeof SURVEY];
    memcpy(survey, SURVEY, sizeof SURVEY);
    size_t calls = 0;
    tcr_status status = TCR_E_MEMORY;
    while (status == TCR_E_MEMORY) {
        tcr_counted counted = {.fail_at = ++calls};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_set_file *file = NULL;
        given("allocation %zu", calls);
        status = tcr_set_file_parse(SET, sizeof SET - 1, "mine.json", find, survey, &allocator,
                                    &file, NULL);
        tcr_set_file_free(file);
        expect_count(counted.blocks, 0);
    }
    expect_status(status, TCR_OK);
    expect_true(calls > 20); /* the tree, the set, its curls, the survey: more than a few */
}

int main(void) {
    static const TTest *const claims[] = {
        &memory_and_files_give_the_same_set,
        &a_survey_that_the_host_lacks_is_told_where_it_is_named,
        &faults_of_a_survey_are_told_in_it,
        &what_is_too_large_is_refused,
        &null_arguments_are_refused,
        &every_allocation_may_fail,
    };
    return RUN_CLAIMS("set in memory", claims);
}
