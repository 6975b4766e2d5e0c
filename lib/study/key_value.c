/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values of keys: numbers, words and labels of curls, read from text, written, checked and put. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/study_design.h>
#include <tipcrest/text.h>

#include "num/error.h"
#include "num/number.h"
#include "study/key.h"

/* The word or label of a value; NULL for a number, and for one that does not exist. */
static const char *word_of(const tcr_set *set, const tcr_key *key, double value) {
    if (!(value >= 0.0 && value <= key->most) || value != floor(value))
        return NULL;
    if (key->kind != TCR_KIND_LABEL)
        return key->words != NULL ? key->words[(size_t)value] : NULL;
    const tcr_curl *curl = tcr_set_curl(set, (size_t)value);
    return curl != NULL ? curl->label : NULL;
}

static bool takes_words(const tcr_key *key) {
    return key->words != NULL || key->kind == TCR_KIND_LABEL;
}

tcr_status tcr_key_validate(const tcr_set *set, const tcr_key *key, double value,
                            tcr_error *error) {
    if (set == NULL || key == NULL || key->field == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (takes_words(key)) {
        if (word_of(set, key, value) != NULL)
            return TCR_OK;
        return tcr_error_set(error, TCR_E_RANGE, "%s has no word or curl of this number",
                             key->name);
    }
    tcr_field named = *key->field;
    named.key = key->name;
    const tcr_status status = tcr_field_validate(&named, value, error);
    if (status != TCR_OK && error != NULL)
        error->member = key->field->key; /* the name may not outlive the key */
    return status;
}

/* ---- Text ------------------------------------------------------------------------------------ */

enum { KNOWN_MAX = 256 };

/* The words that a key takes, as far as there is room. */
static size_t words_of(const tcr_set *set, const tcr_key *key, const char *known[KNOWN_MAX]) {
    size_t n = 0;
    while (n < KNOWN_MAX && (double)n <= key->most) {
        known[n] = word_of(set, key, (double)n);
        n++;
    }
    return n;
}

static tcr_status refuse_word(const tcr_set *set, const tcr_key *key, const char *text,
                              size_t bytes, tcr_error *error) {
    const char *known[KNOWN_MAX], *meant;
    const size_t n = words_of(set, key, known);
    char list[200] = "";
    for (size_t i = 0, at = 0; i < n && known[i] != NULL && at + 24 < sizeof list; i++)
        at += (size_t)snprintf(list + at, sizeof list - at, "%s%s", i > 0 ? " " : "", known[i]);
    meant = tcr_suggest(text, bytes, known, n);
    return tcr_error_set(error, TCR_E_CONTENT, "%s \"%.*s\" is not known%s%s; one of %s", key->name,
                         (int)(bytes < 80 ? bytes : 80), text,
                         meant != NULL ? ", did you mean " : "", meant != NULL ? meant : "", list);
}

static tcr_status parse_word(const tcr_set *set, const tcr_key *key, const char *text, size_t bytes,
                             double *value, tcr_error *error) {
    for (size_t i = 0; (double)i <= key->most; i++) {
        const char *word = word_of(set, key, (double)i);
        if (word == NULL || strlen(word) != bytes || memcmp(word, text, bytes) != 0)
            continue;
        *value = (double)i;
        return TCR_OK;
    }
    return refuse_word(set, key, text, bytes, error);
}

tcr_status tcr_key_parse(const tcr_set *set, const tcr_key *key, const char *text, size_t bytes,
                         double *value, tcr_error *error) {
    double read;
    if (set == NULL || key == NULL || text == NULL || value == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (takes_words(key))
        return parse_word(set, key, text, bytes, value, error);
    if (!tcr_number_parse(text, bytes, &read))
        return tcr_error_set(error, TCR_E_CONTENT, "%s needs a number, not \"%.*s\"", key->name,
                             (int)(bytes < 80 ? bytes : 80), text);
    const tcr_status status = tcr_key_validate(set, key, read, error);
    if (status == TCR_OK)
        *value = read;
    return status;
}

size_t tcr_key_value_text(const tcr_set *set, const tcr_key *key, double value,
                          char text[TCR_KEY_VALUE_SIZE]) {
    if (text == NULL)
        return 0;
    text[0] = '\0';
    if (set == NULL || key == NULL)
        return 0;
    if (!takes_words(key))
        return tcr_number_text(value, text);
    const char *word = word_of(set, key, value);
    const size_t bytes = word != NULL ? strnlen(word, TCR_KEY_VALUE_SIZE - 1) : 0;
    memcpy(text, bytes > 0 ? word : "", bytes);
    text[bytes] = '\0';
    return bytes;
}

/* ---- Lists and ranges ------------------------------------------------------------------------ */

/* A list that is being read. */
typedef struct list {
    const tcr_set *set;
    const tcr_key *key;
    double *level; /* NULL: only counted */
    size_t room, n;
    tcr_error *error;
} list;

static tcr_status refuse_count(const list *l) {
    return tcr_error_set(l->error, TCR_E_RANGE, "%s has more than %d values", l->key->name,
                         TCR_LEVELS_MAX);
}

static void add(list *l, double value) {
    if (l->level != NULL && l->n < l->room)
        l->level[l->n] = value;
    l->n++;
}

/* Whether the list has a value before 'end'. It is read again: there may be no room to keep it. */
static tcr_status check_twice(const list *l, const char *text, const char *end, double value) {
    while (text < end) {
        const size_t bytes = strcspn(text, ",");
        double earlier = NAN;
        (void)tcr_key_parse(l->set, l->key, text, bytes, &earlier, NULL); /* it was read before */
        if (earlier == value)
            return tcr_error_set(l->error, TCR_E_DUPLICATE, "%s has %.*s twice", l->key->name,
                                 (int)(bytes < 80 ? bytes : 80), text);
        text += bytes + 1;
    }
    return TCR_OK;
}

static tcr_status parse_list(list *l, const char *text) {
    enum { TYPED_MAX = 512 }; /* a longer list is a program's, and pairs would be too many */
    l->n = 0;
    for (const char *at = text;; at++) {
        const size_t bytes = strcspn(at, ",");
        double value = NAN;
        tcr_status status = tcr_key_parse(l->set, l->key, at, bytes, &value, l->error);
        if (status == TCR_OK && l->n < TYPED_MAX)
            status = check_twice(l, text, at, value);
        if (status != TCR_OK)
            return status;
        if (l->n == TCR_LEVELS_MAX)
            return refuse_count(l);
        add(l, value);
        at += bytes;
        if (*at == '\0')
            return TCR_OK;
    }
}

/* FROM:TO:STEP; its ends are in the key's range. */
static tcr_status parse_range(list *l, const char *text) {
    double number[3];
    const char *at = text;
    for (int i = 0; i < 3; i++) {
        const size_t bytes = i < 2 ? strcspn(at, ":") : strlen(at);
        if ((i < 2 && at[bytes] != ':') || !tcr_number_parse(at, bytes, &number[i]))
            return tcr_error_set(l->error, TCR_E_CONTENT,
                                 "%s needs a list 8,9,11 or a range FROM:TO:STEP, not \"%.80s\"",
                                 l->key->name, text);
        at += bytes + 1;
    }
    tcr_status status = tcr_key_validate(l->set, l->key, number[0], l->error);
    if (status == TCR_OK)
        status = tcr_key_validate(l->set, l->key, number[1], l->error);
    if (status != TCR_OK)
        return status;
    l->n = tcr_factor_range(number[0], number[1], number[2], l->level, l->room);
    if (l->n > 1) /* the step of a whole number is one, too */
        status = tcr_key_validate(l->set, l->key, number[0] + number[2], l->error);
    if (status != TCR_OK)
        return status;
    if (l->n == 0 && (number[2] == 0.0 || (number[1] - number[0]) / number[2] < 0.0))
        return tcr_error_set(l->error, TCR_E_RANGE, "the step of %s does not lead from %.*s",
                             l->key->name, (int)strcspn(text, ":"), text);
    return l->n == 0 ? refuse_count(l) : TCR_OK;
}

tcr_status tcr_key_parse_levels(const tcr_set *set, const tcr_key *key, const char *text,
                                double *level, size_t room, size_t *levels, tcr_error *error) {
    if (set == NULL || key == NULL || text == NULL || levels == NULL || (level == NULL && room > 0))
        return tcr_error_status(error, TCR_E_ARGUMENT);
    list l = {.set = set, .key = key, .error = error};
    const bool range = !takes_words(key) && strchr(text, ':') != NULL;
    const tcr_status status = range ? parse_range(&l, text) : parse_list(&l, text);
    if (status != TCR_OK)
        return status;
    l.level = level; /* all is well: once more, to be kept */
    l.room = room;
    (void)(range ? parse_range(&l, text) : parse_list(&l, text));
    *levels = l.n;
    return TCR_OK;
}

/* ---- Putting --------------------------------------------------------------------------------- */

void tcr_key_put(const tcr_set *set, const tcr_key *key, void *object, double value) {
    tcr_wish *wish = NULL;
    if ((key->what == TCR_AT_ZONE || key->what == TCR_AT_MEANT) && key->layer >= 0) {
        wish = &((tcr_zone *)object)->layer[key->layer];
        object = wish;
        wish->fixed |= key->field->bit;
    }
    if (key->kind != TCR_KIND_LABEL) {
        (void)tcr_field_put(key->field, object, value, NULL);
        return;
    }
    const tcr_curl *curl = tcr_set_curl(set, (size_t)value);
    char *label = (char *)object + key->field->offset;
    memset(label, 0, TCR_LABEL_SIZE);
    memcpy(label, curl->label, strlen(curl->label));
}
