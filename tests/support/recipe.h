/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_RECIPE_H
#define TCR_TESTS_SUPPORT_RECIPE_H

/* Sets drawn at random, each written down as a recipe, so that it can be built in several ways. */

#include <gsl/gsl_rng.h>

#include <tipcrest/set.h>

enum { TCR_RECIPE_LASHES = 160, TCR_RECIPE_ZONES = 6 };

typedef struct tcr_recipe_eye {
    bool present;
    tcr_lid lid;
    size_t zones, intended, lashes;
    tcr_zone zone[TCR_RECIPE_ZONES], meant[TCR_RECIPE_ZONES];
    tcr_lash lash[TCR_RECIPE_LASHES]; /* ids: n001, n002, ... */
    tcr_wish wish[TCR_RECIPE_LASHES];
} tcr_recipe_eye;

typedef struct tcr_recipe {
    char title[24];
    tcr_subject subject;
    tcr_layering layering;
    tcr_tray tray;
    tcr_bond bond;
    tcr_view view;
    double tolerance_mm;
    tcr_lash mean;
    tcr_profile curl; /* of the curl "X" */
    tcr_side first;
    tcr_recipe_eye eye[TCR_SIDES];
} tcr_recipe;

/* A recipe of one or two eyes with 3 to 160 lashes each. Most of its sets can be checked; a wish
 * for a lash that is too short to bond to makes some fail. */
void tcr_draw_recipe(gsl_rng *rng, tcr_recipe *recipe);

/* The set of a recipe, built by adding one thing after the other; the caller's to free. */
tcr_set *tcr_recipe_build(const tcr_recipe *recipe, const tcr_allocator *allocator);

/* Makes the set of one recipe that of another by changes: replaces, takes out, adds. */
void tcr_recipe_change(tcr_set *set, const tcr_recipe *to);

#endif
