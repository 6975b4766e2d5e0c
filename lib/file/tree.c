/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Nodes hung into a tree. What is open is kept in a stack of fixed depth, so nothing here calls
 * itself.
 */
#include "file/tree.h"

#include <string.h>

#include "num/memory.h"

tcr_tree_builder tcr_tree_begin(const tcr_allocator *allocator, const char *path, tcr_tree *tree,
                                tcr_error *error) {
    *tree = (tcr_tree){.path = path};
    return (tcr_tree_builder){.allocator = allocator, .tree = tree, .error = error};
}

/* Appends a node to what is open. The tree's first node is its root. */
static tcr_status add_node(tcr_tree_builder *build, tcr_node node, tcr_place place) {
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
    tcr_level *parent = &build->open[build->depth - 1];
    if (parent->last == 0)
        tree->nodes[parent->node].child = index;
    else
        tree->nodes[parent->last].next = index;
    parent->last = index;
    parent->count++;
    return TCR_OK;
}

bool tcr_tree_key_is_due(const tcr_tree_builder *build) {
    if (build->depth == 0)
        return false;
    const tcr_level *parent = &build->open[build->depth - 1];
    return build->tree->nodes[parent->node].kind == TCR_NODE_MAPPING && parent->count % 2 == 0;
}

char *tcr_tree_room(const tcr_tree_builder *build, size_t bytes) {
    tcr_tree *tree = build->tree;
    if (bytes >= tree->text_capacity - tree->text_size) {
        const size_t more = tree->text_capacity + tree->text_capacity / 2 + bytes + 256;
        char *text = tcr_resize(build->allocator, tree->text, more, 1);
        if (text == NULL)
            return NULL;
        tree->text = text;
        tree->text_capacity = more;
    }
    return tree->text + tree->text_size;
}

/* A key must be new to its mapping, and there must not be too many. */
static tcr_status check_key(const tcr_tree_builder *build, const tcr_node *key, tcr_place place) {
    const tcr_tree *tree = build->tree;
    const tcr_level *parent = &build->open[build->depth - 1];
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

tcr_status tcr_tree_add_scalar(tcr_tree_builder *build, size_t bytes, bool quoted,
                               tcr_place place) {
    tcr_tree *tree = build->tree;
    const tcr_node node = {.kind = TCR_NODE_SCALAR,
                           .quoted = quoted,
                           .text = (uint32_t)tree->text_size,
                           .bytes = (uint32_t)bytes};
    tree->text[tree->text_size + bytes] = '\0';
    const tcr_status status = tcr_tree_key_is_due(build) ? check_key(build, &node, place) : TCR_OK;
    if (status != TCR_OK)
        return status;
    tree->text_size += bytes + 1;
    return add_node(build, node, place);
}

tcr_status tcr_tree_open(tcr_tree_builder *build, tcr_node_kind kind, tcr_place place) {
    if (tcr_tree_key_is_due(build))
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "a key must be a word, not a list or a block of keys");
    if (build->depth == TCR_TREE_DEPTH_MAX)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "lists and blocks lie too deep in each other; at most 32");
    const tcr_status status = add_node(build, (tcr_node){.kind = kind}, place);
    if (status == TCR_OK)
        build->open[build->depth++] = (tcr_level){.node = (uint32_t)build->tree->node_count - 1};
    return status;
}

void tcr_tree_close(tcr_tree_builder *build) { build->depth--; }

tcr_status tcr_tree_end(const tcr_tree_builder *build) {
    if (build->tree->node_count > 0)
        return TCR_OK;
    return tcr_fail(build->error, TCR_E_CONTENT, (tcr_place){build->tree->path, 1, 1},
                    "the file is empty; a set file begins with the line tipcrest: 1");
}

void tcr_tree_release(const tcr_allocator *allocator, tcr_tree *tree) {
    tcr_release(allocator, tree->nodes);
    tcr_release(allocator, tree->text);
    *tree = (tcr_tree){0};
}

const tcr_node *tcr_tree_find(const tcr_tree *tree, const tcr_node *mapping, const char *key) {
    const size_t bytes = strlen(key);
    const tcr_node *at = mapping->kind == TCR_NODE_MAPPING ? tcr_tree_child(tree, mapping) : NULL;
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
