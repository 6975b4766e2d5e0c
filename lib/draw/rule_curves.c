/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/rule_curves.h"

#include <math.h>
#include <stdio.h>

#include "draw/dimension.h"
#include "draw/plot.h"
#include "draw/sheet.h"
#include "draw/words.h"

enum { CURVES = 3 };

static const struct {
    tcr_lesson_choice choice;
    const char *name, *of_tray;
    double dash; /* 0: a full line */
} CURVE[CURVES] = {
    {TCR_LESSON_EQUAL, "equal", "equal", 1.6},
    {TCR_LESSON_ONE_LESS, "1 mm less", "1 mm less", 0},
    {TCR_LESSON_BEST, "best sizes", "best of tray", 0.5},
};

static tcr_rgba colour_of(const tcr_canvas *canvas, int curve) {
    const tcr_style *style = canvas->style;
    return curve == 0 ? style->intended : curve == 1 ? style->fitted : style->help;
}

static void draw_curve(tcr_canvas *canvas, const tcr_rule_curves *c, const tcr_plot *plot,
                       int curve, bool thin) {
    const tcr_lesson *lesson = thin ? c->thin : c->thick;
    cairo_t *cr = canvas->cr;
    bool drawing = false;
    cairo_new_path(cr);
    for (int i = 0; lesson != NULL && i < c->points; i++) {
        const double y = lesson[i].rms_mm[CURVE[curve].choice];
        const tcr_vec2 p = tcr_plot_at(plot, i * c->step, y);
        if (isfinite(y))
            (drawing ? cairo_line_to : cairo_move_to)(cr, p.x, p.y);
        drawing = isfinite(y);
    }
    cairo_save(cr);
    if (CURVE[curve].dash > 0)
        cairo_set_dash(cr, &CURVE[curve].dash, 1, 0);
    tcr_canvas_colour(canvas, tcr_rgba_faded(colour_of(canvas, curve), thin ? 0.55 : 1));
    cairo_set_line_width(cr, thin ? 0.25 : 0.7);
    cairo_stroke(cr);
    cairo_restore(cr);
}

static void mark_upright(tcr_canvas *canvas, const tcr_rule_curves *c, const tcr_plot *plot) {
    const double x = fmin(fmax(c->at, plot->x_low), plot->x_high);
    const bool to_the_left = x > 0.5 * plot->x_high;
    const tcr_vec2 foot = tcr_plot_at(plot, x, plot->y_low),
                   head = tcr_plot_at(plot, x, plot->y_high);
    const tcr_setting words = {
        .type = TCR_TYPE_LABEL, .colour = canvas->style->label_ink, .align = to_the_left ? 1 : 0};
    if (isnan(c->at))
        return;
    tcr_dimension_thin(canvas, foot, head, canvas->style->label_ink, true);
    tcr_canvas_text(canvas, head.x + (to_the_left ? -1 : 1), head.y - 0.8, c->mark, &words);
}

/* At their right ends, apart from each other. */
static void name_curves(tcr_canvas *canvas, const tcr_rule_curves *c, const tcr_plot *plot) {
    double place[CURVES], wanted[CURVES];
    int order[CURVES] = {0, 1, 2};
    for (int i = 0; i < CURVES; i++) {
        const double y = c->thick[c->points - 1].rms_mm[CURVE[i].choice];
        wanted[i] = tcr_plot_at(plot, 0, isfinite(y) ? y : plot->y_low).y;
    }
    for (int i = 1; i < CURVES; i++)
        for (int k = i; k > 0 && wanted[order[k]] < wanted[order[k - 1]]; k--) {
            const int other = order[k];
            order[k] = order[k - 1];
            order[k - 1] = other;
        }
    for (int i = 0; i < CURVES; i++)
        place[i] = wanted[order[i]];
    tcr_dimension_spread(place, CURVES, 3.2, plot->area.y, plot->area.y + plot->area.height);
    for (int i = 0; i < CURVES; i++) {
        const int curve = order[i];
        const tcr_setting name = {.type = TCR_TYPE_LABEL, .colour = colour_of(canvas, curve)};
        if (isfinite(c->thick[c->points - 1].rms_mm[CURVE[curve].choice]))
            tcr_canvas_text(canvas, plot->area.x + plot->area.width + 1.5, place[i] + 0.8,
                            c->of_tray ? CURVE[curve].of_tray : CURVE[curve].name, &name);
    }
}

static tcr_plot plot_of(const tcr_rule_curves *c) {
    const double names_width = 18, head = 12, foot = 13, numbers_width = 11;
    const tcr_box p = c->panel;
    tcr_plot plot = {.area = {p.x + numbers_width, p.y + head,
                              p.width - numbers_width - names_width, p.height - head - foot},
                     .x_high = c->step * (c->points - 1),
                     .y_high = 1};
    for (int i = 0; i < c->points; i++)
        for (int curve = 0; curve < CURVES; curve++) {
            const tcr_lesson_choice choice = CURVE[curve].choice;
            if (c->thick != NULL) /* fmax() passes over NaN */
                plot.y_high = fmax(plot.y_high, 1.05 * c->thick[i].rms_mm[choice]);
            if (c->thin != NULL)
                plot.y_high = fmax(plot.y_high, 1.05 * c->thin[i].rms_mm[choice]);
        }
    return plot;
}

void tcr_rule_curves_draw(tcr_canvas *canvas, const tcr_rule_curves *c) {
    const tcr_box p = c->panel;
    const tcr_setting head = {
        .type = TCR_TYPE_HEADING, .colour = canvas->style->label_ink, .width_mm = p.width - 6};
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet};
    const tcr_plot plot = plot_of(c);
    tcr_sheet_paper(canvas, p);
    tcr_canvas_text(canvas, p.x + 3, p.y + 5.4, c->head, &head);
    tcr_canvas_text(canvas, plot.area.x, p.y + p.height - 4.6, c->along, &small);
    tcr_canvas_text(canvas, plot.area.x, p.y + p.height - 1.4, c->what_is_thin, &small);
    tcr_plot_rules(canvas, &plot, false);
    mark_upright(canvas, c, &plot);
    for (int curve = 0; curve < CURVES; curve++) {
        draw_curve(canvas, c, &plot, curve, true);
        draw_curve(canvas, c, &plot, curve, false);
    }
    if (c->thick != NULL)
        name_curves(canvas, c, &plot);
}

void tcr_rule_curves_by_distance(tcr_canvas *canvas, const tcr_lesson_sheet *s, bool asked,
                                 tcr_box panel) {
    const bool known = s->tried == TCR_OK;
    char number[TCR_WORDS], mark[2 * TCR_WORDS];
    snprintf(mark, sizeof mark, "%s, %s mm", asked ? "as asked" : "this set",
             tcr_say_number(number, s->apart_mm, 2, false));
    const tcr_rule_curves c = {.panel = panel,
                               .head = "Tips off one line, mm rms",
                               .along = "from each layer to the next, mm",
                               .what_is_thin = "thin: on lashes that are all alike",
                               .points = TCR_LESSON_POINTS,
                               .step = tcr_lesson_apart_mm(1),
                               .thick = known ? s->lesson + TCR_LESSON_AT_OWN : NULL,
                               .thin = known ? s->lesson + TCR_LESSON_AT_ALIKE : NULL,
                               .at = s->apart_mm,
                               .mark = mark,
                               .of_tray = tcr_set_tray(s->picture->set)->count > 0};
    tcr_rule_curves_draw(canvas, &c);
}
