/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_ANY_H
#define TCR_TESTS_FUZZ_ANY_H

/*
 * Things made from bytes: most of their numbers inside the ranges that the headers give, some not
 * finite, denormal, huge, or any double at all. Bytes that have run out give the usual value, so
 * that a short input is a usual thing with something odd in it.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/tipcrest.h>

typedef struct tcr_bytes {
    const uint8_t *at, *end;
    bool outside;    /* some number drawn may lie outside its range */
    bool not_finite; /* some number drawn is infinite or NaN */
} tcr_bytes;

/* Forgets what was drawn so far. */
void tcr_any_begin(tcr_bytes *bytes);

uint8_t tcr_any_byte(tcr_bytes *bytes);
uint64_t tcr_any_word(tcr_bytes *bytes);
/* Any double: special ones, or eight bytes. */
double tcr_any_double(tcr_bytes *bytes);
/* A number that should lie from low to high, and mostly does. */
double tcr_any_number(tcr_bytes *bytes, double low, double high, double usual);
double tcr_any_degrees(tcr_bytes *bytes, double low_deg, double high_deg, double usual_deg);
/* A value that should be from 0 to count - 1: mostly one of these. */
int tcr_any_choice(tcr_bytes *bytes, int count);
/* A whole number that should be from low to high. */
int tcr_any_whole(tcr_bytes *bytes, int low, int high);

/* Fills the numbers with the fields' ranges; 'outside' says whether one may be out of them. */
tcr_lid tcr_any_lid(tcr_bytes *bytes);
tcr_lash tcr_any_lash(tcr_bytes *bytes);
tcr_profile tcr_any_profile(tcr_bytes *bytes);
tcr_extension tcr_any_extension(tcr_bytes *bytes);
tcr_bond tcr_any_bond(tcr_bytes *bytes);
tcr_view tcr_any_view(tcr_bytes *bytes);
tcr_materials tcr_any_materials(tcr_bytes *bytes);
tcr_weight_options tcr_any_weight_options(tcr_bytes *bytes);
tcr_tray tcr_any_tray(tcr_bytes *bytes);
tcr_layering tcr_any_layering(tcr_bytes *bytes);
tcr_description tcr_any_description(tcr_bytes *bytes);
tcr_line_options tcr_any_line_options(tcr_bytes *bytes);
void tcr_any_label(tcr_bytes *bytes, char label[TCR_LABEL_SIZE]);
tcr_wish tcr_any_wish(tcr_bytes *bytes);
/* One of 'count' zones of even width, mostly. */
tcr_zone tcr_any_zone(tcr_bytes *bytes, size_t i, size_t count);

#endif
