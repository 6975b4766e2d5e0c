/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks, the lesson of the layering rule, and plans. */
#include "page.h"

#include <math.h>

/* ---- Looks ----------------------------------------------------------------------------------- */

const char *PAGE(page_look_name)(size_t look) {
    size_t count;
    const tcr_look *all = tcr_look_catalogue(&count);
    return look < count ? all[look].name : "";
}

const char *PAGE(page_look_about)(size_t look) {
    size_t count;
    const tcr_look *all = tcr_look_catalogue(&count);
    return look < count ? all[look].about : "";
}

/*
 * The map of a look: its number of zones, then where each ends and how long it is, by a tray of
 * lengths from one to another in steps. NULL where the tray lacks the longest.
 */
const double *PAGE(page_look)(size_t look, double longest_mm, double from_mm, double to_mm,
                              double step_mm) {
    size_t count;
    const tcr_look *all = tcr_look_catalogue(&count);
    double length[TCR_LOOK_ZONES_MAX], *out = page_numbers(1 + 2 * TCR_LOOK_ZONES_MAX);
    tcr_tray tray = {.count = 0};
    while (tray.count < TCR_TRAY_MAX && from_mm + step_mm * (double)tray.count <= to_mm + 1e-9) {
        tray.length_mm[tray.count] = from_mm + step_mm * (double)tray.count;
        tray.count++;
    }
    if (out == NULL || look >= count ||
        tcr_look_lengths(&all[look], longest_mm, &tray, length) != TCR_OK)
        return NULL;
    out[0] = (double)all[look].zones;
    for (size_t zone = 0; zone < all[look].zones; zone++) {
        out[1 + 2 * zone] = tcr_look_zone_end(zone, all[look].zones);
        out[2 + 2 * zone] = length[zone];
    }
    return out;
}

/* ---- The lesson ------------------------------------------------------------------------------ */

/*
 * How far off one line the tips lie in the view of the check, with layers so far apart: equal, 1 mm
 * less, 2 mm less, best.
 */
const double *PAGE(page_lesson)(int slot, int side, double apart_mm) {
    double *out = page_numbers(TCR_LESSON_CHOICES);
    tcr_lesson_place place = tcr_lesson_place_default();
    tcr_lesson lesson;
    place.has_apart = true;
    place.apart_mm = apart_mm;
    place.view = tcr_check_view(page_check(slot));
    if (out == NULL ||
        tcr_lesson_of(page_set(slot), (tcr_side)side, &place, 1, NULL, &lesson) != TCR_OK)
        return NULL;
    for (int choice = 0; choice < TCR_LESSON_CHOICES; choice++)
        out[choice] = lesson.rms_mm[choice];
    return out;
}

/* From where on 1 mm less a layer is nearer to one line than equal lengths, mm; NaN for nowhere. */
double PAGE(page_pays_from)(int slot, int side) {
    double apart_mm;
    const tcr_status status =
        tcr_lesson_pays_from(page_set(slot), (tcr_side)side, 1, false, &apart_mm);
    return status == TCR_OK ? apart_mm : NAN;
}

/* How far the layers root apart, mm: from bottom to middle, from middle to top, and their mean. */
const double *PAGE(page_apart)(int slot, int side) {
    double *out = page_numbers(3);
    tcr_layer_heights heights;
    if (out == NULL || tcr_layer_heights_of(page_set(slot), (tcr_side)side, &heights) != TCR_OK)
        return NULL;
    out[0] = heights.height_mm[TCR_MIDDLE] - heights.height_mm[TCR_BOTTOM];
    out[1] = heights.height_mm[TCR_TOP] - heights.height_mm[TCR_MIDDLE];
    out[2] = (heights.height_mm[TCR_TOP] - heights.height_mm[TCR_BOTTOM]) / 2;
    return out;
}

/* ---- Plans ----------------------------------------------------------------------------------- */

static tcr_plan *plan;

/* Plans the set of a slot as the command does by default. Returns the status. */
int PAGE(page_plan)(int slot, size_t samples) {
    tcr_plan_options options = tcr_plan_options_default();
    options.limits = tcr_set_file_plan_limits(page_file(slot));
    options.samples = samples;
    *page_fault() = tcr_error_none();
    tcr_plan_free(plan);
    plan = NULL;
    return tcr_plan_new(page_set(slot), &options, &plan, page_fault());
}

size_t PAGE(page_plan_cells)(void) { return plan != NULL ? tcr_plan_result_of(plan)->cells : 0; }

/* side, zone, layer, lashes, length, curl, diameter, fan, spread in degrees, placement, rms. */
const double *PAGE(page_plan_cell)(size_t i) {
    double *out = page_numbers(13);
    if (out == NULL || i >= page_plan_cells())
        return NULL;
    const tcr_plan_cell *cell = &tcr_plan_result_of(plan)->cell[i];
    const tcr_choice *choice = &cell->choice;
    const tcr_layering like = {.spread_rad = choice->spread_rad};
    const tcr_field *spread = tcr_field_find(TCR_GROUP_LAYERING, "spread_deg");
    const double all[] = {cell->side,           (double)cell->zone, cell->layer,
                          (double)cell->lashes, choice->length_mm,  (double)choice->curl,
                          choice->diameter_mm,  choice->fan,        tcr_field_value(spread, &like),
                          choice->placement,    cell->rms_mm};
    for (int k = 0; k < 11; k++)
        out[k] = all[k];
    return out;
}

/*
 * An eye over the samples of a plan: rms, 95th percentile, share within the tolerance, the same
 * with the size that each lash wants, the map's own rms and share; longest length asked for and
 * given; shares of lashes that want a shorter and a longer one; whether zones alone are planned;
 * shares of the map that are beyond the limits and not in the tray.
 */
const double *PAGE(page_plan_eye)(int side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
    double *out = page_numbers(13);
    if (eye == NULL || out == NULL)
        return NULL;
    const tcr_plan_over *over = &eye->over;
    const double all[] = {over->rms_mm,
                          over->p95_mm,
                          over->within_tolerance,
                          over->within_sized,
                          over->mapped_rms_mm,
                          over->mapped_within,
                          eye->reach.asked_mm,
                          eye->reach.given_mm,
                          over->wants[TCR_WANTS_SHORTER].share,
                          over->wants[TCR_WANTS_LONGER].share,
                          eye->zones_only,
                          over->mapped_beyond,
                          over->mapped_lacking};
    for (int k = 0; k < 13; k++)
        out[k] = all[k];
    return out;
}
