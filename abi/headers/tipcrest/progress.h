/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PROGRESS_H
#define TCR_PROGRESS_H 
#include <stdbool.h>
typedef struct tcr_progress {
    bool (*report)(void *context, const char *phase, double share);
    void *context;
} tcr_progress;
#endif
