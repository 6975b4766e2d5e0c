/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The fitted line: the minimiser of sum h(Y - Bc) + lambda |Dc|^2 (model.md, section 6; Eilers &
 * Marx 1996, Statistical Science 11:89; Huber 1964, 10.1214/aoms/1177703732).
 *
 * The objective is convex and piecewise quadratic, so Newton's method on it ends exactly once it
 * has found which points lie beyond Huber's limit. Every step is solved from residuals of the line
 * itself, not from stored right sides, so that each is also a step of iterative refinement and the
 * condition of the normal equations does not reach the answer. Where the points within the limit do
 * not determine a line, those beyond it weigh a little; such a step goes far, and one that gains
 * little goes too far: both are followed to the lowest point on their way. The end is where a step
 * is nothing, or where all it would gain is the rounding of the residuals. Where that does not end,
 * Huber's limit comes down from the largest residual by halves, each from the line before.
 */
#include <tipcrest/line.h>

#include <float.h>
#include <math.h>
#include <string.h>

#include "line/basis.h"
#include "line/fit.h"
#include "line/quick.h"
#include "num/band.h"
#include "num/error.h"
#include "num/options.h"
#include "num/order.h"
#include "num/range.h"
#include "num/root.h"

enum { K = TCR_LINE_COEFFICIENTS, STEPS_MAX = 500, STEPS_USUAL = 40 };

static const double ONE_X_MM = 1e-9; /* points closer than this stand above one place */
static const double FAR_MM = 1e6;    /* beyond any picture of an eye; keeps squares finite */
static const double DONE_MM = 1e-12; /* a step below this is the end */
static const double GOOD_MM = 1e-10; /* the accuracy promised */
static const double LEVEL = 0.1;     /* of a promised gain: less does not count */
/* Weights of a point just beyond Huber's limit, in turn: with one alone, steps may go to and fro in
 * a shallow valley for ever. */
static const double DAMPING[] = {1e-9, 1e-12, 1e-6, 1e-14};
static const double SHARE_MOST = 0x1p60; /* of a step, that is followed at most */
static const double NO_LIMIT = INFINITY; /* Huber's limit of a plain fit */

/* A problem to be solved: points, penalty, Huber's limit. */
typedef struct problem {
    const double *x, *y;
    size_t n;
    double y_most; /* the largest |y| */
    double lambda;
    double limit;
} problem;

void tcr_line_options_init(tcr_line_options *options, size_t size) {
    static const tcr_line_options DEFAULTS = {
        .robust = true,
        .penalty = 1e-4,
        .huber = 1.345,
        .sigma_floor_mm = 0.1,
    };
    tcr_options_init(options, size, &DEFAULTS, sizeof DEFAULTS);
}

static tcr_basis basis_at(const tcr_line *line, double x) {
    return tcr_basis_at(x, line->x_min_mm, line->x_max_mm);
}

/* How much a point weighs in the matrix of a step: 1 up to 'inside' times Huber's limit, and
 * 'beyond' times limit/|r| from there on. */
typedef struct weighing {
    double inside, beyond;
} weighing;

static const weighing NEWTON = {1.0, 0.0};
/* Huber's weights: such a step is short, but it always goes down. */
static const weighing REWEIGHED = {1.0, 1.0};
/* Where the lowest point on the way of a step is where a point meets the limit, it may come to rest
 * a rounding beyond it, and Newton's matrix knows nothing of it. */
static const weighing AT_LIMIT = {1.0 + 1e-9, 0.0};

/*
 * Half the downhill gradient at a line, Bt psi(r) - lambda DtD c, and the matrix of the step.
 * Beyond the limit a point weighs nothing in Newton's matrix, or what 'by' says.
 */
static void assemble(const problem *p, const tcr_line *line, weighing by, tcr_band *matrix,
                     double *gradient) {
    memset(matrix, 0, sizeof *matrix);
    matrix->n = K;
    memset(gradient, 0, K * sizeof *gradient);
    for (size_t i = 0; i < p->n; i++) {
        const tcr_basis b = basis_at(line, p->x[i]);
        const double r = p->y[i] - tcr_basis_sum(&b, line->coefficient_mm);
        const double size = fabs(r);
        const double pull = size <= p->limit ? r : copysign(p->limit, r);
        const double weight = size <= p->limit * by.inside ? 1.0 : by.beyond * p->limit / size;
        for (int j = 0; j < 4; j++) {
            gradient[b.first + j] += b.value[j] * pull;
            for (int k = j; k < 4; k++)
                matrix->entry[b.first + j][k - j] += weight * b.value[j] * b.value[k];
        }
    }
    tcr_penalty_matrix(p->lambda, matrix);
    tcr_penalty_gradient(p->lambda, line->coefficient_mm, gradient);
}

/* A change of the coefficients that lowers a quadratic, and by how much. */
typedef struct step {
    double by[K];
    double gain;
    bool damped;
} step;

/* The weights of damped step i. */
static weighing damped(int i) {
    return (weighing){1.0, DAMPING[(size_t)i % (sizeof DAMPING / sizeof *DAMPING)]};
}

/* The step from a line with these weights; false where its matrix is singular. */
static bool step_by(const problem *p, const tcr_line *line, weighing by, step *s) {
    tcr_band matrix;
    double gradient[K];
    assemble(p, line, by, &matrix, gradient);
    if (!tcr_band_factor(&matrix))
        return false;
    memcpy(s->by, gradient, sizeof gradient);
    tcr_band_solve(&matrix, s->by);
    s->gain = 0.0;
    for (int j = 0; j < K; j++)
        s->gain += gradient[j] * s->by[j];
    s->damped = by.beyond > 0.0;
    return true;
}

static tcr_line moved(const tcr_line *line, const step *s, double share) {
    tcr_line next = *line;
    for (int j = 0; j < K; j++)
        next.coefficient_mm[j] += share * s->by[j];
    return next;
}

/* The way from a line along a step. */
typedef struct way {
    const problem *p;
    const tcr_line *line;
    const step *step;
} way;

/* Half of how steeply the objective falls at a share of a step; it never gets steeper. */
static double fall_at(double share, void *context) {
    const way *w = context;
    const tcr_line next = moved(w->line, w->step, share);
    const double *c = next.coefficient_mm, *by = w->step->by;
    double fall = 0.0;
    for (size_t i = 0; i < w->p->n; i++) {
        const tcr_basis b = basis_at(&next, w->p->x[i]);
        const double r = w->p->y[i] - tcr_basis_sum(&b, c);
        fall += tcr_basis_sum(&b, by) * fmax(fmin(r, w->p->limit), -w->p->limit);
    }
    for (int i = 0; i + 2 < K; i++)
        fall -= w->p->lambda * (c[i] - 2.0 * c[i + 1] + c[i + 2]) *
                (by[i] - 2.0 * by[i + 1] + by[i + 2]);
    return fall;
}

/* The share of a step at which the objective is lowest, which falls at its whole by 'fall'. */
static double lowest_on(way *w, double fall) {
    double from = 0.0, to = 1.0, share = 1.0;
    while (fall > 0.0 && to < SHARE_MOST) {
        from = to;
        to *= 2.0;
        fall = fall_at(to, w);
    }
    return tcr_root(fall_at, w, from, to, &share) ? share : 1.0;
}

static double largest(const step *s) {
    double most = 0.0;
    for (int j = 0; j < K; j++)
        most = fmax(most, fabs(s->by[j]));
    return most;
}

/* -1, 0 or 1: beyond Huber's limit below the line, within it, or beyond it above. */
static int side_of(double r, double limit) { return r > limit ? 1 : r < -limit ? -1 : 0; }

/*
 * Whether every point stays on its side of Huber's limit on the whole way of a step. The objective
 * is then quadratic all along, and Newton's step ends at its lowest point.
 */
static bool keeps_sides(const problem *p, const tcr_line *line, const step *s) {
    for (size_t i = 0; i < p->n; i++) {
        const tcr_basis b = basis_at(line, p->x[i]);
        const double before = p->y[i] - tcr_basis_sum(&b, line->coefficient_mm);
        const double after = before - tcr_basis_sum(&b, s->by);
        if (side_of(before, p->limit) != side_of(after, p->limit))
            return false;
    }
    return true;
}

/*
 * Follows a step; how far it went, mm of a coefficient. Newton's is followed as it is where it
 * gains enough, any other to the lowest point on its way: two tips above one place, far off on
 * either side of the line, pull it equally wherever it runs between them, and steps could go to and
 * fro across that range for ever. What is gained is told from how the objective falls, which only
 * gets less on the way, and not from its value, in which what is gained near the end is lost to
 * rounding.
 */
static double follow(const problem *p, tcr_line *line, const step *s) {
    way w = {p, line, s};
    double share = 1.0;
    if (!s->damped && (p->limit == NO_LIMIT || keeps_sides(p, line, s))) {
        *line = moved(line, s, share);
        return largest(s);
    }
    const double fall = fall_at(share, &w), level = LEVEL * s->gain;
    const bool enough = fabs(fall) <= level && fall_at(0.5, &w) >= 2.0 * level;
    if (s->damped ? fabs(fall) > level : fall < -level || !enough)
        share = lowest_on(&w, fall);
    *line = moved(line, s, share);
    return share * largest(s);
}

/*
 * Whether what a step would gain is the rounding of the residuals it was made from. It is where the
 * line is the minimiser as far as doubles tell, and all over a range of lines that are minimisers
 * alike, as tips leave it that pull against each other; steps would wander about in that for ever.
 * Late, the rounding of the gradient's sums counts too: crowded tips and a light penalty leave
 * coefficients to it that no tip shows.
 */
static bool is_rounding(const problem *p, const tcr_line *line, const step *s, bool late) {
    double rounding = 0.0, most = p->limit < NO_LIMIT ? fmax(p->limit, p->y_most) : p->y_most;
    for (int j = 0; j < K; j++)
        most = fmax(most, p->y_most + fabs(line->coefficient_mm[j]));
    if (s->gain > (late ? 8.0 : 4.0) * DBL_EPSILON * (double)p->n * most * largest(s))
        return false; /* far from it: no need to go through the points */
    for (size_t i = 0; i < p->n; i++) {
        const tcr_basis b = basis_at(line, p->x[i]);
        const double *c = &line->coefficient_mm[b.first];
        const double r = p->y[i] - tcr_basis_sum(&b, line->coefficient_mm);
        double size = p->limit;
        if (fabs(r) <= p->limit)
            size = fabs(p->y[i]) + fmax(fmax(fabs(c[0]), fabs(c[1])), fmax(fabs(c[2]), fabs(c[3])));
        rounding += size * fabs(tcr_basis_sum(&b, s->by));
        for (int j = 0; late && j < 4; j++)
            rounding += fmin(fabs(r), p->limit) * b.value[j] * fabs(s->by[b.first + j]);
    }
    return s->gain <= 4.0 * DBL_EPSILON * rounding;
}

/*
 * Goes on where Newton's step leads nowhere; whether there was anywhere to go. 'done' becomes true
 * where with the points that lie at the limit the line is the minimiser.
 */
static bool go_round(const problem *p, tcr_line *line, int i, bool *done) {
    step s;
    if (step_by(p, line, AT_LIMIT, &s)) {
        *done = largest(&s) <= DONE_MM;
        if (*done || follow(p, line, &s) > DONE_MM)
            return true;
    }
    if (step_by(p, line, damped(i), &s) && follow(p, line, &s) > 0.0)
        return true;
    return step_by(p, line, REWEIGHED, &s) && follow(p, line, &s) > 0.0;
}

/* Minimises from the line's coefficients on. */
static tcr_status minimise(const problem *p, tcr_line *line) {
    double before = INFINITY;
    bool done = false;
    for (int i = 0; i < STEPS_MAX && !done; i++) {
        step s;
        if (!step_by(p, line, NEWTON, &s) && !step_by(p, line, damped(i), &s) &&
            !step_by(p, line, REWEIGHED, &s))
            return TCR_E_NO_CONVERGENCE;
        const double size = largest(&s);
        /* A step that no longer shrinks is rounding. */
        done = size <= DONE_MM || (size <= GOOD_MM && size >= before / 2.0) ||
               is_rounding(p, line, &s, i >= STEPS_USUAL);
        before = size;
        if (!done && !(follow(p, line, &s) > DONE_MM) && !go_round(p, line, i, &done))
            return size <= GOOD_MM ? TCR_OK : TCR_E_NO_CONVERGENCE;
    }
    return done ? TCR_OK : TCR_E_NO_CONVERGENCE;
}

/* Minimises from a plain line on, with Huber's limit that comes down to its own by halves. */
static tcr_status minimise_by_halves(problem p, tcr_line *line) {
    const double limit = p.limit;
    double most = 0.0;
    for (size_t i = 0; i < p.n; i++) {
        const tcr_basis b = basis_at(line, p.x[i]);
        most = fmax(most, fabs(p.y[i] - tcr_basis_sum(&b, line->coefficient_mm)));
    }
    for (p.limit = most / 2.0; p.limit > limit; p.limit /= 2.0)
        (void)minimise(&p, line); /* however near it came, the next begins there */
    p.limit = limit;
    return minimise(&p, line);
}

static tcr_status check_points(const double *x, const double *y, size_t n, tcr_line *line,
                               double *y_most) {
    if (n < 3)
        return TCR_E_FEW;
    double low = x[0], high = x[0], least = y[0], most = y[0];
    for (size_t i = 0; i < n; i++) {
        if (!tcr_within(x[i], -FAR_MM, FAR_MM) || !tcr_within(y[i], -FAR_MM, FAR_MM))
            return TCR_E_RANGE;
        low = tcr_less(x[i], low);
        high = tcr_more(x[i], high);
        least = tcr_less(y[i], least);
        most = tcr_more(y[i], most);
    }
    *y_most = tcr_more(fabs(least), fabs(most));
    if (high - low <= ONE_X_MM)
        return TCR_E_ONE_X;
    *line = (tcr_line){.x_min_mm = low, .x_max_mm = high};
    return TCR_OK;
}

/* TCR_MAD_TO_SIGMA times the median of |r|, but at least the floor. */
static double residual_scale(const problem *p, const tcr_line *line, double floor_mm,
                             double *scratch) {
    for (size_t i = 0; i < p->n; i++) {
        const tcr_basis b = basis_at(line, p->x[i]);
        scratch[i] = fabs(p->y[i] - tcr_basis_sum(&b, line->coefficient_mm));
    }
    return fmax(TCR_MAD_TO_SIGMA * tcr_median(scratch, p->n), floor_mm);
}

tcr_status tcr_line_options_take(const tcr_line_options *given, tcr_line_options *options,
                                 tcr_error *error) {
    tcr_line_options o = tcr_line_options_default();
    const tcr_status status = tcr_options_take(&o, sizeof o, given);
    if (status != TCR_OK)
        return tcr_error_status(error, status);
    if (!tcr_within(o.penalty, 1e-12, 1e12))
        return tcr_error_range(error, TCR_E_RANGE, "penalty", o.penalty, 1e-12, 1e12);
    if (!tcr_within(o.huber, 1e-3, 1e3))
        return tcr_error_range(error, TCR_E_RANGE, "huber", o.huber, 1e-3, 1e3);
    if (!tcr_within(o.sigma_floor_mm, 1e-6, 1e3))
        return tcr_error_range(error, TCR_E_RANGE, "sigma_floor_mm", o.sigma_floor_mm, 1e-6, 1e3);
    *options = o;
    return TCR_OK;
}

/* By few solutions, where that is certain to end at the line. */
static bool fit_quickly(const problem *p, const tcr_line_options *o, double *scratch,
                        tcr_line *line) {
    const tcr_quick_points points = {p->x, p->y, p->n, p->lambda};
    if (o->robust)
        return p->n <= TCR_QUICK_MOST &&
               tcr_quick_robust(&points, o->huber, o->sigma_floor_mm, scratch, line);
    return tcr_quick_plain(&points, line);
}

static tcr_status fit_carefully(problem p, const tcr_line_options *o, double *scratch,
                                tcr_line *line) {
    *line = (tcr_line){.x_min_mm = line->x_min_mm, .x_max_mm = line->x_max_mm};
    tcr_status status = minimise(&p, line);
    if (status != TCR_OK || !o->robust)
        return status;
    line->sigma_mm = residual_scale(&p, line, o->sigma_floor_mm, scratch);
    p.limit = o->huber * line->sigma_mm;
    const tcr_line plain = *line;
    status = minimise(&p, line);
    if (status == TCR_E_NO_CONVERGENCE) {
        *line = plain;
        status = minimise_by_halves(p, line);
    }
    return status;
}

/* The line, quickly where that is allowed and ends well. */
static tcr_status fit(const double *x_mm, const double *y_mm, size_t n,
                      const tcr_line_options *options, double *scratch, bool carefully,
                      tcr_line *out) {
    tcr_line_options o;
    if (x_mm == NULL || y_mm == NULL || scratch == NULL || out == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_line_options_take(options, &o, NULL);
    tcr_line line;
    double y_most = 0.0;
    if (status == TCR_OK)
        status = check_points(x_mm, y_mm, n, &line, &y_most);
    if (status != TCR_OK)
        return status;
    problem p = {x_mm, y_mm, n, y_most, o.penalty * (double)n, NO_LIMIT};
    if (carefully || !fit_quickly(&p, &o, scratch, &line))
        status = fit_carefully(p, &o, scratch, &line);
    if (status == TCR_OK)
        *out = line;
    return status;
}

tcr_status tcr_line_fit(const double *x_mm, const double *y_mm, size_t n,
                        const tcr_line_options *options, double *scratch, tcr_line *line) {
    return fit(x_mm, y_mm, n, options, scratch, false, line);
}

tcr_status tcr_line_fit_carefully(const double *x_mm, const double *y_mm, size_t n,
                                  const tcr_line_options *options, double *scratch,
                                  tcr_line *line) {
    return fit(x_mm, y_mm, n, options, scratch, true, line);
}

double tcr_line_slope(const tcr_line *line, double x_mm) {
    return line != NULL ? tcr_line_point_lane(line, x_mm).slope : NAN;
}

double tcr_line_at(const tcr_line *line, double x_mm) {
    return line != NULL ? tcr_line_point_lane(line, x_mm).y : NAN;
}
