/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LESSON_H
#define TCR_LESSON_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/progress.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
#include <tipcrest/step.h>

/*
 * What the layering rule gains (model.md, section 8): how far off one line the tips of an eye lie
 * with equal lengths, with 1 mm less a layer, with 2 mm less, and with the best sizes of the tray,
 * wherever the layers root and from wherever they are seen.
 *
 * The lesson is about the rule. So it ignores what rows of a survey say that a lash wears, and
 * what length a zone gives the middle or the top layer: each suitable lash wears the bottom length
 * of its place on the map, less what the choice takes off its layer. Curl, diameter, fan and
 * placement are those of map and layering for its layer.
 */
typedef enum tcr_lesson_choice {
    TCR_LESSON_EQUAL = 0,
    TCR_LESSON_ONE_LESS = 1, /* 1 mm less on the middle layer, 2 mm on the top one */
    TCR_LESSON_TWO_LESS = 2, /* 2 mm and 4 mm less */
    TCR_LESSON_BEST = 3      /* the sizes of the tray with the least rms */
} tcr_lesson_choice;
enum { TCR_LESSON_CHOICES = 4, TCR_LESSON_DRAWS = 10 };

/* Where the rule is tried. tcr_lesson_place_default gives the defaults named here. */
typedef struct tcr_lesson_place {
    bool has_apart;  /* use 'apart_mm'; default false: the heights of the eye's own layers */
    double apart_mm; /* 0 to 3, from layer to layer */
    tcr_view view;   /* default open front */
    bool alike; /* each lash is the mean lash of its layer; default false: the eye's own lashes */
    double pitch_sd_rad; /* of alike lashes, 0 to 20 degrees; default 0. Above 0 the figures are the
                            root of the mean over TCR_LESSON_DRAWS draws, seeds 1, 2, ..., and there
                            are no best sizes */
} tcr_lesson_place;
TCR_API tcr_lesson_place tcr_lesson_place_default(void);

typedef struct tcr_lesson {
    size_t lashes;                     /* that take part */
    double rms_mm[TCR_LESSON_CHOICES]; /* off the line fitted to the tips; NaN where a length would
                                          be below 3 mm, where no size is left, where there is no
                                          line, or where the mean lash cannot bond */
    double best_less_mm[TCR_UPPER_LAYERS]; /* how much shorter the best sizes are on the middle and
                                              the top layer than on the bottom one; NaN if none */
} tcr_lesson;

/*
 * Tries the rule at n places and writes n lessons, all or none. progress may be NULL.
 * TCR_E_MISSING (eye, or no lash that takes part), TCR_E_MAP (no map), TCR_E_RANGE (a number of a
 * place), TCR_E_STOPPED, TCR_E_MEMORY, TCR_E_ARGUMENT. Uses the set's allocator; the set stays as
 * it is. Cost: at most 172 fits of the line for a place, 52 with a tray by whole millimetres.
 */
TCR_API tcr_status tcr_lesson_of(const tcr_set *set, tcr_side side, const tcr_lesson_place *place,
                                 size_t n, const tcr_progress *progress, tcr_lesson *lesson);

/*
 * How far apart the layers must be, mm, for 'less' mm a layer (1 or 2) to lie nearer to one line
 * than a millimetre more: 0 to 1.6; NaN if that is not so up to 1.6 mm. alike as in
 * tcr_lesson_place. Statuses as for tcr_lesson_of.
 */
TCR_API tcr_status tcr_lesson_pays_from(const tcr_set *set, tcr_side side, int less, bool alike,
                                        double *apart_mm);

/*
 * From which angle of the viewer on, 0 to 70 degrees, equal lengths look more even than 1 mm less a
 * layer with the eye closed; NaN if from none. place gives the rest; its view is not read. Statuses
 * as for tcr_lesson_of.
 */
TCR_API tcr_status tcr_lesson_turns_at(const tcr_set *set, tcr_side side,
                                       const tcr_lesson_place *place, double *viewer_rad);

#endif
