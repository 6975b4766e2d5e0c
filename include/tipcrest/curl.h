/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CURL_H
#define TCR_CURL_H

#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>

/*
 * A curl is a label and a profile, or several profiles measured at several lengths. Letters have no
 * standard and makers differ: the catalogue's are from memory, common practice without a source;
 * replace them with what was measured on the tray.
 */
enum { TCR_LABEL_SIZE = 16, TCR_CURL_LENGTHS_MAX = 64 };

typedef struct tcr_curl {
    const char *label;           /* 1 to TCR_LABEL_SIZE - 1 bytes of UTF-8 */
    size_t count;                /* profiles: 1 to TCR_CURL_LENGTHS_MAX */
    const double *length_mm;     /* count lengths, rising; NULL when count is 1 */
    const tcr_profile *profiles; /* count profiles with as many pieces each */
} tcr_curl;

/* The built-in curls J B C CC D DD L M, static storage; count receives their number. */
TCR_API const tcr_curl *tcr_curl_catalogue(size_t *count);

/* TCR_OK, or TCR_E_ARGUMENT, TCR_E_RANGE, TCR_E_CURL for a curl that breaks the rules above. */
TCR_API tcr_status tcr_curl_check(const tcr_curl *curl, tcr_error *error);

/*
 * The profile of a curl at a length: between measured lengths interpolated piece by piece, in share
 * and in turn; beyond them the nearest. The curl must be valid.
 */
TCR_API tcr_profile tcr_curl_profile(const tcr_curl *curl, double length_mm);

#endif
