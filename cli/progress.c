/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Long work on a terminal. */
#include "progress.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "signals.h"

double tcr_seconds_since(const struct timespec *start) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - start->tv_sec) + 1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}

void tcr_duration_text(double seconds, char *text) {
    static const struct {
        double below, unit;
        int decimals;
        const char *word;
    } UNITS[] = {{100.0, 1.0, 0, "s"},
                 {6000.0, 60.0, 0, "min"},
                 {360000.0, 3600.0, 1, "h"},
                 {INFINITY, 86400.0, 0, "days"}};
    size_t i = 0;
    while (i < sizeof UNITS / sizeof *UNITS - 1 && !(seconds < UNITS[i].below))
        i++;
    (void)snprintf(text, TCR_DURATION_SIZE, "%.*f %s", UNITS[i].decimals, seconds / UNITS[i].unit,
                   UNITS[i].word);
}

void tcr_watch_begin(tcr_watch *watch, const char *early) {
    *watch = (tcr_watch){.early = early, .limit_s = INFINITY};
    clock_gettime(CLOCK_MONOTONIC, &watch->start);
}

/* Rate and time left of what is done in steps alike; nothing where they cannot be known. */
static void say_rate(const tcr_watch *watch, double share, double seconds, char *text,
                     size_t room) {
    const double done = share - watch->phase_share, took = seconds - watch->phase_at;
    text[0] = '\0';
    if (!(watch->items > 0.0) || !(done > 0.0) || !(took > 0.0))
        return;
    char left[TCR_DURATION_SIZE];
    tcr_duration_text((1.0 - share) / done * took, left);
    snprintf(text, room, ", %.0f a second, %s left", done * watch->items / took, left);
}

/* What the library calls a phase, in the user's words. Lines stay within 60 columns, so that the
 * next one covers them on a narrow terminal too. */
static const char *words_of(const char *phase) {
    static const struct {
        const char *phase, *words;
    } WORDS[] = {
        {"samples", "drawn clients"}, {"wanting", "sizes wanted"}, {"order", "working order"}};
    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
        if (strcmp(phase, WORDS[i].phase) == 0)
            return WORDS[i].words;
    return phase;
}

bool tcr_watch_report(void *context, const char *phase, double share) {
    tcr_watch *watch = context;
    const double seconds = tcr_seconds_since(&watch->start);
    if (watch->phase == NULL || strcmp(watch->phase, phase) != 0) {
        watch->phase = phase;
        watch->phase_share = isnan(share) ? 0.0 : share;
        watch->phase_at = seconds;
    }
    if (seconds > 2.0 && seconds > watch->shown_at + 0.2 && isatty(STDERR_FILENO)) {
        char line[192], done[16] = "", rate[64];
        if (!isnan(share))
            snprintf(done, sizeof done, ": %.0f %% done", 100.0 * share);
        say_rate(watch, share, seconds, rate, sizeof rate);
        const int columns = snprintf(line, sizeof line, "%s%s%s, %.0f s; Ctrl-C %s",
                                     words_of(phase), done, rate, seconds, watch->early);
        /* Blanks cover what was there before. */
        fprintf(stderr, "\r%-*s ", watch->columns, line);
        watch->columns = columns > watch->columns ? columns : watch->columns;
        watch->shown_at = seconds;
    }
    /* Samples end at half of the time, so that the other half is left for the choice. */
    const double limit_s = (strcmp(phase, "samples") == 0 ? 0.5 : 1.0) * watch->limit_s;
    return !tcr_asked_to_end() && seconds < limit_s;
}

void tcr_watch_end(tcr_watch *watch) {
    if (watch->shown_at > 0.0)
        fputs("\n", stderr);
}
