/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_WHY_H
#define TCR_FILE_REPORT_WHY_H

/* What both reports of the causes tell. */

#include <tipcrest/why.h>

#include "file/report.h"

/* The name of a cause in files: "root_heights". */
extern const char *const tcr_cause_key[TCR_CAUSES];

/* The causes of one eye, or why they cannot be told. */
typedef struct tcr_eye_causes {
    const tcr_eye_result *eye;
    const char *reason; /* in words; NULL where 'why' is there */
    bool known;         /* enough tips to judge by */
    tcr_why why;
} tcr_eye_causes;

/*
 * The causes of each eye in the order of the set; count receives how many eyes there are. An eye
 * without a line has a reason and is no failure. TCR_E_MEMORY, TCR_E_NO_CONVERGENCE.
 */
tcr_status tcr_collect_causes(const tcr_check *check, tcr_eye_causes causes[TCR_SIDES],
                              size_t *count);

#endif
