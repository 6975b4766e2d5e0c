/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SHA-256 against the examples of its standard. */
#include "num/sha256.h"

#include <stdio.h>
#include <string.h>

#include "support/check.h"

static const char *text_of(tcr_sha256 *hash) {
    static char text[2 * TCR_SHA256_SIZE + 1];
    uint8_t digest[TCR_SHA256_SIZE];
    tcr_sha256_end(hash, digest);
    for (int i = 0; i < TCR_SHA256_SIZE; i++)
        snprintf(text + 2 * i, 3, "%02x", digest[i]);
    return text;
}

/* NIST, "Examples with intermediate values" for SHA-256: one block, two blocks, a million a. */
CLAIM(the_examples_of_the_standard_come_out) {
    tcr_sha256 hash;
    tcr_sha256_begin(&hash);
    tcr_sha256_add(&hash, "abc", 3);
    expect_text(text_of(&hash), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    static const char TWO[] = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    tcr_sha256_add(&hash, TWO, sizeof TWO - 1);
    expect_text(text_of(&hash), "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    for (int i = 0; i < 1000000; i++)
        tcr_sha256_add(&hash, "a", 1);
    expect_text(text_of(&hash), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

/* Computed by sha256sum of GNU coreutils 9.1. */
CLAIM(nothing_has_a_digest_too) {
    tcr_sha256 hash;
    tcr_sha256_begin(&hash);
    tcr_sha256_add(&hash, NULL, 0);
    expect_text(text_of(&hash), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

/* Every length about the ends of blocks, in pieces of every size: the same digest. */
CLAIM(how_the_bytes_come_does_not_matter) {
    uint8_t bytes[200];
    for (size_t i = 0; i < sizeof bytes; i++)
        bytes[i] = (uint8_t)(i * 37);
    for (size_t length = 0; length <= sizeof bytes; length++) {
        char whole[2 * TCR_SHA256_SIZE + 1];
        tcr_sha256 hash;
        tcr_sha256_begin(&hash);
        tcr_sha256_add(&hash, bytes, length);
        strcpy(whole, text_of(&hash));
        for (size_t piece = 1; piece <= 65; piece += 8) {
            given("%zu bytes in pieces of %zu", length, piece);
            for (size_t at = 0; at < length; at += piece)
                tcr_sha256_add(&hash, bytes + at, length - at < piece ? length - at : piece);
            expect_text(text_of(&hash), whole);
        }
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &the_examples_of_the_standard_come_out,
        &nothing_has_a_digest_too,
        &how_the_bytes_come_does_not_matter,
    };
    return RUN_CLAIMS("sha256", claims);
}
