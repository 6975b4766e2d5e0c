/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Assertions and the runner of claims, on top of Check. */
#include "support/check.h"

#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char context[512];

void tcr_given(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(context, sizeof context, format, arguments);
    va_end(arguments);
}

static void forget(void) { context[0] = '\0'; }

int tcr_run_claims(const char *topic, const TTest *const *claims, size_t count) {
    Suite *suite = suite_create(topic);
    TCase *all = tcase_create(topic);
    tcase_add_checked_fixture(all, forget, NULL);
    if (getenv("CK_DEFAULT_TIMEOUT") == NULL)
        tcase_set_timeout(all, 1200.0); /* against hanging alone: machines are slow and busy */
    for (size_t i = 0; i < count; i++)
        tcase_add_test(all, claims[i]);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return count > 0 && failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

/* Notes that an assertion was reached, or fails with the text and what was being looked at. */
static void judge(tcr_source_place at, bool holds, const char *format, ...)
    CK_ATTRIBUTE_FORMAT(printf, 3, 4);
static void judge(tcr_source_place at, bool holds, const char *format, ...) {
    if (holds) {
        /* Check writes each mark to a file; in a loop over one assertion the first is enough. */
        static tcr_source_place last;
        if (at.line != last.line || at.file != last.file)
            _mark_point(at.file, at.line);
        last = at;
        return;
    }
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    _ck_assert_failed(at.file, at.line, at.what, "%s: %s%s%s", at.what, text,
                      context[0] != '\0' ? "; given " : "", context);
}

void tcr_expect_near(tcr_source_place at, double got, double expected, double tolerance,
                     const char *why) {
    judge(at, got == expected || fabs(got - expected) <= tolerance,
          "got %.17g, expected %.17g, off by %.3g, tolerance %.3g (%s)", got, expected,
          got - expected, tolerance, why);
}

void tcr_expect_within(tcr_source_place at, double got, double low, double high, const char *why) {
    judge(at, got >= low && got <= high, "got %.17g, expected from %.17g to %.17g (%s)", got, low,
          high, why);
}

void tcr_expect_same(tcr_source_place at, double got, double expected, const char *why) {
    judge(at, memcmp(&got, &expected, sizeof got) == 0,
          "got %.17g, expected the same bits as %.17g (%s)", got, expected, why);
}

void tcr_expect_vector(tcr_source_place at, tcr_vec3 got, tcr_vec3 expected, double tolerance,
                       const char *why) {
    const bool holds = fabs(got.x - expected.x) <= tolerance &&
                       fabs(got.y - expected.y) <= tolerance &&
                       fabs(got.z - expected.z) <= tolerance;
    judge(at, holds,
          "got (%.17g, %.17g, %.17g), expected (%.17g, %.17g, %.17g), tolerance %.3g (%s)", got.x,
          got.y, got.z, expected.x, expected.y, expected.z, tolerance, why);
}

void tcr_expect_nan(tcr_source_place at, double got) {
    judge(at, isnan(got), "got %.17g, expected a NaN", got);
}

void tcr_expect_count(tcr_source_place at, intmax_t got, intmax_t expected) {
    judge(at, got == expected, "got %" PRIdMAX ", expected %" PRIdMAX, got, expected);
}

void tcr_expect_status(tcr_source_place at, tcr_status got, tcr_status expected) {
    judge(at, got == expected, "got %d (%s), expected %d (%s)", (int)got, tcr_status_text(got),
          (int)expected, tcr_status_text(expected));
}

void tcr_expect_text(tcr_source_place at, const char *got, const char *expected) {
    judge(at, got != NULL && strcmp(got, expected) == 0, "got \"%s\", expected \"%s\"",
          got != NULL ? got : "(null)", expected);
}

void tcr_expect_bytes(tcr_source_place at, const void *got, const void *expected, size_t size) {
    const unsigned char *a = got, *b = expected;
    size_t i = 0;
    while (i < size && a[i] == b[i])
        i++;
    judge(at, i == size, "byte %zu of %zu is %d, expected %d", i, size, i < size ? a[i] : 0,
          i < size ? b[i] : 0);
}

void tcr_expect_true(tcr_source_place at, bool condition) {
    judge(at, condition, "it does not hold");
}
