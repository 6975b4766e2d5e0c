/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_VALID_H
#define TCR_MODEL_VALID_H

/*
 * Whether the numbers of a lash or an extension are within their ranges, quickly: every tip asks.
 * The table of fields says what is wrong (test_field.c holds the two together). No comparison waits
 * for another.
 */

#include <math.h>
#include <stdbool.h>

#include <tipcrest/extension.h>
#include <tipcrest/lash.h>

#include "model/field_table.h"
#include "num/range.h"

static inline bool tcr_lash_is_valid(const tcr_lash *l) {
    const double steep = TCR_GROWTH_MOST_DEG * TCR_DEG * TCR_JUST_INSIDE;
    bool valid = tcr_within(l->u, TCR_U_LEAST, TCR_U_MOST);
    valid &= tcr_within(l->height_mm, TCR_HEIGHT_RANGE);
    valid &= tcr_within(l->pitch_rad, -steep, steep);
    valid &= tcr_within(l->yaw_rad, -steep, steep);
    valid &= tcr_within_degrees(l->roll_rad, TCR_ROLL_RANGE);
    valid &= tcr_within(l->length_mm, TCR_LENGTH_RANGE);
    valid &= isnan(l->final_length_mm) || tcr_within(l->final_length_mm, TCR_FINAL_LENGTH_RANGE);
    valid &= tcr_within_degrees(l->turn_rad, TCR_TURN_RANGE);
    valid &= tcr_within(l->root_diameter_mm, TCR_ROOT_DIAMETER_RANGE);
    valid &= tcr_within(l->tip_diameter_mm, 0.0, l->root_diameter_mm);
    valid &= (unsigned)l->layer < TCR_LAYERS;
    valid &= (unsigned)l->condition < TCR_CONDITIONS;
    return valid;
}

/* All but its profile. */
static inline bool tcr_extension_is_in_range(const tcr_extension *e) {
    bool valid = tcr_within(e->length_mm, TCR_EXTENSION_LENGTH_RANGE);
    valid &= tcr_within(e->diameter_mm, TCR_EXTENSION_DIAMETER_RANGE);
    valid &= tcr_within(e->fan, TCR_FAN_RANGE);
    valid &= tcr_within_degrees(e->spread_rad, TCR_SPREAD_RANGE);
    valid &= (unsigned)e->placement < TCR_PLACEMENTS;
    return valid;
}

#endif
