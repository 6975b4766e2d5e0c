/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Roots of functions whose roots are known. The search ends when the two places about a root are
 * four units of rounding apart, so a root is known to these and to what the function's own rounding
 * is over its slope.
 */
#include "num/root.h"

#include <float.h>
#include <math.h>

#include <gsl/gsl_math.h>

#include "support/check.h"
#include "support/make.h"

static const char *const ROUNDING = "the last bracket, and the rounding of f over its slope";

/* A function, and how often it was asked. */
typedef struct asked {
    double (*f)(double);
    int times;
} asked;

static double ask(double x, void *context) {
    asked *a = context;
    a->times++;
    return a->f(x);
}

static double line(double x) { return 3.0 * x - 0.75; }
static double cosine(double x) { return cos(x) - x; }
static double cubic(double x) { return x * x * x - 2.0 * x - 5.0; }
static double power(double x) { return exp(x) - 2.0; }
static double logarithm(double x) { return log(x); }
static double jump(double x) { return x < 1.0 / 3.0 ? -1.0 : 2.0; }
static double flat(double x) { return x * x * x; }
static double steep(double x) { return pow(x - 0.3, 15.0); }
static double above(double x) { return x * x + 1.0; }
static double below(double x) { return -x * x - 1.0; }
static double hole(double x) { return x < 0.9 ? -1.0 : (double)NAN; }
static double pierced(double x) { return fabs(x) < 0.5 ? (double)NAN : x; }

static double root_of(double (*f)(double), double a, double b, int *times) {
    asked question = {f, 0};
    double root = NAN;
    expect_true(tcr_root(ask, &question, a, b, &root));
    if (times != NULL)
        *times = question.times;
    return root;
}

CLAIM(known_roots_are_found_whichever_end_comes_first) {
    const struct {
        double (*f)(double);
        double a, b, root;
    } known[] = {
        {line, -2.0, 7.0, 0.25},                 /* closed form */
        {cosine, 0.0, 1.0, 0.73908513321516064}, /* Dottie's number, OEIS A003957 */
        {cubic, 2.0, 3.0, 2.09455148154232659},  /* Wallis's example, OEIS A007493 */
        {power, 0.0, 1.0, 0.69314718055994531},  /* ln 2, closed form */
        {logarithm, 0.0, 9.0, 1.0},              /* closed form; f is infinite at one end */
        {jump, 0.0, 1.0, 1.0 / 3.0},             /* where the sign changes, by a jump */
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        given("function %zu", i);
        const double near = 8.0 * DBL_EPSILON * known[i].root;
        expect_near(root_of(known[i].f, known[i].a, known[i].b, NULL), known[i].root, near,
                    ROUNDING);
        expect_near(root_of(known[i].f, known[i].b, known[i].a, NULL), known[i].root, near,
                    ROUNDING);
    }
}

CLAIM(a_root_at_an_end_is_that_end) {
    expect_same(root_of(line, 0.25, 1.0, NULL), 0.25, "3 x 0.25 - 0.75 is 0 without rounding");
    expect_same(root_of(line, -1.0, 0.25, NULL), 0.25, "3 x 0.25 - 0.75 is 0 without rounding");
    expect_same(root_of(line, 0.25, 0.25, NULL), 0.25, "both ends in one");
}

CLAIM(smooth_functions_take_far_fewer_looks_than_halving) {
    int times;
    (void)root_of(cosine, 0.0, 1.0, &times);
    expect_within(times, 2, 15,
                  "halving takes 53; interpolation doubles the digits about each step");
    (void)root_of(cubic, 2.0, 3.0, &times);
    expect_within(times, 2, 15,
                  "halving takes 51; interpolation doubles the digits about each step");
}

CLAIM(awkward_functions_are_not_looked_at_for_ever) {
    /* A jump is halved: 2^-53 of the interval is reached in 53 steps and two ends. */
    int times;
    (void)root_of(jump, 0.0, 1.0, &times);
    expect_within(times, 2, 60, "halving, and a few steps to spare");
    /* x^3 is so flat at 0 that it never is: 200 halvings of 3 are left. */
    expect_near(root_of(flat, -1.0, 2.0, &times), 0.0, 3.0 * 0x1p-199,
                "half of the interval for each look");
    expect_within(times, 2, 202, "root.c allows 200 steps");
    /* (x - 0.3)^15 is 0 in doubles within 1e-21 of its root. */
    expect_near(root_of(steep, 0.0, 1.0, &times), 0.3, 4.0 * DBL_EPSILON, ROUNDING);
    expect_within(times, 2, 202, "root.c allows 200 steps");
}

CLAIM(without_a_change_of_sign_there_is_no_root) {
    asked question = {above, 0};
    double root = 7.0;
    expect_true(!tcr_root(ask, &question, -1.0, 2.0, &root));
    question.f = below;
    expect_true(!tcr_root(ask, &question, -1.0, 2.0, &root));
    expect_same(root, 7.0, "a search that fails leaves its output");
}

CLAIM(what_is_not_a_number_ends_the_search) {
    asked question = {hole, 0};
    double root = 7.0;
    expect_true(!tcr_root(ask, &question, 0.0, 1.0, &root)); /* at the second end */
    expect_true(!tcr_root(ask, &question, 1.0, 0.0, &root)); /* at the first */
    question.f = pierced;
    expect_true(!tcr_root(ask, &question, -1.0, 1.0, &root)); /* on the way */
    expect_same(root, 7.0, "a search that fails leaves its output");
}

/* ---- Outward --------------------------------------------------------------------------------- */

/* A cosine with a root every pi over 'frequency', and the places at which it was asked. */
typedef struct wave {
    double frequency, low, high;
} wave;

static double ask_wave(double x, void *context) {
    wave *w = context;
    w->low = fmin(w->low, x);
    w->high = fmax(w->high, x);
    return cos(w->frequency * x);
}

CLAIM(outward_the_nearest_root_is_found_and_the_span_is_kept) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 2000; i++) {
        wave w = {tcr_draw_between(rng, 0.5, 4.0), INFINITY, -INFINITY};
        const double apart = M_PI / w.frequency;
        const tcr_span span = {-5.0, 5.0, apart * tcr_draw_between(rng, 0.05, 0.9)};
        const double from = tcr_draw_between(rng, span.low, span.high);
        /* Closed form: roots at (k + 1/2) pi / frequency. */
        const double k = floor(from / apart - 0.5);
        const double lower = (k + 0.5) * apart, upper = (k + 1.5) * apart;
        const bool in_low = lower >= span.low, in_high = upper <= span.high;
        double root = NAN;
        given("frequency %.17g from %.17g by %.17g", w.frequency, from, span.step);
        expect_true(tcr_root_outward(ask_wave, &w, from, span, &root) == (in_low || in_high));
        expect_within(w.low, span.low, from, "root.h");
        expect_within(w.high, from, span.high, "root.h");
        if (in_low || in_high) {
            const bool down = in_low && (!in_high || from - lower < upper - from);
            expect_near(root, down ? lower : upper, 1e-14, "values to 5, rounding of cos");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(outward_of_two_roots_in_one_step_the_nearer_is_found) {
    wave w = {1.0, INFINITY, -INFINITY};
    const tcr_span span = {-3.0, 3.0, 3.0};
    double root = NAN;
    expect_true(tcr_root_outward(ask_wave, &w, 1.4, span, &root));
    expect_near(root, M_PI / 2.0, 4.0 * DBL_EPSILON, "closed form");
    expect_true(tcr_root_outward(ask_wave, &w, -1.4, span, &root));
    expect_near(root, -M_PI / 2.0, 4.0 * DBL_EPSILON, "closed form");
    expect_true(tcr_root_outward(ask_wave, &w, 0.0, span, &root));
    expect_near(root, M_PI / 2.0, 4.0 * DBL_EPSILON, "root.h: of two equally near the upper");
}

static double falling(double x) { return -line(x); }

CLAIM(outward_a_root_at_the_start_or_at_an_end_of_the_span_is_found) {
    double (*const both[])(double) = {line, falling}; /* 0 at 0.25 without rounding */
    for (int i = 0; i < 2; i++) {
        asked question = {both[i], 0};
        double root = NAN;
        given("function %d", i);
        expect_true(tcr_root_outward(ask, &question, 0.25, (tcr_span){0.0, 1.0, 0.1}, &root));
        expect_same(root, 0.25, "the start");
        expect_count(question.times, 1);
        root = NAN;
        expect_true(tcr_root_outward(ask, &question, 0.75, (tcr_span){0.25, 1.0, 0.25}, &root));
        expect_same(root, 0.25, "the low end");
        root = NAN;
        expect_true(tcr_root_outward(ask, &question, 0.0, (tcr_span){-1.0, 0.25, 0.1}, &root));
        expect_same(root, 0.25, "the high end");
    }
}

CLAIM(outward_without_a_root_or_behind_what_is_no_number_nothing_is_found) {
    double (*const none[])(double) = {above, below, pierced};
    for (int i = 0; i < 3; i++) {
        asked question = {none[i], 0};
        double root = 7.0;
        given("function %d", i);
        expect_true(!tcr_root_outward(ask, &question, 0.75, (tcr_span){-2.0, 2.0, 0.1}, &root));
        expect_same(root, 7.0, "a search that fails leaves its output");
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &known_roots_are_found_whichever_end_comes_first,
        &a_root_at_an_end_is_that_end,
        &smooth_functions_take_far_fewer_looks_than_halving,
        &awkward_functions_are_not_looked_at_for_ever,
        &without_a_change_of_sign_there_is_no_root,
        &what_is_not_a_number_ends_the_search,
        &outward_the_nearest_root_is_found_and_the_span_is_kept,
        &outward_of_two_roots_in_one_step_the_nearer_is_found,
        &outward_a_root_at_the_start_or_at_an_end_of_the_span_is_found,
        &outward_without_a_root_or_behind_what_is_no_number_nothing_is_found,
    };
    return RUN_CLAIMS("root", claims);
}
