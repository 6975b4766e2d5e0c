/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Figures and legends. One large number that can be read from the back of a room, the others in
 * plain words below it; every figure says which line it is measured from.
 */
#include "draw/figures.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "draw/marks.h"
#include "draw/plot.h"
#include "draw/seen.h"
#include "draw/words.h"

double tcr_figures_heading(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting setting = {
        .type = TCR_TYPE_HEADING, .colour = canvas->style->ink, .width_mm = width};
    tcr_canvas_text(canvas, x, y + 3.0, text, &setting);
    return y + 4.2;
}

double tcr_figures_body(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting setting = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = width, .lines = 3};
    return y + fmax(TCR_ROW, tcr_canvas_text(canvas, x, y + 3.1, text, &setting));
}

double tcr_figures_quiet(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting setting = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->quiet, .width_mm = width, .lines = 4};
    return y + tcr_canvas_text(canvas, x, y + 2.5, text, &setting) + 0.4;
}

double tcr_figures_large(tcr_canvas *canvas, double value, const char *unit, double x, double y) {
    char number[TCR_WORDS];
    const tcr_setting large = {.type = TCR_TYPE_FIGURE, .colour = canvas->style->ink};
    const tcr_setting small = {.type = TCR_TYPE_HEADING, .colour = canvas->style->quiet};
    tcr_say_number(number, value, 2, false);
    const double width = tcr_canvas_measure(canvas, number, &large).width;
    tcr_canvas_text(canvas, x - 0.4, y + 7.6, number, &large);
    tcr_canvas_text(canvas, x + width + 0.8, y + 7.6, unit, &small);
    return y + 9.2;
}

double tcr_figures_too_few(tcr_canvas *canvas, size_t tips, double x, double y, double width) {
    char text[TCR_WORDS];
    y = tcr_figures_body(canvas, "too few tips to judge", x, y, width);
    snprintf(text, sizeof text, "%zu, and %d are the least", tips, TCR_TOO_FEW);
    return tcr_figures_quiet(canvas, text, x, y, width);
}

/* The line that the check measures from, as what the tips are to it. */
static tcr_status status_against(const tcr_check *check, const tcr_eye_result *eye) {
    return tcr_check_against(check) == TCR_FITTED ? eye->fitted_status : eye->intended_status;
}

static const tcr_evenness *even_against(const tcr_check *check, const tcr_eye_result *eye) {
    return tcr_check_against(check) == TCR_FITTED ? &eye->fitted : &eye->intended;
}

/* How far the tips lie off the line that the check does not measure from. */
static double other_row(tcr_canvas *canvas, const tcr_check *check, const tcr_eye_result *eye,
                        double x, double y, double width) {
    const bool fitted = tcr_check_against(check) == TCR_FITTED;
    char a[TCR_WORDS], text[2 * TCR_WORDS];
    if ((fitted ? eye->intended_status : eye->fitted_status) != TCR_OK)
        return y;
    tcr_say_number(a, (fitted ? &eye->intended : &eye->fitted)->upright.rms_mm, 2, false);
    snprintf(text, sizeof text, fitted ? "%s mm rms off the map" : "%s mm rms, fitted line", a);
    return tcr_figures_body(canvas, text, x, y, width);
}

static double evenness_rows(tcr_canvas *canvas, const tcr_check *check, const tcr_eye_result *eye,
                            double x, double y, double width) {
    const tcr_evenness *even = even_against(check, eye);
    char a[TCR_WORDS], b[TCR_WORDS], text[3 * TCR_WORDS];
    y = tcr_figures_quiet(canvas,
                          tcr_check_against(check) == TCR_FITTED ? "rms from the fitted line"
                                                                 : "rms from the map's line",
                          x, y, width) +
        0.8;
    snprintf(text, sizeof text, "95 %% of tips within %s mm",
             tcr_say_number(a, even->upright.p95_abs_mm, 2, false));
    y = tcr_figures_body(canvas, text, x, y, width);
    snprintf(text, sizeof text, "%s %% within \xc2\xb1%s mm",
             tcr_say_share(a, even->within_tolerance), tcr_say_trimmed(b, even->tolerance_mm, 2));
    y = tcr_figures_body(canvas, text, x, y, width);
    snprintf(text, sizeof text, "%zu tips, %zu stick out", eye->extended, eye->staggered);
    y = tcr_figures_body(canvas, text, x, y, width);
    return other_row(canvas, check, eye, x, y, width);
}

static const char *what(const tcr_check *check) {
    return tcr_check_against(check) == TCR_FITTED ? "Off the line" : "Off the map's line";
}

const char *tcr_figures_name(char out[TCR_WORDS], const tcr_check *check, tcr_side side) {
    snprintf(out, TCR_WORDS, "%s, %s", tcr_say_side(side),
             tcr_check_against(check) == TCR_FITTED ? "off the line" : "off the map's line");
    return out;
}

double tcr_figures_evenness(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                            const char *heading, double x, double y, double width) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    const tcr_status status = status_against(check, eye);
    y = tcr_figures_heading(canvas, heading != NULL ? heading : what(check), x, y, width);
    if (status == TCR_OK && eye->too_few)
        return other_row(canvas, check, eye, x,
                         tcr_figures_too_few(canvas, eye->extended, x, y, width), width);
    if (status == TCR_OK) {
        y = tcr_figures_large(canvas, even_against(check, eye)->upright.rms_mm, "mm", x, y);
        return evenness_rows(canvas, check, eye, x, y, width);
    }
    char text[TCR_WORDS];
    snprintf(text, sizeof text, "%s", tcr_status_text(status));
    y = tcr_figures_quiet(canvas, text, x, y, width);
    snprintf(text, sizeof text, "%zu of %zu lashes carry an extension", eye->extended, eye->lashes);
    return tcr_figures_body(canvas, text, x, y, width);
}

double tcr_figures_seat(tcr_canvas *canvas, const tcr_picture *picture, tcr_side side,
                        const char *heading, double x, double y, double width) {
    const tcr_eye_result *eye = tcr_check_eye(picture->check, side);
    tcr_seen seen;
    char a[TCR_WORDS], text[2 * TCR_WORDS];
    y = tcr_figures_heading(canvas,
                            heading != NULL ? heading
                            : tcr_check_against(picture->check) == TCR_FITTED
                                ? "Evenness from here"
                                : "Match to the map, from here",
                            x, y, width);
    tcr_status status = tcr_seen_of(picture->check, side, &picture->options.seat, &seen);
    canvas->lacks_memory = canvas->lacks_memory || status == TCR_E_MEMORY;
    status = status == TCR_OK ? seen.status : status;
    if (status != TCR_OK) {
        snprintf(text, sizeof text, "%s", tcr_status_text(status));
        return tcr_figures_quiet(canvas, text, x, y, width);
    }
    if (!tcr_seen_is_judged(&seen))
        return tcr_figures_too_few(canvas, seen.even.lashes, x, y, width);
    y = tcr_figures_large(canvas, seen.even.upright.rms_mm, "mm", x, y);
    y = tcr_figures_quiet(canvas,
                          seen.against == TCR_FITTED ? "rms from the line fitted here"
                                                     : "rms from the map's line, from here",
                          x, y, width) +
        0.8;
    if (status_against(picture->check, eye) == TCR_OK) {
        snprintf(text, sizeof text, "%s mm with the eye open",
                 tcr_say_number(a, even_against(picture->check, eye)->upright.rms_mm, 2, false));
        y = tcr_figures_body(canvas, text, x, y, width);
        snprintf(text, sizeof text, "%zu tips stick out then", eye->staggered);
        y = tcr_figures_body(canvas, text, x, y, width);
    }
    return y;
}

/* What stands for a mark in a legend is shown on a piece of skin, as in the picture. */
static void sample_ground(tcr_canvas *canvas, double x, double y) {
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, (tcr_box){x, y + 0.3, TCR_SAMPLE, 3.5}, 0.6);
    tcr_canvas_colour(canvas, canvas->style->skin);
    cairo_fill(canvas->cr);
}

void tcr_figures_lash(tcr_canvas *canvas, tcr_layer layer, double x, double y) {
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
    tcr_plot_mark(canvas, layer, point[POINTS - 1], 0.6);
}

void tcr_figures_aligned(tcr_canvas *canvas, tcr_type type, const char *text, double align,
                         double x, double y) {
    const tcr_style *style = canvas->style;
    const tcr_setting setting = {
        .type = type, .colour = type == TCR_TYPE_SMALL ? style->quiet : style->ink, .align = align};
    tcr_canvas_text(canvas, x, y, text, &setting);
}

static const double COLUMN_MM = 8.5; /* what a number with a sign takes in a wide face */

/* Where the columns of the table of layers end: as seen and from the couch, for each eye. */
static double layer_column(int eyes, int i, int couch, double x, double width) {
    if (eyes == 1)
        return x + (couch ? width : 0.66 * width);
    return x + 34 + (width - 34) * (i * 2 + couch) / 3.0;
}

/* An eye's name over the middle of its two columns, and a line that holds them together. */
static void head_of_eye(tcr_canvas *canvas, const char *name, double from, double to, double y) {
    cairo_t *cr = canvas->cr;
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, name, 0.5, (from + to) / 2, y + 2.6);
    cairo_new_path(cr);
    cairo_move_to(cr, from, y + 3.6);
    cairo_line_to(cr, to, y + 3.6);
    tcr_canvas_colour(canvas, canvas->style->quiet);
    cairo_set_line_width(cr, 0.15);
    cairo_stroke(cr);
}

static double layer_head(tcr_canvas *canvas, const tcr_check *check, const tcr_side *side, int eyes,
                         double x, double y, double width) {
    const tcr_view view = tcr_check_view(check);
    const bool front = view.opening == 1 && view.viewer_rad == 0;
    const char *seen = !front ? "as seen" : eyes == 1 ? "eye open" : "open";
    tcr_figures_heading(canvas, eyes == 1 ? "Layers off the line, mm" : "Layers, mm", x, y, width);
    for (int i = 0; i < eyes; i++) {
        const double open = layer_column(eyes, i, 0, x, width);
        const double couch = layer_column(eyes, i, 1, x, width);
        if (eyes > 1)
            head_of_eye(canvas, tcr_say_side(side[i]), open - COLUMN_MM, couch, y);
        tcr_figures_aligned(canvas, TCR_TYPE_SMALL, seen, 1, open, y + 6.4);
        tcr_figures_aligned(canvas, TCR_TYPE_SMALL, eyes == 1 ? "from the couch" : "couch", 1,
                            couch, y + 6.4);
    }
    return y + 7.0;
}

double tcr_figures_layers(tcr_canvas *canvas, const tcr_check *check, const tcr_side *side,
                          int eyes, double x, double y, double width) {
    y = layer_head(canvas, check, side, eyes, x, y, width);
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
        tcr_figures_body(canvas, tcr_layer_name((tcr_layer)layer), x + TCR_SAMPLE + 2, y, width);
        for (int i = 0; i < eyes; i++) {
            const tcr_eye_result *eye = tcr_check_eye(check, side[i]);
            const bool seen = status_against(check, eye) == TCR_OK && !eye->too_few,
                       couch = eye->view_status[TCR_ARTIST] == TCR_OK && !eye->too_few;
            const double offset[] = {seen ? even_against(check, eye)->layer_offset_mm[layer] : NAN,
                                     couch ? eye->view_offset_mm[TCR_ARTIST][layer] : NAN};
            for (int k = 0; k < 2; k++) {
                char number[TCR_WORDS];
                tcr_figures_aligned(canvas, TCR_TYPE_BODY,
                                    isfinite(offset[k]) ? tcr_say_number(number, offset[k], 2, true)
                                    : eye->too_few      ? "\xe2\x80\x93"
                                                        : "none",
                                    1, layer_column(eyes, i, k, x, width), y + 3.1);
            }
        }
        y += TCR_ROW;
    }
    return y;
}

/* How often each placement is found on a layer of the eyes shown; which is the most frequent. */
static tcr_placement count_placements(const tcr_picture *picture, tcr_layer layer,
                                      size_t count[TCR_PLACEMENTS]) {
    const tcr_set *set = tcr_check_set(picture->check);
    memset(count, 0, TCR_PLACEMENTS * sizeof *count);
    for (int e = 0; e < picture->eyes; e++) {
        const tcr_eye_result *eye = tcr_check_eye(picture->check, picture->side[e]);
        for (size_t i = 0; i < eye->lashes; i++)
            if (eye->lash[i].status == TCR_OK &&
                tcr_set_lash(set, picture->side[e], i)->layer == layer)
                count[eye->lash[i].choice.placement]++;
    }
    tcr_placement most = TCR_ON_TOP;
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        if (count[p] > count[most])
            most = (tcr_placement)p;
    return most;
}

/* Where a layer's extensions lie: in words where all lie alike, else how many on each side. */
static void say_placements(const tcr_picture *picture, tcr_layer layer, char text[TCR_WORDS]) {
    size_t count[TCR_PLACEMENTS], all = 0;
    const tcr_placement most = count_placements(picture, layer, count);
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        all += count[p];
    if (all == 0) {
        snprintf(text, TCR_WORDS, "%s: none", tcr_layer_name(layer));
        return;
    }
    if (count[most] == all) {
        snprintf(text, TCR_WORDS, "%s: %s", tcr_layer_name(layer), tcr_say_laid(most));
        return;
    }
    int used = snprintf(text, TCR_WORDS, "%s:", tcr_layer_name(layer));
    const char *between = "";
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        if (count[p] > 0 && used > 0 && used < TCR_WORDS) {
            used += snprintf(text + used, (size_t)(TCR_WORDS - used), "%s %zu %s", between,
                             count[p], tcr_say_placement((tcr_placement)p));
            between = ",";
        }
}

double tcr_figures_placement(tcr_canvas *canvas, const tcr_picture *picture, double x, double y,
                             double width) {
    y = tcr_figures_heading(canvas, "Where each layer is laid on", x, y, width);
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        char text[TCR_WORDS];
        say_placements(picture, (tcr_layer)layer, text);
        tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
        y = tcr_figures_body(canvas, text, x + TCR_SAMPLE + 2, y, width - TCR_SAMPLE - 2);
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
        cairo_line_to(cr, x + TCR_SAMPLE - 0.8, y + 2.05);
        tcr_mark_stroke(canvas, which == SAMPLE_FITTED ? TCR_FITTED : TCR_INTENDED, 1);
        break;
    case SAMPLE_BAND:
        cairo_rectangle(cr, x, y + 1.1, TCR_SAMPLE, 1.9);
        tcr_canvas_colour(canvas, canvas->style->band);
        cairo_fill(cr);
        break;
    case SAMPLE_RING:
        tcr_mark_ring(canvas, (tcr_vec2){x + TCR_SAMPLE / 2.0, y + 2.05}, 1.1);
        break;
    }
}

/* Which samples the eyes of a picture need. */
static void samples_needed(const tcr_picture *picture, bool need[SAMPLES]) {
    const bool lines = picture->options.lines;
    const bool against_fitted = tcr_check_against(picture->check) == TCR_FITTED;
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_eye_result *eye = tcr_check_eye(picture->check, picture->side[i]);
        const bool fitted = eye->fitted_status == TCR_OK, intended = eye->intended_status == TCR_OK;
        need[SAMPLE_FITTED] |= lines && fitted;
        need[SAMPLE_INTENDED] |= lines && intended;
        need[SAMPLE_BAND] |= lines && (against_fitted ? fitted : intended);
        need[SAMPLE_RING] |= picture->options.staggered && eye->staggered > 0;
    }
}

static const char *ring_text(char out[TCR_WORDS], const tcr_picture *picture, size_t named,
                             int columns) {
    size_t most = 0, sum = 0;
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_eye_result *eye = tcr_check_eye(picture->check, picture->side[i]);
        most = eye->staggered > most ? eye->staggered : most;
        sum += eye->staggered;
    }
    if (most > TCR_RINGS_MAX)
        snprintf(out, TCR_WORDS, "the worst %d that stick out", TCR_RINGS_MAX);
    else if (columns > 1 && named >= sum) /* the figures of each eye count them */
        snprintf(out, TCR_WORDS, "sticks out");
    else if (named >= sum)
        snprintf(out, TCR_WORDS, "sticks out, and by how much");
    else
        snprintf(out, TCR_WORDS, "stick out: %zu named, %zu not", named, sum - named);
    return out;
}

double tcr_figures_legend(tcr_canvas *canvas, const tcr_picture *picture, size_t named, int columns,
                          double x, double y, double width) {
    const tcr_check *check = picture->check;
    char number[TCR_WORDS], band[2 * TCR_WORDS], ring[TCR_WORDS];
    const char *line = tcr_check_against(check) == TCR_FITTED ? "fitted line" : "map's line";
    tcr_say_trimmed(number, tcr_check_tolerance(check), 2);
    if (columns == 1)
        snprintf(band, sizeof band, "within %s mm of the %s", number, line);
    else
        snprintf(band, sizeof band, "within %s mm", number);
    const char *const text[SAMPLES] = {"fitted line", "map's line", band,
                                       ring_text(ring, picture, named, columns)};
    bool need[SAMPLES] = {false};
    samples_needed(picture, need);
    int shown = 0;
    double end = y;
    for (int which = 0; which < SAMPLES; which++) {
        if (!need[which])
            continue;
        const double left = x + (shown % columns) * width / columns;
        y = shown % columns == 0 ? end : y;
        sample(canvas, (tcr_sample)which, left, y);
        end = fmax(end, tcr_figures_body(canvas, text[which], left + TCR_SAMPLE + 2, y,
                                         width / columns - TCR_SAMPLE - 2));
        shown++;
    }
    return end;
}

double tcr_figures_staggered(tcr_canvas *canvas, const tcr_check *check, tcr_side side, int columns,
                             int rows, double x, double y, double width) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    const tcr_set *set = tcr_check_set(check);
    const double row = 3.5, column = width / columns;
    size_t index[TCR_RINGS_MAX];
    char text[TCR_WORDS], number[TCR_WORDS];
    const int count = (int)tcr_mark_worst(eye, index);
    if (count == 0)
        return y;
    const int shown = count < columns * rows ? count : columns * rows;
    y = tcr_figures_heading(
        canvas, columns > 1 ? "Sticking out, mm, worst first" : "Sticking out, mm", x, y, width);
    for (int i = 0; i < shown; i++) {
        const double left = x + i / rows * column, base = y + i % rows * row + 2.5;
        const tcr_setting id = {.type = TCR_TYPE_SMALL,
                                .colour = canvas->style->ink,
                                .width_mm = column - 11,
                                .keep_end = true};
        tcr_mark_say(number, eye->lash[index[i]].deviation_mm, tcr_check_tolerance(check));
        tcr_canvas_text(canvas, left, base, tcr_set_id(set, side, index[i]), &id);
        tcr_figures_aligned(canvas, TCR_TYPE_SMALL, number, 1, left + column - 3, base);
    }
    y += (shown < rows ? shown : rows) * row;
    if (eye->staggered <= (size_t)shown)
        return y;
    snprintf(text, sizeof text, columns > 1 ? "and %zu more, in check --csv" : "and %zu more",
             eye->staggered - (size_t)shown);
    return tcr_figures_quiet(canvas, text, x, y + 0.4, width);
}

double tcr_figures_symmetry(tcr_canvas *canvas, const tcr_check *check, double x, double y,
                            double width) {
    tcr_symmetry symmetry;
    const tcr_status status = tcr_check_symmetry(check, &symmetry);
    char a[TCR_WORDS], b[TCR_WORDS], text[3 * TCR_WORDS];
    if (status == TCR_E_MISSING)
        return y;
    if (status != TCR_OK) {
        snprintf(text, sizeof text, "symmetry: none, %s", tcr_status_text(status));
        return tcr_figures_quiet(canvas, text, x, y, width);
    }
    snprintf(text, sizeof text, "symmetry: the two lines differ by %s mm rms, at most %s",
             tcr_say_number(a, symmetry.rms_mm, 2, false), tcr_say_most(b, symmetry.max_mm, 2));
    return tcr_figures_quiet(canvas, text, x, y, width);
}
