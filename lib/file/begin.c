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

#include "file/error.h"
#include "file/keys.h"
#include "file/look_name.h"
#include "num/number.h"
#include "num/options.h"
#include "num/printable.h"

static const double LONGEST_MM = 12.0; /* of a look, where nobody says it; common practice */
static const tcr_place NOWHERE = {"", 0, 0};

void tcr_begin_options_init(tcr_begin_options *options, size_t size) {
    static const tcr_begin_options DEFAULTS = {.eye = {true, true}};
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

/* A length of the options must be in a tray by half millimetres. */
static tcr_status check_length(double length_mm, const char *member, bool *halves,
                               tcr_error *error) {
    const tcr_tray tray = tray_with(true);
    for (size_t i = 0; i < tray.count; i++)
        if (length_mm == tray.length_mm[i]) {
            *halves = *halves || length_mm != floor(length_mm);
            return TCR_OK;
        }
    char found[TCR_NUMBER_SIZE] = "a number that is not finite";
    if (isfinite(length_mm))
        tcr_number_text(length_mm, found);
    return tcr_fail(error, TCR_E_TRAY, NOWHERE,
                    "%s has %s; lengths are whole or half millimetres from 5 to 20", member, found);
}

/* The member of the options that the map's lengths come from. */
static const char *source_of(const tcr_begin_map *map) {
    return map->options.zones > 0 ? "lengths" : map->options.has_layers ? "layers" : "look";
}

/* Every layer of every zone must be in the tray; at the other end none can leave it. */
static tcr_status check_layers(const tcr_begin_map *map, tcr_error *error) {
    for (size_t zone = 0; zone < map->zones; zone++)
        for (size_t layer = 0; layer < TCR_LAYERS; layer++) {
            char length[TCR_NUMBER_SIZE], whole[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE];
            const double mm = map->length_mm[zone] - map->less_mm[layer];
            if (tcr_tray_has(&map->tray, mm))
                continue;
            tcr_number_text(mm, length);
            tcr_number_text(map->length_mm[zone], whole);
            tcr_number_text(map->tray.length_mm[0], least);
            return tcr_fail(error, TCR_E_TRAY, NOWHERE,
                            "%s: where the zone is %s mm, the %s layer would get %s mm, but the "
                            "tray begins at %s mm; make the zone longer or the layers more alike",
                            source_of(map), whole, tcr_words_layer.word[layer], length, least);
        }
    return TCR_OK;
}

/* ---- The members of the options ------------------------------------------------------ */

static tcr_status take_call(const tcr_begin_options *given, tcr_begin_options *o,
                            tcr_error *error) {
    if (tcr_begin_options_take(given, o) != TCR_OK || o->zones > TCR_ZONES_MAX)
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

/* The lengths of the bottom layer, as given or by the look. */
static tcr_status fill_zones(const tcr_begin_options *o, tcr_begin_map *map, tcr_error *error) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; status == TCR_OK && i < o->zones; i++) {
        map->length_mm[i] = o->length_mm[i];
        status = check_length(o->length_mm[i], "lengths", &map->has_halves, error);
    }
    for (size_t i = 0; status == TCR_OK && o->has_layers && i < TCR_LAYERS; i++)
        status = check_length(o->layer_mm[i], "layers", &map->has_halves, error);
    if (status != TCR_OK)
        return status;
    map->tray = tray_with(map->has_halves);
    map->zones = o->zones;
    if (o->zones > 0)
        return TCR_OK;
    status = tcr_look_name_read("look", o->look != NULL ? o->look : "natural", &map->look, error);
    if (status != TCR_OK)
        return status;
    map->zones = map->look->zones;
    const double longest = o->has_layers ? o->layer_mm[TCR_BOTTOM] : LONGEST_MM;
    return tcr_accept(error, tcr_look_lengths(map->look, longest, &map->tray, map->length_mm),
                      NOWHERE);
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
    for (size_t i = 0; i < TCR_LAYERS; i++)
        map->less_mm[i] = o->has_layers ? longest - o->layer_mm[i] : (double)i * usual;
    const double step = map->less_mm[TCR_MIDDLE];
    map->has_step =
        tcr_field_validate(rule, step, NULL) == TCR_OK && map->less_mm[TCR_TOP] == 2.0 * step;
    map->is_taught = map->has_step && step == usual;
    return check_layers(map, error);
}

/* A program that a note can name. */
static tcr_status check_program(const tcr_begin_options *o, tcr_error *error) {
    for (const char *at = o->program; at != NULL && *at != '\0';) {
        uint32_t code;
        at += tcr_utf8_next(at, &code);
        if (tcr_utf8_is_unsafe(code))
            return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                            "program: its name must be UTF-8 on one line to stand in a note");
    }
    return TCR_OK;
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
        status = fill_zones(o, map, error);
    if (status == TCR_OK)
        status = fill_layers(o, map, error);
    if (status == TCR_OK)
        status = check_program(o, error);
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
