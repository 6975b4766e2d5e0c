/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The map of an eye: its zones from the inner corner, and what a zone fixes for a layer. */
#include "file/set_file.h"
#include "model/names.h"
#include "num/number.h"

/* What a zone fixes for one layer; it wins over the layering rule. */
static tcr_status read_layer(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                             tcr_wish *wish) {
    const tcr_tree *tree = &reader->tree;
    const tcr_block block = tcr_block_of(TCR_GROUP_WISH, name, "in a layer of a zone");
    tcr_status status = tcr_read_block(reader, node, &block, wish, &wish->fixed);
    if (status == TCR_OK && (wish->fixed & TCR_FIX_FROM_SKIN))
        return tcr_fail_at(reader, tcr_tree_find(tree, node, "from_skin_mm"),
                           "from_skin_mm is a lash's own, where its glue begins; give it as "
                           "ext_from_skin_mm in the survey, or the bond's offset_mm for all");
    if (status == TCR_OK && (wish->fixed & TCR_FIX_LENGTH))
        status =
            tcr_require_in_tray(reader, tcr_tree_find(tree, node, "length_mm"), wish->length_mm);
    if (status == TCR_OK && (wish->fixed & TCR_FIX_CURL))
        status = tcr_read_curl_name(reader, tcr_tree_find(tree, node, "curl"), wish->curl);
    return status;
}

static tcr_status read_zone(const tcr_set_reader *reader, const tcr_node *node, tcr_zone *zone) {
    static const char *const LAYERS[] = {TCR_LAYER_NAMES, NULL};
    tcr_block block = tcr_block_of(TCR_GROUP_ZONE, "a zone", "in a zone");
    block.behind = LAYERS;
    static const char NEEDS[] = "every zone needs to, length_mm and curl";
    const tcr_node *to, *length, *curl;
    tcr_status status = tcr_read_block(reader, node, &block, zone, NULL);
    if (status == TCR_OK)
        status = tcr_read_required(reader, node, NEEDS, "to", &to);
    if (status == TCR_OK)
        status = tcr_read_required(reader, node, NEEDS, "length_mm", &length);
    if (status == TCR_OK)
        status = tcr_read_required(reader, node, NEEDS, "curl", &curl);
    if (status == TCR_OK)
        status = tcr_require_in_tray(reader, length, zone->length_mm);
    if (status == TCR_OK)
        status = tcr_read_curl_name(reader, curl, zone->curl);
    for (size_t layer = 0; status == TCR_OK && layer < TCR_LAYERS; layer++) {
        const char *name = tcr_words_layer.word[layer];
        const tcr_node *value = tcr_tree_find(&reader->tree, node, name);
        if (value != NULL)
            status = read_layer(reader, value, name, &zone->layer[layer]);
    }
    return status;
}

/* A zone ends further out than the one before it. */
static tcr_status check_rise(const tcr_set_reader *reader, const tcr_node *node, double from,
                             double to) {
    char before[TCR_NUMBER_SIZE], here[TCR_NUMBER_SIZE];
    if (to > from)
        return TCR_OK;
    tcr_number_text(from, before);
    tcr_number_text(to, here);
    return tcr_fail_at(reader, tcr_tree_find(&reader->tree, node, "to"),
                       "this zone ends at %s, but must end beyond %s, where it begins; zones go "
                       "from the inner to the "
                       "outer corner",
                       here, before);
}

/* The zones of a map, and where each stands in the file. */
static tcr_status read_zones(const tcr_set_reader *reader, const tcr_node *node, const char *key,
                             tcr_zone *zones, tcr_file_place *place, size_t *count) {
    const tcr_node *last = NULL;
    size_t i = 0;
    double from = 0;
    tcr_status status = tcr_read_list(reader, node, key, "zones", TCR_ZONES_MAX, count);
    if (status != TCR_OK)
        return status;
    const tcr_node *item = tcr_tree_child(&reader->tree, node);
    for (; item != NULL; item = tcr_tree_next(&reader->tree, item)) {
        zones[i] = (tcr_zone){0};
        status = read_zone(reader, item, &zones[i]);
        if (status == TCR_OK)
            status = check_rise(reader, item, from, zones[i].to);
        if (status != TCR_OK)
            return status;
        place[i] = (tcr_file_place){.line = item->line, .column = item->column};
        from = zones[i++].to;
        last = item;
    }
    if (from != 1.0) {
        char end[TCR_NUMBER_SIZE];
        tcr_number_text(from, end);
        return tcr_fail_at(reader, tcr_tree_find(&reader->tree, last, "to"),
                           "the last zone ends at %s, but must end at 1, the outer corner", end);
    }
    return TCR_OK;
}

tcr_status tcr_read_map(const tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    tcr_zone zones[TCR_ZONES_MAX];
    size_t count;
    const tcr_status status =
        read_zones(reader, node, "map", zones, reader->file->eye[side].zone, &count);
    if (status != TCR_OK)
        return status;
    return tcr_accept_at(reader, node, tcr_set_put_map(reader->file->set, side, zones, count));
}

tcr_status tcr_read_intended(const tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    tcr_zone zones[TCR_ZONES_MAX];
    tcr_file_place place[TCR_ZONES_MAX];
    size_t count;
    const tcr_status status = read_zones(reader, node, "intended", zones, place, &count);
    if (status != TCR_OK)
        return status;
    return tcr_accept_at(reader, node, tcr_set_put_intended(reader->file->set, side, zones, count));
}
