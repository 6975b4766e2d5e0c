/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rods of a lash (model.md, section 9): one fibre from its tip to the end of the bond, then the
 * natural lash from its tip to the root, which takes the fibres up where the bond ends. Arcs are
 * cut at joints of profiles, at both ends of the bond and where fibres begin to taper, and so that
 * no arc turns or tapers too much for its Gauss rule.
 */
#include "rod/lash_rod.h"

#include <math.h>
#include <stddef.h>

#include "geom/vector.h"
#include "model/lash_kernel.h"

/*
 * How much an arc may turn and taper for its Gauss rule of 8 nodes: with these the shift of 20 000
 * lashes and extensions drawn from all over their ranges was within 3e-11 of its size of the one
 * with far shorter arcs. Where a lash is thinner than THIN times its root it is not cut further:
 * what that leaves out is in proportion to THIN squared.
 */
static const double TURN_MOST_RAD = 2.0, RATIO_MOST = 1.8, THIN = 1e-5;

/* A profile followed from its tip inwards. */
typedef struct walk {
    const tcr_profile *profile;
    double joint_mm[TCR_PIECES_MAX]; /* where each piece starts */
    double length_mm;
    int piece;
    double at_mm, angle_rad;
    double cut_mm[3]; /* where arcs have to end as well */
} walk;

static walk walk_from_tip(const tcr_profile *profile, double length_mm) {
    walk w = {.profile = profile, .length_mm = length_mm, .piece = profile->pieces - 1};
    double joint = 0.0;
    for (int i = 0; i < profile->pieces; i++) {
        w.joint_mm[i] = joint;
        joint += profile->share[i] * length_mm;
        w.angle_rad += profile->turn_rad[i];
    }
    w.at_mm = length_mm;
    return w;
}

/* Goes back by one arc, at most most_mm long; false at the base. */
static bool walk_back(walk *w, double most_mm, tcr_rod_arc *arc) {
    while (w->piece >= 0 && w->joint_mm[w->piece] >= w->at_mm)
        w->piece--; /* nothing is left of it */
    if (w->piece < 0)
        return false;
    double stop = w->joint_mm[w->piece];
    for (size_t i = 0; i < sizeof w->cut_mm / sizeof *w->cut_mm; i++)
        if (w->cut_mm[i] < w->at_mm && w->cut_mm[i] > stop)
            stop = w->cut_mm[i];
    const double curvature =
        w->profile->turn_rad[w->piece] / (w->profile->share[w->piece] * w->length_mm);
    const double left = w->at_mm - stop;
    const double parts = fmax(1.0, ceil(left * fabs(curvature) / TURN_MOST_RAD));
    const double most = fmin(left / parts, most_mm);
    const double to = w->at_mm - most <= stop + 1e-9 * left ? stop : w->at_mm - most;
    const double turn = curvature * (w->at_mm - to);
    tcr_rod_arc_set(arc, w->at_mm - to, turn, w->angle_rad);
    w->at_mm = to;
    w->angle_rad -= turn;
    return true;
}

/* How far inwards from s a fibre grows by the ratio. */
static double fibre_taper_mm(const tcr_extension *ext, double s_mm) {
    if (s_mm <= TCR_FIBRE_FULL_SHARE * ext->length_mm)
        return INFINITY;
    const double growth = (1.0 - TCR_FIBRE_TIP_SHARE) * ext->diameter_mm /
                          ((1.0 - TCR_FIBRE_FULL_SHARE) * ext->length_mm);
    return (RATIO_MOST - 1.0) * tcr_fibre_diameter(ext, s_mm) / growth;
}

/* ---- Extension ----------------------------------------------------------------------------------
 */

/* One fibre beyond the bond; x along its tangent at the end of the bond. */
static tcr_rod free_fibre(const tcr_extension *ext, double bond_mm, tcr_rod_matter matter) {
    tcr_rod rod = {0};
    tcr_rod_arc arc;
    walk w = walk_from_tip(&ext->profile, ext->length_mm);
    w.cut_mm[0] = TCR_FIBRE_FULL_SHARE * ext->length_mm;
    w.cut_mm[1] = bond_mm;
    w.angle_rad -= tcr_arc_walk(&ext->profile, ext->length_mm, bond_mm).point.angle_rad;
    while (w.at_mm > bond_mm) {
        tcr_rod_stretch s = {.core = matter, .core_mm[1] = tcr_fibre_diameter(ext, w.at_mm)};
        if (!walk_back(&w, fibre_taper_mm(ext, w.at_mm), &arc))
            break;
        s.core_mm[0] = tcr_fibre_diameter(ext, w.at_mm);
        tcr_rod_step(&rod, &arc, &s, true);
    }
    return rod;
}

/* The mean of a fan's fibres, each turned about y by its share of the spread; n = 1 changes none.
 * Those of a planar fibre are 0 between x, y and z, and sines cancel. */
static void spread_shift(double m[3][3], double cosine, double cosine_square) {
    const double xx = m[0][0], zz = m[2][2], sine_square = 1.0 - cosine_square;
    m[0][0] = cosine_square * xx + sine_square * zz;
    m[2][2] = sine_square * xx + cosine_square * zz;
    m[0][1] *= cosine;
    m[1][0] *= cosine;
}

/* Turns what lies in the plane by an angle. */
static void turn_shift(double m[3][3], double angle_rad) {
    const tcr_sine_cosine of = tcr_sine_cosine_of(angle_rad);
    const double c = of.cosine, s = of.sine;
    const double xx = m[0][0], xy = m[0][1], yx = m[1][0], yy = m[1][1];
    m[0][0] = c * c * xx - s * c * (xy + yx) + s * s * yy;
    m[0][1] = s * c * (xx - yy) + c * c * xy - s * s * yx;
    m[1][0] = s * c * (xx - yy) + c * c * yx - s * s * xy;
    m[1][1] = s * s * xx + s * c * (xy + yx) + c * c * yy;
}

/* All fibres beyond the bond, about its end on the extension, in the lash's own axes. */
static tcr_rod free_fibres(const tcr_extension *ext, const tcr_attachment *att,
                           tcr_rod_matter matter) {
    tcr_rod rod = free_fibre(ext, att->bond_mm, matter);
    const double cosine = tcr_fan_mean_cosine(ext->fan, ext->spread_rad);
    const double twice = tcr_fan_mean_cosine(ext->fan, 2.0 * ext->spread_rad);
    const double n = ext->fan, angle = att->part_angle_rad;
    spread_shift(rod.shift, cosine, (1.0 + twice) / 2.0);
    turn_shift(rod.shift, angle);
    const tcr_vec2 first = tcr_turned(angle, n * cosine * rod.first.x, n * rod.first.y);
    const tcr_vec2 lever = tcr_turned(angle, cosine * rod.lever.x, rod.lever.y);
    rod.weight_uN *= n;
    rod.first = (tcr_vec3){first.x, first.y, 0.0};
    rod.lever = (tcr_vec3){lever.x, lever.y, 0.0};
    return rod;
}

/* ---- Natural lash -------------------------------------------------------------------------------
 */

/* What the natural lash needs to know of what is bonded to it. */
typedef struct bonded {
    double from_mm, to_mm;          /* the bond on the natural lash */
    tcr_rod fibres;                 /* beyond the bond */
    tcr_vec3 part[TCR_ROOTS];       /* from the lash to the extension at the end of the bond */
    double clearance_mm[TCR_ROOTS]; /* between the axes */
} bonded;

static bonded bonded_of(const tcr_lash *lash, const tcr_profile *natural, tcr_worn worn,
                        tcr_rod_matter fibre, const double root_mm[TCR_ROOTS]) {
    const tcr_attachment *att = worn.attachment;
    bonded b = {.from_mm = worn.bond->offset_mm};
    b.to_mm = fmin(b.from_mm + att->bond_mm, lash->length_mm);
    const tcr_arc_point q0 = tcr_arc_walk(natural, lash->length_mm, b.from_mm).point;
    const tcr_arc_point q1 = tcr_arc_walk(natural, lash->length_mm, b.to_mm).point;
    const double dx = q1.x - q0.x, dy = q1.y - q0.y, chord = sqrt(dx * dx + dy * dy);
    const tcr_vec3 normal = {-dy / chord, dx / chord, 0.0};
    const tcr_vec3 side[TCR_PLACEMENTS] = {
        [TCR_ON_TOP] = normal,
        [TCR_UNDERSIDE] = tcr_vec3_scale(-1.0, normal),
        [TCR_INNER_SIDE] = {0.0, 0.0, -1.0},
        [TCR_OUTER_SIDE] = {0.0, 0.0, 1.0},
    };
    const double middle = 1.0 - (b.from_mm + att->bond_mm / 2.0) / lash->length_mm;
    for (int v = 0; v < TCR_ROOTS; v++) {
        /* A thicker lash holds the extension further off, by half of what it is thicker there. */
        const double off = (root_mm[v] - lash->root_diameter_mm) * middle / 2.0;
        const tcr_vec3 part = {att->part.x - q1.x, att->part.y - q1.y, att->part.z};
        b.part[v] = tcr_vec3_step(part, off, side[worn.ext->placement]);
        b.clearance_mm[v] = att->clearance_mm + off;
    }
    b.fibres = free_fibres(worn.ext, att, fibre);
    return b;
}

/* Hangs the fibres on the natural lash at the end of the bond. */
static void hang_fibres(const bonded *b, tcr_rod rod[TCR_ROOTS]) {
    for (int v = 0; v < TCR_ROOTS; v++) {
        const tcr_vec3 first = tcr_vec3_step(b->fibres.first, b->fibres.weight_uN, b->part[v]);
        const tcr_vec3 own = rod[v].first;
        const double weight_uN = rod[v].weight_uN + b->fibres.weight_uN;
        rod[v] = b->fibres; /* the natural tip's own bending moves no fibre */
        rod[v].weight_uN = weight_uN;
        rod[v].first = tcr_vec3_add(own, first);
        rod[v].lever = tcr_vec3_add(b->part[v], b->fibres.lever);
    }
}

/* How far inwards from s the natural lash grows by the ratio, its root the thickest of all. */
static double natural_taper_mm(const tcr_lash *lash, double thickest_mm, double s_mm) {
    const double growth = (thickest_mm - lash->tip_diameter_mm) / lash->length_mm;
    const double here = lash->tip_diameter_mm + growth * (lash->length_mm - s_mm);
    return growth > 0.0 ? (RATIO_MOST - 1.0) * fmax(here, THIN * thickest_mm) / growth : INFINITY;
}

void tcr_lash_rods(const tcr_lash *lash, tcr_worn worn, const tcr_materials *materials,
                   const double root_mm[TCR_ROOTS], tcr_rod rod[TCR_ROOTS]) {
    const tcr_materials *m = materials;
    const tcr_rod_matter hair = tcr_rod_matter_of(m->hair_e_gpa, m->hair_g_gpa, m->hair_kg_m3);
    const tcr_rod_matter fibre = tcr_rod_matter_of(
        m->fibre_e_gpa, m->fibre_e_gpa / (2.0 * (1.0 + m->fibre_poisson)), m->fibre_kg_m3);
    const tcr_profile natural = tcr_lash_profile_kernel(lash->turn_rad);
    const double length = lash->length_mm, tip = lash->tip_diameter_mm;
    double thickest = 0.0;
    for (int v = 0; v < TCR_ROOTS; v++) {
        rod[v] = (tcr_rod){0};
        thickest = fmax(thickest, root_mm[v]);
    }
    walk w = walk_from_tip(&natural, length);
    bonded b = {.to_mm = INFINITY};
    if (worn.ext != NULL) {
        b = bonded_of(lash, &natural, worn, fibre, root_mm);
        w.cut_mm[0] = b.to_mm;
        w.cut_mm[1] = b.from_mm;
        w.cut_mm[2] = fmin(b.to_mm, b.from_mm + TCR_FIBRE_FULL_SHARE * worn.ext->length_mm);
    }
    tcr_rod_arc arc;
    for (bool hung = worn.ext == NULL;;) {
        if (!hung && w.at_mm <= b.to_mm) {
            hang_fibres(&b, rod);
            hung = true;
        }
        const double end = w.at_mm;
        const bool is_bonded = worn.ext != NULL && end <= b.to_mm && end > b.from_mm;
        double most = hung ? natural_taper_mm(lash, thickest, end) : INFINITY;
        tcr_rod_stretch s = {.core = hair, .fibre = fibre};
        if (is_bonded) {
            most = fmin(most, fibre_taper_mm(worn.ext, end - b.from_mm));
            s.fibres = worn.ext->fan;
            s.fibre_mm[1] = tcr_fibre_diameter(worn.ext, end - b.from_mm);
            s.aside =
                worn.ext->placement == TCR_INNER_SIDE || worn.ext->placement == TCR_OUTER_SIDE;
        }
        if (!walk_back(&w, most, &arc))
            return;
        if (is_bonded)
            s.fibre_mm[0] = tcr_fibre_diameter(worn.ext, w.at_mm - b.from_mm);
        for (int v = 0; v < TCR_ROOTS; v++) {
            const double slope = (root_mm[v] - tip) / length;
            s.core_mm[0] = tip + slope * (length - w.at_mm);
            s.core_mm[1] = tip + slope * (length - end);
            s.apart_mm = b.clearance_mm[v];
            tcr_rod_step(&rod[v], &arc, &s, hung);
        }
    }
}
