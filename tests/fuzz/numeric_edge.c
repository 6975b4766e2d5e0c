/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls that return a value and no status, and small calls of text: any index, any value of an
 * enumeration, any counts, structs that nothing has checked. Where the headers promise a result for
 * what is wrong, it is claimed; that nothing is read out of bounds is for the sanitizers to see.
 */
#include "fuzz/numeric.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/text.h>

#include "fuzz/claim.h"

/* A whole number: small, at the ends of its type, or any. */
static int any_int(tcr_bytes *bytes) {
    const uint8_t kind = tcr_any_byte(bytes);
    return kind < 200 ? kind % 24 - 4 : (int)(unsigned)tcr_any_word(bytes);
}

static size_t any_size(tcr_bytes *bytes) {
    const uint8_t kind = tcr_any_byte(bytes);
    return kind < 200   ? kind % 24u
           : kind < 220 ? SIZE_MAX - kind % 4u
                        : (size_t)tcr_any_word(bytes);
}

static tcr_profile raw_profile(tcr_bytes *bytes) {
    tcr_profile profile = {.pieces = any_int(bytes)};
    for (int i = 0; i < TCR_PIECES_MAX; i++) {
        profile.share[i] = tcr_any_number(bytes, 0.0, 1.0, 0.5);
        profile.turn_rad[i] = tcr_any_number(bytes, -1.5, 4.5, 0.5);
    }
    return profile;
}

static bool has_pieces(const tcr_profile *p) {
    return p->pieces >= 1 && p->pieces <= TCR_PIECES_MAX;
}

static void claim_shapes(tcr_bytes *bytes) {
    tcr_extension ext = {.profile = raw_profile(bytes), .fan = any_int(bytes)};
    ext.length_mm = tcr_any_double(bytes);
    ext.spread_rad = tcr_any_double(bytes);
    const tcr_attachment attachment = {.bond_mm = tcr_any_number(bytes, 1.0, 3.0, 3.0)};
    const double s = tcr_any_number(bytes, 0.0, 20.0, 5.0);
    const tcr_arc_point at = tcr_profile_at(&ext.profile, ext.length_mm, s);
    const tcr_vec3 point = tcr_attachment_fibre(&attachment, &ext, any_int(bytes), s);
    claim(has_pieces(&ext.profile) || (isnan(at.x) && isnan(at.angle_rad) && isnan(point.z)),
          "%d pieces have a point", ext.profile.pieces);
}

/* A curl with two profiles and what it says of their number. */
static void claim_curl(tcr_bytes *bytes) {
    const tcr_profile profiles[2] = {raw_profile(bytes), raw_profile(bytes)};
    const double length_mm[2] = {tcr_any_double(bytes), tcr_any_double(bytes)};
    const uint8_t kind = tcr_any_byte(bytes);
    size_t count = any_size(bytes);
    if (count > 2 && count <= TCR_CURL_LENGTHS_MAX)
        count = 2; /* there are not so many */
    const tcr_curl curl = {"X", count, kind % 4 == 0 ? NULL : length_mm,
                           kind % 8 == 1 ? NULL : profiles};
    const tcr_profile got = tcr_curl_profile(&curl, tcr_any_double(bytes));
    claim(count >= 1 && count <= 2 ? true : got.pieces == 0, "a profile of %zu", count);
}

static void claim_lash(tcr_bytes *bytes) {
    tcr_lash lash = tcr_any_lash(bytes);
    unsigned assumed;
    lash.layer = (tcr_layer)any_int(bytes);
    lash.condition = (tcr_condition)any_int(bytes);
    const tcr_lash complete = tcr_lash_complete(&lash, &assumed);
    claim(!(assumed & TCR_LASH_PITCH) || !isnan(complete.pitch_rad), "assumed and not known");
    (void)tcr_lash_diameter(&lash, tcr_any_double(bytes));
    (void)tcr_lash_profile(&lash);
    (void)tcr_lash_unknown(tcr_any_double(bytes), lash.layer);
    const double share = tcr_lash_turn_share(tcr_any_double(bytes));
    claim(isnan(share) || (share >= 0.0 && share <= 1.0), "a share of %.17g", share);
    tcr_lid lid = tcr_any_lid(bytes);
    lid = tcr_lid_complete(&lid, &assumed);
    (void)tcr_lid_validate(&lid, NULL);
    (void)tcr_lid_unknown();
    const tcr_stance stance = {.root = {tcr_any_double(bytes), 0.0, 0.0}};
    (void)tcr_stance_point(&stance, (tcr_vec3){tcr_any_double(bytes), 1.0, 2.0});
    const tcr_mean_lash mean = {.lash = lash, .length_mm = {8.0, tcr_any_double(bytes), 8.0}};
    (void)tcr_mean_lash_at(&mean, tcr_any_double(bytes));
    const tcr_layer_heights heights = {.height_mm = {tcr_any_double(bytes)}};
    (void)tcr_layer_heights_apart(&heights, tcr_any_double(bytes));
}

static void claim_words(tcr_bytes *bytes) {
    const int value = any_int(bytes);
    const char *const words[] = {tcr_side_text((tcr_side)value),
                                 tcr_layer_text((tcr_layer)value),
                                 tcr_placement_text((tcr_placement)value),
                                 tcr_status_text((tcr_status)value),
                                 tcr_verdict_text((tcr_verdict)value),
                                 tcr_verdict_words((tcr_verdict)value, (tcr_against)(value / 4)),
                                 tcr_likeness_text((tcr_likeness)value),
                                 tcr_doubt_text((tcr_doubt_kind)value),
                                 tcr_cause_text((tcr_cause)value),
                                 tcr_cause_levelled_text((tcr_cause)value),
                                 tcr_source_text((tcr_source)value)};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        claim(words[i] != NULL && strlen(words[i]) < 200, "word %zu of %d", i, value);
    (void)tcr_bare_text((tcr_status)any_int(bytes), (tcr_condition)any_int(bytes));
    (void)tcr_view_named((tcr_named_view)value);
    (void)tcr_cause_can_change((tcr_cause)value);
    const size_t tips = any_size(bytes), off = any_size(bytes);
    const tcr_verdict verdict = tcr_verdict_of(tips, off);
    claim((tips == 0) == (verdict == TCR_NOT_JUDGED), "%zu tips: %d", tips, (int)verdict);
    claim(off < tips || tips == 0 || verdict == TCR_UNEVEN, "%zu of %zu: %d", off, tips,
          (int)verdict);
}

static void claim_why(tcr_bytes *bytes) {
    tcr_why why = {.whole_rms_mm = tcr_any_double(bytes), .bare_rms_mm = tcr_any_double(bytes)};
    char text[TCR_WHY_TEXT];
    for (int c = 0; c < TCR_COMBINATIONS; c++)
        why.mean_square_mm2[c] = c % 8 == 0 ? tcr_any_double(bytes) : why.mean_square_mm2[c / 2];
    for (int c = 0; c < TCR_CAUSES; c++) {
        why.cause[c].alone_rms_mm = tcr_any_double(bytes);
        why.cause[c].without_rms_mm = tcr_any_double(bytes);
    }
    why.layering.without_rms_mm = tcr_any_double(bytes);
    why.layers.lengths = (tcr_layer_lengths)any_int(bytes);
    why.layers.worn = tcr_any_byte(bytes) % 2 == 0;
    why.layers.tip_by_height_mm = tcr_any_double(bytes);
    why.layers.tip_by_shorter_mm = tcr_any_double(bytes);
    why.layers.step_mm = tcr_any_double(bytes);
    why.layers.equal_rms_mm = tcr_any_double(bytes);
    why.layers.ruled_rms_mm = tcr_any_double(bytes);
    why.layers.ruled_lacking = tcr_any_byte(bytes);
    const int which = any_int(bytes);
    tcr_mark(text, sizeof text);
    tcr_why_say(&why, (tcr_why_sentence)which, text);
    claim(memchr(text, '\0', sizeof text) != NULL, "sentence %d has no end", which);
    tcr_mark(text, sizeof text);
    tcr_why_say_cause(&why, (tcr_cause)which, text);
    claim(memchr(text, '\0', sizeof text) != NULL, "cause %d has no end", which);
    (void)tcr_cause_is_absent(&why, (tcr_cause)which);
    (void)tcr_effect_of(why.whole_rms_mm, why.bare_rms_mm);
}

static void claim_text(tcr_bytes *bytes) {
    char text[24] = "", *out;
    const size_t size = tcr_any_byte(bytes) % 40;
    for (size_t i = 0; i < sizeof text - 1; i++)
        text[i] = (char)tcr_any_byte(bytes);
    const int columns = any_int(bytes);
    if ((out = malloc(size + (size == 0))) == NULL)
        return;
    const int used = tcr_printable(text, columns, out, size);
    claim(used >= 0 && (used <= columns || used == 0), "%d of %d columns", used, columns);
    claim(size == 0 || memchr(out, '\0', size) != NULL, "no end in %zu bytes", size);
    free(out);
    const char *const known[] = {"length", NULL, "", "left"};
    const char *found = tcr_suggest(text, strlen(text), known, 4);
    claim(found == NULL || *found != '\0', "nothing is suggested");
    double value;
    (void)tcr_number_parse_comma(text, strlen(text), &value);
}

static void claim_tables(tcr_bytes *bytes) {
    size_t count;
    const tcr_group group = (tcr_group)any_int(bytes);
    const tcr_field *fields = tcr_fields(group, &count);
    claim((fields == NULL) == (count == 0), "group %d has %zu fields", (int)group, count);
    tcr_bond bond = tcr_bond_default();
    tcr_field own = tcr_fields(TCR_GROUP_BOND, NULL)[0];
    own.offset = any_size(bytes);
    own.kind = (tcr_kind)any_int(bytes);
    claim(isnan(tcr_field_value(&own, &bond)), "a field of no table has a value");
    const double number = tcr_any_double(bytes);
    claim(tcr_field_put(&own, &bond, number, NULL) != TCR_OK, "a field of no table is put");
    tcr_bond many[3] = {bond, bond, bond};
    const double numbers[3] = {number, tcr_any_double(bytes), tcr_any_double(bytes)};
    double values[3];
    const tcr_field *of_bond = tcr_fields(TCR_GROUP_BOND, NULL);
    if (tcr_field_put_n(of_bond, many, sizeof *many, 3, numbers, NULL) == TCR_OK)
        claim(tcr_field_value_n(of_bond, many, sizeof *many, 3, values) == TCR_OK &&
                  (isnan(numbers[1]) || values[1] == numbers[1]),
              "%.17g comes back as %.17g", numbers[1], values[1]);
    else
        claim(memcmp(many + 1, &bond, sizeof bond) == 0, "a failed call puts a number");
    (void)tcr_field_validate(&tcr_fields(TCR_GROUP_LASH, NULL)[3], number, NULL);
    (void)tcr_look_zone_end(any_size(bytes), any_size(bytes));
    const double distance = tcr_distance_of(tcr_tolerance_from(number));
    claim(!(number > 1e-300 && number < 1e300) || fabs(distance - number) <= 1e-9 * number,
          "%.17g comes back as %.17g", number, distance);
    tcr_look look = *tcr_look_catalogue(NULL);
    double length_mm[TCR_LOOK_ZONES_MAX];
    const tcr_tray tray = tcr_tray_default();
    look.zones = any_size(bytes);
    look.share[tcr_any_byte(bytes) % TCR_LOOK_ZONES_MAX] = number;
    (void)tcr_look_lengths(&look, 12.0, &tray, length_mm);
    tcr_tray raw = tray, of;
    raw.count = any_size(bytes);
    raw.kinds = any_size(bytes);
    for (int i = 0; i < 4; i++)
        raw.length_mm[i] = tcr_any_double(bytes);
    tcr_mark(&of, sizeof of);
    const tcr_status status = tcr_tray_of(&raw, "C", number, &of);
    tcr_claim_untouched("tcr_tray_of", status, &of, sizeof of);
    claim(raw.count <= TCR_TRAY_MAX || isnan(tcr_tray_nearest(&raw, number)), "%zu lengths",
          raw.count);
    (void)tcr_tray_has(&raw, number);
}

static void claim_random(tcr_bytes *bytes) {
    const tcr_random number = {tcr_any_word(bytes), (uint32_t)tcr_any_word(bytes),
                               (uint32_t)any_int(bytes), (uint32_t)any_int(bytes),
                               (uint32_t)any_int(bytes)};
    const double uniform = tcr_random_uniform(&number), normal = tcr_random_normal(&number);
    claim(uniform > 0.0 && uniform < 1.0 && fabs(normal) <= 3.0, "%.17g, %.17g", uniform, normal);
}

void tcr_numeric_edge(tcr_bytes *bytes) {
    static void (*const CLAIMS[])(tcr_bytes *) = {claim_shapes, claim_curl,  claim_lash,
                                                  claim_words,  claim_why,   claim_text,
                                                  claim_tables, claim_random};
    CLAIMS[tcr_any_byte(bytes) % (sizeof CLAIMS / sizeof *CLAIMS)](bytes);
}
