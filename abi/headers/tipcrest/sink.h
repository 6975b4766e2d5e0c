/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_SINK_H
#define TCR_SINK_H 
#include <stddef.h>
typedef int (*tcr_sink)(void *context, const void *bytes, size_t count);
#endif
