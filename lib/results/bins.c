/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How an output goes with one factor where the points lie by chance: the points in bins by the
 * factor's place in the unit cube, in which they lie evenly, so that bins have about equally many.
 */
#include "results/results.h"

#include <math.h>

#include "num/memory.h"

enum { POINTS_MOST = 1000000, AT_ONCE = 64 };

/* Points being put into bins. */
typedef struct binning {
    const tcr_results *results;
    tcr_design design;
    size_t levels[TCR_FACTORS_MAX];
    size_t factor, bins, points;
    unsigned char *bin; /* of each point */
    double *value;      /* of each point, then in the order of bins */
    double *sorted, *scratch;
    size_t count[TCR_BINS_MAX];
} binning;

static bool make_room(binning *b) {
    const tcr_allocator *a = &b->results->allocator;
    const size_t runs = b->results->runs, most = runs > b->points ? runs : b->points;
    b->bin = tcr_resize(a, NULL, b->points, 1);
    b->value = tcr_resize(a, NULL, b->points, sizeof *b->value);
    b->sorted = tcr_resize(a, NULL, b->points, sizeof *b->sorted);
    b->scratch = tcr_resize(a, NULL, most, sizeof *b->scratch);
    return b->bin != NULL && b->value != NULL && b->sorted != NULL && b->scratch != NULL;
}

static void free_room(binning *b) {
    const tcr_allocator *a = &b->results->allocator;
    tcr_release(a, b->bin);
    tcr_release(a, b->value);
    tcr_release(a, b->sorted);
    tcr_release(a, b->scratch);
}

/* Finds the bin of each point, and the sum of the factor's values in each. */
static void sort_points(binning *b, tcr_results_bin *bin) {
    const tcr_factor *f = &tcr_study_factor_at(b->results->study, b->factor)->factor;
    double u[AT_ONCE * TCR_FACTORS_MAX];
    for (size_t from = 0; from < b->points; from += AT_ONCE) {
        const size_t n = b->points - from < AT_ONCE ? b->points - from : AT_ONCE;
        (void)tcr_design_points(&b->design, b->results->first + from, n, u);
        for (size_t i = 0; i < n; i++) {
            const double place = u[i * b->design.factors + b->factor];
            const size_t at = (size_t)(place * (double)b->bins);
            b->bin[from + i] = (unsigned char)at;
            b->count[at]++;
            bin[at].at += f->distribution == TCR_LEVELS && f->levels == b->bins
                              ? (double)at
                              : tcr_factor_value(f, place);
        }
    }
}

/* Brings the values of the points into the order of their bins. */
static void sort_values(binning *b) {
    size_t next[TCR_BINS_MAX], before = 0;
    for (size_t k = 0; k < b->bins; k++) {
        next[k] = before;
        before += b->count[k];
    }
    for (size_t i = 0; i < b->points; i++) {
        tcr_summary s;
        (void)tcr_results_point(b->results, i, b->scratch, &s);
        b->value[i] = s.mean;
        b->sorted[next[b->bin[i]]++] = s.mean;
    }
}

/* The variance between the bins' means, as a share of that of all points that have a value. */
static double share_between(binning *b, const tcr_results_bin *bin) {
    tcr_summary all;
    double squares = 0.0;
    (void)tcr_summarise(b->value, b->points, 1, b->scratch, &all);
    const double n = (double)all.runs, variance = all.se * all.se * (n - 1.0);
    for (size_t k = 0; k < b->bins; k++)
        if (bin[k].over.runs > 0)
            squares += (double)bin[k].over.runs * (bin[k].over.mean - all.mean) *
                       (bin[k].over.mean - all.mean);
    return variance > 0.0 ? squares / n / variance : NAN;
}

tcr_status tcr_results_bins(const tcr_results *r, size_t factor, size_t bins, tcr_results_bin *bin,
                            size_t *count, double *share) {
    if (r == NULL || bin == NULL || count == NULL || share == NULL)
        return TCR_E_ARGUMENT;
    if (factor >= r->factors || bins < 1 || bins > TCR_BINS_MAX)
        return TCR_E_RANGE;
    binning b = {.results = r, .factor = factor, .bins = bins};
    (void)tcr_study_design(r->study, b.levels, &b.design);
    if (r->judges == 0 || r->next != r->end ||
        (b.design.kind != TCR_DESIGN_RANDOM && b.design.kind != TCR_DESIGN_SOBOL))
        return TCR_E_MISSING;
    const uint64_t points = r->end - r->first;
    b.points = points < POINTS_MOST ? (size_t)points : POINTS_MOST;
    if (b.levels[factor] > 0 && b.levels[factor] < bins)
        b.bins = b.levels[factor];
    const bool room = make_room(&b);
    if (room) {
        for (size_t k = 0; k < b.bins; k++)
            bin[k].at = 0.0;
        sort_points(&b, bin);
        sort_values(&b);
        size_t before = 0;
        for (size_t k = 0; k < b.bins; k++) {
            const tcr_summary none = {.mean = NAN, .se = NAN, .p5 = NAN, .p95 = NAN};
            bin[k].over = none;
            if (b.count[k] > 0)
                (void)tcr_summarise(b.sorted + before, b.count[k], 1, b.scratch, &bin[k].over);
            bin[k].at /= (double)b.count[k]; /* NaN without a point */
            before += b.count[k];
        }
        *share = share_between(&b, bin);
        *count = b.bins;
    }
    free_room(&b);
    return room ? TCR_OK : TCR_E_MEMORY;
}
