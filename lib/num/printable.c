/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * UTF-8 (Unicode 15, section 3.9) and what of it a terminal may be given. Widths follow the East
 * Asian Width property (Unicode Standard Annex 11) by blocks, near enough to align a column;
 * wcwidth() would depend on the locale.
 */
#include "num/printable.h"

#include <string.h>

typedef struct block {
    uint32_t first, last;
} block;

static bool is_in(uint32_t code, const block *blocks, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (code >= blocks[i].first && code <= blocks[i].last)
            return true;
    return false;
}

size_t tcr_utf8_next(const char *text, uint32_t *code) {
    const unsigned char *byte = (const unsigned char *)text;
    *code = TCR_UTF8_INVALID;
    if (byte[0] < 0x80) {
        *code = byte[0];
        return 1;
    }
    const size_t more = byte[0] >= 0xf0 ? 3 : byte[0] >= 0xe0 ? 2 : 1;
    if (byte[0] < 0xc2 || byte[0] > 0xf4)
        return 1;
    uint32_t value = byte[0] & (0x3fu >> more);
    for (size_t i = 1; i <= more; i++) {
        if ((byte[i] & 0xc0) != 0x80) /* also the end of the text */
            return 1;
        value = value << 6 | (byte[i] & 0x3f);
    }
    static const uint32_t least[] = {0, 0x80, 0x800, 0x10000};
    if (value < least[more] || value > 0x10ffff || (value >= 0xd800 && value <= 0xdfff))
        return 1;
    *code = value;
    return more + 1;
}

int tcr_utf8_columns(uint32_t code) {
    static const block none[] = {{0x300, 0x36f},   {0x483, 0x489},    {0x591, 0x5bd},
                                 {0x610, 0x61a},   {0x64b, 0x65f},    {0x200b, 0x200d},
                                 {0x20d0, 0x20f0}, {0xfe00, 0xfe0f},  {0xfe20, 0xfe2f},
                                 {0xfeff, 0xfeff}, {0xe0100, 0xe01ef}};
    static const block two[] = {{0x1100, 0x115f}, {0x2e80, 0xa4cf},   {0xac00, 0xd7a3},
                                {0xf900, 0xfaff}, {0xfe30, 0xfe6f},   {0xff00, 0xff60},
                                {0xffe0, 0xffe6}, {0x1f300, 0x1faff}, {0x20000, 0x3fffd}};
    if (code < 0x300)
        return 1;
    if (is_in(code, none, sizeof none / sizeof *none))
        return 0;
    return is_in(code, two, sizeof two / sizeof *two) ? 2 : 1;
}

bool tcr_utf8_is_unsafe(uint32_t code) {
    static const block unsafe[] = {{0, 0x1f},        {0x7f, 0x9f},      {0xad, 0xad},
                                   {0x61c, 0x61c},   {0x200e, 0x200f},  {0x2028, 0x202e},
                                   {0x2060, 0x206f}, {0xfeff, 0xfeff},  {0xfff9, 0xfffb},
                                   {0xfffe, 0xffff}, {0xe0000, 0xe007f}};
    if (code >= 0x20 && code < 0x7f) /* nearly all there is */
        return false;
    return code == TCR_UTF8_INVALID || is_in(code, unsafe, sizeof unsafe / sizeof *unsafe);
}

/* Writes \xff for a byte, \u202e or \U000e0001 for a character; returns the length. */
static size_t escape(unsigned char byte, uint32_t code, char piece[12]) {
    const bool single = code == TCR_UTF8_INVALID || code < 0x80;
    const unsigned digits = single ? 2 : code <= 0xffff ? 4 : 8;
    const uint32_t value = single ? byte : code;
    piece[0] = '\\';
    piece[1] = single ? 'x' : digits == 4 ? 'u' : 'U';
    for (unsigned i = 0; i < digits; i++)
        piece[2 + i] = "0123456789abcdef"[value >> (4 * (digits - 1 - i)) & 15];
    return 2 + digits;
}

int tcr_printable(const char *text, int columns, char *out, size_t size) {
    size_t used = 0, cut = 0; /* bytes written, and those to keep where "..." has to follow */
    int width = 0, cut_width = 0;
    if (out != NULL && size > 0)
        out[0] = '\0';
    if (text == NULL || out == NULL || size < sizeof "..." || columns < 3)
        return 0;
    while (*text != '\0') {
        uint32_t code;
        char piece[12];
        const size_t bytes = tcr_utf8_next(text, &code);
        size_t length = bytes;
        int wide = 0;
        if (tcr_utf8_is_unsafe(code)) {
            length = escape((unsigned char)*text, code, piece);
            wide = (int)length;
        } else {
            memcpy(piece, text, bytes);
            wide = tcr_utf8_columns(code);
        }
        if (wide > columns - width || length > size - 1 - used) {
            memcpy(out + cut, "...", 4);
            return cut_width + 3;
        }
        memcpy(out + used, piece, length);
        used += length;
        width += wide;
        text += bytes;
        if (width <= columns - 3 && used <= size - 4) {
            cut = used;
            cut_width = width;
        }
    }
    out[used] = '\0';
    return width;
}
