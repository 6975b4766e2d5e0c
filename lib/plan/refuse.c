/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Why there is no plan: each reason with the member that is in the way, its place and its words.
 * Nothing else of the plan makes a message.
 */
#include "plan/refuse.h"

#include <math.h>
#include <stdio.h>
#include <tipcrest/field.h>
#include <tipcrest/line.h>

#include "model/set_data.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

/* ---- Options that are wrong ------------------------------------------------------------------ */

/* TCR_OK where a whole number of the options lies from 0 to most. */
static tcr_status count_up_to(tcr_error *error, const char *member, size_t count, size_t most) {
    return count <= most
               ? TCR_OK
               : tcr_error_range(error, TCR_E_ARGUMENT, member, (double)count, 0.0, (double)most);
}

/* What to choose from: how many, and each. */
static tcr_status check_choices(const tcr_set *set, const tcr_plan_options *o, tcr_error *error) {
    tcr_status status = count_up_to(error, "curls", o->curls, TCR_PLAN_CURLS_MAX);
    if (status == TCR_OK)
        status = count_up_to(error, "diameters", o->diameters, TCR_PLAN_DIAMETERS_MAX);
    if (status == TCR_OK)
        status = count_up_to(error, "fans", o->fans, TCR_PLAN_FANS_MAX);
    for (size_t i = 0; status == TCR_OK && i < o->curls; i++)
        status = count_up_to(error, "curl", o->curl[i], tcr_set_curl_count(set) - 1);
    bool willing = false;
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        willing = willing || o->placement[p];
    if (status == TCR_OK && !willing) {
        status =
            tcr_error_set(error, TCR_E_ARGUMENT, "placement allows none; it allows one at least");
        tcr_error_number(error, "placement", NAN, NAN, NAN);
    }
    return status;
}

/* A fan or diameter to choose from, by the field of an extension. */
static tcr_status check_worn(const char *key, double value, tcr_error *error) {
    const tcr_field *field = tcr_field_find(TCR_GROUP_EXTENSION, key);
    if (tcr_field_validate(field, value, NULL) == TCR_OK)
        return TCR_OK;
    return tcr_error_range(error, TCR_E_RANGE, key, value, field->file.least, field->file.most);
}

static tcr_status check_ranges(const tcr_plan_options *o, tcr_error *error) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; status == TCR_OK && i < o->fans; i++)
        status = check_worn("fan", o->fan[i], error);
    for (size_t i = 0; status == TCR_OK && i < o->diameters; i++)
        status = check_worn("diameter_mm", o->diameter_mm[i], error);
    if (status != TCR_OK)
        return status;
    if (!tcr_within(o->share, 0.05, 1.0))
        return tcr_error_range(error, TCR_E_RANGE, "share", o->share, 0.05, 1.0);
    if (!tcr_within(o->samples_share, 0.5, 1.0))
        return tcr_error_range(error, TCR_E_RANGE, "samples_share", o->samples_share, 0.5, 1.0);
    if (!tcr_within(o->free_mm, 0.0, 10.0))
        return tcr_error_range(error, TCR_E_RANGE, "free_mm", o->free_mm, 0.0, 10.0);
    if (!(o->zone_step_most_mm >= 0.0))
        return tcr_error_range(error, TCR_E_RANGE, "zone_step_most_mm", o->zone_step_most_mm, 0.0,
                               INFINITY);
    return tcr_fields_validate(TCR_GROUP_LIMITS, &o->limits, error);
}

tcr_status tcr_plan_check_options(const tcr_set *set, const tcr_plan_options *o, tcr_error *error) {
    tcr_status status = check_choices(set, o, error);
    if (status == TCR_OK && ((int)o->objective < 0 || o->objective > TCR_LEAST_MAXIMUM))
        status = tcr_error_range(error, TCR_E_ARGUMENT, "objective", (int)o->objective, 0.0,
                                 TCR_LEAST_MAXIMUM);
    if (status == TCR_OK)
        status = count_up_to(error, "samples", o->samples, TCR_SAMPLES_MAX);
    if (status == TCR_OK && o->samples > 0 && o->objective == TCR_LEAST_MAXIMUM &&
        o->free_mm > 0.0) {
        status = tcr_error_set(error, TCR_E_ARGUMENT,
                               "samples make the maximum least only for a line that is held; "
                               "free_mm is above 0");
        tcr_error_number(error, "free_mm", NAN, NAN, NAN);
    }
    return status == TCR_OK ? check_ranges(o, error) : status;
}

/* ---- No solution ----------------------------------------------------------------------------- */

/* Adds the cell that a message is about. */
static void name_cell(tcr_error *error, tcr_side side, size_t zone, tcr_layer layer) {
    if (error == NULL)
        return;
    error->side = (int)side;
    error->zone = zone;
    error->layer = (int)layer;
}

tcr_status tcr_plan_without_tray(tcr_error *error) {
    tcr_error_set(error, TCR_E_TRAY,
                  "the set has no tray (tray: any), and plan chooses from a tray; give its "
                  "lengths, such as tray: {lengths_mm: [8, 9, 10, 11, 12]}");
    tcr_error_number(error, "tray", NAN, NAN, NAN);
    return TCR_E_TRAY;
}

static tcr_status not_at_hand(const tcr_plan *plan, const tcr_plan_range *range, tcr_side side,
                              size_t zone, tcr_layer layer, tcr_error *error) {
    enum { HAS_SIZE = 160 };
    char diameter[TCR_NUMBER_SIZE], has[HAS_SIZE];
    const char *label = tcr_set_curl(plan->set, range->curl[0])->label;
    tcr_number_text(range->diameter_mm[0], diameter);
    tcr_tray_kinds_text(tcr_set_tray(plan->set), has, sizeof has);
    tcr_error_set(
        error, TCR_E_TRAY,
        "the %s layer in zone %zu of the %s eye is to have %s of %s mm, of which the tray "
        "has nothing; it has %s; change the map, the layering or the tray, or let plan "
        "choose among more curls or diameters",
        tcr_layer_text(layer), zone + 1, tcr_side_text(side), label, diameter, has);
    tcr_error_number(error, "tray", NAN, NAN, NAN);
    name_cell(error, side, zone, layer);
    return TCR_E_TRAY;
}

tcr_status tcr_plan_is_at_hand(const tcr_plan *plan, tcr_side side, tcr_error *error) {
    const tcr_set *set = plan->set;
    const tcr_zone *map = tcr_set_map(set, side, NULL);
    for (size_t i = 0; i < plan->eye[side].lashes; i++) {
        const tcr_lash *lash = tcr_set_lash(set, side, i);
        const size_t zone = tcr_set_zone_at(set, side, lash->u);
        if (lash->condition != TCR_SUITABLE || tcr_set_wish(set, side, i)->fixed != 0)
            continue;
        const tcr_wish *wish = &map[zone].layer[lash->layer];
        const tcr_plan_range range = tcr_plan_range_of(plan, &map[zone], lash->layer);
        if (tcr_plan_count_options(set, wish, &range) == 0)
            return not_at_hand(plan, &range, side, zone, lash->layer, error);
    }
    return TCR_OK;
}

static tcr_status without_lash(tcr_side side, tcr_error *error) {
    tcr_error_set(
        error, TCR_E_NO_SOLUTION,
        "no lash of the %s eye can carry an extension within the limits; look at its conditions, "
        "or widen the limits under plan in the set file",
        tcr_side_text(side));
    tcr_error_number(error, "lashes", NAN, NAN, NAN);
    if (error != NULL)
        error->side = (int)side;
    return TCR_E_NO_SOLUTION;
}

/* A limit that leaves lashes bare: what is said of it, and what would help. */
typedef struct bar {
    const char *member;
    char words[200];
    const char *help;
} bar;

/* Which limits of load leave too few: the first of as few as will do, length before mass before
 * moment. */
static bar load_bar(const tcr_plan *plan, tcr_side side) {
    static const unsigned SETS[] = {TCR_BEYOND_LENGTH,
                                    TCR_BEYOND_MASS,
                                    TCR_BEYOND_MOMENT,
                                    TCR_BEYOND_LENGTH | TCR_BEYOND_MASS,
                                    TCR_BEYOND_LENGTH | TCR_BEYOND_MOMENT,
                                    TCR_BEYOND_MASS | TCR_BEYOND_MOMENT,
                                    TCR_BEYOND_LENGTH | TCR_BEYOND_MASS | TCR_BEYOND_MOMENT};
    enum { SETS_COUNT = sizeof SETS / sizeof *SETS, LIMITS = 3 };
    const tcr_limits *limits = &plan->options.limits;
    const char *const names[LIMITS] = {"overlength_mm", "mass_ratio", "moment_ratio"};
    const double values[LIMITS] = {limits->overlength_mm, limits->mass_ratio, limits->moment_ratio};
    bar of = {.help = "thinner or fewer fibres, shorter lengths, or wider limits under plan in the "
                      "set file"};
    size_t k = 0, used = 0;
    while (k + 1 < SETS_COUNT && tcr_plan_count_without(plan, side, SETS[k]) < (size_t)TCR_TOO_FEW)
        k++;
    for (int i = 0; i < LIMITS; i++) {
        char value[TCR_NUMBER_SIZE];
        if ((SETS[k] & 1u << i) == 0)
            continue;
        tcr_number_text(values[i], value);
        of.member = of.member == NULL ? names[i] : of.member;
        used += (size_t)snprintf(of.words + used, sizeof of.words - used, "%s%s %s",
                                 used > 0 ? " and " : "", names[i], value);
    }
    return of;
}

static bar bar_of(const tcr_plan *plan, tcr_side side, tcr_use use) {
    const tcr_limits *limits = &plan->options.limits;
    char a[TCR_NUMBER_SIZE], b[TCR_NUMBER_SIZE];
    bar of = {.help = "other limits under plan in the set file"};
    switch (use) {
    case TCR_BARE_BABY:
        tcr_number_text(limits->baby_below_mm, a);
        tcr_number_text(limits->thin_below_mm, b);
        of.member = "baby_below_mm";
        snprintf(of.words, sizeof of.words, "baby_below_mm %s or thin_below_mm %s", a, b);
        return of;
    case TCR_BARE_STRAY:
        tcr_number_text(limits->stray_above_mm, a);
        tcr_number_text(tcr_degrees_of(limits->out_of_fan_rad), b);
        of.member = "stray_above_mm";
        snprintf(of.words, sizeof of.words, "stray_above_mm %s or out_of_fan_deg %s", a, b);
        return of;
    case TCR_BARE_BOND:
        tcr_number_text(tcr_set_bond(plan->set)->offset_mm, a);
        of.member = "offset_mm", of.help = "a bond nearer to the skin";
        snprintf(of.words, sizeof of.words, "offset_mm %s of the bond", a);
        return of;
    default:
        return load_bar(plan, side);
    }
}

tcr_status tcr_plan_has_enough(const tcr_plan *plan, tcr_side side, tcr_error *error) {
    const tcr_plan_eye *eye = &plan->eye[side];
    const size_t by_row = eye->uses[TCR_USED_BY_ROW], left = eye->suitable - by_row;
    const size_t to_plan =
        eye->lashes - by_row - eye->uses[TCR_BARE_ROW] - eye->uses[TCR_BARE_CONDITION];
    if (left >= TCR_TOO_FEW || to_plan < TCR_TOO_FEW)
        return left + by_row > 0 ? TCR_OK : without_lash(side, error);
    tcr_use most = TCR_BARE_BABY;
    for (int use = TCR_BARE_BABY; use < TCR_USES; use++)
        if (eye->uses[use] > eye->uses[most])
            most = (tcr_use)use;
    const bar of = bar_of(plan, side, most);
    tcr_error_set(
        error, TCR_E_NO_SOLUTION,
        "%zu of %zu suitable lashes of the %s eye %s left to plan, and a line needs %d; %zu stay "
        "bare by %s, and %s would leave more",
        left, to_plan, tcr_side_text(side), left == 1 ? "is" : "are", TCR_TOO_FEW, eye->uses[most],
        of.words, of.help);
    tcr_error_number(error, of.member, (double)left, TCR_TOO_FEW, NAN);
    if (error != NULL)
        error->side = (int)side;
    return TCR_E_NO_SOLUTION;
}

tcr_status tcr_plan_all_by_row(tcr_error *error) {
    tcr_error_set(error, TCR_E_NO_SOLUTION,
                  "there is nothing to plan: the survey says what each lash gets; empty the ext_ "
                  "columns of the lashes to plan");
    tcr_error_number(error, "rows", NAN, NAN, NAN);
    return TCR_E_NO_SOLUTION;
}

tcr_status tcr_plan_nothing_suits(tcr_side side, size_t zone, tcr_layer layer, tcr_error *error) {
    tcr_error_set(error, TCR_E_NO_SOLUTION,
                  "no length of the tray suits all lashes of the %s layer in zone %zu of the %s "
                  "eye; a larger overlength, more placements, diameters, fans or curls, a smaller "
                  "share, or wider limits under plan would leave a choice",
                  tcr_layer_text(layer), zone + 1, tcr_side_text(side));
    tcr_error_number(error, "limits", NAN, NAN, NAN);
    name_cell(error, side, zone, layer);
    return TCR_E_NO_SOLUTION;
}

tcr_status tcr_plan_too_many(tcr_side side, size_t zone, tcr_layer layer, size_t options,
                             tcr_error *error) {
    tcr_error_set(error, TCR_E_NO_SOLUTION,
                  "the %s layer in zone %zu of the %s eye has %zu options (lengths, curls, "
                  "diameters, fans and placements, each with each); plan takes at most %d, so "
                  "give fewer",
                  tcr_layer_text(layer), zone + 1, tcr_side_text(side), options,
                  TCR_PLAN_OPTIONS_MAX);
    tcr_error_number(error, "options", (double)options, 1.0, TCR_PLAN_OPTIONS_MAX);
    name_cell(error, side, zone, layer);
    return TCR_E_NO_SOLUTION;
}

tcr_status tcr_plan_tied(const tcr_plan_options *o, bool by_step, bool by_lengths,
                         tcr_error *error) {
    char step[TCR_NUMBER_SIZE];
    tcr_number_text(o->zone_step_most_mm, step);
    if (by_step && by_lengths)
        tcr_error_set(error, TCR_E_NO_SOLUTION,
                      "no choice keeps neighbouring zones within a step of %s mm, and none has at "
                      "most %zu lengths; a larger zone step and more lengths would leave one",
                      step, o->lengths_most);
    else if (by_step)
        tcr_error_set(error, TCR_E_NO_SOLUTION,
                      "no choice keeps neighbouring zones within a step of %s mm; a larger zone "
                      "step would leave one",
                      step);
    else
        tcr_error_set(error, TCR_E_NO_SOLUTION,
                      "no choice has at most %zu lengths; more lengths would leave one",
                      o->lengths_most);
    if (by_step)
        tcr_error_number(error, "zone_step_most_mm", o->zone_step_most_mm, NAN, NAN);
    else
        tcr_error_number(error, "lengths_most", (double)o->lengths_most, NAN, NAN);
    return TCR_E_NO_SOLUTION;
}

tcr_status tcr_plan_tied_by_placement(tcr_error *error) {
    tcr_error_set(error, TCR_E_NO_SOLUTION,
                  "with the placement that costs each layer least no choice keeps to the zone step "
                  "and the lengths; each zone's own placement would leave one");
    tcr_error_number(error, "same_placement", NAN, NAN, NAN);
    return TCR_E_NO_SOLUTION;
}
