/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lesson on one page, to project: the mean lash of each layer in profile, with equal lengths
 * and with 1 mm less a layer; how far off one line all tips lie with each, over how far the layers
 * are apart; what each colour, mark and placement is; and sentences that follow from the figures.
 */
#include <math.h>
#include <stdio.h>

#include <tipcrest/lesson.h>

#include "draw/dimension.h"
#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/lesson_words.h"
#include "draw/mean.h"
#include "draw/plot.h"
#include "draw/rule_curves.h"
#include "draw/section.h"
#include "draw/sheet.h"
#include "draw/words.h"
#include "num/range.h"

static const double gap = 4, profile_width = 72, upper_height = 67;
enum { PROFILES = TCR_LESSON_PROFILES };
typedef tcr_lesson_sheet sheet;

/* ---- Figures ----------------------------------------------------------------------- */

static tcr_status try_rule(sheet *s) {
    const tcr_picture_options *o = &s->picture->options;
    tcr_lesson_place place[TCR_LESSON_PLACES];
    tcr_lesson_list_places(o->has_apart, o->apart_mm, place);
    const tcr_lesson_place here = place[TCR_LESSON_AT_HERE];
    for (int i = TCR_LESSON_AT_HERE + 1; i < TCR_LESSON_PLACES; i++)
        place[i] = here;
    place[TCR_LESSON_AT_COUCH].view = tcr_view_named(TCR_ARTIST);
    for (int i = 0; i < TCR_LESSON_SPREADS; i++) {
        place[TCR_LESSON_AT_SPREAD + i].alike = true;
        place[TCR_LESSON_AT_SPREAD + i].pitch_sd_rad = tcr_lesson_spread_deg[i] * TCR_DEG;
    }
    tcr_status status =
        tcr_lesson_of(s->picture->set, s->side, place, TCR_LESSON_PLACES, NULL, s->lesson);
    if (status == TCR_OK)
        status = tcr_lesson_pays_from(s->picture->set, s->side, 1, false, &s->pays_mm);
    if (status == TCR_OK)
        status = tcr_lesson_pays_from(s->picture->set, s->side, 2, false, &s->more_mm);
    if (status == TCR_OK)
        status = tcr_lesson_turns_at(s->picture->set, s->side, &here, &s->turns_rad);
    s->tried = tcr_lesson_tried(status, &s->lesson[TCR_LESSON_AT_HERE]);
    return status == TCR_E_MISSING ? TCR_OK : status; /* no lash takes part */
}

/* ---- The two profiles -------------------------------------------------------------- */

/* The set with a step from layer to layer, whatever zones fix for a layer and trays lack. */
static tcr_status with_step(const sheet *s, double step_mm, tcr_set **set) {
    const tcr_set *from = s->picture->set;
    const tcr_tray any = {.count = 0};
    tcr_layering layering = *tcr_set_layering(from);
    tcr_zone zone[TCR_ZONES_MAX];
    size_t zones;
    const tcr_zone *map = tcr_set_intended(from, s->side, &zones);
    if (map == NULL)
        map = tcr_set_map(from, s->side, &zones);
    for (size_t i = 0; i < zones; i++) {
        zone[i] = map[i];
        if (map[i].layer[TCR_BOTTOM].fixed & TCR_FIX_LENGTH)
            zone[i].length_mm = map[i].layer[TCR_BOTTOM].length_mm;
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            zone[i].layer[layer].fixed &= ~(unsigned)TCR_FIX_LENGTH;
            zone[i].layer[layer].length_mm = 0;
        }
    }
    layering.step_mm = step_mm;
    layering.blend = false;
    tcr_status status = tcr_set_copy(NULL, from, set);
    if (status == TCR_OK)
        status = tcr_set_put_tray(*set, &any);
    if (status == TCR_OK)
        status = tcr_set_put_layering(*set, &layering);
    return status == TCR_OK ? tcr_set_put_map(*set, s->side, zone, zones) : status;
}

/* A check of the mean lashes with a step; the set is the caller's to free too. */
static tcr_status check_with(const sheet *s, double step_mm, tcr_set **set, tcr_check **check) {
    const double u = s->picture->options.at_u, place[1][TCR_LAYERS] = {{u, u, u}};
    tcr_check_options options = tcr_check_options_default();
    tcr_set *stepped = NULL;
    options.has_view = true;
    options.view = tcr_view_named(TCR_OPEN_FRONT);
    tcr_status status = with_step(s, step_mm, &stepped);
    if (status == TCR_OK)
        status = tcr_mean_set(stepped, s->side, &s->heights, place, 1, set);
    if (status == TCR_OK)
        status = tcr_check_new(*set, &options, check, NULL);
    tcr_set_free(stepped);
    return status;
}

static tcr_box profile_box(int i) {
    return (tcr_box){TCR_EDGE + i * (profile_width + gap), TCR_HEAD, profile_width, upper_height};
}

/* Both at one scale, on the lashes, where a section shows the whole globe. */
static void look_closer(tcr_section section[PROFILES]) {
    const double low_z = 5, low_y = -2, room = 13;
    double high_z = 0, high_y = 0;
    for (int i = 0; i < PROFILES; i++)
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            if (!(section[i].layers >> layer & 1u))
                continue;
            high_z = fmax(high_z, section[i].tip[layer].z);
            high_y = fmax(high_y, section[i].tip[layer].y);
        }
    for (int i = 0; i < PROFILES; i++) {
        const tcr_box p = section[i].panel;
        const double scale = fmin((p.width - room) / (high_z + 1 - low_z),
                                  (p.height - room) / (high_y + 0.5 - low_y));
        section[i].viewport.scale = scale;
        section[i].viewport.origin =
            (tcr_vec2){p.x + p.width - room - scale * (high_z + 1), p.y + p.height + scale * low_y};
    }
}

/* Lines of sight of the tips, and how far apart they look. */
static void measure(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_eye_result *eye = tcr_check_eye(section->mean, section->side);
    const double x = section->panel.x + section->panel.width - 7;
    tcr_vec2 low = {x, -INFINITY}, high = {x, INFINITY};
    double lowest = INFINITY, highest = -INFINITY;
    int layers = 0;
    char number[TCR_WORDS], text[TCR_WORDS + 8];
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_vec2 tip = tcr_viewport_point(&section->viewport, section->tip[layer]);
        if (!(section->layers >> layer & 1u))
            continue;
        if (eye->lash[layer].status != TCR_OK)
            return;
        tcr_plot_mark(canvas, (tcr_layer)layer, tip, 0.7);
        layers++;
        tcr_dimension_thin(canvas, tip, (tcr_vec2){x + 1.5, tip.y}, canvas->style->layer[layer],
                           false);
        low.y = fmax(low.y, tip.y);
        high.y = fmin(high.y, tip.y);
        lowest = fmin(lowest, section->tip[layer].y);
        highest = fmax(highest, section->tip[layer].y);
    }
    if (layers < 2)
        return;
    tcr_dimension_line(canvas, high, low, canvas->style->fitted);
    snprintf(text, sizeof text, "%s mm", tcr_say_number(number, highest - lowest, 2, false));
    const tcr_setting bold = {
        .type = TCR_TYPE_HEADING, .colour = canvas->style->fitted, .align = 1};
    tcr_canvas_text(canvas, section->panel.x + section->panel.width - 2, high.y - 4, text, &bold);
}

static void name_profile(tcr_canvas *canvas, const sheet *s, const tcr_section *section, int i) {
    const tcr_setting words = {.type = TCR_TYPE_HEADING,
                               .colour = canvas->style->label_ink,
                               .width_mm = profile_width - 6};
    char lengths[TCR_LESSON_TEXT], text[TCR_LESSON_TEXT + TCR_WORDS];
    tcr_lesson_say_lengths(s, i, lengths);
    snprintf(text, sizeof text, "%s: %s", i == 0 ? "Equal" : "1 mm less a layer", lengths);
    const tcr_box plate = {section->panel.x + 1.5, section->panel.y + section->panel.height - 7.5,
                           tcr_canvas_measure(canvas, text, &words).width + 3, 6};
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, plate, 1);
    tcr_canvas_colour(canvas, canvas->style->label_ground);
    cairo_fill(canvas->cr);
    tcr_canvas_text(canvas, plate.x + 1.5, plate.y + 4.2, text, &words);
}

static tcr_status draw_profiles(tcr_canvas *canvas, sheet *s, tcr_check *const mean[PROFILES]) {
    const tcr_view open = tcr_view_named(TCR_OPEN_FRONT);
    tcr_section section[PROFILES];
    tcr_status status = TCR_OK;
    for (int i = 0; i < PROFILES; i++) {
        tcr_section_of(mean[i], s->side, s->picture->options.at_u, &open, profile_box(i), 0,
                       &section[i]);
        section[i].layers = s->layers;
    }
    look_closer(section);
    for (int i = 0; i < PROFILES && status == TCR_OK; i++) {
        status = tcr_section_draw(canvas, &section[i]);
        measure(canvas, &section[i]);
        name_profile(canvas, s, &section[i], i);
    }
    return status;
}

/* Why the level step is what it is, for what the profiles wear. */
static void find_reason(sheet *s, const tcr_choice *bottom) {
    const tcr_picture_options *o = &s->picture->options;
    const tcr_step_question question = {.side = s->side,
                                        .curl = bottom->curl,
                                        .bottom_length_mm = s->bottom_mm,
                                        .bottom = s->placement[TCR_BOTTOM],
                                        .middle = s->placement[TCR_MIDDLE],
                                        .top = s->placement[TCR_TOP],
                                        .has_apart = o->has_apart,
                                        .apart_mm = o->apart_mm};
    s->reasoned = tcr_step_reason_of(s->picture->set, &question, &s->reason);
}

static tcr_status profiles(tcr_canvas *canvas, sheet *s) {
    tcr_set *set[PROFILES] = {NULL};
    tcr_check *mean[PROFILES] = {NULL};
    tcr_status status = TCR_OK;
    for (int i = 0; i < PROFILES && status == TCR_OK; i++)
        status = check_with(s, i, &set[i], &mean[i]);
    if (status == TCR_OK) {
        const tcr_lash_result *lash = tcr_check_eye(mean[0], s->side)->lash;
        s->bottom_mm = lash[TCR_BOTTOM].choice.length_mm;
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            s->placement[layer] = lash[layer].choice.placement;
        find_reason(s, &lash[TCR_BOTTOM].choice);
        status = draw_profiles(canvas, s, mean);
    }
    for (int i = 0; i < PROFILES; i++) {
        tcr_check_free(mean[i]);
        tcr_set_free(set[i]);
    }
    return status;
}

/* ---- Words ------------------------------------------------------------------------- */

/* Each layer's colour, mark and placement in one row, and what the rest of a profile is. */
static void legend(tcr_canvas *canvas, const sheet *s, double y) {
    const double width = (TCR_SHEET_WIDTH - 2 * TCR_EDGE) / 4;
    const tcr_setting words = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = width - TCR_SAMPLE - 4};
    double x = TCR_EDGE;
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        char text[TCR_WORDS];
        if (!tcr_lesson_has(s, layer))
            continue;
        tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
        snprintf(text, sizeof text, "%s: %s", tcr_layer_name((tcr_layer)layer),
                 tcr_say_laid(s->placement[layer]));
        tcr_canvas_text(canvas, x + TCR_SAMPLE + 2, y + 3.1, text, &words);
        x += width;
    }
    const tcr_box glue = {x, y + 0.9, TCR_SAMPLE, 2.4};
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, glue, 1.2);
    tcr_canvas_colour(canvas, canvas->style->glue);
    cairo_fill(canvas->cr);
    tcr_canvas_text(canvas, x + TCR_SAMPLE + 2, y + 3.1, "bond; thin: natural lash", &words);
}

static void sentences(tcr_canvas *canvas, const sheet *s, double y) {
    const tcr_setting words = {.type = TCR_TYPE_HEADING,
                               .colour = canvas->style->ink,
                               .width_mm = TCR_SHEET_WIDTH - 2 * TCR_EDGE,
                               .lines = 3};
    char text[TCR_LESSON_TEXT];
    for (int i = 0; i < TCR_LESSON_SENTENCES; i++) {
        tcr_lesson_say(s, i, text);
        if (text[0] != '\0')
            y += tcr_canvas_text(canvas, TCR_EDGE, y, text, &words) + 1.4;
    }
    const tcr_setting plain = {.type = TCR_TYPE_BODY,
                               .colour = canvas->style->ink,
                               .width_mm = words.width_mm,
                               .lines = 3};
    tcr_lesson_say_variation(s, text);
    if (text[0] != '\0')
        y += tcr_canvas_text(canvas, TCR_EDGE, y, text, &plain) + 1.4;
    tcr_lesson_say_more(s, text);
    if (text[0] != '\0')
        tcr_figures_quiet(canvas, text, TCR_EDGE, y - 3, TCR_SHEET_WIDTH - 2 * TCR_EDGE);
}

/* ---- The sheet --------------------------------------------------------------------- */

/* The answer, large; below it what is shown, and the set's title, of which a long one is cut. */
static void titles(tcr_canvas *canvas, const sheet *s) {
    char answer[TCR_LESSON_TEXT], text[TCR_LESSON_TEXT];
    tcr_lesson_say_answer(s, answer);
    snprintf(text, sizeof text, "%s open, from the front: equal lengths and 1 mm less a layer%s%s",
             tcr_say_side(s->side),
             tcr_sheet_title(s->picture->check, "")[0] != '\0' ? " \xc2\xb7 " : "",
             tcr_sheet_title(s->picture->check, ""));
    tcr_sheet_titles(canvas, answer, text, TCR_SHEET_WIDTH - 2 * TCR_EDGE);
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    sheet s = {.picture = picture, .side = picture->only};
    const tcr_layer_heights heights = tcr_mean_heights(picture, s.side);
    const double x = TCR_EDGE + PROFILES * (profile_width + gap);
    tcr_lesson_take_layers(&s, &heights);
    tcr_status status = try_rule(&s);
    if (status == TCR_OK)
        status = profiles(canvas, &s);
    if (status != TCR_OK)
        return status;
    tcr_rule_curves_by_distance(
        canvas, &s, picture->options.has_apart,
        (tcr_box){x, TCR_HEAD, TCR_SHEET_WIDTH - TCR_EDGE - x, upper_height});
    legend(canvas, &s, TCR_HEAD + upper_height + 1.6);
    sentences(canvas, &s, TCR_HEAD + upper_height + 10.6);
    titles(canvas, &s);
    tcr_sheet_footer(canvas, picture->check,
                     "Lengths of single lashes, and what zones fix for upper layers, play no part. "
                     "Lid, lashes and extensions are "
                     "to scale; lids' thickness, brow, cornea and iris are only drawn.",
                     1);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_lesson = {
    "lesson", "equal and shortened layers in profile, and what the rule gains", draw};
