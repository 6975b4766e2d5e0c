/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The check of a set that came from files: what is wrong with it only as a whole is told where its
 * cause stands, in a zone of the map or a row of a survey.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/field.h>

#include "file/set_file.h"
#include "num/number.h"

static const double BOND_LEAST_MM = 1; /* model.md, section 4 */

static tcr_place place_of_eye(const tcr_set_file *file, tcr_side side) {
    return (tcr_place){file->input[0], file->eye[side].line, file->eye[side].column};
}

/* A number as text without what arithmetic left in its last digits. */
static void round_text(double value, char text[TCR_NUMBER_SIZE]) {
    tcr_number_text(round(value * 1e6) / 1e6, text);
}

static double nearest_in(const tcr_tray *tray, double length_mm) {
    double nearest = tray->length_mm[0];
    for (size_t i = 1; i < tray->count; i++)
        if (fabs(tray->length_mm[i] - length_mm) < fabs(nearest - length_mm))
            nearest = tray->length_mm[i];
    return nearest;
}

/* The tray has nothing of the curl and diameter that a lash would get. */
static tcr_status explain_kind(const tcr_set *set, const tcr_choice *choice, const char *id,
                               tcr_layer layer, tcr_place place, tcr_error *error) {
    const tcr_tray *tray = tcr_set_tray(set);
    char diameter[TCR_NUMBER_SIZE];
    tcr_quoted quoted;
    tcr_list list = {0};
    for (size_t k = 0; k < tray->kinds; k++) {
        char kind[TCR_LABEL_SIZE + TCR_NUMBER_SIZE + 8];
        tcr_number_text(tray->kind[k].diameter_mm, diameter);
        snprintf(kind, sizeof kind, "%s of %s mm", tray->kind[k].curl, diameter);
        tcr_list_add(&list, kind);
    }
    tcr_number_text(choice->diameter_mm, diameter);
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "lash %s on the %s layer of this zone would get %s of %s mm, of which the tray "
                    "has nothing; it has %s; change the curl, the diameter or the tray",
                    tcr_quote(&quoted, id, strlen(id)), tcr_words_layer.word[layer],
                    tcr_set_curl(set, choice->curl)->label, diameter, list.text);
}

/* The rule gives a length that no extension has, where any is at hand. */
static tcr_status explain_range(const tcr_set *set, tcr_layer layer, const char *id,
                                const char *length, tcr_place place, tcr_error *error) {
    const double step_mm = tcr_set_layering(set)->step_mm;
    const double least_mm = tcr_field_find(TCR_GROUP_TRAY, "lengths_mm")->core.least;
    char step[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE], zone[TCR_NUMBER_SIZE];
    tcr_quoted quoted;
    tcr_number_text(step_mm, step);
    tcr_number_text(least_mm, least);
    round_text(least_mm + (double)layer * step_mm, zone);
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "lash %s on the %s layer of this zone would get %s mm, its mapped length less "
                    "%d %s of %s mm, and an extension has %s mm at least; give the zone %s mm or "
                    "more, or change step_mm, or fix a length for this layer of the zone, such as "
                    "%s: {length_mm: %s}",
                    tcr_quote(&quoted, id, strlen(id)), tcr_words_layer.word[layer], length,
                    (int)layer, layer == TCR_MIDDLE ? "step" : "steps", step, least, zone,
                    tcr_words_layer.word[layer], least);
}

/* The rule gives a length that the tray lacks; told at the zone of the map. */
static tcr_status explain_tray(const tcr_set_file *file, const tcr_error *fault, tcr_error *error) {
    const tcr_set *set = file->set;
    const tcr_side side = (tcr_side)fault->side;
    const tcr_lash *lash = tcr_set_lash(set, side, fault->lash);
    const char *id = tcr_set_id(set, side, fault->lash);
    const tcr_file_eye *eye = &file->eye[side];
    const size_t zone = tcr_set_zone_at(set, side, lash->u);
    const tcr_place place = {file->input[0], eye->zone[zone].line, eye->zone[zone].column};
    const tcr_layering *rule = tcr_set_layering(set);
    char length[TCR_NUMBER_SIZE], step[TCR_NUMBER_SIZE], fixed[TCR_NUMBER_SIZE];
    tcr_quoted quoted;
    char diameter[TCR_NUMBER_SIZE], of[TCR_LABEL_SIZE + TCR_NUMBER_SIZE + 12] = "";
    tcr_list list = {0};
    tcr_choice choice;
    tcr_tray tray;
    (void)tcr_set_choice(set, side, fault->lash, &choice);
    const char *curl = tcr_set_curl(set, choice.curl)->label;
    if (tcr_tray_of(tcr_set_tray(set), curl, choice.diameter_mm, &tray) != TCR_OK)
        return explain_kind(set, &choice, id, lash->layer, place, error);
    round_text(fault->value, length);
    if (tray.count == 0)
        return explain_range(set, lash->layer, id, length, place, error);
    tcr_number_text(nearest_in(&tray, fault->value), fixed);
    tcr_number_text(rule->step_mm, step);
    tcr_number_text(choice.diameter_mm, diameter);
    tcr_list_tray(&list, &tray);
    if (tcr_set_tray(set)->kinds > 0)
        snprintf(of, sizeof of, " in %s of %s mm", curl, diameter);
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "lash %s on the %s layer of this zone would get %s mm, its mapped length less "
                    "%d %s of %s mm, "
                    "which the tray lacks%s; it has %s; fix a length for this layer of the zone, "
                    "such as %s: {length_mm: %s}, or change step_mm or the tray; to judge it "
                    "as it is, write tray: any",
                    tcr_quote(&quoted, id, strlen(id)), tcr_words_layer.word[lash->layer], length,
                    (int)lash->layer, lash->layer == TCR_MIDDLE ? "step" : "steps", step, of,
                    list.text, tcr_words_layer.word[lash->layer], fixed);
}

/* A row asks for an extension on a lash that is too short for it; told at the cell that asks. */
static tcr_status explain_bond(const tcr_set_file *file, const tcr_error *fault, tcr_error *error) {
    const tcr_set *set = file->set;
    const tcr_side side = (tcr_side)fault->side;
    const tcr_lash *lash = tcr_set_lash(set, side, fault->lash);
    const char *id = tcr_set_id(set, side, fault->lash);
    const tcr_file_eye *eye = &file->eye[side];
    const tcr_bond *bond = tcr_set_bond(set);
    char length[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE], offset[TCR_NUMBER_SIZE];
    tcr_quoted quoted;
    tcr_place place = place_of_eye(file, side);
    if (fault->lash < eye->rows.count)
        place = (tcr_place){file->input[eye->input], eye->rows.line[fault->lash],
                            eye->rows.ext_length_column};
    tcr_number_text(lash->length_mm, length);
    tcr_number_text(bond->offset_mm, offset);
    round_text(bond->offset_mm + BOND_LEAST_MM, least);
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "lash %s is %s mm long, too short for an extension; the bond begins %s mm from "
                    "the skin and needs 1 mm, "
                    "so a lash must have %s mm; write none to leave it bare",
                    tcr_quote(&quoted, id, strlen(id)), length, offset, least);
}

tcr_status tcr_set_file_check(const tcr_set_file *file, const tcr_check_options *options,
                              tcr_check **check, tcr_error *error) {
    tcr_error unseen, fault = tcr_error_none();
    if (error == NULL)
        error = &unseen;
    if (file == NULL || check == NULL)
        return tcr_fail(error, TCR_E_ARGUMENT, (tcr_place){"", 0, 0}, "%s",
                        tcr_status_text(TCR_E_ARGUMENT));
    const tcr_status status = tcr_check_new(file->set, options, check, &fault);
    if (status == TCR_OK)
        return TCR_OK;
    const tcr_side side = fault.side == TCR_RIGHT ? TCR_RIGHT : TCR_LEFT;
    const bool one_lash = fault.lash < tcr_set_lash_count(file->set, side);
    if (one_lash && (status == TCR_E_TRAY || status == TCR_E_BOND)) {
        (void)(status == TCR_E_TRAY ? explain_tray(file, &fault, error)
                                    : explain_bond(file, &fault, error));
        error->side = fault.side;
        error->lash = fault.lash;
        error->zone =
            tcr_set_zone_at(file->set, side, tcr_set_lash(file->set, side, fault.lash)->u);
        return error->status;
    }
    if (status == TCR_E_MEMORY)
        return tcr_fail_memory(error, file->input[0]);
    *error = fault;
    if (fault.side >= 0) /* otherwise the options are at fault, and no file */
        tcr_put_place(error, place_of_eye(file, side));
    return status;
}
