/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of a set: paths and shorts, what is said of those that are not there, and their values. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/study.h>

#include "study/sets.h"
#include "support/check.h"

/* ---- Finding --------------------------------------------------------------------------------- */

CLAIM(a_path_of_the_set_file_is_found_with_its_value) {
    tcr_set *set = described_set();
    static const struct {
        const char *key;
        double now; /* source: described_set, and the defaults of the model */
        unsigned sides;
    } KNOWN[] = {
        {"layering.step_mm", 1.0, 0},
        {"layering.placement.middle", TCR_OUTER_SIDE, 0},
        {"layering.blend", 0.0, 0},
        {"bond.offset_mm", 0.7, 0},
        {"line.tolerance_mm", 0.5, 0},
        {"line.seen_from_mm", NAN, 0},
        {"opening", 1.0, 0},
        {"viewer_deg", 0.0, 0},
        {"mean_lash.turn_deg", NAN, 0},
        {"eyes.left.lid.mrd1_mm", 3.5, 1},
        {"eyes.left.lid.canthal_tilt_deg", 5.0, 1},
        {"eyes.left.map.1.length_mm", 9.0, 1},
        {"eyes.left.map.3.length_mm", 12.0, 1},
        {"eyes.left.map.3.curl", 2.0, 1}, /* C is the third of the catalogue */
        {"eyes.left.map.3.top.length_mm", 10.0, 1},
        {"eyes.left.map.3.top.curl", 4.0, 1},
        {"eyes.left.map.3.middle.curl", NAN, 1},
        {"eyes.left.lashes.describe.pitch_sd_deg", 4.0, 1},
        {"eyes.left.lashes.describe.count", 96.0, 1},
        {"lid.mrd1_mm", 3.5, 1},
        {"map.2.to", 0.4, 1},
        {"longest_mm", 12.0, 1},
        {"curl", NAN, 1},
        {"apart_mm", NAN, 1},
    };
    for (size_t i = 0; i < sizeof KNOWN / sizeof *KNOWN; i++) {
        tcr_key key;
        given("key %s", KNOWN[i].key);
        expect_status(tcr_key_find(set, KNOWN[i].key, &key, NULL), TCR_OK);
        expect_text(key.name, KNOWN[i].key);
        if (isnan(KNOWN[i].now))
            expect_nan(key.now);
        else
            expect_near(key.now, KNOWN[i].now, 0.0, "as it was put");
        expect_count(key.sides, KNOWN[i].sides);
    }
    tcr_set_free(set);
}

CLAIM(shorts_stand_for_paths) {
    tcr_set *set = described_set();
    tcr_key key;
    expect_status(tcr_key_find(set, "placement.top", &key, NULL), TCR_OK);
    expect_text(key.name, "layering.placement.top");
    expect_status(tcr_key_find(set, "describe.turn_sd_deg", &key, NULL), TCR_OK);
    expect_text(key.name, "lashes.describe.turn_sd_deg");
    expect_status(tcr_key_find(set, "eyes.left.describe.turn_sd_deg", &key, NULL), TCR_OK);
    expect_text(key.name, "eyes.left.lashes.describe.turn_sd_deg");
    tcr_set_free(set);
}

CLAIM(a_path_without_an_eye_is_that_of_every_eye) {
    tcr_set *set = surveyed_set();
    tcr_key key;
    expect_status(tcr_key_find(set, "lid.mrd1_mm", &key, NULL), TCR_OK);
    expect_count(key.sides, 3);
    expect_near(key.now, 3.5, 0.0, "the same in both");
    expect_status(tcr_key_find(set, "map.1.length_mm", &key, NULL), TCR_OK);
    expect_nan(key.now); /* 10 and 9.5 */
    expect_status(tcr_key_find(set, "eyes.right.intended.2.curl", &key, NULL), TCR_OK);
    expect_count(key.sides, 2);
    expect_status(tcr_key_find(set, "intended.2.curl", &key, NULL), TCR_E_MISSING);
    tcr_set_free(set);
}

CLAIM(every_field_that_a_set_file_can_vary_has_a_key) {
    /* Source: the table of fields; what a study cannot vary is listed here. */
    static const struct {
        tcr_group group;
        const char *path;
    } BLOCKS[] = {
        {TCR_GROUP_LID, "eyes.left.lid."},
        {TCR_GROUP_DESCRIPTION, "lashes.describe."},
        {TCR_GROUP_ZONE, "eyes.left.map.2."},
        {TCR_GROUP_WISH, "map.1.middle."},
        {TCR_GROUP_LAYERING, "layering."},
        {TCR_GROUP_PLACEMENT, "layering.placement."},
        {TCR_GROUP_MEAN_LASH, "mean_lash."},
        {TCR_GROUP_BOND, "bond."},
        {TCR_GROUP_LINE, "line."},
        {TCR_GROUP_VIEW, ""},
    };
    tcr_set *set = described_set();
    for (size_t b = 0; b < sizeof BLOCKS / sizeof *BLOCKS; b++) {
        size_t count;
        const tcr_field *fields = tcr_fields(BLOCKS[b].group, &count);
        for (size_t i = 0; i < count; i++) {
            char name[TCR_KEY_SIZE];
            tcr_key key;
            snprintf(name, sizeof name, "%s%s", BLOCKS[b].path, fields[i].key);
            given("key %s", name);
            const bool of_row = fields[i].bit == TCR_FIX_FROM_SKIN && b == 3;
            expect_status(tcr_key_find(set, name, &key, NULL), of_row ? TCR_E_MISSING : TCR_OK);
            if (!of_row)
                expect_true(key.field == &fields[i] && key.kind == fields[i].kind);
        }
    }
    tcr_set_free(set);
}

CLAIM(listed_keys_are_all_different_and_found_by_their_names) {
    tcr_set *const sets[] = {described_set(), surveyed_set()};
    for (int s = 0; s < 2; s++) {
        static char seen[1024][TCR_KEY_SIZE];
        size_t n = 0;
        tcr_key key, found;
        while (tcr_key_at(sets[s], n, &key)) {
            given("set %d, key %zu, %s", s, n, key.name);
            expect_status(tcr_key_find(sets[s], key.name, &found, NULL), TCR_OK);
            expect_true(found.field == key.field && found.sides == key.sides &&
                        found.zone == key.zone && found.layer == key.layer);
            for (size_t i = 0; i < n; i++)
                expect_true(strcmp(seen[i], key.name) != 0);
            strcpy(seen[n++], key.name);
        }
        /* Source: one eye: 9 of the lid, 25 of the description, 4 zones of 3 + 3 x 6; two eyes: 18,
         * 4 zones of the maps and 2 of the intended one. Of the whole set 5 + 3 + 9 + 3 + 3 + 2,
         * and 3 shorts. */
        expect_count(n, s == 0 ? 9 + 25 + 4 * 21 + 25 + 3 : 18 + 6 * 21 + 25 + 3);
        expect_true(!tcr_key_at(sets[s], SIZE_MAX, &key));
        tcr_set_free(sets[s]);
    }
    tcr_key key;
    expect_true(!tcr_key_at(NULL, 0, &key));
}

/* ---- What is not there ----------------------------------------------------------------------- */

static void expect_no_key(const tcr_set *set, const char *name, const char *message) {
    tcr_key key = {.name = "untouched"};
    tcr_error error = tcr_error_none();
    given("key %s", name);
    expect_status(tcr_key_find(set, name, &key, &error), TCR_E_MISSING);
    expect_text(error.message, message);
    expect_text(key.name, "untouched");
    expect_status(tcr_key_find(set, name, &key, NULL), TCR_E_MISSING);
}

CLAIM(the_nearest_key_is_named) {
    tcr_set *set = described_set();
    expect_no_key(set, "layering.stp_mm",
                  "the set has no key \"layering.stp_mm\"; did you mean layering.step_mm?");
    expect_no_key(set, "layring.step_mm",
                  "the set has no key \"layring.step_mm\"; did you mean layering.step_mm?");
    expect_no_key(set, "step_mm", "the set has no key \"step_mm\"; did you mean layering.step_mm?");
    expect_no_key(
        set, "pitch_sd_deg",
        "the set has no key \"pitch_sd_deg\"; did you mean lashes.describe.pitch_sd_deg?");
    expect_no_key(
        set, "eyes.left.lid.mrd_mm",
        "the set has no key \"eyes.left.lid.mrd_mm\"; did you mean eyes.left.lid.mrd1_mm?");
    expect_no_key(set, "step", "the set has no key \"step\"; did you mean layering.step_mm?");
    expect_no_key(set, "viewer", "the set has no key \"viewer\"; did you mean viewer_deg?");
    expect_no_key(set, "st",
                  "the set has no key \"st\"; a key is the path in a set file, such as "
                  "layering.step_mm");
    expect_no_key(set, "bond.from_skin_mm",
                  "the set has no key \"bond.from_skin_mm\"; its keys are offset_mm, length_mm, "
                  "glue_mm");
    expect_no_key(set, "lid",
                  "the set has no key \"lid\"; write lid.fissure_width_mm, or another key of it");
    expect_no_key(set, "eyes.left.lid",
                  "the set has no key \"eyes.left.lid\"; write eyes.left.lid.fissure_width_mm, or "
                  "another key of it");
    expect_no_key(set, "placement",
                  "the set has no key \"placement\"; write placement.bottom, or another key of it");
    expect_no_key(set, "curls", "the set has no key \"curls\"; did you mean curl?");
    expect_no_key(set, "longest", "the set has no key \"longest\"; did you mean longest_mm?");
    tcr_set_free(set);
}

CLAIM(what_the_set_lacks_is_said) {
    tcr_set *set = described_set(), *surveyed = surveyed_set();
    expect_no_key(set, "eyes.right.lid.mrd1_mm",
                  "the set has no key \"eyes.right.lid.mrd1_mm\"; it has no such eye");
    expect_no_key(set, "eyes.left.map.5.length_mm",
                  "the set has no key \"eyes.left.map.5.length_mm\"; the map has 4 zones");
    expect_no_key(set, "eyes.left.intended.1.to",
                  "the set has no key \"eyes.left.intended.1.to\"; it has no intended map");
    expect_no_key(
        surveyed, "describe.pitch_deg",
        "the set has no key \"describe.pitch_deg\"; its lashes come from a survey and are "
        "not described");
    expect_no_key(set, "map.length_mm",
                  "the set has no key \"map.length_mm\"; zones have numbers "
                  "from 1, as in map.2.length_mm");
    expect_no_key(set, "eyes.1.lid.mrd1_mm",
                  "the set has no key \"eyes.1.lid.mrd1_mm\"; write "
                  "eyes.left or eyes.right, then the key of the eye");
    expect_no_key(set, "map.1.top.from_skin_mm",
                  "the set has no key \"map.1.top.from_skin_mm\"; from_skin_mm is a lash's own; "
                  "bond.offset_mm is for all");
    expect_no_key(
        set, "",
        "the set has no key \"\"; a key is the path in a set file, such as layering.step_mm");
    expect_no_key(
        set, "...",
        "the set has no key \"...\"; a key is the path in a set file, such as layering.step_mm");
    expect_no_key(set, "map.0.length_mm",
                  "the set has no key \"map.0.length_mm\"; zones have "
                  "numbers from 1, as in map.2.length_mm");
    expect_no_key(set, "map.02.length_mm",
                  "the set has no key \"map.02.length_mm\"; zones have "
                  "numbers from 1, as in map.2.length_mm");
    tcr_set_free(set);
    tcr_set_free(surveyed);
}

CLAIM(a_key_of_any_length_or_bytes_is_refused_safely) {
    tcr_set *set = described_set();
    tcr_key key;
    tcr_error error;
    char name[5000];
    for (size_t bytes = 1; bytes < sizeof name; bytes = bytes * 2 + 1) {
        memset(name, bytes % 3 == 0 ? '.' : bytes % 3 == 1 ? 'x' : '\x1b', bytes);
        name[bytes] = '\0';
        expect_status(tcr_key_find(set, name, &key, &error), TCR_E_MISSING);
        expect_true(strchr(error.message, '\x1b') == NULL);
    }
    tcr_set_free(set);
}

/* ---- Values ---------------------------------------------------------------------------------- */

static tcr_key key_of(const tcr_set *set, const char *name) {
    tcr_key key;
    expect_status(tcr_key_find(set, name, &key, NULL), TCR_OK);
    return key;
}

static tcr_status parse(const tcr_set *set, const char *name, const char *text, double *value,
                        tcr_error *error) {
    const tcr_key key = key_of(set, name);
    return tcr_key_parse(set, &key, text, strlen(text), value, error);
}

CLAIM(values_are_read_and_written_as_in_set_files) {
    tcr_set *set = described_set();
    static const struct {
        const char *key, *text;
        double value;
    } KNOWN[] = {
        {"layering.step_mm", "0.75", 0.75},
        {"placement.middle", "outer-side", TCR_OUTER_SIDE},
        {"layering.blend", "true", 1.0},
        {"curl", "DD", 5.0},
        {"map.1.curl", "J", 0.0},
        {"describe.phases", "none", 2.0},
        {"layering.fan", "3", 3.0},
        {"describe.seed", "9007199254740991", 9007199254740991.0},
    };
    for (size_t i = 0; i < sizeof KNOWN / sizeof *KNOWN; i++) {
        double value = NAN;
        char text[TCR_KEY_VALUE_SIZE];
        given("%s of %s", KNOWN[i].text, KNOWN[i].key);
        expect_status(parse(set, KNOWN[i].key, KNOWN[i].text, &value, NULL), TCR_OK);
        expect_near(value, KNOWN[i].value, 0.0, "its number");
        const tcr_key key = key_of(set, KNOWN[i].key);
        expect_count(tcr_key_value_text(set, &key, value, text), strlen(KNOWN[i].text));
        expect_text(text, KNOWN[i].text);
    }
    tcr_set_free(set);
}

static void expect_no_value(const tcr_set *set, const char *name, const char *text,
                            tcr_status status, const char *message) {
    double value = 77.0;
    tcr_error error = tcr_error_none();
    given("%s=%s", name, text);
    expect_status(parse(set, name, text, &value, &error), status);
    expect_text(error.message, message);
    expect_near(value, 77.0, 0.0, "a failed call leaves its outputs");
}

CLAIM(wrong_values_are_told_with_what_would_be_right) {
    tcr_set *set = described_set();
    expect_no_value(set, "layering.step_mm", "3.5", TCR_E_RANGE,
                    "layering.step_mm is 3.5, but must be from 0 to 3 mm");
    expect_no_value(set, "layering.step_mm", "wide", TCR_E_CONTENT,
                    "layering.step_mm needs a number, not \"wide\"");
    expect_no_value(set, "layering.fan", "2.5", TCR_E_RANGE,
                    "layering.fan is 2.5, but must be a whole number from 1 to 20");
    expect_no_value(
        set, "placement.top", "outerside", TCR_E_CONTENT,
        "layering.placement.top \"outerside\" is not known, did you mean outer-side; one of "
        "top underside inner-side outer-side");
    expect_no_value(set, "curl", "Q", TCR_E_CONTENT,
                    "curl \"Q\" is not known; one of J B C CC D DD L M");
    expect_no_value(set, "curl", "", TCR_E_CONTENT,
                    "curl \"\" is not known; one of J B C CC D DD L M");
    expect_no_value(set, "apart_mm", "4", TCR_E_RANGE, "apart_mm is 4, but must be from 0 to 3 mm");
    tcr_set_free(set);
}

CLAIM(values_that_do_not_exist_have_no_text) {
    tcr_set *set = described_set();
    const tcr_key curl = key_of(set, "curl"), step = key_of(set, "layering.step_mm");
    const double wrong[] = {-1.0, 8.0, 0.5, NAN, INFINITY, -INFINITY, 1e300};
    char text[TCR_KEY_VALUE_SIZE];
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        expect_count(tcr_key_value_text(set, &curl, wrong[i], text), 0);
        expect_text(text, "");
        expect_status(tcr_key_validate(set, &curl, wrong[i], NULL), TCR_E_RANGE);
    }
    expect_status(tcr_key_validate(set, &step, NAN, NULL), TCR_E_RANGE);
    expect_status(tcr_key_validate(set, &step, 3.0, NULL), TCR_OK);
    tcr_error error;
    expect_status(tcr_key_validate(set, &step, -1.0, &error), TCR_E_RANGE);
    expect_text(error.member, "step_mm");
    expect_count(tcr_key_value_text(NULL, &curl, 0.0, text), 0);
    expect_count(tcr_key_value_text(set, NULL, 0.0, text), 0);
    expect_count(tcr_key_value_text(set, &curl, 0.0, NULL), 0);
    tcr_set_free(set);
}

/* ---- Lists and ranges ------------------------------------------------------------------------ */

CLAIM(lists_and_ranges_are_read) {
    tcr_set *set = described_set();
    double level[16];
    size_t n;
    const tcr_key step = key_of(set, "layering.step_mm"), curl = key_of(set, "curl");
    expect_status(tcr_key_parse_levels(set, &step, "0:2:0.5", level, 16, &n, NULL), TCR_OK);
    expect_count(n, 5);
    expect_near(level[3], 1.5, 0.0, "0, 0.5, 1, 1.5, 2");
    expect_status(tcr_key_parse_levels(set, &step, "1,0.2,3", level, 16, &n, NULL), TCR_OK);
    expect_count(n, 3);
    expect_near(level[1], 0.2, 0.0, "in their order");
    expect_status(tcr_key_parse_levels(set, &curl, "C,L", level, 16, &n, NULL), TCR_OK);
    expect_count(n, 2);
    expect_near(level[1], 6.0, 0.0, "L is the seventh");
    expect_status(tcr_key_parse_levels(set, &step, "2", NULL, 0, &n, NULL), TCR_OK);
    expect_count(n, 1);
    tcr_set_free(set);
}

CLAIM(wrong_lists_and_ranges_write_nothing) {
    static const struct {
        const char *key, *text;
        tcr_status status;
    } WRONG[] = {
        {"layering.step_mm", "", TCR_E_CONTENT},
        {"layering.step_mm", "1,", TCR_E_CONTENT},
        {"layering.step_mm", "1,,2", TCR_E_CONTENT},
        {"layering.step_mm", "0:2", TCR_E_CONTENT},
        {"layering.step_mm", "0:2:", TCR_E_CONTENT},
        {"layering.step_mm", "0:2:0.5:1", TCR_E_CONTENT},
        {"layering.step_mm", "0:2:0", TCR_E_RANGE},
        {"layering.step_mm", "0:2:-1", TCR_E_RANGE},
        {"layering.step_mm", "0:4:1", TCR_E_RANGE},
        {"layering.step_mm", "0:1:1e-7", TCR_E_RANGE},
        {"layering.step_mm", "1,2,1", TCR_E_DUPLICATE},
        {"curl", "C,D,C", TCR_E_DUPLICATE},
        {"curl", "C,Q", TCR_E_CONTENT},
        {"curl", "0:3:1", TCR_E_CONTENT},
        {"layering.fan", "1:3:0.5", TCR_E_RANGE},
    };
    tcr_set *set = described_set();
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        double level[16];
        size_t n = 77;
        tcr_error error = tcr_error_none();
        const tcr_key key = key_of(set, WRONG[i].key);
        for (int k = 0; k < 16; k++)
            level[k] = -5.0;
        given("%s=%s", WRONG[i].key, WRONG[i].text);
        expect_status(tcr_key_parse_levels(set, &key, WRONG[i].text, level, 16, &n, &error),
                      WRONG[i].status);
        expect_true(error.message[0] != '\0');
        expect_count(n, 77);
        for (int k = 0; k < 16; k++)
            expect_near(level[k], -5.0, 0.0, "a failed call leaves its outputs");
    }
    tcr_set_free(set);
}

CLAIM(null_is_refused) {
    tcr_set *set = described_set();
    tcr_key key = key_of(set, "curl");
    double value;
    size_t n;
    expect_status(tcr_key_find(NULL, "curl", &key, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_find(set, NULL, &key, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_find(set, "curl", NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse(NULL, &key, "C", 1, &value, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse(set, NULL, "C", 1, &value, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse(set, &key, NULL, 1, &value, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse(set, &key, "C", 1, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_validate(NULL, &key, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_validate(set, NULL, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse_levels(NULL, &key, "C", &value, 1, &n, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse_levels(set, NULL, "C", &value, 1, &n, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse_levels(set, &key, NULL, &value, 1, &n, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse_levels(set, &key, "C", NULL, 1, &n, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_key_parse_levels(set, &key, "C", &value, 1, NULL, NULL), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_path_of_the_set_file_is_found_with_its_value,
        &shorts_stand_for_paths,
        &a_path_without_an_eye_is_that_of_every_eye,
        &every_field_that_a_set_file_can_vary_has_a_key,
        &listed_keys_are_all_different_and_found_by_their_names,
        &the_nearest_key_is_named,
        &what_the_set_lacks_is_said,
        &a_key_of_any_length_or_bytes_is_refused_safely,
        &values_are_read_and_written_as_in_set_files,
        &wrong_values_are_told_with_what_would_be_right,
        &values_that_do_not_exist_have_no_text,
        &lists_and_ranges_are_read,
        &wrong_lists_and_ranges_write_nothing,
        &null_is_refused,
    };
    return RUN_CLAIMS("key", claims);
}
