/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loops over blocks of lashes: lanes of the kernels, for several instruction sets. */
#include "model/rows.h"

#include "num/elementary_kernel.h"

TCR_LANE void put_seat(tcr_seat_rows *rows, size_t i, const tcr_seat *s) {
    rows->x[i] = s->x;
    rows->rho[i] = s->rho;
    rows->sine[i] = s->sine;
    rows->cosine[i] = s->cosine;
    rows->n_x[i] = s->n_x;
    rows->n_r[i] = s->n_r;
    rows->t_x[i] = s->t_x;
    rows->t_r[i] = s->t_r;
    rows->t_p[i] = s->t_p;
    rows->b_p[i] = s->b_p;
}

TCR_CLONED static void seats_open(const tcr_lid_constants *restrict lid, size_t n,
                                  const tcr_lash_rows *restrict lash,
                                  tcr_seat_rows *restrict rows) {
    for (size_t i = 0; i < n; i++) {
        const tcr_margin_place place = tcr_lid_place(lid, lash->u[i]);
        const tcr_seat seat = tcr_seat_open(&place);
        put_seat(rows, i, &seat);
    }
}

TCR_CLONED static void seats_closed(const tcr_lid_constants *restrict lid, size_t n,
                                    const tcr_lash_rows *restrict lash,
                                    tcr_seat_rows *restrict rows) {
    for (size_t i = 0; i < n; i++) {
        const tcr_margin_place place = tcr_lid_place(lid, lash->u[i]);
        const tcr_seat seat = tcr_seat_closed(&place);
        put_seat(rows, i, &seat);
    }
}

TCR_CLONED static void seats_between(const tcr_lid_constants *restrict lid, double opening,
                                     size_t n, const tcr_lash_rows *restrict lash,
                                     tcr_seat_rows *restrict rows) {
    for (size_t i = 0; i < n; i++) {
        const tcr_margin_place place = tcr_lid_place(lid, lash->u[i]);
        const tcr_seat seat = tcr_seat_between(&place, opening);
        put_seat(rows, i, &seat);
    }
}

void tcr_seats_n(const tcr_lid_constants *lid, double opening, size_t n, const tcr_lash_rows *lash,
                 tcr_seat_rows *seat) {
    const size_t whole = tcr_rows_whole(n);
    if (opening == 1.0)
        seats_open(lid, whole, lash, seat);
    else if (opening == 0.0)
        seats_closed(lid, whole, lash, seat);
    else
        seats_between(lid, opening, whole, lash, seat);
}

TCR_LANE tcr_fibre fibre_in(const tcr_worn_rows *w, size_t i) {
    return (tcr_fibre){
        .first_mm = w->first_mm[i],
        .second_mm = w->second_mm[i],
        .curvature = {w->curvature[0][i], w->curvature[1][i]},
        .tip = {w->tip_x[i], w->tip_y[i]},
        .loss = w->loss[i],
    };
}

TCR_CLONED static void partings(size_t n, tcr_worn_rows *restrict w) {
    for (size_t i = 0; i < n; i++) {
        const tcr_fibre fibre = fibre_in(w, i);
        const tcr_parting p = tcr_parting_lane(&fibre, w->bond_mm[i]);
        w->chord_mm[i] = p.chord_mm;
        w->upright[i] = p.upright;
        w->along_x[i] = p.along.x;
        w->along_y[i] = p.along.y;
        w->rest_x[i] = p.rest.x;
        w->rest_y[i] = p.rest.y;
        w->joint_x[i] = p.joint.at.x;
        w->joint_y[i] = p.joint.at.y;
        w->joint_to_x[i] = p.joint.to.x;
        w->joint_to_y[i] = p.joint.to.y;
    }
}

void tcr_partings_n(size_t n, tcr_worn_rows *worn) { partings(tcr_rows_whole(n), worn); }

/*
 * From here to the tip in several loops: in one, each turn would be a single long chain of
 * operations, of which a processor cannot look far enough ahead to begin the next.
 */
typedef struct aim_rows {
    double pitch_sine[TCR_ROWS], pitch_cosine[TCR_ROWS];
    double yaw_sine[TCR_ROWS], yaw_cosine[TCR_ROWS];
    double roll_sine[TCR_ROWS], roll_cosine[TCR_ROWS];
} aim_rows;

TCR_CLONED static void aims(size_t n, const tcr_lash_rows *restrict l, aim_rows *restrict out) {
    for (size_t i = 0; i < n; i++) {
        const tcr_aim a = tcr_aim_lane(l->pitch_rad[i], l->yaw_rad[i], l->roll_rad[i]);
        out->pitch_sine[i] = a.pitch.sine;
        out->pitch_cosine[i] = a.pitch.cosine;
        out->yaw_sine[i] = a.yaw.sine;
        out->yaw_cosine[i] = a.yaw.cosine;
        out->roll_sine[i] = a.roll.sine;
        out->roll_cosine[i] = a.roll.cosine;
    }
}

/* Beds, as in tcr_bond_bed; what is quickly worked out again is not kept. */
typedef struct bed_rows {
    double bond_mm[TCR_ROWS], first_mm[TCR_ROWS], second_mm[TCR_ROWS], curvature[3][TCR_ROWS];
    double start_x[TCR_ROWS], start_y[TCR_ROWS], start_to_x[TCR_ROWS], start_to_y[TCR_ROWS];
    double joint_x[2][TCR_ROWS], joint_y[2][TCR_ROWS];
    double joint_to_x[2][TCR_ROWS], joint_to_y[2][TCR_ROWS];
    double along_x[TCR_ROWS], along_y[TCR_ROWS], upright[TCR_ROWS];
    double clearance_mm[TCR_ROWS]; /* r */
} bed_rows;

TCR_LANE void put_joint(bed_rows *out, int joint, size_t i, const tcr_heading *from) {
    out->joint_x[joint][i] = from->at.x;
    out->joint_y[joint][i] = from->at.y;
    out->joint_to_x[joint][i] = from->to.x;
    out->joint_to_y[joint][i] = from->to.y;
}

TCR_CLONED static void beds(size_t n, const tcr_lash_rows *restrict l,
                            const tcr_worn_rows *restrict w, bed_rows *restrict out) {
    for (size_t i = 0; i < n; i++) {
        const double c = tcr_bond_length_lane(l->length_mm[i], w->offset_mm[i], w->most_mm[i]);
        const tcr_bond_bed bed = tcr_bond_bed_lane(l->length_mm[i], l->turn_rad[i], l->root_mm[i],
                                                   l->tip_mm[i], w->offset_mm[i], c);
        out->bond_mm[i] = c;
        out->first_mm[i] = bed.first_mm;
        out->second_mm[i] = bed.second_mm;
        out->curvature[0][i] = bed.curvature[0];
        out->curvature[1][i] = bed.curvature[1];
        out->curvature[2][i] = bed.curvature[2];
        out->start_x[i] = bed.start.x;
        out->start_y[i] = bed.start.y;
        out->start_to_x[i] = bed.start_to.x;
        out->start_to_y[i] = bed.start_to.y;
        put_joint(out, 0, i, &bed.joint[0]);
        put_joint(out, 1, i, &bed.joint[1]);
        out->along_x[i] = bed.along.x;
        out->along_y[i] = bed.along.y;
        out->upright[i] = bed.upright;
        out->clearance_mm[i] = tcr_clearance_by(bed.middle_mm, w->radius_mm[i]);
    }
}

TCR_LANE tcr_heading joint_in(const bed_rows *b, int joint, size_t i) {
    return (tcr_heading){{b->joint_x[joint][i], b->joint_y[joint][i]},
                         {b->joint_to_x[joint][i], b->joint_to_y[joint][i]}};
}

TCR_LANE tcr_bond_bed bed_in(const bed_rows *b, size_t i) {
    return (tcr_bond_bed){
        .bond_mm = b->bond_mm[i],
        .first_mm = b->first_mm[i],
        .second_mm = b->second_mm[i],
        .curvature = {b->curvature[0][i], b->curvature[1][i], b->curvature[2][i]},
        .start = {b->start_x[i], b->start_y[i]},
        .start_to = {b->start_to_x[i], b->start_to_y[i]},
        .joint = {joint_in(b, 0, i), joint_in(b, 1, i)},
        .along = {b->along_x[i], b->along_y[i]},
        .upright = b->upright[i],
    };
}

TCR_LANE tcr_parting parting_in(const tcr_worn_rows *w, size_t i) {
    return (tcr_parting){
        .bond_mm = w->bond_mm[i],
        .chord_mm = w->chord_mm[i],
        .along = {w->along_x[i], w->along_y[i]},
        .joint = {{w->joint_x[i], w->joint_y[i]}, {w->joint_to_x[i], w->joint_to_y[i]}},
        .rest = {w->rest_x[i], w->rest_y[i]},
        .upright = w->upright[i],
    };
}

/* Contact in two loops: where D has its least value, and what it is. */
typedef struct depth_rows {
    double at_mm[TCR_ROWS], least[TCR_ROWS], found[TCR_ROWS];
} depth_rows;

TCR_CLONED static void contacts(size_t n, const bed_rows *restrict beds,
                                const tcr_worn_rows *restrict w, depth_rows *restrict out) {
    for (size_t i = 0; i < n; i++) {
        const tcr_bond_bed bed = bed_in(beds, i);
        const tcr_fibre fibre = fibre_in(w, i);
        const tcr_parting parting = parting_in(w, i);
        const tcr_depth depth = tcr_contact_at_lane(&bed, &fibre, &parting, w->upward[i]);
        out->at_mm[i] = depth.at_mm;
        out->found[i] = (depth.found | (w->upward[i] == 0.0)) ? 1.0 : 0.0;
    }
}

TCR_CLONED static void depths(size_t n, const bed_rows *restrict beds,
                              const tcr_worn_rows *restrict w, depth_rows *restrict rows) {
    for (size_t i = 0; i < n; i++) {
        const tcr_bond_bed bed = bed_in(beds, i);
        const tcr_fibre fibre = fibre_in(w, i);
        const tcr_parting parting = parting_in(w, i);
        rows->least[i] =
            tcr_contact_least_lane(&bed, &fibre, &parting, w->upward[i], rows->at_mm[i]);
    }
}

TCR_CLONED static void places(size_t n, const tcr_lash_rows *restrict l,
                              const tcr_seat_rows *restrict s, const tcr_worn_rows *restrict w,
                              const aim_rows *restrict a, const bed_rows *restrict b,
                              const depth_rows *restrict d, tcr_tip_rows *restrict out) {
    for (size_t i = 0; i < n; i++) {
        const tcr_seat seat = {s->x[i],   s->rho[i], s->sine[i], s->cosine[i], s->n_x[i],
                               s->n_r[i], s->t_x[i], s->t_r[i],  s->t_p[i],    s->b_p[i]};
        const tcr_aim aim = {{a->pitch_sine[i], a->pitch_cosine[i]},
                             {a->yaw_sine[i], a->yaw_cosine[i]},
                             {a->roll_sine[i], a->roll_cosine[i]}};
        const tcr_bond_bed bed = bed_in(b, i);
        const tcr_parting parting = parting_in(w, i);
        const double r = b->clearance_mm[i];
        const tcr_laid laid =
            tcr_laid_lane(&bed, &parting, w->upward[i] * (r - d->least[i]), w->outward[i] * r);
        const tcr_vec3 tip = tcr_seat_point(&seat, &aim, l->height_mm[i], laid.tip);
        const bool usual = (bed.first_mm >= 0.0) & (parting.upright >= 0.0) &
                           (bed.bond_mm == parting.bond_mm) & (d->found[i] > 0.0);
        out->x[i] = tip.x;
        out->y[i] = tip.y;
        out->z[i] = tip.z;
        out->usual[i] = usual ? 1.0 : 0.0;
    }
}

TCR_CLONED static void lies(size_t n, const tcr_worn_rows *restrict w, const bed_rows *restrict b,
                            const depth_rows *restrict d, tcr_lie_rows *restrict out) {
    for (size_t i = 0; i < n; i++) {
        const tcr_bond_bed bed = bed_in(b, i);
        const tcr_parting parting = parting_in(w, i);
        const double r = b->clearance_mm[i];
        const tcr_laid laid =
            tcr_laid_lane(&bed, &parting, w->upward[i] * (r - d->least[i]), w->outward[i] * r);
        const tcr_vec2 turn = tcr_turn_on(&bed, &parting);
        out->part_x[i] = laid.part.x;
        out->part_y[i] = laid.part.y;
        out->part_z[i] = laid.part.z;
        out->turn_cosine[i] = turn.x;
        out->turn_sine[i] = turn.y;
    }
}

void tcr_tip_rows_n(size_t n, const tcr_lash_rows *lash, const tcr_seat_rows *seat,
                    const tcr_worn_rows *worn, bool touching, tcr_tip_rows *tip,
                    tcr_lie_rows *lie) {
    const size_t whole = tcr_rows_whole(n);
    aim_rows aim;
    bed_rows bed;
    depth_rows depth;
    aims(whole, lash, &aim);
    beds(whole, lash, worn, &bed);
    if (touching) {
        contacts(whole, &bed, worn, &depth);
        depths(whole, &bed, worn, &depth);
    } else
        for (size_t i = 0; i < whole; i++) {
            depth.least[i] = 0.0;
            depth.found[i] = 1.0;
        }
    places(whole, lash, seat, worn, &aim, &bed, &depth, tip);
    if (lie != NULL)
        lies(whole, worn, &bed, &depth, lie);
}
