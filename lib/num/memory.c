/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Memory through the embedder's allocator, with the overflow checks that realloc leaves to its
 * caller.
 */
#include "num/memory.h"

#include <stdint.h>
#include <stdlib.h>

static void *default_resize(void *context, void *block, size_t bytes) {
    (void)context;
    return realloc(block, bytes);
}

static void default_release(void *context, void *block) {
    (void)context;
    free(block);
}

tcr_allocator tcr_allocator_default(void) {
    return (tcr_allocator){default_resize, default_release, NULL};
}

tcr_status tcr_allocator_choose(const tcr_allocator *given, tcr_allocator *chosen) {
    if (given != NULL && (given->resize == NULL || given->release == NULL))
        return TCR_E_ARGUMENT;
    *chosen = given != NULL ? *given : tcr_allocator_default();
    return TCR_OK;
}

void *tcr_resize(const tcr_allocator *allocator, void *block, size_t count, size_t size) {
    if (size != 0 && count > SIZE_MAX / size)
        return NULL;
    const size_t bytes = count * size;
    return allocator->resize(allocator->context, block, bytes > 0 ? bytes : 1);
}

void tcr_release(const tcr_allocator *allocator, void *block) {
    if (block != NULL)
        allocator->release(allocator->context, block);
}

tcr_status tcr_grow(const tcr_allocator *allocator, void **array, size_t count, size_t *capacity,
                    size_t size) {
    if (count < *capacity)
        return TCR_OK;
    if (*capacity > SIZE_MAX / 2)
        return TCR_E_MEMORY;
    const size_t more = *capacity + *capacity / 2 + 8;
    void *block = tcr_resize(allocator, *array, more, size);
    if (block == NULL)
        return TCR_E_MEMORY;
    *array = block;
    *capacity = more;
    return TCR_OK;
}
