/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips of one lash or of many, by the one evaluator (model.md, sections 2 to 4). */
#include <tipcrest/tips.h>

#include <math.h>

#include "model/rows.h"
#include "model/valid.h"
#include "num/range.h"

/* The tip alone of an evaluation; no view is asked for. */
static inline tcr_status tip_of(const tcr_looking *at, const tcr_lash *lash,
                                const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip) {
    tcr_sight sight;
    const tcr_status status = tcr_evaluate(at, lash, ext, bond, TCR_ANEW_ALL, &sight);
    if (status == TCR_OK)
        *tip = sight.tip;
    return status;
}

tcr_status tcr_tip(const tcr_lid *lid, double opening, const tcr_lash *lash,
                   const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip) {
    tcr_status status = tcr_lid_validate(lid, NULL);
    if (status == TCR_OK)
        status = tcr_lash_validate(lash, NULL);
    if (status == TCR_OK && ext != NULL)
        status = tcr_extension_validate(ext, NULL);
    if (status == TCR_OK && ext != NULL)
        status = tcr_bond_validate(bond, NULL);
    if (status == TCR_OK && !tcr_within(opening, 0.0, 1.0))
        status = TCR_E_RANGE;
    if (status != TCR_OK)
        return status;
    if (tip == NULL)
        return TCR_E_ARGUMENT;
    const tcr_looking at = tcr_looking_at(lid, &(tcr_view){opening, 0.0});
    return tip_of(&at, lash, ext, bond, tip);
}

static inline tcr_lash lash_of_columns(const tcr_lash_columns *c, size_t i) {
    return (tcr_lash){
        .u = c->u[i],
        .height_mm = c->height_mm[i],
        .pitch_rad = c->pitch_rad[i],
        .yaw_rad = c->yaw_rad[i],
        .roll_rad = c->roll_rad[i],
        .length_mm = c->length_mm[i],
        .final_length_mm = NAN,
        .turn_rad = c->turn_rad[i],
        .root_diameter_mm = c->root_diameter_mm[i],
        .tip_diameter_mm = c->tip_diameter_mm[i],
    };
}

/* What a row wears, but for its profile. */
static inline tcr_extension numbers_of_row(const tcr_lash_columns *c, size_t i) {
    tcr_extension ext;
    ext.length_mm = c->ext_length_mm[i];
    ext.diameter_mm = c->ext_diameter_mm[i];
    ext.fan = c->ext_fan[i];
    ext.spread_rad = c->ext_spread_rad[i];
    ext.placement = (tcr_placement)c->ext_placement[i];
    return ext; /* cppcheck-suppress uninitvar ; the profile is the caller's to fill */
}

enum { CURLS = 8 };

/* Rows on their way to tips. */
typedef struct batch {
    const tcr_looking *at;
    const tcr_bond *bond;
    const tcr_profile *profiles;
    size_t profile_count;
    const tcr_lash_columns *in;
    tcr_tip_columns *out;
    size_t n, row[TCR_ROWS];
    bool touching;
    /* Kept from row to row: the tips of the last curls at a length of 1, and of the last fan. */
    int curl[CURLS];
    tcr_vec2 unit_tip[CURLS];
    int fan;
    double spread_rad, loss;
    tcr_lash_rows lash;
    tcr_seat_rows seat;
    tcr_worn_rows worn;
    tcr_tip_rows tip;
} batch;

static void put_tip(const batch *b, size_t i, tcr_status status, tcr_vec3 tip) {
    b->out->x[i] = tip.x;
    b->out->y[i] = tip.y;
    b->out->z[i] = tip.z;
    if (b->out->status != NULL)
        b->out->status[i] = (int)status;
}

/* The profile of a row, of which its index is known to be valid. */
static const tcr_profile *profile_of_row(const batch *b, size_t i) {
    return &b->profiles[b->in->ext_profile[i]];
}

static tcr_fibre fibre_of_row(batch *b, size_t i, const tcr_extension *ext) {
    const int profile = b->in->ext_profile[i], slot = profile % CURLS;
    if (b->curl[slot] != profile) {
        b->curl[slot] = profile;
        b->unit_tip[slot] = tcr_unit_tip(&b->profiles[profile]);
    }
    if (ext->fan != b->fan || ext->spread_rad != b->spread_rad) {
        b->fan = ext->fan;
        b->spread_rad = ext->spread_rad;
        b->loss = 1.0 - tcr_fan_mean_cosine(ext->fan, ext->spread_rad);
    }
    return tcr_fibre_of(profile_of_row(b, i), b->unit_tip[slot], ext->length_mm, b->loss);
}

/* A valid row that is evaluated alone: a bare lash, or an extension that lies unusually. */
static void put_alone(const batch *b, size_t i) {
    const tcr_lash lash = lash_of_columns(b->in, i);
    tcr_vec3 tip = tcr_vec3_none();
    if (b->in->ext_length_mm[i] == 0.0) {
        const tcr_status status = tip_of(b->at, &lash, NULL, NULL, &tip);
        put_tip(b, i, status, tip);
        return;
    }
    tcr_extension ext = numbers_of_row(b->in, i);
    ext.profile = *profile_of_row(b, i);
    const tcr_status status = tip_of(b->at, &lash, &ext, b->bond, &tip);
    put_tip(b, i, status, tip);
}

/* Rows behind the last are copies of it, up to a whole vector. */
static void fill_up(batch *b) {
    for (size_t k = b->n; k < tcr_rows_whole(b->n); k++) {
        tcr_rows_copy(&b->lash, sizeof b->lash, k, b->n - 1);
        tcr_rows_copy(&b->worn, sizeof b->worn, k, b->n - 1);
    }
}

static void flush(batch *b) {
    if (b->n == 0)
        return;
    fill_up(b);
    tcr_seats_n(&b->at->lid, b->at->opening, b->n, &b->lash, &b->seat);
    tcr_partings_n(b->n, &b->worn);
    tcr_tip_rows_n(b->n, &b->lash, &b->seat, &b->worn, b->touching, &b->tip, NULL);
    for (size_t k = 0; k < b->n; k++) {
        if (b->tip.usual[k] != 0.0)
            put_tip(b, b->row[k], TCR_OK, (tcr_vec3){b->tip.x[k], b->tip.y[k], b->tip.z[k]});
        else
            put_alone(b, b->row[k]);
    }
    b->n = 0;
    b->touching = false;
}

/* Whether a row's extension is valid; profiles were checked once for all rows. */
static tcr_status validate_row(const batch *b, size_t i, const tcr_extension *ext) {
    const int profile = b->in->ext_profile[i];
    if (profile < 0 || (size_t)profile >= b->profile_count)
        return TCR_E_ARGUMENT;
    if (tcr_extension_is_in_range(ext))
        return TCR_OK;
    tcr_extension whole = *ext;
    whole.profile = b->profiles[profile];
    return tcr_extension_validate(&whole, NULL);
}

/* Adds a row, if it is valid and carries an extension; any other gets its tip or NaN at once. */
static void add_row(batch *b, size_t i) {
    const tcr_lash lash = lash_of_columns(b->in, i);
    const tcr_extension ext = numbers_of_row(b->in, i);
    tcr_status status = tcr_lash_is_valid(&lash) ? TCR_OK : tcr_lash_validate(&lash, NULL);
    if (status == TCR_OK && ext.length_mm == 0.0) {
        put_alone(b, i);
        return;
    }
    if (status == TCR_OK)
        status = validate_row(b, i, &ext);
    const double c = tcr_bond_length(&lash, ext.length_mm, b->bond);
    if (status == TCR_OK && c < TCR_BOND_LEAST_MM)
        status = TCR_E_BOND;
    if (status != TCR_OK) {
        put_tip(b, i, status, tcr_vec3_none());
        return;
    }
    const size_t k = b->n++;
    const tcr_fibre fibre = fibre_of_row(b, i, &ext);
    b->row[k] = i;
    tcr_lash_row(&b->lash, k, &lash);
    tcr_worn_row(&b->worn, k, &ext, &fibre, b->bond);
    b->worn.bond_mm[k] = c;
    b->touching = b->touching || b->worn.upward[k] != 0.0;
    if (b->n == TCR_ROWS)
        flush(b);
}

static bool columns_complete(const tcr_lash_columns *c, const tcr_tip_columns *t) {
    return c != NULL && t != NULL && c->u && c->height_mm && c->pitch_rad && c->yaw_rad &&
           c->roll_rad && c->length_mm && c->turn_rad && c->root_diameter_mm &&
           c->tip_diameter_mm && c->ext_length_mm && c->ext_diameter_mm && c->ext_spread_rad &&
           c->ext_fan && c->ext_placement && c->ext_profile && t->x && t->y && t->z;
}

tcr_status tcr_tips_n(const tcr_lid *lid, double opening, const tcr_bond *bond,
                      const tcr_profile *profiles, size_t profile_count, size_t n,
                      const tcr_lash_columns *lashes, tcr_tip_columns *tips) {
    tcr_status status = tcr_lid_validate(lid, NULL);
    if (status == TCR_OK)
        status = tcr_bond_validate(bond, NULL);
    if (status == TCR_OK && !tcr_within(opening, 0.0, 1.0))
        status = TCR_E_RANGE;
    if (status == TCR_OK && profiles == NULL && profile_count > 0)
        status = TCR_E_ARGUMENT;
    for (size_t i = 0; status == TCR_OK && i < profile_count; i++)
        status = tcr_profile_validate(&profiles[i], NULL);
    if (status != TCR_OK)
        return status;
    if (n > 0 && !columns_complete(lashes, tips))
        return TCR_E_ARGUMENT;
    const tcr_looking at = tcr_looking_at(lid, &(tcr_view){opening, 0.0});
    batch b; /* its blocks are not cleared: they are long */
    b.at = &at;
    b.bond = bond;
    b.profiles = profiles;
    b.profile_count = profile_count;
    b.in = lashes;
    b.out = tips;
    b.n = 0;
    b.touching = false;
    b.fan = 0;
    b.spread_rad = b.loss = 0.0;
    for (int slot = 0; slot < CURLS; slot++)
        b.curl[slot] = -1;
    for (size_t i = 0; i < n; i++)
        add_row(&b, i);
    flush(&b);
    return TCR_OK;
}
