/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ALLOC_H
#define TCR_ALLOC_H

#include <stddef.h>

#include <tipcrest/export.h>

/*
 * All memory of the core goes through an allocator. Where a call takes one, NULL means the C
 * library's. An object keeps a copy of the allocator it was made with and uses it until it is
 * freed.
 *
 * resize(context, block, bytes): as realloc; block may be NULL, bytes is never 0; NULL on failure,
 * the old block then stays valid. release(context, block): as free; block may be NULL.
 * Objects used by several threads at once need an allocator that several threads may call.
 */
typedef struct tcr_allocator {
    void *(*resize)(void *context, void *block, size_t bytes);
    void (*release)(void *context, void *block);
    void *context;
} tcr_allocator;

/* The C library's allocator. */
TCR_API tcr_allocator tcr_allocator_default(void);

#endif
