/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a call is read: what is said of values, lists and words that are not as they should be. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <fcntl.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../cli/call.h"
#include "../cli/common.h"
#include "file/folder.h"

enum { WORDS_MAX = TCR_SETS_MAX + 20, LINE_SIZE = 20000 };

static int err; /* where standard error goes */

static void begin(void) {
    enter_folder();
    err = open("err", O_RDWR | O_CREAT | O_TRUNC, 0600);
    ck_assert_int_ge(err, 0);
    ck_assert_int_eq(dup2(err, STDERR_FILENO), STDERR_FILENO);
}

/* What was said on standard error since the last time. */
static const char *said(void) {
    static char text[8000];
    fflush(stderr);
    const off_t bytes = lseek(err, 0, SEEK_CUR);
    ck_assert_int_lt((intmax_t)bytes, (intmax_t)sizeof text);
    text[pread(err, text, (size_t)bytes, 0)] = '\0';
    ck_assert_int_eq(ftruncate(err, 0), 0);
    ck_assert_int_eq(lseek(err, 0, SEEK_SET), 0);
    return text;
}

/* Reads the words of a line, with blanks between them, as a call; what is said, "" where it will
 * do. */
static const char *read_call(const char *line, tcr_call *call) {
    static char copy[LINE_SIZE];
    char *argv[WORDS_MAX + 1] = {NULL};
    int argc = 0;
    bool help;
    const tcr_command *command = NULL;
    given("%.200s", line);
    ck_assert_uint_lt(strlen(line), sizeof copy);
    strcpy(copy, line);
    for (char *word = strtok(copy, " "); word != NULL; word = strtok(NULL, " ")) {
        ck_assert_int_lt(argc, WORDS_MAX);
        argv[argc++] = word;
    }
    for (size_t i = 0; i < TCR_COMMANDS; i++)
        if (strcmp(tcr_commands[i]->name, argv[0]) == 0)
            command = tcr_commands[i];
    ck_assert_ptr_nonnull(command);
    optind = 0; /* glibc: begins anew */
    tcr_set_command(command->name);
    const int status = tcr_call_read(command, argc, argv, call, &help);
    const char *message = said();
    expect_count(status, *message == '\0' ? TCR_EXIT_DONE : TCR_EXIT_WRONG);
    return message;
}

/* Source of the words: earlier results of this project; of the numbers in them, the table of
 * options. */
static const struct {
    const char *line, *message;
} CASES[] = {
    /* Lists. */
    {"plan s --placements 0,5", "tipcrest plan: --placements has \"0\"; each is top, underside, "
                                "inner-side or outer-side\n"},
    {"plan s --diameters 0,05,0,07",
     "tipcrest plan: --diameters is \"0,05,0,07\"; write a number with a point: 0.05,0.07\n"},
    {"plan s --diameters 0,",
     "tipcrest plan: --diameters has 0; each must be from 0.02 to 0.3 mm\n"},
    {"plan s --diameters 0,05;0,07", "tipcrest plan: --diameters is \"0,05;0,07\"; separate its "
                                     "values by commas, with a point in a number: 0.05,0.07\n"},
    {"plan s --diameters 0,05;x",
     "tipcrest plan: --diameters has 0; each must be from 0.02 to 0.3 mm\n"},
    {"begin -o a --layers 12,11,10",
     "tipcrest begin: --layers is \"12,11,10\"; separate its values by /: 12/11/10\n"},
    {"begin -o a --layers 12,11/10",
     "tipcrest begin: --layers has \"12,11\"; each needs a decimal point: 12.11\n"},
    {"begin -o a --layers 12,x,10",
     "tipcrest begin: --layers has \"12,x,10\"; each must be a number from 5 to 20 mm\n"},
    /* Other marks between the values. */
    {"begin -o a --layers 12-11-10",
     "tipcrest begin: --layers is \"12-11-10\"; separate its values by /: 12/11/10\n"},
    {"begin -o a --layers 12,5;11,5;11",
     "tipcrest begin: --layers is \"12,5;11,5;11\"; separate its values by /, with a point in a "
     "number: 12.5/11.5/11\n"},
    {"begin -o a --lengths 8/9/10",
     "tipcrest begin: --lengths is \"8/9/10\"; separate its values by commas: 8,9,10\n"},
    {"begin -o a --lengths 8/9,5/10",
     "tipcrest begin: --lengths is \"8/9,5/10\"; separate its values by commas, with a point in a "
     "number: 8,9.5,10\n"},
    {"begin -o a --lengths 8/9/x",
     "tipcrest begin: --lengths has \"8/9/x\"; each must be a number from 5 to 20 mm\n"},
    {"begin -o a --lengths 8-9,10",
     "tipcrest begin: --lengths has \"8-9\"; each must be a number from 5 to 20 mm\n"},
    {"begin -o a --tray 8-9-10",
     "tipcrest begin: --tray is \"8-9-10\"; separate its values by commas: 8,9,10\n"},
    {"plan s --placements top/inner-side",
     "tipcrest plan: --placements is \"top/inner-side\"; separate its values by commas: "
     "top,inner-side\n"},
    {"plan s --placements inner-side", ""},
    {"begin -o a --layers 12/11", "tipcrest begin: --layers is \"12/11\"; it is B/M/T, 3 values\n"},
    {"begin -o a --layers 12/11/10/9", "tipcrest begin: --layers has more than 3 values\n"},
    /* Runs. */
    {"begin -o a --tray x-9",
     "tipcrest begin: --tray has \"x-9\"; a run goes up by 1, such as 8-13\n"},
    {"begin -o a --tray 8-x",
     "tipcrest begin: --tray has \"8-x\"; a run goes up by 1, such as 8-13\n"},
    {"begin -o a --tray 13-8",
     "tipcrest begin: --tray has \"13-8\"; a run goes up by 1, such as 8-13\n"},
    {"begin -o a --tray 29-31", "tipcrest begin: --tray has 31; each must be from 3 to 30 mm\n"},
    {"begin -o a --tray 3-30,3-30,3-30", "tipcrest begin: --tray has more than 64 values\n"},
    {"begin -o a --tray -5", "tipcrest begin: --tray has -5; each must be from 3 to 30 mm\n"},
    /* Numbers. */
    {"plan s --share 0,5", "tipcrest plan: --share is \"0,5\", but needs a decimal point: 0.5\n"},
    {"plan s --share half",
     "tipcrest plan: --share is \"half\", but must be a number from 0.05 to 1\n"},
    {"plan s --share 2", "tipcrest plan: --share is 2, but must be from 0.05 to 1\n"},
    {"plan s --share 0,x",
     "tipcrest plan: --share is \"0,x\", but must be a number from 0.05 to 1\n"},
    {"plan s --most-lengths 2.5",
     "tipcrest plan: --most-lengths is 2.5, but must be a whole number from 1 to 64\n"},
    {"plan s --corrections some",
     "tipcrest plan: --corrections is \"some\", but must be a whole number from 0 to 100000, or "
     "all\n"},
    {"plan s --corrections all", ""},
    /* Words about values. */
    {"plan s --free", ""},
    {"plan s --free=2", ""},
    {"plan --free 2 s", "tipcrest plan: --free takes its value behind =; write --free=2\n"},
    {"plan --free s", ""},
    {"plan s --full=2", "tipcrest plan: --full takes no value\n"},
    {"plan s --help=2", "tipcrest plan: --help takes no value\n"},
    {"plan s --share", "tipcrest plan: --share needs a value; tipcrest help plan says which\n"},
    {"plan s -o", "tipcrest plan: -o needs a value; tipcrest help plan says which\n"},
    {"plan s --share=",
     "tipcrest plan: --share has an empty value; tipcrest help plan says what it "
     "needs\n"},
    {"plan s --json --full", "tipcrest plan: --json needs a value, and \"--full\" looks like an "
                             "option; if it is the value, write --json=--full\n"},
    {"plan s -o --full",
     "tipcrest plan: -o needs a value, and \"--full\" looks like an option; for "
     "a file of that name write ./--full\n"},
    {"plan s --full --full", "tipcrest plan: --full is given twice\n"},
    {"plan s -x", "tipcrest plan: there is no option \"-x\"; tipcrest help plan lists them\n"},
    {"plan s --shares 1",
     "tipcrest plan: there is no option \"--shares\"; perhaps --share was meant\n"},
    {"plan s --tray 8-13", "tipcrest plan: there is no option \"--tray\" here; commands that have "
                           "it: begin; in a set file it is tray: {lengths_mm: [8, 9, 10]}\n"},
    {"check s --frames 3",
     "tipcrest check: there is no option \"--frames\" here; commands that have it: draw\n"},
    /* Words that are no options. */
    {"plan", "tipcrest plan: a set file is missing: tipcrest plan SET\n"},
    {"plan s t", "tipcrest plan: one set file is enough; \"t\" is one too many\n"},
    {"plan -", "tipcrest plan: a set is read from a file, not from standard input, because surveys "
               "lie beside it\n"},
    {"plan s \xE2\x80\x93\xE2\x80\x93"
     "full",
     "tipcrest plan: \"\xE2\x80\x93\xE2\x80\x93"
     "full\" begins with a long dash; write it with two "
     "hyphens, --\xE2\x80\x93"
     "full\n"},
    {"plan s \xE2\x80\x94"
     "o",
     "tipcrest plan: \"\xE2\x80\x94"
     "o\" begins with a long dash; write it with a hyphen, -o\n"},
    {"plan s \xE2\x88\x92",
     "tipcrest plan: \"\xE2\x88\x92\" begins with a long dash; write it with "
     "two hyphens, --\n"},
    {"begin a.yaml",
     "tipcrest begin: \"a.yaml\" is no option; to write that file, put -o in front of it\n"},
    {"begin -o a b", "tipcrest begin: \"b\" is no option; tipcrest help begin lists them\n"},
    {"begin -o a --title My set",
     "tipcrest begin: \"set\" is no option; if it belongs to the value of --title, put the whole "
     "value in quotes, or leave out its blanks\n"},
    {"begin", "tipcrest begin: -o SET is missing; tipcrest help begin says what it is\n"},
    /* Files. */
    {"plan s --sheet a.png",
     "tipcrest plan: --sheet is \"a.png\"; the name of the file must end in .pdf\n"},
    {"plan s --sheet .pdf",
     "tipcrest plan: --sheet is \".pdf\"; the name of the file must end in .pdf\n"},
    {"plan s --sheet a.PDF", ""},
    {"study s --join a b c -o d", ""},
};

CLAIM(a_call_that_will_not_do_is_told_with_what_would) {
    tcr_call call;
    begin();
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        expect_text(read_call(CASES[i].line, &call), CASES[i].message);
    leave_folder();
}

CLAIM(values_are_read_in_their_order) {
    tcr_call call;
    begin();
    expect_text(read_call("begin -o a --tray 8-10,12.5", &call), "");
    expect_count(call.tray.count, 4);
    expect_same(call.tray.number[2], 10.0, "read");
    expect_same(call.tray.number[3], 12.5, "read");
    expect_text(read_call("study s --join a b -o c", &call), "");
    expect_count(call.join.times, 2);
    expect_text(call.join.each[1], "b");
    expect_text(call.output.text, "c");
    leave_folder();
}

/* So many times a text, behind a beginning. */
static const char *many(const char *start, const char *text, int times) {
    static char line[LINE_SIZE];
    size_t used = (size_t)snprintf(line, sizeof line, "%s", start);
    for (int i = 0; i < times; i++)
        used += (size_t)snprintf(line + used, sizeof line - used, "%s", text);
    return line;
}

CLAIM(what_is_too_long_is_cut_and_what_is_too_many_is_told) {
    tcr_call call;
    char expected[200];
    begin();
    expect_text(read_call(many("plan s", " t", 1), &call),
                "tipcrest plan: one set file is enough; \"t\" is one too many\n");
    snprintf(expected, sizeof expected,
             "tipcrest check: %d set files are enough; \"s\" is one too "
             "many\n",
             TCR_SETS_MAX);
    expect_text(read_call(many("check", " s", TCR_SETS_MAX + 1), &call), expected);
    snprintf(expected, sizeof expected, "tipcrest study: --vary has more than %d values\n",
             TCR_VALUES_MAX);
    expect_text(read_call(many("study s", " --vary a=1", TCR_VALUES_MAX + 1), &call), expected);
    expect_text(read_call(many("study s", " --vary a=1", TCR_VALUES_MAX), &call), "");
    /* A value is shown as far as there is room. */
    const char *message = read_call(many("plan s --share ", "x", 300), &call);
    expect_true(strstr(message, many("\"", "x", 200)) != NULL);
    expect_true(strstr(message, many("", "x", 201)) == NULL);
    expect_text(read_call(many("plan s --least ", "x", 300), &call),
                "tipcrest plan: --least is \"\"; it is rms or max\n");
    message = read_call(many("begin -o a --tray 8-", "x", 300), &call);
    expect_true(strstr(message, many("\"8-", "x", 198)) != NULL);
    expect_true(strstr(message, many("", "x", 199)) == NULL);
    /* A list of more than there is room to correct is told as what it has. */
    message = read_call(many("plan s --diameters 0,05", ",0,05", 60), &call);
    expect_text(message, "tipcrest plan: --diameters has 0; each must be from 0.02 to 0.3 mm\n");
    message = read_call(many("plan s --diameters 0;05", ";0,05", 60), &call);
    expect_true(strstr(message, "tipcrest plan: --diameters has \"0;05") == message);
    message = read_call(many("begin -o a --layers 12,11", ",11", 80), &call);
    expect_true(strstr(message, "tipcrest begin: --layers has \"12,11,11") == message);
    leave_folder();
}

CLAIM(a_word_that_nobody_knows_is_told_with_those_that_are_known) {
    enum { WORDS = 60 };
    static char text[WORDS][16];
    const char *words[WORDS];
    for (int i = 0; i < WORDS; i++) {
        snprintf(text[i], sizeof text[i], "word-number-%02d", i);
        words[i] = text[i];
    }
    begin();
    tcr_set_command("step");
    expect_count(tcr_say_unknown("--curl", false, "Q", words, 3), TCR_EXIT_WRONG);
    expect_text(said(), "tipcrest step: --curl is \"Q\"; it is word-number-00, word-number-01 or "
                        "word-number-02\n");
    expect_count(tcr_say_unknown("--curl", true, "word-nomber-01", words, 3), TCR_EXIT_WRONG);
    expect_text(said(),
                "tipcrest step: --curl has \"word-nomber-01\"; perhaps word-number-01 was meant\n");
    expect_count(tcr_say_unknown("--curl", true, "Q", words, WORDS), TCR_EXIT_WRONG);
    const char *message = said(); /* as many as there is room for */
    expect_true(strstr(message, "--curl has \"Q\"; each is word-number-00, ") != NULL);
    expect_true(strstr(message, "word-number-24") != NULL);
    expect_true(strstr(message, "word-number-25") == NULL);
    leave_folder();
}

CLAIM(a_word_is_shown_as_a_shell_takes_it) {
    static const struct {
        const char *word, *shown; /* NULL: it cannot be typed so */
    } WORDS[] = {{"plain", "plain"}, {"a b", "'a b'"}, {"a$b", "'a$b'"}, {"", NULL},
                 {"-x", NULL},       {"a'b", NULL},    {"a\nb", NULL}};
    char out[TCR_SHELL_WORD_SIZE], large[TCR_SHELL_WORD_SIZE + 1];
    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++) {
        strcpy(out, "as before");
        given("\"%s\"", WORDS[i].word);
        expect_true(tcr_shell_word(WORDS[i].word, out, sizeof out) == (WORDS[i].shown != NULL));
        expect_text(out, WORDS[i].shown != NULL ? WORDS[i].shown : "as before");
    }
    memset(large, 'x', sizeof large - 1);
    large[sizeof large - 1] = '\0';
    expect_true(!tcr_shell_word(large, out, sizeof out));
    tcr_set_program(NULL); /* a program that is started without a name */
    expect_text(tcr_program(), "tipcrest");
    tcr_set_program(large);
    expect_text(tcr_program(), "tipcrest");
    tcr_set_program("/usr/bin/tip crest");
    expect_text(tcr_program(), "'/usr/bin/tip crest'");
    expect_text(tcr_program_name(), "'tip crest'");
}

CLAIM(an_error_is_told_with_its_place) {
    static const struct {
        size_t line, column;
        const char *path, *message;
    } PLACES[] = {{0, 0, "", "tipcrest: wrong\n"},
                  {0, 0, "a.yaml", "tipcrest: a.yaml: wrong\n"},
                  {3, 0, "a.yaml", "tipcrest: a.yaml:3: wrong\n"},
                  {3, 7, "a.yaml", "tipcrest: a.yaml:3:7: wrong\n"}};
    begin();
    for (size_t i = 0; i < sizeof PLACES / sizeof *PLACES; i++) {
        tcr_error error = tcr_error_none();
        error.status = TCR_E_CONTENT;
        error.line = PLACES[i].line;
        error.column = PLACES[i].column;
        strcpy(error.path, PLACES[i].path);
        strcpy(error.message, "wrong");
        expect_count(tcr_say_error(&error), TCR_EXIT_WRONG);
        expect_text(said(), PLACES[i].message);
    }
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_call_that_will_not_do_is_told_with_what_would,
        &values_are_read_in_their_order,
        &what_is_too_long_is_cut_and_what_is_too_many_is_told,
        &a_word_that_nobody_knows_is_told_with_those_that_are_known,
        &a_word_is_shown_as_a_shell_takes_it,
        &an_error_is_told_with_its_place,
    };
    return RUN_CLAIMS("calls", claims);
}
