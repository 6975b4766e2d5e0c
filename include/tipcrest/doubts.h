/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DOUBTS_H
#define TCR_DOUBTS_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * Doubts: input that is in range and yet is probably a mistake. A doubt refuses nothing and changes
 * no figure; reports print it, and the user decides. Every bound below is assumed.
 */
typedef enum tcr_doubt_kind {
    /* The roots of the top layer lie lower than those of the bottom layer, by 0.1 mm or more. If a
     * layer has no lash, the highest and lowest layer with lashes count. found: mean height of the
     * higher layer less that of the lower one, mm. */
    TCR_DOUBT_LAYERS_REVERSED = 0,
    /* At least half of the suitable lashes are shorter than 2 mm. found: their mean length, mm. */
    TCR_DOUBT_LENGTHS_CM = 1,
    /* The layers lie 0.04 to 0.15 mm apart. found: mean distance from layer to layer, mm. */
    TCR_DOUBT_HEIGHTS_CM = 2,
    /* Lashes turn by 0.2 to 3.5 degrees on average, as radians would read. Lashes with an assumed
     * turn do not count. found: mean turn, degrees. */
    TCR_DOUBT_TURNS_RAD = 3,
    /* Curls turn by less than 6.3 degrees in all, yet are not straight. found: degrees of the first
     * such curl, at its first length. */
    TCR_DOUBT_CURLS_RAD = 4,
    /* The open lid's edge lies less than 1 mm above the middle of the pupil. found: mrd1, mm. */
    TCR_DOUBT_LID_HARDLY_OPENS = 5,
    /* Each layer has a stretch of the lid of its own, as zones or rows along the lid have; layers
     * lie above each other. found: number of layers. */
    TCR_DOUBT_LAYERS_ALONG_LID = 6,
    /* All lashes have the same length, pitch and turn, and the same height within their layer.
     * found: that length, mm. */
    TCR_DOUBT_ALL_ALIKE = 7,
    /* All lashes root in one half of the lid. found: their mean u. */
    TCR_DOUBT_ONE_HALF = 8,
    /* All lashes have the same layer, and the roots of the suitable ones lie 0.8 mm or more apart
     * in height, as those of several layers do. found: that distance, mm. */
    TCR_DOUBT_ONE_LAYER = 9
} tcr_doubt_kind;
enum { TCR_DOUBT_KINDS = 10, TCR_DOUBTS_MAX = TCR_SIDES * TCR_DOUBT_KINDS };

typedef struct tcr_doubt {
    tcr_doubt_kind kind;
    int side;      /* a tcr_side; -1 for a doubt about the whole set */
    size_t curl;   /* index of the first such curl; SIZE_MAX for other kinds */
    double found;  /* as each kind says, in the unit of files */
    size_t lashes; /* lashes with this mistake; curls for TCR_DOUBT_CURLS_RAD; 0 for a lid */
} tcr_doubt;

/* The name of a kind in reports, such as "lengths_cm"; "unknown" for any other value. Static
 * storage. */
TCR_API const char *tcr_doubt_text(tcr_doubt_kind kind);

/*
 * Finds the doubts about a set: that about its curls first, then those of the left and of the right
 * eye, by kind. TCR_DOUBT_LAYERS_ALONG_LID needs two layers and 6 lashes in each layer that has
 * any; TCR_DOUBT_ALL_ALIKE, TCR_DOUBT_ONE_HALF and TCR_DOUBT_ONE_LAYER need TCR_TOO_FEW (line.h)
 * lashes. An eye need not have a map. Allocates nothing. count receives the number of doubts.
 * TCR_E_ARGUMENT.
 *
 * Cost: a few passes over the lashes and curls.
 */
TCR_API tcr_status tcr_doubts_of(const tcr_set *set, tcr_doubt doubts[TCR_DOUBTS_MAX],
                                 size_t *count);

#endif
