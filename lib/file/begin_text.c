/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The text of a first set file, with its notes. They are for people who have never seen such a
 * file.
 *
 * What nobody has measured is written as a note, switched off: a measure that stands in the file
 * counts as measured, and the report could no longer say what was assumed. All numbers and what
 * they are come from the table of fields.
 */
#include "file/begin.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/field.h>

#include "file/json.h"
#include "file/keys.h"
#include "file/report.h"
#include "num/number.h"
#include "num/printable.h"
#include "num/range.h"

enum { NOTE_COLUMN = 34, NOTE_WIDTH = 57 }; /* where notes behind a value begin, and how wide */

/* ---- The page ------------------------------------------------------------------------ */

typedef struct page {
    tcr_writer *writer;
    size_t column; /* bytes since the line began */
} page;

static void put(page *p, const char *text) {
    const char *line = strrchr(text, '\n');
    tcr_put(p->writer, text);
    p->column = line != NULL ? strlen(line + 1) : p->column + strlen(text);
}

static void put_number(page *p, double number) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(number, text);
    put(p, text);
}

/* A note to the end of the line; each line feed in it begins a line below. */
static void put_note(page *p, const char *text) {
    for (const char *end; *text != '\0'; text = *end != '\0' ? end + 1 : end) {
        end = text + strcspn(text, "\n");
        do
            put(p, " ");
        while (p->column < NOTE_COLUMN);
        put(p, "# ");
        tcr_put_bytes(p->writer, text, (size_t)(end - text));
        put(p, "\n");
    }
}

/* "key: number" with its note; key begins with its blanks, and with "# " where it is switched off.
 */
static void put_entry(page *p, const char *key, double number, const char *text) {
    put(p, key);
    put(p, ": ");
    put_number(p, number);
    put_note(p, text);
}

/* A note whose lines are as long as there is room, with where its number comes from. */
static void put_long_note(page *p, const char *text, const char *source) {
    char note[512];
    size_t begin = 0, blank = 0;
    snprintf(note, sizeof note, "%s%s%s", text, *source != '\0' ? "; " : "", source);
    for (size_t i = 0; note[i] != '\0'; i++) {
        if (note[i] == ' ')
            blank = i;
        if (i - begin >= NOTE_WIDTH && blank > begin) {
            note[blank] = '\n';
            begin = blank + 1;
        }
    }
    put_note(p, note);
}

/* A field with its default, or a value of its own, and what it is. */
static void put_value(page *p, const char *indent, const tcr_field *field, double value) {
    put(p, indent);
    put(p, field->key);
    put(p, ": ");
    if (field->words != NULL)
        put(p, field->words[(size_t)value]);
    else
        put_number(p, value);
    put_long_note(p, field->note, tcr_source_text(field->source));
}

/* The same for a value that the options may have given. */
static void put_given(page *p, const char *indent, const tcr_field *field, double value,
                      bool given) {
    if (!given) {
        put_value(p, indent, field, value);
        return;
    }
    put(p, indent);
    put(p, field->key);
    put(p, ": ");
    put_number(p, value);
    put_long_note(p, field->note, "as you said");
}

static void put_default(page *p, const char *indent, tcr_group group, const char *key) {
    const tcr_field *field = tcr_field_find(group, key);
    put_value(p, indent, field, field->file.standard);
}

/* All fields of a group. */
static void put_defaults(page *p, const char *indent, tcr_group group) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++)
        if (!isnan(fields[i].file.standard))
            put_value(p, indent, &fields[i], fields[i].file.standard);
}

/* ---- The head ------------------------------------------------------------------------ */

static const char OPENING[] =
    "# A first set file for tipcrest, for you to change. What stands behind a # is a note, and\n"
    "# tipcrest skips it.\n"
    "#\n";

static const char ARE_DRAWN[] =
    "# THE LASHES ARE NOT MEASURED: tipcrest draws them by chance from the few numbers under\n"
    "# \"describe\". The figures tell how such a set comes out on lashes of that kind, not on\n"
    "# those of your client.\n";
static const char ARE_INVENTED[] =
    "# THE LASHES ARE INVENTED until you have filled in the survey that is named below.\n";

/* ~ stands for the command as it is called. */
static const char WHAT_FIRST[] =
    "#\n"
    "# See how the set comes out:   ~ check FILE\n"
    "# See it as a picture too:     ~ check FILE --picture set.png\n"
    "# with the name of this file in place of FILE.\n"
    "#\n"
    "# What to change first\n"
    "#   1. map         how long the extensions are from corner to corner, and their curl\n"
    "#   2. step_mm     how much shorter they are on the higher layers\n"
    "#   3. lengths_mm  the lengths that you have at hand\n";
static const char THEN_DESCRIBE[] =
    "#   4. describe    how many lashes there are, and how long; or go over to a survey of the\n"
    "#                  real ones: above \"describe\" it says how\n";
static const char THEN_SURVEY[] =
    "#   4. survey      the lashes, in the file that is named there\n";

static const char HOW[] =
    "#   5. lid         the measures of the eye\n"
    "#\n"
    "# How to change it\n"
    "#   All lengths are in millimetres, all angles in degrees. Write the number alone, and with\n"
    "#   a point: 0.15. Leave the blanks at the beginning of a line: they show what belongs\n"
    "#   together.\n"
    "#   Some lines are switched off by a # in front, such as \"# lid:\" and the measures below\n"
    "#   it: tipcrest then takes the number that stands there, and reports it as assumed. To\n"
    "#   switch a line on, write your number and take away the # together with the one blank\n"
    "#   behind it. Do the same with the line that heads it, such as \"# lid:\".\n"
    "#\n"
    "# Where the numbers come from\n"
    "#   published        measured and printed; the README of tipcrest names the source\n"
    "#   common practice  the trade does it so; there is no source\n"
    "#   assumed          nobody has measured it, and something had to be chosen\n"
    "\n";

/* Text in which ~ stands for the command. */
static void put_with_program(page *p, const tcr_begin_map *map, const char *text) {
    const char *program = map->options.program;
    for (const char *tilde; (tilde = strchr(text, '~')) != NULL; text = tilde + 1) {
        tcr_put_bytes(p->writer, text, (size_t)(tilde - text));
        tcr_put(p->writer, program != NULL && *program != '\0' ? program : "tipcrest");
    }
    put(p, text);
}

static bool is_surveyed(const tcr_begin_map *map) {
    const tcr_begin_options *o = &map->options;
    return (o->eye[TCR_LEFT] && o->survey[TCR_LEFT] != NULL) ||
           (o->eye[TCR_RIGHT] && o->survey[TCR_RIGHT] != NULL);
}

static void put_head(page *p, const tcr_begin_map *map) {
    const bool surveyed = is_surveyed(map);
    put(p, OPENING);
    put(p, surveyed ? ARE_INVENTED : ARE_DRAWN);
    put_with_program(p, map, WHAT_FIRST);
    put(p, surveyed ? THEN_SURVEY : THEN_DESCRIBE);
    put(p, HOW);
    put(p, "tipcrest: 1");
    put_note(p, "the format of this file; always 1");
    put(p, "title: ");
    if (map->options.title != NULL)
        tcr_yaml_put_text(p->writer, map->options.title);
    else
        put(p, map->title);
    put(p, "\n");
    put(p, "# subject: practice-head");
    put_note(p, "switch this on for a practice head, whose eye cannot open");
}

/* ---- What holds for the whole set ---------------------------------------------------- */

static const char LAYERING[] =
    "\n"
    "# The layers: bottom, middle and top, as the lashes root above each other.\n"
    "layering:\n";

static const char PLACEMENT[] =
    "  # Where the extension lies on its lash: top, underside, inner-side or outer-side. On top\n"
    "  # is common practice. The usual placement with a millimetre less for each layer up, which\n"
    "  # draws the layers together, is\n"
    "  #   placement: {bottom: top, middle: outer-side, top: underside}\n"
    "  placement: {";
static const char TAUGHT[] =
    "  # Where the extension lies on its lash: top, underside, inner-side or outer-side. This is\n"
    "  # the usual placement with a millimetre less for each layer up; it draws the layers\n"
    "  # together. All on top is common practice too, and needs other lengths:\n"
    "  #   placement: {bottom: top, middle: top, top: top}\n"
    "  # The lengths for each placement and curl come from\n"
    "  #   ~ step FILE\n"
    "  placement: {";

static const char TRAY[] = "\n"
                           "# The lengths that you have at hand; no other is used.";

static void put_step(page *p, const tcr_begin_map *map) {
    if (!map->has_step)
        put_entry(p, "  step_mm", tcr_layering_default().step_mm,
                  "shorter by this for each layer up; common practice. But every\n"
                  "zone below gives its own lengths to middle and top, and they win");
    else if (map->options.has_layers || !map->is_taught)
        put_entry(p, "  step_mm", map->less_mm[TCR_MIDDLE],
                  map->options.has_layers
                      ? "shorter by this for each layer up; as you asked"
                      : "shorter by this for each layer up; your tray lacks the\n"
                        "lengths for 1, which is common practice");
    else
        put_entry(p, "  step_mm", map->less_mm[TCR_MIDDLE],
                  "shorter by this for each layer up; common practice");
}

static void put_layering(page *p, const tcr_begin_map *map) {
    static const tcr_placement taught[TCR_LAYERS] = TCR_USUAL_PLACEMENT;
    const tcr_layering rule = tcr_layering_default();
    put(p, LAYERING);
    put_step(p, map);
    put_given(p, "  ", tcr_field_find(TCR_GROUP_LAYERING, "diameter_mm"), map->diameter_mm,
              map->own_diameter);
    put_default(p, "  ", TCR_GROUP_LAYERING, "fan");
    put_default(p, "  ", TCR_GROUP_LAYERING, "spread_deg");
    put_with_program(p, map, map->is_taught ? TAUGHT : PLACEMENT);
    for (size_t layer = 0; layer < TCR_LAYERS; layer++) {
        put(p, layer > 0 ? ", " : "");
        put(p, tcr_words_layer.word[layer]);
        put(p, ": ");
        put(p, tcr_words_placement.word[map->is_taught ? taught[layer] : rule.placement[layer]]);
    }
    put(p, "}\n");
    put_default(p, "  ", TCR_GROUP_LAYERING, "blend");
}

static void put_tray(page *p, const tcr_begin_map *map) {
    enum { LINE_END = 84 };
    const tcr_tray *tray = &map->tray;
    put(p, TRAY);
    put(p, map->options.tray_lengths > 0 ? "\n" : " Assumed: write those of your trays.\n");
    put(p, "tray:\n"
           "  lengths_mm: [");
    for (size_t i = 0; i < tray->count; i++) {
        put(p, i == 0 ? "" : p->column < LINE_END ? ", " : ",\n    ");
        put_number(p, tray->length_mm[i]);
    }
    put(p, "]\n");
}

static const char MEAN_LASH[] =
    "\n"
    "# The line that the map asks for is drawn with the average of this client's own lashes. A\n"
    "# section mean_lash gives numbers in place of theirs, for the whole lid, for example\n"
    "#   mean_lash: {length_mm: 8}\n";

static const char CURLS[] =
    "\n"
    "# What the letter of a curl means. Makers differ and there is no standard: common practice,\n"
    "# from memory. The pieces go from the base to the tip; each has its share of the length and\n"
    "# how far it turns.\n"
    "# curls:\n"
    "#   ";

static const char PLAN[] =
    "\n"
    "# What a plan keeps to (~ plan FILE). No limit of what a lash may carry has been\n"
    "# validated: your training and your judgement go first.\n"
    "# plan:\n";

static const char PACE[] = "\n"
                           "# How you work: from it plan counts minutes and finds an order in "
                           "which no lash is placed next\n"
                           "# to glue that is soft.\n"
                           "# pace:\n";

static void put_plan(page *p, const tcr_begin_map *map) {
    put_with_program(p, map, PLAN);
    put_defaults(p, "#   ", TCR_GROUP_LIMITS);
    put_with_program(p, map, PACE);
    put_defaults(p, "#   ", TCR_GROUP_PACE);
}

static const char SELDOM[] = "\n"
                             "# ---- What seldom needs a change ----\n"
                             "\n"
                             "bond:\n";

static void put_rest(page *p) {
    put(p, SELDOM);
    put_defaults(p, "  ", TCR_GROUP_BOND);
    put(p, "line:\n");
    put_defaults(p, "  ", TCR_GROUP_LINE);
    put_defaults(p, "", TCR_GROUP_VIEW);
    put(p, MEAN_LASH);
}

/* The curl of the map, as the catalogue has it. */
static void put_curl(page *p, const char *label) {
    size_t i = 0;
    const tcr_curl *curl = tcr_curl_catalogue(NULL);
    while (strcmp(curl[i].label, label) != 0)
        i++;
    const tcr_profile *profile = &curl[i].profiles[0];
    put(p, CURLS);
    put(p, label);
    for (int piece = 0; piece < profile->pieces; piece++) {
        put(p, piece == 0 ? ": [[" : ", [");
        put_number(p, profile->share[piece]);
        put(p, ", ");
        put_number(p, tcr_degrees_of(profile->turn_rad[piece]));
        put(p, "]");
    }
    put(p, "]\n");
}

/* ---- An eye -------------------------------------------------------------------------- */

static const char MAP[] =
    "    # The map: zones from the inner corner outwards. 'to' is where a zone ends: 0 is the\n"
    "    # inner corner, 0.5 the middle of the eye, 1 the outer corner, where the last one ends.\n"
    "    # length_mm is for the bottom layer. Curls:";

static const char DESCRIBE[] =
    "    # The lashes are drawn by chance, as many and of such a kind as these numbers say. To go\n"
    "    # over to the real ones, make a survey:\n"
    "    #   ~ begin -o other.yaml --survey lashes.csv\n"
    "    # writes one to fill in, and a set file that uses it. Or, if you have a survey in the\n"
    "    # folder of this file, put one line in place of \"describe:\" and of all that is below "
    "it:\n"
    "    #   survey: lashes.csv\n";

static const char SURVEY[] =
    "    # The survey has a row for each lash of this eye. Open it in a spreadsheet or any "
    "editor;\n"
    "    # it stays in the folder of this file or below it. Its numbers are INVENTED until you\n"
    "    # have written yours over them. Its first lines say how to measure.\n";

static const char LID[] =
    "    # The eye, measured on the client: sitting upright, looking straight ahead.\n";

static void put_map_notes(page *p, const tcr_begin_map *map) {
    size_t count;
    const tcr_curl *curl = tcr_curl_catalogue(&count);
    put(p, MAP);
    for (size_t i = 0; i < count; i++) {
        put(p, " ");
        put(p, curl[i].label);
    }
    put(p, ".\n");
    if (map->look != NULL) {
        put(p, "    # The look \"");
        put(p, map->look->name);
        put(p, "\" is ");
        put(p, map->look->about);
        put(p, ".\n    # Its shape is common practice.\n");
        if (tcr_begin_other_zones(map))
            put(p, "    # Some zones have another length than it would give: the tray lacks what\n"
                   "    # their upper layers would need.\n");
    }
}

static void put_map(page *p, const tcr_begin_map *map) {
    put(p, "    map:\n");
    for (size_t i = 0; i < map->zones; i++) {
        put(p, "      - {to: ");
        put_number(p, tcr_look_zone_end(i, map->zones));
        put(p, ", length_mm: ");
        put_number(p, map->length_mm[i]);
        put(p, ", curl: ");
        put(p, map->curl);
        for (size_t layer = TCR_MIDDLE; !map->has_step && layer < TCR_LAYERS; layer++) {
            put(p, ", ");
            put(p, tcr_words_layer.word[layer]);
            put(p, ": {length_mm: ");
            put_number(p, map->length_mm[i] - map->less_mm[layer]);
            put(p, "}");
        }
        put(p, "}\n");
    }
}

static void put_description(page *p, const tcr_begin_map *map, tcr_side side, bool is_first) {
    static const char INDENT[] = "        ";
    put_with_program(p, map, is_first ? DESCRIBE : "");
    put(p, "    lashes:\n"
           "      describe:\n");
    put_given(p, INDENT, tcr_field_find(TCR_GROUP_DESCRIPTION, "count"), (double)map->count,
              map->options.count > 0);
    put_value(p, INDENT, tcr_field_find(TCR_GROUP_DESCRIPTION, "seed"), (double)map->seed[side]);
    if (map->options.seed[side] > 0)
        put(p, "                                  # here the first of 32 whose lashes all carry "
               "the map\n"
               "                                  # within the limits of a plan\n");
    put_given(p, INDENT, tcr_field_find(TCR_GROUP_DESCRIPTION, "length_mm"), map->lash_mm,
              !isnan(map->options.lash_mm));
    put_default(p, INDENT, TCR_GROUP_DESCRIPTION, "length_sd_mm");
    put_default(p, INDENT, TCR_GROUP_DESCRIPTION, "turn_deg");
    put_default(p, INDENT, TCR_GROUP_DESCRIPTION, "pitch_deg");
    put_default(p, INDENT, TCR_GROUP_DESCRIPTION, "gap_mm");
    put_default(p, INDENT, TCR_GROUP_DESCRIPTION, "phases");
}

static bool is_plain(const char *name) {
    static const char PLAIN[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-./";
    const size_t length = strlen(name);
    return length > 4 && strcmp(name + length - 4, ".csv") == 0 && strspn(name, PLAIN) == length &&
           strchr("-./", *name) == NULL;
}

/* What YAML does not take as it is: control characters, what ends a line, marks of direction. */
static bool is_odd(uint32_t code) {
    return code < 0x20 || (code >= 0x7f && code <= 0xa0) || (code >= 0x2000 && code <= 0x206f) ||
           code == 0xfeff || code == 0xfffe || code == 0xffff;
}

/* The name of a file, in double quotes where it has to be. It is UTF-8. */
static void put_name(page *p, const char *name) {
    if (is_plain(name)) {
        put(p, name);
        return;
    }
    put(p, "\"");
    while (*name != '\0') {
        uint32_t code;
        const size_t bytes = tcr_utf8_next(name, &code);
        char escape[] = "\\uxxxx";
        for (int i = 0; i < 4; i++)
            escape[2 + i] = "0123456789abcdef"[code >> (12 - 4 * i) & 15];
        if (is_odd(code)) {
            put(p, escape);
        } else {
            put(p, code == '"' || code == '\\' ? "\\" : "");
            tcr_put_bytes(p->writer, name, bytes);
        }
        name += bytes;
    }
    put(p, "\"");
}

static void put_survey(page *p, const char *name, bool is_first) {
    put(p, is_first ? SURVEY : "");
    put(p, "    lashes:\n"
           "      survey: ");
    put_name(p, name);
    put(p, "\n      drawn: true");
    put_note(p, "the survey's numbers are drawn by chance; take this line\n"
                "away when yours stand in it");
}

static void put_lid(page *p, const tcr_begin_map *map, tcr_side side, bool is_first) {
    const tcr_begin_options *o = &map->options;
    const bool own = side == TCR_RIGHT && !isnan(o->mrd1_right_mm);
    const double mrd1_mm = own ? o->mrd1_right_mm : o->mrd1_mm;
    put(p, is_first ? LID : "");
    put(p, isnan(mrd1_mm) ? "    # lid:\n" : "    lid:\n");
    put_default(p, "    #   ", TCR_GROUP_LID, "fissure_width_mm");
    put_default(p, "    #   ", TCR_GROUP_LID, "canthal_tilt_deg");
    if (isnan(mrd1_mm))
        put_default(p, "    #   ", TCR_GROUP_LID, "mrd1_mm");
    else
        put_given(p, "      ", tcr_field_find(TCR_GROUP_LID, "mrd1_mm"), mrd1_mm, true);
    put_default(p, "    #   ", TCR_GROUP_LID, "mrd2_mm");
}

static void put_eye(page *p, const tcr_begin_map *map, tcr_side side, bool is_first) {
    const char *survey = map->options.survey[side];
    put(p, "  - side: ");
    put(p, tcr_words_side.word[side]);
    put_note(p, is_first ? "the client's own, not as you see it"
                         : "with the same map, unless you change it");
    if (is_first)
        put_map_notes(p, map);
    put_map(p, map);
    if (survey != NULL)
        put_survey(p, survey, is_first);
    else
        put_description(p, map, side, is_first);
    put_lid(p, map, side, is_first);
}

void tcr_begin_put_set(tcr_writer *writer, const tcr_begin_map *map) {
    page p = {.writer = writer};
    bool is_first = true;
    put_head(&p, map);
    put_layering(&p, map);
    put_tray(&p, map);
    put(&p, "\neyes:\n");
    for (size_t side = 0; side < TCR_SIDES; side++) {
        if (!map->options.eye[side])
            continue;
        put(&p, is_first ? "" : "\n");
        put_eye(&p, map, (tcr_side)side, is_first);
        is_first = false;
    }
    put_rest(&p);
    put_plan(&p, map);
    put_curl(&p, map->curl);
}
