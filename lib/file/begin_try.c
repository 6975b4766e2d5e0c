/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whether a first set file is one to go on with: its text is read again, checked and planned, as
 * its user would do next. Lashes of a survey do not exist yet; described ones stand for them.
 * Seeds are chosen so that one thin lash of a client drawn by chance does not break the limits.
 */
#include "file/begin.h"

#include <math.h>
#include <string.h>

#include <tipcrest/plan.h>

#include "file/error.h"
#include "file/report_table.h"
#include "file/set_file.h"
#include "num/memory.h"

enum { COUNT_MOST = 400 }; /* lashes that tell enough; a plan of more takes long */

static const tcr_place NOWHERE = {"", 0, 0};

/* Text in memory. */
typedef struct memory_text {
    tcr_allocator allocator;
    char *bytes;
    size_t count, capacity;
} memory_text;

static int keep(void *context, const void *bytes, size_t count) {
    memory_text *text = context;
    while (text->capacity - text->count < count)
        if (tcr_grow(&text->allocator, (void **)&text->bytes, text->capacity, &text->capacity, 1) !=
            TCR_OK)
            return -1;
    memcpy(text->bytes + text->count, bytes, count);
    text->count += count;
    return 0;
}

/* An eye whose lashes are too few for a line. */
static tcr_status judge_count(const tcr_begin_map *map, const tcr_check *check, tcr_error *error) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        if (eye != NULL && eye->too_few)
            return tcr_fail(error, TCR_E_NO_SOLUTION, NOWHERE,
                            "%s: of %zu lashes of the %s eye only %zu can carry an extension, and "
                            "fewer than %d are too few to judge; give more lashes (count) or "
                            "longer ones (length)",
                            isnan(map->options.lash_mm) ? "count" : "length", eye->lashes,
                            tcr_side_text(eye->side), eye->extended, (int)TCR_TOO_FEW);
    }
    return TCR_OK;
}

/* A plan for which too few lashes bear what the map gives. */
static tcr_status judge_plan(const tcr_begin_map *map, const tcr_check *check, tcr_error *error) {
    const tcr_begin_options *o = &map->options;
    tcr_plan *plan = NULL;
    char lash[TCR_NUMBER_SIZE], diameter[TCR_NUMBER_SIZE];
    tcr_status status = tcr_plan_new(tcr_check_set(check), NULL, &plan, error);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        if (eye != NULL && eye->suitable < (size_t)TCR_TOO_FEW)
            status = TCR_E_NO_SOLUTION;
    }
    tcr_plan_free(plan);
    if (status == TCR_OK || status == TCR_E_MEMORY)
        return tcr_accept(error, status, NOWHERE);
    if (status != TCR_E_NO_SOLUTION)
        return tcr_fail_here(error, NOWHERE);
    tcr_number_text(map->lash_mm, lash);
    tcr_number_text(map->diameter_mm, diameter);
    return tcr_fail(
        error, status, NOWHERE,
        "%s: with %s mm thick, fewer than %d lashes of an eye carry these lengths within "
        "the limits that plan assumes; give shorter lengths, a smaller diameter, more "
        "lashes (count) or longer ones than %s mm (length)",
        o->zones > 0    ? "lengths"
        : o->has_layers ? "layers"
                        : "look",
        diameter, (int)TCR_TOO_FEW, lash);
}

/* Reads the text again that a map comes to; *file is the caller's to free. */
static tcr_status read_again(const tcr_begin_map *map, tcr_set_file **file, tcr_error *error) {
    memory_text text = {.bytes = NULL};
    tcr_writer writer;
    (void)tcr_allocator_choose(NULL, &text.allocator);
    tcr_writer_begin(&writer, keep, &text);
    tcr_begin_put_set(&writer, map);
    const tcr_status status = tcr_writer_end(&writer) == TCR_OK
                                  ? tcr_set_file_parse(text.bytes, text.count, "", NULL, NULL,
                                                       &text.allocator, file, error)
                                  : tcr_fail_memory(error, "");
    tcr_release(&text.allocator, text.bytes);
    return status;
}

tcr_status tcr_begin_try(const tcr_begin_options *options, tcr_error *error) {
    tcr_error unread;
    tcr_begin_map map;
    tcr_set_file *file = NULL;
    tcr_check *check = NULL;
    if (error == NULL)
        error = &unread;
    tcr_status status = tcr_begin_map_of(options, &map, error);
    if (status != TCR_OK)
        return status;
    for (int side = 0; side < TCR_SIDES; side++)
        map.options.survey[side] = NULL;
    map.count = map.count < COUNT_MOST ? map.count : COUNT_MOST;
    status = read_again(&map, &file, error);
    if (status == TCR_OK)
        status = tcr_set_file_check(file, NULL, &check, error);
    if (status == TCR_OK)
        status = judge_count(&map, check, error);
    if (status == TCR_OK)
        status = judge_plan(&map, check, error);
    tcr_check_free(check);
    tcr_set_file_free(file);
    return status;
}

/* ---- The seeds ----------------------------------------------------------------------- */

/* How many seeds of an eye are tried. */
enum { SEEDS = 32 };

/* Whether an eye has enough extensions, and none beyond plan's limits. */
static tcr_status is_within(const tcr_set *set, tcr_side side, bool *within) {
    const tcr_limits limits = tcr_limits_default();
    tcr_check_options options = tcr_check_options_default();
    tcr_check *check = NULL;
    options.parts = 0;
    const tcr_status status = tcr_check_new(set, &options, &check, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (status == TCR_OK)
        *within = eye->extended >= (size_t)TCR_TOO_FEW && tcr_count_beyond(set, &limits, eye) == 0;
    tcr_check_free(check);
    return status;
}

static tcr_status draw_anew(tcr_set *set, tcr_side side, uint64_t seed) {
    tcr_description description = *tcr_set_description(set, side);
    description.seed = seed;
    const tcr_status status = tcr_set_remove_lashes(set, side);
    return status == TCR_OK ? tcr_set_describe(set, side, &description) : status;
}

static tcr_status choose_seed(tcr_set *set, tcr_side side, uint64_t *seed) {
    bool within = false;
    for (uint64_t i = 0; i < SEEDS && !within; i++) {
        const uint64_t tried = 1 + (uint64_t)side + TCR_SIDES * i;
        tcr_status status = draw_anew(set, side, tried);
        if (status == TCR_OK)
            status = is_within(set, side, &within);
        if (status != TCR_OK)
            return status;
        if (within)
            *seed = tried;
    }
    return TCR_OK;
}

/* Whom a plan leaves too few lashes is no client to begin with either. The usual one was tried, or
 * will be: nothing else is left. */
static tcr_status keep_usable(const tcr_begin_options *options, uint64_t seed[TCR_SIDES],
                              tcr_error *error) {
    tcr_begin_options with;
    if (seed[TCR_LEFT] <= 1 && seed[TCR_RIGHT] <= 2)
        return TCR_OK;
    tcr_status status = tcr_begin_options_take(options, &with);
    memcpy(with.seed, seed, sizeof with.seed);
    if (status == TCR_OK)
        status = tcr_begin_try(&with, error);
    if (status != TCR_E_NO_SOLUTION)
        return status;
    *error = tcr_error_none();
    seed[TCR_LEFT] = seed[TCR_RIGHT] = 0;
    return TCR_OK;
}

tcr_status tcr_begin_find_seeds(const tcr_begin_options *options, uint64_t seed[TCR_SIDES],
                                tcr_error *error) {
    tcr_error unread;
    tcr_begin_map map;
    tcr_set_file *file = NULL;
    tcr_set *set = NULL;
    if (error == NULL)
        error = &unread;
    if (seed == NULL)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s", tcr_status_text(TCR_E_ARGUMENT));
    seed[TCR_LEFT] = seed[TCR_RIGHT] = 0;
    tcr_status status = tcr_begin_map_of(options, &map, error);
    if (status != TCR_OK || map.count > COUNT_MOST || map.options.survey[TCR_LEFT] != NULL ||
        map.options.survey[TCR_RIGHT] != NULL)
        return status;
    status = read_again(&map, &file, error);
    if (status == TCR_OK)
        status = tcr_accept(error, tcr_set_copy(NULL, tcr_set_file_set(file), &set), NOWHERE);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (map.options.eye[side])
            status = tcr_accept(error, choose_seed(set, (tcr_side)side, &seed[side]), NOWHERE);
    tcr_set_free(set);
    tcr_set_file_free(file);
    if (status == TCR_OK)
        status = keep_usable(options, seed, error);
    if (status != TCR_OK)
        seed[TCR_LEFT] = seed[TCR_RIGHT] = 0;
    return status;
}
