/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/step_own.h"

#include <math.h>

#include <tipcrest/lesson.h>

#include "draw/rule_curves.h"
#include "num/range.h"

enum { ANGLES = TCR_STEP_OWN_ANGLES, CLOSED = TCR_LESSON_AT_HERE + 1, OPEN = CLOSED + ANGLES };
enum { PLACES = OPEN + ANGLES };
static const double angle_step_deg = 10;

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
        own->lesson.placement[layer] = zone->layer[layer].fixed & TCR_FIX_PLACEMENT
                                           ? zone->layer[layer].placement
                                           : tcr_set_layering(set)->placement[layer];
}

static void list_places(const tcr_picture *picture, tcr_lesson_place place[PLACES]) {
    tcr_lesson_list_places(picture->step.has_apart, picture->step.apart_mm, place);
    for (int i = 0; i < 2 * ANGLES; i++) {
        place[CLOSED + i] = place[TCR_LESSON_AT_HERE];
        place[CLOSED + i].view = (tcr_view){.opening = CLOSED + i < OPEN ? 0 : 1,
                                            .viewer_rad = angle_step_deg * (i % ANGLES) * TCR_DEG};
    }
}

static void take_lessons(tcr_step_own *own, const tcr_lesson lesson[PLACES]) {
    for (int i = 0; i <= TCR_LESSON_AT_HERE; i++)
        own->lesson.lesson[i] = lesson[i];
    for (int i = 0; i < ANGLES; i++) {
        own->closed[i] = lesson[CLOSED + i];
        own->open[i] = lesson[OPEN + i];
    }
}

tcr_status tcr_step_own_of(const tcr_picture *picture, tcr_step_own *own) {
    const tcr_side side = picture->side[0];
    tcr_lesson_place place[PLACES];
    tcr_lesson lesson[PLACES];
    size_t zones;
    *own = (tcr_step_own){0};
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
    own->lesson.tried = tcr_lesson_tried(status, &lesson[TCR_LESSON_AT_HERE]);
    const tcr_layer_heights heights = tcr_step_heights(picture);
    tcr_lesson_take_layers(&own->lesson, &heights);
    own->has_curves = own->lesson.tried == TCR_OK && isfinite(own->lesson.apart_mm);
    if (status == TCR_OK)
        take_lessons(own, lesson);
    take_map(own, picture->set, side);
    return TCR_OK;
}

void tcr_step_own_curves(tcr_canvas *canvas, const tcr_step_own *own, tcr_box place) {
    const double gap = 4, height = (place.height - gap) / 2;
    const tcr_picture *picture = own->lesson.picture;
    const tcr_rule_curves by_viewer = {
        .panel = {place.x, place.y + height + gap, place.width, height},
        .head = "The same by the viewer's angle",
        .along = "viewer above eye level, degrees: street to couch",
        .what_is_thin = "thick: eye closed; thin: eye open",
        .points = ANGLES,
        .step = angle_step_deg,
        .thick = own->closed,
        .thin = own->open,
        .at = tcr_view_named(TCR_ARTIST).viewer_rad / TCR_DEG,
        .mark = "couch (assumed)",
        .of_tray = tcr_set_tray(picture->set)->count > 0};
    tcr_rule_curves_by_distance(canvas, &own->lesson, picture->step.has_apart,
                                (tcr_box){place.x, place.y, place.width, height});
    tcr_rule_curves_draw(canvas, &by_viewer);
}
