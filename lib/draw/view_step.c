/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How much shorter than on the bottom layer an extension must be on the middle and on the top one,
 * over the bottom length, for each curl, with the usual placement. The sizes of the tray are the
 * grid. Beside it stand how even the set's tips come out over the layers' distance and the viewer
 * (without a map, or with one layer: the steps with all at the outer side); the nearest sizes for
 * one length, what they leave over, and the set's own case. The headline is the answer for the set,
 * where it has a map.
 */
#include <math.h>
#include <stdio.h>

#include <tipcrest/lesson.h>
#include <tipcrest/line_rule.h>
#include <tipcrest/mean.h>
#include <tipcrest/step.h>

#include "draw/dimension.h"
#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/lesson_words.h"
#include "draw/plot.h"
#include "draw/sheet.h"
#include "draw/step_own.h"
#include "draw/words.h"

static const double gap = 4, label_width = 15; /* between the panels; for the curls' names */
static const double MARK_MM = 0.7;             /* half the width of a mark */
enum {
    OUTER_SIDE = 0,
    USUAL = 1,
    WAYS = 2,
    LENGTHS_MAX = 64,
    CURLS_MAX = 16,
    LABELS_MAX = CURLS_MAX * TCR_UPPER_LAYERS
};

static const struct {
    const char *name;
    tcr_placement layer[TCR_LAYERS];
} WAY[WAYS] = {
    {"All at the outer side", {TCR_OUTER_SIDE, TCR_OUTER_SIDE, TCR_OUTER_SIDE}},
    {"On top, outer side, underneath", TCR_USUAL_PLACEMENT},
};

/* The questions and their answers. */
typedef struct sheet {
    const tcr_picture *picture;
    size_t curl[CURLS_MAX]; /* indices into the set's */
    int curls, lengths;
    bool more; /* curls than are shown */
    bool tray; /* the set has one */
    double length[LENGTHS_MAX], at_mm;
    tcr_step step[WAYS][CURLS_MAX][LENGTHS_MAX];
    double least, most; /* that an upper layer is shorter */
    tcr_step_own own;
} sheet;

/* The level step; NaN where there is none. */
static tcr_step step_or_nan(const sheet *s, const tcr_step_question *q) {
    tcr_step step;
    if (tcr_step_of(s->picture->set, q, &step) != TCR_OK)
        for (int i = 0; i < TCR_UPPER_LAYERS; i++)
            step.length_mm[i] = step.step_mm[i] = step.tray_mm[i] = step.left_over_mm[i] = NAN;
    return step;
}

static tcr_step answer(const sheet *s, int way, int curl, double length) {
    const tcr_step_question q = {.side = s->picture->side[0],
                                 .curl = s->curl[curl],
                                 .bottom_length_mm = length,
                                 .bottom = WAY[way].layer[0],
                                 .middle = WAY[way].layer[1],
                                 .top = WAY[way].layer[2],
                                 .has_apart = s->picture->step.has_apart,
                                 .apart_mm = s->picture->step.apart_mm};
    return step_or_nan(s, &q);
}

/* How much shorter than on the bottom layer. */
static double shorter(const sheet *s, int way, int curl, int length, int layer) {
    return s->length[length] - s->step[way][curl][length].length_mm[layer];
}

static tcr_status choose(sheet *s) {
    const tcr_set *set = s->picture->set;
    const char *only = s->picture->step.curl;
    const size_t count = tcr_set_curl_count(set);
    size_t one = 0;
    if (only != NULL) {
        const tcr_status status = tcr_set_find_curl(set, only, &one);
        if (status != TCR_OK)
            return status;
        s->curl[s->curls++] = one;
    }
    for (size_t i = 0; i < count && only == NULL; i++) {
        s->more = s->curls == CURLS_MAX;
        if (!s->more)
            s->curl[s->curls++] = i;
    }
    /* The tray's lengths from 8 to 15 mm, and whichever is asked for. */
    const tcr_tray *tray = tcr_set_tray(set);
    s->tray = tray->count > 0;
    const double low = fmin(8, s->at_mm), high = fmax(15, s->at_mm);
    for (size_t i = 0; i < tray->count && s->lengths < LENGTHS_MAX; i++)
        if (tray->length_mm[i] >= low && tray->length_mm[i] <= high)
            s->length[s->lengths++] = tray->length_mm[i];
    for (int mm = 8; !s->tray && mm <= 15; mm++) /* any length is at hand */
        s->length[s->lengths++] = mm;
    if (s->lengths == 0)
        s->length[s->lengths++] = s->at_mm;
    return TCR_OK;
}

static void solve(sheet *s) {
    for (int way = 0; way < WAYS; way++)
        for (int curl = 0; curl < s->curls; curl++)
            for (int k = 0; k < s->lengths; k++) {
                s->step[way][curl][k] = answer(s, way, curl, s->length[k]);
                for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
                    s->least = fmin(s->least, shorter(s, way, curl, k, i)); /* passes over NaN */
                    s->most = fmax(s->most, shorter(s, way, curl, k, i));
                }
            }
}

/* ---- A panel ----------------------------------------------------------------------- */

/* The panel's left or right half. */
static tcr_box half_of(int half) {
    const tcr_box p = tcr_sheet_panel();
    const double width = (p.width - gap) / 2;
    return (tcr_box){p.x + half * (width + gap), p.y, width, p.height};
}

static tcr_plot plot_of(const sheet *s, tcr_box p) {
    tcr_plot plot = {.area = {p.x + 10, p.y + 12, p.width - 10 - label_width, p.height - 12 - 13}};
    plot.x_low = s->length[0] - 0.4;
    plot.x_high = s->length[s->lengths - 1] + 0.4;
    const double rim = 0.25;
    plot.y_low = s->least < 0 ? s->least - rim : fmax(0, fmin(s->least, s->most) - rim);
    plot.y_high = fmax(plot.y_low + 1, s->most + rim);
    return plot;
}

/* The smallest step from size to size of the tray, the grid's. */
static double tray_step(const tcr_set *set) {
    const tcr_tray *tray = tcr_set_tray(set);
    double least = INFINITY;
    for (size_t i = 1; i < tray->count; i++)
        least = fmin(least, tray->length_mm[i] - tray->length_mm[i - 1]);
    return isfinite(least) ? fmax(least, 0.25) : 1;
}

static void grid(tcr_canvas *canvas, const sheet *s, const tcr_plot *plot) {
    const tcr_style *style = canvas->style;
    const double step = tray_step(s->picture->set);
    const tcr_box a = plot->area;
    cairo_t *cr = canvas->cr;
    tcr_setting words = {.type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .align = 1};
    char number[TCR_WORDS];
    for (int i = (int)ceil(plot->y_low / step); i * step <= plot->y_high; i++) {
        const double y = tcr_plot_at(plot, plot->x_low, i * step).y;
        cairo_new_path(cr);
        cairo_move_to(cr, a.x, y);
        cairo_line_to(cr, a.x + a.width, y);
        tcr_canvas_colour(canvas, style->paper_rule);
        cairo_set_line_width(cr, 0.35);
        cairo_stroke(cr);
        tcr_canvas_text(canvas, a.x - 1.4, y + 0.9, tcr_say_trimmed(number, i * step, 2), &words);
    }
    words.align = 0.5;
    const int every = (int)ceil(s->lengths / 9.0);
    for (int k = 0; k < s->lengths; k++) {
        const double x = tcr_plot_at(plot, s->length[k], 0).x;
        cairo_new_path(cr);
        cairo_move_to(cr, x, a.y);
        cairo_line_to(cr, x, a.y + a.height);
        tcr_canvas_colour(canvas, style->paper_rule);
        cairo_set_line_width(cr, 0.12);
        cairo_stroke(cr);
        if (k % every == 0)
            tcr_canvas_text(canvas, x, a.y + a.height + 3.8,
                            tcr_say_trimmed(number, s->length[k], 2), &words);
    }
}

static bool is_own(const sheet *s, int curl) {
    return s->own.known && s->curl[curl] == s->own.curl;
}

/* The curve of the set's own curl stands out: the others are thin, with a mark at their end alone.
 */
static void curve(tcr_canvas *canvas, const sheet *s, const tcr_plot *plot, int way, int curl,
                  int layer) {
    cairo_t *cr = canvas->cr;
    const tcr_layer of = layer == 0 ? TCR_MIDDLE : TCR_TOP;
    const bool own = is_own(s, curl), marked = own || !s->own.known;
    cairo_new_path(cr);
    bool drawing = false;
    for (int k = 0; k < s->lengths; k++) {
        const double y = shorter(s, way, curl, k, layer);
        const tcr_vec2 p = tcr_plot_at(plot, s->length[k], y);
        if (isfinite(y))
            (drawing ? cairo_line_to : cairo_move_to)(cr, p.x, p.y);
        drawing = isfinite(y);
    }
    tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->layer[of], own      ? 1
                                                                       : marked ? 0.7
                                                                                : 0.5));
    cairo_set_line_width(cr, own ? 0.6 : 0.25);
    cairo_stroke(cr);
    for (int k = marked ? 0 : s->lengths - 1; k < s->lengths; k++) {
        const double y = shorter(s, way, curl, k, layer);
        if (isfinite(y))
            tcr_plot_mark(canvas, of, tcr_plot_at(plot, s->length[k], y), MARK_MM);
    }
}

/* The name of a curl at the end of its curve. */
typedef struct end {
    double y;
    int curl, layer;
} end;

static int ends_of(const sheet *s, const tcr_plot *plot, int way, end ends[LABELS_MAX]) {
    int count = 0;
    for (int curl = 0; curl < s->curls; curl++)
        for (int layer = 0; layer < TCR_UPPER_LAYERS; layer++) {
            const double y = shorter(s, way, curl, s->lengths - 1, layer);
            if (!isfinite(y))
                continue;
            const end e = {tcr_plot_at(plot, 0, y).y, curl, layer};
            int place = count++;
            for (; place > 0 && ends[place - 1].y > e.y; place--)
                ends[place] = ends[place - 1];
            ends[place] = e;
        }
    return count;
}

static void names(tcr_canvas *canvas, const sheet *s, const tcr_plot *plot, int way) {
    end ends[LABELS_MAX];
    double place[LABELS_MAX];
    const int count = ends_of(s, plot, way, ends);
    const tcr_box a = plot->area;
    const double from = tcr_plot_at(plot, s->length[s->lengths - 1], 0).x + 1.2;
    const double x = a.x + a.width + 3;
    for (int i = 0; i < count; i++)
        place[i] = ends[i].y;
    tcr_dimension_spread(place, count, fmin(3.0, a.height / fmax(count, 1)), a.y, a.y + a.height);
    for (int i = 0; i < count; i++) {
        const tcr_rgba colour = canvas->style->layer[ends[i].layer == 0 ? TCR_MIDDLE : TCR_TOP];
        const tcr_setting name = {
            .type = TCR_TYPE_LABEL, .colour = colour, .width_mm = label_width - 4};
        tcr_dimension_thin(canvas, (tcr_vec2){from, ends[i].y}, (tcr_vec2){x - 0.6, place[i]},
                           tcr_rgba_faded(colour, 0.6), false);
        tcr_canvas_text(canvas, x, place[i] + 0.85,
                        tcr_set_curl(s->picture->set, s->curl[ends[i].curl])->label, &name);
    }
}

static void draw_panel(tcr_canvas *canvas, const sheet *s, int way, tcr_box p) {
    const tcr_plot plot = plot_of(s, p);
    const tcr_box a = plot.area;
    const tcr_setting name = {.type = TCR_TYPE_HEADING,
                              .colour = canvas->style->label_ink,
                              .width_mm = a.width + label_width};
    const tcr_setting words = {.type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet};
    tcr_sheet_paper(canvas, p);
    tcr_canvas_text(canvas, a.x - 7, p.y + 5.4, WAY[way].name, &name);
    tcr_canvas_text(canvas, a.x - 7, p.y + 9.4,
                    "shorter than on the bottom layer, mm (top: both steps)", &words);
    tcr_canvas_text(canvas, a.x, a.y + a.height + 8, "length on the bottom layer, mm", &words);
    grid(canvas, s, &plot);
    for (int layer = 0; layer < TCR_UPPER_LAYERS; layer++)
        for (int pass = 0; pass < 2; pass++) /* the own curve over the others */
            for (int curl = 0; curl < s->curls; curl++)
                if (is_own(s, curl) == (pass == 1))
                    curve(canvas, s, &plot, way, curl, layer);
    names(canvas, s, &plot, way);
}

/* ---- Figures ----------------------------------------------------------------------- */

static double legend(tcr_canvas *canvas, const sheet *s, double x, double y) {
    static const char *const words[TCR_UPPER_LAYERS] = {"middle layer", "top layer"};
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        const tcr_box sample = {x, y + 0.3, TCR_SAMPLE, 3.5};
        const tcr_vec2 at = {x + TCR_SAMPLE / 2, y + 2.05};
        const tcr_layer layer = i == 0 ? TCR_MIDDLE : TCR_TOP;
        cairo_new_path(canvas->cr);
        tcr_canvas_rounded(canvas, sample, 0.6);
        tcr_canvas_colour(canvas, canvas->style->paper);
        cairo_fill(canvas->cr);
        tcr_dimension_thin(canvas, (tcr_vec2){at.x - 3, at.y}, (tcr_vec2){at.x + 3, at.y},
                           canvas->style->layer[layer], false);
        tcr_plot_mark(canvas, layer, at, MARK_MM);
        y = tcr_figures_body(canvas, words[i], x + TCR_SAMPLE + 2, y, TCR_COLUMN - TCR_SAMPLE - 2);
    }
    for (int curl = 0; curl < s->curls; curl++)
        if (is_own(s, curl)) {
            char text[TCR_WORDS];
            snprintf(text, sizeof text, "thick: this set\xe2\x80\x99s curl at the pupil, %s",
                     tcr_set_curl(s->picture->set, s->own.curl)->label);
            y = tcr_figures_quiet(canvas, text, x, y, TCR_COLUMN);
        }
    return y;
}

/* Right ends of sizes and of what is left over, as shares of the column. */
static const double COLUMN_AT[] = {0.36, 0.56, 0.79, 1};

static void number_at(tcr_canvas *canvas, const char *number, double at, double x, double y) {
    tcr_figures_aligned(canvas, TCR_TYPE_BODY, number, 1, x + at * TCR_COLUMN, y + 3.1);
}

/* The sizes of the tray and what they leave over; without a tray the level lengths. */
static void size_row(tcr_canvas *canvas, const sheet *s, int curl, double x, double y) {
    const tcr_step step = answer(s, USUAL, curl, s->at_mm);
    const tcr_setting label = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = 0.25 * TCR_COLUMN};
    char a[TCR_WORDS];
    tcr_canvas_text(canvas, x, y + 3.1, tcr_set_curl(s->picture->set, s->curl[curl])->label,
                    &label);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        const char *size = s->tray ? tcr_say_trimmed(a, step.tray_mm[i], 2)
                                   : tcr_say_number(a, step.length_mm[i], 2, false);
        number_at(canvas, size, COLUMN_AT[i], x, y);
        if (s->tray)
            number_at(canvas, tcr_say_number(a, step.left_over_mm[i], 2, true), COLUMN_AT[2 + i], x,
                      y);
    }
}

/* From where so much is left over shows. */
static double shows_from(tcr_canvas *canvas, double x, double y) {
    char near[TCR_WORDS], far[TCR_WORDS], text[3 * TCR_WORDS];
    snprintf(
        text, sizeof text,
        "0.1 mm shows from nearer than %s cm, 0.3 mm from nearer than %s cm (3\xe2\x80\xb2 of arc)",
        tcr_say_number(near, tcr_distance_of(0.1) / 10, 0, false),
        tcr_say_number(far, tcr_distance_of(0.3) / 10, 0, false));
    return tcr_figures_quiet(canvas, text, x, y, TCR_COLUMN);
}

enum { SIZES_MOST = 8 }; /* for which the column has room */

/* The curl of the last row: the set's own if none above is that. */
static int last_size(const sheet *s, int rows) {
    for (int curl = rows; curl < s->curls; curl++)
        if (is_own(s, curl))
            return curl;
    return rows - 1;
}

/* The sizes for one length on the bottom layer, with the usual placement. */
static double sizes(tcr_canvas *canvas, const sheet *s, double x, double y) {
    static const char *const head[] = {"middle", "top", "", "left over, mm"};
    char a[TCR_WORDS], text[2 * TCR_WORDS];
    snprintf(text, sizeof text, "%s mm, on top, side, underneath", tcr_say_trimmed(a, s->at_mm, 2));
    y = tcr_figures_heading(canvas, text, x, y, TCR_COLUMN);
    for (int i = 0; i < (s->tray ? 4 : 2); i++)
        tcr_figures_aligned(canvas, TCR_TYPE_SMALL, head[i], 1, x + COLUMN_AT[i] * TCR_COLUMN,
                            y + 2.6);
    y += 3.6;
    const int rows = s->curls > SIZES_MOST ? SIZES_MOST - 1 : s->curls; /* a row for what is left */
    for (int i = 0; i < rows; i++, y += TCR_ROW)
        size_row(canvas, s, i + 1 == rows ? last_size(s, rows) : i, x, y);
    if (rows < s->curls) {
        snprintf(text, sizeof text, "%d more curls: in the table of step", s->curls - rows);
        y = tcr_figures_quiet(canvas, text, x, y, TCR_COLUMN);
    }
    return s->tray ? shows_from(canvas, x, y + 0.6)
                   : tcr_figures_quiet(canvas, "no tray: level lengths in mm, nothing left over", x,
                                       y + 0.6, TCR_COLUMN);
}

static double figure(tcr_canvas *canvas, const char *what, double mm, bool plus, double x,
                     double y) {
    char number[TCR_WORDS];
    tcr_figures_aligned(canvas, TCR_TYPE_BODY, tcr_say_number(number, mm, 2, plus), 1,
                        x + TCR_COLUMN, y + 3.1);
    return tcr_figures_body(canvas, what, x, y, TCR_COLUMN - 12);
}

static tcr_step own_step(const sheet *s) {
    const tcr_step_question q = {.side = s->picture->side[0],
                                 .curl = s->own.curl,
                                 .bottom_length_mm = s->own.lesson.bottom_mm,
                                 .bottom = s->own.lesson.placement[TCR_BOTTOM],
                                 .middle = s->own.lesson.placement[TCR_MIDDLE],
                                 .top = s->own.lesson.placement[TCR_TOP],
                                 .has_apart = s->picture->step.has_apart,
                                 .apart_mm = s->picture->step.apart_mm};
    return step_or_nan(s, &q);
}

/* What the set itself asks for, as it is placed, and what the choices come to on its lashes. */
static double own_figures(tcr_canvas *canvas, const sheet *s, double x, double y) {
    static const char *const layers[TCR_UPPER_LAYERS] = {"level: middle shorter by, mm",
                                                         "level: top shorter by, mm"};
    const tcr_lesson *here = &s->own.lesson.lesson[TCR_LESSON_AT_HERE];
    const tcr_step step = own_step(s);
    char text[2 * TCR_WORDS], number[TCR_WORDS];
    snprintf(text, sizeof text, "This set at the pupil, %.15s %.12s mm",
             tcr_set_curl(s->picture->set, s->own.curl)->label,
             tcr_say_trimmed(number, s->own.lesson.bottom_mm, 2));
    y = tcr_figures_heading(canvas, text, x, y, TCR_COLUMN);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        if (tcr_lesson_has(&s->own.lesson, i + 1))
            y = figure(canvas, layers[i], s->own.lesson.bottom_mm - step.length_mm[i], false, x, y);
    if (s->own.lesson.tried != TCR_OK)
        return y;
    y = figure(canvas, "rms: equal lengths, mm", here->rms_mm[TCR_LESSON_EQUAL], false, x, y);
    y = figure(canvas, "rms: 1 mm less a layer", here->rms_mm[TCR_LESSON_ONE_LESS], false, x, y);
    y = figure(canvas, s->tray ? "rms: best of the tray" : "rms: best sizes",
               here->rms_mm[TCR_LESSON_BEST], false, x, y);
    return tcr_figures_quiet(canvas,
                             "rms: a tip's typical distance from one line, over all lashes; far "
                             "tips count more",
                             x, y, TCR_COLUMN);
}

/* What moves a tip: curl C, or the first one shown, at the outer side. */
static double moves(tcr_canvas *canvas, const sheet *s, double x, double y) {
    size_t curl = s->curl[0];
    if (s->picture->step.curl == NULL)
        (void)tcr_set_find_curl(s->picture->set, "C", &curl);
    const tcr_step_question q = {.side = s->picture->side[0],
                                 .curl = curl,
                                 .bottom_length_mm = s->at_mm,
                                 .bottom = TCR_OUTER_SIDE,
                                 .middle = TCR_OUTER_SIDE,
                                 .top = TCR_OUTER_SIDE}; /* of one lash: heights play no part */
    tcr_sensitivity found;
    tcr_step_reason reason;
    char text[2 * TCR_WORDS], number[TCR_WORDS];
    if (tcr_step_sensitivity(s->picture->set, &q, &found) != TCR_OK ||
        tcr_step_reason_of(s->picture->set, &q, &reason) != TCR_OK)
        return y;
    snprintf(text, sizeof text, "Tip rises by, mm (%.15s, %.12s mm)",
             tcr_set_curl(s->picture->set, curl)->label, tcr_say_trimmed(number, s->at_mm, 2));
    y = tcr_figures_heading(canvas, text, x, y, TCR_COLUMN);
    y = figure(canvas, "root 1 mm higher", reason.by_higher_mm, true, x, y);
    y = figure(canvas, "extension 1 mm shorter", reason.by_shorter_mm, true, x, y);
    y = figure(canvas, "lash grows 1\xc2\xb0 further up", found.per_pitch * acos(0.0) / 90, true, x,
               y);
    return figure(canvas, "natural lash 1 mm longer", found.per_natural, true, x, y);
}

static void figures(tcr_canvas *canvas, const sheet *s) {
    const tcr_box box = tcr_sheet_column();
    double y = legend(canvas, s, box.x, box.y) + 2.4;
    y = sizes(canvas, s, box.x, y) + 2.4;
    y = moves(canvas, s, box.x, y) + 2.4;
    if (s->own.known)
        own_figures(canvas, s, box.x, y);
}

/* ---- The sheet --------------------------------------------------------------------- */

static const char *apart_words(const tcr_picture *picture, const tcr_layer_heights *heights) {
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (!picture->step.has_apart && heights->lashes[layer] == 0)
            return " (assumed where a layer has no lash)";
    return "";
}

/* The answer, large, and the set's title below it; the title alone without a map. */
static void titles(tcr_canvas *canvas, const sheet *s) {
    const char *title = tcr_set_title(s->picture->set);
    char answer[TCR_LESSON_TEXT], text[4 * TCR_WORDS];
    snprintf(answer, sizeof answer, "%s",
             title[0] != '\0' ? title : "The step from layer to layer");
    if (s->own.known)
        tcr_lesson_say_answer(&s->own.lesson, answer);
    snprintf(text, sizeof text,
             "%s open, from the front: how much shorter upper layers must be%s%s%s",
             tcr_say_side(s->picture->side[0]), s->more ? " \xc2\xb7 the first 16 curls" : "",
             s->own.known && title[0] != '\0' ? " \xc2\xb7 " : "", s->own.known ? title : "");
    tcr_sheet_titles(canvas, answer, text, tcr_sheet_panel().width);
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    sheet s = {.picture = picture, .least = INFINITY, .most = -INFINITY};
    tcr_status status = tcr_step_own_of(picture, &s.own);
    s.at_mm = picture->step.length_mm > 0 ? picture->step.length_mm
              : s.own.known               ? s.own.lesson.bottom_mm
                                          : 12;
    if (status == TCR_OK)
        status = choose(&s);
    if (status != TCR_OK)
        return status;
    solve(&s);
    if (!(s.least <= s.most)) /* no length is level with any */
        s.least = s.most = 1;
    if (s.own.has_curves)
        tcr_step_own_curves(canvas, &s.own, half_of(1));
    else
        draw_panel(canvas, &s, OUTER_SIDE, half_of(1));
    draw_panel(canvas, &s, USUAL, half_of(0));
    figures(canvas, &s);
    const tcr_layer_heights h = tcr_step_heights(picture);
    char foot[3 * TCR_WORDS], a[TCR_WORDS], b[TCR_WORDS];
    titles(canvas, &s);
    snprintf(foot, sizeof foot, "Tips of the mean lash at the pupil, layers %s and %s mm apart%s.",
             tcr_say_number(a, h.height_mm[TCR_MIDDLE] - h.height_mm[TCR_BOTTOM], 2, false),
             tcr_say_number(b, h.height_mm[TCR_TOP] - h.height_mm[TCR_MIDDLE], 2, false),
             apart_words(picture, &h));
    tcr_sheet_foot(
        canvas, foot,
        s.tray ? "What a curl\xe2\x80\x99s letter means differs by maker. 3\xe2\x80\xb2 of arc: "
                 "contour noise in the laboratory, not on lashes."
               : "What a curl\xe2\x80\x99s letter means differs by maker.");
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_step = {
    "step", "how much shorter the upper layers must be to come level, for each curl", draw};
