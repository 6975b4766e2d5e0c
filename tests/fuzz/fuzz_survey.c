/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any bytes as a survey of one eye. What is accepted is evaluated, with all reports; what is
 * refused says why. Then once more with the memory running out at some call.
 */
#include "fuzz/target.h"

#include <stdlib.h>
#include <string.h>

#include "file/survey.h"
#include "fuzz/claim.h"
#include "fuzz/evaluate.h"
#include "fuzz/harsh.h"

/* A set with an eye that has a map and no lashes; NULL where there is no memory. */
static tcr_set *new_set(const tcr_allocator *allocator) {
    const tcr_zone zones[] = {
        {.to = 0.3, .length_mm = 10, .curl = "C"},
        {.to = 0.7, .length_mm = 12, .curl = "CC"},
        {.to = 1, .length_mm = 11, .curl = "C"},
    };
    tcr_set *set;
    if (tcr_set_new(allocator, &set) != TCR_OK)
        return NULL;
    if (tcr_set_add_eye(set, TCR_LEFT, NULL) == TCR_OK &&
        tcr_set_put_map(set, TCR_LEFT, zones, sizeof zones / sizeof zones[0]) == TCR_OK)
        return set;
    tcr_set_free(set);
    return NULL;
}

static void claim_lashes(const tcr_set *set, const tcr_survey_rows *rows) {
    size_t repeated;
    const size_t count = tcr_set_lash_count(set, TCR_LEFT);
    claim(count == rows->count && count > 0, "%zu rows, %zu lashes", rows->count, count);
    for (size_t i = 0; i < count; i++) {
        const tcr_status status = tcr_lash_validate(tcr_set_lash(set, TCR_LEFT, i), NULL);
        claim(status == TCR_OK, "lash %zu: %s", i, tcr_status_text(status));
        claim(i == 0 || rows->line[i] > rows->line[i - 1], "lash %zu is of line %lu", i,
              (unsigned long)rows->line[i]);
    }
    const tcr_status twice = tcr_set_find_duplicate(set, TCR_LEFT, &repeated);
    claim(twice != TCR_E_DUPLICATE, "lash %zu repeats an id", repeated);
}

static tcr_status evaluate(const tcr_set *set, uint64_t number) {
    const tcr_check_options options = tcr_pick_options(number);
    tcr_check *check;
    tcr_mark(&check, sizeof check);
    const tcr_status status = tcr_check_new(set, &options, &check, NULL);
    tcr_claim_untouched("tcr_check_new", status, &check, sizeof check);
    return status == TCR_OK ? tcr_claim_all(check, NULL) : status;
}

/* The status of the survey, or of the check. */
static tcr_status read_and_evaluate(const tcr_allocator *allocator, tcr_set *set, const char *bytes,
                                    size_t size, uint64_t number) {
    tcr_survey_rows rows = {0};
    tcr_error error;
    memset(&error, 0, sizeof error);
    tcr_status status =
        tcr_survey_parse(allocator, bytes, size, "survey.csv", set, TCR_LEFT, &rows, &error);
    if (status != TCR_OK)
        tcr_claim_error(status, &error);
    else
        claim_lashes(set, &rows);
    tcr_survey_rows_release(allocator, &rows);
    if (status == TCR_OK && tcr_lashes_of(set) <= TCR_FUZZ_LASHES_MAX)
        status = evaluate(set, number);
    return status;
}

static tcr_status run(const char *bytes, size_t size, tcr_harsh *harsh, uint64_t number) {
    const tcr_allocator allocator = tcr_harsh_allocator(harsh);
    tcr_set *set = new_set(&allocator);
    tcr_status status = TCR_E_MEMORY;
    if (set != NULL)
        status = read_and_evaluate(&allocator, set, bytes, size, number);
    tcr_set_free(set);
    claim(harsh->blocks == 0, "%zu blocks were not given back, %s", harsh->blocks,
          tcr_status_text(status));
    return status;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const uint64_t number = tcr_hash(data, size);
    char *bytes = malloc(size + 1); /* a NUL stands behind a survey */
    if (bytes == NULL)
        return 0;
    if (size > 0)
        memcpy(bytes, data, size);
    bytes[size] = '\0';
    tcr_harsh enough = {0};
    const tcr_status status = run(bytes, size, &enough, number);
    claim(status == TCR_OK || status == TCR_E_CONTENT || status == TCR_E_BOND ||
              status == TCR_E_TRAY,
          "refused: %s", tcr_status_text(status));
    if (number % 4 == 0) {
        tcr_harsh scarce = {.fail_at = 1 + number / 4 % enough.calls};
        const tcr_status starved = run(bytes, size, &scarce, number);
        claim(starved == TCR_E_MEMORY, "without memory from call %zu on: %s", scarce.fail_at,
              tcr_status_text(starved));
    }
    free(bytes);
    return 0;
}
