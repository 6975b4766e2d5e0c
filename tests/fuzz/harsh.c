/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The harsh allocator. Each block is preceded by its size. */
#include "fuzz/harsh.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { FRESH = 0xBF, GONE = 0xDB };

typedef union header {
    size_t bytes;
    max_align_t align;
} header;

static void release(void *context, void *block) {
    tcr_harsh *harsh = context;
    if (block == NULL)
        return;
    header *whole = (header *)block - 1;
    memset(block, GONE, whole->bytes);
    harsh->blocks--;
    free(whole);
}

static void *resize(void *context, void *block, size_t bytes) {
    tcr_harsh *harsh = context;
    harsh->calls++;
    if (harsh->fail_at != 0 && harsh->calls >= harsh->fail_at)
        return NULL;
    header *whole = bytes <= SIZE_MAX - sizeof *whole ? malloc(sizeof *whole + bytes) : NULL;
    if (whole == NULL)
        return NULL;
    whole->bytes = bytes;
    memset(whole + 1, FRESH, bytes);
    harsh->blocks++;
    if (block != NULL) {
        const size_t before = ((header *)block - 1)->bytes;
        memcpy(whole + 1, block, before < bytes ? before : bytes);
        release(context, block);
    }
    return whole + 1;
}

tcr_allocator tcr_harsh_allocator(tcr_harsh *harsh) {
    return (tcr_allocator){resize, release, harsh};
}
