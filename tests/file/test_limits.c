/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the interface promises of set files and surveys as a whole: what is not given has the
 * defaults of the contract, what a row gives wins, and a host's locale changes no byte. All data is
 * invented. Sizes, depth and counts are held by tests/cli/limits.sh, ranges of lashes by
 * test_survey.c.
 */
#include <tipcrest/begin.h>
#include <tipcrest/file.h>

#include <locale.h>
#include <sys/stat.h>

#include "file/folder.h"
#include "file/sample.h"

#define DEGREE (3.14159265358979323846 / 180.0)

static tcr_set_file *read_set(const char *path) {
    tcr_error error = {.message = ""};
    tcr_set_file *file = NULL;
    const tcr_status status = tcr_set_file_read(path, NULL, &file, &error);
    given("%s:%lu:%lu: %s", error.path, error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    return file;
}

static tcr_check *check_set(const tcr_set_file *file) {
    tcr_error error = {.message = ""};
    tcr_check *check = NULL;
    const tcr_status status = tcr_set_file_check(file, NULL, &check, &error);
    given("%s:%lu:%lu: %s", error.path, error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    return check;
}

/* ---- Defaults ------------------------------------------------------------------------ */

/* The contract's defaults: the model, sections 2 to 7 and 11, and the interface for layering. */
static void expect_defaults(const tcr_set *set) {
    static const char EXACT[] = "a decimal of the contract", TURNED[] = "a degree's conversion";
    const tcr_lid *lid = tcr_set_lid(set, TCR_LEFT);
    expect_same(lid->fissure_width_mm, 27.0, EXACT);
    expect_near(lid->canthal_tilt_rad, 5 * DEGREE, 1e-16, TURNED);
    expect_same(lid->inner_corner_height_mm, -1.5, EXACT);
    expect_same(lid->mrd1_mm, 3.5, EXACT);
    expect_same(lid->mrd2_mm, 5.2, EXACT);
    expect_same(lid->peak_offset_mm, -0.938, EXACT);
    expect_same(lid->fullness, 1.6, EXACT);
    expect_same(lid->globe_radius_mm, 12.0, EXACT);
    expect_same(lid->lateral_semiaxis_mm, 16.0, EXACT);
    expect_count(tcr_set_lid_assumed(set, TCR_LEFT), TCR_LID_ALL);
    expect_count(tcr_set_lash_count(set, TCR_LEFT), 96);
    const tcr_layering *layering = tcr_set_layering(set);
    expect_same(layering->step_mm, 1.0, EXACT);
    expect_same(layering->diameter_mm, 0.15, EXACT);
    expect_count(layering->fan, 1);
    expect_same(layering->spread_rad, 0.0, EXACT);
    for (size_t layer = 0; layer < TCR_LAYERS; layer++)
        expect_count(layering->placement[layer], TCR_ON_TOP);
    expect_true(!layering->blend);
    const tcr_lash *mean = tcr_set_mean_lash(set);
    expect_nan(mean->length_mm); /* the eye's own lashes say it */
    expect_nan(mean->turn_rad);
    const tcr_tray *tray = tcr_set_tray(set);
    expect_count(tray->count, 16); /* 5 to 20 by 1 */
    for (size_t i = 0; i < tray->count; i++)
        expect_same(tray->length_mm[i], 5.0 + (double)i, EXACT);
    expect_same(tcr_set_bond(set)->offset_mm, 0.7, EXACT);
    expect_same(tcr_set_bond(set)->length_mm, 3.0, EXACT);
    expect_same(tcr_set_bond(set)->glue_mm, 0.03, EXACT);
    expect_same(tcr_set_tolerance(set), 0.5, EXACT);
    expect_same(tcr_set_view(set)->opening, 1.0, EXACT);
    expect_same(tcr_set_view(set)->viewer_rad, 0.0, EXACT);
}

CLAIM(what_a_set_file_leaves_out_has_the_default_of_the_contract) {
    enter_folder();
    put("least.yaml", "tipcrest: 1\neyes:\n  - side: left\n    lashes: {describe: {}}\n"
                      "    map: [{to: 1, length_mm: 12, curl: C}]\n");
    tcr_set_file *file = read_set("least.yaml");
    expect_defaults(tcr_set_file_set(file));
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(a_partial_placement_leaves_the_rest_on_top) {
    static const char *const LAYERS[] = {"bottom", "middle", "top"};
    enter_folder();
    for (size_t given_one = 0; given_one < TCR_LAYERS; given_one++) {
        char yaml[400];
        snprintf(yaml, sizeof yaml,
                 "tipcrest: 1\nlayering: {placement: {%s: inner-side}}\neyes:\n  - side: left\n"
                 "    lashes: {describe: {}}\n    map: [{to: 1, length_mm: 12, curl: C}]\n",
                 LAYERS[given_one]);
        put("partial.yaml", yaml);
        tcr_set_file *file = read_set("partial.yaml");
        for (size_t layer = 0; layer < TCR_LAYERS; layer++)
            expect_count(tcr_set_layering(tcr_set_file_set(file))->placement[layer],
                         layer == given_one ? TCR_INNER_SIDE : TCR_ON_TOP);
        tcr_set_file_free(file);
    }
    leave_folder();
}

/* ---- What a lash wears --------------------------------------------------------------- */

static const char RULES[] =
    "tipcrest: 1\n"
    "tray: {lengths_mm: [9, 10, 11, 12]}\n"
    "layering: {step_mm: 1, diameter_mm: 0.1, fan: 2, spread_deg: 30, placement: {middle: "
    "outer-side}}\n"
    "eyes:\n"
    "  - side: right\n"
    "    lashes: {survey: right.csv}\n"
    "    map:\n"
    "      - {to: 0.5, length_mm: 12, curl: C}\n"
    "      - {to: 1, length_mm: 12, curl: C, middle: {length_mm: 9, curl: D, diameter_mm: 0.07, "
    "placement: underside, fan: 5, spread_deg: 60}}\n"
    "  - side: left\n"
    "    lashes: {survey: left.csv}\n"
    "    map: [{to: 1, length_mm: 12, curl: C}]\n";

typedef struct worn {
    const char *id;
    tcr_status status;
    double length_mm;
    const char *curl;
    double diameter_mm;
    tcr_placement placement;
    int fan;
    double spread_deg;
} worn;

static void expect_worn(const tcr_check *check, size_t i, worn expected) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash_result *lash = &tcr_check_eye(check, TCR_RIGHT)->lash[i];
    given("lash %s", expected.id);
    expect_text(tcr_set_id(set, TCR_RIGHT, i), expected.id);
    expect_status(lash->status, expected.status);
    if (expected.status != TCR_OK)
        return;
    expect_same(lash->choice.length_mm, expected.length_mm, "whole millimetres and eighths");
    expect_text(tcr_set_curl(set, lash->choice.curl)->label, expected.curl);
    expect_same(lash->choice.diameter_mm, expected.diameter_mm, "no arithmetic");
    expect_count(lash->choice.placement, expected.placement);
    expect_count(lash->choice.fan, expected.fan);
    expect_near(lash->choice.spread_rad, expected.spread_deg * DEGREE, 1e-15,
                "a degree's conversion");
}

CLAIM(a_row_wins_over_a_layer_of_a_zone_and_that_over_the_rule) {
    enter_folder();
    put("right.csv",
        "id,u,layer,length_mm,condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,"
        "ext_fan,ext_spread_deg\n"
        "rule,0.2,middle,8,,,,,,,\n"
        "zone,0.8,middle,8,,,,,,,\n"
        "part,0.8,middle,8,,,M,,,,\n"
        "row,0.8,middle,8,,14.125,M,0.05,inner-side,3,10\n" /* 14.125: the tray lacks it */
        "none,0.8,middle,8,,none,,,,,\n"
        "good,0.2,bottom,8,suitable,,,,,,\n"
        "baby,0.2,bottom,8,baby,,,,,,\n"
        "stray,0.2,bottom,8,stray,,,,,,\n"
        "weak,0.2,bottom,8,weak,,,,,,\n"
        "shed,0.2,bottom,8,shedding,,,,,,\n"
        "worn,0.2,bottom,8,baby,7,,,,,\n"
        "asks,0.2,bottom,8,weak,,D,,,,\n");
    put("left.csv", "id,u,layer,length_mm\nrule,0.5,top,8\n"); /* ids are an eye's own */
    put("set.yaml", RULES);
    tcr_set_file *file = read_set("set.yaml");
    tcr_check *check = check_set(file);
    const tcr_status bare = TCR_E_BARE;
    const worn expected[] = {
        {"rule", TCR_OK, 11, "C", 0.1, TCR_OUTER_SIDE, 2, 30},
        {"zone", TCR_OK, 9, "D", 0.07, TCR_UNDERSIDE, 5, 60},
        {"part", TCR_OK, 9, "M", 0.07, TCR_UNDERSIDE, 5, 60},
        {"row", TCR_OK, 14.125, "M", 0.05, TCR_INNER_SIDE, 3, 10},
        {"none", TCR_E_BARE_BY_ROW, 0, "", 0, TCR_ON_TOP, 0, 0},
        {"good", TCR_OK, 12, "C", 0.1, TCR_ON_TOP, 2, 30},
        {"baby", bare, 0, "", 0, TCR_ON_TOP, 0, 0},
        {"stray", bare, 0, "", 0, TCR_ON_TOP, 0, 0},
        {"weak", bare, 0, "", 0, TCR_ON_TOP, 0, 0},
        {"shed", bare, 0, "", 0, TCR_ON_TOP, 0, 0},
        {"worn", TCR_OK, 7, "C", 0.1, TCR_ON_TOP, 2, 30},
        {"asks", bare, 0, "", 0, TCR_ON_TOP, 0, 0}, /* only a length asks */
    };
    for (size_t i = 0; i < sizeof expected / sizeof *expected; i++)
        expect_worn(check, i, expected[i]);
    tcr_check_free(check);
    tcr_set_file_free(file);
    leave_folder();
}

/* ---- A host that has set a locale ------------------------------------------------------ */

static char comma_locale[64];       /* a locale with decimal commas; "" if there is none */
static char made_locales[PATH_MAX]; /* the folder in which one was made for this run, or "" */

static bool writes_commas(const char *locale) {
    char half[16];
    const bool is_there = setlocale(LC_ALL, locale) != NULL;
    (void)snprintf(half, sizeof half, "%.1f", 0.5);
    setlocale(LC_ALL, "C");
    return is_there && strcmp(half, "0,5") == 0;
}

/* Takes one that the machine has, or else has localedef make one. */
static void find_comma_locale(void) {
    static const char *const NAMES[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "es_ES.UTF-8",
                                        "nl_NL.UTF-8", "pl_PL.UTF-8", "pt_BR.UTF-8"};
    for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++)
        if (writes_commas(NAMES[i])) {
            strcpy(comma_locale, NAMES[i]);
            return;
        }
    const char *base = getenv("TMPDIR");
    char command[2 * PATH_MAX];
    snprintf(made_locales, sizeof made_locales, "%s/locales-XXXXXX", base != NULL ? base : "/tmp");
    if (mkdtemp(made_locales) == NULL) {
        made_locales[0] = '\0';
        return;
    }
    snprintf(command, sizeof command,
             "localedef -c -i de_DE -f UTF-8 '%s/de_DE.UTF-8' >/dev/null 2>&1", made_locales);
    if (system(command) == 0 && setenv("LOCPATH", made_locales, 1) == 0 &&
        writes_commas("de_DE.UTF-8"))
        strcpy(comma_locale, "de_DE.UTF-8");
}

static void remove_made_locales(void) {
    char command[2 * PATH_MAX];
    snprintf(command, sizeof command, "rm -rf '%s'", made_locales);
    if (made_locales[0] != '\0' && system(command) != 0)
        printf("%s could not be removed\n", made_locales);
}

/* Numbers in every place where one can stand, and some that are wrong. */
static const char NUMBERS[] =
    "tipcrest: 1\nopening: 0.75\nviewer_deg: -7.5\nline: {tolerance_mm: 0.4}\n"
    "layering: {step_mm: 0.5, diameter_mm: 0.07}\nbond: {glue_mm: 2.5e-2}\n"
    "tray: {lengths_mm: [9.5, 10, 10.5, 11, 11.5]}\ncurls: {X: {8.5: [[0.25, 0], [0.75, 80.5]], "
    "12: [[0.2, 0], [0.8, 95]]}}\n"
    "eyes:\n  - side: left\n    lid: {mrd1_mm: 3.25}\n    lashes: {survey: numbers.csv}\n"
    "    map: [{to: 0.5, length_mm: 11.5, curl: X}, {to: 1, length_mm: 11, curl: C}]\n"
    "  - side: right\n    lashes: {describe: {count: 24, length_mm: 8.25}}\n"
    "    map: [{to: 1, length_mm: 10.5, curl: C}]\n";
static const char ROWS[] = "id;u;layer;length_mm;ext_length_mm\na;0,1;bottom;8.25;\n"
                           "b;0.3;middle;8,5;\nc;5e-1;top;8;10,25\nd;0,7;bottom;7,75;\n"
                           "e;0.9;middle;8;none\n";
static const char *const WRONG[] = {
    "tipcrest: 1\nopening: 1,5\n",
    "tipcrest: 1\nopening: 1.5\n",
    "tipcrest: 1\nbond: {offset_mm: 0.5, glue_mm: 0.25mm}\n",
    "tipcrest: 1\ntray: {lengths_mm: [9.5, 9.5]}\n",
};

/* Everything that goes from text to numbers and back, one text behind the other. */
static text everything(void) {
    text all = {0};
    tcr_set_file *file = read_set("numbers.yaml");
    tcr_check *check = check_set(file);
    const tcr_begin_options begin = tcr_begin_options_default();
    expect_status(tcr_report_json(check, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_csv(check, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_table(check, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_why_json(check, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_why_csv(check, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_why_table(check, true, keep_text, &all), TCR_OK);
    expect_status(tcr_report_step_json(tcr_check_set(check), NULL, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_step_csv(tcr_check_set(check), NULL, NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_report_step_table(tcr_check_set(check), NULL, keep_text, &all), TCR_OK);
    expect_status(tcr_begin_write(&begin, keep_text, &all), TCR_OK);
    expect_status(tcr_begin_write_survey(TCR_LEFT, NULL, keep_text, &all), TCR_OK);
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        tcr_error error = {.message = ""};
        tcr_set_file *wrong = NULL;
        put("wrong.yaml", WRONG[i]);
        expect_status(tcr_set_file_read("wrong.yaml", NULL, &wrong, &error), TCR_E_CONTENT);
        expect_count(keep_text(&all, error.message, strlen(error.message)), 0);
    }
    tcr_check_free(check);
    tcr_set_file_free(file);
    return all;
}

static void expect_same_text(text found, text expected) {
    size_t same = 0;
    while (same < expected.count && found.bytes[same] == expected.bytes[same])
        same++;
    given("from byte %zu on: \"%.60s\"", same, found.bytes + (same > 20 ? same - 20 : 0));
    expect_count(same, expected.count);
    expect_count(found.count, expected.count);
}

CLAIM(a_locale_with_decimal_commas_changes_no_byte_read_or_written) {
    enter_folder();
    put("numbers.yaml", NUMBERS);
    put("numbers.csv", ROWS);
    text expected = everything();
    expect_true(expected.count > 20000); /* there is something to compare */

    ck_assert_ptr_nonnull(setlocale(LC_ALL, comma_locale));
    text process_wide = everything();
    expect_text(setlocale(LC_ALL, NULL), comma_locale); /* the host's own is left alone */
    setlocale(LC_ALL, "C");
    expect_same_text(process_wide, expected);

    const locale_t commas = newlocale(LC_ALL_MASK, comma_locale, (locale_t)0);
    ck_assert(commas != (locale_t)0);
    uselocale(commas);
    text of_thread = everything();
    expect_true(uselocale((locale_t)0) == commas);
    uselocale(LC_GLOBAL_LOCALE);
    freelocale(commas);
    expect_same_text(of_thread, expected);

    free(expected.bytes);
    free(process_wide.bytes);
    free(of_thread.bytes);
    leave_folder();
}

CLAIM(of_distance_and_tolerance_the_distance_is_written) {
    /* Source: interface.md: a file gives one of the two; line_rule.h: the distance wins. */
    tcr_line_rule rule = tcr_line_rule_default();
    rule.seen_from_mm = 400.0;
    rule.tolerance_mm = 2.0;
    const tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    tcr_set *set = new_set("");
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    add_lash(set, TCR_LEFT, "a", &lash, NULL);
    expect_status(tcr_set_put_line(set, &rule), TCR_OK);
    tcr_set_write_options options = tcr_set_write_options_default();
    options.survey[TCR_LEFT] = "a.csv";
    text written = {0};
    expect_status(tcr_set_write(set, &options, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "seen_from_mm: 400") != NULL);
    expect_true(strstr(written.bytes, "tolerance_mm") == NULL);
    free(written.bytes);
    tcr_set_free(set);
}

CLAIM(a_tray_may_hold_any_length) {
    enter_folder();
    put("set.yaml", "tipcrest: 1\ntray: any\neyes:\n  - side: left\n    lashes: {describe: {}}\n"
                    "    map: [{to: 1, length_mm: 10.3, curl: C}]\n");
    tcr_set_file *file = read_set("set.yaml");
    expect_count(tcr_set_tray(tcr_set_file_set(file))->count, 0); /* source: tray.h */
    tcr_set_file_free(file);
    leave_folder();
}

int main(void) {
    static const TTest *claims[] = {
        &a_tray_may_hold_any_length,
        &of_distance_and_tolerance_the_distance_is_written,
        &what_a_set_file_leaves_out_has_the_default_of_the_contract,
        &a_partial_placement_leaves_the_rest_on_top,
        &a_row_wins_over_a_layer_of_a_zone_and_that_over_the_rule,
        NULL,
    };
    size_t count = 5;
    find_comma_locale();
    if (comma_locale[0] != '\0')
        claims[count++] = &a_locale_with_decimal_commas_changes_no_byte_read_or_written;
    else
        puts("no locale with decimal commas, nor a localedef that makes one: that claim was not "
             "tested");
    const int status = tcr_run_claims("limits", claims, count);
    remove_made_locales();
    return status;
}
