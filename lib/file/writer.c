/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text on its way to a sink, gathered into larger pieces. */
#include "file/writer.h"

#include "num/number.h"

void tcr_writer_begin(tcr_writer *writer, tcr_sink sink, void *context) {
    writer->sink = sink;
    writer->context = context;
    writer->status = TCR_OK;
    writer->used = 0;
}

static void flush(tcr_writer *writer) {
    if (writer->status == TCR_OK && writer->used > 0 &&
        writer->sink(writer->context, writer->buffer, writer->used) != 0)
        writer->status = TCR_E_WRITE;
    writer->used = 0;
}

tcr_status tcr_writer_end(tcr_writer *writer) {
    flush(writer);
    return writer->status;
}

void tcr_put_over(tcr_writer *writer, const char *bytes, size_t count) {
    while (count > 0) {
        if (writer->used == sizeof writer->buffer)
            flush(writer);
        const size_t room = sizeof writer->buffer - writer->used;
        const size_t part = count < room ? count : room;
        memcpy(writer->buffer + writer->used, bytes, part);
        writer->used += part;
        bytes += part;
        count -= part;
    }
}

void tcr_put_number(tcr_writer *writer, double number) {
    if (sizeof writer->buffer - writer->used < TCR_NUMBER_SIZE)
        flush(writer);
    writer->used += tcr_number_text(number, writer->buffer + writer->used);
}

void tcr_put_count(tcr_writer *writer, size_t count) {
    char digits[24];
    size_t at = sizeof digits;
    do {
        digits[--at] = (char)('0' + count % 10);
        count /= 10;
    } while (count > 0);
    tcr_put_bytes(writer, digits + at, sizeof digits - at);
}
