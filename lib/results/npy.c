/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Structured arrays in NumPy's file format. */
#include "results/npy.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/memory.h"
#include "num/printable.h"

/* The head is filled up to a multiple of this many bytes. */
enum { ALIGN = 64, INT_BYTES = 4, DOUBLE_BYTES = 8, CHARACTER_BYTES = 4, COLUMN_HEAD = 120 };

size_t tcr_npy_bytes(const tcr_npy_column *column) {
    return column->kind == TCR_NPY_DOUBLE ? DOUBLE_BYTES
           : column->kind == TCR_NPY_INT  ? INT_BYTES
                                          : CHARACTER_BYTES * column->characters;
}

size_t tcr_npy_row_bytes(const tcr_npy_column *column, size_t columns) {
    size_t bytes = 0;
    for (size_t i = 0; i < columns; i++)
        bytes += tcr_npy_bytes(&column[i]);
    return bytes;
}

/* "('curl', '<U3'), " */
static size_t put_type(char *at, size_t room, const tcr_npy_column *column) {
    char type[24] = "f8";
    if (column->kind != TCR_NPY_DOUBLE)
        (void)snprintf(type, sizeof type, column->kind == TCR_NPY_INT ? "i4" : "U%zu",
                       column->characters);
    return (size_t)snprintf(at, room, "('%s', '<%s'), ", column->name, type);
}

static void put_little(unsigned char *at, uint64_t value, int bytes) {
    for (int i = 0; i < bytes; i++)
        at[i] = (unsigned char)(value >> (8 * i) & 255);
}

static uint64_t get_little(const unsigned char *at, int bytes) {
    uint64_t value = 0;
    for (int i = 0; i < bytes; i++)
        value |= (uint64_t)at[i] << (8 * i);
    return value;
}

tcr_status tcr_npy_head(const tcr_allocator *allocator, const tcr_npy_column *column,
                        size_t columns, uint64_t rows, char **head, size_t *bytes) {
    enum { MAGIC = 8, FRAME = 200, VERSION_1_MOST = 65535 };
    const size_t room = MAGIC + 4 + FRAME + columns * COLUMN_HEAD;
    char *text = tcr_resize(allocator, NULL, room, 1);
    if (text == NULL)
        return TCR_E_MEMORY;
    char *words = text + MAGIC + 4; /* moved where version 1.0 will do */
    const size_t left = room - MAGIC - 4;
    size_t n = (size_t)snprintf(words, left, "{'descr': [");
    for (size_t i = 0; i < columns; i++)
        n += put_type(words + n, left - n, &column[i]);
    n += (size_t)snprintf(words + n, left - n, "], 'fortran_order': False, 'shape': (%llu,), }",
                          (unsigned long long)rows);
    const int version = n + ALIGN <= VERSION_1_MOST ? 1 : 2, count = version == 1 ? 2 : 4;
    const size_t before = MAGIC + (size_t)count;
    const size_t whole = (before + n + 1 + ALIGN - 1) / ALIGN * ALIGN;
    memmove(text + before, words, n);
    memset(text + before + n, ' ', whole - before - n);
    text[whole - 1] = '\n';
    memcpy(text, "\x93NUMPY", 6);
    text[6] = (char)version;
    text[7] = 0;
    put_little((unsigned char *)text + MAGIC, whole - before, count);
    *head = text;
    *bytes = whole;
    return TCR_OK;
}

unsigned char *tcr_npy_put_double(unsigned char *at, double value) {
    static const uint64_t NONE = UINT64_C(0x7ff8) << 48; /* one NaN for all of them */
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    put_little(at, isnan(value) ? NONE : bits, DOUBLE_BYTES);
    return at + DOUBLE_BYTES;
}

unsigned char *tcr_npy_put_int(unsigned char *at, int32_t value) {
    put_little(at, (uint32_t)value, INT_BYTES);
    return at + INT_BYTES;
}

unsigned char *tcr_npy_put_text(unsigned char *at, const tcr_npy_column *column, const char *text) {
    for (size_t i = 0; i < column->characters; i++) {
        uint32_t code = 0;
        if (*text != '\0')
            text += tcr_utf8_next(text, &code);
        put_little(at, code != TCR_UTF8_INVALID ? code : 0xfffd, CHARACTER_BYTES);
        at += CHARACTER_BYTES;
    }
    return at;
}

double tcr_npy_get_double(const unsigned char *at) {
    const uint64_t bits = get_little(at, DOUBLE_BYTES);
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

int32_t tcr_npy_get_int(const unsigned char *at) {
    const uint32_t bits = (uint32_t)get_little(at, INT_BYTES);
    int32_t value;
    memcpy(&value, &bits, sizeof value);
    return value;
}
