/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_SINK_H
#define TCR_SINK_H

#include <stddef.h>

/*
 * Where reports, set files, surveys and pictures go. A writer calls its sink with the pieces in
 * their order, each of count bytes, at least one; the bytes are valid during the call alone.
 * context is what the caller handed to the writer, and may be NULL. The sink returns 0, or anything
 * else to stop: the writer does not call it again and returns TCR_E_WRITE. A writer without a sink
 * (NULL) returns TCR_E_ARGUMENT.
 */
typedef int (*tcr_sink)(void *context, const void *bytes, size_t count);

#endif
