/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Masses, and the moment at the root of the rigid lash (model.md, section 9: materials and tapers;
 * the shape is the stress-free one of sections 3 and 4). Gravity is -y, so a weight w at (x, y, z)
 * from the root turns it by w (z, 0, -x).
 */
#include <tipcrest/load.h>

#include <math.h>
#include <stddef.h>

#include "geom/vector.h"
#include "num/range.h"

/* Weight of 1 mg in micronewtons. */
static const double UN_PER_MG = 9.80665;

/* The extension tapers over the second half of its length to this share of its diameter; assumed.
 */
static const double FULL_SHARE = 0.5, TIP_SHARE = 0.1;

/*
 * Gauss's nodes and weights on [-1, 1], 8 pairs of 16 points (Abramowitz & Stegun, table 25.4). On
 * an arc that turns by less than 270 degrees the rule is exact to rounding.
 */
enum { PAIRS = 8 };
static const double NODE[PAIRS] = {
    0.0950125098376374402, 0.2816035507792589132, 0.4580167776572273863, 0.6178762444026437484,
    0.7554044083550030339, 0.8656312023878317439, 0.9445750230732325761, 0.9894009349916499326};
static const double WEIGHT[PAIRS] = {
    0.1894506104550684963, 0.1826034150449235889, 0.1691565193950025382, 0.1495959888165767321,
    0.1246289712555338720, 0.0951585116824927848, 0.0622535239386478929, 0.0271524594117540949};

tcr_materials tcr_materials_default(void) {
    return (tcr_materials){.hair_kg_m3 = 1320.0, .fibre_kg_m3 = 1310.0};
}

/* Mass in mg of a frustum in mm: 1 mm3 of 1000 kg/m3 weighs 1 mg. */
static double frustum_mg(double from_mm, double to_mm, double length_mm, double kg_m3) {
    const double volume =
        TCR_PI / 12.0 * length_mm * (from_mm * from_mm + from_mm * to_mm + to_mm * to_mm);
    return volume * kg_m3 / 1000.0;
}

/* What runs along a body: its points from the root, and its diameter, at arc length s. */
typedef struct body {
    const tcr_lash *lash;
    const tcr_stance *stance;
    const tcr_extension *ext; /* NULL: the natural lash itself */
    const tcr_attachment *attachment;
    tcr_profile natural;
    int fibre;
} body;

static double extension_diameter(const tcr_extension *ext, double s) {
    const double share = s / ext->length_mm;
    if (share <= FULL_SHARE)
        return ext->diameter_mm;
    return ext->diameter_mm * (1.0 - (1.0 - TIP_SHARE) * (share - FULL_SHARE) / (1.0 - FULL_SHARE));
}

static tcr_vec3 lever_at(const body *b, double s) {
    tcr_vec3 local;
    if (b->ext != NULL) {
        local = tcr_attachment_fibre(b->attachment, b->ext, b->fibre, s);
    } else {
        const tcr_arc_point p = tcr_profile_at(&b->natural, b->lash->length_mm, s);
        local = (tcr_vec3){p.x, p.y, 0.0};
    }
    const tcr_vec3 at = tcr_stance_point(b->stance, local);
    return tcr_vec3_step(at, -1.0, b->stance->root);
}

/* Weight moment of a stretch of a body, by Gauss's rule. */
static tcr_vec3 stretch_moment(const body *b, double from, double to, double kg_m3) {
    const double middle = (from + to) / 2.0, half = (to - from) / 2.0;
    tcr_vec3 moment = {0.0, 0.0, 0.0};
    for (int i = 0; i < 2 * PAIRS; i++) {
        const double node = i < PAIRS ? -NODE[PAIRS - 1 - i] : NODE[i - PAIRS];
        const double weight = WEIGHT[i < PAIRS ? PAIRS - 1 - i : i - PAIRS];
        const double s = middle + half * node;
        const double d =
            b->ext != NULL ? extension_diameter(b->ext, s) : tcr_lash_diameter(b->lash, s);
        const double weight_uN = half * weight * TCR_PI / 4.0 * d * d * kg_m3 / 1000.0 * UN_PER_MG;
        const tcr_vec3 lever = lever_at(b, s);
        moment = tcr_vec3_step(moment, weight_uN, (tcr_vec3){lever.z, 0.0, -lever.x});
    }
    return moment;
}

/* Moment of a whole body: stretches end where a piece of its curve ends, and at two places more. */
static tcr_vec3 body_moment(const body *b, double kg_m3) {
    const tcr_profile *profile = b->ext != NULL ? &b->ext->profile : &b->natural;
    const double length = b->ext != NULL ? b->ext->length_mm : b->lash->length_mm;
    const double cut[2] = {b->ext != NULL ? b->attachment->bond_mm : length,
                           b->ext != NULL ? FULL_SHARE * length : length};
    tcr_vec3 moment = {0.0, 0.0, 0.0};
    double from = 0.0, piece_end = 0.0;
    for (int i = 0; i < profile->pieces; i++) {
        piece_end = i < profile->pieces - 1 ? piece_end + profile->share[i] * length : length;
        while (from < piece_end) {
            double to = piece_end;
            for (int j = 0; j < 2; j++)
                if (cut[j] > from && cut[j] < to)
                    to = cut[j];
            moment = tcr_vec3_add(moment, stretch_moment(b, from, to, kg_m3));
            from = to;
        }
    }
    return moment;
}

static tcr_vec3 extension_moment(body b, double kg_m3) {
    tcr_vec3 moment = {0.0, 0.0, 0.0};
    for (b.fibre = 0; b.fibre < b.ext->fan; b.fibre++)
        moment = tcr_vec3_add(moment, body_moment(&b, kg_m3));
    return moment;
}

static double extension_mass(const tcr_extension *ext, double kg_m3) {
    const double d = ext->diameter_mm, half = FULL_SHARE * ext->length_mm;
    return ext->fan * (frustum_mg(d, d, half, kg_m3) +
                       frustum_mg(d, TIP_SHARE * d, ext->length_mm - half, kg_m3));
}

tcr_status tcr_load_of(const tcr_lash *lash, const tcr_stance *stance, const tcr_extension *ext,
                       const tcr_attachment *attachment, const tcr_materials *materials,
                       tcr_load *out) {
    const tcr_materials m = materials != NULL ? *materials : tcr_materials_default();
    if (lash == NULL || stance == NULL || out == NULL || (ext == NULL) != (attachment == NULL))
        return TCR_E_ARGUMENT;
    if (!tcr_within(m.hair_kg_m3, 100.0, 20000.0) || !tcr_within(m.fibre_kg_m3, 100.0, 20000.0))
        return TCR_E_RANGE;
    body b = {.lash = lash, .stance = stance, .natural = tcr_lash_profile(lash)};
    tcr_load load = {0};
    load.natural_mass_mg =
        frustum_mg(lash->root_diameter_mm, lash->tip_diameter_mm, lash->length_mm, m.hair_kg_m3);
    tcr_vec3 whole = body_moment(&b, m.hair_kg_m3);
    load.natural_moment_uNmm = tcr_vec3_length(whole);
    if (ext != NULL) {
        b.ext = ext;
        b.attachment = attachment;
        const tcr_vec3 of_extension = extension_moment(b, m.fibre_kg_m3);
        load.extension_mass_mg = extension_mass(ext, m.fibre_kg_m3);
        load.extension_moment_uNmm = tcr_vec3_length(of_extension);
        whole = tcr_vec3_add(whole, of_extension);
    }
    load.mass_ratio = load.extension_mass_mg / load.natural_mass_mg;
    load.root_moment_uNmm = tcr_vec3_length(whole);
    load.moment_ratio = load.root_moment_uNmm / load.natural_moment_uNmm;
    *out = load;
    return TCR_OK;
}
