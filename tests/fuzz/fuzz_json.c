/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any bytes as JSON: what is refused says why, and what YAML's reader accepts too gives the same
 * tree. Then any bytes as a set file in memory, with a survey from the same bytes.
 */
#include "fuzz/target.h"

#include <string.h>

#include "file/same_tree.h"
#include "fuzz/claim.h"
#include "fuzz/harsh.h"

/* YAML breaks lines at three characters that are like any other in JSON. */
static bool has_breaks(const uint8_t *data, size_t size) {
    for (size_t i = 0; i + 1 < size; i++) {
        if (data[i] == 0xC2 && data[i + 1] == 0x85)
            return true;
        if (i + 2 < size && data[i] == 0xE2 && data[i + 1] == 0x80 && (data[i + 2] & 0xFE) == 0xA8)
            return true;
    }
    return false;
}

static tcr_status read_json(const uint8_t *data, size_t size, const tcr_allocator *allocator,
                            tcr_tree *tree) {
    tcr_error error;
    memset(&error, 0, sizeof error);
    const tcr_status status =
        tcr_tree_read_json(allocator, (const char *)data, size, "set.json", tree, &error);
    if (status != TCR_OK)
        tcr_claim_error(status, &error);
    return status;
}

static void compare(const uint8_t *data, size_t size, const tcr_allocator *allocator,
                    const tcr_tree *tree) {
    tcr_error error;
    tcr_tree other;
    const tcr_status status =
        tcr_tree_read(allocator, (const char *)data, size, "set.json", &other, &error);
    claim(status != TCR_OK || has_breaks(data, size) || same_tree(tree, &other),
          "node %zu differs from YAML's", first_difference(tree, &other));
    tcr_tree_release(allocator, &other);
}

typedef struct bytes {
    const uint8_t *data;
    size_t size;
} bytes;

static const char *find(void *context, const char *name, size_t *size) {
    const bytes *survey = context;
    *size = survey->size;
    return name[0] != 'x' ? (const char *)survey->data : NULL;
}

/* Behind a NUL stands the survey. */
static void parse(const uint8_t *data, size_t size, const tcr_allocator *allocator) {
    const uint8_t *nul = size > 0 ? memchr(data, '\0', size) : NULL;
    const size_t first = nul != NULL ? (size_t)(nul - data) : size;
    bytes survey = {data + first, size - first};
    tcr_error error;
    tcr_set_file *file;
    memset(&error, 0, sizeof error);
    tcr_mark(&file, sizeof file);
    const tcr_status status =
        tcr_set_file_parse(size > 0 ? (const char *)data : "", first, "set.json", find, &survey,
                           allocator, &file, &error);
    tcr_claim_untouched("tcr_set_file_parse", status, &file, sizeof file);
    if (status == TCR_OK)
        tcr_set_file_free(file);
    else
        tcr_claim_error(status, &error);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    tcr_harsh enough = {0};
    const tcr_allocator allocator = tcr_harsh_allocator(&enough);
    tcr_tree tree;
    if (read_json(data, size, &allocator, &tree) == TCR_OK)
        compare(data, size, &allocator, &tree);
    tcr_tree_release(&allocator, &tree);
    parse(data, size, &allocator);
    claim(enough.blocks == 0, "%zu blocks were not given back", enough.blocks);
    if (enough.calls == 0)
        return 0;
    tcr_harsh scarce = {.fail_at = 1 + tcr_hash(data, size) % enough.calls};
    const tcr_allocator failing = tcr_harsh_allocator(&scarce);
    (void)read_json(data, size, &failing, &tree);
    tcr_tree_release(&failing, &tree);
    parse(data, size, &failing);
    claim(scarce.blocks == 0, "%zu blocks were not given back without memory", scarce.blocks);
    return 0;
}
