/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The JSON Schemas of reports keep to the library's tables: ranges and words to the table of
 * fields, the numbers of a check to the table of quantities.
 */
#include <tipcrest/column.h>
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

/* Reports have the tolerance that a distance makes, and no switches. */
static bool is_reported(const tcr_field *field) {
    return !field->unknown && field->kind != TCR_KIND_BOOL;
}

/* Whether an object describes every number of a group. */
static bool describes(const json_t *properties, const tcr_field *fields, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (is_reported(&fields[i]) && json_object_get(properties, fields[i].key) == NULL)
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
            if (!is_reported(&fields[i]))
                continue;
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

/* ---- Quantities ------------------------------------------------------------------------------ */

/* A schema that another names by $ref, or that may be null beside one that is there. */
static const json_t *resolve(const json_t *root, const json_t *schema) {
    static const char PREFIX[] = "#/$defs/";
    const json_t *choices = json_object_get(schema, "anyOf");
    if (choices != NULL)
        schema = json_array_get(choices, 1);
    const char *ref = json_string_value(json_object_get(schema, "$ref"));
    if (ref == NULL)
        return schema;
    ck_assert(strncmp(ref, PREFIX, strlen(PREFIX)) == 0);
    return json_object_get(json_object_get(root, "$defs"), ref + strlen(PREFIX));
}

/* The property at a place such as "fitted.layer_offset_mm.top" or "tip_mm[2]"; NULL: none. */
static const json_t *property_at(const json_t *root, const json_t *schema, const char *place) {
    for (;;) {
        char key[64];
        const size_t length = strcspn(place, ".[");
        ck_assert(length < sizeof key);
        memcpy(key, place, length);
        key[length] = '\0';
        const json_t *properties = json_object_get(resolve(root, schema), "properties");
        const json_t *property = json_object_get(properties, key);
        if (property == NULL || place[length] != '.')
            return property;
        schema = property;
        place += length + 1;
    }
}

/* Whether a schema allows a type. */
static bool allows(const json_t *root, const json_t *property, const char *type) {
    const json_t *types = json_object_get(property, "type");
    if (types == NULL)
        types = json_object_get(resolve(root, property), "type");
    const char *only = json_string_value(types);
    if (only != NULL)
        return strcmp(only, type) == 0;
    for (size_t i = 0; i < json_array_size(types); i++)
        if (strcmp(json_string_value(json_array_get(types, i)), type) == 0)
            return true;
    return false;
}

static void expect_type(const json_t *root, const json_t *property, const tcr_quantity *q) {
    const json_t *words = json_object_get(property, "enum");
    size_t count = 0;
    switch (q->kind) {
    case TCR_KIND_BOOL:
        expect_true(allows(root, property, "boolean"));
        break;
    case TCR_KIND_LABEL:
        expect_true(allows(root, property, "string"));
        break;
    case TCR_KIND_ENUM:
        while (count < json_array_size(words)) {
            expect_text(json_string_value(json_array_get(words, count)), q->words[count]);
            count++;
        }
        expect_true(count > 0);
        break;
    case TCR_KIND_INT:
    case TCR_KIND_SIZE:
        expect_true(allows(root, property, "integer"));
        break;
    default:
        expect_true(allows(root, property, strchr(q->json, '[') != NULL ? "array" : "number"));
    }
}

/* Counts the numbers, words and flags that a schema has beside texts of its own. */
static size_t count_leaves(const json_t *root, const json_t *schema, size_t depth) {
    size_t count = 0;
    const char *key;
    json_t *property;
    json_t *properties = json_object_get(resolve(root, schema), "properties");
    ck_assert(depth < 8);
    json_object_foreach(properties, key, property) {
        const json_t *items = json_object_get(resolve(root, property), "minItems");
        if (strcmp(key, "lashes") == 0 && items != NULL)
            continue; /* the lashes themselves */
        if (json_object_get(resolve(root, property), "properties") != NULL)
            count += count_leaves(root, property, depth + 1);
        else
            count += items != NULL ? (size_t)json_integer_value(items) : 1;
    }
    return count;
}

CLAIM(the_schema_of_a_check_has_the_quantities_of_the_table_and_no_others) {
    char path[4096];
    const char *source = getenv("TIPCREST_SOURCE");
    snprintf(path, sizeof path, "%s/lib/file/schema/check.schema.json",
             source != NULL ? source : ".");
    json_t *root = json_load_file(path, 0, NULL);
    ck_assert(root != NULL);
    const json_t *defs = json_object_get(root, "$defs");
    const json_t *lash = json_object_get(defs, "lash"), *eye = json_object_get(defs, "eye");
    size_t count, of_lash = 0, of_eye = 0;
    const tcr_quantity *all = tcr_quantities(&count);
    for (size_t i = 0; i < count; i++) {
        const bool is_of_lash = all[i].owner == TCR_OWNER_LASH;
        given("%s", all[i].name);
        if (all[i].json == NULL)
            continue;
        const json_t *property = property_at(root, is_of_lash ? lash : eye, all[i].json);
        expect_true(property != NULL);
        expect_type(root, property, &all[i]);
        const char *note = json_string_value(json_object_get(property, "description"));
        /* One description for the three coordinates of a point. */
        if (strchr(all[i].json, '[') == NULL)
            expect_true(note != NULL && strncmp(note, all[i].note, strlen(all[i].note)) == 0);
        of_lash += is_of_lash;
        of_eye += !is_of_lash;
    }
    /* Beside the table: id and reason of a lash; side, opening, viewer_deg, against and two reasons
     * of an eye. */
    given("members of the schema");
    expect_count(count_leaves(root, lash, 0), of_lash + 2);
    expect_count(count_leaves(root, eye, 0), of_eye + 6);
    json_decref(root);
}

int main(void) {
    static const TTest *const claims[] = {
        &schemas_have_the_ranges_of_the_table,
        &the_schema_of_a_check_has_the_quantities_of_the_table_and_no_others,
    };
    return RUN_CLAIMS("schemas", claims);
}
