/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A set's digest: the hash FNV-1a over the members one by one, since the gaps between them hold
 * anything.
 */
#include "support/digest.h"

#include <string.h>

#define EAT(hash, member) eat(hash, &(member), sizeof(member))

static void eat(uint64_t *hash, const void *bytes, size_t size) {
    const unsigned char *at = bytes;
    for (size_t i = 0; i < size; i++)
        *hash = (*hash ^ at[i]) * UINT64_C(0x100000001b3);
}

static void eat_text(uint64_t *hash, const char *text) { eat(hash, text, strlen(text) + 1); }

static void eat_lash(uint64_t *hash, const tcr_lash *lash) {
    EAT(hash, lash->u);
    EAT(hash, lash->height_mm);
    EAT(hash, lash->pitch_rad);
    EAT(hash, lash->yaw_rad);
    EAT(hash, lash->roll_rad);
    EAT(hash, lash->length_mm);
    EAT(hash, lash->final_length_mm);
    EAT(hash, lash->turn_rad);
    EAT(hash, lash->root_diameter_mm);
    EAT(hash, lash->tip_diameter_mm);
    EAT(hash, lash->layer);
    EAT(hash, lash->condition);
}

static void eat_wish(uint64_t *hash, const tcr_wish *wish) {
    EAT(hash, wish->fixed);
    EAT(hash, wish->length_mm);
    EAT(hash, wish->curl);
    EAT(hash, wish->diameter_mm);
    EAT(hash, wish->fan);
    EAT(hash, wish->spread_rad);
    EAT(hash, wish->placement);
    EAT(hash, wish->from_skin_mm);
}

static void eat_profile(uint64_t *hash, const tcr_profile *profile) {
    EAT(hash, profile->pieces);
    for (int i = 0; i < profile->pieces; i++) {
        EAT(hash, profile->share[i]);
        EAT(hash, profile->turn_rad[i]);
    }
}

static void eat_map(uint64_t *hash, const tcr_zone *map, size_t zones) {
    EAT(hash, zones);
    for (size_t i = 0; i < zones; i++) {
        EAT(hash, map[i].to);
        EAT(hash, map[i].length_mm);
        eat_text(hash, map[i].curl);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            eat_wish(hash, &map[i].layer[layer]);
    }
}

static void eat_eye(uint64_t *hash, const tcr_set *set, tcr_side side) {
    const tcr_lid *lid = tcr_set_lid(set, side);
    const unsigned lid_assumed = tcr_set_lid_assumed(set, side);
    eat(hash, lid, sizeof *lid); /* nine doubles */
    EAT(hash, lid_assumed);
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, side, &zones);
    eat_map(hash, map, zones);
    map = tcr_set_intended(set, side, &zones);
    eat_map(hash, map, zones);
    const size_t drawn = tcr_set_drawn_count(set, side);
    EAT(hash, drawn);
    const size_t lashes = tcr_set_lash_count(set, side);
    EAT(hash, lashes);
    for (size_t i = 0; i < lashes; i++) {
        eat_text(hash, tcr_set_id(set, side, i));
        const unsigned assumed = tcr_set_assumed(set, side, i);
        eat_lash(hash, tcr_set_lash(set, side, i));
        EAT(hash, assumed);
        eat_wish(hash, tcr_set_wish(set, side, i));
    }
}

static void eat_curl(uint64_t *hash, const tcr_curl *curl) {
    eat_text(hash, curl->label);
    EAT(hash, curl->count);
    for (size_t i = 0; i < curl->count; i++) {
        if (curl->length_mm != NULL)
            EAT(hash, curl->length_mm[i]);
        eat_profile(hash, &curl->profiles[i]);
    }
}

static void eat_rule(uint64_t *hash, const tcr_set *set) {
    const tcr_layering *rule = tcr_set_layering(set);
    EAT(hash, rule->step_mm);
    EAT(hash, rule->diameter_mm);
    EAT(hash, rule->fan);
    EAT(hash, rule->spread_rad);
    EAT(hash, rule->placement);
    EAT(hash, rule->blend);
    const tcr_tray *tray = tcr_set_tray(set);
    eat(hash, tray->length_mm, tray->count * sizeof tray->length_mm[0]);
    eat(hash, tcr_set_bond(set), sizeof(tcr_bond)); /* doubles without gaps */
    eat(hash, tcr_set_view(set), sizeof(tcr_view));
    EAT(hash, tcr_set_line(set)->tolerance_mm);
    EAT(hash, tcr_set_line(set)->seen_from_mm);
    EAT(hash, tcr_set_line(set)->shared);
    eat_lash(hash, tcr_set_mean_lash(set));
    const tcr_subject subject = tcr_set_subject(set);
    EAT(hash, subject);
}

uint64_t tcr_set_digest(const tcr_set *set) {
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    eat_text(&hash, tcr_set_title(set));
    eat_rule(&hash, set);
    eat_lash(&hash, tcr_set_mean_lash(set));
    for (size_t i = 0; i < tcr_set_curl_count(set); i++)
        eat_curl(&hash, tcr_set_curl(set, i));
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++) {
        EAT(&hash, sides[e]);
        eat_eye(&hash, set, sides[e]);
    }
    return hash;
}
