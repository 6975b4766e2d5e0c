/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_PICTURE_H
#define TCR_CLI_PICTURE_H

/* Pictures that commands write, alone or beside their reports. */

#include <stdbool.h>

#include <tipcrest/file.h>

/* What a call says of its picture. */
typedef struct tcr_picture_words {
    const char *option; /* that names the file: "-o" or "--picture" */
    const char *path;   /* NULL: no picture is asked for */
    const char *width, *dpi;
    bool dark;
} tcr_picture_words;

#ifdef TCR_WITH_DRAW

#include <tipcrest/draw.h>

/* The format that a file's ending asks for, whatever its case. False: the ending is no .png, .svg
 * or .pdf. */
bool tcr_picture_format_of(const char *path, tcr_picture_format *format);

/* What the words come to. */
typedef struct tcr_picture_look {
    tcr_picture_format format;
    tcr_picture_options options;
} tcr_picture_look;

#else

typedef struct tcr_picture_look {
    int format;
} tcr_picture_look;

#endif

/* An exit status: TCR_EXIT_DONE, also where no picture is asked for, or another after it was said
 * what is wrong. */
int tcr_picture_understand(const tcr_picture_words *words, tcr_picture_look *look);

#endif
