/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_H
#define TCR_FILE_REPORT_H

/* What the reports of a check share: words, degrees, reasons, and sums over both eyes. */

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/sink.h>

#include "file/keys.h"

/*
 * Whether a check can be reported to a sink: TCR_E_ARGUMENT for NULL, TCR_E_MISSING where the check
 * has no eyes, since it failed or its set has changed.
 */
tcr_status tcr_report_validate(const tcr_check *check, tcr_sink sink);

/* The word of a list for the value of its enumeration. */
const char *tcr_word(const tcr_words *words, int value);
const char *tcr_against_word(tcr_against against);

/* Why a lash carries no extension, in words; NULL where it carries one. */
const char *tcr_bare_reason(const tcr_lash *lash, const tcr_lash_result *result);

/* Why there is no fitted or no intended line, in words. */
const char *tcr_no_line_reason(tcr_status status, size_t extended);
const char *tcr_no_intended_reason(tcr_status status);

/* An input that was assumed for some lashes, over all eyes. */
typedef struct tcr_assumed {
    const tcr_field *field;
    size_t count;    /* lashes for which it was assumed */
    size_t lashes;   /* in all */
    double per_unit; /* mm that a tip moves up or down for 1 mm or one degree; NaN: unknown */
} tcr_assumed;

/* Collects them in the order of their bits; returns how many there are. */
size_t tcr_collect_assumed(const tcr_check *check, tcr_assumed assumed[TCR_LASH_BITS]);

#endif
