/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CURL_H
#define TCR_CURL_H

#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>

/*
 * A curl is a label with one profile, or with several profiles measured at several lengths. The
 * trade's letters have no standard and makers differ. The catalogue is from memory, common practice
 * without a source: replace its curls by measured ones.
 */
enum { TCR_LABEL_SIZE = 16, TCR_CURL_LENGTHS_MAX = 64 };

typedef struct tcr_curl {
    const char *label;           /* 1 to TCR_LABEL_SIZE - 1 bytes of UTF-8 */
    size_t count;                /* number of profiles: 1 to TCR_CURL_LENGTHS_MAX */
    const double *length_mm;     /* of each profile, 3 to 30, rising; NULL if count is 1 */
    const tcr_profile *profiles; /* all with the same number of pieces */
} tcr_curl;

/*
 * The built-in curls J B C CC D DD L M, static storage. count receives their number; it may be
 * NULL.
 */
TCR_API const tcr_curl *tcr_curl_catalogue(size_t *count);

/*
 * Checks a curl against the rules above and those of tcr_profile. TCR_E_ARGUMENT, TCR_E_RANGE,
 * TCR_E_CURL. error may be NULL.
 */
TCR_API tcr_status tcr_curl_validate(const tcr_curl *curl, tcr_error *error);

/*
 * The profile of a curl at length_mm (any). Between measured lengths, shares and turns are
 * interpolated piece by piece; beyond them, the nearest measured profile is taken. The curl must be
 * valid, which is not checked as a whole: of NULL, of a count out of range and of missing arrays it
 * gives a profile of 0 pieces, which no call accepts.
 */
TCR_API tcr_profile tcr_curl_profile(const tcr_curl *curl, double length_mm);

#endif
