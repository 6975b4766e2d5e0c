/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An eye of a set file: its side, lid, map and lashes, which are surveyed or described. */
#include <math.h>
#include <string.h>

#include "file/set_file.h"
#include "num/number.h"

/* ---- The lid --------------------------------------------------------------------------------- */

/*
 * The largest mrd1 (open) or mrd2 in tenths of a millimetre, from the present one down to its
 * least, with which the margin stays on the globe; negative where there is none.
 */
static double largest_that_fits(const tcr_lid *lid, bool open) {
    tcr_lid tried = *lid;
    double *measure = open ? &tried.mrd1_mm : &tried.mrd2_mm;
    const double least = tcr_field_find(TCR_GROUP_LID, open ? "mrd1_mm" : "mrd2_mm")->file.least;
    for (int tenths = (int)floor(*measure * 10); tenths >= least * 10; tenths--) {
        *measure = tenths / 10.0;
        if (tcr_lid_validate(&tried, NULL) != (open ? TCR_E_MRD1 : TCR_E_MRD2))
            return *measure;
    }
    return -1;
}

/* The margin leaves the globe, with the eye open or closed. */
static tcr_status fail_globe(const tcr_set_reader *reader, const tcr_node *place,
                             const tcr_lid *lid, unsigned assumed, bool open) {
    char found[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
    const char *name = open ? "mrd1_mm" : "mrd2_mm", *state = open ? "open" : "closed";
    const char *by_default = assumed & (open ? TCR_LID_MRD1 : TCR_LID_MRD2) ? " by default" : "";
    const double fits = largest_that_fits(lid, open);
    tcr_number_text(open ? lid->mrd1_mm : lid->mrd2_mm, found);
    if (fits < 0)
        return tcr_fail_at(
            reader, place,
            "%s is %s%s, but the %s lid leaves the eyeball, and no %s fits the other measures; "
            "make "
            "globe_radius_mm or lateral_semiaxis_mm larger, or canthal_tilt_deg smaller",
            name, found, by_default, state, name);
    tcr_number_text(fits, most);
    return tcr_fail_at(
        reader, place,
        "%s is %s%s, but then the %s lid leaves the eyeball; with the other measures it "
        "must be at most %s, or make globe_radius_mm larger",
        name, found, by_default, state, most);
}

static tcr_status fail_semiaxis(const tcr_set_reader *reader, const tcr_node *place,
                                const tcr_lid *lid, unsigned assumed) {
    char found[TCR_NUMBER_SIZE], half[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
    tcr_number_text(tcr_field_find(TCR_GROUP_LID, "lateral_semiaxis_mm")->file.most, most);
    tcr_number_text(lid->lateral_semiaxis_mm, found);
    tcr_number_text(lid->fissure_width_mm / 2, half);
    return tcr_fail_at(reader, place,
                       "lateral_semiaxis_mm is %s%s, but must be above %s, half of "
                       "fissure_width_mm, and at most %s mm",
                       found, assumed & TCR_LID_LATERAL_SEMIAXIS ? " by default" : "", half, most);
}

/* A lid whose measures do not fit each other, told at the one to change, or at the lid or eye
 * without it. */
static tcr_status fail_lid(const tcr_set_reader *reader, const tcr_node *node, const tcr_node *side,
                           const tcr_lid *given, tcr_status status) {
    unsigned assumed;
    const tcr_lid lid = tcr_lid_complete(given, &assumed);
    const char *name = status == TCR_E_SEMIAXIS ? "lateral_semiaxis_mm"
                       : status == TCR_E_MRD1   ? "mrd1_mm"
                                                : "mrd2_mm";
    const tcr_node *place = node != NULL ? tcr_tree_find(&reader->tree, node, name) : NULL;
    if (place == NULL)
        place = node != NULL ? node : side;
    if (status == TCR_E_SEMIAXIS)
        return fail_semiaxis(reader, place, &lid, assumed);
    if (status == TCR_E_MRD1 || status == TCR_E_MRD2)
        return fail_globe(reader, place, &lid, assumed, status == TCR_E_MRD1);
    return tcr_accept_at(reader, place, status);
}

/* Reads the lid, if there is one, and adds the eye. */
static tcr_status add_eye(const tcr_set_reader *reader, const tcr_node *node,
                          const tcr_node *side_node, tcr_side side) {
    const tcr_block block = tcr_block_of(TCR_GROUP_LID, "lid", "in lid");
    tcr_lid lid = tcr_lid_unknown();
    tcr_status status = TCR_OK;
    if (node != NULL)
        status = tcr_read_block(reader, node, &block, &lid, NULL);
    if (status != TCR_OK)
        return status;
    status = tcr_set_add_eye(reader->file->set, side, &lid);
    if (status == TCR_E_DUPLICATE)
        return tcr_fail_at(reader, side_node,
                           "side %s is here twice; the two eyes are left and right",
                           tcr_words_side.word[side]);
    return status == TCR_OK ? TCR_OK : fail_lid(reader, node, side_node, &lid, status);
}

/* ---- The lashes ------------------------------------------------------------------------------ */

static tcr_status read_survey(tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    tcr_set_file *file = reader->file;
    tcr_file_eye *eye = &file->eye[side];
    const char *name, *kind;
    tcr_input input = {NULL, 0};
    tcr_status status = tcr_read_text(reader, node, "survey", "the name of a file", &name);
    if (status != TCR_OK)
        return status;
    eye->input = file->inputs;
    status = reader->read_survey(reader->surveys, reader->allocator, reader->path, name,
                                 tcr_tree_place(&reader->tree, node), &input,
                                 &file->input[file->inputs], reader->error);
    if (file->input[file->inputs] != NULL)
        file->inputs++;
    if (status != TCR_OK)
        return status;
    const char *path = file->input[eye->input];
    tcr_sha256_add(&reader->digest, input.bytes, input.size);
    kind = tcr_input_kind(input.bytes, input.size);
    if (kind != NULL)
        status =
            tcr_fail(reader->error, TCR_E_CONTENT, (tcr_place){path, 0, 0},
                     "this is %s, not a survey; save the sheet as CSV and give that file", kind);
    else
        status = tcr_survey_parse(reader->allocator, input.bytes, input.size, path, file->set, side,
                                  &eye->rows, reader->error);
    tcr_input_release(reader->allocator, &input);
    return status;
}

/* "drawn: true": the rows of the survey are no measurements. */
static tcr_status read_drawn(tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    const tcr_node *drawn = tcr_tree_find(&reader->tree, node, "drawn");
    size_t index = 0;
    if (drawn == NULL)
        return TCR_OK;
    if (tcr_tree_find(&reader->tree, node, "survey") == NULL)
        return tcr_fail_at(reader, drawn,
                           "drawn is for a survey; described lashes are drawn in any case");
    const tcr_status status = tcr_read_bool(reader, drawn, "drawn", &index);
    if (status == TCR_OK && index == 1)
        return tcr_set_mark_drawn(reader->file->set, side,
                                  tcr_set_lash_count(reader->file->set, side));
    return status;
}

static tcr_status read_lashes(tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    static const char *const KEYS[] = {"survey", "describe", "drawn", NULL};
    static const tcr_block BLOCK = {.name = "lashes", .where = "in lashes", .before = KEYS};
    const tcr_tree *tree = &reader->tree;
    if (node->kind == TCR_NODE_SCALAR && !tcr_tree_is_null(tree, node))
        return tcr_fail_at(reader, node,
                           "lashes needs survey or describe, such as {survey: left.csv}");
    const tcr_status status = tcr_read_block(reader, node, &BLOCK, NULL, NULL);
    if (status != TCR_OK)
        return status;
    const tcr_node *survey = tcr_tree_find(tree, node, "survey"),
                   *describe = tcr_tree_find(tree, node, "describe");
    if (survey != NULL && describe != NULL)
        return tcr_fail_at(reader, node, "lashes has both survey and describe; keep one of them");
    if (survey == NULL && describe == NULL)
        return tcr_fail_at(reader, node,
                           "lashes needs survey or describe, such as {survey: left.csv}");
    const tcr_status found = survey != NULL ? read_survey(reader, survey, side)
                                            : tcr_read_description(reader, describe, side);
    return found == TCR_OK ? read_drawn(reader, node, side) : found;
}

/* ---- The eye --------------------------------------------------------------------------------- */

static tcr_status read_eye(tcr_set_reader *reader, const tcr_node *node) {
    static const char *const KEYS[] = {"side", "lid", "lashes", "map", "intended", NULL};
    static const tcr_block BLOCK = {.name = "an eye", .where = "in an eye", .before = KEYS};
    static const char NEEDS[] = "every eye needs side, lashes and map";
    const tcr_node *side_node, *lashes, *map;
    size_t side = 0;
    tcr_status status = tcr_read_block(reader, node, &BLOCK, NULL, NULL);
    if (status == TCR_OK)
        status = tcr_read_required(reader, node, NEEDS, "side", &side_node);
    if (status == TCR_OK)
        status = tcr_read_required(reader, node, NEEDS, "lashes", &lashes);
    if (status == TCR_OK)
        status = tcr_read_required(reader, node, NEEDS, "map", &map);
    if (status == TCR_OK)
        status = tcr_read_word(reader, side_node, "side", &tcr_words_side, &side);
    if (status == TCR_OK)
        status =
            add_eye(reader, tcr_tree_find(&reader->tree, node, "lid"), side_node, (tcr_side)side);
    if (status != TCR_OK)
        return status;
    reader->file->eye[side].line = node->line;
    reader->file->eye[side].column = node->column;
    status = tcr_read_map(reader, map, (tcr_side)side);
    const tcr_node *intended = tcr_tree_find(&reader->tree, node, "intended");
    if (status == TCR_OK && intended != NULL)
        status = tcr_read_intended(reader, intended, (tcr_side)side);
    return status == TCR_OK ? read_lashes(reader, lashes, (tcr_side)side) : status;
}

tcr_status tcr_read_eyes(tcr_set_reader *reader, const tcr_node *node) {
    size_t count;
    tcr_status status = tcr_read_list(reader, node, "eyes", "eyes", TCR_SIDES, &count);
    const tcr_node *eye = status == TCR_OK ? tcr_tree_child(&reader->tree, node) : NULL;
    for (; status == TCR_OK && eye != NULL; eye = tcr_tree_next(&reader->tree, eye))
        status = read_eye(reader, eye);
    return status;
}
