/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The questions for a first set, as a host would ask them; and that what comes of any answers can
 * be checked and planned.
 */
#include <tipcrest/begin.h>

#include <unistd.h>

#include <tipcrest/look.h>

#include "file/folder.h"
#include "file/sample.h"
#include "file/set_file.h"

enum { ANSWER_SIZE = 200 };
static const char SAME_TEXT[] = "read from the same text";

/* The number of the question with a key. */
static size_t numbered(const char *key) {
    size_t count;
    const tcr_begin_question *question = tcr_begin_questions(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(question[i].key, key) == 0)
            return i;
    ck_abort_msg("there is no question %s", key);
}

/* Answers a question; error is the message, to be compared. */
static tcr_status answer(tcr_begin_options *o, const char *key, const char *typed,
                         tcr_error *error) {
    char line[ANSWER_SIZE];
    given("%s: %s", key, typed);
    snprintf(line, sizeof line, "%s", typed);
    return tcr_begin_answer(o, numbered(key), line, error);
}

static void expect_answer(tcr_begin_options *o, const char *key, const char *typed) {
    tcr_error error = {.message = "?"};
    const tcr_status status = answer(o, key, typed, &error);
    given("%s: %s: %s", key, typed, error.message);
    expect_status(status, TCR_OK);
}

/* A wrong answer has its message and changes nothing. */
static void expect_refused(const tcr_begin_options *o, const char *key, const char *typed,
                           const char *message) {
    tcr_begin_options tried = *o;
    tcr_error error = {.message = "?"};
    expect_true(answer(&tried, key, typed, &error) != TCR_OK);
    expect_text(error.message, message);
    expect_bytes(&tried, o, sizeof tried);
}

CLAIM(ten_questions_at_most_each_fits_a_line_and_names_the_looks) {
    size_t count, looks;
    const tcr_begin_question *question = tcr_begin_questions(&count);
    const tcr_look *look = tcr_look_catalogue(&looks);
    const tcr_begin_options o = tcr_begin_options_default();
    expect_within((double)count, 1.0, 10.0, "begin.h");
    for (size_t i = 0; i < count; i++) {
        char usual[TCR_BEGIN_ANSWER_SIZE] = "";
        expect_status(tcr_begin_usual(&o, i, usual), TCR_OK);
        given("%s [%s]", question[i].text, usual);
        expect_true(strlen(question[i].text) + strlen(usual) + strlen(" []: ") <= 88);
    }
    for (size_t i = 0; i < looks; i++) {
        given("%s", look[i].name);
        expect_true(strstr(question[numbered("look")].text, look[i].name) != NULL);
    }
}

/* By hand: the defaults of the options, which begin.h names. */
CLAIM(the_default_that_is_shown_is_what_an_empty_answer_gives) {
    static const struct {
        const char *key, *usual;
    } expected[] = {
        {"title", "My first set, on lashes drawn by chance"},
        {"eyes", "both"},
        {"mrd1", "3.5"},
        {"count", "96"},
        {"length", "7.5"},
        {"tray", "5-20"},
        {"look", "natural"},
        {"curl", "C"},
        {"diameter", "0.12"},
    };
    size_t count;
    (void)tcr_begin_questions(&count);
    expect_count(count, sizeof expected / sizeof *expected);
    tcr_begin_options o = tcr_begin_options_default();
    const tcr_begin_options untouched = o;
    for (size_t i = 0; i < count; i++) {
        char usual[TCR_BEGIN_ANSWER_SIZE];
        expect_status(tcr_begin_usual(&o, numbered(expected[i].key), usual), TCR_OK);
        expect_text(usual, expected[i].usual);
        expect_answer(&o, expected[i].key, i % 2 == 0 ? "" : " \t\n");
    }
    expect_bytes(&o, &untouched, sizeof o);
}

CLAIM(answers_before_change_what_an_empty_one_stands_for) {
    char usual[TCR_BEGIN_ANSWER_SIZE];
    tcr_begin_options o = tcr_begin_options_default();
    expect_answer(&o, "eyes", "right");
    expect_true(!o.eye[TCR_LEFT] && o.eye[TCR_RIGHT]);
    expect_status(tcr_begin_usual(&o, numbered("eyes"), usual), TCR_OK);
    expect_text(usual, "both");
    expect_answer(&o, "tray", "8 9 10 11 12");
    expect_status(tcr_begin_usual(&o, numbered("tray"), usual), TCR_OK);
    expect_text(usual, "5-20");
    /* begin.h: by half millimetres where these are asked for. */
    o = tcr_begin_options_default();
    expect_answer(&o, "look", "9;10,5;9");
    expect_status(tcr_begin_usual(&o, numbered("tray"), usual), TCR_OK);
    expect_text(usual, "5, 5.5, 6, 6.5, 7, 7.5, 8, 8.5, 9, 9.5, 10, 10.5, 11, 11.5, 12, 12.5, 13, "
                       "13.5, 14, 14.5, 15, 15.5, 16, 16.5, 17, 17.5, 18, 18.5, 19, 19.5, 20");
    const size_t halves = strlen(usual);
    expect_answer(&o, "tray", usual);
    expect_count(o.tray_lengths, 31);
    expect_true(halves < TCR_BEGIN_ANSWER_SIZE / 2);
    expect_status(tcr_begin_usual(&o, numbered("look"), usual), TCR_OK);
    expect_text(usual, "natural");
}

CLAIM(the_default_that_is_shown_can_be_typed) {
    size_t count;
    const tcr_begin_question *question = tcr_begin_questions(&count);
    tcr_begin_options o = tcr_begin_options_default();
    char typed[10][TCR_BEGIN_ANSWER_SIZE];
    tcr_error error;
    text by_default = {0}, by_hand = {0};
    expect_status(tcr_begin_write(&o, keep_text, &by_default), TCR_OK);
    for (size_t i = 0; i < count; i++) {
        given("%s", question[i].key);
        expect_status(tcr_begin_usual(&o, i, typed[i]), TCR_OK);
        expect_status(tcr_begin_answer(&o, i, typed[i], &error), TCR_OK);
    }
    expect_status(tcr_begin_write(&o, keep_text, &by_hand), TCR_OK);
    const tcr_allocator allocator = tcr_allocator_default();
    tcr_set_file *files[2] = {NULL};
    const text *texts[2] = {&by_default, &by_hand};
    for (int i = 0; i < 2; i++)
        expect_status(tcr_set_file_parse(texts[i]->bytes, texts[i]->count, "x.yaml", NULL, NULL,
                                         &allocator, &files[i], &error),
                      TCR_OK);
    const tcr_set *one = tcr_set_file_set(files[0]), *other = tcr_set_file_set(files[1]);
    expect_text(tcr_set_title(one), tcr_set_title(other));
    expect_bytes(tcr_set_tray(one), tcr_set_tray(other), sizeof(tcr_tray));
    expect_same(tcr_set_layering(one)->diameter_mm, tcr_set_layering(other)->diameter_mm,
                SAME_TEXT);
    for (size_t i = 0; i < tcr_set_lash_count(one, TCR_RIGHT); i++)
        expect_same(tcr_set_lash(one, TCR_RIGHT, i)->length_mm,
                    tcr_set_lash(other, TCR_RIGHT, i)->length_mm, SAME_TEXT);
    expect_same(tcr_set_longest_mm(one), tcr_set_longest_mm(other), SAME_TEXT);
    tcr_set_file_free(files[0]);
    tcr_set_file_free(files[1]);
    free(by_default.bytes);
    free(by_hand.bytes);
}

CLAIM(answers_reach_their_options) {
    tcr_begin_options o = tcr_begin_options_default();
    char title[] = "  Mine \n";
    expect_status(tcr_begin_answer(&o, numbered("title"), title, NULL), TCR_OK);
    expect_text(o.title, "Mine");
    expect_answer(&o, "eyes", "right");
    expect_true(!o.eye[TCR_LEFT] && o.eye[TCR_RIGHT]);
    static const char *const unlike[] = {"3.5 2.8", "3,5; 2,8", "3.5, 2.8", "3,5 2,8"};
    for (size_t i = 0; i < sizeof unlike / sizeof *unlike; i++) {
        given("%s", unlike[i]);
        tcr_begin_options two = tcr_begin_options_default();
        expect_answer(&two, "mrd1", unlike[i]);
        expect_same(two.mrd1_mm, 3.5, SAME_TEXT);
        expect_same(two.mrd1_right_mm, 2.8, SAME_TEXT);
    }
    expect_answer(&o, "mrd1", "3,2");
    expect_same(o.mrd1_mm, 3.2, SAME_TEXT);
    expect_nan(o.mrd1_right_mm);
    expect_answer(&o, "count", "70");
    expect_count(o.count, 70);
    expect_answer(&o, "length", "8");
    expect_same(o.lash_mm, 8, SAME_TEXT);
    expect_answer(&o, "curl", "CC");
    expect_text(o.curl, "CC");
    expect_answer(&o, "diameter", "0,1");
    expect_same(o.diameter_mm, 0.1, SAME_TEXT);
    expect_answer(&o, "look", "open");
    expect_text(o.look, "doll"); /* looks.def: its other name */
    expect_answer(&o, "look", "9, 10, 11");
    expect_true(o.look == NULL);
    expect_count(o.zones, 3);
    expect_answer(&o, "look", "cat");
    expect_count(o.zones, 0);
    expect_answer(&o, "eyes", ""); /* the default again */
    expect_true(o.eye[TCR_LEFT] && o.eye[TCR_RIGHT]);
}

CLAIM(lengths_may_be_written_in_many_ways) {
    static const struct {
        const char *text;
        size_t count;
        double length_mm[6];
    } lists[] = {
        {"8 9 10", 3, {8, 9, 10}},
        {"8,9,10", 3, {8, 9, 10}},
        {" 8, 9 ,10 ,", 3, {8, 9, 10}},
        {"8;9,5;10", 3, {8, 9.5, 10}},
        {"8; 9.5; 10", 3, {8, 9.5, 10}},
        {"8-12", 5, {8, 9, 10, 11, 12}},
        {"8.5-10.5, 12", 4, {8.5, 9.5, 10.5, 12}},
        {"10", 1, {10}},
    };
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        tcr_begin_options o = tcr_begin_options_default();
        expect_answer(&o, "tray", lists[i].text);
        expect_count(o.tray_lengths, lists[i].count);
        for (size_t k = 0; k < lists[i].count; k++)
            expect_same(o.tray_mm[k], lists[i].length_mm[k], SAME_TEXT);
    }
}

CLAIM(a_wrong_answer_says_what_would_be_right_and_changes_nothing) {
    tcr_begin_options o = tcr_begin_options_default();
    expect_refused(&o, "eyes", "three", "eyes \"three\" is not known; one of both, left, right");
    expect_refused(&o, "mrd1", "wide", "mrd1 needs a number, not \"wide\"");
    expect_refused(&o, "mrd1", "9", "mrd1 is 9, but must be from 0 to 8 mm");
    expect_refused(&o, "mrd1", "3 9", "mrd1-right is 9, but must be from 0 to 8 mm");
    expect_refused(&o, "mrd1", "3 2 1", "mrd1 needs a number, not \"2 1\"");
    expect_refused(&o, "count", "96,5",
                   "count is 96.5, but must be a whole number from 1 to 100000");
    expect_refused(&o, "count", "-3", "count is -3, but must be a whole number from 1 to 100000");
    /* 3: what this eye happens to be, an earlier result of this project. */
    expect_refused(&o, "count", "5",
                   "count: of 5 lashes of the left eye only 3 can carry an extension, and fewer "
                   "than 12 are too few to judge; give more lashes (count) or longer ones "
                   "(length)");
    expect_refused(&o, "length", "0.8",
                   "length is 0.8, but must be from 1 to 20 mm; 0.8 cm is 8 mm");
    expect_refused(&o, "tray", "8, nine",
                   "tray has \"nine\"; lengths are numbers of millimetres, such as 9, 10.5, 12 or "
                   "8-14");
    expect_refused(&o, "tray", "2", "tray is 2, but must be from 3 to 30 mm; 2 cm is 20 mm");
    expect_refused(&o, "tray", ",;",
                   "tray has \",\"; lengths are numbers of millimetres, such as "
                   "9, 10.5, 12 or 8-14");
    expect_refused(&o, "tray", "20-8",
                   "tray has \"20-8\"; lengths are numbers of millimetres, "
                   "such as 9, 10.5, 12 or 8-14");
    expect_refused(&o, "tray", "8-x",
                   "tray has \"8-x\"; lengths are numbers of millimetres, "
                   "such as 9, 10.5, 12 or 8-14");
    expect_refused(&o, "look", "9 10 wide",
                   "lengths has \"wide\"; lengths are numbers of millimetres, "
                   "such as 9, 10.5, 12 or 8-14");
    expect_refused(&o, "mrd1", "inf", "mrd1 needs a number, not \"inf\"");
    static const char *const marks[][2] = {
        {"3.2,2.9", "3.2 2.9"}, {"3.2/2.9", "3.2 2.9"}, {"3,2,2,9", "3,2 2,9"}, {"3,2/3", "3,2 3"}};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        char message[200];
        snprintf(message, sizeof message,
                 "mrd1 is \"%s\"; put a blank between the left and the right eye's number: %s",
                 marks[i][0], marks[i][1]);
        expect_refused(&o, "mrd1", marks[i][0], message);
    }
    expect_refused(&o, "mrd1", "3.2,x", "mrd1 needs a number, not \"3.2,x\"");
    expect_refused(&o, "tray", "3-1e300",
                   "tray has \"3-1e300\"; lengths are numbers of "
                   "millimetres, such as 9, 10.5, 12 or 8-14");
    expect_refused(&o, "look", "lion",
                   "look \"lion\" is not known; one of natural, doll, open, "
                   "cat, squirrel");
    expect_refused(&o, "look", "9,5;6",
                   "lengths: in a zone of 6 mm the top layer would get 4 mm, less than any of the "
                   "tray; give that zone at least 7 mm, or layers that differ less");
    expect_refused(&o, "curl", "c",
                   "curl \"c\" is not known; did you mean C? One of J, B, C, CC, D, DD, L, M");
    expect_refused(&o, "diameter", "1", "diameter is 1, but must be from 0.02 to 0.3 mm");
    expect_refused(&o, "title", "a\x1b[31m", "title: it must be UTF-8 on one line");
}

/* Whether what was asked for can be checked and planned, tried from outside. */
static void expect_usable(const tcr_begin_options *o) {
    const tcr_allocator allocator = tcr_allocator_default();
    text to = {0};
    tcr_set_file *file = NULL;
    tcr_check *check = NULL;
    tcr_plan *plan = NULL;
    expect_status(tcr_begin_write(o, keep_text, &to), TCR_OK);
    expect_status(
        tcr_set_file_parse(to.bytes, to.count, "x.yaml", NULL, NULL, &allocator, &file, NULL),
        TCR_OK);
    expect_status(tcr_set_file_check(file, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_plan_new(tcr_check_set(check), NULL, &plan, NULL), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++)
        expect_true(tcr_check_eye(check, (tcr_side)side) == NULL ||
                    !tcr_check_eye(check, (tcr_side)side)->too_few);
    tcr_plan_free(plan);
    tcr_check_free(check);
    tcr_set_file_free(file);
    free(to.bytes);
}

CLAIM(what_is_taken_can_be_checked_and_planned) {
    static const char *const TRAYS[] = {"", "8,9,10", "10 11 12", "6 6.5 7 7.5 8", "12", "3-30"};
    static const char *const LENGTHS[] = {"5.5", "7.5", "10", "14"};
    static const char *const LOOKS[] = {"natural", "doll", "cat", "squirrel"};
    size_t taken = 0, refused = 0;
    for (size_t i = 0; i < 96; i++) {
        tcr_begin_options o = tcr_begin_options_default();
        char curl[] = "DD";
        o.eye[TCR_LEFT] = i % 3 != 0;
        o.curl = i % 5 == 0 ? curl : NULL;
        expect_answer(&o, "tray", TRAYS[i % 6]);
        const bool fits = answer(&o, "length", LENGTHS[i / 6 % 4], NULL) == TCR_OK &&
                          answer(&o, "look", LOOKS[i / 24], NULL) == TCR_OK;
        given("case %zu", i);
        taken += fits;
        refused += !fits;
        expect_usable(&o);
    }
    expect_true(taken > 48 && refused > 0); /* both happen, so both are tried */
}

CLAIM(what_no_plan_could_use_is_refused_before_a_file_is_there) {
    enter_folder();
    tcr_begin_options o = tcr_begin_options_default();
    tcr_error error;
    o.zones = 1;
    o.length_mm[0] = 20;
    expect_status(tcr_begin_validate(&o, NULL), TCR_OK);
    expect_status(tcr_begin_try(&o, &error), TCR_E_NO_SOLUTION);
    expect_true(strncmp(error.message, "lengths: ", 9) == 0);
    expect_status(begin_files(&o, "x.yaml", NULL, &error), TCR_E_NO_SOLUTION);
    expect_status(begin_files(&o, "x.yaml", "x.csv", &error), TCR_E_NO_SOLUTION);
    o.lash_mm = 16;
    expect_status(tcr_begin_try(&o, &error), TCR_OK);
    expect_text(held("x.yaml"), "(none)");
    expect_text(held("x.csv"), "(none)");
    leave_folder();
}

static tcr_status begin_place(const char *path, tcr_error *error) {
    tcr_outputs *outputs = new_outputs();
    const tcr_status status = tcr_begin_place(path, outputs, error);
    tcr_outputs_free(outputs);
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    return status;
}

CLAIM(a_place_is_checked_and_left_as_it_was) {
    enter_folder();
    tcr_error error;
    expect_status(begin_place("x.yaml", &error), TCR_OK);
    expect_status(begin_place("-", &error), TCR_OK);
    expect_text(held("x.yaml"), "(none)");
    expect_status(begin_place("x.txt", &error), TCR_E_CONTENT);
    expect_status(begin_place("nowhere/x.yaml", &error), TCR_E_OPEN);
    expect_status(begin_place(NULL, &error), TCR_E_ARGUMENT);
    expect_status(tcr_begin_place("x.yaml", NULL, &error), TCR_E_ARGUMENT);
    put("there.yaml", "mine");
    expect_status(begin_place("there.yaml", NULL), TCR_E_CONTENT);
    expect_count(unlink("there.yaml"), 0);
    leave_folder();
}

CLAIM(questions_that_do_not_exist_are_refused) {
    tcr_begin_options o = tcr_begin_options_default();
    char usual[TCR_BEGIN_ANSWER_SIZE], line[] = "";
    size_t count;
    (void)tcr_begin_questions(&count);
    expect_status(tcr_begin_usual(&o, count, usual), TCR_E_ARGUMENT);
    expect_status(tcr_begin_usual(NULL, 0, usual), TCR_E_ARGUMENT);
    expect_status(tcr_begin_usual(&o, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_begin_answer(&o, count, line, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_begin_answer(NULL, 0, line, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_begin_answer(&o, 0, NULL, NULL), TCR_E_ARGUMENT);
    o.size--;
    expect_status(tcr_begin_answer(&o, 0, line, NULL), TCR_E_ARGUMENT);
    expect_true(tcr_begin_questions(NULL) != NULL);
}

int main(void) {
    static const TTest *const claims[] = {
        &ten_questions_at_most_each_fits_a_line_and_names_the_looks,
        &the_default_that_is_shown_is_what_an_empty_answer_gives,
        &answers_before_change_what_an_empty_one_stands_for,
        &the_default_that_is_shown_can_be_typed,
        &answers_reach_their_options,
        &lengths_may_be_written_in_many_ways,
        &a_wrong_answer_says_what_would_be_right_and_changes_nothing,
        &what_is_taken_can_be_checked_and_planned,
        &what_no_plan_could_use_is_refused_before_a_file_is_there,
        &a_place_is_checked_and_left_as_it_was,
        &questions_that_do_not_exist_are_refused,
    };
    return RUN_CLAIMS("begin asks", claims);
}
