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
#include "model/lash_kernel.h"
#include "model/set_data.h"
#include "num/memory.h"

/* One eye being looked into. */
typedef struct inquiry {
    const tcr_check *check;
    const tcr_eye_result *eye;
    tcr_side side;
    tcr_lid_constants lid;
    double mean_height_mm;
    double *x, *y, *scratch; /* one item a lash that carries an extension */
} inquiry;

static bool on(unsigned causes, tcr_cause cause) { return (causes >> cause & 1u) != 0; }

static tcr_lash lash_with(const inquiry *q, size_t i, unsigned causes) {
    const tcr_lash *own = tcr_set_get_lash(q->check->set, q->side, i);
    tcr_lash lash = *own;
    if (!on(causes, TCR_CAUSE_VARIATION)) {
        lash = tcr_set_mean_lash_at(q->check->set, own->u);
        lash.height_mm = own->height_mm;
        lash.layer = own->layer;
    }
    if (!on(causes, TCR_CAUSE_HEIGHTS))
        lash.height_mm = q->mean_height_mm;
    return lash;
}

static tcr_extension extension_with(const inquiry *q, size_t i, const tcr_lash *lash,
                                    unsigned causes) {
    const tcr_set *set = q->check->set;
    tcr_choice choice = q->eye->lash[i].choice;
    const double mapped = tcr_set_map_length(set, q->side, lash->u, lash->layer, false);
    const tcr_layer layer = on(causes, TCR_CAUSE_SHORTENING) ? lash->layer : TCR_BOTTOM;
    const bool smooth = !on(causes, TCR_CAUSE_ZONES);
    choice.length_mm += tcr_set_map_length(set, q->side, lash->u, layer, smooth) - mapped;
    if (!on(causes, TCR_CAUSE_PLACEMENT))
        choice.placement = TCR_OUTER_SIDE;
    return tcr_set_extension(set, &choice);
}

/* The mean square deviation with some causes on. */
static tcr_status mean_square(const inquiry *q, unsigned causes, double *out) {
    const tcr_set *set = q->check->set;
    size_t n = 0;
    for (size_t i = 0; i < q->eye->lashes; i++) {
        if (q->eye->lash[i].bare != TCR_OK)
            continue;
        const tcr_lash lash = lash_with(q, i, causes);
        const tcr_extension ext = extension_with(q, i, &lash, causes);
        tcr_attachment attachment;
        const tcr_status status =
            tcr_attach_kernel(&lash, &ext, tcr_set_get_bond(set), &attachment);
        if (status != TCR_OK)
            return status;
        const tcr_stance stance = tcr_lash_stance_kernel(&lash, &q->lid, q->check->view.opening);
        const tcr_vec2 seen =
            tcr_view_project(&q->check->view, tcr_stance_point_kernel(&stance, attachment.tip));
        q->x[n] = seen.x;
        q->y[n++] = seen.y;
    }
    tcr_line line = q->eye->intended_line;
    if (q->check->against == TCR_FITTED) {
        const tcr_status status = tcr_line_fit(q->x, q->y, n, NULL, q->scratch, &line);
        if (status != TCR_OK)
            return status;
    }
    double sum = 0.0;
    for (size_t j = 0; j < n; j++) {
        const double deviation = q->y[j] - tcr_line_at(&line, q->x[j]);
        sum += deviation * deviation;
    }
    *out = sum / (double)n;
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

static double mean_height(const tcr_check *check, const tcr_eye_result *eye) {
    double sum = 0.0;
    for (size_t i = 0; i < eye->lashes; i++)
        if (eye->lash[i].bare == TCR_OK)
            sum += tcr_set_get_lash(check->set, eye->side, i)->height_mm;
    return sum / (double)eye->extended;
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
    const size_t n = eye->extended;
    double *block = tcr_resize(&check->allocator, NULL, n, 3 * sizeof *block);
    if (block == NULL)
        return TCR_E_MEMORY;
    const inquiry q = {
        .check = check,
        .eye = eye,
        .side = side,
        .lid = tcr_lid_prepare(tcr_set_get_lid(check->set, side)),
        .mean_height_mm = mean_height(check, eye),
        .x = block,
        .y = block + n,
        .scratch = block + 2 * n,
    };
    tcr_why why = {.lashes = n};
    const tcr_status status = fill(&q, &why);
    tcr_release(&check->allocator, block);
    if (status == TCR_OK)
        *out = why;
    return status;
}
