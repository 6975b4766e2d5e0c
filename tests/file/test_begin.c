/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * First set files: what their text becomes when it is read again is what was asked for, and where
 * nothing was asked it is the library's defaults. And files that must be new: calls of the system
 * are made to fail, or to find that somebody was faster, by a definition of our own of link(),
 * which stands before the C library's.
 */
#define _GNU_SOURCE /* RTLD_NEXT */
#include <tipcrest/begin.h>

#include <errno.h>
#include <math.h>

#include <tipcrest/look.h>

#include "faults/replace.h"
#include "file/folder.h"
#include "file/sample.h"
#include "file/set_file.h"

static const char SAME_TEXT[] = "the fewest digits that read back as the same double";

/* ---- Calls that fail on demand ----------------------------------------------------- */

static const char *rival; /* a file that appears just before it is to be put in place */
static int failing_link;  /* the how manieth link() fails, from 1; 0 none */
static int links;

int link(const char *from, const char *to) {
    FIND_REAL(int, link, (const char *, const char *))
    if (++links == failing_link) {
        errno = EIO;
        return -1;
    }
    if (rival != NULL && strcmp(strrchr(to, '/') + 1, rival) == 0)
        put(to, "rival");
    return real(from, to);
}

/* ---- From options to a set ---------------------------------------------------------- */

static text written(const tcr_begin_options *options) {
    text to = {0};
    expect_status(tcr_begin_write(options, keep_text, &to), TCR_OK);
    return to;
}

/* The set file that the options give, read again. */
static tcr_set_file *parsed(const tcr_begin_options *options) {
    const tcr_allocator allocator = tcr_allocator_default();
    tcr_error error = {.message = "?"};
    tcr_set_file *file = NULL;
    text to = written(options);
    const tcr_status status = tcr_set_file_build(
        to.bytes, to.count, "begun.yaml", tcr_input_read_beside, NULL, &allocator, &file, &error);
    given("%lu:%lu: %s", error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    free(to.bytes);
    return file;
}

static void set_lengths(tcr_begin_options *o, size_t zones, const double *length_mm) {
    o->zones = zones;
    memcpy(o->length_mm, length_mm, zones * sizeof *length_mm);
}

static void set_layers(tcr_begin_options *o, double bottom, double middle, double top) {
    o->has_layers = true;
    o->layer_mm[TCR_BOTTOM] = bottom;
    o->layer_mm[TCR_MIDDLE] = middle;
    o->layer_mm[TCR_TOP] = top;
}

/* Both eyes have a map of these lengths and this curl, fixed by layers or not. */
static void expect_map(const tcr_set *set, size_t zones, const double *length_mm, const char *curl,
                       unsigned fixed) {
    for (size_t side = 0; side < TCR_SIDES; side++) {
        size_t count;
        const tcr_zone *zone = tcr_set_map(set, (tcr_side)side, &count);
        expect_count(count, zones);
        for (size_t i = 0; i < count; i++) {
            given("side %zu, zone %zu", side, i);
            expect_same(zone[i].length_mm, length_mm[i], SAME_TEXT);
            expect_text(zone[i].curl, curl);
            expect_count(zone[i].layer[TCR_BOTTOM].fixed, 0);
            expect_count(zone[i].layer[TCR_MIDDLE].fixed, fixed);
            expect_count(zone[i].layer[TCR_TOP].fixed, fixed);
        }
    }
}

CLAIM(the_default_is_both_eyes_a_natural_look_of_10_mm_curl_c_and_a_step_of_1_mm) {
    const tcr_begin_options options = tcr_begin_options_default();
    tcr_set_file *file = parsed(&options);
    const tcr_set *set = tcr_set_file_set(file);
    /* By hand from looks.def, which is common practice without a source: 8.3, 9.2, 10, 10, 9.2 mm
     * to the nearest millimetre. */
    static const double NATURAL[] = {8, 9, 10, 10, 9};
    expect_map(set, 5, NATURAL, "C", 0);
    expect_same(tcr_set_layering(set)->step_mm, 1, SAME_TEXT);
    tcr_set_file_free(file);
}

CLAIM(lengths_make_evenly_wide_zones_that_end_at_one) {
    for (size_t n = 1; n <= TCR_ZONES_MAX; n++) {
        tcr_begin_options options = tcr_begin_options_default();
        double length[TCR_ZONES_MAX];
        for (size_t i = 0; i < n; i++)
            length[i] = 8 + (double)(i * 5 % 11);
        set_lengths(&options, n, length);
        options.curl = "CC";
        tcr_set_file *file = parsed(&options);
        const tcr_set *set = tcr_set_file_set(file);
        expect_map(set, n, length, "CC", 0);
        size_t count;
        const tcr_zone *zone = tcr_set_map(set, TCR_RIGHT, &count);
        for (size_t i = 0; i < n; i++) {
            given("zone %zu of %zu", i, n);
            expect_near(zone[i].to, (double)(i + 1) / (double)n, 0.0005 + 1e-12,
                        "half a thousandth, to which ends are rounded");
        }
        expect_same(zone[n - 1].to, 1, "the contract");
        tcr_set_file_free(file);
    }
}

CLAIM(even_layers_become_a_step) {
    /* Bottom, middle, top; the step by hand. */
    static const double CASES[][4] = {
        {12, 11, 10, 1}, {12, 12, 12, 0}, {12, 11.5, 11, 0.5}, {15, 12, 9, 3}, {12, 10.5, 9, 1.5},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        const double lengths[] = {12, CASES[i][0]};
        set_lengths(&options, 2, lengths);
        set_layers(&options, CASES[i][0], CASES[i][1], CASES[i][2]);
        tcr_set_file *file = parsed(&options);
        expect_map(tcr_set_file_set(file), 2, lengths, "C", 0);
        expect_same(tcr_set_layering(tcr_set_file_set(file))->step_mm, CASES[i][3], SAME_TEXT);
        tcr_set_file_free(file);
    }
}

CLAIM(uneven_layers_become_lengths_of_every_zone) {
    /* Also a step above 3 mm, which the rule does not allow, and layers that grow upwards. */
    static const double CASES[][3] = {{12, 11, 9}, {12, 8, 8}, {15, 11, 7}, {12, 12.5, 13}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        const double lengths[] = {13 - (15 - CASES[i][0]) / 3, CASES[i][0]};
        set_lengths(&options, 2, lengths);
        set_layers(&options, CASES[i][0], CASES[i][1], CASES[i][2]);
        tcr_set_file *file = parsed(&options);
        const tcr_set *set = tcr_set_file_set(file);
        expect_map(set, 2, lengths, "C", TCR_FIX_LENGTH);
        size_t count;
        const tcr_zone *zone = tcr_set_map(set, TCR_LEFT, &count);
        for (size_t z = 0; z < count; z++)
            for (size_t layer = TCR_MIDDLE; layer < TCR_LAYERS; layer++) {
                given("case %zu, zone %zu, layer %zu", i, z, layer);
                /* As much shorter in every zone as in the longest. */
                expect_same(zone[z].layer[layer].length_mm,
                            lengths[z] - (CASES[i][0] - CASES[i][layer]),
                            "halves are exact in doubles");
            }
        tcr_set_file_free(file);
    }
}

CLAIM(half_millimetres_anywhere_put_halves_into_the_tray) {
    static const double WHOLE[] = {9, 12}, HALF[] = {9, 11.5};
    for (int half = 0; half <= 2; half++) {
        tcr_begin_options options = tcr_begin_options_default();
        set_lengths(&options, 2, half == 1 ? HALF : WHOLE);
        if (half == 2)
            set_layers(&options, 12, 11.5, 11);
        tcr_set_file *file = parsed(&options);
        const tcr_tray *tray = tcr_set_tray(tcr_set_file_set(file));
        given("half %d", half);
        expect_count(tray->count, half > 0 ? 31 : 16); /* 5 to 20, ends included */
        for (size_t i = 0; i < tray->count; i++)
            expect_same(tray->length_mm[i], 5 + (double)i / (half > 0 ? 2 : 1), SAME_TEXT);
        tcr_set_file_free(file);
    }
}

CLAIM(one_eye_is_the_one_that_was_asked_for) {
    for (size_t side = 0; side < TCR_SIDES; side++) {
        tcr_begin_options options = tcr_begin_options_default();
        options.eye[1 - side] = false;
        tcr_set_file *file = parsed(&options);
        given("side %zu", side);
        expect_true(tcr_set_has_eye(tcr_set_file_set(file), (tcr_side)side));
        expect_true(!tcr_set_has_eye(tcr_set_file_set(file), (tcr_side)(1 - side)));
        tcr_set_file_free(file);
    }
}

CLAIM(every_look_and_every_curl_gives_a_set_that_can_be_checked) {
    size_t looks, curls;
    const tcr_look *look = tcr_look_catalogue(&looks);
    const tcr_curl *curl = tcr_curl_catalogue(&curls);
    for (size_t i = 0; i < looks * curls; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        options.look = look[i % looks].name;
        options.curl = curl[i / looks].label;
        tcr_set_file *file = parsed(&options);
        tcr_check *check = NULL;
        tcr_error error = {.message = "?"};
        const tcr_status status = tcr_set_file_check(file, NULL, &check, &error);
        given("look %s, curl %s: %s", options.look, options.curl, error.message);
        expect_status(status, TCR_OK);
        expect_status(tcr_check_eye(check, TCR_LEFT)->fitted_status, TCR_OK);
        tcr_check_free(check);
        tcr_set_file_free(file);
    }
}

/* ---- Where nothing was asked --------------------------------------------------------- */

/* Without the bytes that only fill up the struct. */
enum { LASH_BYTES = offsetof(tcr_lash, condition) + sizeof(tcr_condition) };

static void expect_layering(const tcr_layering *got, const tcr_layering *expected) {
    expect_same(got->step_mm, expected->step_mm, SAME_TEXT);
    expect_same(got->diameter_mm, expected->diameter_mm, SAME_TEXT);
    expect_count(got->fan, expected->fan);
    expect_same(got->spread_rad, expected->spread_rad, SAME_TEXT);
    for (size_t layer = 0; layer < TCR_LAYERS; layer++)
        expect_count(got->placement[layer], expected->placement[layer]);
    expect_count(got->blend, expected->blend);
}

CLAIM(what_stands_in_the_file_are_the_defaults_of_the_library) {
    const tcr_begin_options options = tcr_begin_options_default();
    tcr_set_file *file = parsed(&options);
    const tcr_set *set = tcr_set_file_set(file);
    tcr_set *standard = new_set("");
    for (size_t side = 0; side < TCR_SIDES; side++) {
        tcr_description description = tcr_description_default();
        description.seed = side + 1; /* so that the eyes differ; the file's own */
        expect_status(tcr_set_add_eye(standard, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_describe(standard, (tcr_side)side, &description), TCR_OK);
        const size_t count = tcr_set_lash_count(set, (tcr_side)side);
        expect_count(count, description.count);
        for (size_t i = 0; i < count; i++)
            expect_bytes(tcr_set_lash(set, (tcr_side)side, i),
                         tcr_set_lash(standard, (tcr_side)side, i), LASH_BYTES);
    }
    tcr_layering rule = *tcr_set_layering(standard);
    rule.placement[TCR_MIDDLE] = TCR_OUTER_SIDE; /* as is taught with a step of 1 mm; trade.md */
    rule.placement[TCR_TOP] = TCR_UNDERSIDE;
    rule.diameter_mm = 0.12; /* begin.h: its own, and common practice too */
    expect_layering(tcr_set_layering(set), &rule);
    expect_bytes(tcr_set_tray(set), tcr_set_tray(standard), sizeof(tcr_tray));
    expect_bytes(tcr_set_bond(set), tcr_set_bond(standard), sizeof(tcr_bond));
    expect_bytes(tcr_set_view(set), tcr_set_view(standard), sizeof(tcr_view));
    expect_same(tcr_set_tolerance(set), tcr_set_tolerance(standard), SAME_TEXT);
    expect_count(tcr_set_subject(set), tcr_set_subject(standard));
    tcr_set_free(standard);
    tcr_set_file_free(file);
}

CLAIM(what_nobody_measured_still_counts_as_assumed) {
    const tcr_begin_options options = tcr_begin_options_default();
    tcr_set_file *file = parsed(&options);
    const tcr_set *set = tcr_set_file_set(file);
    size_t curls;
    tcr_curl_catalogue(&curls);
    expect_count(tcr_set_lid_assumed(set, TCR_LEFT), TCR_LID_ALL);
    expect_count(tcr_set_lid_assumed(set, TCR_RIGHT), TCR_LID_ALL);
    expect_nan(tcr_set_mean_lash(set)->length_mm);
    expect_count(tcr_set_curl_count(set), curls);
    tcr_set_file_free(file);
}

/* ---- The survey ---------------------------------------------------------------------- */

static void put_survey(const char *path, tcr_side side) {
    text to = {0};
    expect_status(tcr_begin_write_survey(side, NULL, keep_text, &to), TCR_OK);
    put(path, to.bytes);
    free(to.bytes);
}

CLAIM(the_survey_has_lashes_of_all_layers_as_they_root) {
    enter_folder();
    tcr_begin_options options = tcr_begin_options_default();
    options.survey[TCR_LEFT] = "l.csv";
    options.survey[TCR_RIGHT] = "r.csv";
    put_survey("l.csv", TCR_LEFT);
    put_survey("r.csv", TCR_RIGHT);
    tcr_set_file *file = parsed(&options);
    for (size_t side = 0; side < TCR_SIDES; side++) {
        size_t in_layer[TCR_LAYERS] = {0}, suitable = 0;
        double height[TCR_LAYERS] = {0};
        const tcr_set *set = tcr_set_file_set(file);
        const size_t count = tcr_set_lash_count(set, (tcr_side)side);
        for (size_t i = 0; i < count; i++) {
            const tcr_lash *lash = tcr_set_lash(set, (tcr_side)side, i);
            in_layer[lash->layer]++;
            height[lash->layer] += lash->height_mm;
            suitable += lash->condition == TCR_SUITABLE;
            expect_count(tcr_set_assumed(set, (tcr_side)side, i),
                         TCR_LASH_ROLL | TCR_LASH_ROOT_DIAMETER | TCR_LASH_TIP_DIAMETER);
        }
        given("side %zu", side);
        expect_within((double)count, 24, 60, "a few dozen: the task");
        expect_within((double)suitable / (double)count, 0.8, 0.999, "most, and not all");
        for (size_t layer = 0; layer < TCR_LAYERS; layer++) {
            given("side %zu, layer %zu", side, layer);
            expect_true(in_layer[layer] >= 8);
            /* Mean heights 0.25, 1.25, 2.25 mm: common practice, no source (model.md, section 3).
             */
            expect_near(height[layer] / (double)in_layer[layer], 0.25 + (double)layer, 0.25,
                        "half of the 0.5 mm between two rows of a layer, and a stray or two");
        }
    }
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(a_survey_of_any_name_is_found_again) {
    /* Everything that YAML or a shell makes something of; no slash. */
    static const char *const NAMES[] = {
        "plain.csv",
        "null",
        "~",
        "12.5",
        "- a: b #c.csv",
        "it's \"so\" \\n {x}, [y] & *z!.csv",
        " blanks .csv ",
        "\x01\x02\t\n\r\x1b\x1f\x7f.csv",
        "\xc2\x85\xc2\xa0\xe2\x80\xa8\xe2\x80\xa9\xe2\x80\xae.csv",         /* NEL to RLO */
        "\xef\xbb\xbf\xef\xbf\xbe\xef\xbf\xbf\xf0\x9f\x98\x80\xc3\xa9.csv", /* BOM, U+FFFE, ... */
    };
    enter_folder();
    for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        options.eye[TCR_RIGHT] = false;
        options.survey[TCR_LEFT] = NAMES[i];
        put_survey(NAMES[i], TCR_LEFT);
        tcr_set_file *file = parsed(&options);
        expect_count(tcr_set_file_input_count(file), 2);
        expect_text(tcr_set_file_input(file, 1), NAMES[i]);
        tcr_set_file_free(file);
    }
    leave_folder();
}

/* ---- What is wrong ------------------------------------------------------------------- */

static void expect_wrong(const tcr_begin_options *options, tcr_status status, const char *member) {
    tcr_error error = {.message = "?"};
    text to = {0};
    given("%s", member);
    expect_status(tcr_begin_validate(options, &error), status);
    given("%s: %s", member, error.message);
    expect_status(error.status, status);
    expect_text(error.path, "");
    expect_true(strncmp(error.message, member, strlen(member)) == 0);
    expect_status(tcr_begin_validate(options, NULL), status);
    expect_status(tcr_begin_write(options, keep_text, &to), status);
    expect_status(begin_files(options, "never.yaml", NULL, NULL), status);
    expect_count(to.calls, 0);
    expect_text(held("never.yaml"), "(none)");
}

CLAIM(lengths_that_no_tray_has_are_told) {
    static const double BAD[] = {0, -9, 4.5, 20.5, 9.25, 1e308, INFINITY, -INFINITY, NAN, 5e-324};
    enter_folder();
    for (size_t i = 0; i < sizeof BAD / sizeof *BAD; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        const double lengths[] = {12, BAD[i]};
        set_lengths(&options, 2, lengths);
        expect_wrong(&options, TCR_E_TRAY, "lengths");
        for (size_t layer = 0; layer < TCR_LAYERS; layer++) {
            options = tcr_begin_options_default();
            set_layers(&options, 12, 11, 10);
            options.layer_mm[layer] = BAD[i];
            expect_wrong(&options, TCR_E_TRAY, "layers");
        }
    }
    tcr_begin_options options = tcr_begin_options_default();
    set_lengths(&options, 2, (const double[]){12, 6}); /* 6 less 2 mm on the top layer */
    expect_wrong(&options, TCR_E_TRAY, "lengths");
    leave_folder();
}

CLAIM(other_wrong_options_are_told) {
    enter_folder();
    tcr_begin_options o = tcr_begin_options_default();
    o.size--;
    expect_wrong(&o, TCR_E_ARGUMENT, "");
    expect_wrong(NULL, TCR_E_ARGUMENT, "");
    o = tcr_begin_options_default();
    o.zones = TCR_ZONES_MAX + 1;
    expect_wrong(&o, TCR_E_ARGUMENT, "");
    o = tcr_begin_options_default();
    o.eye[TCR_LEFT] = o.eye[TCR_RIGHT] = false;
    expect_wrong(&o, TCR_E_ARGUMENT, "eyes");
    o = tcr_begin_options_default();
    set_lengths(&o, 1, (const double[]){12});
    o.look = "cat";
    expect_wrong(&o, TCR_E_ARGUMENT, "look");
    o = tcr_begin_options_default();
    o.look = "lion";
    expect_wrong(&o, TCR_E_ARGUMENT, "look");
    o = tcr_begin_options_default();
    o.curl = "cc";
    expect_wrong(&o, TCR_E_CURL, "curl");
    o = tcr_begin_options_default();
    set_lengths(&o, 1, (const double[]){11});
    set_layers(&o, 12, 11, 10);
    expect_wrong(&o, TCR_E_ARGUMENT, "layers");
    leave_folder();
}

CLAIM(surveys_that_a_set_file_cannot_name_are_told) {
    static const char *const BAD[] = {"", "/etc/lashes.csv", "l\xff.csv", "\xc0\xaf.csv",
                                      "l\xe2\x82"};
    tcr_begin_options options = tcr_begin_options_default();
    options.eye[TCR_RIGHT] = false;
    for (size_t i = 0; i < sizeof BAD / sizeof *BAD; i++) {
        tcr_error error = {.message = "?"};
        options.survey[TCR_LEFT] = BAD[i];
        given("name %zu", i);
        expect_status(tcr_begin_validate(&options, &error), TCR_E_CONTENT);
        expect_true(strncmp(error.message, "survey", 6) == 0);
    }
    options = tcr_begin_options_default();
    options.survey[TCR_RIGHT] = "right.csv";
    expect_status(tcr_begin_validate(&options, NULL), TCR_E_ARGUMENT); /* for one eye of two */
    options.eye[TCR_LEFT] = false;
    expect_status(tcr_begin_validate(&options, NULL), TCR_OK);
}

CLAIM(a_sink_that_stops_is_told) {
    const tcr_begin_options options = tcr_begin_options_default();
    text whole = written(&options);
    for (size_t call = 1; call <= whole.calls; call++) {
        text to = {.fail_at = call};
        given("call %zu", call);
        expect_status(tcr_begin_write(&options, keep_text, &to), TCR_E_WRITE);
        free(to.bytes);
    }
    text to = {.fail_at = 1};
    expect_status(tcr_begin_write_survey(TCR_LEFT, NULL, keep_text, &to), TCR_E_WRITE);
    expect_status(tcr_begin_write(&options, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_begin_write_survey(TCR_LEFT, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_begin_write_survey((tcr_side)2, NULL, keep_text, &to), TCR_E_ARGUMENT);
    free(whole.bytes);
}

/* ---- Files that must be new ---------------------------------------------------------- */

static const char SURVEY_NAME[] = "l.csv"; /* l-left.csv and l-right.csv for both eyes */

/* In the order in which they are put in place. */
static const char *const FILES[] = {"b.yaml", "l-left.csv", "l-right.csv"};
static const char *const WRITTEN[] = {"", "; written: b.yaml; as before: l-left.csv, l-right.csv",
                                      "; written: b.yaml, l-left.csv; as before: l-right.csv"};

CLAIM(a_file_that_appears_meanwhile_is_not_overwritten) {
    const tcr_begin_options options = tcr_begin_options_default();
    for (size_t i = 0; i < 3; i++) {
        enter_folder();
        tcr_error error = {.message = "?"};
        rival = FILES[i];
        given("%s", rival);
        expect_status(begin_files(&options, "b.yaml", SURVEY_NAME, &error), TCR_E_CONTENT);
        rival = NULL;
        expect_text(error.path, FILES[i]);
        expect_text(held(FILES[i]), "rival");
        expect_true(strstr(error.message, WRITTEN[i]) != NULL);
        expect_count(names_in(".", "", NULL), 1 + i);
        leave_folder();
    }
}

CLAIM(a_failure_half_way_names_the_files_that_are_written) {
    const tcr_begin_options options = tcr_begin_options_default();
    links = 0;
    enter_folder();
    expect_status(begin_files(&options, "b.yaml", SURVEY_NAME, NULL), TCR_OK);
    expect_count(names_in(".", "", NULL), 3);
    leave_folder();
    const int all = links;
    expect_count(all, 3);
    for (int at = 1; at <= all; at++) {
        enter_folder();
        tcr_error error = {.message = "?"};
        links = 0;
        failing_link = at;
        given("link %d of %d", at, all);
        expect_status(begin_files(&options, "b.yaml", SURVEY_NAME, &error), TCR_E_WRITE);
        failing_link = 0;
        expect_true(strstr(error.message, WRITTEN[at - 1]) != NULL);
        expect_count(names_in(".", "", NULL), at - 1);
        leave_folder();
    }
}

CLAIM(names_of_files_that_cannot_be_are_told) {
    const tcr_begin_options options = tcr_begin_options_default();
    char longest[PATH_MAX + 100];
    memset(longest, 'x', sizeof longest);
    memcpy(longest + sizeof longest - 5, ".csv", 5);
    enter_folder();
    expect_status(begin_files(&options, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_begin_files(&options, "b.yaml", NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(begin_files(&options, "", NULL, NULL), TCR_E_OPEN);
    expect_status(begin_files(&options, longest, NULL, NULL), TCR_E_OPEN);
    expect_status(begin_files(&options, "b.yaml", longest, NULL), TCR_E_OPEN);
    expect_status(begin_files(&options, "b.yaml", longest + 100, NULL), TCR_E_OPEN);
    expect_status(begin_files(&options, "b.yaml", "", NULL), TCR_E_CONTENT);
    expect_status(begin_files(&options, "b.yaml", "none/l.csv", NULL), TCR_E_OPEN);
    expect_status(begin_files(&options, "b.yaml", "/l.csv", NULL), TCR_E_CONTENT);
    expect_status(begin_files(&options, "b.yaml", "b.yaml/l.csv", NULL), TCR_E_OPEN);
    expect_count(names_in(".", "", NULL), 0);
    leave_folder();
}

CLAIM(a_look_that_nobody_knows_is_told_with_all_names) {
    tcr_begin_options o = tcr_begin_options_default();
    tcr_error error;
    size_t looks, others = 0;
    const tcr_look *look = tcr_look_catalogue(&looks);
    o.look = "eagle";
    expect_status(tcr_begin_validate(&o, &error), TCR_E_ARGUMENT);
    for (size_t i = 0; i < looks; i++) {
        given("%s: %s", look[i].name, error.message);
        expect_true(strstr(error.message, look[i].name) != NULL);
        expect_true(strstr(error.message, look[i].other_name) != NULL);
        others += *look[i].other_name != '\0';
    }
    expect_true(others > 0);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_look_that_nobody_knows_is_told_with_all_names,
        &the_default_is_both_eyes_a_natural_look_of_10_mm_curl_c_and_a_step_of_1_mm,
        &lengths_make_evenly_wide_zones_that_end_at_one,
        &even_layers_become_a_step,
        &uneven_layers_become_lengths_of_every_zone,
        &half_millimetres_anywhere_put_halves_into_the_tray,
        &one_eye_is_the_one_that_was_asked_for,
        &every_look_and_every_curl_gives_a_set_that_can_be_checked,
        &what_stands_in_the_file_are_the_defaults_of_the_library,
        &what_nobody_measured_still_counts_as_assumed,
        &the_survey_has_lashes_of_all_layers_as_they_root,
        &a_survey_of_any_name_is_found_again,
        &lengths_that_no_tray_has_are_told,
        &other_wrong_options_are_told,
        &surveys_that_a_set_file_cannot_name_are_told,
        &a_sink_that_stops_is_told,
        &a_file_that_appears_meanwhile_is_not_overwritten,
        &a_failure_half_way_names_the_files_that_are_written,
        &names_of_files_that_cannot_be_are_told,
    };
    return RUN_CLAIMS("begin", claims);
}
