/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of a check for people. Expected numbers are the check's own; words are this project's
 * own. */
#include <tipcrest/file.h>
#include <tipcrest/load.h>

#include <math.h>
#include <stdio.h>

#include "file/sample.h"
#include "support/recipe.h"

/* ---- The table --------------------------------------------------------------------- */

static char *form_of(const tcr_set *set, tcr_against against, bool full) {
    tcr_check_options options = tcr_check_options_default();
    tcr_table_options form = tcr_table_options_default();
    options.against = against;
    form.full = full;
    tcr_check *check = new_check(set, &options);
    text written = {0};
    expect_status(tcr_report_table(check, &form, keep_text, &written), TCR_OK);
    tcr_check_free(check);
    return written.bytes;
}

static char *table_of(const tcr_set *set, tcr_against against) {
    return form_of(set, against, true);
}

static void expect_in(const char *table, const char *part) {
    if (strstr(table, part) == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", part, table);
}

/* Bytes that are not the second or later of a character: columns, for text without wide ones. */
static int characters(const char *line, size_t bytes) {
    int count = 0;
    for (size_t i = 0; i < bytes; i++)
        count += ((unsigned char)line[i] & 0xc0) != 0x80;
    return count;
}

/* The lines of a table that are not blank, none of them wider than a terminal, up to the cautions
 * and without doubts, or of all. */
static int count_lines(const char *table, bool with_cautions) {
    int lines = 0;
    for (const char *at = table; *at != '\0';) {
        const size_t bytes = strcspn(at, "\n");
        given("line \"%.*s\"", (int)bytes, at);
        expect_within(characters(at, bytes), 0, 80, "the width of a terminal");
        if (!with_cautions &&
            (strncmp(at, "\"Shows", 6) == 0 || strncmp(at, "For trained", 11) == 0))
            break;
        lines += bytes > 0 && (with_cautions || strncmp(at, "Doubt", 5) != 0);
        at += bytes + 1;
    }
    return lines;
}

CLAIM(no_line_is_wider_than_80_columns_and_an_eye_takes_at_most_40) {
    tcr_set *set = new_sample();
    char *table = table_of(set, TCR_FITTED);
    expect_within(count_lines(table, true), 50, 2 * 40 + 20, "two eyes and what holds for both");
    free(table);
    tcr_set_free(set);
}

CLAIM(the_short_form_takes_at_most_15_lines_an_eye_beside_cautions) {
    /* source: the promise of file.h */
    gsl_rng *rng = tcr_make_rng(31);
    static tcr_recipe recipe;
    for (int round = 0; round < 200; round++) {
        tcr_check *check = NULL;
        tcr_draw_recipe(rng, &recipe);
        tcr_set *set = tcr_recipe_build(&recipe, NULL);
        const tcr_against against = (tcr_against)(round % 2);
        if (tcr_check_new(set, NULL, &check, NULL) == TCR_OK) {
            char *table = form_of(set, against, false);
            given("%s", table);
            expect_within(count_lines(table, false), 4, 15 * (double)tcr_set_eyes(set, NULL),
                          "the promise");
            free(table);
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
    tcr_set *set = new_sample();
    for (int against = 0; against < 2; against++) {
        char *table = form_of(set, (tcr_against)against, false);
        given("%s", table);
        expect_within(count_lines(table, false), 20, 30, "the promise");
        free(table);
    }
    tcr_set_free(set);
}

CLAIM(a_table_begins_with_the_verdict_on_each_eye_and_on_both) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    char expected[400], *at = expected;
    for (int side = 0; side < TCR_SIDES; side++) {
        static const char *const words[] = {"not judged", "even", "mostly even", "uneven"};
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        at += sprintf(
            at, "%s: %s, %.2f mm rms; %zu %% within 0.5 mm; %zu of %zu tips stick out\n",
            side == TCR_LEFT ? "Left" : "Right", words[eye->verdict], eye->fitted.upright.rms_mm,
            100 * (eye->extended - eye->staggered) / eye->extended, eye->staggered, eye->extended);
    }
    for (int full = 0; full < 2; full++) {
        char *table = form_of(set, TCR_FITTED, full == 1);
        given("%s", table);
        expect_true(strncmp(table, expected, strlen(expected)) == 0);
        const char *both = table + strlen(expected);
        expect_true(strncmp(both, "Both eyes: ", 11) == 0);
        /* once, where it is first used */
        const char *rms = strstr(table, "  rms: a tip's typical distance from the fitted line");
        expect_true(rms != NULL && strstr(rms + 8, "rms: ") == NULL);
        free(table);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(nothing_in_an_id_or_a_title_reaches_the_terminal_raw) {
    tcr_set *set = new_sample();
    const tcr_against lines[] = {TCR_FITTED, TCR_INTENDED};
    /* A tolerance that makes every lash staggered, so that ids with trouble are among the worst. */
    expect_status(tcr_set_put_tolerance(set, 0.05), TCR_OK);
    for (size_t i = 0; i < 2; i++) {
        char *table = table_of(set, lines[i]);
        for (const char *at = table; *at != '\0'; at++)
            expect_true(((unsigned char)*at >= 0x20 && *at != 0x7f) || *at == '\n');
        expect_true(strstr(table, "\xe2\x80\xae") == NULL); /* U+202E turns the writing round */
        expect_in(table, "\\x1b[31mred");
        free(table);
    }
    tcr_set_free(set);
}

CLAIM(figures_are_the_checks_own_to_two_decimals) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    char *table = table_of(set, TCR_FITTED);
    char expected[200];
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        const tcr_residuals *const spreads[] = {&eye->fitted.upright, &eye->intended.upright};
        const double shares[] = {eye->fitted.within_tolerance, eye->intended.within_tolerance};
        for (size_t i = 0; i < 2; i++) {
            snprintf(expected, sizeof expected, "    upright%29.2f%17.2f%8.2f%13.0f %%\n",
                     spreads[i]->rms_mm, spreads[i]->p95_abs_mm, spreads[i]->max_abs_mm,
                     floor(100.0 * shares[i] + 1e-9)); /* never too much */
            expect_in(table, expected);
        }
        snprintf(expected, sizeof expected, "    across the line%21.2f%17.2f%8.2f",
                 eye->fitted.across.rms_mm, eye->fitted.across.p95_abs_mm,
                 eye->fitted.across.max_abs_mm);
        expect_in(table, expected);
        snprintf(expected, sizeof expected,
                 "  %zu of %zu lashes carry extensions; bare: ", eye->extended, eye->lashes);
        expect_in(table, expected);
        snprintf(expected, sizeof expected, "neighbouring tips: %.2f mm\n", eye->largest_gap_mm);
        expect_in(table, expected);
        const double *front = eye->view_offset_mm[TCR_OPEN_FRONT];
        const double most = fmax(fmax(fabs(front[0]), fabs(front[1])), fabs(front[2]));
        const double tangent = tan(3.0 / 60.0 * 3.14159265358979323846 / 180.0); /* section 6 */
        snprintf(expected, sizeof expected,
                 "    eye open, from the front%+15.2f%+9.2f%+9.2f%16.0f cm\n", front[0], front[1],
                 front[2], ceil(most / tangent / 10.0));
        expect_in(table, expected);
    }
    tcr_symmetry symmetry;
    expect_status(tcr_check_symmetry(check, &symmetry), TCR_OK);
    snprintf(expected, sizeof expected, ", lines %.2f mm rms apart, at most %.2f", symmetry.rms_mm,
             ceil(symmetry.max_mm * 100.0) / 100.0);
    expect_in(table, expected);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* A set of level lashes of which some are too long by known sizes of the tray. */
static tcr_set *new_staggered(size_t longer) {
    tcr_set *set = new_set("Staggered (invented)");
    const tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    for (size_t i = 0; i < 90; i++) {
        char id[32];
        snprintf(id, sizeof id, "b%zu", i);
        const tcr_lash lash = tcr_lash_unknown(0.05 + 0.01 * (double)i, TCR_BOTTOM);
        const bool is_longer = i % 6 == 3 && i / 6 < longer;
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = i == 3 ? 13.0 : 11.0};
        add_lash(set, TCR_LEFT, id, &lash, is_longer ? &wish : NULL);
    }
    return set;
}

CLAIM(a_staggered_lash_is_told_with_the_size_that_mends_it) {
    tcr_set *set = new_staggered(2);
    tcr_check *check = new_check(set, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    char *table = table_of(set, TCR_FITTED);
    char expected[200];
    expect_count(eye->staggered, 2);
    /* 13 to 10 and 11 to 10 on the default tray of whole millimetres. */
    expect_count(eye->lash[3].remedy.sizes, -3);
    expect_count(eye->lash[9].remedy.sizes, -1);
    snprintf(expected, sizeof expected,
             "    b3  bottom  %+.2f mm: three sizes shorter (10 mm leaves 0.00)\n"
             "    b9  bottom  %+.2f mm: one size shorter (10 mm leaves %+.2f)\n",
             eye->lash[3].deviation_mm, eye->lash[9].deviation_mm,
             eye->lash[9].remedy.deviation_mm);
    expect_near(eye->lash[3].remedy.deviation_mm, 0.0, 0.005, "what prints as 0.00");
    expect_in(table, "  Sticking out, more than 0.5 mm off the fitted line: 2\n");
    expect_in(table, expected);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_tray_without_a_better_length_is_told) {
    tcr_set *set = new_staggered(1);
    /* The only length is the map's; the long lash wears 13 mm, which the tray need not have. */
    const tcr_tray tray = {.count = 2, .length_mm = {10, 20}};
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash.pitch_rad = tcr_degrees(60); /* stands far up; a longer one would only be worse */
    add_lash(set, TCR_LEFT, "up", &lash, NULL);
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    tcr_check *check = new_check(set, NULL);
    const tcr_lash_result *up = &tcr_check_eye(check, TCR_LEFT)->lash[90];
    expect_true(up->staggered);
    expect_count(up->remedy.sizes, 0);
    char *table = table_of(set, TCR_FITTED);
    expect_in(table, "mm: no length of the tray does better\n");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(only_the_worst_twelve_are_listed_and_the_rest_counted) {
    tcr_set *set = new_staggered(15);
    tcr_check *check = new_check(set, NULL);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    expect_count(eye->staggered, 15);
    char *table = table_of(set, TCR_FITTED);
    int listed = 0;
    double last = INFINITY;
    for (const char *at = table; (at = strstr(at, "  bottom  +")) != NULL; at++) {
        const double deviation = fabs(strtod(at + 10, NULL));
        expect_within(deviation, 0.5, last, "worst first, to two decimals");
        last = deviation;
        listed++;
    }
    expect_count(listed, 12);
    expect_in(table, "    and 3 more, none worse; --csv FILE has all\n");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(too_few_tips_and_missing_lines_are_said_in_words) {
    const struct {
        size_t carrying;
        const char *part;
    } cases[] = {
        {0, "  Evenness: no line, because no lash carries an extension\n"},
        {0, "  Match to the map: no line, because no lash carries an extension\n"},
        {0, "  0 of 2 lashes carry extensions; bare: 2 baby\n"},
        {2, "  Evenness: no line, because fewer than three lashes carry an extension\n"},
        {11, "  Fewer than 12 tips: too few to judge how even they are, for a line bends to so\n"
             "    few.\n"},
        {11, "  Evenness: not judged, too few tips\n"},
        {11, "Not judged: fewer than 12 tips, to which any line bends\n"},
        {2, "Not judged: fewer than three lashes carry an extension\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tcr_set *set = new_small(cases[i].carrying);
        char *table = table_of(set, TCR_FITTED);
        given("%zu lashes with an extension", cases[i].carrying);
        expect_in(table, cases[i].part);
        /* Figures that would read as praise. */
        expect_true(strstr(table, "Layers above or below") == NULL || cases[i].carrying < 3);
        expect_true(strstr(table, "off the line fitted to the tips") == NULL);
        free(table);
        tcr_set_free(set);
    }
    tcr_set *set = new_small(12);
    char *table = table_of(set, TCR_FITTED);
    expect_true(strstr(table, "too few to judge") == NULL);
    free(table);
    tcr_set_free(set);
}

CLAIM(assumptions_and_cautions_close_the_table) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    char *table = table_of(set, TCR_FITTED);
    const tcr_eye_result *left = tcr_check_eye(check, TCR_LEFT);
    const tcr_eye_result *right = tcr_check_eye(check, TCR_RIGHT);
    const double n = (double)left->extended, m = (double)right->extended;
    /* The second is the pitch, in the order of the survey's columns. */
    expect_count(left->assumption[1].field, TCR_LASH_PITCH);
    const double mean =
        (left->assumption[1].per_unit * n + right->assumption[1].per_unit * m) / (n + m);
    char expected[200];
    snprintf(expected, sizeof expected,
             "  pitch assumed for 167 of 167 lashes: 1° moves a tip by %.2f mm\n",
             mean * tcr_degrees(1));
    expect_in(table, expected);
    expect_in(table, "  root diameter assumed for 167 of 167 lashes: 0.01 mm moves a tip by ");
    expect_in(table, "  left lid: 9 of 9 measures assumed\n");
    expect_in(table, "licensed hands; local rules go first.\n");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(what_the_couch_hides_is_said_in_one_sentence) {
    /* Equal lengths on all layers, all on the outer side: model.md section 5 says that they differ
     * by 0.07 mm from the artist's seat and by 0.95 mm a layer with the eye open. */
    tcr_set *set = new_set("");
    const tcr_zone zone = {.to = 1, .length_mm = 12, .curl = "C"};
    tcr_layering layering = tcr_layering_default();
    layering.step_mm = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        layering.placement[layer] = TCR_OUTER_SIDE;
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    for (size_t i = 0; i < 90; i++) {
        char id[32];
        snprintf(id, sizeof id, "e%zu", i);
        const tcr_lash lash =
            tcr_lash_unknown(0.05 + 0.01 * (double)i, (tcr_layer)(i % TCR_LAYERS));
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    char *table = table_of(set, TCR_FITTED);
    expect_in(table, "  The couch hides a stagger: the layers lie ");
    free(table);
    tcr_set_free(set);
}

CLAIM(a_deviation_is_never_shown_as_the_limit_that_it_exceeds) {
    tcr_set *set = new_staggered(15);
    tcr_check *check = new_check(set, NULL);
    /* A tolerance just below the least of the deviations that are too large. */
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    double least = INFINITY;
    for (size_t i = 0; i < eye->lashes; i++)
        if (eye->lash[i].staggered)
            least = fmin(least, fabs(eye->lash[i].deviation_mm));
    const double tolerance = floor(least * 1000.0) / 1000.0; /* within 0.001 mm of it */
    expect_status(tcr_set_put_tolerance(set, tolerance), TCR_OK);
    char *table = table_of(set, TCR_FITTED), limit[32], across[200];
    size_t upright_within = 0, across_within = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        upright_within += fabs(eye->lash[i].deviation_mm) <= tolerance;
        across_within += fabs(eye->lash[i].across_mm) <= tolerance;
    }
    expect_true(across_within > upright_within);
    snprintf(across, sizeof across, "    across the line%21.2f%17.2f%8.2f%13zu %%\n",
             eye->fitted.across.rms_mm, eye->fitted.across.p95_abs_mm,
             eye->fitted.across.max_abs_mm, 100 * across_within / eye->extended);
    expect_in(table, across);
    const char *list = strstr(table, "Sticking out");
    snprintf(limit, sizeof limit, "+%.2f mm: ", tolerance);
    given("tolerance %.17g in\n%s", tolerance, table);
    expect_true(list != NULL && strstr(list, "+") != NULL);
    for (const char *at = list; (at = strstr(at, "  bottom  +")) != NULL; at++)
        expect_within(strtod(at + 10, NULL), nextafter(tolerance, INFINITY), INFINITY,
                      "three digits where that decides");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(lashes_that_stick_out_are_named_in_the_short_form_as_far_as_fits) {
    tcr_set *set = new_staggered(15);
    char *table = form_of(set, TCR_FITTED, false);
    expect_in(table, "  Sticking out: b3   bottom  +");
    expect_in(table, " more, none worse: --full\n");
    free(table);
    tcr_set_free(set);
    set = new_staggered(1);
    table = form_of(set, TCR_FITTED, false);
    expect_in(table, "; 1 of 90 tips sticks out\n");
    expect_in(table, "  Sticking out: b3  bottom  +");
    expect_true(strstr(table, "none worse") == NULL);
    free(table);
    tcr_set_free(set);
    set = new_staggered(0);
    table = form_of(set, TCR_FITTED, false);
    expect_true(strncmp(table, "Even: ", 6) == 0);
    expect_in(table, "; 100 % within 0.5 mm; none of 90 tips stick out\n");
    expect_true(strstr(table, "Sticking out") == NULL);
    free(table);
    tcr_set_free(set);
}

CLAIM(each_reason_for_a_bare_lash_has_its_own_count) {
    const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    tcr_set *set = new_set("");
    add_eye(set, TCR_LEFT);
    for (size_t i = 0; i < 9; i++) {
        char id[32];
        snprintf(id, sizeof id, "r%zu", i);
        tcr_lash lash = tcr_lash_unknown(0.1 + 0.1 * (double)i, TCR_BOTTOM);
        lash.length_mm = i == 4 ? 1.5 : 7.5; /* less than 1 mm behind the offset of 0.7 mm */
        add_lash(set, TCR_LEFT, id, &lash, i < 2 ? &bare : NULL);
    }
    char *table = table_of(set, TCR_FITTED);
    expect_in(table, "  6 of 9 lashes carry extensions; bare: 2 by the survey, "
                     "1 too short to bond to\n");
    free(table);
    tcr_set_free(set);
}

CLAIM(a_viewer_stands_above_or_below) {
    tcr_set *set = new_small(12);
    for (int raised = -1; raised <= 1; raised++) { /* positive is above: view.h */
        static const char *const heard[] = {": eye 40 % open, from 10° below\n",
                                            ": eye 40 % open, from the front\n",
                                            ": eye 40 % open, from 10° above\n"};
        const tcr_view view = {0.4, tcr_degrees(10 * raised)};
        expect_status(tcr_set_put_view(set, &view), TCR_OK);
        char *table = table_of(set, TCR_FITTED);
        expect_in(table, heard[raised + 1]);
        free(table);
    }
    tcr_set_free(set);
}

/* The largest less the least offset of the layers in a view. */
static double apart_in(const tcr_eye_result *eye, tcr_named_view view) {
    const double *at = eye->view_offset_mm[view];
    return fmax(fmax(at[0], at[1]), at[2]) - fmin(fmin(at[0], at[1]), at[2]);
}

CLAIM(what_the_couch_hides_counts_from_a_tenth_of_a_millimetre_on) {
    int hides = 0, close = 0, shows = 0;
    for (int i = 0; i <= 100; i++) {
        tcr_set *set = new_staggered(0);
        tcr_layering layering = tcr_layering_default();
        layering.step_mm = 0.02 * i;
        expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
        const tcr_tray any = {.count = 0};
        expect_status(tcr_set_put_tray(set, &any), TCR_OK);
        for (int k = 0; k < 60; k++) {
            char id[32];
            snprintf(id, sizeof id, "u%d", k);
            const tcr_lash lash = tcr_lash_unknown(0.05 + 0.015 * k, k % 2 ? TCR_MIDDLE : TCR_TOP);
            add_lash(set, TCR_LEFT, id, &lash, NULL);
        }
        tcr_check *check = new_check(set, NULL);
        const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
        const double more = apart_in(eye, TCR_OPEN_FRONT) - apart_in(eye, TCR_ARTIST);
        char *table = table_of(set, TCR_FITTED);
        given("steps of %g mm, %g mm more with the eye open", layering.step_mm, more);
        expect_in(table, more > 0.1    ? "  The couch hides a stagger: "
                         : more < -0.1 ? "  The couch shows more stagger than this view: "
                                       : "  The couch shows the layers as this view does: ");
        hides += more > 0.1 && more < 0.3;
        close += fabs(more) <= 0.1;
        shows += more < -0.1 && more > -0.3;
        free(table);
        tcr_check_free(check);
        tcr_set_free(set);
    }
    given("%d hide, %d are close, %d show", hides, close, shows);
    expect_true(hides > 0 && close > 0 && shows > 0); /* or a limit was not tested */
}

CLAIM(the_heaviest_load_and_the_hardest_turned_root_are_named) {
    tcr_set *set = new_staggered(0);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_wish thick = {
        .fixed = TCR_FIX_LENGTH | TCR_FIX_DIAMETER, .length_mm = 6.0, .diameter_mm = 0.25};
    const tcr_wish slim = {
        .fixed = TCR_FIX_LENGTH | TCR_FIX_DIAMETER, .length_mm = 20.0, .diameter_mm = 0.12};
    add_lash(set, TCR_LEFT, "thick", &lash, &thick);
    add_lash(set, TCR_LEFT, "slim", &lash, &slim);
    tcr_check *check = new_check(set, NULL);
    size_t heaviest = 0, hardest = 0;
    double mass = 0.0, moment = 0.0;
    for (size_t i = 0; i < tcr_set_lash_count(set, TCR_LEFT); i++) {
        tcr_weight weight;
        expect_status(tcr_check_weight(check, TCR_LEFT, i, &weight), TCR_OK);
        heaviest = weight.load.mass_ratio > mass ? i : heaviest;
        hardest = weight.load.moment_ratio > moment ? i : hardest;
        mass = fmax(mass, weight.load.mass_ratio);
        moment = fmax(moment, weight.load.moment_ratio);
    }
    expect_text(tcr_set_id(set, TCR_LEFT, heaviest), "thick"); /* by hand: d d L */
    expect_text(tcr_set_id(set, TCR_LEFT, hardest), "slim");   /* d d L L */
    char *table = table_of(set, TCR_FITTED), expected[200];
    snprintf(expected, sizeof expected,
             "  Heaviest load: thick carries %.1f times its own mass; the root of slim bears\n"
             "    %.1f times the turning force of the bare lash.",
             mass, moment);
    expect_in(table, expected);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_short_form_takes_at_most_15_lines_an_eye_beside_cautions,
        &a_table_begins_with_the_verdict_on_each_eye_and_on_both,
        &a_deviation_is_never_shown_as_the_limit_that_it_exceeds,
        &lashes_that_stick_out_are_named_in_the_short_form_as_far_as_fits,
        &no_line_is_wider_than_80_columns_and_an_eye_takes_at_most_40,
        &nothing_in_an_id_or_a_title_reaches_the_terminal_raw,
        &figures_are_the_checks_own_to_two_decimals,
        &a_staggered_lash_is_told_with_the_size_that_mends_it,
        &a_tray_without_a_better_length_is_told,
        &only_the_worst_twelve_are_listed_and_the_rest_counted,
        &too_few_tips_and_missing_lines_are_said_in_words,
        &assumptions_and_cautions_close_the_table,
        &what_the_couch_hides_is_said_in_one_sentence,
        &each_reason_for_a_bare_lash_has_its_own_count,
        &a_viewer_stands_above_or_below,
        &what_the_couch_hides_counts_from_a_tenth_of_a_millimetre_on,
        &the_heaviest_load_and_the_hardest_turned_root_are_named,
    };
    return RUN_CLAIMS("table", claims);
}
