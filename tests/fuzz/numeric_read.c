/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read from a set and its check by any side, index and number, and the reports as CSV. */
#include "fuzz/numeric.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/begin.h>
#include <tipcrest/file.h>

#include "fuzz/claim.h"
#include "fuzz/evaluate.h"

/* A side, mostly one that there is. */
static tcr_side any_side(tcr_bytes *bytes) { return (tcr_side)tcr_any_choice(bytes, TCR_SIDES); }

static int count_bytes(void *context, const void *bytes, size_t count) {
    (void)bytes;
    *(size_t *)context += count;
    return 0;
}

static void claim_lash(tcr_bytes *bytes, const tcr_set *set) {
    const tcr_side side = any_side(bytes);
    const size_t i = tcr_any_byte(bytes);
    const bool there = i < tcr_set_lash_count(set, side);
    tcr_lash given;
    tcr_mark(&given, sizeof given);
    const tcr_status status = tcr_set_given_lash(set, side, i, &given);
    tcr_claim_untouched("tcr_set_given_lash", status, &given, sizeof given);
    claim((status == TCR_OK) == there, "lash %zu: %s", i, tcr_status_text(status));
    size_t stride;
    const char *first = (const char *)tcr_set_lashes(set, side, &stride);
    claim(!there || (const char *)tcr_set_lash(set, side, i) == first + i * stride, "lash %zu", i);
    claim(there || tcr_set_assumed(set, side, i) == 0, "lash %zu assumes", i);
    if (there)
        claim(isnan(given.pitch_rad) == ((tcr_set_assumed(set, side, i) & TCR_LASH_PITCH) != 0),
              "pitch %.17g of lash %zu", given.pitch_rad, i);
    const double u = tcr_any_double(bytes);
    size_t zones;
    (void)tcr_set_map(set, side, &zones);
    const size_t zone = tcr_set_zone_at(set, side, u);
    claim(zone == 0 || zone < zones, "zone %zu of %zu", zone, zones);
    const tcr_layer layer = (tcr_layer)tcr_any_choice(bytes, TCR_LAYERS);
    claim(tcr_set_lashes_in(set, side, zone, layer) <= tcr_set_lash_count(set, side), "lashes");
    const tcr_extension ext = tcr_set_intended_extension(set, side, u);
    claim((ext.fan == 1) == (zones > 0), "%zu zones, fan %d", zones, ext.fan);
}

static void claim_eye(tcr_bytes *bytes, const tcr_set *set) {
    const tcr_side side = any_side(bytes);
    const bool there = tcr_set_has_eye(set, side);
    tcr_lid lid;
    tcr_layer_heights heights;
    tcr_line line;
    const tcr_view view = tcr_any_view(bytes);
    tcr_mark(&lid, sizeof lid);
    tcr_mark(&line, sizeof line);
    tcr_status status = tcr_set_given_lid(set, side, &lid);
    tcr_claim_untouched("tcr_set_given_lid", status, &lid, sizeof lid);
    claim(there == (status == TCR_OK), "lid: %s", tcr_status_text(status));
    claim(there || tcr_set_lid_assumed(set, side) == 0, "a lid that is not there");
    status = tcr_layer_heights_of(set, side, &heights);
    claim(there == (status == TCR_OK), "heights: %s", tcr_status_text(status));
    if (there)
        tcr_claim_finite("heights", heights.height_mm, TCR_LAYERS);
    status = tcr_intended_line(set, side, &view, &line);
    tcr_claim_untouched("tcr_intended_line", status, &line, sizeof line);
    claim(status != TCR_E_NO_CONVERGENCE, "an intended line: %s", tcr_status_text(status));
}

/* The extension of any choice, valid or refused, and whether it is beyond limits. */
static void claim_choice(tcr_bytes *bytes, const tcr_set *set) {
    tcr_choice choice = {.length_mm = tcr_any_number(bytes, 3.0, 30.0, 10.0),
                         .curl = tcr_any_byte(bytes),
                         .diameter_mm = tcr_any_number(bytes, 0.02, 0.3, 0.1),
                         .fan = tcr_any_whole(bytes, 1, 20),
                         .placement = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS)};
    choice.moved_out_mm = tcr_any_double(bytes);
    const tcr_extension ext = tcr_set_extension(set, &choice);
    claim(choice.curl < tcr_set_curl_count(set) || tcr_extension_validate(&ext, NULL) != TCR_OK,
          "curl %zu is none of the set's", choice.curl);
    const tcr_bond bond = tcr_set_bond_of(set, &choice);
    claim(bond.offset_mm >= 0.0, "the bond starts at %.17g", bond.offset_mm);
    tcr_limits limits = tcr_limits_default();
    limits.mass_ratio = tcr_any_double(bytes);
    limits.moment_ratio = tcr_any_double(bytes);
    const tcr_stance stance = {
        {0.0, 0.0, 0.0}, {1.0, tcr_any_double(bytes), 0.0}, {0.0, 1.0, 0.0}, {0.0, 0.0, 1.0}};
    const tcr_lash lash = tcr_any_lash(bytes);
    const unsigned beyond = tcr_limits_beyond(&limits, set, &lash, &stance, &choice);
    claim(!(beyond & TCR_BEYOND_BOND) || beyond == TCR_BEYOND_BOND, "beyond %u", beyond);
}

static void claim_lesson(tcr_bytes *bytes, const tcr_set *set) {
    const tcr_side side = any_side(bytes);
    tcr_lesson_place place = tcr_lesson_place_default();
    tcr_lesson lesson;
    double number;
    place.has_apart = tcr_any_byte(bytes) % 2 == 1;
    place.apart_mm = tcr_any_number(bytes, 0.0, 3.0, 1.0);
    place.alike = tcr_any_byte(bytes) % 2 == 1;
    place.view = tcr_any_view(bytes);
    place.pitch_sd_rad = tcr_any_degrees(bytes, 0.0, 20.0, 0.0);
    tcr_mark(&lesson, sizeof lesson);
    tcr_status status = tcr_lesson_of(set, side, &place, 1, NULL, &lesson);
    tcr_claim_untouched("tcr_lesson_of", status, &lesson, sizeof lesson);
    if (tcr_any_byte(bytes) % 8 != 7)
        return; /* what follows takes many lessons */
    tcr_mark(&number, sizeof number);
    status = tcr_lesson_pays_from(set, side, tcr_any_choice(bytes, 4), place.alike, &number);
    tcr_claim_untouched("tcr_lesson_pays_from", status, &number, sizeof number);
    tcr_mark(&number, sizeof number);
    status = tcr_lesson_turns_at(set, side, &place, &number);
    tcr_claim_untouched("tcr_lesson_turns_at", status, &number, sizeof number);
}

/* ---- A check --------------------------------------------------------------------------------- */

static void claim_figures(tcr_bytes *bytes, const tcr_check *check) {
    const tcr_side side = any_side(bytes);
    const size_t i = tcr_any_byte(bytes);
    const bool there = tcr_check_eye(check, side) != NULL;
    tcr_load load;
    tcr_weight_most most;
    tcr_judgement judgement;
    tcr_loaded_lash nearest[3];
    const tcr_limits limits = tcr_limits_default();
    tcr_mark(&load, sizeof load);
    tcr_claim_untouched("tcr_check_load", tcr_check_load(check, side, i, &load), &load,
                        sizeof load);
    tcr_mark(&most, sizeof most);
    tcr_claim_untouched("tcr_check_weight_most", tcr_check_weight_most(check, side, &most), &most,
                        sizeof most);
    const unsigned sides = (unsigned)tcr_any_byte(bytes);
    const tcr_status judged = tcr_check_judge(check, sides, &judgement);
    claim(judged == TCR_OK || judged == TCR_E_MISSING, "judged: %s", tcr_status_text(judged));
    claim(tcr_limits_nearest(&limits, check, sides, nearest, 3) <= 3, "more than there is room");
    const tcr_line lines[TCR_SIDES] = {{.x_min_mm = tcr_any_double(bytes), .x_max_mm = 10.0},
                                       {.x_min_mm = -10.0, .x_max_mm = tcr_any_double(bytes)}};
    (void)tcr_check_rms_off(check, lines, there, NULL);
    const tcr_symmetry symmetry = {.max_mm = tcr_any_double(bytes),
                                   .level_max_mm = tcr_any_double(bytes)};
    claim((unsigned)tcr_likeness_of(&symmetry, tcr_any_double(bytes)) < TCR_LIKENESSES, "likeness");
}

/* Any stretch of the table of quantities. */
static void claim_row(tcr_bytes *bytes, const tcr_check *check) {
    size_t count;
    const tcr_quantity *table = tcr_quantities(&count);
    const size_t first = tcr_any_byte(bytes) % count, n = tcr_any_byte(bytes) % 16;
    double values[16];
    tcr_mark(values, sizeof values);
    const tcr_status status =
        tcr_check_row(check, any_side(bytes), tcr_any_byte(bytes), &table[first], values, n);
    tcr_claim_untouched("tcr_check_row", status, values, sizeof values);
    claim(first + n <= count || status == TCR_E_ARGUMENT, "%zu from %zu on", n, first);
    claim(tcr_quantity_find(table[first].name) == &table[first], "%s", table[first].name);
}

static void claim_csv(tcr_bytes *bytes, const tcr_check *check) {
    tcr_csv_options form = tcr_csv_options_default();
    tcr_step_report_options step = tcr_step_report_options_default();
    size_t written = 0;
    form.digits = tcr_any_whole(bytes, 0, 17);
    form.decimal_comma = tcr_any_byte(bytes) % 2 == 1;
    step.length_mm = tcr_any_number(bytes, 3.0, 30.0, 0.0);
    const bool refused = form.digits < 0 || form.digits > 17;
    const tcr_status status = tcr_report_why_csv(check, &form, count_bytes, &written);
    claim(!refused || (status != TCR_OK && written == 0), "%d digits: %s", form.digits,
          tcr_status_text(status));
    (void)tcr_report_step_csv(tcr_check_set(check), &step, &form, count_bytes, &written);
    tcr_ranked_set sets[] = {{.name = "one", .check = check}, {.name = "two", .check = check}};
    claim(tcr_report_doubts(tcr_check_set(check), count_bytes, &written) == TCR_OK, "no doubts");
    claim(tcr_rank_sets(sets, 2) == TCR_OK && sets[0].rank == 1 &&
              (sets[0].shares == sets[1].shares) && sets[1].rank == (sets[0].shares ? 1 : 2),
          "no ranks");
    claim(tcr_report_ranking(sets, 2, count_bytes, &written) == TCR_OK, "no ranking");
}

void tcr_claim_read(tcr_bytes bytes, const tcr_set *set) {
    tcr_check *check;
    claim_lash(&bytes, set);
    claim_eye(&bytes, set);
    claim_choice(&bytes, set);
    if (tcr_lashes_of(set) > TCR_FUZZ_WHY_MAX)
        return; /* the rest takes long */
    claim_lesson(&bytes, set);
    if (tcr_check_new(set, NULL, &check, NULL) != TCR_OK)
        return;
    claim_figures(&bytes, check);
    claim_row(&bytes, check);
    claim_csv(&bytes, check);
    tcr_check_free(check);
}

/* ---- Options of any size --------------------------------------------------------------------- */

/* Writes just 'size' bytes, whatever size it is. */
#define claim_init(type, init, size)                                                               \
    do {                                                                                           \
        _Alignas(type) unsigned char room[2 * sizeof(type)];                                       \
        const size_t given = (size) % sizeof room;                                                 \
        tcr_mark(room, sizeof room);                                                               \
        init((type *)(void *)room, given);                                                         \
        tcr_claim_untouched(#init, TCR_E_RANGE, room + given, sizeof room - given);                \
        init(NULL, given);                                                                         \
    } while (0)

void tcr_numeric_options(tcr_bytes *bytes) {
    const size_t size = (size_t)(tcr_any_word(bytes) % 4096);
    claim_init(tcr_begin_options, tcr_begin_options_init, size);
    claim_init(tcr_check_options, tcr_check_options_init, size);
    claim_init(tcr_csv_options, tcr_csv_options_init, size);
    claim_init(tcr_line_options, tcr_line_options_init, size);
    claim_init(tcr_plan_options, tcr_plan_options_init, size);
    claim_init(tcr_plan_pace, tcr_plan_pace_init, size);
    claim_init(tcr_plan_report_options, tcr_plan_report_options_init, size);
    claim_init(tcr_set_write_options, tcr_set_write_options_init, size);
    claim_init(tcr_step_report_options, tcr_step_report_options_init, size);
    claim_init(tcr_table_options, tcr_table_options_init, size);
    claim_init(tcr_weight_options, tcr_weight_options_init, size);
    tcr_line_rule rule = tcr_line_rule_default();
    rule.tolerance_mm = tcr_any_double(bytes);
    tcr_any_begin(bytes);
    const tcr_materials materials = tcr_any_materials(bytes);
    tcr_claim_verdict("tcr_materials_validate", tcr_materials_validate(&materials, NULL), bytes,
                      true);
    claim(tcr_line_rule_validate(&rule, NULL) != TCR_OK || rule.tolerance_mm > 0.0, "tolerance %g",
          rule.tolerance_mm);
    const tcr_group group = (tcr_group)tcr_any_choice(bytes, TCR_GROUPS);
    char key[8] = "";
    for (size_t i = 0; i + 1 < sizeof key; i++)
        key[i] = (char)tcr_any_byte(bytes);
    (void)tcr_field_find(group, key);
    (void)tcr_look_find(key);
    (void)tcr_quantity_find(key);
    tcr_bond bond = {tcr_any_double(bytes), 3.0, 0.0};
    (void)tcr_fields_validate(TCR_GROUP_BOND, &bond, NULL);
    tcr_fields_default(TCR_GROUP_BOND, &bond);
    claim(tcr_bond_validate(&bond, NULL) == TCR_OK, "defaults are refused");
    const uint32_t counter[4] = {(uint32_t)tcr_any_word(bytes), 1, 2, 3}, rest[2] = {4, 5};
    uint32_t words[4], again[4];
    tcr_philox(counter, rest, words);
    tcr_philox(counter, rest, again);
    claim(memcmp(words, again, sizeof words) == 0, "another number for the same counter");
}
