/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_SINK_H
#define TCR_SINK_H

#include <stddef.h>

/*
 * A sink receives reports, set files, surveys and pictures. A writer calls it with the pieces in
 * order. Each piece has 'count' bytes, at least one, and is valid only during the call. context is
 * the caller's and may be NULL. The sink returns 0 to go on. After any other value the writer does
 * not call it again and returns TCR_E_WRITE. A writer whose sink is NULL returns TCR_E_ARGUMENT.
 */
typedef int (*tcr_sink)(void *context, const void *bytes, size_t count);

#endif
