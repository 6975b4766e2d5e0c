/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for whatever is worked out from a set. */
#include "fuzz/evaluate.h"

#include <math.h>

#include "file/report.h"
#include "fuzz/claim.h"
#include "fuzz/sinks.h"

/* Sums and differences of some thousands of numbers of up to 100 mm, or squares of such: rounding
 * leaves less than 1e-9 of them. */
static const double ROUNDING = 1e-9;

size_t tcr_lashes_of(const tcr_set *set) {
    return tcr_set_lash_count(set, TCR_LEFT) + tcr_set_lash_count(set, TCR_RIGHT);
}

tcr_check_options tcr_pick_options(uint64_t number) {
    tcr_check_options options = tcr_check_options_default();
    options.against = number % 2 == 0 ? TCR_FITTED : TCR_INTENDED;
    options.has_view = number / 2 % 3 == 0;
    options.view = (tcr_view){.opening = (double)(number / 6 % 9) / 8.0,
                              .viewer_rad = ((double)(number / 54 % 17) - 8.0) / 6.0};
    return options;
}

/* ---- One check ------------------------------------------------------------------------------- */

static void claim_load(const tcr_check *check, const tcr_eye_result *eye, size_t i) {
    tcr_weight weight;
    const tcr_status status = tcr_check_weight(check, eye->side, i, &weight);
    claim(status == TCR_OK, "the load of a lash that was placed: %s", tcr_status_text(status));
    const tcr_load *load = &weight.load;
    const double numbers[] = {
        load->natural_mass_mg,     load->extension_mass_mg, load->mass_ratio,
        load->natural_moment_uNmm, load->root_moment_uNmm,  weight.shift_length_mm,
        weight.droop_thicker_mm,   weight.droop_thinner_mm, weight.droop_what_if_mm};
    tcr_claim_finite("load", numbers, sizeof numbers / sizeof numbers[0]);
    claim(!isnan(load->moment_ratio), "moments %.17g and %.17g", load->root_moment_uNmm,
          load->natural_moment_uNmm);
}

static void claim_deviation(const tcr_check *check, const tcr_lash_result *r) {
    const double numbers[] = {r->line_mm, r->deviation_mm, r->across_mm};
    const double tolerance = tcr_set_tolerance(tcr_check_set(check));
    tcr_claim_finite("deviation", numbers, 3);
    claim(fabs(r->line_mm + r->deviation_mm - r->seen.y) <= ROUNDING, "%.17g + %.17g is not %.17g",
          r->line_mm, r->deviation_mm, r->seen.y);
    claim(fabs(r->across_mm) <= fabs(r->deviation_mm), "across %.17g, upright %.17g", r->across_mm,
          r->deviation_mm);
    claim(r->staggered == (fabs(r->deviation_mm) > tolerance), "%d at %.17g", (int)r->staggered,
          r->deviation_mm);
    if (!r->staggered)
        return;
    claim(isfinite(r->remedy.length_mm) && fabs(r->remedy.deviation_mm) <= fabs(r->deviation_mm),
          "%.17g mm brings %.17g to %.17g", r->remedy.length_mm, r->deviation_mm,
          r->remedy.deviation_mm);
}

static void claim_lash(const tcr_check *check, const tcr_eye_result *eye, size_t i) {
    const tcr_lash_result *r = &eye->lash[i];
    const tcr_status line =
        tcr_check_against(check) == TCR_FITTED ? eye->fitted_status : eye->intended_status;
    claim_finite(r->stance);
    claim_finite(r->tip);
    claim_finite(r->seen);
    if (r->status != TCR_OK) {
        claim(r->status == TCR_E_BARE || r->status == TCR_E_BARE_BY_ROW || r->status == TCR_E_BOND,
              "bare: %s", tcr_status_text(r->status));
        return;
    }
    claim_finite(r->attachment);
    claim(isfinite(r->choice.length_mm), "length %g", r->choice.length_mm);
    claim_load(check, eye, i);
    if (line == TCR_OK)
        claim_deviation(check, r);
}

static void claim_offsets(const double offset_mm[TCR_LAYERS]) {
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        claim(!isinf(offset_mm[layer]), "offset of layer %d is %g", layer, offset_mm[layer]);
}

static void claim_evenness(const tcr_line *line, const tcr_evenness *evenness) {
    claim_finite(*line);
    claim_finite(evenness->upright);
    claim_finite(evenness->across);
    claim(evenness->within_tolerance >= 0.0 && evenness->within_tolerance <= 1.0,
          "share within is %.17g", evenness->within_tolerance);
    claim(evenness->upright.rms_mm <= evenness->upright.max_abs_mm + ROUNDING,
          "rms %.17g, largest %.17g", evenness->upright.rms_mm, evenness->upright.max_abs_mm);
    claim_offsets(evenness->layer_offset_mm);
}

static void claim_eye(const tcr_check *check, const tcr_eye_result *eye) {
    size_t extended = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        claim_lash(check, eye, i);
        extended += eye->lash[i].status == TCR_OK;
    }
    claim(eye->extended == extended, "%zu of %zu carry an extension", eye->extended, extended);
    claim(eye->fitted_status == TCR_OK || eye->fitted_status == TCR_E_FEW ||
              eye->fitted_status == TCR_E_ONE_X,
          "no fitted line: %s", tcr_status_text(eye->fitted_status));
    if (eye->fitted_status == TCR_OK)
        claim_evenness(&eye->fitted_line, &eye->fitted);
    if (eye->intended_status == TCR_OK)
        claim_evenness(&eye->intended_line, &eye->intended);
    for (int view = 0; view < TCR_VIEWS; view++)
        if (eye->view_status[view] == TCR_OK)
            claim_offsets(eye->view_offset_mm[view]);
    claim(extended < 2 || (isfinite(eye->largest_gap_mm) && eye->largest_gap_mm >= 0.0),
          "the largest gap of %zu is %g", extended, eye->largest_gap_mm);
    for (size_t i = 0; i < eye->assumptions; i++)
        claim(!isinf(eye->assumption[i].per_unit), "assumption %zu moves %g", i,
              eye->assumption[i].per_unit);
}

void tcr_claim_check(const tcr_check *check) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        if (eye != NULL)
            claim_eye(check, eye);
    }
    tcr_symmetry symmetry;
    tcr_mark(&symmetry, sizeof symmetry);
    const tcr_status status = tcr_check_symmetry(check, &symmetry);
    tcr_claim_untouched("tcr_check_symmetry", status, &symmetry, sizeof symmetry);
    if (status == TCR_OK)
        claim_finite(symmetry);
}

/* ---- Why ------------------------------------------------------------------------------------- */

void tcr_claim_why(const tcr_check *check) {
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_why why;
        tcr_mark(&why, sizeof why);
        const tcr_status status = tcr_why_of(check, (tcr_side)side, &why);
        tcr_claim_untouched("tcr_why_of", status, &why, sizeof why);
        claim(status != TCR_E_NO_CONVERGENCE, "why: %s", tcr_status_text(status));
        if (status != TCR_OK)
            continue;
        double sum = 0.0;
        tcr_claim_finite("mean squares", why.mean_square_mm2, TCR_COMBINATIONS);
        claim_finite(why.cause);
        claim_finite(why.layering);
        claim_finite(why.layers.equal_rms_mm);
        for (int c = 0; c < TCR_CAUSES; c++)
            sum += why.cause[c].shapley_mm2;
        const double whole = why.mean_square_mm2[TCR_COMBINATIONS - 1];
        const double bare = why.mean_square_mm2[0];
        claim(fabs(sum - (whole - bare)) <= ROUNDING * (1.0 + whole + bare),
              "the causes sum to %.17g, not %.17g", sum, whole - bare);
    }
}

/* ---- Reports --------------------------------------------------------------------------------- */

/* A report is written, or there was no memory for it. */
static tcr_status claim_written(const char *report, tcr_status status) {
    claim(status == TCR_OK || status == TCR_E_MEMORY, "%s: %s", report, tcr_status_text(status));
    return status;
}

static tcr_status write_json(const tcr_check *check, const char *digest) {
    tcr_json_sink json = {0};
    const tcr_status status = tcr_report_json(check, digest, tcr_json_sink_take, &json);
    if (claim_written("JSON", status) == TCR_OK)
        tcr_json_sink_end(&json);
    return status;
}

static tcr_status write_csv(const tcr_check *check) {
    tcr_csv_sink csv = {0};
    const tcr_status status = tcr_report_csv(check, NULL, tcr_csv_sink_take, &csv);
    if (claim_written("CSV", status) == TCR_OK)
        tcr_csv_sink_end(&csv);
    return status;
}

static tcr_status write_table(const tcr_check *check) {
    tcr_table_sink table = {0};
    const tcr_status status = tcr_report_table(check, NULL, tcr_table_sink_take, &table);
    if (claim_written("table", status) == TCR_OK)
        tcr_table_sink_end(&table);
    return status;
}

static tcr_status write_why(const tcr_check *check, const char *digest) {
    tcr_json_sink json = {0};
    tcr_status status = tcr_report_why_json(check, digest, tcr_json_sink_take, &json);
    if (claim_written("why, JSON", status) == TCR_OK)
        tcr_json_sink_end(&json);
    for (int full = 0; full < 2 && status == TCR_OK; full++) {
        tcr_table_sink table = {0};
        status = tcr_report_why_table(check, full != 0, tcr_table_sink_take, &table);
        if (claim_written("why, table", status) == TCR_OK)
            tcr_table_sink_end(&table);
    }
    return status;
}

static tcr_status write_step(const tcr_set *set, const char *digest) {
    tcr_json_sink json = {0};
    tcr_table_sink table = {0};
    tcr_status status = tcr_report_step_json(set, NULL, digest, tcr_json_sink_take, &json);
    if (claim_written("step, JSON", status) == TCR_OK) {
        tcr_json_sink_end(&json);
        status = tcr_report_step_table(set, NULL, tcr_table_sink_take, &table);
    }
    if (claim_written("step, table", status) == TCR_OK)
        tcr_table_sink_end(&table);
    return status;
}

tcr_status tcr_claim_all(tcr_check *check, const char *digest) {
    const bool small = tcr_lashes_of(tcr_check_set(check)) <= TCR_FUZZ_WHY_MAX;
    tcr_claim_check(check);
    tcr_status status = write_json(check, digest);
    if (status == TCR_OK)
        status = write_csv(check);
    if (status == TCR_OK)
        status = write_table(check);
    if (status == TCR_OK && small) {
        tcr_claim_why(check);
        status = write_why(check, digest);
    }
    if (status == TCR_OK && small)
        status = write_step(tcr_check_set(check), digest);
    if (status == TCR_OK && small)
        status = tcr_claim_plan(check);
    tcr_check_free(check);
    return status;
}

/* ---- Steps ----------------------------------------------------------------------------------- */

static void claim_sensitivity(const tcr_set *set, const tcr_step_question *question) {
    tcr_sensitivity sensitivity;
    tcr_mark(&sensitivity, sizeof sensitivity);
    const tcr_status status = tcr_step_sensitivity(set, question, &sensitivity);
    tcr_claim_untouched("tcr_step_sensitivity", status, &sensitivity, sizeof sensitivity);
    if (status == TCR_OK)
        claim_finite(sensitivity);
}

/* The two parts of a level step sum to it. */
static void claim_reason(const tcr_set *set, const tcr_step_question *question,
                         const tcr_step *step) {
    tcr_step_reason reason;
    tcr_mark(&reason, sizeof reason);
    const tcr_status status = tcr_step_reason_of(set, question, &reason);
    tcr_claim_untouched("tcr_step_reason_of", status, &reason, sizeof reason);
    if (status != TCR_OK)
        return;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        const double both = reason.by_height_mm[i] + reason.by_placement_mm[i];
        const double less = question->bottom_length_mm - step->length_mm[i];
        claim(isnan(both) || fabs(both - less) < 1e-9, "parts %.17g of a step of %.17g", both,
              less);
    }
}

void tcr_claim_step(const tcr_set *set, const tcr_step_question *question) {
    tcr_step step;
    tcr_mark(&step, sizeof step);
    const tcr_status status = tcr_step_of(set, question, &step);
    tcr_claim_untouched("tcr_step_of", status, &step, sizeof step);
    claim_sensitivity(set, question);
    claim_reason(set, question, &step);
    if (status != TCR_OK)
        return;
    tcr_tray of = {.count = 0}; /* stays so where the tray has nothing of this curl */
    (void)tcr_tray_of(tcr_set_tray(set), tcr_set_curl(set, question->curl)->label,
                      tcr_set_layering(set)->diameter_mm, &of);
    const bool tray = of.count > 0, none = tcr_set_tray(set)->count > 0 && !tray;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (!none && (tray || step.status[i] == TCR_OK)) {
            tcr_claim_finite("nearest size", &step.tray_mm[i], 1);
            tcr_claim_finite("left over", &step.left_over_mm[i], 1);
            tcr_claim_finite("shows from", &step.shows_from_mm[i], 1);
        }
        claim(
            step.status[i] == TCR_E_RANGE ||
                (step.status[i] == TCR_OK && step.length_mm[i] >= 3.0 && step.length_mm[i] <= 30.0),
            "level length %.17g: %s", step.length_mm[i], tcr_status_text(step.status[i]));
    }
}
