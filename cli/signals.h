/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_SIGNALS_H
#define TCR_CLI_SIGNALS_H

/*
 * INT, TERM, HUP, QUIT, XCPU and the signals of a fault (ABRT, TRAP, SEGV, BUS, ILL, FPE) remove
 * the temporary files of the outputs at work and then end the process as they would without a
 * handler. A signal that is ignored or handled when the process starts stays so. While work may end
 * early, the first INT or TERM only asks for that.
 */

#include <stdbool.h>

#include <tipcrest/file.h>

/* Once, in the main thread, before anything is written. */
void tcr_catch_signals(void);

/* Makes the outputs at work, at most one list at a time. TCR_E_MEMORY. */
tcr_status tcr_new_outputs(tcr_outputs **outputs);
void tcr_free_outputs(tcr_outputs *outputs); /* NULL is accepted */

/* Whether work may end early; true also forgets what was asked before. */
void tcr_may_end_early(bool may);
bool tcr_asked_to_end(void);

#endif
