/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON report, read back with jansson. Expected numbers are the check's own, so each must come
 * back as the same double; those that the report computes are computed here a second time.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>

#include "file/read_report.h"
#include "file/sample.h"

static const char *const SIDES[] = {"left", "right"};
static const char *const LAYERS[] = {"bottom", "middle", "top"};
static const char *const CONDITIONS[] = {"suitable", "baby", "stray", "weak", "shedding"};
static const char *const PLACEMENTS[] = {"top", "underside", "inner-side", "outer-side"};

static json_t *report_of(const tcr_check *check, const char *digest) {
    text written = {0};
    expect_status(tcr_report_json(check, digest, keep_text, &written), TCR_OK);
    return read_report(&written);
}

static void expect_point(const json_t *lash, const char *key, tcr_vec3 expected) {
    const json_t *point = get(lash, key);
    given("member %s", key);
    expect_count(json_array_size(point), 3);
    const double numbers[] = {expected.x, expected.y, expected.z};
    for (size_t i = 0; i < 3; i++)
        expect_same(json_number_value(json_array_get(point, i)), numbers[i], "as above");
}

static void expect_extension(const json_t *lash, const tcr_set *set, const tcr_choice *choice) {
    const json_t *ext = get(lash, "extension");
    expect_names(ext, "length_mm curl diameter_mm placement fan spread_deg");
    expect_member(ext, "length_mm", choice->length_mm);
    expect_text(get_text(ext, "curl"), tcr_set_curl(set, choice->curl)->label);
    expect_member(ext, "diameter_mm", choice->diameter_mm);
    expect_text(get_text(ext, "placement"), PLACEMENTS[choice->placement]);
    expect_whole(ext, "fan", (size_t)choice->fan);
    expect_near(json_number_value(get(ext, "spread_deg")), choice->spread_rad / tcr_degrees(1),
                1e-12, "degrees are rounded to 12 digits where that reads back");
}

/* Source: tcr_weight_of, of the stance that the check has, seen from where the check looks. */
static void expect_load(const json_t *lash, const tcr_check *check, const tcr_lash *natural,
                        const tcr_lash_result *result) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_extension ext = tcr_set_extension(set, &result->choice);
    const tcr_bond bond = tcr_set_bond_of(set, &result->choice);
    const json_t *found = get(lash, "load");
    tcr_weight_options options = tcr_weight_options_default();
    tcr_weight weight;
    options.viewer_rad = tcr_check_view(check).viewer_rad;
    expect_status(tcr_weight_of(natural, &result->stance, &ext, &bond, &options, &weight), TCR_OK);
    const tcr_load load = weight.load;
    expect_names(found, "extension_mass_mg natural_mass_mg mass_ratio root_moment_uNmm "
                        "natural_moment_uNmm moment_ratio droop_mm shift_mm droop_thicker_mm "
                        "droop_thinner_mm droop_blink_mm droop_what_if_mm linear");
    expect_member(found, "extension_mass_mg", load.extension_mass_mg);
    expect_member(found, "natural_mass_mg", load.natural_mass_mg);
    expect_member(found, "mass_ratio", load.mass_ratio);
    expect_member(found, "root_moment_uNmm", load.root_moment_uNmm);
    expect_member(found, "natural_moment_uNmm", load.natural_moment_uNmm);
    expect_member(found, "moment_ratio", load.moment_ratio);
    expect_member(found, "droop_mm", weight.droop_mm);
    expect_member(found, "shift_mm", weight.shift_length_mm);
    expect_member(found, "droop_thicker_mm", weight.droop_thicker_mm);
    expect_member(found, "droop_thinner_mm", weight.droop_thinner_mm);
    expect_member(found, "droop_blink_mm", weight.droop_blink_mm);
    expect_member(found, "droop_what_if_mm", weight.droop_what_if_mm);
    expect_true(json_is_true(get(found, "linear")) == weight.is_linear);
}

static void expect_lash(const json_t *lash, const tcr_check *check, const tcr_eye_result *eye,
                        size_t i) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash *natural = tcr_set_lash(set, eye->side, i);
    const tcr_lash_result *result = &eye->lash[i];
    const bool is_bare = result->status != TCR_OK;
    expect_names(lash, is_bare
                           ? "id layer u condition extension root_mm tip_mm line_mm deviation_mm "
                             "across_mm staggered reason"
                       : result->staggered
                           ? "id layer u condition extension root_mm tip_mm line_mm deviation_mm "
                             "across_mm staggered remedy load"
                           : "id layer u condition extension root_mm tip_mm line_mm deviation_mm "
                             "across_mm staggered load");
    expect_text(get_text(lash, "id"), tcr_set_id(set, eye->side, i));
    expect_text(get_text(lash, "layer"), LAYERS[natural->layer]);
    expect_text(get_text(lash, "condition"), CONDITIONS[natural->condition]);
    expect_member(lash, "u", natural->u);
    expect_point(lash, "root_mm", result->stance.root);
    expect_point(lash, "tip_mm", result->tip);
    expect_member(lash, "line_mm", is_bare ? NAN : result->line_mm);
    expect_member(lash, "deviation_mm", is_bare ? NAN : result->deviation_mm);
    expect_member(lash, "across_mm", is_bare ? NAN : result->across_mm);
    expect_flag(lash, "staggered", !is_bare && result->staggered);
    if (is_bare) {
        expect_true(json_is_null(get(lash, "extension")));
        expect_true(strlen(get_text(lash, "reason")) > 0);
        return;
    }
    expect_extension(lash, set, &result->choice);
    expect_load(lash, check, natural, result);
    if (result->staggered) {
        const json_t *remedy = get(lash, "remedy");
        expect_names(remedy, "length_mm deviation_mm sizes");
        expect_member(remedy, "length_mm", result->remedy.length_mm);
        expect_member(remedy, "deviation_mm", result->remedy.deviation_mm);
        expect_count(json_integer_value(get(remedy, "sizes")), result->remedy.sizes);
    }
}

static void expect_offsets(const json_t *offsets, const double expected_mm[TCR_LAYERS]) {
    expect_names(offsets, "bottom middle top");
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        expect_member(offsets, LAYERS[layer], expected_mm[layer]);
}

static void expect_evenness(const json_t *found, const tcr_evenness *expected) {
    expect_names(found, "lashes rms_mm mean_abs_mm p95_abs_mm max_abs_mm tolerance_mm "
                        "within_tolerance layer_offset_mm");
    expect_whole(found, "lashes", expected->lashes);
    expect_member(found, "rms_mm", expected->upright.rms_mm);
    expect_member(found, "mean_abs_mm", expected->upright.mean_abs_mm);
    expect_member(found, "p95_abs_mm", expected->upright.p95_abs_mm);
    expect_member(found, "max_abs_mm", expected->upright.max_abs_mm);
    expect_member(found, "tolerance_mm", expected->tolerance_mm);
    expect_member(found, "within_tolerance", expected->within_tolerance);
    expect_offsets(get(found, "layer_offset_mm"), expected->layer_offset_mm);
}

static void expect_eye(const json_t *found, const tcr_check *check, tcr_side side) {
    static const char *const views[] = {"open_front", "closed_front", "artist"};
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    expect_names(found, "side opening viewer_deg against lashes fitted intended largest_gap_mm "
                        "too_few verdict views");
    expect_text(get_text(found, "side"), SIDES[side]);
    expect_member(found, "opening", tcr_check_view(check).opening);
    expect_text(get_text(found, "against"),
                tcr_check_against(check) == TCR_FITTED ? "fitted" : "intended");
    const json_t *lashes = get(found, "lashes");
    expect_count(json_array_size(lashes), eye->lashes);
    for (size_t i = 0; i < eye->lashes; i++)
        expect_lash(json_array_get(lashes, i), check, eye, i);
    expect_evenness(get(found, "fitted"), &eye->fitted);
    expect_evenness(get(found, "intended"), &eye->intended);
    expect_member(found, "largest_gap_mm", eye->largest_gap_mm);
    expect_flag(found, "too_few", eye->too_few);
    expect_text(get_text(found, "verdict"), tcr_verdict_text(eye->verdict));
    expect_names(get(found, "views"), "open_front closed_front artist");
    for (int view = 0; view < TCR_VIEWS; view++) {
        const json_t *seen = get(get(found, "views"), views[view]);
        expect_offsets(get(seen, "layer_offset_mm"), eye->view_offset_mm[view]);
        expect_offsets(get(seen, "shows_from_mm"), eye->view_shows_from_mm[view]);
    }
}

/* ---- Claims ------------------------------------------------------------------------ */

static void expect_whole_report(tcr_against against) {
    tcr_set *set = new_sample();
    tcr_check_options options = tcr_check_options_default();
    options.against = against;
    tcr_check *check = new_check(set, &options);
    json_t *root = report_of(check, "sha256:00");
    expect_names(root,
                 "tipcrest command input_digest title assumptions doubts drawn eyes symmetry");
    expect_names(get(root, "tipcrest"), "version format");
    expect_text(get_text(get(root, "tipcrest"), "version"), tcr_version());
    expect_whole(get(root, "tipcrest"), "format", 1); /* interface.md */
    expect_text(get_text(root, "command"), "check");
    expect_text(get_text(root, "input_digest"), "sha256:00");
    expect_text(get_text(root, "title"), SAMPLE_TITLE);
    expect_count(json_array_size(get(root, "eyes")), 2);
    for (size_t side = 0; side < 2; side++)
        expect_eye(json_array_get(get(root, "eyes"), side), check, (tcr_side)side);
    tcr_symmetry symmetry;
    expect_status(tcr_check_symmetry(check, &symmetry), TCR_OK);
    const json_t *found = get(root, "symmetry");
    expect_names(found, "rms_mm max_mm level_rms_mm level_max_mm verdict");
    expect_member(found, "rms_mm", symmetry.rms_mm);
    expect_member(found, "max_mm", symmetry.max_mm);
    expect_member(found, "level_rms_mm", symmetry.level_rms_mm);
    expect_member(found, "level_max_mm", symmetry.level_max_mm);
    const tcr_likeness likeness = tcr_likeness_of(&symmetry, tcr_check_tolerance(check));
    expect_text(get_text(found, "verdict"), tcr_likeness_text(likeness));
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(every_member_is_the_checks_own_against_the_fitted_line) { expect_whole_report(TCR_FITTED); }

CLAIM(every_member_is_the_checks_own_against_the_intended_line) {
    expect_whole_report(TCR_INTENDED);
}

CLAIM(the_sample_has_a_bit_of_everything) {
    /* Else the two claims above would say little. */
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    size_t reasons[TCR_E_NO_CONVERGENCE + 1] = {0};
    for (size_t i = 0; i < eye->lashes; i++)
        reasons[eye->lash[i].status]++;
    expect_true(reasons[TCR_OK] > 50 && reasons[TCR_E_BARE] > 0);
    expect_true(reasons[TCR_E_BARE_BY_ROW] > 0 && reasons[TCR_E_BOND] > 0);
    expect_true(eye->staggered > 0 && eye->staggered < eye->extended);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(each_reason_for_a_bare_lash_is_told_apart) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    json_t *root = report_of(check, NULL);
    const json_t *lashes = get(json_array_get(get(root, "eyes"), 0), "lashes");
    /* In the order in which add_lashes makes them; the words are this project's own. */
    const char *const expected[] = {"baby lash",
                                    "stray lash",
                                    "weak lash",
                                    "shedding lash",
                                    "its row asks for none",
                                    "less than 1 mm of lash to bond to"};
    for (size_t i = 0; i < 6; i++)
        expect_text(get_text(json_array_get(lashes, i + 1), "reason"), expected[i]);
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(angles_come_back_as_they_were_written) {
    tcr_set *set = new_small(3);
    tcr_check_options options = tcr_check_options_default();
    options.has_view = true;
    for (int tenth = -800; tenth <= 800; tenth++) {
        const double written = tenth / 10.0;
        options.view = (tcr_view){1.0, tcr_degrees(written)};
        tcr_check *check = new_check(set, &options);
        json_t *root = report_of(check, NULL);
        const json_t *eye = json_array_get(get(root, "eyes"), 0);
        given("%.1f degrees", written);
        expect_same(json_number_value(get(eye, "viewer_deg")), written, "round trip by radians");
        json_decref(root);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(angles_of_many_digits_come_back_within_rounding) {
    tcr_set *set = new_small(3);
    tcr_check_options options = tcr_check_options_default();
    options.has_view = true;
    const double angles[] = {1e-300, -1e-20, 1.0 / 3.0, 0.1 + 0.2, 1.234567890123456, -1.3};
    for (size_t i = 0; i < sizeof angles / sizeof *angles; i++) {
        options.view = (tcr_view){0.5, angles[i]};
        tcr_check *check = new_check(set, &options);
        json_t *root = report_of(check, NULL);
        const double degrees =
            json_number_value(get(json_array_get(get(root, "eyes"), 0), "viewer_deg"));
        expect_near(tcr_degrees(degrees) / angles[i], 1.0, 4e-16, "two roundings");
        json_decref(root);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(assumptions_are_summed_over_both_eyes) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    const tcr_eye_result *left = tcr_check_eye(check, TCR_LEFT);
    const tcr_eye_result *right = tcr_check_eye(check, TCR_RIGHT);
    json_t *root = report_of(check, NULL);
    const json_t *assumptions = get(root, "assumptions");
    /* All but turn and length, which the sample gives, and what does not move a tip. */
    const char *const expected[] = {"height_mm", "pitch_deg",        "yaw_deg",
                                    "roll_deg",  "root_diameter_mm", "tip_diameter_mm"};
    expect_count(json_array_size(assumptions), 6);
    expect_count(left->assumptions, 6);
    for (size_t i = 0; i < 6; i++) {
        const json_t *found = json_array_get(assumptions, i);
        const bool is_angle = strstr(expected[i], "_deg") != NULL;
        const double n = (double)left->extended, m = (double)right->extended;
        const double mean =
            (left->assumption[i].per_unit * n + right->assumption[i].per_unit * m) / (n + m);
        expect_names(found, "what count mm_per_unit");
        expect_text(get_text(found, "what"), expected[i]);
        expect_whole(found, "count", left->assumption[i].count + right->assumption[i].count);
        expect_near(json_number_value(get(found, "mm_per_unit")),
                    is_angle ? mean * tcr_degrees(1) : mean, 1e-15, "rounding of a mean below 2");
    }
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* The one eye of a small set's report. */
static json_t *small_report(size_t carrying) {
    tcr_set *set = new_small(carrying);
    tcr_check *check = new_check(set, NULL);
    json_t *root = report_of(check, NULL);
    tcr_check_free(check);
    tcr_set_free(set);
    return root;
}

CLAIM(where_there_is_no_line_null_stands_with_the_reason) {
    const struct {
        size_t carrying;
        const char *fitted, *intended; /* reasons, NULL where there is a line */
    } cases[] = {
        {0, "no lash carries an extension", "no lash carries an extension"},
        {1, "fewer than three lashes carry an extension", NULL},
        {2, "fewer than three lashes carry an extension", NULL},
        {3, NULL, NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        json_t *root = small_report(cases[i].carrying);
        const json_t *eye = json_array_get(get(root, "eyes"), 0);
        const json_t *lash = json_array_get(get(eye, "lashes"), 2);
        given("%zu lashes with an extension", cases[i].carrying);
        expect_count(json_is_null(get(eye, "fitted")), cases[i].fitted != NULL);
        expect_count(json_is_null(get(eye, "intended")), cases[i].intended != NULL);
        if (cases[i].fitted != NULL) {
            expect_text(get_text(eye, "fitted_reason"), cases[i].fitted);
            expect_true(json_is_null(get(get(get(eye, "views"), "artist"), "layer_offset_mm")));
            expect_true(lash == NULL || json_is_null(get(lash, "deviation_mm")));
        } else {
            expect_true(json_object_get(eye, "fitted_reason") == NULL);
        }
        if (cases[i].intended != NULL)
            expect_text(get_text(eye, "intended_reason"), cases[i].intended);
        expect_count(json_is_null(get(eye, "largest_gap_mm")), cases[i].carrying < 2);
        expect_flag(eye, "too_few", true);
        json_decref(root);
    }
}

CLAIM(what_was_not_given_is_null_and_one_eye_has_no_symmetry) {
    json_t *root = small_report(14);
    expect_names(root, "tipcrest command input_digest title assumptions doubts drawn eyes");
    expect_true(json_is_null(get(root, "title")));
    expect_true(json_is_null(get(root, "input_digest")));
    expect_flag(json_array_get(get(root, "eyes"), 0), "too_few", false);
    json_decref(root);
}

CLAIM(lines_that_share_no_range_have_no_symmetry) {
    tcr_set *set = new_set("");
    for (int side = 0; side < TCR_SIDES; side++) {
        add_eye(set, (tcr_side)side);
        for (int i = 0; i < 5; i++) {
            char id[16];
            snprintf(id, sizeof id, "c%d", i);
            const tcr_lash lash =
                tcr_lash_unknown((side == TCR_LEFT ? 0.05 : 0.8) + 0.03 * i, TCR_BOTTOM);
            add_lash(set, (tcr_side)side, id, &lash, NULL);
        }
    }
    tcr_check *check = new_check(set, NULL);
    json_t *root = report_of(check, NULL);
    expect_true(json_is_null(get(root, "symmetry")));
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(lashes_drawn_by_chance_are_counted_of_all) {
    tcr_set *set = new_set("");
    tcr_description d = tcr_description_default();
    const tcr_lash own = tcr_lash_unknown(0.5, TCR_TOP);
    d.count = 20;
    add_eye(set, TCR_RIGHT);
    expect_status(tcr_set_describe(set, TCR_RIGHT, &d), TCR_OK);
    add_lash(set, TCR_RIGHT, "own", &own, NULL);
    expect_status(tcr_set_mark_drawn(set, TCR_RIGHT, 20), TCR_OK);
    tcr_check *check = new_check(set, NULL);
    json_t *root = report_of(check, NULL);
    expect_count(json_array_size(get(root, "drawn")), 1);
    const json_t *drawn = json_array_get(get(root, "drawn"), 0);
    expect_text(get_text(drawn, "side"), "right");
    expect_whole(drawn, "count", 20);
    expect_whole(drawn, "lashes", 21);
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(what_lies_beyond_16_bits_is_escaped_by_a_pair) {
    /* U+E0001 and U+E007F, a tag and the last of them, by hand from RFC 8259, section 7. */
    tcr_set *set = new_small(0);
    expect_status(tcr_set_put_title(set, "\xf3\xa0\x80\x81 \xf3\xa0\x81\xbf"), TCR_OK);
    tcr_check *check = new_check(set, NULL);
    text written = {0};
    expect_status(tcr_report_json(check, NULL, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "\"\\udb40\\udc01 \\udb40\\udc7f\"") != NULL);
    free(written.bytes);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_sink_that_stops_is_not_called_again) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    for (size_t at = 1; at <= 3; at++) {
        text written = {.fail_at = at};
        expect_status(tcr_report_json(check, NULL, keep_text, &written), TCR_E_WRITE);
        expect_count(written.calls, at);
        free(written.bytes);
    }
    text rows = {.fail_at = 1}, table = {.fail_at = 1};
    expect_status(tcr_report_csv(check, NULL, keep_text, &rows), TCR_E_WRITE);
    expect_count(rows.calls, 1);
    expect_status(tcr_report_table(check, NULL, keep_text, &table), TCR_E_WRITE);
    expect_count(table.calls, 1);
    expect_status(tcr_report_csv(NULL, NULL, keep_text, &rows), TCR_E_ARGUMENT);
    expect_status(tcr_report_csv(check, NULL, NULL, &rows), TCR_E_ARGUMENT);
    expect_status(tcr_report_table(NULL, NULL, keep_text, &table), TCR_E_ARGUMENT);
    expect_status(tcr_report_table(check, NULL, NULL, &table), TCR_E_ARGUMENT);
    expect_status(tcr_report_json(NULL, NULL, keep_text, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_json(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &every_member_is_the_checks_own_against_the_fitted_line,
        &every_member_is_the_checks_own_against_the_intended_line,
        &the_sample_has_a_bit_of_everything,
        &each_reason_for_a_bare_lash_is_told_apart,
        &angles_come_back_as_they_were_written,
        &angles_of_many_digits_come_back_within_rounding,
        &assumptions_are_summed_over_both_eyes,
        &where_there_is_no_line_null_stands_with_the_reason,
        &what_was_not_given_is_null_and_one_eye_has_no_symmetry,
        &lines_that_share_no_range_have_no_symmetry,
        &what_lies_beyond_16_bits_is_escaped_by_a_pair,
        &a_sink_that_stops_is_not_called_again,
        &lashes_drawn_by_chance_are_counted_of_all,
    };
    return RUN_CLAIMS("report", claims);
}
