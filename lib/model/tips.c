/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips of one lash or of many, by the one evaluator (model.md, sections 2 to 4). */
#include <tipcrest/tips.h>

#include <math.h>
#include <string.h>

#include "model/rows.h"
#include "model/valid.h"
#include "num/elementary_kernel.h"
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
    /* Kept from row to row: the last curls at a length of 1, and what the last fan loses. */
    int profile[CURLS];
    tcr_unit_curl curl[CURLS];
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

static inline void take_fan(batch *b, int fan, double spread_rad) {
    if (fan != b->fan || spread_rad != b->spread_rad) {
        b->fan = fan;
        b->spread_rad = spread_rad;
        b->loss = 1.0 - tcr_fan_mean_cosine(fan, spread_rad);
    }
}

static inline const tcr_unit_curl *curl_of_row(batch *b, size_t i) {
    const int profile = b->in->ext_profile[i], slot = profile % CURLS;
    if (b->profile[slot] != profile) {
        b->profile[slot] = profile;
        b->curl[slot] = tcr_unit_curl_of(profile_of_row(b, i));
    }
    return &b->curl[slot];
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
    take_fan(b, ext.fan, ext.spread_rad);
    const tcr_fibre fibre = tcr_fibre_of(curl_of_row(b, i), ext.length_mm, b->loss);
    b->row[k] = i;
    tcr_lash_row(&b->lash, k, &lash);
    tcr_worn_row(&b->worn, k, &ext, &fibre, b->bond);
    b->worn.bond_mm[k] = c;
    b->touching = b->touching || b->worn.upward[k] != 0.0;
    if (b->n == TCR_ROWS)
        flush(b);
}

/* So many columns at once are more than a processor foresees the reading of. */
enum { CACHE_LINE = 8, AHEAD = 8 * TCR_ROWS };
#ifdef __GNUC__
#define PREFETCH(address) __builtin_prefetch(address)
#else
#define PREFETCH(address) ((void)(address))
#endif

/* What extensions are, in columns: their numbers, and those of their curls. */
typedef struct ext_rows {
    double length_mm[TCR_ROWS], diameter_mm[TCR_ROWS];
    double pieces[TCR_ROWS], share[2][TCR_ROWS], turn_rad[2][TCR_ROWS];
    double tip_x[TCR_ROWS], tip_y[TCR_ROWS];
} ext_rows;

/* What the extensions of a whole block are, and whether all lashes, extensions and bonds are valid.
 * alike: all but length and diameter of each. */
TCR_CLONED static bool take_rows(const tcr_bond *bond, double loss, const tcr_extension *alike,
                                 const tcr_lash_rows *restrict lashes, const ext_rows *restrict ext,
                                 tcr_worn_rows *restrict worn) {
    uint64_t wrong = 0;
    for (size_t k = 0; k < TCR_ROWS; k++) {
        const tcr_lash lash = tcr_lash_of_row(lashes, k);
        const tcr_unit_curl curl = {ext->pieces[k],
                                    {ext->share[0][k], ext->share[1][k]},
                                    {ext->turn_rad[0][k], ext->turn_rad[1][k]},
                                    {ext->tip_x[k], ext->tip_y[k]}};
        const tcr_fibre fibre = tcr_fibre_of(&curl, ext->length_mm[k], loss);
        tcr_bonded_row(worn, k, ext->length_mm[k], ext->diameter_mm[k], &fibre, bond);
        const double bond_mm =
            tcr_bond_length_lane(lash.length_mm, bond->offset_mm, worn->most_mm[k]);
        worn->bond_mm[k] = bond_mm;
        tcr_extension e;
        e.length_mm = ext->length_mm[k];
        e.diameter_mm = ext->diameter_mm[k];
        e.fan = alike->fan;
        e.spread_rad = alike->spread_rad;
        e.placement = alike->placement;
        bool valid = tcr_lash_is_valid(&lash);
        valid &= tcr_extension_is_in_range(&e);
        valid &= bond_mm >= TCR_BOND_LEAST_MM;
        wrong |= valid ? 0 : 1;
    }
    return wrong == 0;
}

static void take_curl(ext_rows *ext, size_t k, const tcr_unit_curl *curl) {
    ext->pieces[k] = curl->pieces;
    for (int j = 0; j < 2; j++) {
        ext->share[j][k] = curl->share[j];
        ext->turn_rad[j][k] = curl->turn_rad[j];
    }
    ext->tip_x[k] = curl->tip.x;
    ext->tip_y[k] = curl->tip.y;
}

/*
 * A whole block of rows at once, where none needs a look by itself: each is valid and carries an
 * extension, and all have one fan. False where a row does; the block is to be filled anew then.
 * more: there are AHEAD rows behind it.
 */
static bool take_block(batch *b, size_t from, bool more) {
    const tcr_lash_columns *in = b->in;
    const tcr_extension alike = numbers_of_row(in, from);
    ext_rows ext;
    if (!tcr_extension_is_in_range(&alike)) /* a fan is not summed before */
        return false;
    for (size_t k = 0; k < TCR_ROWS; k++) {
        const tcr_extension e = numbers_of_row(in, from + k);
        const int profile = in->ext_profile[from + k];
        if (profile < 0 || (size_t)profile >= b->profile_count || e.fan != alike.fan ||
            e.spread_rad != alike.spread_rad || (unsigned)e.placement >= TCR_PLACEMENTS)
            return false;
        take_curl(&ext, k, curl_of_row(b, from + k));
        tcr_placement_row(&b->worn, k, e.placement);
        b->row[k] = from + k;
        b->touching = b->touching || b->worn.upward[k] != 0.0;
    }
    const double *const column[] = {in->u,
                                    in->height_mm,
                                    in->pitch_rad,
                                    in->yaw_rad,
                                    in->roll_rad,
                                    in->length_mm,
                                    in->turn_rad,
                                    in->root_diameter_mm,
                                    in->tip_diameter_mm,
                                    in->ext_length_mm,
                                    in->ext_diameter_mm};
    double *const to[] = {b->lash.u,        b->lash.height_mm, b->lash.pitch_rad, b->lash.yaw_rad,
                          b->lash.roll_rad, b->lash.length_mm, b->lash.turn_rad,  b->lash.root_mm,
                          b->lash.tip_mm,   ext.length_mm,     ext.diameter_mm};
    for (size_t c = 0; c < sizeof column / sizeof column[0]; c++) {
        memcpy(to[c], column[c] + from, sizeof ext.length_mm);
        for (size_t k = 0; more && k < TCR_ROWS; k += CACHE_LINE)
            PREFETCH(column[c] + from + AHEAD + k);
    }
    take_fan(b, alike.fan, alike.spread_rad);
    if (!take_rows(b->bond, b->loss, &alike, &b->lash, &ext, &b->worn))
        return false;
    b->n = TCR_ROWS;
    return true;
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
        b.profile[slot] = -1;
    size_t i = 0;
    for (; n - i >= TCR_ROWS; i += TCR_ROWS) {
        if (!take_block(&b, i, n - i >= AHEAD + TCR_ROWS))
            for (size_t k = 0; k < TCR_ROWS; k++)
                add_row(&b, i + k);
        flush(&b);
    }
    for (; i < n; i++)
        add_row(&b, i);
    flush(&b);
    return TCR_OK;
}
