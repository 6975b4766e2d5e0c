/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The profile through one place of the lid: the mean lash of the bottom, middle and top layer with
 * the extension that map and rule give it there, how far apart their tips look along the line of
 * sight, and small beside it the same lashes with the eye closed, along the artist's line of sight.
 */
#include <math.h>
#include <stdio.h>

#include "draw/cut.h"
#include "draw/dimension.h"
#include "draw/figures.h"
#include "draw/marks.h"
#include "draw/mean.h"
#include "draw/plot.h"
#include "draw/section.h"
#include "draw/sheet.h"
#include "draw/words.h"
#include "num/range.h"

static const double label_room = 46; /* of the sheet, at the right of the large section */

/* Heights of the tips as seen in a section's view, mm, and their spread. */
typedef struct heights {
    double tip[TCR_LAYERS]; /* NaN for a bare lash */
    double low, high;
} heights;

static heights heights_of(const tcr_section *section) {
    heights h = {.low = NAN, .high = NAN};
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const bool bare = tcr_check_eye(section->mean, section->side)->lash[layer].status != TCR_OK;
        h.tip[layer] =
            bare ? NAN : tcr_view_project(&section->viewport.view, section->tip[layer]).y;
        h.low = fmin(h.low, h.tip[layer]); /* fmin passes over NaN */
        h.high = fmax(h.high, h.tip[layer]);
    }
    return h;
}

/* ---- What is measured in the picture ----------------------------------------------- */

/* Directions on the sheet: towards the viewer, and up as the viewer sees it. */
static tcr_vec2 towards_viewer(const tcr_section *section) {
    const double e = section->viewport.view.viewer_rad;
    return (tcr_vec2){cos(e), -sin(e)};
}

static tcr_vec2 step(tcr_vec2 from, double by, tcr_vec2 direction) {
    return (tcr_vec2){from.x + by * direction.x, from.y + by * direction.y};
}

static double along(tcr_vec2 p, tcr_vec2 direction) {
    return p.x * direction.x + p.y * direction.y;
}

/*
 * A screen across the line of sight, beyond all tips: where the tips' lines of sight meet it, their
 * distance is what the viewer sees.
 */
static void screen(const tcr_section *section, double beyond, tcr_vec2 at[TCR_LAYERS]) {
    const tcr_vec2 s = towards_viewer(section);
    double farthest = -INFINITY;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        farthest =
            fmax(farthest, along(tcr_viewport_point(&section->viewport, section->tip[layer]), s));
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_vec2 tip = tcr_viewport_point(&section->viewport, section->tip[layer]);
        at[layer] = step(tip, farthest + beyond - along(tip, s), s);
    }
}

/* How far apart the outermost tips look, beyond the end of the line that measures it. */
static void gap(tcr_canvas *canvas, tcr_vec2 low, tcr_vec2 high, double gap_mm) {
    const double length = hypot(high.x - low.x, high.y - low.y);
    char number[TCR_WORDS], text[TCR_WORDS + 8];
    if (!(length > 0))
        return;
    const tcr_vec2 way = {(high.x - low.x) / length, (high.y - low.y) / length};
    /* Clear of arrows that come from outside, and of the words' own height and width. */
    const double arrows = length < 4 ? 3 : 0, clear = 2.6 * fabs(way.y) + 6.5 * fabs(way.x);
    if (way.x > 0.5) /* into the labels of the layers; the figures beside say it too */
        return;
    const tcr_vec2 at = step(high, arrows + clear, way);
    snprintf(text, sizeof text, "%s mm", tcr_say_number(number, gap_mm, 2, false));
    tcr_dimension_text(canvas, at, text, canvas->style->fitted);
}

/* The lines of sight of the tips, and between the outermost their distance, in words where asked
 * for. */
static void sight(tcr_canvas *canvas, const tcr_section *section, const tcr_vec2 at[TCR_LAYERS],
                  bool words) {
    const heights h = heights_of(section);
    int lowest = -1, highest = -1;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        if (isnan(h.tip[layer]))
            continue;
        const tcr_vec2 tip = tcr_viewport_point(&section->viewport, section->tip[layer]);
        tcr_dimension_thin(canvas, tip, step(at[layer], 1.2, towards_viewer(section)),
                           canvas->style->layer[layer], false);
        tcr_plot_mark(canvas, (tcr_layer)layer, tip, 0.6);
        lowest = lowest < 0 || h.tip[layer] < h.tip[lowest] ? layer : lowest;
        highest = highest < 0 || h.tip[layer] >= h.tip[highest] ? layer : highest;
    }
    if (lowest < 0 || highest == lowest)
        return;
    tcr_dimension_line(canvas, at[lowest], at[highest], canvas->style->fitted);
    if (words)
        gap(canvas, at[lowest], at[highest], h.high - h.low);
}

static const char *placement_words(tcr_placement placement) {
    static const char *const words[TCR_PLACEMENTS] = {"on top", "underneath", "inner side",
                                                      "outer side"};
    return (unsigned)placement < TCR_PLACEMENTS ? words[placement] : "";
}

/* What a layer carries: "12 mm C, on top", or why nothing. */
static void carried(const tcr_section *section, int layer, char out[TCR_WORDS]) {
    const tcr_set *set = tcr_check_set(section->mean);
    const tcr_lash_result *lash = &tcr_check_eye(section->mean, section->side)->lash[layer];
    char number[TCR_WORDS];
    if (lash->status == TCR_E_BARE_BY_ROW)
        snprintf(out, TCR_WORDS, "the tray has no such length");
    else if (lash->status != TCR_OK)
        snprintf(out, TCR_WORDS, "too short to carry any");
    else
        snprintf(out, TCR_WORDS, "%.12s mm %.15s, %s",
                 tcr_say_trimmed(number, lash->choice.length_mm, 2),
                 tcr_set_curl(set, lash->choice.curl)->label,
                 placement_words(lash->choice.placement));
}

/* One label for each layer at the right, in the order of the tips, with a leader to the screen. */
static void labels(tcr_canvas *canvas, const tcr_section *section, const tcr_vec2 at[TCR_LAYERS]) {
    const double pitch = 8.2, half = 3.4, x = section->panel.x + section->panel.width - 40;
    const tcr_box p = section->panel;
    const heights h = heights_of(section);
    int order[TCR_LAYERS] = {0, 1, 2};
    double place[TCR_LAYERS];
    for (int i = 1; i < TCR_LAYERS; i++)
        for (int k = i; k > 0 && at[order[k]].y < at[order[k - 1]].y; k--) {
            const int other = order[k];
            order[k] = order[k - 1];
            order[k - 1] = other;
        }
    for (int i = 0; i < TCR_LAYERS; i++)
        place[i] = at[order[i]].y;
    tcr_dimension_spread(place, TCR_LAYERS, pitch, p.y + half + 2, p.y + p.height - half - 2);
    for (int i = 0; i < TCR_LAYERS; i++) {
        const int layer = order[i];
        const tcr_rgba colour = canvas->style->layer[layer];
        const tcr_setting bold = {.type = TCR_TYPE_LABEL, .colour = colour, .width_mm = 38};
        char words[TCR_WORDS], number[TCR_WORDS], text[3 * TCR_WORDS];
        carried(section, layer, words);
        snprintf(text, sizeof text, "%s: %s", tcr_layer_name((tcr_layer)layer), words);
        tcr_canvas_text(canvas, x + 1, place[i] - 0.6, text, &bold);
        if (isnan(h.tip[layer]))
            continue;
        const double over = h.tip[layer] - h.tip[TCR_BOTTOM];
        snprintf(text, sizeof text, "%s mm over the bottom tip",
                 tcr_say_number(number, over, 2, true));
        if (layer == TCR_BOTTOM || isnan(over))
            snprintf(text, sizeof text, "%s mm over the eye\xe2\x80\x99s middle",
                     tcr_say_number(number, h.tip[layer], 2, true));
        tcr_canvas_text(canvas, x + 1, place[i] + 2.6, text, &bold);
        tcr_dimension_thin(canvas, step(at[layer], 1.2, towards_viewer(section)),
                           (tcr_vec2){x, place[i]}, colour, false);
    }
}

/* How far the lid has turned from where it closes, and the circle on which it slides. */
static void turning(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_rgba quiet = canvas->style->paper_quiet;
    const tcr_vec2 o = section->viewport.origin;
    const double s = section->viewport.scale, r = 5.2;
    char number[TCR_WORDS], text[2 * TCR_WORDS];
    const double turned = section->margin_rad - section->closed_rad;
    tcr_dimension_thin(canvas, o,
                       tcr_section_circle(section, section->radius_mm, section->closed_rad), quiet,
                       true);
    tcr_dimension_thin(canvas, o,
                       tcr_section_circle(section, section->radius_mm, section->margin_rad), quiet,
                       false);
    tcr_dimension_arc(canvas, o, r * s, section->closed_rad, section->margin_rad, quiet);
    const double middle = (section->margin_rad + section->closed_rad) / 2;
    snprintf(text, sizeof text, "%s\xc2\xb0", tcr_say_number(number, turned / TCR_DEG, 1, false));
    if (turned * r * s > 5)
        tcr_dimension_text(canvas, tcr_section_circle(section, r, middle), text, quiet);
    snprintf(text, sizeof text, "R %s mm", tcr_say_number(number, section->radius_mm, 1, false));
    tcr_dimension_text(canvas, tcr_section_circle(section, 8.1, section->closed_rad), text, quiet);
}

/* How far apart the lashes root, measured inside the lid. */
static void roots(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_rgba ink = canvas->style->label_ink;
    const tcr_viewport *eye = &section->viewport;
    const tcr_vec2 o = eye->origin, first = tcr_viewport_point(eye, section->stance[0].root);
    const double length = hypot(first.x - o.x, first.y - o.y);
    const tcr_vec2 inward = {(o.x - first.x) / length, (o.y - first.y) / length};
    tcr_vec2 at[TCR_LAYERS];
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_vec2 root = tcr_viewport_point(eye, section->stance[layer].root);
        at[layer] = step(root, 0.9 * eye->scale, inward);
        tcr_dimension_thin(canvas, root, step(at[layer], 0.8, inward), ink, false);
        if (layer > 0)
            tcr_dimension_line(canvas, at[layer - 1], at[layer], ink);
    }
    /* In the flesh above the globe. */
    tcr_vec2 label = tcr_section_circle(section, 1.18 * section->radius_mm,
                                        fmax(section->margin_rad + 0.95, 1.25));
    label.y = fmax(label.y, section->panel.y + 4);
    tcr_dimension_thin(canvas, at[1], label, ink, false);
    char a[TCR_WORDS], b[TCR_WORDS], text[3 * TCR_WORDS];
    const tcr_set *set = tcr_check_set(section->mean);
    const double low = tcr_set_lash(set, section->side, TCR_BOTTOM)->height_mm;
    const double middle = tcr_set_lash(set, section->side, TCR_MIDDLE)->height_mm;
    const double high = tcr_set_lash(set, section->side, TCR_TOP)->height_mm;
    snprintf(text, sizeof text, "layers root %s and %s mm apart",
             tcr_say_number(a, middle - low, 2, false), tcr_say_number(b, high - middle, 2, false));
    tcr_dimension_text(canvas, label, text, ink);
}

/* Where the bond is, told at the bottom layer's. */
static void bond(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_lash_result *lash = &tcr_check_eye(section->mean, section->side)->lash[TCR_BOTTOM];
    const tcr_rgba ink = canvas->style->label_ink;
    char a[TCR_WORDS], b[TCR_WORDS], text[2 * TCR_WORDS + 60];
    if (lash->status != TCR_OK)
        return;
    const tcr_vec2 middle = tcr_section_bond(section, TCR_BOTTOM, 0.5);
    const tcr_vec2 label = {middle.x + 14, middle.y + 14};
    snprintf(text, sizeof text, "bond %s mm, %s mm off the skin",
             tcr_say_trimmed(a, lash->attachment.bond_mm, 2),
             tcr_say_trimmed(b, tcr_set_bond(tcr_check_set(section->mean))->offset_mm, 2));
    tcr_dimension_thin(canvas, middle, label, ink, false);
    tcr_dimension_text(canvas, label, text, ink);
}

/* The bonds cut across, where lashes and labels leave room at the right: below or above them. */
static void cut(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_box p = section->panel;
    const double x = p.x + p.width - TCR_CUT_WIDTH - 14, clear = 14;
    double high = INFINITY, low = -INFINITY;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_vec2 root = tcr_viewport_point(&section->viewport, section->stance[layer].root);
        const tcr_vec2 tip = tcr_viewport_point(&section->viewport, section->tip[layer]);
        high = fmin(high, fmin(root.y, tip.y - clear));
        low = fmax(low, fmax(root.y, tip.y + clear));
    }
    if (tcr_check_eye(section->mean, section->side)->lash[TCR_BOTTOM].status == TCR_OK)
        low = fmax(low, tcr_section_bond(section, TCR_BOTTOM, 0.5).y + 17); /* its label */
    const double below = p.y + p.height - TCR_CUT_HEIGHT - 15, above = p.y + 3;
    if (low < below)
        tcr_cut_draw(canvas, section, x, below);
    else if (above + TCR_CUT_HEIGHT < high)
        tcr_cut_draw(canvas, section, x, above);
}

/* The line of sight as an arrow into the picture. */
static void sight_arrow(tcr_canvas *canvas, const tcr_section *section, tcr_vec2 at,
                        double length) {
    const tcr_rgba colour = canvas->style->fitted;
    const tcr_vec2 s = towards_viewer(section), to = step(at, -length, s);
    tcr_dimension_thin(canvas, at, to, colour, false);
    tcr_dimension_head(canvas, to, at, colour);
}

static void clip(tcr_canvas *canvas, const tcr_section *section) {
    cairo_save(canvas->cr);
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, section->panel, TCR_CORNER);
    cairo_clip(canvas->cr);
}

static void measure_large(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_box p = section->panel;
    tcr_vec2 at[TCR_LAYERS];
    clip(canvas, section);
    turning(canvas, section);
    roots(canvas, section);
    bond(canvas, section);
    screen(section, 4, at);
    sight(canvas, section, at, true);
    cut(canvas, section);
    labels(canvas, section, at);
    const tcr_setting quiet = {.type = TCR_TYPE_LABEL, .colour = canvas->style->fitted, .align = 1};
    /* Clear of its name also where the viewer is raised. */
    const double fall = fmax(0, 12 * sin(section->viewport.view.viewer_rad));
    const tcr_vec2 arrow = {p.x + p.width - 6, p.y + p.height - 9 - fall};
    sight_arrow(canvas, section, arrow, 12);
    tcr_canvas_text(canvas, arrow.x, p.y + p.height - 4.5, "line of sight", &quiet);
    tcr_mark_bar(canvas, (tcr_vec2){p.x + 4, p.y + p.height - 3.5}, section->viewport.scale, 46);
    cairo_restore(canvas->cr);
}

static void measure_small(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_box p = section->panel;
    tcr_vec2 at[TCR_LAYERS];
    char number[TCR_WORDS], text[2 * TCR_WORDS];
    const heights h = heights_of(section);
    clip(canvas, section);
    screen(section, 2.5, at);
    sight(canvas, section, at, false);
    sight_arrow(canvas, section, (tcr_vec2){p.x + p.width - 5, p.y + 3.5}, 9);
    snprintf(text, sizeof text, "%s mm apart", tcr_say_number(number, h.high - h.low, 2, false));
    const tcr_setting bold = {.type = TCR_TYPE_LABEL, .colour = canvas->style->fitted, .align = 1};
    tcr_canvas_text(canvas, p.x + p.width - 2, p.y + p.height - 2, text, &bold);
    cairo_restore(canvas->cr);
}

/* ---- The sheet --------------------------------------------------------------------- */

static void titles(tcr_canvas *canvas, const tcr_picture *picture, const tcr_section *section) {
    char u[TCR_WORDS], view[TCR_WORDS], text[3 * TCR_WORDS];
    snprintf(
        text, sizeof text,
        "%s in profile, %s of the way along the lid, %s \xc2\xb7 the average lash of each layer",
        tcr_say_side(section->side), tcr_say_trimmed(u, section->u, 3),
        tcr_say_view(view, &section->viewport.view));
    tcr_sheet_titles(canvas, tcr_sheet_title(picture->check, "The set in profile"), text,
                     tcr_sheet_panel().width);
}

/* Tips over the bottom one, as the check sees them and from the artist's seat. */
static double table(tcr_canvas *canvas, const heights *open, const heights *seat, double x,
                    double y) {
    const double column[] = {x + 0.66 * TCR_COLUMN, x + TCR_COLUMN};
    y = tcr_figures_heading(canvas, "Tips over the bottom one, mm", x, y, TCR_COLUMN);
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, "as drawn", 1, column[0], y + 2.6);
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, "from the couch", 1, column[1], y + 2.6);
    y += 3.6;
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        const double over[] = {open->tip[layer] - open->tip[TCR_BOTTOM],
                               seat->tip[layer] - seat->tip[TCR_BOTTOM]};
        tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
        for (int i = 0; i < 2; i++) {
            char number[TCR_WORDS];
            tcr_figures_aligned(canvas, TCR_TYPE_BODY, tcr_say_number(number, over[i], 2, true), 1,
                                column[i], y + 3.1);
        }
        y = tcr_figures_body(canvas, tcr_layer_name((tcr_layer)layer), x + TCR_SAMPLE + 2, y,
                             TCR_COLUMN);
    }
    return y;
}

/* Which zone of the map the place lies in. */
static void zone_of(tcr_canvas *canvas, const tcr_section *section, double x, double y) {
    const tcr_set *set = tcr_check_set(section->mean);
    const size_t k = tcr_set_zone_at(set, section->side, section->u);
    size_t zones;
    const tcr_zone *zone = &tcr_set_map(set, section->side, &zones)[k];
    char number[TCR_WORDS], text[2 * TCR_WORDS];
    y = tcr_figures_heading(canvas, "The map here", x, y, TCR_COLUMN);
    snprintf(text, sizeof text, "zone %zu of %zu: %.12s mm %.15s", k + 1, zones,
             tcr_say_trimmed(number, zone->length_mm, 2), zone->curl);
    tcr_figures_body(canvas, text, x, y, TCR_COLUMN);
}

static void figures(tcr_canvas *canvas, const tcr_section *open, const tcr_section *seat) {
    const tcr_box box = tcr_sheet_column();
    const heights h = heights_of(open), from_seat = heights_of(seat);
    const tcr_lash *lash = tcr_set_lash(tcr_check_set(open->mean), open->side, TCR_BOTTOM);
    char a[TCR_WORDS], b[TCR_WORDS], text[3 * TCR_WORDS];
    double y = tcr_figures_heading(canvas, "Tips apart", box.x, box.y, box.width);
    y = tcr_figures_large(canvas, h.high - h.low, "mm", box.x, y);
    y = tcr_figures_quiet(canvas,
                          "from the lowest to the highest of the three, across the line of sight",
                          box.x, y, box.width) +
        2.4;
    y = table(canvas, &h, &from_seat, box.x, y) + 2.6;
    y = tcr_figures_heading(canvas, "The average lash here", box.x, y, box.width);
    snprintf(text, sizeof text, "%s mm long, turns by %s\xc2\xb0",
             tcr_say_trimmed(a, lash->length_mm, 2),
             tcr_say_trimmed(b, lash->turn_rad / TCR_DEG, 1));
    y = tcr_figures_body(canvas, text, box.x, y, box.width);
    snprintf(text, sizeof text, "grows %s\xc2\xb0 %s, %s\xc2\xb0 %s",
             tcr_say_trimmed(a, fabs(lash->pitch_rad) / TCR_DEG, 1),
             lash->pitch_rad < 0 ? "down" : "up",
             tcr_say_trimmed(b, fabs(lash->yaw_rad) / TCR_DEG, 1),
             lash->yaw_rad < 0 ? "inwards" : "outwards");
    y = tcr_figures_body(canvas, text, box.x, y, box.width) + 2.6;
    zone_of(canvas, open, box.x, y);
    tcr_sheet_caption(canvas, seat->panel,
                      "The same lashes along the artist\xe2\x80\x99s line of sight");
}

static tcr_status draw_sections(tcr_canvas *canvas, const tcr_picture *picture,
                                const tcr_check *mean) {
    const tcr_view view = tcr_check_view(picture->check);
    const tcr_box column = tcr_sheet_column();
    const tcr_box small = {column.x, TCR_SHEET_HEIGHT - TCR_FOOT - 44, column.width, 37};
    const double u = picture->options.at_u;
    tcr_section open, seat;
    tcr_section_of(mean, picture->only, u, &view, tcr_sheet_panel(), label_room, &open);
    tcr_section_of(mean, picture->only, u, &picture->options.seat, small, 6, &seat);
    tcr_status status = tcr_section_draw(canvas, &open);
    if (status == TCR_OK)
        status = tcr_section_draw(canvas, &seat);
    if (status != TCR_OK)
        return status;
    measure_large(canvas, &open);
    measure_small(canvas, &seat);
    titles(canvas, picture, &open);
    figures(canvas, &open, &seat);
    return TCR_OK;
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const double u = picture->options.at_u, place[1][TCR_LAYERS] = {{u, u, u}};
    tcr_set *set = NULL;
    tcr_check *mean = NULL;
    const tcr_layer_heights layers = tcr_mean_heights(picture, picture->only);
    tcr_status status = tcr_mean_set(picture->set, picture->only, &layers, place, 1, &set);
    if (status == TCR_OK)
        status = tcr_check_new(set, NULL, &mean, NULL);
    if (status == TCR_OK)
        status = draw_sections(canvas, picture, mean);
    if (status == TCR_OK)
        tcr_sheet_footer(canvas, picture->check,
                         "Lid, lashes, extensions and bonds are to scale, projected onto the cut; "
                         "thickness of the lids, brow, cornea and iris are only drawn.",
                         1);
    tcr_check_free(mean);
    tcr_set_free(set);
    return status;
}

const tcr_picture_view tcr_picture_view_side = {
    "side", "the profile through one place of the lid, with the average lash of each layer", draw};
