/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_CHECK_H
#define TCR_TESTS_SUPPORT_CHECK_H

/*
 * Assertions that print both numbers in full, and a runner, so that a test file is a table of
 * claims:
 *
 *     CLAIM(a_full_turn_comes_back) {
 *         expect_near(end.x, 0.0, 1e-15, "rounding of one sine");
 *     }
 *     int main(void) {
 *         static const TTest *const claims[] = {&a_full_turn_comes_back};
 *         return RUN_CLAIMS("arc", claims);
 *     }
 *
 * Each claim runs in a process of its own. The last argument of an assertion says why the tolerance
 * is what it is; where the expected value comes from stands in a comment beside it.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <check.h>

#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/* Defines a test that is named for what it claims. */
#define CLAIM(name)                                                                                \
    static void name##_holds(int);                                                                 \
    static const TTest name = {#name, name##_holds, __FILE__, __LINE__};                           \
    static void name##_holds(int tcr_unused CK_ATTRIBUTE_UNUSED)

/* Runs a table of claims; the value is main's exit status. */
#define RUN_CLAIMS(topic, claims) tcr_run_claims(topic, claims, sizeof(claims) / sizeof *(claims))
int tcr_run_claims(const char *topic, const TTest *const *claims, size_t count);

/* What is being looked at, printed with the next failure; call it inside loops. */
#define given(...) tcr_given(__VA_ARGS__)
void tcr_given(const char *format, ...) CK_ATTRIBUTE_FORMAT(printf, 1, 2);

typedef struct tcr_source_place {
    const char *file;
    int line;
    const char *what; /* the expression */
} tcr_source_place;
#define TCR_HERE(expression) ((tcr_source_place){__FILE__, __LINE__, #expression})

/* |got - expected| <= tolerance; never holds for NaN. */
#define expect_near(got, expected, tolerance, why)                                                 \
    tcr_expect_near(TCR_HERE(got), got, expected, tolerance, why)
/* low <= got <= high; never holds for NaN. */
#define expect_within(got, low, high, why) tcr_expect_within(TCR_HERE(got), got, low, high, why)
/* The same double, bit for bit. */
#define expect_same(got, expected, why) tcr_expect_same(TCR_HERE(got), got, expected, why)
/* Each component within the tolerance. */
#define expect_vector(got, expected, tolerance, why)                                               \
    tcr_expect_vector(TCR_HERE(got), got, expected, tolerance, why)
#define expect_nan(got) tcr_expect_nan(TCR_HERE(got), got)
/* Whole numbers of any type. */
#define expect_count(got, expected)                                                                \
    tcr_expect_count(TCR_HERE(got), (intmax_t)(got), (intmax_t)(expected))
#define expect_status(got, expected) tcr_expect_status(TCR_HERE(got), got, expected)
#define expect_text(got, expected) tcr_expect_text(TCR_HERE(got), got, expected)
#define expect_bytes(got, expected, size) tcr_expect_bytes(TCR_HERE(got), got, expected, size)
#define expect_true(condition) tcr_expect_true(TCR_HERE(condition), condition)

void tcr_expect_near(tcr_source_place at, double got, double expected, double tolerance,
                     const char *why);
void tcr_expect_within(tcr_source_place at, double got, double low, double high, const char *why);
void tcr_expect_same(tcr_source_place at, double got, double expected, const char *why);
void tcr_expect_vector(tcr_source_place at, tcr_vec3 got, tcr_vec3 expected, double tolerance,
                       const char *why);
void tcr_expect_nan(tcr_source_place at, double got);
void tcr_expect_count(tcr_source_place at, intmax_t got, intmax_t expected);
void tcr_expect_status(tcr_source_place at, tcr_status got, tcr_status expected);
void tcr_expect_text(tcr_source_place at, const char *got, const char *expected);
void tcr_expect_bytes(tcr_source_place at, const void *got, const void *expected, size_t size);
void tcr_expect_true(tcr_source_place at, bool condition);

#endif
