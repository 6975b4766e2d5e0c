/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers and words of files. What most often goes wrong in the text of a number is recognised and
 * told with its remedy: a decimal comma, a unit behind the number, per cent. Messages about the
 * value itself come from the table of fields.
 */
#include "file/keys.h"

#include <math.h>
#include <string.h>

#include "model/names.h"
#include "num/number.h"

#define WORDS(name, ...)                                                                           \
    static const char *const name##_list[] = {__VA_ARGS__};                                        \
    const tcr_words tcr_words_##name = {name##_list, sizeof name##_list / sizeof name##_list[0]}

/* In the order of their enumerations. */
WORDS(side, TCR_SIDE_NAMES);
WORDS(layer, TCR_LAYER_NAMES);
WORDS(condition, TCR_CONDITION_NAMES);
WORDS(placement, TCR_PLACEMENT_NAMES);
WORDS(phases, TCR_PHASES_NAMES);
WORDS(subject, TCR_SUBJECT_NAMES);
WORDS(bool, TCR_BOOL_NAMES);

tcr_words tcr_words_of(const tcr_field *field) {
    return (tcr_words){field->words, (size_t)field->file.most + 1};
}

const tcr_field *tcr_lash_field(unsigned bit) {
    size_t count;
    const tcr_field *fields = tcr_fields(TCR_GROUP_MEAN_LASH, &count);
    for (size_t i = 0; i < count; i++)
        if (fields[i].bit == bit)
            return &fields[i];
    return NULL;
}

/* ---- A text that is no number ---------------------------------------------------------------- */

static bool is_blank(char c) { return c == ' ' || c == '\t'; }

/* The longest start of the text that is a number; 0 if there is none. */
static size_t leading_number(const char *text, size_t bytes, double *value) {
    const size_t most = bytes < 64 ? bytes : 64;
    for (size_t length = most; length > 0; length--)
        if (tcr_number_parse_comma(text, length, value) && isfinite(*value))
            return length;
    return 0;
}

static const char *unit_word(tcr_unit unit) {
    switch (unit) {
    case TCR_UNIT_MM:
        return "millimetres";
    case TCR_UNIT_DEGREES:
        return "degrees";
    case TCR_UNIT_SECONDS:
        return "seconds";
    case TCR_UNIT_MINUTES:
        return "minutes";
    default:
        return "";
    }
}

/* Whether a unit behind a number is the one that the file has anyway, or none is needed. */
static bool is_own_unit(tcr_unit own, const char *unit, size_t bytes) {
    if (own == TCR_UNIT_MM)
        return bytes == 2 && memcmp(unit, "mm", 2) == 0;
    if (own == TCR_UNIT_DEGREES)
        return bytes >= 2 && (memcmp(unit, "\xC2\xB0", 2) == 0 || memcmp(unit, "de", 2) == 0);
    return own != TCR_UNIT_PLACE && *unit_word(own) == '\0';
}

static tcr_status fail_no_number(const tcr_field *field, const char *name, const char *text,
                                 size_t bytes, tcr_place place, tcr_error *error) {
    tcr_quoted found;
    char number[TCR_NUMBER_SIZE];
    double value;
    const size_t length = leading_number(text, bytes, &value);
    tcr_quote(&found, text, bytes);
    if (length == 0)
        return tcr_fail(error, TCR_E_CONTENT, place, "%s needs a number, not %s%s", name,
                        found.text, tcr_curly_note(text, bytes));
    tcr_number_text(value, number);
    if (length == bytes && field->kind != TCR_KIND_DOUBLE && value != floor(value))
        return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s, but must be a whole number", name,
                        found.text);
    if (length == bytes)
        return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s with a decimal comma; write %s",
                        name, found.text, number);
    if (strchr("0123456789.,eE+-", text[length]) != NULL) /* a date, a version, too many digits */
        return tcr_fail(error, TCR_E_CONTENT, place, "%s needs a number, not %s", name, found.text);
    size_t rest = length;
    while (rest < bytes && is_blank(text[rest]))
        rest++;
    const char *unit = text + rest;
    if (bytes - rest == 1 && *unit == '%') {
        tcr_number_text(value / 100.0, number);
        return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s; write it as a share, %s", name,
                        found.text, number);
    }
    const bool own = is_own_unit(field->unit, unit, bytes - rest);
    const char *word = unit_word(field->unit);
    return tcr_fail(error, TCR_E_CONTENT, place, "%s is %s; write the number alone%s%s%s%s", name,
                    found.text, *word != '\0' ? ", in " : "", word, own ? ": " : "",
                    own ? number : "");
}

tcr_status tcr_key_read(const tcr_field *field, const char *name, const char *text, size_t bytes,
                        bool comma, double *value, tcr_place place, tcr_error *error) {
    double read;
    const bool is_number =
        comma ? tcr_number_parse_comma(text, bytes, &read) : tcr_number_parse(text, bytes, &read);
    if (!is_number || !isfinite(read))
        return fail_no_number(field, name, text, bytes, place, error);
    tcr_field named = *field;
    named.key = name;
    const tcr_status status = tcr_field_validate(&named, read, error);
    if (status != TCR_OK) {
        error->member = field->key; /* the name may not outlive the file */
        return tcr_fail_here(error, place);
    }
    *value = read;
    return TCR_OK;
}

tcr_status tcr_taper_validate(const tcr_lash *given, tcr_place place, tcr_error *error) {
    unsigned assumed;
    const tcr_lash complete = tcr_lash_complete(given, &assumed), *lash = &complete;
    char tip[TCR_NUMBER_SIZE], root[TCR_NUMBER_SIZE];
    if (lash->tip_diameter_mm <= lash->root_diameter_mm)
        return TCR_OK;
    tcr_number_text(lash->tip_diameter_mm, tip);
    tcr_number_text(lash->root_diameter_mm, root);
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "tip_diameter_mm is %s, but must be at most root_diameter_mm, %s here%s", tip,
                    root, assumed & TCR_LASH_ROOT_DIAMETER ? " by default" : "");
}

const char *tcr_layer_note(const char *text, size_t bytes) {
    if (bytes != 1 || *text < '0' || *text > '9')
        return "";
    return *text <= '3' ? "; layers have names, from the edge of the lid up: 1 is bottom, 2 is "
                          "middle, 3 is top"
                        : "; layers have names, from the edge of the lid up; of six rows, 1 and 2 "
                          "are bottom, 3 and 4 are middle, 5 and 6 are top";
}

tcr_status tcr_word_read(const tcr_words *words, const char *name, const char *text, size_t bytes,
                         size_t *index, tcr_place place, tcr_error *error) {
    for (size_t i = 0; i < words->count; i++)
        if (tcr_is_word(words->word[i], text, bytes)) {
            *index = i;
            return TCR_OK;
        }
    tcr_quoted found;
    tcr_list list = {0};
    for (size_t i = 0; i < words->count; i++)
        tcr_list_add(&list, words->word[i]);
    const char *meant = tcr_suggest(text, bytes, words->word, words->count);
    tcr_quote(&found, text, bytes);
    if (meant != NULL)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "%s %s is not known; did you mean %s? One of %s", name, found.text, meant,
                        list.text);
    const bool is_layer = strcmp(words->word[0], tcr_words_layer.word[0]) == 0;
    return tcr_fail(error, TCR_E_CONTENT, place, "%s %s is not known; one of %s%s", name,
                    found.text, list.text,
                    is_layer ? tcr_layer_note(text, bytes) : tcr_curly_note(text, bytes));
}
