/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Things made from bytes. Ranges and usual values are those of the public headers. Each number is
 * drawn in a statement of its own: the order of initialisers would hang on the compiler.
 */
#include "fuzz/any.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/range.h"

void tcr_any_begin(tcr_bytes *bytes) { bytes->outside = bytes->not_finite = false; }

uint8_t tcr_any_byte(tcr_bytes *bytes) { return bytes->at < bytes->end ? *bytes->at++ : 0; }

uint64_t tcr_any_word(tcr_bytes *bytes) {
    uint64_t word = 0;
    for (int i = 0; i < 8; i++)
        word |= (uint64_t)tcr_any_byte(bytes) << 8 * i;
    return word;
}

double tcr_any_double(tcr_bytes *bytes) {
    static const double SPECIAL[] = {
        NAN,       INFINITY,    -INFINITY, DBL_MAX, -DBL_MAX, DBL_MIN,      -DBL_MIN,
        0x1p-1074, -0x1p-1074,  0.0,       -0.0,    1e154,    -1e154,       1e300,
        1e-300,    DBL_EPSILON, 1.0,       -1.0,    1e6,      2147483648.0, 1e19,
    };
    enum { COUNT = sizeof SPECIAL / sizeof SPECIAL[0] };
    const uint8_t kind = tcr_any_byte(bytes);
    double value;
    if (kind < 128) {
        value = SPECIAL[kind % COUNT];
    } else {
        const uint64_t bits = tcr_any_word(bytes);
        memcpy(&value, &bits, sizeof value);
    }
    bytes->outside = true;
    if (!isfinite(value))
        bytes->not_finite = true;
    return value;
}

double tcr_any_number(tcr_bytes *bytes, double low, double high, double usual) {
    const uint8_t kind = tcr_any_byte(bytes);
    if (kind == 0)
        return usual;
    if (kind == 1)
        return low;
    if (kind == 2)
        return high;
    if (kind < 100)
        return low + (high - low) * (kind / 128.0);
    if (kind < 230) {
        const double coarse = tcr_any_byte(bytes) / 256.0;
        return low + (high - low) * (coarse + tcr_any_byte(bytes) / 65536.0);
    }
    if (kind < 240) { /* next to an end, on either side */
        bytes->outside = true;
        return nextafter(kind % 2 == 0 ? low : high, kind % 4 < 2 ? -DBL_MAX : DBL_MAX);
    }
    return tcr_any_double(bytes);
}

double tcr_any_degrees(tcr_bytes *bytes, double low_deg, double high_deg, double usual_deg) {
    return tcr_any_number(bytes, low_deg * TCR_DEG, high_deg * TCR_DEG, usual_deg * TCR_DEG);
}

int tcr_any_choice(tcr_bytes *bytes, int count) {
    const int byte = tcr_any_byte(bytes);
    if (byte < 240)
        return byte % count;
    bytes->outside = true;
    return byte < 250 ? byte - 245 : (int)(uint32_t)tcr_any_word(bytes);
}

int tcr_any_whole(tcr_bytes *bytes, int low, int high) {
    return (int)((unsigned)low + (unsigned)tcr_any_choice(bytes, high - low + 1)); /* wraps */
}

tcr_lid tcr_any_lid(tcr_bytes *bytes) {
    tcr_lid lid = {0};
    lid.fissure_width_mm = tcr_any_number(bytes, 15.0, 40.0, 27.0);
    lid.canthal_tilt_rad = tcr_any_degrees(bytes, -20.0, 20.0, 5.0);
    lid.inner_corner_height_mm = tcr_any_number(bytes, -5.0, 5.0, -1.5);
    lid.mrd1_mm = tcr_any_number(bytes, 0.0, 8.0, 3.5);
    lid.mrd2_mm = tcr_any_number(bytes, 2.0, 10.0, 5.2);
    lid.peak_offset_mm = tcr_any_number(bytes, -6.0, 6.0, -0.938);
    lid.fullness = tcr_any_number(bytes, 0.8, 4.0, 1.6);
    lid.globe_radius_mm = tcr_any_number(bytes, 8.0, 16.0, 12.0);
    lid.lateral_semiaxis_mm = tcr_any_number(bytes, 7.5, 40.0, 16.0);
    if (tcr_any_byte(bytes) & 1) {
        lid.fullness = NAN; /* not known: for sets, and refused by other calls */
        bytes->outside = true;
    }
    return lid;
}

tcr_lash tcr_any_lash(tcr_bytes *bytes) {
    tcr_lash lash = {0};
    lash.u = tcr_any_number(bytes, 0.02, 0.98, 0.5);
    lash.height_mm = tcr_any_number(bytes, -2.0, 8.0, 0.0);
    lash.pitch_rad = tcr_any_degrees(bytes, -84.9, 84.9, -10.0);
    lash.yaw_rad = tcr_any_degrees(bytes, -84.9, 84.9, 0.0);
    lash.roll_rad = tcr_any_degrees(bytes, -90.0, 90.0, 0.0);
    lash.length_mm = tcr_any_number(bytes, 0.3, 20.0, 7.5);
    lash.turn_rad = tcr_any_degrees(bytes, -60.0, 200.0, 60.0);
    lash.root_diameter_mm = tcr_any_number(bytes, 0.02, 0.2, 0.08);
    lash.tip_diameter_mm = tcr_any_number(bytes, 0.0, 0.02, 0.015);
    lash.layer = (tcr_layer)tcr_any_choice(bytes, TCR_LAYERS);
    const uint8_t unknown = tcr_any_byte(bytes);
    if (unknown & 1)
        lash.pitch_rad = NAN;
    if (unknown & 2)
        lash.turn_rad = NAN;
    bytes->outside = bytes->outside || (unknown & 3) != 0; /* as in a lid */
    lash.final_length_mm = NAN;
    const uint8_t rest = tcr_any_byte(bytes);
    const bool before = bytes->not_finite;
    if (rest & 1)
        lash.final_length_mm = tcr_any_number(bytes, 1.0, 20.0, 8.0);
    if (isnan(lash.final_length_mm)) /* not known, which every call takes */
        bytes->not_finite = before;
    if (rest & 2)
        lash.condition = (tcr_condition)tcr_any_choice(bytes, TCR_CONDITIONS);
    return lash;
}

/* Shares in proportion to bytes, or each any number. */
tcr_profile tcr_any_profile(tcr_bytes *bytes) {
    tcr_profile profile = {.pieces = tcr_any_whole(bytes, 1, TCR_PIECES_MAX)};
    const int given = profile.pieces >= 1 && profile.pieces <= TCR_PIECES_MAX ? profile.pieces : 1;
    const bool odd = tcr_any_byte(bytes) >= 240;
    double sum = 0.0;
    bytes->outside = bytes->outside || odd;
    for (int i = 0; i < given; i++) {
        profile.turn_rad[i] = tcr_any_degrees(bytes, -90.0, 270.0, 30.0);
        profile.share[i] =
            odd ? tcr_any_number(bytes, 0.0, 1.0, 1.0 / given) : 1.0 + tcr_any_byte(bytes);
        sum += profile.share[i];
    }
    for (int i = 0; i < given && !odd; i++)
        profile.share[i] /= sum;
    return profile;
}

tcr_extension tcr_any_extension(tcr_bytes *bytes) {
    tcr_extension ext = {0};
    ext.length_mm = tcr_any_number(bytes, 3.0, 30.0, 11.0);
    ext.diameter_mm = tcr_any_number(bytes, 0.02, 0.3, 0.15);
    ext.fan = tcr_any_whole(bytes, 1, 20);
    ext.spread_rad = tcr_any_degrees(bytes, 0.0, 120.0, 0.0);
    ext.placement = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS);
    ext.profile = tcr_any_profile(bytes);
    return ext;
}

tcr_bond tcr_any_bond(tcr_bytes *bytes) {
    tcr_bond bond = {0};
    bond.offset_mm = tcr_any_number(bytes, 0.0, 3.0, 0.7);
    bond.length_mm = tcr_any_number(bytes, 1.0, 8.0, 3.0);
    bond.glue_mm = tcr_any_number(bytes, 0.0, 0.2, 0.03);
    return bond;
}

tcr_view tcr_any_view(tcr_bytes *bytes) {
    tcr_view view = {0};
    view.opening = tcr_any_number(bytes, 0.0, 1.0, 1.0);
    view.viewer_rad = tcr_any_degrees(bytes, -80.0, 80.0, 0.0);
    return view;
}

tcr_materials tcr_any_materials(tcr_bytes *bytes) {
    tcr_materials materials = {0};
    materials.hair_kg_m3 = tcr_any_number(bytes, 100.0, 20000.0, 1320.0);
    materials.fibre_kg_m3 = tcr_any_number(bytes, 100.0, 20000.0, 1310.0);
    materials.hair_e_gpa = tcr_any_number(bytes, 1e-3, 1e3, 3.9);
    materials.hair_g_gpa = tcr_any_number(bytes, 1e-3, 1e3, 0.89);
    materials.fibre_e_gpa = tcr_any_number(bytes, 1e-3, 1e3, 2.4);
    materials.fibre_poisson = tcr_any_number(bytes, -0.9, 0.5, 0.4);
    return materials;
}

/* Gravity points anywhere, and is a unit vector but where a number is outside its range. */
tcr_weight_options tcr_any_weight_options(tcr_bytes *bytes) {
    tcr_weight_options options = tcr_weight_options_default();
    options.materials = tcr_any_materials(bytes);
    const double angle = tcr_any_number(bytes, -3.0, 3.0, 0.0);
    options.gravity = (tcr_vec3){0.0, -cos(angle), sin(angle)};
    options.viewer_rad = tcr_any_number(bytes, -1.3, 1.3, 0.0);
    const uint8_t clamp = tcr_any_byte(bytes); /* INFINITY is in the range, so no drawn number */
    options.clamp_uNmm_rad = clamp == 0 ? INFINITY : 100.0 * clamp;
    options.root_sd_mm = tcr_any_number(bytes, 0.0, 0.05, 0.01);
    return options;
}

/* From a length on by steps, or each any number. */
tcr_tray tcr_any_tray(tcr_bytes *bytes) {
    tcr_tray tray = tcr_tray_default();
    const uint8_t kind = tcr_any_byte(bytes);
    if (kind < 128)
        return tray;
    const int count = tcr_any_whole(bytes, 1, TCR_TRAY_MAX);
    const size_t given = count >= 0 && count <= TCR_TRAY_MAX ? (size_t)count : TCR_TRAY_MAX;
    const double step = (1 + kind % 8) / 16.0;
    tray.count = (size_t)count;
    for (size_t i = 0; i < given; i++)
        tray.length_mm[i] = kind < 230 ? fmin(3.0 + step * (double)i, 30.0)
                                       : tcr_any_number(bytes, 3.0, 30.0, 3.0 + (double)i);
    bytes->outside = true; /* not all of these rise */
    if (kind % 3 == 0)
        return tray;
    const int kinds = tcr_any_whole(bytes, 1, 3);
    tray.kinds = (size_t)kinds;
    for (int k = 0; k < kinds && k < 3; k++) {
        tcr_tray_kind *of = &tray.kind[k];
        snprintf(of->curl, sizeof of->curl, "%s", k % 2 == 0 ? "C" : "D");
        of->diameter_mm = tcr_any_number(bytes, 0.02, 0.3, k < 2 ? 0.15 : 0.12);
        of->lengths = given < 64 ? (UINT64_C(1) << given) - 1 : UINT64_MAX;
        of->lengths &= tcr_any_byte(bytes) < 192 ? ~(uint64_t)tcr_any_byte(bytes) : UINT64_MAX;
    }
    return tray;
}

tcr_layering tcr_any_layering(tcr_bytes *bytes) {
    tcr_layering layering = {0};
    layering.step_mm = tcr_any_number(bytes, 0.0, 3.0, 1.0);
    layering.diameter_mm = tcr_any_number(bytes, 0.02, 0.3, 0.15);
    layering.fan = tcr_any_whole(bytes, 1, 20);
    layering.spread_rad = tcr_any_degrees(bytes, 0.0, 120.0, 0.0);
    layering.blend = tcr_any_byte(bytes) % 2 == 1;
    for (int i = 0; i < TCR_LAYERS; i++)
        layering.placement[i] = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS);
    return layering;
}

tcr_description tcr_any_description(tcr_bytes *bytes) {
    tcr_description d = {0};
    d.count = (size_t)tcr_any_whole(bytes, 1, 40);
    d.seed = tcr_any_word(bytes);
    d.gap_mm = tcr_any_number(bytes, 0.0, 3.0, 1.0);
    d.height_sd_mm = tcr_any_number(bytes, 0.0, 1.0, 0.1);
    d.pitch_rad = tcr_any_degrees(bytes, -84.0, 84.0, -10.0);
    d.pitch_sd_rad = tcr_any_degrees(bytes, 0.0, 20.0, 4.0);
    d.yaw_rad = tcr_any_degrees(bytes, -84.0, 84.0, -10.0);
    d.yaw_fan_rad = tcr_any_degrees(bytes, -168.0, 168.0, 20.0);
    d.yaw_sd_rad = tcr_any_degrees(bytes, 0.0, 20.0, 4.0);
    d.roll_rad = tcr_any_degrees(bytes, -90.0, 90.0, 0.0);
    d.roll_sd_rad = tcr_any_degrees(bytes, 0.0, 20.0, 0.0);
    d.length_mm = tcr_any_number(bytes, 1.0, 20.0, 7.5);
    d.length_sd_mm = tcr_any_number(bytes, 0.0, 3.0, 1.0);
    d.length_inner_share = tcr_any_number(bytes, 0.1, 2.0, 0.7);
    d.length_outer_share = tcr_any_number(bytes, 0.1, 2.0, 0.9);
    d.turn_rad = tcr_any_degrees(bytes, -60.0, 200.0, 60.0);
    d.turn_sd_rad = tcr_any_degrees(bytes, 0.0, 40.0, 8.0);
    d.root_diameter_mm = tcr_any_number(bytes, 0.02, 0.2, 0.08);
    d.root_diameter_sd_mm = tcr_any_number(bytes, 0.0, 0.05, 0.01);
    d.tip_diameter_mm = tcr_any_number(bytes, 0.0, 0.2, 0.015);
    d.stray_share = tcr_any_number(bytes, 0.0, 1.0, 0.02);
    d.stray_rise_mm = tcr_any_number(bytes, 0.0, 3.0, 1.0);
    d.baby_below_mm = tcr_any_number(bytes, 0.0, 20.0, 5.0);
    d.weak_below_mm = tcr_any_number(bytes, 0.0, 0.2, 0.055);
    d.phases = (tcr_phases)tcr_any_choice(bytes, 3);
    return d;
}

tcr_line_options tcr_any_line_options(tcr_bytes *bytes) {
    tcr_line_options options = tcr_line_options_default();
    options.robust = tcr_any_byte(bytes) % 2 == 0;
    options.penalty = tcr_any_number(bytes, 1e-12, 1e12, 1e-4);
    options.huber = tcr_any_number(bytes, 1e-3, 1e3, 1.345);
    options.sigma_floor_mm = tcr_any_number(bytes, 1e-6, 1e3, 0.1);
    if (tcr_any_byte(bytes) >= 250)
        options.size = tcr_any_byte(bytes);
    return options;
}

void tcr_any_label(tcr_bytes *bytes, char label[TCR_LABEL_SIZE]) {
    const uint8_t kind = tcr_any_byte(bytes);
    size_t count;
    const tcr_curl *catalogue = tcr_curl_catalogue(&count);
    memset(label, 0, TCR_LABEL_SIZE);
    if (kind < 240) {
        (void)strcpy(label, kind % 8 < 7 ? catalogue[kind / 8 % count].label : "own");
        return;
    }
    bytes->outside = true;
    for (int i = 0; i < kind - 239; i++) /* up to the very end: perhaps without a NUL */
        label[i] = (char)tcr_any_byte(bytes);
}

tcr_wish tcr_any_wish(tcr_bytes *bytes) {
    tcr_wish wish = {.fixed = tcr_any_byte(bytes)};
    if (wish.fixed >= 250)
        wish.fixed = (unsigned)tcr_any_word(bytes);
    if (wish.fixed & TCR_FIX_LENGTH)
        wish.length_mm = tcr_any_number(bytes, 3.0, 30.0, 9.0);
    if (wish.fixed & TCR_FIX_CURL)
        tcr_any_label(bytes, wish.curl);
    if (wish.fixed & TCR_FIX_DIAMETER)
        wish.diameter_mm = tcr_any_number(bytes, 0.02, 0.3, 0.1);
    if (wish.fixed & TCR_FIX_FAN)
        wish.fan = tcr_any_whole(bytes, 1, 20);
    if (wish.fixed & TCR_FIX_SPREAD)
        wish.spread_rad = tcr_any_degrees(bytes, 0.0, 120.0, 20.0);
    if (wish.fixed & TCR_FIX_PLACEMENT)
        wish.placement = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS);
    if (wish.fixed & TCR_FIX_FROM_SKIN)
        wish.from_skin_mm = tcr_any_number(bytes, 0.0, 20.0, 0.7);
    return wish;
}

tcr_zone tcr_any_zone(tcr_bytes *bytes, size_t i, size_t count) {
    const uint8_t kind = tcr_any_byte(bytes);
    tcr_zone zone = {.to = i + 1 == count ? 1.0 : (double)(i + 1) / (double)count,
                     .length_mm = 8.0 + kind % 8};
    if (kind >= 240)
        zone.to = tcr_any_number(bytes, 0.0, 1.0, 0.5);
    if (kind >= 200)
        zone.length_mm = tcr_any_number(bytes, 3.0, 30.0, 10.0);
    tcr_any_label(bytes, zone.curl);
    if (kind % 16 >= 8)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            zone.layer[layer] = tcr_any_wish(bytes);
    return zone;
}
