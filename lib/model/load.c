/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Masses, and the moment at the root (model.md, section 9: materials and tapers; the shape is the
 * stress-free one of sections 3 and 4, with the bonded fibres on the natural centre line).
 */
#include "model/load.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "geom/vector.h"
#include "model/lash_kernel.h"
#include "model/load_kernel.h"
#include "model/load_rows.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

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

tcr_status tcr_materials_validate(const tcr_materials *m, tcr_error *error) {
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
        return tcr_error_range(error, TCR_E_RANGE, number[i].member, number[i].value,
                               number[i].least, number[i].most);
    }
    return TCR_OK;
}

tcr_status tcr_stance_validate(const tcr_stance *s) {
    static const double SLACK = 1e-6;
    const tcr_vec3 axis[] = {s->along, s->up, s->out};
    for (int i = 0; i < 3; i++)
        for (int j = i; j < 3; j++)
            if (!(fabs(tcr_vec3_dot(axis[i], axis[j]) - (i == j ? 1.0 : 0.0)) <= SLACK))
                return TCR_E_RANGE;
    return TCR_OK;
}

/* ---- Masses and moments ------------------------------------------------------------------------
 */

double tcr_fibre_diameter(const tcr_extension *ext, double s_mm) {
    const double full = TCR_FIBRE_FULL_SHARE, tip = TCR_FIBRE_TIP_SHARE;
    const double share = s_mm / ext->length_mm;
    if (share <= full)
        return ext->diameter_mm;
    return ext->diameter_mm * (1.0 - (1.0 - tip) * (share - full) / (1.0 - full));
}

/*
 * The spherical Bessel functions j0 to j3 (DLMF 10.49.3). Where the closed forms would cancel, j2
 * and j3 by their series (10.53.1), and down from there by 10.51.1, which is stable in that
 * direction; k[n] is j_n(h) / h^n, so that nothing is divided by h.
 */
static void spherical_bessel(double h, double j[4]) {
    if (fabs(h) > 1.5) {
        const tcr_sine_cosine of = tcr_sine_cosine_of(h);
        const double s = of.sine, c = of.cosine, q = 1.0 / h;
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

/* A profile followed from a place on it, in arcs that also end at cuts. */
typedef struct walk {
    const tcr_profile *profile;
    double length_mm;
    double cut_mm[3];
    double s_mm, end_mm; /* where the walk stands, and where its piece ends */
    int piece;
    tcr_arc_point at;
} walk;

/* One arc of a walk, with what every taper on it needs. */
typedef struct piece {
    tcr_arc_point from;
    double s_mm[2];      /* where it starts and ends */
    double j[4];         /* spherical Bessel functions of half its turn */
    double cosine, sine; /* of the angle at its middle */
} piece;

/* Starts at s_mm, in a place and a direction of 0. */
static walk walk_from(const tcr_profile *profile, double length_mm, double s_mm) {
    return (walk){.profile = profile, .length_mm = length_mm, .s_mm = s_mm, .piece = -1};
}

/* The next arc; false at the end. */
static bool walk_on(walk *w, piece *arc) {
    const tcr_profile *p = w->profile;
    while (w->piece < 0 || w->s_mm >= w->end_mm) {
        if (++w->piece >= p->pieces)
            return false;
        w->end_mm = w->piece == p->pieces - 1 ? w->length_mm
                                              : w->end_mm + p->share[w->piece] * w->length_mm;
    }
    double to = w->end_mm;
    for (size_t i = 0; i < sizeof w->cut_mm / sizeof *w->cut_mm; i++)
        if (w->cut_mm[i] > w->s_mm && w->cut_mm[i] < to)
            to = w->cut_mm[i];
    const double l = to - w->s_mm;
    const double turn = p->turn_rad[w->piece] * (l / (p->share[w->piece] * w->length_mm));
    arc->from = w->at;
    arc->s_mm[0] = w->s_mm;
    arc->s_mm[1] = to;
    const tcr_sine_cosine middle = tcr_sine_cosine_of(w->at.angle_rad + turn / 2.0);
    arc->cosine = middle.cosine;
    arc->sine = middle.sine;
    spherical_bessel(turn / 2.0, arc->j);
    w->at.x += l * arc->j[0] * arc->cosine; /* j0 is sin(q)/q */
    w->at.y += l * arc->j[0] * arc->sine;
    w->at.angle_rad += turn;
    w->s_mm = to;
    return true;
}

static void add_fibre(tcr_moments *sum, const piece *arc, const tcr_extension *ext,
                      double base_mm) {
    const tcr_moments more = tcr_arc_moments(
        (tcr_vec2){arc->from.x, arc->from.y}, (tcr_vec2){arc->cosine, arc->sine},
        arc->s_mm[1] - arc->s_mm[0], arc->j, tcr_fibre_diameter(ext, arc->s_mm[0] - base_mm),
        tcr_fibre_diameter(ext, arc->s_mm[1] - base_mm));
    sum->weight += more.weight;
    sum->first.x += more.first.x;
    sum->first.y += more.first.y;
}

/* A bonded fibre that tapers under the bond, or whose bond starts beyond the first third. */
static tcr_moments bonded_in_pieces(const tcr_lash *lash, tcr_worn worn) {
    const tcr_profile profile = tcr_lash_profile_kernel(lash->turn_rad);
    const double from = worn.bond->offset_mm;
    const double to = fmin(from + worn.attachment->bond_mm, lash->length_mm);
    walk w = walk_from(&profile, lash->length_mm, 0.0);
    tcr_moments sum = {0};
    w.cut_mm[0] = from;
    w.cut_mm[1] = to;
    w.cut_mm[2] = fmin(to, from + TCR_FIBRE_FULL_SHARE * worn.ext->length_mm);
    for (piece arc; walk_on(&w, &arc);)
        if (arc.s_mm[0] >= from && arc.s_mm[0] < to)
            add_fibre(&sum, &arc, worn.ext, from);
    return sum;
}

void tcr_bonded_moments(const tcr_lash *lash, tcr_worn worn, tcr_moments *own,
                        tcr_moments *bonded) {
    *own = tcr_own_moments_lane(lash->length_mm, lash->turn_rad, lash->root_diameter_mm,
                                lash->tip_diameter_mm);
    *bonded = (tcr_moments){0};
    if (worn.ext == NULL)
        return;
    const double c = worn.attachment->bond_mm, d2 = tcr_squared(worn.ext->diameter_mm);
    if (!tcr_bonded_is_usual(lash->length_mm, worn.bond->offset_mm, c, worn.ext->length_mm)) {
        *bonded = bonded_in_pieces(lash, worn);
        return;
    }
    const tcr_moments thin =
        tcr_bonded_moments_lane(lash->length_mm, lash->turn_rad, worn.bond->offset_mm, c);
    *bonded = (tcr_moments){d2 * thin.weight, {d2 * thin.first.x, d2 * thin.first.y}};
}

/* The fibres are turned to both sides alike, so that of what lies forward the mean cosine is left,
 * and nothing to the side. */
tcr_moments tcr_free_moments(const tcr_extension *ext, double bond_mm) {
    walk w = walk_from(&ext->profile, ext->length_mm, bond_mm);
    w.cut_mm[0] = TCR_FIBRE_FULL_SHARE * ext->length_mm;
    tcr_moments sum = {0};
    for (piece arc; walk_on(&w, &arc);)
        add_fibre(&sum, &arc, ext, 0.0);
    sum.first.x *= tcr_fan_mean_cosine(ext->fan, ext->spread_rad);
    return sum;
}

double tcr_uN_of(double kg_m3) { return TCR_PI / 4.0 * kg_m3 / 1000.0 * TCR_UN_PER_MG; }

tcr_first_moments tcr_first_moments_by(const tcr_moments *own, const tcr_moments *bonded,
                                       const tcr_moments *rest, tcr_worn worn,
                                       const tcr_materials *m) {
    const double hair = tcr_uN_of(m->hair_kg_m3);
    tcr_first_moments first = {.own_uNmm = {hair * own->first.x, hair * own->first.y, 0.0}};
    first.all_uNmm = first.own_uNmm;
    if (worn.ext != NULL)
        first.all_uNmm =
            tcr_all_moments_lane(first.own_uNmm, bonded->first, rest->weight, rest->first,
                                 worn.attachment->part, worn.ext->fan * tcr_uN_of(m->fibre_kg_m3));
    return first;
}

tcr_first_moments tcr_first_moments_of(const tcr_lash *lash, tcr_worn worn,
                                       const tcr_materials *m) {
    tcr_moments own, bonded, rest = {0};
    tcr_bonded_moments(lash, worn, &own, &bonded);
    if (worn.ext != NULL) {
        rest = tcr_free_moments(worn.ext, worn.attachment->bond_mm);
        rest.first = tcr_turned(worn.attachment->part_angle_rad, rest.first.x, rest.first.y);
    }
    return tcr_first_moments_by(&own, &bonded, &rest, worn, m);
}

tcr_vec3 tcr_stance_to_eye(const tcr_stance *s, tcr_vec3 local) {
    const tcr_vec3 p = tcr_vec3_step(tcr_vec3_scale(local.x, s->along), local.y, s->up);
    return tcr_vec3_step(p, local.z, s->out);
}

double tcr_extension_mass(const tcr_extension *ext, double kg_m3) {
    const double d = ext->diameter_mm, full_mm = TCR_FIBRE_FULL_SHARE * ext->length_mm;
    return ext->fan * (tcr_frustum_mg(d, d, full_mm, kg_m3) +
                       tcr_frustum_mg(d, TCR_FIBRE_TIP_SHARE * d, ext->length_mm - full_mm, kg_m3));
}

tcr_load tcr_load_of(const tcr_lash *lash, const tcr_stance *s, tcr_worn worn,
                     const tcr_materials *m, const tcr_first_moments *first) {
    const tcr_across across = {s->along.x, s->up.x, s->out.x, s->along.z, s->up.z, s->out.z};
    tcr_load load = {.natural_mass_mg =
                         tcr_frustum_mg(lash->root_diameter_mm, lash->tip_diameter_mm,
                                        lash->length_mm, m->hair_kg_m3)};
    if (worn.ext != NULL)
        load.extension_mass_mg = tcr_extension_mass(worn.ext, m->fibre_kg_m3);
    load.mass_ratio = load.extension_mass_mg / load.natural_mass_mg;
    load.natural_moment_uNmm = tcr_sitting_lane(&across, first->own_uNmm);
    load.root_moment_uNmm = tcr_sitting_lane(&across, first->all_uNmm);
    load.moment_ratio = tcr_moment_ratio_lane(load.root_moment_uNmm, load.natural_moment_uNmm,
                                              load.natural_mass_mg, lash->length_mm);
    return load;
}

tcr_load tcr_usual_load(const tcr_lash *lash, const tcr_stance *stance, tcr_worn worn) {
    const tcr_materials materials = tcr_materials_default();
    const tcr_first_moments first = tcr_first_moments_of(lash, worn, &materials);
    return tcr_load_of(lash, stance, worn, &materials, &first);
}

tcr_borne tcr_borne_of(const tcr_extension *ext, const tcr_fibre *fibre, double bond_mm) {
    const tcr_materials materials = tcr_materials_default();
    return (tcr_borne){
        .d2 = tcr_squared(ext->diameter_mm),
        .free = tcr_free_moments(ext, bond_mm),
        .turned_rad = tcr_turned_to(fibre, bond_mm),
        .fibres_uN = ext->fan * tcr_uN_of(materials.fibre_kg_m3),
        .mass_mg = tcr_extension_mass(ext, materials.fibre_kg_m3),
        .usual = bond_mm <= TCR_FIBRE_FULL_SHARE * ext->length_mm ? 1.0 : 0.0,
    };
}
