/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any bytes as a set file. What is accepted is evaluated, with all reports; what is refused says
 * why. Then once more with the memory running out at some call. Surveys are looked for in the
 * present folder, which replay.sh and run.sh make tests/fuzz/beside.
 */
#include "fuzz/target.h"

#include <string.h>

#include "file/set_file.h"
#include "fuzz/claim.h"
#include "fuzz/evaluate.h"
#include "fuzz/harsh.h"

static const char PATH[] = "set.yaml";

static tcr_status parse(const uint8_t *data, size_t size, const tcr_allocator *allocator,
                        tcr_set_file **file) {
    tcr_error error;
    memset(&error, 0, sizeof error);
    tcr_mark(file, sizeof *file);
    const tcr_status status = tcr_set_file_build(
        (const char *)data, size, PATH, tcr_input_read_beside, NULL, allocator, file, &error);
    tcr_claim_untouched("tcr_set_file_build", status, file, sizeof *file);
    if (status != TCR_OK)
        tcr_claim_error(status, &error);
    return status;
}

static tcr_status check(const tcr_set_file *file, uint64_t number) {
    const tcr_check_options options = tcr_pick_options(number);
    tcr_error error;
    tcr_check *made;
    memset(&error, 0, sizeof error);
    tcr_mark(&made, sizeof made);
    const tcr_status status = tcr_set_file_check(file, &options, &made, &error);
    tcr_claim_untouched("tcr_set_file_check", status, &made, sizeof made);
    if (status != TCR_OK) {
        tcr_claim_error(status, &error);
        return status;
    }
    return tcr_claim_all(made, tcr_set_file_digest(file));
}

/* Everything with an allocator: the status of the file, or of its check. */
static tcr_status run(const uint8_t *data, size_t size, tcr_harsh *harsh, uint64_t number) {
    const tcr_allocator allocator = tcr_harsh_allocator(harsh);
    tcr_set_file *file;
    tcr_status status = parse(data, size, &allocator, &file);
    if (status == TCR_OK) {
        if (tcr_lashes_of(tcr_set_file_set(file)) <= TCR_FUZZ_LASHES_MAX)
            status = check(file, number);
        tcr_set_file_free(file);
    }
    claim(harsh->blocks == 0, "%zu blocks were not given back, %s", harsh->blocks,
          tcr_status_text(status));
    return status;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const uint64_t number = tcr_hash(data, size);
    tcr_harsh enough = {0};
    const tcr_status status = run(data, size, &enough, number);
    claim(status == TCR_OK || status == TCR_E_CONTENT || status == TCR_E_OPEN, "refused: %s",
          tcr_status_text(status));
    if (enough.calls == 0 || number % 4 != 0)
        return 0;
    tcr_harsh scarce = {.fail_at = 1 + number / 4 % enough.calls};
    const tcr_status starved = run(data, size, &scarce, number);
    claim(starved == TCR_E_MEMORY, "without memory from call %zu on: %s", scarce.fail_at,
          tcr_status_text(starved));
    return 0;
}
