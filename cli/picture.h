/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_PICTURE_H
#define TCR_CLI_PICTURE_H

/* Pictures that commands write, alone or beside their reports. */

#include <tipcrest/file.h>

#include "call.h"

#ifdef TCR_WITH_DRAW

#include <tipcrest/draw.h>

/* What a call says of its picture. */
typedef struct tcr_picture_look {
    tcr_picture_format format;
    bool plays; /* a film in one file, in place of a picture of the format */
    tcr_picture_options options;
} tcr_picture_look;

#else

typedef struct tcr_picture_look {
    int format;
} tcr_picture_look;

#endif

/* How the picture of a call is to look; 'option' names its file. An exit status: TCR_EXIT_DONE,
 * also where no picture is asked for, or another after a message. */
int tcr_picture_understand(const tcr_call *call, const char *option, const tcr_value *file,
                           tcr_picture_look *look);

#endif
