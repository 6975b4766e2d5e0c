/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ERROR_H
#define TCR_ERROR_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * What was wrong, and where. The core and the library of files fill the same struct. A call that
 * takes a tcr_error fills it when it fails and leaves it unchanged when it succeeds; it may be
 * NULL. Where an argument is NULL, some calls return TCR_E_ARGUMENT and do not fill it. The core
 * names a number by its member in C and gives its unit in C. Files name it by its key and give the
 * file's unit. Plain data: nothing to free.
 */
typedef struct tcr_error {
    tcr_status status;
    const char *member; /* the wrong number: its member in C or its key in a file; static storage;
                           NULL if no single number is wrong */
    double value;       /* the number found, in the unit of the member; NaN if none */
    double least, most; /* its range, in the unit of the member; NaN if none */
    int side;           /* TCR_LEFT or TCR_RIGHT; -1 if no single eye is at fault */
    size_t lash;        /* index in its eye; SIZE_MAX if no single lash is at fault */
    size_t zone;        /* index in the map; SIZE_MAX if no single zone is at fault */
    int layer;          /* a tcr_layer; -1 if no single layer is at fault */
    unsigned long line, column; /* place in the file, from 1; 0 if none */
    char path[4096];            /* of the file, cut if longer; "" if none */
    char message[1024]; /* what was found and what would be right: one line of UTF-8, safe for a
                           terminal */
} tcr_error;

/* An error that names nothing: TCR_OK, no member, no place, an empty message. Cannot fail. */
TCR_API tcr_error tcr_error_none(void);

#endif
