/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of views, and what is the same for all of them: options, ground, scale. */
#include "draw/picture.h"

#include <string.h>

#include <tipcrest/field.h>

#include "draw/sheet.h"
#include "num/options.h"
#include "num/range.h"

/* clang-format off */
static const tcr_picture_view *const VIEWS[] = {
    &tcr_picture_view_front,
    &tcr_picture_view_artist,
    &tcr_picture_view_side,
    &tcr_picture_view_deviations,
    &tcr_picture_view_layers,
    &tcr_picture_view_compare,
    &tcr_picture_view_film,
    &tcr_picture_view_why,
    &tcr_picture_view_lesson,
};
/* clang-format on */
enum { VIEWS_COUNT = sizeof VIEWS / sizeof *VIEWS };

size_t tcr_picture_views(void) { return VIEWS_COUNT; }

const char *tcr_picture_view_name(size_t i) { return i < VIEWS_COUNT ? VIEWS[i]->name : NULL; }

const char *tcr_picture_view_brief(size_t i) { return i < VIEWS_COUNT ? VIEWS[i]->brief : NULL; }

const tcr_picture_view *tcr_picture_view_find(const char *name) {
    for (int i = 0; name != NULL && i < VIEWS_COUNT; i++)
        if (strcmp(VIEWS[i]->name, name) == 0)
            return VIEWS[i];
    return NULL;
}

void tcr_picture_options_init(tcr_picture_options *options, size_t size) {
    const tcr_picture_options defaults = {.width_mm = TCR_SHEET_WIDTH,
                                          .dpi = 160,
                                          .lines = true,
                                          .staggered = true,
                                          .companion = true,
                                          .eye = {true, true},
                                          .seat = tcr_view_named(TCR_ARTIST),
                                          .at_u = 0.5,
                                          .frames = 24};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

static bool is_allowed(tcr_group group, const char *key, double value) {
    return tcr_field_validate(tcr_field_find(group, key), value, NULL) == TCR_OK;
}

tcr_status tcr_picture_take_options(const tcr_picture_options *given, tcr_picture_options *taken) {
    *taken = tcr_picture_options_default();
    const tcr_status status = tcr_options_take(taken, sizeof *taken, given);
    if (status != TCR_OK)
        return status;
    const bool good = tcr_within(taken->width_mm, 20, 2000) && tcr_within(taken->dpi, 10, 1200) &&
                      is_allowed(TCR_GROUP_LASH, "u", taken->at_u) && taken->frames >= 1 &&
                      taken->frames <= TCR_FRAMES_MAX && taken->frame >= 0 &&
                      taken->frame < taken->frames &&
                      (!taken->has_apart || tcr_within(taken->apart_mm, 0, 3));
    return good ? tcr_view_validate(&taken->seat, NULL) : TCR_E_RANGE;
}

tcr_status tcr_picture_take(const tcr_check *check, const tcr_picture_options *options,
                            tcr_picture *picture) {
    static const tcr_side portrait[TCR_SIDES] = {TCR_RIGHT, TCR_LEFT};
    *picture = (tcr_picture){.check = check};
    if (check == NULL)
        return TCR_E_ARGUMENT;
    picture->set = tcr_check_set(check);
    const tcr_status status = tcr_picture_take_options(options, &picture->options);
    const tcr_check *with = picture->options.with;
    for (int i = 0; i < TCR_SIDES; i++)
        if (picture->options.eye[portrait[i]] && tcr_check_eye(check, portrait[i]) != NULL &&
            (with == NULL || tcr_check_eye(with, portrait[i]) != NULL))
            picture->side[picture->eyes++] = portrait[i];
    tcr_side sides[TCR_SIDES] = {TCR_LEFT, TCR_LEFT};
    (void)tcr_set_eyes(picture->set, sides);
    picture->only = picture->side[picture->eyes == 1 || picture->side[0] == sides[0] ? 0 : 1];
    return status == TCR_OK && picture->eyes == 0 ? TCR_E_MISSING : status;
}

void tcr_step_picture_init(tcr_step_picture *step, size_t size) {
    static const tcr_step_picture DEFAULTS = {.side = TCR_LEFT};
    tcr_options_init(step, size, &DEFAULTS, sizeof DEFAULTS);
}

tcr_status tcr_picture_take_step(const tcr_set *set, const tcr_step_picture *step,
                                 const tcr_picture_options *options, tcr_picture *picture) {
    *picture = (tcr_picture){.set = set, .step = tcr_step_picture_default(), .eyes = 1};
    tcr_step_picture *taken = &picture->step;
    if (set == NULL || step == NULL || tcr_options_take(taken, sizeof *taken, step) != TCR_OK)
        return TCR_E_ARGUMENT;
    picture->side[0] = picture->only = taken->side;
    if (!tcr_set_has_eye(set, taken->side))
        return TCR_E_MISSING;
    if (taken->has_apart && !tcr_within(taken->apart_mm, 0, 3))
        return TCR_E_RANGE;
    if (taken->length_mm != 0 && !is_allowed(TCR_GROUP_EXTENSION, "length_mm", taken->length_mm))
        return TCR_E_RANGE;
    return tcr_picture_take_options(options, &picture->options);
}

tcr_status tcr_step_picture_draw(cairo_t *cr, const tcr_set *set, const tcr_step_picture *step,
                                 const tcr_picture_options *options, double *height_mm) {
    tcr_picture picture;
    tcr_status status = tcr_picture_take_step(set, step, options, &picture);
    if (status == TCR_OK && cr != NULL)
        status = tcr_picture_fill(&tcr_picture_view_step, cr, &picture);
    if (status == TCR_OK && height_mm != NULL)
        *height_mm = tcr_picture_height_mm(&picture);
    return status;
}

const char *tcr_picture_title(const tcr_picture *picture) {
    const tcr_chart *chart = picture->chart;
    if (chart != NULL)
        return chart->title != NULL ? chart->title : "";
    return tcr_set_title(picture->set);
}

double tcr_picture_height_mm(const tcr_picture *picture) {
    return picture->options.width_mm * TCR_SHEET_HEIGHT / TCR_SHEET_WIDTH;
}

tcr_status tcr_picture_fill(const tcr_picture_view *view, cairo_t *cr, const tcr_picture *picture) {
    const double unit = picture->options.width_mm / TCR_SHEET_WIDTH;
    tcr_canvas canvas;
    tcr_status status = tcr_canvas_begin(&canvas, cr, tcr_style_on(picture->options.dark));
    if (status != TCR_OK)
        return status;
    canvas.watcher = picture->watcher;
    cairo_scale(cr, unit, unit);
    tcr_sheet_ground(&canvas);
    status = view->draw(&canvas, picture);
    const tcr_status drawn = tcr_canvas_end(&canvas);
    return status == TCR_OK ? drawn : status;
}

tcr_status tcr_picture_draw(const char *view, cairo_t *cr, const tcr_check *check,
                            const tcr_picture_options *options, double *height_mm) {
    const tcr_picture_view *found = tcr_picture_view_find(view);
    tcr_picture picture;
    if (found == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_picture_take(check, options, &picture);
    if (status == TCR_OK && cr != NULL)
        status = tcr_picture_fill(found, cr, &picture);
    if (status == TCR_OK && height_mm != NULL)
        *height_mm = tcr_picture_height_mm(&picture);
    return status;
}
