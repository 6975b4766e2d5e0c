/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The members with which every JSON report begins; fixed by the schemas. */
#include "file/envelope.h"

#include <tipcrest/version.h>

#include "file/doubts.h"
#include "num/range.h"

/* How many lashes of which eye were drawn by chance. */
static void put_drawn(tcr_json *json, const tcr_set *set) {
    tcr_json_array(json, "drawn");
    for (int side = 0; side < TCR_SIDES; side++) {
        const size_t drawn = tcr_set_drawn_count(set, (tcr_side)side);
        if (drawn == 0)
            continue;
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "side", tcr_side_text((tcr_side)side));
        tcr_json_count(json, "count", drawn);
        tcr_json_count(json, "lashes", tcr_set_lash_count(set, (tcr_side)side));
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

void tcr_envelope(tcr_json *json, const char *command, const char *digest, const tcr_set *set,
                  const tcr_assumed *assumed, size_t count) {
    const char *title = tcr_set_title(set);
    tcr_json_object(json, "tipcrest");
    tcr_json_in_line(json);
    tcr_json_text(json, "version", tcr_version());
    tcr_json_count(json, "format", TCR_FORMAT);
    tcr_json_end(json);
    tcr_json_text(json, "command", command);
    tcr_json_text(json, "input_digest", digest);
    tcr_json_text(json, "title", *title != '\0' ? title : NULL);
    tcr_json_array(json, "assumptions");
    for (size_t i = 0; i < count; i++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "what", assumed[i].field->key);
        tcr_json_count(json, "count", assumed[i].count);
        tcr_json_number(json, "mm_per_unit", assumed[i].per_unit);
        tcr_json_end(json);
    }
    tcr_json_end(json);
    tcr_json_doubts(json, set);
    put_drawn(json, set);
}

void tcr_envelope_of_check(tcr_json *json, const char *command, const char *digest,
                           const tcr_check *check) {
    tcr_assumed assumed[TCR_LASH_BITS];
    const size_t count = tcr_collect_assumed(check, assumed);
    tcr_envelope(json, command, digest, tcr_check_set(check), assumed, count);
}

void tcr_json_extension(tcr_json *json, const char *key, const tcr_set *set,
                        const tcr_choice *choice) {
    tcr_json_object(json, key);
    tcr_json_number(json, "length_mm", choice->length_mm);
    tcr_json_text(json, "curl", tcr_set_curl(set, choice->curl)->label);
    tcr_json_number(json, "diameter_mm", choice->diameter_mm);
    tcr_json_text(json, "placement", tcr_word(&tcr_words_placement, (int)choice->placement));
    tcr_json_count(json, "fan", (size_t)choice->fan);
    tcr_json_number(json, "spread_deg", tcr_degrees_of(choice->spread_rad));
    tcr_json_end(json);
}
