/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_MEMORY_H
#define TCR_NUM_MEMORY_H

/* The one door to memory: every allocation of the library goes through an allocator. */

#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

/*
 * Resizes a block to count items of size bytes; NULL on failure or where the product overflows, and
 * the old block stays valid. count and size of 0 are taken as 1 byte.
 */
void *tcr_resize(const tcr_allocator *allocator, void *block, size_t count, size_t size);

/* Frees a block; NULL is accepted. */
void tcr_release(const tcr_allocator *allocator, void *block);

/*
 * Makes room for one item more in an array that holds count and has room for *capacity, by half as
 * much again. TCR_OK or TCR_E_MEMORY; on failure the array is unchanged.
 */
tcr_status tcr_grow(const tcr_allocator *allocator, void **array, size_t count, size_t *capacity,
                    size_t size);

/* The allocator to use where a caller may have given none or half of one: TCR_E_ARGUMENT for the
 * half. */
tcr_status tcr_allocator_choose(const tcr_allocator *given, tcr_allocator *chosen);

#endif
