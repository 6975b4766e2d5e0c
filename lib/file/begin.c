/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a first set file is to hold: options are checked and completed. Every length that the map
 * and the layers lead to must be in the tray that the file will have, so that check takes the file
 * as it is, whatever lashes there are.
 */
#include "file/begin.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/describe.h>

#include "file/error.h"
#include "file/keys.h"
#include "file/look_name.h"
#include "num/number.h"
#include "num/options.h"
#include "num/order.h"
#include "num/printable.h"

/*
 * Where nobody says it. With this and a longest zone of 10 mm, hardly any default lash with an
 * extension is beyond the limits that a plan assumes, 1 of 112 with seeds 1 and 2; with 12 mm and
 * 0.15 mm, common too, 56 were.
 */
static const double DIAMETER_MM = 0.12;

static const tcr_place NOWHERE = {"", 0, 0};

void tcr_begin_options_init(tcr_begin_options *options, size_t size) {
    static const tcr_begin_options DEFAULTS = {.eye = {true, true},
                                               .lash_mm = NAN,
                                               .mrd1_mm = NAN,
                                               .diameter_mm = NAN,
                                               .mrd1_right_mm = NAN};
    tcr_options_init(options, size, &DEFAULTS, sizeof DEFAULTS);
}

tcr_status tcr_begin_options_take(const tcr_begin_options *given, tcr_begin_options *taken) {
    *taken = tcr_begin_options_default();
    if (given == NULL)
        return TCR_E_ARGUMENT;
    return tcr_options_take(taken, sizeof *taken, given);
}

/* ---- Tray and lengths ---------------------------------------------------------------- */

/* The default tray, by half millimetres where they are needed. */
static tcr_tray tray_with(bool halves) {
    tcr_tray tray = tcr_tray_default();
    if (!halves)
        return tray;
    const double from = tray.length_mm[0];
    tray.count = 2 * tray.count - 1;
    for (size_t i = 0; i < tray.count; i++)
        tray.length_mm[i] = from + (double)i / 2.0;
    return tray;
}

/* The lengths of a given tray, each once, rising. */
static tcr_status take_tray(const tcr_begin_options *o, tcr_tray *tray, tcr_error *error) {
    tcr_field field = *tcr_field_find(TCR_GROUP_TRAY, "lengths_mm");
    field.key = "tray";
    *tray = (tcr_tray){.count = o->tray_lengths};
    for (size_t i = 0; i < tray->count; i++) {
        tray->length_mm[i] = o->tray_mm[i];
        if (tcr_field_validate(&field, o->tray_mm[i], error) != TCR_OK)
            return error->status;
    }
    tcr_sort(tray->length_mm, tray->count);
    for (size_t i = 1; i < tray->count; i++)
        if (tray->length_mm[i] == tray->length_mm[i - 1]) {
            char twice[TCR_NUMBER_SIZE];
            tcr_number_text(tray->length_mm[i], twice);
            return tcr_fail(error, TCR_E_TRAY, NOWHERE, "tray has %s twice; give each length once",
                            twice);
        }
    return TCR_OK;
}

/* A length of the options must be in the tray that is given, or in one by half millimetres. */
static tcr_status check_length(const tcr_begin_options *o, double length_mm, const char *member,
                               tcr_begin_map *map, tcr_error *error) {
    const bool given = o->tray_lengths > 0;
    const tcr_tray halves = tray_with(true);
    const tcr_tray *tray = given ? &map->tray : &halves;
    for (size_t i = 0; i < tray->count; i++)
        if (length_mm == tray->length_mm[i]) {
            map->has_halves = map->has_halves || length_mm != floor(length_mm);
            return TCR_OK;
        }
    char found[TCR_NUMBER_SIZE] = "a number that is not finite";
    tcr_list list = {0};
    if (isfinite(length_mm))
        tcr_number_text(length_mm, found);
    if (!given)
        return tcr_fail(error, TCR_E_TRAY, NOWHERE,
                        "%s has %s; lengths are whole or half millimetres from 5 to 20", member,
                        found);
    for (size_t i = 0; i < tray->count; i++)
        tcr_list_add_number(&list, tray->length_mm[i]);
    return tcr_fail(error, TCR_E_TRAY, NOWHERE, "%s has %s, which the tray lacks; it has %s",
                    member, found, list.text);
}

/* The member of the options that the map's lengths come from. */
static const char *source_of(const tcr_begin_map *map) {
    return map->options.zones > 0 ? "lengths" : map->options.has_layers ? "layers" : "look";
}

/* By how much the shortest layer is shorter than the bottom one. */
static double most_less(const tcr_begin_map *map) {
    double most = 0.0;
    for (size_t layer = 0; layer < TCR_LAYERS; layer++)
        most = fmax(most, map->less_mm[layer]);
    return most;
}

/* Every layer of every zone must be in the tray; error may be NULL. */
static tcr_status check_layers(const tcr_begin_map *map, tcr_error *error) {
    for (size_t zone = 0; zone < map->zones; zone++)
        for (size_t layer = 0; layer < TCR_LAYERS; layer++) {
            char length[TCR_NUMBER_SIZE], whole[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE];
            const double mm = map->length_mm[zone] - map->less_mm[layer];
            if (tcr_tray_has(&map->tray, mm))
                continue;
            if (error == NULL)
                return TCR_E_TRAY;
            tcr_number_text(mm, length);
            tcr_number_text(map->length_mm[zone], whole);
            tcr_number_text(map->tray.length_mm[0] + most_less(map), least);
            if (mm < map->tray.length_mm[0])
                return tcr_fail(error, TCR_E_TRAY, NOWHERE,
                                "%s: in a zone of %s mm the %s layer would get %s mm, less than "
                                "any of the tray; %s at least %s mm, or layers that differ less",
                                source_of(map), whole, tcr_words_layer.word[layer], length,
                                map->options.zones > 0 ? "give that zone"
                                                       : "give the zones (lengths), each",
                                least);
            return tcr_fail(error, TCR_E_TRAY, NOWHERE,
                            "%s: in a zone of %s mm the %s layer would get %s mm, which the tray "
                            "lacks; add it to the tray, or give layers that differ otherwise",
                            source_of(map), whole, tcr_words_layer.word[layer], length);
        }
    return TCR_OK;
}

/* ---- The members of the options ------------------------------------------------------ */

static tcr_status take_call(const tcr_begin_options *given, tcr_begin_options *o,
                            tcr_error *error) {
    if (tcr_begin_options_take(given, o) != TCR_OK || o->zones > TCR_ZONES_MAX ||
        o->tray_lengths > TCR_TRAY_MAX)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s", tcr_status_text(TCR_E_ARGUMENT));
    if (!o->eye[TCR_LEFT] && !o->eye[TCR_RIGHT])
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "eyes: a set has one eye or two");
    if (o->zones > 0 && o->look != NULL)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                        "look and lengths both give the map; leave one of them out");
    return TCR_OK;
}

static tcr_status find_curl(const tcr_begin_options *o, tcr_begin_map *map, tcr_error *error) {
    enum { NAMES_MAX = 64 }; /* names that a message lists */
    const char *names[NAMES_MAX], *wanted = o->curl != NULL ? o->curl : "C";
    size_t count;
    const tcr_curl *curls = tcr_curl_catalogue(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(wanted, curls[i].label) == 0) {
            map->curl = curls[i].label;
            return TCR_OK;
        }
        if (i < NAMES_MAX)
            names[i] = curls[i].label;
    }
    return tcr_fail_unknown(error, TCR_E_CURL, "curl", wanted, names,
                            count < NAMES_MAX ? count : NAMES_MAX);
}

/* A number of the options, or the default of its field. */
static tcr_status take_number(tcr_group group, const char *key, const char *member, double given,
                              double usual, double *taken, tcr_error *error) {
    tcr_field field = *tcr_field_find(group, key);
    field.key = member;
    *taken = isnan(given) ? usual : given;
    return isnan(given) ? TCR_OK : tcr_field_validate(&field, given, error);
}

static tcr_status fill_lashes(const tcr_begin_options *o, tcr_begin_map *map, tcr_error *error) {
    const tcr_description usual = tcr_description_default();
    double count = (double)usual.count;
    tcr_status status = take_number(TCR_GROUP_DESCRIPTION, "count", "count",
                                    o->count > 0 ? (double)o->count : NAN, count, &count, error);
    if (status == TCR_OK)
        status = take_number(TCR_GROUP_DESCRIPTION, "length_mm", "length", o->lash_mm,
                             usual.length_mm, &map->lash_mm, error);
    if (status == TCR_OK)
        status = take_number(TCR_GROUP_LID, "mrd1_mm", "mrd1", o->mrd1_mm,
                             tcr_lid_default().mrd1_mm, &map->mrd1_mm, error);
    if (status == TCR_OK)
        status = take_number(TCR_GROUP_LID, "mrd1_mm", "mrd1-right", o->mrd1_right_mm, map->mrd1_mm,
                             &map->mrd1_right_mm, error);
    if (status == TCR_OK && !isnan(o->mrd1_right_mm) && !(o->eye[TCR_LEFT] && o->eye[TCR_RIGHT]))
        status = tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                          "mrd1-right is for two eyes; of one eye mrd1 is the number");
    if (status == TCR_OK)
        status = take_number(TCR_GROUP_LAYERING, "diameter_mm", "diameter", o->diameter_mm,
                             DIAMETER_MM, &map->diameter_mm, error);
    for (size_t side = 0; side < TCR_SIDES; side++) {
        double seed = (double)(side + 1);
        if (status == TCR_OK)
            status =
                take_number(TCR_GROUP_DESCRIPTION, "seed", "seed",
                            o->seed[side] > 0 ? (double)o->seed[side] : NAN, seed, &seed, error);
        map->seed[side] = status == TCR_OK ? (uint64_t)seed : 0; /* as for the count below */
    }
    map->own_diameter = map->diameter_mm != DIAMETER_MM;
    map->count = status == TCR_OK ? (size_t)count : 0; /* a refused one may fit no size_t */
    map->title = o->title != NULL ? o->title
                 : o->survey[TCR_LEFT] != NULL || o->survey[TCR_RIGHT] != NULL
                     ? "My first set, on invented lashes"
                     : "My first set, on lashes drawn by chance";
    return status;
}

/* The lengths of the bottom layer, as given or by the look. */
static tcr_status fill_zones(const tcr_begin_options *o, tcr_begin_map *map, tcr_error *error) {
    tcr_status status = take_tray(o, &map->tray, error);
    for (size_t i = 0; status == TCR_OK && i < o->zones; i++) {
        map->length_mm[i] = o->length_mm[i];
        status = check_length(o, o->length_mm[i], "lengths", map, error);
    }
    for (size_t i = 0; status == TCR_OK && o->has_layers && i < TCR_LAYERS; i++)
        status = check_length(o, o->layer_mm[i], "layers", map, error);
    if (status != TCR_OK)
        return status;
    if (o->tray_lengths == 0)
        map->tray = tray_with(map->has_halves);
    map->zones = o->zones;
    if (o->zones > 0)
        return TCR_OK;
    status = tcr_look_name_read("look", o->look != NULL ? o->look : "natural", &map->look, error);
    if (status != TCR_OK)
        return status;
    map->zones = map->look->zones;
    if (o->has_layers)
        return tcr_accept(
            error, tcr_look_lengths(map->look, o->layer_mm[TCR_BOTTOM], &map->tray, map->length_mm),
            NOWHERE);
    return tcr_accept(error, tcr_begin_fit_look(map), NOWHERE);
}

/* A given tray may lack what the usual step needs: then a smaller one. */
static void shrink_step(tcr_begin_map *map) {
    static const double STEP_MM[] = {0.5, 0.0};
    for (size_t s = 0; s < sizeof STEP_MM / sizeof *STEP_MM && check_layers(map, NULL) != TCR_OK;
         s++)
        for (size_t i = 0; i < TCR_LAYERS; i++)
            map->less_mm[i] = (double)i * STEP_MM[s];
}

/* How much shorter the upper layers are. */
static tcr_status fill_layers(const tcr_begin_options *o, tcr_begin_map *map, tcr_error *error) {
    double longest = 0.0;
    for (size_t i = 0; i < map->zones; i++)
        longest = fmax(longest, map->length_mm[i]);
    if (o->has_layers && o->layer_mm[TCR_BOTTOM] != longest) {
        char first[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
        tcr_number_text(o->layer_mm[TCR_BOTTOM], first);
        tcr_number_text(longest, most);
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                        "layers begins with %s, but the longest zone has %s; the first of layers "
                        "is the bottom layer of that zone",
                        first, most);
    }
    const tcr_field *rule = tcr_field_find(TCR_GROUP_LAYERING, "step_mm");
    const double usual = rule->file.standard;
    for (size_t i = 0; i < TCR_LAYERS && (o->has_layers || o->zones > 0); i++)
        map->less_mm[i] = o->has_layers ? longest - o->layer_mm[i] : (double)i * usual;
    if (!o->has_layers && o->zones > 0 && o->tray_lengths > 0)
        shrink_step(map);
    const double step = map->less_mm[TCR_MIDDLE];
    map->has_step =
        tcr_field_validate(rule, step, NULL) == TCR_OK && map->less_mm[TCR_TOP] == 2.0 * step;
    map->is_taught = map->has_step && step == usual;
    return check_layers(map, error);
}

/* UTF-8 on one line, so that it can stand in the file; what is at fault stands first. */
static tcr_status check_line(const char *text, const char *wrong, tcr_error *error) {
    for (const char *at = text; at != NULL && *at != '\0';) {
        uint32_t code;
        at += tcr_utf8_next(at, &code);
        if (tcr_utf8_is_unsafe(code))
            return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s", wrong);
    }
    return TCR_OK;
}

static tcr_status check_texts(const tcr_begin_options *o, tcr_error *error) {
    if (o->title != NULL && strnlen(o->title, TCR_TITLE_SIZE_MAX) >= TCR_TITLE_SIZE_MAX)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                        "title is too long; it may have at most %d bytes",
                        (int)TCR_TITLE_SIZE_MAX - 1);
    const tcr_status status = check_line(o->title, "title: it must be UTF-8 on one line", error);
    return status != TCR_OK
               ? status
               : check_line(o->program,
                            "program: its name must be UTF-8 on one line to stand in a note",
                            error);
}

/* Surveys for all eyes or none, with names that a set file can hold. */
static tcr_status check_surveys(const tcr_begin_options *o, tcr_error *error) {
    size_t eyes = 0, named = 0;
    for (size_t side = 0; side < TCR_SIDES; side++) {
        const char *name = o->eye[side] ? o->survey[side] : NULL;
        eyes += o->eye[side];
        named += name != NULL;
        for (size_t i = 0; name != NULL && name[i] != '\0';) {
            uint32_t code;
            i += tcr_utf8_next(name + i, &code);
            if (code == TCR_UTF8_INVALID)
                return tcr_fail(error, TCR_E_CONTENT, NOWHERE,
                                "survey: the name of a file must be UTF-8 to stand in a set file");
        }
        if (name != NULL && (*name == '\0' || *name == '/'))
            return tcr_fail(error, TCR_E_CONTENT, NOWHERE,
                            "survey: a set file names its survey from its own folder, such as "
                            "lashes.csv");
    }
    if (named != 0 && (o->count > 0 || !isnan(o->lash_mm)))
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                        "%s is for lashes that are described; those of a survey stand in its rows",
                        o->count > 0 ? "count" : "length");
    if (named != 0 && named != eyes)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "survey: give it for both eyes or none");
    return TCR_OK;
}

tcr_status tcr_begin_map_of(const tcr_begin_options *options, tcr_begin_map *map,
                            tcr_error *error) {
    *map = (tcr_begin_map){.curl = NULL};
    const tcr_begin_options *o = &map->options;
    tcr_status status = take_call(options, &map->options, error);
    if (status == TCR_OK)
        status = find_curl(o, map, error);
    if (status == TCR_OK)
        status = fill_lashes(o, map, error);
    if (status == TCR_OK)
        status = fill_zones(o, map, error);
    if (status == TCR_OK)
        status = fill_layers(o, map, error);
    if (status == TCR_OK)
        status = check_texts(o, error);
    return status == TCR_OK ? check_surveys(o, error) : status;
}

/* ---- Public -------------------------------------------------------------------------- */

tcr_status tcr_begin_validate(const tcr_begin_options *options, tcr_error *error) {
    tcr_begin_map map;
    tcr_error unread;
    return tcr_begin_map_of(options, &map, error != NULL ? error : &unread);
}

tcr_status tcr_begin_write(const tcr_begin_options *options, tcr_sink sink, void *context) {
    tcr_begin_map map;
    tcr_error unread;
    const tcr_status status = tcr_begin_map_of(options, &map, &unread);
    if (status != TCR_OK)
        return status;
    if (sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    tcr_begin_put_set(&writer, &map);
    return tcr_writer_end(&writer);
}
