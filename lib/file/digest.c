/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Digests of files as text, and seals. */
#define _XOPEN_SOURCE 700
#include "file/digest.h"

#include <errno.h>
#include <fcntl.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/descriptor.h"

enum { PIECE_SIZE = 4096, SEAL_BYTES = TCR_SEAL_SIZE - 1 };

void tcr_digest_text(tcr_sha256 *hash, char text[TCR_DIGEST_SIZE]) {
    static const char HEX[] = "0123456789abcdef", PREFIX[] = "sha256:";
    uint8_t digest[TCR_SHA256_SIZE];
    char *at = text + sizeof PREFIX - 1;
    tcr_sha256_end(hash, digest);
    memcpy(text, PREFIX, sizeof PREFIX - 1);
    for (size_t i = 0; i < sizeof digest; i++) {
        *at++ = HEX[digest[i] >> 4];
        *at++ = HEX[digest[i] & 15];
    }
    *at = '\0';
}

void tcr_seal_text(tcr_sha256 *hash, char text[TCR_SEAL_SIZE]) {
    char digest[TCR_DIGEST_SIZE];
    tcr_digest_text(hash, digest);
    strcpy(text, TCR_SEAL_WORDS);
    strcat(text, digest);
    strcat(text, "\n");
}

/* Reads bytes; 0 or an errno, also where the file ends before: EIO. */
static int read_all(int fd, char *bytes, size_t count) {
    while (count > 0) {
        const ssize_t got = read(fd, bytes, count);
        if (got > 0) {
            bytes += got;
            count -= (size_t)got;
        } else if (got == 0) {
            return EIO;
        } else if (errno != EINTR) {
            return errno;
        }
    }
    return 0;
}

/* Holds the seal at the end of an open file against all before it. */
static int check_open(int fd, bool *holds) {
    tcr_sha256 hash;
    struct stat found;
    char piece[PIECE_SIZE], seal[TCR_SEAL_SIZE];
    if (fstat(fd, &found) != 0)
        return errno;
    if (!S_ISREG(found.st_mode) || found.st_size < SEAL_BYTES)
        return 0;
    tcr_sha256_begin(&hash);
    int failed = 0;
    for (off_t left = found.st_size - SEAL_BYTES; left > 0 && failed == 0;) {
        const size_t part = left < PIECE_SIZE ? (size_t)left : PIECE_SIZE;
        failed = read_all(fd, piece, part);
        tcr_sha256_add(&hash, piece, failed == 0 ? part : 0);
        left -= (off_t)part;
    }
    if (failed == 0)
        failed = read_all(fd, piece, SEAL_BYTES);
    if (failed != 0)
        return failed;
    tcr_seal_text(&hash, seal);
    *holds = memcmp(piece, seal, SEAL_BYTES) == 0;
    return 0;
}

int tcr_seal_check(const char *path, bool *holds) {
    *holds = false;
    const int fd = tcr_open_unknown(path, O_RDONLY);
    if (fd < 0)
        return errno;
    const int failed = check_open(fd, holds);
    close(fd);
    return failed;
}
