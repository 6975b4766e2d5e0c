/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_SAMPLE_H
#define TCR_TESTS_FILE_SAMPLE_H

/* A set built in memory that has a bit of everything, its check, and reports kept as text. */

#include <stdlib.h>
#include <string.h>

#include <tipcrest/file.h>
#include <tipcrest/tipcrest.h>

#include "support/check.h"
#include "support/make.h"

/* Titles and ids that are trouble for JSON, spreadsheets and terminals. All invented. */
#define SAMPLE_TITLE "Drill \"one\" \\ \x1b[31mred, \xc3\xa9\xe4\xbd\xa0 (invented)"
static const char *const SAMPLE_IDS[] = {
    "=1+1",
    "+1",
    "-x",
    "@b",
    "'quoted'",
    "a,b",
    "say \"hi\"",
    "two\nlines",
    "\ttab",
    "\xc3\xa9 \xc3\xa0",        /* accents */
    "\xe4\xbd\xa0\xe5\xa5\xbd", /* two wide characters */
    "\xe2\x80\xaertl",          /* U+202E: from right to left */
    "\x1b[2J",
    "\x7f",
    " lead",
    "\rcr",
};
enum { SAMPLE_ODD_IDS = sizeof SAMPLE_IDS / sizeof *SAMPLE_IDS };

typedef struct text {
    char *bytes; /* ended by a NUL */
    size_t count;
    size_t calls;
    size_t fail_at; /* the call that fails, from 1; 0 none */
} text;

static inline int keep_text(void *context, const void *bytes, size_t count) {
    text *to = context;
    to->calls++;
    if (to->fail_at != 0 && to->calls >= to->fail_at)
        return 1;
    to->bytes = realloc(to->bytes, to->count + count + 1);
    ck_assert_ptr_nonnull(to->bytes);
    memcpy(to->bytes + to->count, bytes, count);
    to->count += count;
    to->bytes[to->count] = '\0';
    return 0;
}

static inline tcr_set *new_set(const char *title) {
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_title(set, title), TCR_OK);
    return set;
}

/* An eye with a map of three zones, the middle one with a top layer of its own. */
static inline void add_eye(tcr_set *set, tcr_side side) {
    tcr_zone zones[] = {
        {.to = 0.3, .length_mm = 10, .curl = "C"},
        {.to = 0.7, .length_mm = 12, .curl = "CC"},
        {.to = 1, .length_mm = 11, .curl = "C"},
    };
    zones[1].layer[TCR_TOP] = (tcr_wish){.fixed = TCR_FIX_FAN | TCR_FIX_SPREAD | TCR_FIX_PLACEMENT,
                                         .fan = 3,
                                         .spread_rad = tcr_degrees(25.5),
                                         .placement = TCR_UNDERSIDE};
    expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, side, zones, 3), TCR_OK);
}

static inline void add_lash(tcr_set *set, tcr_side side, const char *id, const tcr_lash *lash,
                            const tcr_wish *wish) {
    given("id %s", id);
    expect_status(tcr_set_add_lash(set, side, id, lash, wish), TCR_OK);
}

/*
 * n lashes spread evenly over the eye, layers in turn; among them every condition, bare ones of
 * every reason, extensions much too long and with a length that their row gives.
 */
static inline void add_lashes(tcr_set *set, tcr_side side, size_t n) {
    const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    const tcr_wish longer = {.fixed = TCR_FIX_LENGTH, .length_mm = 14.25};
    for (size_t i = 0; i < n; i++) {
        char id[32];
        snprintf(id, sizeof id, "n%03zu", i);
        const double u = 0.05 + 0.9 * (double)i / (double)(n > 1 ? n - 1 : 1);
        tcr_lash lash = tcr_lash_unknown(u, (tcr_layer)(i % TCR_LAYERS));
        lash.turn_rad = tcr_degrees(50.0 + (double)(i * 7 % 20));
        lash.length_mm = 7.5; /* else the short ones would be the mean lash */
        const tcr_wish *wish = NULL;
        if (i % 16 < 5)
            lash.condition = (tcr_condition)(i % 16);
        else if (i % 16 == 5)
            wish = &bare;
        else if (i % 16 == 6)
            lash.length_mm = 1.5; /* less than 1 mm behind the offset of 0.7 mm */
        else if (i % 16 == 7)
            wish = &longer;
        add_lash(set, side, i < SAMPLE_ODD_IDS ? SAMPLE_IDS[i] : id, &lash, wish);
    }
}

/* Two eyes of 96 and 71 lashes. */
static inline tcr_set *new_sample(void) {
    tcr_set *set = new_set(SAMPLE_TITLE);
    add_eye(set, TCR_LEFT);
    add_eye(set, TCR_RIGHT);
    add_lashes(set, TCR_LEFT, 96);
    add_lashes(set, TCR_RIGHT, 71);
    return set;
}

/* One eye with so many lashes that carry an extension. */
static inline tcr_set *new_small(size_t carrying) {
    tcr_set *set = new_set("");
    add_eye(set, TCR_LEFT);
    for (size_t i = 0; i < carrying + 2; i++) {
        char id[32];
        snprintf(id, sizeof id, "s%zu", i);
        tcr_lash lash = tcr_lash_unknown(0.1 + 0.05 * (double)i, TCR_BOTTOM);
        lash.condition = i < 2 ? TCR_BABY : TCR_SUITABLE;
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    return set;
}

static inline tcr_check *new_check(const tcr_set *set, const tcr_check_options *options) {
    tcr_check *check;
    expect_status(tcr_check_new(set, options, &check, NULL), TCR_OK);
    return check;
}

#endif
