/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_WRITER_H
#define TCR_FILE_WRITER_H

/*
 * Text on its way to a sink, gathered into larger pieces. The first failure sticks: what follows is
 * dropped, and tcr_writer_end reports it, so that a report need not look at every word.
 */
#include <stddef.h>
#include <string.h>

#include <tipcrest/file.h>

typedef struct tcr_writer {
    tcr_sink sink;
    void *context;
    tcr_status status;
    size_t used;
    char buffer[8192];
} tcr_writer;

void tcr_writer_begin(tcr_writer *writer, tcr_sink sink, void *context);

/* Hands over the rest. TCR_OK, or TCR_E_WRITE where the sink returned other than 0. */
tcr_status tcr_writer_end(tcr_writer *writer);

/* Makes room in the buffer and puts what may be longer than that. */
void tcr_put_over(tcr_writer *writer, const char *bytes, size_t count);

/* A report of many lashes is tens of millions of words: these are inline. */
static inline void tcr_put_bytes(tcr_writer *writer, const char *bytes, size_t count) {
    if (count > sizeof writer->buffer - writer->used) {
        tcr_put_over(writer, bytes, count);
        return;
    }
    memcpy(writer->buffer + writer->used, bytes, count);
    writer->used += count;
}

static inline void tcr_put_byte(tcr_writer *writer, char byte) { tcr_put_bytes(writer, &byte, 1); }

static inline void tcr_put(tcr_writer *writer, const char *text) {
    tcr_put_bytes(writer, text, strlen(text));
}

/* A finite number with the fewest digits that read back as the same double. */
void tcr_put_number(tcr_writer *writer, double number);
void tcr_put_count(tcr_writer *writer, size_t count);

#endif
