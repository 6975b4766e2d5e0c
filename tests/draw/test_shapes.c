/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What pictures draw, shape by shape: each lies where the model, the check or the plan has what it
 * shows, in the order and the colour that belong to it.
 */
#include "draw/shapes.h"

#include <cairo-pdf.h>

#include "draw/view_study.h"
#include "draw/work_sheet.h"
#include "num/range.h"

static void watch(const char *view, const tcr_check *check, const tcr_picture_options *options) {
    forget_shapes();
    listen(view, check, options);
}

/* A hair's outline has many points; marks and samples have few. */
static bool is_fibre(const shape *s, const tcr_style *style, int layer) {
    return !s->stroke && s->count > 12 && is_colour(s, style->layer[layer]);
}

/* ---- Views ------------------------------------------------------------------------------------
 */

CLAIM(the_pad_has_a_ray_at_each_border_of_two_zones) {
    tcr_set *set = new_set(NULL, false, true);
    describe(set, 60);
    tcr_check *check = check_of(set);
    const tcr_style *style = tcr_style_on(false);
    watch("artist", check, NULL);
    const shape *rays = need_shape(true, style->pad_line, 0);
    enum { BORDERS = 3 };
    expect_count(rays->count, 2 * BORDERS);            /* from the lid to the ray's end */
    static const double to[BORDERS] = {0.2, 0.4, 0.8}; /* the map of new_set */
    double x[BORDERS];
    tcr_mean_lash mean;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    for (int i = 0; i < BORDERS; i++) {
        const tcr_lash lash = tcr_mean_lash_at(&mean, to[i]);
        tcr_stance stance;
        expect_status(tcr_lash_stance(&lash, tcr_set_lid(set, TCR_LEFT), 0, &stance), TCR_OK);
        x[i] = stance.root.x;
    }
    /* Whatever the scale and the place: the middle one divides the way between the others alike. */
    const double from = point_of(rays, 0).x, last = point_of(rays, 4).x;
    expect_near((point_of(rays, 2).x - from) / (last - from), (x[1] - x[0]) / (x[2] - x[0]), 1e-3,
                "cairo keeps points to 1/256 mm of about 60");
    /* Lashes of a closed eye hang down from the lid, and stand up from it seen from the head. */
    expect_true(point_of(rays, 2).y < point_of(rays, 3).y);
    tcr_picture_options options = tcr_picture_options_default();
    options.from_head = true;
    watch("artist", check, &options);
    rays = need_shape(true, style->pad_line, 0);
    expect_true(point_of(rays, 2).y > point_of(rays, 3).y);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_longest_bar_of_deviations_fills_its_panel) {
    tcr_set *set = new_set(NULL, true, true);
    describe(set, 60);
    tcr_check *check = check_of(set);
    const tcr_style *style = tcr_style_on(false);
    watch("deviations", check, NULL);
    int filled = 0;
    for (int eye = 0; eye < TCR_SIDES; eye++) {
        /* The band: a rectangle under the points and one under the bars. */
        const shape *band = need_shape(false, style->paper_band, (size_t)eye);
        const double right = band->box.x + band->box.width;
        double left = INFINITY, reach = 0;
        for (size_t i = 0; i < band->count; i++)
            if (point_of(band, i).x > band->box.x + 0.7 * band->box.width)
                left = fmin(left, point_of(band, i).x);
        for (size_t i = 0; i < shape_count; i++) {
            const tcr_box box = shapes[i].box;
            for (int layer = 0; layer < TCR_LAYERS; layer++)
                if (!shapes[i].stroke && is_colour(&shapes[i], style->layer[layer]) &&
                    box.x > left - 0.01 && box.x < right + 60 && box.y < 100 && box.height > 0.01 &&
                    box.x + box.width < right + 60 && (eye == 1 || box.x < 127))
                    reach = fmax(reach, box.x + box.width);
        }
        given("eye %d", eye);
        expect_true(reach > left);
        expect_true(reach <= right + 0.01);
        filled += reach > right - 0.01;
    }
    /* Both panels have one scale, so that the eye with the longest bar fills its own. */
    expect_true(filled >= 1);
    expect_said("up to ");
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(panels_of_layers_have_the_hairs_of_their_layer) {
    tcr_set *set = new_set(NULL, false, true);
    describe(set, 60);
    tcr_check *check = check_of(set);
    const tcr_style *style = tcr_style_on(false);
    watch("layers", check, NULL);
    /* The whole first, then the layers from the top: twice as many hairs of each layer, and in this
     * order. */
    size_t of[TCR_LAYERS] = {0}, seen[TCR_LAYERS] = {0}, hairs = 0;
    int order[TCR_LAYERS], layers = 0;
    for (size_t i = 0; i < tcr_check_eye(check, TCR_LEFT)->lashes; i++)
        of[tcr_set_lash(set, TCR_LEFT, i)->layer] +=
            tcr_check_eye(check, TCR_LEFT)->lash[i].status == TCR_OK;
    for (size_t i = 0; i < shape_count; i++)
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            if (!is_fibre(&shapes[i], style, layer) || shapes[i].box.x > tcr_sheet_column().x)
                continue;
            if (hairs++ >= of[0] + of[1] + of[2] &&
                (layers == 0 || (order[layers - 1] != layer && layers < TCR_LAYERS)))
                order[layers++] = layer;
            seen[layer]++;
        }
    expect_count((size_t)layers, TCR_LAYERS);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        given("layer %d", layer);
        expect_true(of[layer] > 5);
        expect_count(seen[layer], 2 * of[layer]);
        expect_count(order[layer], TCR_TOP - layer);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_comparison_keeps_its_hairs_in_their_panels) {
    /* Long lashes: from the couch they are seen in full, so that the panels above need the smaller
     * scale. */
    tcr_set *set = new_set(NULL, false, true);
    for (int i = 0; i < 30; i++) {
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.03 * i, (tcr_layer)(i % 3));
        const tcr_wish wish = {
            .fixed = TCR_FIX_LENGTH | TCR_FIX_CURL, .length_mm = 25, .curl = "J"};
        lash.pitch_rad = lash.turn_rad = 0;
        char id[8];
        snprintf(id, sizeof id, "n%d", i);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish), TCR_OK);
    }
    tcr_check_options half = tcr_check_options_default();
    tcr_check *check;
    half.has_view = true;
    half.view = (tcr_view){1, 0};
    expect_status(tcr_check_new(set, &half, &check, NULL), TCR_OK);
    tcr_picture_options options = tcr_picture_options_default();
    const tcr_style *style = tcr_style_on(false);
    options.with = check;
    watch("compare", check, &options);
    tcr_box panel = {0};
    size_t hairs = 0;
    for (size_t i = 0; i < shape_count; i++) {
        const shape *s = &shapes[i];
        if (!s->stroke && s->colour.alpha < 0 && s->box.width > 70 && s->box.height > 30)
            panel = s->box; /* the skin, which has no one colour */
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            if (!is_fibre(s, style, layer) || s->box.x > tcr_sheet_column().x)
                continue;
            given("hair %zu from %g to %g", hairs++, s->box.y, s->box.y + s->box.height);
            expect_within(s->box.y, panel.y, panel.y + panel.height - s->box.height,
                          "the panel that it lies in");
        }
    }
    expect_count(hairs, 4 * 30);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_curves_of_steps_are_those_of_the_model) {
    tcr_set *set = new_set(NULL, false, true);
    describe(set, 60);
    const tcr_step_picture asked = tcr_step_picture_default();
    const tcr_style *style = tcr_style_on(false);
    forget_shapes();
    listen_to_steps(set, &asked);
    size_t curl;
    expect_status(tcr_set_find_curl(set, "C", &curl), TCR_OK); /* the map's at the pupil */
    static const tcr_placement usual[TCR_LAYERS] = TCR_USUAL_PLACEMENT;
    double shorter[2][2] = {{0}};      /* middle and top, at the first and the last length */
    for (int mm = 8; mm <= 15; mm++) { /* any length is at hand; view_step.c */
        const tcr_step_question q = {.side = TCR_LEFT,
                                     .curl = curl,
                                     .bottom_length_mm = mm,
                                     .bottom = usual[TCR_BOTTOM],
                                     .middle = usual[TCR_MIDDLE],
                                     .top = usual[TCR_TOP]};
        tcr_step step;
        if (tcr_step_of(set, &q, &step) != TCR_OK)
            continue;
        for (int i = 0; i < 2; i++)
            if (isfinite(step.length_mm[i]))
                shorter[i][mm > 8] = mm - step.length_mm[i];
    }
    const shape *curve[2];
    for (int i = 0; i < 2; i++) {
        size_t n = 0; /* the thick curve is of the set's own curl */
        while (fabs(need_shape(true, style->layer[TCR_MIDDLE + i], n)->width - 0.6) > 1e-9)
            n++;
        curve[i] = need_shape(true, style->layer[TCR_MIDDLE + i], n);
    }
    /* Whatever the plot's axes: the rise of a curve against the distance of the two. */
    const double unit =
        (point_of(curve[0], 0).y - point_of(curve[1], 0).y) / (shorter[1][0] - shorter[0][0]);
    expect_true(unit > 1);
    for (int i = 0; i < 2; i++)
        expect_near(point_of(curve[i], 0).y - point_of(curve[i], curve[i]->count - 1).y,
                    unit * (shorter[i][1] - shorter[i][0]), 0.05,
                    "two points to 1/256 mm, and the unit from two others over about 1 mm");
    tcr_set_free(set);
}

CLAIM(the_curves_of_corrections_are_those_of_the_plan) {
    tcr_set *set = new_set("Work", false, true), *planned;
    tcr_plan *plan;
    tcr_plan_work *work;
    tcr_check *after;
    tcr_plan_options options = tcr_plan_options_default();
    const tcr_style *style = tcr_style_on(false);
    bytes pdf = {0};
    describe(set, 60);
    options.corrections = 6;
    expect_status(tcr_plan_new(set, &options, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_check_new(planned, NULL, &after, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    forget_shapes();
    expect_status(tcr_work_sheet_watched(plan, work, after, TCR_SHEET_FULL, NULL, keep_bytes, &pdf),
                  TCR_OK);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    expect_true(r->points >= 4);
    const shape *curve[2] = {NULL}; /* the 95th percentile, then the rms */
    size_t curves = 0;
    for (size_t i = 0; i < shape_count; i++)
        if (shapes[i].stroke && is_colour(&shapes[i], style->ink) &&
            fabs(shapes[i].width - 0.5) < 1e-9 && shapes[i].count > 2) {
            curve[0] = curve[1]; /* the sheet is laid out more than once: the last two */
            curve[1] = &shapes[i];
            curves++;
        }
    expect_true(curves >= 2);
    double low[2] = {INFINITY, INFINITY}, high[2] = {0, 0};
    for (size_t i = 0; i < r->points; i++) {
        const double value[] = {r->point[i].p95_mm, r->point[i].rms_mm};
        for (int k = 0; k < 2; k++) {
            low[k] = fmin(low[k], value[k]);
            high[k] = fmax(high[k], value[k]);
        }
    }
    /* Whatever the axes: how far they reach, and how far one stands over the other. */
    const double unit = curve[0]->box.height / (high[0] - low[0]);
    expect_near(curve[1]->box.height, unit * (high[1] - low[1]), 0.02 * unit, "points to 1/256 mm");
    expect_near(curve[1]->box.y - curve[0]->box.y, unit * (high[0] - high[1]), 0.02 * unit,
                "points to 1/256 mm");
    free(pdf.byte);
    tcr_plan_work_free(work);
    tcr_check_free(after);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* ---- Charts -----------------------------------------------------------------------------------
 */

static void watch_chart(const tcr_chart *chart) {
    tcr_picture picture;
    tcr_chart taken;
    expect_status(tcr_picture_take_chart(chart, NULL, &taken, &picture), TCR_OK);
    forget_shapes();
    listen_to(&tcr_picture_view_study, &picture);
}

CLAIM(cells_of_a_map_are_the_darker_the_better_and_lie_by_their_factors) {
    static const double X[] = {1, 2}, Y[] = {5, 6}, VALUE[] = {20, 0, 40, 10};
    const tcr_style *style = tcr_style_on(false);
    for (int most = 0; most <= 1; most++) {
        tcr_chart c = tcr_chart_default();
        c.form = TCR_CHART_MAP;
        c.quantity = "invented";
        c.x = (tcr_chart_axis){"x", 2, X, NULL};
        c.y = (tcr_chart_axis){"y", 2, Y, NULL};
        c.value = VALUE;
        c.most = most == 1;
        c.best = most == 1 ? 2 : 1;
        watch_chart(&c);
        tcr_vec2 at[4];
        for (int i = 0; i < 4; i++) {
            /* view_study_map.c: from 0.05 to 0.92, in proportion. */
            const double share = most == 1 ? VALUE[i] / 40 : 1 - VALUE[i] / 40;
            given("most %d, cell %d", most, i);
            at[i] = middle_of(
                need_shape(false, tcr_rgba_faded(style->help, 0.05 + (0.92 - 0.05) * share), 0));
        }
        /* The first axis runs to the right, the second up. */
        expect_true(at[1].x > at[0].x + 10 && fabs(at[1].y - at[0].y) < 0.01);
        expect_true(at[2].y < at[0].y - 10 && fabs(at[2].x - at[0].x) < 0.01);
        expect_true(at[3].x > at[2].x + 10 && fabs(at[3].x - at[1].x) < 0.01);
        const tcr_vec2 ring = middle_of(need_shape(true, style->ring, 0));
        expect_near(ring.x, at[most == 1 ? 2 : 1].x, 0.01, "cairo keeps points to 1/256 mm");
        expect_near(ring.y, at[most == 1 ? 2 : 1].y, 0.01, "cairo keeps points to 1/256 mm");
    }
}

CLAIM(bars_are_as_long_as_their_numbers_to_either_side) {
    static const char *const WORD[] = {"a", "b", "c"};
    static const double VALUE[] = {0.4, -0.2, 0.1}, LOW[] = {0.3, -0.4, 0},
                        HIGH[] = {0.5, -0.1, 0.2};
    const tcr_style *style = tcr_style_on(false);
    tcr_chart c = tcr_chart_default();
    c.form = TCR_CHART_BARS;
    c.quantity = "invented";
    c.x = (tcr_chart_axis){NULL, 3, NULL, WORD};
    c.value = VALUE;
    c.low = LOW;
    c.high = HIGH;
    watch_chart(&c);
    const shape *bar[3], *whisker[3];
    for (size_t i = 0; i < 3; i++)
        bar[i] = need_shape(false, style->help, i);
    for (size_t i = 0, n = 0; i < 3; n++) {
        const shape *line = need_shape(true, style->label_ink, n);
        if (line->count == 6) /* a line with two ends; a rule has two points */
            whisker[i++] = line;
    }
    const double unit = bar[0]->box.width / VALUE[0], zero = bar[0]->box.x;
    expect_near(bar[1]->box.width, 0.2 * unit, 0.02, "cairo keeps points to 1/256 mm");
    expect_near(bar[1]->box.x + bar[1]->box.width, zero, 0.02, "to the left of nothing");
    expect_near(bar[2]->box.x, zero, 0.02, "to the right");
    expect_true(bar[0]->box.y < bar[1]->box.y && bar[1]->box.y < bar[2]->box.y);
    for (int i = 0; i < 3; i++) {
        given("factor %d", i);
        expect_near(whisker[i]->box.x, zero + unit * LOW[i], 0.02, "points to 1/256 mm");
        expect_near(whisker[i]->box.width, unit * (HIGH[i] - LOW[i]), 0.02, "points to 1/256 mm");
        expect_near(middle_of(whisker[i]).y, middle_of(bar[i]).y, 0.02, "points to 1/256 mm");
    }
}

/* ---- Paper ------------------------------------------------------------------------------------
 */

static double paper_width, paper_height;

cairo_surface_t *cairo_pdf_surface_create_for_stream(cairo_write_func_t write, void *context,
                                                     double width, double height) {
    void *found = dlsym(RTLD_NEXT, "cairo_pdf_surface_create_for_stream");
    cairo_surface_t *(*real)(cairo_write_func_t, void *, double, double);
    memcpy(&real, &found, sizeof real);
    paper_width = width;
    paper_height = height;
    return real(write, context, width, height);
}

CLAIM(a_pdf_is_as_large_as_asked) {
    tcr_set *set = new_set(NULL, false, true);
    add_lash(set, TCR_LEFT, "a", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    bytes pdf = {0};
    options.width_mm = 127;
    expect_status(tcr_picture_write("front", TCR_PDF, check, &options, keep_bytes, &pdf), TCR_OK);
    /* A point is 1/72 inch of 25.4 mm; below the picture, 9/16 as high as wide, is a strip of 7 mm
     * on a sheet of 254 mm. */
    expect_near(paper_width, 127 / 25.4 * 72, 1e-9, "rounding");
    expect_near(paper_height, (127 * 9 / 16.0 + 3.5) / 25.4 * 72, 1e-9, "rounding");
    free(pdf.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_pad_has_a_ray_at_each_border_of_two_zones,
        &the_longest_bar_of_deviations_fills_its_panel,
        &panels_of_layers_have_the_hairs_of_their_layer,
        &a_comparison_keeps_its_hairs_in_their_panels,
        &the_curves_of_steps_are_those_of_the_model,
        &the_curves_of_corrections_are_those_of_the_plan,
        &cells_of_a_map_are_the_darker_the_better_and_lie_by_their_factors,
        &bars_are_as_long_as_their_numbers_to_either_side,
        &a_pdf_is_as_large_as_asked,
    };
    return RUN_DRAWN_CLAIMS("shapes", claims);
}
