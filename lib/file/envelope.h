/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_ENVELOPE_H
#define TCR_FILE_ENVELOPE_H

/* Members that several JSON reports have: those with which each begins, and an extension. */

#include "file/json.h"
#include "file/report.h"

/* Into the object that is open: program and format, command, digest (NULL: the set came from no
 * file), title, what was assumed, doubts, and how many lashes were drawn by chance. */
void tcr_envelope(tcr_json *json, const char *command, const char *digest, const tcr_set *set,
                  const tcr_assumed *assumed, size_t count);

/* The same with what the check assumed, over all eyes. */
void tcr_envelope_of_check(tcr_json *json, const char *command, const char *digest,
                           const tcr_check *check);

/* The member of a key: what is glued to a lash. */
void tcr_json_extension(tcr_json *json, const char *key, const tcr_set *set,
                        const tcr_choice *choice);

#endif
