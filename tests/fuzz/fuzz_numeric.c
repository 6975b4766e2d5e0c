/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any doubles in any call of the core: the first byte picks the group of calls, the others become
 * numbers (any.h).
 */
#include "fuzz/target.h"

#include "fuzz/claim.h"
#include "fuzz/numeric.h"

static const tcr_numeric GROUPS[] = {
    tcr_numeric_lid,         tcr_numeric_lash,  tcr_numeric_extension, tcr_numeric_curl,
    tcr_numeric_columns,     tcr_numeric_rule,  tcr_numeric_points,    tcr_numeric_lines,
    tcr_numeric_description, tcr_numeric_set,   tcr_numeric_own,       tcr_numeric_edge,
    tcr_numeric_options,     tcr_numeric_begin,
};

void tcr_claim_verdict(const char *call, tcr_status status, const tcr_bytes *bytes, bool fits) {
    claim(!bytes->not_finite || status != TCR_OK, "%s accepts what is not finite", call);
    claim(!fits || bytes->outside || status == TCR_OK, "%s: %s", call, tcr_status_text(status));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    tcr_bytes bytes = {.at = data, .end = data + size};
    const size_t group = tcr_any_byte(&bytes) % (sizeof GROUPS / sizeof GROUPS[0]);
    GROUPS[group](&bytes);
    return 0;
}
