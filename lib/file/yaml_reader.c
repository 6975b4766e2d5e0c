/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * libyaml's event parser, its events hung into a tree. What is open is kept in a stack of fixed
 * depth, so nothing here calls itself.
 */
#include "file/yaml_reader.h"

#include <string.h>

#include <yaml.h>

#include "file/yaml_problem.h"
#include "num/memory.h"

/* A mapping or list whose end has not come yet. */
typedef struct level {
    uint32_t node;
    uint32_t last;  /* its last child, 0 before the first */
    uint32_t count; /* of its children, keys and values both */
} level;

typedef struct builder {
    const tcr_allocator *allocator;
    tcr_tree *tree;
    tcr_error *error;
    level open[TCR_TREE_DEPTH_MAX];
    size_t depth;
} builder;

static tcr_place place_of(const builder *build, yaml_mark_t mark) {
    return (tcr_place){build->tree->path, mark.line + 1, mark.column + 1};
}

/* Anchors and tags come with the event of the node that they stand before. */
static tcr_status refuse_extras(const builder *build, const yaml_event_t *event,
                                const yaml_char_t *anchor, const yaml_char_t *tag) {
    const tcr_place place = place_of(build, event->start_mark);
    if (anchor != NULL)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "names with & (anchors) are not used in set files; put a text that begins "
                        "with & in quotes");
    if (tag != NULL)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "types with ! (tags) are not used in set files; put a text that begins "
                        "with ! in quotes");
    return TCR_OK;
}

/* Appends a node to what is open. The tree's first node is its root. */
static tcr_status add_node(builder *build, tcr_node node, tcr_place place) {
    tcr_tree *tree = build->tree;
    if (tree->node_count >= TCR_TREE_NODES_MAX)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "the file has too many parts; it may have at most 100000");
    if (tcr_grow(build->allocator, (void **)&tree->nodes, tree->node_count, &tree->node_capacity,
                 sizeof *tree->nodes) != TCR_OK)
        return tcr_fail_memory(build->error, tree->path);
    const uint32_t index = (uint32_t)tree->node_count++;
    node.line = (uint32_t)place.line;
    node.column = (uint32_t)place.column;
    tree->nodes[index] = node;
    if (build->depth == 0)
        return TCR_OK;
    level *parent = &build->open[build->depth - 1];
    if (parent->last == 0)
        tree->nodes[parent->node].child = index;
    else
        tree->nodes[parent->last].next = index;
    parent->last = index;
    parent->count++;
    return TCR_OK;
}

/* Whether the next node is a key of the mapping that is open. */
static bool key_is_due(const builder *build) {
    if (build->depth == 0)
        return false;
    const level *parent = &build->open[build->depth - 1];
    return build->tree->nodes[parent->node].kind == TCR_NODE_MAPPING && parent->count % 2 == 0;
}

/* Copies a scalar's text behind that of the others. */
static tcr_status add_text(builder *build, const yaml_event_t *event, tcr_node *node) {
    tcr_tree *tree = build->tree;
    const size_t bytes = event->data.scalar.length;
    if (bytes >= tree->text_capacity - tree->text_size) {
        const size_t more = tree->text_capacity + tree->text_capacity / 2 + bytes + 256;
        char *text = tcr_resize(build->allocator, tree->text, more, 1);
        if (text == NULL)
            return tcr_fail_memory(build->error, tree->path);
        tree->text = text;
        tree->text_capacity = more;
    }
    memcpy(tree->text + tree->text_size, event->data.scalar.value, bytes);
    tree->text[tree->text_size + bytes] = '\0';
    node->text = (uint32_t)tree->text_size;
    node->bytes = (uint32_t)bytes;
    tree->text_size += bytes + 1;
    return TCR_OK;
}

/* A key must be new to its mapping, and there must not be too many. */
static tcr_status check_key(builder *build, const tcr_node *key, tcr_place place) {
    const tcr_tree *tree = build->tree;
    const level *parent = &build->open[build->depth - 1];
    const char *text = tcr_tree_text(tree, key);
    if (parent->count / 2 >= TCR_MAPPING_KEYS_MAX)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "there are too many keys here; at most 1000");
    const tcr_node *other = tcr_tree_child(tree, &tree->nodes[parent->node]);
    while (other != NULL) {
        if (other->bytes == key->bytes &&
            memcmp(tcr_tree_text(tree, other), text, key->bytes) == 0) {
            tcr_quoted quoted;
            return tcr_fail(build->error, TCR_E_CONTENT, place,
                            "key %s is here twice; it was given in line %lu already",
                            tcr_quote(&quoted, text, key->bytes), (unsigned long)other->line);
        }
        other = tcr_tree_next(tree, tcr_tree_next(tree, other));
    }
    return TCR_OK;
}

static tcr_status add_scalar(builder *build, const yaml_event_t *event) {
    const tcr_place place = place_of(build, event->start_mark);
    tcr_node node = {.kind = TCR_NODE_SCALAR,
                     .quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE};
    tcr_status status =
        refuse_extras(build, event, event->data.scalar.anchor, event->data.scalar.tag);
    if (status == TCR_OK)
        status = add_text(build, event, &node);
    if (status == TCR_OK && key_is_due(build))
        status = check_key(build, &node, place);
    return status == TCR_OK ? add_node(build, node, place) : status;
}

static tcr_status open_level(builder *build, const yaml_event_t *event, tcr_node_kind kind,
                             const yaml_char_t *anchor, const yaml_char_t *tag) {
    const tcr_place place = place_of(build, event->start_mark);
    tcr_status status = refuse_extras(build, event, anchor, tag);
    if (status != TCR_OK)
        return status;
    if (key_is_due(build))
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "a key must be a word, not a list or a block of keys");
    if (build->depth == TCR_TREE_DEPTH_MAX)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "lists and blocks lie too deep in each other; at most 32");
    status = add_node(build, (tcr_node){.kind = kind}, place);
    if (status == TCR_OK)
        build->open[build->depth++] = (level){.node = (uint32_t)build->tree->node_count - 1};
    return status;
}

static tcr_status start_document(builder *build, const yaml_event_t *event) {
    const tcr_place place = place_of(build, event->start_mark);
    if (build->tree->node_count > 0)
        return tcr_fail(
            build->error, TCR_E_CONTENT, place,
            "a second document begins here; a set file is one, without a line --- in between");
    if (event->data.document_start.tag_directives.start !=
        event->data.document_start.tag_directives.end)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "lines with %%TAG are not used in set files");
    return TCR_OK;
}

static tcr_status take(builder *build, const yaml_event_t *event) {
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        return start_document(build, event);
    case YAML_ALIAS_EVENT:
        return tcr_fail(build->error, TCR_E_CONTENT, place_of(build, event->start_mark),
                        "references with * (aliases) are not used in set files; put a text that "
                        "begins with * in quotes");
    case YAML_SCALAR_EVENT:
        return add_scalar(build, event);
    case YAML_SEQUENCE_START_EVENT:
        return open_level(build, event, TCR_NODE_LIST, event->data.sequence_start.anchor,
                          event->data.sequence_start.tag);
    case YAML_MAPPING_START_EVENT:
        return open_level(build, event, TCR_NODE_MAPPING, event->data.mapping_start.anchor,
                          event->data.mapping_start.tag);
    case YAML_SEQUENCE_END_EVENT:
    case YAML_MAPPING_END_EVENT:
        build->depth--;
        return TCR_OK;
    default:
        return TCR_OK;
    }
}

tcr_status tcr_tree_read(const tcr_allocator *allocator, const char *bytes, size_t size,
                         const char *path, tcr_tree *tree, tcr_error *error) {
    yaml_parser_t parser;
    builder build = {.allocator = allocator, .tree = tree, .error = error};
    *tree = (tcr_tree){.path = path};
    if (!yaml_parser_initialize(&parser))
        return tcr_fail_memory(error, path);
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, size);
    tcr_status status = TCR_OK;
    bool ended = false;
    while (status == TCR_OK && !ended) {
        yaml_event_t event;
        if (!yaml_parser_parse(&parser, &event)) {
            status = tcr_yaml_problem(&parser, bytes, size, path, error);
            break;
        }
        ended = event.type == YAML_STREAM_END_EVENT;
        status = take(&build, &event);
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    if (status == TCR_OK && tree->node_count == 0)
        status = tcr_fail(error, TCR_E_CONTENT, (tcr_place){path, 1, 1},
                          "the file is empty; a set file begins with the line tipcrest: 1");
    return status;
}

void tcr_tree_release(const tcr_allocator *allocator, tcr_tree *tree) {
    tcr_release(allocator, tree->nodes);
    tcr_release(allocator, tree->text);
    *tree = (tcr_tree){0};
}

const tcr_node *tcr_tree_find(const tcr_tree *tree, const tcr_node *mapping, const char *key) {
    const size_t bytes = strlen(key);
    const tcr_node *at = tcr_tree_child(tree, mapping);
    while (at != NULL) {
        const tcr_node *value = tcr_tree_next(tree, at);
        if (at->bytes == bytes && memcmp(tcr_tree_text(tree, at), key, bytes) == 0)
            return value;
        at = tcr_tree_next(tree, value);
    }
    return NULL;
}

size_t tcr_tree_count(const tcr_tree *tree, const tcr_node *node) {
    size_t count = 0;
    for (const tcr_node *at = tcr_tree_child(tree, node); at != NULL; at = tcr_tree_next(tree, at))
        count++;
    return node->kind == TCR_NODE_MAPPING ? count / 2 : count;
}

bool tcr_tree_is_null(const tcr_tree *tree, const tcr_node *node) {
    if (node->kind != TCR_NODE_SCALAR || node->quoted)
        return false;
    const char *text = tcr_tree_text(tree, node);
    return node->bytes == 0 || strcmp(text, "~") == 0 || strcmp(text, "null") == 0;
}
