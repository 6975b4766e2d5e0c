/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_ENVELOPE_H
#define TCR_FILE_ENVELOPE_H

/* The members with which every JSON report begins. */

#include "file/json.h"
#include "file/report.h"

/* Into the object that is open: program and format, command, digest (NULL: the set came from no
 * file), title and what was assumed. */
void tcr_envelope(tcr_json *json, const char *command, const char *digest, const tcr_set *set,
                  const tcr_assumed *assumed, size_t count);

/* The same with what the check assumed, over all eyes. */
void tcr_envelope_of_check(tcr_json *json, const char *command, const char *digest,
                           const tcr_check *check);

#endif
