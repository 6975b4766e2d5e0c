/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a set says of a call that it refused: which number, its value and range, and which eye,
 * lash, zone and layer. Ranges: the table of fields, held to the contract by test_field.
 */
#include <tipcrest/set.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/describe.h>
#include <tipcrest/field.h>

#include "support/check.h"
#include "support/digest.h"

/* What is wrong is put into here; the struct of any group whose numbers a set takes. */
typedef union object {
    tcr_lid lid;
    tcr_lash lash;
    tcr_wish wish;
    tcr_zone zone;
    tcr_layering layering;
    tcr_tray tray;
    tcr_bond bond;
    tcr_line_rule line;
    tcr_view view;
    tcr_description description;
} object;

enum { ALL_NUMBERS = TCR_FIX_ALL & ~(TCR_FIX_BARE | TCR_FIX_CURL | TCR_FIX_FROM_SKIN) };
static const size_t NO = SIZE_MAX;
static const tcr_zone ZONES[] = {{.to = 0.5, .length_mm = 10.0, .curl = "C"},
                                 {.to = 1.0, .length_mm = 12.0, .curl = "C"}};
static const tcr_wish WORN = {
    .fixed = ALL_NUMBERS, .length_mm = 10.0, .diameter_mm = 0.1, .fan = 2};

/* Two eyes with maps; three lashes at the right one, "a" to "c". */
static tcr_set *make_set(void) {
    static const char *const IDS[] = {"a", "b", "c"};
    tcr_lash lashes[3];
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, ZONES, 2), TCR_OK);
    }
    for (int i = 0; i < 3; i++)
        lashes[i] = tcr_lash_unknown(0.2 + 0.3 * i, TCR_BOTTOM);
    expect_status(tcr_set_add_lashes(set, TCR_RIGHT, 3, IDS, lashes, NULL), TCR_OK);
    return set;
}

/* ---- Each setter with an object of its group ---- */

static tcr_status set_layering(tcr_set *set, const object *o) {
    return tcr_set_put_layering(set, &o->layering);
}
static tcr_status set_tray(tcr_set *set, const object *o) {
    return tcr_set_put_tray(set, &o->tray);
}
static tcr_status set_bond(tcr_set *set, const object *o) {
    return tcr_set_put_bond(set, &o->bond);
}
static tcr_status set_line(tcr_set *set, const object *o) {
    return tcr_set_put_line(set, &o->line);
}
static tcr_status set_view(tcr_set *set, const object *o) {
    return tcr_set_put_view(set, &o->view);
}
static tcr_status set_mean(tcr_set *set, const object *o) {
    return tcr_set_put_mean_lash(set, &o->lash);
}
static tcr_status add_eye(tcr_set *set, const object *o) {
    (void)tcr_set_remove_eye(set, TCR_LEFT); /* missing where the call before failed */
    return tcr_set_add_eye(set, TCR_LEFT, &o->lid);
}
static tcr_status replace_lid(tcr_set *set, const object *o) {
    return tcr_set_replace_lid(set, TCR_LEFT, &o->lid);
}
static tcr_status add_lash(tcr_set *set, const object *o) {
    return tcr_set_add_lash(set, TCR_RIGHT, "d", &o->lash, NULL);
}
static tcr_status add_lashes(tcr_set *set, const object *o) {
    const tcr_lash lashes[] = {tcr_lash_unknown(0.3, TCR_TOP), tcr_lash_unknown(0.4, TCR_TOP),
                               o->lash};
    return tcr_set_add_lashes(set, TCR_RIGHT, 3, NULL, lashes, NULL);
}
static tcr_status replace_lash(tcr_set *set, const object *o) {
    return tcr_set_replace_lash(set, TCR_RIGHT, 1, &o->lash);
}
static tcr_status replace_wish(tcr_set *set, const object *o) {
    return tcr_set_replace_wish(set, TCR_RIGHT, 2, &o->wish);
}
static tcr_status add_wish(tcr_set *set, const object *o) {
    const tcr_lash lash = tcr_lash_unknown(0.3, TCR_TOP);
    return tcr_set_add_lash(set, TCR_RIGHT, "d", &lash, &o->wish);
}
static tcr_status describe(tcr_set *set, const object *o) {
    return tcr_set_describe(set, TCR_LEFT, &o->description);
}
static tcr_status map_zone(tcr_set *set, const object *o) {
    const tcr_zone zones[] = {{.to = 0.2, .length_mm = 10.0, .curl = "C"}, o->zone, ZONES[1]};
    return tcr_set_put_map(set, TCR_RIGHT, zones, 3);
}
static tcr_status intend_zone(tcr_set *set, const object *o) {
    const tcr_zone zones[] = {{.to = 0.2, .length_mm = 10.0, .curl = "C"}, o->zone, ZONES[1]};
    return tcr_set_put_intended(set, TCR_LEFT, zones, 3);
}
static tcr_status map_layer(tcr_set *set, const object *o) {
    tcr_zone zones[] = {ZONES[0], ZONES[1]};
    zones[1].layer[TCR_TOP] = o->wish;
    return tcr_set_put_map(set, TCR_LEFT, zones, 2);
}

static object usual(tcr_group group) {
    object o = {0};
    tcr_fields_default(group, &o);
    switch (group) {
    case TCR_GROUP_LID:
        o.lid = tcr_lid_default();
        break;
    case TCR_GROUP_LASH:
    case TCR_GROUP_MEAN_LASH:
        o.lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
        break;
    case TCR_GROUP_WISH:
        o.wish = WORN;
        break;
    case TCR_GROUP_ZONE:
        o.zone = ZONES[0];
        break;
    case TCR_GROUP_LAYERING:
    case TCR_GROUP_PLACEMENT:
        o.layering = tcr_layering_default();
        break;
    case TCR_GROUP_TRAY:
        o.tray = (tcr_tray){.count = 1, .length_mm = {10.0}};
        break;
    case TCR_GROUP_LINE:
        o.line = tcr_line_rule_default();
        break;
    default:
        break;
    }
    return o;
}

static void put(const tcr_field *field, object *o, double value) {
    char *at = (char *)o + field->offset;
    if (field->kind == TCR_KIND_DOUBLE)
        memcpy(at, &value, sizeof value);
    else if (field->kind == TCR_KIND_SIZE)
        memcpy(at, &(size_t){(size_t)value}, sizeof(size_t));
    else
        memcpy(at, &(int){(int)value}, sizeof(int));
}

/* A call of a set and where it puts what it is given. */
typedef struct setter {
    const char *name;
    tcr_status (*call)(tcr_set *set, const object *o);
    tcr_group group;
    int side;
    size_t lash, zone;
    int layer;
} setter;

static void expect_place(const tcr_error *e, const setter *s) {
    expect_count(e->side, s->side);
    expect_true(e->lash == s->lash);
    expect_true(e->zone == s->zone);
    expect_count(e->layer, s->layer);
    expect_text(e->path, "");
    expect_count(e->line, 0);
}

/* One number beyond its range is told; afterwards the set takes the usual object and says nothing.
 */
static void expect_told(tcr_set *set, const setter *s, const tcr_field *field, double value) {
    object o = usual(s->group);
    const tcr_error *e = tcr_set_error(set);
    char found[32];
    put(field, &o, value);
    given("%s with %s of %.17g", s->name, field->member, value);
    const tcr_status status = s->call(set, &o);
    expect_status(status, field->kind == TCR_KIND_ENUM ? TCR_E_ARGUMENT : TCR_E_RANGE);
    expect_status(e->status, status);
    expect_text(e->member, field->member);
    if (!isnan(value))
        expect_same(e->value, value, "as it was given");
    expect_same(e->least, field->core.least, "the table's");
    expect_same(e->most, field->core.most, "the table's");
    expect_place(e, s);
    snprintf(found, sizeof found, "%s is ", field->member);
    expect_true(strncmp(e->message, found, strlen(found)) == 0);
    expect_true(strstr(e->message, ", but must be from ") != NULL);
    o = usual(s->group);
    expect_status(s->call(set, &o), TCR_OK);
    expect_status(e->status, TCR_OK);
    expect_text(e->message, "");
    expect_true(e->member == NULL && isnan(e->value) && e->side == -1 && e->lash == NO &&
                e->zone == NO && e->layer == -1);
}

CLAIM(each_setter_names_a_wrong_number_of_every_kind_with_its_range_and_place) {
    static const setter SETTERS[] = {
        {"layering", set_layering, TCR_GROUP_LAYERING, -1, SIZE_MAX, SIZE_MAX, -1},
        {"placement", set_layering, TCR_GROUP_PLACEMENT, -1, SIZE_MAX, SIZE_MAX, -1},
        {"tray", set_tray, TCR_GROUP_TRAY, -1, SIZE_MAX, SIZE_MAX, -1},
        {"bond", set_bond, TCR_GROUP_BOND, -1, SIZE_MAX, SIZE_MAX, -1},
        {"line", set_line, TCR_GROUP_LINE, -1, SIZE_MAX, SIZE_MAX, -1},
        {"view", set_view, TCR_GROUP_VIEW, -1, SIZE_MAX, SIZE_MAX, -1},
        {"mean lash", set_mean, TCR_GROUP_MEAN_LASH, -1, SIZE_MAX, SIZE_MAX, -1},
        {"an eye", add_eye, TCR_GROUP_LID, TCR_LEFT, SIZE_MAX, SIZE_MAX, -1},
        {"a lid", replace_lid, TCR_GROUP_LID, TCR_LEFT, SIZE_MAX, SIZE_MAX, -1},
        {"a lash", add_lash, TCR_GROUP_LASH, TCR_RIGHT, 3, SIZE_MAX, -1},
        {"lashes", add_lashes, TCR_GROUP_LASH, TCR_RIGHT, 5, SIZE_MAX, -1},
        {"another lash", replace_lash, TCR_GROUP_LASH, TCR_RIGHT, 1, SIZE_MAX, -1},
        {"what a lash wears", replace_wish, TCR_GROUP_WISH, TCR_RIGHT, 2, SIZE_MAX, -1},
        {"a lash that wears", add_wish, TCR_GROUP_WISH, TCR_RIGHT, 3, SIZE_MAX, -1},
        {"a description", describe, TCR_GROUP_DESCRIPTION, TCR_LEFT, SIZE_MAX, SIZE_MAX, -1},
        {"a layer of a map", map_layer, TCR_GROUP_WISH, TCR_LEFT, SIZE_MAX, 1, TCR_TOP},
    };
    for (size_t k = 0; k < sizeof SETTERS / sizeof *SETTERS; k++) {
        const setter *s = &SETTERS[k];
        size_t count, told = 0;
        const tcr_field *fields = tcr_fields(s->group, &count);
        for (size_t i = 0; i < count; i++) {
            const tcr_field *f = &fields[i];
            const bool skipped =
                f->kind == TCR_KIND_LABEL || f->kind == TCR_KIND_BOOL ||
                f->kind == TCR_KIND_UINT64 ||
                (f->bit & TCR_FIX_FROM_SKIN & (s->group == TCR_GROUP_WISH ? ~0U : 0U));
            if (skipped)
                continue;
            const double step = f->kind == TCR_KIND_DOUBLE ? 1e-9 : 1.0;
            tcr_set *set = make_set();
            expect_told(set, s, f, f->core.most + step * fmax(1.0, fabs(f->core.most)));
            tcr_set_free(set);
            told++;
            if (f->kind != TCR_KIND_DOUBLE)
                continue;
            set = make_set();
            expect_told(set, s, f, f->core.least - step * fmax(1.0, fabs(f->core.least)));
            tcr_set_free(set);
            set = make_set();
            expect_told(set, s, f, INFINITY);
            tcr_set_free(set);
            const bool may_be_unknown =
                f->unknown || (f->bit != 0 && s->group != TCR_GROUP_WISH); /* a default stands in */
            if (!may_be_unknown) {
                set = make_set();
                expect_told(set, s, f, NAN);
                tcr_set_free(set);
            }
        }
        given("%s", s->name);
        expect_true(told > 0);
    }
}

/* ---- What no range of one number says ---- */

/* Source of the words: this project's. 40 degrees are 40 pi/180 = 0.698; 85 degrees are 1.48. */
CLAIM(messages_say_what_was_found_and_what_would_be_right) {
    tcr_set *set = make_set();
    const tcr_error *e = tcr_set_error(set);
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash.pitch_rad = 40.0;
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "d", &lash, NULL), TCR_E_RANGE);
    expect_text(e->message,
                "pitch_rad is 40, but must be from -1.48 to 1.48; 40 degrees are 0.698");
    lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash.length_mm = 7.5e-3;
    expect_status(tcr_set_replace_lash(set, TCR_RIGHT, 0, &lash), TCR_E_RANGE);
    expect_text(e->message, "length_mm is 0.0075, but must be from 0.3 to 20");
    lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash.root_diameter_mm = 0.05, lash.tip_diameter_mm = 0.0625;
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "d", &lash, NULL), TCR_E_RANGE);
    expect_text(e->message, "tip_diameter_mm is 0.0625; it is at most root_diameter_mm, 0.05 here");
    expect_same(e->most, 0.05, "the root's");
    const tcr_tray falling = {.count = 2, .length_mm = {10.0, 9.0}};
    expect_status(tcr_set_put_tray(set, &falling), TCR_E_RANGE);
    expect_text(e->message, "the lengths of the tray do not rise");
    expect_status(tcr_set_put_tolerance(set, 6.0), TCR_E_RANGE);
    expect_text(e->message, "tolerance_mm is 6, but must be from 0.05 to 5");
    tcr_set_free(set);
}

CLAIM(a_zone_is_named_with_what_is_wrong_with_it) {
    tcr_set *set = make_set();
    const tcr_error *e = tcr_set_error(set);
    const setter working = {"map", map_zone, TCR_GROUP_ZONE, TCR_RIGHT, NO, 1, -1},
                 intended = {"intended", intend_zone, TCR_GROUP_ZONE, TCR_LEFT, NO, 1, -1};
    for (int k = 0; k < 2; k++) {
        const setter *s = k == 0 ? &working : &intended;
        given("%s", s->name);
        object o = {.zone = ZONES[0]};
        o.zone.to = 0.125;
        expect_status(s->call(set, &o), TCR_E_MAP);
        expect_text(e->member, "to");
        expect_text(e->message,
                    "to is 0.125, but must be above 0.2, where the zone begins, and up to 1");
        expect_same(e->value, 0.125, "as it was given");
        expect_place(e, s);
        o.zone = ZONES[0];
        o.zone.length_mm = 10.25;
        expect_status(s->call(set, &o), TCR_E_TRAY);
        expect_text(e->message, "length_mm is 10.25, which the tray lacks");
        expect_text(e->member, "length_mm");
        expect_place(e, s);
        o.zone = ZONES[0];
        o.zone.length_mm = 31.0;
        expect_status(s->call(set, &o), TCR_E_RANGE);
        expect_text(e->message, "length_mm is 31, but must be from 3 to 30");
        expect_place(e, s);
        o.zone = ZONES[0];
        snprintf(o.zone.curl, sizeof o.zone.curl, "Z");
        expect_status(s->call(set, &o), TCR_E_CURL);
        expect_text(e->message, "curl is \"Z\", which the set lacks");
        expect_text(e->member, "curl");
        expect_place(e, s);
        o.zone = ZONES[0];
        expect_status(s->call(set, &o), TCR_OK);
        expect_text(e->message, "");
    }
    expect_status(tcr_set_put_map(set, TCR_LEFT, ZONES, 1), TCR_E_MAP);
    expect_text(e->message, "to is 0.5; the last zone of a map ends at 1");
    expect_true(e->zone == 0 && e->side == TCR_LEFT);
    object o = {.wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 10.25}};
    expect_status(map_layer(set, &o), TCR_E_TRAY);
    expect_true(e->zone == 1 && e->side == TCR_LEFT && e->layer == TCR_TOP);
    expect_same(e->value, 10.25, "as it was given");
    tcr_set_free(set);
}

/* A refusal that is no number's fault has the words of its status and the eye. */
CLAIM(what_is_missing_or_there_twice_is_told_with_its_eye) {
    tcr_set *set = make_set();
    const tcr_error *e = tcr_set_error(set);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const uint64_t before = tcr_set_digest(set);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_E_DUPLICATE);
    expect_text(e->message, tcr_status_text(TCR_E_DUPLICATE));
    expect_true(e->member == NULL && e->side == TCR_LEFT);
    expect_status(tcr_set_replace_lash(set, TCR_RIGHT, 3, &lash), TCR_E_MISSING);
    expect_true(e->status == TCR_E_MISSING && e->side == TCR_RIGHT);
    expect_status(tcr_set_add_eye(set, (tcr_side)7, NULL), TCR_E_ARGUMENT);
    expect_count(e->side, -1); /* there is no such eye */
    expect_status(tcr_set_put_title(set, NULL), TCR_E_ARGUMENT);
    expect_text(e->message, tcr_status_text(TCR_E_ARGUMENT));
    expect_status(tcr_set_mark_drawn(set, TCR_RIGHT, 4), TCR_E_RANGE);
    expect_count(e->side, TCR_RIGHT);
    expect_true(tcr_set_digest(set) == before);
    expect_status(tcr_set_put_title(set, "INVENTED"), TCR_OK);
    expect_status(e->status, TCR_OK);
    expect_text(e->message, "");
    expect_true(tcr_set_error(NULL) == NULL);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &each_setter_names_a_wrong_number_of_every_kind_with_its_range_and_place,
        &messages_say_what_was_found_and_what_would_be_right,
        &a_zone_is_named_with_what_is_wrong_with_it,
        &what_is_missing_or_there_twice_is_told_with_its_eye,
    };
    return RUN_CLAIMS("errors of a set", claims);
}
