/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_LOAD_KERNEL_H
#define TCR_MODEL_LOAD_KERNEL_H

/*
 * Masses, and the moments of weight at the root, inline (model.md, section 9). The lanes serve a
 * single call and loops over columns alike, with the same bits. Inputs are valid.
 */

#include <math.h>

#include "model/attach_kernel.h"
#include "model/load.h"

/*
 * j_n(h) / h^n for the spherical Bessel functions j2 and j3, |h| at most pi/4, by DLMF 10.53.1:
 * term m is (-1)^m / (2^m m! (2n + 2m + 1)!!), and the first that is left out is below 1e-17 of the
 * sum.
 */
static const double TCR_BESSEL_2_TERM[8] = {
    1.0 / 15.0,       -1.0 / 210.0,        1.0 / 7560.0,          -1.0 / 498960.0,
    1.0 / 51891840.0, -1.0 / 7783776000.0, 1.0 / 1587890304000.0, -1.0 / 422378820864000.0};
static const double TCR_BESSEL_3_TERM[8] = {
    1.0 / 105.0,       -1.0 / 1890.0,         1.0 / 83160.0,          -1.0 / 6486480.0,
    1.0 / 778377600.0, -1.0 / 132324192000.0, 1.0 / 30169915776000.0, -1.0 / 8869955238144000.0};

TCR_LANE double tcr_bessel_terms(const double *t, double x) {
    const double w = x * x;
    return tcr_terms_by_2_4(t + 1, w) * x + tcr_terms_by_2_4(t, w);
}

/* Where a walk along arcs has come to, and the moments of what it has passed. */
typedef struct tcr_passed {
    tcr_heading end;
    tcr_moments sum;
} tcr_passed;

/*
 * The moments of an arc whose diameter runs linearly from d0 to d1. j has the spherical Bessel
 * functions of half its turn, 'middle' is the direction at its middle. With W(t) the weight beyond
 * t, the first moment about the arc's start is the integral of W along the tangent; W is a cubic,
 * and the integral of Legendre's P_k(x) e^(ihx) over [-1, 1] is 2 i^k j_k(h) (DLMF 10.54.2).
 */
TCR_LANE tcr_moments tcr_arc_moments(tcr_vec2 from, tcr_vec2 middle, double length_mm,
                                     const double j[4], double d0, double d1) {
    const double l = length_mm, m = (d0 + d1) / 2.0, e = (d1 - d0) / 2.0;
    const double weight = l * (m * m + e * e / 3.0);
    const double along =
        (m * m + 2.0 / 3.0 * m * e + e * e / 3.0) / 2.0 * j[0] + m * e / 3.0 * j[2];
    const double aside = -(m * m + e * e / 5.0) / 2.0 * j[1] + e * e / 15.0 * j[3];
    return (tcr_moments){weight,
                         {weight * from.x + l * l * (middle.x * along - middle.y * aside),
                          weight * from.y + l * l * (middle.y * along + middle.x * aside)}};
}

/* On by an arc whose half turns by at most pi/4; j1 and j0 by DLMF 10.51.1 from j2 and j3, which is
 * stable in that direction. */
TCR_LANE tcr_passed tcr_pass_arc(tcr_passed p, double length_mm, double curvature, double d0,
                                 double d1) {
    const double h = 0.5 * curvature * length_mm, x = h * h;
    const tcr_half_turn half = tcr_half_turn_lane(h);
    const double k2 = tcr_bessel_terms(TCR_BESSEL_2_TERM, x);
    const double k3 = tcr_bessel_terms(TCR_BESSEL_3_TERM, x);
    const double j[4] = {half.sinc, (5.0 * k2 - x * k3) * h, k2 * x, k3 * x * h};
    const tcr_vec2 middle = tcr_turned_by(p.end.to, half.cosine, half.sine);
    const double chord = length_mm * half.sinc;
    const tcr_moments arc = tcr_arc_moments(p.end.at, middle, length_mm, j, d0, d1);
    return (tcr_passed){
        .end = {{p.end.at.x + chord * middle.x, p.end.at.y + chord * middle.y},
                tcr_turned_by(middle, half.cosine, half.sine)},
        .sum = {p.sum.weight + arc.weight,
                {p.sum.first.x + arc.first.x, p.sum.first.y + arc.first.y}},
    };
}

/* The natural lash itself. */
TCR_LANE tcr_moments tcr_own_moments_lane(double lash_mm, double turn_rad, double root_mm,
                                          double tip_mm) {
    const double third = lash_mm * (1.0 / 3.0), mean = turn_rad / lash_mm;
    const double step = (tip_mm - root_mm) * (1.0 / 3.0), one = root_mm + step, two = one + step;
    tcr_passed p = {{{0.0, 0.0}, {1.0, 0.0}}, {0.0, {0.0, 0.0}}};
    p = tcr_pass_arc(p, third, mean * (4.0 / 3.0), root_mm, one);
    p = tcr_pass_arc(p, third, mean, one, two);
    p = tcr_pass_arc(p, third, mean * (2.0 / 3.0), two, tip_mm);
    return p.sum;
}

TCR_LANE double tcr_squared(double x) { return x * x; }

/* Whether a bond starts on the first third of its lash, and the fibre tapers only beyond it. */
TCR_LANE bool tcr_bonded_is_usual(double lash_mm, double offset_mm, double bond_mm, double ext_mm) {
    return (lash_mm * (1.0 / 3.0) - offset_mm >= 0.0) & (bond_mm <= TCR_FIBRE_FULL_SHARE * ext_mm);
}

/* A fibre 1 mm thick on the natural centre line, from offset_mm on, which lies on the first third,
 * for bond_mm. */
TCR_LANE tcr_moments tcr_bonded_moments_lane(double lash_mm, double turn_rad, double offset_mm,
                                             double bond_mm) {
    const double third = lash_mm * (1.0 / 3.0), mean = turn_rad / lash_mm;
    const double first_mm = third - offset_mm, second_mm = 2.0 * third - offset_mm;
    const double x = tcr_less(bond_mm, first_mm);
    const double y = tcr_more(tcr_less(bond_mm, second_mm) - first_mm, 0.0);
    const double z = tcr_more(bond_mm - second_mm, 0.0);
    const tcr_heading root = {{0.0, 0.0}, {1.0, 0.0}};
    tcr_passed p = {tcr_heading_on(root, offset_mm, mean * (4.0 / 3.0)), {0.0, {0.0, 0.0}}};
    p = tcr_pass_arc(p, x, mean * (4.0 / 3.0), 1.0, 1.0);
    p = tcr_pass_arc(p, y, mean, 1.0, 1.0);
    p = tcr_pass_arc(p, z, mean * (2.0 / 3.0), 1.0, 1.0);
    return p.sum;
}

/* First moments of lash and extension together, in the lash's own axes, uN mm. 'bonded' and 'rest'
 * are of one fibre, the rest about 'part' and turned as the lash is; fibres_uN: of all fibres of
 * which d^2 sums to 1 mm3. */
TCR_LANE tcr_vec3 tcr_all_moments_lane(tcr_vec3 own_uNmm, tcr_vec2 bonded, double rest_weight,
                                       tcr_vec2 rest, tcr_vec3 part, double fibres_uN) {
    const tcr_vec3 fibre = {bonded.x + rest.x + rest_weight * part.x,
                            bonded.y + rest.y + rest_weight * part.y, rest_weight * part.z};
    return (tcr_vec3){own_uNmm.x + fibres_uN * fibre.x, own_uNmm.y + fibres_uN * fibre.y,
                      own_uNmm.z + fibres_uN * fibre.z};
}

/* The x and z axes of the eye's frame, in a lash's own: what the sitting client's weight turns
 * about. */
typedef struct tcr_across {
    double along_x, up_x, out_x, along_z, up_z, out_z;
} tcr_across;

/* The size of a moment where gravity is -y: p x (0, -1, 0) is (p.z, 0, -p.x). */
TCR_LANE double tcr_sitting_lane(const tcr_across *a, tcr_vec3 first) {
    const double x = first.x * a->along_x + first.y * a->up_x + first.z * a->out_x;
    const double z = first.x * a->along_z + first.y * a->up_z + first.z * a->out_z;
    return sqrt(z * z + x * x);
}

/* Mass in mg of a frustum in mm: 1 mm3 of 1000 kg/m3 weighs 1 mg. */
TCR_LANE double tcr_frustum_mg(double from_mm, double to_mm, double length_mm, double kg_m3) {
    const double volume =
        TCR_PI / 12.0 * length_mm * (from_mm * from_mm + from_mm * to_mm + to_mm * to_mm);
    return volume * kg_m3 / 1000.0;
}

/* The moments' ratio: NaN where the lash's own is below 1e-12 of its weight times its length. */
TCR_LANE double tcr_moment_ratio_lane(double root_uNmm, double natural_uNmm, double natural_mg,
                                      double lash_mm) {
    const double least = 1e-12 * natural_mg * TCR_UN_PER_MG * lash_mm;
    const double ratio = root_uNmm / natural_uNmm;
    return natural_uNmm > least ? ratio : NAN;
}

#endif
