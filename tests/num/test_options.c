/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options structs that have grown: what a program of an older header says is taken. */
#include "num/options.h"

#include <stdlib.h>
#include <string.h>

#include "support/check.h"

/* A struct as an older header has it, and as it is now. */
typedef struct older_options {
    size_t size;
    double width_mm;
    const char *label;
} older_options;

typedef struct grown_options {
    size_t size;
    double width_mm;
    const char *label;
    double angle_rad;
    const char *title;
} grown_options;

enum { GUARD = 64, MARK = 0xa5 };

static const char LABEL[] = "label", TITLE[] = "title", OTHER[] = "other";
static const grown_options DEFAULTS = {
    .width_mm = 254.0, .label = LABEL, .angle_rad = 0.25, .title = TITLE};

static grown_options defaults(void) {
    grown_options own;
    tcr_options_init(&own, sizeof own, &DEFAULTS, sizeof DEFAULTS);
    return own;
}

CLAIM(the_defaults_go_as_far_as_the_size_and_no_byte_further) {
    for (size_t size = 0; size <= sizeof DEFAULTS + GUARD; size++) {
        unsigned char written[sizeof DEFAULTS + 2 * GUARD], expected[sizeof written];
        memset(written, MARK, sizeof written);
        memset(expected, MARK, sizeof expected);
        tcr_options_init(written, size, &DEFAULTS, sizeof DEFAULTS);
        if (size >= sizeof size) { /* source: options.h, byte by byte */
            const unsigned char *from = (const unsigned char *)&DEFAULTS;
            for (size_t i = 0; i < size; i++)
                expected[i] = i < sizeof DEFAULTS ? from[i] : 0;
            memcpy(expected, &size, sizeof size);
        }
        given("%zu bytes of %zu", size, sizeof DEFAULTS);
        expect_bytes(written, expected, sizeof expected);
    }
}

CLAIM(nothing_given_leaves_the_defaults) {
    grown_options own = defaults();
    expect_status(tcr_options_take(&own, sizeof own, NULL), TCR_OK);
    expect_count(own.size, sizeof own);
    expect_same(own.width_mm, 254.0, "a copy");
    expect_same(own.angle_rad, 0.25, "a copy");
    expect_true(own.label == LABEL && own.title == TITLE);
}

CLAIM(a_struct_of_todays_size_is_taken_whole) {
    const grown_options given = {sizeof given, 100.0, OTHER, -1.5, NULL};
    grown_options own = defaults();
    expect_status(tcr_options_take(&own, sizeof own, &given), TCR_OK);
    expect_bytes(&own, &given, sizeof own); /* no padding: doubles, pointers and a size */
}

CLAIM(what_an_older_program_does_not_know_has_its_default) {
    /* A block that ends where the older struct does: a sanitiser sees a read behind it. */
    older_options *older = malloc(sizeof *older);
    expect_true(older != NULL);
    *older = (older_options){sizeof *older, 100.0, OTHER};
    grown_options own = defaults();
    expect_status(tcr_options_take(&own, sizeof own, older), TCR_OK);
    expect_count(own.size, sizeof own); /* source: options.h */
    expect_same(own.width_mm, 100.0, "a copy");
    expect_true(own.label == OTHER);
    expect_same(own.angle_rad, 0.25, "a copy");
    expect_true(own.title == TITLE);
    free(older);
}

CLAIM(a_wrong_size_is_refused_and_changes_nothing) {
    grown_options block[2] = {{0, 100.0, OTHER, -1.5, OTHER}}; /* zeros behind the first */
    const size_t wrong[] = {0, 1, sizeof *block - 1, sizeof *block + sizeof(size_t), SIZE_MAX - 7};
    const grown_options before = defaults();
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) { /* source: options.h */
        grown_options own = before;
        block[0].size = wrong[i];
        given("%zu bytes", wrong[i]);
        expect_status(tcr_options_take(&own, sizeof own, block), TCR_E_ARGUMENT);
        expect_bytes(&own, &before, sizeof own);
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &the_defaults_go_as_far_as_the_size_and_no_byte_further,
        &nothing_given_leaves_the_defaults,
        &a_struct_of_todays_size_is_taken_whole,
        &what_an_older_program_does_not_know_has_its_default,
        &a_wrong_size_is_refused_and_changes_nothing,
    };
    return RUN_CLAIMS("options", claims);
}
