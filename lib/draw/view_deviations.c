/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How far each tip lies off the line, over its place as seen: a point for each lash in the colour
 * and shape of its layer, the band of the tolerance, each layer's mean, the staggered lashes by
 * name, and at the right how many tips lie off by how much.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/layout.h"
#include "draw/marks.h"
#include "draw/plot.h"
#include "draw/sheet.h"
#include "draw/words.h"

static const double pair_gap = 4;  /* of two panels side by side */
static const double RING_MM = 1.5; /* radius of a staggered tip's ring */
static const double GAP_MM = 4.5;  /* between points and bars */
enum { BINS_MAX = 200 };

/* The plot of one eye. */
typedef struct scatter {
    const tcr_check *check;
    tcr_side side;
    tcr_box panel;
    tcr_plot plot;
    tcr_box histogram; /* shares the plot's height */
    size_t most;       /* tips of its longest bar */
} scatter;

/* Whether a lash has a deviation, and is one of those that are drawn. */
static bool counts(const tcr_lash_result *lash) {
    return lash->status == TCR_OK && isfinite(lash->deviation_mm) && fabs(lash->deviation_mm) < 1e4;
}

/* How far the axes of a plot reach. Two eyes share them, so that they can be laid on each other. */
typedef struct reach {
    double x_low, x_high, most_mm; /* most_mm: of the deviations, to either side */
} reach;

static reach reach_of(const tcr_picture *picture) {
    reach r = {INFINITY, -INFINITY, 1.6 * tcr_check_tolerance(picture->check)};
    for (int k = 0; k < picture->eyes; k++) {
        const tcr_eye_result *eye = tcr_check_eye(picture->check, picture->side[k]);
        for (size_t i = 0; i < eye->lashes; i++) {
            if (!counts(&eye->lash[i]))
                continue;
            r.x_low = fmin(r.x_low, eye->lash[i].seen.x);
            r.x_high = fmax(r.x_high, eye->lash[i].seen.x);
            r.most_mm = fmax(r.most_mm, fabs(eye->lash[i].deviation_mm));
        }
    }
    return r;
}

static void set_axes(tcr_plot *plot, const reach *r) {
    const double pad = fmax(0.5, 0.03 * (r->x_high - r->x_low));
    const double step = tcr_plot_step(2 * r->most_mm, 12);
    plot->x_low = r->x_low - pad;
    plot->x_high = r->x_high + pad;
    plot->y_high = step * ceil(1.08 * r->most_mm / step);
    plot->y_low = -plot->y_high;
}

static scatter scatter_of(const tcr_check *check, tcr_side side, const reach *r, tcr_box panel) {
    const double left = 14, right = 5, above = 9, below = 14;
    scatter s = {.check = check, .side = side, .panel = panel};
    const double bars = 0.17 * panel.width;
    s.plot.mirrored = side == TCR_RIGHT;
    s.plot.area =
        (tcr_box){panel.x + left, panel.y + above, panel.width - left - right - GAP_MM - bars,
                  panel.height - above - below};
    s.histogram =
        (tcr_box){panel.x + panel.width - right - bars, s.plot.area.y, bars, s.plot.area.height};
    set_axes(&s.plot, r);
    return s;
}

static tcr_against line_of(const scatter *s) { return tcr_check_against(s->check); }

static tcr_status line_status(const scatter *s) {
    const tcr_eye_result *eye = tcr_check_eye(s->check, s->side);
    return line_of(s) == TCR_FITTED ? eye->fitted_status : eye->intended_status;
}

/* ---- The points -------------------------------------------------------------------- */

static void band(tcr_canvas *canvas, const scatter *s) {
    const double tolerance = tcr_check_tolerance(s->check);
    const tcr_vec2 high = tcr_plot_at(&s->plot, 0, tolerance);
    const tcr_vec2 low = tcr_plot_at(&s->plot, 0, -tolerance);
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_rectangle(cr, s->plot.area.x, high.y, s->plot.area.width, low.y - high.y);
    cairo_rectangle(cr, s->histogram.x, high.y, s->histogram.width, low.y - high.y);
    tcr_canvas_colour(canvas, canvas->style->paper_band);
    cairo_fill(cr);
}

static void zero(tcr_canvas *canvas, const scatter *s) {
    const tcr_vec2 p = tcr_plot_at(&s->plot, 0, 0);
    cairo_new_path(canvas->cr);
    cairo_move_to(canvas->cr, s->plot.area.x, p.y);
    cairo_line_to(canvas->cr, s->plot.area.x + s->plot.area.width, p.y);
    tcr_mark_stroke(canvas, line_of(s), 0.8);
}

static const tcr_evenness *even_of(const scatter *s) {
    const tcr_eye_result *eye = tcr_check_eye(s->check, s->side);
    return line_of(s) == TCR_FITTED ? &eye->fitted : &eye->intended;
}

/* Each layer's mean, dashed. */
static void means(tcr_canvas *canvas, const scatter *s) {
    cairo_t *cr = canvas->cr;
    const double dash[] = {1.4, 1.0};
    cairo_save(cr);
    cairo_set_dash(cr, dash, 2, 0);
    cairo_set_line_width(cr, 0.35);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const double mean = even_of(s)->layer_offset_mm[layer];
        if (!isfinite(mean))
            continue;
        const tcr_vec2 p = tcr_plot_at(&s->plot, 0, mean);
        cairo_new_path(cr);
        cairo_move_to(cr, s->plot.area.x, p.y);
        cairo_line_to(cr, s->histogram.x + s->histogram.width, p.y);
        tcr_canvas_colour(canvas, canvas->style->layer[layer]);
        cairo_stroke(cr);
    }
    cairo_restore(cr);
    /* Which layer's, for print without colour, in the gap: side by side, since means may be close.
     */
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const double mean = even_of(s)->layer_offset_mm[layer];
        const double x = s->plot.area.x + s->plot.area.width + GAP_MM * (layer + 0.5) / TCR_LAYERS;
        if (isfinite(mean))
            tcr_plot_mark(canvas, (tcr_layer)layer, (tcr_vec2){x, tcr_plot_at(&s->plot, 0, mean).y},
                          0.6);
    }
}

static tcr_vec2 place(const void *context, const tcr_lash_result *lash) {
    const scatter *s = context;
    return tcr_plot_at(&s->plot, lash->seen.x, lash->deviation_mm);
}

/* Names keep off the points, and off the rings around the staggered ones. */
static size_t points(tcr_canvas *canvas, const tcr_picture *picture, const scatter *s,
                     tcr_label_map *map) {
    const tcr_eye_result *eye = tcr_check_eye(s->check, s->side);
    const tcr_set *set = tcr_check_set(s->check);
    const size_t every = eye->lashes / TCR_HAIRS_MAX + 1;
    const double radius = 0.95;
    const bool ringed = picture->options.staggered;
    for (size_t i = 0; i < eye->lashes; i += every) {
        if (!counts(&eye->lash[i]))
            continue;
        const tcr_vec2 at = place(s, &eye->lash[i]);
        tcr_plot_mark(canvas, tcr_set_lash(set, s->side, i)->layer, at, radius);
        const double clear = ringed && eye->lash[i].staggered ? RING_MM + 0.3 : radius;
        tcr_label_block(map, (tcr_box){at.x - clear, at.y - clear, 2 * clear, 2 * clear});
    }
    return every;
}

/* ---- How many by how much ---------------------------------------------------------- */

static double bin_width(const tcr_plot *plot) {
    return tcr_plot_step(plot->y_high - plot->y_low, 40);
}

/* The tips of each layer by how far they lie off; the longest bar, in tips, or 'least'. */
static size_t count_tips(const scatter *s, size_t count[BINS_MAX][TCR_LAYERS], size_t least) {
    const tcr_eye_result *eye = tcr_check_eye(s->check, s->side);
    const tcr_set *set = tcr_check_set(s->check);
    const double width = bin_width(&s->plot);
    const int bins = (int)fmin(BINS_MAX, round((s->plot.y_high - s->plot.y_low) / width));
    size_t most = least;
    memset(count, 0, BINS_MAX * sizeof *count);
    for (size_t i = 0; i < eye->lashes; i++) {
        if (!counts(&eye->lash[i]))
            continue;
        const double bin = floor((eye->lash[i].deviation_mm - s->plot.y_low) / width);
        const int k = (int)fmax(0, fmin(bins - 1, bin));
        count[k][tcr_set_lash(set, s->side, i)->layer]++;
        const size_t sum = count[k][0] + count[k][1] + count[k][2];
        most = sum > most ? sum : most;
    }
    return most;
}

static void bars(tcr_canvas *canvas, const scatter *s) {
    size_t count[BINS_MAX][TCR_LAYERS];
    const size_t most = count_tips(s, count, s->most);
    const double width = bin_width(&s->plot), unit = s->histogram.width / (double)most;
    for (int k = 0; k < BINS_MAX; k++) {
        if (count[k][0] + count[k][1] + count[k][2] == 0)
            continue;
        const tcr_vec2 high = tcr_plot_at(&s->plot, 0, s->plot.y_low + (k + 1) * width);
        const tcr_vec2 low = tcr_plot_at(&s->plot, 0, s->plot.y_low + k * width);
        double x = s->histogram.x;
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            const double length = unit * (double)count[k][layer];
            cairo_rectangle(canvas->cr, x, high.y + 0.1, length, low.y - high.y - 0.2);
            tcr_canvas_colour(canvas, canvas->style->layer[layer]);
            cairo_fill(canvas->cr);
            x += length;
        }
    }
    char text[TCR_WORDS];
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .align = 1};
    const double right = s->histogram.x + s->histogram.width;
    const double foot = s->histogram.y + s->histogram.height;
    snprintf(text, sizeof text, "up to %zu tips", most);
    tcr_canvas_text(canvas, right, foot + 4, text, &quiet);
}

/* ---- The panel --------------------------------------------------------------------- */

static void axes(tcr_canvas *canvas, const scatter *s) {
    const tcr_box a = s->plot.area;
    tcr_setting words = {.type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet};
    char text[TCR_WORDS];
    tcr_plot_rules(canvas, &s->plot, true);
    snprintf(text, sizeof text, "mm over the %s line",
             line_of(s) == TCR_FITTED ? "fitted" : "intended");
    tcr_canvas_text(canvas, s->panel.x + 4, s->panel.y + 5.2, text, &words);
    const double y = a.y + a.height + 8.6;
    /* Arrows, since the tips may begin and end on either side of the corners. */
    static const char *const at_left[] = {"\xe2\x86\x90 inner corner", "\xe2\x86\x90 outer corner"};
    static const char *const at_right[] = {"inner corner \xe2\x86\x92",
                                           "outer corner \xe2\x86\x92"};
    words.align = 0;
    tcr_canvas_text(canvas, a.x, y, at_left[s->plot.mirrored ? 1 : 0], &words);
    words.align = 1;
    tcr_canvas_text(canvas, a.x + a.width, y, at_right[s->plot.mirrored ? 0 : 1], &words);
    words.align = 0.5;
    words.width_mm = a.width - 44;
    tcr_canvas_text(canvas, a.x + a.width / 2, y, "mm from the pupil", &words);
}

/* Returns how many tips have their names. */
static size_t draw_panel(tcr_canvas *canvas, const tcr_picture *picture, const scatter *s,
                         size_t *every) {
    tcr_sheet_paper(canvas, s->panel);
    if (line_status(s) != TCR_OK) {
        char text[TCR_WORDS];
        const tcr_setting words = {.type = TCR_TYPE_BODY,
                                   .colour = canvas->style->paper_quiet,
                                   .align = 0.5,
                                   .width_mm = s->panel.width - 10};
        snprintf(text, sizeof text, "%s", tcr_status_text(line_status(s)));
        tcr_canvas_text(canvas, s->panel.x + s->panel.width / 2, s->panel.y + s->panel.height / 2,
                        text, &words);
        return 0;
    }
    tcr_label_map map = {.below = true,
                         .area = {s->plot.area.x, s->panel.y + 1, s->plot.area.width,
                                  s->plot.area.y + s->plot.area.height - s->panel.y - 1}};
    tcr_label_block(&map, (tcr_box){s->panel.x, s->panel.y, 60, 6.6}); /* the axis' name */
    band(canvas, s);
    axes(canvas, s);
    bars(canvas, s);
    zero(canvas, s);
    means(canvas, s);
    const size_t n = points(canvas, picture, s, &map);
    *every = n > *every ? n : *every;
    return picture->options.staggered
               ? tcr_mark_staggered_at(canvas, s->check, s->side, place, s, RING_MM, &map)
               : 0;
}

/* ---- The sheet --------------------------------------------------------------------- */

static double legend(tcr_canvas *canvas, const tcr_picture *picture, int columns, double x,
                     double y, double width) {
    const tcr_style *style = canvas->style;
    char band_text[2 * TCR_WORDS], number[TCR_WORDS];
    snprintf(band_text, sizeof band_text, "within %s mm",
             tcr_say_trimmed(number, tcr_check_tolerance(picture->check), 2));
    const char *const text[] = {"top layer",    "middle layer",
                                "bottom layer", "layer\xe2\x80\x99s mean",
                                band_text,      "sticks out"};
    enum { ROWS = sizeof text / sizeof *text };
    for (int i = 0; i < ROWS; i++) {
        const double left = x + i % columns * width / columns, high = y + i / columns * TCR_ROW;
        const tcr_box sample = {left, high + 0.3, TCR_SAMPLE, 3.5};
        const tcr_vec2 middle = {left + TCR_SAMPLE / 2, high + 2.05};
        cairo_new_path(canvas->cr);
        tcr_canvas_rounded(canvas, sample, 0.6);
        tcr_canvas_colour(canvas, style->paper);
        cairo_fill(canvas->cr);
        if (i < TCR_LAYERS) {
            tcr_plot_mark(canvas, (tcr_layer)(TCR_LAYERS - 1 - i), middle, 0.95);
        } else if (i == TCR_LAYERS) {
            const double dash[] = {1.4, 1.0};
            cairo_save(canvas->cr);
            cairo_move_to(canvas->cr, left + 0.8, middle.y);
            cairo_line_to(canvas->cr, left + TCR_SAMPLE - 0.8, middle.y);
            cairo_set_dash(canvas->cr, dash, 2, 0);
            cairo_set_line_width(canvas->cr, 0.35);
            tcr_canvas_colour(canvas, style->layer[TCR_BOTTOM]);
            cairo_stroke(canvas->cr);
            cairo_restore(canvas->cr);
        } else if (i == TCR_LAYERS + 1) {
            cairo_rectangle(canvas->cr, left, high + 1.1, TCR_SAMPLE, 1.9);
            tcr_canvas_colour(canvas, style->paper_band);
            cairo_fill(canvas->cr);
        } else {
            tcr_mark_ring(canvas, middle, 1.1);
        }
        tcr_figures_body(canvas, text[i], left + TCR_SAMPLE + 2, high,
                         width / columns - TCR_SAMPLE - 2);
    }
    return y + (ROWS + columns - 1) / columns * TCR_ROW;
}

static void titles(tcr_canvas *canvas, const tcr_picture *picture, double width) {
    char view[TCR_WORDS], count[TCR_WORDS], text[3 * TCR_WORDS];
    const tcr_view seen = tcr_check_view(picture->check);
    snprintf(text, sizeof text, "%s %s: how far each tip lies off the line%s",
             tcr_sheet_eyes(picture), tcr_say_view(view, &seen),
             tcr_sheet_count(count, sizeof count, picture));
    tcr_sheet_titles(canvas, tcr_sheet_title(picture->check, "The tips off the line"), text, width);
}

static void figures(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout) {
    const tcr_check *check = picture->check;
    const bool beside = picture->eyes == 1;
    tcr_box common = tcr_layout_common(layout);
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        char name[TCR_WORDS];
        tcr_figures_name(name, check, picture->side[i]);
        const double y = tcr_figures_evenness(canvas, check, picture->side[i], beside ? NULL : name,
                                              box.x, box.y, box.width);
        if (beside)
            common = (tcr_box){box.x, y + 3, box.width, box.height};
    }
    double y = tcr_figures_layers(canvas, check, picture->side, picture->eyes, common.x, common.y,
                                  common.width);
    y = legend(canvas, picture, picture->eyes, common.x, y + (beside ? 2.6 : 1.6), common.width);
    if (beside && picture->options.staggered)
        tcr_figures_staggered(canvas, check, picture->side[0], 3, 7, common.x, y + 2.6,
                              common.width);
    for (int i = 0; i < picture->eyes && !beside && picture->options.staggered; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        tcr_figures_staggered(canvas, check, picture->side[i], 1, 8, box.x + 46, box.y,
                              box.width - 46);
    }
}

/* The last line of the sheet, with how many of the staggered tips have their names. */
static void footer(tcr_canvas *canvas, const tcr_picture *picture, size_t named, size_t every) {
    size_t staggered = 0;
    char note[2 * TCR_WORDS], names[TCR_WORDS] = "";
    for (int i = 0; i < picture->eyes; i++)
        staggered += tcr_check_eye(picture->check, picture->side[i])->staggered;
    if (named > 0)
        snprintf(names, sizeof names, " %zu of %zu tips that stick out are named.", named,
                 staggered);
    snprintf(note, sizeof note,
             "Measured upright: how far a tip stands above (+) or below (\xe2\x88\x92) the line at "
             "its place.%s",
             names);
    tcr_sheet_footer(canvas, picture->check, note, every);
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const tcr_check *check = picture->check;
    const reach shared = reach_of(picture);
    size_t every = 1, named = 0;
    tcr_layout layout = {.main = {.eyes = picture->eyes, .panel = tcr_sheet_panel()}};
    if (picture->eyes == 2)
        layout.main.panel.height = TCR_PAIR_HEIGHT;
    scatter plots[TCR_SIDES];
    size_t most = 1, count[BINS_MAX][TCR_LAYERS];
    for (int i = 0; i < picture->eyes; i++) {
        tcr_box panel = layout.main.panel;
        if (picture->eyes == 2) {
            panel.width = (TCR_SHEET_WIDTH - 2 * TCR_EDGE - pair_gap) / 2;
            panel.x += i * (panel.width + pair_gap);
        }
        plots[i] = scatter_of(check, picture->side[i], &shared, panel);
        most = line_status(&plots[i]) == TCR_OK ? count_tips(&plots[i], count, most) : most;
    }
    for (int i = 0; i < picture->eyes; i++) {
        plots[i].most = most;
        named += draw_panel(canvas, picture, &plots[i], &every);
    }
    titles(canvas, picture, tcr_layout_title_width(&layout));
    figures(canvas, picture, &layout);
    footer(canvas, picture, named, every);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_deviations = {
    "deviations", "how far each tip lies off the line, by layer, and how many by how much", draw};
