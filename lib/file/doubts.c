/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Doubts in words. A sentence says what was found and what may have been meant, on one line. */
#include "file/doubts.h"

#include <tipcrest/doubts.h>
#include <tipcrest/file.h>

/* Around the number; within 80 columns with what stands in front. */
static const struct {
    const char *before, *behind;
} SENTENCE[TCR_DOUBT_KINDS] = {
    [TCR_DOUBT_LAYERS_REVERSED] = {"the top layer roots ", " mm below the bottom one; swapped?"},
    [TCR_DOUBT_LENGTHS_CM] = {"lashes are ", " mm long; are the lengths in centimetres?"},
    [TCR_DOUBT_HEIGHTS_CM] = {"layers root ", " mm apart; are the heights in centimetres?"},
    [TCR_DOUBT_TURNS_RAD] = {"lashes turn by ", "°; are the turns in radians?"},
    [TCR_DOUBT_CURLS_RAD] = {"turns by ", "° in all; are its turns in radians?"},
    [TCR_DOUBT_LID_HARDLY_OPENS] = {"mrd1 is ", " mm, a lid that hardly opens; in centimetres?"},
    [TCR_DOUBT_LAYERS_ALONG_LID] = {"its layers lie side by side along the lid",
                                    "; rows or zones?"},
    [TCR_DOUBT_ALL_ALIKE] = {"all lashes are ", " mm long and alike; one row copied?"},
    [TCR_DOUBT_ONE_HALF] = {"all lashes are in the ", " half; is u from corner to corner?"},
    [TCR_DOUBT_ONE_LAYER] = {"one layer, but roots ", " mm apart in height; layers missing?"},
};

static bool has_number(tcr_doubt_kind kind) {
    return kind != TCR_DOUBT_LAYERS_ALONG_LID && kind != TCR_DOUBT_ONE_HALF;
}

/* "left eye: lashes are 0.80 mm long; are the lengths in centimetres?" */
static void add_sentence(tcr_paragraph *line, const tcr_set *set, const tcr_doubt *doubt) {
    enum { LABEL_COLUMNS = 12 };
    if (doubt->side >= 0) {
        tcr_add(line, tcr_side_text((tcr_side)doubt->side));
        tcr_add(line, " eye: ");
    } else {
        tcr_add(line, "curl ");
        tcr_add_safe(line, tcr_set_curl(set, doubt->curl)->label, LABEL_COLUMNS);
        tcr_add(line, " ");
    }
    tcr_add(line, SENTENCE[doubt->kind].before);
    if (has_number(doubt->kind))
        tcr_add_fixed(line, doubt->kind == TCR_DOUBT_LAYERS_REVERSED ? -doubt->found : doubt->found,
                      2, false);
    else if (doubt->kind == TCR_DOUBT_ONE_HALF)
        tcr_add(line, doubt->found < 0.5 ? "inner" : "outer");
    tcr_add(line, SENTENCE[doubt->kind].behind);
}

void tcr_table_doubts_of(tcr_table *table, const tcr_set *set, const char *name) {
    enum { NAME_COLUMNS = 40 };
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count = 0;
    const int lines = table->lines;
    (void)tcr_doubts_of(set, doubts, &count);
    for (size_t i = 0; i < count; i++) {
        tcr_add(&table->line, "Doubt, ");
        if (name != NULL) {
            tcr_add_safe(&table->line, name, NAME_COLUMNS);
            tcr_add(&table->line, ", ");
        }
        add_sentence(&table->line, set, &doubts[i]);
        tcr_table_end(table, 0, 2);
    }
    table->lines = lines; /* they take no room from the rest */
}

void tcr_table_doubts(tcr_table *table) { tcr_table_doubts_of(table, table->set, NULL); }

tcr_status tcr_report_doubts(const tcr_set *set, tcr_sink sink, void *context) {
    if (set == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_table t = {.set = set, .writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    tcr_table_doubts(&t);
    return tcr_writer_end(&writer);
}

void tcr_json_doubts(tcr_json *json, const tcr_set *set) {
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count = 0;
    (void)tcr_doubts_of(set, doubts, &count);
    tcr_json_array(json, "doubts");
    for (size_t i = 0; i < count; i++) {
        const tcr_doubt *doubt = &doubts[i];
        const bool whole = doubt->side < 0;
        tcr_paragraph text;
        tcr_paragraph_begin(&text);
        add_sentence(&text, set, doubt);
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "doubt", tcr_doubt_text(doubt->kind));
        tcr_json_text(json, "side", whole ? NULL : tcr_side_text((tcr_side)doubt->side));
        tcr_json_text(json, "curl", whole ? tcr_set_curl(set, doubt->curl)->label : NULL);
        tcr_json_number(json, "found", doubt->found);
        tcr_json_count(json, "count", doubt->lashes);
        tcr_json_text(json, "text", text.text);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}
