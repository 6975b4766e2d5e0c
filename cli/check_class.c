/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of a class: the rms of each set as a bar, with its verdict, the most even first. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "check_class.h"

#ifdef TCR_WITH_DRAW

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/chart.h>
#include <tipcrest/verdict.h>
#include <tipcrest/why.h>

#include "common.h"

enum { NAME_SIZE = 200, WORDS_SIZE = 300, PATH_ROOM = 24 }; /* a longer path goes without folders */

/* A set with its figures. */
typedef struct place {
    const tcr_ranked_set *set;
    size_t index; /* in the order of the call */
    tcr_judgement found;
} place;

static int by_rms(const void *a, const void *b) {
    const place *one = a, *other = b;
    if (one->found.rms_mm != other->found.rms_mm)
        return one->found.rms_mm < other->found.rms_mm ? -1 : 1;
    return one->index < other->index ? -1 : 1;
}

static bool is_judged(const tcr_ranked_set *set, tcr_judgement *found) {
    static const unsigned EVERY_EYE = ~0u;
    return tcr_check_judge(set->check, EVERY_EYE, found) == TCR_OK &&
           found->verdict != TCR_NOT_JUDGED;
}

bool tcr_class_has_picture(const tcr_ranked_set *sets, size_t count) {
    tcr_judgement found;
    for (size_t i = 0; i < count; i++)
        if (is_judged(&sets[i], &found))
            return true;
    return false;
}

/* The sets that are judged, the most even first; their number. */
static size_t rank(const tcr_ranked_set *sets, size_t count, place *places) {
    size_t judged = 0;
    for (size_t i = 0; i < count; i++) {
        places[judged] = (place){.set = &sets[i], .index = i};
        judged += is_judged(&sets[i], &places[judged].found);
    }
    qsort(places, judged, sizeof *places, by_rms);
    return judged;
}

static const char *verdict_words(const place *p) {
    return tcr_verdict_words(p->found.verdict, tcr_check_against(p->set->check));
}

/* "2 even, 1 mostly even." */
static void count_verdicts(const place *places, size_t judged, size_t all, char text[WORDS_SIZE]) {
    size_t used = 0;
    for (int verdict = TCR_EVEN; verdict < TCR_VERDICTS; verdict++) {
        const place *first = NULL;
        size_t count = 0;
        for (size_t i = 0; i < judged; i++)
            if ((int)places[i].found.verdict == verdict && count++ == 0)
                first = &places[i];
        if (count > 0)
            used += (size_t)snprintf(text + used, WORDS_SIZE - used, "%s%zu %s",
                                     used > 0 ? ", " : "", count, verdict_words(first));
    }
    if (judged < all)
        used += (size_t)snprintf(text + used, WORDS_SIZE - used, ", %zu not judged", all - judged);
    (void)snprintf(text + used, WORDS_SIZE - used, ".");
}

/* Whether two sets differ by less than counts. */
static bool are_near(const place *one, const place *other) {
    return tcr_effect_of(one->found.rms_mm, other->found.rms_mm) == TCR_LITTLE;
}

static bool is_drawn(const tcr_set *set) {
    return tcr_set_drawn_count(set, TCR_LEFT) + tcr_set_drawn_count(set, TCR_RIGHT) > 0;
}

static tcr_status draw(const place *places, size_t judged, size_t all, const tcr_picture_look *look,
                       tcr_sink sink, void *context) {
    const size_t shown = judged < TCR_CHART_BARS_MAX ? judged : TCR_CHART_BARS_MAX;
    const bool fitted = tcr_check_against(places[0].set->check) == TCR_FITTED;
    char name[TCR_CHART_BARS_MAX][NAME_SIZE], verdicts[WORDS_SIZE], more[WORDS_SIZE],
        by_chance[WORDS_SIZE];
    const char *word[TCR_CHART_BARS_MAX], *remarks[4];
    double rms_mm[TCR_CHART_BARS_MAX];
    size_t drawn = 0, near = 0;
    tcr_chart chart = tcr_chart_default();
    for (size_t i = 0; i < shown; i++) {
        const char *path = places[i].set->name;
        const bool is_near = i > 0 && are_near(&places[i - 1], &places[i]);
        (void)snprintf(name[i], NAME_SIZE, "%s%s: %.150s", is_near ? "= " : "",
                       verdict_words(&places[i]),
                       strlen(path) > PATH_ROOM ? tcr_base_name(path) : path);
        word[i] = name[i];
        rms_mm[i] = places[i].found.rms_mm;
        near += is_near;
        drawn += is_drawn(tcr_check_set(places[i].set->check));
    }
    chart.form = TCR_CHART_BARS;
    chart.title = fitted ? "Sets by evenness, the most even first"
                         : "Sets by match to their maps, the best first";
    chart.text = fitted ? "tips off the line fitted to each set" : "tips off the line of each map";
    chart.quantity = "rms, mm: a tip's typical distance from its line; far tips count more";
    chart.x = (tcr_chart_axis){"mm rms", shown, NULL, word};
    chart.value = rms_mm;
    chart.remark = remarks;
    count_verdicts(places, judged, all, verdicts);
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
    if (near > 0)
        remarks[chart.remarks++] = "=: less than 0.05 mm from the bar above, which counts as no "
                                   "difference (assumed).";
    chart.foot = "At least 95 % of tips within the tolerance is even or as mapped, 80 % mostly so: "
                 "a convention.";
    return tcr_chart_write(look->format, &chart, &look->options, sink, context);
}

tcr_status tcr_class_picture(const tcr_ranked_set *sets, size_t count, const tcr_picture_look *look,
                             tcr_sink sink, void *context) {
    place *places = calloc(count, sizeof *places);
    if (places == NULL)
        return TCR_E_MEMORY;
    const tcr_status status = draw(places, rank(sets, count, places), count, look, sink, context);
    free(places);
    return status;
}

#endif
