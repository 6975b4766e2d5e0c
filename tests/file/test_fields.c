/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every number of the table of fields through a set file or a survey: taken at both ends of its
 * range, written again as it was, and refused just beyond with its key, range and place. The cases
 * are made from the table.
 */
#include <tipcrest/field.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/file.h>

#include "file/set_file.h"
#include "file/survey.h"
#include "num/number.h"
#include "support/check.h"

/* A set file with a place for one block; "" where the block is not the case's. */
typedef struct document {
    const char *lid, *zone_more, *describe, *rest;
} document;

static void write_document(const document *d, char text[4096]) {
    snprintf(text, 4096,
             "tipcrest: 1\n"
             "eyes:\n"
             "  - side: left\n"
             "%s"
             "    lashes: {describe: {%s}}\n"
             "    map: [{to: 1, length_mm: 10, curl: C%s}]\n"
             "%s",
             d->lid, *d->describe != '\0' ? d->describe : "count: 3", d->zone_more, d->rest);
}

static const struct {
    tcr_group group;
    const char *before, *behind; /* of "key: value" in the block */
} BLOCKS[] = {
    {TCR_GROUP_LID, "    lid: {", "}\n"},
    {TCR_GROUP_MEAN_LASH, "mean_lash: {", "}\n"},
    {TCR_GROUP_WISH, ", top: {", "}"},
    {TCR_GROUP_LAYERING, "layering: {", "}\n"},
    {TCR_GROUP_PLACEMENT, "layering: {placement: {", "}}\n"},
    {TCR_GROUP_BOND, "bond: {", "}\n"},
    {TCR_GROUP_LINE, "line: {", "}\n"},
    {TCR_GROUP_VIEW, "", "\n"},
    {TCR_GROUP_DESCRIPTION, "", ""},
    {TCR_GROUP_LIMITS, "plan: {", "}\n"},
    {TCR_GROUP_PACE, "pace: {", "}\n"},
};

static void value_text(const tcr_field *field, double value, char text[TCR_NUMBER_SIZE]) {
    if (field->words != NULL && value >= 0 && value <= field->file.most)
        snprintf(text, TCR_NUMBER_SIZE, "%s", field->words[(size_t)value]);
    else
        tcr_number_text(value, text);
}

/* Reads a set file whose one block has one number. */
static tcr_status read_with(size_t block, const tcr_field *field, double value, tcr_set_file **file,
                            tcr_error *error) {
    char entry[256], number[TCR_NUMBER_SIZE], text[4096];
    document d = {"", "", "", ""};
    tcr_allocator allocator = tcr_allocator_default();
    value_text(field, value, number);
    snprintf(entry, sizeof entry, "%s%s: %s%s", BLOCKS[block].before, field->key, number,
             BLOCKS[block].behind);
    if (BLOCKS[block].group == TCR_GROUP_LID)
        d.lid = entry;
    else if (BLOCKS[block].group == TCR_GROUP_WISH)
        d.zone_more = entry;
    else if (BLOCKS[block].group == TCR_GROUP_DESCRIPTION)
        d.describe = entry;
    else
        d.rest = entry;
    write_document(&d, text);
    given("%s", entry);
    return tcr_set_file_parse(text, strlen(text), "set.yaml", NULL, NULL, &allocator, file, error);
}

/* What a set file holds of a group; NULL where it keeps nothing of it. */
static const void *object_of(tcr_group group, const tcr_set_file *file) {
    const tcr_set *set = tcr_set_file_set(file);
    size_t zones;
    switch (group) {
    case TCR_GROUP_LID:
        return tcr_set_lid(set, TCR_LEFT);
    case TCR_GROUP_MEAN_LASH:
        return tcr_set_mean_lash(set);
    case TCR_GROUP_WISH:
        return &tcr_set_map(set, TCR_LEFT, &zones)[0].layer[TCR_TOP];
    case TCR_GROUP_LAYERING:
    case TCR_GROUP_PLACEMENT:
        return tcr_set_layering(set);
    case TCR_GROUP_BOND:
        return tcr_set_bond(set);
    case TCR_GROUP_LINE:
        return tcr_set_line(set);
    case TCR_GROUP_VIEW:
        return tcr_set_view(set);
    case TCR_GROUP_LIMITS:
        return &file->limits;
    case TCR_GROUP_PACE:
        return &file->pace;
    default:
        return NULL;
    }
}

static int collect(void *context, const void *text, size_t bytes) {
    char *to = context;
    const size_t have = strlen(to);
    if (have + bytes >= 16384)
        return 1;
    memcpy(to + have, text, bytes);
    to[have + bytes] = '\0';
    return 0;
}

/* The set written again says "key: value". */
static void expect_written(const tcr_set_file *file, const tcr_field *field, double value) {
    static char text[16384];
    char entry[128], number[TCR_NUMBER_SIZE];
    tcr_set_write_options options = tcr_set_write_options_default();
    options.survey[TCR_LEFT] = "left.csv";
    options.limits = &file->limits;
    options.pace = &file->pace;
    text[0] = '\0';
    expect_status(tcr_set_write(tcr_set_file_set(file), &options, collect, text), TCR_OK);
    value_text(field, value, number);
    snprintf(entry, sizeof entry, "%s: %s", field->key, number);
    expect_true(strstr(text, entry) != NULL);
}

/* Numbers that other numbers of the block limit too, so that an end may be refused for these. */
static bool is_bound_to_others(tcr_group group, const tcr_field *field) {
    return group == TCR_GROUP_LID || strstr(field->key, "diameter_mm") != NULL ||
           (group == TCR_GROUP_WISH && (strcmp(field->key, "length_mm") == 0 ||    /* the tray */
                                        strcmp(field->key, "from_skin_mm") == 0)); /* rows alone */
}

static void expect_taken(size_t block, const tcr_field *field, double value) {
    tcr_set_file *file = NULL;
    tcr_error error = tcr_error_none();
    const tcr_group group = BLOCKS[block].group;
    const tcr_status status = read_with(block, field, value, &file, &error);
    if (status != TCR_OK && is_bound_to_others(group, field)) {
        expect_true(error.member == NULL && strstr(error.message, "must be from") == NULL);
        return;
    }
    expect_text(error.message, "");
    expect_status(status, TCR_OK);
    const void *object = object_of(group, file);
    if (object != NULL) {
        expect_same(tcr_field_value(field, object), value, "as in the file");
        expect_written(file, field, value);
    }
    tcr_set_file_free(file);
}

static void expect_beyond(const tcr_error *error, const tcr_field *field, double value) {
    expect_count(error->status, TCR_E_CONTENT);
    expect_text(error->member, field->key);
    expect_same(error->value, value, "as in the file");
    expect_same(error->least, field->file.least, "the table's");
    expect_same(error->most, field->file.most, "the table's");
    expect_true(error->line > 0 && error->column > 0);
    expect_true(strstr(error->message, field->key) != NULL);
}

/* The nearest number that a field does not take, below or above; of a word there is none. */
static double beyond(const tcr_field *field, bool up) {
    const double end = up ? field->file.most : field->file.least;
    if (up ? field->below : field->above)
        return end;
    return field->kind == TCR_KIND_DOUBLE ? nextafter(end, up ? INFINITY : -INFINITY)
                                          : end + (up ? 1.0 : -1.0);
}

CLAIM(every_number_of_a_set_file_is_taken_at_both_ends_and_refused_just_beyond) {
    for (size_t b = 0; b < sizeof BLOCKS / sizeof *BLOCKS; b++) {
        size_t count;
        const tcr_field *fields = tcr_fields(BLOCKS[b].group, &count);
        for (size_t i = 0; i < count; i++)
            for (int up = 0; up < 2; up++) {
                const tcr_field *field = &fields[i];
                const double out = beyond(field, up != 0);
                tcr_set_file *file = NULL;
                tcr_error error = tcr_error_none();
                if (field->kind == TCR_KIND_LABEL)
                    continue;
                const bool open = up ? field->below : field->above;
                expect_taken(b, field,
                             open ? nextafter(out, 0.0)
                             : up ? field->file.most
                                  : field->file.least);
                if (field->words != NULL)
                    continue;
                expect_status(read_with(b, field, out, &file, &error), TCR_E_CONTENT);
                expect_true(file == NULL);
                expect_beyond(&error, field, out);
            }
    }
}

/* A survey of one lash with one more number. */
static tcr_status read_row(const tcr_field *field, const char *prefix, double value, tcr_set *set,
                           tcr_error *error) {
    char text[256], number[TCR_NUMBER_SIZE];
    tcr_allocator allocator = tcr_allocator_default();
    tcr_survey_rows rows = {0};
    value_text(field, value, number);
    if (*prefix == '\0' && (strcmp(field->key, "u") == 0 || strcmp(field->key, "layer") == 0 ||
                            strcmp(field->key, "length_mm") == 0))
        snprintf(text, sizeof text, "id,u,layer,length_mm\na,%s,%s,%s\n",
                 strcmp(field->key, "u") == 0 ? number : "0.5",
                 strcmp(field->key, "layer") == 0 ? number : "top",
                 strcmp(field->key, "length_mm") == 0 ? number : "8");
    else
        snprintf(text, sizeof text, "id,u,layer,length_mm,%s%s\na,0.5,top,8,%s\n", prefix,
                 field->key, number);
    given("%s", text);
    const tcr_status status =
        tcr_survey_parse(&allocator, text, strlen(text), "left.csv", set, TCR_LEFT, &rows, error);
    tcr_survey_rows_release(&allocator, &rows);
    return status;
}

static void expect_column(tcr_group group, const tcr_field *field, const char *prefix) {
    for (int up = 0; up < 2; up++) {
        const double out = beyond(field, up != 0);
        const bool open = up ? field->below : field->above;
        const double in = open ? nextafter(out, 0.0) : up ? field->file.most : field->file.least;
        tcr_set *set;
        tcr_error error = tcr_error_none();
        expect_status(tcr_set_new(NULL, &set), TCR_OK);
        expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
        tcr_status status = read_row(field, prefix, in, set, &error);
        if (status == TCR_OK) {
            const void *object = group == TCR_GROUP_LASH
                                     ? (const void *)tcr_set_lash(set, TCR_LEFT, 0)
                                     : (const void *)tcr_set_wish(set, TCR_LEFT, 0);
            expect_same(tcr_field_value(field, object), in, "as in the survey");
        } else {
            expect_true(strstr(field->key, "diameter_mm") != NULL && error.member == NULL);
        }
        if (field->words == NULL) {
            expect_status(read_row(field, prefix, out, set, &error), TCR_E_CONTENT);
            expect_beyond(&error, field, out);
            expect_count(error.side, TCR_LEFT);
            expect_count(error.lash, 0);
        }
        tcr_set_free(set);
    }
}

CLAIM(every_number_of_a_survey_is_taken_at_both_ends_and_refused_just_beyond) {
    static const tcr_group GROUPS[] = {TCR_GROUP_LASH, TCR_GROUP_WISH};
    for (size_t g = 0; g < 2; g++) {
        size_t count;
        const tcr_field *fields = tcr_fields(GROUPS[g], &count);
        for (size_t i = 0; i < count; i++)
            if (fields[i].kind != TCR_KIND_LABEL)
                expect_column(GROUPS[g], &fields[i], g == 0 ? "" : "ext_");
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &every_number_of_a_set_file_is_taken_at_both_ends_and_refused_just_beyond,
        &every_number_of_a_survey_is_taken_at_both_ends_and_refused_just_beyond,
    };
    return RUN_CLAIMS("fields of files", claims);
}
