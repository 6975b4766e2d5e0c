/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Why the line is as even as it is: for each cause a bar with what it adds to the rms of the set as
 * it is. A bar to the right is a cause that hurts, one to the left a cause that helps, a grey one
 * changes little; they differ in filling too, so that they read without colour. Beside each bar is
 * the rms without its cause. A set with both root heights and layer shortening has one bar for the
 * two: levelling one of them alone undoes what they make of each other, so that alone they have
 * their figures, but no side. The words and what they judge are the table's (tipcrest/why.h).
 */
#include <math.h>
#include <stdio.h>

#include <tipcrest/why.h>

#include "draw/figures.h"
#include "draw/layout.h"
#include "draw/plot.h"
#include "draw/sheet.h"
#include "draw/words.h"

enum { JOINT = TCR_CAUSES, BARS = TCR_CAUSES + 1 };

/* The bars of one eye. There is one for the pair of heights and shortening if the set has both;
 * they themselves are then rows below it, with a figure and no bar. */
typedef struct chart {
    tcr_side side;
    tcr_status status;
    tcr_why why;
    tcr_box panel;
    tcr_plot plot;
    bool wide;      /* room for a second line of words */
    bool pair;      /* a bar for heights and shortening together */
    size_t too_few; /* tips, where they are too few to judge by a line fitted to them; else 0 */
} chart;

static const tcr_share *share_of(const chart *c, int bar) {
    return bar == JOINT ? &c->why.layering : &c->why.cause[bar];
}

/* What a bar's cause adds to the rms of the set as it is. */
static double added_by(const chart *c, int bar) {
    return c->why.whole_rms_mm - share_of(c, bar)->without_rms_mm;
}

/* Whether a row is one of the pair below the joint bar. */
static bool is_of_pair(const chart *c, int bar) {
    return c->pair && (bar == TCR_CAUSE_HEIGHTS || bar == TCR_CAUSE_SHORTENING);
}

static bool is_absent(const chart *c, int bar) {
    return bar != JOINT && tcr_cause_is_absent(&c->why, (tcr_cause)bar);
}

/* Whether a row is there, and whether it has a bar. */
static bool is_row(const chart *c, int bar) { return bar != JOINT || c->pair; }
static bool has_bar(const chart *c, int bar) {
    return is_row(c, bar) && !is_of_pair(c, bar) && !is_absent(c, bar);
}

static chart chart_of(const tcr_check *check, tcr_side side, tcr_box panel) {
    chart c = {.side = side, .panel = panel, .wide = panel.width > 150};
    const double names = c.wide ? 66 : 46, above = 12, below = 11, right = c.wide ? 26 : 20;
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (eye->too_few && tcr_check_against(check) == TCR_FITTED)
        c.too_few = eye->extended;
    c.status = tcr_why_of(check, side, &c.why);
    c.pair = c.status == TCR_OK && !is_absent(&c, TCR_CAUSE_HEIGHTS) &&
             !is_absent(&c, TCR_CAUSE_SHORTENING);
    c.plot.area = (tcr_box){panel.x + names, panel.y + above, panel.width - names - right,
                            panel.height - above - below};
    double least = -0.1, most = 0.1;
    for (int bar = 0; bar < BARS && c.status == TCR_OK; bar++) {
        if (!has_bar(&c, bar))
            continue;
        least = fmin(least, added_by(&c, bar));
        most = fmax(most, added_by(&c, bar));
    }
    /* Room for the numbers at the ends. */
    const double room = (c.wide ? 0.14 : 0.22) * (most - least);
    c.plot.x_low = least - room;
    c.plot.x_high = most + room;
    c.plot.y_high = c.pair ? BARS + 0.4 : TCR_CAUSES; /* a gap below the pair */
    return c;
}

/* ---- The bars ---------------------------------------------------------------------- */

/* The height of a bar's middle on the sheet. */
static double height_of(const chart *c, int bar) {
    const double row = !c->pair ? bar : bar == JOINT ? 0 : bar + 1 + (is_of_pair(c, bar) ? 0 : 0.4);
    return tcr_plot_at(&c->plot, 0, (c->pair ? BARS : TCR_CAUSES) - (c->pair ? 0.1 : 0.5) - row).y;
}

static void rule_at(tcr_canvas *canvas, const chart *c, double x, double above, double width,
                    tcr_rgba colour) {
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_move_to(cr, x, c->plot.area.y - above);
    cairo_line_to(cr, x, c->plot.area.y + c->plot.area.height);
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(cr, width);
    cairo_stroke(cr);
}

static void rules(tcr_canvas *canvas, const chart *c) {
    const double step = tcr_plot_step(c->plot.x_high - c->plot.x_low, c->wide ? 8 : 5);
    const tcr_box a = c->plot.area;
    tcr_setting words = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .align = 0.5};
    for (int i = (int)ceil(c->plot.x_low / step); i * step <= c->plot.x_high; i++) {
        char number[TCR_WORDS];
        const double x = tcr_plot_at(&c->plot, i * step, 0).x;
        rule_at(canvas, c, x, 0, 0.15, canvas->style->paper_rule);
        const int decimals = step < 0.1 ? 2 : 1;
        tcr_canvas_text(canvas, x, a.y + a.height + 3.6,
                        tcr_say_number(number, i * step, i == 0 ? 0 : decimals, true), &words);
    }
    words.align = 0;
    words.width_mm = a.width;
    tcr_canvas_text(canvas, a.x, a.y + a.height + 7.6, "what a cause adds, mm rms", &words);
}

/* What it means to be on either side of nothing, and what the numbers beside the bars are. */
static void sides(tcr_canvas *canvas, const chart *c) {
    const tcr_style *style = canvas->style;
    const double x = tcr_plot_at(&c->plot, 0, 0).x, y = c->plot.area.y - 4.2;
    const double end = c->panel.x + c->panel.width - 3;
    rule_at(canvas, c, x, 2, 0.45, style->label_ink);
    tcr_setting words = {.type = TCR_TYPE_LABEL, .colour = style->help, .align = 1};
    tcr_canvas_text(canvas, x - 1.5, y, "\xe2\x86\x90 helps", &words);
    words.colour = style->fitted;
    words.align = 0;
    tcr_canvas_text(canvas, x + 1.5, y, "hurts \xe2\x86\x92", &words);
    words = (tcr_setting){.type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .align = 1};
    tcr_canvas_text(canvas, end, y - 3.2, "rms without", &words);
    tcr_canvas_text(canvas, end, y, "it, mm", &words);
}

/* A bar with what its cause adds. */
static void bar_at(tcr_canvas *canvas, const chart *c, int bar, double half) {
    const tcr_style *style = canvas->style;
    const double without = share_of(c, bar)->without_rms_mm, added = added_by(c, bar);
    const double from = tcr_plot_at(&c->plot, 0, 0).x, y = height_of(c, bar);
    const double to = tcr_plot_at(&c->plot, added, 0).x;
    const tcr_effect effect = tcr_effect_of(c->why.whole_rms_mm, without);
    const tcr_rgba colour = effect == TCR_HELPS   ? style->help
                            : effect == TCR_HURTS ? style->fitted
                                                  : style->paper_quiet;
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_rectangle(cr, fmin(from, to), y - half, fabs(to - from), 2 * half);
    tcr_canvas_colour(canvas, effect == TCR_HURTS ? colour : tcr_rgba_faded(colour, 0.22));
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(cr, 0.4);
    cairo_stroke(cr);
    char number[TCR_WORDS];
    const bool left = added < 0,
               close = effect == TCR_LITTLE && fabs(added) > 0.9 * TCR_WHY_LITTLE_MM;
    tcr_setting end = {.type = TCR_TYPE_LABEL, .colour = colour, .align = left ? 1 : 0};
    tcr_say_number(number, added, close ? 3 : 2, true); /* three where that decides */
    tcr_canvas_text(canvas, to + (left ? -1.4 : 1.4), y + 0.85, number, &end);
}

/* The rms without a row's cause at the right; or that it has no part. */
static void figure_at(tcr_canvas *canvas, const chart *c, int bar) {
    const double y = height_of(c, bar) + 0.85;
    char number[TCR_WORDS];
    tcr_setting words = {.type = TCR_TYPE_LABEL, .colour = canvas->style->label_ink, .align = 1};
    tcr_say_number(number, share_of(c, bar)->without_rms_mm, 2, false);
    if (!is_absent(c, bar)) {
        tcr_canvas_text(canvas, c->panel.x + c->panel.width - 3, y, number, &words);
        return;
    }
    words = (tcr_setting){.type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet};
    tcr_canvas_text(canvas, tcr_plot_at(&c->plot, 0, 0).x + 1.5, y, "no part", &words);
}

/* "Root heights" */
static const char *name_of(int bar, char out[TCR_WORDS]) {
    const char *name = bar == JOINT ? "heights and shortening" : tcr_cause_text((tcr_cause)bar);
    snprintf(out, TCR_WORDS, "%c%s", name[0] - 'a' + 'A', name + 1);
    return out;
}

static void names(tcr_canvas *canvas, const chart *c, int bar) {
    const tcr_style *style = canvas->style;
    const double x = c->panel.x + 4 + (is_of_pair(c, bar) ? 4 : 0), y = height_of(c, bar);
    const double width = c->plot.area.x - x - 1;
    const tcr_setting name = {.type = c->wide ? TCR_TYPE_HEADING : TCR_TYPE_LABEL,
                              .colour = style->label_ink,
                              .width_mm = width};
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .width_mm = width};
    char text[TCR_WORDS];
    tcr_canvas_text(canvas, x, y + (c->wide ? -0.3 : 0.9), name_of(bar, text), &name);
    if (c->wide)
        tcr_canvas_text(
            canvas, x, y + 3.4,
            bar == JOINT ? "with both levelled" : tcr_cause_levelled_text((tcr_cause)bar), &quiet);
}

/* Joins the pair to the joint bar. */
static void bracket(tcr_canvas *canvas, const chart *c) {
    const double x = c->panel.x + 5.4, top = height_of(c, JOINT) + (c->wide ? 4.6 : 2);
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_move_to(cr, x, top);
    cairo_line_to(cr, x, height_of(c, TCR_CAUSE_SHORTENING));
    for (int bar = TCR_CAUSE_HEIGHTS; bar <= TCR_CAUSE_SHORTENING; bar++) {
        cairo_move_to(cr, x, height_of(c, bar));
        cairo_line_to(cr, x + 1.6, height_of(c, bar));
    }
    tcr_canvas_colour(canvas, canvas->style->paper_quiet);
    cairo_set_line_width(cr, 0.3);
    cairo_stroke(cr);
}

/* Whose causes these are, where another eye's stand beside them. */
static void heading(tcr_canvas *canvas, const chart *c) {
    const tcr_setting words = {.type = TCR_TYPE_LABEL, .colour = canvas->style->ink};
    tcr_canvas_text(canvas, c->panel.x + 4, c->panel.y + 5, tcr_say_side(c->side), &words);
}

static void draw_chart(tcr_canvas *canvas, const chart *c) {
    tcr_sheet_paper(canvas, c->panel);
    if (!c->wide)
        heading(canvas, c);
    if (c->status != TCR_OK || c->too_few > 0) {
        const tcr_setting words = {.type = TCR_TYPE_BODY,
                                   .colour = canvas->style->paper_quiet,
                                   .align = 0.5,
                                   .width_mm = c->panel.width - 10};
        tcr_canvas_text(canvas, c->panel.x + c->panel.width / 2, c->panel.y + c->panel.height / 2,
                        c->status != TCR_OK ? tcr_status_text(c->status) : "too few tips to judge",
                        &words);
        return;
    }
    const double half = 0.3 * c->plot.area.height / c->plot.y_high;
    rules(canvas, c);
    for (int bar = 0; bar < BARS; bar++) {
        if (!is_row(c, bar))
            continue;
        names(canvas, c, bar);
        figure_at(canvas, c, bar);
        if (has_bar(c, bar))
            bar_at(canvas, c, bar, half);
    }
    if (c->pair)
        bracket(canvas, c);
    sides(canvas, c);
}

/* ---- Figures ----------------------------------------------------------------------- */

static double paragraph(tcr_canvas *canvas, const char *text, double x, double y, double width) {
    const tcr_setting words = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = width, .lines = 8};
    return y + tcr_canvas_text(canvas, x, y + 3.1, text, &words) + 1.4;
}

static double sentence(tcr_canvas *canvas, const tcr_why *why, tcr_why_sentence which, double x,
                       double y, double width) {
    char text[TCR_WHY_TEXT];
    tcr_why_say(why, which, text);
    return paragraph(canvas, text, x, y, width);
}

static double figures_of(tcr_canvas *canvas, const chart *c, const char *heading, bool one,
                         double x, double y, double width) {
    y = tcr_figures_heading(canvas, heading, x, y, width);
    if (c->status != TCR_OK)
        return tcr_figures_quiet(canvas, tcr_status_text(c->status), x, y, width);
    if (c->too_few > 0)
        return tcr_figures_too_few(canvas, c->too_few, x, y, width);
    y = tcr_figures_large(canvas, c->why.whole_rms_mm, "mm rms", x, y) + (one ? 1.4 : 0);
    y = sentence(canvas, &c->why, TCR_WHY_VERDICT, x, y, width);
    if (one)
        y = sentence(canvas, &c->why, TCR_WHY_LEVER, x, y, width);
    y = sentence(canvas, &c->why, TCR_WHY_CHANGE, x, y, width);
    return one && c->pair ? sentence(canvas, &c->why, TCR_WHY_LAYERING, x, y, width) : y;
}

static void how_to_read(tcr_canvas *canvas, bool pair, double x, double y, double width) {
    char little[TCR_WORDS], text[2 * TCR_WORDS];
    snprintf(text, sizeof text,
             "To the right: it hurts. To the left: it helps. Grey: it changes less than %s mm, "
             "little (assumed).%s",
             tcr_say_number(little, TCR_WHY_LITTLE_MM, 2, false),
             pair ? " Heights and shortening are judged together; one levelled while the other "
                    "stays has a figure, no bar."
                  : "");
    y = tcr_figures_heading(canvas, "How to read it", x, y, width);
    paragraph(canvas, text, x, y, width);
}

static void figures(tcr_canvas *canvas, const chart *c, int eyes, const tcr_layout *layout) {
    tcr_box key = tcr_layout_common(layout);
    bool any = false, pair = false;
    for (int i = 0; i < eyes; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        char name[TCR_WORDS];
        snprintf(name, sizeof name, "%s, unevenness", tcr_say_side(c[i].side));
        const double y = figures_of(canvas, &c[i], eyes == 1 ? "Unevenness" : name, eyes == 1,
                                    box.x, box.y, box.width);
        if (eyes == 1)
            key = (tcr_box){box.x, y + 1.4, box.width, 0};
        any = any || (c[i].status == TCR_OK && c[i].too_few == 0);
        pair = pair || c[i].pair;
    }
    if (any)
        how_to_read(canvas, pair, key.x, key.y, key.width);
}

/* ---- The sheet --------------------------------------------------------------------- */

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const double gap = 4, lower_mm = 10; /* room below two eyes for sentences of several lines */
    tcr_layout layout = {.main = {.eyes = picture->eyes, .panel = tcr_layout_panel(picture->eyes)}};
    chart c[TCR_SIDES];
    if (picture->eyes == 2)
        layout.main.panel.height -= lower_mm;
    for (int i = 0; i < picture->eyes; i++) {
        tcr_box panel = layout.main.panel;
        if (picture->eyes == 2) {
            panel.width = (panel.width - gap) / 2;
            panel.x += i * (panel.width + gap);
        }
        c[i] = chart_of(picture->check, picture->side[i], panel);
        if (c[i].status == TCR_E_MEMORY)
            return TCR_E_MEMORY;
        draw_chart(canvas, &c[i]);
    }
    char view[TCR_WORDS], text[3 * TCR_WORDS];
    const tcr_view seen = tcr_check_view(picture->check);
    snprintf(text, sizeof text, "%s %s: what makes the line uneven, and what helps",
             tcr_sheet_eyes(picture), tcr_say_view(view, &seen));
    tcr_sheet_titles(canvas, tcr_sheet_title(picture->check, "Why the line is uneven"), text,
                     tcr_layout_title_width(&layout));
    figures(canvas, c, picture->eyes, &layout);
    tcr_sheet_footer(canvas, picture->check,
                     "rms: a tip's typical distance from the line; far tips count more.", 1);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_why = {
    "why", "what makes the line uneven and what helps, cause by cause", draw};
