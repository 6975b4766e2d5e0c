/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest why: what makes a set uneven, cause by cause, as a table, JSON and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"
#include "work.h"

static const char ABOUT[] =
    "Says why the line of the set in the set file SET is as even as it is: what\n"
    "root heights, shorter lengths on the upper layers, placement, the steps from\n"
    "zone to zone and natural variation each add to the distances from the line\n"
    "or take from them. Prints the answer in short, a sentence for each cause and\n"
    "a table.\n"
    "\n"
    "A cause is levelled out on every lash: roots at their mean height; the bottom\n"
    "layer's lengths on every layer; every extension at the outer side; lengths\n"
    "that change smoothly along the lid; lashes that all grow as the mean lash\n"
    "does. Each cause gets its share of the unevenness, and beside it what it does\n"
    "alone and what taking it out would do.\n";

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const tcr_checked_set *set = &((const tcr_work *)work)->set;
    return tcr_report_why_json(set->check, tcr_set_file_digest(set->file), sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    return tcr_report_why_table(((const tcr_work *)work)->set.check, sink, context);
}

static int run(const tcr_call *call) {
    const tcr_output report = {call->json.text, write_json};
    return tcr_report_set(call, "why", &report, 1, write_table);
}

const tcr_command tcr_command_why = {
    "why", TCR_BIT_WHY,       TCR_ONE_SET, "what makes a set uneven, cause by cause",
    ABOUT, TCR_NOTES_OUTPUTS, run};
