/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_SHA256_H
#define TCR_NUM_SHA256_H

/*
 * SHA-256 (FIPS 180-4), for digests of inputs and seals of outputs. It tells whether a file is
 * still the same; nothing secret depends on it.
 */

#include <stddef.h>
#include <stdint.h>

enum { TCR_SHA256_SIZE = 32, TCR_SHA256_BLOCK = 64 };

typedef struct tcr_sha256 {
    uint32_t state[8];
    uint64_t bytes;
    uint8_t block[TCR_SHA256_BLOCK]; /* what has come of the next block */
} tcr_sha256;

void tcr_sha256_begin(tcr_sha256 *hash);
/* bytes may be NULL if count is 0. */
void tcr_sha256_add(tcr_sha256 *hash, const void *bytes, size_t count);
/* Writes the digest; the hash begins anew. */
void tcr_sha256_end(tcr_sha256 *hash, uint8_t digest[TCR_SHA256_SIZE]);

#endif
