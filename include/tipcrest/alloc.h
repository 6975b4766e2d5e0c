/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ALLOC_H
#define TCR_ALLOC_H

#include <stddef.h>

#include <tipcrest/export.h>

/*
 * All memory of the core comes from an allocator. A call that takes one accepts NULL: the C
 * library's. An object copies the allocator that it is made with and uses the copy until it is
 * freed; context must live that long.
 *
 * resize(context, block, bytes) works as realloc. block may be NULL; bytes is never 0. It returns
 * NULL on failure, and the old block stays valid. release(context, block) works as free; block may
 * be NULL. If several threads use objects with one allocator, it must be thread-safe.
 */
typedef struct tcr_allocator {
    void *(*resize)(void *context, void *block, size_t bytes);
    void (*release)(void *context, void *block);
    void *context;
} tcr_allocator;

/* The C library's allocator; its context is NULL. Cannot fail. */
TCR_API tcr_allocator tcr_allocator_default(void);

#endif
