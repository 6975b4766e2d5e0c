/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_CLAIM_H
#define TCR_TESTS_FUZZ_CLAIM_H

/*
 * What has to hold whatever the input is. A claim that does not hold says so with its numbers and
 * ends the process, by which a fuzzer knows to keep the input.
 */

#include <stddef.h>
#include <stdint.h>

#include <tipcrest/file.h>

#if defined(__GNUC__)
#define TCR_CLAIM_PRINTF __attribute__((format(printf, 4, 5)))
#else
#define TCR_CLAIM_PRINTF
#endif

/* claim(x <= 1.0, "x is %.17g", x) */
#define claim(holds, ...)                                                                          \
    do {                                                                                           \
        if (!(holds))                                                                              \
            tcr_claim_fails(__FILE__, __LINE__, #holds, __VA_ARGS__);                              \
    } while (0)

_Noreturn void tcr_claim_fails(const char *file, int line, const char *claimed, const char *format,
                               ...) TCR_CLAIM_PRINTF;

/* Marks an output, so that tcr_claim_untouched can see whether a call wrote to it. */
void tcr_mark(void *output, size_t bytes);

/* After a failed call: all of a marked output is as it was. Nothing after one that succeeded. */
void tcr_claim_untouched(const char *call, tcr_status status, const void *output, size_t bytes);

/* None of them is infinite or NaN. */
void tcr_claim_finite(const char *what, const double *numbers, size_t count);

/* The same for a struct that consists of doubles. */
#define claim_finite(value)                                                                        \
    tcr_claim_finite(#value, (const double *)(const void *)&(value),                               \
                     sizeof(value) / (sizeof(double)))

/* What a failed call tells: its status, a path, and one line of UTF-8 that a terminal may be given.
 */
void tcr_claim_error(tcr_status status, const tcr_error *error);

/* A number that looks random and depends on the input alone (FNV-1a by Fowler, Noll and Vo). */
uint64_t tcr_hash(const uint8_t *data, size_t size);

#endif
