/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/options.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

void tcr_expect_sizes(const void *options, size_t own, tcr_options_call call, void *context) {
    const size_t word = sizeof own;
    const struct {
        size_t size;
        tcr_status expected; /* source: tipcrest.h */
    } cases[] = {
        {own, TCR_OK},
        {own - word, TCR_OK},
        {0, TCR_E_ARGUMENT},
        {own - 1, TCR_E_ARGUMENT},
        {own + word, TCR_E_ARGUMENT},
        {SIZE_MAX - word + 1, TCR_E_ARGUMENT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        /* A block that ends where the struct does: a sanitiser sees a read behind it. */
        const size_t room = cases[i].expected == TCR_OK ? cases[i].size : own;
        void *given = malloc(room);
        ck_assert_ptr_nonnull(given);
        memcpy(given, options, room);
        memcpy(given, &cases[i].size, word);
        given("options of %zu bytes, where they are %zu", cases[i].size, own);
        expect_status(call(given, context), cases[i].expected);
        free(given);
    }
}
