/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_OPTIONS_H
#define TCR_TESTS_SUPPORT_OPTIONS_H

/* The sizes of options structs that a call has to take and to refuse (tipcrest.h). */

#include <stddef.h>

#include "support/check.h"

/* Makes a call with the options; holds that its outputs are as they were where it fails. */
typedef tcr_status (*tcr_options_call)(const void *options, void *context);

/*
 * Holds that the call takes the options, which have room for own bytes, with today's size and with
 * that of a header without the last member, and answers TCR_E_ARGUMENT to sizes that are wrong. Of
 * the smaller struct no byte may be read behind its end.
 */
void tcr_expect_sizes(const void *options, size_t own, tcr_options_call call, void *context);

#endif
