/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of a check: one row a lash, all eyes in one table. An empty cell means that there
 * is no such number.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/csv_put.h"
#include "file/report.h"

static const char HEADER[] =
    "side,id,layer,u,condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,"
    "ext_spread_deg,root_x_mm,root_y_mm,root_z_mm,tip_x_mm,tip_y_mm,tip_z_mm,line_mm,"
    "deviation_mm,across_mm,staggered\n";

static void put_point(tcr_writer *writer, tcr_vec3 point) {
    tcr_csv_put_number(writer, point.x);
    tcr_csv_put_number(writer, point.y);
    tcr_csv_put_number(writer, point.z);
}

static void write_row(tcr_writer *writer, const tcr_set *set, const tcr_eye_result *eye, size_t i) {
    const tcr_lash *lash = tcr_set_get_lash(set, eye->side, i);
    const tcr_lash_result *result = &eye->lash[i];
    const tcr_choice *choice = &result->choice;
    const bool is_bare = result->bare != TCR_OK;
    tcr_put(writer, tcr_word(&tcr_words_side, (int)eye->side));
    tcr_csv_put_text(writer, tcr_set_get_id(set, eye->side, i));
    tcr_csv_put_word(writer, tcr_word(&tcr_words_layer, (int)lash->layer));
    tcr_csv_put_number(writer, lash->u);
    tcr_csv_put_word(writer, tcr_word(&tcr_words_condition, (int)lash->condition));
    if (is_bare) {
        tcr_put(writer, ",,,,,,");
    } else {
        tcr_csv_put_number(writer, choice->length_mm);
        tcr_csv_put_text(writer, tcr_set_get_curl(set, choice->curl)->label);
        tcr_csv_put_number(writer, choice->diameter_mm);
        tcr_csv_put_word(writer, tcr_word(&tcr_words_placement, (int)choice->placement));
        tcr_csv_put_number(writer, choice->fan);
        tcr_csv_put_number(writer, tcr_file_degrees(choice->spread_rad));
    }
    put_point(writer, result->stance.root);
    put_point(writer, result->tip);
    tcr_csv_put_number(writer, is_bare ? NAN : result->line_mm);
    tcr_csv_put_number(writer, is_bare ? NAN : result->deviation_mm);
    tcr_csv_put_number(writer, is_bare ? NAN : result->across_mm);
    tcr_csv_put_word(writer, !is_bare && result->staggered ? "true\n" : "false\n");
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
