/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Causes of the unevenness (model.md, section 8): the eye is evaluated with every combination of
 * the six causes, and each cause gets its Shapley value of the mean square deviation (Shapley
 * 1953, "A value for n-person games", Annals of Mathematics Studies 28): the mean of what it adds
 * over all orders in which the causes could be switched on. The values sum to the whole, in no
 * order.
 */
#include <tipcrest/why.h>

#include <math.h>
#include <tipcrest/mean.h>

#include "line/cells.h"
#include "line/check_data.h"
#include "line/intended.h"
#include "num/memory.h"

/* A wearing lash, with its length for each way to level its cell: bit 0 for the shortening, bit 1
 * for the zone steps. */
typedef struct wearer {
    tcr_lash mean; /* at its place */
    double length_mm[4];
} wearer;

/* One eye being looked into. */
typedef struct inquiry {
    const tcr_check *check;
    tcr_variant variant;
    tcr_cells cells;
    wearer *wearer;
    tcr_line line; /* of the check */
    double *scratch;
} inquiry;

typedef struct levelling {
    const inquiry *q;
    unsigned on; /* causes */
} levelling;

static bool is_on(unsigned on, tcr_cause cause) { return (on >> cause & 1u) != 0; }

/* Levels out the causes that are off, lash after lash. */
static void level(const void *context, tcr_changed *one) {
    const levelling *c = context;
    const wearer *w = &c->q->wearer[one->j];
    const tcr_own_choice *own = &c->q->cells.own[one->j];
    const tcr_choice worn = one->worn;
    const double height_mm = one->lash.height_mm;
    if (!is_on(c->on, TCR_CAUSE_VARIATION))
        one->lash = w->mean;
    one->lash.height_mm = is_on(c->on, TCR_CAUSE_HEIGHTS) ? height_mm : w->mean.height_mm;
    one->worn = tcr_cells_of(&c->q->cells, one->j)->worn;
    one->worn.moved_out_mm = worn.moved_out_mm;
    one->worn.length_mm =
        w->length_mm[is_on(c->on, TCR_CAUSE_SHORTENING) + 2 * is_on(c->on, TCR_CAUSE_ZONES)];
    if (!is_on(c->on, TCR_CAUSE_PLACEMENT))
        one->worn.placement = TCR_ON_TOP;
    if (!is_on(c->on, TCR_CAUSE_SINGLE))
        return;
    one->worn.length_mm += own->longer_mm;
    tcr_choice_take(&one->worn, &worn, own->differs);
}

/*
 * The mean square deviation with some causes on. Root heights, the lowest of the bits, leave the
 * attachments as the combination before had them.
 */
static tcr_status mean_square(const inquiry *q, unsigned on, double *out) {
    const tcr_variant *v = &q->variant;
    const unsigned anew = is_on(on, TCR_CAUSE_HEIGHTS) ? TCR_ANEW_ROOT : TCR_ANEW_ALL;
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
    why->layering =
        share_of(value, 1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_SHORTENING, TCR_CAUSES - 1);
    why->lengths_along =
        share_of(value, 1u << TCR_CAUSE_ZONES | 1u << TCR_CAUSE_SINGLE, TCR_CAUSES - 1);
    return TCR_OK;
}

static void fill_wearers(const inquiry *q) {
    const tcr_variant *v = &q->variant;
    tcr_mean_lash mean;
    (void)tcr_mean_lash_of(v->set, v->side, &mean); /* the eye is there */
    for (size_t j = 0; j < v->n; j++) {
        q->wearer[j].mean = tcr_mean_lash_at(&mean, tcr_set_lash(v->set, v->side, v->index[j])->u);
        for (int k = 0; k < 4; k++)
            q->wearer[j].length_mm[k] =
                tcr_cells_length(&q->cells, j, (tcr_levels){(k & 1) != 0, (k & 2) != 0});
    }
}

/* Whether the line is one that another eye shares. */
static bool is_shared(const tcr_check *check, tcr_side side) {
    tcr_side sides[TCR_SIDES];
    return check->against == TCR_INTENDED && tcr_intended_sides(check->set, side, sides) > 1;
}

tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *out) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (eye == NULL || out == NULL)
        return check == NULL || out == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    const tcr_status line =
        check->against == TCR_FITTED ? eye->fitted_status : eye->intended_status;
    if (line != TCR_OK)
        return line;
    const tcr_allocator *a = &check->allocator;
    inquiry q = {.check = check, .variant = check->eye[side].variant};
    q.line = check->against == TCR_FITTED ? eye->fitted_line : eye->intended_line;
    /* The check's own columns stay as they are: other threads may read it. */
    const size_t n = q.variant.n;
    double *block = tcr_resize(a, NULL, n, 3 * sizeof *block);
    q.variant.sight = tcr_resize(a, NULL, n, sizeof *q.variant.sight);
    q.wearer = tcr_resize(a, NULL, n, sizeof *q.wearer);
    tcr_status status = tcr_cells_make(&q.variant, a, &q.cells);
    if (block == NULL || q.variant.sight == NULL || q.wearer == NULL)
        status = TCR_E_MEMORY;
    tcr_why why = {.lashes = n};
    if (status == TCR_OK) {
        q.variant.x_mm = block;
        q.variant.y_mm = block + n;
        q.scratch = block + 2 * n;
        fill_wearers(&q);
        status = fill(&q, &why);
        why.eyes_differ_mm2 = is_shared(check, side) ? why.mean_square_mm2[0] : NAN;
    }
    tcr_cells_free(a, &q.cells);
    tcr_release(a, q.wearer);
    tcr_release(a, q.variant.sight);
    tcr_release(a, block);
    if (status == TCR_OK)
        *out = why;
    return status;
}
