/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_LASH_KERNEL_H
#define TCR_MODEL_LASH_KERNEL_H

/*
 * The natural lash and the extension on it, inline (model.md, sections 3 and 4). The scalar and the
 * batch call both run this code. Inputs are valid: public calls check them first.
 */

#include <math.h>

#include <tipcrest/extension.h>
#include <tipcrest/lash.h>

#include "geom/arc.h"
#include "geom/vector.h"
#include "model/field_table.h"
#include "model/lid_kernel.h"

/*
 * The shortest bond that holds, mm. A lash of 1.4 mm with a bond from 0.4 mm has just that, though
 * 1.4 - 0.4 falls short of 1 in doubles: within 1e-9 mm it counts as enough.
 */
#define TCR_BOND_LEAST_MM (1.0 - 1e-9)

/* The yaw of a lash of which none is known, by its place. */
static inline double tcr_yaw_by_default(double u) {
    return (TCR_YAW_INNER_DEG + TCR_YAW_FAN_DEG * u) * TCR_DEG;
}

static inline tcr_profile tcr_lash_profile_kernel(double turn_rad) {
    const double third = 1.0 / 3.0;
    return (tcr_profile){3,
                         {third, third, third},
                         {turn_rad * (4.0 / 9.0), turn_rad * (3.0 / 9.0), turn_rad * (2.0 / 9.0)}};
}

/* A lash rooted in a lid and aimed, worked out once for every opening. */
typedef struct tcr_rooted {
    tcr_margin_place place;
    double radius, height_mm;
    double along_n, along_t, along_b; /* the direction of growth in the lid's axes */
    double cos_roll, sin_roll;
} tcr_rooted;

static inline tcr_rooted tcr_lash_rooted_at(const tcr_lash *lash, const tcr_margin_place *place,
                                            double radius) {
    const tcr_sine_cosine pitch = tcr_sine_cosine_of(lash->pitch_rad);
    const tcr_sine_cosine yaw = tcr_sine_cosine_of(lash->yaw_rad);
    const tcr_sine_cosine roll = tcr_sine_cosine_of(lash->roll_rad);
    return (tcr_rooted){
        .place = *place,
        .radius = radius,
        .height_mm = lash->height_mm,
        .along_n = pitch.cosine * yaw.cosine,
        .along_t = pitch.cosine * yaw.sine,
        .along_b = pitch.sine,
        .cos_roll = roll.cosine,
        .sin_roll = roll.sine,
    };
}

static inline tcr_rooted tcr_lash_rooted(const tcr_lash *lash, const tcr_lid_constants *k) {
    const tcr_margin_place place = tcr_lid_place(k, lash->u);
    return tcr_lash_rooted_at(lash, &place, k->radius);
}

/* How a rooted lash stands at an opening. */
static inline tcr_stance tcr_rooted_stance(const tcr_rooted *r, double opening) {
    const tcr_frame f = tcr_lid_frame_at(&r->place, r->radius, opening);
    const tcr_vec3 d = tcr_vec3_step(
        tcr_vec3_step(tcr_vec3_scale(r->along_n, f.n), r->along_t, f.t), r->along_b, f.b);
    const tcr_vec3 v = tcr_vec3_unit(tcr_vec3_step(f.b, -tcr_vec3_dot(f.b, d), d));
    const tcr_vec3 w = tcr_vec3_cross(v, d);
    return (tcr_stance){
        .root = tcr_vec3_step(f.point, r->height_mm, f.b),
        .along = d,
        .up = tcr_vec3_step(tcr_vec3_scale(r->cos_roll, v), r->sin_roll, w),
        .out = tcr_vec3_step(tcr_vec3_scale(r->cos_roll, w), -r->sin_roll, v),
    };
}

static inline tcr_stance tcr_lash_stance_kernel(const tcr_lash *lash, const tcr_lid_constants *k,
                                                double opening) {
    const tcr_rooted rooted = tcr_lash_rooted(lash, k);
    return tcr_rooted_stance(&rooted, opening);
}

static inline tcr_vec3 tcr_stance_point_kernel(const tcr_stance *s, tcr_vec3 local) {
    const tcr_vec3 p = tcr_vec3_step(tcr_vec3_step(s->root, local.x, s->along), local.y, s->up);
    return tcr_vec3_step(p, local.z, s->out);
}

/*
 * D(s) = f_e - f_n over the bond, followed from joint to joint of either profile: heights over the
 * two chords grow by the same step as the arcs do, with angles measured from the chords.
 */
typedef struct tcr_contact {
    double alpha_n, alpha_e; /* angles of the tangents to their chords */
    double d;                /* D so far */
    double least, most;      /* of D so far */
} tcr_contact;

static inline void tcr_contact_note(tcr_contact *c, double d) {
    if (d < c->least)
        c->least = d;
    if (d > c->most)
        c->most = d;
}

/* Height over the chord gained along an arc of length l with turn a, entered at angle alpha to it.
 */
static inline double tcr_arc_height(double alpha, double l, double a) {
    return l * tcr_sinc(a / 2.0) * tcr_sine(alpha + a / 2.0);
}

/* D at a share of a stretch of length l in which the two curves turn by a_n and a_e. */
static inline double tcr_contact_at(const tcr_contact *c, double share, double l, double a_n,
                                    double a_e) {
    return c->d + tcr_arc_height(c->alpha_e, share * l, share * a_e) -
           tcr_arc_height(c->alpha_n, share * l, share * a_n);
}

/*
 * Notes D wherever a function that runs linearly from 'start' by 'change' over the stretch meets
 * offset + 2 pi k inside it.
 */
static inline void tcr_contact_meet(tcr_contact *c, double start, double change, double offset,
                                    double l, double a_n, double a_e) {
    if (fabs(change) < 1e-300)
        return;
    const double whole = 2.0 * TCR_PI;
    const double low = fmin(start, start + change), high = fmax(start, start + change);
    for (double k = ceil((low - offset) / whole); offset + whole * k <= high; k += 1.0) {
        const double share = (offset + whole * k - start) / change;
        if (share > 0.0 && share < 1.0)
            tcr_contact_note(c, tcr_contact_at(c, share, l, a_n, a_e));
    }
}

/* One stretch between joints: D' = sin(alpha_e) - sin(alpha_n) is 0 where they are equal or sum to
 * pi. */
static inline void tcr_contact_stretch(tcr_contact *c, double l, double a_n, double a_e) {
    tcr_contact_meet(c, c->alpha_e - c->alpha_n, a_e - a_n, 0.0, l, a_n, a_e);
    tcr_contact_meet(c, c->alpha_e + c->alpha_n, a_e + a_n, TCR_PI, l, a_n, a_e);
    c->d = tcr_contact_at(c, 1.0, l, a_n, a_e);
    c->alpha_n += a_n;
    c->alpha_e += a_e;
    tcr_contact_note(c, c->d);
}

/* The stretch of a natural lash that a bond of a length covers. */
typedef struct tcr_bond_bed {
    tcr_profile profile;
    double lash_mm;      /* length of the lash */
    double bond_mm;      /* c */
    tcr_arc_place start; /* q(s_a) */
    double chord;        /* its angle */
    tcr_vec2 along;      /* unit, its direction */
    double middle_mm;    /* the lash's diameter in the middle of the bond */
} tcr_bond_bed;

static inline tcr_bond_bed tcr_bond_bed_of(const tcr_lash *lash, double offset_mm, double bond_mm) {
    tcr_bond_bed bed = {.profile = tcr_lash_profile_kernel(lash->turn_rad),
                        .lash_mm = lash->length_mm,
                        .bond_mm = bond_mm};
    bed.start = tcr_arc_walk(&bed.profile, lash->length_mm, offset_mm);
    const tcr_arc_point end =
        tcr_arc_walk(&bed.profile, lash->length_mm, offset_mm + bond_mm).point;
    const double dx = end.x - bed.start.point.x, dy = end.y - bed.start.point.y;
    const double size = sqrt(dx * dx + dy * dy);
    bed.chord = tcr_angle_of(dy, dx);
    bed.along = size > 0.0 ? (tcr_vec2){dx / size, dy / size} : (tcr_vec2){1.0, 0.0};
    const double taper = (lash->tip_diameter_mm - lash->root_diameter_mm) / lash->length_mm;
    bed.middle_mm = lash->root_diameter_mm + taper * (offset_mm + bond_mm / 2.0);
    return bed;
}

/* Two curves that are bonded: the natural lash on its bed, the extension from its base on. */
typedef struct tcr_bonded {
    const tcr_bond_bed *bed;
    const tcr_profile *curl;
    double ext_mm;
    double chord_e;
} tcr_bonded;

/* The extremes of D over a bond. */
static inline tcr_contact tcr_contact_over(const tcr_bonded *b) {
    const tcr_bond_bed *bed = b->bed;
    const tcr_profile *natural = &bed->profile, *curl = b->curl;
    tcr_contact contact = {bed->start.point.angle_rad - bed->chord, -b->chord_e, 0.0, 0.0, 0.0};
    int i = bed->start.piece, j = 0;
    double left = bed->bond_mm;
    double left_n = natural->share[i] * bed->lash_mm - bed->start.into_mm;
    double left_e = curl->share[0] * b->ext_mm;
    while (left > 0.0) {
        const bool last_n = i == natural->pieces - 1, last_e = j == curl->pieces - 1;
        /* The last pieces go on to the end of the bond, of which rounding may leave them short. */
        const double l = fmin(left, fmin(last_n ? left : left_n, last_e ? left : left_e));
        tcr_contact_stretch(&contact, l,
                            natural->turn_rad[i] * l / (natural->share[i] * bed->lash_mm),
                            curl->turn_rad[j] * l / (curl->share[j] * b->ext_mm));
        left -= l;
        left_n -= l;
        left_e -= l;
        if (left_n <= 0.0 && !last_n)
            left_n = natural->share[++i] * bed->lash_mm;
        if (left_e <= 0.0 && !last_e)
            left_e = curl->share[++j] * b->ext_mm;
    }
    return contact;
}

/* How far the base is moved along the normal of the natural chord (x) and along w (y). */
static inline tcr_vec2 tcr_contact_shift(const tcr_bonded *b, tcr_placement placement, double r) {
    switch (placement) {
    case TCR_ON_TOP:
        return (tcr_vec2){r - tcr_contact_over(b).least, 0.0};
    case TCR_UNDERSIDE:
        return (tcr_vec2){-(r + tcr_contact_over(b).most), 0.0};
    case TCR_INNER_SIDE:
        return (tcr_vec2){0.0, -r};
    case TCR_OUTER_SIDE:
    default:
        return (tcr_vec2){0.0, r};
    }
}

/* Mean of cos over the fibres' turns, 1 for a single fibre; the sines cancel. */
static inline double tcr_fan_mean_cosine(int fan, double spread_rad) {
    if (fan < 2)
        return 1.0;
    double sum = 0.0;
    for (int j = 0; j < fan; j++)
        sum += tcr_cosine(spread_rad * ((double)j / (fan - 1) - 0.5));
    return sum / fan;
}

static inline tcr_vec2 tcr_turned(double angle_rad, double x, double y) {
    const tcr_sine_cosine of = tcr_sine_cosine_of(angle_rad);
    const double c = of.cosine, s = of.sine;
    return (tcr_vec2){c * x - s * y, s * x + c * y};
}

/* How much of a lash and an extension a bond covers: c of the model, mm. */
static inline double tcr_bond_length(const tcr_lash *lash, double ext_mm, const tcr_bond *bond) {
    return fmin(bond->length_mm, fmin(lash->length_mm - bond->offset_mm, ext_mm));
}

/* Where an extension parts from its lash, and what of it is free, in its own axes. */
typedef struct tcr_parting {
    double bond_mm;      /* c */
    tcr_arc_point point; /* e(c) */
    double chord;        /* the angle of its chord */
    double chord_mm;
    tcr_vec2 along; /* unit, the chord's direction */
    tcr_vec2 rest;  /* from there to the tip */
} tcr_parting;

static inline tcr_parting tcr_parting_of(const tcr_extension *ext, double bond_mm) {
    const tcr_arc_point e1 = tcr_arc_walk(&ext->profile, ext->length_mm, bond_mm).point;
    const tcr_arc_point end = tcr_arc_walk(&ext->profile, ext->length_mm, ext->length_mm).point;
    tcr_parting out = {.bond_mm = bond_mm, .point = e1, .chord = tcr_angle_of(e1.y, e1.x)};
    const double e = out.chord_mm = sqrt(e1.x * e1.x + e1.y * e1.y);
    out.along = e > 0.0 ? (tcr_vec2){e1.x / e, e1.y / e} : (tcr_vec2){1.0, 0.0};
    out.rest = (tcr_vec2){end.x - e1.x, end.y - e1.y};
    if (ext->fan > 1) { /* shorter along the tangent where the fibres part */
        const tcr_sine_cosine at = tcr_sine_cosine_of(e1.angle_rad);
        const tcr_vec2 t = {at.cosine, at.sine};
        const double loss = (1.0 - tcr_fan_mean_cosine(ext->fan, ext->spread_rad)) *
                            (out.rest.x * t.x + out.rest.y * t.y);
        out.rest = (tcr_vec2){out.rest.x - loss * t.x, out.rest.y - loss * t.y};
    }
    return out;
}

/* Lays an extension, which parts as its bond's length says, on the bed that the bond has. */
static inline tcr_attachment tcr_attach_to(const tcr_bond_bed *bed, const tcr_extension *ext,
                                           const tcr_parting *parting, double glue_mm) {
    const tcr_arc_point q0 = bed->start.point;
    const tcr_bonded bonded = {bed, &ext->profile, ext->length_mm, parting->chord};
    const double r = bed->middle_mm / 2.0 + ext->diameter_mm / 2.0 + glue_mm;
    const tcr_vec2 shift = tcr_contact_shift(&bonded, ext->placement, r);

    /* The extension is turned so that its chord, e long, lies along the bed's: by the difference of
     * their directions, for which no sine has to be taken. */
    const double e = parting->chord_mm;
    const tcr_vec2 n = bed->along, own = parting->along, rest = parting->rest;
    const tcr_vec2 turn = {n.x * own.x + n.y * own.y, n.y * own.x - n.x * own.y};

    tcr_attachment out = {
        .bond_mm = bed->bond_mm,
        .clearance_mm = r,
        .base_angle_rad = bed->chord - parting->chord,
        .base = {q0.x - n.y * shift.x, q0.y + n.x * shift.x, shift.y},
    };
    out.part = (tcr_vec3){out.base.x + e * n.x, out.base.y + e * n.y, out.base.z};
    out.part_angle_rad = out.base_angle_rad + parting->point.angle_rad;
    out.tip = (tcr_vec3){out.part.x + turn.x * rest.x - turn.y * rest.y,
                         out.part.y + turn.y * rest.x + turn.x * rest.y, out.base.z};
    return out;
}

static inline tcr_status tcr_attach_kernel(const tcr_lash *lash, const tcr_extension *ext,
                                           const tcr_bond *bond, tcr_attachment *out) {
    const double c = tcr_bond_length(lash, ext->length_mm, bond);
    if (c < TCR_BOND_LEAST_MM)
        return TCR_E_BOND;
    const tcr_bond_bed bed = tcr_bond_bed_of(lash, bond->offset_mm, c);
    const tcr_parting parting = tcr_parting_of(ext, c);
    *out = tcr_attach_to(&bed, ext, &parting, bond->glue_mm);
    return TCR_OK;
}

/* The tip of a bare lash in its own axes. */
static inline tcr_vec3 tcr_bare_tip_kernel(const tcr_lash *lash) {
    const tcr_profile natural = tcr_lash_profile_kernel(lash->turn_rad);
    const tcr_arc_point end = tcr_arc_walk(&natural, lash->length_mm, lash->length_mm).point;
    return (tcr_vec3){end.x, end.y, 0.0};
}

#endif
