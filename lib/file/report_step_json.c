/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON report of the level steps. Its members, their order and where null stands are fixed by
 * schema/step.schema.json.
 */
#include <tipcrest/file.h>

#include "file/envelope.h"
#include "file/report_step.h"
#include "num/range.h"

/* Middle and top. */
static void write_upper(tcr_json *json, const char *key, const double number[TCR_UPPER_LAYERS]) {
    tcr_json_object(json, key);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        tcr_json_number(json, tcr_word(&tcr_words_layer, i + 1), number[i]);
    tcr_json_end(json);
}

static void write_step(tcr_json *json, const char *key, const tcr_step_range *range, size_t curl,
                       double length_mm, const tcr_step_placements *placements) {
    const tcr_step step = tcr_step_answer(range, curl, length_mm, placements);
    tcr_json_object(json, key);
    tcr_json_in_line(json);
    tcr_json_text(json, "curl", tcr_set_curl(range->set, curl)->label);
    tcr_json_number(json, "length_mm", length_mm);
    tcr_json_object(json, "placement");
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        tcr_json_text(json, tcr_word(&tcr_words_layer, layer),
                      tcr_word(&tcr_words_placement, (int)placements->layer[layer]));
    tcr_json_end(json);
    write_upper(json, "step_mm", step.step_mm);
    write_upper(json, "tray_mm", step.tray_mm);
    write_upper(json, "left_over_mm", step.left_over_mm);
    write_upper(json, "shows_from_mm", step.shows_from_mm);
    tcr_json_end(json);
}

static void write_heights(tcr_json *json, const tcr_step_range *range) {
    tcr_json_object(json, "layer_height_mm");
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        tcr_json_number(json, tcr_word(&tcr_words_layer, layer), range->heights.height_mm[layer]);
    tcr_json_end(json);
}

/* Why the level step of the answer is what it is; null where the mean lash cannot bond. */
static void write_reason(tcr_json *json, const tcr_step_range *range) {
    tcr_step_reason reason;
    if (tcr_step_shown_reason(range, &reason) != TCR_OK) {
        tcr_json_null(json, "reason");
        return;
    }
    tcr_json_object(json, "reason");
    tcr_json_number(json, "tip_by_height_mm", reason.by_higher_mm);
    tcr_json_number(json, "tip_by_shorter_mm", reason.by_shorter_mm);
    write_upper(json, "less_by_height_mm", reason.by_height_mm);
    write_upper(json, "less_by_placement_mm", reason.by_placement_mm);
    tcr_json_end(json);
}

static void write_steps(tcr_json *json, const tcr_step_range *range) {
    const size_t rows = tcr_step_row_count(range);
    tcr_json_array(json, "steps");
    for (size_t i = 0; i < rows && json->writer->status == TCR_OK; i++) {
        const tcr_step_row row = tcr_step_row_at(range, i);
        write_step(json, NULL, range, row.curl, row.length_mm, &row.placements);
    }
    tcr_json_end(json);
}

static void write_sensitivities(tcr_json *json, const tcr_step_range *range,
                                const tcr_sensitivity *s) {
    if (s == NULL) {
        tcr_json_null(json, "sensitivities");
        return;
    }
    tcr_json_object(json, "sensitivities");
    tcr_json_text(json, "curl", tcr_set_curl(range->set, range->shown_curl)->label);
    tcr_json_number(json, "length_mm", range->shown_mm);
    tcr_json_text(json, "placement",
                  tcr_word(&tcr_words_placement, (int)tcr_step_beside.layer[TCR_BOTTOM]));
    tcr_json_object(json, "mm_per_unit");
    tcr_json_number(json, "height_mm", s->per_height);
    tcr_json_number(json, "pitch_deg", s->per_pitch * TCR_DEG);
    tcr_json_number(json, "length_mm", s->per_natural);
    tcr_json_number(json, "turn_deg", s->per_turn * TCR_DEG);
    tcr_json_number(json, "ext_length_mm", s->per_length);
    tcr_json_end(json);
    tcr_json_object(json, "placement_mm");
    for (int placement = 0; placement < TCR_PLACEMENTS; placement++)
        tcr_json_number(json, tcr_word(&tcr_words_placement, placement),
                        s->by_placement_mm[placement]);
    tcr_json_end(json);
    tcr_json_end(json);
}

tcr_status tcr_report_step_json(const tcr_set *set, const tcr_step_report_options *options,
                                const char *digest, tcr_sink sink, void *context) {
    tcr_step_range range;
    tcr_step_lessons lessons;
    tcr_status status = tcr_step_range_of(set, options, &range);
    if (status == TCR_OK && sink != NULL)
        status = tcr_step_lessons_of(&range, &lessons);
    if (status != TCR_OK || sink == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    tcr_sensitivity found;
    const tcr_sensitivity *sensitivity =
        tcr_step_shown_sensitivity(&range, &found) == TCR_OK ? &found : NULL;
    tcr_assumed assumed[TCR_LASH_BITS];
    const size_t count = tcr_step_assumed(&range, sensitivity, assumed);
    tcr_writer writer;
    tcr_json json;
    tcr_writer_begin(&writer, sink, context);
    tcr_json_begin(&json, &writer);
    tcr_json_object(&json, NULL);
    tcr_envelope(&json, "step", digest, set, assumed, count);
    tcr_json_text(&json, "side", tcr_word(&tcr_words_side, (int)range.side));
    write_heights(&json, &range);
    tcr_step_lessons_json(&json, &lessons);
    write_step(&json, "pupil", &range, range.shown_curl, range.shown_mm, &range.shown);
    write_reason(&json, &range);
    write_steps(&json, &range);
    write_sensitivities(&json, &range, sensitivity);
    tcr_json_end(&json);
    return tcr_writer_end(&writer);
}
