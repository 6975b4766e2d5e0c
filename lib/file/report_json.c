/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON report of a check. Its numbers and their order are those of the table of quantities
 * (tipcrest/column.h); schema/check.schema.json describes all members. Numbers have the fewest
 * digits that read back as the same double.
 */
#include <tipcrest/file.h>

#include "file/envelope.h"
#include "file/json_quantities.h"
#include "file/report.h"
#include "num/range.h"

static void write_lash(tcr_json *json, const tcr_check *check, const tcr_eye_result *eye, size_t i,
                       tcr_quantity_run run) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash_result *result = &eye->lash[i];
    tcr_json_object(json, NULL);
    tcr_json_in_line(json);
    tcr_json_text(json, "id", tcr_set_id(set, eye->side, i));
    tcr_json_quantities(json, check, eye->side, i, run);
    if (result->status != TCR_OK)
        tcr_json_text(json, "reason", tcr_bare_reason(tcr_set_lash(set, eye->side, i), result));
    tcr_json_end(json);
}

static void write_eye(tcr_json *json, const tcr_check *check, const tcr_eye_result *eye) {
    const tcr_view view = tcr_check_view(check);
    const tcr_quantity_run of_lash = tcr_quantities_of(TCR_OWNER_LASH);
    tcr_json_object(json, NULL);
    tcr_json_text(json, "side", tcr_side_text(eye->side));
    tcr_json_number(json, "opening", view.opening);
    tcr_json_number(json, "viewer_deg", tcr_degrees_of(view.viewer_rad));
    tcr_json_text(json, "against", tcr_against_word(tcr_check_against(check)));
    tcr_json_array(json, "lashes");
    for (size_t i = 0; i < eye->lashes && json->writer->status == TCR_OK; i++)
        write_lash(json, check, eye, i, of_lash);
    tcr_json_end(json);
    tcr_json_quantities(json, check, eye->side, 0, tcr_quantities_of(TCR_OWNER_FITTED));
    if (eye->fitted_status != TCR_OK)
        tcr_json_text(json, "fitted_reason", tcr_no_line_reason(eye->fitted_status, eye->extended));
    tcr_json_quantities(json, check, eye->side, 0, tcr_quantities_of(TCR_OWNER_INTENDED));
    if (eye->intended_status != TCR_OK)
        tcr_json_text(json, "intended_reason", tcr_no_intended_reason(eye->intended_status));
    tcr_json_quantities(json, check, eye->side, 0, tcr_quantities_of(TCR_OWNER_EYE));
    tcr_json_quantities(json, check, eye->side, 0, tcr_quantities_of(TCR_OWNER_VIEW));
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
    tcr_likeness likeness;
    const bool judged = tcr_check_likeness(check, &likeness) == TCR_OK;
    tcr_json_text(json, "verdict", judged ? tcr_likeness_text(likeness) : NULL);
    tcr_json_end(json);
}

tcr_status tcr_report_json(const tcr_check *check, const char *digest, tcr_sink sink,
                           void *context) {
    const tcr_status status = tcr_report_validate(check, sink);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_json json;
    tcr_writer_begin(&writer, sink, context);
    tcr_json_begin(&json, &writer);
    tcr_json_object(&json, NULL);
    tcr_envelope_of_check(&json, "check", digest, check);
    tcr_json_array(&json, "eyes");
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(tcr_check_set(check), sides);
    for (size_t e = 0; e < eyes; e++)
        write_eye(&json, check, tcr_check_eye(check, sides[e]));
    tcr_json_end(&json);
    write_symmetry(&json, check);
    tcr_json_end(&json);
    return tcr_writer_end(&writer);
}
