/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is there already: the study that a folder has, held against the one in hand key by key, and
 * the points of its log. A log may end anywhere, since a process may be killed at any moment: what
 * is not whole is computed again. So are zeros at its end, which a machine that lost power can
 * leave in place of what was not yet on the disk.
 */
#define _XOPEN_SOURCE 700
#include "results/results.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "file/input.h"
#include "file/tree.h"
#include "num/memory.h"
#include "num/watch.h"

/* ---- Which study it is ----------------------------------------------------------------------- */

/* A value as messages show it. */
typedef struct shown {
    tcr_quoted text;
} shown;

static const char *show(shown *out, const char *text) {
    return *text != '\0' ? tcr_quote(&out->text, text, strlen(text)) : "empty";
}

static tcr_status fail_changed(tcr_error *error, const char *path, const char *key,
                               const char *there, const char *here) {
    const tcr_place place = {path, 0, 0};
    shown a, b;
    if (strcmp(key, "set") == 0)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "the set has changed since this study began (a lash, a curl or the tray); "
                        "change it back, or give -o another folder");
    if (here == NULL || there == NULL)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "the study has changed: %s %s; change it back, or give -o another folder",
                        key, here == NULL ? "is no longer there" : "is new");
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "the study has changed: %s was %s and is %s now; change it back, or give -o "
                    "another folder",
                    key, show(&a, there), show(&b, here));
}

static tcr_status fail_strange(tcr_error *error, const char *path) {
    return tcr_fail(error, TCR_E_CONTENT, (tcr_place){path, 0, 0},
                    "this is not what tipcrest study wrote; give -o another folder");
}

/* The text of a member of an item of the study; NULL where there is none. */
static const char *member_of(const tcr_tree *tree, const tcr_node *item, const char *name) {
    const tcr_node *node = item->kind == TCR_NODE_MAPPING ? tcr_tree_find(tree, item, name) : NULL;
    return node != NULL && node->kind == TCR_NODE_SCALAR ? tcr_tree_text(tree, node) : NULL;
}

/* Whether the study that a file has says anything of a key. */
static bool has_key(const tcr_tree *tree, const tcr_node *study, const char *key) {
    for (const tcr_node *i = tcr_tree_child(tree, study); i != NULL; i = tcr_tree_next(tree, i)) {
        const char *own = member_of(tree, i, "key");
        if (own != NULL && strcmp(own, key) == 0)
            return true;
    }
    return false;
}

/* Holds the record that a file has against the one in hand; the first difference is named. */
static tcr_status compare_items(const tcr_results *r, const tcr_tree *tree, const tcr_node *study,
                                tcr_error *error) {
    for (const tcr_node *i = tcr_tree_child(tree, study); i != NULL; i = tcr_tree_next(tree, i)) {
        const char *key = member_of(tree, i, "key"), *value = member_of(tree, i, "value");
        if (key == NULL || value == NULL)
            return fail_strange(error, tree->path);
        const char *here = tcr_record_find(&r->record, key);
        if (here == NULL || strcmp(here, value) != 0)
            return fail_changed(error, tree->path, key, value, here);
    }
    for (size_t i = 0; i < r->record.items; i++)
        if (!has_key(tree, study, r->record.item[i].key))
            return fail_changed(error, tree->path, r->record.item[i].key, NULL, "");
    return TCR_OK;
}

/* A whole number of an object; 0 where there is none. */
static size_t count_of(const tcr_tree *tree, const tcr_node *object, const char *key) {
    const tcr_node *node =
        object->kind == TCR_NODE_MAPPING ? tcr_tree_find(tree, object, key) : NULL;
    double number = 0.0;
    if (node == NULL || node->kind != TCR_NODE_SCALAR ||
        !tcr_number_parse(tcr_tree_text(tree, node), node->bytes, &number) ||
        !(number >= 0.0 && number <= TCR_PARTS_MAX))
        return 0;
    return (size_t)number;
}

static tcr_status compare_tree(const tcr_results *r, const tcr_tree *tree, tcr_found_study *found,
                               tcr_error *error) {
    const tcr_node *root = &tree->nodes[0];
    if (root->kind != TCR_NODE_MAPPING)
        return fail_strange(error, tree->path);
    const tcr_node *study = tcr_tree_find(tree, root, "study"),
                   *part = tcr_tree_find(tree, root, "part"),
                   *complete = tcr_tree_find(tree, root, "complete");
    if (study == NULL || study->kind != TCR_NODE_LIST || part == NULL || complete == NULL ||
        complete->kind != TCR_NODE_SCALAR)
        return fail_strange(error, tree->path);
    found->part = count_of(tree, part, "index");
    found->parts = count_of(tree, part, "of");
    found->complete = strcmp(tcr_tree_text(tree, complete), "true") == 0;
    if (found->part < 1 || found->part > found->parts)
        return fail_strange(error, tree->path);
    return compare_items(r, tree, study, error);
}

tcr_status tcr_results_compare(const tcr_results *r, const char *json, tcr_found_study *found,
                               tcr_error *error) {
    tcr_input input;
    tcr_tree tree;
    struct stat about;
    if (lstat(json, &about) != 0 && (errno == ENOENT || errno == ENOTDIR))
        return tcr_fail(error, TCR_E_CONTENT, (tcr_place){json, 0, 0},
                        "there is no study in this folder to go on with");
    tcr_status status = tcr_input_read(&r->allocator, json, TCR_SET_FILE_MAX, &input, error);
    if (status != TCR_OK)
        return status;
    status = tcr_tree_read_json(&r->allocator, input.bytes, input.size, json, &tree, error);
    if (status == TCR_OK)
        status = compare_tree(r, &tree, found, error);
    else if (status == TCR_E_CONTENT)
        status = fail_strange(error, json);
    tcr_tree_release(&r->allocator, &tree);
    tcr_input_release(&r->allocator, &input);
    return status;
}

/* ---- The log --------------------------------------------------------------------------------- */

/* A piece of a log: some points. */
typedef struct piece {
    size_t points;
    unsigned char *bytes;
    double *factor, *value;
    tcr_status *status;
} piece;

static size_t point_bytes(const tcr_results *r) { return r->runs * r->run_bytes; }

static tcr_status make_piece(const tcr_results *r, piece *p) {
    enum { EVALUATIONS = 4096 };
    const tcr_allocator *a = &r->allocator;
    p->points = r->runs < EVALUATIONS ? EVALUATIONS / r->runs : 1;
    const size_t evaluations = p->points * r->runs;
    p->bytes = tcr_resize(a, NULL, evaluations, r->run_bytes);
    p->factor = tcr_resize(a, NULL, p->points, r->factors * sizeof *p->factor);
    p->value = tcr_resize(a, NULL, evaluations, r->outputs * sizeof *p->value);
    p->status = tcr_resize(a, NULL, evaluations, sizeof *p->status);
    return p->bytes != NULL && p->factor != NULL && p->value != NULL && p->status != NULL
               ? TCR_OK
               : TCR_E_MEMORY;
}

static void release_piece(const tcr_results *r, piece *p) {
    tcr_release(&r->allocator, p->bytes);
    tcr_release(&r->allocator, p->factor);
    tcr_release(&r->allocator, p->value);
    tcr_release(&r->allocator, p->status);
}

static tcr_status fail_log(tcr_results *r, const char *path, int failed) {
    const tcr_place place = {path, 0, 0};
    if (failed != 0)
        return tcr_fail(r->error, TCR_E_OPEN, place, "cannot be read: system error %d", failed);
    return tcr_fail(r->error, TCR_E_CONTENT, place,
                    "this is not the log of this study; give -o another folder");
}

static bool is_zero(const unsigned char *bytes, size_t count) {
    while (count > 0 && bytes[count - 1] == 0)
        count--;
    return count == 0;
}

/* Points that a log has whole, behind a head that is 'head' bytes long. */
static int count_points(const tcr_results *r, tcr_growing *log, size_t head, bool cut, piece *p,
                        uint64_t *points) {
    struct stat about;
    int failed = fstat(log->fd, &about) != 0 ? errno : 0;
    const uint64_t size = failed == 0 ? (uint64_t)about.st_size : 0;
    *points = size > head ? (size - head) / point_bytes(r) : 0;
    while (failed == 0 && cut && *points > 0) {
        size_t got;
        failed = tcr_growing_go(log, head + (*points - 1) * point_bytes(r));
        if (failed == 0)
            failed = tcr_growing_read(log, p->bytes, point_bytes(r), &got);
        if (failed != 0 || !is_zero(p->bytes, point_bytes(r)))
            break;
        (*points)--;
    }
    return failed;
}

/* Takes in the next points of a log. */
static tcr_status take_piece(tcr_results *r, tcr_growing *log, piece *p, size_t points,
                             bool to_log) {
    const unsigned char *at = p->bytes;
    size_t got;
    const int failed = tcr_growing_read(log, p->bytes, points * point_bytes(r), &got);
    if (failed != 0 || got < points * point_bytes(r))
        return fail_log(r, log->path, failed != 0 ? failed : EIO);
    for (size_t i = 0; i < points * r->runs; i++) {
        const int32_t status = tcr_npy_get_int(at);
        p->status[i] = (tcr_status)(status < 0 || status >= TCR_STATUSES ? TCR_E_ARGUMENT : status);
        at += 4;
        for (size_t o = 0; o < r->outputs; o++, at += 8)
            p->value[i * r->outputs + o] = tcr_npy_get_double(at);
    }
    const tcr_status status = tcr_study_points(r->study, r->next, points, p->factor);
    if (status != TCR_OK)
        return tcr_results_fail(r->error, status, (tcr_place){log->path, 0, 0});
    const tcr_study_block block = {.first = r->next,
                                   .points = points,
                                   .runs = r->runs,
                                   .factors = r->factors,
                                   .outputs = r->outputs,
                                   .factor = p->factor,
                                   .value = p->value,
                                   .status = p->status};
    return tcr_rows_put(r, &block, to_log);
}

/* Whether a log begins with the head of a table for 'rows' rows; a log that is shorter than its
 * head is empty. */
static tcr_status check_head(tcr_results *r, tcr_growing *log, uint64_t rows, size_t *head_bytes,
                             bool *is_empty) {
    char *head;
    size_t got = 0;
    if (tcr_npy_head(&r->allocator, r->column + r->columns, r->run_columns, rows, &head,
                     head_bytes) != TCR_OK)
        return tcr_fail_memory(r->error, log->path);
    unsigned char *found = tcr_resize(&r->allocator, NULL, *head_bytes, 1);
    if (found == NULL) {
        tcr_release(&r->allocator, head);
        return tcr_fail_memory(r->error, log->path);
    }
    int failed = tcr_growing_go(log, 0);
    if (failed == 0)
        failed = tcr_growing_read(log, found, *head_bytes, &got);
    const bool same = failed == 0 && memcmp(found, head, got) == 0;
    tcr_release(&r->allocator, found);
    tcr_release(&r->allocator, head);
    *is_empty = got < *head_bytes;
    return same ? TCR_OK : fail_log(r, log->path, failed);
}

tcr_status tcr_log_take(tcr_results *r, tcr_growing *log, const tcr_log_use *use) {
    piece p = {0};
    size_t head = 0;
    uint64_t points = 0;
    bool is_empty = true;
    const uint64_t first = r->next;
    tcr_status status = make_piece(r, &p) == TCR_OK ? TCR_OK : tcr_fail_memory(r->error, log->path);
    if (status == TCR_OK)
        status = check_head(r, log, (use->end - first) * r->runs, &head, &is_empty);
    if (status == TCR_OK && !is_empty) {
        const int failed = count_points(r, log, head, use->go_on, &p, &points);
        if (failed != 0)
            status = fail_log(r, log->path, failed);
    }
    points = points < use->end - first ? points : use->end - first;
    if (status == TCR_OK && !is_empty && tcr_growing_go(log, head) != 0)
        status = fail_log(r, log->path, log->failed);
    tcr_watch caller = {use->progress, false};
    for (uint64_t left = points; left > 0 && status == TCR_OK;) {
        const size_t part = left < p.points ? (size_t)left : p.points;
        status = take_piece(r, log, &p, part, use->to_log);
        left -= part;
        if (status == TCR_OK &&
            tcr_watch_stops(&caller, "reading", 1.0 - (double)left / (double)points))
            status = tcr_fail(r->error, TCR_E_STOPPED, (tcr_place){log->path, 0, 0}, "%s",
                              tcr_status_text(TCR_E_STOPPED));
    }
    release_piece(r, &p);
    if (status == TCR_OK && use->go_on) {
        if (tcr_growing_cut(log, is_empty ? 0 : head + points * point_bytes(r)) != 0 ||
            (is_empty && tcr_growing_write(log, r->head, r->head_bytes) != 0))
            status = tcr_results_fail_write(r, TCR_RUNS_NPY);
    }
    return status;
}

/* ---- Parts ----------------------------------------------------------------------------------- */

static tcr_status fail_part(tcr_results *r, const char *path, const char *what, size_t part,
                            size_t parts) {
    return tcr_fail(r->error, TCR_E_CONTENT, (tcr_place){path, 0, 0}, "%s (part %zu of %zu)", what,
                    part, parts);
}

/* Takes in the part that lies in a folder, if it is the one that is wanted. */
static tcr_status take_part(tcr_results *r, const char *dir, size_t count, size_t wanted,
                            bool *taken) {
    tcr_found_study found = {0};
    char *json = tcr_results_path(&r->allocator, dir, TCR_STUDY_JSON),
         *npy = tcr_results_path(&r->allocator, dir, TCR_RUNS_NPY);
    tcr_growing *log = tcr_resize(&r->allocator, NULL, 1, sizeof *log);
    tcr_status status = json != NULL && npy != NULL && log != NULL
                            ? tcr_results_compare(r, json, &found, r->error)
                            : tcr_fail_memory(r->error, dir);
    if (status == TCR_OK && found.parts != count)
        status = fail_part(r, dir, "the number of folders is not that of the parts", found.part,
                           found.parts);
    else if (status == TCR_OK && !found.complete)
        status = fail_part(r, dir, "this part is not done; --resume goes on with it", found.part,
                           found.parts);
    else if (status == TCR_OK && found.part == wanted && *taken)
        status = fail_part(r, dir, "this part is here twice", found.part, found.parts);
    if (status == TCR_OK && log != NULL && found.part == wanted) {
        const uint64_t first = r->next;
        const tcr_log_use use = {.end = tcr_part_end(r->points, wanted, count), .to_log = true};
        const int failed = tcr_growing_read_only(log, npy);
        status = failed != 0 ? fail_log(r, npy, failed) : tcr_log_take(r, log, &use);
        if (status == TCR_OK && r->next != use.end)
            status = fail_log(r, npy, 0);
        tcr_growing_close(log);
        *taken = status == TCR_OK && r->next >= first;
    }
    tcr_release(&r->allocator, json);
    tcr_release(&r->allocator, npy);
    tcr_release(&r->allocator, log);
    return status;
}

tcr_status tcr_parts_take(tcr_results *r, const char *const *dirs, size_t count, size_t part) {
    bool taken = false;
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < count && status == TCR_OK; i++)
        status = take_part(r, dirs[i], count, part, &taken);
    if (status == TCR_OK && !taken)
        status = fail_part(r, r->dir != NULL ? r->dir : "", "no folder has this part", part, count);
    return status;
}
