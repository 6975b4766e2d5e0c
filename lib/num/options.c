/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options structs, perhaps of an older header: defaults out, what a program says in. */
#include "num/options.h"

#include <string.h>

void tcr_options_init(void *options, size_t size, const void *defaults, size_t own_size) {
    if (options == NULL || size < sizeof size)
        return;
    const size_t known = size < own_size ? size : own_size;
    memcpy(options, defaults, known);
    memset((char *)options + known, 0, size - known);
    memcpy(options, &size, sizeof size);
}

tcr_status tcr_options_take(void *own, size_t own_size, const void *given) {
    size_t size;
    if (given == NULL)
        return TCR_OK;
    memcpy(&size, given, sizeof size);
    if (size == 0 || size > own_size || size % _Alignof(size_t) != 0)
        return TCR_E_ARGUMENT;
    memcpy(own, given, size);
    memcpy(own, &own_size, sizeof own_size);
    return TCR_OK;
}
