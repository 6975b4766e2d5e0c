/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Masses, and the moment at the root of the rigid lash (model.md, section 9: materials and tapers;
 * the shape is the stress-free one of sections 3 and 4). Gravity is -y, so a weight w at (x, y, z)
 * from the root turns it by w (z, 0, -x).
 */
#include <tipcrest/load.h>

#include <math.h>
#include <stddef.h>

#include "geom/arc.h"
#include "geom/vector.h"
#include "model/lash_kernel.h"
#include "num/range.h"

/* Weight of 1 mg in micronewtons. */
static const double UN_PER_MG = 9.80665;

/* The extension tapers over the second half of its length to this share of its diameter; assumed.
 */
static const double FULL_SHARE = 0.5, TIP_SHARE = 0.1;

tcr_materials tcr_materials_default(void) {
    return (tcr_materials){.hair_kg_m3 = 1320.0, .fibre_kg_m3 = 1310.0};
}

/* Mass in mg of a frustum in mm: 1 mm3 of 1000 kg/m3 weighs 1 mg. */
static double frustum_mg(double from_mm, double to_mm, double length_mm, double kg_m3) {
    const double volume =
        TCR_PI / 12.0 * length_mm * (from_mm * from_mm + from_mm * to_mm + to_mm * to_mm);
    return volume * kg_m3 / 1000.0;
}

/* First moments of a curve whose every mm weighs its diameter squared, about where the curve
 * begins. */
typedef struct moments {
    double weight;  /* integral of d^2, mm3 */
    tcr_vec2 first; /* of d^2 times the point, mm4 */
} moments;

/*
 * The spherical Bessel functions j0 to j3 (DLMF 10.49.3). Where the closed forms would cancel, j2
 * and j3 by their series (10.53.1), and down from there by 10.51.1, which is stable in that
 * direction; k[n] is j_n(h) / h^n, so that nothing is divided by h.
 */
static void spherical_bessel(double h, double j[4]) {
    if (fabs(h) > 1.5) {
        const double s = sin(h), c = cos(h), q = 1.0 / h;
        j[0] = s * q;
        j[1] = (s * q - c) * q;
        j[2] = (3.0 * q * q - 1.0) * s * q - 3.0 * c * q * q;
        j[3] = (15.0 * q * q - 6.0) * s * q * q - (15.0 * q * q - 1.0) * c * q;
        return;
    }
    /* Term m + 1 is -h^2 factor[m] times term m; the last is below 1e-18 of the first. */
    static const double factor2[] = {1.0 / (2 * 7),   1.0 / (4 * 9),   1.0 / (6 * 11),
                                     1.0 / (8 * 13),  1.0 / (10 * 15), 1.0 / (12 * 17),
                                     1.0 / (14 * 19), 1.0 / (16 * 21), 1.0 / (18 * 23)};
    static const double factor3[] = {1.0 / (2 * 9),   1.0 / (4 * 11),  1.0 / (6 * 13),
                                     1.0 / (8 * 15),  1.0 / (10 * 17), 1.0 / (12 * 19),
                                     1.0 / (14 * 21), 1.0 / (16 * 23), 1.0 / (18 * 25)};
    const double x = h * h;
    double k[4] = {0.0, 0.0, 1.0, 1.0};
    for (size_t m = sizeof factor2 / sizeof *factor2; m-- > 0;) {
        k[2] = 1.0 - x * factor2[m] * k[2];
        k[3] = 1.0 - x * factor3[m] * k[3];
    }
    k[2] /= 15.0;
    k[3] /= 105.0;
    k[1] = 5.0 * k[2] - x * k[3];
    k[0] = 3.0 * k[1] - x * k[2];
    j[0] = k[0];
    j[1] = k[1] * h;
    j[2] = k[2] * x;
    j[3] = k[3] * x * h;
}

/*
 * An arc of length l that turns by a from a point on, its diameter running linearly from d0 to d1,
 * added to the moments. With W(t) the weight beyond t, the first moment about the arc's start is
 * the integral of W along the tangent; W is a cubic, and the integral of Legendre's P_k(x) e^(ihx)
 * over [-1, 1] is 2 i^k j_k(h) (DLMF 10.54.2), here with h = a/2.
 */
static void add_arc(moments *sum, tcr_arc_point from, double l, double a, double d0, double d1) {
    const double m = (d0 + d1) / 2.0, e = (d1 - d0) / 2.0;
    const double weight = l * (m * m + e * e / 3.0);
    double j[4];
    spherical_bessel(a / 2.0, j);
    const double along =
        (m * m + 2.0 / 3.0 * m * e + e * e / 3.0) / 2.0 * j[0] + m * e / 3.0 * j[2];
    const double aside = -(m * m + e * e / 5.0) / 2.0 * j[1] + e * e / 15.0 * j[3];
    const double angle = from.angle_rad + a / 2.0, c = cos(angle), s = sin(angle);
    sum->weight += weight;
    sum->first.x += weight * from.x + l * l * (c * along - s * aside);
    sum->first.y += weight * from.y + l * l * (s * along + c * aside);
}

static moments natural_moments(const tcr_lash *lash) {
    const tcr_profile profile = tcr_lash_profile(lash);
    moments sum = {0};
    tcr_arc_point at = {0.0, 0.0, 0.0};
    double s = 0.0;
    for (int i = 0; i < profile.pieces; i++) {
        const double l = profile.share[i] * lash->length_mm;
        add_arc(&sum, at, l, profile.turn_rad[i], tcr_lash_diameter(lash, s),
                tcr_lash_diameter(lash, s + l));
        at = tcr_arc_step(at, l, profile.turn_rad[i]);
        s += l;
    }
    return sum;
}

static double extension_diameter(const tcr_extension *ext, double s) {
    const double share = s / ext->length_mm;
    if (share <= FULL_SHARE)
        return ext->diameter_mm;
    return ext->diameter_mm * (1.0 - (1.0 - TIP_SHARE) * (share - FULL_SHARE) / (1.0 - FULL_SHARE));
}

/* One fibre, in the axes of its base: what lies on the bond, and what goes on alone. */
static void fibre_moments(const tcr_extension *ext, double bond_mm, moments *bonded,
                          moments *free_part) {
    const double cut[2] = {bond_mm, FULL_SHARE * ext->length_mm};
    tcr_arc_point at = {0.0, 0.0, 0.0};
    double from = 0.0, piece_end = 0.0;
    *bonded = *free_part = (moments){0};
    for (int i = 0; i < ext->profile.pieces; i++) {
        const double piece_mm = ext->profile.share[i] * ext->length_mm;
        piece_end = i < ext->profile.pieces - 1 ? piece_end + piece_mm : ext->length_mm;
        while (from < piece_end) {
            double to = piece_end;
            for (int j = 0; j < 2; j++)
                if (cut[j] > from && cut[j] < to)
                    to = cut[j];
            const double turn = ext->profile.turn_rad[i] * ((to - from) / piece_mm);
            add_arc(from < bond_mm ? bonded : free_part, at, to - from, turn,
                    extension_diameter(ext, from), extension_diameter(ext, to));
            at = tcr_arc_step(at, to - from, turn);
            from = to;
        }
    }
}

/* A first moment given in the lash's own axes, in the eye's, about the root. */
static tcr_vec3 first_in_eye(const tcr_stance *s, tcr_vec3 local) {
    const tcr_vec3 p = tcr_vec3_step(tcr_vec3_scale(local.x, s->along), local.y, s->up);
    return tcr_vec3_step(p, local.z, s->out);
}

/*
 * All fibres of an extension. Beyond the bond they are turned to both sides alike, so that of what
 * lies forward of the parting point the mean cosine is left, and nothing to the side.
 */
static tcr_vec3 extension_first(const tcr_extension *ext, const tcr_attachment *att) {
    moments bonded, rest;
    fibre_moments(ext, att->bond_mm, &bonded, &rest);
    const tcr_arc_point part = tcr_profile_at(&ext->profile, ext->length_mm, att->bond_mm);
    const tcr_vec2 on_bond = tcr_turned(att->base_angle_rad, bonded.first.x, bonded.first.y);
    tcr_vec2 beyond = tcr_turned(-part.angle_rad, rest.first.x - rest.weight * part.x,
                                 rest.first.y - rest.weight * part.y);
    beyond.x *= tcr_fan_mean_cosine(ext->fan, ext->spread_rad);
    beyond = tcr_turned(att->part_angle_rad, beyond.x, beyond.y);
    const double n = ext->fan;
    return (tcr_vec3){
        n * (on_bond.x + bonded.weight * att->base.x + beyond.x + rest.weight * att->part.x),
        n * (on_bond.y + bonded.weight * att->base.y + beyond.y + rest.weight * att->part.y),
        n * (bonded.weight + rest.weight) * att->base.z,
    };
}

/* The moment of a body's weight about the root: its first moment in d^2, by its density. */
static tcr_vec3 weight_moment(const tcr_stance *stance, tcr_vec3 first, double kg_m3) {
    const double uN = TCR_PI / 4.0 * kg_m3 / 1000.0 * UN_PER_MG;
    const tcr_vec3 f = first_in_eye(stance, first);
    return (tcr_vec3){uN * f.z, 0.0, -uN * f.x};
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
    tcr_load load = {0};
    load.natural_mass_mg =
        frustum_mg(lash->root_diameter_mm, lash->tip_diameter_mm, lash->length_mm, m.hair_kg_m3);
    const tcr_vec2 own = natural_moments(lash).first;
    tcr_vec3 whole = weight_moment(stance, (tcr_vec3){own.x, own.y, 0.0}, m.hair_kg_m3);
    load.natural_moment_uNmm = tcr_vec3_length(whole);
    if (ext != NULL) {
        const tcr_vec3 of_extension =
            weight_moment(stance, extension_first(ext, attachment), m.fibre_kg_m3);
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
