/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_DIGEST_H
#define TCR_FILE_DIGEST_H

/*
 * Digests of files as text, and seals. A seal is the last line of a file that tipcrest wrote: a
 * comment, in YAML and in surveys, with the digest of all lines above it. While it holds, nobody
 * has changed the file. It has no comma and no semicolon, so that a spreadsheet keeps it in one
 * cell.
 */
#include <stdbool.h>

#include "num/sha256.h"

/* "sha256:", 64 hex digits and a NUL. */
enum { TCR_DIGEST_SIZE = 7 + 2 * TCR_SHA256_SIZE + 1 };

/* The digest of what the hash has seen; the hash begins anew. */
void tcr_digest_text(tcr_sha256 *hash, char text[TCR_DIGEST_SIZE]);

/* Of a seal with its line end and a NUL. */
#define TCR_SEAL_WORDS "# tipcrest may replace this file while the lines above have "
enum { TCR_SEAL_SIZE = sizeof TCR_SEAL_WORDS - 1 + TCR_DIGEST_SIZE - 1 + 1 + 1 };

/* The seal of the lines that the hash has seen. */
void tcr_seal_text(tcr_sha256 *hash, char text[TCR_SEAL_SIZE]);

/*
 * Whether the file at a path ends with a seal that holds. Returns 0, or the errno of a file that
 * cannot be read; *holds is then false.
 */
int tcr_seal_check(const char *path, bool *holds);

#endif
