/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CURL_H
#define TCR_CURL_H 
#include <stddef.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>
enum { TCR_LABEL_SIZE = 16, TCR_CURL_LENGTHS_MAX = 64 };
typedef struct tcr_curl {
    const char *label;
    size_t count;
    const double *length_mm;
    const tcr_profile *profiles;
} tcr_curl;
TCR_API const tcr_curl *tcr_curl_catalogue(size_t *count);
TCR_API tcr_status tcr_curl_validate(const tcr_curl *curl, tcr_error *error);
TCR_API tcr_profile tcr_curl_profile(const tcr_curl *curl, double length_mm);
#endif
