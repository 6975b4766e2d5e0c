/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/recipe.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

static size_t below(gsl_rng *rng, size_t n) {
    return (size_t)gsl_rng_uniform_int(rng, (unsigned long)n);
}

/* What a row or a layer of a zone fixes: mostly nothing. */
static tcr_wish draw_wish(gsl_rng *rng, const tcr_tray *tray, bool row) {
    tcr_wish wish = {0};
    if (gsl_rng_uniform(rng) < 0.8)
        return wish;
    wish = (tcr_wish){
        .fixed = (unsigned)below(rng, TCR_FIX_BARE),
        .length_mm = tray->count > 0 ? tray->length_mm[below(rng, tray->count)] : 11.0,
        .curl = "X",
        .diameter_mm = tcr_draw_between(rng, 0.03, 0.3),
        .fan = 1 + (int)below(rng, 6),
        .spread_rad = tcr_draw_between(rng, 0.0, 1.0),
        .placement = (tcr_placement)below(rng, TCR_PLACEMENTS),
        .from_skin_mm = tcr_draw_between(rng, 0.0, 2.0),
    };
    if (row && below(rng, 3) == 0)
        wish.fixed |= TCR_FIX_FROM_SKIN;
    if (row && below(rng, 6) == 0)
        wish.fixed |= TCR_FIX_BARE;
    return tcr_only_fixed(&wish);
}

static size_t draw_zones(gsl_rng *rng, const tcr_tray *tray, tcr_zone *zone) {
    static const char *const curls[] = {"C", "D", "L", "M", "X"};
    const size_t count = 1 + below(rng, TCR_RECIPE_ZONES);
    for (size_t z = 0; z < count; z++) {
        zone[z] = (tcr_zone){.to = (double)(z + 1) / (double)count};
        zone[z].length_mm = 8.0 + (double)below(rng, 7); /* in each tray, and so less two steps */
        memcpy(zone[z].curl, curls[below(rng, 5)], 2);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            zone[z].layer[layer] = draw_wish(rng, tray, false);
    }
    return count;
}

/* Makes some numbers of a lash unknown. */
static void forget(gsl_rng *rng, tcr_lash *lash) {
    double *const numbers[] = {&lash->height_mm, &lash->pitch_rad, &lash->yaw_rad, &lash->roll_rad,
                               &lash->turn_rad};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        if (below(rng, 2) == 0)
            *numbers[i] = NAN;
}

static void draw_eye(gsl_rng *rng, tcr_side side, const tcr_tray *tray, tcr_recipe_eye *eye) {
    tcr_description d = tcr_description_default();
    eye->present = true;
    eye->lid = below(rng, 3) == 0 ? tcr_lid_default() : tcr_draw_lid(rng);
    eye->zones = draw_zones(rng, tray, eye->zone);
    eye->intended = below(rng, 2) == 0 ? draw_zones(rng, tray, eye->meant) : 0;
    eye->lashes = 3 + below(rng, TCR_RECIPE_LASHES - 2);
    d.count = eye->lashes;
    d.seed = gsl_rng_get(rng);
    for (size_t i = 0; i < eye->lashes; i++) {
        expect_status(tcr_describe_lash(&d, (uint32_t)side, (uint32_t)i, &eye->lash[i]), TCR_OK);
        forget(rng, &eye->lash[i]);
        eye->wish[i] = draw_wish(rng, tray, true);
        if (eye->lash[i].length_mm < 4.0) /* most lashes can be bonded */
            eye->wish[i] = (tcr_wish){0};
    }
}

static tcr_tray draw_tray(gsl_rng *rng) {
    tcr_tray tray = {.count = 0};
    switch (below(rng, 3)) {
    case 0:
        return tray;
    case 1:
        return tcr_tray_default();
    default:
        for (tray.count = 0; tray.count < 31; tray.count++)
            tray.length_mm[tray.count] = 5.0 + 0.5 * (double)tray.count;
        return tray;
    }
}

void tcr_draw_recipe(gsl_rng *rng, tcr_recipe *recipe) {
    memset(recipe, 0, sizeof *recipe);
    (void)snprintf(recipe->title, sizeof recipe->title, "set %lu", gsl_rng_get(rng));
    recipe->subject = (tcr_subject)below(rng, 2);
    recipe->layering = tcr_layering_default();
    recipe->layering.step_mm = 0.5 * (double)below(rng, 3);
    recipe->layering.blend = below(rng, 2) == 0;
    recipe->tray = draw_tray(rng);
    if (recipe->tray.count == 16)
        recipe->layering.step_mm = (double)below(rng, 3);
    recipe->bond = below(rng, 2) == 0 ? tcr_bond_default() : (tcr_bond){0.5, 2.5, 0.02};
    recipe->view = tcr_view_named((tcr_named_view)below(rng, TCR_VIEWS));
    recipe->tolerance_mm = tcr_draw_between(rng, 0.2, 1.5);
    recipe->mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    if (below(rng, 2) == 0)
        recipe->mean.length_mm = tcr_draw_between(rng, 1.5, 9.0); /* may be too short to bond */
    recipe->curl = tcr_draw_profile(rng, 0.0, 40.0);
    recipe->first = (tcr_side)below(rng, TCR_SIDES);
    draw_eye(rng, recipe->first, &recipe->tray, &recipe->eye[recipe->first]);
    const tcr_side other = recipe->first == TCR_LEFT ? TCR_RIGHT : TCR_LEFT;
    if (below(rng, 2) == 0)
        draw_eye(rng, other, &recipe->tray, &recipe->eye[other]);
}

static void give_rules(tcr_set *set, const tcr_recipe *r) {
    const tcr_curl curl = {"X", 1, NULL, &r->curl};
    expect_status(tcr_set_put_title(set, r->title), TCR_OK);
    expect_status(tcr_set_put_subject(set, r->subject), TCR_OK);
    expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
    expect_status(tcr_set_put_layering(set, &r->layering), TCR_OK);
    expect_status(tcr_set_put_tray(set, &r->tray), TCR_OK);
    expect_status(tcr_set_put_bond(set, &r->bond), TCR_OK);
    expect_status(tcr_set_put_view(set, &r->view), TCR_OK);
    expect_status(tcr_set_put_tolerance(set, r->tolerance_mm), TCR_OK);
    expect_status(tcr_set_put_mean_lash(set, &r->mean), TCR_OK);
}

static void give_maps(tcr_set *set, tcr_side side, const tcr_recipe_eye *eye) {
    expect_status(tcr_set_put_map(set, side, eye->zone, eye->zones), TCR_OK);
    expect_status(
        tcr_set_put_intended(set, side, eye->intended > 0 ? eye->meant : NULL, eye->intended),
        TCR_OK);
}

static void add_eye(tcr_set *set, tcr_side side, const tcr_recipe_eye *eye) {
    expect_status(tcr_set_add_eye(set, side, &eye->lid), TCR_OK);
    give_maps(set, side, eye);
    for (size_t i = 0; i < eye->lashes; i++) {
        char id[24];
        (void)snprintf(id, sizeof id, "n%03zu", i + 1);
        expect_status(tcr_set_add_lash(set, side, id, &eye->lash[i], &eye->wish[i]), TCR_OK);
    }
}

tcr_set *tcr_recipe_build(const tcr_recipe *recipe, const tcr_allocator *allocator) {
    tcr_set *set = NULL;
    expect_status(tcr_set_new(allocator, &set), TCR_OK);
    give_rules(set, recipe);
    for (int k = 0; k < TCR_SIDES; k++) {
        const tcr_side side = (tcr_side)(((int)recipe->first + k) % TCR_SIDES);
        if (recipe->eye[side].present)
            add_eye(set, side, &recipe->eye[side]);
    }
    return set;
}

/* An eye that is there: what it has is replaced, what it lacks is added in one call. */
static void change_eye(tcr_set *set, tcr_side side, const tcr_recipe_eye *eye) {
    if (tcr_set_lash_count(set, side) > eye->lashes) {
        expect_status(tcr_set_remove_eye(set, side), TCR_OK);
        expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    }
    const size_t had = tcr_set_lash_count(set, side);
    expect_status(tcr_set_replace_lid(set, side, &eye->lid), TCR_OK);
    give_maps(set, side, eye);
    for (size_t i = 0; i < had; i++) {
        expect_status(tcr_set_replace_lash(set, side, i, &eye->lash[i]), TCR_OK);
        expect_status(tcr_set_replace_wish(set, side, i, &eye->wish[i]), TCR_OK);
    }
    expect_status(
        tcr_set_add_lashes(set, side, eye->lashes - had, NULL, eye->lash + had, eye->wish + had),
        TCR_OK);
}

void tcr_recipe_change(tcr_set *set, const tcr_recipe *to) {
    const tcr_side first = to->first, second = first == TCR_LEFT ? TCR_RIGHT : TCR_LEFT;
    tcr_side sides[TCR_SIDES] = {first};
    (void)tcr_set_eyes(set, sides);
    give_rules(set, to);
    /* An eye that is added again stands behind the other: then the second has to follow. */
    const bool reordered =
        sides[0] == second || tcr_set_lash_count(set, first) > to->eye[first].lashes;
    if (tcr_set_has_eye(set, second) && (!to->eye[second].present || reordered))
        expect_status(tcr_set_remove_eye(set, second), TCR_OK);
    if (!tcr_set_has_eye(set, first))
        expect_status(tcr_set_add_eye(set, first, NULL), TCR_OK);
    change_eye(set, first, &to->eye[first]);
    if (!to->eye[second].present)
        return;
    if (!tcr_set_has_eye(set, second))
        expect_status(tcr_set_add_eye(set, second, NULL), TCR_OK);
    change_eye(set, second, &to->eye[second]);
}
