/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_OPTIONS_H
#define TCR_TESTS_SUPPORT_OPTIONS_H

/*
 * Options structs of programs of other releases (tipcrest.h). A test has a struct as version 0.1.0
 * had it, which never changes, and holds today's against it:
 *
 *     typedef struct first_options { size_t size; double width_mm; } first_options;
 *     INIT_OF(tcr_options)
 *     SAME_PLACE(first_options, tcr_options, width_mm);
 *     tcr_expect_init("tcr_options", init_tcr_options, sizeof(tcr_options));
 *     tcr_expect_sizes(init_tcr_options, sizeof(first_options), sizeof(tcr_options), call,
 * context);
 */

#include <stddef.h>

#include "support/check.h"

/* init_TYPE, which is TYPE_init for a struct of any type. */
#define INIT_OF(type)                                                                              \
    static void init_##type(void *options, size_t size) { type##_init(options, size); }

/* A member lies where it lay, and is as large. */
#define SAME_PLACE(first, type, member)                                                            \
    do {                                                                                           \
        given("%s", #member);                                                                      \
        expect_count(offsetof(type, member), offsetof(first, member));                             \
        expect_count(sizeof(((type *)NULL)->member), sizeof(((first *)NULL)->member));             \
    } while (0)

typedef void (*tcr_options_init_call)(void *options, size_t size);

/* Holds that defaults are written up to every size and no further, with the size in front. */
void tcr_expect_init(const char *name, tcr_options_init_call init, size_t own);

/* Makes a call with the options; holds that its outputs are as they were where it fails. */
typedef tcr_status (*tcr_options_call)(const void *options, void *context);

/*
 * Holds that the call takes defaults of every size from least to own that a struct can have, and
 * answers TCR_E_ARGUMENT to every other.
 */
void tcr_expect_sizes(tcr_options_init_call init, size_t least, size_t own, tcr_options_call call,
                      void *context);

#endif
