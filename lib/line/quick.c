/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The fitted line as fit.c defines it, by few solutions. The basis of every point and the normal
 * equations, which the points share, are worked out once; of the robust line's equations only the
 * points that cross Huber's limit change anything.
 *
 * Plain: one solution and one step of iterative refinement. Refinement leaves of an error about its
 * own square, so that a small step certifies the end.
 *
 * Robust: Newton's steps over the sides of the points, below, within or above Huber's limit, where
 * the objective is quadratic. Undamped they run away on a set in fifty. The gradient that the next
 * step needs anyway tells an overshoot: it points back along the step. Residuals are linear along a
 * step, so that its lowest point is found without another solution. Where no point changes sides,
 * the full gradient from true residuals gives one more step; if that is far below the accuracy
 * promised and no point comes near the limit by it, the line is the minimiser, since the objective
 * is convex. In all other cases the caller goes the careful way.
 */
#include "line/quick.h"

#include <float.h>
#include <math.h>
#include <string.h>

#include "line/basis.h"
#include "num/elementary_kernel.h"
#include "num/order.h"

enum { K = TCR_LINE_COEFFICIENTS, STEPS_MOST = 20, SHARES_MOST = 12 };

static const double REFINED_MM = 1e-8;  /* its square, over mm, is nothing */
static const double CERTAIN_MM = 1e-11; /* a tenth of what is promised */
static const double LEVEL = 0.1;        /* of a promised gain: less does not count */

/* The basis of points: the four functions that are not 0 there, and the number of the first. */
typedef struct columns {
    size_t n;
    double value[TCR_QUICK_MOST][4];
    int first[TCR_QUICK_MOST];
} columns;

TCR_CLONED static void fill(columns *restrict c, const double *restrict x, size_t n, double low,
                            double high) {
    c->n = n;
    for (size_t i = 0; i < n; i++) {
        const tcr_basis b = tcr_basis_at(x[i], low, high);
        c->first[i] = b.first;
        c->value[i][0] = b.value[0];
        c->value[i][1] = b.value[1];
        c->value[i][2] = b.value[2];
        c->value[i][3] = b.value[3];
    }
}

/* The normal equations, matrix and right side, of a line's coefficients. */
typedef struct equations {
    tcr_band matrix;
    double right[K];
} equations;

/* One vector of four. */
TCR_LANE void add_row(double *restrict row, double weight, const double *restrict b) {
    const double b0 = b[0], b1 = b[1], b2 = b[2], b3 = b[3];
    const double sum0 = row[0] + weight * b0, sum1 = row[1] + weight * b1;
    const double sum2 = row[2] + weight * b2, sum3 = row[3] + weight * b3;
    row[0] = sum0;
    row[1] = sum1;
    row[2] = sum2;
    row[3] = sum3;
}

/* The sums over the points of each interval: products of the basis, and those with Y. Whole squares
 * of four, which vectors fill faster than triangles. */
typedef struct sums {
    double product[TCR_LINE_INTERVALS][4][4], with_y[TCR_LINE_INTERVALS][4];
} sums;

TCR_CLONED static void sum_points(sums *restrict s, const columns *restrict c,
                                  const double *restrict y) {
    for (size_t i = 0; i < c->n; i++) {
        const double *b = c->value[i];
        double(*square)[4] = s->product[c->first[i]];
        add_row(square[0], b[0], b);
        add_row(square[1], b[1], b);
        add_row(square[2], b[2], b);
        add_row(square[3], b[3], b);
        add_row(s->with_y[c->first[i]], y[i], b);
    }
}

static void add_sums(const sums *s, equations *e) {
    for (int i = 0; i < TCR_LINE_INTERVALS; i++)
        for (int j = 0; j < 4; j++) {
            for (int k = j; k < 4; k++)
                e->matrix.entry[i + j][k - j] += s->product[i][j][k];
            e->right[i + j] += s->with_y[i][j];
        }
}

/* Adds a point with a weight in the matrix and a pull on the right side. */
static void add_point(equations *e, const columns *c, size_t i, double weight, double pull) {
    const double *b = c->value[i];
    const int first = c->first[i];
    for (int j = 0; j < 4; j++) {
        const double weighed = weight * b[j];
        for (int k = j; k < 4; k++)
            e->matrix.entry[first + j][k - j] += weighed * b[k];
        e->right[first + j] += pull * b[j];
    }
}

/* Y less the line, of every point. */
TCR_CLONED static void residuals(const columns *restrict c, const double *restrict y,
                                 const double *restrict coefficient, double *restrict r) {
    for (size_t i = 0; i < c->n; i++) {
        const double *b = c->value[i], *k = coefficient + c->first[i];
        r[i] = y[i] - ((b[0] * k[0] + b[1] * k[1]) + (b[2] * k[2] + b[3] * k[3]));
    }
}

/* A residual as Huber's gradient takes it. */
static inline double pulled(double r, double limit) { return tcr_less(tcr_more(r, -limit), limit); }

/* Adds Bt psi(r) to a gradient. Two sums in turn, so that a point need not wait for the one before.
 */
TCR_CLONED static void add_pulls(const columns *restrict c, const double *restrict r, double limit,
                                 double *restrict gradient) {
    double sum[2][TCR_LINE_INTERVALS][4] = {{{0.0}}};
    for (size_t i = 0; i < c->n; i++) {
        const double pull = pulled(r[i], limit), *b = c->value[i];
        add_row(sum[i % 2][c->first[i]], pull, b);
    }
    for (int i = 0; i < TCR_LINE_INTERVALS; i++)
        for (int j = 0; j < 4; j++)
            gradient[i + j] += sum[0][i][j] + sum[1][i][j];
}

static double product(const double a[K], const double b[K]) {
    double sum = 0.0;
    for (int j = 0; j < K; j++)
        sum += a[j] * b[j];
    return sum;
}

static double largest(const double step[K]) {
    double most = 0.0;
    for (int j = 0; j < K; j++)
        most = tcr_more(fabs(step[j]), most);
    return most;
}

/* The part of points from 'from' on that has room in columns. */
static size_t fill_part(const tcr_quick_points *p, const tcr_line *line, size_t from, columns *c) {
    const size_t left = p->n - from, n = left < TCR_QUICK_MOST ? left : TCR_QUICK_MOST;
    if (from > 0 || p->n > TCR_QUICK_MOST || c->n != p->n)
        fill(c, p->x + from, n, line->x_min_mm, line->x_max_mm);
    return n;
}

/* The plain line; equations and columns stay, and residuals too where all have room in columns. */
static bool plain(const tcr_quick_points *p, equations *e, columns *c, double *r, tcr_line *line) {
    double *coefficient = line->coefficient_mm, step[K] = {0.0};
    sums s = {{{{0.0}}}, {{0.0}}};
    memset(e, 0, sizeof *e);
    e->matrix.n = K;
    c->n = 0;
    for (size_t from = 0; from < p->n; from += TCR_QUICK_MOST) {
        fill_part(p, line, from, c);
        sum_points(&s, c, p->y + from);
    }
    add_sums(&s, e);
    tcr_penalty_matrix(p->lambda, &e->matrix);
    tcr_band factor = e->matrix;
    if (!tcr_band_factor(&factor))
        return false;
    memcpy(coefficient, e->right, sizeof e->right);
    tcr_band_solve(&factor, coefficient);
    for (size_t from = 0; from < p->n; from += TCR_QUICK_MOST) {
        fill_part(p, line, from, c);
        residuals(c, p->y + from, coefficient, r);
        add_pulls(c, r, INFINITY, step);
    }
    tcr_penalty_gradient(p->lambda, coefficient, step);
    tcr_band_solve(&factor, step);
    for (int j = 0; j < K; j++)
        coefficient[j] += step[j];
    return largest(step) <= REFINED_MM;
}

bool tcr_quick_plain(const tcr_quick_points *p, tcr_line *line) {
    equations e;
    columns c;
    double r[TCR_QUICK_MOST];
    return plain(p, &e, &c, r, line);
}

/* A robust line on its way. */
typedef struct robust {
    const tcr_quick_points *points;
    columns columns;
    equations now; /* with the points within the limit, and the pulls of the others */
    double limit;
    double *coefficient;
    double r[TCR_QUICK_MOST], before[TCR_QUICK_MOST]; /* residuals, and those before the step */
    int side[TCR_QUICK_MOST];                         /* that 'now' is made for */
} robust;

/* Takes over the points that have changed sides; whether any has. */
static bool change_sides(robust *q) {
    bool changed = false;
    for (size_t i = 0; i < q->columns.n; i++) {
        const int side = (q->r[i] > q->limit) - (q->r[i] < -q->limit), old = q->side[i];
        if (side == old)
            continue;
        const double y = q->points->y[i];
        const double pull = (side != 0 ? side * q->limit : y) - (old != 0 ? old * q->limit : y);
        add_point(&q->now, &q->columns, i, (double)((side == 0) - (old == 0)), pull);
        q->side[i] = side;
        changed = true;
    }
    return changed;
}

/* Half the downhill gradient by the equations of the points' sides, the penalty included. */
static void gradient_by_sides(const robust *q, double gradient[K]) {
    double g[K + TCR_BAND_WIDTH] = {0.0}, c[K + TCR_BAND_WIDTH] = {0.0};
    memcpy(c, q->coefficient, K * sizeof *c);
    memcpy(g, q->now.right, K * sizeof *g);
    for (int j = 0; j < K; j++) {
        const double *m = q->now.matrix.entry[j];
        g[j] -= m[0] * c[j] + m[1] * c[j + 1] + m[2] * c[j + 2] + m[3] * c[j + 3];
        for (int k = 1; k <= TCR_BAND_WIDTH; k++)
            g[j + k] -= m[k] * c[j];
    }
    memcpy(gradient, g, K * sizeof *g);
}

/* Half of how steeply the objective falls at a share of the step, from which the coefficients come.
 */
static double fall_at(const robust *q, const double step[K], const double start[K], double share) {
    double fall = 0.0;
    for (size_t i = 0; i < q->columns.n; i++) {
        const double by = q->before[i] - q->r[i];
        fall += by * pulled(q->before[i] - share * by, q->limit);
    }
    double c[K], gradient[K] = {0.0};
    for (int j = 0; j < K; j++)
        c[j] = start[j] + share * step[j];
    tcr_penalty_gradient(q->points->lambda, c, gradient);
    return fall + product(gradient, step);
}

/* The share of a step, between none and all of it, where the objective is about lowest: by the
 * secant, with the side that stays halved (Dowell & Jarratt 1971). */
static double lowest_on(const robust *q, const double step[K], const double start[K], double gain,
                        double slope) {
    double low = 0.0, high = 1.0, at_low = gain, at_high = slope, share = 1.0;
    for (int i = 0, kept = 0; i < SHARES_MOST; i++) {
        share = low + (high - low) * at_low / (at_low - at_high);
        const double fall = fall_at(q, step, start, share);
        if (fabs(fall) <= LEVEL * gain)
            break;
        if (fall > 0.0) {
            low = share;
            at_low = fall;
            at_high = kept > 0 ? at_high / 2.0 : at_high;
            kept = 1;
        } else {
            high = share;
            at_high = fall;
            at_low = kept < 0 ? at_low / 2.0 : at_low;
            kept = -1;
        }
    }
    return share;
}

/* Moves the coefficients to a share of the step, and the residuals and sides with them. */
static bool move_to(robust *q, const double step[K], const double start[K], double share) {
    for (int j = 0; j < K; j++)
        q->coefficient[j] = start[j] + share * step[j];
    residuals(&q->columns, q->points->y, q->coefficient, q->r);
    return change_sides(q);
}

/* The last step, by the full gradient; false where it does not certify the line. */
static bool certify(robust *q, const tcr_band *factor) {
    double step[K] = {0.0}, margin = INFINITY;
    add_pulls(&q->columns, q->r, q->limit, step);
    tcr_penalty_gradient(q->points->lambda, q->coefficient, step);
    tcr_band_solve(factor, step);
    for (size_t i = 0; i < q->columns.n; i++)
        margin = tcr_less(fabs(fabs(q->r[i]) - q->limit), margin);
    const double size = largest(step);
    for (int j = 0; j < K; j++)
        q->coefficient[j] += step[j];
    return size <= CERTAIN_MM && size < margin; /* false for NaN */
}

/* Newton's steps from the plain line on. */
static bool minimise(robust *q) {
    (void)change_sides(q);
    for (int i = 0; i < STEPS_MOST; i++) {
        double step[K], gradient[K], start[K];
        tcr_band factor = q->now.matrix;
        if (!tcr_band_factor(&factor))
            return false;
        gradient_by_sides(q, gradient);
        memcpy(step, gradient, sizeof step);
        tcr_band_solve(&factor, step);
        memcpy(start, q->coefficient, sizeof start);
        memcpy(q->before, q->r, q->columns.n * sizeof *q->r);
        if (!move_to(q, step, start, 1.0))
            return certify(q, &factor);
        const double gain = product(gradient, step);
        gradient_by_sides(q, gradient);
        const double slope = product(gradient, step);
        if (slope < -LEVEL * gain)
            (void)move_to(q, step, start, lowest_on(q, step, start, gain, slope));
    }
    return false;
}

bool tcr_quick_robust(const tcr_quick_points *p, double huber, double sigma_floor_mm,
                      double *scratch, tcr_line *line) {
    robust q; /* its columns are not cleared: they are long */
    q.points = p;
    q.coefficient = line->coefficient_mm;
    memset(q.side, 0, p->n * sizeof *q.side);
    if (!plain(p, &q.now, &q.columns, q.r, line))
        return false;
    residuals(&q.columns, p->y, q.coefficient, q.r);
    for (size_t i = 0; i < p->n; i++)
        scratch[i] = fabs(q.r[i]);
    line->sigma_mm = tcr_more(TCR_MAD_TO_SIGMA * tcr_median(scratch, p->n), sigma_floor_mm);
    q.limit = huber * line->sigma_mm;
    return minimise(&q);
}
