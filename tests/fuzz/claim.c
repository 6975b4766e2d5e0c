/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Claims of the fuzz targets. */
#include "fuzz/claim.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "num/printable.h"

enum { MARK = 0xA5 };

void tcr_claim_fails(const char *file, int line, const char *claimed, const char *format, ...) {
    va_list arguments;
    fprintf(stderr, "%s:%d: does not hold: %s: ", file, line, claimed);
    va_start(arguments, format);
    vfprintf(stderr, format, arguments);
    va_end(arguments);
    fputc('\n', stderr);
    abort();
}

void tcr_mark(void *output, size_t bytes) { memset(output, MARK, bytes); }

void tcr_claim_untouched(const char *call, tcr_status status, const void *output, size_t bytes) {
    const unsigned char *at = output;
    for (size_t i = 0; status != TCR_OK && i < bytes; i++)
        claim(at[i] == MARK, "%s failed (%s) and wrote to byte %zu of its output", call,
              tcr_status_text(status), i);
}

void tcr_claim_finite(const char *what, const double *numbers, size_t count) {
    for (size_t i = 0; i < count; i++)
        claim(isfinite(numbers[i]), "number %zu of %s is %g", i, what, numbers[i]);
}

static void claim_safe(const char *what, const char *text, size_t room) {
    claim(memchr(text, '\0', room) != NULL, "the %s has no end", what);
    while (*text != '\0') {
        uint32_t code;
        text += tcr_utf8_next(text, &code);
        claim(code != TCR_UTF8_INVALID, "the %s is not UTF-8", what);
        claim(code >= 0x20 && (code < 0x7f || code > 0x9f) && (code < 0x2028 || code > 0x202e),
              "the %s holds U+%04lx", what, (unsigned long)code);
    }
}

void tcr_claim_error(tcr_status status, const tcr_error *error) {
    claim(error->status == status, "returned %d, but tells %d", (int)status, (int)error->status);
    claim_safe("message", error->message, sizeof error->message);
    claim_safe("path", error->path, sizeof error->path);
    claim(error->message[0] != '\0', "status %d without a message", (int)status);
}

uint64_t tcr_hash(const uint8_t *data, size_t size) {
    uint64_t hash = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < size; i++)
        hash = (hash ^ data[i]) * UINT64_C(1099511628211);
    return hash ^ hash >> 29;
}
