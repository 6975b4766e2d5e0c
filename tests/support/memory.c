/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The counting allocator of the tests. */
#include "support/memory.h"

#include <stdlib.h>

static void *resize(void *context, void *block, size_t bytes) {
    tcr_counted *counted = context;
    counted->calls++;
    if (counted->fail_at != 0 && counted->calls >= counted->fail_at)
        return NULL;
    void *moved = realloc(block, bytes);
    if (moved != NULL && block == NULL)
        counted->blocks++;
    return moved;
}

static void release(void *context, void *block) {
    tcr_counted *counted = context;
    if (block != NULL)
        counted->blocks--;
    free(block);
}

tcr_allocator tcr_counted_allocator(tcr_counted *counted) {
    return (tcr_allocator){resize, release, counted};
}
