/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON report of a check. Its members, their order and where null stands are fixed by
 * schema/check.schema.json; numbers have the fewest digits that read back as the same double.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/envelope.h"
#include "file/report.h"

static void write_point(tcr_json *json, const char *key, tcr_vec3 point) {
    tcr_json_array(json, key);
    tcr_json_number(json, NULL, point.x);
    tcr_json_number(json, NULL, point.y);
    tcr_json_number(json, NULL, point.z);
    tcr_json_end(json);
}

static void write_remedy(tcr_json *json, const tcr_set *set, const tcr_remedy *remedy) {
    tcr_json_object(json, "remedy");
    tcr_json_number(json, "length_mm", remedy->length_mm);
    tcr_json_number(json, "deviation_mm", remedy->deviation_mm);
    tcr_json_number(json, "sizes", tcr_set_get_tray(set)->count > 0 ? remedy->sizes : NAN);
    tcr_json_end(json);
}

static void write_load(tcr_json *json, const tcr_load *load) {
    tcr_json_object(json, "load");
    tcr_json_number(json, "extension_mass_mg", load->extension_mass_mg);
    tcr_json_number(json, "natural_mass_mg", load->natural_mass_mg);
    tcr_json_number(json, "mass_ratio", load->mass_ratio);
    tcr_json_number(json, "root_moment_uNmm", load->root_moment_uNmm);
    tcr_json_number(json, "natural_moment_uNmm", load->natural_moment_uNmm);
    tcr_json_number(json, "moment_ratio", load->moment_ratio);
    tcr_json_end(json);
}

static void write_lash(tcr_json *json, const tcr_check *check, const tcr_eye_result *eye,
                       size_t i) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash *lash = tcr_set_get_lash(set, eye->side, i);
    const tcr_lash_result *result = &eye->lash[i];
    const bool is_bare = result->bare != TCR_OK;
    tcr_load load;

    tcr_json_object(json, NULL);
    tcr_json_in_line(json);
    tcr_json_text(json, "id", tcr_set_get_id(set, eye->side, i));
    tcr_json_text(json, "layer", tcr_word(&tcr_words_layer, (int)lash->layer));
    tcr_json_number(json, "u", lash->u);
    tcr_json_text(json, "condition", tcr_word(&tcr_words_condition, (int)lash->condition));
    if (is_bare)
        tcr_json_null(json, "extension");
    else
        tcr_json_extension(json, "extension", set, &result->choice);
    write_point(json, "root_mm", result->stance.root);
    write_point(json, "tip_mm", result->tip);
    tcr_json_number(json, "line_mm", is_bare ? NAN : result->line_mm);
    tcr_json_number(json, "deviation_mm", is_bare ? NAN : result->deviation_mm);
    tcr_json_number(json, "across_mm", is_bare ? NAN : result->across_mm);
    tcr_json_bool(json, "staggered", !is_bare && result->staggered);
    if (is_bare)
        tcr_json_text(json, "reason", tcr_bare_reason(lash, result));
    else if (result->staggered)
        write_remedy(json, set, &result->remedy);
    if (!is_bare && tcr_load_of_result(check, eye, i, &load) == TCR_OK)
        write_load(json, &load);
    tcr_json_end(json);
}

static void write_offsets(tcr_json *json, const double offset_mm[TCR_LAYERS]) {
    tcr_json_object(json, "layer_offset_mm");
    tcr_json_in_line(json);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        tcr_json_number(json, tcr_word(&tcr_words_layer, layer), offset_mm[layer]);
    tcr_json_end(json);
}

/* The figures of one line, or null and the reason. */
static void write_evenness(tcr_json *json, const char *key, const tcr_evenness *evenness,
                           const char *reason_key, const char *reason) {
    if (reason != NULL) {
        tcr_json_null(json, key);
        tcr_json_text(json, reason_key, reason);
        return;
    }
    tcr_json_object(json, key);
    tcr_json_count(json, "lashes", evenness->lashes);
    tcr_json_number(json, "rms_mm", evenness->upright.rms_mm);
    tcr_json_number(json, "mean_abs_mm", evenness->upright.mean_abs_mm);
    tcr_json_number(json, "p95_abs_mm", evenness->upright.p95_abs_mm);
    tcr_json_number(json, "max_abs_mm", evenness->upright.max_abs_mm);
    tcr_json_number(json, "tolerance_mm", evenness->tolerance_mm);
    tcr_json_number(json, "within_tolerance", evenness->within_tolerance);
    write_offsets(json, evenness->layer_offset_mm);
    tcr_json_end(json);
}

static void write_views(tcr_json *json, const tcr_eye_result *eye) {
    static const char *const names[TCR_VIEWS] = {"open_front", "closed_front", "artist"};
    tcr_json_object(json, "views");
    for (int view = 0; view < TCR_VIEWS; view++) {
        tcr_json_object(json, names[view]);
        tcr_json_in_line(json);
        if (eye->view_status[view] == TCR_OK)
            write_offsets(json, eye->view_offset_mm[view]);
        else
            tcr_json_null(json, "layer_offset_mm");
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

static void write_eye(tcr_json *json, const tcr_check *check, const tcr_eye_result *eye) {
    const tcr_view view = tcr_check_view(check);
    tcr_json_object(json, NULL);
    tcr_json_text(json, "side", tcr_word(&tcr_words_side, (int)eye->side));
    tcr_json_number(json, "opening", view.opening);
    tcr_json_number(json, "viewer_deg", tcr_file_degrees(view.viewer_rad));
    tcr_json_text(json, "against", tcr_against_word(tcr_check_against(check)));
    tcr_json_array(json, "lashes");
    for (size_t i = 0; i < eye->lashes && json->writer->status == TCR_OK; i++)
        write_lash(json, check, eye, i);
    tcr_json_end(json);
    write_evenness(json, "fitted", &eye->fitted, "fitted_reason",
                   eye->fitted_status == TCR_OK
                       ? NULL
                       : tcr_no_line_reason(eye->fitted_status, eye->extended));
    write_evenness(json, "intended", &eye->intended, "intended_reason",
                   eye->intended_status == TCR_OK ? NULL
                                                  : tcr_no_intended_reason(eye->intended_status));
    /* One tip has no neighbour. */
    tcr_json_number(json, "largest_gap_mm", eye->extended > 1 ? eye->largest_gap_mm : NAN);
    tcr_json_bool(json, "too_few", eye->too_few);
    write_views(json, eye);
    tcr_json_end(json);
}

/* There with two eyes; null where their lines have nothing in common. */
static void write_symmetry(tcr_json *json, const tcr_check *check) {
    tcr_symmetry symmetry;
    const tcr_status status = tcr_check_symmetry(check, &symmetry);
    if (status == TCR_E_MISSING)
        return;
    if (status != TCR_OK) {
        tcr_json_null(json, "symmetry");
        return;
    }
    tcr_json_object(json, "symmetry");
    tcr_json_number(json, "rms_mm", symmetry.rms_mm);
    tcr_json_number(json, "max_mm", symmetry.max_mm);
    tcr_json_number(json, "level_rms_mm", symmetry.level_rms_mm);
    tcr_json_number(json, "level_max_mm", symmetry.level_max_mm);
    tcr_json_end(json);
}

tcr_status tcr_report_json(const tcr_check *check, const char *digest, tcr_sink sink,
                           void *context) {
    if (check == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_json json;
    tcr_writer_begin(&writer, sink, context);
    tcr_json_begin(&json, &writer);
    tcr_json_object(&json, NULL);
    tcr_envelope_of_check(&json, "check", digest, check);
    tcr_json_array(&json, "eyes");
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(tcr_check_set(check), sides);
    for (size_t e = 0; e < eyes; e++)
        write_eye(&json, check, tcr_check_eye(check, sides[e]));
    tcr_json_end(&json);
    write_symmetry(&json, check);
    tcr_json_end(&json);
    return tcr_writer_end(&writer);
}
