/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whether a lash bears a choice. A plan asks this of thousands of lashes with the same few choices:
 * what depends on the choice alone is kept from lash to lash, and what depends on the lash alone
 * from choice to choice. All of it is computed by what tcr_attach and tcr_limits_beyond compute it
 * by, in their order, so that results have the same bits.
 */
#include "plan/scratch.h"

#include <math.h>

#include "model/set_data.h"
#include "rod/limits.h"

/* ---- What is kept ------------------------------------------------------------------------------
 */

static bool is_same(const tcr_choice *a, const tcr_choice *b) {
    return a->length_mm == b->length_mm && a->curl == b->curl && a->diameter_mm == b->diameter_mm &&
           a->fan == b->fan && a->spread_rad == b->spread_rad;
}

/* A place for a choice: neighbouring lengths of a tray come to different ones. */
static size_t place_of(const tcr_choice *choice) {
    const size_t length = (size_t)(4.0 * choice->length_mm);
    const size_t diameter = (size_t)(1000.0 * choice->diameter_mm);
    return (length + 5 * choice->curl + 11 * (size_t)choice->fan + diameter) % TCR_KEPT_CHOICES;
}

/* A choice on a bond of a length. */
static tcr_kept_choice *keep_choice(const tcr_plan *plan, const tcr_choice *choice,
                                    double bond_mm) {
    tcr_kept_choice *kept = &plan->scratch->choice[place_of(choice)];
    if (!kept->known || !is_same(&kept->choice, choice)) {
        *kept = (tcr_kept_choice){
            .known = true, .choice = *choice, .ext = tcr_set_extension(plan->set, choice)};
        kept->fibre = tcr_fibre_of_extension(&kept->ext);
    }
    if (kept->parting.bond_mm != bond_mm) {
        kept->parting = tcr_parting_of(&kept->fibre, &kept->ext, bond_mm);
        kept->weighed = false;
        kept->on = 0;
    }
    kept->ext.placement = choice->placement;
    return kept;
}

/* A lash with a bond of a length. */
static tcr_kept_lash *keep_lash(const tcr_plan *plan, const tcr_lash *lash, const tcr_bond *bond,
                                double bond_mm) {
    tcr_kept_lash *kept = &plan->scratch->lash;
    if (kept->bed.bond_mm == bond_mm && kept->bed.offset_mm == bond->offset_mm &&
        kept->length_mm == lash->length_mm && kept->turn_rad == lash->turn_rad &&
        kept->root_diameter_mm == lash->root_diameter_mm &&
        kept->tip_diameter_mm == lash->tip_diameter_mm)
        return kept;
    *kept = (tcr_kept_lash){.number = kept->number + 1,
                            .length_mm = lash->length_mm,
                            .turn_rad = lash->turn_rad,
                            .root_diameter_mm = lash->root_diameter_mm,
                            .tip_diameter_mm = lash->tip_diameter_mm,
                            .bed = tcr_bond_bed_of(lash, bond->offset_mm, bond_mm)};
    return kept;
}

/*
 * The moments along a kept lash. Of an extension they depend on its diameter and on where it begins
 * to taper, and on its length only where that is under the bond.
 */
static void weigh(tcr_kept_lash *kept, const tcr_lash *lash, tcr_worn worn) {
    const double from = worn.bond->offset_mm, length = worn.ext->length_mm;
    const double to = fmin(from + worn.attachment->bond_mm, lash->length_mm);
    const double full = fmin(to, from + TCR_FIBRE_FULL_SHARE * length);
    const double tapered = (to - from) / length <= TCR_FIBRE_FULL_SHARE ? 0.0 : length;
    if (kept->weighed && kept->full_mm == full && kept->diameter_mm == worn.ext->diameter_mm &&
        kept->tapered_mm == tapered)
        return;
    tcr_bonded_moments(lash, worn, &kept->own, &kept->bonded);
    kept->full_mm = full;
    kept->diameter_mm = worn.ext->diameter_mm;
    kept->tapered_mm = tapered;
    kept->weighed = true;
}

/* How a choice leans on a lash; placements do not change it. */
static void lean(tcr_kept_choice *what, const tcr_kept_lash *on) {
    if (what->on == on->number)
        return;
    what->on = on->number;
    what->lean = tcr_lean_on(&on->bed, &what->ext, &what->fibre, &what->parting);
    if (!what->weighed)
        what->rest = tcr_free_moments(&what->ext, on->bed.bond_mm);
    what->weighed = true;
    what->rest_turned = tcr_turned(what->lean.part_rad, what->rest.first.x, what->rest.first.y);
}

/* ---- The calls ---------------------------------------------------------------------------------
 */

/* Whether the load is within the limits. */
static bool is_light(const tcr_limits *limits, const tcr_lash *lash, const tcr_stance *stance,
                     tcr_worn worn, tcr_kept_lash *on, const tcr_kept_choice *what) {
    const tcr_materials materials = tcr_materials_default();
    const tcr_moments rest = {what->rest.weight, what->rest_turned};
    weigh(on, lash, worn);
    const tcr_first_moments first =
        tcr_first_moments_by(&on->own, &on->bonded, &rest, worn, &materials);
    const tcr_load load = tcr_load_of(lash, stance, worn, &materials, &first);
    return tcr_limits_beyond_load(limits, &load) == 0;
}

bool tcr_plan_carries(const tcr_plan *plan, const tcr_lash *lash, const tcr_choice *choice,
                      tcr_sight *sight) {
    const tcr_limits *limits = &plan->options.limits;
    const bool weighs = tcr_limits_weigh(limits);
    if (tcr_limits_too_long(limits, lash, choice->length_mm))
        return false;
    const tcr_bond bond = tcr_set_bond_of(plan->set, choice);
    const double c = tcr_bond_length(lash, choice->length_mm, &bond);
    if (c < TCR_BOND_LEAST_MM)
        return false;
    tcr_kept_choice *what = keep_choice(plan, choice, c);
    tcr_kept_lash *on = keep_lash(plan, lash, &bond, c);
    lean(what, on);
    sight->attachment = tcr_attach_leaning(&on->bed, &what->ext, &what->fibre, &what->parting,
                                           &what->lean, bond.glue_mm);
    const tcr_worn worn = {&what->ext, &bond, &sight->attachment};
    return !weighs || is_light(limits, lash, &sight->stance, worn, on, what);
}

bool tcr_plan_bears(const tcr_plan *plan, tcr_side side, const tcr_lash *lash,
                    const tcr_choice *choice, tcr_sight *sight) {
    if (!tcr_plan_carries(plan, lash, choice, sight))
        return false;
    sight->tip = tcr_seat_point(&sight->seat, &sight->rooted.aim, sight->rooted.height_mm,
                                sight->attachment.tip);
    sight->seen = tcr_project(&plan->at[side], sight->tip);
    return true;
}
