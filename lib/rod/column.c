/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of quantities of a check, and the columns and rows that are read by it. */
#include <tipcrest/column.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/load.h>

#include "line/check_data.h"
#include "line/verdict.h"
#include "model/member.h"
#include "model/names.h"
#include "num/range.h"

/* The object whose member a quantity is. */
enum { FROM_LASH, FROM_RESULT, FROM_LOAD, FROM_WEIGHT, FROM_EYE };

/* When there is such a number. */
enum { ALWAYS, EXTENDED, STAGGERED, WITH_TRAY, FITTED, INTENDED };

static const char *const LAYERS[] = {TCR_LAYER_NAMES};
static const char *const CONDITIONS[] = {TCR_CONDITION_NAMES};
static const char *const PLACEMENTS[] = {TCR_PLACEMENT_NAMES};
static const char *const VERDICTS[] = {TCR_VERDICT_NAMES};
static const char *const FLAGS[] = {TCR_BOOL_NAMES};

/* NOLINTBEGIN(bugprone-macro-parentheses): names of members take none. */
#define LASH(member) FROM_LASH, ALWAYS, offsetof(tcr_lash, member)
#define RESULT(when, member) FROM_RESULT, when, offsetof(tcr_lash_result, member)
#define LOAD(member) FROM_LOAD, EXTENDED, offsetof(tcr_load, member)
#define WEIGHT(member) FROM_WEIGHT, EXTENDED, offsetof(tcr_weight, member)
#define EYE(when, member) FROM_EYE, when, offsetof(tcr_eye_result, member)

/* Of a lash: a number in both reports, a word, a number of the JSON report, one of columns alone.
 */
#define NUMBER(name, json, unit, where, note)                                                      \
    { name, json, TCR_OWNER_LASH, TCR_KIND_DOUBLE, unit, 0, true, NULL, note, where }
#define KIND(name, json, kind, unit, words, where, note)                                           \
    { name, json, TCR_OWNER_LASH, kind, unit, 0, true, words, note, where }
#define MORE(name, json, kind, unit, part, where, note)                                            \
    { name, json, TCR_OWNER_LASH, kind, unit, part, false, NULL, note, where }

/* Of an eye. */
#define OF_EYE(name, json, owner, kind, unit, part, where, note)                                   \
    { name, json, owner, kind, unit, part, false, NULL, note, where }
#define OFFSETS(prefix, owner, part, when, member)                                                 \
    OF_EYE(prefix ".layer_offset_mm.bottom", prefix ".layer_offset_mm.bottom", owner,              \
           TCR_KIND_DOUBLE, TCR_UNIT_MM, part, EYE(when, member[TCR_BOTTOM]),                      \
           "Mean deviation of the bottom layer's tips, mm"),                                       \
        OF_EYE(prefix ".layer_offset_mm.middle", prefix ".layer_offset_mm.middle", owner,          \
               TCR_KIND_DOUBLE, TCR_UNIT_MM, part, EYE(when, member[TCR_MIDDLE]),                  \
               "Mean deviation of the middle layer's tips, mm"),                                   \
        OF_EYE(prefix ".layer_offset_mm.top", prefix ".layer_offset_mm.top", owner,                \
               TCR_KIND_DOUBLE, TCR_UNIT_MM, part, EYE(when, member[TCR_TOP]),                     \
               "Mean deviation of the top layer's tips, mm")

/* How tips lie about a line: upright as in the reports, and across for columns. */
#define EVENNESS(line, owner, part, when, member)                                                  \
    OF_EYE(line ".lashes", line ".lashes", owner, TCR_KIND_SIZE, TCR_UNIT_COUNT, part,             \
           EYE(when, member.lashes), "Lashes that carry an extension and so were measured"),       \
        OF_EYE(line ".rms_mm", line ".rms_mm", owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,          \
               EYE(when, member.upright.rms_mm), "Root mean square deviation, mm"),                \
        OF_EYE(line ".mean_abs_mm", line ".mean_abs_mm", owner, TCR_KIND_DOUBLE, TCR_UNIT_MM,      \
               part, EYE(when, member.upright.mean_abs_mm), "Mean absolute deviation, mm"),        \
        OF_EYE(line ".p95_abs_mm", line ".p95_abs_mm", owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,  \
               EYE(when, member.upright.p95_abs_mm),                                               \
               "95 % of the absolute deviations are at most this, mm (quantile of type 7)"),       \
        OF_EYE(line ".max_abs_mm", line ".max_abs_mm", owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,  \
               EYE(when, member.upright.max_abs_mm), "Largest absolute deviation, mm"),            \
        OF_EYE(line ".tolerance_mm", line ".tolerance_mm", owner, TCR_KIND_DOUBLE, TCR_UNIT_MM,    \
               part, EYE(when, member.tolerance_mm),                                               \
               "The tolerance, mm; a lash that is further off is staggered"),                      \
        OF_EYE(line ".within_tolerance", line ".within_tolerance", owner, TCR_KIND_DOUBLE,         \
               TCR_UNIT_SHARE, part, EYE(when, member.within_tolerance),                           \
               "Share of the lashes within the tolerance, 0 to 1"),                                \
        OFFSETS(line, owner, part, when, member.layer_offset_mm),                                  \
        OF_EYE(line ".across_rms_mm", NULL, owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,             \
               EYE(when, member.across.rms_mm),                                                    \
               "Root mean square deviation at right angles to the line, mm"),                      \
        OF_EYE(line ".across_mean_abs_mm", NULL, owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,        \
               EYE(when, member.across.mean_abs_mm),                                               \
               "Mean absolute deviation at right angles to the line, mm"),                         \
        OF_EYE(line ".across_p95_abs_mm", NULL, owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,         \
               EYE(when, member.across.p95_abs_mm),                                                \
               "95th percentile of the absolute deviations at right angles to the line, mm"),      \
        OF_EYE(line ".across_max_abs_mm", NULL, owner, TCR_KIND_DOUBLE, TCR_UNIT_MM, part,         \
               EYE(when, member.across.max_abs_mm),                                                \
               "Largest absolute deviation at right angles to the line, mm")

#define SHOWS_FROM(prefix, view, layer, index)                                                     \
    OF_EYE(prefix ".shows_from_mm." layer, prefix ".shows_from_mm." layer, TCR_OWNER_VIEW,         \
           TCR_KIND_DOUBLE, TCR_UNIT_MM, TCR_PART_VIEWS,                                           \
           EYE(ALWAYS, view_shows_from_mm[view][index]),                                           \
           "Distance from nearer than which the offset of the " layer                              \
           " layer shows, by contour noise in the laboratory, mm")

#define VIEW(name, view)                                                                           \
    OFFSETS("views." name, TCR_OWNER_VIEW, TCR_PART_VIEWS, ALWAYS, view_offset_mm[view]),          \
        SHOWS_FROM("views." name, view, "bottom", TCR_BOTTOM),                                     \
        SHOWS_FROM("views." name, view, "middle", TCR_MIDDLE),                                     \
        SHOWS_FROM("views." name, view, "top", TCR_TOP)

/* NOLINTEND(bugprone-macro-parentheses) */

static const tcr_quantity TABLE[] = {
    KIND("layer", "layer", TCR_KIND_ENUM, TCR_UNIT_NONE, LAYERS, LASH(layer),
         "The layer in which it roots"),
    NUMBER("u", "u", TCR_UNIT_PLACE, LASH(u),
           "Place along the lid's margin: share of the eye's width from the inner corner"),
    KIND("condition", "condition", TCR_KIND_ENUM, TCR_UNIT_NONE, CONDITIONS, LASH(condition),
         "What state the lash is in; only suitable ones get an extension by the map"),
    NUMBER("ext_length_mm", "extension.length_mm", TCR_UNIT_MM, RESULT(EXTENDED, choice.length_mm),
           "Length along the fibre, mm"),
    KIND("ext_curl", "extension.curl", TCR_KIND_LABEL, TCR_UNIT_NONE, NULL,
         RESULT(EXTENDED, choice.curl), "Label of the curl"),
    NUMBER("ext_diameter_mm", "extension.diameter_mm", TCR_UNIT_MM,
           RESULT(EXTENDED, choice.diameter_mm), "Diameter of one fibre, mm"),
    KIND("ext_placement", "extension.placement", TCR_KIND_ENUM, TCR_UNIT_NONE, PLACEMENTS,
         RESULT(EXTENDED, choice.placement), "Where on the lash it is glued"),
    KIND("ext_fan", "extension.fan", TCR_KIND_INT, TCR_UNIT_COUNT, NULL,
         RESULT(EXTENDED, choice.fan), "Fibres of one base"),
    NUMBER("ext_spread_deg", "extension.spread_deg", TCR_UNIT_DEGREES,
           RESULT(EXTENDED, choice.spread_rad), "Angle over the whole fan, degrees"),
    NUMBER("root_x_mm", "root_mm[0]", TCR_UNIT_MM, RESULT(ALWAYS, stance.root.x),
           "Where it roots: x, mm, in the eye's own frame at the opening of the check"),
    NUMBER("root_y_mm", "root_mm[1]", TCR_UNIT_MM, RESULT(ALWAYS, stance.root.y),
           "Where it roots: y, mm, in the eye's own frame at the opening of the check"),
    NUMBER("root_z_mm", "root_mm[2]", TCR_UNIT_MM, RESULT(ALWAYS, stance.root.z),
           "Where it roots: z, mm, in the eye's own frame at the opening of the check"),
    NUMBER("tip_x_mm", "tip_mm[0]", TCR_UNIT_MM, RESULT(ALWAYS, tip.x),
           "The tip of the extension, or the lash's own where it is bare: x, mm"),
    NUMBER("tip_y_mm", "tip_mm[1]", TCR_UNIT_MM, RESULT(ALWAYS, tip.y),
           "The tip of the extension, or the lash's own where it is bare: y, mm"),
    NUMBER("tip_z_mm", "tip_mm[2]", TCR_UNIT_MM, RESULT(ALWAYS, tip.z),
           "The tip of the extension, or the lash's own where it is bare: z, mm"),
    NUMBER("line_mm", "line_mm", TCR_UNIT_MM, RESULT(EXTENDED, line_mm),
           "Height of the line where the tip is seen, mm"),
    NUMBER("deviation_mm", "deviation_mm", TCR_UNIT_MM, RESULT(EXTENDED, deviation_mm),
           "Height of the tip above the line, as seen, mm"),
    NUMBER("across_mm", "across_mm", TCR_UNIT_MM, RESULT(EXTENDED, across_mm),
           "The deviation at right angles to the line, mm"),
    KIND("staggered", "staggered", TCR_KIND_BOOL, TCR_UNIT_NONE, FLAGS, RESULT(ALWAYS, staggered),
         "Whether the deviation is beyond the tolerance"),
    MORE("remedy_length_mm", "remedy.length_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, TCR_PART_REMEDIES,
         RESULT(STAGGERED, remedy.length_mm), "That length, mm"),
    MORE("remedy_deviation_mm", "remedy.deviation_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM,
         TCR_PART_REMEDIES, RESULT(STAGGERED, remedy.deviation_mm),
         "The deviation that is then left, mm"),
    MORE("remedy_sizes", "remedy.sizes", TCR_KIND_INT, TCR_UNIT_COUNT, TCR_PART_REMEDIES,
         RESULT(WITH_TRAY, remedy.sizes),
         "Steps of the tray from the present length, negative shorter"),
    MORE("extension_mass_mg", "load.extension_mass_mg", TCR_KIND_DOUBLE, TCR_UNIT_MG,
         TCR_PART_LOADS, LOAD(extension_mass_mg), "Mass of all fibres of the extension, mg"),
    MORE("natural_mass_mg", "load.natural_mass_mg", TCR_KIND_DOUBLE, TCR_UNIT_MG, TCR_PART_LOADS,
         LOAD(natural_mass_mg), "Mass of the lash itself, mg"),
    MORE("mass_ratio", "load.mass_ratio", TCR_KIND_DOUBLE, TCR_UNIT_RATIO, TCR_PART_LOADS,
         LOAD(mass_ratio), "Mass of the extension over that of the lash, without unit"),
    MORE("root_moment_uNmm", "load.root_moment_uNmm", TCR_KIND_DOUBLE, TCR_UNIT_UNMM,
         TCR_PART_LOADS, LOAD(root_moment_uNmm),
         "Moment of both weights about the root, client sitting, micronewton-millimetres"),
    MORE("natural_moment_uNmm", "load.natural_moment_uNmm", TCR_KIND_DOUBLE, TCR_UNIT_UNMM,
         TCR_PART_LOADS, LOAD(natural_moment_uNmm),
         "Moment of the lash's own weight about the root, client sitting, "
         "micronewton-millimetres"),
    MORE("moment_ratio", "load.moment_ratio", TCR_KIND_DOUBLE, TCR_UNIT_RATIO, TCR_PART_LOADS,
         LOAD(moment_ratio), "root_moment_uNmm over natural_moment_uNmm, without unit"),
    MORE("droop_mm", "load.droop_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, 0, WEIGHT(droop_mm),
         "How far the tip sinks under the weight, as seen, client sitting, lash held rigidly, mm; "
         "negative: it rises. No tip of this report has it."),
    MORE("shift_mm", "load.shift_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, 0, WEIGHT(shift_length_mm),
         "How far the tip moves in space under the weight, mm"),
    MORE("droop_thicker_mm", "load.droop_thicker_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, 0,
         WEIGHT(droop_thicker_mm),
         "droop_mm with the root 0.01 mm thicker, in proportion for a young lash, mm"),
    MORE("droop_thinner_mm", "load.droop_thinner_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, 0,
         WEIGHT(droop_thinner_mm),
         "droop_mm with the root as much thinner, but no thinner than its tip, mm"),
    MORE("droop_blink_mm", "load.droop_blink_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, 0,
         WEIGHT(droop_blink_mm),
         "Three times droop_mm: what a blink may do, size only, assumed, mm"),
    MORE("droop_what_if_mm", "load.droop_what_if_mm", TCR_KIND_DOUBLE, TCR_UNIT_MM, 0,
         WEIGHT(droop_what_if_mm),
         "What-if: droop_mm if the skin held the lash with 1000 micronewton-millimetres per "
         "radian, mm"),
    {"linear", "load.linear", TCR_OWNER_LASH, TCR_KIND_BOOL, TCR_UNIT_NONE, 0, false, FLAGS,
     "Whether the largest of these droops is below a twentieth of the extension's length, so that "
     "linear theory holds",
     WEIGHT(is_linear)},
    MORE("seen_x_mm", NULL, TCR_KIND_DOUBLE, TCR_UNIT_MM, 0, RESULT(ALWAYS, seen.x),
         "The tip in the view of the check, across, mm"),
    MORE("seen_y_mm", NULL, TCR_KIND_DOUBLE, TCR_UNIT_MM, 0, RESULT(ALWAYS, seen.y),
         "The tip in the view of the check, up, mm"),
    MORE("status", NULL, TCR_KIND_INT, TCR_UNIT_NONE, 0, RESULT(ALWAYS, status),
         "0 for a lash with an extension, else the status that says why it is bare"),
    MORE("bond_mm", NULL, TCR_KIND_DOUBLE, TCR_UNIT_MM, 0, RESULT(EXTENDED, attachment.bond_mm),
         "Length of the bond, mm"),

    EVENNESS("fitted", TCR_OWNER_FITTED, TCR_PART_FITTED, FITTED, fitted),
    EVENNESS("intended", TCR_OWNER_INTENDED, TCR_PART_INTENDED, INTENDED, intended),
    OF_EYE("lashes", NULL, TCR_OWNER_EYE, TCR_KIND_SIZE, TCR_UNIT_COUNT, 0, EYE(ALWAYS, lashes),
           "Lashes in all"),
    OF_EYE("extended", NULL, TCR_OWNER_EYE, TCR_KIND_SIZE, TCR_UNIT_COUNT, 0, EYE(ALWAYS, extended),
           "Lashes that carry an extension"),
    OF_EYE("staggered_lashes", NULL, TCR_OWNER_EYE, TCR_KIND_SIZE, TCR_UNIT_COUNT, 0,
           EYE(ALWAYS, staggered), "Lashes beyond the tolerance from the line of the check"),
    OF_EYE("largest_gap_mm", "largest_gap_mm", TCR_OWNER_EYE, TCR_KIND_DOUBLE, TCR_UNIT_MM, 0,
           EYE(ALWAYS, largest_gap_mm), "Largest step in x between neighbouring tips, mm"),
    {"too_few", "too_few", TCR_OWNER_EYE, TCR_KIND_BOOL, TCR_UNIT_NONE, 0, false, FLAGS,
     "Whether fewer than 12 lashes carry an extension: too few to judge", EYE(ALWAYS, too_few)},
    {"verdict", "verdict", TCR_OWNER_EYE, TCR_KIND_ENUM, TCR_UNIT_NONE, 0, false, VERDICTS,
     "How even the tips are in a word: 95 % within the tolerance even, 80 % mostly even, fewer "
     "uneven; a convention, common practice without a source",
     EYE(ALWAYS, verdict)},
    VIEW("open_front", TCR_OPEN_FRONT),
    VIEW("closed_front", TCR_CLOSED_FRONT),
    VIEW("artist", TCR_ARTIST),
};
enum { COUNT = sizeof TABLE / sizeof *TABLE };

const tcr_quantity *tcr_quantities(size_t *count) {
    if (count != NULL)
        *count = COUNT;
    return TABLE;
}

const tcr_quantity *tcr_quantity_find(const char *name) {
    for (size_t i = 0; name != NULL && i < COUNT; i++)
        if (strcmp(TABLE[i].name, name) == 0)
            return &TABLE[i];
    return NULL;
}

/* A lash of a check, or its eye, whose quantities are read. */
typedef struct place {
    const tcr_check *check;
    const tcr_eye_result *eye;
    const tcr_lash_result *result; /* NULL: the eye itself */
    size_t lash;
    bool has_load, has_weight;
    tcr_load load;
    tcr_weight weight;
} place;

static bool is_there(const place *at, const tcr_quantity *q) {
    if (q->part == TCR_PART_LOADS)
        return at->result != NULL &&
               (tcr_check_keeps_loads(at->check) || at->result->status == TCR_OK);
    if (q->part != 0 && !(tcr_check_parts(at->check) & q->part))
        return false;
    switch (q->when) {
    case EXTENDED:
        return at->result != NULL && at->result->status == TCR_OK;
    case STAGGERED:
        return at->result != NULL && at->result->staggered;
    case WITH_TRAY:
        return at->result != NULL && at->result->staggered &&
               tcr_set_tray(tcr_check_set(at->check))->count > 0;
    case FITTED:
        return at->eye->fitted_status == TCR_OK;
    case INTENDED:
        return at->eye->intended_status == TCR_OK;
    default:
        return true;
    }
}

/* The object that a quantity is a member of; NULL where there is none. */
static const void *object_of(place *at, const tcr_quantity *q) {
    switch (q->from) {
    case FROM_LASH:
        return tcr_set_lash(tcr_check_set(at->check), at->eye->side, at->lash);
    case FROM_RESULT:
        return at->result;
    case FROM_EYE:
        return at->eye;
    case FROM_WEIGHT:
        if (!at->has_weight)
            at->has_weight =
                tcr_check_weight(at->check, at->eye->side, at->lash, &at->weight) == TCR_OK;
        return at->has_weight ? &at->weight : NULL;
    default:
        break;
    }
    if (!at->has_load)
        at->has_load = tcr_check_load(at->check, at->eye->side, at->lash, &at->load) == TCR_OK;
    return at->has_load ? &at->load : NULL;
}

static double value_of(place *at, const tcr_quantity *q) {
    const void *object = is_there(at, q) ? object_of(at, q) : NULL;
    if (object == NULL)
        return NAN;
    const double value = tcr_member_value(q->kind, (const char *)object + q->offset);
    return q->unit == TCR_UNIT_DEGREES ? tcr_degrees_of(value) : value;
}

/* A column of loads that a check keeps. */
static void kept_column(const tcr_check *check, tcr_side side, const tcr_quantity *q,
                        double *values, size_t n) {
    for (size_t i = 0; i < n; i++) {
        const char *load = (const char *)&check->eye[side].load[i];
        values[i] = tcr_member_value(q->kind, load + q->offset);
    }
}

/* By address alone: a pointer of the caller's may point anywhere, also into the middle of one. */
static bool is_of_table(const tcr_quantity *q) {
    const uintptr_t at = (uintptr_t)q - (uintptr_t)TABLE;
    return at < sizeof TABLE && at % sizeof *TABLE == 0;
}

tcr_status tcr_check_row(const tcr_check *check, tcr_side side, size_t lash,
                         const tcr_quantity *first, double *values, size_t n) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (check == NULL || values == NULL || !is_of_table(first) ||
        n > (size_t)(TABLE + COUNT - first))
        return TCR_E_ARGUMENT;
    if (n == 0)
        return TCR_OK;
    const bool of_lash = first->owner == TCR_OWNER_LASH;
    if (of_lash != (first[n - 1].owner == TCR_OWNER_LASH))
        return TCR_E_ARGUMENT;
    if (eye == NULL || (of_lash && lash >= eye->lashes))
        return TCR_E_MISSING;
    place at = {.check = check, .eye = eye, .lash = lash};
    at.result = of_lash ? &eye->lash[lash] : NULL;
    for (size_t k = 0; k < n; k++)
        values[k] = value_of(&at, &first[k]);
    return TCR_OK;
}

tcr_status tcr_check_column(const tcr_check *check, tcr_side side, const tcr_quantity *quantity,
                            double *values, size_t n) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (check == NULL || values == NULL || !is_of_table(quantity))
        return TCR_E_ARGUMENT;
    if (eye == NULL)
        return TCR_E_MISSING;
    const bool of_lash = quantity->owner == TCR_OWNER_LASH;
    if (n != (of_lash ? eye->lashes : 1))
        return TCR_E_ARGUMENT;
    if (quantity->part == TCR_PART_LOADS && tcr_check_keeps_loads(check)) {
        kept_column(check, side, quantity, values, n);
        return TCR_OK;
    }
    for (size_t i = 0; i < n; i++) {
        place at = {.check = check, .eye = eye, .lash = i};
        at.result = of_lash ? &eye->lash[i] : NULL;
        values[i] = value_of(&at, quantity);
    }
    return TCR_OK;
}

/* Whether the members of results are the numbers of the column, NaN and all. A bare lash has NaN
 * from line_mm on; its choice and attachment are 0. */
static bool lies_in_place(const tcr_quantity *q) {
    if (q->unit == TCR_UNIT_DEGREES || (q->from != FROM_LASH && q->from != FROM_RESULT))
        return false;
    return q->when == ALWAYS ||
           (q->kind == TCR_KIND_DOUBLE && q->offset >= offsetof(tcr_lash_result, line_mm));
}

tcr_status tcr_check_column_in_place(const tcr_check *check, tcr_side side,
                                     const tcr_quantity *quantity, const void **first,
                                     size_t *stride) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (check == NULL || first == NULL || stride == NULL || !is_of_table(quantity) ||
        quantity->owner != TCR_OWNER_LASH)
        return TCR_E_ARGUMENT;
    if (eye == NULL || !lies_in_place(quantity))
        return TCR_E_MISSING;
    size_t lash_stride = 0;
    const tcr_lash *lash = tcr_set_lashes(tcr_check_set(check), side, &lash_stride);
    const bool in_set = quantity->from == FROM_LASH;
    *first = (in_set ? (const char *)lash : (const char *)eye->lash) + quantity->offset;
    *stride = in_set ? lash_stride : sizeof *eye->lash;
    return TCR_OK;
}
