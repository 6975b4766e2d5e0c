/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_KEYS_H
#define TCR_FILE_KEYS_H

/*
 * Numbers with a name, as set files and surveys give them: a table says for each its unit, its
 * range and where in a struct it goes, so that a new one is a new line. And words out of a list.
 */

#include <stdbool.h>
#include <stddef.h>

#include "file/error.h"

typedef enum tcr_key_unit {
    TCR_IN_NONE,
    TCR_IN_MM,
    TCR_IN_DEGREES, /* kept as radians */
    TCR_IN_PLACE,   /* share of the way from the inner to the outer corner */
    TCR_IN_SECONDS,
    TCR_IN_MINUTES
} tcr_key_unit;

typedef enum tcr_key_type {
    TCR_KEY_DOUBLE,
    TCR_KEY_INT,    /* whole number, kept as int, */
    TCR_KEY_SIZE,   /* size_t or */
    TCR_KEY_UINT64, /* uint64_t */
    TCR_KEY_OTHER   /* no number: read by a function of its own */
} tcr_key_type;

typedef struct tcr_key {
    const char *name;
    tcr_key_type type;
    tcr_key_unit unit;
    double low, high; /* in the unit of the file */
    bool inside;      /* the ends themselves do not belong to the range */
    size_t offset;    /* in the struct that the table is for */
    unsigned bit;     /* set where the key was given; 0 for none */
} tcr_key;

/* Entries of a table. */
#define TCR_KEY_NUMBER(name, unit, low, high, type, member, bit)                                   \
    { name, TCR_KEY_DOUBLE, unit, low, high, false, offsetof(type, member), bit }
#define TCR_KEY_INSIDE(name, unit, low, high, type, member, bit)                                   \
    { name, TCR_KEY_DOUBLE, unit, low, high, true, offsetof(type, member), bit }
#define TCR_KEY_WHOLE(name, as, low, high, type, member, bit)                                      \
    { name, as, TCR_IN_NONE, low, high, false, offsetof(type, member), bit }
#define TCR_KEY_NODE(name, bit)                                                                    \
    { name, TCR_KEY_OTHER, TCR_IN_NONE, 0, 0, false, 0, bit }

/*
 * Reads the text of a number, checks its range and stores it in 'target', the table's struct.
 * 'name' is what the file calls it. comma: decimal commas are allowed. On failure TCR_E_CONTENT,
 * with what was found and what would be right.
 */
tcr_status tcr_key_read(const tcr_key *key, const char *name, const char *text, size_t bytes,
                        bool comma, void *target, tcr_place place, tcr_file_error *error);

/* The number of a key, as kept in its struct, copied from one struct of the table to another. */
void tcr_key_copy(const tcr_key *key, void *target, const void *source);

/* A list of words; the place in it is the value of an enumeration. */
typedef struct tcr_words {
    const char *const *word;
    size_t count;
} tcr_words;

extern const tcr_words tcr_words_side, tcr_words_layer, tcr_words_condition, tcr_words_placement,
    tcr_words_phases, tcr_words_subject, tcr_words_bool;

/* Finds a word; TCR_E_CONTENT with the list and what was perhaps meant. */
tcr_status tcr_word_read(const tcr_words *words, const char *name, const char *text, size_t bytes,
                         size_t *index, tcr_place place, tcr_file_error *error);

/* Numbers of a lash: u first, then those that a set file's mean_lash may have too. */
enum { TCR_LASH_KEYS = 10, TCR_EXTENSION_KEYS = 6, TCR_LIMIT_KEYS = 7, TCR_PACE_KEYS = 7 };
extern const tcr_key tcr_lash_keys[TCR_LASH_KEYS];           /* of tcr_lash; bits TCR_LASH_... */
extern const tcr_key tcr_extension_keys[TCR_EXTENSION_KEYS]; /* of tcr_wish; bits TCR_FIX_... */
extern const tcr_key tcr_limit_keys[TCR_LIMIT_KEYS];         /* of tcr_plan_limits */
extern const tcr_key tcr_pace_keys[TCR_PACE_KEYS];           /* of tcr_plan_pace */

/* Whether a lash is no thicker at its tip than at its root; told at the place of the tip's
 * diameter. */
tcr_status tcr_taper_check(const tcr_lash *lash, tcr_place place, tcr_file_error *error);

#endif
