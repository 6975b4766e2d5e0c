/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_CHECK_H
#define TCR_CLI_CHECK_H

/* The reports of check, of one set and of many. The work of each is a tcr_work. */

#include "work.h"

tcr_status tcr_check_write_json(const void *work, tcr_sink sink, void *context);
tcr_status tcr_check_write_csv(const void *work, tcr_sink sink, void *context);
/* The table as the call asks for it, and all of it. */
tcr_status tcr_check_write_table(const void *work, tcr_sink sink, void *context);
tcr_status tcr_check_write_full(const void *work, tcr_sink sink, void *context);

/* Checks many sets, or one whose reports go into a folder; an exit status. */
int tcr_check_many(const tcr_call *call);

#endif
