/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The parts of an eye as they are drawn, shape by shape: hairs, lids, the marks of tips, soft
 * layers and the profile lie where the model has them, in the order and the colour that belong to
 * them.
 */
#include "draw/shapes.h"

#include "draw/cut.h"
#include "draw/hair.h"
#include "draw/lid.h"
#include "draw/mean.h"
#include "draw/section.h"
#include "draw/soft.h"
#include "draw/stage.h"
#include "num/range.h"

static tcr_picture picture_of(const tcr_check *check) {
    tcr_picture picture;
    expect_status(tcr_picture_take(check, NULL, &picture), TCR_OK);
    return picture;
}

/* ---- Hairs ------------------------------------------------------------------------------------
 */

CLAIM(the_nearer_hair_is_drawn_over_the_farther_one) {
    static const double u[] = {0.5, 0.05};
    for (int first = 0; first < 2; first++) {
        tcr_set *set = new_set(NULL, false, true);
        double z[2];
        for (int i = 0; i < 2; i++) {
            tcr_vec3 margin;
            const int k = i == 0 ? first : 1 - first;
            add_lash(set, TCR_LEFT, k == 0 ? "middle" : "corner", u[k],
                     k == 0 ? TCR_TOP : TCR_BOTTOM);
            expect_status(tcr_lid_margin(tcr_set_lid(set, TCR_LEFT), u[k], 1, &margin), TCR_OK);
            z[k] = margin.z;
        }
        /* From the front what has the larger z is nearer: the lid's middle stands out by more than
         * the lashes lean (model.md, section 2). */
        expect_true(z[0] - z[1] > 3);
        tcr_check *check = check_of(set);
        board b = board_new();
        const tcr_viewport front = {{1, 0}, 10, 1, {300, 300}, false};
        const tcr_hair_choice all = {.layers = TCR_EVERY_LAYER};
        size_t every = 1;
        expect_status(tcr_hairs_draw(&b.canvas, check, TCR_LEFT, &front, &all, &every), TCR_OK);
        given("the middle is lash %d", first);
        expect_true(need_shape(false, b.style->layer[TCR_TOP], 0) >
                    need_shape(false, b.style->layer[TCR_BOTTOM], 0));
        board_free(&b);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(a_fibre_runs_out_to_a_tenth_of_its_diameter) {
    tcr_set *set = new_set(NULL, false, true);
    add_lash(set, TCR_LEFT, "one", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    board b = board_new();
    const double scale = 40; /* so large that no part of it is as thin as the thinnest line */
    const tcr_viewport front = {{1, 0}, scale, 1, {300, 300}, false};
    const tcr_hair_choice all = {.layers = TCR_EVERY_LAYER};
    size_t every = 1;
    expect_status(tcr_hairs_draw(&b.canvas, check, TCR_LEFT, &front, &all, &every), TCR_OK);
    const shape *fibre = need_shape(false, b.style->layer[TCR_BOTTOM], 0);
    /* The outline goes along one side and back along the other. The last point is the close. */
    const size_t points = fibre->count / 2 * 2;
    const tcr_vec2 a = point_of(fibre, 0), d = point_of(fibre, points - 1);
    const tcr_vec2 t1 = point_of(fibre, points / 2 - 1), t2 = point_of(fibre, points / 2);
    const double root = hypot(a.x - d.x, a.y - d.y) / scale;
    const double tip = hypot(t1.x - t2.x, t1.y - t2.y) / scale;
    /* model.md, section 9: the full diameter over the first half, a tenth of it at the tip. */
    const double diameter = tcr_check_eye(check, TCR_LEFT)->lash[0].choice.diameter_mm;
    expect_near(root, diameter, 1e-3, "cairo keeps points to 1/256 mm of the sheet");
    expect_near(tip, 0.1 * diameter, 1e-3, "as above");
    board_free(&b);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(more_hairs_than_can_be_told_apart_are_thinned_out) {
    enum { LASHES = 620, FAN = 20 };
    tcr_set *set = new_set(NULL, false, true);
    for (int i = 0; i < LASHES; i++) {
        char id[8];
        const tcr_lash lash = tcr_lash_unknown(0.05 + 0.9 * i / LASHES, (tcr_layer)(i % 3));
        const tcr_wish wish = {.fixed = TCR_FIX_FAN, .fan = FAN};
        snprintf(id, sizeof id, "n%d", i);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish), TCR_OK);
    }
    tcr_check *check = check_of(set);
    expect_count(tcr_check_eye(check, TCR_LEFT)->extended, LASHES);
    expect_true(LASHES * (FAN + 1) > TCR_HAIRS_MAX && LASHES * (FAN + 1) < 2 * TCR_HAIRS_MAX);
    expect_count(tcr_hairs_every(check, TCR_LEFT), 2); /* hair.h: one in so many is drawn */
    tcr_check_free(check);
    tcr_set_free(set);
}

/* ---- Lids, stages and soft layers -------------------------------------------------------------
 */

CLAIM(the_dark_of_the_roots_stands_on_the_margin) {
    tcr_set *set = new_set(NULL, false, true);
    board b = board_new();
    const double scale = 10;
    const tcr_viewport front = {{1, 0}, scale, 1, {300, 300}, false};
    tcr_eye_shape eye;
    tcr_eye_shape_of(tcr_set_lid(set, TCR_LEFT), &front, &eye);
    tcr_lid_edges_draw(&b.canvas, &front, &eye);
    const shape *line = need_shape(false, b.style->lash_line, 0);
    const size_t middle = TCR_CONTOUR / 2;
    double low = -INFINITY, high = INFINITY; /* of the outline there */
    for (size_t i = 0; i < line->count; i++)
        if (fabs(point_of(line, i).x - eye.upper[middle].x) < 1) {
            low = fmax(low, point_of(line, i).y);
            high = fmin(high, point_of(line, i).y);
        }
    /* The edge of the lid stays where the model has it; the line is 0.4 mm high there, ours. */
    const double margin = (eye.upper[middle].y - 300) / scale;
    expect_near((low - 300) / scale, margin, 0.01, "the line is level there");
    expect_near((low - high) / scale, 0.4, 0.01, "as above");
    board_free(&b);
    tcr_set_free(set);
}

CLAIM(a_turned_eye_stands_on_its_head_about_the_middle_of_its_part) {
    tcr_stage stage = {.part = {{10, 20, 100, 50}}, .turned = true};
    const tcr_vec2 at = tcr_stage_at(&stage, 0, (tcr_vec2){25, 30});
    expect_same(at.x, 95, "a half turn about x = 60");
    expect_same(at.y, 60, "and about y = 45");
    stage.turned = false;
    expect_same(tcr_stage_at(&stage, 0, (tcr_vec2){25, 30}).y, 30, "not turned");
}

CLAIM(each_tip_has_the_mark_of_its_layer) {
    enum { LASHES = 24 };
    tcr_set *set = new_set(NULL, false, true);
    for (int i = 0; i < LASHES; i++) {
        char id[8];
        snprintf(id, sizeof id, "n%d", i);
        add_lash(set, TCR_LEFT, id, 0.1 + 0.8 * i / LASHES,
                 (tcr_layer)(i % 6 == 0   ? TCR_TOP
                             : i % 2 == 0 ? TCR_MIDDLE
                                          : TCR_BOTTOM));
    }
    tcr_check *check = check_of(set);
    const tcr_picture picture = picture_of(check);
    const tcr_view view = tcr_check_view(check);
    tcr_stage stage;
    tcr_stage_fit(&stage, &picture, &view, (tcr_box){0, 0, 200, 100});
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        static const int OF[TCR_LAYERS] = {LASHES / 2, LASHES / 3, LASHES / 6};
        board b = board_new();
        tcr_stage_tips(&b.canvas, &stage, 0, 1u << layer);
        given("layer %d", layer);
        expect_count(shape_count, 2 * OF[layer]); /* filled and outlined */
        expect_count(shapes_of(false, b.style->layer[layer]), OF[layer]);
        size_t shown = 0;
        for (size_t i = 0; i < LASHES; i++) {
            if ((int)tcr_set_lash(set, TCR_LEFT, i)->layer != layer)
                continue;
            const tcr_vec2 tip =
                tcr_viewport_seen(&stage.eye[0], tcr_check_eye(check, TCR_LEFT)->lash[i].seen);
            const shape *mark = need_shape(false, b.style->layer[layer], shown++);
            expect_near(middle_of(mark).x, tip.x, 0.01, "cairo keeps points to 1/256 mm");
            /* plot.h: disc, square and triangle; the triangle's middle lies higher. */
            expect_near(middle_of(mark).y, tip.y, 0.2, "a quarter of a mark");
            /* 2 cos 30 degrees to 3/2. */
            expect_near(mark->box.width / mark->box.height, layer == TCR_TOP ? 4 * sqrt(3) / 6 : 1,
                        0.03, "points to 1/256 mm of one");
        }
        board_free(&b);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_soft_layer_turns_an_edge_into_an_even_slope) {
    enum { PER_MM = 4, WIDTH = 60, HEIGHT = 20 };
    cairo_surface_t *image =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, WIDTH * PER_MM, HEIGHT * PER_MM);
    cairo_t *cr = cairo_create(image);
    tcr_canvas canvas;
    tcr_soft soft;
    cairo_scale(cr, PER_MM, PER_MM);
    expect_status(tcr_canvas_begin(&canvas, cr, tcr_style_on(false)), TCR_OK);
    cairo_new_path(cr);
    tcr_soft_begin(&canvas, (tcr_box){0, 0, WIDTH, HEIGHT}, 6, &soft);
    cairo_set_source_rgb(canvas.cr, 1, 1, 1);
    cairo_rectangle(canvas.cr, 0, 0, 30, HEIGHT);
    cairo_fill(canvas.cr);
    tcr_soft_end(&canvas, &soft);
    expect_status(tcr_canvas_end(&canvas), TCR_OK);
    cairo_destroy(cr);
    cairo_surface_flush(image);
    const int y = HEIGHT * PER_MM / 2;
    /* A running mean leaves what is even as it is, and the slope of an edge is odd about it. */
    expect_near(lightness(image, 15 * PER_MM, y), 1, 0.01, "8 bits");
    expect_near(lightness(image, 45 * PER_MM, y), 0, 0.01, "8 bits");
    for (int x = 1; x <= 6 * PER_MM; x++)
        expect_near(lightness(image, 30 * PER_MM - x, y) + lightness(image, 30 * PER_MM + x - 1, y),
                    1, 0.03, "8 bits, twice blurred and twice interpolated");
    /* soft.h: over 6 mm, which most of the slope takes. */
    expect_within(lightness(image, 27 * PER_MM, y), 0.8, 0.995, "3 mm before the edge");
    expect_within(lightness(image, 29 * PER_MM, y), 0.55, 0.9, "1 mm before the edge");
    cairo_surface_destroy(image);
}

/* ---- The profile ------------------------------------------------------------------------------
 */

/* A check of the mean lashes at u, on whose layers the extensions lie underneath, outside and on
 * top. */
static tcr_check *mean_of(tcr_set *set, double u, tcr_set **mean) {
    const double place[1][TCR_LAYERS] = {{u, u, u}};
    tcr_layering layering = *tcr_set_layering(set);
    tcr_layer_heights heights;
    const tcr_placement placement[] = {TCR_UNDERSIDE, TCR_OUTER_SIDE, TCR_ON_TOP};
    memcpy(layering.placement, placement, sizeof placement);
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    expect_status(tcr_layer_heights_of(set, TCR_LEFT, &heights), TCR_OK);
    expect_status(tcr_mean_set(set, TCR_LEFT, &heights, place, 1, mean), TCR_OK);
    return check_of(*mean);
}

CLAIM(the_lid_in_profile_ends_where_the_model_has_its_margin) {
    tcr_set *set = new_set(NULL, false, true), *mean;
    describe(set, 60);
    tcr_check *check = mean_of(set, 0.3, &mean);
    for (int step = 0; step <= 2; step++) {
        const tcr_view view = {step / 2.0, 0};
        tcr_section section;
        tcr_vec3 margin;
        tcr_section_of(check, TCR_LEFT, 0.3, &view, (tcr_box){0, 0, 100, 80}, 10, &section);
        expect_status(tcr_lid_margin(tcr_set_lid(set, TCR_LEFT), 0.3, view.opening, &margin),
                      TCR_OK);
        given("opening %g", view.opening);
        const tcr_vec2 edge = tcr_section_circle(&section, section.radius_mm, section.margin_rad);
        const tcr_vec2 model = tcr_viewport_point(&section.viewport, margin);
        expect_near(edge.x, model.x, 1e-9, "rounding");
        expect_near(edge.y, model.y, 1e-9, "rounding");
        expect_near(section.x_mm, margin.x, 1e-12, "rounding");
    }
    tcr_check_free(check);
    tcr_set_free(mean);
    tcr_set_free(set);
}

CLAIM(bonds_cut_across_show_where_the_extension_lies) {
    tcr_set *set = new_set(NULL, false, true), *mean;
    describe(set, 60);
    tcr_check *check = mean_of(set, 0.5, &mean);
    const tcr_view view = {1, 0};
    tcr_section section;
    tcr_section_of(check, TCR_LEFT, 0.5, &view, (tcr_box){0, 0, 100, 80}, 10, &section);
    board b = board_new();
    tcr_cut_draw(&b.canvas, &section, 0, 0);
    expect_count(shapes_of(false, b.style->natural), TCR_LAYERS);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_vec2 own = middle_of(need_shape(false, b.style->natural, (size_t)layer));
        const shape *disc = need_shape(false, b.style->layer[layer], 0);
        const tcr_vec2 other = middle_of(disc);
        const tcr_lash_result *lash = &tcr_check_eye(check, TCR_LEFT)->lash[layer];
        given("layer %d", layer);
        /* cut.h: up is the side of the curl, right the outer side. The bond is shorter than the
         * lash's bend, so that the extension keeps to the side where it is laid. */
        if (lash->choice.placement == TCR_OUTER_SIDE)
            expect_true(other.x - own.x > fabs(other.y - own.y));
        else if (lash->choice.placement == TCR_ON_TOP)
            expect_true(own.y - other.y > fabs(other.x - own.x));
        else
            expect_true(other.y - own.y > fabs(other.x - own.x));
        expect_near(disc->box.width, 22 * lash->choice.diameter_mm, 0.02,
                    "22 times as large, as it says; cairo keeps points to 1/256 mm");
    }
    board_free(&b);
    tcr_check_free(check);
    tcr_set_free(mean);
    tcr_set_free(set);
}

CLAIM(average_lashes_of_each_layer_stand_in_every_zone) {
    static const tcr_zone zones[] = {{.to = 0.03, .length_mm = 9, .curl = "C"},
                                     {.to = 0.5, .length_mm = 10, .curl = "C"},
                                     {.to = 1, .length_mm = 11, .curl = "C"}};
    /* 18 over the lid, at least 1: mean.c. The first zone lies in 0.01 of where lashes root, the
     * last in 0.48. */
    static const size_t places[] = {1, 8, 9};
    tcr_bare_layers bare = {{{false}}};
    tcr_set *set = new_set(NULL, false, true), *mean;
    describe(set, 60);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 3), TCR_OK);
    expect_status(tcr_mean_map(set, TCR_LEFT, &bare, &mean), TCR_OK);
    for (size_t k = 0; k < 3; k++)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            ck_assert_uint_eq(tcr_set_lashes_in(mean, TCR_LEFT, k, (tcr_layer)layer), places[k]);
    const size_t last = tcr_set_lash_count(mean, TCR_LEFT) - 1;
    for (size_t i = 0; i < 27; i++)
        expect_near(tcr_set_lash(mean, TCR_LEFT, last - i)->u, 0.98 - ((double)i + 0.5) * 0.48 / 27,
                    1e-12,
                    "27 lashes spread evenly from 0.5 to 0.98, each in the middle of its part");
    tcr_set_free(mean);
    bare.of[1][TCR_MIDDLE] = true;
    expect_status(tcr_mean_map(set, TCR_LEFT, &bare, &mean), TCR_OK);
    for (size_t k = 0; k < 3; k++)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            ck_assert_uint_eq(tcr_set_lashes_in(mean, TCR_LEFT, k, (tcr_layer)layer),
                              bare.of[k][layer] ? 0 : places[k]);
    tcr_set_free(mean);
    tcr_set_free(set);
}

CLAIM(roots_that_no_lash_can_have_are_brought_into_its_range) {
    tcr_set *set = new_set(NULL, false, true), *mean;
    describe(set, 60);
    const tcr_layer_heights far = {.height_mm = {0, 30, -30}};
    const double place[1][TCR_LAYERS] = {{0.5, 0.5, 0.5}};
    expect_status(tcr_mean_set(set, TCR_LEFT, &far, place, 1, &mean), TCR_OK);
    expect_same(tcr_set_lash(mean, TCR_LEFT, TCR_MIDDLE)->height_mm, 8, "lash.h: -2 to 8");
    expect_same(tcr_set_lash(mean, TCR_LEFT, TCR_TOP)->height_mm, -2, "lash.h: -2 to 8");
    tcr_set_free(mean);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_nearer_hair_is_drawn_over_the_farther_one,
        &a_fibre_runs_out_to_a_tenth_of_its_diameter,
        &more_hairs_than_can_be_told_apart_are_thinned_out,
        &the_dark_of_the_roots_stands_on_the_margin,
        &a_turned_eye_stands_on_its_head_about_the_middle_of_its_part,
        &each_tip_has_the_mark_of_its_layer,
        &a_soft_layer_turns_an_edge_into_an_even_slope,
        &the_lid_in_profile_ends_where_the_model_has_its_margin,
        &bonds_cut_across_show_where_the_extension_lies,
        &average_lashes_of_each_layer_stand_in_every_zone,
        &roots_that_no_lash_can_have_are_brought_into_its_range,
    };
    return RUN_DRAWN_CLAIMS("hairs", claims);
}
