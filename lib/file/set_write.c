/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A set as a set file and surveys. What was assumed is left out, so that it stays an assumption;
 * all else is written, with the fewest digits that read back as the same double.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "file/csv_put.h"
#include "file/json.h"
#include "file/report.h"
#include "num/number.h"
#include "num/options.h"
#include "num/printable.h"
#include "num/range.h"

/* ---- Set file ------------------------------------------------------------------------ */

/* ", key: value" in a flow mapping; the first has no comma. */
static void put_key(tcr_writer *writer, bool *first, const char *key) {
    tcr_put(writer, *first ? "" : ", ");
    tcr_put(writer, key);
    tcr_put(writer, ": ");
    *first = false;
}

/* The value of a field: a number, a word, or the label of a curl. */
static void put_value(tcr_writer *writer, const tcr_field *field, const void *object) {
    const double value = tcr_field_value(field, object);
    if (field->kind == TCR_KIND_LABEL)
        tcr_yaml_put_text(writer, (const char *)object + field->offset);
    else if (field->words != NULL)
        tcr_put(writer, field->words[(size_t)value]);
    else
        tcr_put_number(writer, value);
}

/* "{key: value, ...}" of those fields of a group whose bit is in a mask; nothing where none is. */
static void put_flow(tcr_writer *writer, const char *before, tcr_group group, const void *object,
                     unsigned mask, const char *behind) {
    bool first = true;
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++) {
        const bool unknown =
            fields[i].kind == TCR_KIND_DOUBLE && isnan(tcr_field_value(&fields[i], object));
        if (unknown || (fields[i].bit != 0 && (fields[i].bit & mask) == 0))
            continue;
        if (first)
            tcr_put(writer, before);
        put_key(writer, &first, fields[i].key);
        put_value(writer, &fields[i], object);
    }
    tcr_put(writer, first ? "" : behind);
}

/* Each field of a group on a line. */
static void put_lines(tcr_writer *writer, const char *first, const char *indent, tcr_group group,
                      const void *object) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++) {
        tcr_put(writer, i == 0 ? first : indent);
        tcr_put(writer, fields[i].key);
        tcr_put(writer, ": ");
        put_value(writer, &fields[i], object);
        tcr_put(writer, "\n");
    }
}

static void put_map(tcr_writer *writer, const char *key, const tcr_zone *zones, size_t count) {
    if (count == 0)
        return;
    tcr_put(writer, "    ");
    tcr_put(writer, key);
    tcr_put(writer, ":\n");
    for (size_t i = 0; i < count; i++) {
        tcr_put(writer, "      -");
        put_lines(writer, " ", "        ", TCR_GROUP_ZONE, &zones[i]);
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            const tcr_wish *wish = &zones[i].layer[layer];
            if (wish->fixed == 0)
                continue;
            tcr_put(writer, "        ");
            tcr_put(writer, tcr_word(&tcr_words_layer, layer));
            put_flow(writer, ": {", TCR_GROUP_WISH, wish, wish->fixed, "}\n");
        }
    }
}

static void put_eye(tcr_writer *writer, const tcr_set *set, tcr_side side, const char *survey) {
    size_t zones, meant;
    const tcr_zone *map = tcr_set_map(set, side, &zones);
    const tcr_zone *intended = tcr_set_intended(set, side, &meant);
    tcr_lid lid;
    (void)tcr_set_given_lid(set, side, &lid); /* the eye is there */
    tcr_put(writer, "  - side: ");
    tcr_put(writer, tcr_word(&tcr_words_side, (int)side));
    tcr_put(writer, "\n");
    put_flow(writer, "    lid: {", TCR_GROUP_LID, &lid, ~0u, "}\n");
    tcr_put(writer, "    lashes: {survey: ");
    tcr_yaml_put_text(writer, survey);
    tcr_put(writer, tcr_set_drawn_count(set, side) > 0 ? ", drawn: true}\n" : "}\n");
    put_map(writer, "map", map, zones);
    put_map(writer, "intended", intended, meant);
}

static void put_mean_lash(tcr_writer *writer, const tcr_lash *mean) {
    put_flow(writer, "mean_lash: {", TCR_GROUP_MEAN_LASH, mean, ~0u, "}\n");
}

static void put_profile(tcr_writer *writer, const tcr_profile *profile) {
    tcr_put(writer, "[");
    for (int i = 0; i < profile->pieces; i++) {
        tcr_put(writer, i > 0 ? ", [" : "[");
        tcr_put_number(writer, profile->share[i]);
        tcr_put(writer, ", ");
        tcr_put_number(writer, tcr_degrees_of(profile->turn_rad[i]));
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
        const tcr_curl *curl = tcr_set_curl(set, i);
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

/* The lengths whose bit is set. */
static void put_lengths(tcr_writer *writer, const tcr_tray *tray, uint64_t which) {
    const char *between = "[";
    for (size_t i = 0; i < tray->count; i++) {
        if ((which >> i & 1u) == 0)
            continue;
        tcr_put(writer, between);
        tcr_put_number(writer, tray->length_mm[i]);
        between = ", ";
    }
    tcr_put(writer, "]");
}

/* Whether a kind is the first of its curl. */
static bool begins_curl(const tcr_tray *tray, size_t k) {
    for (size_t i = 0; i < k; i++)
        if (strcmp(tray->kind[i].curl, tray->kind[k].curl) == 0)
            return false;
    return true;
}

static void put_tray(tcr_writer *writer, const tcr_tray *tray) {
    if (tray->count == 0) {
        tcr_put(writer, "tray: any\n");
        return;
    }
    tcr_put(writer, tray->kinds > 0 ? "tray:\n" : "tray: {lengths_mm: ");
    if (tray->kinds == 0) {
        put_lengths(writer, tray, UINT64_MAX);
        tcr_put(writer, "}\n");
    }
    for (size_t k = 0; k < tray->kinds; k++) {
        if (!begins_curl(tray, k))
            continue;
        bool first = true;
        tcr_put(writer, "  ");
        tcr_yaml_put_text(writer, tray->kind[k].curl);
        tcr_put(writer, ": {");
        for (size_t i = k; i < tray->kinds; i++) {
            char diameter[TCR_NUMBER_SIZE];
            if (strcmp(tray->kind[i].curl, tray->kind[k].curl) != 0)
                continue;
            tcr_number_text(tray->kind[i].diameter_mm, diameter);
            put_key(writer, &first, diameter);
            put_lengths(writer, tray, tray->kind[i].lengths);
        }
        tcr_put(writer, "}\n");
    }
}

static void put_rest(tcr_writer *writer, const tcr_set *set) {
    const tcr_tray *tray = tcr_set_tray(set);
    const tcr_layering *rule = tcr_set_layering(set);
    tcr_line_rule line = *tcr_set_line(set);
    if (!isnan(line.seen_from_mm))
        line.tolerance_mm = NAN; /* a file gives one of the two */
    tcr_put(writer, "layering:\n");
    put_lines(writer, "  ", "  ", TCR_GROUP_LAYERING, rule);
    put_flow(writer, "  placement: {", TCR_GROUP_PLACEMENT, rule, 0, "}\n");
    put_mean_lash(writer, tcr_set_mean_lash(set));
    put_tray(writer, tray);
    put_flow(writer, "bond: {", TCR_GROUP_BOND, tcr_set_bond(set), 0, "}\n");
    put_curls(writer, set);
    put_flow(writer, "line: {", TCR_GROUP_LINE, &line, ~0u, "}\n");
    put_lines(writer, "", "", TCR_GROUP_VIEW, tcr_set_view(set));
}

/* Writes each line of a text after a #. YAML line breaks and characters that YAML forbids are
 * escaped. */
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
    const size_t eyes = tcr_set_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++) {
        size_t zones;
        if (o.survey[sides[e]] == NULL)
            return TCR_E_ARGUMENT;
        if (tcr_set_map(set, sides[e], &zones) == NULL || zones == 0)
            return TCR_E_MAP;
    }
    if (eyes == 0)
        return TCR_E_MISSING;
    tcr_status fits = TCR_OK;
    if (o.limits != NULL)
        fits = tcr_fields_validate(TCR_GROUP_LIMITS, o.limits, NULL);
    if (fits == TCR_OK && o.pace != NULL)
        fits = tcr_fields_validate(TCR_GROUP_PACE, o.pace, NULL);
    if (fits != TCR_OK)
        return fits;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    put_comment(&writer, o.comment != NULL ? o.comment : "");
    tcr_put(&writer, "tipcrest: 1\n");
    if (*tcr_set_title(set) != '\0') {
        tcr_put(&writer, "title: ");
        tcr_yaml_put_text(&writer, tcr_set_title(set));
        tcr_put(&writer, "\n");
    }
    if (tcr_set_subject(set) == TCR_PRACTICE_HEAD)
        tcr_put(&writer, "subject: practice-head\n");
    tcr_put(&writer, "eyes:\n");
    for (size_t e = 0; e < eyes; e++)
        put_eye(&writer, set, sides[e], o.survey[sides[e]]);
    put_rest(&writer, set);
    if (o.limits != NULL) {
        tcr_put(&writer, "plan:\n");
        put_lines(&writer, "  ", "  ", TCR_GROUP_LIMITS, o.limits);
    }
    if (o.pace != NULL) {
        tcr_put(&writer, "pace:\n");
        put_lines(&writer, "  ", "  ", TCR_GROUP_PACE, o.pace);
    }
    return tcr_writer_end(&writer);
}

/* ---- Survey -------------------------------------------------------------------------- */

/* The cells of a group's fields whose bit is in a mask; the others are empty. */
static void put_cells(tcr_csv_put *csv, tcr_group group, const void *object, unsigned mask) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++) {
        const tcr_field *field = &fields[i];
        if (field->bit == TCR_FIX_LENGTH && group == TCR_GROUP_WISH && (mask & TCR_FIX_BARE) != 0)
            tcr_csv_put_word(csv, "none");
        else if (field->bit != 0 && (field->bit & mask) == 0)
            tcr_csv_put_word(csv, NULL);
        else if (field->kind == TCR_KIND_LABEL)
            tcr_csv_put_text(csv, (const char *)object + field->offset);
        else if (field->words != NULL)
            tcr_csv_put_word(csv, field->words[(size_t)tcr_field_value(field, object)]);
        else
            tcr_csv_put_number(csv, tcr_field_value(field, object));
    }
}

static void put_row(tcr_csv_put *csv, const tcr_set *set, tcr_side side, size_t i,
                    const char *note) {
    const tcr_wish *wish = tcr_set_wish(set, side, i);
    tcr_lash lash;
    (void)tcr_set_given_lash(set, side, i, &lash); /* the lash is there */
    /* A survey needs a length, though it may be assumed. */
    lash.length_mm = tcr_set_lash(set, side, i)->length_mm;
    tcr_csv_put_text(csv, tcr_set_id(set, side, i));
    put_cells(csv, TCR_GROUP_LASH, &lash, ~0u);
    put_cells(csv, TCR_GROUP_WISH, wish, wish->fixed);
    if (note != NULL)
        tcr_csv_put_text(csv, note);
    tcr_csv_put_row_end(csv);
}

/* The names of a group's columns. */
static void put_names(tcr_csv_put *csv, const char *prefix, tcr_group group) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s%s", prefix, fields[i].key);
        tcr_csv_put_word(csv, name);
    }
}

tcr_status tcr_survey_write(const tcr_set *set, tcr_side side, tcr_survey_note note,
                            void *note_context, const tcr_csv_options *options, tcr_sink sink,
                            void *context) {
    tcr_writer writer;
    tcr_csv_put csv;
    if (set == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    if (!tcr_set_has_eye(set, side))
        return TCR_E_MISSING;
    const tcr_status status = tcr_csv_put_begin(&csv, &writer, options, TCR_CSV_ALL_DIGITS);
    if (status != TCR_OK)
        return status;
    tcr_writer_begin(&writer, sink, context);
    tcr_csv_put_word(&csv, "id");
    put_names(&csv, "", TCR_GROUP_LASH);
    put_names(&csv, "ext_", TCR_GROUP_WISH);
    if (note != NULL)
        tcr_csv_put_word(&csv, "note");
    tcr_csv_put_row_end(&csv);
    for (size_t i = 0; i < tcr_set_lash_count(set, side) && writer.status == TCR_OK; i++)
        put_row(&csv, set, side, i, note != NULL ? note(note_context, side, i) : NULL);
    return tcr_writer_end(&writer);
}
