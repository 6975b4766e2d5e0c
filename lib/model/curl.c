/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Curls: the catalogue and profiles at a length (model.md, section 4). The catalogue's turns are
 * common practice, from memory: letters have no standard.
 */
#include <tipcrest/curl.h>

#include <math.h>
#include <string.h>

#include "model/field_table.h"
#include "num/error.h"
#include "num/range.h"

#define DEG(x) ((x)*TCR_DEG)

static const tcr_profile J = {2, {0.50, 0.50}, {0.0, DEG(35)}};
static const tcr_profile B = {2, {0.35, 0.65}, {0.0, DEG(60)}};
static const tcr_profile C = {2, {0.20, 0.80}, {0.0, DEG(90)}};
static const tcr_profile CC = {2, {0.15, 0.85}, {0.0, DEG(110)}};
static const tcr_profile D = {2, {0.10, 0.90}, {0.0, DEG(130)}};
static const tcr_profile DD = {2, {0.05, 0.95}, {0.0, DEG(150)}};
static const tcr_profile L = {3, {0.30, 0.10, 0.60}, {0.0, DEG(45), DEG(15)}};
static const tcr_profile M = {3, {0.35, 0.10, 0.55}, {0.0, DEG(60), DEG(20)}};

static const tcr_curl CATALOGUE[] = {
    {"J", 1, NULL, &J}, {"B", 1, NULL, &B},   {"C", 1, NULL, &C}, {"CC", 1, NULL, &CC},
    {"D", 1, NULL, &D}, {"DD", 1, NULL, &DD}, {"L", 1, NULL, &L}, {"M", 1, NULL, &M},
};

const tcr_curl *tcr_curl_catalogue(size_t *count) {
    if (count != NULL)
        *count = sizeof CATALOGUE / sizeof CATALOGUE[0];
    return CATALOGUE;
}

static tcr_status check_measured(const tcr_curl *curl, tcr_error *error) {
    const tcr_field *length = tcr_fields(TCR_GROUP_EXTENSION, NULL);
    for (size_t i = 0; i < curl->count; i++) {
        if (!tcr_field_takes(length, curl->length_mm[i]))
            return tcr_field_refuse(length, curl->length_mm[i], error);
        if (i > 0 && !(curl->length_mm[i] > curl->length_mm[i - 1]))
            return tcr_error_set(error, TCR_E_RANGE, "the lengths of the curl do not rise");
        if (curl->profiles[i].pieces != curl->profiles[0].pieces)
            return tcr_error_set(error, TCR_E_CURL,
                                 "the profiles of the curl have different numbers of pieces");
    }
    return TCR_OK;
}

/* Whether a curl has the profiles that it counts, and a length for each where it needs them. */
static bool has_profiles(const tcr_curl *curl) {
    return curl->profiles != NULL && curl->count >= 1 && curl->count <= TCR_CURL_LENGTHS_MAX &&
           (curl->count == 1 || curl->length_mm != NULL);
}

tcr_status tcr_curl_validate(const tcr_curl *curl, tcr_error *error) {
    if (curl == NULL || curl->label == NULL || curl->profiles == NULL)
        return tcr_error_set(error, TCR_E_ARGUMENT, "a curl needs a label and profiles");
    if (!has_profiles(curl))
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "a curl has one profile, or from 1 to %d with their lengths",
                             (int)TCR_CURL_LENGTHS_MAX);
    const size_t bytes = strnlen(curl->label, TCR_LABEL_SIZE);
    if (bytes < 1 || bytes >= TCR_LABEL_SIZE)
        return tcr_error_set(error, TCR_E_ARGUMENT, "the label of a curl has from 1 to %d bytes",
                             (int)TCR_LABEL_SIZE - 1);
    for (size_t i = 0; i < curl->count; i++) {
        const tcr_status status = tcr_profile_validate(&curl->profiles[i], error);
        if (status != TCR_OK)
            return status;
    }
    return curl->length_mm != NULL ? check_measured(curl, error) : TCR_OK;
}

tcr_profile tcr_curl_profile(const tcr_curl *curl, double length_mm) {
    if (curl == NULL || !has_profiles(curl))
        return (tcr_profile){0};
    const size_t last = curl->count - 1;
    if (last == 0 || length_mm <= curl->length_mm[0])
        return curl->profiles[0];
    if (!(length_mm < curl->length_mm[last]))
        return curl->profiles[last];
    size_t i = 0;
    while (curl->length_mm[i + 1] < length_mm)
        i++;
    const double share =
        (length_mm - curl->length_mm[i]) / (curl->length_mm[i + 1] - curl->length_mm[i]);
    const tcr_profile *a = &curl->profiles[i], *b = &curl->profiles[i + 1];
    tcr_profile between = *a;
    for (int j = 0; j < TCR_PIECES_MAX && j < a->pieces; j++) {
        between.share[j] = a->share[j] + share * (b->share[j] - a->share[j]);
        between.turn_rad[j] = a->turn_rad[j] + share * (b->turn_rad[j] - a->turn_rad[j]);
    }
    return between;
}
