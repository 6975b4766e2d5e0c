/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_KEYS_H
#define TCR_FILE_KEYS_H

/*
 * Numbers and words as set files and surveys give them. Which numbers there are, and their ranges,
 * stands in the table of fields (tipcrest/field.h).
 */

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

#include <tipcrest/field.h>
#include <tipcrest/lash.h>

#include "file/error.h"

/*
 * Reads the text of a number, in the unit of files, and checks it against its field. 'name' is what
 * the file calls it. comma: decimal commas are allowed. On failure TCR_E_CONTENT, with what was
 * found and what would be right.
 */
tcr_status tcr_key_read(const tcr_field *field, const char *name, const char *text, size_t bytes,
                        bool comma, double *value, tcr_place place, tcr_error *error);

/* Whether what was found is a word, to the byte. */
static inline bool tcr_is_word(const char *word, const char *found, size_t bytes) {
    return strlen(word) == bytes && memcmp(word, found, bytes) == 0;
}

/* A list of words; the place in it is the value of an enumeration. */
typedef struct tcr_words {
    const char *const *word;
    size_t count;
} tcr_words;

extern const tcr_words tcr_words_side, tcr_words_layer, tcr_words_condition, tcr_words_placement,
    tcr_words_phases, tcr_words_subject, tcr_words_bool;

/* The words of a field that is an enumeration. */
tcr_words tcr_words_of(const tcr_field *field);

/* What to say behind a number where the name of a layer is needed; "" for another text. */
const char *tcr_layer_note(const char *text, size_t bytes);

/* Finds a word; TCR_E_CONTENT with the list and what was perhaps meant. */
tcr_status tcr_word_read(const tcr_words *words, const char *name, const char *text, size_t bytes,
                         size_t *index, tcr_place place, tcr_error *error);

/* The numbers of a lash that may be assumed, in the order of their bits TCR_LASH_.... */
enum { TCR_LASH_BITS = 9 };
const tcr_field *tcr_lash_field(unsigned bit);

/* Whether a lash is no thicker at its tip than at its root; told at the place of the tip's
 * diameter. */
tcr_status tcr_taper_validate(const tcr_lash *lash, tcr_place place, tcr_error *error);

#endif
