/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of a class: the rms of each set as a bar, with its verdict, the most even first. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "check_class.h"

#ifdef TCR_WITH_DRAW

#include <stdio.h>
#include <string.h>

#include <tipcrest/chart.h>
#include <tipcrest/verdict.h>

#include "common.h"

enum { NAME_SIZE = 200, WORDS_SIZE = 300, PATH_ROOM = 24 }; /* a longer path goes without folders */

bool tcr_class_has_picture(const tcr_ranked_set *sets, size_t count) {
    return count > 0 && sets[0].found.verdict != TCR_NOT_JUDGED;
}

static const char *verdict_words(const tcr_ranked_set *set) {
    return tcr_verdict_words(set->found.verdict, tcr_check_against(set->check));
}

/* "2 even, 1 mostly even." */
static void count_verdicts(const tcr_ranked_set *sets, size_t judged, size_t all,
                           char text[WORDS_SIZE]) {
    size_t used = 0;
    for (int verdict = TCR_EVEN; verdict < TCR_VERDICTS; verdict++) {
        const tcr_ranked_set *first = NULL;
        size_t count = 0;
        for (size_t i = 0; i < judged; i++)
            if ((int)sets[i].found.verdict == verdict && count++ == 0)
                first = &sets[i];
        if (count > 0)
            used += (size_t)snprintf(text + used, WORDS_SIZE - used, "%s%zu %s",
                                     used > 0 ? ", " : "", count, verdict_words(first));
    }
    if (judged < all)
        used += (size_t)snprintf(text + used, WORDS_SIZE - used, ", %zu not judged", all - judged);
    (void)snprintf(text + used, WORDS_SIZE - used, ".");
}

static bool is_drawn(const tcr_set *set) {
    return tcr_set_drawn_count(set, TCR_LEFT) + tcr_set_drawn_count(set, TCR_RIGHT) > 0;
}

tcr_status tcr_class_picture(const tcr_ranked_set *sets, size_t count, const tcr_picture_look *look,
                             tcr_sink sink, void *context) {
    size_t judged = 0;
    while (judged < count && sets[judged].found.verdict != TCR_NOT_JUDGED)
        judged++;
    const size_t shown = judged < TCR_CHART_BARS_MAX ? judged : TCR_CHART_BARS_MAX;
    const bool fitted = tcr_check_against(sets[0].check) == TCR_FITTED;
    char name[TCR_CHART_BARS_MAX][NAME_SIZE], verdicts[WORDS_SIZE], more[WORDS_SIZE],
        by_chance[WORDS_SIZE];
    const char *word[TCR_CHART_BARS_MAX], *remarks[4];
    double rms_mm[TCR_CHART_BARS_MAX];
    size_t drawn = 0;
    bool any_share = false;
    tcr_chart chart = tcr_chart_default();
    for (size_t i = 0; i < shown; i++) {
        const char *path = sets[i].name;
        (void)snprintf(name[i], NAME_SIZE, "%.150s: %zu%s, %s",
                       strlen(path) > PATH_ROOM ? tcr_base_name(path) : path, sets[i].rank,
                       sets[i].shares ? " =" : "", verdict_words(&sets[i]));
        word[i] = name[i];
        rms_mm[i] = sets[i].found.rms_mm;
        any_share = any_share || sets[i].shares;
        drawn += is_drawn(tcr_check_set(sets[i].check));
    }
    chart.form = TCR_CHART_BARS;
    chart.title = fitted ? "Sets by evenness, the most even first"
                         : "Sets by match to their maps, the best first";
    chart.text = fitted ? "tips off the line fitted to each set" : "tips off the line of each map";
    chart.quantity = "rms, mm: a tip's typical distance from its line; far tips count more";
    chart.x = (tcr_chart_axis){"mm rms", shown, NULL, word};
    chart.value = rms_mm;
    chart.remark = remarks;
    count_verdicts(sets, judged, count, verdicts);
    remarks[chart.remarks++] = verdicts;
    if (shown < judged) {
        (void)snprintf(more, sizeof more, "Sets that follow and are not shown: %zu.",
                       judged - shown);
        remarks[chart.remarks++] = more;
    }
    if (drawn > 0) {
        (void)snprintf(by_chance, sizeof by_chance,
                       "Sets shown whose lashes are drawn by chance, not measured: %zu.", drawn);
        remarks[chart.remarks++] = by_chance;
    }
    if (any_share)
        remarks[chart.remarks++] =
            "=: a rank is shared by sets less than 0.05 mm behind its first, "
            "which counts as no difference (assumed).";
    chart.foot = "At least 95 % of tips within the tolerance is even or as mapped, 80 % mostly so: "
                 "a convention.";
    return tcr_chart_write(look->format, &chart, &look->options, sink, context);
}

#endif
