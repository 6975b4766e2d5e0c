/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_DIGEST_H
#define TCR_TESTS_SUPPORT_DIGEST_H

/* A number for all that a set holds, to see whether a call has changed anything. */

#include <stdint.h>

#include <tipcrest/set.h>

/* Of everything the public calls of set.h can read. */
uint64_t tcr_set_digest(const tcr_set *set);

#endif
