/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Why the line is as even as it is: for each cause a bar from what the rms is to what it would be
 * without that cause. A bar to the left is a cause that makes the line uneven, one to the right a
 * cause that helps; the two differ in filling too, so that they read without colour. Beside them
 * each cause's Shapley value (model.md, section 8) and what it would do alone.
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

/* How a cause is spoken of. */
static const struct {
    const char *name, *brief, *without;
} WORDS[BARS] = {
    [TCR_CAUSE_HEIGHTS] = {"Root heights", "root heights",
                           "With all roots at the mean lash's height"},
    [TCR_CAUSE_SHORTENING] = {"Shorter upper layers", "shortening",
                              "With one length on all layers"},
    [TCR_CAUSE_PLACEMENT] = {"Placement", "placement", "With all on top"},
    [TCR_CAUSE_ZONES] = {"Steps between zones", "zone steps", "With lengths that change smoothly"},
    [TCR_CAUSE_SINGLE] = {"Single choices", "single choices",
                          "With every lash as its zone and layer"},
    [TCR_CAUSE_VARIATION] = {"Natural variation", "variation", "With lashes that all grow alike"},
    [JOINT] = {"Heights and shortening", "both", "With both levelled"},
};

/* The bars of one eye. */
typedef struct chart {
    tcr_side side;
    tcr_status status;
    tcr_why why;
    tcr_box panel;
    tcr_plot plot;
    bool wide;      /* room for a second line of words */
    size_t too_few; /* tips, where they are too few to judge by a line fitted to them; else 0 */
} chart;

static const tcr_share *share_of(const chart *c, int bar) {
    return bar == JOINT ? &c->why.layering : &c->why.cause[bar];
}

static chart chart_of(const tcr_check *check, tcr_side side, tcr_box panel) {
    chart c = {.side = side, .panel = panel, .wide = panel.width > 150};
    const double names = c.wide ? 62 : 44, above = 12, below = 11, right = 14;
    double most = 0;
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (eye->too_few && tcr_check_against(check) == TCR_FITTED)
        c.too_few = eye->extended;
    c.status = tcr_why_of(check, side, &c.why);
    c.plot.area = (tcr_box){panel.x + names, panel.y + above, panel.width - names - right,
                            panel.height - above - below};
    if (c.status == TCR_OK)
        most = fmax(c.why.whole_rms_mm, c.why.bare_rms_mm);
    for (int bar = 0; bar < BARS && c.status == TCR_OK; bar++)
        most = fmax(most, share_of(&c, bar)->without_rms_mm);
    c.plot.x_high = fmax(0.1, 1.02 * most);
    c.plot.y_high = BARS + 0.4; /* a gap before the joint one */
    return c;
}

/* ---- The bars ---------------------------------------------------------------------- */

/* The height of a bar's middle on the sheet. */
static double height_of(const chart *c, int bar) {
    return tcr_plot_at(&c->plot, 0, BARS - 0.1 - bar - (bar == JOINT ? 0.4 : 0)).y;
}

static void rules(tcr_canvas *canvas, const chart *c) {
    const double step = tcr_plot_step(c->plot.x_high, 7);
    const tcr_box a = c->plot.area;
    cairo_t *cr = canvas->cr;
    tcr_setting words = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .align = 0.5};
    for (int i = 0; i * step <= c->plot.x_high; i++) {
        char number[TCR_WORDS];
        const double x = tcr_plot_at(&c->plot, i * step, 0).x;
        cairo_new_path(cr);
        cairo_move_to(cr, x, a.y);
        cairo_line_to(cr, x, a.y + a.height);
        tcr_canvas_colour(canvas, canvas->style->paper_rule);
        cairo_set_line_width(cr, i == 0 ? 0.4 : 0.15);
        cairo_stroke(cr);
        tcr_say_trimmed(number, i * step, 3);
        tcr_canvas_text(canvas, x, a.y + a.height + 3.6, number, &words);
    }
    words.align = 0;
    tcr_canvas_text(canvas, a.x, a.y + a.height + 7.6,
                    "rms off the line, mm, with one cause levelled out", &words);
}

/* The line of what is now, and what it means to lie on either side of it. */
static void now(tcr_canvas *canvas, const chart *c) {
    const tcr_style *style = canvas->style;
    const double x = tcr_plot_at(&c->plot, c->why.whole_rms_mm, 0).x;
    const tcr_box a = c->plot.area;
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_move_to(cr, x, a.y - 2);
    cairo_line_to(cr, x, a.y + a.height);
    tcr_canvas_colour(canvas, style->label_ink);
    cairo_set_line_width(cr, 0.45);
    cairo_stroke(cr);
    char number[TCR_WORDS], text[TCR_WORDS + 16];
    tcr_setting words = {.type = TCR_TYPE_LABEL, .colour = style->label_ink, .align = 0.5};
    snprintf(text, sizeof text, "now %s", tcr_say_number(number, c->why.whole_rms_mm, 2, false));
    tcr_canvas_text(canvas, x, a.y - 6.6, text, &words);
    words.colour = style->fitted;
    words.align = 1;
    tcr_canvas_text(canvas, x - 2, a.y - 2.8, "\xe2\x86\x90 makes it uneven", &words);
    words.colour = style->help;
    words.align = 0;
    tcr_canvas_text(canvas, x + 2, a.y - 2.8, "helps \xe2\x86\x92", &words);
}

/* A bar from what is to what would be. */
static void bar_at(tcr_canvas *canvas, const chart *c, int bar, double half) {
    const tcr_style *style = canvas->style;
    const double without = share_of(c, bar)->without_rms_mm;
    const double from = tcr_plot_at(&c->plot, c->why.whole_rms_mm, 0).x;
    const double to = tcr_plot_at(&c->plot, without, 0).x, y = height_of(c, bar);
    const bool helps = to > from, nothing = fabs(without - c->why.whole_rms_mm) < 0.005;
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_rectangle(cr, fmin(from, to), y - half, fabs(to - from), 2 * half);
    tcr_canvas_colour(canvas, helps ? tcr_rgba_faded(style->help, 0.22) : style->fitted);
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, helps ? style->help : style->fitted);
    cairo_set_line_width(cr, 0.4);
    cairo_stroke(cr);
    char number[TCR_WORDS];
    const tcr_setting end = {.type = TCR_TYPE_LABEL,
                             .colour = nothing ? style->paper_quiet
                                       : helps ? style->help
                                               : style->fitted,
                             .align = helps ? 0 : 1};
    tcr_say_number(number, without, 2, false);
    tcr_canvas_text(canvas, to + (helps ? 1.4 : -1.4), y + 0.85, number, &end);
}

static void names(tcr_canvas *canvas, const chart *c, int bar) {
    const tcr_style *style = canvas->style;
    const double x = c->panel.x + 4, y = height_of(c, bar);
    const double width = c->plot.area.x - x - 9;
    const tcr_setting name = {.type = c->wide ? TCR_TYPE_HEADING : TCR_TYPE_LABEL,
                              .colour = style->label_ink,
                              .width_mm = width};
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .width_mm = width};
    tcr_canvas_text(canvas, x, y + (c->wide ? -0.3 : 0.9), WORDS[bar].name, &name);
    if (c->wide)
        tcr_canvas_text(canvas, x, y + 3.4, WORDS[bar].without, &quiet);
}

static void draw_chart(tcr_canvas *canvas, const chart *c) {
    tcr_sheet_paper(canvas, c->panel);
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
        names(canvas, c, bar);
        bar_at(canvas, c, bar, half);
    }
    now(canvas, c);
}

/* ---- Figures ----------------------------------------------------------------------- */

/* Each cause's share of the mean square, and the rms that it alone would give. */
static double shares(tcr_canvas *canvas, const tcr_why *why, double x, double y, double width) {
    char number[TCR_WORDS];
    tcr_figures_heading(canvas, "Shares, mm\xc2\xb2", x, y, width);
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, "share", 1, x + 0.68 * width, y + 3);
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, "alone, mm", 1, x + width, y + 3);
    y += 4.2;
    for (int cause = 0; cause <= TCR_CAUSES; cause++) {
        const bool sum = cause == TCR_CAUSES;
        const double whole =
            why->whole_rms_mm * why->whole_rms_mm - why->bare_rms_mm * why->bare_rms_mm;
        const double share = sum ? whole : why->cause[cause].shapley_mm2;
        tcr_figures_body(canvas, sum ? "all six" : WORDS[cause].brief, x, y, 0.5 * width);
        tcr_figures_aligned(canvas, TCR_TYPE_BODY, tcr_say_number(number, share, 3, true), 1,
                            x + 0.68 * width, y + 3.1);
        tcr_say_number(number, sum ? why->whole_rms_mm : why->cause[cause].alone_rms_mm, 2, false);
        tcr_figures_aligned(canvas, TCR_TYPE_BODY, number, 1, x + width, y + 3.1);
        y += TCR_ROW;
    }
    return y;
}

/* What a trainee is to remember of the picture. */
static void lesson(const tcr_why *why, char out[2 * TCR_WORDS]) {
    const tcr_share *heights = &why->cause[TCR_CAUSE_HEIGHTS];
    char a[TCR_WORDS], b[TCR_WORDS];
    int worst = 0;
    for (int cause = 1; cause < TCR_CAUSES; cause++)
        if (why->cause[cause].without_rms_mm < why->cause[worst].without_rms_mm)
            worst = cause;
    tcr_say_number(b, why->whole_rms_mm, 2, false);
    if (heights->without_rms_mm > why->whole_rms_mm + 0.05 &&
        heights->without_rms_mm > why->layering.without_rms_mm)
        snprintf(
            out, (size_t)2 * TCR_WORDS,
            "Levelling the roots alone would make it worse, %.8s mm for %.8s: root heights and "
            "shortening make up for each other here.",
            tcr_say_number(a, heights->without_rms_mm, 2, false), b);
    else if (why->cause[worst].without_rms_mm < why->whole_rms_mm - 0.05)
        snprintf(out, (size_t)2 * TCR_WORDS,
                 "The largest cause: %s. %s the rms would be %.8s mm, not %.8s.",
                 WORDS[worst].brief, WORDS[worst].without,
                 tcr_say_number(a, why->cause[worst].without_rms_mm, 2, false), b);
    else
        snprintf(out, (size_t)2 * TCR_WORDS,
                 "No single cause stands out: each alone would change little.");
}

static double figures_of(tcr_canvas *canvas, const chart *c, const char *heading, double x,
                         double y, double width) {
    const tcr_setting words = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = width, .lines = 4};
    char text[2 * TCR_WORDS], number[TCR_WORDS];
    y = tcr_figures_heading(canvas, heading, x, y, width);
    if (c->status != TCR_OK)
        return tcr_figures_quiet(canvas, tcr_status_text(c->status), x, y, width);
    if (c->too_few > 0)
        return tcr_figures_too_few(canvas, c->too_few, x, y, width);
    y = tcr_figures_large(canvas, c->why.whole_rms_mm, "mm", x, y);
    snprintf(text, sizeof text, "rms off the line; %.8s with all six levelled",
             tcr_say_number(number, c->why.bare_rms_mm, 2, false));
    y = tcr_figures_quiet(canvas, text, x, y, width) + 1;
    lesson(&c->why, text);
    y += tcr_canvas_text(canvas, x, y + 3.1, text, &words);
    return y + 2.6;
}

static void figures(tcr_canvas *canvas, const chart *c, int eyes, const tcr_layout *layout) {
    for (int i = 0; i < eyes; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        char name[TCR_WORDS];
        snprintf(name, sizeof name, "%s, unevenness", tcr_say_side(c[i].side));
        const double y =
            figures_of(canvas, &c[i], eyes == 1 ? "Unevenness" : name, box.x, box.y, box.width);
        if (eyes == 1 && c[i].status == TCR_OK)
            shares(canvas, &c[i].why, box.x, y, box.width);
    }
    const tcr_box common = tcr_layout_common(layout);
    double y = common.y;
    if (eyes == 1)
        return;
    y = tcr_figures_heading(canvas, "How to read it", common.x, y, common.width);
    y = tcr_figures_body(canvas, "A bar goes from what is now to what", common.x, y, common.width);
    y = tcr_figures_body(canvas, "would be without that cause. To the", common.x, y, common.width);
    y = tcr_figures_body(canvas, "left: it makes the line uneven.", common.x, y, common.width);
    tcr_figures_body(canvas, "To the right: it helps.", common.x, y, common.width);
}

/* ---- The sheet --------------------------------------------------------------------- */

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const double gap = 4;
    tcr_layout layout = {.main = {.eyes = picture->eyes, .panel = tcr_layout_panel(picture->eyes)}};
    chart c[TCR_SIDES];
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
                     "Share: how much of the unevenness is one cause\xe2\x80\x99s, fairly divided; "
                     "the six add up to all six together.",
                     1);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_why = {
    "why", "what makes the line uneven and what helps, cause by cause", draw};
