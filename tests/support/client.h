/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_CLIENT_H
#define TCR_TESTS_SUPPORT_CLIENT_H

/* A client to plan for. All data is INVENTED. */

#include <tipcrest/set.h>

/* A described client of one eye (left) or two, each with so many lashes and a map of three zones;
 * lashes of the left and right eye differ. The set is the caller's. */
tcr_set *tcr_make_client(const tcr_allocator *allocator, size_t eyes, size_t lashes);

/* The same as if somebody had measured it. */
tcr_set *tcr_make_measured(const tcr_allocator *allocator, size_t eyes, size_t lashes);

#endif
