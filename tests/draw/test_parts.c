/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of a picture that need no picture: numbers as texts, the palette, labels that keep apart.
 */
#include <math.h>

#include "draw/labels.h"
#include "draw/style.h"
#include "draw/words.h"
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
    expect_text(tcr_say_number(text, 0.999, 2, false), "1.00");
    expect_text(tcr_say_number(text, 96.7, 0, false), "97");
    expect_text(tcr_say_number(text, NAN, 2, false), "\xe2\x80\x93");
    expect_text(tcr_say_number(text, INFINITY, 2, false), "\xe2\x80\x93");
    expect_text(tcr_say_number(text, 1e300, 2, false), "\xe2\x80\x93");
    expect_text(tcr_say_trimmed(text, 0.5, 2), "0.5");
    expect_text(tcr_say_trimmed(text, 100, 2), "100");
    expect_text(tcr_say_trimmed(text, 0.05, 2), "0.05");
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
            for (size_t k = 0; k < i; k++)
                expect_true(apart(box, map.label[k].box));
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
        &layers_stay_apart_in_grey_print,
        &text_can_be_read_on_both_grounds,
        &labels_never_overlap_and_stay_inside,
        &the_first_label_gets_the_place_above_its_point,
        &an_area_that_is_full_takes_no_label,
    };
    return RUN_CLAIMS("parts", claims);
}
