/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_STYLE_H
#define TCR_DRAW_STYLE_H

#include <stdbool.h>

#include <tipcrest/lash.h>

/*
 * How every picture of the project looks: one palette and one scale of type. Sizes are millimetres
 * on a sheet that is TCR_SHEET_WIDTH wide; a sheet of another width is scaled as a whole.
 */
#define TCR_SHEET_WIDTH 254.0

typedef struct tcr_rgba {
    double red, green, blue, alpha;
} tcr_rgba;

typedef enum tcr_type {
    TCR_TYPE_TITLE = 0,
    TCR_TYPE_FIGURE = 1, /* a number to be read from the back of the room */
    TCR_TYPE_HEADING = 2,
    TCR_TYPE_BODY = 3,
    TCR_TYPE_SMALL = 4,
    TCR_TYPE_LABEL = 5
} tcr_type;
enum { TCR_TYPES = 6 };

typedef struct tcr_type_face {
    double size_mm; /* of the em */
    bool bold;
} tcr_type_face;

typedef struct tcr_style {
    /* the sheet */
    tcr_rgba ground, ink, quiet;
    /* a panel to plot on, the same on both grounds but for its brightness */
    tcr_rgba paper, paper_quiet, paper_rule, paper_band;
    /* a section through lid and globe, and the pad under the lashes of a closed eye */
    tcr_rgba flesh, clear, glue, pad, pad_line;
    /* the face */
    tcr_rgba skin_light, skin, skin_deep, skin_shade, skin_glow;
    tcr_rgba crease, lash_line, waterline, waterline_edge, caruncle, flesh_glow;
    tcr_rgba sclera, sclera_edge, eye_shade, iris_inner, iris_middle, iris_outer, limbus, pupil;
    tcr_rgba iris_light, iris_dark, catch_light;
    /* hair */
    tcr_rgba natural, hair_shadow;
    tcr_rgba layer[TCR_LAYERS], layer_sheen[TCR_LAYERS];
    /* marks on the face */
    tcr_rgba fitted, intended, help, halo, band, ring, label_ground, label_ink;
    tcr_type_face type[TCR_TYPES];
} tcr_style;

/* The style on a light or a dark ground, static storage. */
const tcr_style *tcr_style_on(bool dark);

/* A colour at another strength, alpha times share. */
tcr_rgba tcr_rgba_faded(tcr_rgba colour, double share);

/* The name that legends and text chunks give a layer, static storage. */
const char *tcr_layer_name(tcr_layer layer);

#endif
