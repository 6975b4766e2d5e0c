/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which level steps a report asks for, and what it has to know beside them. */
#include "file/report_step.h"

#include <math.h>
#include <tipcrest/mean.h>

#include "num/options.h"
#include "num/range.h"

/* Bottom lengths of the report, and the one that stands for them where one is enough. */
static const double FIRST_MM = 8.0, SHOWN_MM = 12.0;
enum { LENGTHS = 8 };
static const char SHOWN_CURL[] = "C"; /* in the catalogue, so in every set */

const tcr_step_placements tcr_step_beside = {{TCR_OUTER_SIDE, TCR_OUTER_SIDE, TCR_OUTER_SIDE}};
const tcr_step_placements tcr_step_taught = {TCR_USUAL_PLACEMENT};

void tcr_step_report_options_init(tcr_step_report_options *options, size_t size) {
    static const tcr_step_report_options DEFAULTS = {.curl = NULL};
    tcr_options_init(options, size, &DEFAULTS, sizeof DEFAULTS);
}

/* What map and layering give the layers at the pupil. */
static void take_map(tcr_step_range *range) {
    const double pupil_u = 0.5;
    size_t zones;
    const tcr_zone *zone = tcr_set_intended(range->set, range->side, &zones);
    if (zone == NULL)
        zone = tcr_set_map(range->set, range->side, &zones);
    if (zone == NULL)
        return;
    while (zones > 1 && !(pupil_u < zone->to)) {
        zone++;
        zones--;
    }
    const tcr_wish *bottom = &zone->layer[TCR_BOTTOM];
    range->map_mm = range->shown_mm =
        bottom->fixed & TCR_FIX_LENGTH ? bottom->length_mm : zone->length_mm;
    (void)tcr_set_find_curl(range->set, bottom->fixed & TCR_FIX_CURL ? bottom->curl : zone->curl,
                            &range->shown_curl);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        range->shown.layer[layer] = zone->layer[layer].fixed & TCR_FIX_PLACEMENT
                                        ? zone->layer[layer].placement
                                        : tcr_set_layering(range->set)->placement[layer];
}

static tcr_status take_heights(const tcr_step_report_options *options, tcr_step_range *range) {
    (void)tcr_layer_heights_of(range->set, range->side, &range->heights); /* the eye is there */
    range->has_apart = options->has_apart;
    range->apart_mm = options->apart_mm;
    if (!range->has_apart)
        return TCR_OK;
    if (!tcr_within(range->apart_mm, 0.0, 3.0))
        return TCR_E_RANGE;
    range->heights = tcr_layer_heights_apart(&range->heights, range->apart_mm);
    return TCR_OK;
}

static tcr_status choose(const tcr_step_report_options *options, tcr_step_range *range) {
    if (options->has_side)
        range->side = options->side;
    if (!tcr_set_has_eye(range->set, range->side))
        return TCR_E_MISSING;
    take_map(range);
    const tcr_status status = take_heights(options, range);
    if (status != TCR_OK)
        return status;
    const size_t curl = range->shown_curl;
    const double map_mm = range->shown_mm;
    if (options->curl != NULL) {
        if (tcr_set_find_curl(range->set, options->curl, &range->shown_curl) != TCR_OK)
            return TCR_E_CURL;
        range->first_curl = range->shown_curl;
        range->curls = 1;
    }
    if (options->length_mm != 0.0) {
        const tcr_field *length = tcr_field_find(TCR_GROUP_EXTENSION, "length_mm");
        if (tcr_field_validate(length, options->length_mm, NULL) != TCR_OK)
            return TCR_E_RANGE;
        range->first_mm = range->shown_mm = options->length_mm;
        range->lengths = 1;
    }
    range->asked = range->shown_curl != curl || range->shown_mm != map_mm;
    return TCR_OK;
}

tcr_status tcr_step_range_of(const tcr_set *set, const tcr_step_report_options *options,
                             tcr_step_range *range) {
    tcr_step_report_options o = tcr_step_report_options_default();
    if (set == NULL || tcr_options_take(&o, sizeof o, options) != TCR_OK)
        return TCR_E_ARGUMENT;
    tcr_side sides[TCR_SIDES];
    if (tcr_set_eyes(set, sides) == 0)
        return TCR_E_MISSING;
    *range = (tcr_step_range){
        .set = set,
        .side = sides[0],
        .curls = tcr_set_curl_count(set),
        .first_mm = FIRST_MM,
        .lengths = LENGTHS,
        .shown_mm = SHOWN_MM,
        .map_mm = NAN,
        .shown = tcr_step_taught,
        .full = o.full,
        .progress = o.progress,
    };
    (void)tcr_set_find_curl(set, SHOWN_CURL, &range->shown_curl);
    return choose(&o, range);
}

/* Of one curl and length; the last is taught. */
enum { PLACED = TCR_PLACEMENTS * TCR_PLACEMENTS + 1 };

size_t tcr_step_row_count(const tcr_step_range *range) {
    return range->curls * (size_t)range->lengths * PLACED;
}

tcr_step_row tcr_step_row_at(const tcr_step_range *range, size_t i) {
    const size_t placed = i % PLACED, at = i / PLACED, lengths = (size_t)range->lengths;
    const tcr_placement bottom = (tcr_placement)(placed / TCR_PLACEMENTS);
    const tcr_placement upper = (tcr_placement)(placed % TCR_PLACEMENTS);
    return (tcr_step_row){
        .curl = range->first_curl + at / lengths,
        .length_mm = range->first_mm + (double)(at % lengths),
        .placements =
            placed == PLACED - 1 ? tcr_step_taught : (tcr_step_placements){{bottom, upper, upper}},
    };
}

static tcr_step_question question_of(const tcr_step_range *range, size_t curl, double length_mm,
                                     const tcr_step_placements *placements) {
    return (tcr_step_question){
        .side = range->side,
        .curl = curl,
        .bottom_length_mm = length_mm,
        .bottom = placements->layer[TCR_BOTTOM],
        .middle = placements->layer[TCR_MIDDLE],
        .top = placements->layer[TCR_TOP],
        .has_apart = range->has_apart,
        .apart_mm = range->apart_mm,
    };
}

tcr_step tcr_step_answer(const tcr_step_range *range, size_t curl, double length_mm,
                         const tcr_step_placements *placements) {
    const tcr_step_question question = question_of(range, curl, length_mm, placements);
    tcr_step step = {.status = {TCR_OK}};
    const tcr_status status = tcr_step_of(range->set, &question, &step);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (status != TCR_OK) {
            step.status[i] = status;
            step.length_mm[i] = step.step_mm[i] = NAN;
        }
        if (status != TCR_OK || !isfinite(step.left_over_mm[i]))
            step.tray_mm[i] = step.left_over_mm[i] = step.shows_from_mm[i] = NAN;
    }
    return step;
}

tcr_status tcr_step_shown_sensitivity(const tcr_step_range *range, tcr_sensitivity *sensitivity) {
    const tcr_step_question question =
        question_of(range, range->shown_curl, range->shown_mm, &tcr_step_beside);
    return tcr_step_sensitivity(range->set, &question, sensitivity);
}

tcr_status tcr_step_shown_reason(const tcr_step_range *range, tcr_step_reason *reason) {
    const tcr_step_question question =
        question_of(range, range->shown_curl, range->shown_mm, &range->shown);
    return tcr_step_reason_of(range->set, &question, reason);
}

/* How far a unit of a survey's column moves the tip, mm; NaN where that is not known. */
static double per_unit(const tcr_sensitivity *sensitivity, unsigned field) {
    if (sensitivity == NULL)
        return NAN;
    switch (field) {
    case TCR_LASH_HEIGHT:
        return fabs(sensitivity->per_height);
    case TCR_LASH_PITCH:
        return fabs(sensitivity->per_pitch) * TCR_DEG;
    case TCR_LASH_LENGTH:
        return fabs(sensitivity->per_natural);
    case TCR_LASH_TURN:
        return fabs(sensitivity->per_turn) * TCR_DEG;
    default:
        return NAN;
    }
}

size_t tcr_step_assumed(const tcr_step_range *range, const tcr_sensitivity *sensitivity,
                        tcr_assumed assumed[TCR_LASH_BITS]) {
    tcr_mean_lash mean = {.assumed = 0};
    (void)tcr_mean_lash_of(range->set, range->side, &mean); /* the eye is there */
    const unsigned fields = mean.assumed;
    size_t count = 0;
    for (unsigned bit = 1; bit < TCR_LASH_ALL; bit <<= 1)
        if (fields & bit)
            assumed[count++] = (tcr_assumed){tcr_lash_field(bit), 1, 1, per_unit(sensitivity, bit)};
    return count;
}
