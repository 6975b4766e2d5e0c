/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_MEMORY_H
#define TCR_TESTS_SUPPORT_MEMORY_H

/* An allocator that counts its blocks and can run out of memory at a chosen call. */

#include <stddef.h>

#include <tipcrest/alloc.h>

typedef struct tcr_counted {
    size_t calls;   /* of resize, so far */
    size_t fail_at; /* the call, from 1, that finds no memory, and each after it; 0 none does */
    size_t blocks;  /* handed out and not given back */
} tcr_counted;

/* An allocator on top of the C library's whose calls go into *counted. */
tcr_allocator tcr_counted_allocator(tcr_counted *counted);

#endif
