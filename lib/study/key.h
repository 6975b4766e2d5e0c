/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_KEY_DATA_H
#define TCR_STUDY_KEY_DATA_H

/* Where a key lies in a set. */

#include <tipcrest/study_key.h>

/* tcr_key.what: the struct whose member it is, or a short of its own. */
enum {
    TCR_AT_LID,
    TCR_AT_DESCRIPTION,
    TCR_AT_ZONE,  /* of the map; 'layer' is -1 for the zone's own, else that of a tcr_wish */
    TCR_AT_MEANT, /* of the intended map, likewise */
    TCR_AT_LAYERING,
    TCR_AT_MEAN_LASH,
    TCR_AT_BOND,
    TCR_AT_LINE,
    TCR_AT_VIEW,
    TCR_AT_CURL, /* the shorts */
    TCR_AT_LONGEST,
    TCR_AT_APART
};

/* Puts a value, which is valid, into the object that a key is a member of: of a zone's key the
 * zone, or the zone's wish. */
void tcr_key_put(const tcr_set *set, const tcr_key *key, void *object, double value);

#endif
