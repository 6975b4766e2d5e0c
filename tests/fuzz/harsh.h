/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_HARSH_H
#define TCR_TESTS_FUZZ_HARSH_H

/*
 * An allocator as harsh as one may be: a block that is resized always moves, fresh memory is full
 * of 0xBF (in UTF-8 the middle of a character; as a pointer or a number nothing good), what is
 * released is overwritten first, and from a chosen call on there is none left.
 */

#include <stddef.h>

#include <tipcrest/alloc.h>

typedef struct tcr_harsh {
    size_t calls;   /* of resize, so far */
    size_t fail_at; /* the call, from 1, that finds no memory, and each after it; 0 none does */
    size_t blocks;  /* handed out and not given back */
} tcr_harsh;

tcr_allocator tcr_harsh_allocator(tcr_harsh *harsh);

#endif
