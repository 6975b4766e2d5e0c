/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * An example survey to fill in: how to measure each column with ruler and loupe, and invented rows.
 * The rows are a described eye (describe.h), rounded as somebody with a ruler would write it down.
 *
 * A spreadsheet that reads and writes the file must leave the notes notes, so they hold no
 * quotation mark and no semicolon.
 */
#include <math.h>
#include <string.h>

#include <tipcrest/describe.h>

#include "file/begin.h"
#include "file/csv_put.h"
#include "file/keys.h"
#include "num/range.h"

/* A lash of 60 degrees is longer than it seems by 4.7 %: (pi/6) / sin(30 degrees) - 1. */
static const char NOTES[] =
    "# Write your own numbers over these. A row is a natural lash. There may be as many as you\n"
    "# like, in any order. Use a decimal %s and no units.\n"
    "# Empty the cells of what you have not measured: tipcrest then takes the usual value and\n"
    "# reports that it was assumed. A number that stays counts as measured. The first four\n"
    "# columns must be filled in.\n"
    "#\n"
    "# You need a ruler with half millimetres, a loupe, tweezers to isolate a lash and a small\n"
    "# protractor. The lids are closed, as for the work.\n"
    "#\n"
    "# id             any name, once for each lash. Here a is bottom, b is middle, c is top.\n"
    "# u              place along the lid. Hold the ruler straight from the inner to the outer\n"
    "#                corner, read how far out the lash roots, and divide by the whole width:\n"
    "#                9 mm of 27 is 0.333. From 0.02 to 0.98.\n"
    "# layer          bottom, middle or top, counted from the edge of the lid upwards.\n"
    "# length_mm      length along the curl. Hold the ruler beside the isolated lash, read\n"
    "#                straight from root to tip, and add a twentieth for the usual curl.\n"
    "# height_mm      how far above the edge of the lid it roots, by ruler and loupe. From one\n"
    "#                layer to the next it is about 1 mm.\n"
    "# pitch_deg      where it points as it leaves the skin, seen from the temple: 0 is straight\n"
    "#                out of the lid, more is upwards, less than 0 downwards. By protractor. It "
    "is\n"
    "#                hard to see: leave it empty if you cannot.\n"
    "# yaw_deg        the same seen from above the head: 0 is straight out of the lid, more is\n"
    "#                towards the outer corner, less than 0 towards the inner one.\n"
    "# turn_deg       how far it curls from root to tip: 0 is straight, 90 is a quarter of a "
    "circle.\n"
    "# condition      suitable, baby, stray, weak or shedding. Only suitable lashes get an\n"
    "#                extension.\n"
    "# ext_length_mm  empty where the map decides. Else the length that this lash wears, or none\n"
    "#                to leave it bare.\n"
    "# note           whatever you like. Any column whose name begins with note is yours.\n"
    "#\n"
    "# There are more columns. The README of tipcrest has them all.\n";
static const char *const COLUMNS[] = {
    "id",      "u",        "layer",     "length_mm",     "height_mm", "pitch_deg",
    "yaw_deg", "turn_deg", "condition", "ext_length_mm", "note",
};

/* How lashes are invented: by the assumptions of a described eye, all of them full grown. */
static tcr_description invented(void) {
    tcr_description d = tcr_description_default();
    d.count = 48; /* half of the usual number: enough to judge, few enough to read */
    d.seed = 7;
    d.phases = TCR_PHASES_NONE;
    d.length_sd_mm = 0.6;
    return d;
}

/* To the nearest part of a millimetre or a degree, and never -0. */
static void put_rounded(tcr_csv_put *csv, double value, double parts) {
    tcr_csv_put_number(csv, round(value * parts) / parts + 0.0);
}

static void put_row(tcr_csv_put *csv, const tcr_lash *lash, size_t number, bool is_bare) {
    const char id[] = {"abc"[lash->layer], (char)('0' + number / 10), (char)('0' + number % 10),
                       '\0'};
    tcr_csv_put_word(csv, id);
    put_rounded(csv, lash->u, 200.0);
    tcr_csv_put_word(csv, tcr_words_layer.word[lash->layer]);
    put_rounded(csv, lash->length_mm, 10.0);
    put_rounded(csv, fmax(lash->height_mm, 0.0), 20.0);
    put_rounded(csv, lash->pitch_rad / TCR_DEG, 1.0);
    put_rounded(csv, lash->yaw_rad / TCR_DEG, 1.0);
    put_rounded(csv, lash->turn_rad / TCR_DEG, 1.0);
    tcr_csv_put_word(csv, tcr_words_condition.word[lash->condition]);
    tcr_csv_put_word(csv, is_bare ? "none" : NULL);
    tcr_csv_put_word(csv, is_bare ? "left bare on purpose" : NULL);
    tcr_csv_put_row_end(csv);
}

/* The rows of a layer, from the inner corner outwards; the fifth of the middle one is left bare. */
static void put_layer(tcr_csv_put *csv, tcr_side side, tcr_layer layer) {
    enum { BARE = 5 };
    const tcr_description description = invented();
    size_t number = 0;
    for (uint32_t k = 0; k < description.count; k++) {
        tcr_lash lash;
        if (tcr_describe_lash(&description, (uint32_t)side, k, &lash) != TCR_OK ||
            lash.layer != layer)
            continue;
        number++;
        put_row(csv, &lash, number, layer == TCR_MIDDLE && number == BARE);
    }
}

/* The notes with the mark in place. */
static void put_notes(tcr_writer *writer, const char *mark) {
    const char *hole = strstr(NOTES, "%s");
    tcr_put_bytes(writer, NOTES, (size_t)(hole - NOTES));
    tcr_put(writer, mark);
    tcr_put(writer, hole + 2);
}

tcr_status tcr_begin_write_survey(tcr_side side, const tcr_csv_options *options, tcr_sink sink,
                                  void *context) {
    tcr_writer writer;
    tcr_csv_put csv;
    if (sink == NULL || (side != TCR_LEFT && side != TCR_RIGHT))
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_csv_put_begin(&csv, &writer, options, TCR_CSV_ALL_DIGITS);
    if (status != TCR_OK)
        return status;
    tcr_writer_begin(&writer, sink, context);
    tcr_put(&writer, "# INVENTED: no lash was measured. The client's ");
    tcr_put(&writer, tcr_words_side.word[side]);
    tcr_put(&writer, " eye.\n#\n");
    put_notes(&writer, csv.decimal == ',' ? "comma" : "point");
    tcr_csv_put_names(&csv, COLUMNS, sizeof COLUMNS / sizeof *COLUMNS);
    for (size_t layer = 0; layer < TCR_LAYERS; layer++)
        put_layer(&csv, side, (tcr_layer)layer);
    return tcr_writer_end(&writer);
}
