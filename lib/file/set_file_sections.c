/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sections of a set file that hold for both eyes, and the described eye: mostly tables of keys.
 */
#include <string.h>

#include "file/set_file.h"
#include "num/number.h"
#include "num/order.h"

/* ---- The tray -------------------------------------------------------------------------------- */

static const tcr_key LENGTH_IN_TRAY = {.name = "a length of the tray",
                                       .type = TCR_KEY_DOUBLE,
                                       .unit = TCR_IN_MM,
                                       .low = 3,
                                       .high = 30};

static tcr_status check_twice(const tcr_set_reader *reader, const tcr_node *node,
                              const double *lengths, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (lengths[i] == lengths[count]) {
            char text[TCR_NUMBER_SIZE];
            tcr_number_text(lengths[i], text);
            return tcr_fail_at(reader, node, "%s is in the tray twice; give each length once",
                               text);
        }
    return TCR_OK;
}

tcr_status tcr_read_tray(const tcr_set_reader *reader, const tcr_node *node) {
    static const tcr_key KEYS[] = {TCR_KEY_NODE("lengths_mm", 0)};
    const tcr_node *list;
    tcr_tray tray = {0};
    size_t count;
    tcr_status status = tcr_read_keys(reader, node, "tray", "in the tray", KEYS, 1, NULL, NULL);
    if (status == TCR_OK)
        status =
            tcr_read_required(reader, node, "the tray is a list of lengths", "lengths_mm", &list);
    if (status == TCR_OK)
        status = tcr_read_list(reader, list, "lengths_mm", "lengths", TCR_TRAY_MAX, &count);
    if (status != TCR_OK)
        return status;
    const tcr_node *item = tcr_tree_child(&reader->tree, list);
    for (; status == TCR_OK && item != NULL; item = tcr_tree_next(&reader->tree, item)) {
        status = tcr_read_number(reader, item, &LENGTH_IN_TRAY, &tray.length_mm[tray.count]);
        if (status == TCR_OK)
            status = check_twice(reader, item, tray.length_mm, tray.count);
        tray.count++;
    }
    if (status != TCR_OK)
        return status;
    tcr_sort(tray.length_mm, tray.count);
    return tcr_accept_at(reader, node, tcr_set_tray(reader->file->set, &tray));
}

/* ---- Layering -------------------------------------------------------------------------------- */

static tcr_status read_placements(const tcr_set_reader *reader, const tcr_node *node,
                                  tcr_layering *layering) {
    static const tcr_key KEYS[] = {TCR_KEY_NODE("bottom", 0), TCR_KEY_NODE("middle", 0),
                                   TCR_KEY_NODE("top", 0)};
    tcr_status status =
        tcr_read_keys(reader, node, "placement", "in placement", KEYS, TCR_LAYERS, NULL, NULL);
    for (size_t layer = 0; status == TCR_OK && layer < TCR_LAYERS; layer++) {
        const tcr_node *value = tcr_tree_find(&reader->tree, node, KEYS[layer].name);
        size_t index;
        if (value == NULL)
            continue;
        status = tcr_read_word(reader, value, "placement", &tcr_words_placement, &index);
        if (status == TCR_OK)
            layering->placement[layer] = (tcr_placement)index;
    }
    return status;
}

tcr_status tcr_read_layering(const tcr_set_reader *reader, const tcr_node *node) {
    static const tcr_key KEYS[] = {
        TCR_KEY_NUMBER("step_mm", TCR_IN_MM, 0, 3, tcr_layering, step_mm, 0),
        TCR_KEY_NUMBER("diameter_mm", TCR_IN_MM, 0.02, 0.3, tcr_layering, diameter_mm, 0),
        TCR_KEY_WHOLE("fan", TCR_KEY_INT, 1, 20, tcr_layering, fan, 0),
        TCR_KEY_NUMBER("spread_deg", TCR_IN_DEGREES, 0, 120, tcr_layering, spread_rad, 0),
        TCR_KEY_NODE("placement", 0),
        TCR_KEY_NODE("blend", 0),
    };
    tcr_layering layering = tcr_layering_default();
    tcr_status status = tcr_read_keys(reader, node, "layering", "in layering", KEYS,
                                      sizeof KEYS / sizeof KEYS[0], &layering, NULL);
    if (status != TCR_OK)
        return status;
    const tcr_node *placement = tcr_tree_find(&reader->tree, node, "placement");
    const tcr_node *blend = tcr_tree_find(&reader->tree, node, "blend");
    size_t index = 0;
    if (placement != NULL)
        status = read_placements(reader, placement, &layering);
    if (status == TCR_OK && blend != NULL)
        status = tcr_read_word(reader, blend, "blend", &tcr_words_bool, &index);
    if (status != TCR_OK)
        return status;
    layering.blend = index == 1;
    return tcr_accept_at(reader, node, tcr_set_layering(reader->file->set, &layering));
}

/* ---- Bond, plan, pace, line, mean lash ---------------------------------------------------- */

tcr_status tcr_read_bond(const tcr_set_reader *reader, const tcr_node *node) {
    static const tcr_key KEYS[] = {
        TCR_KEY_NUMBER("offset_mm", TCR_IN_MM, 0, 3, tcr_bond, offset_mm, 0),
        TCR_KEY_NUMBER("length_mm", TCR_IN_MM, 1, 8, tcr_bond, length_mm, 0),
        TCR_KEY_NUMBER("glue_mm", TCR_IN_MM, 0, 0.2, tcr_bond, glue_mm, 0),
    };
    tcr_bond bond = tcr_bond_default();
    const tcr_status status = tcr_read_keys(reader, node, "bond", "in bond", KEYS,
                                            sizeof KEYS / sizeof KEYS[0], &bond, NULL);
    return status == TCR_OK ? tcr_accept_at(reader, node, tcr_set_bond(reader->file->set, &bond))
                            : status;
}

tcr_status tcr_read_plan(const tcr_set_reader *reader, const tcr_node *node) {
    return tcr_read_keys(reader, node, "plan", "in plan", tcr_limit_keys, TCR_LIMIT_KEYS,
                         &reader->file->limits, NULL);
}

tcr_status tcr_read_pace(const tcr_set_reader *reader, const tcr_node *node) {
    return tcr_read_keys(reader, node, "pace", "in pace", tcr_pace_keys, TCR_PACE_KEYS,
                         &reader->file->pace, NULL);
}

tcr_status tcr_read_line(const tcr_set_reader *reader, const tcr_node *node) {
    typedef struct line_section {
        double tolerance_mm;
    } line_section;
    static const tcr_key KEYS[] = {
        TCR_KEY_NUMBER("tolerance_mm", TCR_IN_MM, 0.05, 5, line_section, tolerance_mm, 0)};
    line_section line = {tcr_set_get_tolerance(reader->file->set)};
    const tcr_status status = tcr_read_keys(reader, node, "line", "in line", KEYS, 1, &line, NULL);
    return status == TCR_OK ? tcr_accept_at(reader, node,
                                            tcr_set_tolerance(reader->file->set, line.tolerance_mm))
                            : status;
}

tcr_status tcr_read_mean_lash(const tcr_set_reader *reader, const tcr_node *node) {
    tcr_lash mean = tcr_lash_default(0.5, TCR_BOTTOM);
    unsigned given = 0;
    tcr_status status = tcr_read_keys(reader, node, "mean_lash", "in mean_lash", tcr_lash_keys + 1,
                                      TCR_LASH_KEYS - 1, &mean, &given);
    if (status != TCR_OK)
        return status;
    mean.assumed &= ~given;
    const tcr_node *tip = tcr_tree_find(&reader->tree, node, "tip_diameter_mm");
    status = tcr_taper_check(&mean, tcr_tree_place(&reader->tree, tip != NULL ? tip : node),
                             reader->error);
    if (status != TCR_OK)
        return status;
    return tcr_accept_at(reader, node, tcr_set_mean_lash(reader->file->set, &mean));
}

/* ---- The described eye ----------------------------------------------------------------------- */

#define DESCRIBE(name, unit, low, high, member)                                                    \
    TCR_KEY_NUMBER(name, unit, low, high, tcr_description, member, 0)

tcr_status tcr_read_description(const tcr_set_reader *reader, const tcr_node *node, tcr_side side) {
    static const tcr_key KEYS[] = {
        TCR_KEY_WHOLE("count", TCR_KEY_SIZE, 1, 100000, tcr_description, count, 0),
        TCR_KEY_WHOLE("seed", TCR_KEY_UINT64, 0, 9007199254740991.0, tcr_description, seed,
                      0), /* 2^53 */
        TCR_KEY_NODE("phases", 0),
        DESCRIBE("gap_mm", TCR_IN_MM, 0, 3, gap_mm),
        DESCRIBE("height_sd_mm", TCR_IN_MM, 0, 1, height_sd_mm),
        DESCRIBE("pitch_deg", TCR_IN_DEGREES, -84, 84, pitch_rad),
        DESCRIBE("pitch_sd_deg", TCR_IN_DEGREES, 0, 20, pitch_sd_rad),
        DESCRIBE("yaw_deg", TCR_IN_DEGREES, -84, 84, yaw_rad),
        DESCRIBE("yaw_fan_deg", TCR_IN_DEGREES, -168, 168, yaw_fan_rad),
        DESCRIBE("yaw_sd_deg", TCR_IN_DEGREES, 0, 20, yaw_sd_rad),
        DESCRIBE("roll_deg", TCR_IN_DEGREES, -90, 90, roll_rad),
        DESCRIBE("roll_sd_deg", TCR_IN_DEGREES, 0, 20, roll_sd_rad),
        DESCRIBE("length_mm", TCR_IN_MM, 1, 20, length_mm),
        DESCRIBE("length_sd_mm", TCR_IN_MM, 0, 3, length_sd_mm),
        DESCRIBE("length_inner_share", TCR_IN_NONE, 0.1, 2, length_inner_share),
        DESCRIBE("length_outer_share", TCR_IN_NONE, 0.1, 2, length_outer_share),
        DESCRIBE("turn_deg", TCR_IN_DEGREES, -60, 200, turn_rad),
        DESCRIBE("turn_sd_deg", TCR_IN_DEGREES, 0, 40, turn_sd_rad),
        DESCRIBE("root_diameter_mm", TCR_IN_MM, 0.02, 0.2, root_diameter_mm),
        DESCRIBE("root_diameter_sd_mm", TCR_IN_MM, 0, 0.05, root_diameter_sd_mm),
        DESCRIBE("tip_diameter_mm", TCR_IN_MM, 0, 0.2, tip_diameter_mm),
        DESCRIBE("stray_share", TCR_IN_NONE, 0, 1, stray_share),
        DESCRIBE("stray_rise_mm", TCR_IN_MM, 0, 3, stray_rise_mm),
        DESCRIBE("baby_below_mm", TCR_IN_MM, 0, 20, baby_below_mm),
        DESCRIBE("weak_below_mm", TCR_IN_MM, 0, 0.2, weak_below_mm),
    };
    tcr_description description = tcr_description_default();
    tcr_status status = tcr_read_keys(reader, node, "describe", "in describe", KEYS,
                                      sizeof KEYS / sizeof KEYS[0], &description, NULL);
    if (status != TCR_OK)
        return status;
    const tcr_node *phases = tcr_tree_find(&reader->tree, node, "phases");
    size_t index;
    if (phases != NULL) {
        status = tcr_read_word(reader, phases, "phases", &tcr_words_phases, &index);
        if (status != TCR_OK)
            return status;
        description.phases = (tcr_phases)index;
    }
    return tcr_accept_at(reader, node, tcr_set_describe(reader->file->set, side, &description));
}
