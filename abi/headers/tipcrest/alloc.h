/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ALLOC_H
#define TCR_ALLOC_H 
#include <stddef.h>
#include <tipcrest/export.h>
typedef struct tcr_allocator {
    void *(*resize)(void *context, void *block, size_t bytes);
    void (*release)(void *context, void *block);
    void *context;
} tcr_allocator;
TCR_API tcr_allocator tcr_allocator_default(void);
#endif
