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
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"
#include "rod/lash_rod.h"

/* ---- Checks ------------------------------------------------------------------------------------
 */

tcr_materials tcr_materials_default(void) {
    return (tcr_materials){.hair_kg_m3 = 1320.0,
                           .fibre_kg_m3 = 1310.0,
                           .hair_e_gpa = 3.9,
                           .hair_g_gpa = 0.89,
                           .fibre_e_gpa = 2.4,
                           .fibre_poisson = 0.4};
}

tcr_status tcr_materials_check(const tcr_materials *m, tcr_error *error) {
    if (m == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    const struct {
        const char *member;
        double value, least, most;
    } number[] = {
        {"hair_kg_m3", m->hair_kg_m3, 100.0, 20000.0},
        {"fibre_kg_m3", m->fibre_kg_m3, 100.0, 20000.0},
        {"hair_e_gpa", m->hair_e_gpa, 1e-3, 1e3},
        {"hair_g_gpa", m->hair_g_gpa, 1e-3, 1e3},
        {"fibre_e_gpa", m->fibre_e_gpa, 1e-3, 1e3},
        {"fibre_poisson", m->fibre_poisson, -0.9, 0.5},
    };
    for (size_t i = 0; i < sizeof number / sizeof *number; i++) {
        if (tcr_within(number[i].value, number[i].least, number[i].most))
            continue;
        char value[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
        tcr_number_text(number[i].value, value);
        tcr_number_text(number[i].least, least);
        tcr_number_text(number[i].most, most);
        tcr_error_set(error, TCR_E_RANGE, "%s is %s; it lies from %s to %s", number[i].member,
                      value, least, most);
        tcr_error_number(error, number[i].member, number[i].value, number[i].least, number[i].most);
        return TCR_E_RANGE;
    }
    return TCR_OK;
}

tcr_status tcr_stance_check(const tcr_stance *s) {
    static const double SLACK = 1e-6;
    const tcr_vec3 axis[] = {s->along, s->up, s->out};
    for (int i = 0; i < 3; i++)
        for (int j = i; j < 3; j++)
            if (!(fabs(tcr_vec3_dot(axis[i], axis[j]) - (i == j ? 1.0 : 0.0)) <= SLACK))
                return TCR_E_RANGE;
    return TCR_OK;
}

/* Places of lash and extension are within 50 mm, angles within 50 rad (profile.h: 8 turns of 270
 * degrees at most). */
static tcr_status attachment_check(const tcr_attachment *att, const tcr_extension *ext) {
    const double number[] = {att->base.x, att->base.y, att->base.z,         att->base_angle_rad,
                             att->part.x, att->part.y, att->part_angle_rad, att->part.z};
    if (!tcr_within(att->bond_mm, TCR_BOND_LEAST_MM, ext->length_mm))
        return TCR_E_RANGE;
    for (size_t i = 0; i < sizeof number / sizeof *number; i++)
        if (!tcr_within(number[i], -50.0, 50.0))
            return TCR_E_RANGE;
    return TCR_OK;
}

/* ---- Masses and moments ------------------------------------------------------------------------
 */

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

/* One fibre, in the axes of its base: what lies on the bond, and what goes on alone. */
static void fibre_moments(const tcr_extension *ext, double bond_mm, moments *bonded,
                          moments *free_part) {
    const double cut[2] = {bond_mm, TCR_FIBRE_FULL_SHARE * ext->length_mm};
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
                    tcr_fibre_diameter(ext, from), tcr_fibre_diameter(ext, to));
            at = tcr_arc_step(at, to - from, turn);
            from = to;
        }
    }
}

tcr_vec3 tcr_stance_to_eye(const tcr_stance *s, tcr_vec3 local) {
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

/* Micronewtons of a body of which d^2 sums to 1 mm3. */
static double uN_of(double kg_m3) { return TCR_PI / 4.0 * kg_m3 / 1000.0 * TCR_UN_PER_MG; }

tcr_vec3 tcr_lash_first_moment(const tcr_lash *lash, double kg_m3) {
    const tcr_vec2 first = natural_moments(lash).first;
    return (tcr_vec3){uN_of(kg_m3) * first.x, uN_of(kg_m3) * first.y, 0.0};
}

/* The moment of a body's weight about the root: its first moment in d^2, by its density. */
static tcr_vec3 weight_moment(const tcr_stance *stance, tcr_vec3 first, double kg_m3) {
    const double uN = uN_of(kg_m3);
    const tcr_vec3 f = tcr_stance_to_eye(stance, first);
    return (tcr_vec3){uN * f.z, 0.0, -uN * f.x};
}

double tcr_lash_mass(const tcr_lash *lash, double kg_m3) {
    return frustum_mg(lash->root_diameter_mm, lash->tip_diameter_mm, lash->length_mm, kg_m3);
}

double tcr_extension_mass(const tcr_extension *ext, double kg_m3) {
    const double d = ext->diameter_mm, full_mm = TCR_FIBRE_FULL_SHARE * ext->length_mm;
    return ext->fan * (frustum_mg(d, d, full_mm, kg_m3) +
                       frustum_mg(d, TCR_FIBRE_TIP_SHARE * d, ext->length_mm - full_mm, kg_m3));
}

double tcr_moment_ratio(double moment_uNmm, double natural_uNmm, const tcr_lash *lash,
                        double natural_mg) {
    const double least = 1e-12 * natural_mg * TCR_UN_PER_MG * lash->length_mm;
    return natural_uNmm > least ? moment_uNmm / natural_uNmm : NAN;
}

tcr_status tcr_load_of(const tcr_lash *lash, const tcr_stance *stance, const tcr_extension *ext,
                       const tcr_attachment *attachment, const tcr_materials *materials,
                       tcr_load *out) {
    const tcr_materials m = materials != NULL ? *materials : tcr_materials_default();
    if (stance == NULL || out == NULL || (ext == NULL) != (attachment == NULL))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_lash_check(lash, NULL);
    if (status == TCR_OK && ext != NULL)
        status = tcr_extension_check(ext, NULL);
    if (status == TCR_OK && ext != NULL)
        status = attachment_check(attachment, ext);
    if (status == TCR_OK)
        status = tcr_stance_check(stance);
    if (status == TCR_OK)
        status = tcr_materials_check(&m, NULL);
    if (status != TCR_OK)
        return status;
    tcr_load load = {.natural_mass_mg = tcr_lash_mass(lash, m.hair_kg_m3)};
    const tcr_vec2 own = natural_moments(lash).first;
    tcr_vec3 whole = weight_moment(stance, (tcr_vec3){own.x, own.y, 0.0}, m.hair_kg_m3);
    load.natural_moment_uNmm = tcr_vec3_length(whole);
    if (ext != NULL) {
        const tcr_vec3 of_extension =
            weight_moment(stance, extension_first(ext, attachment), m.fibre_kg_m3);
        load.extension_mass_mg = tcr_extension_mass(ext, m.fibre_kg_m3);
        load.extension_moment_uNmm = tcr_vec3_length(of_extension);
        whole = tcr_vec3_add(whole, of_extension);
    }
    load.mass_ratio = load.extension_mass_mg / load.natural_mass_mg;
    load.root_moment_uNmm = tcr_vec3_length(whole);
    load.moment_ratio = tcr_moment_ratio(load.root_moment_uNmm, load.natural_moment_uNmm, lash,
                                         load.natural_mass_mg);
    *out = load;
    return TCR_OK;
}
