/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The fit over the range for which line.h promises it, and beyond: random problems with points
 * spread, crowded at one, two or few places, and heights that are alike, opposite, rare or wild.
 */
#include <tipcrest/line.h>

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

enum { K = TCR_LINE_COEFFICIENTS, POINTS_MAX = 80 };

typedef struct problem {
    size_t n;
    double x[POINTS_MAX], y[POINTS_MAX];
    tcr_line_options options;
} problem;

static double ten_to(gsl_rng *rng, double low, double high) {
    const double ends = gsl_rng_uniform(rng); /* often an end itself */
    const double power = ends < 0.15 ? low : ends < 0.3 ? high : tcr_draw_between(rng, low, high);
    return pow(10.0, power);
}

static double sign(gsl_rng *rng) { return gsl_rng_uniform(rng) < 0.5 ? -1.0 : 1.0; }

static double draw_x(gsl_rng *rng, unsigned long kind) {
    switch (kind) {
    case 0:
        return tcr_draw_between(rng, -1.0, 1.0);
    case 1: /* three places */
        return (double)gsl_rng_uniform_int(rng, 3) - 1.0;
    case 2: /* most at one */
        return gsl_rng_uniform(rng) < 0.75 ? 0.0 : tcr_draw_between(rng, -1.0, 1.0);
    case 3: /* two clusters */
        return tcr_draw_between(rng, -1e-9, 1e-9) + (gsl_rng_uniform(rng) < 0.5 ? 1.0 : 0.0);
    default:
        return sign(rng) * pow(10.0, tcr_draw_between(rng, -12.0, 0.0));
    }
}

static double draw_y(gsl_rng *rng, unsigned long kind) {
    switch (kind) {
    case 0:
        return tcr_draw_between(rng, -1.0, 1.0);
    case 1: /* two heights that pull alike */
        return sign(rng);
    case 2: /* strays alone */
        return gsl_rng_uniform(rng) < 0.9 ? 0.0 : tcr_draw_between(rng, -1.0, 1.0);
    case 3:
        return sign(rng) * (gsl_rng_uniform(rng) < 0.8 ? 1e-9 : 1.0);
    default:
        return sign(rng) * pow(10.0, tcr_draw_between(rng, -15.0, 0.0));
    }
}

/* Options within powers of ten: penalty, huber, sigma_floor_mm. */
static void draw(gsl_rng *rng, const double range[3][2], double y_most, problem *p) {
    const unsigned long x_kind = gsl_rng_uniform_int(rng, 5), y_kind = gsl_rng_uniform_int(rng, 5);
    const double wide = ten_to(rng, -3.0, 3.0), high = ten_to(rng, -9.0, log10(y_most));
    const double usual = gsl_rng_uniform(rng);
    p->n = usual < 0.2 ? 25 : 3 + gsl_rng_uniform_int(rng, POINTS_MAX - 2);
    p->options = tcr_line_options_default();
    p->options.penalty = ten_to(rng, range[0][0], range[0][1]);
    p->options.huber = ten_to(rng, range[1][0], range[1][1]);
    p->options.sigma_floor_mm = ten_to(rng, range[2][0], range[2][1]);
    for (size_t i = 0; i < p->n; i++) {
        p->x[i] = wide * draw_x(rng, x_kind);
        p->y[i] = high * draw_y(rng, y_kind);
    }
}

/* ---- The minimiser in another way ------------------------------------------------------------ */

/* The four basis functions at x; returns the first one's number. */
static int basis_at(long double x, const tcr_line *line, long double value[4]) {
    const long double low = line->x_min_mm, high = line->x_max_mm;
    const long double place = (x - low) / (high - low) * (K - 3);
    const int first = place > 0 ? (place < K - 3 ? (int)place : K - 4) : 0;
    const long double t = place - first, s = 1 - t;
    value[0] = s * s * s / 6;
    value[1] = (3 * t * t * t - 6 * t * t + 4) / 6;
    value[2] = (3 * s * s * s - 6 * s * s + 4) / 6;
    value[3] = t * t * t / 6;
    return first;
}

/* Solves a x = b in place, by Gauss with pivots. */
static void solve(long double a[K][K], long double b[K]) {
    for (int k = 0; k < K; k++) {
        int pivot = k;
        for (int i = k; i < K; i++)
            pivot = fabsl(a[i][k]) > fabsl(a[pivot][k]) ? i : pivot;
        for (int j = 0; j <= K; j++) {
            long double *one = j < K ? &a[k][j] : &b[k], *other = j < K ? &a[pivot][j] : &b[pivot];
            const long double kept = *one;
            *one = *other;
            *other = kept;
        }
        for (int i = k + 1; i < K; i++) {
            const long double share = a[i][k] / a[k][k];
            for (int j = k; j < K; j++)
                a[i][j] -= share * a[k][j];
            b[i] -= share * b[k];
        }
    }
    for (int k = K - 1; k >= 0; k--) {
        for (int j = k + 1; j < K; j++)
            b[k] -= a[k][j] * b[j];
        b[k] /= a[k][k];
    }
}

/* One step of reweighted least squares (Huber 1964), with a dense matrix. */
static void reweigh(const problem *p, const tcr_line *line, long double limit, long double c[K]) {
    static const long double second[3] = {1, -2, 1};
    const long double lambda = (long double)(p->options.penalty * (double)p->n);
    long double a[K][K] = {{0}}, b[K] = {0};
    for (size_t i = 0; i < p->n; i++) {
        long double value[4], r = p->y[i];
        const int first = basis_at(p->x[i], line, value);
        for (int j = 0; j < 4; j++)
            r -= value[j] * c[first + j];
        const long double weight = fabsl(r) <= limit ? 1 : limit / fabsl(r);
        for (int j = 0; j < 4; j++) {
            b[first + j] += weight * value[j] * r;
            for (int k = 0; k < 4; k++)
                a[first + j][first + k] += weight * value[j] * value[k];
        }
    }
    for (int i = 0; i + 2 < K; i++)
        for (int j = 0; j < 3; j++) {
            b[i + j] -= lambda * second[j] * (c[i] - 2 * c[i + 1] + c[i + 2]);
            for (int k = 0; k < 3; k++)
                a[i + j][i + k] += lambda * second[j] * second[k];
        }
    solve(a, b);
    for (int j = 0; j < K; j++)
        c[j] += b[j];
}

/* How far reweighting still moves a line at its points, mm: nothing where it is the minimiser. */
static double still_moves(const problem *p, const tcr_line *line) {
    enum { STEPS = 40 };
    long double c[K];
    double most = 0.0;
    for (int j = 0; j < K; j++)
        c[j] = line->coefficient_mm[j];
    for (int i = 0; i < STEPS; i++)
        reweigh(p, line, (long double)(p->options.huber * line->sigma_mm), c);
    for (size_t i = 0; i < p->n; i++) {
        long double value[4], moved = 0;
        const int first = basis_at(p->x[i], line, value);
        for (int j = 0; j < 4; j++)
            moved += value[j] * (c[first + j] - line->coefficient_mm[first + j]);
        most = fmax(most, fabs((double)moved));
    }
    return most;
}

CLAIM(within_the_promised_range_every_problem_ends_at_its_minimum) {
    /* Source: line.h. */
    static const double PROMISED[3][2] = {{-8.0, 4.0}, {-1.0, 3.0}, {-3.0, 3.0}};
    gsl_rng *rng = tcr_make_rng(8);
    int lines = 0;
    for (int i = 0; i < 4000; i++) {
        problem p;
        tcr_line line;
        double scratch[POINTS_MAX];
        draw(rng, PROMISED, 1000.0, &p);
        given("problem %d: %zu points, penalty %.17g, huber %.17g, floor %.17g", i, p.n,
              p.options.penalty, p.options.huber, p.options.sigma_floor_mm);
        const tcr_status status = tcr_line_fit(p.x, p.y, p.n, &p.options, scratch, &line);
        if (status == TCR_E_ONE_X)
            continue;
        expect_status(status, TCR_OK);
        lines++;
        expect_within(still_moves(&p, &line), 0.0, 1e-10, "promised in line.h");
    }
    expect_true(lines > 3000);
    gsl_rng_free(rng);
}

CLAIM(beyond_it_a_problem_has_a_line_or_none_and_leaves_the_output_alone) {
    /* Source: line.h, the ranges of the options and of the coordinates. */
    static const double ALLOWED[3][2] = {{-12.0, 12.0}, {-3.0, 3.0}, {-6.0, 3.0}};
    static const tcr_line MARK = {.x_min_mm = 77.0, .sigma_mm = -1.0};
    gsl_rng *rng = tcr_make_rng(9);
    int none = 0;
    for (int i = 0; i < 4000; i++) {
        problem p;
        tcr_line line = MARK;
        double scratch[POINTS_MAX];
        draw(rng, ALLOWED, 1e6, &p);
        given("problem %d", i);
        const tcr_status status = tcr_line_fit(p.x, p.y, p.n, &p.options, scratch, &line);
        if (status == TCR_OK) {
            for (int j = 0; j < K; j++)
                expect_true(isfinite(line.coefficient_mm[j]));
            continue;
        }
        none += status == TCR_E_NO_CONVERGENCE;
        expect_true(status == TCR_E_NO_CONVERGENCE || status == TCR_E_ONE_X);
        expect_bytes(&line, &MARK, sizeof line);
    }
    expect_true(none < 400); /* else the first claim's range could be meaningless */
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &within_the_promised_range_every_problem_ends_at_its_minimum,
        &beyond_it_a_problem_has_a_line_or_none_and_leaves_the_output_alone,
    };
    return RUN_CLAIMS("fit_range", claims);
}
