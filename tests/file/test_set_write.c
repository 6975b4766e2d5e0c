/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sets written as a set file with surveys, and read back: the header promises the same set. Sets
 * are drawn at random over all that the calls of set.h take, or hold text that is awkward for YAML,
 * CSV, spreadsheets and terminals; the expected value of every field is the one that was put in.
 * All data is INVENTED.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "file/folder.h"
#include "file/same_set.h"
#include "file/sample.h"
#include "file/sets_drawn.h"
#include "num/printable.h"

static const char *const SURVEYS[TCR_SIDES] = {"left eye.csv", "right \xc3\xa9.csv"};

/* The one call of tcr_set_write. */
static tcr_status write_set(const tcr_set *set, const char *comment,
                            const char *const survey[TCR_SIDES], text *to) {
    tcr_set_write_options options = tcr_set_write_options_default();
    options.comment = comment;
    memcpy(options.survey, survey, sizeof options.survey);
    return tcr_set_write(set, &options, keep_text, to);
}

/* ---- Written and read back ------------------------------------------------------------------ */

static void write_parts(const tcr_set *set, const char *comment) {
    text written = {0};
    expect_status(write_set(set, comment, SURVEYS, &written), TCR_OK);
    put("set.yaml", written.bytes);
    free(written.bytes);
    for (int side = 0; side < TCR_SIDES; side++) {
        text survey = {0};
        if (!tcr_set_has_eye(set, (tcr_side)side))
            continue;
        expect_status(tcr_survey_write(set, (tcr_side)side, NULL, NULL, NULL, keep_text, &survey),
                      TCR_OK);
        put(SURVEYS[side], survey.bytes);
        free(survey.bytes);
    }
}

static tcr_set_file *there_and_back(const tcr_set *set, const char *comment) {
    tcr_set_file *file = NULL;
    tcr_error error = {.message = ""};
    write_parts(set, comment);
    const tcr_status status = tcr_set_file_read("set.yaml", NULL, &file, &error);
    given("%s:%lu:%lu: %s", error.path, error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    return file;
}

/* ---- Sets drawn at random ------------------------------------------------------------------- */

CLAIM(every_field_of_any_set_reads_back_as_it_was) {
    gsl_rng *rng = tcr_make_rng(11);
    enter_folder();
    for (int i = 0; i < 200; i++) {
        tcr_set *set = draw_set(rng);
        tcr_set_file *file = there_and_back(set, NULL);
        given("set %d in %s", i, folder);
        expect_same_set(tcr_set_file_set(file), set);
        tcr_set_file_free(file);
        tcr_set_free(set);
    }
    leave_folder();
    gsl_rng_free(rng);
}

/* Source: model.md, section 7: a described eye and the survey written from it have one line. */
CLAIM(a_described_eye_and_its_survey_have_one_intended_line) {
    const tcr_view open = tcr_view_named(TCR_OPEN_FRONT);
    enter_folder();
    for (unsigned i = 0; i < 200; i++) {
        tcr_description d = tcr_description_default();
        d.seed = i;
        d.count = 3 + i % 94;
        tcr_line drawn, surveyed;
        tcr_set *set = new_set("");
        add_eye(set, (tcr_side)(i % 2));
        expect_status(tcr_set_describe(set, (tcr_side)(i % 2), &d), TCR_OK);
        tcr_set_file *file = there_and_back(set, NULL);
        const tcr_set *back = tcr_set_file_set(file);
        given("seed %u", i);
        expect_status(tcr_intended_line(set, (tcr_side)(i % 2), &open, &drawn), TCR_OK);
        expect_status(tcr_intended_line(back, (tcr_side)(i % 2), &open, &surveyed), TCR_OK);
        for (int j = 0; j < TCR_LINE_COEFFICIENTS; j++)
            expect_near(surveyed.coefficient_mm[j], drawn.coefficient_mm[j], 1e-9, "the contract");
        tcr_set_file_free(file);
        tcr_set_free(set);
    }
    leave_folder();
}

/* ---- Text that is awkward -------------------------------------------------------------------- */

/* The least that is a set: one eye, one zone; lashes are added by their ids. */
static tcr_set *bare_set(const char *title) {
    tcr_set *set = new_set(title);
    const tcr_zone zone = {.to = 1.0, .length_mm = 10.0, .curl = "C"};
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    return set;
}

static void add_id(tcr_set *set, const char *id) {
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash.length_mm = 7.5; /* a survey needs it */
    add_lash(set, TCR_LEFT, id, &lash, NULL);
}

static void expect_back(tcr_set *set, const char *comment) {
    tcr_set_file *file = there_and_back(set, comment);
    expect_same_set(tcr_set_file_set(file), set);
    tcr_set_file_free(file);
    tcr_set_free(set);
}

CLAIM(awkward_ids_read_back) {
    static const char *const IDS[] = {
        "=1+1",
        "+1",
        "-x",
        "@b",
        "'=1",
        "''=1",
        "'",
        "''",
        "'quoted'",
        "'-",
        "=",
        "a,b",
        ";",
        "a;b",
        "say \"hi\"",
        "\"",
        "\"\"",
        "\",\"",
        "\\",
        "\\n",
        "a\\",
        "two\nlines",
        "two\r\nlines",
        "a\tb",
        "\tb",
        "\rb",
        "#1",
        "# 2",
        "none",
        "null",
        "true",
        "1e5",
        "0x1f",
        "id",
        "u",
        "\xd8\xb1\xd9\x85\xd8\xb4", /* Arabic */
        "\xd7\xa8\xd7\x99\xd7\xa1", /* Hebrew */
        "\xe4\xbd\xa0\xe5\xa5\xbd", /* wide characters */
        "e\xcc\x81",
        "\xc3\xa9", /* an accent of its own, and with its letter */
        "a\xc2\xa0"
        "b",
        "a\xe3\x80\x80"
        "b",                /* blanks of other kinds, inside */
        "\xf0\x9f\x91\x81", /* beyond 16 bits */
        "\xef\xbc\x9d"
        "1", /* a wide equals sign */
    };
    char longest[TCR_ID_SIZE_MAX];
    enter_folder();
    tcr_set *set = bare_set("");
    for (size_t i = 0; i < sizeof IDS / sizeof *IDS; i++)
        add_id(set, IDS[i]);
    memset(longest, '"', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    add_id(set, longest);
    expect_back(set, NULL);
    leave_folder();
}

/* A code point in UTF-8 (RFC 3629) behind what is there. */
static void append(char *to, uint32_t code) {
    unsigned char b[5] = {0};
    if (code < 0x80) {
        b[0] = (unsigned char)code;
    } else {
        const int more = code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
        b[0] = (unsigned char)((0xf0u << (3 - more)) | code >> (6 * more));
        for (int i = 1; i <= more; i++)
            b[i] = (unsigned char)(0x80 | (code >> (6 * (more - i)) & 0x3f));
    }
    strcat(to, (const char *)b);
}

/* The next code point that is a character; 0 behind the last that is looked at. */
static uint32_t next_code(uint32_t code) {
    code++;
    if (code == 0xd800) /* surrogates are none */
        return 0xe000;
    if (code == 0x11000) /* then the ends of all planes, and the tags */
        return 0x1fffe;
    if (code > 0x1ffff && code < 0xe0080 && (code & 0xffff) == 0)
        return code == 0xe0000 ? code : code + 0xfffe;
    if (code == 0xe0080)
        return 0xefffe;
    if (code > 0xe0080 && (code & 0xffff) == 0)
        return code > 0x10ffff ? 0 : code + 0xfffe;
    return code;
}

CLAIM(every_character_of_a_title_reads_back) {
    enum { AT_ONCE = 200 };
    size_t seen = 0;
    enter_folder();
    for (uint32_t code = 1; code != 0;) {
        char title[TCR_TITLE_SIZE_MAX] = "";
        const uint32_t first = code;
        for (int i = 0; i < AT_ONCE && code != 0; i++, seen++, code = next_code(code))
            append(title, code);
        tcr_set *set = bare_set(title);
        add_id(set, "1");
        tcr_set_file *file = there_and_back(set, NULL);
        given("characters from U+%04x on", (unsigned)first);
        expect_text(tcr_set_title(tcr_set_file_set(file)), title);
        tcr_set_file_free(file);
        tcr_set_free(set);
    }
    expect_true(seen > 0x10000);
    leave_folder();
}

/* Source: file.h. What may not reach a terminal stands as its escape, as in any report. */
CLAIM(every_character_inside_an_id_reads_back_or_is_told_by_its_number) {
    enter_folder();
    tcr_set *set = bare_set("");
    for (uint32_t code = 1; code != 0; code = next_code(code)) {
        char id[16] = "a";
        append(id, code);
        add_id(set, strcat(id, "b"));
    }
    tcr_set_file *file = there_and_back(set, NULL);
    const tcr_set *got = tcr_set_file_set(file);
    size_t i = 0;
    for (uint32_t code = 1; code != 0; code = next_code(code), i++) {
        char expected[32];
        if (!tcr_utf8_is_unsafe(code) || code == '\t' || code == '\r' || code == '\n')
            snprintf(expected, sizeof expected, "%s", tcr_set_id(set, TCR_LEFT, i));
        else
            snprintf(expected, sizeof expected,
                     code < 0x80      ? "a\\x%02xb"
                     : code < 0x10000 ? "a\\u%04xb"
                                      : "a\\U%08xb",
                     (unsigned)code);
        given("character U+%04x", (unsigned)code);
        expect_text(tcr_set_id(got, TCR_LEFT, i), expected);
    }
    expect_count(tcr_set_lash_count(got, TCR_LEFT), i);
    expect_true(i > 0x10000);
    tcr_set_file_free(file);
    tcr_set_free(set);
    leave_folder();
}

CLAIM(awkward_labels_of_curls_read_back_from_zones_and_rows) {
    static const char *const AWKWARD[] = {"=1",
                                          "'=1",
                                          "-",
                                          "#",
                                          "\"",
                                          "a, b",
                                          "{x: 1}",
                                          "null",
                                          "~",
                                          "a\\b",
                                          "x\ny",
                                          "x\xc2\xad",
                                          "\x1b[2J",
                                          "\xe2\x80\xa8",
                                          "\xd8\xb1\xd9\x85",
                                          "fifteen bytes!!"};
    enum { COUNT = sizeof AWKWARD / sizeof *AWKWARD };
    const tcr_profile profile = {.pieces = 1, .share = {1.0}, .turn_rad = {1.0}};
    tcr_zone zones[COUNT];
    enter_folder();
    tcr_set *set = new_set("");
    for (size_t i = 0; i < COUNT; i++) {
        const tcr_curl curl = {AWKWARD[i], 1, NULL, &profile};
        expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
        zones[i] = (tcr_zone){.to = (double)(i + 1) / COUNT, .length_mm = 10.0};
        strcpy(zones[i].curl, AWKWARD[i]);
        zones[i].layer[TCR_TOP] = (tcr_wish){.fixed = TCR_FIX_CURL};
        strcpy(zones[i].layer[TCR_TOP].curl, AWKWARD[i]);
    }
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, COUNT), TCR_OK);
    for (size_t i = 0; i < COUNT; i++) {
        char id[8];
        tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
        lash.length_mm = 7.5;
        snprintf(id, sizeof id, "%zu", i);
        add_lash(set, TCR_LEFT, id, &lash, &zones[i].layer[TCR_TOP]);
    }
    expect_back(set, NULL);
    leave_folder();
}

CLAIM(no_comment_becomes_part_of_the_set) {
    /* Line ends of YAML 1.1, section 5.4, and of YAML 1.2; a document's end; what no YAML may hold.
     */
    static const char *const COMMENTS[] = {
        "",
        "\n",
        "title: x",
        "one\ntitle: x\n",
        "one\rtitle: x",
        "one\r\ntitle: x",
        "one\xc2\x85title: x",
        "one\xe2\x80\xa8title: x",
        "one\xe2\x80\xa9title: x",
        "---\n...\n",
        "\x1b[31m\x7f",
        "\xef\xbb\xbfmark, \xef\xbf\xbe",
        "no UTF-8: \xff",
    };
    enter_folder();
    for (size_t i = 0; i < sizeof COMMENTS / sizeof *COMMENTS; i++) {
        tcr_set *set = bare_set("");
        add_id(set, "1");
        expect_back(set, COMMENTS[i]);
    }
    leave_folder();
}

/* ---- What cannot read back ------------------------------------------------------------------- */

/* Source: file.h. A survey has a length for every lash. */
CLAIM(an_assumed_length_is_told_and_then_is_given) {
    enter_folder();
    tcr_set *set = bare_set("");
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    add_lash(set, TCR_LEFT, "1", &lash, NULL);
    tcr_set_file *file = there_and_back(set, NULL);
    const tcr_lash *got = tcr_set_lash(tcr_set_file_set(file), TCR_LEFT, 0);
    expect_same(got->length_mm, tcr_lash_complete(&lash, NULL).length_mm, AS_PUT_IN);
    expect_count(tcr_set_assumed(tcr_set_file_set(file), TCR_LEFT, 0) & TCR_LASH_LENGTH, 0);
    tcr_set_file_free(file);
    tcr_set_free(set);
    leave_folder();
}

CLAIM(a_set_without_what_a_file_needs_is_not_written) {
    const char *const none[TCR_SIDES] = {NULL, NULL};
    text written = {0};
    tcr_set *set = new_set("");
    expect_status(write_set(set, NULL, SURVEYS, &written), TCR_E_MISSING);
    expect_status(tcr_survey_write(set, TCR_LEFT, NULL, NULL, NULL, keep_text, &written),
                  TCR_E_MISSING);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(write_set(set, NULL, SURVEYS, &written), TCR_E_MAP);
    expect_status(write_set(set, NULL, none, &written), TCR_E_ARGUMENT);
    expect_status(tcr_survey_write(set, TCR_RIGHT, NULL, NULL, NULL, keep_text, &written),
                  TCR_E_MISSING);
    expect_status(write_set(NULL, NULL, SURVEYS, &written), TCR_E_ARGUMENT);
    expect_status(tcr_survey_write(set, TCR_LEFT, NULL, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_count(written.calls, 0);
    tcr_set_free(set);
}

CLAIM(a_sink_that_is_full_is_an_error_wherever_it_happens) {
    gsl_rng *rng = tcr_make_rng(12);
    tcr_set *set = draw_set(rng);
    tcr_side first[TCR_SIDES];
    (void)tcr_set_eyes(set, first);
    for (int survey = 0; survey < 2; survey++) {
        text whole = {0};
        for (size_t n = 1;; n++) {
            text cut = {.fail_at = n};
            const tcr_status status =
                survey ? tcr_survey_write(set, first[0], NULL, NULL, NULL, keep_text, &cut)
                       : write_set(set, NULL, SURVEYS, &cut);
            free(cut.bytes);
            given("call %zu", n);
            if (status == TCR_OK)
                break;
            expect_status(status, TCR_E_WRITE);
            expect_count(cut.calls, n); /* none after the one that failed */
            whole.calls++;
        }
        expect_true(whole.calls > 0);
    }
    tcr_set_free(set);
    gsl_rng_free(rng);
}

static const char *note_of_lash(void *context, tcr_side side, size_t lash) {
    static char note[64];
    (void)context;
    snprintf(note, sizeof note, "=%d \"%zu\",\n#\xe2\x80\xa8", (int)side, lash);
    return lash % 2 == 0 ? note : "";
}

CLAIM(a_note_changes_nothing_of_the_set) {
    enter_folder();
    tcr_set *set = bare_set("");
    add_id(set, "1");
    add_id(set, "2");
    write_parts(set, NULL);
    text survey = {0};
    expect_status(tcr_survey_write(set, TCR_LEFT, note_of_lash, NULL, NULL, keep_text, &survey),
                  TCR_OK);
    expect_true(strstr(survey.bytes, ",\"'=0 \"\"0\"\",\n#\\u2028\"\n") != NULL);
    put(SURVEYS[TCR_LEFT], survey.bytes);
    free(survey.bytes);
    tcr_set_file *file = NULL;
    expect_status(tcr_set_file_read("set.yaml", NULL, &file, NULL), TCR_OK);
    expect_same_set(tcr_set_file_set(file), set);
    tcr_set_file_free(file);
    tcr_set_free(set);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &every_field_of_any_set_reads_back_as_it_was,
        &a_described_eye_and_its_survey_have_one_intended_line,
        &awkward_ids_read_back,
        &every_character_of_a_title_reads_back,
        &every_character_inside_an_id_reads_back_or_is_told_by_its_number,
        &awkward_labels_of_curls_read_back_from_zones_and_rows,
        &no_comment_becomes_part_of_the_set,
        &an_assumed_length_is_told_and_then_is_given,
        &a_set_without_what_a_file_needs_is_not_written,
        &a_sink_that_is_full_is_an_error_wherever_it_happens,
        &a_note_changes_nothing_of_the_set,
    };
    return RUN_CLAIMS("set write", claims);
}
