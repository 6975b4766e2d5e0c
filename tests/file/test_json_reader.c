/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * JSON read by the own reader and by libyaml, of which JSON is a part: the same trees. What the
 * reader refuses is held against RFC 8259, and where it is told against the text itself.
 */
#include <stdio.h>
#include <stdlib.h>

#include <jansson.h>

#include "file/same_tree.h"
#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"

static const char PATH[] = "set.json";
static tcr_allocator heap(void) {
    static tcr_counted counted;
    return tcr_counted_allocator(&counted);
}

static void expect_both_alike(const char *bytes, size_t size) {
    const tcr_allocator allocator = heap();
    tcr_tree own, yaml;
    tcr_error error = tcr_error_none(), other = tcr_error_none();
    given("%.*s", (int)(size < 500 ? size : 500), bytes);
    const tcr_status status = tcr_tree_read_json(&allocator, bytes, size, PATH, &own, &error);
    expect_text(error.message, "");
    expect_status(status, TCR_OK);
    expect_status(tcr_tree_read(&allocator, bytes, size, PATH, &yaml, &other), TCR_OK);
    expect_count(first_difference(&own, &yaml), yaml.node_count);
    expect_count(own.node_count, yaml.node_count);
    tcr_tree_release(&allocator, &own);
    tcr_tree_release(&allocator, &yaml);
}

CLAIM(documents_give_the_trees_that_libyaml_gives) {
    static const char *const DOCUMENTS[] = {
        "{\"tipcrest\": 1, \"eyes\": [], \"line\": {}}",
        "{\"a\":1,\"b\":[1,2,[3,{\"c\":null}]],\n  \"d\" : true ,\r\n\"e\":-0.5e-3}\n",
        "\xEF\xBB\xBF{\"caf\xC3\xA9\": \"\xF0\x9F\x91\x81\", \"next\": 0}",
        "{\"escapes\": \"\\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u00e9 \\u20ac \\u0000 .\", \"x\": 1}",
        "[[[[[[[[[[1]]]]]]]]], [], {}]",
        "12",
        "\"a text\"",
        "[\n\t1,\n\t2\n]\n",
        "[1e5, 1E+5, 0, -0, 0.10, 123456789012345678901234567890]",
        "{\"\": \"\"}",
    };
    for (size_t i = 0; i < sizeof DOCUMENTS / sizeof *DOCUMENTS; i++)
        expect_both_alike(DOCUMENTS[i], strlen(DOCUMENTS[i]));
}

/* A value drawn at random, with jansson to write it. */
static json_t *draw(gsl_rng *rng, int depth) {
    static const char *const TEXTS[] = {"C",
                                        "",
                                        "caf\xC3\xA9",
                                        "a \"b\" \\ /",
                                        "line\nline\ttab",
                                        "key: value # no comment",
                                        "\xE2\x82\xAC",
                                        "- [x]",
                                        "~"};
    const unsigned long kind = gsl_rng_uniform_int(rng, depth > 0 ? 7 : 5);
    const size_t text = gsl_rng_uniform_int(rng, sizeof TEXTS / sizeof *TEXTS);
    if (kind == 0)
        return json_string(TEXTS[text]);
    if (kind == 1)
        return json_real(
            ldexp(gsl_rng_uniform(rng) - 0.5, (int)gsl_rng_uniform_int(rng, 200) - 99));
    if (kind == 2)
        return json_integer((json_int_t)gsl_rng_uniform_int(rng, 1000000) - 500000);
    if (kind < 5)
        return kind == 3 ? json_boolean(text % 2) : json_null();
    json_t *made = kind == 5 ? json_array() : json_object();
    for (unsigned long n = gsl_rng_uniform_int(rng, 6); n > 0; n--) {
        char key[64];
        snprintf(key, sizeof key, "%s%lu", TEXTS[gsl_rng_uniform_int(rng, 9)], n);
        if (kind == 5)
            json_array_append_new(made, draw(rng, depth - 1));
        else
            json_object_set_new(made, key, draw(rng, depth - 1));
    }
    return made;
}

CLAIM(drawn_documents_give_the_trees_that_libyaml_gives) {
    gsl_rng *rng = tcr_make_rng(14);
    for (int i = 0; i < 1000; i++) {
        static const size_t HOW[] = {JSON_COMPACT, JSON_INDENT(2), JSON_ENSURE_ASCII, 0};
        json_t *value = draw(rng, 5);
        /* libyaml knows no pairs of surrogates; none of the texts needs one. */
        char *text = json_dumps(value, HOW[i % 4] | JSON_ENCODE_ANY | JSON_REAL_PRECISION(17));
        expect_both_alike(text, strlen(text));
        free(text);
        json_decref(value);
    }
    gsl_rng_free(rng);
}

/* Bytes of a right document changed: whatever jansson, a strict reader, refuses is refused, and
 * what it takes is taken, but for what set files bar: keys given twice, control characters, NULs.
 */
CLAIM(spoilt_documents_are_refused_where_another_reader_refuses_them) {
    static const char RIGHT[] =
        "{\"tipcrest\": 1, \"eyes\": [{\"side\": \"left\", \"to\": [0.5, -1e3, true, null]}]}";
    static const char SIGNS[] = "{}[]\":,0123456789.eE+-truefalsn\\/ u\n\tNaI";
    gsl_rng *rng = tcr_make_rng(15);
    int refused = 0;
    for (int i = 0; i < 20000; i++) {
        char text[sizeof RIGHT];
        memcpy(text, RIGHT, sizeof RIGHT);
        for (unsigned long n = 1 + gsl_rng_uniform_int(rng, 3); n > 0; n--)
            text[gsl_rng_uniform_int(rng, sizeof RIGHT - 1)] =
                SIGNS[gsl_rng_uniform_int(rng, sizeof SIGNS - 1)];
        const tcr_allocator allocator = heap();
        tcr_error error = tcr_error_none();
        tcr_tree tree;
        json_error_t fault;
        json_t *other = json_loads(text, JSON_REJECT_DUPLICATES | JSON_DECODE_ANY, &fault);
        const tcr_status status =
            tcr_tree_read_json(&allocator, text, strlen(text), PATH, &tree, &error);
        given("%s\n%s\n%s", text, error.message, other == NULL ? fault.text : "");
        /* jansson reads numbers as it goes, and refuses those too large for its types */
        if (other == NULL && strstr(fault.text, "too big") == NULL &&
            strstr(fault.text, "overflow") == NULL)
            expect_status(status, TCR_E_CONTENT);
        if (other != NULL)
            expect_status(status, TCR_OK);
        refused += status != TCR_OK;
        json_decref(other);
        tcr_tree_release(&allocator, &tree);
    }
    expect_within(refused, 10000, 19999, "most changes spoil it, and not all");
    gsl_rng_free(rng);
}

static void expect_refused(const char *text, size_t size, unsigned long line, unsigned long column,
                           const char *message) {
    const tcr_allocator allocator = heap();
    tcr_error error = tcr_error_none();
    tcr_tree tree;
    given("%s", text);
    expect_status(tcr_tree_read_json(&allocator, text, size, PATH, &tree, &error), TCR_E_CONTENT);
    expect_text(error.message, message);
    expect_text(error.path, PATH);
    expect_count(error.line, line);
    expect_count(error.column, column);
    tcr_tree_release(&allocator, &tree);
}

/* The places are counted by hand. */
CLAIM(each_fault_has_its_message_where_it_is) {
    static const struct {
        const char *text;
        unsigned long line, column;
        const char *message;
    } FAULTS[] = {
        {"", 1, 1, "the file is empty; a set file begins with the line tipcrest: 1"},
        {" \n ", 1, 1, "the file is empty; a set file begins with the line tipcrest: 1"},
        {"tipcrest: 1\n", 1, 1,
         "this is not JSON, which begins with {; a set file in YAML needs tipcrest with libyaml"},
        {"{\"a\": NaN}", 1, 7,
         "\"NaN\" is no value in JSON; write a number such as 0.5, a text in \"...\", true, false "
         "or null"},
        {"{\"a\": 01}", 1, 7,
         "\"01\" is no value in JSON; write a number such as 0.5, a text in \"...\", true, false "
         "or "
         "null"},
        {"{\"a\": 1,\n \"a\": 2}", 2, 2, "key \"a\" is here twice; it was given in line 1 already"},
        {"{\"a\": 1,\n \"\\u0061\": 2}", 2, 2,
         "key \"a\" is here twice; it was given in line 1 already"},
        {"{\"a\": }", 1, 7, "a value is missing here"},
        {"[1, ]", 1, 5, "a value is missing here"},
        {"[1,, 2]", 1, 4, "a value is missing here"},
        {"{\"a\": 1, }", 1, 10, "a key is missing here"},
        {"{a: 1}", 1, 2, "a key needs quotation marks in JSON: \"...\""},
        {"{[1]: 1}", 1, 2, "a key must be a word, not a list or a block of keys"},
        {"{\"a\" 1}", 1, 6, "a colon is missing before this"},
        {"{\"a\": 1\n \"b\": 2}", 2, 2,
         "a comma is missing before this, or the } that closes the { of line 1"},
        {"\n[1 2]", 2, 4, "a comma is missing before this, or the ] that closes the [ of line 2"},
        {"[1", 1, 3, "a comma is missing before this, or the ] that closes the [ of line 1"},
        {"[", 1, 2, "a value is missing here"},
        {"[1}", 1, 3, "a comma is missing before this, or the ] that closes the [ of line 1"},
        {"{} {}", 1, 4, "more text after the end of the set; one file holds one set"},
        {"[\"caf\xC3\xA9\", \"open]", 1, 10,
         "the quotation mark that opens here is never closed; write another one where the text "
         "ends"},
        {"[\"a\nb\"]", 1, 2,
         "the quotation mark that opens here is never closed; write another one where the text "
         "ends"},
        {"[\"\\x\"]", 1, 3, "this escape with \\ is no character; write the character itself"},
        {"[\"\\u12g4\"]", 1, 3, "this escape with \\ is no character; write the character itself"},
        {"[\"\\ud83d \"]", 1, 3, "this escape with \\ is no character; write the character itself"},
        {"[\"\\udc41\"]", 1, 3, "this escape with \\ is no character; write the character itself"},
        {"[\"a\x01\"]", 1, 4,
         "a control character, which no set file may hold; is this a text file?"},
        {"[\"a\x7F\"]", 1, 4,
         "a control character, which no set file may hold; is this a text file?"},
        {"[\"\xC3\"]", 1, 3, "a character that is not UTF-8; save the file as text in UTF-8"},
        {"[\xFF]", 1, 2, "a character that is not UTF-8; save the file as text in UTF-8"},
    };
    for (size_t i = 0; i < sizeof FAULTS / sizeof *FAULTS; i++)
        expect_refused(FAULTS[i].text, strlen(FAULTS[i].text), FAULTS[i].line, FAULTS[i].column,
                       FAULTS[i].message);
    expect_refused("[1\0]", 4, 1, 3,
                   "a comma is missing before this, or the ] that closes the [ of line 1");
    expect_refused("[\0]", 3, 1, 2,
                   "a control character, which no set file may hold; is this a text file?");
}

/* U+1F441 is F0 9F 91 81 (Unicode 15, table 3-6). */
CLAIM(a_pair_of_surrogates_is_one_character) {
    static const char TEXT[] = "\"\\uD83D\\uDC41\"";
    const tcr_allocator allocator = heap();
    tcr_error error;
    tcr_tree tree;
    expect_status(tcr_tree_read_json(&allocator, TEXT, sizeof TEXT - 1, PATH, &tree, &error),
                  TCR_OK);
    expect_text(tcr_tree_text(&tree, &tree.nodes[0]), "\xF0\x9F\x91\x81");
    tcr_tree_release(&allocator, &tree);
}

/* The limits of tree.h: just allowed, and just beyond. */
CLAIM(the_limits_are_those_of_any_tree) {
    char deep[80] = "";
    for (int depth = 32; depth <= 33; depth++) {
        memset(deep, '[', (size_t)depth);
        deep[depth] = '1';
        memset(deep + depth + 1, ']', (size_t)depth);
        deep[2 * depth + 1] = '\0';
        if (depth == 32)
            expect_both_alike(deep, strlen(deep));
        else
            expect_refused(deep, strlen(deep), 1, 33,
                           "lists and blocks lie too deep in each other; at most 32");
    }
    enum { NODES = 100000 };
    char *wide = malloc(2 * NODES + 16);
    for (size_t nodes = NODES; nodes <= NODES + 1; nodes++) {
        size_t size = 0;
        wide[size++] = '[';
        for (size_t i = 1; i < nodes; i++) {
            wide[size++] = '1';
            wide[size++] = i + 1 < nodes ? ',' : ']';
        }
        if (nodes == NODES)
            expect_both_alike(wide, size);
        else
            expect_refused(wide, size, 1, 2 * NODES,
                           "the file has too many parts; it may have at most 100000");
    }
    free(wide);
}

CLAIM(every_allocation_may_fail) {
    static const char TEXT[] =
        "{\"tipcrest\": 1, \"eyes\": [1, 2, \"a long text of many letters\"]}";
    size_t calls = 0;
    tcr_status status = TCR_E_MEMORY;
    while (status == TCR_E_MEMORY) {
        tcr_counted counted = {.fail_at = ++calls};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_error error;
        tcr_tree tree;
        status = tcr_tree_read_json(&allocator, TEXT, sizeof TEXT - 1, PATH, &tree, &error);
        tcr_tree_release(&allocator, &tree);
        expect_count(counted.blocks, 0);
    }
    expect_status(status, TCR_OK);
    expect_true(calls > 2); /* nodes and text grow */
}

int main(void) {
    static const TTest *const claims[] = {
        &documents_give_the_trees_that_libyaml_gives,
        &drawn_documents_give_the_trees_that_libyaml_gives,
        &spoilt_documents_are_refused_where_another_reader_refuses_them,
        &each_fault_has_its_message_where_it_is,
        &a_pair_of_surrogates_is_one_character,
        &the_limits_are_those_of_any_tree,
        &every_allocation_may_fail,
    };
    return RUN_CLAIMS("json reader", claims);
}
