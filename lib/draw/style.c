/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The palette and the scale of type. The three layers differ in lightness first (CIE L* about 12,
 * 36 and 58, on skin of about 83) and in hue second, along the axis from blue to orange that
 * colour-blind viewers keep; so they stay apart in grey print as well. Lines are told from each
 * other by dashes, never by colour alone.
 */
#include "draw/style.h"

#define RGBA(hex, alpha)                                                                           \
    { (((hex) >> 16) & 0xff) / 255.0, (((hex) >> 8) & 0xff) / 255.0, ((hex)&0xff) / 255.0, (alpha) }
#define RGB(hex) RGBA(hex, 1.0)

#define PAPER                                                                                      \
    .paper_quiet = RGB(0x5b5560), .paper_rule = RGBA(0x23202a, 0.16),                              \
    .paper_band = RGBA(0x8a0f52, 0.10), .flesh = RGB(0xe3b9a4), .clear = RGB(0xdde8ec),            \
    .glue = RGBA(0xb98a12, 0.55), .pad = RGBA(0xffffff, 0.45), .pad_line = RGBA(0x8a0f52, 0.8)

#define FACE                                                                                       \
    .skin_light = RGB(0xf3ddcd), .skin = RGB(0xe7c8b4), .skin_deep = RGB(0xd3aa93),                \
    .skin_shade = RGB(0x7d4a3a), .skin_glow = RGB(0xfff3e8), .crease = RGB(0x6b3d30),              \
    .lash_line = RGB(0x2a1a17), .waterline = RGB(0xe9b6a9), .waterline_edge = RGB(0xa9675a),       \
    .caruncle = RGB(0xd98f85), .flesh_glow = RGB(0xffeee9), .sclera = RGB(0xf4f0ec),               \
    .sclera_edge = RGB(0xcdbdb6), .eye_shade = RGB(0x35201c), .iris_inner = RGB(0x8f6a3a),         \
    .iris_middle = RGB(0x6f7f63), .iris_outer = RGB(0x3f5a5c), .limbus = RGB(0x18262b),            \
    .pupil = RGB(0x08080b), .iris_light = RGB(0xd9d7b0), .iris_dark = RGB(0x1d2a2a),               \
    .catch_light = RGB(0xffffff)

#define HAIR                                                                                       \
    .natural = RGB(0x43291c), .hair_shadow = RGB(0x4a2418),                                        \
    .layer =                                                                                       \
        {[TCR_BOTTOM] = RGB(0x14161f), [TCR_MIDDLE] = RGB(0x12559c), [TCR_TOP] = RGB(0xd0661a)},   \
    .layer_sheen = {                                                                               \
        [TCR_BOTTOM] = RGB(0x6b7390), [TCR_MIDDLE] = RGB(0x7fb4ea), [TCR_TOP] = RGB(0xffc28a)}

#define MARKS                                                                                      \
    .fitted = RGB(0x8a0f52), .intended = RGB(0x2b2b33), .help = RGB(0x0f6b62),                     \
    .halo = RGBA(0xffffff, 0.85), .band = RGBA(0xffffff, 0.42), .ring = RGB(0x8a0f52),             \
    .label_ground = RGBA(0xffffff, 0.88), .label_ink = RGB(0x23202a)

#define TYPE                                                                                       \
    .type = {[TCR_TYPE_TITLE] = {6.4, true},   [TCR_TYPE_FIGURE] = {9.0, true},                    \
             [TCR_TYPE_HEADING] = {3.2, true}, [TCR_TYPE_BODY] = {3.1, false},                     \
             [TCR_TYPE_SMALL] = {2.5, false},  [TCR_TYPE_LABEL] = {2.3, true}}

static const tcr_style light = {
    .ground = RGB(0xfbfaf8),
    .ink = RGB(0x23202a),
    .quiet = RGB(0x625d68),
    .paper = RGB(0xffffff),
    PAPER,
    FACE,
    HAIR,
    MARKS,
    TYPE,
};

static const tcr_style dark = {
    .ground = RGB(0x17181d),
    .ink = RGB(0xf2efea),
    .quiet = RGB(0xb4b0b8),
    .paper = RGB(0xe4ded8),
    PAPER,
    FACE,
    HAIR,
    MARKS,
    TYPE,
};

const tcr_style *tcr_style_on(bool dark_ground) { return dark_ground ? &dark : &light; }

tcr_rgba tcr_rgba_faded(tcr_rgba colour, double share) {
    colour.alpha *= share;
    return colour;
}

const char *tcr_layer_name(tcr_layer layer) {
    static const char *const names[TCR_LAYERS] = {"bottom", "middle", "top"};
    return (unsigned)layer < TCR_LAYERS ? names[layer] : "unknown";
}
