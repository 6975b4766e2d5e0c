/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest why: what makes a set uneven, cause by cause, as a table, JSON and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"
#include "work.h"

static const char ABOUT[] =
    "Says whether the layers' lengths in the set file SET help or hurt, and what else\n"
    "makes the line of the tips uneven. Prints the answer first: what a higher root\n"
    "and a shorter extension do to a tip, how even the set is as it is and with equal\n"
    "lengths, what costs most of all that an artist can change, and the rest. --full\n"
    "adds a sentence and the figures of each cause.\n"
    "\n"
    "Six causes add to the distances from the line or take from them. Each can be\n"
    "levelled on every lash:\n"
    "\n"
    "  root heights       all roots at the height of the mean lash\n"
    "  layer shortening   the bottom layer's lengths on every layer\n"
    "  placement          every extension on top\n"
    "  zone steps         lengths that change smoothly along the lid, not rounded\n"
    "  single choices     every lash wears what its zone and layer give\n"
    "  natural variation  every lash grows as the mean lash\n"
    "\n"
    "An artist can change layer shortening, placement, zone steps and single choices,\n"
    "since she chooses what a lash wears; the other two are how lashes grow.\n"
    "A change of less than 0.05 mm rms counts as little (assumed).\n";

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const tcr_checked_set *set = &((const tcr_work *)work)->set;
    return tcr_report_why_json(set->check, tcr_set_file_digest(set->file), sink, context);
}

static tcr_status write_csv(const void *work, tcr_sink sink, void *context) {
    const tcr_work *of = work;
    const tcr_csv_options options = tcr_csv_options_of(of->call);
    return tcr_report_why_csv(of->set.check, &options, sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const tcr_work *of = work;
    return tcr_report_why_table(of->set.check, of->full, sink, context);
}

static int run(const tcr_call *call) {
    const tcr_report_file reports[] = {{call->json.text, write_json, TCR_REPLACE_ANY},
                                       {call->csv.text, write_csv, TCR_REPLACE_ANY}};
    return tcr_report_set(call, "why", reports, 2, write_table);
}

const tcr_command tcr_command_why = {
    "why", TCR_BIT_WHY,       TCR_ONE_SET, "says what makes a set uneven, cause by cause",
    ABOUT, TCR_NOTES_OUTPUTS, run};
