/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns and rows of a check are the numbers of its results, and NaN where there is none. */
#include <tipcrest/column.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/limits.h>

#include "support/check.h"
#include "support/make.h"
#include "support/recipe.h"

enum { QUANTITIES_MOST = 200 };

static tcr_recipe recipe;

/* A random set that can be checked, and its check. */
static tcr_check *draw_check(gsl_rng *rng, const tcr_check_options *options, tcr_set **set) {
    tcr_check *check = NULL;
    for (;;) {
        tcr_draw_recipe(rng, &recipe);
        *set = tcr_recipe_build(&recipe, NULL);
        if (tcr_check_new(*set, options, &check, NULL) == TCR_OK)
            return check;
        tcr_set_free(*set);
    }
}

/* ---- The table ------------------------------------------------------------------------------- */

static bool ends_in(const char *name, const char *end) {
    const size_t a = strlen(name), b = strlen(end);
    return a >= b && strcmp(name + a - b, end) == 0;
}

CLAIM(names_are_unique_and_end_in_their_unit) {
    static const struct {
        const char *end;
        tcr_unit unit;
    } ends[] = {
        {"_mm", TCR_UNIT_MM},         {"_deg", TCR_UNIT_DEGREES},   {"_mg", TCR_UNIT_MG},
        {"_uNmm", TCR_UNIT_UNMM},     {"_ratio", TCR_UNIT_RATIO},   {"lashes", TCR_UNIT_COUNT},
        {"fan", TCR_UNIT_COUNT},      {"sizes", TCR_UNIT_COUNT},    {"u", TCR_UNIT_PLACE},
        {"extended", TCR_UNIT_COUNT}, {"tolerance", TCR_UNIT_SHARE}};
    size_t count;
    const tcr_quantity *all = tcr_quantities(&count);
    expect_true(tcr_quantities(NULL) == all && count > 60 && count < QUANTITIES_MOST);
    for (size_t i = 0; i < count; i++) {
        given("%s", all[i].name);
        expect_true(tcr_quantity_find(all[i].name) == &all[i]);
        tcr_unit unit = TCR_UNIT_NONE;
        for (size_t e = 0; e < sizeof ends / sizeof *ends && unit == TCR_UNIT_NONE; e++)
            if (ends_in(all[i].name, ends[e].end))
                unit = ends[e].unit;
        if (strstr(all[i].name, "layer_offset_mm") != NULL ||
            strstr(all[i].name, "shows_from_mm") != NULL)
            unit = TCR_UNIT_MM;
        expect_count(all[i].unit, unit);
        expect_true(strlen(all[i].note) > 0);
        const bool has_words = all[i].kind == TCR_KIND_BOOL || all[i].kind == TCR_KIND_ENUM;
        expect_true(has_words == (all[i].words != NULL)); /* source: column.h */
    }
    expect_true(tcr_quantity_find("rms") == NULL && tcr_quantity_find(NULL) == NULL &&
                tcr_quantity_find("") == NULL);
}

/* ---- Values ---------------------------------------------------------------------------------- */

/* The names that were compared, so that none is left out. */
static bool compared[QUANTITIES_MOST];

static double number_of(const tcr_check *check, tcr_side side, size_t lash, const char *name) {
    const tcr_quantity *quantity = tcr_quantity_find(name);
    double value = 7.0;
    given("%s of lash %zu", name, lash);
    ck_assert(quantity != NULL);
    compared[quantity - tcr_quantities(NULL)] = true;
    expect_status(tcr_check_row(check, side, lash, quantity, &value, 1), TCR_OK);
    return value;
}

/* The same double, or both not finite: a column has NaN for a ratio that is infinite. */
#define EXPECT(name, expression)                                                                   \
    do {                                                                                           \
        const double got = number_of(check, eye->side, i, name), expected = expression;            \
        if (isfinite(expected))                                                                    \
            expect_same(got, expected, "no arithmetic");                                           \
        else                                                                                       \
            expect_nan(got);                                                                       \
    } while (0)

static void expect_lash(const tcr_check *check, const tcr_eye_result *eye, size_t i) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash *lash = tcr_set_lash(set, eye->side, i);
    const tcr_lash_result *r = &eye->lash[i];
    const bool worn = r->status == TCR_OK;
    tcr_weight weight = {0};
    const tcr_load *load = &weight.load;
    expect_status(tcr_check_weight(check, eye->side, i, &weight), r->status);
    /* Source: check.h, load.h: the members of the same names. */
    EXPECT("layer", lash->layer);
    EXPECT("u", lash->u);
    EXPECT("condition", lash->condition);
    EXPECT("ext_length_mm", worn ? r->choice.length_mm : NAN);
    EXPECT("ext_curl", worn ? (double)r->choice.curl : (double)NAN);
    EXPECT("ext_diameter_mm", worn ? r->choice.diameter_mm : NAN);
    EXPECT("ext_placement", worn ? (double)r->choice.placement : (double)NAN);
    EXPECT("ext_fan", worn ? r->choice.fan : (double)NAN);
    EXPECT("root_x_mm", r->stance.root.x);
    EXPECT("root_y_mm", r->stance.root.y);
    EXPECT("root_z_mm", r->stance.root.z);
    EXPECT("tip_x_mm", r->tip.x);
    EXPECT("tip_y_mm", r->tip.y);
    EXPECT("tip_z_mm", r->tip.z);
    EXPECT("seen_x_mm", r->seen.x);
    EXPECT("seen_y_mm", r->seen.y);
    EXPECT("line_mm", r->line_mm);
    EXPECT("deviation_mm", r->deviation_mm);
    EXPECT("across_mm", r->across_mm);
    EXPECT("staggered", r->staggered ? 1.0 : 0.0);
    EXPECT("remedy_length_mm", r->staggered ? r->remedy.length_mm : NAN);
    EXPECT("remedy_deviation_mm", r->staggered ? r->remedy.deviation_mm : NAN);
    const bool has_sizes = r->staggered && tcr_set_tray(set)->count > 0;
    EXPECT("remedy_sizes", has_sizes ? r->remedy.sizes : (double)NAN);
    EXPECT("extension_mass_mg", worn ? load->extension_mass_mg : NAN);
    EXPECT("natural_mass_mg", worn ? load->natural_mass_mg : NAN);
    EXPECT("mass_ratio", worn ? load->mass_ratio : NAN);
    EXPECT("root_moment_uNmm", worn ? load->root_moment_uNmm : NAN);
    EXPECT("natural_moment_uNmm", worn ? load->natural_moment_uNmm : NAN);
    EXPECT("moment_ratio", worn ? load->moment_ratio : NAN);
    EXPECT("droop_mm", worn ? weight.droop_mm : NAN);
    EXPECT("shift_mm", worn ? weight.shift_length_mm : NAN);
    EXPECT("droop_thicker_mm", worn ? weight.droop_thicker_mm : NAN);
    EXPECT("droop_thinner_mm", worn ? weight.droop_thinner_mm : NAN);
    EXPECT("droop_blink_mm", worn ? weight.droop_blink_mm : NAN);
    EXPECT("droop_what_if_mm", worn ? weight.droop_what_if_mm : NAN);
    EXPECT("linear", worn ? (double)weight.is_linear : (double)NAN);
    EXPECT("status", r->status);
    EXPECT("bond_mm", worn ? r->attachment.bond_mm : NAN);
    const double spread = number_of(check, eye->side, i, "ext_spread_deg");
    if (worn)
        expect_near(spread, r->choice.spread_rad / tcr_degrees(1.0), 1e-12,
                    "degrees are rounded to the fewest digits that give the same radians");
    else
        expect_nan(spread);
}

static void expect_line(const tcr_check *check, const tcr_eye_result *eye, const char *line,
                        tcr_status status, const tcr_evenness *e) {
    static const char *const layers[] = {"bottom", "middle", "top"};
    const size_t i = SIZE_MAX; /* of an eye: not read */
    const bool has = status == TCR_OK;
    char name[64];
    const struct {
        const char *name;
        double expected;
    } figures[] = {
        {"lashes", (double)e->lashes},
        {"rms_mm", e->upright.rms_mm},
        {"mean_abs_mm", e->upright.mean_abs_mm},
        {"p95_abs_mm", e->upright.p95_abs_mm},
        {"max_abs_mm", e->upright.max_abs_mm},
        {"tolerance_mm", e->tolerance_mm},
        {"within_tolerance", e->within_tolerance},
        {"across_rms_mm", e->across.rms_mm},
        {"across_mean_abs_mm", e->across.mean_abs_mm},
        {"across_p95_abs_mm", e->across.p95_abs_mm},
        {"across_max_abs_mm", e->across.max_abs_mm},
    };
    for (size_t k = 0; k < sizeof figures / sizeof *figures; k++) {
        (void)snprintf(name, sizeof name, "%s.%s", line, figures[k].name);
        EXPECT(name, has ? figures[k].expected : NAN);
    }
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        (void)snprintf(name, sizeof name, "%s.layer_offset_mm.%s", line, layers[layer]);
        EXPECT(name, has ? e->layer_offset_mm[layer] : NAN);
    }
}

static void expect_eye(const tcr_check *check, const tcr_eye_result *eye) {
    static const char *const layers[] = {"bottom", "middle", "top"};
    static const char *const views[] = {"open_front", "closed_front", "artist"};
    const size_t i = SIZE_MAX;
    expect_line(check, eye, "fitted", eye->fitted_status, &eye->fitted);
    expect_line(check, eye, "intended", eye->intended_status, &eye->intended);
    EXPECT("lashes", (double)eye->lashes);
    EXPECT("extended", (double)eye->extended);
    EXPECT("staggered_lashes", (double)eye->staggered);
    EXPECT("largest_gap_mm", eye->largest_gap_mm);
    EXPECT("too_few", eye->too_few ? 1.0 : 0.0);
    EXPECT("verdict", (double)eye->verdict);
    for (int view = 0; view < TCR_VIEWS; view++)
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            char name[64];
            (void)snprintf(name, sizeof name, "views.%s.layer_offset_mm.%s", views[view],
                           layers[layer]);
            EXPECT(name, eye->view_offset_mm[view][layer]);
            (void)snprintf(name, sizeof name, "views.%s.shows_from_mm.%s", views[view],
                           layers[layer]);
            EXPECT(name, eye->view_shows_from_mm[view][layer]);
        }
}

CLAIM(every_quantity_is_the_number_of_the_result) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int round = 0; round < 60; round++) {
        tcr_set *set;
        tcr_check_options options = tcr_check_options_default();
        options.against = (tcr_against)(round % 2);
        tcr_check *check = draw_check(rng, &options, &set);
        const tcr_eye_result *eye = tcr_check_eye(check, recipe.first);
        for (size_t i = 0; i < eye->lashes; i++)
            expect_lash(check, eye, i);
        expect_eye(check, eye);
        tcr_check_free(check);
        tcr_set_free(set);
    }
    size_t count;
    const tcr_quantity *all = tcr_quantities(&count);
    for (size_t q = 0; q < count; q++) {
        given("%s", all[q].name);
        expect_true(compared[q]); /* a new quantity takes a line above */
    }
    gsl_rng_free(rng);
}

CLAIM(columns_are_the_rows_read_downwards) {
    gsl_rng *rng = tcr_make_rng(2);
    size_t count, of_lash = 0;
    const tcr_quantity *all = tcr_quantities(&count);
    while (all[of_lash].owner == TCR_OWNER_LASH)
        of_lash++;
    for (int round = 0; round < 20; round++) {
        static double row[TCR_RECIPE_LASHES][QUANTITIES_MOST], column[TCR_RECIPE_LASHES];
        double of_eye[QUANTITIES_MOST];
        tcr_set *set;
        tcr_check *check = draw_check(rng, NULL, &set);
        const tcr_side side = recipe.first;
        const size_t lashes = tcr_set_lash_count(set, side);
        for (size_t i = 0; i < lashes; i++)
            expect_status(tcr_check_row(check, side, i, all, row[i], of_lash), TCR_OK);
        expect_status(tcr_check_row(check, side, 0, all + of_lash, of_eye, count - of_lash),
                      TCR_OK);
        for (size_t q = 0; q < count; q++) {
            const size_t n = q < of_lash ? lashes : 1;
            given("%s", all[q].name);
            expect_status(tcr_check_column(check, side, &all[q], column, n), TCR_OK);
            for (size_t i = 0; i < n; i++)
                expect_same(column[i], q < of_lash ? row[i][q] : of_eye[q - of_lash],
                            "the same operations");
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

/* The number of lash i of a column in place. */
static double number_at(const tcr_quantity *q, const void *first, size_t stride, size_t i) {
    const void *at = (const char *)first + i * stride;
    return q->kind == TCR_KIND_DOUBLE ? *(const double *)at
           : q->kind == TCR_KIND_BOOL ? *(const bool *)at
                                      : *(const int *)at;
}

CLAIM(columns_in_place_have_the_numbers_of_columns) {
    gsl_rng *rng = tcr_make_rng(5);
    size_t count, of_lash = 0, in_place = 0;
    const tcr_quantity *all = tcr_quantities(&count);
    tcr_check_options options = tcr_check_options_default();
    while (all[of_lash].owner == TCR_OWNER_LASH)
        of_lash++;
    for (options.parts = 0; options.parts <= TCR_PART_ALL; options.parts++) {
        static double column[TCR_RECIPE_LASHES];
        tcr_set *set;
        tcr_check *check = draw_check(rng, &options, &set);
        const tcr_side side = recipe.first;
        const size_t lashes = tcr_set_lash_count(set, side);
        in_place = 0;
        for (size_t q = 0; q < of_lash; q++) {
            const void *first = &column;
            size_t stride = 7;
            given("parts %u, %s", options.parts, all[q].name);
            const tcr_status status =
                tcr_check_column_in_place(check, side, &all[q], &first, &stride);
            if (status != TCR_OK) {
                expect_status(status, TCR_E_MISSING);
                expect_true(first == &column && stride == 7); /* unchanged */
                continue;
            }
            in_place++;
            expect_status(tcr_check_column(check, side, &all[q], column, lashes), TCR_OK);
            for (size_t i = 0; i < lashes; i++)
                expect_same(number_at(&all[q], first, stride, i), column[i], "the same number");
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    /* layer, u, condition; roots, tips and the tip as seen; line_mm, deviation_mm, across_mm;
     * staggered; two of the remedy; status. Counted by hand. */
    expect_count(in_place, 3 + 3 + 3 + 2 + 3 + 1 + 2 + 1);
    gsl_rng_free(rng);
}

CLAIM(quantities_of_parts_that_were_not_computed_are_nan) {
    gsl_rng *rng = tcr_make_rng(3);
    tcr_check_options options = tcr_check_options_default();
    for (options.parts = 0; options.parts <= TCR_PART_ALL; options.parts++) {
        tcr_set *set;
        tcr_check *check = draw_check(rng, &options, &set);
        size_t count;
        const tcr_quantity *all = tcr_quantities(&count);
        const tcr_eye_result *eye = tcr_check_eye(check, recipe.first);
        for (size_t q = 0; q < count; q++) {
            static double column[TCR_RECIPE_LASHES];
            const size_t n = all[q].owner == TCR_OWNER_LASH ? eye->lashes : 1;
            given("parts %u, %s", options.parts, all[q].name);
            expect_status(tcr_check_column(check, recipe.first, &all[q], column, n), TCR_OK);
            if (all[q].part != 0 && all[q].part != TCR_PART_LOADS &&
                !(tcr_check_parts(check) & all[q].part))
                for (size_t i = 0; i < n; i++)
                    expect_nan(column[i]); /* source: column.h */
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

CLAIM(wrong_calls_are_refused_and_leave_the_values) {
    gsl_rng *rng = tcr_make_rng(4);
    tcr_set *set;
    tcr_check *check = draw_check(rng, NULL, &set);
    while (tcr_set_eyes(set, NULL) == 2) {
        tcr_check_free(check);
        tcr_set_free(set);
        check = draw_check(rng, NULL, &set);
    }
    const tcr_side side = recipe.first, other = side == TCR_LEFT ? TCR_RIGHT : TCR_LEFT;
    const size_t n = tcr_set_lash_count(set, side);
    const tcr_quantity *of_lash = tcr_quantity_find("tip_x_mm"),
                       *of_eye = tcr_quantity_find("fitted.rms_mm"), own = *of_lash;
    static double values[TCR_RECIPE_LASHES];
    memset(values, 0, sizeof values);
    /* Source: column.h. */
    expect_status(tcr_check_column(NULL, side, of_lash, values, n), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, side, NULL, values, n), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, side, &own, values, n), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, side, of_lash, NULL, n), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, side, of_lash, values, n - 1), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, side, of_lash, values, n + 1), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, side, of_eye, values, n), TCR_E_ARGUMENT);
    expect_status(tcr_check_column(check, other, of_lash, values, n), TCR_E_MISSING);
    const void *first;
    size_t stride;
    expect_status(tcr_check_column_in_place(NULL, side, of_lash, &first, &stride), TCR_E_ARGUMENT);
    expect_status(tcr_check_column_in_place(check, side, NULL, &first, &stride), TCR_E_ARGUMENT);
    expect_status(tcr_check_column_in_place(check, side, &own, &first, &stride), TCR_E_ARGUMENT);
    expect_status(tcr_check_column_in_place(check, side, of_eye, &first, &stride), TCR_E_ARGUMENT);
    expect_status(tcr_check_column_in_place(check, side, of_lash, NULL, &stride), TCR_E_ARGUMENT);
    expect_status(tcr_check_column_in_place(check, side, of_lash, &first, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_column_in_place(check, other, of_lash, &first, &stride), TCR_E_MISSING);
    expect_status(tcr_check_row(NULL, side, 0, of_lash, values, 1), TCR_E_ARGUMENT);
    expect_status(tcr_check_row(check, side, n, of_lash, values, 1), TCR_E_MISSING);
    expect_status(tcr_check_row(check, other, 0, of_lash, values, 1), TCR_E_MISSING);
    expect_status(tcr_check_row(check, side, 0, of_lash, values, QUANTITIES_MOST), TCR_E_ARGUMENT);
    const size_t past = (size_t)(of_eye - of_lash) + 1; /* from a lash's into an eye's */
    expect_status(tcr_check_row(check, side, 0, of_lash, values, past), TCR_E_ARGUMENT);
    for (size_t i = 0; i < n; i++)
        expect_same(values[i], 0.0, "untouched");
    expect_status(tcr_check_row(check, side, 0, of_lash, values, 0), TCR_OK);
    tcr_check_free(check);
    tcr_set_free(set);
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &names_are_unique_and_end_in_their_unit,
        &every_quantity_is_the_number_of_the_result,
        &columns_are_the_rows_read_downwards,
        &columns_in_place_have_the_numbers_of_columns,
        &quantities_of_parts_that_were_not_computed_are_nan,
        &wrong_calls_are_refused_and_leave_the_values,
    };
    return RUN_CLAIMS("column", claims);
}
