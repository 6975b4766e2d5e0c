/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_TARGET_H
#define TCR_TESTS_FUZZ_TARGET_H

/*
 * A fuzz target: libFuzzer calls it with one input after the other (run.sh); replay.c calls it with
 * those of the corpus, under any compiler. The name is libFuzzer's. Always returns 0; what must not
 * be ends the process (claim.h).
 */

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
