/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files that are no YAML: what a person did, at its place. Each text has one mistake made on
 * purpose, whose line and column are counted here; the words are this project's own.
 */
#include "file/folder.h"

typedef struct mistake {
    const char *text;
    unsigned long line, column; /* characters from 1 */
    const char *words;          /* in the message */
} mistake;

static void expect_told(const mistake *made, size_t count) {
    enter_folder();
    for (size_t i = 0; i < count; i++) {
        tcr_set_file *file = NULL;
        tcr_error error;
        put("a.yaml", made[i].text);
        const tcr_status status = tcr_set_file_read("a.yaml", NULL, &file, &error);
        given("\"%s\": %s", made[i].text, error.message);
        expect_status(status, TCR_E_CONTENT);
        ck_assert_ptr_null(file);
        expect_true(strstr(error.message, made[i].words) != NULL);
        expect_count(error.line, made[i].line);
        expect_count(error.column, made[i].column);
    }
    leave_folder();
}

#define EXPECT_TOLD(mistakes) expect_told(mistakes, sizeof(mistakes) / sizeof *(mistakes))

static const char SQUARE[] = "a comma is missing before this, or the ] that closes the [ of line 2";
static const char CURLY[] = "a comma is missing before this, or the } that closes the { of line ";

CLAIM(a_bracket_that_stays_open_is_told_with_its_line) {
    const mistake mistakes[] = {
        {"tipcrest: 1\neyes: [1, 2", 2, 12, SQUARE}, /* the file ends within the line */
        {"tipcrest: 1\r\neyes: [1, 2\r\n", 3, 1, SQUARE},
        {"tipcrest: 1\reyes: [1, 2", 2, 12, SQUARE},
        {"\xEF\xBB\xBFtipcrest: 1\neyes: [1, 2", 2, 12, SQUARE}, /* a byte order mark counts not */
        {"title: \xC3\xA9\xC3\xA9\neyes: [1, 2", 2, 12, SQUARE},
        {"title: [\xC3\xA9]\neyes: [\xC3\xA9, 2", 2, 12, SQUARE},
        {"tipcrest: 1 # it's [\neyes: [1, 2\n", 3, 1, SQUARE}, /* a remark opens nothing */
        {"# it is [ open\ntipcrest: 1\neyes: {a: 1\n", 4, 1, CURLY},
        {"tipcrest: 1\neyes: [1, 2}\n", 2, 12, SQUARE},
        {"tipcrest: 1\neyes: {a: 1]\n", 2, 12, CURLY},
        {"tipcrest: 1\neyes: {a: 1 b: 2}\n", 2, 14, CURLY},
        {"tipcrest: 1\neyes: [[1, 2], [3, 4]\n", 3, 1, SQUARE},
        {"\n\xC3\xA9: [1\n", 3, 1, SQUARE},
        {"\na: {x: [1, 2}, y: 3\n", 2, 13, SQUARE},
        {"\na: [b: {c: 1, d: [2}\n", 2, 20, SQUARE},
        {"\nk: [a, b\nc: 1\n", 3, 2, SQUARE},
        {"a: [1, 2]]\n", 1, 10, "this bracket closes nothing that was opened"},
        {"a: {b: 1}}\n", 1, 10, "this bracket closes nothing that was opened"},
        {"tipcrest: 1\neyes: }\n", 2, 7, "this bracket closes nothing that was opened"},
        {"tipcrest: 1\neyes: [1,, 2]\n", 2, 10, "a value is missing here"},
        {"tipcrest: 1\neyes: [,1]\n", 2, 8, "a value is missing here"},
        {"tipcrest: 1\neyes: [1 ,\n , 2]\n", 3, 2, "a value is missing here"},
        {"tipcrest: 1\neyes: [a #b\n", 3, 1, SQUARE}, /* a remark after a value */
        {"tipcrest: 1\neyes: [a#b, 2\n", 3, 1, SQUARE},
        {"{tipcrest: 1} x\n", 1, 15, "more text after the end of the set"},
        {"\xEF\xBB\xBF[1] x\n", 1, 5, "more text after the end of the set"},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(a_quotation_mark_that_stays_open_is_told_where_it_opens) {
    static const char NEVER[] = "the quotation mark that opens here is never closed";
    const mistake mistakes[] = {
        {"tipcrest: 1\ntitle: 'it''s open\neyes: 1\n", 2, 8, NEVER}, /* '' is a ' in the text */
        {"tipcrest: 1\ntitle: \"a \\\"b\neyes: 1\n", 2, 8, NEVER},   /* and \" a " */
        {"tipcrest: 1\ntitle: \"open\n---\neyes: 1\n", 2, 8, NEVER}, /* it ends the document */
        {"a: 'x\n--\nb: 1\n", 1, 4, NEVER},
        {"title: 'shut'\nsubject: \"open", 2, 10, NEVER},
        {"tipcrest: 1\ntitle: \"open # x\\", 2, 8, NEVER}, /* a remark closes nothing */
        {"tipcrest: 1\neyes: [1, \"x\n", 2, 11, NEVER},
        {"tipcrest: 1\ntitle: 'x\n--- \n", 2, 8, NEVER},
        {"tipcrest: 1\ntitle: 'a'\"b\"\n", 2, 11, "text goes on after the closing quotation mark"},
        {"tipcrest: 1\ntitle: \"a\" b\n", 2, 12, "text goes on after the closing quotation mark"},
        {"tipcrest: 1\ntitle: 'a\nb: 1\nc: 'd'\n", 2, 8,
         "the text that begins here is closed in line 4 only, where more follows; is a ' missing"},
        {"tipcrest: 1\ntitle: \"a\\qb\"\n", 2, 10, "a \\ has a meaning inside \"...\""},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(blanks_and_columns_are_told) {
    static const char TAB[] = "a tab where only spaces can indent; write spaces instead";
    static const char FURTHER[] = "this line is indented further than the one above it allows";
    static const char ITEM[] = "a list item where none belongs";
    static const char NOWHERE_ABOVE[] = "this line begins in a column where nothing above begins";
    const mistake mistakes[] = {
        {"tipcrest: 1\n\ttitle: x\n", 2, 1, TAB},
        {"\xEF\xBB\xBFtipcrest: 1\n\teyes: 2\n", 2, 1, TAB},
        {"tipcrest:\t1\ntitle:\n\t- x\n", 3, 1, TAB},
        {"tipcrest: 1\n   eyes: 2\n", 2, 4, FURTHER},
        {"tipcrest: 1\n- - x\neyes: 2\n", 2, 1, ITEM},
        {"tipcrest: 1\neyes:\n  - side: left\n - side: right\n", 4, 2, ITEM},
        {"tipcrest: 1\neyes:\n- side: left\n  lid: 3\n lashes: x\n", 5, 2, NOWHERE_ABOVE},
        {"tipcrest: |\n  x\n y\n", 3, 2, NOWHERE_ABOVE},
        {"a: |\n\tb\n", 2, 1, TAB},
        {"a: >\n b\n\tc\n", 3, 1, TAB},
        {"a:\n  b: 1\n  - c\n", 3, 3, ITEM},
        {"- - 5\n  x: 1\n", 2, 3, NOWHERE_ABOVE},
        {"a:\n  - b\n  c: 1\n", 3, 3, "this line is in a list, but begins without \"- \""},
        {"a: 1\n  b: 2\n c: 3\n", 2, 3, FURTHER},
        {"a: {b: 1\n\tc: 2}\n", 2, 1, TAB},
        {"\xEF\xBB\xBFtipcrest:1\nb: 3\n", 1, 9,
         "a space is missing after the colon, between \"tipcrest:\" and \"1\""},
        {"\xEF\xBB\xBFtitle x\ny: 1\n", 1, 1, "\"title x\" has no colon"},
        {"tipcrest: 1\neyes:\n  - side: left\n  -side:right\n", 4, 3,
         "\"-side:right\" has no colon"},
        {"a:\n  b 1\n  c: 2\n", 2, 3, "\"b 1\" has no colon"},
        {"a:\n  b: 1\n c: 2\n", 3, 2, NOWHERE_ABOVE},
        {"a: - b\n", 1, 4, "a list item cannot begin here"},
        {"a:\n  - - b\n   c\n    d: 1\n", 3, 4, NOWHERE_ABOVE},
        {"tipcrest: 1\nmore-lines:2\nb: 3\n", 2, 11,
         "a space is missing after the colon, between \"more-lines:\" and \"2\""},
        {"tipcrest: 1\nlength_1:2\nb: 3\n", 2, 9,
         "a space is missing after the colon, between \"length_1:\" and \"2\""},
        {"tipcrest: 1\n9:2\nb: 3\n", 2, 2,
         "a space is missing after the colon, between \"9:\" and \"2\""},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(colons_and_signs_are_told) {
    static const char COLON[] = "has no colon; a line here reads \"key: value\"";
    static const char BEGIN[] = "a text cannot begin with ";
    const mistake mistakes[] = {
        {"tipcrest: 1\neyes:\n- side: left\n- lid: 3\nx\n", 5, 1, COLON},
        {"tipcrest: 1\nx\ny: 2\n", 2, 1, COLON},
        {"x y\n z: 2\n", 1, 1, COLON},
        {"tipcrest: 1\n-x\n", 2, 1, COLON},
        {"tipcrest: 1\ntitle: a: b\n", 2, 9, "a second colon in one line"},
        {"a: b: [1\n", 1, 5, "a second colon in one line"},
        {"\"a\": 1\n\"b\" 2\n", 2, 1, COLON},
        {"tipcrest: 1\nx\n\ny: 2\n", 2, 1, COLON}, /* an empty line between */
        {"a:\n- - x y\n- z\n  b: 1\n", 3, 3, COLON},
        {"a: ?\nb: 1\n", 1, 4, BEGIN},
        {"%TAG ! tag:x,2000:\n---\ntipcrest: 1\n", 1, 1, "lines with %TAG are not used"},
        {"tipcrest: 1\n%YAML 1.1\n", 3, 1, "this cannot be read as YAML"},
        {"tipcrest: 1\ntitle: @x\n", 2, 8, BEGIN},
        {"tipcrest: 1\ntitle: `x`\n", 2, 8, BEGIN},
        {"tipcrest: 1\ntitle: %x\n", 2, 8, BEGIN},
        {"%FOO\n---\ntipcrest: 1\n", 1, 1, BEGIN},
        {"tipcrest: |x\n  x\n", 1, 11, BEGIN},
        {"tipcrest: 1\ntitle: *x\n", 2, 8, "references with * (aliases) are not used"},
        {"tipcrest: 1\ntitle: &x\n", 2, 8, "names with & (anchors) are not used"},
        {"tipcrest: 1\ntitle: !!x\n", 2, 8, "types with ! (tags) are not used"},
        {"tipcrest: 1\n---\ntipcrest: 1\n", 2, 1, "a second document begins here"},
        {"a: \x01\n", 1, 4, "a control character"},
        {"a: \xFF\n", 1, 4, "a character that is not UTF-8"},
    };
    EXPECT_TOLD(mistakes);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_bracket_that_stays_open_is_told_with_its_line,
        &a_quotation_mark_that_stays_open_is_told_where_it_opens,
        &blanks_and_columns_are_told,
        &colons_and_signs_are_told,
    };
    return RUN_CLAIMS("yaml_problem", claims);
}
