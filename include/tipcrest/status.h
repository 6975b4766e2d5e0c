/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STATUS_H
#define TCR_STATUS_H

#include <tipcrest/export.h>

/*
 * Every call that can fail returns a status; 0 is success. The numbers keep their meaning, and new
 * ones are added at the end. A failed call leaves its outputs as they were unless its comment says
 * otherwise.
 */
typedef enum tcr_status {
    TCR_OK = 0,
    TCR_E_ARGUMENT = 1,     /* NULL, an unknown enum value, or a count out of range */
    TCR_E_RANGE = 2,        /* a number that is not finite or outside its range */
    TCR_E_MEMORY = 3,       /* the allocator returned NULL */
    TCR_E_MRD1 = 4,         /* the open margin leaves the globe: mrd1 too large for the radius */
    TCR_E_MRD2 = 5,         /* the closed margin leaves the globe: mrd2 too large for the radius */
    TCR_E_SEMIAXIS = 6,     /* the lateral semi-axis is at most half the fissure width */
    TCR_E_CURL = 7,         /* a profile whose shares do not sum to 1, or a label not in the set */
    TCR_E_BOND = 8,         /* the bond would be shorter than 1 mm */
    TCR_E_TRAY = 9,         /* a length that the tray lacks */
    TCR_E_MAP = 10,         /* zones that do not rise to 1, or an eye without a map */
    TCR_E_DUPLICATE = 11,   /* a second eye of one side, or an id used twice within an eye */
    TCR_E_FEW = 12,         /* fewer than three points: no line */
    TCR_E_ONE_X = 13,       /* all points at one X: no line */
    TCR_E_COMMON = 14,      /* two lines without a common range */
    TCR_E_BARE = 15,        /* the lash carries no extension because of its condition */
    TCR_E_BARE_BY_ROW = 16, /* the lash carries no extension because its own row says "none" */
    TCR_E_MISSING = 17, /* an eye, lash or curl that the set does not have, or a part that a check
                           did not compute */
    TCR_E_OPEN = 18,    /* a file that cannot be opened or read */
    TCR_E_WRITE = 19,   /* a file that cannot be written whole */
    TCR_E_CONTENT = 20, /* a file whose content is wrong; the message says where */
    TCR_E_NO_CONVERGENCE = 21, /* an iteration that did not reach its accuracy */
    TCR_E_NO_SOLUTION = 22,    /* limits that nothing can meet together */
    TCR_E_STOPPED = 23, /* the caller's tcr_progress stopped the work before there was a result */
    TCR_E_FONT = 24     /* the machine has no font with Latin letters to write in a picture */
} tcr_status;

/*
 * A short English text for a status; "unknown status" for any other number. Static storage, never
 * NULL.
 */
TCR_API const char *tcr_status_text(tcr_status status);

#endif
