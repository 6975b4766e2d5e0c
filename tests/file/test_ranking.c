/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets in a line each, the most even first. All sets are INVENTED. */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>

#include "file/read_report.h"

/* An eye of level lashes with a deviation of its own: every n-th lash wears 'longer' mm more. */
static void add_uneven(tcr_set *set, tcr_side side, size_t lashes, size_t n, double longer) {
    const tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, side, &zone, 1), TCR_OK);
    for (size_t i = 0; i < lashes; i++) {
        char id[32];
        snprintf(id, sizeof id, "b%zu", i);
        const tcr_lash lash = tcr_lash_unknown(0.05 + 0.9 * (double)i / (double)lashes, TCR_BOTTOM);
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 10.0 + longer};
        add_lash(set, side, id, &lash, i % n == 1 ? &wish : NULL);
    }
}

static tcr_set *new_uneven(size_t lashes, size_t n, double longer) {
    tcr_set *set = new_set("");
    add_uneven(set, TCR_LEFT, lashes, n, longer);
    return set;
}

enum { SETS = 5 };

CLAIM(sets_come_by_rms_then_in_the_order_of_the_call_and_unjudged_ones_last) {
    tcr_set *const sets[SETS] = {new_uneven(40, 3, 2.0), new_small(5), new_uneven(40, 7, 1.0),
                                 new_uneven(40, 3, 2.0), new_uneven(40, 9, 0.5)};
    static const char *const names[SETS] = {"first", "few", "folders/that are long/and more/third",
                                            "fourth", "\x1b[31mfifth"};
    /* source: the rms of each check, and the order of the call for the first and the fourth */
    static const char *const order[SETS] = {"\\x1b[31mfifth", "third", "first", "fourth", "few"};
    /* source: the first and the fourth are the same set under two names */
    static const int ranks[SETS] = {1, 2, 3, 3, 5};
    static const bool shares[SETS] = {false, false, true, true};
    tcr_ranked_set ranked[SETS];
    for (size_t i = 0; i < SETS; i++)
        ranked[i] = (tcr_ranked_set){.name = names[i], .check = new_check(sets[i], NULL)};
    text written = {0};
    expect_status(tcr_rank_sets(ranked, SETS), TCR_OK);
    expect_status(tcr_report_ranking(ranked, SETS, keep_text, &written), TCR_OK);
    expect_80_columns(written.bytes);
    expect_told(
        written.bytes,
        "Sets by evenness, the most even first rms: a tip's typical distance from the fitted line");
    const char *at = strstr(written.bytes, "rank ");
    double last = 0.0;
    expect_true(at != NULL);
    /* source: arithmetic; a figure ends below the last letter of its heading */
    const long tolerance_end = strstr(at, "tolerance ") + strlen("tolerance") - at;
    const long out_end = strstr(at, "stick out ") + strlen("stick out") - at;
    for (size_t i = 0; i < SETS; i++) {
        char line[100], rank[8];
        at = strchr(at, '\n') + 1;
        snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
        given("line %zu, \"%s\"", i, line);
        const char *name = strstr(line, order[i]);
        expect_true(name != NULL && strcmp(name, order[i]) == 0);
        snprintf(rank, sizeof rank, i + 1 < SETS ? "   %d%s" : "   -  ", ranks[i],
                 shares[i] ? " =" : "  ");
        expect_true(strncmp(line, rank, 6) == 0);
        expect_count(ranked[i].rank, (size_t)ranks[i]);
        expect_true(ranked[i].shares == shares[i]);
        if (i + 1 < SETS) {
            expect_true(strncmp(line + tolerance_end - 8, "(0.5 mm)", 8) == 0);
            expect_true(strncmp(line + out_end - 3, " 40", 3) == 0); /* of 40 tips */
        }
        if (i + 1 == SETS) {
            expect_true(strstr(line, "not judged") != NULL);
            break;
        }
        const double rms = strtod(line + (line[5] == '=' ? 6 : 4), NULL);
        expect_within(rms, last, INFINITY, "the most even first");
        last = rms;
    }
    const tcr_eye_result *eye = tcr_check_eye(ranked[2].check, TCR_LEFT);
    char expected[100];
    snprintf(expected, sizeof expected, " %.2f %s", eye->fitted.upright.rms_mm,
             eye->verdict == TCR_UNEVEN ? "uneven" : "mostly even");
    expect_told(written.bytes, expected);
    snprintf(expected, sizeof expected, " %zu of %zu first", eye->staggered, eye->extended);
    expect_told(written.bytes, expected);
    expect_told(written.bytes,
                "few, left eye, is not judged: fewer than 12 tips, to which any line "
                "bends. Doubt, \\x1b[31mfifth");
    expect_true(strstr(written.bytes, "one eye") == NULL); /* all have one */
    free(written.bytes);
    for (size_t i = 0; i < SETS; i++) {
        tcr_check_free((tcr_check *)(uintptr_t)ranked[i].check);
        tcr_set_free(sets[i]);
    }
}

CLAIM(three_digits_come_where_two_do_not_tell_sets_apart) {
    /* source: the rms that stand in the lines, as tcr_check_judge has them */
    tcr_set *sets[] = {new_uneven(40, 3, 2.0), new_uneven(40, 3, 1.9), new_uneven(40, 3, 1.998)};
    tcr_ranked_set ranked[3];
    for (size_t count = 2; count <= 3; count++) {
        text written = {0};
        for (size_t i = 0; i < count; i++)
            ranked[i] = (tcr_ranked_set){.name = "one", .check = new_check(sets[i], NULL)};
        expect_status(tcr_rank_sets(ranked, count), TCR_OK);
        expect_status(tcr_report_ranking(ranked, count, keep_text, &written), TCR_OK);
        for (size_t i = 0; i < count; i++) {
            tcr_judgement of;
            char expected[100];
            expect_status(tcr_check_judge(ranked[i].check, ~0u, &of), TCR_OK);
            snprintf(expected, sizeof expected, " %.*f ", count == 2 ? 2 : 3, of.rms_mm);
            given("%zu sets, \"%s\"", count, expected);
            expect_true(strstr(written.bytes, expected) != NULL);
        }
        free(written.bytes);
        for (size_t i = 0; i < count; i++)
            tcr_check_free((tcr_check *)(uintptr_t)ranked[i].check);
    }
    for (size_t i = 0; i < 3; i++)
        tcr_set_free(sets[i]);
}

CLAIM(sets_of_one_eye_are_named_where_others_have_two) {
    enum { MANY = 15 };
    tcr_set *set[2];
    tcr_check *check[2];
    tcr_ranked_set ranked[MANY];
    for (int i = 0; i < 2; i++) {
        set[i] = new_uneven(40, 3, 2.0);
        if (i == 1)
            add_uneven(set[i], TCR_RIGHT, 40, 3, 2.0);
        check[i] = new_check(set[i], NULL);
    }
    /* 12 are named, then counted. source: file.h and arithmetic */
    for (size_t i = 0; i < MANY; i++)
        ranked[i] = (tcr_ranked_set){.name = i == 1   ? "two"
                                             : i == 2 ? "single"
                                                      : "one",
                                     .check = check[i == 1]};
    text written = {0};
    expect_status(tcr_rank_sets(ranked, MANY), TCR_OK);
    expect_status(tcr_report_ranking(ranked, MANY, keep_text, &written), TCR_OK);
    expect_told(written.bytes,
                "One eye only, where others have two: one, single, one, one, one, one, one, "
                "one, one, one, one, one and 2 more.");
    free(written.bytes);
    written = (text){0};
    expect_status(tcr_report_ranking(ranked, 3, keep_text, &written), TCR_OK);
    expect_told(written.bytes, "One eye only, where others have two: one, single.");
    expect_true(strstr(written.bytes, "by chance") == NULL);
    free(written.bytes);
    expect_status(tcr_set_mark_drawn(set[1], TCR_RIGHT, 1), TCR_OK);
    written = (text){0};
    expect_status(tcr_report_ranking(ranked, 3, keep_text, &written), TCR_OK);
    expect_told(written.bytes, "Lashes drawn by chance, not measured: two.");
    free(written.bytes);
    for (int i = 0; i < 2; i++) {
        tcr_check_free(check[i]);
        tcr_set_free(set[i]);
    }
}

CLAIM(a_rank_is_shared_within_what_counts_of_its_first) {
    /* source: less than 0.05 mm counts as little (why.h, assumed); the rms as tcr_check_judge has
     * it. Each set is near the one before it, but the third not near the first. */
    static const double longer[] = {1.0, 1.1, 1.2, 1.3, 2.0};
    enum { MANY = 5 };
    static const size_t ranks[MANY] = {1, 1, 3, 3, 5};
    tcr_set *sets[MANY];
    tcr_ranked_set ranked[MANY];
    text written = {0};
    for (size_t i = 0; i < MANY; i++) {
        sets[i] = new_uneven(40, 3, longer[i]);
        ranked[MANY - 1 - i] = (tcr_ranked_set){.name = "one", .check = new_check(sets[i], NULL)};
    }
    expect_status(tcr_rank_sets(ranked, MANY), TCR_OK);
    for (size_t i = 0; i < MANY; i++) {
        const double first_mm = ranked[ranks[i] - 1].found.rms_mm, rms_mm = ranked[i].found.rms_mm;
        given("place %zu, rms %g mm, the first of its rank %g mm", i, rms_mm, first_mm);
        expect_count(ranked[i].rank, ranks[i]);
        expect_true(ranked[i].shares == (i < 4));
        expect_true(rms_mm - first_mm < 0.05);
        if (i == 2)
            expect_true(rms_mm - ranked[0].found.rms_mm >= 0.05 &&
                        rms_mm - ranked[1].found.rms_mm < 0.05);
    }
    expect_status(tcr_report_ranking(ranked, MANY, keep_text, &written), TCR_OK);
    expect_true(strstr(written.bytes, "\n   1 = ") != NULL);
    expect_true(strstr(written.bytes, "\n   3 = ") != NULL);
    expect_true(strstr(written.bytes, "\n   5   ") != NULL);
    expect_told(written.bytes, "=: a rank is shared by sets less than 0.05 mm behind its first, "
                               "which counts as no difference (assumed).");
    free(written.bytes);
    written = (text){0};
    expect_status(tcr_rank_sets(ranked + 3, 2), TCR_OK);
    expect_status(tcr_report_ranking(ranked + 3, 2, keep_text, &written), TCR_OK);
    expect_true(strchr(written.bytes, '=') == NULL);
    free(written.bytes);
    for (size_t i = 0; i < MANY; i++) {
        tcr_check_free((tcr_check *)(uintptr_t)ranked[i].check);
        tcr_set_free(sets[i]);
    }
}

CLAIM(a_ranking_by_the_map_says_so) {
    tcr_check_options options = tcr_check_options_default();
    options.against = TCR_INTENDED;
    tcr_set *set = new_uneven(40, 3, 2.0);
    tcr_check *check = new_check(set, &options);
    tcr_ranked_set ranked = {.name = "one", .check = check};
    text written = {0};
    expect_status(tcr_rank_sets(&ranked, 1), TCR_OK);
    expect_status(tcr_report_ranking(&ranked, 1, keep_text, &written), TCR_OK);
    expect_told(written.bytes, "Sets by match to their maps");
    expect_told(written.bytes, "as mapped");
    free(written.bytes);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(wrong_arguments_leave_the_sink_uncalled) {
    tcr_set *set = new_uneven(40, 3, 2.0);
    tcr_check *check = new_check(set, NULL);
    tcr_ranked_set good = {.name = "one", .check = check}, nameless = {.check = check},
                   empty = {.name = "one"}, pair[2];
    text written = {0};
    expect_status(tcr_report_ranking(&good, 1, keep_text, &written), TCR_E_ARGUMENT); /* no rank */
    expect_status(tcr_rank_sets(&good, 0), TCR_E_ARGUMENT);
    expect_status(tcr_rank_sets(&nameless, 1), TCR_E_ARGUMENT);
    expect_status(tcr_rank_sets(&empty, 1), TCR_E_ARGUMENT);
    pair[0] = good;
    pair[1] = empty;
    expect_status(tcr_rank_sets(pair, 2), TCR_E_ARGUMENT);
    expect_count(pair[0].rank, 0); /* nothing is changed */
    expect_status(tcr_rank_sets(&good, 1), TCR_OK);
    nameless = empty = good;
    nameless.name = NULL;
    empty.check = NULL;
    expect_status(tcr_report_ranking(NULL, 1, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_ranking(&good, 0, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_ranking(&good, 1, NULL, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_ranking(&nameless, 1, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_ranking(&empty, 1, keep_text, &written), TCR_E_ARGUMENT);
    expect_count(written.calls, 0);
    written.fail_at = 1;
    expect_status(tcr_report_ranking(&good, 1, keep_text, &written), TCR_E_WRITE);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &sets_come_by_rms_then_in_the_order_of_the_call_and_unjudged_ones_last,
        &three_digits_come_where_two_do_not_tell_sets_apart,
        &sets_of_one_eye_are_named_where_others_have_two,
        &a_rank_is_shared_within_what_counts_of_its_first,
        &a_ranking_by_the_map_says_so,
        &wrong_arguments_leave_the_sink_uncalled,
    };
    return RUN_CLAIMS("ranking", claims);
}
