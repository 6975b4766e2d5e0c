/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Droop: the linear rods of lash_rod.c in one posture, seen from one place (model.md, section 9).
 */
#include <math.h>

#include "geom/vector.h"
#include "model/lash_kernel.h"
#include "num/options.h"
#include "num/range.h"
#include "rod/lash_rod.h"

static const double BLINK = 3.0;               /* times the droop; assumed, size only */
static const double LINEAR_SHARE = 1.0 / 20.0; /* of the extension's length */

void tcr_weight_options_init(tcr_weight_options *options, size_t size) {
    const tcr_weight_options defaults = {.materials = tcr_materials_default(),
                                         .gravity = {0.0, -1.0, 0.0},
                                         .clamp_uNmm_rad = INFINITY,
                                         .what_if_clamp_uNmm_rad = 1000.0,
                                         .root_sd_mm = 0.01};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

static tcr_status options_check(const tcr_weight_options *o) {
    const bool fits = fabs(tcr_vec3_length(o->gravity) - 1.0) <= 1e-9 &&
                      tcr_within_degrees(o->viewer_rad, -80.0, 80.0) &&
                      tcr_within(o->clamp_uNmm_rad, 1.0, INFINITY) &&
                      tcr_within(o->what_if_clamp_uNmm_rad, 1.0, INFINITY) &&
                      tcr_within(o->root_sd_mm, 0.0, 0.05);
    return fits ? tcr_materials_validate(&o->materials, NULL) : TCR_E_RANGE;
}

/* Root diameters: as it is, thicker, thinner. A lash of a share of its final length has that share
 * of the spread (section 3, growth of the shape). */
static void set_roots(const tcr_lash *lash, double sd_mm, double root_mm[TCR_ROOTS]) {
    const bool is_young = lash->final_length_mm > lash->length_mm;
    const double sd = is_young ? sd_mm * (lash->length_mm / lash->final_length_mm) : sd_mm;
    root_mm[0] = lash->root_diameter_mm;
    root_mm[1] = lash->root_diameter_mm + sd;
    root_mm[2] = fmax(lash->root_diameter_mm - sd, lash->tip_diameter_mm);
}

/* How far a tip sinks in the view (section 5). */
static double droop_of(tcr_vec3 shift, double viewer_rad) {
    const tcr_sine_cosine viewer = tcr_sine_cosine_of(viewer_rad);
    return -(shift.y * viewer.cosine - shift.z * viewer.sine);
}

static void put_droops(tcr_weight *out, const tcr_rod rod[TCR_ROOTS], const tcr_stance *stance,
                       const tcr_weight_options *o, double length_mm) {
    const tcr_vec3 gravity = {tcr_vec3_dot(o->gravity, stance->along),
                              tcr_vec3_dot(o->gravity, stance->up),
                              tcr_vec3_dot(o->gravity, stance->out)};
    tcr_vec3 shift[TCR_ROOTS];
    double droop[TCR_ROOTS];
    for (int v = 0; v < TCR_ROOTS; v++) {
        shift[v] = tcr_stance_to_eye(stance, tcr_rod_shift(&rod[v], gravity, o->clamp_uNmm_rad));
        droop[v] = droop_of(shift[v], o->viewer_rad);
    }
    const tcr_vec3 soft = tcr_rod_shift(&rod[0], gravity, o->what_if_clamp_uNmm_rad);
    out->shift_mm = shift[0];
    out->shift_length_mm = tcr_vec3_length(shift[0]);
    out->droop_mm = droop[0];
    out->droop_thicker_mm = droop[1];
    out->droop_thinner_mm = droop[2];
    out->droop_blink_mm = BLINK * droop[0];
    out->droop_what_if_mm = droop_of(tcr_stance_to_eye(stance, soft), o->viewer_rad);
    const double largest = fmax(fmax(fabs(out->droop_blink_mm), fabs(out->droop_what_if_mm)),
                                fmax(fabs(droop[1]), fabs(droop[2])));
    out->is_linear = largest < LINEAR_SHARE * length_mm;
}

/* The weight of a lash whose arguments are valid. */
static tcr_weight weigh(const tcr_lash *lash, const tcr_stance *stance, tcr_worn worn,
                        const tcr_weight_options *o) {
    double root_mm[TCR_ROOTS];
    tcr_rod rod[TCR_ROOTS];
    set_roots(lash, o->root_sd_mm, root_mm);
    tcr_lash_rods(lash, worn, &o->materials, root_mm, rod);
    const tcr_first_moments first = tcr_first_moments_of(lash, worn, &o->materials);
    tcr_weight out = {.load = tcr_load_of(lash, stance, worn, &o->materials, &first)};
    out.moment_uNmm = tcr_vec3_cross(tcr_stance_to_eye(stance, first.all_uNmm), o->gravity);
    put_droops(&out, rod, stance, o, worn.ext == NULL ? lash->length_mm : worn.ext->length_mm);
    return out;
}

tcr_status tcr_weight_of(const tcr_lash *lash, const tcr_stance *stance, const tcr_extension *ext,
                         const tcr_bond *bond, const tcr_weight_options *options,
                         tcr_weight *weight) {
    tcr_weight_options o = tcr_weight_options_default();
    tcr_attachment attachment = {0};
    if (stance == NULL || weight == NULL || (ext == NULL) != (bond == NULL))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_options_take(&o, sizeof o, options);
    if (status == TCR_OK)
        status = options_check(&o);
    if (status == TCR_OK)
        status =
            ext == NULL ? tcr_lash_validate(lash, NULL) : tcr_attach(lash, ext, bond, &attachment);
    if (status == TCR_OK)
        status = tcr_stance_validate(stance);
    if (status != TCR_OK)
        return status;
    *weight = weigh(lash, stance, (tcr_worn){ext, bond, ext == NULL ? NULL : &attachment}, &o);
    return TCR_OK;
}

tcr_status tcr_check_weight(const tcr_check *check, tcr_side side, size_t lash,
                            tcr_weight *weight) {
    tcr_laden laden;
    if (weight == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_laden_of(check, side, lash, &laden);
    if (status != TCR_OK)
        return status;
    tcr_weight_options options = tcr_weight_options_default();
    options.viewer_rad = tcr_check_view(check).viewer_rad;
    /* The check has attached it, perhaps farther from the skin than a set's bond may lie. */
    const tcr_worn worn = {&laden.ext, &laden.bond, &laden.result->attachment};
    *weight = weigh(laden.lash, &laden.result->stance, worn, &options);
    return TCR_OK;
}

static void take_most(tcr_weight_most *most, const tcr_weight *weight, size_t lash) {
    if (most->lashes == 0 || fabs(weight->droop_mm) > most->droop_mm)
        most->lash = lash;
    most->lashes++;
    most->not_linear += !weight->is_linear;
    most->droop_mm = fmax(most->droop_mm, fabs(weight->droop_mm));
    most->droop_thinner_mm = fmax(most->droop_thinner_mm, fabs(weight->droop_thinner_mm));
    most->droop_blink_mm = fmax(most->droop_blink_mm, fabs(weight->droop_blink_mm));
    most->droop_what_if_mm = fmax(most->droop_what_if_mm, fabs(weight->droop_what_if_mm));
}

tcr_status tcr_check_weight_most(const tcr_check *check, tcr_side side, tcr_weight_most *most) {
    if (check == NULL || most == NULL)
        return TCR_E_ARGUMENT;
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (eye == NULL)
        return TCR_E_MISSING;
    tcr_weight_most found = {0};
    for (size_t i = 0; i < eye->lashes; i++) {
        tcr_weight weight;
        if (tcr_check_weight(check, side, i, &weight) == TCR_OK)
            take_most(&found, &weight, i);
    }
    if (found.lashes == 0)
        return TCR_E_FEW;
    *most = found;
    return TCR_OK;
}
