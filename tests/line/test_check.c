/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A checked set against its pieces put together here by the scalar calls. Where a claim names no
 * other source, it is model.md, sections 5 to 7, by those calls.
 */
#include <tipcrest/check.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_deriv.h>

#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/digest.h"
#include "support/make.h"
#include "support/memory.h"

enum { MOST = 300 };

static const tcr_zone MAP[] = {
    {.to = 0.2, .length_mm = 9.0, .curl = "C"},
    {.to = 0.4, .length_mm = 10.0, .curl = "C"},
    {.to = 0.8,
     .length_mm = 12.0,
     .curl = "C",
     .layer = {[TCR_TOP] = {.fixed = TCR_FIX_LENGTH | TCR_FIX_CURL | TCR_FIX_PLACEMENT,
                            .length_mm = 10.0,
                            .curl = "D",
                            .placement = TCR_UNDERSIDE}}},
    {.to = 1.0, .length_mm = 11.0, .curl = "C"},
};

/* Two described eyes with a map; the left one has a few rows of its own. Everything is invented. */
static tcr_set *make_set(const tcr_allocator *allocator) {
    tcr_set *set = NULL;
    tcr_layering rule = tcr_layering_default();
    rule.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
    rule.placement[TCR_TOP] = TCR_UNDERSIDE;
    tcr_description d = tcr_description_default();
    d.seed = 11;
    tcr_lash own = tcr_lash_unknown(0.55, TCR_MIDDLE), shorter = own;
    shorter.length_mm = 1.2;
    own.height_mm = 1.3;
    const tcr_wish longer = {.fixed = TCR_FIX_LENGTH | TCR_FIX_FAN | TCR_FIX_SPREAD,
                             .length_mm = 14.5,
                             .fan = 3,
                             .spread_rad = 0.4};
    const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    expect_status(tcr_set_new(allocator, &set), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, MAP, 4), TCR_OK);
        expect_status(tcr_set_describe(set, (tcr_side)side, &d), TCR_OK);
    }
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "own", &own, &longer), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "bare", &own, &bare), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "short", &shorter, NULL), TCR_OK);
    return set;
}

static tcr_check *checked(const tcr_set *set, const tcr_check_options *options) {
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, options, &check, NULL), TCR_OK);
    return check;
}

/* What one lash carries and where its tip stands, by the scalar calls. */
static tcr_status tip_of(const tcr_set *set, tcr_side side, size_t i, double opening,
                         tcr_vec3 *tip) {
    const tcr_lash *lash = tcr_set_lash(set, side, i);
    const tcr_lid *lid = tcr_set_lid(set, side);
    const tcr_bond *bond = tcr_set_bond(set);
    tcr_choice choice;
    tcr_status status = tcr_set_choice(set, side, i, &choice);
    if (status == TCR_OK) {
        const tcr_extension ext = tcr_set_extension(set, &choice);
        status = tcr_tip(lid, opening, lash, &ext, bond, tip);
    }
    if (status != TCR_OK)
        expect_status(tcr_tip(lid, opening, lash, NULL, NULL, tip), TCR_OK);
    return status;
}

/* The tips of an eye that carry an extension, as seen. */
typedef struct columns {
    size_t n;
    double x[MOST], y[MOST], deviation[MOST], across[MOST], scratch[MOST];
    tcr_layer layer[MOST];
} columns;

static columns seen_tips(const tcr_set *set, tcr_side side, const tcr_view *view) {
    columns c = {.n = 0};
    for (size_t i = 0; i < tcr_set_lash_count(set, side); i++) {
        tcr_vec3 tip;
        if (tip_of(set, side, i, view->opening, &tip) != TCR_OK)
            continue;
        const tcr_vec2 seen = tcr_view_project(view, tip);
        c.x[c.n] = seen.x;
        c.y[c.n] = seen.y;
        c.layer[c.n++] = tcr_set_lash(set, side, i)->layer;
    }
    return c;
}

static const char *const SAME = "the same operations, perhaps in another order";

CLAIM(every_tip_stands_where_the_scalar_call_puts_it) {
    tcr_set *set = make_set(NULL);
    tcr_check *check = checked(set, NULL);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        size_t extended = 0;
        expect_count(eye->lashes, tcr_set_lash_count(set, (tcr_side)side));
        for (size_t i = 0; i < eye->lashes; i++) {
            tcr_vec3 tip;
            const tcr_status status = tip_of(set, (tcr_side)side, i, 1.0, &tip);
            given("side %d, lash %zu", side, i);
            expect_status(eye->lash[i].status, status);
            expect_vector(eye->lash[i].tip, tip, 1e-13, SAME);
            expect_near(eye->lash[i].seen.x, tip.x, 1e-13, SAME);
            expect_near(eye->lash[i].seen.y, tip.y, 1e-13, SAME);
            extended += status == TCR_OK;
        }
        expect_count(eye->extended, extended);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(bare_lashes_have_a_reason_and_no_deviation) {
    tcr_set *set = make_set(NULL);
    tcr_check *check = checked(set, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    expect_status(eye->lash[97].status, TCR_E_BARE_BY_ROW);
    expect_status(eye->lash[98].status, TCR_E_BOND); /* 1.2 mm of lash: nothing to bond to */
    for (size_t i = 0; i < eye->lashes; i++) {
        if (eye->lash[i].status == TCR_OK)
            continue;
        given("lash %zu", i);
        expect_nan(eye->lash[i].deviation_mm); /* source: check.h */
        expect_nan(eye->lash[i].across_mm);
        expect_nan(eye->lash[i].line_mm);
        expect_true(!eye->lash[i].staggered);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

static void expect_spread(const tcr_residuals *got, const tcr_residuals *expected) {
    expect_near(got->rms_mm, expected->rms_mm, 1e-12, SAME);
    expect_near(got->mean_abs_mm, expected->mean_abs_mm, 1e-12, SAME);
    expect_near(got->p95_abs_mm, expected->p95_abs_mm, 1e-12, SAME);
    expect_near(got->max_abs_mm, expected->max_abs_mm, 1e-12, SAME);
}

static void expect_evenness(const tcr_evenness *got, columns *c, const tcr_line *line) {
    tcr_evenness e;
    expect_status(tcr_line_evenness(line, c->x, c->y, c->layer, c->n, 0.5, c->deviation, c->across,
                                    c->scratch, &e),
                  TCR_OK);
    expect_count(got->lashes, c->n);
    expect_spread(&got->upright, &e.upright);
    expect_spread(&got->across, &e.across);
    expect_near(got->within_tolerance, e.within_tolerance, 0.0, "a count");
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        expect_near(got->layer_offset_mm[layer], e.layer_offset_mm[layer], 1e-12, SAME);
}

CLAIM(evenness_is_that_of_the_tips_about_their_fitted_line) {
    tcr_set *set = make_set(NULL);
    tcr_check *check = checked(set, NULL);
    const tcr_view open = tcr_view_named(TCR_OPEN_FRONT);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        columns c = seen_tips(set, (tcr_side)side, &open);
        tcr_line line;
        expect_status(tcr_line_fit(c.x, c.y, c.n, NULL, c.scratch, &line), TCR_OK);
        given("side %d", side);
        expect_status(eye->fitted_status, TCR_OK);
        for (int j = 0; j < TCR_LINE_COEFFICIENTS; j++)
            expect_near(eye->fitted_line.coefficient_mm[j], line.coefficient_mm[j], 1e-11, SAME);
        expect_evenness(&eye->fitted, &c, &line);
        expect_near(eye->largest_gap_mm, tcr_line_largest_gap(c.x, c.n, c.scratch), 1e-13, SAME);
        expect_true(!eye->too_few);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

/* The bottom length at u by hand: the zones' centres are 0.1, 0.3, 0.6, 0.9. */
static double intended_length(double u) {
    static const double centre[] = {0.1, 0.3, 0.6, 0.9}, length[] = {9.0, 10.0, 12.0, 11.0};
    if (u <= centre[0])
        return length[0];
    for (int i = 1; i < 4; i++)
        if (u < centre[i])
            return length[i - 1] +
                   (length[i] - length[i - 1]) * (u - centre[i - 1]) / (centre[i] - centre[i - 1]);
    return length[3];
}

/* The plain line through 201 mean lashes with C of the intended length on top. Two equal eyes have
 * the same: every point then counts twice, and so does the penalty. */
static tcr_line intended_line(const tcr_view *view, const tcr_lash *said) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    double x[201], y[201], scratch[201];
    for (int i = 0; i < 201; i++) {
        const double u = 0.05 + 0.9 * i / 200.0;
        tcr_lash mean = *said;
        mean.u = u;
        const tcr_extension ext = tcr_make_extension("C", intended_length(u), TCR_ON_TOP);
        tcr_vec3 tip;
        expect_status(tcr_tip(&lid, view->opening, &mean, &ext, &bond, &tip), TCR_OK);
        x[i] = tcr_view_project(view, tip).x;
        y[i] = tcr_view_project(view, tip).y;
    }
    tcr_line_options plain = tcr_line_options_default();
    plain.robust = false;
    tcr_line line;
    expect_status(tcr_line_fit(x, y, 201, &plain, scratch, &line), TCR_OK);
    return line;
}

CLAIM(the_intended_line_goes_through_the_mean_lashes_of_the_map) {
    tcr_set *set = make_set(NULL);
    tcr_lash mean = tcr_make_default_lash(0.5, TCR_BOTTOM); /* said in full, so none is the eye's */
    mean.length_mm = 8.25;
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    tcr_check *check = checked(set, NULL);
    const tcr_view open = tcr_view_named(TCR_OPEN_FRONT);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    const tcr_line line = intended_line(&open, &mean);
    columns c = seen_tips(set, TCR_LEFT, &open);
    expect_status(eye->intended_status, TCR_OK);
    for (int i = -5; i <= 105; i++) {
        const double at = line.x_min_mm + (line.x_max_mm - line.x_min_mm) * i / 100.0;
        given("at %.17g", at);
        expect_near(tcr_line_at(&eye->intended_line, at), tcr_line_at(&line, at), 1e-9,
                    "the accuracy of the contract");
    }
    expect_evenness(&eye->intended, &c, &line);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_intended_line_is_plain_where_a_change_of_curl_makes_its_tips_jump) {
    static const tcr_zone jump[] = {{.to = 0.5, .length_mm = 14.0, .curl = "J"},
                                    {.to = 1.0, .length_mm = 14.0, .curl = "DD"}};
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    double x[201], y[201], scratch[201];
    for (int i = 0; i < 201; i++) {
        const double u = 0.05 + 0.9 * i / 200.0;
        const tcr_lash mean = tcr_make_default_lash(u, TCR_BOTTOM);
        const tcr_extension ext = tcr_make_extension(u < 0.5 ? "J" : "DD", 14.0, TCR_ON_TOP);
        tcr_vec3 tip;
        expect_status(tcr_tip(&lid, 1.0, &mean, &ext, &bond, &tip), TCR_OK);
        x[i] = tip.x;
        y[i] = tip.y;
    }
    tcr_line_options options = tcr_line_options_default();
    tcr_line robust, plain;
    expect_status(tcr_line_fit(x, y, 201, &options, scratch, &robust), TCR_OK);
    options.robust = false;
    expect_status(tcr_line_fit(x, y, 201, &options, scratch, &plain), TCR_OK);
    ck_assert(fabs(robust.coefficient_mm[6] - plain.coefficient_mm[6]) > 0.01); /* they differ */

    tcr_set *set = NULL;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, jump, 2), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    tcr_check *check = checked(set, NULL);
    for (int j = 0; j < TCR_LINE_COEFFICIENTS; j++)
        expect_near(tcr_check_eye(check, TCR_LEFT)->intended_line.coefficient_mm[j],
                    plain.coefficient_mm[j], 1e-9, "the accuracy of the contract");
    tcr_check_free(check);
    tcr_set_free(set);
}

static void expect_deviations(const tcr_eye_result *eye, const tcr_line *line, double tolerance) {
    size_t staggered = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash_result *r = &eye->lash[i];
        if (r->status != TCR_OK)
            continue;
        const double deviation = r->seen.y - tcr_line_at(line, r->seen.x);
        given("lash %zu", i);
        expect_near(r->line_mm, tcr_line_at(line, r->seen.x), 0.0, SAME);
        expect_near(r->deviation_mm, deviation, 1e-14, SAME);
        expect_near(r->across_mm, deviation * cos(atan(tcr_line_slope(line, r->seen.x))), 1e-13,
                    "two ways to one cosine");
        expect_count(r->staggered, fabs(deviation) > tolerance);
        staggered += r->staggered;
    }
    expect_count(eye->staggered, staggered);
    ck_assert_int_gt((int)staggered, 0);
}

CLAIM(deviations_are_from_the_line_that_was_asked_for) {
    tcr_set *set = make_set(NULL);
    expect_status(tcr_set_put_tolerance(set, 0.3), TCR_OK);
    tcr_check_options options = tcr_check_options_default();
    tcr_check *fitted = checked(set, &options);
    options.against = TCR_INTENDED;
    tcr_check *intended = checked(set, &options);
    const tcr_eye_result *a = tcr_check_eye(fitted, TCR_LEFT),
                         *b = tcr_check_eye(intended, TCR_LEFT);
    expect_deviations(a, &a->fitted_line, 0.3);
    expect_deviations(b, &b->intended_line, 0.3);
    expect_count(tcr_check_against(fitted), TCR_FITTED);
    expect_count(tcr_check_against(intended), TCR_INTENDED);
    expect_near(b->fitted.upright.rms_mm, a->fitted.upright.rms_mm, 0.0, "both lines always told");
    tcr_check_free(intended);
    tcr_check_free(fitted);
    tcr_set_free(set);
}

CLAIM(each_view_has_the_offsets_of_its_own_line) {
    tcr_set *set = make_set(NULL);
    tcr_check *check = checked(set, NULL);
    for (int v = 0; v < TCR_VIEWS; v++) {
        const tcr_view view = tcr_view_named((tcr_named_view)v);
        const tcr_eye_result *eye = tcr_check_eye(check, TCR_RIGHT);
        columns c = seen_tips(set, TCR_RIGHT, &view);
        tcr_line line;
        tcr_evenness e;
        expect_status(tcr_line_fit(c.x, c.y, c.n, NULL, c.scratch, &line), TCR_OK);
        expect_status(tcr_line_evenness(&line, c.x, c.y, c.layer, c.n, 0.5, c.deviation, c.across,
                                        c.scratch, &e),
                      TCR_OK);
        expect_status(eye->view_status[v], TCR_OK);
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            given("view %d, layer %d", v, layer);
            expect_near(eye->view_offset_mm[v][layer], e.layer_offset_mm[layer], 1e-11, SAME);
        }
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_view_of_its_own_replaces_the_sets) {
    tcr_set *set = make_set(NULL);
    const tcr_view sets = {0.9, 0.0}, own = {0.4, 0.3};
    expect_status(tcr_set_put_view(set, &sets), TCR_OK);
    tcr_check_options options = tcr_check_options_default();
    tcr_check *first = checked(set, &options);
    options.has_view = true;
    options.view = own;
    tcr_check *second = checked(set, &options);
    const tcr_view asked[] = {sets, own};
    tcr_check *const checks[] = {first, second};
    for (int i = 0; i < 2; i++) {
        const columns c = seen_tips(set, TCR_LEFT, &asked[i]);
        const tcr_eye_result *eye = tcr_check_eye(checks[i], TCR_LEFT);
        size_t j = 0;
        expect_same(tcr_check_view(checks[i]).opening, asked[i].opening, "given");
        for (size_t k = 0; k < eye->lashes; k++) {
            if (eye->lash[k].status != TCR_OK)
                continue;
            expect_near(eye->lash[k].seen.x, c.x[j], 1e-13, SAME);
            expect_near(eye->lash[k].seen.y, c.y[j++], 1e-13, SAME);
        }
        tcr_check_free(checks[i]);
    }
    tcr_set_free(set);
}

CLAIM(two_eyes_have_the_symmetry_of_their_lines) {
    tcr_set *set = make_set(NULL);
    tcr_check *check = checked(set, NULL);
    tcr_symmetry got, expected;
    expect_status(tcr_check_symmetry(check, &got), TCR_OK);
    expect_status(tcr_line_symmetry(&tcr_check_eye(check, TCR_LEFT)->fitted_line,
                                    &tcr_check_eye(check, TCR_RIGHT)->fitted_line, &expected),
                  TCR_OK);
    expect_near(got.rms_mm, expected.rms_mm, 0.0, SAME);
    expect_near(got.max_mm, expected.max_mm, 0.0, SAME);
    expect_near(got.level_rms_mm, expected.level_rms_mm, 0.0, SAME);
    expect_near(got.level_max_mm, expected.level_max_mm, 0.0, SAME);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(without_a_line_of_both_eyes_there_is_no_symmetry) {
    tcr_set *set = NULL;
    tcr_symmetry s = {.rms_mm = 7.0};
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, MAP, 4), TCR_OK);
        expect_status(tcr_set_add_lash(set, (tcr_side)side, "a", &lash, NULL), TCR_OK);
    }
    tcr_check *check = checked(set, NULL);
    expect_status(tcr_check_symmetry(check, &s), TCR_E_FEW); /* source: check.h */
    expect_same(s.rms_mm, 7.0, "outputs stay");
    expect_status(tcr_check_symmetry(NULL, &s), TCR_E_ARGUMENT);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* A lash moved in one of its numbers, for GSL's derivative. */
typedef struct moved {
    const tcr_set *set;
    tcr_lash lash;
    tcr_extension ext;
    double *number;
} moved;

static double height_at(double value, void *p) {
    moved *m = p;
    const double kept = *m->number;
    *m->number = value;
    tcr_vec3 tip;
    expect_status(
        tcr_tip(tcr_set_lid(m->set, TCR_LEFT), 1.0, &m->lash, &m->ext, tcr_set_bond(m->set), &tip),
        TCR_OK);
    *m->number = kept;
    return tip.y;
}

CLAIM(an_assumption_tells_what_one_unit_of_it_moves_a_tip_by) {
    tcr_set *set = NULL;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, MAP, 4), TCR_OK);
    for (int i = 0; i < 30; i++) {
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.03 * i, (tcr_layer)(i % 3));
        lash = tcr_lash_complete(&lash, NULL);
        lash.pitch_rad = lash.turn_rad = lash.height_mm = NAN;
        char id[] = {'a', (char)('0' + i / 10), (char)('0' + i % 10), '\0'};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    tcr_check *check = checked(set, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    const unsigned fields[] = {TCR_LASH_HEIGHT, TCR_LASH_PITCH, TCR_LASH_TURN};
    expect_count(eye->assumptions, 3);
    for (int f = 0; f < 3; f++) {
        double sum = 0.0;
        for (size_t i = 0; i < 30; i++) {
            moved m = {set, *tcr_set_lash(set, TCR_LEFT, i),
                       tcr_set_extension(set, &eye->lash[i].choice), NULL};
            m.number = f == 0 ? &m.lash.height_mm : (f == 1 ? &m.lash.pitch_rad : &m.lash.turn_rad);
            gsl_function function = {height_at, &m};
            double slope, error;
            gsl_deriv_central(&function, *m.number, 1e-3, &slope, &error);
            sum += fabs(slope) / 30.0;
        }
        given("field %d", f);
        expect_count(eye->assumption[f].field, fields[f]);
        expect_count(eye->assumption[f].count, 30);
        /* Source: GSL, gsl_deriv_central, which is good to about 1e-9 here. */
        expect_near(eye->assumption[f].per_unit, sum, 1e-6, "central differences of 1e-4");
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(few_tips_are_said_to_be_too_few_to_judge) {
    for (int count = 0; count <= 12; count++) {
        tcr_set *set = NULL;
        expect_status(tcr_set_new(NULL, &set), TCR_OK);
        expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, TCR_LEFT, MAP, 4), TCR_OK);
        for (int i = 0; i < 13; i++) { /* one baby at least, so that no eye is without a lash */
            tcr_lash lash = tcr_lash_unknown(0.05 + 0.07 * i, TCR_BOTTOM);
            lash.condition = i < count ? TCR_SUITABLE : TCR_BABY;
            const char id[] = {'a', (char)('a' + i), '\0'};
            expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
        }
        tcr_check *check = checked(set, NULL);
        const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
        tcr_symmetry symmetry;
        given("%d tips", count);
        /* Source: model.md, section 6: below 3 no line, below 12 too few. */
        expect_status(eye->fitted_status, count < 3 ? TCR_E_FEW : TCR_OK);
        expect_status(eye->intended_status, count == 0 ? TCR_E_FEW : TCR_OK);
        expect_count(eye->too_few, count < 12);
        expect_status(tcr_check_symmetry(check, &symmetry), TCR_E_MISSING);
        if (count < 2)
            expect_nan(eye->largest_gap_mm);
        expect_true(tcr_check_eye(check, TCR_RIGHT) == NULL);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(tips_above_one_place_have_no_fitted_line_and_that_is_no_failure) {
    tcr_set *set = NULL;
    const tcr_lash lash = tcr_lash_unknown(0.4, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, MAP, 4), TCR_OK);
    for (int i = 0; i < 4; i++) {
        const char id[] = {(char)('a' + i), '\0'};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    tcr_check *check = checked(set, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    expect_status(eye->fitted_status, TCR_E_ONE_X); /* source: model.md, section 6 */
    expect_status(eye->intended_status, TCR_OK);
    expect_same(eye->largest_gap_mm, 0.0, "all at one place");
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_check_only_reads_the_set) {
    tcr_set *set = make_set(NULL);
    const uint64_t before = tcr_set_digest(set);
    tcr_check *check = checked(set, NULL);
    expect_true(tcr_set_digest(set) == before);
    expect_true(tcr_check_set(check) == set);
    tcr_check_free(check);
    tcr_check_free(NULL);
    tcr_set_free(set);
}

CLAIM(without_memory_a_check_fails_and_leaks_nothing) {
    size_t at = 1;
    for (bool done = false; !done; at++) {
        tcr_counted counted = {0};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_set *set = make_set(&allocator);
        const size_t blocks = counted.blocks;
        tcr_check *check = NULL;
        counted.fail_at = counted.calls + at;
        const tcr_status status = tcr_check_new(set, NULL, &check, NULL);
        done = status == TCR_OK;
        given("memory ends at call %zu", at);
        expect_status(status, done ? TCR_OK : TCR_E_MEMORY);
        expect_true(done || check == NULL);
        tcr_check_free(check);
        expect_count(counted.blocks, blocks); /* source: what was taken is given back */
        tcr_set_free(set);
        expect_count(counted.blocks, 0);
    }
    ck_assert_int_gt((int)at, 6); /* lashes and columns of two eyes, and the check itself */
}

int main(void) {
    static const TTest *const claims[] = {
        &every_tip_stands_where_the_scalar_call_puts_it,
        &bare_lashes_have_a_reason_and_no_deviation,
        &evenness_is_that_of_the_tips_about_their_fitted_line,
        &the_intended_line_goes_through_the_mean_lashes_of_the_map,
        &the_intended_line_is_plain_where_a_change_of_curl_makes_its_tips_jump,
        &deviations_are_from_the_line_that_was_asked_for,
        &each_view_has_the_offsets_of_its_own_line,
        &a_view_of_its_own_replaces_the_sets,
        &two_eyes_have_the_symmetry_of_their_lines,
        &without_a_line_of_both_eyes_there_is_no_symmetry,
        &an_assumption_tells_what_one_unit_of_it_moves_a_tip_by,
        &few_tips_are_said_to_be_too_few_to_judge,
        &tips_above_one_place_have_no_fitted_line_and_that_is_no_failure,
        &a_check_only_reads_the_set,
        &without_memory_a_check_fails_and_leaks_nothing,
    };
    return RUN_CLAIMS("check", claims);
}
