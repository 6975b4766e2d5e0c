/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far tips lie off a line, held to the check's own figures and to GSL's straight line. */
#include <tipcrest/check.h>

#include <math.h>

#include <gsl/gsl_fit.h>

#include "support/check.h"
#include "support/make.h"
#include "support/recipe.h"

enum { TIPS_MOST = TCR_SIDES * TCR_RECIPE_LASHES };

static tcr_recipe recipe;

/* The tips of all eyes: where they are seen, and how far above their eye's line. */
static size_t tips_off(const tcr_check *check, const tcr_line *line, double *x, double *y) {
    size_t n = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++)
            if (eye->lash[i].status == TCR_OK) {
                x[n] = eye->lash[i].seen.x;
                y[n++] = eye->lash[i].seen.y - tcr_line_at(&line[side], eye->lash[i].seen.x);
            }
    }
    return n;
}

static void expect_rms(const tcr_check *check, const tcr_line *line) {
    static double x[TIPS_MOST], y[TIPS_MOST];
    size_t tips = 7;
    const size_t n = tips_off(check, line, x, y);
    double squares = 0.0, a, b, cov00, cov01, cov11, left;
    for (size_t i = 0; i < n; i++)
        squares += y[i] * y[i];
    const char *why = "sums in another order; x to 15 mm and distances to about 20 mm";
    expect_near(tcr_check_rms_off(check, line, false, &tips), sqrt(squares / (double)n), 1e-10,
                why);
    expect_count(tips, n);
    /* Source: gsl_fit_linear, the sum of squares that it leaves. */
    gsl_fit_linear(x, 1, y, 1, n, &a, &b, &cov00, &cov01, &cov11, &left);
    expect_near(tcr_check_rms_off(check, line, true, NULL), sqrt(left / (double)n), 1e-7,
                "differences of sums: the root of 1e-15 of their size");
}

CLAIM(the_distance_from_any_line_is_that_of_the_sums) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int checked = 0; checked < 50;) {
        tcr_check *check = NULL;
        tcr_draw_recipe(rng, &recipe);
        tcr_set *set = tcr_recipe_build(&recipe, NULL);
        if (tcr_check_new(set, NULL, &check, NULL) == TCR_OK &&
            tcr_check_eye(check, recipe.first)->extended > 2) {
            tcr_line line[TCR_SIDES];
            line[TCR_LEFT] = line[TCR_RIGHT] = tcr_check_eye(check, recipe.first)->fitted_line;
            expect_rms(check, line);
            for (int i = 0; i < TCR_LINE_COEFFICIENTS; i++)
                line[i % TCR_SIDES].coefficient_mm[i] += tcr_draw_between(rng, -1.0, 3.0);
            expect_rms(check, line);
            checked++;
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

CLAIM(without_tips_there_is_no_distance) {
    const tcr_zone zone = {.to = 1.0, .length_mm = 11.0, .curl = "C"};
    const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_line line[TCR_SIDES] = {{.x_min_mm = -10.0, .x_max_mm = 10.0}};
    tcr_set *set = NULL;
    tcr_check *check = NULL;
    size_t tips = 7;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, &bare), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_nan(tcr_check_rms_off(check, line, false, &tips));
    expect_count(tips, 0);
    /* One tip: any line can be moved through it. */
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, 0, NULL), TCR_OK);
    expect_status(tcr_check_again(check, set, NULL, NULL), TCR_OK);
    expect_near(tcr_check_rms_off(check, line, false, &tips),
                fabs(tcr_check_eye(check, TCR_LEFT)->lash[0].seen.y), 1e-14, "closed form");
    expect_same(tcr_check_rms_off(check, line, true, NULL), 0.0, "y - y");
    expect_count(tips, 1);
    expect_nan(tcr_check_rms_off(NULL, line, false, NULL));
    expect_nan(tcr_check_rms_off(check, NULL, false, NULL));
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_distance_from_any_line_is_that_of_the_sums,
        &without_tips_there_is_no_distance,
    };
    return RUN_CLAIMS("off_line", claims);
}
