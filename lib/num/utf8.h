/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_UTF8_H
#define TCR_NUM_UTF8_H

/* Titles, ids and labels are UTF-8: they reach terminals, pictures and reports. */

#include <stdbool.h>

#include "num/printable.h"

/* Whether a text that ends with a NUL is well-formed UTF-8. */
static inline bool tcr_utf8_valid(const char *text) {
    while (*text != '\0') {
        uint32_t code;
        text += tcr_utf8_next(text, &code);
        if (code == TCR_UTF8_INVALID)
            return false;
    }
    return true;
}

#endif
