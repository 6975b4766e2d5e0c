/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of fields (model.md, sections 2 to 7 and 11; interface.md, the table of ranges). Ranges
 * and defaults stand here and nowhere else, in the unit of files; a range that several structs
 * share has one name.
 */
#include "model/field_table.h"

#include <math.h>

#include <tipcrest/describe.h>
#include <tipcrest/extension.h>
#include <tipcrest/lid.h>
#include <tipcrest/map.h>
#include <tipcrest/plan.h>
#include <tipcrest/view.h>

#include "model/names.h"
#include "num/range.h"

/* The slack lets through what a conversion from degrees may add in its last bits. */
#define SLACK_RAD 1e-12

/* A unit with range and default; NONE where there is no default. */
#define NONE NAN
#define NUMBER(unit_of, least, most, standard)                                                     \
    .unit = (unit_of), .file = {least, most, standard}, .core = {least, most, standard}
#define MM(...) NUMBER(TCR_UNIT_MM, __VA_ARGS__)
#define SHARE(...) NUMBER(TCR_UNIT_SHARE, __VA_ARGS__)
#define RATIO(...) NUMBER(TCR_UNIT_RATIO, __VA_ARGS__)
#define SECONDS(...) NUMBER(TCR_UNIT_SECONDS, __VA_ARGS__)
#define MINUTES(...) NUMBER(TCR_UNIT_MINUTES, __VA_ARGS__)
#define WHOLE(kind_of, ...) .kind = (kind_of), NUMBER(TCR_UNIT_COUNT, __VA_ARGS__)
#define DEGREES(...) ANGLE(__VA_ARGS__) /* the range may be one name */
#define ANGLE(least, most, standard)                                                               \
    .unit = TCR_UNIT_DEGREES, .file = {least, most, standard},                                     \
    .core = {(least)*TCR_DEG - SLACK_RAD, (most)*TCR_DEG + SLACK_RAD, (standard)*TCR_DEG}
/* Neither end, -most and most, is in the range. */
#define DEGREES_INSIDE(most, standard)                                                             \
    .unit = TCR_UNIT_DEGREES, .file = {-(most), most, standard},                                   \
    .core = {-(most)*TCR_DEG * TCR_JUST_INSIDE, (most)*TCR_DEG * TCR_JUST_INSIDE,                  \
             (standard)*TCR_DEG},                                                                  \
    .above = true, .below = true
#define LABEL .kind = TCR_KIND_LABEL, NUMBER(TCR_UNIT_NONE, NONE, NONE, NONE)
#define WORDS(list, standard)                                                                      \
    .kind = TCR_KIND_ENUM, .words = (list),                                                        \
    NUMBER(TCR_UNIT_NONE, 0, sizeof(list) / sizeof *(list)-1, standard)

/* The key, and the member where it has another name. */
#define AT(type, name) .key = #name, .member = #name, .offset = offsetof(type, name)
#define AS(type, name_in_files, name)                                                              \
    .key = (name_in_files), .member = #name, .offset = offsetof(type, name)

#define PUBLISHED(from) .source = TCR_SOURCE_PUBLISHED, .reference = (from)
#define TRADE .source = TCR_SOURCE_TRADE
#define ASSUMED .source = TCR_SOURCE_ASSUMED

static const char *const LAYERS[] = {TCR_LAYER_NAMES};
static const char *const CONDITIONS[] = {TCR_CONDITION_NAMES};
static const char *const PLACEMENTS[] = {TCR_PLACEMENT_NAMES};
static const char *const PHASES[] = {TCR_PHASES_NAMES};
static const char *const BOOLS[] = {TCR_BOOL_NAMES};

/* Ranges and defaults that several structs share. */
#define PITCH_STANDARD (-10)
#define YAW_STANDARD TCR_YAW_INNER_DEG
#define LENGTH_STANDARD 7.5
#define TURN TCR_TURN_RANGE, 60
#define ROLL TCR_ROLL_RANGE, 0
#define ROOT_DIAMETER TCR_ROOT_DIAMETER_RANGE, 0.08
#define TIP_DIAMETER TCR_TIP_DIAMETER_RANGE, TCR_TIP_DIAMETER_MM
#define BABY_BELOW 0, 20, 5
#define WEAK_BELOW 0, 0.2, 0.055

#define READ "Read 2006, 10.1097/01.opx.0000236811.78177.97"
#define RANA "Rana 2023"
#define SHIN "Shin 2025, 10.1371/journal.pone.0316714"
#define JAPANESE "a Japanese study, read in translation"
#define GLASER "Glaser 2014, 10.1097/DSS.0000000000000170"

static const tcr_field LID[] = {
    {AT(tcr_lid, fissure_width_mm), MM(15, 40, 27), PUBLISHED(READ), .bit = TCR_LID_FISSURE_WIDTH,
     .note = "straight from the inner to the outer corner"},
    {AS(tcr_lid, "canthal_tilt_deg", canthal_tilt_rad), DEGREES(-20, 20, 5),
     PUBLISHED("within the published range"), .bit = TCR_LID_CANTHAL_TILT,
     .note = "how far the line of the corners rises outwards"},
    {AT(tcr_lid, inner_corner_height_mm), MM(-5, 5, -1.5), ASSUMED,
     .bit = TCR_LID_INNER_CORNER_HEIGHT, .note = "inner corner above the middle of the pupil"},
    {AT(tcr_lid, mrd1_mm), MM(0, 8, 3.5), PUBLISHED(RANA), .bit = TCR_LID_MRD1,
     .note = "open: from the middle of the pupil up to the edge of the lid"},
    {AT(tcr_lid, mrd2_mm), MM(2, 10, 5.2), PUBLISHED(RANA), .bit = TCR_LID_MRD2,
     .note = "from there down to where the lids meet when they close"},
    {AT(tcr_lid, peak_offset_mm), MM(-6, 6, -0.938), PUBLISHED(SHIN), .bit = TCR_LID_PEAK_OFFSET,
     .note = "highest place of the lid over the line of the corners, from its middle outwards"},
    {AT(tcr_lid, fullness), NUMBER(TCR_UNIT_NONE, 0.8, 4, 1.6), ASSUMED, .bit = TCR_LID_FULLNESS,
     .note = "exponent of the lid's curve: 1 is a half ellipse, 2 a parabola"},
    {AT(tcr_lid, globe_radius_mm), MM(8, 16, 12), PUBLISHED("textbooks"),
     .bit = TCR_LID_GLOBE_RADIUS, .note = "radius of the eyeball"},
    /* Above half the width, too (lid.c); the least is half of the least width. */
    {AT(tcr_lid, lateral_semiaxis_mm), MM(7.5, 40, 16), ASSUMED, .bit = TCR_LID_LATERAL_SEMIAXIS,
     .note = "half width of the surface on which the lid slides"},
};

static const tcr_field LASH[] = {
    {AT(tcr_lash, u), NUMBER(TCR_UNIT_PLACE, TCR_U_LEAST, TCR_U_MOST, NONE),
     .note = "place along the lid, as a share of the width"},
    {AT(tcr_lash, layer), WORDS(LAYERS, NONE), .note = "bottom, middle or top"},
    {AT(tcr_lash, length_mm), MM(TCR_LENGTH_RANGE, LENGTH_STANDARD), PUBLISHED(JAPANESE),
     .bit = TCR_LASH_LENGTH, .note = "along its curl"},
    /* Of the bottom layer; a gap more for each layer up (lash.c). */
    {AT(tcr_lash, height_mm), MM(TCR_HEIGHT_RANGE, 0), TRADE, .bit = TCR_LASH_HEIGHT,
     .note = "of the root above the edge of the lid"},
    {AS(tcr_lash, "pitch_deg", pitch_rad), DEGREES_INSIDE(TCR_GROWTH_MOST_DEG, PITCH_STANDARD),
     ASSUMED, .bit = TCR_LASH_PITCH,
     .note = "how far it grows up, or with a minus down, from straight out of the lid"},
    /* At u = 0; at the outer corner more by the description's yaw_fan_deg (lash.c). */
    {AS(tcr_lash, "yaw_deg", yaw_rad), DEGREES_INSIDE(TCR_GROWTH_MOST_DEG, YAW_STANDARD), ASSUMED,
     .bit = TCR_LASH_YAW, .note = "how far it grows towards the outer corner"},
    {AS(tcr_lash, "roll_deg", roll_rad), DEGREES(ROLL), ASSUMED, .bit = TCR_LASH_ROLL,
     .note = "how far its curl leans to the outer corner"},
    {AS(tcr_lash, "turn_deg", turn_rad), DEGREES(TURN), ASSUMED, .bit = TCR_LASH_TURN,
     .note = "how far it curls from root to tip"},
    {AT(tcr_lash, final_length_mm), MM(TCR_FINAL_LENGTH_RANGE, NONE), .unknown = true,
     .bit = TCR_LASH_FINAL_LENGTH, .note = "full grown"},
    {AT(tcr_lash, root_diameter_mm), MM(ROOT_DIAMETER), ASSUMED, .bit = TCR_LASH_ROOT_DIAMETER,
     .note = "how thick it is at the root"},
    {AT(tcr_lash, tip_diameter_mm), MM(TIP_DIAMETER), ASSUMED, .bit = TCR_LASH_TIP_DIAMETER,
     .note = "how thick it is at the tip, at most as at the root"},
    {AT(tcr_lash, condition), WORDS(CONDITIONS, TCR_SUITABLE),
     .note = "only suitable lashes are given an extension by the map"},
};

static const tcr_field WISH[] = {
    {AT(tcr_wish, length_mm), MM(TCR_EXTENSION_LENGTH_RANGE, NONE), .bit = TCR_FIX_LENGTH,
     .note = "along the fibre"},
    {LABEL, AT(tcr_wish, curl), .bit = TCR_FIX_CURL, .note = "label of the curl"},
    {AT(tcr_wish, diameter_mm), MM(TCR_EXTENSION_DIAMETER_RANGE, NONE), .bit = TCR_FIX_DIAMETER,
     .note = "how thick a fibre is"},
    {AT(tcr_wish, placement), WORDS(PLACEMENTS, NONE), .bit = TCR_FIX_PLACEMENT,
     .note = "where the extension lies on its lash"},
    {AT(tcr_wish, fan), WHOLE(TCR_KIND_INT, TCR_FAN_RANGE, NONE), .bit = TCR_FIX_FAN,
     .note = "fibres on one base"},
    {AS(tcr_wish, "spread_deg", spread_rad), DEGREES(TCR_SPREAD_RANGE, NONE), .bit = TCR_FIX_SPREAD,
     .note = "how wide a fan opens"},
    {AT(tcr_wish, from_skin_mm), MM(0, 20, NONE), .bit = TCR_FIX_FROM_SKIN,
     .note = "from the skin to where its own glue begins; of a lash's row only"},
};

static const tcr_field EXTENSION[] = {
    {AT(tcr_extension, length_mm), MM(TCR_EXTENSION_LENGTH_RANGE, NONE), .note = "along the fibre"},
    {AT(tcr_extension, diameter_mm), MM(TCR_EXTENSION_DIAMETER_RANGE, NONE),
     .note = "how thick a fibre is"},
    {AT(tcr_extension, placement), WORDS(PLACEMENTS, NONE),
     .note = "where the extension lies on its lash"},
    {AT(tcr_extension, fan), WHOLE(TCR_KIND_INT, TCR_FAN_RANGE, NONE),
     .note = "fibres on one base"},
    {AS(tcr_extension, "spread_deg", spread_rad), DEGREES(TCR_SPREAD_RANGE, NONE),
     .note = "how wide a fan opens"},
};

static const tcr_field ZONE[] = {
    {AT(tcr_zone, to), NUMBER(TCR_UNIT_PLACE, 0, 1, NONE), .note = "where the zone ends"},
    {AT(tcr_zone, length_mm), MM(TCR_EXTENSION_LENGTH_RANGE, NONE), .note = "on the bottom layer"},
    {LABEL, AT(tcr_zone, curl), .note = "label of the curl"},
};

static const tcr_field LAYERING[] = {
    {AT(tcr_layering, step_mm), MM(0, 3, 1), TRADE, .note = "shorter by this for each layer up"},
    {AT(tcr_layering, diameter_mm), MM(TCR_EXTENSION_DIAMETER_RANGE, 0.15), TRADE,
     .note = "how thick a fibre is"},
    {AT(tcr_layering, fan), WHOLE(TCR_KIND_INT, TCR_FAN_RANGE, 1),
     .note = "fibres on one base; 1 is a single extension"},
    {AS(tcr_layering, "spread_deg", spread_rad), DEGREES(TCR_SPREAD_RANGE, 0),
     .note = "how wide a fan opens"},
    {.kind = TCR_KIND_BOOL,
     AT(tcr_layering, blend),
     NUMBER(TCR_UNIT_NONE, 0, 1, 0),
     .words = BOOLS,
     .note = "true: lengths change little by little from zone to zone; false: all at once, where "
             "a zone ends"},
};

#define PLACED(name, layer)                                                                        \
    .key = (name), .member = "placement", .offset = offsetof(tcr_layering, placement[(layer)]),    \
    WORDS(PLACEMENTS, TCR_ON_TOP), TRADE
static const tcr_field PLACEMENT[] = {
    {PLACED("bottom", TCR_BOTTOM), .note = "where the bottom layer lies"},
    {PLACED("middle", TCR_MIDDLE), .note = "where the middle layer lies"},
    {PLACED("top", TCR_TOP), .note = "where the top layer lies"},
};

static const tcr_field TRAY[] = {
    {.key = "lengths_mm",
     .member = "length_mm",
     .offset = offsetof(tcr_tray, length_mm),
     MM(TCR_EXTENSION_LENGTH_RANGE, NONE),
     ASSUMED,
     .note = "a length at hand"},
};

static const tcr_field BOND[] = {
    {AT(tcr_bond, offset_mm), MM(0, 3, 0.7), TRADE,
     .note = "from the skin to where the glue begins"},
    {AT(tcr_bond, length_mm), MM(1, 8, 3), TRADE, .note = "how far lash and extension are glued"},
    {AT(tcr_bond, glue_mm), MM(0, 0.2, 0.03), ASSUMED,
     .note = "how thick the glue between them is"},
};

static const tcr_field PIECE[] = {
    {.key = "share",
     .member = "share",
     .offset = offsetof(tcr_profile, share),
     SHARE(0, 1, NONE),
     .above = true,
     .note = "of the length"},
    {.key = "turn_deg",
     .member = "turn_rad",
     .offset = offsetof(tcr_profile, turn_rad),
     DEGREES(TCR_PIECE_TURN_LEAST_DEG, TCR_PIECE_TURN_MOST_DEG, NONE),
     .note = "how far it turns"},
};

static const tcr_field LINE[] = {
    {AT(tcr_line_rule, tolerance_mm), MM(0.05, 5, 0.5), ASSUMED,
     .note = "farther off the line than this, a tip is staggered"},
    {AT(tcr_line_rule, seen_from_mm), MM(60, 5700, NONE), .unknown = true,
     .note = "the viewer's distance, in place of the tolerance: 3 minutes of arc from there"},
    {.kind = TCR_KIND_BOOL,
     AT(tcr_line_rule, shared),
     NUMBER(TCR_UNIT_NONE, 0, 1, 1),
     .words = BOOLS,
     .note = "two eyes are held to one intended line"},
};

static const tcr_field VIEW[] = {
    {AT(tcr_view, opening), SHARE(0, 1, 1), .note = "of the eye: 1 is open, 0 is closed"},
    {AS(tcr_view, "viewer_deg", viewer_rad), DEGREES(-80, 80, 0),
     .note = "0: seen straight from the front; 60: from above"},
};

static const tcr_field DESCRIPTION[] = {
    {AT(tcr_description, count), WHOLE(TCR_KIND_SIZE, 1, 100000, 96), ASSUMED,
     .note = "lashes on this lid"},
    {.kind = TCR_KIND_UINT64,
     AT(tcr_description, seed),
     .unit = TCR_UNIT_COUNT,
     .file = {0, 9007199254740991.0, 1},     /* below 2^53: a file's number is then exact */
     .core = {0, 18446744073709551616.0, 1}, /* 2^64, of which no seed is larger */
     .note = "another number draws other lashes of the same kind"},
    {AT(tcr_description, phases), WORDS(PHASES, TCR_PHASES_A),
     .note = "A: as on a person, where some are still growing and one in three is too short to "
             "carry an extension; none: all are full grown, as on a practice head"},
    {AT(tcr_description, gap_mm), MM(0, 3, TCR_GAP_MM), TRADE,
     .note = "from one layer to the next"},
    {AT(tcr_description, height_sd_mm), MM(0, 1, 0.1), ASSUMED,
     .note = "by how much heights differ: two in three by less"},
    {AS(tcr_description, "pitch_deg", pitch_rad), DEGREES(-84, 84, PITCH_STANDARD), ASSUMED,
     .note = "how far it grows up, or with a minus down, from straight out of the lid"},
    {AS(tcr_description, "pitch_sd_deg", pitch_sd_rad), DEGREES(0, 20, 4), ASSUMED},
    {AS(tcr_description, "yaw_deg", yaw_rad), DEGREES(-84, 84, YAW_STANDARD), ASSUMED,
     .note = "how far it grows towards the outer corner, at the inner one"},
    {AS(tcr_description, "yaw_fan_deg", yaw_fan_rad), DEGREES(-168, 168, TCR_YAW_FAN_DEG), ASSUMED,
     .note = "how much more at the outer corner"},
    {AS(tcr_description, "yaw_sd_deg", yaw_sd_rad), DEGREES(0, 20, 4), ASSUMED},
    {AS(tcr_description, "roll_deg", roll_rad), DEGREES(ROLL), ASSUMED},
    {AS(tcr_description, "roll_sd_deg", roll_sd_rad), DEGREES(0, 20, 0), ASSUMED},
    {AT(tcr_description, length_mm), MM(1, 20, LENGTH_STANDARD), PUBLISHED(JAPANESE),
     .note = "of full-grown lashes in the middle of the lid"},
    {AT(tcr_description, length_sd_mm), MM(0, 3, 1), PUBLISHED(GLASER),
     .note = "by how much they differ: two in three by less"},
    {AT(tcr_description, length_inner_share), RATIO(0.1, 2, 0.7), ASSUMED,
     .note = "length at the inner corner, as a share of that in the middle"},
    {AT(tcr_description, length_outer_share), RATIO(0.1, 2, 0.9), ASSUMED,
     .note = "length at the outer corner"},
    {AS(tcr_description, "turn_deg", turn_rad), DEGREES(TURN), ASSUMED,
     .note = "how far a lash curls from root to tip"},
    {AS(tcr_description, "turn_sd_deg", turn_sd_rad), DEGREES(0, 40, 8), ASSUMED},
    {AT(tcr_description, root_diameter_mm), MM(ROOT_DIAMETER), ASSUMED},
    {AT(tcr_description, root_diameter_sd_mm), MM(0, 0.05, 0.01), ASSUMED},
    {AT(tcr_description, tip_diameter_mm), MM(TIP_DIAMETER), ASSUMED},
    {AT(tcr_description, stray_share), SHARE(0, 1, 0.02), ASSUMED,
     .note = "lashes that root above the top row"},
    {AT(tcr_description, stray_rise_mm), MM(0, 3, 1), ASSUMED, .note = "how far above it"},
    {AT(tcr_description, baby_below_mm), MM(BABY_BELOW), ASSUMED,
     .note = "shorter lashes are babies"},
    {AT(tcr_description, weak_below_mm), MM(WEAK_BELOW), ASSUMED,
     .note = "lashes with thinner roots are weak"},
};

/* A ratio of 1e6 is as good as no limit: the heaviest fan weighs less on the lightest lash that can
 * be bonded. */
static const tcr_field LIMITS[] = {
    {AT(tcr_limits, baby_below_mm), MM(BABY_BELOW), ASSUMED, .note = "shorter lashes stay bare"},
    {AT(tcr_limits, thin_below_mm), MM(WEAK_BELOW), ASSUMED, .note = "thinner ones too"},
    {AT(tcr_limits, stray_above_mm), MM(TCR_HEIGHT_RANGE, 3), ASSUMED,
     .note = "those that root higher above the lid's edge too"},
    {AS(tcr_limits, "out_of_fan_deg", out_of_fan_rad), DEGREES(0, 90, 25), ASSUMED,
     .note = "and those that point farther than this out of the fan"},
    {AT(tcr_limits, overlength_mm), MM(0, 30, 5), ASSUMED,
     .note = "an extension is at most this much longer than its lash"},
    {AT(tcr_limits, mass_ratio), RATIO(0.1, 1e6, 10), ASSUMED,
     .note = "and at most this many times as heavy"},
    {AT(tcr_limits, moment_ratio), RATIO(0.1, 1e6, 20), ASSUMED,
     .note = "and the root bears at most this many times its own turning force"},
};

static const tcr_field PACE[] = {
    {AT(tcr_plan_pace, setting_s), SECONDS(0, 3600, 120), ASSUMED,
     .note = "seconds that glue stays soft"},
    {AT(tcr_plan_pace, distance_mm), MM(0.01, 50, 2), ASSUMED,
     .note = "distance of the next lash from soft glue, at least"},
    {AT(tcr_plan_pace, lash_s), SECONDS(0.1, 3600, 45), TRADE, .note = "seconds for a lash"},
    {AT(tcr_plan_pace, change_s), SECONDS(0, 3600, 5), ASSUMED,
     .note = "seconds for another row of the tray"},
    {AT(tcr_plan_pace, eye_change_s), SECONDS(0, 3600, 20), ASSUMED,
     .note = "seconds to go on to the other eye"},
    {AT(tcr_plan_pace, preparation_min), MINUTES(0, 1440, 20), ASSUMED,
     .note = "minutes before the first lash"},
    {AT(tcr_plan_pace, loss_share), SHARE(0, 1, 0.1), ASSUMED,
     .note = "fibres lost, as a share: 0.1 is a tenth"},
    {AT(tcr_plan_pace, drop_min), MINUTES(0.1, 1440, 20), TRADE,
     .note = "minutes that a drop of glue serves"},
};

enum { MEAN_FROM = 2, MEAN_COUNT = 9 }; /* all of LASH but u, layer and condition */

#define ALL_OF(table)                                                                              \
    { (table), sizeof(table) / sizeof *(table), TCR_NO_BITS }

const tcr_group_fields tcr_groups[TCR_GROUPS] = {
    [TCR_GROUP_LID] = ALL_OF(LID),
    [TCR_GROUP_LASH] = ALL_OF(LASH),
    [TCR_GROUP_MEAN_LASH] = {&LASH[MEAN_FROM], MEAN_COUNT, TCR_NO_BITS},
    [TCR_GROUP_WISH] = {WISH, sizeof WISH / sizeof *WISH, offsetof(tcr_wish, fixed)},
    [TCR_GROUP_EXTENSION] = ALL_OF(EXTENSION),
    [TCR_GROUP_ZONE] = ALL_OF(ZONE),
    [TCR_GROUP_LAYERING] = ALL_OF(LAYERING),
    [TCR_GROUP_PLACEMENT] = ALL_OF(PLACEMENT),
    [TCR_GROUP_TRAY] = ALL_OF(TRAY),
    [TCR_GROUP_BOND] = ALL_OF(BOND),
    [TCR_GROUP_PIECE] = ALL_OF(PIECE),
    [TCR_GROUP_LINE] = ALL_OF(LINE),
    [TCR_GROUP_VIEW] = ALL_OF(VIEW),
    [TCR_GROUP_DESCRIPTION] = ALL_OF(DESCRIPTION),
    [TCR_GROUP_LIMITS] = ALL_OF(LIMITS),
    [TCR_GROUP_PACE] = ALL_OF(PACE),
};
