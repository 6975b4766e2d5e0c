/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of a plan: a row for each zone and layer of each eye that has a choice. The
 * columns of the choice have the names of the CSV report of a check.
 */
#include <tipcrest/file.h>

#include "file/csv_put.h"
#include "file/report_plan.h"
#include "num/range.h"

static const char *const NAMES[] = {"side",
                                    "zone",
                                    "to",
                                    "layer",
                                    "ext_length_mm",
                                    "ext_curl",
                                    "ext_diameter_mm",
                                    "ext_placement",
                                    "ext_fan",
                                    "ext_spread_deg",
                                    "lashes"};
enum { COLUMNS = sizeof NAMES / sizeof *NAMES };

static void put_cell(tcr_csv_put *csv, const tcr_set *set, const tcr_plan_cell *cell) {
    const tcr_choice *choice = &cell->choice;
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, cell->side, &zones);
    tcr_csv_put_word(csv, tcr_side_text(cell->side));
    tcr_csv_put_number(csv, (double)(cell->zone + 1));
    tcr_csv_put_number(csv, map[cell->zone].to);
    tcr_csv_put_word(csv, tcr_word(&tcr_words_layer, (int)cell->layer));
    tcr_csv_put_number(csv, choice->length_mm);
    tcr_csv_put_text(csv, tcr_set_curl(set, choice->curl)->label);
    tcr_csv_put_number(csv, choice->diameter_mm);
    tcr_csv_put_word(csv, tcr_word(&tcr_words_placement, (int)choice->placement));
    tcr_csv_put_number(csv, choice->fan);
    tcr_csv_put_number(csv, tcr_degrees_of(choice->spread_rad));
    tcr_csv_put_number(csv, (double)cell->lashes);
    tcr_csv_put_row_end(csv);
}

tcr_status tcr_report_plan_csv(const tcr_plan *plan, const tcr_set *set,
                               const tcr_csv_options *options, tcr_sink sink, void *context) {
    if (sink == NULL || !tcr_plan_fits(plan, set))
        return TCR_E_ARGUMENT;
    const tcr_plan_result *result = tcr_plan_result_of(plan);
    tcr_writer writer;
    tcr_csv_put csv;
    const tcr_status status = tcr_csv_put_begin(&csv, &writer, options, TCR_CSV_REPORT_DIGITS);
    if (status != TCR_OK)
        return status;
    tcr_writer_begin(&writer, sink, context);
    tcr_csv_put_names(&csv, NAMES, COLUMNS);
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++)
        for (size_t c = 0; c < result->cells; c++)
            if (result->cell[c].side == sides[e])
                put_cell(&csv, set, &result->cell[c]);
    return tcr_writer_end(&writer);
}
