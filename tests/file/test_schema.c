/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ranges and words of the JSON Schemas of reports are those of the table of fields. */
#include <tipcrest/field.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "support/check.h"

static const tcr_group GROUPS[] = {TCR_GROUP_EXTENSION, TCR_GROUP_VIEW, TCR_GROUP_LINE,
                                   TCR_GROUP_LIMITS, TCR_GROUP_PACE};
enum { GROUP_COUNT = sizeof GROUPS / sizeof *GROUPS };

/* Schemas of angles leave room for what degrees lose in radians. */
static const double DEGREES_SLACK = 1.5e-6;

static void expect_words(const json_t *property, const tcr_field *field) {
    const json_t *words = json_object_get(property, "enum");
    expect_count(json_array_size(words), (size_t)field->file.most + 1);
    for (size_t i = 0; i < json_array_size(words); i++)
        expect_text(json_string_value(json_array_get(words, i)), field->words[i]);
}

static void expect_range(const json_t *property, const tcr_field *field) {
    const double slack = field->unit == TCR_UNIT_DEGREES ? DEGREES_SLACK : 0.0;
    const json_t *least = json_object_get(property, "minimum"),
                 *most = json_object_get(property, "maximum");
    given("%s", field->key);
    expect_true(json_is_number(least) && json_is_number(most));
    expect_near(json_number_value(least), field->file.least, slack, "the table's");
    expect_near(json_number_value(most), field->file.most, slack, "the table's");
}

/* Whether an object describes every number of a group. */
static bool describes(const json_t *properties, const tcr_field *fields, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (json_object_get(properties, fields[i].key) == NULL)
            return false;
    return true;
}

/* Compares every place of a schema that describes a group; returns how many there are. */
static size_t compare(json_t *schema, const tcr_field *fields, size_t count) {
    const char *key;
    json_t *value;
    size_t found = 0, index;
    const json_t *properties = json_object_get(schema, "properties");
    if (properties != NULL && describes(properties, fields, count)) {
        found++;
        for (size_t i = 0; i < count; i++) {
            const json_t *property = json_object_get(properties, fields[i].key);
            if (fields[i].words != NULL)
                expect_words(property, &fields[i]);
            else
                expect_range(property, &fields[i]);
        }
    }
    json_object_foreach(schema, key, value) found += compare(value, fields, count);
    json_array_foreach(schema, index, value) found += compare(value, fields, count);
    return found;
}

CLAIM(schemas_have_the_ranges_of_the_table) {
    static const char *const NAMES[] = {"check", "plan", "step", "why"};
    const char *source = getenv("TIPCREST_SOURCE");
    size_t found[GROUP_COUNT] = {0};
    for (size_t n = 0; n < sizeof NAMES / sizeof *NAMES; n++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/lib/file/schema/%s.schema.json",
                 source != NULL ? source : ".", NAMES[n]);
        json_t *schema = json_load_file(path, 0, NULL);
        given("%s", path);
        ck_assert(schema != NULL);
        for (size_t g = 0; g < GROUP_COUNT; g++) {
            size_t count;
            const tcr_field *fields = tcr_fields(GROUPS[g], &count);
            found[g] += compare(schema, fields, count);
        }
        json_decref(schema);
    }
    for (size_t g = 0; g < GROUP_COUNT; g++) {
        given("group %d", (int)GROUPS[g]);
        expect_true(found[g] > 0);
    }
}

int main(void) {
    static const TTest *const claims[] = {&schemas_have_the_ranges_of_the_table};
    return RUN_CLAIMS("schemas", claims);
}
