/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Linear bending of a curved rod under its weight (model.md, section 9). With f the weight per
 * length, p the place, W the weight beyond s and S its first moment about p(s):
 *
 *     S' = -W t,   M = S x g,   turn per length = sum over axes e of k_e e (e . M),
 *     shift of the tip = integral of turn x r,   r = p_tip - p(s)
 *
 * and (k e (e . (S x g))) x r = k (e x r) ((e x S) . g), so that the shift is a matrix times g.
 * Each arc takes one Gauss-Legendre rule; S and r at its nodes come from collocation at the same
 * nodes (the Gauss methods of Butcher, Math. Comp. 18 (1964) 50), of order 16 in the length of an
 * arc.
 */
#include "rod/rod.h"

#include <math.h>

#include "geom/vector.h"
#include "num/elementary.h"
#include "num/range.h"

tcr_rod_matter tcr_rod_matter_of(double e_gpa, double g_gpa, double kg_m3) {
    const double uN_mm2 = 1e9; /* of 1 GPa */
    return (tcr_rod_matter){
        .bending_uN_mm2 = e_gpa * uN_mm2 * TCR_PI / 64.0,
        .torsion_uN_mm2 = g_gpa * uN_mm2 * TCR_PI / 32.0,
        .tension_uN_mm2 = e_gpa * uN_mm2 * TCR_PI / 4.0,
        .weight_uN_mm3 = kg_m3 / 1000.0 * TCR_UN_PER_MG * TCR_PI / 4.0,
    };
}

/* The integral of a function over [-1, 1], by its values at the nodes. */
static double sum_of(const double value[TCR_GAUSS]) {
    double all = 0.0;
    for (int j = 0; j < TCR_GAUSS; j++)
        all += TCR_GAUSS_WEIGHT[j] * value[j];
    return all;
}

static double product(const double a[TCR_GAUSS_HALF], const double b[TCR_GAUSS_HALF]) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
}

/* Its integrals from the nodes to 1: those of its even and of its odd part, from half the nodes. An
 * even part has the rest of its whole integral beyond the other node of a pair, an odd part the
 * same. */
static void sum_to_end(const double value[TCR_GAUSS], double all, double to_end[TCR_GAUSS]) {
    double even[TCR_GAUSS_HALF], odd[TCR_GAUSS_HALF];
    for (int j = 0; j < TCR_GAUSS_HALF; j++) {
        const double right = value[TCR_GAUSS_HALF + j], left = value[TCR_GAUSS_HALF - 1 - j];
        even[j] = (right + left) / 2.0;
        odd[j] = (right - left) / 2.0;
    }
    for (int i = 0; i < TCR_GAUSS_HALF; i++) {
        const double of_even = product(TCR_GAUSS_EVEN_TO_END[i], even);
        const double of_odd = product(TCR_GAUSS_ODD_TO_END[i], odd);
        to_end[TCR_GAUSS_HALF + i] = of_odd + of_even;
        to_end[TCR_GAUSS_HALF - 1 - i] = of_odd + (all - of_even);
    }
}

void tcr_rod_arc_set(tcr_rod_arc *arc, double length_mm, double turn_rad, double end_angle_rad) {
    const double h = length_mm / 2.0, middle = end_angle_rad - turn_rad / 2.0;
    const tcr_sine_cosine m = tcr_sine_cosine_of(middle);
    const double cm = m.cosine, sm = m.sine;
    arc->half_mm = h;
    for (int i = 0; i < TCR_GAUSS / 2; i++) { /* nodes come in pairs about the middle */
        const int j = TCR_GAUSS - 1 - i;
        const tcr_sine_cosine beyond = tcr_sine_cosine_of(turn_rad / 2.0 * TCR_GAUSS_NODE[j]);
        const double c = beyond.cosine, s = beyond.sine;
        arc->cosine[i] = cm * c + sm * s;
        arc->sine[i] = sm * c - cm * s;
        arc->cosine[j] = cm * c - sm * s;
        arc->sine[j] = sm * c + cm * s;
    }
    const double all_x = sum_of(arc->cosine), all_y = sum_of(arc->sine);
    sum_to_end(arc->cosine, all_x, arc->x);
    sum_to_end(arc->sine, all_y, arc->y);
    arc->all_x = h * all_x;
    arc->all_y = h * all_y;
    for (int i = 0; i < TCR_GAUSS; i++) {
        arc->x[i] *= h;
        arc->y[i] *= h;
    }
}

/* Turns per moment and mm about the axis across the plane, the normal in it, and the tangent. */
typedef struct flexibility {
    double across, normal, along;
} flexibility;

static flexibility flexibility_of(const tcr_rod_stretch *s, double core_mm, double fibre_mm) {
    const double c2 = core_mm * core_mm, c4 = c2 * c2;
    const double bending = s->core.bending_uN_mm2 * c4, torsion = s->core.torsion_uN_mm2 * c4;
    if (s->fibres == 0)
        return (flexibility){1.0 / bending, 1.0 / bending, 1.0 / torsion};
    const double n = s->fibres, f2 = fibre_mm * fibre_mm, f4 = f2 * f2;
    const double both = bending + n * s->fibre.bending_uN_mm2 * f4;
    const double a = s->core.tension_uN_mm2 * c2, b = n * s->fibre.tension_uN_mm2 * f2;
    const double joined = both + s->apart_mm * s->apart_mm * (a * b / (a + b));
    const double along = 1.0 / (torsion + n * s->fibre.torsion_uN_mm2 * f4);
    return s->aside ? (flexibility){1.0 / both, 1.0 / joined, along}
                    : (flexibility){1.0 / joined, 1.0 / both, along};
}

/* Adds the bending of a mm with flexibility f to the matrix: the dyads k (e x r)(e x S). */
static void add_bending(double m[3][3], flexibility f, double c, double s, tcr_vec3 r, tcr_vec3 S) {
    const double rt = c * r.x + s * r.y, rn = c * r.y - s * r.x; /* along tangent and normal */
    const double St = c * S.x + s * S.y, Sn = c * S.y - s * S.x;
    const double tt = f.normal * r.z * S.z, nn = f.along * r.z * S.z;
    if (r.z == 0.0 && S.z == 0.0) { /* all in the plane: most lashes */
        m[0][0] += f.across * r.y * S.y;
        m[0][1] -= f.across * r.y * S.x;
        m[1][0] -= f.across * r.x * S.y;
        m[1][1] += f.across * r.x * S.x;
        m[2][2] += f.normal * rt * St + f.along * rn * Sn;
        return;
    }
    m[0][0] += f.across * r.y * S.y + tt * c * c + nn * s * s;
    m[0][1] -= f.across * r.y * S.x - (tt - nn) * s * c;
    m[1][0] -= f.across * r.x * S.y - (tt - nn) * s * c;
    m[1][1] += f.across * r.x * S.x + tt * s * s + nn * c * c;
    m[0][2] -= r.z * (f.normal * St * c - f.along * Sn * s);
    m[1][2] -= r.z * (f.normal * St * s + f.along * Sn * c);
    m[2][0] -= S.z * (f.normal * rt * c - f.along * rn * s);
    m[2][1] -= S.z * (f.normal * rt * s + f.along * rn * c);
    m[2][2] += f.normal * rt * St + f.along * rn * Sn;
}

/* The mean of d^2 from a place to the end, of a linear taper. */
static double mean_square(double here_mm, double end_mm) {
    return (here_mm * here_mm + here_mm * end_mm + end_mm * end_mm) / 3.0;
}

void tcr_rod_step(tcr_rod *rod, const tcr_rod_arc *arc, const tcr_rod_stretch *stretch,
                  bool bends) {
    const double h = arc->half_mm, *core = stretch->core_mm, *fibre = stretch->fibre_mm;
    const double of_core = stretch->core.weight_uN_mm3;
    const double of_fibres = stretch->fibres * stretch->fibre.weight_uN_mm3;
    double core_mm[TCR_GAUSS], fibre_mm[TCR_GAUSS], wx[TCR_GAUSS], wy[TCR_GAUSS];
    double first_x[TCR_GAUSS], first_y[TCR_GAUSS];
    for (int j = 0; j < TCR_GAUSS; j++) {
        const double left = (1.0 - TCR_GAUSS_NODE[j]) / 2.0; /* share of the arc beyond */
        core_mm[j] = core[1] + (core[0] - core[1]) * left;
        fibre_mm[j] = fibre[1] + (fibre[0] - fibre[1]) * left;
        const double weight = rod->weight_uN + 2.0 * h * left *
                                                   (of_core * mean_square(core_mm[j], core[1]) +
                                                    of_fibres * mean_square(fibre_mm[j], fibre[1]));
        wx[j] = h * weight * arc->cosine[j];
        wy[j] = h * weight * arc->sine[j];
    }
    const double all_x = sum_of(wx), all_y = sum_of(wy);
    if (bends) {
        sum_to_end(wx, all_x, first_x);
        sum_to_end(wy, all_y, first_y);
    }
    for (int i = 0; bends && i < TCR_GAUSS; i++) {
        const tcr_vec3 first = {rod->first.x + first_x[i], rod->first.y + first_y[i], rod->first.z};
        const tcr_vec3 lever = {rod->lever.x + arc->x[i], rod->lever.y + arc->y[i], rod->lever.z};
        flexibility f = flexibility_of(stretch, core_mm[i], fibre_mm[i]);
        const double share = h * TCR_GAUSS_WEIGHT[i];
        f = (flexibility){share * f.across, share * f.normal, share * f.along};
        add_bending(rod->shift, f, arc->cosine[i], arc->sine[i], lever, first);
    }
    rod->first.x += all_x;
    rod->first.y += all_y;
    rod->lever.x += arc->all_x;
    rod->lever.y += arc->all_y;
    rod->weight_uN +=
        2.0 * h *
        (of_core * mean_square(core[0], core[1]) + of_fibres * mean_square(fibre[0], fibre[1]));
}

tcr_vec3 tcr_rod_hinge(const tcr_rod *rod, tcr_vec3 gravity) {
    return tcr_vec3_cross(tcr_vec3_cross(rod->first, gravity), rod->lever);
}

tcr_vec3 tcr_rod_shift(const tcr_rod *rod, tcr_vec3 gravity, double clamp_uNmm_rad) {
    const double(*m)[3] = rod->shift;
    const tcr_vec3 bent = {m[0][0] * gravity.x + m[0][1] * gravity.y + m[0][2] * gravity.z,
                           m[1][0] * gravity.x + m[1][1] * gravity.y + m[1][2] * gravity.z,
                           m[2][0] * gravity.x + m[2][1] * gravity.y + m[2][2] * gravity.z};
    return tcr_vec3_step(bent, 1.0 / clamp_uNmm_rad, tcr_rod_hinge(rod, gravity));
}
