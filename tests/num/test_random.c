/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Philox 4x32-10 against its published answers, and how words become numbers. */
#include <tipcrest/random.h>

#include <math.h>
#include <string.h>

#include <gsl/gsl_math.h>

#include "num/random_rows.h"
#include "support/check.h"
#include "support/statistics.h"

enum { SAMPLE = 100000 };
static double sample[SAMPLE], second[SAMPLE];

/*
 * Source: Random123, DEShawResearch/random123, tests/kat_vectors, rows "philox4x32 10" (counter of
 * four, key of two, answer of four), as quoted in DEShawResearch/fs123, core123/ut/ut_philox.cpp.
 */
static const struct {
    uint32_t counter[4], key[2], words[4];
} KNOWN[] = {
    {{0x00000000, 0x00000000, 0x00000000, 0x00000000},
     {0x00000000, 0x00000000},
     {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
    {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
     {0xffffffff, 0xffffffff},
     {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
    {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
     {0xa4093822, 0x299f31d0},
     {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
};

CLAIM(philox_gives_the_published_answers) {
    for (size_t i = 0; i < sizeof KNOWN / sizeof KNOWN[0]; i++) {
        uint32_t words[4];
        tcr_philox(KNOWN[i].counter, KNOWN[i].key, words);
        for (int j = 0; j < 4; j++) {
            given("vector %zu, word %d", i, j);
            expect_count(words[j], KNOWN[i].words[j]);
        }
    }
}

CLAIM(philox_may_write_over_its_counter) {
    /* Source: the published answer above; a caller may well keep counter and words in one place. */
    uint32_t both[4];
    memcpy(both, KNOWN[2].counter, sizeof both);
    tcr_philox(both, KNOWN[2].key, both);
    expect_bytes(both, KNOWN[2].words, sizeof both);
}

/* The words of a draw, put together from the text of random.h. */
static void words_of(const tcr_random *draw, uint32_t attempt, uint32_t words[4]) {
    const uint32_t counter[4] = {draw->lash, draw->field, draw->eye, draw->use + 65536 * attempt};
    const uint32_t key[2] = {(uint32_t)(draw->seed & 0xffffffff), (uint32_t)(draw->seed >> 32)};
    tcr_philox(counter, key, words);
}

/* In (0, 1), from the text of random.h. */
static double number_of(uint32_t first, uint32_t next) {
    const uint64_t bits = ((uint64_t)first << 32) + next;
    return ((double)(bits / 2048) + 0.5) / 9007199254740992.0;
}

static const tcr_random DRAW = {UINT64_C(0x123456789abcdef0), 17, 4, 1, 9};

CLAIM(a_uniform_number_is_made_of_words_0_and_1) {
    uint32_t words[4];
    words_of(&DRAW, 0, words);
    /* Source: random.h, put together here again. */
    expect_same(tcr_random_uniform(&DRAW), number_of(words[0], words[1]),
                "53 bits and a power of 2");
}

CLAIM(a_normal_number_is_box_and_mullers_of_four_words) {
    uint32_t words[4];
    words_of(&DRAW, 0, words);
    const double radius = sqrt(-2.0 * log(number_of(words[0], words[1])));
    const double value = radius * cos(2.0 * M_PI * number_of(words[2], words[3]));
    ck_assert(fabs(value) < 3.0);
    /* Source: random.h, put together here again. */
    expect_near(tcr_random_normal(&DRAW), value, 1e-15, "the same operations, rounded alike or so");
}

CLAIM(a_normal_number_beyond_three_is_drawn_again_with_the_next_attempt) {
    int drawn_again = 0;
    for (tcr_random draw = {.seed = 5, .field = 3}; draw.lash < 20000; draw.lash++) {
        uint32_t words[4];
        words_of(&draw, 0, words);
        const double first = sqrt(-2.0 * log(number_of(words[0], words[1]))) *
                             cos(2.0 * M_PI * number_of(words[2], words[3]));
        if (fabs(first) <= 3.0)
            continue;
        drawn_again++;
        words_of(&draw, 1, words);
        const double next = sqrt(-2.0 * log(number_of(words[0], words[1]))) *
                            cos(2.0 * M_PI * number_of(words[2], words[3]));
        given("lash %d", (int)draw.lash);
        if (fabs(next) <= 3.0)
            expect_near(tcr_random_normal(&draw), next, 1e-15, "the same operations");
    }
    /* Source: 20 000 x 0.0027, the share of a normal beyond three, is 54; its sd is 7.3. */
    expect_within(drawn_again, 54 - 5 * 7.3, 54 + 5 * 7.3, "five standard deviations");
}

CLAIM(uniform_numbers_are_uniform_between_0_and_1) {
    for (tcr_random draw = {.seed = 1}; draw.lash < SAMPLE; draw.lash++) {
        sample[draw.lash] = tcr_random_uniform(&draw);
        ck_assert(sample[draw.lash] > 0.0 && sample[draw.lash] < 1.0);
    }
    expect_within(tcr_kolmogorov(sample, SAMPLE, tcr_cumulative_uniform), 0.0, TCR_KOLMOGOROV_LIMIT,
                  "alpha 0.001, seed fixed");
}

CLAIM(normal_numbers_are_normal_and_cut_at_three) {
    for (tcr_random draw = {.seed = 1}; draw.lash < SAMPLE; draw.lash++)
        sample[draw.lash] = tcr_random_normal(&draw);
    expect_within(tcr_kolmogorov(sample, SAMPLE, tcr_cumulative_cut_normal), 0.0,
                  TCR_KOLMOGOROV_LIMIT, "alpha 0.001, seed fixed");
    /* Sorted by now. Source: definition of the cut. */
    expect_within(sample[0], -3.0, -2.9, "100 000 draws come close to the cut");
    expect_within(sample[SAMPLE - 1], 2.9, 3.0, "100 000 draws come close to the cut");
}

/* Every part of a draw's name, one changed at a time. */
CLAIM(seed_field_eye_and_use_each_give_other_numbers) {
    const tcr_random base = {.seed = 1, .field = 2, .eye = 0, .use = 3};
    tcr_random other[5] = {base, base, base, base, base};
    other[0].seed = 2;
    other[1].seed = base.seed + (UINT64_C(1) << 32);
    other[2].field = 3;
    other[3].eye = 1;
    other[4].use = 4;
    for (int j = 0; j < 5; j++) {
        for (uint32_t k = 0; k < SAMPLE; k++) {
            tcr_random a = base, b = other[j];
            a.lash = b.lash = k;
            sample[k] = tcr_random_uniform(&a);
            second[k] = tcr_random_uniform(&b);
        }
        given("change %d", j);
        /* Source: independent columns have a correlation of 0 with sd 1/sqrt(n). */
        expect_near(tcr_correlation(sample, second, SAMPLE), 0.0, 4.0 / sqrt(SAMPLE),
                    "four standard deviations, seeds fixed");
    }
}

CLAIM(a_draw_does_not_depend_on_what_was_drawn_before) {
    const double once = tcr_random_normal(&DRAW);
    tcr_random other = DRAW;
    for (other.lash = 0; other.lash < 100; other.lash++)
        (void)tcr_random_normal(&other);
    expect_same(tcr_random_normal(&DRAW), once, "there is no state");
}

CLAIM(numbers_of_many_lashes_have_the_bits_of_each) {
    /* Source: the single calls. Blocks end within a column, and lashes at the end of their count.
     */
    static const size_t counts[] = {1, 31, 32, 33, 5000};
    static const uint32_t first[] = {0, 7, 0xFFFFFFF0};
    for (size_t c = 0; c < sizeof counts / sizeof *counts; c++)
        for (size_t f = 0; f < sizeof first / sizeof *first; f++) {
            tcr_random number = {
                .seed = 0x123456789abcdef, .lash = first[f], .field = 3, .eye = 1, .use = 6};
            const tcr_random from = number;
            second[counts[c]] = 99.0;
            tcr_random_normals(&from, counts[c], sample);
            tcr_random_uniforms(&from, counts[c], second);
            expect_same(second[counts[c]], 99.0, "nothing is written behind the last");
            for (size_t i = 0; i < counts[c]; i++, number.lash++) {
                given("lash %zu of %zu from %u on", i, counts[c], (unsigned)first[f]);
                expect_same(sample[i], tcr_random_normal(&number), "one kernel");
                expect_same(second[i], tcr_random_uniform(&number), "one kernel");
            }
        }
}

int main(void) {
    static const TTest *const claims[] = {
        &philox_gives_the_published_answers,
        &philox_may_write_over_its_counter,
        &a_uniform_number_is_made_of_words_0_and_1,
        &a_normal_number_is_box_and_mullers_of_four_words,
        &a_normal_number_beyond_three_is_drawn_again_with_the_next_attempt,
        &uniform_numbers_are_uniform_between_0_and_1,
        &normal_numbers_are_normal_and_cut_at_three,
        &seed_field_eye_and_use_each_give_other_numbers,
        &a_draw_does_not_depend_on_what_was_drawn_before,
        &numbers_of_many_lashes_have_the_bits_of_each,
    };
    return RUN_CLAIMS("random", claims);
}
