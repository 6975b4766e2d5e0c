/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_LASH_KERNEL_H
#define TCR_MODEL_LASH_KERNEL_H

/*
 * The natural lash on its lid, inline (model.md, section 3); attach_kernel.h has what it carries.
 * The scalar and the batch call both run this code. Inputs are valid: public calls check them
 * first.
 */

#include <math.h>

#include <tipcrest/extension.h>
#include <tipcrest/lash.h>

#include "geom/arc.h"
#include "geom/vector.h"
#include "model/attach_kernel.h"
#include "model/field_table.h"
#include "model/lid_kernel.h"

/* The yaw of a lash of which none is known, by its place. */
TCR_SHARED double tcr_yaw_by_default(double u) {
    return (TCR_YAW_INNER_DEG + TCR_YAW_FAN_DEG * u) * TCR_DEG;
}

/* The direction of growth as turns in the lid's axes: the sines and cosines of its angles. */
typedef struct tcr_aim {
    tcr_sine_cosine pitch, yaw, roll;
} tcr_aim;

TCR_LANE tcr_aim tcr_aim_lane(double pitch_rad, double yaw_rad, double roll_rad) {
    return (tcr_aim){tcr_sine_cosine_lane(pitch_rad), tcr_sine_cosine_lane(yaw_rad),
                     tcr_sine_cosine_lane(roll_rad)};
}

/* A vector of a lash's own axes (along, up, out) in those of the lid (n, t, b): d, v and w of the
 * model come of plane turns by the roll, the pitch and the yaw. */
TCR_LANE tcr_vec3 tcr_aim_turned(const tcr_aim *a, tcr_vec3 own) {
    const double up = own.y * a->roll.cosine - own.z * a->roll.sine;
    const double out = own.y * a->roll.sine + own.z * a->roll.cosine;
    const double forward = own.x * a->pitch.cosine - up * a->pitch.sine;
    return (tcr_vec3){forward * a->yaw.cosine - out * a->yaw.sine,
                      forward * a->yaw.sine + out * a->yaw.cosine,
                      own.x * a->pitch.sine + up * a->pitch.cosine};
}

/* A vector of the lid's axes in the eye's frame. */
TCR_LANE tcr_vec3 tcr_seat_vector(const tcr_seat *s, tcr_vec3 v) {
    return tcr_seat_turned(s, s->n_x * v.x + s->t_x * v.y - s->n_r * s->t_p * v.z,
                           s->n_r * v.x + s->t_r * v.y + s->n_x * s->t_p * v.z,
                           s->t_p * v.y + s->b_p * v.z);
}

/* A point in a lash's own axes, with its root height_mm above the margin, in the eye's frame. */
TCR_LANE tcr_vec3 tcr_seat_point(const tcr_seat *s, const tcr_aim *a, double height_mm,
                                 tcr_vec3 own) {
    const tcr_vec3 v = tcr_aim_turned(a, own);
    const double z = v.z + height_mm;
    return tcr_seat_turned(s, s->x + (s->n_x * v.x + s->t_x * v.y - s->n_r * s->t_p * z),
                           s->rho + (s->n_r * v.x + s->t_r * v.y + s->n_x * s->t_p * z),
                           s->t_p * v.y + s->b_p * z);
}

/* A lash rooted in a lid and aimed, worked out once for every opening. */
typedef struct tcr_rooted {
    tcr_margin_place place;
    double height_mm;
    tcr_aim aim;
} tcr_rooted;

TCR_SHARED tcr_rooted tcr_lash_rooted_at(const tcr_lash *lash, const tcr_margin_place *place) {
    return (tcr_rooted){*place, lash->height_mm,
                        tcr_aim_lane(lash->pitch_rad, lash->yaw_rad, lash->roll_rad)};
}

TCR_SHARED tcr_rooted tcr_lash_rooted(const tcr_lash *lash, const tcr_lid_constants *k) {
    const tcr_margin_place place = tcr_lid_place(k, lash->u);
    return tcr_lash_rooted_at(lash, &place);
}

/* How a rooted lash stands on its seat. */
TCR_SHARED tcr_stance tcr_seat_stance(const tcr_seat *s, const tcr_rooted *r) {
    static const tcr_vec3 along = {1.0, 0.0, 0.0}, up = {0.0, 1.0, 0.0}, out = {0.0, 0.0, 1.0};
    return (tcr_stance){
        .root = tcr_seat_point(s, &r->aim, r->height_mm, (tcr_vec3){0.0, 0.0, 0.0}),
        .along = tcr_seat_vector(s, tcr_aim_turned(&r->aim, along)),
        .up = tcr_seat_vector(s, tcr_aim_turned(&r->aim, up)),
        .out = tcr_seat_vector(s, tcr_aim_turned(&r->aim, out)),
    };
}

TCR_SHARED tcr_stance tcr_rooted_stance(const tcr_rooted *r, double opening) {
    const tcr_seat seat = tcr_seat_at(&r->place, opening);
    return tcr_seat_stance(&seat, r);
}

TCR_SHARED tcr_stance tcr_lash_stance_kernel(const tcr_lash *lash, const tcr_lid_constants *k,
                                             double opening) {
    const tcr_rooted rooted = tcr_lash_rooted(lash, k);
    return tcr_rooted_stance(&rooted, opening);
}

TCR_SHARED tcr_vec3 tcr_stance_point_kernel(const tcr_stance *s, tcr_vec3 local) {
    const tcr_vec3 p = tcr_vec3_step(tcr_vec3_step(s->root, local.x, s->along), local.y, s->up);
    return tcr_vec3_step(p, local.z, s->out);
}

/* The tip of a bare lash in its own axes. */
TCR_SHARED tcr_vec3 tcr_bare_tip_kernel(const tcr_lash *lash) {
    const tcr_profile natural = tcr_lash_profile_kernel(lash->turn_rad);
    const tcr_arc_point end = tcr_arc_walk(&natural, lash->length_mm, lash->length_mm).point;
    return (tcr_vec3){end.x, end.y, 0.0};
}

TCR_SHARED tcr_vec2 tcr_turned(double angle_rad, double x, double y) {
    const tcr_sine_cosine of = tcr_sine_cosine_of(angle_rad);
    return (tcr_vec2){of.cosine * x - of.sine * y, of.sine * x + of.cosine * y};
}

#endif
