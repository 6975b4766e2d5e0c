/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of a check (RFC 4180 but for line ends, which are LF): one row a lash, all eyes in
 * one table. A cell of a user's text that a spreadsheet would take for a formula gets an apostrophe
 * in front; what must not reach a terminal becomes \x1b or \u202e, all but tabs and line ends. An
 * empty cell means that there is no such number.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <string.h>

#include "file/report.h"
#include "file/writer.h"
#include "num/printable.h"

static const char HEADER[] =
    "side,id,layer,u,condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,"
    "ext_spread_deg,root_x_mm,root_y_mm,root_z_mm,tip_x_mm,tip_y_mm,tip_z_mm,line_mm,"
    "deviation_mm,across_mm,staggered\n";

static void put_word(tcr_writer *writer, const char *word) {
    tcr_put(writer, ",");
    tcr_put(writer, word);
}

static void put_cell(tcr_writer *writer, double number) {
    tcr_put(writer, ",");
    if (isfinite(number))
        tcr_put_number(writer, number);
}

/* A user's text with its quotes doubled. */
static void put_safe(tcr_writer *writer, const char *text) {
    while (*text != '\0') {
        enum { ESCAPE_SIZE = 16, CHARACTER_SIZE = 5 };
        uint32_t code;
        char character[CHARACTER_SIZE] = "", escape[ESCAPE_SIZE];
        const size_t bytes = tcr_utf8_next(text, &code);
        if (code == '"')
            tcr_put(writer, "\"\"");
        else if (tcr_utf8_is_unsafe(code) && strchr("\t\r\n", *text) == NULL) {
            memcpy(character, text, bytes);
            tcr_printable(character, ESCAPE_SIZE, escape, sizeof escape);
            tcr_put(writer, escape);
        } else
            tcr_put_bytes(writer, text, bytes);
        text += bytes;
    }
}

/* A user's text, quoted where it has to be. */
static void put_text(tcr_writer *writer, const char *text) {
    tcr_put(writer, ",");
    const char *apostrophe = *text != '\0' && strchr("=+-@\t\r", *text) != NULL ? "'" : "";
    if (strpbrk(text, ",\"\r\n") == NULL && *text != ' ') {
        tcr_put(writer, apostrophe);
        put_safe(writer, text);
        return;
    }
    tcr_put(writer, "\"");
    tcr_put(writer, apostrophe);
    put_safe(writer, text);
    tcr_put(writer, "\"");
}

static void put_point(tcr_writer *writer, tcr_vec3 point) {
    put_cell(writer, point.x);
    put_cell(writer, point.y);
    put_cell(writer, point.z);
}

static void write_row(tcr_writer *writer, const tcr_set *set, const tcr_eye_result *eye, size_t i) {
    const tcr_lash *lash = tcr_set_get_lash(set, eye->side, i);
    const tcr_lash_result *result = &eye->lash[i];
    const tcr_choice *choice = &result->choice;
    const bool is_bare = result->bare != TCR_OK;
    tcr_put(writer, tcr_word(&tcr_words_side, (int)eye->side));
    put_text(writer, tcr_set_get_id(set, eye->side, i));
    put_word(writer, tcr_word(&tcr_words_layer, (int)lash->layer));
    put_cell(writer, lash->u);
    put_word(writer, tcr_word(&tcr_words_condition, (int)lash->condition));
    if (is_bare) {
        tcr_put(writer, ",,,,,,");
    } else {
        put_cell(writer, choice->length_mm);
        put_text(writer, tcr_set_get_curl(set, choice->curl)->label);
        put_cell(writer, choice->diameter_mm);
        put_word(writer, tcr_word(&tcr_words_placement, (int)choice->placement));
        put_cell(writer, choice->fan);
        put_cell(writer, tcr_file_degrees(choice->spread_rad));
    }
    put_point(writer, result->stance.root);
    put_point(writer, result->tip);
    put_cell(writer, is_bare ? NAN : result->line_mm);
    put_cell(writer, is_bare ? NAN : result->deviation_mm);
    put_cell(writer, is_bare ? NAN : result->across_mm);
    put_word(writer, !is_bare && result->staggered ? "true\n" : "false\n");
}

tcr_status tcr_report_csv(const tcr_check *check, tcr_sink sink, void *context) {
    if (check == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    tcr_put(&writer, HEADER);
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(tcr_check_set(check), sides);
    for (size_t e = 0; e < eyes; e++) {
        const tcr_eye_result *eye = tcr_check_eye(check, sides[e]);
        for (size_t i = 0; i < eye->lashes && writer.status == TCR_OK; i++)
            write_row(&writer, tcr_check_set(check), eye, i);
    }
    return tcr_writer_end(&writer);
}
