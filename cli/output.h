/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_OUTPUT_H
#define TCR_CLI_OUTPUT_H

/* What a command writes: reports into files, or one of them to standard output, and a table. */

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/file.h>

#include "call.h"

/* Writes a report of the command's work. */
typedef tcr_status (*tcr_report_writer)(const void *work, tcr_sink sink, void *context);

/* What a report may replace: any file (the caller named it), only what tipcrest wrote there and
 * nobody changed since, or none (the name is not the caller's). */
typedef enum tcr_replace { TCR_REPLACE_ANY, TCR_REPLACE_OWN, TCR_REPLACE_NONE } tcr_replace;

typedef struct tcr_report_file {
    const char *path; /* NULL: not asked for; "-": standard output, and the table is left out */
    tcr_report_writer write;
    tcr_replace replace;
} tcr_report_file;

/* A report of a work of its own, where a command does many. */
typedef struct tcr_work_output {
    tcr_report_file output;
    const void *work;
} tcr_work_output;

/*
 * Prepares every report, puts the files in place together and prints the table last. No output may
 * be one of the inputs, which may be NULL. At most TCR_REPORTS_MAX reports.
 */
enum { TCR_REPORTS_MAX = 16 };
tcr_status tcr_put_outputs(const void *work, const tcr_set_file *inputs,
                           const tcr_report_file *reports, size_t count, tcr_report_writer table,
                           tcr_error *error);

/* The same for inputs by their paths, of which some may not be there. The table gets 'work'. */
tcr_status tcr_put_outputs_beside(const void *work, const char *const *inputs, size_t input_count,
                                  const tcr_work_output *reports, size_t count,
                                  tcr_report_writer table, tcr_error *error);

/* Refuses a call by which both --json and --csv go to standard output; an exit status. */
int tcr_part_reports(const tcr_call *call);

/* How the call wants CSV: --decimal and --digits. */
tcr_csv_options tcr_csv_options_of(const tcr_call *call);

/* The paths of a set file's inputs: itself and a survey for each eye; returns how many. NULL has
 * none. */
enum { TCR_INPUTS_MAX = 1 + TCR_SIDES };
size_t tcr_input_paths(const tcr_set_file *file, const char *path[TCR_INPUTS_MAX]);

/* Names what killed runs left beside the outputs, and commits them. */
tcr_status tcr_commit_outputs(tcr_outputs *outputs, tcr_error *error);

/* Protects the inputs of a set file from a command's outputs. TCR_E_MEMORY. */
tcr_status tcr_protect_inputs(tcr_outputs *outputs, const tcr_set_file *inputs);

#endif
