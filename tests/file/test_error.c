/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What messages quote and list. Expected texts are this project's own. */
#include "file/error.h"

#include <string.h>

#include "support/check.h"

/* A word of n letters. */
static const char *letters(size_t n) {
    static char word[sizeof(tcr_list)];
    memset(word, 'w', n);
    word[n] = '\0';
    return word;
}

CLAIM(words_stand_with_commas_between) {
    tcr_list list = {0};
    tcr_list_add(&list, "one");
    tcr_list_add(&list, "two");
    tcr_list_add_number(&list, 9.5);
    expect_text(list.text, "one, two, 9.5");
}

CLAIM(a_list_without_room_for_a_word_ends_in_three_dots_whatever_its_lengths) {
    for (size_t first = 0; first < sizeof(tcr_list); first++)
        for (size_t second = 1; second < 12; second++) {
            tcr_list list = {0};
            tcr_list_add(&list, letters(first));
            const bool whole = strcmp(list.text, letters(first)) == 0;
            for (int i = 0; i < 300; i++)
                tcr_list_add(&list, letters(second));
            const size_t bytes = strlen(list.text);
            given("%zu letters, then words of %zu", first, second);
            ck_assert_uint_lt(bytes, sizeof list.text);
            expect_text(list.text + bytes - 3, "...");
            if (whole && bytes > first + 5)
                expect_true(strncmp(list.text + first, ", w", first > 0 ? 3 : 0) == 0);
        }
}

CLAIM(a_quoted_text_is_safe_and_cut) {
    tcr_quoted quoted;
    expect_text(tcr_quote(&quoted,
                          "a\x1b"
                          "bc",
                          3),
                "\"a\\x1bb\"");
    const char *long_one = tcr_quote(&quoted, letters(300), 300);
    expect_within((double)strlen(long_one), 50, 2 + 60 + 2,
                  "60 columns, of which one may be \"…\"");
}

int main(void) {
    static const TTest *const claims[] = {
        &words_stand_with_commas_between,
        &a_list_without_room_for_a_word_ends_in_three_dots_whatever_its_lengths,
        &a_quoted_text_is_safe_and_cut,
    };
    return RUN_CLAIMS("error", claims);
}
