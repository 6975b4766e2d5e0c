/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tray of a set file: lengths alone, or lengths by curl and diameter. */
#include "file/set_file.h"

#include <string.h>

#include "file/curl_name.h"
#include "file/keys.h"
#include "num/number.h"

/* The place of a length in the tray, into which it is put in order if it is new; TCR_TRAY_MAX where
 * there is no room. What the kinds have stays theirs. */
static size_t place_of(tcr_tray *tray, double length_mm) {
    size_t at = 0;
    while (at < tray->count && tray->length_mm[at] < length_mm)
        at++;
    if (at < tray->count && tray->length_mm[at] == length_mm)
        return at;
    if (tray->count == TCR_TRAY_MAX)
        return TCR_TRAY_MAX;
    memmove(&tray->length_mm[at + 1], &tray->length_mm[at],
            (tray->count - at) * sizeof *tray->length_mm);
    tray->length_mm[at] = length_mm;
    tray->count++;
    for (size_t k = 0; k < tray->kinds; k++) {
        const uint64_t below = tray->kind[k].lengths & ((UINT64_C(1) << at) - 1);
        tray->kind[k].lengths = below | (tray->kind[k].lengths ^ below) << 1;
    }
    return at;
}

/* "8-13", as begin's questions take it. */
static bool is_run(const tcr_set_reader *reader, const tcr_node *node) {
    if (node->kind != TCR_NODE_SCALAR)
        return false;
    const char *text = tcr_tree_text(&reader->tree, node), *dash = memchr(text, '-', node->bytes);
    double from, to;
    return dash != NULL && tcr_number_parse(text, (size_t)(dash - text), &from) &&
           tcr_number_parse(dash + 1, (size_t)(text + node->bytes - dash - 1), &to);
}

static tcr_status fail_run(const tcr_set_reader *reader, const tcr_node *node, const char *name) {
    tcr_quoted quoted;
    return tcr_fail_at(reader, node, "%s needs each length by itself, such as [8, 9, 10], not %s",
                       name, tcr_quote(&quoted, tcr_tree_text(&reader->tree, node), node->bytes));
}

/* Reads a list of lengths into the tray. kind: what has them; NULL without kinds. */
static tcr_status read_lengths(const tcr_set_reader *reader, const tcr_node *list, const char *name,
                               tcr_tray *tray, tcr_tray_kind *kind) {
    const tcr_field *field = tcr_fields(TCR_GROUP_TRAY, NULL);
    uint64_t none = 0, *has = kind != NULL ? &kind->lengths : &none;
    size_t count;
    if (is_run(reader, list))
        return fail_run(reader, list, name);
    tcr_status status = tcr_read_list(reader, list, name, "lengths", TCR_TRAY_MAX, &count);
    if (status != TCR_OK)
        return status;
    const tcr_node *item = tcr_tree_child(&reader->tree, list);
    for (; item != NULL; item = tcr_tree_next(&reader->tree, item)) {
        double length_mm;
        char text[TCR_NUMBER_SIZE];
        const size_t before = tray->count;
        if (is_run(reader, item))
            return fail_run(reader, item, name);
        status = tcr_read_number(reader, item, field, "a length of the tray", &length_mm);
        if (status != TCR_OK)
            return status;
        const size_t at = place_of(tray, length_mm);
        if (at == TCR_TRAY_MAX)
            return tcr_fail_at(reader, item, "the tray has more than %d lengths",
                               (int)TCR_TRAY_MAX);
        tcr_number_text(length_mm, text);
        if (kind != NULL ? (*has >> at & 1u) != 0 : tray->count == before)
            return tcr_fail_at(reader, item, "%s is in the tray twice; give each length once",
                               text);
        *has |= UINT64_C(1) << at;
    }
    return TCR_OK;
}

/* The diameters of one curl with their lengths. */
static tcr_status read_curl_kinds(const tcr_set_reader *reader, const tcr_node *node,
                                  const char *label, tcr_tray *tray) {
    const tcr_tree *tree = &reader->tree;
    const tcr_field *diameter = tcr_field_find(TCR_GROUP_EXTENSION, "diameter_mm");
    const tcr_node *value;
    if (node->kind != TCR_NODE_MAPPING || tcr_tree_count(tree, node) == 0)
        return tcr_fail_at(reader, node,
                           "the tray has the lengths of %s by diameter, such as {0.15: [8, 9, 10]}",
                           label);
    for (const tcr_node *key = tcr_tree_child(tree, node); key != NULL;
         key = tcr_tree_next(tree, value)) {
        tcr_tray_kind kind = {.lengths = 0};
        value = tcr_tree_next(tree, key);
        tcr_status status =
            tcr_key_read(diameter, "a diameter of the tray", tcr_tree_text(tree, key), key->bytes,
                         false, &kind.diameter_mm, tcr_tree_place(tree, key), reader->error);
        if (status != TCR_OK)
            return status;
        if (tray->kinds == TCR_TRAY_KINDS_MAX)
            return tcr_fail_at(reader, key, "the tray has more than %d curls and diameters",
                               (int)TCR_TRAY_KINDS_MAX);
        memcpy(kind.curl, label, sizeof kind.curl);
        tray->kind[tray->kinds] = kind;
        for (size_t k = 0; k < tray->kinds; k++)
            if (strcmp(tray->kind[k].curl, label) == 0 &&
                tray->kind[k].diameter_mm == kind.diameter_mm)
                return tcr_fail_at(reader, key,
                                   "this diameter of %s is here twice; give each diameter once",
                                   label);
        tray->kinds++;
        status = read_lengths(reader, value, "a diameter of the tray", tray,
                              &tray->kind[tray->kinds - 1]);
        if (status != TCR_OK)
            return status;
    }
    return TCR_OK;
}

static tcr_status read_kinds(const tcr_set_reader *reader, const tcr_node *node, tcr_tray *tray) {
    const tcr_tree *tree = &reader->tree;
    const tcr_node *value;
    for (const tcr_node *key = tcr_tree_child(tree, node); key != NULL;
         key = tcr_tree_next(tree, value)) {
        char label[TCR_LABEL_SIZE];
        value = tcr_tree_next(tree, key);
        tcr_status status =
            tcr_curl_name_read(reader->file->set, "the tray's curl", tcr_tree_text(tree, key),
                               key->bytes, label, tcr_tree_place(tree, key), reader->error);
        if (status == TCR_OK)
            status = read_curl_kinds(reader, value, label, tray);
        if (status != TCR_OK)
            return status;
    }
    return TCR_OK;
}

/* Whether a tray tells curls apart: its first key has something by diameter, or is a curl. */
static bool has_kinds(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_tree *tree = &reader->tree;
    size_t index;
    const tcr_node *key = node->kind == TCR_NODE_MAPPING ? tcr_tree_child(tree, node) : NULL;
    if (key == NULL)
        return false;
    const char *first = tcr_tree_text(tree, key);
    const bool is_curl = tcr_set_find_curl(reader->file->set, first, &index) == TCR_OK;
    return tcr_tree_next(tree, key)->kind == TCR_NODE_MAPPING
               ? is_curl || strcmp(first, "lengths_mm") != 0
               : is_curl && tcr_tree_find(tree, node, "lengths_mm") == NULL;
}

tcr_status tcr_read_tray(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_block block = tcr_block_of(TCR_GROUP_TRAY, "tray", "in the tray");
    const tcr_node *list;
    tcr_tray tray = {0}; /* without a length: any is at hand */
    tcr_status status = TCR_OK;
    if (node->kind == TCR_NODE_SCALAR && strcmp(tcr_tree_text(&reader->tree, node), "any") == 0)
        return tcr_accept_at(reader, node, tcr_set_put_tray(reader->file->set, &tray));
    if (has_kinds(reader, node)) {
        status = read_kinds(reader, node, &tray);
    } else {
        status = tcr_read_block(reader, node, &block, NULL, NULL);
        if (status == TCR_OK)
            status = tcr_read_required(reader, node, "the tray is a list of lengths", "lengths_mm",
                                       &list);
        if (status == TCR_OK)
            status = read_lengths(reader, list, "lengths_mm", &tray, NULL);
    }
    return status == TCR_OK
               ? tcr_accept_at(reader, node, tcr_set_put_tray(reader->file->set, &tray))
               : status;
}
