/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts: every form in every format, and what is refused. All numbers are INVENTED. */
#include <stdint.h>

#include <tipcrest/chart.h>

#include "draw/drawn.h"
#include "draw/face.h"
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

CLAIM(a_curve_of_several_may_be_shorter_or_empty) {
    static const double SHORT[] = {1, NAN, NAN, NAN}; /* one point, and none */
    tcr_chart c = chart_of(TCR_CHART_CURVES);
    bytes svg = {0};
    c.x.value = SHORT;
    expect_status(tcr_chart_write(TCR_SVG, &c, NULL, keep_bytes, &svg), TCR_OK);
    free(svg.byte);
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
        &a_curve_of_several_may_be_shorter_or_empty,
        &a_chart_may_be_of_an_older_size,
    };
    return RUN_DRAWN_CLAIMS("chart", claims);
}
