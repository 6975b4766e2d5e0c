/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A text for every status. */
#include <tipcrest/status.h>

#include <limits.h>
#include <string.h>

#include "support/check.h"

/* The last status of status.h; new ones come after it. */
enum { LAST = TCR_E_FONT };

CLAIM(every_status_has_a_text) {
    for (int i = 0; i <= LAST; i++) {
        given("status %d", i);
        const char *text = tcr_status_text((tcr_status)i);
        ck_assert_ptr_nonnull(text);
        expect_true(strlen(text) > 0 && strcmp(text, "unknown status") != 0);
    }
}

CLAIM(no_two_statuses_share_a_text) {
    for (int i = 0; i <= LAST; i++)
        for (int j = 0; j < i; j++) {
            given("statuses %d and %d", i, j);
            expect_true(strcmp(tcr_status_text((tcr_status)i), tcr_status_text((tcr_status)j)) !=
                        0);
        }
}

CLAIM(any_other_number_is_an_unknown_status) {
    const int others[] = {LAST + 1, -1, INT_MAX, INT_MIN};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        expect_text(tcr_status_text((tcr_status)others[i]),
                    "unknown status"); /* source: status.h */
}

int main(void) {
    static const TTest *const claims[] = {
        &every_status_has_a_text,
        &no_two_statuses_share_a_text,
        &any_other_number_is_an_unknown_status,
    };
    return RUN_CLAIMS("status", claims);
}
