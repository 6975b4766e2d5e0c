/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_EVALUATE_H
#define TCR_TESTS_FUZZ_EVALUATE_H

/* All that is worked out from a set that was accepted, with what must hold for the results. */

#include <stdint.h>

#include <tipcrest/file.h>
#include <tipcrest/tipcrest.h>

/* How many lashes a set may have to be evaluated here: larger ones would only take time. */
enum { TCR_FUZZ_LASHES_MAX = 300, TCR_FUZZ_WHY_MAX = 24 };

/* The lashes of both eyes. */
size_t tcr_lashes_of(const tcr_set *set);

/* Options of a check, picked by a number: either line, views of the set and other ones. */
tcr_check_options tcr_pick_options(uint64_t number);

/*
 * Claims of every number of a check that it is finite wherever the headers do not say otherwise,
 * and that the numbers fit each other.
 */
void tcr_claim_check(const tcr_check *check);

/* The same of why each eye is uneven. */
void tcr_claim_why(const tcr_check *check);

/* A plan of a check's set, with options picked by the set: its numbers, the set it is written into,
 * and its reports. TCR_OK, or TCR_E_MEMORY. */
tcr_status tcr_claim_plan(const tcr_check *check);

/*
 * Claims of a check, and that every report of it is written whole; of small sets also why, step and
 * plan. TCR_OK, or TCR_E_MEMORY where a report ran out of it. Frees the check.
 */
tcr_status tcr_claim_all(tcr_check *check, const char *digest);

/* The level step and the sensitivities of a question. */
void tcr_claim_step(const tcr_set *set, const tcr_step_question *question);

#endif
