/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_TREE_H
#define TCR_FILE_TREE_H

/*
 * A document as a tree of nodes that know where they stand: mappings, lists and scalars, no key
 * twice, and no more of anything than the limits below. Whoever reads a format feeds the tree:
 * yaml_reader.c with libyaml's events, json_reader.c by itself.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/alloc.h>

#include "file/error.h"

enum {
    TCR_TREE_DEPTH_MAX = 32,
    TCR_TREE_NODES_MAX = 100000,
    TCR_MAPPING_KEYS_MAX =
        1000 /* so that looking for keys given twice takes no square of a large number */
};

typedef enum tcr_node_kind { TCR_NODE_SCALAR, TCR_NODE_LIST, TCR_NODE_MAPPING } tcr_node_kind;

/* Nodes refer to others by their numbers; 0, the root's, means none. */
typedef struct tcr_node {
    tcr_node_kind kind;
    bool quoted;           /* a scalar that is not plain */
    uint32_t line, column; /* from 1 */
    uint32_t child;        /* the first; of a mapping, its first key, followed by its value */
    uint32_t next;         /* the next of the same parent */
    uint32_t text, bytes;  /* of a scalar: where it stands in the tree's text, and its length */
} tcr_node;

typedef struct tcr_tree {
    const char *path;
    tcr_node *nodes;
    size_t node_count, node_capacity;
    char *text; /* of all scalars, each ended by a NUL */
    size_t text_size, text_capacity;
} tcr_tree;

/*
 * Reads a document: YAML with JSON as its part, or in a build without libyaml JSON alone
 * (json_only.c). TCR_E_CONTENT, TCR_E_MEMORY. A tree is to be released also after a failure.
 */
tcr_status tcr_tree_read(const tcr_allocator *allocator, const char *bytes, size_t size,
                         const char *path, tcr_tree *tree, tcr_error *error);

/* The same for JSON alone (RFC 8259), in every build. */
tcr_status tcr_tree_read_json(const tcr_allocator *allocator, const char *bytes, size_t size,
                              const char *path, tcr_tree *tree, tcr_error *error);
void tcr_tree_release(const tcr_allocator *allocator, tcr_tree *tree);

static inline const tcr_node *tcr_tree_child(const tcr_tree *tree, const tcr_node *node) {
    return node->child != 0 ? &tree->nodes[node->child] : NULL;
}

static inline const tcr_node *tcr_tree_next(const tcr_tree *tree, const tcr_node *node) {
    return node->next != 0 ? &tree->nodes[node->next] : NULL;
}

static inline const char *tcr_tree_text(const tcr_tree *tree, const tcr_node *scalar) {
    return tree->text + scalar->text;
}

static inline tcr_place tcr_tree_place(const tcr_tree *tree, const tcr_node *node) {
    return (tcr_place){tree->path, node->line, node->column};
}

/* The value of a key of a mapping; NULL where it lacks the key, and for a node that is none. */
const tcr_node *tcr_tree_find(const tcr_tree *tree, const tcr_node *mapping, const char *key);

/* The children of a list, or the pairs of a mapping. */
size_t tcr_tree_count(const tcr_tree *tree, const tcr_node *node);

/* Whether a node is a scalar without a value: nothing, ~ or null. */
bool tcr_tree_is_null(const tcr_tree *tree, const tcr_node *node);

/* ---- What a reader of a format calls; each fails with TCR_E_CONTENT or TCR_E_MEMORY ------------
 */

/* A mapping or list whose end has not come yet. */
typedef struct tcr_level {
    uint32_t node;
    uint32_t last;  /* its last child, 0 before the first */
    uint32_t count; /* of its children, keys and values both */
} tcr_level;

typedef struct tcr_tree_builder {
    const tcr_allocator *allocator;
    tcr_tree *tree;
    tcr_error *error;
    tcr_level open[TCR_TREE_DEPTH_MAX];
    size_t depth;
} tcr_tree_builder;

/* Begins a tree. */
tcr_tree_builder tcr_tree_begin(const tcr_allocator *allocator, const char *path, tcr_tree *tree,
                                tcr_error *error);

/* Room for the text of the next scalar, at most so many bytes; NULL without memory. */
char *tcr_tree_room(const tcr_tree_builder *build, size_t bytes);

/* Adds a scalar, whose text is the first bytes of that room. */
tcr_status tcr_tree_add_scalar(tcr_tree_builder *build, size_t bytes, bool quoted, tcr_place place);

/* Opens a list or a mapping: what is added next belongs to it. */
tcr_status tcr_tree_open(tcr_tree_builder *build, tcr_node_kind kind, tcr_place place);

/* Closes what was opened last; something must be open. */
void tcr_tree_close(tcr_tree_builder *build);

/* Whether the next node is a key of the mapping that is open. */
bool tcr_tree_key_is_due(const tcr_tree_builder *build);

/* Fails for a document with nothing in it. */
tcr_status tcr_tree_end(const tcr_tree_builder *build);

#endif
