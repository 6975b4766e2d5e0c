/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_PICTURE_H
#define TCR_CLI_PICTURE_H

/* Pictures that commands write beside their reports. */

#include <tipcrest/file.h>

#ifdef TCR_WITH_DRAW

#include <tipcrest/draw.h>

/* The format that a file's ending asks for, whatever its case. False: the ending is no .png, .svg
 * or .pdf. */
bool tcr_picture_format_of(const char *path, tcr_picture_format *format);

/* A picture goes where text goes: a sink of bytes, its context, for a sink of text. */
typedef struct tcr_text_sink {
    tcr_sink sink;
    void *context;
} tcr_text_sink;

int tcr_text_sink_put(void *context, const void *bytes, size_t count);

#else

typedef int tcr_picture_format;

#endif

/* What --picture asks for: an exit status, TCR_EXIT_DONE also where path is NULL, or another after
 * it was said what is wrong. */
int tcr_picture_understand(const char *path, tcr_picture_format *format);

#endif
