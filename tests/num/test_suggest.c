/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Suggestions. The letters that it takes are counted by hand, as Damerau (1964) counts them. */
#include <tipcrest/text.h>

#include <string.h>

#include "support/check.h"

static const char *const LAYERS[] = {"bottom", "middle", "top"};
static const char *const KEYS[] = {"length_mm", "curl", "diameter_mm", "left"};

static const char *meant(const char *text, const char *const *known, size_t count) {
    const char *found = tcr_suggest(text, strlen(text), known, count);
    return found != NULL ? found : "none";
}

static const char *layer(const char *text) { return meant(text, LAYERS, 3); }

CLAIM(one_letter_changed_left_out_added_or_swapped_is_near) {
    expect_text(layer("buttom"), "bottom");
    expect_text(layer("bottm"), "bottom");
    expect_text(layer("botttom"), "bottom");
    expect_text(layer("bototm"), "bottom");
    expect_text(layer("otp"), "top"); /* of three letters one may be wrong: a swap is one */
}

CLAIM(capitals_are_small_letters) { expect_text(layer("MIDDLE"), "middle"); }

CLAIM(every_third_letter_may_be_wrong_and_no_more) {
    expect_text(layer("bttm"), "none");      /* two of four */
    expect_text(layer("muddlo"), "middle");  /* two of six */
    expect_text(layer("muddy"), "none");     /* i to u, l to y, e left out: three of five */
    expect_text(layer("moddxx"), "none");    /* three of six */
    expect_text(layer("x"), "none");         /* and never as many as the word has */
    expect_text(layer("toxyz"), "none");     /* three of five */
    expect_text(layer("bottxmxy"), "none");  /* o to x, two added: three of eight */
    expect_text(layer("botxxmabc"), "none"); /* five of nine */
}

CLAIM(the_nearest_is_taken_and_of_equally_near_ones_the_first) {
    static const char *const WORDS[] = {"bath", "bat", "cat"};
    expect_text(meant("bas", WORDS, 3), "bat"); /* one letter; bath takes two */
    expect_text(meant("dat", WORDS, 3), "bat"); /* one letter to bat and to cat */
}

CLAIM(a_name_without_its_unit_and_one_with_a_word_too_many_are_near) {
    expect_text(meant("length", KEYS, 4), "length_mm");
    expect_text(meant("diameter", KEYS, 4), "diameter_mm");
    expect_text(meant("left eye", KEYS, 4), "left");
}

CLAIM(the_only_one_that_begins_alike_is_near) {
    /* Source: text.h, five letters. */
    static const char *const SECTIONS[] = {"layering", "lashes", "length_mm", "length_sd_mm"};
    expect_text(meant("layers", SECTIONS, 4), "layering");
    expect_text(meant("layer_steps", SECTIONS, 4), "layering");
    expect_text(meant("lay", SECTIONS, 4), "none");
    expect_text(meant("lengthwise", SECTIONS, 4), "none"); /* two begin so */
}

CLAIM(what_is_nothing_or_too_long_is_like_nothing) {
    static const char *const LONG[] = {"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaab"};
    char text[64];
    memset(text, 'a', sizeof text);
    expect_true(tcr_suggest(text, 0, LAYERS, 3) == NULL); /* source: text.h */
    expect_true(tcr_suggest(text, 41, LONG, 1) == NULL);
    expect_true(tcr_suggest(text, 40, LONG, 1) == NULL); /* 41 letters are no word either */
    expect_true(tcr_suggest("top", 3, LAYERS, 0) == NULL);
}

int main(void) {
    static const TTest *const claims[] = {
        &one_letter_changed_left_out_added_or_swapped_is_near,
        &capitals_are_small_letters,
        &every_third_letter_may_be_wrong_and_no_more,
        &the_nearest_is_taken_and_of_equally_near_ones_the_first,
        &a_name_without_its_unit_and_one_with_a_word_too_many_are_near,
        &the_only_one_that_begins_alike_is_near,
        &what_is_nothing_or_too_long_is_like_nothing,
    };
    return RUN_CLAIMS("suggest", claims);
}
