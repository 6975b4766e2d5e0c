/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Masses and root moments: closed forms and GSL's integration. */
#include <tipcrest/load.h>

#include <math.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_math.h>

#include "support/check.h"
#include "support/make.h"

static const double UN_PER_MG = 9.80665; /* model.md, section 1 */

/* A lash on end, level along x or any other way, not on a lid. */
static const tcr_stance LEVEL = {{3.0, -2.0, 9.0}, {1, 0, 0}, {0, 1, 0}, {0, 0, -1}};
static const tcr_stance HANGING = {{3.0, -2.0, 9.0}, {0, -1, 0}, {1, 0, 0}, {0, 0, 1}};

static tcr_load bare_load(const tcr_lash *lash, const tcr_stance *stance) {
    tcr_weight weight;
    expect_status(tcr_weight_of(lash, stance, NULL, NULL, NULL, &weight), TCR_OK);
    return weight.load;
}

static tcr_load load_with(const tcr_lash *lash, const tcr_stance *stance, const tcr_extension *ext,
                          tcr_attachment *a) {
    const tcr_bond bond = tcr_bond_default();
    tcr_weight weight;
    expect_status(tcr_attach(lash, ext, &bond, a), TCR_OK);
    expect_status(tcr_weight_of(lash, stance, ext, &bond, NULL, &weight), TCR_OK);
    return weight.load;
}

static double integral(double (*f)(double, void *), void *p, double from, double to) {
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(1000);
    gsl_function function = {f, p};
    double value, error;
    (void)gsl_integration_qag(&function, from, to, 0.0, 1e-12, 1000, GSL_INTEG_GAUSS61, space,
                              &value, &error);
    gsl_integration_workspace_free(space);
    return value;
}

static double natural_section(double s, void *lash) {
    const double d = tcr_lash_diameter(lash, s);
    return M_PI / 4.0 * d * d;
}

/* Full over the first half, then linear to a tenth at the tip: model.md, section 9. */
static double fibre_section(double s, void *p) {
    const tcr_extension *ext = p;
    const double half = ext->length_mm / 2.0;
    const double d = ext->diameter_mm * (s < half ? 1.0 : 1.0 - 0.9 * (s - half) / half);
    return M_PI / 4.0 * d * d;
}

CLAIM(the_natural_mass_is_that_of_a_cone_cut_off) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    /* Source: GSL over the taper; 1320 kg/m3 (Robbins), 1 mm3 of 1000 kg/m3 weighs 1 mg. */
    double volume = integral(natural_section, &lash, 0.0, 7.5);
    expect_near(bare_load(&lash, &LEVEL).natural_mass_mg, 1.32 * volume, 1e-15,
                "relative 1e-12 of 0.02 mg");
    lash.tip_diameter_mm = 0.0; /* a whole cone: closed form, pi/12 d^2 L */
    expect_near(bare_load(&lash, &LEVEL).natural_mass_mg, 1.32 * M_PI / 12.0 * 0.0064 * 7.5, 1e-17,
                "rounding of 0.02 mg");
    lash.tip_diameter_mm = lash.root_diameter_mm; /* a cylinder: closed form */
    expect_near(bare_load(&lash, &LEVEL).natural_mass_mg, 1.32 * M_PI / 4.0 * 0.0064 * 7.5, 1e-16,
                "rounding of 0.05 mg");
}

CLAIM(the_extensions_mass_is_that_of_its_taper_times_its_fibres) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    tcr_attachment a;
    const double volume =
        integral(fibre_section, &ext, 0.0, 6.0) + integral(fibre_section, &ext, 6.0, 12.0);
    /* Source: GSL over the taper; 1310 kg/m3. Closed form too: (1/2 + 1.11/6) of the cylinder. */
    const double one = load_with(&lash, &LEVEL, &ext, &a).extension_mass_mg;
    expect_near(one, 1.31 * volume, 1e-12, "relative 1e-12 of 0.2 mg");
    expect_near(one, 1.31 * M_PI / 4.0 * 0.0225 * 12.0 * (0.5 + 1.11 / 6.0), 1e-15,
                "rounding of 0.2 mg");
    ext.fan = 7;
    expect_near(load_with(&lash, &LEVEL, &ext, &a).extension_mass_mg, 7.0 * one, 1e-14,
                "rounding of 1 mg");
}

CLAIM(mass_grows_with_the_square_of_the_diameter) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    tcr_extension thin = tcr_make_extension("C", 12.0, TCR_ON_TOP), thick = thin;
    tcr_attachment a;
    thin.diameter_mm = 0.07;
    thick.diameter_mm = 0.14;
    /* Source: closed form. */
    expect_near(load_with(&lash, &LEVEL, &thick, &a).extension_mass_mg,
                4.0 * load_with(&lash, &LEVEL, &thin, &a).extension_mass_mg, 1e-15,
                "rounding of 0.2 mg");
}

CLAIM(a_straight_level_lash_turns_its_root_by_the_closed_form) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = 0.0;
    const double d0 = 0.08, d1 = 0.015, length = 7.5;
    /* Source: closed form, the integral of s pi/4 (d0 + (d1 - d0) s/L)^2. */
    const double first = M_PI / 4.0 * length * length *
                         (d0 * d0 / 2.0 + 2.0 * d0 * (d1 - d0) / 3.0 + gsl_pow_2(d1 - d0) / 4.0);
    expect_near(bare_load(&lash, &LEVEL).natural_moment_uNmm, 1.32 * UN_PER_MG * first, 1e-14,
                "roundings of 0.3 uN mm over 48 nodes");
}

CLAIM(a_straight_level_cylinder_weighs_at_half_its_length) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = 0.0;
    lash.tip_diameter_mm = lash.root_diameter_mm;
    const tcr_load load = bare_load(&lash, &LEVEL);
    /* Source: closed form, weight times L/2. */
    expect_near(load.natural_moment_uNmm, load.natural_mass_mg * UN_PER_MG * 3.75, 1e-14,
                "roundings of 2 uN mm");
    expect_near(load.root_moment_uNmm, load.natural_moment_uNmm, 0.0, "bare: nothing is added");
    expect_same(load.moment_ratio, 1.0, "bare");
    expect_same(load.mass_ratio, 0.0, "bare");
    expect_same(load.extension_mass_mg, 0.0, "bare");
}

CLAIM(a_lash_that_hangs_straight_down_turns_nothing) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = 0.0;
    tcr_extension ext = tcr_make_extension("C", 12.0, TCR_OUTER_SIDE);
    ext.profile = (tcr_profile){1, {1.0}, {0.0}};
    tcr_attachment a;
    const tcr_load load = load_with(&lash, &HANGING, &ext, &a);
    expect_same(load.natural_moment_uNmm, 0.0, "no lever"); /* source: closed form */
    /* Source: closed form. Its 3 mm of bond weigh on the lash, the rest hangs r beside the root. */
    const double bonded_mg = 1.31 * M_PI / 4.0 * 0.0225 * 3.0;
    expect_near(load.root_moment_uNmm,
                (load.extension_mass_mg - bonded_mg) * UN_PER_MG * a.clearance_mm, 1e-14,
                "roundings of 0.3");
    expect_nan(load.moment_ratio); /* load.h: NaN where the lash's own is 0 */
}

typedef struct levers {
    tcr_lash lash;
    tcr_stance stance;
    tcr_extension ext;
    tcr_attachment attachment;
    int fibre; /* -1: the natural lash */
    bool about_z;
} levers;

/* Weight times lever per mm, about the z or the x axis: gravity is -y. What is bonded weighs on the
 * natural centre line (model.md, section 9). */
static double turning(double s, void *p) {
    levers *l = p;
    tcr_vec3 local = {0};
    double weight;
    if (l->fibre < 0 || s < l->attachment.bond_mm) {
        const tcr_profile natural = tcr_lash_profile(&l->lash);
        const double along = l->fibre < 0 ? s : tcr_bond_default().offset_mm + s;
        const tcr_arc_point at = tcr_profile_at(&natural, l->lash.length_mm, along);
        local.x = at.x;
        local.y = at.y;
    } else {
        local = tcr_attachment_fibre(&l->attachment, &l->ext, l->fibre, s);
    }
    weight = l->fibre < 0 ? natural_section(s, &l->lash) * 1.32 * UN_PER_MG
                          : fibre_section(s, &l->ext) * 1.31 * UN_PER_MG;
    const tcr_vec3 at = tcr_stance_point(&l->stance, local);
    return l->about_z ? -weight * (at.x - l->stance.root.x) : weight * (at.z - l->stance.root.z);
}

/* By GSL over the stretches between joints, the end of the bond and the start of the taper. */
static double body_moment(levers *l, bool about_z) {
    const tcr_profile profile = l->fibre < 0 ? tcr_lash_profile(&l->lash) : l->ext.profile;
    const double length = l->fibre < 0 ? l->lash.length_mm : l->ext.length_mm;
    double cut[TCR_PIECES_MAX + 5], sum = 0.0, joint = 0.0, last = 0.0;
    int cuts = 0;
    for (int i = 0; i < profile.pieces; i++)
        cut[cuts++] = joint += profile.share[i] * length;
    if (l->fibre >= 0) {
        cut[cuts++] = l->attachment.bond_mm;
        cut[cuts++] = length / 2.0;
        for (int i = 1; i < 3; i++) { /* joints of the natural lash below the bond */
            const double under = i * l->lash.length_mm / 3.0 - tcr_bond_default().offset_mm;
            if (under < l->attachment.bond_mm)
                cut[cuts++] = under;
        }
    }
    l->about_z = about_z;
    for (;;) {
        double next = INFINITY;
        for (int i = 0; i < cuts; i++)
            if (cut[i] > last + 1e-12)
                next = fmin(next, cut[i]);
        if (isinf(next))
            return sum;
        sum += integral(turning, l, last, next);
        last = next;
    }
}

CLAIM(root_moments_of_any_lash_with_any_extension_are_gsls_integrals) {
    gsl_rng *rng = tcr_make_rng(1);
    const tcr_lid lid = tcr_lid_default();
    for (int i = 0; i < 40; i++) {
        levers l = {.lash = tcr_draw_lash(rng), .ext = tcr_draw_extension(rng)};
        l.ext.fan = 1 + (int)gsl_rng_uniform_int(rng, 4);
        if (i % 2 == 0)
            l.ext.profile = tcr_draw_profile(rng, -90.0, 270.0);
        expect_status(tcr_lash_stance(&l.lash, &lid, 1.0, &l.stance), TCR_OK);
        const tcr_load load = load_with(&l.lash, &l.stance, &l.ext, &l.attachment);
        l.fibre = -1;
        const double nx = body_moment(&l, false), nz = body_moment(&l, true);
        double ex = 0.0, ez = 0.0; /* of all fibres */
        for (l.fibre = 0; l.fibre < l.ext.fan; l.fibre++) {
            ex += body_moment(&l, false);
            ez += body_moment(&l, true);
        }
        const double whole = hypot(nx + ex, nz + ez);
        given("lash %d", i);
        /* Source: GSL, qag, over the same shape; the sum is that of vectors, model.md, section 9.
         */
        const char *why = "closed form, exact to rounding; GSL to 1e-12";
        expect_near(load.natural_moment_uNmm, hypot(nx, nz), 1e-11 * hypot(nx, nz), why);
        expect_near(load.root_moment_uNmm, whole, 1e-10 * (hypot(nx, nz) + hypot(ex, ez)), why);
        expect_near(load.moment_ratio, load.root_moment_uNmm / load.natural_moment_uNmm, 0.0,
                    "the same quotient");
        expect_near(load.mass_ratio, load.extension_mass_mg / load.natural_mass_mg, 0.0,
                    "the same quotient");
    }
    gsl_rng_free(rng);
}

CLAIM(a_mirrored_lash_has_the_same_load) {
    gsl_rng *rng = tcr_make_rng(2);
    static const tcr_placement other[] = {TCR_ON_TOP, TCR_UNDERSIDE, TCR_OUTER_SIDE,
                                          TCR_INNER_SIDE};
    tcr_lid lid = tcr_lid_default();
    lid.peak_offset_mm = lid.canthal_tilt_rad = 0.0;
    for (int i = 0; i < 50; i++) {
        tcr_lash lash = tcr_draw_lash(rng), mirrored = lash;
        tcr_extension ext = tcr_draw_extension(rng), swapped = ext;
        mirrored.u = 1.0 - lash.u;
        mirrored.yaw_rad = -lash.yaw_rad;
        mirrored.roll_rad = -lash.roll_rad;
        swapped.placement = other[ext.placement];
        tcr_stance here, there;
        tcr_attachment a;
        expect_status(tcr_lash_stance(&lash, &lid, 0.6, &here), TCR_OK);
        expect_status(tcr_lash_stance(&mirrored, &lid, 0.6, &there), TCR_OK);
        const tcr_load left = load_with(&lash, &here, &ext, &a);
        const tcr_load right = load_with(&mirrored, &there, &swapped, &a);
        /* Source: mirror at x = 0, in which gravity lies. */
        expect_near(right.root_moment_uNmm, left.root_moment_uNmm,
                    1e-11 * (left.root_moment_uNmm + left.natural_moment_uNmm),
                    "roundings, more where both parts all but cancel");
    }
    gsl_rng_free(rng);
}

CLAIM(densities_out_of_range_are_refused) {
    const double bad[] = {99.0, 20001.0, NAN, -1320.0, INFINITY};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        tcr_materials hair = tcr_materials_default(), fibre = hair;
        hair.hair_kg_m3 = fibre.fibre_kg_m3 = bad[i];
        given("%g", bad[i]);
        expect_status(tcr_materials_validate(&hair, NULL), TCR_E_RANGE); /* load.h */
        expect_status(tcr_materials_validate(&fibre, NULL), TCR_E_RANGE);
    }
    expect_same(tcr_materials_default().hair_kg_m3, 1320.0, "model.md, section 9 (Robbins)");
    expect_same(tcr_materials_default().fibre_kg_m3, 1310.0, "model.md, section 9, assumed");
}

CLAIM(a_wrong_material_is_named) {
    tcr_materials m = tcr_materials_default();
    tcr_error error = tcr_error_none();
    m.fibre_poisson = 0.51;
    expect_status(tcr_materials_validate(&m, &error), TCR_E_RANGE); /* load.h */
    expect_text(error.member, "fibre_poisson");
    expect_text(error.message, "fibre_poisson is 0.51, but must be from -0.9 to 0.5");
    expect_status(tcr_materials_validate(NULL, &error), TCR_E_ARGUMENT);
}

CLAIM(mass_and_moment_are_in_proportion_to_the_density) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    tcr_weight_options light = tcr_weight_options_default(), heavy = light;
    light.materials.hair_kg_m3 = 1000.0;
    heavy.materials.hair_kg_m3 = 2000.0;
    tcr_weight a, b;
    expect_status(tcr_weight_of(&lash, &LEVEL, NULL, NULL, &light, &a), TCR_OK);
    expect_status(tcr_weight_of(&lash, &LEVEL, NULL, NULL, &heavy, &b), TCR_OK);
    expect_near(b.load.natural_mass_mg, 2.0 * a.load.natural_mass_mg, 0.0,
                "a power of 2"); /* closed form */
    expect_near(b.load.natural_moment_uNmm, 2.0 * a.load.natural_moment_uNmm, 1e-15,
                "roundings of 0.5");
}

int main(void) {
    gsl_set_error_handler_off(); /* a moment of almost 0 makes qag complain of rounding */
    static const TTest *const claims[] = {
        &the_natural_mass_is_that_of_a_cone_cut_off,
        &the_extensions_mass_is_that_of_its_taper_times_its_fibres,
        &mass_grows_with_the_square_of_the_diameter,
        &a_straight_level_lash_turns_its_root_by_the_closed_form,
        &a_straight_level_cylinder_weighs_at_half_its_length,
        &a_lash_that_hangs_straight_down_turns_nothing,
        &root_moments_of_any_lash_with_any_extension_are_gsls_integrals,
        &a_mirrored_lash_has_the_same_load,
        &densities_out_of_range_are_refused,
        &a_wrong_material_is_named,
        &mass_and_moment_are_in_proportion_to_the_density,
    };
    return RUN_CLAIMS("load", claims);
}
