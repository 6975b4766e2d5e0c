/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads in blocks of lashes: lanes of load_kernel.h, for several instruction sets. */
#include "model/load_rows.h"

#include <string.h>

#include "model/load_kernel.h"

TCR_CLONED static void weigh(size_t n, const tcr_lash_rows *restrict l,
                             const tcr_worn_rows *restrict w, tcr_load_block *restrict out) {
    for (size_t i = 0; i < n; i++) {
        const tcr_moments own =
            tcr_own_moments_lane(l->length_mm[i], l->turn_rad[i], l->root_mm[i], l->tip_mm[i]);
        out->own_x[i] = own.first.x;
        out->own_y[i] = own.first.y;
    }
    for (size_t i = 0; i < n; i++) {
        const tcr_moments bonded = tcr_bonded_moments_lane(l->length_mm[i], l->turn_rad[i],
                                                           w->offset_mm[i], w->bond_mm[i]);
        out->bonded_x[i] = bonded.first.x;
        out->bonded_y[i] = bonded.first.y;
    }
}

TCR_CLONED static void stand(size_t n, const tcr_lash_rows *restrict l,
                             const tcr_seat_rows *restrict s, tcr_load_block *restrict out) {
    static const tcr_vec3 along = {1.0, 0.0, 0.0}, up = {0.0, 1.0, 0.0}, side = {0.0, 0.0, 1.0};
    for (size_t i = 0; i < n; i++) {
        const tcr_seat seat = {s->x[i],   s->rho[i], s->sine[i], s->cosine[i], s->n_x[i],
                               s->n_r[i], s->t_x[i], s->t_r[i],  s->t_p[i],    s->b_p[i]};
        const tcr_aim aim = tcr_aim_lane(l->pitch_rad[i], l->yaw_rad[i], l->roll_rad[i]);
        const tcr_vec3 a = tcr_seat_vector(&seat, tcr_aim_turned(&aim, along));
        const tcr_vec3 u = tcr_seat_vector(&seat, tcr_aim_turned(&aim, up));
        const tcr_vec3 o = tcr_seat_vector(&seat, tcr_aim_turned(&aim, side));
        out->along_x[i] = a.x;
        out->along_z[i] = a.z;
        out->up_x[i] = u.x;
        out->up_z[i] = u.z;
        out->out_x[i] = o.x;
        out->out_z[i] = o.z;
    }
}

TCR_CLONED static void loads(size_t n, double hair_uN, double hair_kg_m3,
                             const tcr_lash_rows *restrict l, tcr_load_block *restrict b) {
    for (size_t i = 0; i < n; i++) {
        const tcr_across across = {b->along_x[i], b->up_x[i], b->out_x[i],
                                   b->along_z[i], b->up_z[i], b->out_z[i]};
        const double angle = tcr_angle_lane(b->lie.turn_sine[i], b->lie.turn_cosine[i]);
        const tcr_sine_cosine part = tcr_sine_cosine_lane(angle + b->borne.turned_rad[i]);
        const tcr_vec2 rest = {part.cosine * b->borne.first_x[i] - part.sine * b->borne.first_y[i],
                               part.sine * b->borne.first_x[i] + part.cosine * b->borne.first_y[i]};
        const tcr_vec3 own = {hair_uN * b->own_x[i], hair_uN * b->own_y[i], 0.0};
        const tcr_vec2 bonded = {b->borne.d2[i] * b->bonded_x[i], b->borne.d2[i] * b->bonded_y[i]};
        const tcr_vec3 at = {b->lie.part_x[i], b->lie.part_y[i], b->lie.part_z[i]};
        const tcr_vec3 all =
            tcr_all_moments_lane(own, bonded, b->borne.weight[i], rest, at, b->borne.fibres_uN[i]);
        const double mass =
            tcr_frustum_mg(l->root_mm[i], l->tip_mm[i], l->length_mm[i], hair_kg_m3);
        const double natural = tcr_sitting_lane(&across, own);
        const double root = tcr_sitting_lane(&across, all);
        b->load.natural_mass_mg[i] = mass;
        b->load.mass_ratio[i] = b->borne.mass_mg[i] / mass;
        b->load.natural_moment_uNmm[i] = natural;
        b->load.root_moment_uNmm[i] = root;
        b->load.moment_ratio[i] = tcr_moment_ratio_lane(root, natural, mass, l->length_mm[i]);
    }
}

/* Whether a column is as it was kept; keeps it as it is. */
static bool is_kept(size_t n, const double *column, double *kept) {
    /* Bits that differ for equal numbers only mean that the work is done again. */
    if (memcmp(column, kept, n * sizeof *column) == 0)
        return true;
    memcpy(kept, column, n * sizeof *column);
    return false;
}

void tcr_load_rows_n(size_t n, const tcr_lash_rows *lash, const tcr_seat_rows *seat,
                     const tcr_worn_rows *worn, tcr_load_block *b) {
    const tcr_materials materials = tcr_materials_default();
    const size_t whole = tcr_rows_whole(n);
    bool weighed = b->weighed >= whole, stood = b->stood >= whole;
    weighed &= is_kept(whole, lash->length_mm, b->length_mm);
    weighed &= is_kept(whole, lash->turn_rad, b->turn_rad);
    weighed &= is_kept(whole, lash->root_mm, b->root_mm);
    weighed &= is_kept(whole, lash->tip_mm, b->tip_mm);
    weighed &= is_kept(whole, worn->offset_mm, b->offset_mm);
    weighed &= is_kept(whole, worn->bond_mm, b->bond_mm);
    stood &= is_kept(whole, lash->pitch_rad, b->pitch_rad);
    stood &= is_kept(whole, lash->yaw_rad, b->yaw_rad);
    stood &= is_kept(whole, lash->roll_rad, b->roll_rad);
    if (!weighed) {
        weigh(whole, lash, worn, b);
        b->weighed = whole;
    }
    if (!stood) {
        stand(whole, lash, seat, b);
        b->stood = whole;
    }
    loads(whole, tcr_uN_of(materials.hair_kg_m3), materials.hair_kg_m3, lash, b);
}
