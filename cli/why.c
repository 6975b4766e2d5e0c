/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest why: what makes a set uneven, cause by cause, as a table, JSON and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"
#include "work.h"

static const char ABOUT[] =
    "Says what makes the line of the set in the set file SET uneven, and what makes\n"
    "it even. Six causes add to the distances from the line or take from them. Prints\n"
    "the answer in short, a sentence for each cause and a table.\n"
    "\n"
    "Each cause can be levelled on every lash:\n"
    "\n"
    "  root heights       all roots at the height of the mean lash\n"
    "  layer shortening   the bottom layer's lengths on every layer\n"
    "  placement          every extension on top\n"
    "  zone steps         lengths that change smoothly along the lid\n"
    "  single choices     every lash wears what its zone and layer give\n"
    "  natural variation  every lash grows as the mean lash\n"
    "\n"
    "The table gives each cause's share of the unevenness, what the cause does alone,\n"
    "and what levelling it would do.\n";

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
    "why", TCR_BIT_WHY,       TCR_ONE_SET, "says what makes a set uneven, cause by cause",
    ABOUT, TCR_NOTES_OUTPUTS, run};
