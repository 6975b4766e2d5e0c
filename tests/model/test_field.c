/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of fields: every number through C at both ends of its range and refused just beyond,
 * with its name; that the validators of single structs keep to the table; the messages.
 */
#include <tipcrest/field.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/describe.h>
#include <tipcrest/extension.h>
#include <tipcrest/lid.h>
#include <tipcrest/map.h>
#include <tipcrest/plan.h>
#include <tipcrest/view.h>

#include "num/range.h"
#include "support/check.h"
#include "support/make.h"

/* Room for the struct of any group. */
typedef union any_object {
    tcr_lid lid;
    tcr_lash lash;
    tcr_wish wish;
    tcr_extension extension;
    tcr_zone zone;
    tcr_layering layering;
    tcr_tray tray;
    tcr_bond bond;
    tcr_profile profile;
    double line;
    tcr_view view;
    tcr_description description;
    tcr_limits limits;
    tcr_plan_pace pace;
} any_object;

/* An object of a group with each field at its default, or at its least where it has none. */
static any_object usual(tcr_group group) {
    any_object object;
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    memset(&object, 0, sizeof object);
    tcr_fields_default(group, &object);
    if (group == TCR_GROUP_MEAN_LASH)
        object.lash.u = 0.5;
    if (group == TCR_GROUP_EXTENSION)
        object.extension.profile = (tcr_profile){1, {1.0}, {0.0}};
    if (group == TCR_GROUP_WISH)
        object.wish.fixed = TCR_FIX_ALL & ~(unsigned)TCR_FIX_BARE;
    for (size_t i = 0; i < count; i++)
        if (fields[i].kind != TCR_KIND_LABEL && isnan(fields[i].file.standard))
            expect_status(
                tcr_field_put(&fields[i], &object,
                              fields[i].above ? fields[i].file.most : fields[i].file.least, NULL),
                TCR_OK);
    return object;
}

/* The next value into the range from an end, or out of it. */
static double beside(const tcr_field *field, double end, bool up) {
    return field->kind == TCR_KIND_DOUBLE ? nextafter(end, up ? INFINITY : -INFINITY)
                                          : end + (up ? 1.0 : -1.0);
}

static void expect_refused(const tcr_field *field, any_object object, double value) {
    const any_object before = object;
    tcr_error error = tcr_error_none();
    given("%s of %.17g", field->key, value);
    expect_status(tcr_field_put(field, &object, value, &error), TCR_E_RANGE);
    expect_bytes(&object, &before, sizeof object);
    expect_count(error.status, TCR_E_RANGE);
    expect_text(error.member, field->key);
    expect_same(error.least, field->file.least, "the table's");
    expect_same(error.most, field->file.most, "the table's");
    expect_true(strstr(error.message, field->key) == error.message);
    expect_true(isnan(value) ? isnan(error.value) : error.value == value);
    expect_status(tcr_field_validate(field, value, NULL), TCR_E_RANGE);
}

CLAIM(every_field_takes_both_ends_and_is_refused_just_beyond_with_its_key) {
    for (int g = 0; g < TCR_GROUPS; g++) {
        size_t count;
        const tcr_field *fields = tcr_fields((tcr_group)g, &count);
        expect_true(count > 0);
        for (size_t i = 0; i < count; i++) {
            const tcr_field *field = &fields[i];
            any_object object = usual((tcr_group)g);
            if (field->kind == TCR_KIND_LABEL)
                continue;
            for (int end = 0; end < 2; end++) {
                const bool open = end == 0 ? field->above : field->below;
                const double limit = end == 0 ? field->file.least : field->file.most;
                const double inside = open ? beside(field, limit, end == 0) : limit;
                given("group %d, %s of %.17g", g, field->key, inside);
                expect_status(tcr_field_put(field, &object, inside, NULL), TCR_OK);
                expect_near(tcr_field_value(field, &object), inside, 1e-13 * fabs(inside),
                            "an angle goes through radians: two roundings");
                if (!open)
                    expect_same(tcr_field_value(field, &object), inside, "few digits come back");
                expect_status(tcr_fields_validate((tcr_group)g, &object, NULL), TCR_OK);
                expect_refused(field, object, open ? limit : beside(field, limit, end != 0));
            }
            expect_refused(field, object, NAN);
            expect_refused(field, object, INFINITY);
            if (field->kind != TCR_KIND_DOUBLE)
                expect_refused(field, object, field->file.least + 0.5);
        }
    }
}

/* Holds a claim to every double of the table. */
static void for_every_double(void (*claim)(tcr_group group, const tcr_field *field)) {
    for (int g = 0; g < TCR_GROUPS; g++) {
        size_t count;
        const tcr_field *fields = tcr_fields((tcr_group)g, &count);
        for (size_t i = 0; i < count; i++)
            if (fields[i].kind == TCR_KIND_DOUBLE)
                claim((tcr_group)g, &fields[i]);
    }
}

/* A double that the check refuses in C, a little beyond an end. */
static void expect_member_refused(tcr_group group, const tcr_field *field, double value) {
    any_object object = usual(group);
    tcr_error error = tcr_error_none();
    memcpy((char *)&object + field->offset, &value, sizeof value);
    given("group %d, %s of %.17g", (int)group, field->member, value);
    expect_status(tcr_fields_validate(group, &object, &error), TCR_E_RANGE);
    expect_text(error.member, field->member);
    expect_true(strstr(error.message, field->member) == error.message);
    expect_count(error.lash == SIZE_MAX && error.zone == SIZE_MAX && error.side == -1, 1);
}

static void expect_named_beyond(tcr_group group, const tcr_field *f) {
    expect_member_refused(group, f, nextafter(f->core.least, -INFINITY));
    expect_member_refused(group, f, nextafter(f->core.most, INFINITY));
    if (!f->unknown)
        expect_member_refused(group, f, NAN);
}

CLAIM(the_check_of_a_group_names_the_member_that_is_just_beyond) {
    for_every_double(expect_named_beyond);
}

/* The status of a struct's own validator. */
static tcr_status check_alone(tcr_group group, const any_object *object, tcr_error *error) {
    switch (group) {
    case TCR_GROUP_LID:
        return tcr_lid_validate(&object->lid, error);
    case TCR_GROUP_LASH:
    case TCR_GROUP_MEAN_LASH:
        return tcr_lash_validate(&object->lash, error);
    case TCR_GROUP_EXTENSION:
        return tcr_extension_validate(&object->extension, error);
    case TCR_GROUP_LAYERING:
    case TCR_GROUP_PLACEMENT:
        return tcr_layering_validate(&object->layering, error);
    case TCR_GROUP_BOND:
        return tcr_bond_validate(&object->bond, error);
    case TCR_GROUP_VIEW:
        return tcr_view_validate(&object->view, error);
    case TCR_GROUP_DESCRIPTION:
        return tcr_description_validate(&object->description, error);
    default:
        return tcr_fields_validate(group, object, error);
    }
}

static void expect_refused_alone(tcr_group group, const tcr_field *f) {
    for (int end = 0; end < 2; end++) {
        any_object object = usual(group);
        tcr_error error = tcr_error_none();
        const double out =
            end == 0 ? nextafter(f->core.least, -INFINITY) : nextafter(f->core.most, INFINITY);
        memcpy((char *)&object + f->offset, &out, sizeof out);
        given("group %d, %s of %.17g", (int)group, f->member, out);
        expect_status(check_alone(group, &object, &error), TCR_E_RANGE);
        expect_text(error.member, f->member);
    }
}

CLAIM(validators_of_single_structs_keep_to_the_table) { for_every_double(expect_refused_alone); }

/* A lash and an extension have quick checks of their own. */
CLAIM(a_lash_and_an_extension_are_taken_at_both_ends_of_every_range) {
    static const tcr_group QUICK[] = {TCR_GROUP_LASH, TCR_GROUP_EXTENSION};
    for (size_t g = 0; g < 2; g++) {
        size_t count;
        const tcr_field *fields = tcr_fields(QUICK[g], &count);
        for (size_t i = 0; i < count; i++)
            for (int end = 0; end < 2; end++) {
                const tcr_field *f = &fields[i];
                const double at = end == 0 ? f->core.least : f->core.most;
                any_object object = usual(QUICK[g]);
                const int word = (int)at;
                tcr_error error = tcr_error_none();
                if (QUICK[g] == TCR_GROUP_LASH) /* no tip is thicker than its root */
                    object.lash.root_diameter_mm = 0.2;
                if (strcmp(f->key, "root_diameter_mm") == 0)
                    object.lash.tip_diameter_mm = 0.0;
                given("%s of %.17g", f->member, at);
                if (f->kind == TCR_KIND_DOUBLE)
                    memcpy((char *)&object + f->offset, &at, sizeof at);
                else
                    memcpy((char *)&object + f->offset, &word, sizeof word);
                expect_status(check_alone(QUICK[g], &object, &error), TCR_OK);
                if (f->kind != TCR_KIND_ENUM)
                    continue;
                const int beyond = end == 0 ? -1 : word + 1;
                memcpy((char *)&object + f->offset, &beyond, sizeof beyond);
                expect_status(check_alone(QUICK[g], &object, &error), TCR_E_ARGUMENT);
                expect_text(error.member, f->member);
            }
    }
}

/* Source of the values: model.md, sections 2 to 7 and 11, and interface.md's table of ranges. */
CLAIM(ranges_and_defaults_are_those_of_the_contract) {
    static const struct {
        tcr_group group;
        const char *key;
        double least, most, standard;
    } CONTRACT[] = {
        {TCR_GROUP_LID, "fissure_width_mm", 15, 40, 27},
        {TCR_GROUP_LID, "canthal_tilt_deg", -20, 20, 5},
        {TCR_GROUP_LID, "inner_corner_height_mm", -5, 5, -1.5},
        {TCR_GROUP_LID, "mrd1_mm", 0, 8, 3.5},
        {TCR_GROUP_LID, "mrd2_mm", 2, 10, 5.2},
        {TCR_GROUP_LID, "peak_offset_mm", -6, 6, -0.938},
        {TCR_GROUP_LID, "fullness", 0.8, 4, 1.6},
        {TCR_GROUP_LID, "globe_radius_mm", 8, 16, 12},
        {TCR_GROUP_LASH, "u", 0.02, 0.98, NAN},
        {TCR_GROUP_LASH, "height_mm", -2, 8, 0},
        {TCR_GROUP_LASH, "pitch_deg", -85, 85, -10},
        {TCR_GROUP_LASH, "yaw_deg", -85, 85, -10},
        {TCR_GROUP_LASH, "roll_deg", -90, 90, 0},
        {TCR_GROUP_LASH, "length_mm", 0.3, 20, 7.5},
        {TCR_GROUP_LASH, "final_length_mm", 1, 20, NAN},
        {TCR_GROUP_LASH, "turn_deg", -60, 200, 60},
        {TCR_GROUP_LASH, "root_diameter_mm", 0.02, 0.2, 0.08},
        {TCR_GROUP_WISH, "length_mm", 3, 30, NAN},
        {TCR_GROUP_WISH, "diameter_mm", 0.02, 0.3, NAN},
        {TCR_GROUP_WISH, "fan", 1, 20, NAN},
        {TCR_GROUP_WISH, "spread_deg", 0, 120, NAN},
        {TCR_GROUP_LAYERING, "step_mm", 0, 3, 1},
        {TCR_GROUP_LAYERING, "diameter_mm", 0.02, 0.3, 0.15},
        {TCR_GROUP_PIECE, "turn_deg", -90, 270, NAN},
        {TCR_GROUP_VIEW, "opening", 0, 1, 1},
        {TCR_GROUP_VIEW, "viewer_deg", -80, 80, 0},
        {TCR_GROUP_LINE, "tolerance_mm", 0.05, 5, 0.5},
        {TCR_GROUP_BOND, "offset_mm", 0, 3, 0.7},
        {TCR_GROUP_BOND, "length_mm", 1, 8, 3},
        {TCR_GROUP_BOND, "glue_mm", 0, 0.2, 0.03},
        {TCR_GROUP_DESCRIPTION, "count", 1, 100000, 96},
        {TCR_GROUP_DESCRIPTION, "pitch_sd_deg", 0, 20, 4},
        {TCR_GROUP_DESCRIPTION, "length_sd_mm", 0, 3, 1},
        {TCR_GROUP_DESCRIPTION, "stray_share", 0, 1, 0.02},
    };
    for (size_t i = 0; i < sizeof CONTRACT / sizeof *CONTRACT; i++) {
        const tcr_field *field = tcr_field_find(CONTRACT[i].group, CONTRACT[i].key);
        given("%s", CONTRACT[i].key);
        ck_assert(field != NULL);
        expect_same(field->file.least, CONTRACT[i].least, "the contract's");
        expect_same(field->file.most, CONTRACT[i].most, "the contract's");
        if (isnan(CONTRACT[i].standard))
            expect_nan(field->file.standard);
        else
            expect_same(field->file.standard, CONTRACT[i].standard, "the contract's");
    }
}

CLAIM(every_default_is_in_its_range_and_says_where_it_comes_from) {
    for (int g = 0; g < TCR_GROUPS; g++) {
        size_t count;
        const tcr_field *fields = tcr_fields((tcr_group)g, &count);
        for (size_t i = 0; i < count; i++) {
            const tcr_field *f = &fields[i];
            given("group %d, %s", g, f->key);
            expect_true(tcr_field_find((tcr_group)g, f->key) == f);
            expect_true((f->source == TCR_SOURCE_PUBLISHED) == (f->reference != NULL));
            expect_true((f->kind == TCR_KIND_ENUM || f->kind == TCR_KIND_BOOL) ==
                        (f->words != NULL));
            if (!isnan(f->file.standard))
                expect_status(tcr_field_validate(f, f->file.standard, NULL), TCR_OK);
            if (f->unit == TCR_UNIT_DEGREES && !isnan(f->file.standard))
                expect_same(f->core.standard, f->file.standard * TCR_DEG, "the same product");
        }
    }
    expect_true(tcr_field_find(TCR_GROUP_LID, "pitch_deg") == NULL);
    expect_true(tcr_field_find((tcr_group)TCR_GROUPS, "u") == NULL);
    expect_true(tcr_field_find(TCR_GROUP_LID, NULL) == NULL);
}

/* README's table of assumptions, read as text. */
CLAIM(the_readme_has_the_defaults_and_sources_of_the_table) {
    static const struct {
        const char *row; /* how a row begins */
        tcr_group group;
        const char *key, *unit;
    } ROWS[] = {
        {"| width of the eye between its corners |", TCR_GROUP_LID, "fissure_width_mm", " mm"},
        {"| outer corner higher than the inner one |", TCR_GROUP_LID, "canthal_tilt_deg", "°"},
        {"| lid's edge above the pupil's centre", TCR_GROUP_LID, "mrd1_mm", " mm"},
        {"| where the lids meet below it", TCR_GROUP_LID, "mrd2_mm", " mm"},
        {"| fullness of the lid's curve |", TCR_GROUP_LID, "fullness", ""},
        {"| radius of the eyeball |", TCR_GROUP_LID, "globe_radius_mm", " mm"},
        {"| half width of the surface", TCR_GROUP_LID, "lateral_semiaxis_mm", " mm"},
        {"| length of a lash, its spread |", TCR_GROUP_LASH, "length_mm", " mm"},
        {"| its turn from root to tip |", TCR_GROUP_LASH, "turn_deg", "°"},
        {"| its thickness at root and tip |", TCR_GROUP_LASH, "root_diameter_mm", " mm"},
        {"| layers above each other |", TCR_GROUP_DESCRIPTION, "gap_mm", " mm"},
        {"| step of the layering rule |", TCR_GROUP_LAYERING, "step_mm", " mm"},
        {"| extension's diameter |", TCR_GROUP_LAYERING, "diameter_mm", " mm"},
        {"| bond: distance from the skin, length |", TCR_GROUP_BOND, "offset_mm", " mm"},
        {"| glue between lash and extension |", TCR_GROUP_BOND, "glue_mm", " mm"},
        {"| tolerance |", TCR_GROUP_LINE, "tolerance_mm", " mm"},
        {"| a described eye: lashes", TCR_GROUP_DESCRIPTION, "count", ""},
    };
    static const char *const LETTER[] = {
        [TCR_SOURCE_PUBLISHED] = "| P", [TCR_SOURCE_TRADE] = "| T", [TCR_SOURCE_ASSUMED] = "| A"};
    static char text[400000];
    const char *source = getenv("TIPCREST_SOURCE");
    char path[4096], number[64], line[1024];
    snprintf(path, sizeof path, "%s/README.md", source != NULL ? source : ".");
    FILE *readme = fopen(path, "rb");
    ck_assert(readme != NULL);
    text[fread(text, 1, sizeof text - 1, readme)] = '\0';
    expect_count(fclose(readme), 0);
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const tcr_field *field = tcr_field_find(ROWS[i].group, ROWS[i].key);
        const char *row = strstr(text, ROWS[i].row);
        given("%s", ROWS[i].row);
        ck_assert(row != NULL && field != NULL);
        snprintf(line, sizeof line, "%.*s", (int)strcspn(row, "\n"), row);
        const char *cell = strchr(line + 1, '|');
        ck_assert(cell != NULL);
        snprintf(number, sizeof number, "%.15g", field->file.standard);
        expect_true(strncmp(cell + 2, number, strlen(number)) == 0);
        expect_true(strstr(cell, ROWS[i].unit) != NULL);
        expect_true(strstr(cell, LETTER[field->source]) != NULL);
    }
}

static void expect_message(tcr_status got, tcr_status status, const tcr_error *error,
                           const char *message) {
    expect_status(got, status);
    expect_count(error->status, status);
    expect_text(error->message, message);
}

CLAIM(messages_of_c_name_the_member_in_radians) {
    tcr_error error = tcr_error_none();
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.pitch_rad = 40.0;
    expect_message(tcr_lash_validate(&lash, &error), TCR_E_RANGE, &error,
                   "pitch_rad is 40, but must be from -1.48 to 1.48; 40 degrees are 0.698");
    expect_same(error.value, 40.0, "as given");
    lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.length_mm = 0.2;
    expect_message(tcr_lash_validate(&lash, &error), TCR_E_RANGE, &error,
                   "length_mm is 0.2, but must be from 0.3 to 20");
    lash.length_mm = NAN;
    expect_message(tcr_lash_validate(&lash, &error), TCR_E_RANGE, &error,
                   "length_mm is not a number, but must be from 0.3 to 20");
    lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.final_length_mm = 0.5;
    expect_message(tcr_lash_validate(&lash, &error), TCR_E_RANGE, &error,
                   "final_length_mm is 0.5, but must be from 1 to 20, or NaN where it is not "
                   "known");
    lash.final_length_mm = NAN;
    lash.tip_diameter_mm = 0.1;
    expect_message(tcr_lash_validate(&lash, &error), TCR_E_RANGE, &error,
                   "tip_diameter_mm is 0.1; it is at most root_diameter_mm, 0.08 here");
    tcr_lid lid = tcr_lid_default();
    lid.lateral_semiaxis_mm = 13.0;
    expect_message(tcr_lid_validate(&lid, &error), TCR_E_SEMIAXIS, &error,
                   "lateral_semiaxis_mm is 13, but must be above 13.5, half of fissure_width_mm");
    lid = tcr_lid_default();
    lid.mrd1_mm = 8.0;
    lid.globe_radius_mm = 8.0;
    expect_message(tcr_lid_validate(&lid, &error), TCR_E_MRD1, &error,
                   "mrd1_mm is 8; with the other measures the open lid then leaves the globe");
}

CLAIM(messages_of_files_name_the_key_in_degrees_and_what_was_meant) {
    tcr_error error = tcr_error_none();
    const tcr_field *pitch = tcr_field_find(TCR_GROUP_LASH, "pitch_deg");
    expect_message(tcr_field_validate(pitch, 350.0, &error), TCR_E_RANGE, &error,
                   "pitch_deg is 350, but must be above -85 and below 85 degrees; 350 degrees are "
                   "the same as -10");
    expect_message(tcr_field_validate(tcr_field_find(TCR_GROUP_VIEW, "opening"), 60.0, &error),
                   TCR_E_RANGE, &error,
                   "opening is 60, but must be from 0 to 1; it is a share, not per cent: 60 per "
                   "cent is 0.6");
    expect_message(tcr_field_validate(tcr_field_find(TCR_GROUP_LAYERING, "fan"), 2.5, &error),
                   TCR_E_RANGE, &error, "fan is 2.5, but must be a whole number from 1 to 20");
}

CLAIM(many_objects_take_what_each_takes_all_or_none) {
    enum { N = 5 };
    const tcr_field *field = tcr_field_find(TCR_GROUP_LASH, "pitch_deg");
    struct {
        int before;
        tcr_lash lash;
    } row[N], same[N];
    tcr_error error = tcr_error_none();
    double value[N] = {-84.0, 0.1, NAN, 33.3, 12.0}, back[N];
    memset(row, 0, sizeof row);
    memset(same, 0, sizeof same);
    for (int i = 0; i < N; i++)
        if (!isnan(value[i]))
            expect_status(tcr_field_put(field, &same[i].lash, value[i], NULL), TCR_OK);
    expect_status(tcr_field_put_n(field, &row[0].lash, sizeof *row, N, value, &error), TCR_OK);
    expect_bytes(row, same, sizeof row); /* a NaN leaves its object as it is */
    expect_status(tcr_field_value_n(field, &row[0].lash, sizeof *row, N, back), TCR_OK);
    for (int i = 0; i < N; i++)
        expect_same(back[i], tcr_field_value(field, &row[i].lash), "the same operations");
    value[0] = 1.0;
    value[3] = 85.0;
    expect_status(tcr_field_put_n(field, &row[0].lash, sizeof *row, N, value, &error), TCR_E_RANGE);
    expect_bytes(row, same, sizeof row);
    expect_count(error.lash, 3);
    expect_text(error.member, "pitch_deg");
    /* Source: field.h. */
    tcr_lash *lash = &row[0].lash;
    expect_status(tcr_field_put_n(NULL, lash, sizeof *row, 1, back, &error), TCR_E_ARGUMENT);
    expect_status(tcr_field_put_n(field, NULL, sizeof *row, 1, back, &error), TCR_E_ARGUMENT);
    expect_status(tcr_field_put_n(field, lash, sizeof *row, 1, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_field_put_n(field, NULL, 0, 0, NULL, NULL), TCR_OK);
    expect_status(tcr_field_value_n(NULL, lash, sizeof *row, 1, back), TCR_E_ARGUMENT);
    expect_status(tcr_field_value_n(field, NULL, sizeof *row, 1, back), TCR_E_ARGUMENT);
    expect_status(tcr_field_value_n(field, lash, sizeof *row, 1, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_field_value_n(field, NULL, 0, 0, NULL), TCR_OK);
}

CLAIM(what_is_no_field_or_object_is_refused) {
    any_object object = usual(TCR_GROUP_BOND);
    tcr_error error = tcr_error_none();
    const tcr_field *field = tcr_fields(TCR_GROUP_BOND, NULL);
    expect_status(tcr_field_put(NULL, &object, 1.0, &error), TCR_E_ARGUMENT);
    expect_status(tcr_field_put(field, NULL, 1.0, &error), TCR_E_ARGUMENT);
    expect_status(tcr_field_put(tcr_field_find(TCR_GROUP_WISH, "curl"), &object, 1.0, &error),
                  TCR_E_ARGUMENT);
    expect_nan(tcr_field_value(NULL, &object));
    expect_nan(tcr_field_value(field, NULL));
    expect_status(tcr_fields_validate(TCR_GROUP_BOND, NULL, &error), TCR_E_ARGUMENT);
    expect_status(tcr_fields_validate((tcr_group)TCR_GROUPS, &object, NULL), TCR_E_ARGUMENT);
    expect_text(tcr_source_text(TCR_SOURCE_TRADE), "common practice");
    expect_text(tcr_source_text((tcr_source)9), "");
    tcr_fields_default(TCR_GROUP_BOND, NULL);
    tcr_fields_default((tcr_group)-1, &object);
}

CLAIM(notes_say_what_their_number_is) {
    /* What each number is: the headers of the structs, and model.md. A part of its note that no
     * neighbour has. */
    static const struct {
        tcr_group group;
        const char *key, *part;
    } NOTES[] = {
        {TCR_GROUP_LID, "fissure_width_mm", "from the inner to the outer corner"},
        {TCR_GROUP_LID, "canthal_tilt_deg", "rises outwards"},
        {TCR_GROUP_LID, "mrd1_mm", "up to the edge"},
        {TCR_GROUP_LID, "mrd2_mm", "lids meet"},
        {TCR_GROUP_LID, "globe_radius_mm", "eyeball"},
        {TCR_GROUP_LASH, "pitch_deg", "grows up"},
        {TCR_GROUP_LASH, "yaw_deg", "grows towards the outer corner"},
        {TCR_GROUP_LASH, "roll_deg", "leans"},
        {TCR_GROUP_LASH, "turn_deg", "curls"},
        {TCR_GROUP_LASH, "height_mm", "of the root"},
        {TCR_GROUP_LASH, "root_diameter_mm", "at the root"},
        {TCR_GROUP_LASH, "tip_diameter_mm", "at the tip"},
        {TCR_GROUP_WISH, "diameter_mm", "thick"},
        {TCR_GROUP_WISH, "fan", "fibres on one base"},
        {TCR_GROUP_WISH, "spread_deg", "wide"},
        {TCR_GROUP_ZONE, "to", "ends"},
        {TCR_GROUP_ZONE, "length_mm", "bottom layer"},
        {TCR_GROUP_LAYERING, "step_mm", "each layer up"},
        {TCR_GROUP_LAYERING, "diameter_mm", "thick"},
        {TCR_GROUP_PLACEMENT, "bottom", "bottom"},
        {TCR_GROUP_PLACEMENT, "middle", "middle"},
        {TCR_GROUP_PLACEMENT, "top", "top"},
        {TCR_GROUP_BOND, "offset_mm", "from the skin"},
        {TCR_GROUP_BOND, "length_mm", "are glued"},
        {TCR_GROUP_BOND, "glue_mm", "between them"},
        {TCR_GROUP_LINE, "tolerance_mm", "staggered"},
        {TCR_GROUP_LINE, "seen_from_mm", "distance"},
        {TCR_GROUP_LINE, "shared", "two eyes"},
        {TCR_GROUP_VIEW, "opening", "open"},
        {TCR_GROUP_VIEW, "viewer_deg", "from above"},
        {TCR_GROUP_DESCRIPTION, "length_inner_share", "inner corner"},
        {TCR_GROUP_DESCRIPTION, "length_outer_share", "outer corner"},
        {TCR_GROUP_DESCRIPTION, "baby_below_mm", "babies"},
        {TCR_GROUP_DESCRIPTION, "weak_below_mm", "weak"},
        {TCR_GROUP_LIMITS, "baby_below_mm", "shorter"},
        {TCR_GROUP_LIMITS, "thin_below_mm", "thinner"},
        {TCR_GROUP_LIMITS, "stray_above_mm", "root higher"},
        {TCR_GROUP_LIMITS, "out_of_fan_deg", "out of the fan"},
        {TCR_GROUP_LIMITS, "overlength_mm", "longer than its lash"},
        {TCR_GROUP_LIMITS, "mass_ratio", "heavy"},
        {TCR_GROUP_LIMITS, "moment_ratio", "turning force"},
        {TCR_GROUP_PACE, "setting_s", "soft"},
        {TCR_GROUP_PACE, "distance_mm", "distance"},
        {TCR_GROUP_PACE, "lash_s", "for a lash"},
        {TCR_GROUP_PACE, "change_s", "row of the tray"},
        {TCR_GROUP_PACE, "eye_change_s", "other eye"},
        {TCR_GROUP_PACE, "preparation_min", "before the first"},
        {TCR_GROUP_PACE, "loss_share", "lost"},
        {TCR_GROUP_PACE, "drop_min", "drop of glue"},
    };
    for (size_t i = 0; i < sizeof NOTES / sizeof *NOTES; i++) {
        const tcr_field *field = tcr_field_find(NOTES[i].group, NOTES[i].key);
        given("%s, \"%s\"", NOTES[i].key, NOTES[i].part);
        ck_assert_ptr_nonnull(field);
        expect_true(strstr(field->note, NOTES[i].part) != NULL);
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &every_field_takes_both_ends_and_is_refused_just_beyond_with_its_key,
        &the_check_of_a_group_names_the_member_that_is_just_beyond,
        &validators_of_single_structs_keep_to_the_table,
        &a_lash_and_an_extension_are_taken_at_both_ends_of_every_range,
        &ranges_and_defaults_are_those_of_the_contract,
        &every_default_is_in_its_range_and_says_where_it_comes_from,
        &the_readme_has_the_defaults_and_sources_of_the_table,
        &messages_of_c_name_the_member_in_radians,
        &messages_of_files_name_the_key_in_degrees_and_what_was_meant,
        &many_objects_take_what_each_takes_all_or_none,
        &what_is_no_field_or_object_is_refused,
        &notes_say_what_their_number_is,
    };
    return RUN_CLAIMS("fields", claims);
}
