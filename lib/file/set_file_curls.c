/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curls of a set file: a label and its pieces, or pieces for each length at which they were
 * measured. */
#include <math.h>
#include <string.h>

#include "file/set_file.h"
#include "num/number.h"
#include "num/range.h"

static const double SHARES_WITHIN = 1e-9; /* of 1; model.md, section 4 */

/* A piece as a list of two numbers: [share, turn]. */
static tcr_status read_piece(const tcr_set_reader *reader, const tcr_node *node,
                             tcr_profile *profile) {
    const tcr_field *fields = tcr_fields(TCR_GROUP_PIECE, NULL);
    if (node->kind != TCR_NODE_LIST || tcr_tree_count(&reader->tree, node) != 2)
        return tcr_fail_at(reader, node,
                           "a piece of a curl is two numbers in [ ], its share of the length and "
                           "its turn in degrees, "
                           "such as [0.8, 90]");
    const tcr_node *share = tcr_tree_child(&reader->tree, node);
    double *at_share = &profile->share[profile->pieces], turn_deg;
    tcr_status status =
        tcr_read_number(reader, share, &fields[0], "the share of a piece", at_share);
    if (status != TCR_OK && reader->error->value == 0.0)
        return tcr_fail_at(
            reader, share,
            "the share of a piece is 0, but must be above 0; leave such a piece out");
    if (status == TCR_OK)
        status = tcr_read_number(reader, tcr_tree_next(&reader->tree, share), &fields[1],
                                 "the turn of a piece", &turn_deg);
    if (status == TCR_OK)
        profile->turn_rad[profile->pieces++] = turn_deg * TCR_DEG;
    return status;
}

/* Pieces in a list, whose shares make up the whole length. */
static tcr_status read_profile(const tcr_set_reader *reader, const tcr_node *node,
                               tcr_profile *profile) {
    size_t count;
    double sum = 0;
    tcr_status status = tcr_read_list(reader, node, "a curl", "pieces", TCR_PIECES_MAX, &count);
    *profile = (tcr_profile){0};
    if (status != TCR_OK)
        return status;
    const tcr_node *item = tcr_tree_child(&reader->tree, node);
    for (; item != NULL; item = tcr_tree_next(&reader->tree, item)) {
        status = read_piece(reader, item, profile);
        if (status != TCR_OK)
            return status;
        sum += profile->share[profile->pieces - 1];
    }
    if (fabs(sum - 1.0) > SHARES_WITHIN) {
        char text[TCR_NUMBER_SIZE];
        tcr_number_text(sum, text);
        return tcr_fail_at(reader, node,
                           "the shares of this curl's pieces add up to %s, but must add up to 1",
                           text);
    }
    return TCR_OK;
}

/* Lengths in rising order with their profiles. */
typedef struct curl_lengths {
    size_t count;
    double length_mm[TCR_CURL_LENGTHS_MAX];
    tcr_profile profile[TCR_CURL_LENGTHS_MAX];
} curl_lengths;

/* Puts a length where it belongs; false if it is there already. */
static bool insert(curl_lengths *lengths, double length_mm, const tcr_profile *profile) {
    size_t at = lengths->count;
    while (at > 0 && lengths->length_mm[at - 1] > length_mm)
        at--;
    if (at > 0 && lengths->length_mm[at - 1] == length_mm)
        return false;
    const size_t behind = lengths->count - at;
    memmove(&lengths->length_mm[at + 1], &lengths->length_mm[at],
            behind * sizeof lengths->length_mm[0]);
    memmove(&lengths->profile[at + 1], &lengths->profile[at], behind * sizeof lengths->profile[0]);
    lengths->length_mm[at] = length_mm;
    lengths->profile[at] = *profile;
    lengths->count++;
    return true;
}

static tcr_status read_measured(const tcr_set_reader *reader, const tcr_node *node,
                                curl_lengths *lengths) {
    const tcr_tree *tree = &reader->tree;
    const size_t count = tcr_tree_count(tree, node);
    const tcr_node *value;
    if (count == 0 || count > TCR_CURL_LENGTHS_MAX)
        return tcr_fail_at(reader, node,
                           "a measured curl has %lu lengths, but must have from 1 to %d",
                           (unsigned long)count, (int)TCR_CURL_LENGTHS_MAX);
    for (const tcr_node *key = tcr_tree_child(tree, node); key != NULL;
         key = tcr_tree_next(tree, value)) {
        double length_mm;
        tcr_profile profile;
        value = tcr_tree_next(tree, key);
        tcr_status status =
            tcr_key_read(tcr_fields(TCR_GROUP_EXTENSION, NULL), "the length of a measured curl",
                         tcr_tree_text(tree, key), key->bytes, false, &length_mm,
                         tcr_tree_place(tree, key), reader->error);
        if (status == TCR_OK)
            status = read_profile(reader, value, &profile);
        if (status != TCR_OK)
            return status;
        if (lengths->count > 0 && profile.pieces != lengths->profile[0].pieces)
            return tcr_fail_at(
                reader, value,
                "this length has %d %s, another has %d; all lengths of a curl need the same number",
                profile.pieces, profile.pieces == 1 ? "piece" : "pieces",
                lengths->profile[0].pieces);
        if (!insert(lengths, length_mm, &profile))
            return tcr_fail_at(reader, key, "this length is here twice; give each length once");
    }
    return TCR_OK;
}

static tcr_status read_curl(const tcr_set_reader *reader, const tcr_node *key,
                            const tcr_node *value) {
    const tcr_tree *tree = &reader->tree;
    const char *label = tcr_tree_text(tree, key);
    curl_lengths lengths = {0};
    tcr_status status;
    if (key->bytes == 0 || key->bytes >= TCR_LABEL_SIZE || memchr(label, '\0', key->bytes) != NULL)
        return tcr_fail_at(reader, key, "the label of a curl must have from 1 to %d letters",
                           (int)TCR_LABEL_SIZE - 1);
    if (value->kind == TCR_NODE_MAPPING) {
        status = read_measured(reader, value, &lengths);
    } else {
        lengths.count = 1;
        status = read_profile(reader, value, &lengths.profile[0]);
    }
    if (status != TCR_OK)
        return status;
    const tcr_curl curl = {label, lengths.count, lengths.count > 1 ? lengths.length_mm : NULL,
                           lengths.profile};
    return tcr_accept_at(reader, value, tcr_set_add_curl(reader->file->set, &curl));
}

tcr_status tcr_read_curls(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_tree *tree = &reader->tree;
    const tcr_node *value;
    tcr_status status = TCR_OK;
    if (node->kind != TCR_NODE_MAPPING)
        return tcr_fail_at(reader, node,
                           "curls needs a label and its pieces, such as X: [[0.4, 0], [0.6, 70]]");
    const tcr_node *key = tcr_tree_child(tree, node);
    for (; status == TCR_OK && key != NULL; key = tcr_tree_next(tree, value)) {
        value = tcr_tree_next(tree, key);
        status = read_curl(reader, key, value);
    }
    return status;
}
