/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON report of a plan. Its members, their order and where null stands are fixed by
 * schema/plan.schema.json.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/envelope.h"
#include "file/report_plan.h"
#include "num/range.h"

static void write_limits(tcr_json *json, const tcr_limits *limits) {
    tcr_json_object(json, "limits");
    tcr_json_in_line(json);
    tcr_json_number(json, "baby_below_mm", limits->baby_below_mm);
    tcr_json_number(json, "thin_below_mm", limits->thin_below_mm);
    tcr_json_number(json, "stray_above_mm", limits->stray_above_mm);
    tcr_json_number(json, "out_of_fan_deg", tcr_degrees_of(limits->out_of_fan_rad));
    tcr_json_number(json, "overlength_mm", limits->overlength_mm);
    tcr_json_number(json, "mass_ratio", limits->mass_ratio);
    tcr_json_number(json, "moment_ratio", limits->moment_ratio);
    tcr_json_end(json);
}

static void write_symmetry(tcr_json *json, const char *key, const tcr_check *check) {
    tcr_symmetry symmetry;
    if (tcr_check_symmetry(check, &symmetry) != TCR_OK) {
        tcr_json_null(json, key);
        return;
    }
    tcr_json_object(json, key);
    tcr_json_in_line(json);
    tcr_json_number(json, "rms_mm", symmetry.rms_mm);
    tcr_json_number(json, "max_mm", symmetry.max_mm);
    tcr_json_number(json, "level_rms_mm", symmetry.level_rms_mm);
    tcr_json_number(json, "level_max_mm", symmetry.level_max_mm);
    tcr_json_end(json);
}

static void write_curve(tcr_json *json, const tcr_plan_result *r) {
    tcr_json_array(json, "curve");
    for (size_t i = 0; i < r->points && json->writer->status == TCR_OK; i++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_count(json, "corrections", r->point[i].corrections);
        tcr_json_number(json, "rms_mm", r->point[i].rms_mm);
        tcr_json_number(json, "p95_abs_mm", r->point[i].p95_mm);
        tcr_json_number(json, "max_abs_mm", r->point[i].max_mm);
        tcr_json_number(json, "within_tolerance", r->point[i].within_tolerance);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

/* The placement of each layer that costs it least, and what that comes to. */
static void write_placed(tcr_json *json, const tcr_plan_result *r) {
    tcr_json_object(json, "layer_placement");
    tcr_json_in_line(json);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        tcr_json_text(json, tcr_word(&tcr_words_layer, layer),
                      tcr_word(&tcr_words_placement, (int)r->layer_placement[layer]));
    tcr_json_end(json);
    tcr_json_number(json, "by_layer_mm", r->by_layer_mm);
    tcr_json_number(json, "by_zone_mm", r->by_zone_mm);
}

static void write_plan(tcr_json *json, const tcr_plan *plan, const tcr_check *before,
                       const tcr_check *after) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_options *o = tcr_plan_options_of(plan);
    const bool maximum = o->objective == TCR_LEAST_MAXIMUM;
    tcr_json_object(json, "plan");
    tcr_json_text(json, "least", maximum ? "max" : "rms");
    tcr_json_number(json, "free_mm", o->free_mm);
    tcr_json_number(json, "shift_mm", r->shift_mm);
    tcr_json_number(json, "tilt_deg", tcr_degrees_of(atan(r->tilt)));
    tcr_json_number(json, "moved_inner_mm", r->shift_mm + r->tilt * r->end_mm[0]);
    tcr_json_number(json, "moved_outer_mm", r->shift_mm + r->tilt * r->end_mm[1]);
    tcr_json_count(json, "lashes", r->planned);
    tcr_json_number(json, "as_is_rms_mm", tcr_plan_as_is(plan, before).rms_mm);
    tcr_json_number(json, "rms_mm", r->rms_mm);
    tcr_json_number(json, "max_abs_mm", r->max_mm);
    tcr_json_number(json, "bound_mm", r->bound_mm);
    tcr_json_bool(json, "proved", r->proved);
    tcr_json_bool(json, "stopped", r->stopped);
    tcr_json_bool(json, "at_limit", r->at_limit);
    tcr_json_count(json, "samples_wanted", o->samples);
    tcr_json_count(json, "samples", r->samples);
    tcr_json_number(json, "expected_rms_mm", r->expected_rms_mm);
    tcr_json_number(json, "samples_share", o->samples_share);
    tcr_json_number(json, "samples_max_mm", r->samples_max_mm);
    tcr_json_number(json, "client_p5_rms_mm", r->client_rms_mm[0]);
    tcr_json_number(json, "client_p95_rms_mm", r->client_rms_mm[1]);
    tcr_json_number(json, "clients_nearer_as_mapped", r->clients_nearer_as_mapped);
    tcr_json_bool(json, "same_placement", o->same_placement);
    write_placed(json, r);
    tcr_json_count(json, "corrections", r->corrections);
    tcr_json_bool(json, "enough_within", r->enough_within);
    write_limits(json, &o->limits);
    write_symmetry(json, "symmetry_before", before);
    write_symmetry(json, "symmetry_after", after);
    write_curve(json, r);
    tcr_json_end(json);
}

static void write_lash(tcr_json *json, const tcr_set *set, tcr_side side, const tcr_plan_lash *lash,
                       size_t i) {
    tcr_json_object(json, NULL);
    tcr_json_in_line(json);
    tcr_json_text(json, "id", tcr_set_id(set, side, i));
    tcr_json_text(json, "use", tcr_word(&tcr_words_use, (int)lash->use));
    tcr_json_bool(json, "corrected", lash->corrected);
    if (lash->use == TCR_USED || lash->use == TCR_USED_BY_ROW)
        tcr_json_extension(json, "extension", set, &lash->choice);
    else
        tcr_json_null(json, "extension");
    tcr_json_number(json, "deviation_mm", lash->deviation_mm);
    tcr_json_number(json, "zone_deviation_mm", lash->zone_deviation_mm);
    if (!isnan(lash->better_mm))
        tcr_json_extension(json, "better", set, &lash->better);
    else
        tcr_json_null(json, "better");
    tcr_json_number(json, "better_mm", lash->better_mm);
    tcr_json_end(json);
}

/* The map that is planned for. */
static void write_map(tcr_json *json, const tcr_set *set, tcr_side side) {
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, side, &zones);
    tcr_json_array(json, "map");
    for (size_t z = 0; z < zones; z++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_number(json, "to", map[z].to);
        tcr_json_number(json, "length_mm", map[z].length_mm);
        tcr_json_text(json, "curl", map[z].curl);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

static void write_wanting(tcr_json *json, const char *key, const tcr_plan_wanting *w) {
    static const struct {
        const char *apart, *in_sd;
        bool angle;
    } TRAITS[TCR_TRAITS] = {
        [TCR_TRAIT_HEIGHT] = {"height_mm", "height_in_sd", false},
        [TCR_TRAIT_PITCH] = {"pitch_deg", "pitch_in_sd", true},
        [TCR_TRAIT_LENGTH] = {"length_mm", "length_in_sd", false},
        [TCR_TRAIT_TURN] = {"turn_deg", "turn_in_sd", true},
    };
    tcr_json_object(json, key);
    tcr_json_in_line(json);
    tcr_json_number(json, "share", w->share);
    for (int k = 0; k < TCR_TRAITS; k++) {
        tcr_json_number(json, TRAITS[k].apart,
                        TRAITS[k].angle ? tcr_degrees_of(w->apart[k]) : w->apart[k]);
        tcr_json_number(json, TRAITS[k].in_sd, w->in_sd[k]);
    }
    tcr_json_end(json);
}

/* What the zones come to over the samples of an eye that nobody measured. */
static void write_over(tcr_json *json, const tcr_plan_eye *eye) {
    const tcr_plan_over *over = &eye->over;
    tcr_json_bool(json, "zones_only", eye->zones_only);
    if (!eye->zones_only) {
        tcr_json_null(json, "over_samples");
        return;
    }
    tcr_json_object(json, "over_samples");
    tcr_json_number(json, "rms_mm", over->rms_mm);
    tcr_json_number(json, "p95_abs_mm", over->p95_mm);
    tcr_json_number(json, "max_abs_mm", over->max_mm);
    tcr_json_number(json, "within_tolerance", over->within_tolerance);
    tcr_json_number(json, "within_sized", over->within_sized);
    tcr_json_number(json, "mapped_rms_mm", over->mapped_rms_mm);
    tcr_json_number(json, "mapped_within_tolerance", over->mapped_within);
    tcr_json_number(json, "mapped_beyond_limits", over->mapped_beyond);
    tcr_json_number(json, "mapped_not_at_hand", over->mapped_lacking);
    write_wanting(json, "wants_longer", &over->wants[TCR_WANTS_LONGER]);
    write_wanting(json, "wants_shorter", &over->wants[TCR_WANTS_SHORTER]);
    tcr_json_end(json);
}

static void write_reach(tcr_json *json, const tcr_plan_reach *reach) {
    tcr_json_object(json, "reach");
    tcr_json_number(json, "asked_mm", reach->asked_mm);
    tcr_json_number(json, "given_mm", reach->given_mm);
    tcr_json_number(json, "lowered_mm", reach->lowered_mm);
    tcr_json_bool(json, "at_hand", reach->at_hand);
    tcr_json_array(json, "limits");
    tcr_json_in_line(json);
    for (int k = 0; tcr_plan_limit_name(k) != NULL; k++)
        if ((reach->limits & 1u << k) != 0)
            tcr_json_text(json, NULL, tcr_plan_limit_name(k));
    tcr_json_end(json);
    tcr_json_end(json);
}

static void write_eye(tcr_json *json, const tcr_plan *plan, const tcr_set *set, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    tcr_json_object(json, NULL);
    tcr_json_text(json, "side", tcr_word(&tcr_words_side, (int)side));
    tcr_json_count(json, "suitable", eye->suitable);
    tcr_json_count(json, "used", eye->used);
    tcr_json_number(json, "gap_mm", eye->gap_mm);
    tcr_json_number(json, "least_gap_mm", eye->least_gap_mm);
    write_reach(json, &eye->reach);
    write_map(json, set, side);
    tcr_json_array(json, "cells");
    for (size_t c = 0; c < r->cells; c++) {
        if (r->cell[c].side != side)
            continue;
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_count(json, "zone", r->cell[c].zone + 1);
        tcr_json_text(json, "layer", tcr_word(&tcr_words_layer, (int)r->cell[c].layer));
        tcr_json_count(json, "lashes", r->cell[c].lashes);
        tcr_json_extension(json, "extension", set, &r->cell[c].choice);
        tcr_json_number(json, "rms_mm", r->cell[c].rms_mm);
        tcr_json_end(json);
    }
    tcr_json_end(json);
    write_over(json, eye);
    tcr_json_array(json, "lashes"); /* nobody's are not planned one by one */
    for (size_t i = 0; i < eye->lashes && !eye->zones_only && json->writer->status == TCR_OK; i++)
        write_lash(json, set, side, &eye->lash[i], i);
    tcr_json_end(json);
    tcr_json_end(json);
}

/* ---- The work ------------------------------------------------------------------------ */

static void write_pace(tcr_json *json, const tcr_plan_pace *pace) {
    const tcr_plan_pace usual = tcr_plan_pace_default();
    const struct {
        const char *name;
        double value, usual;
        bool practice; /* the default is common practice; else it is assumed */
    } members[] = {
        {"setting_s", pace->setting_s, usual.setting_s, false},
        {"distance_mm", pace->distance_mm, usual.distance_mm, false},
        {"lash_s", pace->lash_s, usual.lash_s, true},
        {"change_s", pace->change_s, usual.change_s, false},
        {"eye_change_s", pace->eye_change_s, usual.eye_change_s, false},
        {"preparation_min", pace->preparation_min, usual.preparation_min, false},
        {"loss_share", pace->loss_share, usual.loss_share, false},
        {"drop_min", pace->drop_min, usual.drop_min, true},
    };
    enum { MEMBERS = sizeof members / sizeof *members };
    tcr_json_object(json, "pace");
    for (int i = 0; i < MEMBERS; i++)
        tcr_json_number(json, members[i].name, members[i].value);
    for (int practice = 0; practice < 2; practice++) {
        tcr_json_array(json, practice ? "common_practice" : "assumed");
        tcr_json_in_line(json);
        for (int i = 0; i < MEMBERS; i++)
            if (members[i].value == members[i].usual && members[i].practice == practice)
                tcr_json_text(json, NULL, members[i].name);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

static void write_rows(tcr_json *json, const tcr_set *set, const tcr_plan_work *work) {
    tcr_json_array(json, "rows");
    for (size_t r = 0; r < work->rows && json->writer->status == TCR_OK; r++) {
        const tcr_plan_row *row = &work->row[r];
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_number(json, "length_mm", row->length_mm);
        tcr_json_text(json, "curl", tcr_set_curl(set, row->curl)->label);
        tcr_json_number(json, "diameter_mm", row->diameter_mm);
        tcr_json_count(json, "lashes", row->lashes);
        tcr_json_count(json, "fibres", row->fibres);
        tcr_json_count(json, "with_loss", row->with_loss);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

static void write_work(tcr_json *json, const tcr_plan *plan, const tcr_set *set,
                       const tcr_plan_work *work) {
    tcr_json_object(json, "work");
    tcr_json_text(json, "order", tcr_word(&tcr_words_order, (int)work->order));
    tcr_json_bool(json, "stopped", work->stopped);
    tcr_json_count(json, "still_soft", work->still_soft);
    tcr_json_count(json, "conflicts", work->conflicts);
    tcr_json_count(json, "changes", work->changes);
    tcr_json_count(json, "least_changes", work->least_changes);
    tcr_json_count(json, "eye_changes", work->eye_changes);
    tcr_json_count(json, "lashes", work->lashes);
    tcr_json_count(json, "fibres", work->fibres);
    tcr_json_count(json, "with_loss", work->with_loss);
    tcr_json_number(json, "placing_min", work->placing_min);
    tcr_json_number(json, "minutes", work->minutes);
    tcr_json_count(json, "drops", work->drops);
    tcr_json_count(json, "refreshes", work->refreshes);
    write_pace(json, work->pace);
    write_rows(json, set, work);
    tcr_json_array(json, "sequence");
    for (size_t p = 0; p < work->places && json->writer->status == TCR_OK; p++) {
        const tcr_plan_place *place = &work->place[p];
        if (tcr_plan_eye_of(plan, place->side)->zones_only)
            continue;
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "side", tcr_word(&tcr_words_side, (int)place->side));
        tcr_json_text(json, "id", tcr_set_id(set, place->side, place->lash));
        tcr_json_count(json, "row", place->row + 1);
        tcr_json_end(json);
    }
    tcr_json_end(json);
    tcr_json_end(json);
}

tcr_status tcr_report_plan_json(const tcr_plan *plan, const tcr_plan_work *work,
                                const tcr_check *before, const tcr_check *after, const char *digest,
                                tcr_sink sink, void *context) {
    const tcr_status status = tcr_plan_report_validate(plan, work, before, after, sink);
    if (status != TCR_OK)
        return status;
    const tcr_set *set = tcr_check_set(before);
    tcr_writer writer;
    tcr_json json;
    tcr_writer_begin(&writer, sink, context);
    tcr_json_begin(&json, &writer);
    tcr_json_object(&json, NULL);
    tcr_envelope_of_check(&json, "plan", digest, before);
    write_plan(&json, plan, before, after);
    tcr_json_array(&json, "eyes");
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++)
        write_eye(&json, plan, set, sides[e]);
    tcr_json_end(&json);
    write_work(&json, plan, set, work);
    tcr_json_end(&json);
    return tcr_writer_end(&writer);
}
