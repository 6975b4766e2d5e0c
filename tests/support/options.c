/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/options.h"

#include <stdint.h>
#include <string.h>

enum { ROOM = 4096, BEYOND = 64, MARK = 0xa5 };

typedef union room {
    max_align_t aligned;
    unsigned char byte[ROOM];
} room;

void tcr_expect_init(const char *name, tcr_options_init_call init, size_t own) {
    expect_true(own + 2 * BEYOND <= ROOM);
    for (size_t size = 0; size <= own + BEYOND; size++) {
        room written;
        memset(&written, MARK, sizeof written);
        init(&written, size);
        given("%s in %zu bytes", name, size);
        for (size_t i = size < sizeof size ? 0 : size; i < ROOM; i++)
            expect_count(written.byte[i], MARK); /* source: tipcrest.h */
        if (size >= sizeof size)
            expect_bytes(&written, &size, sizeof size);
        for (size_t i = own; i < size; i++)
            expect_count(written.byte[i], 0);
    }
    init(NULL, own);
}

void tcr_expect_sizes(tcr_options_init_call init, size_t least, size_t own, tcr_options_call call,
                      void *context) {
    static const size_t HUGE[] = {SIZE_MAX, SIZE_MAX - sizeof(size_t) + 1, SIZE_MAX / 2 + 1};
    const size_t more = sizeof HUGE / sizeof *HUGE;
    for (size_t i = 0; i <= own + BEYOND + more; i++) {
        const size_t size = i <= own + BEYOND ? i : HUGE[i - own - BEYOND - 1];
        const bool fits = size >= least && size <= own && size % _Alignof(size_t) == 0;
        room options;
        memset(&options, 0, sizeof options);
        init(&options, own);
        memcpy(&options, &size, sizeof size);
        given("options of %zu bytes, where they are %zu and were %zu", size, own, least);
        expect_status(call(&options, context), fits ? TCR_OK : TCR_E_ARGUMENT);
    }
}
