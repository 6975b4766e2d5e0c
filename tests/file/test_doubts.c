/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Doubts in reports: a line each in every table, a member each in every JSON report. */
#include "file/doubts.h"

#include <tipcrest/file.h>

#include "file/read_report.h"
#include "support/check.h"
#include "support/doubtful.h"

/* What the table of a check says about doubts, up to the end of the line; the caller's to free. */
static char *doubt_line(const char *table) {
    const char *line = strstr(table, "Doubt, ");
    expect_true(line != NULL && (line == table || line[-1] == '\n'));
    const size_t length = strcspn(line, "\n");
    char *copy = calloc(length + 1, 1);
    ck_assert_ptr_nonnull(copy);
    memcpy(copy, line, length);
    expect_true(strstr(line + 1, "Doubt, ") == NULL);
    size_t above = 0; /* Source: the answer, in two lines at most, and what rms is */
    for (const char *at = table; at < line; at++)
        above += *at == '\n';
    expect_true(above <= 3);
    return copy;
}

/* Expected: the numbers that tcr_make_doubtful puts in. Two are means of its 36 lashes, by hand:
 * (2 * 136 + 0 + 1) / 36 tenths over 7 mm, a tenth of it; (2 * 78 + 45) / 36 over 50 degrees. */
CLAIM(each_doubt_is_one_line_of_the_table) {
    static const char *const expected[TCR_DOUBT_KINDS] = {
        "Doubt, right eye: the top layer roots 2.00 mm below the bottom one; swapped?",
        "Doubt, right eye: lashes are 0.78 mm long; are the lengths in centimetres?",
        "Doubt, right eye: layers root 0.10 mm apart; are the heights in centimetres?",
        "Doubt, right eye: lashes turn by 0.97°; are the turns in radians?",
        "Doubt, curl MINE turns by 1.50° in all; are its turns in radians?",
        "Doubt, right eye: mrd1 is 0.35 mm, a lid that hardly opens; in centimetres?",
        "Doubt, right eye: its layers lie side by side along the lid; rows or zones?",
        "Doubt, right eye: all lashes are 8.00 mm long and alike; one row copied?",
        "Doubt, right eye: all lashes are in the inner half; is u from corner to corner?",
        "Doubt, right eye: one layer, but roots 2.00 mm apart in height; layers missing?",
    };
    for (int kind = 0; kind < TCR_DOUBT_KINDS; kind++) {
        tcr_set *set = tcr_make_doubtful((tcr_doubt_kind)kind, TCR_RIGHT);
        tcr_check *check;
        text table = {0}, why = {0}, step = {0}, alone = {0};
        given("%s", tcr_doubt_text((tcr_doubt_kind)kind));
        expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
        expect_status(tcr_report_table(check, NULL, keep_text, &table), TCR_OK);
        expect_status(tcr_report_why_table(check, false, keep_text, &why), TCR_OK);
        expect_status(tcr_report_step_table(set, NULL, keep_text, &step), TCR_OK);
        expect_status(tcr_report_doubts(set, keep_text, &alone), TCR_OK);
        char *lines[] = {doubt_line(table.bytes), doubt_line(why.bytes), doubt_line(step.bytes),
                         doubt_line(alone.bytes)};
        for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
            expect_text(lines[i], expected[kind]);
            free(lines[i]);
        }
        free(table.bytes);
        free(why.bytes);
        free(step.bytes);
        free(alone.bytes);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(each_doubt_is_a_member_of_the_json_report) {
    for (int kind = 0; kind < TCR_DOUBT_KINDS; kind++) {
        tcr_set *set = tcr_make_doubtful((tcr_doubt_kind)kind, TCR_LEFT);
        const bool is_curl = kind == TCR_DOUBT_CURLS_RAD;
        tcr_doubt found[TCR_DOUBTS_MAX];
        size_t count;
        text json = {0};
        given("%s", tcr_doubt_text((tcr_doubt_kind)kind));
        expect_status(tcr_doubts_of(set, found, &count), TCR_OK);
        expect_status(tcr_report_step_json(set, NULL, NULL, keep_text, &json), TCR_OK);
        json_t *root = read_report(&json);
        const json_t *doubts = get(root, "doubts");
        expect_count(json_array_size(doubts), 1);
        const json_t *doubt = json_array_get(doubts, 0);
        expect_text(get_text(doubt, "doubt"), tcr_doubt_text((tcr_doubt_kind)kind));
        expect_true(json_is_null(get(doubt, is_curl ? "side" : "curl")));
        expect_text(get_text(doubt, is_curl ? "curl" : "side"), is_curl ? "MINE" : "left");
        expect_member(doubt, "found", found[0].found);
        expect_whole(doubt, "count", found[0].lashes);
        expect_true(strchr(get_text(doubt, "text"), '?') != NULL);
        json_decref(root);
        tcr_set_free(set);
    }
}

/* A set without a doubt has none of it in its table, and an empty list in its JSON report. */
CLAIM(no_doubt_is_no_line) {
    tcr_set *set = tcr_make_doubtful(TCR_DOUBT_LID_HARDLY_OPENS, TCR_LEFT);
    const tcr_lid lid = tcr_lid_unknown();
    tcr_check *check;
    text table = {0}, json = {0}, alone = {0};
    expect_status(tcr_set_replace_lid(set, TCR_LEFT, &lid), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_report_table(check, NULL, keep_text, &table), TCR_OK);
    expect_status(tcr_report_json(check, NULL, keep_text, &json), TCR_OK);
    expect_true(strstr(table.bytes, "Doubt") == NULL);
    expect_status(tcr_report_doubts(set, keep_text, &alone), TCR_OK);
    expect_true(alone.bytes == NULL);
    expect_status(tcr_report_doubts(NULL, keep_text, &alone), TCR_E_ARGUMENT); /* source: file.h */
    expect_status(tcr_report_doubts(set, NULL, NULL), TCR_E_ARGUMENT);
    json_t *root = read_report(&json);
    expect_count(json_array_size(get(root, "doubts")), 0);
    json_decref(root);
    free(table.bytes);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &each_doubt_is_one_line_of_the_table,
        &each_doubt_is_a_member_of_the_json_report,
        &no_doubt_is_no_line,
    };
    return RUN_CLAIMS("doubts in reports", claims);
}
