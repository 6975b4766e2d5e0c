/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What to do about a staggered lash: the length that brings it nearest the line, everything else
 * kept. The search goes along the tray from the present length to a length with no nearer
 * neighbour, mostly where the tip crosses the line: few sizes are wanted. If the lash is staggered
 * there too, every length is tried: tips of curls that turn back may come nearer again further off.
 */
#include "line/check_data.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>

#include "model/field_table.h"
#include "model/set_data.h"
#include "num/root.h"

/* Gains below this are rounding, not a reason to change a length. */
static const double GAIN_LEAST_MM = 1e-9;

/* A lash whose length is looked for. */
typedef struct question {
    const tcr_variant *v;
    size_t j;
    const tcr_line *line;
    tcr_stance stance;
    tcr_bond bond;
    tcr_bond_bed bed; /* of the bond that was tried last; 0 mm long at first */
    uint64_t tried;   /* bit i: the tray's length i */
} question;

static_assert(TCR_TRAY_MAX <= 64, "a bit for each length of a tray");

/* How far off the line the tip is at a length; NaN where it cannot be bonded. */
static double deviation_at(double length_mm, void *context) {
    question *q = context;
    const tcr_variant *v = q->v;
    tcr_choice worn = v->worn[q->j];
    worn.length_mm = length_mm;
    const tcr_lash *lash = tcr_set_lash(v->set, v->side, v->index[q->j]);
    const tcr_extension ext = tcr_set_extension(v->set, &worn);
    tcr_kept_fibre fibre = {.known = false};
    tcr_vec2 seen;
    if (tcr_evaluate_on(&v->at, lash, &ext, &q->bond, &q->stance, &q->bed, &fibre, &seen) != TCR_OK)
        return NAN;
    return seen.y - tcr_line_at(q->line, seen.x);
}

/* Steps of the tray from one length to another, negative to a shorter one. */
static int tray_steps(const tcr_tray *tray, double from, double to) {
    int steps = 0;
    for (size_t i = 0; i < tray->count; i++) {
        const double length = tray->length_mm[i];
        if (length >= to - GAIN_LEAST_MM && length < from - GAIN_LEAST_MM)
            steps--;
        if (length <= to + GAIN_LEAST_MM && length > from + GAIN_LEAST_MM)
            steps++;
    }
    return steps;
}

/* Keeps a length where it comes nearer than the best so far. */
static bool consider(tcr_remedy *best, double length_mm, double deviation_mm) {
    if (!(fabs(deviation_mm) < fabs(best->deviation_mm) - GAIN_LEAST_MM))
        return false;
    best->length_mm = length_mm;
    best->deviation_mm = deviation_mm;
    return true;
}

static bool try_length(question *q, double length_mm, tcr_remedy *best) {
    return consider(best, length_mm, deviation_at(length_mm, q));
}

/* Tries a length of the tray, unless it was tried before; whether it came nearer. */
static bool try_index(question *q, const tcr_tray *tray, size_t i, tcr_remedy *best) {
    const bool tried = (q->tried >> i & 1u) != 0;
    q->tried |= UINT64_C(1) << i;
    return !tried && try_length(q, tray->length_mm[i], best);
}

/* Goes along the tray from index i while each length comes nearer. */
static void walk(question *q, const tcr_tray *tray, size_t i, int direction, tcr_remedy *best) {
    for (size_t k = i + (size_t)direction; k < tray->count && try_index(q, tray, k, best);
         k += (size_t)direction)
        ;
}

/*
 * Towards where the tip crosses the line, by secants: each guess is the length of the tray nearest
 * to where the straight line through the last two heights meets it. slope, how far a tip rises for
 * a millimetre of length, is that of the lash before; here and there it is found anew.
 */
static void search(question *q, const tcr_tray *tray, double *slope, tcr_remedy *best) {
    enum { GUESSES = 3 };
    static const double SLOPE_LEAST = 0.05;
    const double present = best->length_mm;
    double at = present, off = best->deviation_mm;
    size_t last = tray->count;
    const size_t own = tcr_tray_index(tray, present);
    if (fabs(tray->length_mm[own] - present) <= GAIN_LEAST_MM)
        q->tried |= UINT64_C(1) << own;
    for (int i = 0; i < GUESSES; i++) {
        size_t guess = tcr_tray_index(tray, at - off / *slope);
        if (fabs(tray->length_mm[guess] - present) <= GAIN_LEAST_MM)
            guess += off / *slope > 0.0 ? (size_t)-1 : 1;
        if (guess >= tray->count || guess == last)
            break;
        const double length = tray->length_mm[guess], deviation = deviation_at(length, q);
        q->tried |= UINT64_C(1) << guess;
        consider(best, length, deviation);
        const double rise = (deviation - off) / (length - at);
        if (fabs(rise) > SLOPE_LEAST && isfinite(rise))
            *slope = rise;
        at = length;
        off = deviation;
        last = guess;
        if (!isfinite(deviation))
            break;
    }
    if (last >= tray->count)
        return;
    double nearest;
    do { /* until neither neighbour comes nearer */
        nearest = best->length_mm;
        const size_t i = tcr_tray_index(tray, nearest);
        walk(q, tray, i, 1, best);
        walk(q, tray, i, -1, best);
    } while (best->length_mm != nearest);
}

/* Without a tray any length is at hand: the one that puts the tip on the line, or else the one that
 * brings it nearest. */
static void solve(question *q, tcr_remedy *best) {
    const tcr_span span = {TCR_EXTENSION_LENGTH_RANGE, 0.25};
    double length;
    if (tcr_root_outward(deviation_at, q, best->length_mm, span, &length)) {
        (void)try_length(q, length, best);
        return;
    }
    for (int i = 0; span.low + i * span.step <= span.high; i++)
        (void)try_length(q, span.low + i * span.step, best);
    double step = span.step;
    for (int i = 0; i < 21; i++) { /* down to a ten millionth of a millimetre */
        step /= 2.0;
        const double at = best->length_mm;
        (void)try_length(q, fmax(at - step, span.low), best);
        (void)try_length(q, fmin(at + step, span.high), best);
    }
}

tcr_remedy tcr_check_remedy(const tcr_checked_eye *eye, size_t j, const tcr_lash_result *result,
                            const tcr_line *line, double tolerance_mm, double *slope) {
    const tcr_variant *v = &eye->variant;
    tcr_tray room;
    const tcr_tray *tray = tcr_set_tray_for(v->set, &v->worn[j], &room);
    const double present = result->choice.length_mm;
    question q = {.v = v, .j = j, .line = line, .stance = result->stance};
    q.bond = tcr_set_bond_of(v->set, &v->worn[j]);
    tcr_remedy best = {.length_mm = present,
                       .deviation_mm = result->seen.y - tcr_line_at(line, result->seen.x)};
    if (tray == NULL) /* nothing of its curl and diameter is at hand */
        return best;
    if (tray->count == 0) {
        solve(&q, &best);
        return best;
    }
    search(&q, tray, slope, &best);
    const bool all = fabs(best.deviation_mm) > tolerance_mm;
    for (size_t i = 0; i < tray->count && all; i++)
        (void)try_index(&q, tray, i, &best);
    best.sizes = tray_steps(tray, present, best.length_mm);
    return best;
}
