/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Set files: the document's own keys, the order in which its sections reach the set, and the digest
 * of all inputs. Keys may stand in any order in the file, so what others need is read first.
 */
#include "file/set_file.h"

#include <string.h>

#include <tipcrest/version.h>

#include "num/memory.h"

typedef tcr_status (*section_reader)(const tcr_set_reader *reader, const tcr_node *node);

static tcr_status read_title(const tcr_set_reader *reader, const tcr_node *node) {
    const char *title;
    tcr_status status = tcr_read_text(reader, node, "title", "a text", &title);
    if (status != TCR_OK)
        return status;
    if (strlen(title) >= TCR_TITLE_SIZE_MAX)
        return tcr_fail_at(reader, node, "the title is too long; it may have at most %d bytes",
                           (int)TCR_TITLE_SIZE_MAX - 1);
    return tcr_accept_at(reader, node, tcr_set_put_title(reader->file->set, title));
}

static tcr_status read_subject(const tcr_set_reader *reader, const tcr_node *node) {
    size_t index = 0;
    const tcr_status status = tcr_read_word(reader, node, "subject", &tcr_words_subject, &index);
    if (status != TCR_OK)
        return status;
    return tcr_accept_at(reader, node, tcr_set_put_subject(reader->file->set, (tcr_subject)index));
}

/* The format comes first: what follows may be meant for another version. */
static tcr_status check_format(const tcr_set_reader *reader, const tcr_node *root) {
    static const tcr_field FORMAT = {
        .key = "tipcrest", .kind = TCR_KIND_INT, .unit = TCR_UNIT_COUNT, .file = {1, 1e9, 1}};
    const tcr_node *node = tcr_tree_find(&reader->tree, root, "tipcrest");
    double format;
    if (node == NULL)
        return tcr_fail_at(reader, root,
                           "tipcrest is missing; a set file begins with the line tipcrest: 1");
    const tcr_status status = tcr_read_number(reader, node, &FORMAT, FORMAT.key, &format);
    if (status == TCR_OK && format != TCR_FORMAT)
        return tcr_fail_at(reader, node,
                           "the format is %d, but this version reads format %d; a newer "
                           "tipcrest may read it",
                           (int)format, TCR_FORMAT);
    return status;
}

static tcr_status read_root(tcr_set_reader *reader) {
    static const char *const KEYS[] = {"tipcrest",  "title", "subject", "eyes",  "layering",
                                       "mean_lash", "tray",  "bond",    "curls", "line",
                                       "plan",      "pace",  NULL};
    static const struct {
        const char *key;
        section_reader read;
    } SECTIONS[] = {
        {"title", read_title},   {"subject", read_subject},         {"curls", tcr_read_curls},
        {"tray", tcr_read_tray}, {"layering", tcr_read_layering},   {"bond", tcr_read_bond},
        {"line", tcr_read_line}, {"mean_lash", tcr_read_mean_lash}, {"plan", tcr_read_plan},
        {"pace", tcr_read_pace},
    };
    const tcr_tree *tree = &reader->tree;
    const tcr_node *root = &tree->nodes[0], *eyes;
    tcr_view view = *tcr_set_view(reader->file->set);
    tcr_block block = tcr_block_of(TCR_GROUP_VIEW, "the set file", "in a set file");
    block.before = KEYS;
    if (tcr_tree_is_null(tree, root))
        return tcr_fail_at(reader, root,
                           "the file is empty; a set file begins with the line tipcrest: 1");
    if (root->kind != TCR_NODE_MAPPING)
        return tcr_fail_at(reader, root,
                           "this is not a set file; one has lines like \"key: value\" and begins "
                           "with tipcrest: 1");
    tcr_status status = check_format(reader, root);
    if (status == TCR_OK)
        status = tcr_read_block(reader, root, &block, &view, NULL);
    if (status == TCR_OK)
        status = tcr_read_required(reader, root, "a set has one eye or two", "eyes", &eyes);
    if (status == TCR_OK)
        status = tcr_accept_at(reader, root, tcr_set_put_view(reader->file->set, &view));
    for (size_t i = 0; status == TCR_OK && i < sizeof SECTIONS / sizeof SECTIONS[0]; i++) {
        const tcr_node *node = tcr_tree_find(tree, root, SECTIONS[i].key);
        if (node != NULL)
            status = SECTIONS[i].read(reader, node);
    }
    return status == TCR_OK ? tcr_read_eyes(reader, eyes) : status;
}

/* ---- Files that are no set files ------------------------------------------------------------- */

static tcr_status check_kind(const char *bytes, size_t size, const char *path, tcr_error *error) {
    const tcr_place place = {path, 0, 0};
    const char *kind = tcr_input_kind(bytes, size);
    const size_t mark = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    if (kind != NULL)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "this is %s, not a set file; a set file is text, such as tipcrest begin "
                        "writes",
                        kind);
    if (size >= mark + 3 &&
        (memcmp(bytes + mark, "id,", 3) == 0 || memcmp(bytes + mark, "id;", 3) == 0))
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "this is a survey; give the set file that names it");
    return TCR_OK;
}

/* ---- Objects --------------------------------------------------------------------------------- */

static tcr_status new_file(const tcr_allocator *allocator, const char *path, tcr_set_file **file) {
    tcr_set_file *made = tcr_resize(allocator, NULL, 1, sizeof *made);
    const size_t bytes = strlen(path) + 1;
    if (made == NULL)
        return TCR_E_MEMORY;
    *made = (tcr_set_file){.allocator = *allocator,
                           .inputs = 1,
                           .limits = tcr_limits_default(),
                           .pace = tcr_plan_pace_default()};
    made->input[0] = tcr_resize(allocator, NULL, bytes, 1);
    tcr_status status = made->input[0] != NULL ? tcr_set_new(allocator, &made->set) : TCR_E_MEMORY;
    if (status != TCR_OK) {
        tcr_set_file_free(made);
        return status;
    }
    memcpy(made->input[0], path, bytes);
    *file = made;
    return TCR_OK;
}

tcr_status tcr_set_file_build(const char *bytes, size_t size, const char *path,
                              tcr_survey_read read_survey, void *surveys,
                              const tcr_allocator *allocator, tcr_set_file **file,
                              tcr_error *error) {
    tcr_set_reader reader = {.allocator = allocator,
                             .path = path,
                             .read_survey = read_survey,
                             .surveys = surveys,
                             .error = error};
    tcr_status status = check_kind(bytes, size, path, error);
    if (status == TCR_OK)
        status = tcr_tree_read(allocator, bytes, size, path, &reader.tree, error);
    if (status == TCR_OK)
        status =
            tcr_accept(error, new_file(allocator, path, &reader.file), (tcr_place){path, 0, 0});
    if (status == TCR_OK) {
        tcr_sha256_begin(&reader.digest);
        tcr_sha256_add(&reader.digest, bytes, size);
        status = read_root(&reader);
    }
    tcr_tree_release(allocator, &reader.tree);
    if (status != TCR_OK) {
        tcr_set_file_free(reader.file);
        return status;
    }
    tcr_digest_text(&reader.digest, reader.file->digest);
    *file = reader.file;
    return TCR_OK;
}

tcr_status tcr_set_file_parse(const char *bytes, size_t size, const char *path,
                              tcr_survey_find find, void *context, const tcr_allocator *allocator,
                              tcr_set_file **file, tcr_error *error) {
    tcr_error unseen;
    tcr_allocator chosen;
    tcr_input_host host = {find, context};
    if (error == NULL)
        error = &unseen;
    if (bytes == NULL || path == NULL || file == NULL ||
        tcr_allocator_choose(allocator, &chosen) != TCR_OK)
        return tcr_fail(error, TCR_E_ARGUMENT, (tcr_place){path != NULL ? path : "", 0, 0}, "%s",
                        tcr_status_text(TCR_E_ARGUMENT));
    if (size > TCR_SET_FILE_MAX)
        return tcr_input_fail_large(error, (tcr_place){path, 0, 0}, TCR_SET_FILE_MAX);
    return tcr_set_file_build(bytes, size, path, tcr_input_hand_over, &host, &chosen, file, error);
}

void tcr_set_file_free(tcr_set_file *file) {
    if (file == NULL)
        return;
    const tcr_allocator allocator = file->allocator;
    tcr_set_free(file->set);
    for (size_t i = 0; i < file->inputs; i++)
        tcr_release(&allocator, file->input[i]);
    for (size_t side = 0; side < TCR_SIDES; side++)
        tcr_survey_rows_release(&allocator, &file->eye[side].rows);
    tcr_release(&allocator, file);
}

const tcr_set *tcr_set_file_set(const tcr_set_file *file) {
    return file != NULL ? file->set : NULL;
}

const char *tcr_set_file_digest(const tcr_set_file *file) {
    return file != NULL ? file->digest : NULL;
}

size_t tcr_set_file_input_count(const tcr_set_file *file) {
    return file != NULL ? file->inputs : 0;
}

const char *tcr_set_file_input(const tcr_set_file *file, size_t i) {
    return file != NULL && i < file->inputs ? file->input[i] : NULL;
}

tcr_limits tcr_set_file_plan_limits(const tcr_set_file *file) {
    return file != NULL ? file->limits : tcr_limits_default();
}

tcr_plan_pace tcr_set_file_pace(const tcr_set_file *file) {
    return file != NULL ? file->pace : tcr_plan_pace_default();
}
