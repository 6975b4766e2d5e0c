/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STATUS_H
#define TCR_STATUS_H 
#include <tipcrest/export.h>
typedef enum tcr_status {
    TCR_OK = 0,
    TCR_E_ARGUMENT = 1,
    TCR_E_RANGE = 2,
    TCR_E_MEMORY = 3,
    TCR_E_MRD1 = 4,
    TCR_E_MRD2 = 5,
    TCR_E_SEMIAXIS = 6,
    TCR_E_CURL = 7,
    TCR_E_BOND = 8,
    TCR_E_TRAY = 9,
    TCR_E_MAP = 10,
    TCR_E_DUPLICATE = 11,
    TCR_E_FEW = 12,
    TCR_E_ONE_X = 13,
    TCR_E_COMMON = 14,
    TCR_E_BARE = 15,
    TCR_E_BARE_BY_ROW = 16,
    TCR_E_MISSING = 17,
    TCR_E_OPEN = 18,
    TCR_E_WRITE = 19,
    TCR_E_CONTENT = 20,
    TCR_E_NO_CONVERGENCE = 21,
    TCR_E_NO_SOLUTION = 22,
    TCR_E_STOPPED = 23,
    TCR_E_FONT = 24
} tcr_status;
TCR_API const char *tcr_status_text(tcr_status status);
#endif
