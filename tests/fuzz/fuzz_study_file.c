/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any bytes as a study file, or as a set file to study. What is accepted is evaluated at a few
 * points, if these are few, and its table written; what is refused says why. Then once more with
 * the memory running out at some call. Sets are looked for in the present folder, which replay.sh
 * and run.sh make tests/fuzz/beside.
 */
#include "fuzz/target.h"

#include <math.h>
#include <string.h>

#include <tipcrest/study_results.h>

#include "fuzz/claim.h"
#include "fuzz/evaluate.h"
#include "fuzz/harsh.h"
#include "fuzz/sinks.h"
#include "results/results.h"

static const char PATH[] = "study.yaml";
enum { EVALUATIONS_MAX = 64, LASHES_MAX = 200 };

static tcr_status parse(const uint8_t *data, size_t size, const tcr_allocator *allocator,
                        tcr_study_file **file) {
    const tcr_study_ask ask = tcr_study_ask_default();
    tcr_error error;
    memset(&error, 0, sizeof error);
    tcr_mark(file, sizeof *file);
    const tcr_status status =
        tcr_study_file_parse((const char *)data, size, PATH, &ask, allocator, file, &error);
    tcr_claim_untouched("tcr_study_file_parse", status, file, sizeof *file);
    if (status != TCR_OK)
        tcr_claim_error(status, &error);
    return status;
}

/* What a study answers: every part of it or nothing. */
static void claim_answer(const tcr_results *results, size_t runs) {
    double scratch[EVALUATIONS_MAX];
    char sentence[TCR_RESULTS_SENTENCE_SIZE];
    tcr_results_state state;
    tcr_summary summary;
    uint64_t best;
    claim(tcr_results_state_of(results, &state) == TCR_OK && state.complete, "it is not done");
    claim(state.done == state.points && state.failed <= state.points * runs, "%llu points",
          (unsigned long long)state.done);
    if (tcr_results_sentence(results, sentence) == TCR_OK)
        claim(*sentence != '\0', "the answer is empty");
    else
        claim(!tcr_results_has_best(results), "a best without an answer");
    if (tcr_results_best(results, &best) != TCR_OK)
        return;
    claim(best < state.points, "the best is point %llu", (unsigned long long)best);
    claim(tcr_results_point(results, best, scratch, &summary) == TCR_OK, "it has no figures");
    claim(isfinite(summary.mean), "the best has the mean %g", summary.mean);
}

/* The table and study.json, as they would be written. */
static tcr_status claim_reports(const tcr_results *results) {
    tcr_table_sink table = {0};
    tcr_json_sink json = {0};
    tcr_status status = tcr_results_table(results, tcr_table_sink_take, &table);
    if (status == TCR_OK)
        tcr_table_sink_end(&table);
    if (status == TCR_OK)
        status = tcr_study_json_write(results, tcr_json_sink_take, &json);
    if (status == TCR_OK)
        tcr_json_sink_end(&json);
    return status;
}

static tcr_status study(const tcr_study_file *file, const tcr_allocator *allocator) {
    const tcr_study_run_options run = {sizeof run, 1, 0, {NULL, NULL}};
    const tcr_study *of = tcr_study_file_study(file);
    const size_t runs = tcr_study_runs(of) > 0 ? tcr_study_runs(of) : 1;
    tcr_results *results;
    tcr_error error;
    uint64_t points;
    memset(&error, 0, sizeof error);
    const tcr_status counted = tcr_study_count(of, &points, &error);
    if (counted != TCR_OK) {
        claim(counted == TCR_E_RANGE && error.message[0] != '\0', "%s", tcr_status_text(counted));
        return TCR_OK;
    }
    if (points > EVALUATIONS_MAX || runs > EVALUATIONS_MAX || points * runs > EVALUATIONS_MAX ||
        tcr_lashes_of(tcr_set_file_set(tcr_study_file_set_file(file))) > LASHES_MAX)
        return TCR_OK;
    const tcr_results_options options = tcr_results_options_default();
    tcr_status status = tcr_results_new(file, &options, allocator, &results, &error);
    if (status == TCR_OK) {
        status = tcr_results_run(results, &run, &error);
        if (status == TCR_OK) {
            claim_answer(results, runs);
            status = claim_reports(results);
        }
        tcr_results_free(results);
    }
    return status;
}

static tcr_status run(const uint8_t *data, size_t size, tcr_harsh *harsh) {
    const tcr_allocator allocator = tcr_harsh_allocator(harsh);
    tcr_study_file *file;
    tcr_status status = parse(data, size, &allocator, &file);
    if (status == TCR_OK) {
        status = study(file, &allocator);
        tcr_study_file_free(file);
    }
    claim(harsh->blocks == 0, "%zu blocks were not given back, %s", harsh->blocks,
          tcr_status_text(status));
    return status;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const uint64_t number = tcr_hash(data, size);
    tcr_harsh enough = {0};
    const tcr_status status = run(data, size, &enough);
    claim(status != TCR_E_MEMORY && status != TCR_E_WRITE && status != TCR_E_STOPPED, "refused: %s",
          tcr_status_text(status));
    if (enough.calls == 0 || number % 4 != 0)
        return 0;
    tcr_harsh scarce = {.fail_at = 1 + number / 4 % enough.calls};
    const tcr_status starved = run(data, size, &scarce);
    claim(starved == TCR_E_MEMORY, "without memory from call %zu on: %s", scarce.fail_at,
          tcr_status_text(starved));
    return 0;
}
