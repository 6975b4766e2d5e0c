/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FAULTS_REPLACE_H
#define TCR_TESTS_FAULTS_REPLACE_H

/* For programs and preloaded objects that have calls of their own in place of the C library's. A
 * source that includes it defines _GNU_SOURCE first: RTLD_NEXT is an extension. */
#include <dlfcn.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>
#include <sys/types.h>

/* Makes real the call that this one replaces. ISO C has no way from an object pointer to a function
 * pointer but memory. */
#define FIND_REAL(result, name, parameters)                                                        \
    static result(*real) parameters;                                                               \
    if (real == NULL) {                                                                            \
        void *symbol = dlsym(RTLD_NEXT, #name);                                                    \
        memcpy(&real, &symbol, sizeof real);                                                       \
    }

/* Makes mode the third argument of open() or its like, where the flags ask for one. */
#define TAKE_MODE(flags)                                                                           \
    va_list rest;                                                                                  \
    va_start(rest, flags);                                                                         \
    const mode_t mode = (flags)&O_CREAT ? va_arg(rest, mode_t) : 0;                                \
    va_end(rest);

#endif
