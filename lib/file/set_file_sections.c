/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sections of a set file that hold for both eyes, and the described eye. */
#include "file/set_file.h"

#include <string.h>

/* ---- Layering -------------------------------------------------------------------------------- */

tcr_status tcr_read_layering(const tcr_set_reader *reader, const tcr_node *node) {
    static const char *const PLACEMENT[] = {"placement", NULL};
    tcr_block block = tcr_block_of(TCR_GROUP_LAYERING, "layering", "in layering");
    block.behind = PLACEMENT;
    const tcr_block placements = tcr_block_of(TCR_GROUP_PLACEMENT, "placement", "in placement");
    tcr_layering layering = tcr_layering_default();
    tcr_status status = tcr_read_block(reader, node, &block, &layering, NULL);
    if (status != TCR_OK)
        return status;
    const tcr_node *placement = tcr_tree_find(&reader->tree, node, "placement");
    if (placement != NULL)
        status = tcr_read_block(reader, placement, &placements, &layering, NULL);
    return status == TCR_OK
               ? tcr_accept_at(reader, node, tcr_set_put_layering(reader->file->set, &layering))
               : status;
}

/* ---- Bond, plan, pace, line, mean lash, the described eye ------------------------------------ */

tcr_status tcr_read_bond(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_block block = tcr_block_of(TCR_GROUP_BOND, "bond", "in bond");
    tcr_bond bond = tcr_bond_default();
    const tcr_status status = tcr_read_block(reader, node, &block, &bond, NULL);
    return status == TCR_OK
               ? tcr_accept_at(reader, node, tcr_set_put_bond(reader->file->set, &bond))
               : status;
}

tcr_status tcr_read_plan(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_block block = tcr_block_of(TCR_GROUP_LIMITS, "plan", "in plan");
    return tcr_read_block(reader, node, &block, &reader->file->limits, NULL);
}

tcr_status tcr_read_pace(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_block block = tcr_block_of(TCR_GROUP_PACE, "pace", "in pace");
    return tcr_read_block(reader, node, &block, &reader->file->pace, NULL);
}

tcr_status tcr_read_line(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_block block = tcr_block_of(TCR_GROUP_LINE, "line", "in line");
    tcr_line_rule rule = tcr_line_rule_default();
    const tcr_status status = tcr_read_block(reader, node, &block, &rule, NULL);
    const tcr_node *both = tcr_tree_find(&reader->tree, node, "seen_from_mm");
    if (status == TCR_OK && both != NULL && tcr_tree_find(&reader->tree, node, "tolerance_mm"))
        return tcr_fail_at(reader, both,
                           "line has tolerance_mm and seen_from_mm; give one: seen_from_mm makes "
                           "the tolerance, 3 minutes of arc from there");
    return status == TCR_OK
               ? tcr_accept_at(reader, node, tcr_set_put_line(reader->file->set, &rule))
               : status;
}

tcr_status tcr_read_mean_lash(const tcr_set_reader *reader, const tcr_node *node) {
    const tcr_block block = tcr_block_of(TCR_GROUP_MEAN_LASH, "mean_lash", "in mean_lash");
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    tcr_status status = tcr_read_block(reader, node, &block, &mean, NULL);
    if (status != TCR_OK)
        return status;
    const tcr_node *tip = tcr_tree_find(&reader->tree, node, "tip_diameter_mm");
    status = tcr_taper_validate(&mean, tcr_tree_place(&reader->tree, tip != NULL ? tip : node),
                                reader->error);
    if (status != TCR_OK)
        return status;
    return tcr_accept_at(reader, node, tcr_set_put_mean_lash(reader->file->set, &mean));
}

tcr_status tcr_read_description(const tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    const tcr_block block = tcr_block_of(TCR_GROUP_DESCRIPTION, "describe", "in describe");
    tcr_description description = tcr_description_default();
    const tcr_status status = tcr_read_block(reader, node, &block, &description, NULL);
    if (status != TCR_OK)
        return status;
    return tcr_accept_at(reader, node, tcr_set_describe(reader->file->set, side, &description));
}
