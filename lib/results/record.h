/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RESULTS_RECORD_H
#define TCR_RESULTS_RECORD_H

/*
 * What a study computes, as a list of keys with their values as text: everything that its results
 * depend on, and nothing else. A comment in a file is not in it, and neither is how the work is
 * shared out. study.json keeps it, so that a study that goes on later is known to be the same one.
 */
#include "file/digest.h"
#include "results/study_file.h"

enum { TCR_RECORD_KEY_SIZE = 80 };

typedef struct tcr_record_item {
    char key[TCR_RECORD_KEY_SIZE]; /* "vary.curl", "runs", "set.layering.step_mm" */
    size_t text;                   /* where its value begins in the record's text */
} tcr_record_item;

typedef struct tcr_record {
    const tcr_allocator *allocator;
    tcr_record_item *item;
    size_t items, item_room;
    char *text; /* values, each ended by a NUL */
    size_t used, room;
} tcr_record;

/* Makes the record of a study. TCR_E_MEMORY. Release it also after a failure. */
tcr_status tcr_record_make(const tcr_study_file *file, const tcr_allocator *allocator,
                           tcr_record *record);
void tcr_record_release(tcr_record *record);

const char *tcr_record_text(const tcr_record *record, size_t item);
/* The value of a key, or NULL. */
const char *tcr_record_find(const tcr_record *record, const char *key);

/* SHA-256 of all keys and values. */
void tcr_record_digest(const tcr_record *record, char text[TCR_DIGEST_SIZE]);

#endif
