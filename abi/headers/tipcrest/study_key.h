/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_KEY_H
#define TCR_STUDY_KEY_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/field.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
enum { TCR_KEY_SIZE = 64 };
typedef struct tcr_key {
    char name[TCR_KEY_SIZE];
    tcr_kind kind;
    tcr_unit unit;
    double least, most;
    const char *const *words;
    const char *note;
    double now;
    unsigned sides;
    const tcr_field *field;
    int what, zone, layer;
} tcr_key;
TCR_API tcr_status tcr_key_find(const tcr_set *set, const char *key, tcr_key *found,
                                tcr_error *error);
TCR_API bool tcr_key_at(const tcr_set *set, size_t i, tcr_key *key);
TCR_API tcr_status tcr_key_parse(const tcr_set *set, const tcr_key *key, const char *text,
                                 size_t bytes, double *value, tcr_error *error);
enum { TCR_KEY_VALUE_SIZE = 40 };
TCR_API size_t tcr_key_value_text(const tcr_set *set, const tcr_key *key, double value,
                                  char text[TCR_KEY_VALUE_SIZE]);
TCR_API tcr_status tcr_key_validate(const tcr_set *set, const tcr_key *key, double value,
                                    tcr_error *error);
TCR_API tcr_status tcr_key_parse_levels(const tcr_set *set, const tcr_key *key, const char *text,
                                        double *level, size_t room, size_t *levels,
                                        tcr_error *error);
#endif
