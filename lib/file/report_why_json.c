/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON report of the causes of unevenness. Its members, their order and where null stands are
 * fixed by schema/why.schema.json.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/envelope.h"
#include "file/report_why.h"
#include "num/range.h"

static void write_share(tcr_json *json, const tcr_share *share) {
    tcr_json_number(json, "shapley_mm2", share->shapley_mm2);
    tcr_json_number(json, "first_in_mm2", share->first_in_mm2);
    tcr_json_number(json, "last_out_mm2", share->last_out_mm2);
    tcr_json_number(json, "alone_rms_mm", share->alone_rms_mm);
    tcr_json_number(json, "without_rms_mm", share->without_rms_mm);
}

static void write_pair(tcr_json *json, const char *key, const tcr_share *share) {
    tcr_json_object(json, key);
    tcr_json_in_line(json);
    write_share(json, share);
    tcr_json_end(json);
}

static void write_causes(tcr_json *json, const tcr_why *why) {
    tcr_json_array(json, "causes");
    for (int cause = 0; cause < TCR_CAUSES; cause++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "cause", tcr_cause_key[cause]);
        write_share(json, &why->cause[cause]);
        tcr_json_end(json);
    }
    tcr_json_end(json);
    write_pair(json, "layering", &why->layering);
    write_pair(json, "lengths_along_lid", &why->lengths_along);
}

static void write_layers(tcr_json *json, const tcr_why_layers *layers) {
    static const char *const lengths[TCR_LAYER_LENGTHS] = {
        [TCR_LENGTHS_ONE_LAYER] = "one-layer",
        [TCR_LENGTHS_EQUAL] = "equal",
        [TCR_LENGTHS_RULED] = "ruled",
        [TCR_LENGTHS_OTHER] = "other",
    };
    tcr_json_object(json, "layers");
    tcr_json_text(json, "lengths", lengths[layers->lengths]);
    tcr_json_bool(json, "worn_by_rows", layers->worn);
    tcr_json_object(json, "height_mm");
    tcr_json_in_line(json);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        tcr_json_number(json, tcr_word(&tcr_words_layer, layer), layers->height_mm[layer]);
    tcr_json_end(json);
    tcr_json_number(json, "tip_by_height_mm", layers->tip_by_height_mm);
    tcr_json_number(json, "tip_by_shorter_mm", layers->tip_by_shorter_mm);
    tcr_json_number(json, "step_mm", layers->step_mm);
    tcr_json_number(json, "equal_rms_mm", layers->equal_rms_mm);
    tcr_json_number(json, "ruled_rms_mm", layers->ruled_rms_mm);
    tcr_json_count(json, "ruled_lacking", layers->ruled_lacking);
    tcr_json_end(json);
}

static void write_eye(tcr_json *json, const tcr_check *check, const tcr_eye_causes *of) {
    const tcr_view view = tcr_check_view(check);
    const bool known = of->reason == NULL;
    tcr_json_object(json, NULL);
    tcr_json_text(json, "side", tcr_word(&tcr_words_side, (int)of->eye->side));
    tcr_json_number(json, "opening", view.opening);
    tcr_json_number(json, "viewer_deg", tcr_degrees_of(view.viewer_rad));
    tcr_json_text(json, "against", tcr_against_word(tcr_check_against(check)));
    tcr_json_count(json, "lashes", of->eye->extended);
    tcr_json_number(json, "whole_rms_mm", known ? of->why.whole_rms_mm : NAN);
    tcr_json_number(json, "bare_rms_mm", known ? of->why.bare_rms_mm : NAN);
    if (known && !isnan(of->why.eyes_differ_mm2))
        tcr_json_number(json, "eyes_differ_mm2", of->why.eyes_differ_mm2);
    if (known) {
        write_layers(json, &of->why.layers);
        write_causes(json, &of->why);
    } else {
        tcr_json_null(json, "layers");
        tcr_json_null(json, "causes");
        tcr_json_null(json, "layering");
        tcr_json_null(json, "lengths_along_lid");
        tcr_json_text(json, "reason", of->reason);
    }
    tcr_json_end(json);
}

tcr_status tcr_report_why_json(const tcr_check *check, const char *digest, tcr_sink sink,
                               void *context) {
    tcr_eye_causes causes[TCR_SIDES];
    size_t eyes;
    tcr_status status = tcr_report_validate(check, sink);
    if (status == TCR_OK)
        status = tcr_collect_causes(check, causes, &eyes);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_json json;
    tcr_writer_begin(&writer, sink, context);
    tcr_json_begin(&json, &writer);
    tcr_json_object(&json, NULL);
    tcr_envelope_of_check(&json, "why", digest, check);
    tcr_json_array(&json, "eyes");
    for (size_t e = 0; e < eyes; e++)
        write_eye(&json, check, &causes[e]);
    tcr_json_end(&json);
    tcr_json_end(&json);
    return tcr_writer_end(&writer);
}
