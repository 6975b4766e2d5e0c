/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of a picture that need no picture: numbers as texts, colours, marks, labels that keep
 * apart. */
#include <math.h>

#include "draw/dimension.h"
#include "draw/labels.h"
#include "draw/marks.h"
#include "draw/palette.h"
#include "draw/plot.h"
#include "draw/style.h"
#include "draw/words.h"
#include "num/range.h"
#include "support/check.h"
#include "support/make.h"

CLAIM(numbers_are_written_for_readers) {
    char text[TCR_WORDS];
    /* Expected: to nearest, a true minus (U+2212), no negative zero; from words.h. */
    expect_text(tcr_say_number(text, 0.26, 1, false), "0.3");
    expect_text(tcr_say_number(text, 12, 2, false), "12.00");
    expect_text(tcr_say_number(text, -1.5, 1, true), "\xe2\x88\x92"
                                                     "1.5");
    expect_text(tcr_say_number(text, 1.5, 1, true), "+1.5");
    expect_text(tcr_say_number(text, -0.004, 2, true), "0.00");
    expect_text(tcr_say_number(text, 0.004, 2, true), "0.00"); /* nothing is above or below 0 */
    expect_text(tcr_say_number(text, 0.999, 2, false), "1.00");
    expect_text(tcr_say_number(text, 96.7, 0, false), "97");
    expect_text(tcr_say_number(text, NAN, 2, false), "\xe2\x80\x93");
    expect_text(tcr_say_number(text, INFINITY, 2, false), "\xe2\x80\x93");
    expect_text(tcr_say_number(text, 1e300, 2, false), "\xe2\x80\x93");
    expect_text(tcr_say_share(text, 0.949), "94");
    expect_text(tcr_say_share(text, 0.29), "29"); /* 100 times it is 28.999999999999996 */
    expect_text(tcr_say_trimmed(text, 0.5, 2), "0.5");
    expect_text(tcr_say_trimmed(text, 100, 2), "100");
    expect_text(tcr_say_trimmed(text, 0.05, 2), "0.05");
}

CLAIM(a_view_is_told_in_words) {
    static const struct {
        double opening, viewer_deg;
        const char *words;
    } view[] = {{1, 0, "open, seen from the front"},
                {0, 0, "closed, seen from the front"},
                {0.456, 0, "46 % open, seen from the front"},
                {1, 12.4, "open, seen from 12\xc2\xb0 above"},
                {1, -12.6, "open, seen from 13\xc2\xb0 below"},
                {0, 60, "closed, seen from 60\xc2\xb0 above"},
                {0.5, -30, "50 % open, seen from 30\xc2\xb0 below"}};
    for (size_t i = 0; i < sizeof view / sizeof *view; i++) {
        char text[TCR_WORDS];
        const tcr_view of = {view[i].opening, view[i].viewer_deg * TCR_DEG};
        expect_text(tcr_say_view(text, &of), view[i].words); /* words of our own */
    }
    char text[TCR_WORDS];
    tcr_view seat = tcr_view_named(TCR_ARTIST);
    /* Source: model.md, section 1: the artist's seat is an assumption. */
    expect_text(tcr_say_seat(text, &seat), "closed, seen from 60\xc2\xb0 above (assumed)");
    seat.viewer_rad = 50 * TCR_DEG;
    expect_text(tcr_say_seat(text, &seat), "closed, seen from 50\xc2\xb0 above");
    expect_text(tcr_layer_name(TCR_TOP), "top");
    expect_text(tcr_layer_name((tcr_layer)TCR_LAYERS), "unknown");
}

CLAIM(the_open_eye_from_the_front_is_as_everybody_sees_it) {
    static const tcr_view FRONT = {1.0, 0.0}, HALF = {0.5, 0.0}, COUCH = {1.0, 60 * TCR_DEG};
    char out[TCR_WORDS], view[TCR_WORDS];
    expect_text(tcr_say_seen(out, &FRONT), "as everybody sees it");
    expect_text(tcr_say_seen(out, &HALF), tcr_say_view(view, &HALF));
    expect_text(tcr_say_seen(out, &COUCH), tcr_say_view(view, &COUCH));
}

CLAIM(a_deviation_has_the_digits_that_show_it_beyond_the_tolerance) {
    char text[TCR_WORDS];
    static const struct {
        double deviation_mm;
        const char *words;
    } said[] = {{0.6123, "+0.61"},
                {-0.53, "\xe2\x88\x92"
                        "0.53"},
                {0.501, "+0.501"},
                {0.5001, "+0.500"}}; /* source: marks.h; three decimals are the most */
    for (size_t i = 0; i < sizeof said / sizeof *said; i++) {
        tcr_mark_say(text, said[i].deviation_mm, 0.5);
        expect_text(text, said[i].words);
    }
}

CLAIM(the_worst_come_first_and_no_more_than_are_ringed) {
    enum { LASHES = 400 };
    static tcr_lash_result lash[LASHES];
    tcr_eye_result eye = {.lashes = LASHES, .lash = lash};
    size_t index[TCR_RINGS_MAX], staggered = 0;
    gsl_rng *rng = tcr_make_rng(9);
    for (size_t i = 0; i < LASHES; i++) {
        lash[i] = (tcr_lash_result){.deviation_mm = tcr_draw_between(rng, -3, 3)};
        lash[i].staggered = fabs(lash[i].deviation_mm) > 0.5;
        staggered += lash[i].staggered;
    }
    lash[7].deviation_mm = NAN; /* of a lash without a tip */
    lash[7].staggered = true;
    const size_t count = tcr_mark_worst(&eye, index);
    expect_count(count, TCR_RINGS_MAX);
    expect_true(staggered > TCR_RINGS_MAX);
    size_t worse = 0; /* than the last of them */
    for (size_t i = 0; i < LASHES; i++)
        worse += fabs(lash[i].deviation_mm) > fabs(lash[index[count - 1]].deviation_mm);
    expect_count(worse, count - 1);
    for (size_t i = 1; i < count; i++)
        expect_true(fabs(lash[index[i - 1]].deviation_mm) > fabs(lash[index[i]].deviation_mm));
    gsl_rng_free(rng);
}

CLAIM(places_are_spread_apart_and_kept_within_their_ends) {
    double middle[] = {50, 50, 50}, low[] = {1, 1, 1}, high[] = {9, 9, 9};
    tcr_dimension_spread(middle, 3, 2, 0, 100);
    tcr_dimension_spread(low, 3, 2, 0, 100);
    tcr_dimension_spread(high, 3, 2, 0, 10);
    for (int i = 0; i < 3; i++) {
        /* Two apart about 50: 48 50 52; at an end they begin or end there. */
        expect_near(middle[i], 48 + 2 * i, 1e-6, "halved 40 times");
        expect_near(low[i], 2 * i, 1e-6, "as above");
        expect_near(high[i], 6 + 2 * i, 1e-6, "as above");
    }
}

CLAIM(a_plot_runs_up_and_to_the_right_unless_mirrored) {
    tcr_plot plot = {.area = {10, 20, 100, 50}, .x_low = -1, .x_high = 1, .y_low = 0, .y_high = 5};
    for (int mirrored = 0; mirrored <= 1; mirrored++) {
        plot.mirrored = mirrored;
        const tcr_vec2 corner = tcr_plot_at(&plot, -1, 0), at = tcr_plot_at(&plot, 0.5, 4);
        expect_same(corner.x, mirrored ? 110 : 10, "an end of the area");
        expect_same(corner.y, 70, "its foot");
        expect_near(at.x, mirrored ? 35 : 85, 1e-12, "three quarters along");
        expect_near(at.y, 30, 1e-12, "four fifths up");
    }
    /* Steps of 1, 2 or 5 that cut a range into at most as many pieces. */
    expect_near(tcr_plot_step(9, 9), 1, 1e-12, "9 pieces");
    expect_near(tcr_plot_step(9.1, 9), 2, 1e-12, "5 pieces");
    expect_near(tcr_plot_step(30, 9), 5, 1e-12, "6 pieces");
    expect_near(tcr_plot_step(0.06, 9), 0.01, 1e-12, "6 pieces");
}

CLAIM(few_colours_are_kept_as_they_are) {
    /* Values in the middle of a cell of four; two in neighbouring cells. */
    static const uint32_t colour[] = {0x020202, 0x060202, 0x8282fa, 0xfafa02};
    enum { COLOURS = sizeof colour / sizeof *colour };
    uint8_t rgb[TCR_PALETTE_MOST][3];
    unsigned char index[COLOURS];
    tcr_palette *palette = tcr_palette_new();
    ck_assert_ptr_nonnull(palette);
    tcr_palette_count(palette, (const unsigned char *)colour, COLOURS);
    tcr_palette_choose(palette);
    expect_count(tcr_palette_colours(palette, rgb), COLOURS);
    for (size_t i = 0; i < COLOURS; i++) {
        size_t found = 0;
        for (size_t k = 0; k < COLOURS; k++)
            found += (uint32_t)(rgb[k][0] << 16 | rgb[k][1] << 8 | rgb[k][2]) == colour[i];
        expect_count(found, 1);
    }
    tcr_palette_map(palette, (const unsigned char *)colour, COLOURS, 0, index);
    for (size_t i = 2; i < COLOURS; i++) { /* far from all others: none is taken for it */
        const uint8_t *own = rgb[index[i]];
        expect_true((uint32_t)(own[0] << 16 | own[1] << 8 | own[2]) == colour[i]);
    }
    tcr_palette_free(palette);
}

/* CIE 1976 lightness of a colour in sRGB (IEC 61966-2-1), D65. */
static double cie_lightness(tcr_rgba colour) {
    const double value[] = {colour.red, colour.green, colour.blue};
    static const double weight[] = {0.2126, 0.7152, 0.0722};
    double y = 0;
    for (int i = 0; i < 3; i++)
        y += weight[i] *
             (value[i] <= 0.04045 ? value[i] / 12.92 : pow((value[i] + 0.055) / 1.055, 2.4));
    return y > 216.0 / 24389 ? 116 * cbrt(y) - 16 : y * 24389 / 27;
}

CLAIM(layers_stay_apart_in_grey_print) {
    const tcr_style *style = tcr_style_on(false);
    double last = cie_lightness(style->layer[TCR_BOTTOM]);
    /* Ours, no source: 15 steps of L* are told apart at a glance, and from the skin as well. */
    for (int layer = TCR_MIDDLE; layer <= TCR_TOP; layer++) {
        const double next = cie_lightness(style->layer[layer]);
        expect_within(next - last, 15, 100, "lightness rises from layer to layer");
        last = next;
    }
    expect_within(cie_lightness(style->skin) - last, 15, 100, "and to the skin");
}

CLAIM(text_can_be_read_on_both_grounds) {
    for (int dark = 0; dark <= 1; dark++) {
        given("dark %d", dark);
        const tcr_style *style = tcr_style_on(dark);
        const double ground = cie_lightness(style->ground);
        expect_within(fabs(cie_lightness(style->ink) - ground), 70, 100, "ours: strong contrast");
        expect_within(fabs(cie_lightness(style->quiet) - ground), 50, 100, "ours: enough contrast");
    }
}

static bool apart(tcr_box a, tcr_box b) {
    return a.x >= b.x + b.width || b.x >= a.x + a.width || a.y >= b.y + b.height ||
           b.y >= a.y + a.height;
}

/* Whether a leader runs through a box, seen at many places along it. */
static bool runs_through(const tcr_label *label, tcr_box box) {
    enum { PLACES = 200 };
    for (int i = 0; i <= PLACES; i++) {
        const double x = label->from.x + (label->to.x - label->from.x) * i / PLACES;
        const double y = label->from.y + (label->to.y - label->from.y) * i / PLACES;
        if (x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height)
            return true;
    }
    return false;
}

CLAIM(labels_never_overlap_and_stay_inside) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int round = 0; round < 200; round++) {
        tcr_label_map map = {.area = {10, 20, 120, 60}};
        for (int i = 0; i < 40; i++)
            tcr_label_block(
                &map, (tcr_box){tcr_draw_between(rng, 0, 140), tcr_draw_between(rng, 0, 90), 2, 2});
        size_t placed = 0;
        for (int i = 0; i < 80; i++) {
            const tcr_vec2 point = {tcr_draw_between(rng, 5, 135), tcr_draw_between(rng, 15, 85)};
            placed += tcr_label_place(&map, point, 1, tcr_draw_between(rng, 2, 14), 3) != NULL;
        }
        expect_count(map.labels, placed);
        expect_true(placed >= 5);
        for (size_t i = 0; i < map.labels; i++) {
            const tcr_box box = map.label[i].box;
            expect_within(box.x, 10, 130 - box.width, "inside the area");
            expect_within(box.y, 20, 80 - box.height, "inside the area");
            for (size_t k = 0; k < i; k++) {
                expect_true(apart(box, map.label[k].box));
                expect_true(!runs_through(&map.label[i], map.label[k].box));
                expect_true(!runs_through(&map.label[k], box));
            }
            for (size_t k = 0; k < map.blocks; k++)
                expect_true(apart(box, map.block[k]));
        }
    }
    gsl_rng_free(rng);
}

CLAIM(the_first_label_gets_the_place_above_its_point) {
    tcr_label_map map = {.area = {0, 0, 100, 100}};
    const tcr_label *label = tcr_label_place(&map, (tcr_vec2){50, 50}, 1, 10, 3);
    ck_assert_ptr_nonnull(label);
    expect_near(label->box.x + label->box.width / 2, 50, 1e-12,
                "rounding"); /* labels.c: straight above */
    expect_within(label->box.y + label->box.height, 40, 49, "above the ring");
    expect_near(hypot(label->from.x - 50, label->from.y - 50), 1, 1e-12,
                "the leader starts at the ring");
}

CLAIM(an_area_that_is_full_takes_no_label) {
    tcr_label_map map = {.area = {0, 0, 30, 30}};
    tcr_label_block(&map, (tcr_box){0, 0, 30, 30});
    ck_assert_ptr_null(tcr_label_place(&map, (tcr_vec2){15, 15}, 1, 4, 3));
}

int main(void) {
    static const TTest *const claims[] = {
        &numbers_are_written_for_readers,
        &a_view_is_told_in_words,
        &the_open_eye_from_the_front_is_as_everybody_sees_it,
        &a_deviation_has_the_digits_that_show_it_beyond_the_tolerance,
        &the_worst_come_first_and_no_more_than_are_ringed,
        &places_are_spread_apart_and_kept_within_their_ends,
        &a_plot_runs_up_and_to_the_right_unless_mirrored,
        &few_colours_are_kept_as_they_are,
        &layers_stay_apart_in_grey_print,
        &text_can_be_read_on_both_grounds,
        &labels_never_overlap_and_stay_inside,
        &the_first_label_gets_the_place_above_its_point,
        &an_area_that_is_full_takes_no_label,
    };
    return RUN_CLAIMS("parts", claims);
}
