/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_BEGIN_H
#define TCR_FILE_BEGIN_H

/* How a first set file comes about: the options become a map, and that becomes text. */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/begin.h>
#include <tipcrest/look.h>

#include "file/writer.h"

/* What the options ask for, with every default filled in. */
typedef struct tcr_begin_map {
    tcr_begin_options options; /* taken; its texts are the caller's */
    const tcr_look *look;      /* NULL where the lengths were given */
    const char *curl;
    size_t zones;
    double length_mm[TCR_ZONES_MAX];
    double
        less_mm[TCR_LAYERS]; /* how much shorter a layer is than the bottom one; negative longer */
    bool has_step;           /* the same from layer to layer, so that a rule can say it */
    bool is_taught;          /* with the usual placement, for a step of 1 mm */
    bool has_halves;         /* lengths in half millimetres */
    tcr_tray tray;
    const char *title;
    size_t count;             /* described lashes of each eye, */
    uint64_t seed[TCR_SIDES]; /* and their seeds */
    double lash_mm, mrd1_mm, mrd1_right_mm, diameter_mm;
    bool own_diameter; /* another than the usual one */
} tcr_begin_map;

/* The options of a caller, who may know an older struct; TCR_E_ARGUMENT, also for NULL. */
tcr_status tcr_begin_options_take(const tcr_begin_options *given, tcr_begin_options *taken);

/* As tcr_begin_validate; error must not be NULL. The map keeps the options' texts by
 * pointer. */
tcr_status tcr_begin_map_of(const tcr_begin_options *options, tcr_begin_map *map, tcr_error *error);

/* How long the longest zone of a look is to be if nobody says it, mm. */
double tcr_begin_longest(const tcr_begin_map *map);

/* Gives the zones the lengths of the look, and the layers the largest step of 1, 0.5 or 0 mm for
 * which the tray has what these need. Statuses of tcr_look_lengths. */
tcr_status tcr_begin_fit_look(tcr_begin_map *map);

/* Whether zones of a look have other lengths than the tray alone would give them, for the sake of
 * their upper layers. */
bool tcr_begin_other_zones(const tcr_begin_map *map);

/* The text of the set file. */
void tcr_begin_put_set(tcr_writer *writer, const tcr_begin_map *map);

#endif
