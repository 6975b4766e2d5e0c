/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers and words of files. What most often goes wrong is recognised and told with its remedy: a
 * decimal comma, a unit behind the number, per cent, millimetres where a share is meant, angles
 * beyond a turn.
 */
#include "file/keys.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/lash.h>
#include <tipcrest/map.h>
#include <tipcrest/plan.h>

#include "model/names.h"
#include "num/number.h"
#include "num/range.h"

/* Units in words, by tcr_key_unit. */
static const char *const UNIT_WORDS[] = {
    [TCR_IN_NONE] = "",  [TCR_IN_MM] = "millimetres",  [TCR_IN_DEGREES] = "degrees",
    [TCR_IN_PLACE] = "", [TCR_IN_SECONDS] = "seconds", [TCR_IN_MINUTES] = "minutes",
};

#define LASH(name, unit, low, high, member, bit)                                                   \
    TCR_KEY_NUMBER(name, unit, low, high, tcr_lash, member, bit)

const tcr_key tcr_lash_keys[TCR_LASH_KEYS] = {
    LASH("u", TCR_IN_PLACE, 0.02, 0.98, u, 0),
    LASH("height_mm", TCR_IN_MM, -2, 8, height_mm, TCR_LASH_HEIGHT),
    TCR_KEY_INSIDE("pitch_deg", TCR_IN_DEGREES, -85, 85, tcr_lash, pitch_rad, TCR_LASH_PITCH),
    TCR_KEY_INSIDE("yaw_deg", TCR_IN_DEGREES, -85, 85, tcr_lash, yaw_rad, TCR_LASH_YAW),
    LASH("roll_deg", TCR_IN_DEGREES, -90, 90, roll_rad, TCR_LASH_ROLL),
    LASH("length_mm", TCR_IN_MM, 0.3, 20, length_mm, TCR_LASH_LENGTH),
    LASH("final_length_mm", TCR_IN_MM, 1, 20, final_length_mm, TCR_LASH_FINAL_LENGTH),
    LASH("turn_deg", TCR_IN_DEGREES, -60, 200, turn_rad, TCR_LASH_TURN),
    LASH("root_diameter_mm", TCR_IN_MM, 0.02, 0.2, root_diameter_mm, TCR_LASH_ROOT_DIAMETER),
    LASH("tip_diameter_mm", TCR_IN_MM, 0, 0.2, tip_diameter_mm, TCR_LASH_TIP_DIAMETER),
};

const tcr_key tcr_extension_keys[TCR_EXTENSION_KEYS] = {
    TCR_KEY_NUMBER("length_mm", TCR_IN_MM, 3, 30, tcr_wish, length_mm, TCR_FIX_LENGTH),
    TCR_KEY_NODE("curl", TCR_FIX_CURL),
    TCR_KEY_NUMBER("diameter_mm", TCR_IN_MM, 0.02, 0.3, tcr_wish, diameter_mm, TCR_FIX_DIAMETER),
    TCR_KEY_NODE("placement", TCR_FIX_PLACEMENT),
    TCR_KEY_WHOLE("fan", TCR_KEY_INT, 1, 20, tcr_wish, fan, TCR_FIX_FAN),
    TCR_KEY_NUMBER("spread_deg", TCR_IN_DEGREES, 0, 120, tcr_wish, spread_rad, TCR_FIX_SPREAD),
};

#define LIMIT(name, unit, low, high, member)                                                       \
    TCR_KEY_NUMBER(name, unit, low, high, tcr_plan_limits, member, 0)

const tcr_key tcr_limit_keys[TCR_LIMIT_KEYS] = {
    LIMIT("baby_below_mm", TCR_IN_MM, 0, 20, baby_below_mm),
    LIMIT("thin_below_mm", TCR_IN_MM, 0, 0.2, thin_below_mm),
    LIMIT("stray_above_mm", TCR_IN_MM, -2, 8, stray_above_mm),
    LIMIT("out_of_fan_deg", TCR_IN_DEGREES, 0, 90, out_of_fan_rad),
    LIMIT("overlength_mm", TCR_IN_MM, 0, 30, overlength_mm),
    LIMIT("mass_ratio", TCR_IN_NONE, 0.1, 1000, mass_ratio),
    LIMIT("moment_ratio", TCR_IN_NONE, 0.1, 1000, moment_ratio),
};

#define PACE(name, unit, low, high, member)                                                        \
    TCR_KEY_NUMBER(name, unit, low, high, tcr_plan_pace, member, 0)

const tcr_key tcr_pace_keys[TCR_PACE_KEYS] = {
    PACE("setting_s", TCR_IN_SECONDS, 0, 3600, setting_s),
    PACE("distance_mm", TCR_IN_MM, 0.01, 50, distance_mm),
    PACE("lash_s", TCR_IN_SECONDS, 0.1, 3600, lash_s),
    PACE("change_s", TCR_IN_SECONDS, 0, 3600, change_s),
    PACE("preparation_min", TCR_IN_MINUTES, 0, 1440, preparation_min),
    PACE("loss_share", TCR_IN_NONE, 0, 1, loss_share),
    PACE("drop_min", TCR_IN_MINUTES, 0.1, 1440, drop_min),
};

#define WORDS(name, ...)                                                                           \
    static const char *const name##_list[] = {__VA_ARGS__};                                        \
    const tcr_words tcr_words_##name = {name##_list, sizeof name##_list / sizeof name##_list[0]}

/* In the order of their enumerations. */
WORDS(side, TCR_SIDE_NAMES);
WORDS(layer, TCR_LAYER_NAMES);
WORDS(condition, "suitable", "baby", "stray", "weak", "shedding");
WORDS(placement, TCR_PLACEMENT_NAMES);
WORDS(phases, "A", "B", "none");
WORDS(subject, "client", "practice-head");
WORDS(bool, "false", "true");

/* ---- A text that is no number ---------------------------------------------------------------- */

static bool is_blank(char c) { return c == ' ' || c == '\t'; }

/* The longest start of the text that is a number; 0 if there is none. */
static size_t leading_number(const char *text, size_t bytes, double *value) {
    const size_t most = bytes < 64 ? bytes : 64;
    for (size_t length = most; length > 0; length--)
        if (tcr_number_parse_comma(text, length, value) && isfinite(*value))
            return length;
    return 0;
}

static tcr_status fail_no_number(const tcr_key *key, const char *name, const char *text,
                                 size_t bytes, tcr_place place, tcr_file_error *error) {
    tcr_quoted found;
    char number[TCR_NUMBER_SIZE];
    double value;
    const size_t length = leading_number(text, bytes, &value);
    tcr_quote(&found, text, bytes);
    if (length == 0)
        return tcr_fail(error, TCR_E_CONTENT, place, "%s needs a number, not %s%s", name,
                        found.text, tcr_curly_note(text, bytes));
    tcr_number_text(value, number);
    if (length == bytes)
        return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s with a decimal comma; write %s",
                        name, found.text, number);
    if (strchr("0123456789.,eE+-", text[length]) != NULL) /* a date, a version, too many digits */
        return tcr_fail(error, TCR_E_CONTENT, place, "%s needs a number, not %s", name, found.text);
    size_t rest = length;
    while (rest < bytes && is_blank(text[rest]))
        rest++;
    const char *unit = text + rest;
    const size_t left = bytes - rest;
    if (left == 1 && *unit == '%') {
        tcr_number_text(value / 100.0, number);
        return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s; write it as a share, %s", name,
                        found.text, number);
    }
    const bool is_own_unit = key->unit == TCR_IN_NONE ||
                             (key->unit == TCR_IN_MM && left == 2 && memcmp(unit, "mm", 2) == 0) ||
                             (key->unit == TCR_IN_DEGREES && left >= 2 &&
                              (memcmp(unit, "\xC2\xB0", 2) == 0 || memcmp(unit, "de", 2) == 0));
    const char *word = UNIT_WORDS[key->unit];
    return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s; write the number alone%s%s%s%s", name,
                    found.text, *word != '\0' ? ", in " : "", word, is_own_unit ? ": " : "",
                    is_own_unit ? number : "");
}

/* ---- A number out of its range --------------------------------------------------------------- */

static bool is_within(const tcr_key *key, double value) {
    return key->inside ? value > key->low && value < key->high
                       : value >= key->low && value <= key->high;
}

static tcr_status fail_range(const tcr_key *key, const char *name, double value, tcr_place place,
                             tcr_file_error *error) {
    char found[TCR_NUMBER_SIZE], low[TCR_NUMBER_SIZE], high[TCR_NUMBER_SIZE],
        other[TCR_NUMBER_SIZE];
    char hint[160] = "";
    tcr_number_text(value, found);
    tcr_number_text(key->low, low);
    tcr_number_text(key->high, high);
    const double turned = value > 0 ? value - 360.0 : value + 360.0;
    if (key->unit == TCR_IN_PLACE && value > 1.0) {
        snprintf(
            hint, sizeof hint,
            "; it is a share of the eye's width from the inner corner (0.5 is the middle), not "
            "per cent or millimetres");
    } else if (key->unit == TCR_IN_NONE && key->high == 1.0 && value > 1.0 && value <= 100.0) {
        tcr_number_text(value / 100.0, other);
        snprintf(hint, sizeof hint, "; it is a share, not per cent: %s per cent is %s", found,
                 other);
    } else if (key->unit == TCR_IN_DEGREES && fabs(value) <= 360.0 && is_within(key, turned)) {
        tcr_number_text(turned, other);
        snprintf(hint, sizeof hint, "; %s degrees are the same as %s", found, other);
    } else if (key->unit == TCR_IN_DEGREES && fabs(value) > 360.0) {
        snprintf(hint, sizeof hint, "; a full turn is 360 degrees");
    }
    const char *unit = key->unit == TCR_IN_MM ? "mm" : UNIT_WORDS[key->unit];
    const bool whole = key->type != TCR_KEY_DOUBLE;
    return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s, but must be %s%s %s %s %s%s%s%s", name,
                    found, whole ? "a whole number " : "", key->inside ? "above" : "from", low,
                    key->inside ? "and below" : "to", high, *unit != '\0' ? " " : "", unit, hint);
}

/* ---- Reading --------------------------------------------------------------------------------- */

static void store(const tcr_key *key, double value, void *target) {
    char *at = (char *)target + key->offset;
    switch (key->type) {
    case TCR_KEY_DOUBLE:
        *(double *)(void *)at = key->unit == TCR_IN_DEGREES ? value * TCR_DEG : value;
        break;
    case TCR_KEY_INT:
        *(int *)(void *)at = (int)value;
        break;
    case TCR_KEY_SIZE:
        *(size_t *)(void *)at = (size_t)value;
        break;
    case TCR_KEY_UINT64:
        *(uint64_t *)(void *)at = (uint64_t)value;
        break;
    case TCR_KEY_OTHER:
        break;
    }
}

tcr_status tcr_key_read(const tcr_key *key, const char *name, const char *text, size_t bytes,
                        bool comma, void *target, tcr_place place, tcr_file_error *error) {
    double value;
    const bool is_number =
        comma ? tcr_number_parse_comma(text, bytes, &value) : tcr_number_parse(text, bytes, &value);
    if (!is_number || !isfinite(value))
        return fail_no_number(key, name, text, bytes, place, error);
    if (!is_within(key, value) || (key->type != TCR_KEY_DOUBLE && value != floor(value)))
        return fail_range(key, name, value, place, error);
    store(key, value, target);
    return TCR_OK;
}

void tcr_key_copy(const tcr_key *key, void *target, const void *source) {
    static const size_t SIZE[] = {
        [TCR_KEY_DOUBLE] = sizeof(double),
        [TCR_KEY_INT] = sizeof(int),
        [TCR_KEY_SIZE] = sizeof(size_t),
        [TCR_KEY_UINT64] = sizeof(uint64_t),
        [TCR_KEY_OTHER] = 0,
    };
    memcpy((char *)target + key->offset, (const char *)source + key->offset, SIZE[key->type]);
}

tcr_status tcr_taper_check(const tcr_lash *lash, tcr_place place, tcr_file_error *error) {
    char tip[TCR_NUMBER_SIZE], root[TCR_NUMBER_SIZE];
    if (lash->tip_diameter_mm <= lash->root_diameter_mm)
        return TCR_OK;
    tcr_number_text(lash->tip_diameter_mm, tip);
    tcr_number_text(lash->root_diameter_mm, root);
    return tcr_fail(
        error, TCR_E_CONTENT, place,
        "tip_diameter_mm is %s, but a lash is no thicker at its tip than at its root, %s here%s",
        tip, root, lash->assumed & TCR_LASH_ROOT_DIAMETER ? " by default" : "");
}

tcr_status tcr_word_read(const tcr_words *words, const char *name, const char *text, size_t bytes,
                         size_t *index, tcr_place place, tcr_file_error *error) {
    for (size_t i = 0; i < words->count; i++)
        if (strlen(words->word[i]) == bytes && memcmp(words->word[i], text, bytes) == 0) {
            *index = i;
            return TCR_OK;
        }
    tcr_quoted found;
    tcr_list list = {0};
    for (size_t i = 0; i < words->count; i++)
        tcr_list_add(&list, words->word[i]);
    const char *meant = tcr_suggest(text, bytes, words->word, words->count);
    tcr_quote(&found, text, bytes);
    if (meant != NULL)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "%s %s is not known; did you mean %s? One of %s", name, found.text, meant,
                        list.text);
    return tcr_fail(error, TCR_E_CONTENT, place, "%s %s is not known; one of %s%s", name,
                    found.text, list.text, tcr_curly_note(text, bytes));
}
