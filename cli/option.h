/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_OPTION_H
#define TCR_CLI_OPTION_H

/* The one table of the options of all commands. Parsing, help and manual are made from it. */

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/field.h>

enum { TCR_VALUES_MAX = 64 }; /* of an option that takes a list */

typedef enum tcr_option_kind {
    TCR_OPTION_FLAG,
    TCR_OPTION_TEXT,
    TCR_OPTION_FILE,   /* to write; its name has one of the table's endings, if it lists any */
    TCR_OPTION_NUMBER, /* within least and most */
    TCR_OPTION_COUNT,  /* a whole number within least and most, or one of the words, if any */
    TCR_OPTION_CHOICE  /* one of the words */
} tcr_option_kind;

typedef struct tcr_option {
    unsigned commands; /* TCR_BIT_... of the commands that have it */
    size_t member;     /* offset of its tcr_value in tcr_call */
    const char *name;  /* without hyphens; a name of one letter is -o, a longer one --json */
    const char *value; /* what help calls the value; NULL for a flag */
    tcr_option_kind kind;
    bool required;
    /* May be given again, each time with one more value; 'greedy': words right behind it are more
     * of its values too. A text then. */
    bool repeats, greedy;
    bool bare; /* may stand without its value, which is then given behind =: --free, --free=2 */
    /* Between the values of a list, and how many values it may have; '\0' if it is no list. */
    char separator;
    size_t fewest, many;
    bool runs; /* a list that may have 8-13 for 8,9,10,11,12,13 */
    /* The range of a NUMBER or COUNT and its unit, NULL for none: those of a field where key names
     * one (tipcrest/field.h), else these. */
    tcr_group group;
    const char *key;
    double least, most;
    const char *unit;
    const char *(*word)(size_t i); /* words in order, NULL behind the last; of a FILE, endings */
    const char *standard; /* the default, as help shows it, with # for a field's; NULL: none */
    const char *help;     /* what it does */
} tcr_option;

/* The value that a call gives. */
typedef struct tcr_value {
    const char *text;              /* as it was typed; "" for a flag; NULL: not given */
    size_t count;                  /* of the numbers: 1, or more for a list; 0 for a text */
    double number[TCR_VALUES_MAX]; /* for a CHOICE the place of the word among the words */
    size_t times;                  /* how often it is given, of an option that repeats */
    const char *each[TCR_VALUES_MAX];
} tcr_value;

static inline double tcr_value_or(const tcr_value *value, double otherwise) {
    return value->count > 0 ? value->number[0] : otherwise;
}

/* The options of a command in the order of its help page: the next one at or behind *i, which is
 * moved behind it, or NULL. */
const tcr_option *tcr_option_next(unsigned command_bit, size_t *i);

/* "--json" or "-o". */
typedef struct tcr_option_name {
    char text[24];
} tcr_option_name;
const char *tcr_option_named(tcr_option_name *out, const tcr_option *option);

/* "fitted or intended": the words of an option, as many as fit. */
typedef struct tcr_word_list {
    char text[200];
} tcr_word_list;
const char *tcr_option_words(tcr_word_list *out, const tcr_option *option);

/* Its default as help shows it, "" for none. */
const char *tcr_option_standard(tcr_word_list *out, const tcr_option *option);

/* The range of a NUMBER or COUNT; a field's is in the unit of files. */
typedef struct tcr_range {
    double least, most;
    const char *unit; /* "mm", "degrees" or "" */
} tcr_range;
tcr_range tcr_option_range(const tcr_option *option);

/* "0.02 and 0.98 mm" for " and ": the range of a number, with its unit. */
typedef struct tcr_range_text {
    char text[80];
} tcr_range_text;
const char *tcr_option_range_text(tcr_range_text *out, const tcr_option *option,
                                  const char *between);

#endif
