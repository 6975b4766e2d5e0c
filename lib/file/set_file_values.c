/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values of a set file: blocks of keys, lists, numbers, texts, words, and what is wrong with them.
 */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "file/curl_name.h"
#include "file/set_file.h"
#include "num/number.h"

tcr_status tcr_fail_at(const tcr_set_reader *reader, const tcr_node *node, const char *format,
                       ...) {
    char text[sizeof reader->error->message];
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    return tcr_fail(reader->error, TCR_E_CONTENT, tcr_tree_place(&reader->tree, node), "%s",
                    length >= 0 ? text : "");
}

tcr_status tcr_accept_at(const tcr_set_reader *reader, const tcr_node *node, tcr_status status) {
    return tcr_accept(reader->error, status, tcr_tree_place(&reader->tree, node));
}

static const char *text_of(const tcr_set_reader *reader, const tcr_node *node) {
    return tcr_tree_text(&reader->tree, node);
}

static const char *quote(const tcr_set_reader *reader, const tcr_node *node, tcr_quoted *quoted) {
    return tcr_quote(quoted, text_of(reader, node), node->bytes);
}

/* What a node is, for "not ...". */
static const char *kind_of(const tcr_set_reader *reader, const tcr_node *node, tcr_quoted *quoted) {
    if (node->kind == TCR_NODE_LIST)
        return "a list";
    if (node->kind == TCR_NODE_MAPPING)
        return "a block of keys";
    return quote(reader, node, quoted);
}

/* A scalar that has a value; 'needed' is what it should be, such as "a number". */
static tcr_status require_scalar(const tcr_set_reader *reader, const tcr_node *node,
                                 const char *name, const char *needed) {
    tcr_quoted quoted;
    if (node->kind != TCR_NODE_SCALAR)
        return tcr_fail_at(reader, node, "%s needs %s, not %s", name, needed,
                           kind_of(reader, node, &quoted));
    if (tcr_tree_is_null(&reader->tree, node))
        return tcr_fail_at(reader, node, "%s has no value; it needs %s", name, needed);
    if (memchr(text_of(reader, node), '\0', node->bytes) != NULL)
        return tcr_fail_at(reader, node, "%s holds a character that no text can hold (\\0)", name);
    return TCR_OK;
}

/* ---- Keys ------------------------------------------------------------------------------------ */

static const tcr_key *find_key(const tcr_key *keys, size_t count, const char *text, size_t bytes) {
    for (size_t i = 0; i < count; i++)
        if (strlen(keys[i].name) == bytes && memcmp(keys[i].name, text, bytes) == 0)
            return &keys[i];
    return NULL;
}

static bool is_digits(const char *text) {
    return *text != '\0' && strspn(text, "0123456789") == strlen(text);
}

/*
 * In { } a decimal comma ends a value, and its digits become a key without one: "12,5". Tells so
 * where it is so; before is the value in front of the key, or NULL.
 */
static bool explain_comma(const tcr_set_reader *reader, const tcr_node *before,
                          const tcr_node *key) {
    const tcr_node *value = tcr_tree_next(&reader->tree, key);
    double number;
    if (before == NULL || before->kind != TCR_NODE_SCALAR || key->quoted ||
        !is_digits(text_of(reader, key)) || !tcr_tree_is_null(&reader->tree, value) ||
        !tcr_number_parse(text_of(reader, before), before->bytes, &number))
        return false;
    char digits[32];
    snprintf(digits, sizeof digits, "%s.%s", text_of(reader, before), text_of(reader, key));
    tcr_fail_at(reader, before, "a decimal comma; write a point, %s", digits);
    return true;
}

/* "step_mm:1" where the key of a table is meant; false where it is something else. */
static bool explain_space(const tcr_set_reader *reader, const tcr_node *key, const tcr_key *keys,
                          size_t count) {
    tcr_quoted quoted, value;
    const char *text = text_of(reader, key), *colon = memchr(text, ':', key->bytes);
    if (colon == NULL || find_key(keys, count, text, (size_t)(colon - text)) == NULL)
        return false;
    tcr_fail_at(reader, key, "a space is missing after the colon, between %s and %s",
                tcr_quote(&quoted, text, (size_t)(colon - text) + 1),
                tcr_quote(&value, colon + 1, key->bytes - (size_t)(colon - text) - 1));
    return true;
}

/* Where a key belongs that stands elsewhere; NULL for one that many places know, or none. */
static const char *home_of(const char *text, size_t bytes) {
    static const struct {
        const char *home, *keys; /* keys with blanks about each */
    } HOMES[] = {
        {"lid, inside an eye", " fissure_width_mm canthal_tilt_deg inner_corner_height_mm mrd1_mm "
                               "mrd2_mm peak_offset_mm fullness globe_radius_mm "
                               "lateral_semiaxis_mm "},
        {"an eye, beside its side", " lid lashes map "},
        {"lashes, inside an eye", " survey describe drawn "},
        {"describe, inside lashes", " count seed phases gap_mm "},
        {"layering", " step_mm placement blend "},
        {"tray", " lengths_mm "},
        {"bond", " offset_mm glue_mm "},
        {"line", " tolerance_mm "},
        {"plan", " overlength_mm mass_ratio moment_ratio "},
        {"the set file itself, at the left edge",
         " eyes layering mean_lash tray bond curls plan opening viewer_deg "},
    };
    for (size_t i = 0; i < sizeof HOMES / sizeof *HOMES; i++)
        for (const char *at = HOMES[i].keys + 1; *at != '\0'; at += strcspn(at, " ") + 1)
            if (strcspn(at, " ") == bytes && memcmp(at, text, bytes) == 0)
                return HOMES[i].home;
    return NULL;
}

static tcr_status fail_unknown_key(const tcr_set_reader *reader, const tcr_node *before,
                                   const tcr_node *key, const char *where, const tcr_key *keys,
                                   size_t count) {
    enum { KEYS_MAX = 40 };
    const char *names[KEYS_MAX];
    tcr_list list = {0};
    tcr_quoted quoted;
    const char *text = text_of(reader, key), *home = home_of(text, key->bytes);
    for (size_t i = 0; i < count && i < KEYS_MAX; i++) {
        names[i] = keys[i].name;
        tcr_list_add(&list, names[i]);
    }
    if (explain_space(reader, key, keys, count))
        return reader->error->status;
    if (key->bytes >= 2 && memcmp(text, "\xC2\xA0", 2) == 0)
        return tcr_fail_at(reader, key,
                           "this line begins with no-break spaces, as copied from a document or a "
                           "web page; write plain spaces instead");
    if (explain_comma(reader, before, key))
        return reader->error->status;
    if (home != NULL)
        return tcr_fail_at(reader, key,
                           "key %s is not known %s; it belongs in %s; known here "
                           "are %s",
                           quote(reader, key, &quoted), where, home, list.text);
    const char *meant = tcr_suggest(text, key->bytes, names, count < KEYS_MAX ? count : KEYS_MAX);
    if (meant != NULL)
        return tcr_fail_at(reader, key, "key %s is not known %s; did you mean %s? Known are %s",
                           quote(reader, key, &quoted), where, meant, list.text);
    return tcr_fail_at(reader, key, "key %s is not known %s; known are %s",
                       quote(reader, key, &quoted), where, list.text);
}

/* A node that must be a block of keys. */
static tcr_status require_mapping(const tcr_set_reader *reader, const tcr_node *node,
                                  const char *name, const tcr_key *keys, size_t count) {
    tcr_quoted quoted;
    if (node->kind == TCR_NODE_MAPPING)
        return TCR_OK;
    if (tcr_tree_is_null(&reader->tree, node))
        return tcr_fail_at(reader, node,
                           "%s has nothing in it; write its keys below it, or leave it out", name);
    if (node->kind == TCR_NODE_SCALAR && explain_space(reader, node, keys, count))
        return reader->error->status;
    if (node->kind == TCR_NODE_SCALAR && strchr(text_of(reader, node), ':') != NULL)
        return tcr_fail_at(
            reader, node,
            "%s needs keys, such as %s; %s is none: is a space missing after its colon?", name,
            keys[0].name, quote(reader, node, &quoted));
    return tcr_fail_at(reader, node, "%s needs keys with values, such as \"%s: ...\", not %s", name,
                       keys[0].name, kind_of(reader, node, &quoted));
}

tcr_status tcr_read_keys(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const char *where, const tcr_key *keys, size_t count, void *target,
                         unsigned *given) {
    const tcr_tree *tree = &reader->tree;
    const tcr_node *before = NULL, *value;
    tcr_status status = require_mapping(reader, node, name, keys, count);
    if (status != TCR_OK)
        return status;
    for (const tcr_node *key = tcr_tree_child(tree, node); key != NULL;
         key = tcr_tree_next(tree, value)) {
        const tcr_key *known = find_key(keys, count, text_of(reader, key), key->bytes);
        value = tcr_tree_next(tree, key);
        if (known == NULL)
            return fail_unknown_key(reader, before, key, where, keys, count);
        if (known->type != TCR_KEY_OTHER)
            status = tcr_read_number(reader, value, known, target);
        if (status != TCR_OK)
            return status;
        if (given != NULL)
            *given |= known->bit;
        before = value;
    }
    return TCR_OK;
}

tcr_status tcr_read_required(const tcr_set_reader *reader, const tcr_node *mapping,
                             const char *needs, const char *key, const tcr_node **value) {
    *value = tcr_tree_find(&reader->tree, mapping, key);
    if (*value != NULL)
        return TCR_OK;
    return tcr_fail_at(reader, mapping, "%s is missing; %s", key, needs);
}

tcr_status tcr_read_list(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const char *items, size_t most, size_t *count) {
    tcr_quoted quoted;
    if (tcr_tree_is_null(&reader->tree, node))
        return tcr_fail_at(reader, node, "%s has nothing in it; it needs a list of %s", name,
                           items);
    if (node->kind == TCR_NODE_SCALAR && text_of(reader, node)[0] == '-' && !node->quoted)
        return tcr_fail_at(reader, node,
                           "%s needs a list of %s, not %s; is a space missing after a dash?", name,
                           items, kind_of(reader, node, &quoted));
    if (node->kind != TCR_NODE_LIST)
        return tcr_fail_at(reader, node,
                           "%s needs a list of %s: begin each with \"- \", or put all in [ ]", name,
                           items);
    *count = tcr_tree_count(&reader->tree, node);
    if (*count == 0)
        return tcr_fail_at(reader, node, "%s is an empty list; give from 1 to %lu %s", name,
                           (unsigned long)most, items);
    if (*count > most)
        return tcr_fail_at(reader, node, "%s has %lu %s; it may have at most %lu", name,
                           (unsigned long)*count, items, (unsigned long)most);
    return TCR_OK;
}

/* ---- Scalars --------------------------------------------------------------------------------- */

tcr_status tcr_read_number(const tcr_set_reader *reader, const tcr_node *node, const tcr_key *key,
                           void *target) {
    const tcr_status status = require_scalar(reader, node, key->name, "a number");
    tcr_quoted quoted;
    double value;
    if (status != TCR_OK)
        return status;
    if (node->quoted && tcr_number_parse(text_of(reader, node), node->bytes, &value))
        return tcr_fail_at(reader, node, "%s is %s in quotes; write the number without quotes",
                           key->name, quote(reader, node, &quoted));
    return tcr_key_read(key, key->name, text_of(reader, node), node->bytes, false, target,
                        tcr_tree_place(&reader->tree, node), reader->error);
}

tcr_status tcr_read_text(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const char *needed, const char **text) {
    const tcr_status status = require_scalar(reader, node, name, needed);
    if (status == TCR_OK)
        *text = text_of(reader, node);
    return status;
}

tcr_status tcr_read_word(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const tcr_words *words, size_t *index) {
    tcr_quoted quoted;
    const tcr_status status = require_scalar(reader, node, name, "a word");
    if (status != TCR_OK)
        return status;
    if (words == &tcr_words_bool && (node->quoted || (strcmp(text_of(reader, node), "true") != 0 &&
                                                      strcmp(text_of(reader, node), "false") != 0)))
        return tcr_fail_at(reader, node, "%s is %s; write true or false%s", name,
                           quote(reader, node, &quoted), node->quoted ? " without quotes" : "");
    return tcr_word_read(words, name, text_of(reader, node), node->bytes, index,
                         tcr_tree_place(&reader->tree, node), reader->error);
}

tcr_status tcr_read_curl_name(const tcr_set_reader *reader, const tcr_node *node,
                              char label[TCR_LABEL_SIZE]) {
    const tcr_status status = require_scalar(reader, node, "curl", "a label");
    if (status != TCR_OK)
        return status;
    return tcr_curl_name_read(reader->file->set, "curl", text_of(reader, node), node->bytes, label,
                              tcr_tree_place(&reader->tree, node), reader->error);
}

/* ---- The tray -------------------------------------------------------------------------------- */

void tcr_list_tray(tcr_list *list, const tcr_tray *tray) {
    for (size_t i = 0; i < tray->count; i++)
        tcr_list_add_number(list, tray->length_mm[i]);
}

tcr_status tcr_require_in_tray(const tcr_set_reader *reader, const tcr_node *node,
                               double length_mm) {
    const tcr_tray *tray = tcr_set_get_tray(reader->file->set);
    char text[TCR_NUMBER_SIZE];
    tcr_list list = {0};
    if (tcr_tray_has(tray, length_mm))
        return TCR_OK;
    tcr_number_text(length_mm, text);
    tcr_list_tray(&list, tray);
    return tcr_fail_at(reader, node,
                       "length_mm is %s, which the tray lacks; it has %s; choose one of these, or "
                       "add it to the tray",
                       text, list.text);
}
