/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What long work shows on a terminal: how long it takes, and how it goes on. */
#define _GNU_SOURCE /* posix_openpt and its like */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../cli/progress.h"
#include "../cli/signals.h"
#include "support/check.h"

CLAIM(a_duration_is_told_in_the_unit_of_its_size) {
    /* Computed by hand: 5999 s are 99.98 min, 359 999 s are 99.9997 h. */
    static const struct {
        double seconds;
        const char *text;
    } CASES[] = {{0.4, "0 s"},         {99.0, "99 s"},         {100.0, "2 min"},
                 {5999.0, "100 min"},  {6000.0, "1.7 h"},      {359999.0, "100.0 h"},
                 {360000.0, "4 days"}, {8640000.0, "100 days"}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        char text[TCR_DURATION_SIZE];
        tcr_duration_text(CASES[i].seconds, text);
        given("%g seconds", CASES[i].seconds);
        expect_text(text, CASES[i].text);
    }
}

/* A terminal in the place of standard error; its other end. */
static int terminal(void) {
    const int other = posix_openpt(O_RDWR | O_NOCTTY);
    ck_assert_int_ge(other, 0);
    ck_assert_int_eq(grantpt(other), 0);
    ck_assert_int_eq(unlockpt(other), 0);
    const int own = open(ptsname(other), O_RDWR | O_NOCTTY);
    ck_assert_int_ge(own, 0);
    ck_assert_int_eq(dup2(own, STDERR_FILENO), STDERR_FILENO);
    close(own);
    return other;
}

/* What was shown since the last time; seconds, which a busy machine makes more, are "N s". */
static const char *shown(int other) {
    static char text[256];
    char raw[256];
    const ssize_t got = read(other, raw, sizeof raw - 1);
    ck_assert_int_gt(got, 0);
    raw[got] = '\0';
    char *from = strstr(raw, ", "), *to = strstr(raw, " s; ");
    for (char *next; from != NULL && (next = strstr(from + 1, ", ")) != NULL && next < to;)
        from = next; /* the last one before them */
    if (from == NULL || to == NULL)
        snprintf(text, sizeof text, "%s", raw);
    else
        snprintf(text, sizeof text, "%.*s, N%s", (int)(from - raw), raw, to);
    return text;
}

/* Sets the start of the work back by some seconds. */
static tcr_watch begun_before(time_t seconds) {
    tcr_watch watch;
    tcr_watch_begin(&watch, "ends it");
    watch.start.tv_sec -= seconds;
    return watch;
}

CLAIM(a_terminal_shows_what_is_done) {
    static const struct {
        const char *phase, *words; /* earlier results; plan.sh has the first too */
    } PHASES[] = {{"samples", "drawn clients"},
                  {"wanting", "sizes wanted"},
                  {"order", "working order"},
                  {"lengths", "lengths"}};
    const int other = terminal();
    for (size_t i = 0; i < sizeof PHASES / sizeof *PHASES; i++) {
        char expected[64];
        tcr_watch watch = begun_before(10);
        given("phase %s", PHASES[i].phase);
        expect_true(tcr_watch_report(&watch, PHASES[i].phase, 0.25));
        snprintf(expected, sizeof expected, "\r%s: 25 %% done, N s; Ctrl-C ends it ",
                 PHASES[i].words);
        expect_text(shown(other), expected);
    }
    tcr_watch watch = begun_before(10);
    expect_true(tcr_watch_report(&watch, "order", NAN));
    expect_text(shown(other), "\rworking order, N s; Ctrl-C ends it ");
    expect_true(tcr_watch_report(&watch, "order", NAN)); /* too soon for another line */
    tcr_watch_end(&watch);
    expect_text(shown(other), "\r\n"); /* what a terminal makes of the end of a line */
}

CLAIM(work_of_like_steps_shows_its_rate) {
    const int other = terminal();
    tcr_watch watch = begun_before(100);
    /* As if the phase had begun with the work: a quarter of 4000 in 100 s, 300 s are left. */
    watch.items = 4000.0;
    watch.phase = "study";
    expect_true(tcr_watch_report(&watch, "study", 0.25));
    expect_text(shown(other), "\rstudy: 25 % done, 10 a second, 5 min left, N s; Ctrl-C ends it ");
    /* A phase that begins has none yet, and what was longer is covered by blanks. */
    watch.shown_at = 1.0;
    const int columns = watch.columns;
    expect_true(tcr_watch_report(&watch, "done", 0.5));
    const char *line = shown(other);
    expect_true(strstr(line, "\rdone: 50 % done, N s; Ctrl-C ends it  ") == line);
    expect_count(watch.columns, columns);
}

CLAIM(nothing_is_shown_at_first_or_where_nobody_looks) {
    const int other = terminal();
    tcr_watch watch;
    tcr_watch_begin(&watch, "ends it");
    expect_true(tcr_watch_report(&watch, "order", 0.5));
    expect_true(watch.shown_at == 0.0);
    const int nobody = open("/dev/null", O_WRONLY);
    dup2(nobody, STDERR_FILENO);
    watch = begun_before(10);
    expect_true(tcr_watch_report(&watch, "order", 0.5));
    expect_true(watch.shown_at == 0.0);
    close(other);
}

CLAIM(work_ends_at_its_limit_and_when_it_is_asked_to) {
    tcr_watch watch = begun_before(10);
    watch.limit_s = 20.0;
    expect_true(tcr_watch_report(&watch, "order", 0.5));
    watch.limit_s = 5.0;
    expect_true(!tcr_watch_report(&watch, "order", 0.5));
    signal(SIGINT, SIG_DFL); /* not that of the harness */
    tcr_catch_signals();
    watch = begun_before(0);
    tcr_may_end_early(true);
    expect_true(tcr_watch_report(&watch, "order", 0.5));
    ck_assert_int_eq(raise(SIGINT), 0);
    expect_true(tcr_asked_to_end() && !tcr_watch_report(&watch, "order", 0.5));
    tcr_may_end_early(true); /* forgets what was asked */
    expect_true(!tcr_asked_to_end() && tcr_watch_report(&watch, "order", 0.5));
}

int main(void) {
    static const TTest *const claims[] = {
        &a_duration_is_told_in_the_unit_of_its_size,
        &a_terminal_shows_what_is_done,
        &work_of_like_steps_shows_its_rate,
        &nothing_is_shown_at_first_or_where_nobody_looks,
        &work_ends_at_its_limit_and_when_it_is_asked_to,
    };
    return RUN_CLAIMS("progress", claims);
}
