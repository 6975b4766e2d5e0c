/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In place of yaml_reader.c where there is no libyaml: documents are JSON. */
#include "file/tree.h"

tcr_status tcr_tree_read(const tcr_allocator *allocator, const char *bytes, size_t size,
                         const char *path, tcr_tree *tree, tcr_error *error) {
    return tcr_tree_read_json(allocator, bytes, size, path, tree, error);
}
