/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the front view shows, pixel by pixel: parts of the model lie where the model has them. Where
 * a point should be is put together here from the layout's scale and origin; where it is, is read
 * off the pixels.
 */
#include "draw/layout.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>

#include "draw/drawn.h"
#include "draw/eye.h"
#include "draw/face.h"

static const double DPI = 400; /* fine enough for a pixel to be less than 0.02 mm of the eye */

/* A picture without marks, its pixels and its layout. */
typedef struct front {
    tcr_set *set;
    tcr_check *check;
    tcr_layout layout;
    cairo_surface_t *surface;
} front;

static tcr_layout layout_of(const tcr_check *check) {
    const tcr_view view = tcr_check_view(check);
    tcr_picture picture;
    tcr_layout layout;
    expect_status(tcr_picture_take(check, NULL, &picture), TCR_OK);
    tcr_layout_of(&picture, &view, &picture.options.seat, &layout);
    return layout;
}

static front draw(tcr_set *set) {
    front drawn = {.set = set, .check = check_of(set)};
    tcr_picture_options options = tcr_picture_options_default();
    const double per_mm = DPI / 25.4;
    double height_mm;
    options.lines = options.staggered = options.companion = false;
    expect_status(tcr_picture_draw("front", NULL, drawn.check, &options, &height_mm), TCR_OK);
    drawn.surface = cairo_image_surface_create(
        CAIRO_FORMAT_RGB24, (int)ceil(TCR_SHEET_WIDTH * per_mm), (int)ceil(height_mm * per_mm));
    cairo_t *cr = cairo_create(drawn.surface);
    cairo_scale(cr, per_mm, per_mm);
    expect_status(tcr_picture_draw("front", cr, drawn.check, &options, NULL), TCR_OK);
    cairo_destroy(cr);
    cairo_surface_flush(drawn.surface);
    drawn.layout = layout_of(drawn.check);
    return drawn;
}

static void put_away(front *drawn) {
    cairo_surface_destroy(drawn->surface);
    tcr_check_free(drawn->check);
    tcr_set_free(drawn->set);
}

/* Pixels of a seen point of eye i, x to the right, y downwards; the sheet is 254 mm wide. */
static tcr_vec2 pixel_of(const front *drawn, int i, tcr_vec2 seen) {
    const tcr_viewport *eye = &drawn->layout.main.eye[i];
    const double per_mm = DPI / 25.4;
    const double toward_outer = drawn->layout.main.side[i] == TCR_LEFT ? 1 : -1;
    return (tcr_vec2){(eye->origin.x + toward_outer * eye->scale * seen.x) * per_mm,
                      (eye->origin.y - eye->scale * seen.y) * per_mm};
}

/* Lashes near the corners only, so that the middle is free to look at. */
static tcr_set *free_middle(tcr_side side) {
    tcr_set *set = new_set(NULL, side == TCR_RIGHT, side == TCR_LEFT);
    add_lash(set, side, "inner", 0.06, TCR_BOTTOM);
    add_lash(set, side, "outer", 0.94, TCR_BOTTOM);
    return set;
}

/* Where along a row the lightness, walking from x by step, first rises through level; between
 * pixels. */
static double rises_at(cairo_surface_t *surface, double x, int y, int step, double level) {
    int i = (int)floor(x);
    double last = lightness(surface, i, y);
    for (int k = 0; k < 2000; k++, i += step) {
        const double next = lightness(surface, i + step, y);
        if (next >= level)
            return i + 0.5 + step * (level - last) / (next - last);
        last = next;
    }
    ck_abort_msg("no edge");
    return NAN;
}

CLAIM(the_iris_is_to_scale) {
    for (int side = 0; side < TCR_SIDES; side++) {
        given("side %d", side);
        front drawn = draw(free_middle((tcr_side)side));
        /* The horizontal through the pupil centre: the lids leave it free (mrd1 3.5, mrd2 5.2 mm).
         */
        const tcr_vec2 middle = pixel_of(&drawn, 0, (tcr_vec2){0, 0});
        const double radius = 11.71 / 2 * drawn.layout.main.eye[0].scale * DPI / 25.4;
        const int y = (int)floor(middle.y);
        /* Half way up from the dark rim to the white, seen 8 pixels to both sides of the edge. */
        for (int step = -1; step <= 1; step += 2) {
            const double edge = middle.x + step * radius;
            const double level = (lightness(drawn.surface, (int)floor(edge - 8 * step), y) +
                                  lightness(drawn.surface, (int)floor(edge + 8 * step), y)) /
                                 2;
            const double found = rises_at(drawn.surface, edge - 8 * step, y, step, level);
            /* Rüfer 2005, 10.1097/01.ico.0000148312.01805.53: 11.71 mm. */
            expect_near(step * (found - middle.x), radius, 0.5, "half a pixel");
        }
        put_away(&drawn);
    }
}

CLAIM(the_margin_over_the_pupil_lies_where_the_model_has_it) {
    for (int side = 0; side < TCR_SIDES; side++) {
        given("side %d", side);
        front drawn = draw(free_middle((tcr_side)side));
        /* Source: model.md, section 2: mrd1 = 3.5 mm above the pupil centre. */
        const tcr_vec2 margin = pixel_of(&drawn, 0, (tcr_vec2){0, 3.5});
        const int x = (int)floor(margin.x);
        int y = (int)floor(margin.y) - 12;
        /* The dark lash line stands on the margin, the lighter iris begins below it. */
        const double line = lightness(drawn.surface, x, y);
        const double iris = lightness(drawn.surface, x, y + 20);
        expect_true(line < 0.8 * iris);
        while (lightness(drawn.surface, x, y) < (line + iris) / 2)
            y++;
        expect_near(y, margin.y, 1, "the row of pixels that the edge runs through");
        put_away(&drawn);
    }
}

CLAIM(the_lower_lid_lies_mrd2_below_the_pupil) {
    front drawn = draw(free_middle(TCR_LEFT));
    /* Source: model.md, section 2: mrd2 = 5.2 mm; the lower lid's edge is drawn through it. */
    const tcr_vec2 edge = pixel_of(&drawn, 0, (tcr_vec2){0, -5.2});
    const int x = (int)floor(edge.x);
    int y = (int)floor(edge.y) - 10;
    const double iris = lightness(drawn.surface, x, y);
    const double lid = lightness(drawn.surface, x, y + 18);
    expect_true(lid > 1.5 * iris);
    while (lightness(drawn.surface, x, y) < (iris + lid) / 2)
        y++;
    expect_near(y, edge.y, 1, "the row of pixels that the edge runs through");
    put_away(&drawn);
}

/* The first row from above, in the 7 columns around x, with a pixel darker than level. */
static int dark_from(cairo_surface_t *surface, int x, int y, double level, double *where) {
    for (;; y++) {
        double sum = 0, weight = 0;
        for (int i = x - 3; i <= x + 3; i++) {
            const double dark = fmax(0, level - lightness(surface, i, y));
            sum += dark * (i + 0.5);
            weight += dark;
        }
        if (weight > 0) {
            *where = sum / weight;
            return y;
        }
    }
}

CLAIM(a_tip_lies_where_the_check_has_it) {
    static const double places[] = {0.3, 0.5, 0.7};
    for (int side = 0; side < TCR_SIDES; side++) {
        for (int i = 0; i < 3; i++) {
            given("side %d, u = %g", side, places[i]);
            tcr_set *set = new_set(NULL, side == TCR_RIGHT, side == TCR_LEFT);
            add_lash(set, (tcr_side)side, "one", places[i], TCR_BOTTOM);
            front drawn = draw(set);
            /* Source: the check, whose own tests hold it to the model. */
            const tcr_vec3 tip = tcr_check_eye(drawn.check, (tcr_side)side)->lash[0].tip;
            const tcr_vec2 at = pixel_of(&drawn, 0, (tcr_vec2){tip.x, tip.y});
            const double skin = lightness(drawn.surface, (int)at.x, (int)at.y - 15);
            double x;
            const int y =
                dark_from(drawn.surface, (int)floor(at.x), (int)floor(at.y) - 15, 0.6 * skin, &x);
            expect_near(y, at.y, 1.5, "the row of the tip's end, which may lie slanted");
            expect_near(x, at.x, 1.5, "the stroke is 2 pixels wide there and slanted");
            put_away(&drawn);
        }
    }
}

CLAIM(each_layer_has_the_colour_of_its_legend) {
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        given("layer %d", layer);
        tcr_set *set = new_set(NULL, false, true);
        add_lash(set, TCR_LEFT, "one", 0.5, (tcr_layer)layer);
        front drawn = draw(set);
        const tcr_lash_result *lash = &tcr_check_eye(drawn.check, TCR_LEFT)->lash[0];
        const tcr_extension ext = tcr_set_extension(set, &lash->choice);
        /* Four fifths out, beyond the natural lash and the shine. */
        const tcr_vec3 point = tcr_stance_point(
            &lash->stance, tcr_attachment_fibre(&lash->attachment, &ext, 0, 0.8 * ext.length_mm));
        const tcr_vec2 at = pixel_of(&drawn, 0, (tcr_vec2){point.x, point.y});
        const tcr_rgba colour = tcr_style_on(false)->layer[layer];
        const uint32_t value = pixel(drawn.surface, (int)floor(at.x), (int)floor(at.y));
        expect_near(value >> 16 & 0xff, 255 * colour.red, 2,
                    "rounding, and a pixel partly covered");
        expect_near(value >> 8 & 0xff, 255 * colour.green, 2, "as above");
        expect_near(value & 0xff, 255 * colour.blue, 2, "as above");
        put_away(&drawn);
    }
}

CLAIM(two_eyes_stand_in_halves_at_one_scale_and_level) {
    tcr_set *set = new_set(NULL, true, true);
    for (int side = 0; side < TCR_SIDES; side++) {
        add_lash(set, (tcr_side)side, "inner", 0.06, TCR_BOTTOM);
        add_lash(set, (tcr_side)side, "outer", 0.94, TCR_BOTTOM);
    }
    front drawn = draw(set);
    expect_count(drawn.layout.main.eyes, 2);
    expect_count(drawn.layout.main.side[0],
                 TCR_RIGHT); /* the client's right eye at the viewer's left */
    const tcr_vec2 right = pixel_of(&drawn, 0, (tcr_vec2){0, 0});
    const tcr_vec2 left = pixel_of(&drawn, 1, (tcr_vec2){0, 0});
    /* Eyes are one frame, mirrored (model.md, section 1), in halves that mirror each other about
     * the middle of the sheet. */
    expect_near(left.x + right.x, TCR_SHEET_WIDTH * DPI / 25.4, 1e-6, "rounding");
    expect_same(left.y, right.y, "at one height");
    expect_same(drawn.layout.main.eye[0].scale, drawn.layout.main.eye[1].scale, "at one scale");
    for (int i = 0; i < 2; i++) /* the small ones below show one each, in the same order */
        expect_count(drawn.layout.small[i].side[0], drawn.layout.main.side[i]);
    for (int i = 0; i < 2; i++)
        for (int end = 0; end < 2; end++) {
            const tcr_vec3 tip =
                tcr_check_eye(drawn.check, i == 0 ? TCR_RIGHT : TCR_LEFT)->lash[end].tip;
            const tcr_box half = drawn.layout.main.part[i];
            expect_within(tcr_viewport_point(&drawn.layout.main.eye[i], tip).x, half.x,
                          half.x + half.width, "in its own half");
        }
    /* The pupils are there, and the inner corners look at each other: pink flesh 1.5 mm from each.
     */
    for (int i = 0; i < 2; i++) {
        const tcr_vec2 pupil = pixel_of(&drawn, i, (tcr_vec2){0.5, 0});
        expect_within(lightness(drawn.surface, (int)pupil.x, (int)pupil.y), 0, 0.1, "black");
        const tcr_vec2 inner = pixel_of(&drawn, i, (tcr_vec2){-12, -1.85});
        const uint32_t flesh = pixel(drawn.surface, (int)inner.x, (int)inner.y);
        expect_within((double)(flesh >> 16 & 0xff) - (flesh >> 8 & 0xff), 30, 255,
                      "red over green");
    }
    put_away(&drawn);
}

CLAIM(a_longer_set_gets_a_smaller_scale_and_stays_in_the_panel) {
    double last = INFINITY;
    for (int length = 6; length <= 30; length += 12) {
        given("%d mm", length);
        tcr_set *set = new_set(NULL, false, true);
        for (int k = 0; k < 9; k++) {
            char id[8];
            snprintf(id, sizeof id, "%d", k);
            const tcr_lash lash = tcr_lash_unknown(0.05 + 0.1 * k, TCR_MIDDLE);
            const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = length};
            expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish), TCR_OK);
        }
        tcr_check *check = check_of(set);
        const tcr_layout layout = layout_of(check);
        expect_within(layout.main.eye[0].scale, 1, length == 6 ? 8 : last - 0.01,
                      "falls with the length");
        last = layout.main.eye[0].scale;
        const tcr_box p = layout.main.panel;
        for (int k = 0; k < 9; k++) {
            const tcr_vec3 tip = tcr_check_eye(check, TCR_LEFT)->lash[k].tip;
            const tcr_vec2 at = tcr_viewport_point(&layout.main.eye[0], tip);
            expect_within(at.x, p.x, p.x + p.width, "inside the panel");
            expect_within(at.y, p.y, p.y + p.height, "inside the panel");
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(every_view_can_be_drawn) {
    static const double openings[] = {0, 0.1, 0.5, 1}, raised[] = {-80, -30, 0, 45, 80};
    for (int i = 0; i < 4; i++) {
        for (int k = 0; k < 5; k++) {
            given("opening %g, viewer %g degrees", openings[i], raised[k]);
            tcr_set *set = new_set(NULL, true, true);
            const tcr_view view = {openings[i], tcr_degrees(raised[k])};
            expect_status(tcr_set_put_view(set, &view), TCR_OK);
            describe(set, 30);
            front drawn = draw(set);
            expect_true(drawn.layout.main.eye[0].scale > 0.5);
            put_away(&drawn);
        }
    }
}

static cairo_status_t ignore(void *context, const unsigned char *piece, unsigned count) {
    (void)piece;
    *(size_t *)context += count;
    return CAIRO_STATUS_SUCCESS;
}

CLAIM(the_sheet_can_be_drawn_on_vector_surfaces_and_leaves_the_context_as_it_was) {
    tcr_set *set = new_set("Vector", true, true);
    describe(set, 90);
    tcr_check *check = check_of(set);
    double height;
    expect_status(tcr_picture_draw("front", NULL, check, NULL, &height), TCR_OK);
    expect_near(height, 254.0 * 9 / 16, 1e-9, "rounding"); /* source: the sheet is 16 : 9 */
    for (int kind = 0; kind < 2; kind++) {
        size_t written = 0;
        cairo_surface_t *surface =
            kind == 0 ? cairo_pdf_surface_create_for_stream(ignore, &written, 720, 405)
                      : cairo_svg_surface_create_for_stream(ignore, &written, 720, 405);
        cairo_t *cr = cairo_create(surface);
        cairo_scale(cr, 72 / 25.4, 72 / 25.4);
        cairo_matrix_t before, after;
        cairo_get_matrix(cr, &before);
        expect_status(tcr_picture_draw("front", cr, check, NULL, NULL), TCR_OK);
        cairo_get_matrix(cr, &after);
        expect_bytes(&after, &before, sizeof before);
        cairo_destroy(cr);
        cairo_surface_destroy(surface);
        expect_true(written > 10000);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_context_in_error_is_told) {
    tcr_set *set = new_set(NULL, false, true);
    add_lash(set, TCR_LEFT, "a", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 1 << 20, 1 << 20);
    cairo_t *cr = cairo_create(surface);
    expect_status(tcr_picture_draw("front", cr, check, NULL, NULL),
                  TCR_E_MEMORY); /* source: draw.h */
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(marks_and_ground_follow_the_options) {
    tcr_set *set = new_set("Options", false, true);
    describe(set, 90);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    bytes plain = png_of(check, &options);
    bool *const flags[] = {&options.lines, &options.staggered, &options.companion, &options.dark};
    for (int i = 0; i < 4; i++) {
        given("option %d", i);
        *flags[i] = !*flags[i];
        bytes other = png_of(check, &options);
        expect_true(other.count != plain.count || memcmp(other.byte, plain.byte, plain.count) != 0);
        cairo_surface_t *surface = pixels_of(&other);
        const double ground = lightness(surface, 0, 0);
        expect_within(ground, options.dark ? 0 : 0.9, options.dark ? 0.15 : 1,
                      "dark or light ground");
        cairo_surface_destroy(surface);
        free(other.byte);
        *flags[i] = !*flags[i];
    }
    free(plain.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_iris_is_to_scale,
        &the_margin_over_the_pupil_lies_where_the_model_has_it,
        &the_lower_lid_lies_mrd2_below_the_pupil,
        &a_tip_lies_where_the_check_has_it,
        &each_layer_has_the_colour_of_its_legend,
        &two_eyes_stand_in_halves_at_one_scale_and_level,
        &a_longer_set_gets_a_smaller_scale_and_stays_in_the_panel,
        &every_view_can_be_drawn,
        &the_sheet_can_be_drawn_on_vector_surfaces_and_leaves_the_context_as_it_was,
        &a_context_in_error_is_told,
        &marks_and_ground_follow_the_options,
    };
    return RUN_DRAWN_CLAIMS("front", claims);
}
