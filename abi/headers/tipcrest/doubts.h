/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DOUBTS_H
#define TCR_DOUBTS_H 
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
typedef enum tcr_doubt_kind {
    TCR_DOUBT_LAYERS_REVERSED = 0,
    TCR_DOUBT_LENGTHS_CM = 1,
    TCR_DOUBT_HEIGHTS_CM = 2,
    TCR_DOUBT_TURNS_RAD = 3,
    TCR_DOUBT_CURLS_RAD = 4,
    TCR_DOUBT_LID_HARDLY_OPENS = 5,
    TCR_DOUBT_LAYERS_ALONG_LID = 6,
    TCR_DOUBT_ALL_ALIKE = 7,
    TCR_DOUBT_ONE_HALF = 8,
    TCR_DOUBT_ONE_LAYER = 9
} tcr_doubt_kind;
enum { TCR_DOUBT_KINDS = 10, TCR_DOUBTS_MAX = TCR_SIDES * TCR_DOUBT_KINDS };
typedef struct tcr_doubt {
    tcr_doubt_kind kind;
    int side;
    size_t curl;
    double found;
    size_t lashes;
} tcr_doubt;
TCR_API const char *tcr_doubt_text(tcr_doubt_kind kind);
TCR_API tcr_status tcr_doubts_of(const tcr_set *set, tcr_doubt doubts[TCR_DOUBTS_MAX],
                                 size_t *count);
#endif
