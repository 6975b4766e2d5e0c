/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_NUMERIC_H
#define TCR_TESTS_FUZZ_NUMERIC_H

/*
 * The numeric interface, a group of calls for each kind of input. Each call is given what the bytes
 * make, and must return a status and leave its outputs alone, or give finite results; what lies in
 * the ranges of the headers must be accepted, what is not finite refused.
 */

#include "fuzz/any.h"

typedef void (*tcr_numeric)(tcr_bytes *bytes);

void tcr_numeric_lid(tcr_bytes *bytes);
void tcr_numeric_lash(tcr_bytes *bytes);
void tcr_numeric_extension(tcr_bytes *bytes);
void tcr_numeric_curl(tcr_bytes *bytes);
void tcr_numeric_columns(tcr_bytes *bytes);
void tcr_numeric_rule(tcr_bytes *bytes); /* layering, tray, looks, view */
void tcr_numeric_description(tcr_bytes *bytes);
void tcr_numeric_points(tcr_bytes *bytes); /* through which a line is fitted */
void tcr_numeric_lines(tcr_bytes *bytes);  /* that no fit made */
void tcr_numeric_set(tcr_bytes *bytes);
void tcr_numeric_own(tcr_bytes *bytes);  /* a set changed by what it holds itself */
void tcr_numeric_edge(tcr_bytes *bytes); /* values without a status, indices, words */

void tcr_numeric_options(tcr_bytes *bytes); /* structs of options of any size, and tables */
void tcr_numeric_begin(tcr_bytes *bytes);   /* a first set */

/* One change of a set by any struct: all of it, or none with an error that says why. */
void tcr_numeric_change(tcr_bytes *bytes, tcr_set *set);
/* Mean lash, growth, and a check run again, its columns and weights, with structs of the bytes. */
void tcr_claim_worked_out(tcr_bytes bytes, const tcr_set *set);

/* What is read from a set and its check by any index. */
void tcr_claim_read(tcr_bytes bytes, const tcr_set *set);

/* What a check of drawn numbers must say; 'fits' tells that they need only be in their ranges. */
void tcr_claim_verdict(const char *call, tcr_status status, const tcr_bytes *bytes, bool fits);

#endif
