/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_SET_FILE_H
#define TCR_FILE_SET_FILE_H

/*
 * How a set file becomes a set: the document is read into a tree, then each section of the tree is
 * read by a function of its own and given to the set, in the order in which they need each other.
 */

#include <stdbool.h>
#include <stdint.h>

#include <tipcrest/file.h>

#include "file/digest.h"
#include "file/error.h"
#include "file/input.h"
#include "file/keys.h"
#include "file/survey.h"
#include "file/tree.h"

typedef struct tcr_file_place {
    uint32_t line, column;
} tcr_file_place;

/* Where an eye stands in the files, for faults that show only when the set is checked. */
typedef struct tcr_file_eye {
    uint32_t line, column; /* of the eye in the set file */
    size_t input;          /* its survey, as number of the input; 0 where it is described */
    tcr_survey_rows rows;
    tcr_file_place zone[TCR_ZONES_MAX];
} tcr_file_eye;

enum { TCR_INPUTS_MAX = 1 + TCR_SIDES };

struct tcr_set_file {
    tcr_allocator allocator;
    tcr_set *set;
    char digest[TCR_DIGEST_SIZE];
    char *input[TCR_INPUTS_MAX]; /* paths, the set file first */
    size_t inputs;
    tcr_file_eye eye[TCR_SIDES];
    tcr_limits limits;
    tcr_plan_pace pace;
};

/* What the reading of one set file needs. */
typedef struct tcr_set_reader {
    const tcr_allocator *allocator;
    const char *path;
    tcr_survey_read read_survey;
    void *surveys; /* its context */
    tcr_tree tree;
    tcr_set_file *file;
    tcr_sha256 digest;
    tcr_error *error;
} tcr_set_reader;

/*
 * Reads a set file whose bytes are in memory; its surveys come from read_survey. error must not be
 * NULL. Statuses of tcr_set_file_read.
 */
tcr_status tcr_set_file_build(const char *bytes, size_t size, const char *path,
                              tcr_survey_read read_survey, void *surveys,
                              const tcr_allocator *allocator, tcr_set_file **file,
                              tcr_error *error);

/* ---- Values (set_file_values.c); each fails with TCR_E_CONTENT at the value
 * ---------------------- */

/* Fails at a node. */
tcr_status tcr_fail_at(const tcr_set_reader *reader, const tcr_node *node, const char *format, ...)
    TCR_PRINTF(3, 4);

/* tcr_accept at a node. */
tcr_status tcr_accept_at(const tcr_set_reader *reader, const tcr_node *node, tcr_status status);

/* A block of keys. */
typedef struct tcr_block {
    const char *name;          /* for messages: "a zone" */
    const char *where;         /* and "in a zone" */
    const char *const *before; /* keys with readers of their own, NULL at the end; NULL for none */
    const tcr_field *fields;   /* numbers and words */
    size_t count;
    const char *const *behind; /* more keys with readers of their own, as before */
} tcr_block;

/* The block of a group of fields, without other keys. */
tcr_block tcr_block_of(tcr_group group, const char *name, const char *where);

/*
 * Reads a block: numbers and words go into target, the struct of the group, labels and other keys
 * are left. given, which may be NULL, receives the bits of the fields that are there.
 */
tcr_status tcr_read_block(const tcr_set_reader *reader, const tcr_node *node,
                          const tcr_block *block, void *target, unsigned *given);

/* The value of a key that must be there. 'needs' says why: "every eye needs side, lashes and map".
 */
tcr_status tcr_read_required(const tcr_set_reader *reader, const tcr_node *mapping,
                             const char *needs, const char *key, const tcr_node **value);

/* A list of at least one item and at most 'most'. */
tcr_status tcr_read_list(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const char *items, size_t most, size_t *count);

tcr_status tcr_read_number(const tcr_set_reader *reader, const tcr_node *node,
                           const tcr_field *field, const char *name, double *value);
/* 'needed' is what the text is: "a title". */
tcr_status tcr_read_text(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const char *needed, const char **text);
tcr_status tcr_read_word(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         const tcr_words *words, size_t *index);
/* true or false: 1 or 0. */
tcr_status tcr_read_bool(const tcr_set_reader *reader, const tcr_node *node, const char *name,
                         size_t *index);
tcr_status tcr_read_curl_name(const tcr_set_reader *reader, const tcr_node *node,
                              char label[TCR_LABEL_SIZE]);

/* Fails at a length that the tray lacks. */
tcr_status tcr_require_in_tray(const tcr_set_reader *reader, const tcr_node *node,
                               double length_mm);

/* The lengths of a tray, for messages. */
void tcr_list_tray(tcr_list *list, const tcr_tray *tray);

/* ---- Sections; node is the section's value --------------------------------------------------- */

tcr_status tcr_read_curls(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_tray(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_layering(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_plan(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_pace(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_bond(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_line(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_mean_lash(const tcr_set_reader *reader, const tcr_node *node);
tcr_status tcr_read_description(const tcr_set_reader *reader, const tcr_node *node, tcr_side side);
tcr_status tcr_read_map(const tcr_set_reader *reader, const tcr_node *node, tcr_side side);
tcr_status tcr_read_intended(const tcr_set_reader *reader, const tcr_node *node, tcr_side side);
tcr_status tcr_read_eyes(tcr_set_reader *reader, const tcr_node *node);

#endif
