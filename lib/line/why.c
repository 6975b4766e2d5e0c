/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Causes of the unevenness (model.md, section 8): the eye is evaluated with every combination of
 * the five causes, and each cause gets its Shapley value of the mean square deviation (Shapley
 * 1953, "A value for n-person games", Annals of Mathematics Studies 28): the mean of what it adds
 * over all orders in which the causes could be switched on. The values sum to the whole, in no
 * order.
 */
#include <tipcrest/why.h>

#include <math.h>

#include "line/check_data.h"
#include "model/set_data.h"
#include "num/memory.h"

/* One eye being looked into. */
typedef struct inquiry {
    const tcr_check *check;
    tcr_variant variant;
    tcr_line line; /* of the check */
    double mean_height_mm;
    double *scratch;
} inquiry;

/* The causes that are on. */
typedef struct levelling {
    const inquiry *q;
    unsigned on;
} levelling;

static bool is_on(const levelling *c, tcr_cause cause) { return (c->on >> cause & 1u) != 0; }

/* Levels out the causes that are off. */
static void level(const void *context, tcr_changed *one) {
    const levelling *c = context;
    const tcr_variant *v = &c->q->variant;
    const tcr_layer layer = one->lash.layer;
    const double u = one->lash.u, height_mm = one->lash.height_mm;
    if (!is_on(c, TCR_CAUSE_VARIATION)) {
        one->lash = tcr_set_mean_lash_at(v->set, u);
        one->lash.layer = layer;
    }
    one->lash.height_mm = is_on(c, TCR_CAUSE_HEIGHTS) ? height_mm : c->q->mean_height_mm;
    const double mapped = tcr_set_map_length(v->set, v->side, u, layer, false);
    const tcr_layer as = is_on(c, TCR_CAUSE_SHORTENING) ? layer : TCR_BOTTOM;
    const bool smooth = !is_on(c, TCR_CAUSE_ZONES);
    one->worn.length_mm += tcr_set_map_length(v->set, v->side, u, as, smooth) - mapped;
    if (!is_on(c, TCR_CAUSE_PLACEMENT))
        one->worn.placement = TCR_OUTER_SIDE;
}

/*
 * The mean square deviation with some causes on. Root heights, the lowest of the bits, leave the
 * attachments as the combination before had them.
 */
static tcr_status mean_square(const inquiry *q, unsigned on, double *out) {
    const tcr_variant *v = &q->variant;
    const unsigned anew = on >> TCR_CAUSE_HEIGHTS & 1u ? TCR_ANEW_ROOT : TCR_ANEW_ALL;
    tcr_line line = q->line;
    tcr_status status = tcr_variant_evaluate(v, level, &(levelling){q, on}, anew);
    if (status == TCR_OK && q->check->against == TCR_FITTED)
        status = tcr_line_fit(v->x_mm, v->y_mm, v->n, &q->check->line, q->scratch, &line);
    if (status != TCR_OK)
        return status;
    double sum = 0.0;
    for (size_t j = 0; j < v->n; j++) {
        const double deviation = v->y_mm[j] - tcr_line_at(&line, v->x_mm[j]);
        sum += deviation * deviation;
    }
    *out = sum / (double)v->n;
    return TCR_OK;
}

static double factorial(int n) { return n < 2 ? 1.0 : n * factorial(n - 1); }

static int count_bits(unsigned bits) {
    int count = 0;
    for (; bits != 0; bits &= bits - 1)
        count++;
    return count;
}

/*
 * Shapley's value of a player who may be several causes at once (mask), among 'players' players of
 * which every other is one cause: the weight of a combination of s players is s! (players - 1 - s)!
 * / players!.
 */
static tcr_share share_of(const double *value, unsigned mask, int players) {
    const unsigned all = TCR_COMBINATIONS - 1u;
    tcr_share share = {0};
    for (unsigned others = 0; others <= all; others++) {
        if (others & mask)
            continue;
        const int s = count_bits(others);
        const double weight = factorial(s) * factorial(players - 1 - s) / factorial(players);
        share.shapley_mm2 += weight * (value[others | mask] - value[others]);
    }
    share.first_in_mm2 = value[mask] - value[0];
    share.last_out_mm2 = value[all] - value[all & ~mask];
    share.alone_rms_mm = sqrt(value[mask]);
    share.without_rms_mm = sqrt(value[all & ~mask]);
    return share;
}

static double mean_height(const tcr_variant *v) {
    double sum = 0.0;
    for (size_t j = 0; j < v->n; j++)
        sum += tcr_set_get_lash(v->set, v->side, v->index[j])->height_mm;
    return sum / (double)v->n;
}

static tcr_status fill(const inquiry *q, tcr_why *why) {
    for (unsigned causes = 0; causes < TCR_COMBINATIONS; causes++) {
        const tcr_status status = mean_square(q, causes, &why->mean_square_mm2[causes]);
        if (status != TCR_OK)
            return status;
    }
    const double *value = why->mean_square_mm2;
    why->whole_rms_mm = sqrt(value[TCR_COMBINATIONS - 1]);
    why->bare_rms_mm = sqrt(value[0]);
    for (int c = 0; c < TCR_CAUSES; c++)
        why->cause[c] = share_of(value, 1u << c, TCR_CAUSES);
    const unsigned joint = 1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_SHORTENING;
    why->layering = share_of(value, joint, TCR_CAUSES - 1);
    return TCR_OK;
}

tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *out) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (eye == NULL || out == NULL)
        return check == NULL || out == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    const tcr_status line =
        check->against == TCR_FITTED ? eye->fitted_status : eye->intended_status;
    if (line != TCR_OK)
        return line;
    const tcr_checked_eye *of = &check->eye[side];
    inquiry q = {
        .check = check, .variant = of->variant, .mean_height_mm = mean_height(&of->variant)};
    q.line = check->against == TCR_FITTED ? eye->fitted_line : eye->intended_line;
    /* The check's own columns stay as they are: it may be read by other threads. */
    const size_t n = of->variant.n;
    double *block = tcr_resize(&check->allocator, NULL, n, 3 * sizeof *block);
    q.variant.sight = tcr_resize(&check->allocator, NULL, n, sizeof *q.variant.sight);
    tcr_status status = block != NULL && q.variant.sight != NULL ? TCR_OK : TCR_E_MEMORY;
    tcr_why why = {.lashes = n};
    if (status == TCR_OK) {
        q.variant.x_mm = block;
        q.variant.y_mm = block + n;
        q.scratch = block + 2 * n;
        status = fill(&q, &why);
    }
    tcr_release(&check->allocator, q.variant.sight);
    tcr_release(&check->allocator, block);
    if (status == TCR_OK)
        *out = why;
    return status;
}
