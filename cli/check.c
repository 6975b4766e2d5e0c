/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest check: evaluates a set and writes what it found as a table, JSON, CSV and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "check.h"
#include "common.h"

static const char ABOUT[] =
    "Evaluates the set in the set file SET: where every tip lies with the eye open,\n"
    "how even the line of the tips is, how well it matches the map, which lashes\n"
    "stick out and what would help. Prints a verdict and a table for each eye. Many\n"
    "sets get a line each, the most even first.\n";

tcr_status tcr_check_write_json(const void *work, tcr_sink sink, void *context) {
    const tcr_checked_set *set = &((const tcr_work *)work)->set;
    return tcr_report_json(set->check, tcr_set_file_digest(set->file), sink, context);
}

tcr_status tcr_check_write_csv(const void *work, tcr_sink sink, void *context) {
    const tcr_work *of = work;
    const tcr_csv_options options = tcr_csv_options_of(of->call);
    return tcr_report_csv(of->set.check, &options, sink, context);
}

static tcr_status write_form(const tcr_work *of, bool full, tcr_sink sink, void *context) {
    const tcr_limits limits = tcr_set_file_plan_limits(of->set.file);
    tcr_table_options options = tcr_table_options_default();
    options.full = full;
    options.limits = &limits;
    return tcr_report_table(of->set.check, &options, sink, context);
}

tcr_status tcr_check_write_table(const void *work, tcr_sink sink, void *context) {
    const tcr_work *of = work;
    return write_form(of, of->full, sink, context);
}

tcr_status tcr_check_write_full(const void *work, tcr_sink sink, void *context) {
    return write_form(work, true, sink, context);
}

static int run(const tcr_call *call) {
    const tcr_report_file reports[] = {{call->json.text, tcr_check_write_json, TCR_REPLACE_ANY},
                                       {call->csv.text, tcr_check_write_csv, TCR_REPLACE_ANY}};
    if (call->set_count > 1 || call->reports.text != NULL)
        return tcr_check_many(call);
    return tcr_report_set(call, "front", reports, 2, tcr_check_write_table);
}

const tcr_command tcr_command_check = {
    "check",
    TCR_BIT_CHECK,
    TCR_MANY_SETS,
    "evaluates a set, eye open, and names the lashes that stick out",
    ABOUT,
    TCR_NOTES_OUTPUTS,
    run};
