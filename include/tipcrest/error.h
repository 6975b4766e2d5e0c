/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ERROR_H
#define TCR_ERROR_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * What was wrong, and with what. The core and the library of files fill the same struct. A call
 * that takes a tcr_error fills it when it fails and leaves it as it was when it succeeds; NULL is
 * accepted. The core calls a number by its member in C, in the unit of that member; files call it
 * by its key, in the unit of the file. Plain data: nothing to free.
 */
typedef struct tcr_error {
    tcr_status status;
    const char *member; /* of the wrong number: its member in C or its key; static storage, NULL
                           where it is no number's fault */
    double value;       /* what it is; NaN where there is none */
    double least, most; /* its range; NaN where there is none */
    int side;           /* TCR_LEFT or TCR_RIGHT; -1 where it is no one eye's fault */
    size_t lash;        /* index in its eye; SIZE_MAX where it is no one lash's fault */
    size_t zone;        /* index in the map; SIZE_MAX likewise */
    int layer;          /* TCR_BOTTOM, TCR_MIDDLE or TCR_TOP; -1 likewise */
    unsigned long line, column; /* in the file, from 1; 0 where there is none */
    char path[4096];            /* of the file, cut if longer; "" where there is none */
    char message[1024]; /* what was found and what would be right; one line of UTF-8, safe for a
                           terminal */
} tcr_error;

/* An error that names nothing: TCR_OK, no member, no place, an empty message. */
TCR_API tcr_error tcr_error_none(void);

#endif
