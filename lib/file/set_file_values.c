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
    va_list arguments;
    va_start(arguments, format);
    tcr_error_set_list(reader->error, TCR_E_CONTENT, format, arguments);
    va_end(arguments);
    return tcr_fail_here(reader->error, tcr_tree_place(&reader->tree, node));
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

enum { KEYS_MAX = 48 };

/* The keys of a block, in the order in which they are listed to a user. */
typedef struct key_names {
    const char *name[KEYS_MAX];
    size_t count;
} key_names;

static void add_names(key_names *names, const char *const *name) {
    for (size_t i = 0; name != NULL && name[i] != NULL && names->count < KEYS_MAX; i++)
        names->name[names->count++] = name[i];
}

static key_names names_of(const tcr_block *block) {
    key_names names = {.count = 0};
    add_names(&names, block->before);
    for (size_t i = 0; i < block->count && names.count < KEYS_MAX; i++)
        names.name[names.count++] = block->fields[i].key;
    add_names(&names, block->behind);
    return names;
}

static bool is_known(const key_names *names, const char *text, size_t bytes) {
    for (size_t i = 0; i < names->count; i++)
        if (tcr_is_word(names->name[i], text, bytes))
            return true;
    return false;
}

static const tcr_field *find_field(const tcr_block *block, const char *text, size_t bytes) {
    for (size_t i = 0; i < block->count; i++)
        if (tcr_is_word(block->fields[i].key, text, bytes))
            return &block->fields[i];
    return NULL;
}

tcr_block tcr_block_of(tcr_group group, const char *name, const char *where) {
    tcr_block block = {.name = name, .where = where};
    block.fields = tcr_fields(group, &block.count);
    return block;
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

/* "step_mm:1" where a known key is meant; false where it is something else. */
static bool explain_space(const tcr_set_reader *reader, const tcr_node *key,
                          const key_names *names) {
    tcr_quoted quoted, value;
    const char *text = text_of(reader, key), *colon = memchr(text, ':', key->bytes);
    if (colon == NULL || !is_known(names, text, (size_t)(colon - text)))
        return false;
    tcr_fail_at(reader, key, "a space is missing after the colon, between %s and %s",
                tcr_quote(&quoted, text, (size_t)(colon - text) + 1),
                tcr_quote(&value, colon + 1, key->bytes - (size_t)(colon - text) - 1));
    return true;
}

/* Adds the blocks that have a number of this key; returns how many they are. */
static size_t list_homes(tcr_list *list, const char *text, size_t bytes) {
    static const struct {
        tcr_group group;
        const char *home;
    } HOMES[] = {
        {TCR_GROUP_LID, "lid, inside an eye"},
        {TCR_GROUP_DESCRIPTION, "describe, inside lashes"},
        {TCR_GROUP_ZONE, "a zone of the map"},
        {TCR_GROUP_WISH, "a layer of a zone"},
        {TCR_GROUP_LAYERING, "layering"},
        {TCR_GROUP_TRAY, "tray"},
        {TCR_GROUP_BOND, "bond"},
        {TCR_GROUP_LINE, "line"},
        {TCR_GROUP_LIMITS, "plan"},
        {TCR_GROUP_PACE, "pace"},
        {TCR_GROUP_VIEW, "the set file itself, at the left edge"},
        {TCR_GROUP_MEAN_LASH, "mean_lash"},
        {TCR_GROUP_LASH, "a survey"},
    };
    size_t found = 0;
    for (size_t i = 0; i < sizeof HOMES / sizeof *HOMES; i++) {
        const tcr_block block = tcr_block_of(HOMES[i].group, NULL, NULL);
        if (find_field(&block, text, bytes) == NULL)
            continue;
        tcr_list_add(list, HOMES[i].home);
        found++;
    }
    return found;
}

/* Where a key belongs that stands elsewhere, as a list; returns how many places know it. */
static size_t homes_of(tcr_list *list, const char *text, size_t bytes) {
    static const struct {
        const char *home, *keys; /* keys with blanks about each */
    } HOMES[] = {
        {"an eye, beside its side", " lid lashes map intended "},
        {"lashes, inside an eye", " survey describe drawn "},
        {"layering", " placement "},
        {"the set file itself, at the left edge",
         " title subject eyes layering mean_lash tray bond curls line plan pace "},
    };
    for (size_t i = 0; i < sizeof HOMES / sizeof *HOMES; i++)
        for (const char *at = HOMES[i].keys + 1; *at != '\0'; at += strcspn(at, " ") + 1)
            if (strcspn(at, " ") == bytes && memcmp(at, text, bytes) == 0) {
                tcr_list_add(list, HOMES[i].home);
                return 1;
            }
    return list_homes(list, text, bytes);
}

/* The line that a key belongs below, which a first set file may still have as a note; "" for places
 * without one. home: "lid, inside an eye". */
static void header_of(const char *home, char *text, size_t size) {
    const int bytes = (int)strcspn(home, ",");
    text[0] = '\0';
    if (memchr(home, ' ', (size_t)bytes) == NULL)
        snprintf(text, size, ", below a line \"%.*s:\" without a # in front", bytes, home);
}

static tcr_status fail_unknown_key(const tcr_set_reader *reader, const tcr_node *before,
                                   const tcr_node *key, const tcr_block *block) {
    const key_names names = names_of(block);
    const char *where = block->where;
    tcr_list list = {0}, home = {0};
    tcr_quoted quoted;
    const char *text = text_of(reader, key);
    const size_t homes = homes_of(&home, text, key->bytes);
    const bool has_layers =
        is_known(&names, tcr_layer_text(TCR_BOTTOM), strlen(tcr_layer_text(TCR_BOTTOM)));
    for (size_t i = 0; i < names.count; i++)
        tcr_list_add(&list, names.name[i]);
    if (explain_space(reader, key, &names))
        return reader->error->status;
    if (key->bytes >= 2 && memcmp(text, "\xC2\xA0", 2) == 0)
        return tcr_fail_at(reader, key,
                           "this line begins with no-break spaces, as copied from a document or a "
                           "web page; write plain spaces instead");
    if (explain_comma(reader, before, key))
        return reader->error->status;
    const char *meant = tcr_suggest(text, key->bytes, names.name, names.count);
    if (homes == 1 || (homes > 1 && meant == NULL)) {
        char header[64] = "";
        if (homes == 1)
            header_of(home.text, header, sizeof header);
        return tcr_fail_at(reader, key,
                           "key %s is not known %s; it belongs in %s%s%s; known here are %s",
                           quote(reader, key, &quoted), where, homes > 1 ? "one of these: " : "",
                           home.text, header, list.text);
    }
    if (meant != NULL)
        return tcr_fail_at(reader, key, "key %s is not known %s; did you mean %s? Known are %s",
                           quote(reader, key, &quoted), where, meant, list.text);
    return tcr_fail_at(reader, key, "key %s is not known %s; known are %s%s",
                       quote(reader, key, &quoted), where, list.text,
                       has_layers ? tcr_layer_note(text, key->bytes) : "");
}

/* A section without a line: its own may still be notes. */
static tcr_status fail_empty(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                             const key_names *names) {
    tcr_list list = {0};
    for (size_t i = 0; i < names->count; i++)
        tcr_list_add(&list, names->name[i]);
    return tcr_fail_at(reader, node,
                       "%s has nothing in it; write at least one of its lines below it, or take "
                       "away the # in front of one, or leave %s out; its lines are %s",
                       name, name, list.text);
}

/* A node that must be a block of keys. */
static tcr_status require_mapping(const tcr_set_reader *reader, const tcr_node *node,
                                  const tcr_block *block) {
    const key_names names = names_of(block);
    const char *name = block->name;
    tcr_quoted quoted;
    if (node->kind == TCR_NODE_MAPPING)
        return TCR_OK;
    if (tcr_tree_is_null(&reader->tree, node))
        return fail_empty(reader, node, name, &names);
    if (node->kind == TCR_NODE_SCALAR && explain_space(reader, node, &names))
        return reader->error->status;
    if (node->kind == TCR_NODE_SCALAR && strchr(text_of(reader, node), ':') != NULL)
        return tcr_fail_at(
            reader, node,
            "%s needs keys, such as %s; %s is none: is a space missing after its colon?", name,
            names.name[0], quote(reader, node, &quoted));
    return tcr_fail_at(reader, node, "%s needs keys with values, such as \"%s: ...\", not %s", name,
                       names.name[0], kind_of(reader, node, &quoted));
}

/* What the word of a field is called: those of the layers are placements. */
static const char *word_name(const tcr_field *field) {
    return field->words == tcr_fields(TCR_GROUP_PLACEMENT, NULL)->words ? "placement" : field->key;
}

/* The value of a field into its struct; a label is left. */
static tcr_status read_field(const tcr_set_reader *reader, const tcr_node *node,
                             const tcr_field *field, void *target) {
    double value = 0.0;
    if (field->kind == TCR_KIND_LABEL)
        return TCR_OK;
    tcr_status status;
    if (field->words != NULL) {
        const tcr_words words = tcr_words_of(field);
        size_t index = 0;
        status = field->kind == TCR_KIND_BOOL
                     ? tcr_read_bool(reader, node, field->key, &index)
                     : tcr_read_word(reader, node, word_name(field), &words, &index);
        value = (double)index;
    } else {
        status = tcr_read_number(reader, node, field, field->key, &value);
    }
    return status == TCR_OK ? tcr_field_put(field, target, value, reader->error) : status;
}

tcr_status tcr_read_block(const tcr_set_reader *reader, const tcr_node *node,
                          const tcr_block *block, void *target, unsigned *given) {
    const tcr_tree *tree = &reader->tree;
    const tcr_node *before = NULL, *value;
    const key_names names = names_of(block);
    tcr_status status = require_mapping(reader, node, block);
    const tcr_node *key = status == TCR_OK ? tcr_tree_child(tree, node) : NULL;
    for (; key != NULL; key = tcr_tree_next(tree, value)) {
        const tcr_field *field = find_field(block, text_of(reader, key), key->bytes);
        value = tcr_tree_next(tree, key);
        if (field == NULL && !is_known(&names, text_of(reader, key), key->bytes))
            return fail_unknown_key(reader, before, key, block);
        if (field != NULL && target != NULL)
            status = read_field(reader, value, field, target);
        if (status != TCR_OK)
            return status;
        if (field != NULL && given != NULL)
            *given |= field->bit;
        before = value;
    }
    return status;
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

tcr_status tcr_read_number(const tcr_set_reader *reader, const tcr_node *node,
                           const tcr_field *field, const char *name, double *value) {
    const tcr_status status = require_scalar(reader, node, name, "a number");
    tcr_quoted quoted;
    double unquoted;
    if (status != TCR_OK)
        return status;
    if (node->quoted && tcr_number_parse(text_of(reader, node), node->bytes, &unquoted))
        return tcr_fail_at(reader, node, "%s is %s in quotes; write the number without quotes",
                           name, quote(reader, node, &quoted));
    return tcr_key_read(field, name, text_of(reader, node), node->bytes, false, value,
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
    const tcr_status status = require_scalar(reader, node, name, "a word");
    if (status != TCR_OK)
        return status;
    return tcr_word_read(words, name, text_of(reader, node), node->bytes, index,
                         tcr_tree_place(&reader->tree, node), reader->error);
}

tcr_status tcr_read_bool(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         size_t *index) {
    tcr_quoted quoted;
    const tcr_status status = require_scalar(reader, node, name, "a word");
    if (status != TCR_OK)
        return status;
    *index = strcmp(text_of(reader, node), "true") == 0;
    if (!node->quoted && (*index == 1 || strcmp(text_of(reader, node), "false") == 0))
        return TCR_OK;
    return tcr_fail_at(reader, node, "%s is %s; write true or false%s", name,
                       quote(reader, node, &quoted), node->quoted ? " without quotes" : "");
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
    const tcr_tray *tray = tcr_set_tray(reader->file->set);
    char text[TCR_NUMBER_SIZE];
    tcr_list list = {0};
    if (tcr_tray_has(tray, length_mm))
        return TCR_OK;
    tcr_number_text(length_mm, text);
    tcr_list_tray(&list, tray);
    return tcr_fail_at(reader, node,
                       "length_mm is %s, which the tray lacks; it has %s; choose one of these, or "
                       "add it to the tray; to judge a set as it is, write tray: any",
                       text, list.text);
}
