/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/step_own.h"

#include <math.h>
#include <stdio.h>

#include <tipcrest/lesson.h>

#include "draw/hair.h"
#include "draw/rule_curves.h"
#include "draw/words.h"
#include "num/range.h"

enum { POINTS = TCR_LESSON_POINTS, ANGLES = TCR_STEP_OWN_ANGLES, HERE = 0 };
enum { OWN = HERE + 1, ALIKE = OWN + POINTS, CLOSED = ALIKE + POINTS, OPEN = CLOSED + ANGLES };
enum { PLACES = OPEN + ANGLES };
static const double apart_step_mm = 0.1, angle_step_deg = 10, couch_deg = 60;

tcr_layer_heights tcr_step_heights(const tcr_picture *picture) {
    const tcr_step_picture *o = &picture->step;
    tcr_layer_heights heights;
    (void)tcr_layer_heights_of(picture->set, picture->side[0], &heights); /* the eye is there */
    return o->has_apart ? tcr_layer_heights_apart(&heights, o->apart_mm) : heights;
}

/* What the map gives the bottom layer at the pupil, and the layers' placement there. */
static void take_map(tcr_step_own *own, const tcr_set *set, tcr_side side) {
    const double pupil_u = 0.5;
    size_t zones;
    const tcr_zone *zone = tcr_set_intended(set, side, &zones);
    if (zone == NULL)
        zone = tcr_set_map(set, side, &zones);
    for (; zones > 1 && !(pupil_u < zone->to); zones--)
        zone++;
    const tcr_wish *bottom = &zone->layer[TCR_BOTTOM];
    own->lesson.bottom_mm = bottom->fixed & TCR_FIX_LENGTH ? bottom->length_mm : zone->length_mm;
    (void)tcr_set_find_curl(set, bottom->fixed & TCR_FIX_CURL ? bottom->curl : zone->curl,
                            &own->curl);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        own->placement[layer] = zone->layer[layer].fixed & TCR_FIX_PLACEMENT
                                    ? zone->layer[layer].placement
                                    : tcr_set_layering(set)->placement[layer];
}

static void list_places(const tcr_picture *picture, tcr_lesson_place place[PLACES]) {
    tcr_lesson_place here = tcr_lesson_place_default();
    here.has_apart = picture->step.has_apart;
    here.apart_mm = picture->step.apart_mm;
    for (int i = 0; i < PLACES; i++)
        place[i] = here;
    for (int i = 0; i < 2 * POINTS; i++) {
        place[OWN + i].has_apart = true;
        place[OWN + i].apart_mm = apart_step_mm * (i % POINTS);
        place[OWN + i].alike = OWN + i >= ALIKE;
    }
    for (int i = 0; i < 2 * ANGLES; i++)
        place[CLOSED + i].view = (tcr_view){.opening = CLOSED + i < OPEN ? 0 : 1,
                                            .viewer_rad = angle_step_deg * (i % ANGLES) * TCR_DEG};
}

static void take_lessons(tcr_step_own *own, const tcr_lesson lesson[PLACES]) {
    own->lesson.lesson[TCR_LESSON_AT_HERE] = lesson[HERE];
    for (int i = 0; i < POINTS; i++) {
        own->own[i] = lesson[OWN + i];
        own->alike[i] = lesson[ALIKE + i];
    }
    for (int i = 0; i < ANGLES; i++) {
        own->closed[i] = lesson[CLOSED + i];
        own->open[i] = lesson[OPEN + i];
    }
}

/* The layers that have lashes, and how far they are apart from one to the next. */
static void take_layers(tcr_step_own *own) {
    const tcr_layer_heights *h = &own->lesson.heights;
    int low = TCR_LAYERS, high = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        if (h->lashes[layer] == 0)
            continue;
        own->lesson.layers |= 1u << layer;
        low = layer < low ? layer : low;
        high = layer;
    }
    own->has_curves = high > low;
    own->apart_mm = own->has_curves ? (h->height_mm[high] - h->height_mm[low]) / (high - low) : NAN;
    if (own->lesson.layers == 0)
        own->lesson.layers = TCR_EVERY_LAYER;
}

tcr_status tcr_step_own_of(const tcr_picture *picture, tcr_step_own *own) {
    const tcr_side side = picture->side[0];
    tcr_lesson_place place[PLACES];
    tcr_lesson lesson[PLACES];
    size_t zones;
    *own = (tcr_step_own){.apart_mm = NAN};
    (void)tcr_set_map(picture->set, side, &zones);
    if (zones == 0)
        return TCR_OK;
    list_places(picture, place);
    const tcr_status status = tcr_lesson_of(picture->set, side, place, PLACES, NULL, lesson);
    if (status != TCR_OK && status != TCR_E_MISSING) /* no lash takes part */
        return status;
    own->known = true;
    own->lesson.picture = picture;
    own->lesson.side = side;
    own->lesson.tried = status;
    own->lesson.heights = tcr_step_heights(picture);
    take_layers(own);
    if (status == TCR_OK)
        take_lessons(own, lesson);
    else
        own->has_curves = false;
    take_map(own, picture->set, side);
    return TCR_OK;
}

void tcr_step_own_curves(tcr_canvas *canvas, const tcr_step_own *own, tcr_box place) {
    const double gap = 4, height = (place.height - gap) / 2;
    const tcr_picture *picture = own->lesson.picture;
    char number[TCR_WORDS], here[2 * TCR_WORDS];
    snprintf(here, sizeof here, "%s, %s mm", picture->step.has_apart ? "as asked" : "this set",
             tcr_say_number(number, own->apart_mm, 2, false));
    tcr_rule_curves c = {.panel = {place.x, place.y, place.width, height},
                         .head = "Tips off one line, mm rms: layers' distance",
                         .along = "from each layer to the next, mm",
                         .what_is_thin = "thin: on lashes that are all alike",
                         .points = POINTS,
                         .step = apart_step_mm,
                         .thick = own->own,
                         .thin = own->alike,
                         .at = own->apart_mm,
                         .mark = here,
                         .of_tray = tcr_set_tray(picture->set)->count > 0};
    tcr_rule_curves_draw(canvas, &c);
    c.panel.y += height + gap;
    c.head = "The same from street to couch";
    c.along = "viewer above the street's view, degrees";
    c.what_is_thin = "thick: eye closed; thin: eye open";
    c.points = ANGLES;
    c.step = angle_step_deg;
    c.thick = own->closed;
    c.thin = own->open;
    c.at = couch_deg;
    c.mark = "couch (assumed)";
    tcr_rule_curves_draw(canvas, &c);
}
