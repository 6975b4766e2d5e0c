/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * CSV in the two forms that spreadsheets use. The report of a check is read back by a small reader
 * of RFC 4180 written here, and surveys by the library's own. Expected numbers are the check's own.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>

#include "file/folder.h"
#include "file/same_set.h"
#include "file/sample.h"

/* ---- The report ---------------------------------------------------------------------- */

enum { COLUMNS = 21 };

static const char HEADER[] =
    "side,id,layer,u,condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,"
    "ext_spread_deg,root_x_mm,root_y_mm,root_z_mm,tip_x_mm,tip_y_mm,tip_z_mm,line_mm,"
    "deviation_mm,across_mm,staggered\n"; /* interface.md */

/* How the report in hand is written. */
static char separator = ',', decimal = '.';
static int digits = 6;

/* Takes one row off a text, its cells unquoted in place; returns what follows. */
static char *take_row(char *at, char *cells[COLUMNS]) {
    for (int i = 0; i < COLUMNS; i++) {
        const bool quoted = *at == '"';
        char *to = at += quoted;
        cells[i] = to;
        while (quoted ? *at != '"' || at[1] == '"' : *at != separator && *at != '\n') {
            ck_assert_int_ne(*at, '\0');
            at += *at == '"';
            *to++ = *at++;
        }
        at += quoted;
        given("cell %d", i);
        expect_count(*at, i < COLUMNS - 1 ? separator : '\n');
        at++;
        *to = '\0';
    }
    return at;
}

/* The number of a cell, whose mark must be that of the report. */
static double number_in(const char *cell) {
    char plain[64], *end, *mark;
    snprintf(plain, sizeof plain, "%s", cell);
    expect_true(strchr(plain, decimal == ',' ? '.' : ',') == NULL);
    if ((mark = strchr(plain, decimal)) != NULL)
        *mark = '.';
    const double number = strtod(plain, &end);
    expect_count(*end, '\0');
    expect_true(cell[0] != '\0');
    return number;
}

static void expect_cell(const char *cell, double expected) {
    char rounded[64];
    if (isnan(expected)) {
        expect_text(cell, "");
        return;
    }
    snprintf(rounded, sizeof rounded, "%.*e", digits - 1, expected); /* source: printf */
    expect_same(number_in(cell), digits == 17 ? expected : strtod(rounded, NULL),
                "the same digits, or all of them");
}

/* What must not reach a terminal stands there by its number. */
static void expect_id(const char *cell, const char *id) {
    static const char *const unsafe[][2] = {
        {"\xe2\x80\xae", "\\u202e"}, {"\x1b", "\\x1b"}, {"\x7f", "\\x7f"}};
    char expected[256];
    snprintf(expected, sizeof expected, "%s", id);
    for (size_t i = 0; i < sizeof unsafe / sizeof *unsafe; i++) {
        const char *at = strstr(id, unsafe[i][0]);
        if (at != NULL)
            snprintf(expected, sizeof expected, "%.*s%s%s", (int)(at - id), id, unsafe[i][1],
                     at + strlen(unsafe[i][0]));
    }
    expect_text(cell + (strchr("=+-@\t\r", id[0]) != NULL ? 1 : 0), expected);
}

static void expect_row(char *const cells[COLUMNS], const tcr_set *set, const tcr_eye_result *eye,
                       size_t i) {
    static const char *const layers[] = {"bottom", "middle", "top"};
    static const char *const placements[] = {"top", "underside", "inner-side", "outer-side"};
    const tcr_lash *lash = tcr_set_lash(set, eye->side, i);
    const tcr_lash_result *result = &eye->lash[i];
    const bool is_bare = result->status != TCR_OK;
    const char *id = tcr_set_id(set, eye->side, i);
    given("lash %zu", i);
    expect_text(cells[0], eye->side == TCR_LEFT ? "left" : "right");
    expect_id(cells[1], id);
    expect_text(cells[2], layers[lash->layer]);
    expect_cell(cells[3], lash->u);
    expect_cell(cells[5], is_bare ? NAN : result->choice.length_mm);
    expect_text(cells[6], is_bare ? "" : tcr_set_curl(set, result->choice.curl)->label);
    expect_cell(cells[7], is_bare ? NAN : result->choice.diameter_mm);
    expect_text(cells[8], is_bare ? "" : placements[result->choice.placement]);
    expect_cell(cells[9], is_bare ? (double)NAN : (double)result->choice.fan);
    if (is_bare)
        expect_text(cells[10], "");
    else
        expect_near(number_in(cells[10]), result->choice.spread_rad / tcr_degrees(1),
                    digits == 17 ? 1e-12 : 5e-4, "six digits of at most 120, or all of them");
    const double points[] = {result->stance.root.x, result->stance.root.y, result->stance.root.z,
                             result->tip.x,         result->tip.y,         result->tip.z};
    for (int k = 0; k < 6; k++)
        expect_cell(cells[11 + k], points[k]);
    expect_cell(cells[17], is_bare ? NAN : result->line_mm);
    expect_cell(cells[18], is_bare ? NAN : result->deviation_mm);
    expect_cell(cells[19], is_bare ? NAN : result->across_mm);
    expect_text(cells[20], !is_bare && result->staggered ? "true" : "false");
}

/* Writes a report and holds every cell against the check. */
static void expect_report(const tcr_set *set, const tcr_check *check,
                          const tcr_csv_options *options) {
    text written = {0};
    char header[sizeof HEADER];
    strcpy(header, HEADER);
    for (char *at = header; (at = strchr(at, ',')) != NULL;)
        *at++ = separator;
    expect_status(tcr_report_csv(check, options, keep_text, &written), TCR_OK);
    expect_true(strncmp(written.bytes, header, strlen(header)) == 0);
    char *at = written.bytes + strlen(HEADER);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        for (size_t i = 0; i < eye->lashes; i++) {
            char *cells[COLUMNS];
            at = take_row(at, cells);
            expect_row(cells, set, eye, i);
        }
    }
    expect_count(*at, '\0');
    free(written.bytes);
}

CLAIM(every_cell_is_the_checks_own) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    tcr_csv_options options = tcr_csv_options_default();
    expect_report(set, check, NULL);
    expect_report(set, check, &options);
    options.digits = digits = 17;
    expect_report(set, check, &options);
    options.digits = digits = 3;
    expect_report(set, check, &options);
    options.decimal_comma = true;
    separator = ';';
    decimal = ',';
    expect_report(set, check, &options);
    options.digits = digits = 17;
    expect_report(set, check, &options);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_number_of_digits_out_of_range_is_refused_before_the_first_byte) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    tcr_csv_options options = tcr_csv_options_default();
    const int wrong[] = {-1, 18};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        text written = {0};
        options.digits = wrong[i];
        expect_status(tcr_report_csv(check, &options, keep_text, &written), TCR_E_RANGE);
        expect_status(tcr_survey_write(set, TCR_LEFT, NULL, NULL, &options, keep_text, &written),
                      TCR_E_RANGE);
        expect_count(written.calls, 0);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_cell_that_a_spreadsheet_would_run_gets_an_apostrophe) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    text written = {0};
    expect_status(tcr_report_csv(check, NULL, keep_text, &written), TCR_OK);
    /* RFC 4180 for the quotes; which characters begin a formula: common practice, no source. */
    const char *const expected[] = {"\nleft,'=1+1,",
                                    "\nleft,'+1,",
                                    "\nleft,'-x,",
                                    "\nleft,'@b,",
                                    "\nleft,'quoted',",
                                    "\nleft,\"a,b\",",
                                    "\nleft,\"say \"\"hi\"\"\",",
                                    "\nleft,\"two\nlines\",",
                                    "\nleft,'\ttab,",
                                    "\nleft,\"'\rcr\","};
    for (size_t i = 0; i < sizeof expected / sizeof *expected; i++) {
        given("%s", expected[i] + 1);
        expect_true(strstr(written.bytes, expected[i]) != NULL);
    }
    free(written.bytes);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(an_apostrophe_before_a_formula_stays_when_it_is_read_back) {
    /* interface.md: reading takes one off, so that writing has to add one. */
    tcr_set *set = new_set("");
    const tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    add_lash(set, TCR_LEFT, "'=1+1", &lash, NULL);
    text written = {0};
    expect_status(tcr_survey_write(set, TCR_LEFT, NULL, NULL, NULL, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "\n''=1+1,") != NULL);
    free(written.bytes);
    tcr_set_free(set);
}

/* ---- Surveys ------------------------------------------------------------------------- */

static const char SET[] = "tipcrest: 1\neyes:\n  - side: left\n    lashes: {survey: a.csv}\n"
                          "    map: [{to: 1, length_mm: 10, curl: C}]\n";

static tcr_status read_survey(const char *csv, tcr_set_file **file, tcr_error *error) {
    put("set.yaml", SET);
    put("a.csv", csv);
    *file = NULL;
    *error = (tcr_error){.message = ""};
    return tcr_set_file_read("set.yaml", NULL, file, error);
}

/* Reads a survey of two lashes, #1 at u = 0.25 and b at 0.5, both 8.5 mm long. */
static void expect_two_lashes(const char *csv) {
    tcr_error error;
    tcr_set_file *file;
    const tcr_status status = read_survey(csv, &file, &error);
    given("%s gave %lu:%lu: %s", csv, error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    const tcr_set *set = tcr_set_file_set(file);
    expect_count(tcr_set_lash_count(set, TCR_LEFT), 2);
    expect_text(tcr_set_id(set, TCR_LEFT, 0), "#1");
    expect_same(tcr_set_lash(set, TCR_LEFT, 0)->u, 0.25, "no arithmetic");
    expect_same(tcr_set_lash(set, TCR_LEFT, 1)->length_mm, 8.5, "no arithmetic");
    tcr_set_file_free(file);
}

CLAIM(what_a_spreadsheet_makes_of_comments_and_separators_is_read) {
    /* How spreadsheets write: common practice, no source. */
    static const char *const sheets[] = {
        "id,u,layer,length_mm\n\"#1\",0.25,top,8.5\nb,0.5,top,8.5\n",
        "sep=;\nid;u;layer;length_mm\n\"#1\";0,25;top;8,5\nb;0,5;top;8.5\n",
        "\xef\xbb\xbfSEP=;\r\nid;u;layer;length_mm\r\n\"#1\";0,25;top;8,5\r\nb;0,5;top;8,5\r\n",
        "sep=,\nid,u,layer,length_mm\n\"#1\",0.25,top,8.5\nb,0.5,top,8.5\n",
        "\"sep=;\";;;\nid;u;layer;length_mm\n\"#1\";0,25;top;8,5\nb;0,5;top;8,5\n",
        "\"# say \"\"so\"\", it goes on\"\nid,u,layer,length_mm\n\"#1\",0.25,top,8.5\n"
        "\"# and, \"\"here\"\"\",,,\nb,0.5,top,8.5\n\"# last\"",
        "\"# of\ntwo lines\";;;\nid;u;layer;length_mm\n\"#1\";0,25;top;8,5\n"
        "\"# of\r\ntwo; lines\";\"\"; ;\nb;0,5;top;8,5\n",
        "\"# a\",\" comma split this\"\nid,u,layer,length_mm\n\"#1\",0.25,top,8.5\nb,0.5,top,8.5",
    };
    enter_folder();
    for (size_t i = 0; i < sizeof sheets / sizeof *sheets; i++)
        expect_two_lashes(sheets[i]);
    leave_folder();
}

CLAIM(a_row_in_quotes_that_is_no_comment_keeps_its_line_and_its_fault) {
    static const struct {
        const char *csv;
        unsigned long line, column;
    } wrong[] = {
        {"\"# two\nlines\"\nid,u,layer,length_mm\nb,0.5,top\n", 4, 3},
        {"id,u,layer,length_mm\n\"#1\",0.5,,\n", 2, 3}, /* a lash, whose layer is missing */
        {"id,u,layer,length_mm\n\"# open,,,\nb,0.5,top,8\n", 2, 1},
        {"\"# open\nid,u,layer,length_mm\nb,0.5,top,8\n", 1, 1},
        {"sep=\t\nid\tu\tlayer\tlength_mm\n", 1, 1},
        {"sep=;x\nid;u;layer;length_mm\n", 1, 1},
        {"sep=", 1, 1},
        {"sep=;\nid;u;layer;length_mm\nb;0,5;top;9,,5\n", 3, 4},
    };
    enter_folder();
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        tcr_error error;
        tcr_set_file *file;
        const tcr_status status = read_survey(wrong[i].csv, &file, &error);
        given("%s gave %lu:%lu: %s", wrong[i].csv, error.line, error.column, error.message);
        expect_status(status, TCR_E_CONTENT);
        expect_count(error.line, wrong[i].line);
        expect_count(error.column, wrong[i].column);
    }
    leave_folder();
}

CLAIM(a_survey_with_decimal_commas_reads_back_as_the_same_set) {
    tcr_set *set = new_set("");
    const tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    for (size_t i = 0; i < 30; i++) {
        char id[16];
        snprintf(id, sizeof id, i % 2 == 0 ? "#%zu" : "a;%zu,5", i);
        tcr_lash lash = tcr_lash_unknown(0.1 + 0.026543210987654321 * (double)i, TCR_MIDDLE);
        lash.length_mm = 7.0 + 1.0 / (double)(i + 3);
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    tcr_csv_options options = tcr_csv_options_default();
    options.decimal_comma = true;
    text survey = {0};
    expect_status(tcr_survey_write(set, TCR_LEFT, NULL, NULL, &options, keep_text, &survey),
                  TCR_OK);
    expect_true(strncmp(survey.bytes, "id;u;layer;length_mm;", 21) == 0);
    expect_true(strchr(survey.bytes, '.') == NULL);
    enter_folder();
    tcr_error error;
    tcr_set_file *file;
    const tcr_status status = read_survey(survey.bytes, &file, &error);
    given("%s", error.message);
    expect_status(status, TCR_OK);
    expect_same_set(tcr_set_file_set(file), set);
    tcr_set_file_free(file);
    leave_folder();
    free(survey.bytes);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &every_cell_is_the_checks_own,
        &a_number_of_digits_out_of_range_is_refused_before_the_first_byte,
        &a_cell_that_a_spreadsheet_would_run_gets_an_apostrophe,
        &an_apostrophe_before_a_formula_stays_when_it_is_read_back,
        &what_a_spreadsheet_makes_of_comments_and_separators_is_read,
        &a_row_in_quotes_that_is_no_comment_keeps_its_line_and_its_fault,
        &a_survey_with_decimal_commas_reads_back_as_the_same_set,
    };
    return RUN_CLAIMS("csv", claims);
}
