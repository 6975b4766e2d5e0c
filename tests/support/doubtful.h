/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_DOUBTFUL_H
#define TCR_TESTS_SUPPORT_DOUBTFUL_H

/* Sets with one mistake each. All data is INVENTED. */

#include <tipcrest/doubts.h>
#include <tipcrest/set.h>

enum { DOUBTFUL_LASHES = 36 };

/* A set of one eye with a map that can be checked and 36 measured lashes, 12 a layer, in which one
 * thing looks like a mistake of this kind. The set is the caller's. */
tcr_set *tcr_make_doubtful(tcr_doubt_kind kind, tcr_side side);

#endif
