/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The file that a picture makes: size, text chunks, what is refused, what happens when writing
 * fails. */

#include "draw/drawn.h"
#include "draw/face.h"

CLAIM(the_physical_size_is_what_was_asked) {
    static const double width[] = {20, 100, 254, 333.3}, dpi[] = {10, 72, 160, 300};
    tcr_set *set = new_set("Invented", false, true);
    add_lash(set, TCR_LEFT, "a", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    for (int i = 0; i < 4; i++) {
        given("%g mm at %g dpi", width[i], dpi[i]);
        tcr_picture_options options = tcr_picture_options_default();
        options.width_mm = width[i];
        options.dpi = dpi[i];
        bytes png = png_of(check, &options);
        size_t count;
        /* Content of the chunks: PNG specification, 11.2.2 and 11.3.5.3. */
        const unsigned char *size = chunk(&png, "IHDR", 0, &count);
        expect_count(count, 13);
        const double pixels = big_endian(size);
        const unsigned char *physical = chunk(&png, "pHYs", 0, &count);
        expect_count(count, 9);
        const double per_metre = big_endian(physical);
        expect_same(per_metre, big_endian(physical + 4), "pixels are square");
        expect_count(physical[8], 1); /* the unit is the metre */
        /* 1 inch is 25.4 mm. */
        expect_near(per_metre, dpi[i] / 0.0254, 0.5, "rounded to whole pixels a metre");
        expect_near(1000 * pixels / per_metre, width[i],
                    (0.5 + 0.5 * width[i] / 1000) * 25.4 / dpi[i],
                    "half a pixel of the width, half a pixel a metre of the density");
        free(png.byte);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_text_chunks_say_what_the_check_says) {
    tcr_set *set = new_set("Drill, invented", true, true);
    describe(set, 90);
    tcr_check *check = check_of(set);
    bytes png = png_of(check, NULL);
    char *text = text_of(&png, "Title");
    expect_text(text, "Drill, invented");
    free(text);
    text = text_of(&png, "Software");
    expect_text(text, "tipcrest " TCR_VERSION);
    free(text);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        const struct {
            const char *key;
            double value; /* source: the check, whose own tests hold it to the model */
        } figures[] = {{"fitted.rms_mm", eye->fitted.upright.rms_mm},
                       {"fitted.p95_abs_mm", eye->fitted.upright.p95_abs_mm},
                       {"fitted.tolerance_mm", 0.5},
                       {"fitted.within_tolerance", eye->fitted.within_tolerance},
                       {"fitted.layer_offset_mm.bottom", eye->fitted.layer_offset_mm[TCR_BOTTOM]},
                       {"fitted.layer_offset_mm.middle", eye->fitted.layer_offset_mm[TCR_MIDDLE]},
                       {"fitted.layer_offset_mm.top", eye->fitted.layer_offset_mm[TCR_TOP]},
                       {"intended.rms_mm", eye->intended.upright.rms_mm},
                       {"lashes", 90},
                       {"extended", (double)eye->extended}};
        for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
            char key[80];
            snprintf(key, sizeof key, "%s.%s", side == TCR_LEFT ? "left" : "right", figures[i].key);
            given("%s", key);
            text = text_of(&png, key);
            ck_assert_ptr_nonnull(text);
            expect_same(strtod(text, NULL), figures[i].value, "digits that read back the same");
            free(text);
        }
    }
    free(png.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(an_empty_layer_and_a_missing_line_are_told_as_such) {
    tcr_set *set = new_set(NULL, false, true);
    for (int i = 0; i < 12; i++) {
        char id[8];
        snprintf(id, sizeof id, "%d", i);
        add_lash(set, TCR_LEFT, id, 0.1 + 0.07 * i, TCR_BOTTOM);
    }
    tcr_check *check = check_of(set);
    bytes png = png_of(check, NULL);
    char *text = text_of(&png, "left.fitted.layer_offset_mm.top");
    expect_text(text, "null"); /* source: draw.h */
    free(text);
    ck_assert_ptr_null(text_of(&png, "Title"));
    free(png.byte);
    tcr_check_free(check);
    tcr_set_free(set);

    set = new_set(NULL, false, true);
    add_lash(set, TCR_LEFT, "only", 0.5, TCR_TOP);
    check = check_of(set);
    png = png_of(check, NULL);
    text = text_of(&png, "left.fitted_reason");
    expect_text(text,
                tcr_status_text(TCR_E_FEW)); /* source: model.md, section 6: below three tips */
    free(text);
    ck_assert_ptr_null(text_of(&png, "left.fitted.rms_mm"));
    free(png.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_same_check_gives_the_same_bytes) {
    tcr_set *set = new_set("Twice", true, true);
    describe(set, 90);
    tcr_check *check = check_of(set);
    const tcr_picture_options defaults = tcr_picture_options_default();
    bytes first = png_of(check, NULL), second = png_of(check, &defaults);
    expect_count(second.count, first.count);
    expect_bytes(second.byte, first.byte, first.count);
    free(first.byte);
    free(second.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(titles_and_ids_of_any_kind_are_drawn) {
    static const char *const titles[] = {
        "<b>&amp;</i> \"' <span size='999999'>",
        "\xf0\x9f\x98\x80 \xf0\x9f\x91\xa9\xe2\x80\x8d\xf0\x9f\x94\xac",
        "\xd9\x85\xd8\xac\xd9\x85\xd9\x88\xd8\xb9\xd8\xa9",
        "\xe7\x9d\xab\xe6\xaf\x9b\xe7\xbb\x83\xe4\xb9\xa0",
        "\xe2\x80\xaeover \xe2\x80\xadride",
        "e\xcc\x81\xcc\x81\xcc\x81\xcc\x81\xcc\x81"};
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++) {
        given("%s", titles[i]);
        tcr_set *set = new_set(titles[i], false, true);
        /* One lash far off the others, so that its id is drawn too. */
        for (int k = 0; k < 16; k++) {
            char id[8];
            snprintf(id, sizeof id, "%d", k);
            add_lash(set, TCR_LEFT, id, 0.1 + 0.05 * k, TCR_BOTTOM);
        }
        tcr_lash stray = tcr_lash_unknown(0.5, TCR_TOP);
        stray.height_mm = 6;
        expect_status(tcr_set_add_lash(set, TCR_LEFT, titles[i], &stray, NULL), TCR_OK);
        tcr_check *check = check_of(set);
        expect_true(tcr_check_eye(check, TCR_LEFT)->lash[16].staggered);
        bytes png = png_of(check, NULL);
        char *text = text_of(&png, "Title");
        expect_text(text, titles[i]);
        free(text);
        free(png.byte);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(text_that_is_too_long_is_cut) {
    char title[TCR_TITLE_SIZE_MAX], id[TCR_ID_SIZE_MAX];
    memset(title, 'W', sizeof title - 1);
    title[sizeof title - 1] = '\0';
    memset(id, 'W', sizeof id - 1);
    id[sizeof id - 1] = '\0';
    tcr_set *set = new_set(title, false, true);
    describe(set, 30);
    tcr_lash stray = tcr_lash_unknown(0.5, TCR_TOP);
    stray.height_mm = 6;
    expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &stray, NULL), TCR_OK);
    tcr_check *check = check_of(set);
    bytes png = png_of(check, NULL);
    cairo_surface_t *surface = pixels_of(&png);
    /* Between the sheet's right edge (8 mm of 254) and the figures' column nothing is written. */
    const int width = cairo_image_surface_get_width(surface);
    for (int y = 0; y < 150; y++)
        for (int x = width - 40; x < width; x++)
            expect_count(pixel(surface, x, y), pixel(surface, width - 1, 0));
    cairo_surface_destroy(surface);
    free(png.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

static tcr_status draw_with(const tcr_check *check, double width_mm, double dpi) {
    tcr_picture_options options = tcr_picture_options_default();
    options.width_mm = width_mm;
    options.dpi = dpi;
    bytes png = {0};
    const tcr_status status =
        tcr_picture_write("front", TCR_PNG, check, &options, keep_bytes, &png);
    expect_count(png.count, 0);
    free(png.byte);
    return status;
}

CLAIM(sizes_out_of_range_are_refused_before_a_byte_is_written) {
    static const double bad[] = {0, -1, 1e9, 1e308, NAN, INFINITY, -INFINITY};
    tcr_set *set = new_set(NULL, false, true);
    add_lash(set, TCR_LEFT, "a", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        given("%g", bad[i]);
        expect_status(draw_with(check, bad[i], 160), TCR_E_RANGE); /* source: draw.h */
        expect_status(draw_with(check, 254, bad[i]), TCR_E_RANGE);
    }
    given("each in range, but 94488 pixels wide");
    expect_status(draw_with(check, 2000, 1200),
                  TCR_E_RANGE); /* source: draw.h, TCR_PICTURE_PIXELS_MAX */
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(calls_without_check_sink_or_size_are_refused) {
    tcr_set *set = new_set(NULL, false, true);
    add_lash(set, TCR_LEFT, "a", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    bytes png = {0};
    tcr_picture_options options = tcr_picture_options_default();
    expect_status(tcr_picture_write("front", TCR_PNG, NULL, NULL, keep_bytes, &png),
                  TCR_E_ARGUMENT); /* source: draw.h */
    expect_status(tcr_picture_write("front", TCR_PNG, check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    options.size = 0;
    expect_status(tcr_picture_write("front", TCR_PNG, check, &options, keep_bytes, &png),
                  TCR_E_ARGUMENT);
    options.size = SIZE_MAX;
    expect_status(tcr_picture_write("front", TCR_PNG, check, &options, keep_bytes, &png),
                  TCR_E_ARGUMENT);
    expect_count(png.count, 0);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_set_of_very_many_lashes_is_thinned_out_and_drawn) {
    tcr_set *set = new_set("Many", false, true);
    tcr_layering layering = tcr_layering_default();
    layering.fan = 20;
    layering.diameter_mm = 0.03;
    layering.spread_rad = 1;
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    describe(set, 20000);
    tcr_check *check = check_of(set);
    bytes png = png_of(check, NULL);
    expect_true(png.count > 1000);
    free(png.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_picture_says_what_it_shows_and_in_which_view) {
    tcr_set *set = new_set("Invented", false, true);
    add_lash(set, TCR_LEFT, "a", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    options.dpi = 20;
    bytes png = png_of(check, &options);
    char *said = text_of(&png, "Description");
    /* Words of our own; the view is the check's. */
    ck_assert_ptr_nonnull(said);
    given("%s", said);
    expect_true(strncmp(said, "Eyelash extensions: ", 20) == 0);
    expect_true(strstr(said, ". Figures of the eye open, seen from the front. ") != NULL);
    free(said);
    free(png.byte);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_picture_says_what_it_shows_and_in_which_view,
        &the_physical_size_is_what_was_asked,
        &the_text_chunks_say_what_the_check_says,
        &an_empty_layer_and_a_missing_line_are_told_as_such,
        &the_same_check_gives_the_same_bytes,
        &titles_and_ids_of_any_kind_are_drawn,
        &text_that_is_too_long_is_cut,
        &sizes_out_of_range_are_refused_before_a_byte_is_written,
        &calls_without_check_sink_or_size_are_refused,
        &a_set_of_very_many_lashes_is_thinned_out_and_drawn,
    };
    return RUN_DRAWN_CLAIMS("png", claims);
}
