/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * SHA-256, section 6.2 of FIPS 180-4. The names of the small functions are those of its section
 * 4.1.2; the constants are its own: the first 32 bits of the fractional parts of the cube roots of
 * the first 64 primes, and for the state of the square roots of the first eight.
 */
#include "num/sha256.h"

#include <string.h>

static const uint32_t K[64] = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
};

static uint32_t turned(uint32_t x, int n) { return x >> n | x << (32 - n); }

static uint32_t sum0(uint32_t x) { return turned(x, 2) ^ turned(x, 13) ^ turned(x, 22); }
static uint32_t sum1(uint32_t x) { return turned(x, 6) ^ turned(x, 11) ^ turned(x, 25); }
static uint32_t sigma0(uint32_t x) { return turned(x, 7) ^ turned(x, 18) ^ x >> 3; }
static uint32_t sigma1(uint32_t x) { return turned(x, 17) ^ turned(x, 19) ^ x >> 10; }

static uint32_t word_at(const uint8_t *b) {
    return (uint32_t)b[0] << 24 | (uint32_t)b[1] << 16 | (uint32_t)b[2] << 8 | b[3];
}

static void take_block(uint32_t state[8], const uint8_t *block) {
    uint32_t w[64], s[8];
    for (size_t t = 0; t < 16; t++)
        w[t] = word_at(block + 4 * t);
    for (int t = 16; t < 64; t++)
        w[t] = sigma1(w[t - 2]) + w[t - 7] + sigma0(w[t - 15]) + w[t - 16];
    memcpy(s, state, sizeof s);
    for (int t = 0; t < 64; t++) {
        const uint32_t choose = (s[4] & s[5]) ^ (~s[4] & s[6]);
        const uint32_t majority = (s[0] & s[1]) ^ (s[0] & s[2]) ^ (s[1] & s[2]);
        const uint32_t t1 = s[7] + sum1(s[4]) + choose + K[t] + w[t];
        memmove(s + 1, s, 7 * sizeof s[0]);
        s[4] += t1;
        s[0] = t1 + sum0(s[1]) + majority;
    }
    for (int i = 0; i < 8; i++)
        state[i] += s[i];
}

void tcr_sha256_begin(tcr_sha256 *hash) {
    *hash = (tcr_sha256){.state = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f,
                                   0x9b05688c, 0x1f83d9ab, 0x5be0cd19}};
}

void tcr_sha256_add(tcr_sha256 *hash, const void *bytes, size_t count) {
    const uint8_t *from = bytes;
    while (count > 0) {
        const size_t held = hash->bytes % TCR_SHA256_BLOCK, room = TCR_SHA256_BLOCK - held;
        const size_t part = count < room ? count : room;
        memcpy(hash->block + held, from, part);
        hash->bytes += part;
        from += part;
        count -= part;
        if (part == room)
            take_block(hash->state, hash->block);
    }
}

/* A bit of 1, zeros, and the length in bits; section 5.1.1. */
void tcr_sha256_end(tcr_sha256 *hash, uint8_t digest[TCR_SHA256_SIZE]) {
    static const uint8_t one = 0x80, zero = 0;
    const uint64_t bits = hash->bytes * 8;
    uint8_t length[8];
    for (int i = 0; i < 8; i++)
        length[i] = (uint8_t)(bits >> (56 - 8 * i));
    tcr_sha256_add(hash, &one, 1);
    while (hash->bytes % TCR_SHA256_BLOCK != TCR_SHA256_BLOCK - sizeof length)
        tcr_sha256_add(hash, &zero, 1);
    tcr_sha256_add(hash, length, sizeof length);
    for (int i = 0; i < TCR_SHA256_SIZE; i++)
        digest[i] = (uint8_t)(hash->state[i / 4] >> (24 - 8 * (i % 4)));
    tcr_sha256_begin(hash);
}
