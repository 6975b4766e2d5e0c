/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A set as a set file and surveys. What was assumed is left out, so that it stays an assumption;
 * all else is written, with the fewest digits that read back as the same double.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <string.h>

#include "file/csv_put.h"
#include "file/json.h"
#include "file/report.h"
#include "num/number.h"
#include "num/options.h"
#include "num/printable.h"

static void put_degrees(tcr_writer *writer, double angle_rad) {
    tcr_put_number(writer, tcr_file_degrees(angle_rad));
}

/* ---- Set file ------------------------------------------------------------------------ */

/* ", key: value" in a flow mapping; the first has no comma. */
static void put_key(tcr_writer *writer, bool *first, const char *key) {
    tcr_put(writer, *first ? "" : ", ");
    tcr_put(writer, key);
    tcr_put(writer, ": ");
    *first = false;
}

static void put_named(tcr_writer *writer, bool *first, const char *key, double number) {
    put_key(writer, first, key);
    tcr_put_number(writer, number);
}

static void put_lid(tcr_writer *writer, const tcr_lid *lid) {
    const struct {
        unsigned bit;
        const char *key;
        double value;
    } measures[] = {
        {TCR_LID_FISSURE_WIDTH, "fissure_width_mm", lid->fissure_width_mm},
        {TCR_LID_CANTHAL_TILT, "canthal_tilt_deg", tcr_file_degrees(lid->canthal_tilt_rad)},
        {TCR_LID_INNER_CORNER_HEIGHT, "inner_corner_height_mm", lid->inner_corner_height_mm},
        {TCR_LID_MRD1, "mrd1_mm", lid->mrd1_mm},
        {TCR_LID_MRD2, "mrd2_mm", lid->mrd2_mm},
        {TCR_LID_PEAK_OFFSET, "peak_offset_mm", lid->peak_offset_mm},
        {TCR_LID_FULLNESS, "fullness", lid->fullness},
        {TCR_LID_GLOBE_RADIUS, "globe_radius_mm", lid->globe_radius_mm},
        {TCR_LID_LATERAL_SEMIAXIS, "lateral_semiaxis_mm", lid->lateral_semiaxis_mm},
    };
    if ((lid->assumed & TCR_LID_ALL) == TCR_LID_ALL)
        return;
    bool first = true;
    tcr_put(writer, "    lid: {");
    for (size_t i = 0; i < sizeof measures / sizeof *measures; i++)
        if ((lid->assumed & measures[i].bit) == 0)
            put_named(writer, &first, measures[i].key, measures[i].value);
    tcr_put(writer, "}\n");
}

/* What a zone fixes for a layer. */
static void put_wish(tcr_writer *writer, const tcr_wish *wish) {
    bool first = true;
    tcr_put(writer, "{");
    if (wish->fixed & TCR_FIX_LENGTH)
        put_named(writer, &first, "length_mm", wish->length_mm);
    if (wish->fixed & TCR_FIX_CURL) {
        put_key(writer, &first, "curl");
        tcr_yaml_put_text(writer, wish->curl);
    }
    if (wish->fixed & TCR_FIX_DIAMETER)
        put_named(writer, &first, "diameter_mm", wish->diameter_mm);
    if (wish->fixed & TCR_FIX_FAN)
        put_named(writer, &first, "fan", wish->fan);
    if (wish->fixed & TCR_FIX_SPREAD)
        put_named(writer, &first, "spread_deg", tcr_file_degrees(wish->spread_rad));
    if (wish->fixed & TCR_FIX_PLACEMENT) {
        put_key(writer, &first, "placement");
        tcr_put(writer, tcr_word(&tcr_words_placement, (int)wish->placement));
    }
    tcr_put(writer, "}");
}

static void put_map(tcr_writer *writer, const char *key, const tcr_zone *zones, size_t count) {
    if (count == 0)
        return;
    tcr_put(writer, "    ");
    tcr_put(writer, key);
    tcr_put(writer, ":\n");
    for (size_t i = 0; i < count; i++) {
        tcr_put(writer, "      - to: ");
        tcr_put_number(writer, zones[i].to);
        tcr_put(writer, "\n        length_mm: ");
        tcr_put_number(writer, zones[i].length_mm);
        tcr_put(writer, "\n        curl: ");
        tcr_yaml_put_text(writer, zones[i].curl);
        tcr_put(writer, "\n");
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            if (zones[i].layer[layer].fixed == 0)
                continue;
            tcr_put(writer, "        ");
            tcr_put(writer, tcr_word(&tcr_words_layer, layer));
            tcr_put(writer, ": ");
            put_wish(writer, &zones[i].layer[layer]);
            tcr_put(writer, "\n");
        }
    }
}

static void put_eye(tcr_writer *writer, const tcr_set *set, tcr_side side, const char *survey) {
    size_t zones, meant;
    const tcr_zone *map = tcr_set_get_map(set, side, &zones);
    const tcr_zone *intended = tcr_set_get_intended(set, side, &meant);
    tcr_put(writer, "  - side: ");
    tcr_put(writer, tcr_word(&tcr_words_side, (int)side));
    tcr_put(writer, "\n");
    put_lid(writer, tcr_set_get_lid(set, side));
    tcr_put(writer, "    lashes: {survey: ");
    tcr_yaml_put_text(writer, survey);
    tcr_put(writer, tcr_set_drawn_count(set, side) > 0 ? ", drawn: true}\n" : "}\n");
    put_map(writer, "map", map, zones);
    put_map(writer, "intended", intended, meant);
}

static void put_layering(tcr_writer *writer, const tcr_layering *rule) {
    bool first = true;
    tcr_put(writer, "layering:\n  step_mm: ");
    tcr_put_number(writer, rule->step_mm);
    tcr_put(writer, "\n  diameter_mm: ");
    tcr_put_number(writer, rule->diameter_mm);
    tcr_put(writer, "\n  fan: ");
    tcr_put_number(writer, rule->fan);
    tcr_put(writer, "\n  spread_deg: ");
    put_degrees(writer, rule->spread_rad);
    tcr_put(writer, "\n  placement: {");
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        put_key(writer, &first, tcr_word(&tcr_words_layer, layer));
        tcr_put(writer, tcr_word(&tcr_words_placement, (int)rule->placement[layer]));
    }
    tcr_put(writer, "}\n  blend: ");
    tcr_put(writer, rule->blend ? "true\n" : "false\n");
}

/* A number of a struct as a file has it. */
static double number_of(const tcr_key *key, const void *from) {
    const double value = *(const double *)(const void *)((const char *)from + key->offset);
    return key->unit == TCR_IN_DEGREES ? tcr_file_degrees(value) : value;
}

static void put_mean_lash(tcr_writer *writer, const tcr_lash *mean) {
    bool first = true;
    for (size_t i = 1; i < TCR_LASH_KEYS; i++) { /* all but u */
        const tcr_key *key = &tcr_lash_keys[i];
        if ((mean->assumed & key->bit) != 0 ||
            (key->bit == TCR_LASH_FINAL_LENGTH && mean->final_length_mm == 0.0))
            continue;
        if (first)
            tcr_put(writer, "mean_lash: {");
        put_named(writer, &first, key->name, number_of(key, mean));
    }
    if (!first)
        tcr_put(writer, "}\n");
}

/* A section of numbers, each held to the range that a file may give. */
static void put_section(tcr_writer *writer, const char *name, const tcr_key *keys, size_t count,
                        const void *from) {
    if (from == NULL)
        return;
    tcr_put(writer, name);
    tcr_put(writer, ":\n");
    for (size_t i = 0; i < count; i++) {
        tcr_put(writer, "  ");
        tcr_put(writer, keys[i].name);
        tcr_put(writer, ": ");
        tcr_put_number(writer, fmin(fmax(number_of(&keys[i], from), keys[i].low), keys[i].high));
        tcr_put(writer, "\n");
    }
}

static void put_profile(tcr_writer *writer, const tcr_profile *profile) {
    tcr_put(writer, "[");
    for (int i = 0; i < profile->pieces; i++) {
        tcr_put(writer, i > 0 ? ", [" : "[");
        tcr_put_number(writer, profile->share[i]);
        tcr_put(writer, ", ");
        put_degrees(writer, profile->turn_rad[i]);
        tcr_put(writer, "]");
    }
    tcr_put(writer, "]");
}

static bool same_profile(const tcr_profile *a, const tcr_profile *b) {
    bool same = a->pieces == b->pieces;
    for (int i = 0; same && i < a->pieces; i++)
        same = a->share[i] == b->share[i] && a->turn_rad[i] == b->turn_rad[i];
    return same;
}

static bool is_in_catalogue(const tcr_curl *curl) {
    size_t count;
    const tcr_curl *known = tcr_curl_catalogue(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(known[i].label, curl->label) == 0)
            return curl->count == 1 && same_profile(curl->profiles, known[i].profiles);
    return false;
}

static void put_curls(tcr_writer *writer, const tcr_set *set) {
    bool first = true;
    for (size_t i = 0; i < tcr_set_curl_count(set); i++) {
        const tcr_curl *curl = tcr_set_get_curl(set, i);
        if (is_in_catalogue(curl))
            continue;
        tcr_put(writer, first ? "curls:\n  " : "  ");
        first = false;
        tcr_yaml_put_text(writer, curl->label);
        tcr_put(writer, ": ");
        if (curl->length_mm == NULL) {
            put_profile(writer, &curl->profiles[0]);
        } else {
            bool first_length = true;
            tcr_put(writer, "{");
            for (size_t k = 0; k < curl->count; k++) {
                char length[TCR_NUMBER_SIZE];
                tcr_number_text(curl->length_mm[k], length);
                put_key(writer, &first_length, length);
                put_profile(writer, &curl->profiles[k]);
            }
            tcr_put(writer, "}");
        }
        tcr_put(writer, "\n");
    }
}

static void put_rest(tcr_writer *writer, const tcr_set *set) {
    const tcr_tray *tray = tcr_set_get_tray(set);
    const tcr_bond *bond = tcr_set_get_bond(set);
    const tcr_view *view = tcr_set_get_view(set);
    bool first = true;
    put_layering(writer, tcr_set_get_layering(set));
    put_mean_lash(writer, tcr_set_get_mean_lash(set));
    tcr_put(writer, "tray: {lengths_mm: [");
    for (size_t i = 0; i < tray->count; i++) {
        tcr_put(writer, i > 0 ? ", " : "");
        tcr_put_number(writer, tray->length_mm[i]);
    }
    tcr_put(writer, "]}\nbond: {");
    put_named(writer, &first, "offset_mm", bond->offset_mm);
    put_named(writer, &first, "length_mm", bond->length_mm);
    put_named(writer, &first, "glue_mm", bond->glue_mm);
    tcr_put(writer, "}\n");
    put_curls(writer, set);
    tcr_put(writer, "line: {tolerance_mm: ");
    tcr_put_number(writer, tcr_set_get_tolerance(set));
    tcr_put(writer, "}\nopening: ");
    tcr_put_number(writer, view->opening);
    tcr_put(writer, "\nviewer_deg: ");
    put_degrees(writer, view->viewer_rad);
    tcr_put(writer, "\n");
}

/* Each line of a text behind a #. What YAML too would take for the end of a line, or may not hold,
 * is told by its number. */
static void put_comment(tcr_writer *writer, const char *comment) {
    enum { CHARACTER_SIZE = 5, ESCAPE_SIZE = 16 };
    bool begins = true;
    while (*comment != '\0') {
        uint32_t code;
        char character[CHARACTER_SIZE] = "", shown[ESCAPE_SIZE];
        const size_t bytes = tcr_utf8_next(comment, &code);
        if (code == '\n') {
            tcr_put(writer, begins ? "#\n" : "\n");
            begins = true;
        } else {
            memcpy(character, comment, bytes);
            tcr_printable(character, ESCAPE_SIZE, shown, sizeof shown);
            tcr_put(writer, begins ? "# " : "");
            tcr_put(writer, shown);
            begins = false;
        }
        comment += bytes;
    }
    tcr_put(writer, begins ? "" : "\n");
}

void tcr_set_write_options_init(tcr_set_write_options *options, size_t size) {
    const tcr_set_write_options defaults = {.size = sizeof defaults};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

tcr_status tcr_set_write(const tcr_set *set, const tcr_set_write_options *given, tcr_sink sink,
                         void *context) {
    tcr_set_write_options o = tcr_set_write_options_default();
    if (set == NULL || given == NULL || sink == NULL ||
        tcr_options_take(&o, sizeof o, given) != TCR_OK)
        return TCR_E_ARGUMENT;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++) {
        size_t zones;
        if (o.survey[sides[e]] == NULL)
            return TCR_E_ARGUMENT;
        if (tcr_set_get_map(set, sides[e], &zones) == NULL || zones == 0)
            return TCR_E_MAP;
    }
    if (eyes == 0)
        return TCR_E_MISSING;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    put_comment(&writer, o.comment != NULL ? o.comment : "");
    tcr_put(&writer, "tipcrest: 1\n");
    if (*tcr_set_get_title(set) != '\0') {
        tcr_put(&writer, "title: ");
        tcr_yaml_put_text(&writer, tcr_set_get_title(set));
        tcr_put(&writer, "\n");
    }
    if (tcr_set_get_subject(set) == TCR_PRACTICE_HEAD)
        tcr_put(&writer, "subject: practice-head\n");
    tcr_put(&writer, "eyes:\n");
    for (size_t e = 0; e < eyes; e++)
        put_eye(&writer, set, sides[e], o.survey[sides[e]]);
    put_rest(&writer, set);
    put_section(&writer, "plan", tcr_limit_keys, TCR_LIMIT_KEYS, o.limits);
    put_section(&writer, "pace", tcr_pace_keys, TCR_PACE_KEYS, o.pace);
    return tcr_writer_end(&writer);
}

/* ---- Survey -------------------------------------------------------------------------- */

static void put_extension(tcr_writer *writer, const tcr_wish *wish) {
    if (wish->fixed & TCR_FIX_BARE)
        tcr_csv_put_word(writer, "none");
    else
        tcr_csv_put_number(writer, wish->fixed & TCR_FIX_LENGTH ? wish->length_mm : NAN);
    tcr_csv_put_text(writer, wish->fixed & TCR_FIX_CURL ? wish->curl : "");
    tcr_csv_put_number(writer, wish->fixed & TCR_FIX_DIAMETER ? wish->diameter_mm : NAN);
    tcr_csv_put_word(writer, wish->fixed & TCR_FIX_PLACEMENT
                                 ? tcr_word(&tcr_words_placement, (int)wish->placement)
                                 : "");
    tcr_csv_put_number(writer, wish->fixed & TCR_FIX_FAN ? (double)wish->fan : (double)NAN);
    tcr_csv_put_number(writer,
                       wish->fixed & TCR_FIX_SPREAD ? tcr_file_degrees(wish->spread_rad) : NAN);
}

static void put_row(tcr_writer *writer, const tcr_set *set, tcr_side side, size_t i,
                    const char *note) {
    const tcr_lash *lash = tcr_set_get_lash(set, side, i);
    tcr_csv_put_first(writer, tcr_set_get_id(set, side, i));
    tcr_csv_put_number(writer, lash->u);
    tcr_csv_put_word(writer, tcr_word(&tcr_words_layer, (int)lash->layer));
    for (size_t k = 1; k < TCR_LASH_KEYS; k++) {
        const tcr_key *key = &tcr_lash_keys[k];
        /* A survey without a length is none, so that one is told though it was assumed. */
        const bool unknown = (lash->assumed & key->bit & ~(unsigned)TCR_LASH_LENGTH) != 0 ||
                             (key->bit == TCR_LASH_FINAL_LENGTH && lash->final_length_mm == 0.0);
        tcr_csv_put_number(writer, unknown ? NAN : number_of(key, lash));
    }
    tcr_csv_put_word(writer, tcr_word(&tcr_words_condition, (int)lash->condition));
    put_extension(writer, tcr_set_get_wish(set, side, i));
    if (note != NULL)
        tcr_csv_put_text(writer, note);
    tcr_put(writer, "\n");
}

tcr_status tcr_survey_write(const tcr_set *set, tcr_side side, tcr_survey_note note,
                            void *note_context, tcr_sink sink, void *context) {
    if (set == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    if (!tcr_set_has_eye(set, side))
        return TCR_E_MISSING;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    tcr_put(&writer, "id,u,layer");
    for (size_t k = 1; k < TCR_LASH_KEYS; k++)
        tcr_csv_put_word(&writer, tcr_lash_keys[k].name);
    tcr_put(&writer, ",condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,"
                     "ext_spread_deg");
    tcr_put(&writer, note != NULL ? ",note\n" : "\n");
    for (size_t i = 0; i < tcr_set_lash_count(set, side) && writer.status == TCR_OK; i++)
        put_row(&writer, set, side, i, note != NULL ? note(note_context, side, i) : NULL);
    return tcr_writer_end(&writer);
}
