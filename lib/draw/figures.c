/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Figures and legends. One large number that can be read from the back of a room, the others in
 * plain words below it; every figure says which line it is measured from.
 */
#include "draw/figures.h"

#include <math.h>
#include <stdio.h>

#include "draw/marks.h"
#include "draw/words.h"

static const double row = 4.35; /* from baseline to baseline, mm */

static double heading_at(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting setting = {
        .type = TCR_TYPE_HEADING, .colour = canvas->style->ink, .width_mm = width};
    tcr_canvas_text(canvas, x, y + 3.0, text, &setting);
    return y + 4.2;
}

static double body_at(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting setting = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = width};
    tcr_canvas_text(canvas, x, y + 3.1, text, &setting);
    return y + row;
}

static double quiet_at(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting setting = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->quiet, .width_mm = width, .lines = 2};
    return y + tcr_canvas_text(canvas, x, y + 2.5, text, &setting) + 0.4;
}

/* The number in large type with its unit in small. */
static double large_at(tcr_canvas *canvas, double value, const char *unit, double x, double y) {
    char number[TCR_WORDS];
    const tcr_setting large = {.type = TCR_TYPE_FIGURE, .colour = canvas->style->ink};
    const tcr_setting small = {.type = TCR_TYPE_HEADING, .colour = canvas->style->quiet};
    tcr_say_number(number, value, 2, false);
    const double width = tcr_canvas_measure(canvas, number, &large).width;
    tcr_canvas_text(canvas, x - 0.4, y + 7.6, number, &large);
    tcr_canvas_text(canvas, x + width + 0.8, y + 7.6, unit, &small);
    return y + 9.2;
}

static double evenness_rows(tcr_canvas *canvas, const tcr_eye_result *eye, double x, double y,
                            double width) {
    const tcr_evenness *even = &eye->fitted;
    char a[TCR_WORDS], b[TCR_WORDS], text[3 * TCR_WORDS];
    y = quiet_at(canvas, "rms from the fitted line", x, y, width) + 0.8;
    snprintf(text, sizeof text, "95 %% of tips within %s mm",
             tcr_say_number(a, even->upright.p95_abs_mm, 2, false));
    y = body_at(canvas, text, x, y, width);
    snprintf(text, sizeof text, "%s %% within \xc2\xb1%s mm",
             tcr_say_number(a, 100 * even->within_tolerance, 1, false),
             tcr_say_trimmed(b, even->tolerance_mm, 2));
    y = body_at(canvas, text, x, y, width);
    snprintf(text, sizeof text, "%zu tips, %zu staggered", eye->extended, eye->staggered);
    y = body_at(canvas, text, x, y, width);
    if (eye->intended_status == TCR_OK) {
        snprintf(text, sizeof text, "%s mm rms off the map",
                 tcr_say_number(a, eye->intended.upright.rms_mm, 2, false));
        y = body_at(canvas, text, x, y, width);
    }
    return eye->too_few ? quiet_at(canvas, "fewer than 12 tips: too few to judge", x, y, width) : y;
}

double tcr_figures_evenness(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                            const char *heading, double x, double y, double width) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    y = heading_at(canvas, heading != NULL ? heading : "Evenness", x, y, width);
    if (eye->fitted_status == TCR_OK) {
        y = large_at(canvas, eye->fitted.upright.rms_mm, "mm", x, y);
        return evenness_rows(canvas, eye, x, y, width);
    }
    char text[TCR_WORDS];
    snprintf(text, sizeof text, "no fitted line: %s", tcr_status_text(eye->fitted_status));
    y = quiet_at(canvas, text, x, y, width);
    snprintf(text, sizeof text, "%zu of %zu lashes carry an extension", eye->extended, eye->lashes);
    return body_at(canvas, text, x, y, width);
}

/* What stands for a mark in a legend is shown on a piece of skin, as in the picture. */
enum { SAMPLE_WIDTH = 9 };

static void sample_ground(tcr_canvas *canvas, double x, double y) {
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, (tcr_box){x, y + 0.3, SAMPLE_WIDTH, 3.5}, 0.6);
    tcr_canvas_colour(canvas, canvas->style->skin);
    cairo_fill(canvas->cr);
}

/* A little lash in the layer's colour. */
static void lash_sample(tcr_canvas *canvas, tcr_layer layer, double x, double y) {
    enum { POINTS = 9 };
    tcr_vec2 point[POINTS];
    double half[POINTS];
    sample_ground(canvas, x, y);
    for (int i = 0; i < POINTS; i++) {
        const double t = (double)i / (POINTS - 1);
        point[i] = (tcr_vec2){x + 1 + 7 * t, y + 2.7 - 1.4 * t * t};
        half[i] = 0.45 * (t <= 0.5 ? 1 : 1 - 0.9 * (t - 0.5) / 0.5);
    }
    tcr_canvas_taper(canvas, point, half, POINTS);
    tcr_canvas_colour(canvas, canvas->style->layer[layer]);
    cairo_fill(canvas->cr);
}

static void aligned_at(tcr_canvas *canvas, tcr_type type, const char *text, double align, double x,
                       double y) {
    const tcr_style *style = canvas->style;
    const tcr_setting setting = {
        .type = type, .colour = type == TCR_TYPE_SMALL ? style->quiet : style->ink, .align = align};
    tcr_canvas_text(canvas, x, y, text, &setting);
}

/* Where the columns of the table of layers end: as seen and from the couch, for each eye. */
static double layer_column(int eyes, int i, int couch, double x, double width) {
    if (eyes == 1)
        return x + (couch ? width : 0.66 * width);
    return x + 34 + (width - 34) * (i * 2 + couch) / 3.0;
}

static double layer_head(tcr_canvas *canvas, const tcr_check *check, const tcr_side *side, int eyes,
                         double x, double y, double width) {
    const tcr_view view = tcr_check_view(check);
    const bool front = view.opening == 1 && view.viewer_rad == 0;
    const char *seen = !front ? "as seen" : eyes == 1 ? "eye open" : "open";
    heading_at(canvas, eyes == 1 ? "Layers off the line, mm" : "Layers, mm", x, y, width);
    for (int i = 0; i < eyes; i++) {
        const double open = layer_column(eyes, i, 0, x, width);
        const double couch = layer_column(eyes, i, 1, x, width);
        if (eyes > 1)
            aligned_at(canvas, TCR_TYPE_SMALL, tcr_say_side(side[i]), 1, couch, y + 3.0);
        aligned_at(canvas, TCR_TYPE_SMALL, seen, 1, open, y + 6.8);
        aligned_at(canvas, TCR_TYPE_SMALL, eyes == 1 ? "from the couch" : "couch", 1, couch,
                   y + 6.8);
    }
    return y + 7.8;
}

double tcr_figures_layers(tcr_canvas *canvas, const tcr_check *check, const tcr_side *side,
                          int eyes, double x, double y, double width) {
    y = layer_head(canvas, check, side, eyes, x, y, width);
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        lash_sample(canvas, (tcr_layer)layer, x, y);
        body_at(canvas, tcr_layer_name((tcr_layer)layer), x + SAMPLE_WIDTH + 2, y, width);
        for (int i = 0; i < eyes; i++) {
            const tcr_eye_result *eye = tcr_check_eye(check, side[i]);
            const bool seen = eye->fitted_status == TCR_OK,
                       couch = eye->view_status[TCR_ARTIST] == TCR_OK;
            const double offset[] = {seen ? eye->fitted.layer_offset_mm[layer] : NAN,
                                     couch ? eye->view_offset_mm[TCR_ARTIST][layer] : NAN};
            for (int k = 0; k < 2; k++) {
                char number[TCR_WORDS];
                aligned_at(canvas, TCR_TYPE_BODY, tcr_say_number(number, offset[k], 2, true), 1,
                           layer_column(eyes, i, k, x, width), y + 3.1);
            }
        }
        y += row;
    }
    return y;
}

typedef enum tcr_sample { SAMPLE_FITTED, SAMPLE_INTENDED, SAMPLE_BAND, SAMPLE_RING } tcr_sample;
enum { SAMPLES = 4 };

static void sample(tcr_canvas *canvas, tcr_sample which, double x, double y) {
    cairo_t *cr = canvas->cr;
    sample_ground(canvas, x, y);
    switch (which) {
    case SAMPLE_FITTED:
    case SAMPLE_INTENDED:
        cairo_new_path(cr);
        cairo_move_to(cr, x + 0.8, y + 2.05);
        cairo_line_to(cr, x + SAMPLE_WIDTH - 0.8, y + 2.05);
        tcr_mark_stroke(canvas, which == SAMPLE_FITTED ? TCR_FITTED : TCR_INTENDED);
        break;
    case SAMPLE_BAND:
        cairo_rectangle(cr, x, y + 1.1, SAMPLE_WIDTH, 1.9);
        tcr_canvas_colour(canvas, canvas->style->band);
        cairo_fill(cr);
        break;
    case SAMPLE_RING:
        tcr_mark_ring(canvas, (tcr_vec2){x + SAMPLE_WIDTH / 2.0, y + 2.05}, 1.1);
        break;
    }
}

/* Which samples the eyes of a check need. */
static void samples_needed(const tcr_check *check, bool lines, bool staggered, bool need[SAMPLES]) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        if (eye == NULL)
            continue;
        const bool fitted = eye->fitted_status == TCR_OK, intended = eye->intended_status == TCR_OK;
        need[SAMPLE_FITTED] |= lines && fitted;
        need[SAMPLE_INTENDED] |= lines && intended;
        need[SAMPLE_BAND] |= lines && (tcr_check_against(check) == TCR_FITTED ? fitted : intended);
        need[SAMPLE_RING] |= staggered && eye->staggered > 0;
    }
}

static const char *ring_text(char out[TCR_WORDS], const tcr_check *check, int columns) {
    size_t most = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        most = eye != NULL && eye->staggered > most ? eye->staggered : most;
    }
    if (most > TCR_RINGS_MAX)
        snprintf(out, TCR_WORDS, "the worst %d staggered", TCR_RINGS_MAX);
    else
        snprintf(out, TCR_WORDS, columns == 1 ? "staggered tip, and by how much" : "staggered tip");
    return out;
}

double tcr_figures_legend(tcr_canvas *canvas, const tcr_check *check, bool lines, bool staggered,
                          int columns, double x, double y, double width) {
    char number[TCR_WORDS], band[2 * TCR_WORDS], ring[TCR_WORDS];
    const char *line = tcr_check_against(check) == TCR_FITTED ? "fitted" : "intended";
    tcr_say_trimmed(number, tcr_set_get_tolerance(tcr_check_set(check)), 2);
    if (columns == 1)
        snprintf(band, sizeof band, "within %s mm of the %s line", number, line);
    else
        snprintf(band, sizeof band, "within %s mm", number);
    const char *const text[SAMPLES] = {
        "fitted line", columns == 1 ? "intended line, from the map" : "intended line", band,
        ring_text(ring, check, columns)};
    bool need[SAMPLES] = {false};
    samples_needed(check, lines, staggered, need);
    int shown = 0;
    for (int which = 0; which < SAMPLES; which++) {
        if (!need[which])
            continue;
        const double left = x + (shown % columns) * width / columns;
        const double top = y + (shown / columns) * row;
        sample(canvas, (tcr_sample)which, left, top);
        body_at(canvas, text[which], left + SAMPLE_WIDTH + 2, top,
                width / columns - SAMPLE_WIDTH - 2);
        shown++;
    }
    return y + (shown + columns - 1) / columns * row;
}

double tcr_figures_symmetry(tcr_canvas *canvas, const tcr_check *check, double x, double y,
                            double width) {
    tcr_symmetry symmetry;
    const tcr_status status = tcr_check_symmetry(check, &symmetry);
    char a[TCR_WORDS], b[TCR_WORDS], text[3 * TCR_WORDS];
    if (status == TCR_E_MISSING)
        return y;
    y = heading_at(canvas, "Symmetry", x, y, width);
    if (status != TCR_OK) {
        snprintf(text, sizeof text, "none: %s", tcr_status_text(status));
        return quiet_at(canvas, text, x, y, width);
    }
    snprintf(text, sizeof text, "the two lines differ by %s mm rms, at most %s",
             tcr_say_number(a, symmetry.rms_mm, 2, false),
             tcr_say_number(b, symmetry.max_mm, 2, false));
    return body_at(canvas, text, x, y, width);
}
