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
#include <tipcrest/field.h>
#include <tipcrest/mean.h>

#include "line/cells.h"
#include "line/check_data.h"
#include "line/intended.h"
#include "model/set_data.h"
#include "num/memory.h"

/* The ways in which a cell's length is levelled: bit 0 for the shortening, bit 1 for the zone
 * steps. Beside them the length by the rule. */
enum { EQUAL = 2, AS_WORN = 3, RULED = 4, LENGTHS = 5 };

static const double PUPIL_U = 0.5, RULE_STEP_MM = 1.0 /* common practice */, SAME_MM = 1e-9;

/* A wearing lash, with the length of its cell in each way. */
typedef struct wearer {
    tcr_lash mean; /* at its place */
    double length_mm[LENGTHS];
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
    int lengths; /* a way to level them */
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
    one->worn.length_mm = w->length_mm[c->lengths];
    if (!is_on(c->on, TCR_CAUSE_PLACEMENT))
        one->worn.placement = TCR_ON_TOP;
    if (!is_on(c->on, TCR_CAUSE_SINGLE))
        return;
    one->worn.length_mm += own->longer_mm;
    tcr_choice_take(&one->worn, &worn, own->differs);
}

/* The mean square deviation with some causes on and the cells' lengths in one of the ways. */
static tcr_status mean_square_of(const inquiry *q, unsigned on, int lengths, unsigned anew,
                                 double *out) {
    const tcr_variant *v = &q->variant;
    tcr_line line = q->line;
    tcr_status status = tcr_variant_evaluate(v, level, &(levelling){q, on, lengths}, anew);
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

/* Root heights, the lowest of the bits, leave the attachments as the combination before had them.
 */
static tcr_status mean_square(const inquiry *q, unsigned on, double *out) {
    const unsigned anew = is_on(on, TCR_CAUSE_HEIGHTS) ? TCR_ANEW_ROOT : TCR_ANEW_ALL;
    const int lengths = is_on(on, TCR_CAUSE_SHORTENING) + 2 * is_on(on, TCR_CAUSE_ZONES);
    return mean_square_of(q, on, lengths, anew, out);
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

static const tcr_lash *lash_of(const inquiry *q, size_t j) {
    return tcr_set_lash(q->variant.set, q->variant.side, q->variant.index[j]);
}

static double rule_step_mm(const inquiry *q) {
    const double step_mm = tcr_set_layering(q->variant.set)->step_mm;
    return step_mm > 0.0 ? step_mm : RULE_STEP_MM;
}

static void fill_wearers(const inquiry *q) {
    const tcr_variant *v = &q->variant;
    tcr_mean_lash mean;
    (void)tcr_mean_lash_of(v->set, v->side, &mean); /* the eye is there */
    for (size_t j = 0; j < v->n; j++) {
        const tcr_lash *lash = lash_of(q, j);
        wearer *w = &q->wearer[j];
        w->mean = tcr_mean_lash_at(&mean, lash->u);
        for (int k = 0; k <= AS_WORN; k++)
            w->length_mm[k] =
                tcr_cells_length(&q->cells, j, (tcr_levels){(k & 1) != 0, (k & 2) != 0});
        w->length_mm[RULED] = w->length_mm[EQUAL] - rule_step_mm(q) * (double)lash->layer;
    }
}

/* ---- The layers ------------------------------------------------------------------------------ */

/* Whether every wearing lash's cell has the same length in two ways. */
static bool are_same(const inquiry *q, int one, int other) {
    for (size_t j = 0; j < q->variant.n; j++)
        if (fabs(q->wearer[j].length_mm[one] - q->wearer[j].length_mm[other]) > SAME_MM)
            return false;
    return true;
}

static bool can_wear(double length_mm) {
    return length_mm >= tcr_field_find(TCR_GROUP_EXTENSION, "length_mm")->file.least;
}

/* Mean root heights by layer; returns how many layers wear extensions. */
static int mean_heights(const inquiry *q, double height_mm[TCR_LAYERS]) {
    int layers = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        double sum = 0.0;
        size_t count = 0;
        for (size_t j = 0; j < q->variant.n; j++) {
            if ((int)lash_of(q, j)->layer != layer)
                continue;
            sum += lash_of(q, j)->height_mm;
            count++;
        }
        height_mm[layer] = count > 0 ? sum / (double)count : NAN;
        layers += count > 0;
    }
    return layers;
}

/* How far the mean lash's tip rises with a higher root and a shorter extension. */
static void move_tip(const inquiry *q, tcr_why_layers *layers) {
    const tcr_variant *v = &q->variant;
    tcr_mean_lash mean;
    (void)tcr_mean_lash_of(v->set, v->side, &mean);
    tcr_lash lash = tcr_mean_lash_at(&mean, PUPIL_U);
    tcr_choice worn = tcr_cells_choice_at(&q->cells, PUPIL_U, TCR_BOTTOM);
    tcr_sight sight;
    layers->tip_by_height_mm = layers->tip_by_shorter_mm = NAN;
    if (tcr_evaluate_worn(&v->at, v->set, &lash, &worn, TCR_ANEW_ALL, &sight) != TCR_OK)
        return;
    const double level_mm = sight.seen.y;
    worn.length_mm -= 1.0;
    if (can_wear(worn.length_mm) &&
        tcr_evaluate_worn(&v->at, v->set, &lash, &worn, TCR_ANEW_ALL, &sight) == TCR_OK)
        layers->tip_by_shorter_mm = sight.seen.y - level_mm;
    worn.length_mm += 1.0;
    lash.height_mm += 1.0;
    (void)tcr_evaluate_worn(&v->at, v->set, &lash, &worn, TCR_ANEW_ALL, &sight);
    layers->tip_by_height_mm = sight.seen.y - level_mm;
}

/* How many lashes would wear by the rule what the tray lacks. */
static size_t count_lacking(const inquiry *q) {
    size_t lacking = 0;
    for (size_t j = 0; j < q->variant.n; j++) {
        tcr_choice worn = q->variant.worn[j];
        worn.length_mm = q->wearer[j].length_mm[RULED] + q->cells.own[j].longer_mm;
        lacking += tcr_set_take_length(q->variant.set, &worn) != TCR_OK;
    }
    return lacking;
}

/* The rms by the rule; NaN where the rule has none. */
static tcr_status fill_ruled(const inquiry *q, tcr_why_layers *layers) {
    for (size_t j = 0; j < q->variant.n; j++)
        if (!can_wear(q->wearer[j].length_mm[RULED] + q->cells.own[j].longer_mm))
            return TCR_OK;
    double value;
    const tcr_status status = mean_square_of(q, TCR_COMBINATIONS - 1u, RULED, TCR_ANEW_ALL, &value);
    if (status == TCR_OK) {
        layers->ruled_rms_mm = sqrt(value);
        layers->ruled_lacking = count_lacking(q);
    }
    return status == TCR_E_BOND || status == TCR_E_ONE_X ? TCR_OK : status;
}

static tcr_status fill_layers(const inquiry *q, tcr_why *why) {
    tcr_why_layers *layers = &why->layers;
    const int count = mean_heights(q, layers->height_mm);
    layers->worn = tcr_cells_worn_by_rows(&q->cells);
    layers->step_mm = rule_step_mm(q);
    layers->equal_rms_mm = why->cause[TCR_CAUSE_SHORTENING].without_rms_mm;
    layers->ruled_rms_mm = NAN;
    layers->lengths = count == 1                    ? TCR_LENGTHS_ONE_LAYER
                      : are_same(q, AS_WORN, EQUAL) ? TCR_LENGTHS_EQUAL
                      : are_same(q, AS_WORN, RULED) ? TCR_LENGTHS_RULED
                                                    : TCR_LENGTHS_OTHER;
    move_tip(q, layers);
    return isnan(layers->height_mm[TCR_BOTTOM]) ? TCR_OK : fill_ruled(q, layers);
}

bool tcr_cause_can_change(tcr_cause cause) {
    return cause == TCR_CAUSE_SHORTENING || cause == TCR_CAUSE_PLACEMENT ||
           cause == TCR_CAUSE_ZONES || cause == TCR_CAUSE_SINGLE;
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
        if (status == TCR_OK)
            status = fill_layers(&q, &why);
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
