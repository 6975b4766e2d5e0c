/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_SAME_TREE_H
#define TCR_TESTS_FILE_SAME_TREE_H

/* Two trees held against each other, places included. */

#include <string.h>

#include "file/tree.h"

static inline bool same_node(const tcr_tree *a, const tcr_tree *b, size_t i) {
    const tcr_node *x = &a->nodes[i], *y = &b->nodes[i];
    return x->kind == y->kind && x->quoted == y->quoted && x->line == y->line &&
           x->column == y->column && x->child == y->child && x->next == y->next &&
           x->bytes == y->bytes &&
           (x->kind != TCR_NODE_SCALAR ||
            memcmp(tcr_tree_text(a, x), tcr_tree_text(b, y), (size_t)x->bytes + 1) == 0);
}

/* Number of the first node that differs; the count of nodes where none does. */
static inline size_t first_difference(const tcr_tree *a, const tcr_tree *b) {
    size_t i = 0;
    while (i < a->node_count && i < b->node_count && same_node(a, b, i))
        i++;
    return i;
}

static inline bool same_tree(const tcr_tree *a, const tcr_tree *b) {
    return a->node_count == b->node_count && first_difference(a, b) == a->node_count;
}

#endif
