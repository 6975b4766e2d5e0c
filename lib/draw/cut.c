/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bonds cut across, where lash and extension come nearest to each other. */
#include "draw/cut.h"

#include <math.h>
#include <stdio.h>

#include "draw/words.h"
#include "num/range.h"

static const double enlarged = 22; /* mm on the sheet for one of the lash */

/* A lash and its extension across the bond, mm; x outwards, y to the side of the curl. */
typedef struct across {
    tcr_vec2 extension; /* its middle, from the lash's */
    double lash_mm, extension_mm;
} across;

static across across_at(const tcr_section *section, tcr_layer layer, double share) {
    const tcr_set *set = tcr_check_set(section->mean);
    const tcr_lash *lash = tcr_set_lash(set, section->side, (size_t)layer);
    const tcr_lash_result *result = &tcr_check_eye(section->mean, section->side)->lash[layer];
    const tcr_extension ext = tcr_set_extension(set, &result->choice);
    const tcr_profile profile = tcr_lash_profile(lash);
    const double s = share * result->attachment.bond_mm;
    const double place = tcr_set_bond(set)->offset_mm + s;
    const tcr_arc_point own = tcr_profile_at(&profile, lash->length_mm, place);
    const tcr_vec3 on = tcr_attachment_fibre(&result->attachment, &ext, 0, s);
    /* The part of the way across the lash's tangent there, on the side of its curl. */
    const double up = (on.y - own.y) * cos(own.angle_rad) - (on.x - own.x) * sin(own.angle_rad);
    return (across){{on.z, up}, tcr_lash_diameter(lash, place), ext.diameter_mm};
}

static across nearest(const tcr_section *section, tcr_layer layer) {
    enum { PLACES = 21 };
    across best = across_at(section, layer, 0);
    for (int i = 1; i < PLACES; i++) {
        const across at = across_at(section, layer, (double)i / (PLACES - 1));
        if (hypot(at.extension.x, at.extension.y) < hypot(best.extension.x, best.extension.y))
            best = at;
    }
    return best;
}

static void disc(tcr_canvas *canvas, tcr_vec2 at, double diameter_mm, tcr_rgba colour) {
    cairo_new_path(canvas->cr);
    cairo_arc(canvas->cr, at.x, at.y, enlarged * diameter_mm / 2, 0, 2 * TCR_PI);
    tcr_canvas_colour(canvas, colour);
    cairo_fill(canvas->cr);
}

static void draw_one(tcr_canvas *canvas, const tcr_section *section, tcr_layer layer,
                     tcr_vec2 middle) {
    const across at = nearest(section, layer);
    const tcr_vec2 half = {enlarged * at.extension.x / 2, enlarged * at.extension.y / 2};
    const tcr_vec2 own = {middle.x - half.x, middle.y + half.y};
    const tcr_vec2 other = {middle.x + half.x, middle.y - half.y};
    cairo_t *cr = canvas->cr;
    cairo_save(cr);
    cairo_new_path(cr);
    cairo_move_to(cr, own.x, own.y);
    cairo_line_to(cr, other.x, other.y);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_width(cr, enlarged * (fmax(at.lash_mm, at.extension_mm) + 0.05));
    tcr_canvas_colour(canvas, canvas->style->glue);
    cairo_stroke(cr);
    cairo_restore(cr);
    disc(canvas, own, at.lash_mm, canvas->style->natural);
    disc(canvas, other, at.extension_mm, canvas->style->layer[layer]);
}

void tcr_cut_draw(tcr_canvas *canvas, const tcr_section *section, double x, double y) {
    const tcr_eye_result *eye = tcr_check_eye(section->mean, section->side);
    const double pitch = TCR_CUT_WIDTH / TCR_LAYERS;
    const tcr_style *style = canvas->style;
    char text[TCR_WORDS];
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .width_mm = TCR_CUT_WIDTH};
    snprintf(text, sizeof text, "bonds cut across, %.0f times as large", enlarged);
    tcr_canvas_text(canvas, x, y + 2.5, text, &quiet);
    tcr_canvas_text(canvas, x, y + 6, "up: towards the curl; right: outwards", &quiet);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_vec2 middle = {x + (layer + 0.5) * pitch - 4, y + 12};
        const tcr_setting name = {
            .type = TCR_TYPE_LABEL, .colour = style->layer[layer], .align = 0.5};
        const bool bare = eye->lash[layer].status != TCR_OK;
        tcr_canvas_text(canvas, middle.x, y + TCR_CUT_HEIGHT - 1, tcr_layer_name((tcr_layer)layer),
                        &name);
        if (!bare)
            draw_one(canvas, section, (tcr_layer)layer, middle);
    }
}
