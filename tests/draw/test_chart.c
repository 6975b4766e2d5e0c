/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts: every form in every format, and what is refused. All numbers are INVENTED. */
#include <stdint.h>

#include <tipcrest/chart.h>

#include "draw/drawn.h"
#include "draw/face.h"
#include "draw/said.h"
#include "draw/view_study.h"
#include "support/options.h"

static const double PLACES[] = {1, 2, 4, 8}, NUMBERS[] = {0.3, 0.1, NAN, 0.2};
static const double LOW[] = {0.2, 0.05, NAN, -0.1}, HIGH[] = {0.4, 0.2, NAN, 0.5};
static const char *const WORDS[] = {"C", "D", "<b>&", "\xff\x01"};
static const char *const REMARKS[] = {"A remark.", "Another one."};

static tcr_chart chart_of(tcr_chart_form form) {
    tcr_chart c = tcr_chart_default();
    c.form = form;
    c.title = "A chart <of> & \"numbers\"";
    c.text = "invented";
    c.quantity = "fitted.rms_mm, mm";
    c.x = (tcr_chart_axis){"longest_mm", 4, PLACES, form == TCR_CHART_BARS ? WORDS : NULL};
    c.value = NUMBERS;
    c.remark = REMARKS;
    c.remarks = 2;
    c.best = 1;
    if (form == TCR_CHART_CURVES) {
        c.x.count = c.panel.count = 2;
        c.panel.word = WORDS;
    }
    if (form == TCR_CHART_MAP) {
        c.x.count = c.y.count = 2;
        c.y.word = WORDS;
    } else {
        c.low = LOW;
        c.high = HIGH;
    }
    if (form == TCR_CHART_BARS)
        c.second = HIGH;
    return c;
}

CLAIM(every_form_is_written_in_every_format_and_the_same_each_time) {
    for (int form = 0; form < TCR_CHART_FORMS; form++)
        for (int format = 0; format < TCR_PICTURE_FORMATS; format++) {
            const tcr_chart c = chart_of((tcr_chart_form)form);
            bytes once = {0}, again = {0};
            given("form %d, format %d", form, format);
            expect_status(tcr_chart_write((tcr_picture_format)format, &c, NULL, keep_bytes, &once),
                          TCR_OK);
            expect_status(tcr_chart_write((tcr_picture_format)format, &c, NULL, keep_bytes, &again),
                          TCR_OK);
            expect_count(once.count, again.count);
            expect_bytes(once.byte, again.byte, once.count);
            free(once.byte);
            free(again.byte);
        }
}

CLAIM(numbers_that_are_all_missing_or_alike_are_drawn) {
    static const double NONE[] = {NAN, NAN, INFINITY, -INFINITY}, ALIKE[] = {5, 5, 5, 5};
    for (int form = 0; form < TCR_CHART_FORMS; form++)
        for (int k = 0; k < 2; k++) {
            tcr_chart c = chart_of((tcr_chart_form)form);
            bytes svg = {0};
            c.value = k == 0 ? NONE : ALIKE;
            c.low = c.high = c.second = NULL;
            c.most = k == 1;
            expect_status(tcr_chart_write(TCR_SVG, &c, NULL, keep_bytes, &svg), TCR_OK);
            free(svg.byte);
        }
}

static void expect_refused(const tcr_chart *c, tcr_status status) {
    bytes svg = {0};
    expect_status(tcr_chart_write(TCR_SVG, c, NULL, keep_bytes, &svg), status);
    expect_count(svg.calls, 0);
}

CLAIM(charts_that_cannot_be_are_refused) {
    static const double FALLING[] = {1, 3, 2, 4}, FAR[] = {1, 2, 3, INFINITY};
    static const char *const GAP[] = {"C", NULL, "D", "E"};
    bytes none = {0};
    tcr_chart c = chart_of(TCR_CHART_CURVE);
    expect_refused(NULL, TCR_E_ARGUMENT);
    expect_status(tcr_chart_write((tcr_picture_format)9, &c, NULL, keep_bytes, &none),
                  TCR_E_ARGUMENT);
    expect_status(tcr_chart_write(TCR_SVG, &c, NULL, NULL, NULL), TCR_E_ARGUMENT);
    c.x.value = FALLING;
    expect_refused(&c, TCR_E_RANGE);
    c.x.value = FAR;
    expect_refused(&c, TCR_E_RANGE);
    c.x.value = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c.x.word = GAP;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_CURVE);
    c.x.count = TCR_CHART_POINTS_MAX + 1;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_CURVE);
    c.high = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_MAP);
    c.best = 4;
    expect_refused(&c, TCR_E_RANGE);
    c.best = SIZE_MAX;
    c.y.count = 0;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_CURVES);
    c.panel.count = TCR_CHART_CURVES_MAX + 1;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_CURVES);
    c.x.count = TCR_CHART_CURVE_MAX + 1;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_CURVES);
    c.x.value = FAR;
    expect_refused(&c, TCR_E_RANGE);
    c.x.value = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_CURVES);
    c.panel.word = GAP;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_BARS);
    c.x.word = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_BARS);
    c.remarks = TCR_CHART_REMARKS_MAX + 1;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_BARS);
    c.form = (tcr_chart_form)TCR_CHART_FORMS;
    expect_refused(&c, TCR_E_ARGUMENT);
}

CLAIM(what_belongs_together_is_refused_alone) {
    tcr_chart c = chart_of(TCR_CHART_CURVES);
    c.panel.count = 0;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_CURVES);
    c.x.count = 0;
    expect_refused(&c, TCR_E_RANGE);
    c = chart_of(TCR_CHART_CURVES);
    c.panel.word = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_CURVE);
    c.value = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_CURVE);
    c.quantity = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_CURVE);
    c.low = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_BARS);
    c.second_low = LOW;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_BARS);
    c.remark = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_MAP);
    c.y.word = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = chart_of(TCR_CHART_MAP);
    c.panel = (tcr_chart_axis){"curl", TCR_CHART_PANELS_MAX + 1, NULL, WORDS};
    expect_refused(&c, TCR_E_RANGE);
}

/* ---- What is drawn ------------------------------------------------------------------- */

/* What a chart says, in 'said'. */
static void listen_to_chart(const tcr_chart *given) {
    tcr_chart c;
    tcr_picture picture;
    expect_status(tcr_picture_take_chart(given, NULL, &c, &picture), TCR_OK);
    listen_to(&tcr_picture_view_study, &picture);
}

/* How many lines and areas a chart has. */
static size_t paths_of(const tcr_chart *c) {
    bytes svg = {0};
    size_t found = 0;
    expect_status(tcr_chart_write(TCR_SVG, c, NULL, keep_bytes, &svg), TCR_OK);
    expect_count(keep_bytes(&svg, "", 1), 0); /* ends the text */
    for (const char *at = (const char *)svg.byte; (at = strstr(at, "<path")) != NULL; at++)
        found++;
    free(svg.byte);
    return found;
}

CLAIM(a_map_names_each_of_its_panels) {
    static const char *const PANELS[TCR_CHART_PANELS_MAX] = {
        "p01", "p02", "p03", "p04", "p05", "p06", "p07", "p08",
        "p09", "p10", "p11", "p12", "p13", "p14", "p15", "p16"};
    static double value[4 * TCR_CHART_PANELS_MAX];
    for (size_t i = 0; i < sizeof value / sizeof *value; i++)
        value[i] = (double)(i % 7);
    for (size_t n = 1; n <= TCR_CHART_PANELS_MAX; n++) {
        tcr_chart c = chart_of(TCR_CHART_MAP);
        c.value = value;
        c.panel = (tcr_chart_axis){"curl", n, NULL, PANELS};
        c.best = 4 * n - 1;
        given("%zu panels", n);
        listen_to_chart(&c);
        for (size_t i = 0; i < TCR_CHART_PANELS_MAX; i++) {
            char name[20];
            snprintf(name, sizeof name, "curl %s", PANELS[i]);
            expect_true((find_whole(0, name) < texts) == (i < n));
        }
    }
    tcr_chart c = chart_of(TCR_CHART_MAP);
    c.value = value;
    c.panel = (tcr_chart_axis){NULL, 2, NULL, PANELS}; /* words that say it by themselves */
    c.x.name = c.y.name = NULL;
    listen_to_chart(&c);
    expect_said(" p02");
    expect_said("across:  \xc2\xb7 up: ");
}

CLAIM(a_map_explains_the_marks_that_it_has) {
    static const char *const SAYS[2][2] = {{"cross: no value", NULL},
                                           {"frame: the best; cross: no value", "frame: the best"}};
    double value[4] = {0.1, 0.2, 0.3, 0.4};
    for (int whole = 0; whole < 2; whole++)
        for (int best = 0; best < 2; best++) {
            tcr_chart c = chart_of(TCR_CHART_MAP);
            value[0] = whole ? 0.1 : (double)NAN;
            c.value = value;
            c.best = best ? 1 : SIZE_MAX;
            given("%s, %s", whole ? "all have a value" : "one lacks a value",
                  best ? "a best" : "no best");
            listen_to_chart(&c);
            if (SAYS[best][whole] != NULL)
                expect_true(find_whole(0, SAYS[best][whole]) < texts);
            else
                expect_true(find(0, "no value") == texts && find(0, "frame:") == texts);
        }
}

CLAIM(a_chart_without_words_has_those_of_a_study) {
    tcr_chart c = chart_of(TCR_CHART_CURVE);
    listen_to_chart(&c);
    expect_said("A chart <of> & \"numbers\"");
    expect_said("invented");
    expect_said("longest_mm");
    c.x.name = c.text = NULL;
    c.title = "";
    listen_to_chart(&c);
    expect_said("A study");
    expect_true(find(0, "longest_mm") == texts && find(0, "invented") == texts);
    c.title = NULL;
    listen_to_chart(&c);
    expect_said("A study");
}

CLAIM(a_curve_over_words_has_a_bar_and_a_dot_for_each_that_has_numbers) {
    tcr_chart c = chart_of(TCR_CHART_CURVE);
    c.x = (tcr_chart_axis){"curl", 4, NULL, WORDS};
    c.best = SIZE_MAX;
    listen_to_chart(&c);
    expect_said("C");
    expect_said("<b>&");
    static const double NONE[] = {NAN, NAN, NAN, NAN};
    c.low = c.high = NUMBERS; /* three and a gap, within the range of the values */
    const size_t with = paths_of(&c);
    c.low = c.high = NONE;
    const size_t without = paths_of(&c);
    expect_count(with - without, 3);
    static const double OPEN[] = {0.3, NAN, NAN, 0.2};
    c.low = NUMBERS;
    c.high = OPEN; /* no bar where one of its ends is missing */
    expect_count(paths_of(&c) - without, 2);
    c.best = 1;
    const size_t ringed = paths_of(&c);
    c.best = 2; /* which has no number; the legend has its ring all the same */
    expect_count(ringed - paths_of(&c), 1);
}

CLAIM(a_band_has_a_gap_where_an_end_is_missing) {
    static const double ALL[] = {0.3, 0.1, 0.2, 0.2, 0.3}, ENDS[] = {0.2, 0.1, 0.1, 0.1, 0.1},
                        GAP[] = {0.3, 0.1, NAN, 0.2, 0.3}, AT[] = {1, 2, 3, 4, 5};
    tcr_chart c = chart_of(TCR_CHART_CURVE);
    c.x = (tcr_chart_axis){"longest_mm", 5, AT, NULL};
    c.value = c.high = ALL;
    c.low = ENDS;
    c.best = SIZE_MAX;
    const size_t whole = paths_of(&c);
    c.high = GAP;
    expect_count(paths_of(&c) - whole, 1); /* two bands in place of one */
}

CLAIM(numbers_of_a_wide_range_have_no_decimals) {
    static const double WIDE[] = {1e6, 2e6, 3e6, 4e6}, NARROW[] = {0.1, 0.11, 0.12, 0.13};
    tcr_chart c = chart_of(TCR_CHART_MAP);
    c.value = WIDE;
    listen_to_chart(&c);
    expect_true(find_whole(0, "1000000") < texts);
    c.value = NARROW; /* source: two digits of the range 0.03, rounded up: 10^-4 */
    listen_to_chart(&c);
    expect_true(find_whole(0, "0.1300") < texts);
}

CLAIM(an_svg_has_no_sign_that_xml_cannot_have) {
    tcr_chart c = chart_of(TCR_CHART_MAP);
    bytes svg = {0};
    c.title = "a\tb\nc\x01"
              "d\xef\xbf\xbe"
              "e & <f>"; /* U+FFFE; source: XML 1.0, section 2.2 */
    expect_status(tcr_chart_write(TCR_SVG, &c, NULL, keep_bytes, &svg), TCR_OK);
    expect_count(keep_bytes(&svg, "", 1), 0);
    expect_true(strstr((const char *)svg.byte, "<title>a\tb\nc?d?e &amp; &lt;f&gt;</title>") !=
                NULL);
    free(svg.byte);
    svg = (bytes){0};
    c.title = NULL;
    expect_status(tcr_chart_write(TCR_SVG, &c, NULL, keep_bytes, &svg), TCR_OK);
    expect_count(keep_bytes(&svg, "", 1), 0);
    expect_true(strstr((const char *)svg.byte, "<title></title>") != NULL);
    free(svg.byte);
}

CLAIM(many_points_of_a_curve_have_no_dots) {
    enum { MANY = 61 }; /* source: earlier result, dots up to 60 points */
    static double place[MANY], value[MANY];
    for (int i = 0; i < MANY; i++) {
        place[i] = i;
        value[i] = i % 5;
    }
    tcr_chart c = chart_of(TCR_CHART_CURVE);
    c.x = (tcr_chart_axis){"longest_mm", MANY, place, NULL};
    c.value = value;
    c.low = c.high = NULL;
    c.best = SIZE_MAX;
    const size_t many = paths_of(&c);
    c.x.count = MANY - 1;
    expect_true(paths_of(&c) >= many + MANY - 1);
}

CLAIM(curves_name_each_of_their_panels) {
    static const char *const PANELS[TCR_CHART_CURVES_MAX] = {"one",  "two",  "three",
                                                             "four", "five", "six"};
    static double place[2 * TCR_CHART_CURVES_MAX], value[2 * TCR_CHART_CURVES_MAX];
    for (size_t i = 0; i < sizeof place / sizeof *place; i++) {
        place[i] = (double)(i % 2);
        value[i] = (double)(i % 5);
    }
    for (size_t n = 1; n <= TCR_CHART_CURVES_MAX; n++) {
        tcr_chart c = chart_of(TCR_CHART_CURVES);
        c.x = (tcr_chart_axis){.count = 2, .value = place};
        c.panel = (tcr_chart_axis){NULL, n, NULL, PANELS};
        c.value = c.low = c.high = value;
        given("%zu panels", n);
        listen_to_chart(&c);
        for (size_t i = 0; i < TCR_CHART_CURVES_MAX; i++)
            expect_true((find_whole(0, PANELS[i]) < texts) == (i < n));
    }
}

CLAIM(a_curve_of_several_may_be_shorter_or_empty) {
    static const double SHORT[] = {1, NAN, NAN, NAN}; /* one point, and none */
    tcr_chart c = chart_of(TCR_CHART_CURVES);
    bytes svg = {0};
    c.x.value = SHORT;
    expect_status(tcr_chart_write(TCR_SVG, &c, NULL, keep_bytes, &svg), TCR_OK);
    free(svg.byte);
}

CLAIM(a_bar_alone_has_its_number_unless_an_interval_stands_there) {
    tcr_chart c = chart_of(TCR_CHART_BARS);
    c.second = c.low = c.high = NULL;
    c.x.name = "mm rms";
    listen_to_chart(&c);
    expect_said("mm rms");
    /* source: two digits of the range 0 to 0.3, rounded up */
    expect_true(find_whole(0, "0.300") < texts && find_whole(0, "0.100") < texts);
    c.low = LOW, c.high = HIGH;
    listen_to_chart(&c);
    expect_true(find_whole(0, "0.300") == texts);
    c.second = HIGH;
    c.low = c.high = NULL;
    c.x.name = NULL;
    listen_to_chart(&c);
    expect_true(find_whole(0, "0.300") == texts && find(0, "mm rms") == texts);
}

/* ---- A line for each of a few values ----------------------------------------------------------
 */

static const double OF_LINES[] = {0.9, 0.2, 0.7, 0.5, 0.4, 0.6, 0.2, 0.3, NAN, NAN, NAN, NAN};
static const double BELOW[] = {0.8, 0.2, 0.6, 0.4, 0.3, 0.5, 0.2, 0.2, NAN, NAN, NAN, NAN};
static const double STEPS[] = {0, 1, 2};

static tcr_chart lines_of(size_t lines) {
    tcr_chart c = chart_of(TCR_CHART_CURVE);
    c.y = (tcr_chart_axis){"step_mm", lines, STEPS, NULL};
    c.value = c.high = OF_LINES;
    c.low = BELOW;
    c.best = SIZE_MAX;
    return c;
}

CLAIM(lines_are_named_each_with_its_band_dots_and_ring) {
    tcr_chart c = lines_of(2);
    listen_to_chart(&c);
    expect_said("step_mm 0");
    expect_said("step_mm 1");
    static const double NONE[] = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    static const char *const ALIKE[] = {"a", "a", "a"}; /* the shape of a sign is a path too */
    c.y = (tcr_chart_axis){NULL, 2, NULL, ALIKE};
    const size_t two = paths_of(&c);
    c.low = c.high = NONE;
    expect_count(two - paths_of(&c), 2); /* bands */
    c.low = BELOW, c.high = OF_LINES;
    c.y.count = 1;
    expect_count(two - paths_of(&c), 1 + 1 + 4); /* a band, a line, dots */
    c.y.count = 2;
    c.best = 6;
    const size_t ringed = paths_of(&c);
    c.best = 2; /* of the first line */
    expect_count(paths_of(&c), ringed);
    c = lines_of(3); /* nothing is known of the third */
    listen_to_chart(&c);
    expect_true(find(0, "step_mm 2") == texts);
    c = lines_of(2);
    c.y.name = NULL;
    listen_to_chart(&c);
    expect_true(find_whole(0, "0") < texts && find(0, "step_mm") == texts);
}

/* From the top down; that they keep apart is for test_fit. */
CLAIM(names_of_lines_are_in_the_order_of_their_ends) {
    static const double CLOSE[] = {0.1, 0.2, 0.3, 0.5, 0.4, 0.6, 0.2, 0.501};
    tcr_chart c = lines_of(2);
    c.value = CLOSE;
    c.low = c.high = NULL;
    listen_to_chart(&c);
    const size_t first = find_whole(0, "step_mm 0"), second = find_whole(0, "step_mm 1");
    expect_true(second < first && first < texts);
}

CLAIM(lines_that_cannot_be_are_refused) {
    tcr_chart c = lines_of(TCR_CHART_LINES_MAX + 1);
    expect_refused(&c, TCR_E_RANGE);
    c = lines_of(2);
    c.x = (tcr_chart_axis){"curl", 4, NULL, WORDS};
    expect_refused(&c, TCR_E_ARGUMENT);
    c = lines_of(2);
    c.y.value = NULL;
    expect_refused(&c, TCR_E_ARGUMENT);
    c = lines_of(2);
    c.best = 8;
    expect_refused(&c, TCR_E_RANGE);
    c.best = 7;
    listen_to_chart(&c);
    c.x.count = TCR_CHART_POINTS_MAX / 2 + 1; /* of both together */
    static double many[TCR_CHART_POINTS_MAX];
    for (size_t i = 0; i < c.x.count; i++)
        many[i] = (double)i;
    c.x.value = many;
    expect_refused(&c, TCR_E_RANGE);
}

static tcr_status draw_chart(const void *chart, void *context) {
    bytes svg = {0};
    (void)context;
    const tcr_status status = tcr_chart_write(TCR_SVG, chart, NULL, keep_bytes, &svg);
    expect_true((status == TCR_OK) == (svg.calls > 0));
    free(svg.byte);
    return status;
}

CLAIM(a_chart_may_be_of_an_older_size) {
    const tcr_chart c = chart_of(TCR_CHART_MAP);
    expect_count(tcr_chart_default().best == SIZE_MAX, true);
    tcr_expect_sizes(&c, sizeof c, draw_chart, NULL);
}

int main(void) {
    static const TTest *const claims[] = {
        &every_form_is_written_in_every_format_and_the_same_each_time,
        &numbers_that_are_all_missing_or_alike_are_drawn,
        &charts_that_cannot_be_are_refused,
        &what_belongs_together_is_refused_alone,
        &a_map_names_each_of_its_panels,
        &a_map_explains_the_marks_that_it_has,
        &a_chart_without_words_has_those_of_a_study,
        &a_curve_over_words_has_a_bar_and_a_dot_for_each_that_has_numbers,
        &a_band_has_a_gap_where_an_end_is_missing,
        &numbers_of_a_wide_range_have_no_decimals,
        &an_svg_has_no_sign_that_xml_cannot_have,
        &many_points_of_a_curve_have_no_dots,
        &curves_name_each_of_their_panels,
        &a_curve_of_several_may_be_shorter_or_empty,
        &a_bar_alone_has_its_number_unless_an_interval_stands_there,
        &lines_are_named_each_with_its_band_dots_and_ring,
        &names_of_lines_are_in_the_order_of_their_ends,
        &lines_that_cannot_be_are_refused,
        &a_chart_may_be_of_an_older_size,
    };
    return RUN_DRAWN_CLAIMS("chart", claims);
}
