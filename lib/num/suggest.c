/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The word that was perhaps meant, by the letters that it takes to get there. */
#include <string.h>

#include <tipcrest/text.h>

enum { WORD_MAX = 40 };

static char lower(char c) { return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c); }

static size_t least(size_t a, size_t b) { return a < b ? a : b; }

/*
 * Letters to change, leave out, add or swap with their neighbour to get from a to b: the restricted
 * distance of Damerau and Levenshtein, by three rows of its table.
 */
static size_t distance(const char *a, size_t m, const char *b, size_t n) {
    size_t rows[3][WORD_MAX + 1];
    for (size_t j = 0; j <= n; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= m; i++) {
        size_t *row = rows[i % 3], *above = rows[(i + 2) % 3], *two_above = rows[(i + 1) % 3];
        row[0] = i;
        for (size_t j = 1; j <= n; j++) {
            const char x = lower(a[i - 1]), y = lower(b[j - 1]);
            row[j] = least(above[j - 1] + (x != y), least(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && x == lower(b[j - 2]) && lower(a[i - 2]) == y)
                row[j] = least(row[j], two_above[j - 2] + 1);
        }
    }
    return rows[m % 3][n];
}

/* A name without its unit ("length" for length_mm), or one with a word too many ("left eye"). */
static bool is_nearly(const char *text, size_t bytes, const char *known, size_t length) {
    if (bytes >= 3 && length > bytes && (known[bytes] == '_' || known[bytes] == '-'))
        return distance(text, bytes, known, bytes) == 0;
    return bytes > length && text[length] == ' ' && distance(text, length, known, length) == 0;
}

/* The one name that begins as the text does, by five letters at least: "layering" for "layers". */
static const char *begins_alike(const char *text, size_t bytes, const char *const *known,
                                size_t count) {
    enum { ALIKE = 5 };
    const char *only = NULL;
    for (size_t i = 0; i < count && bytes >= ALIKE; i++) {
        const size_t length = known[i] != NULL ? strlen(known[i]) : 0;
        if (length < ALIKE || length > WORD_MAX || distance(text, ALIKE, known[i], ALIKE) > 0)
            continue;
        if (only != NULL)
            return NULL;
        only = known[i];
    }
    return only;
}

const char *tcr_suggest(const char *text, size_t bytes, const char *const *known, size_t count) {
    const char *best = NULL;
    if (text == NULL || known == NULL || bytes == 0 || bytes > WORD_MAX)
        return NULL;
    size_t nearest = bytes / 3 + 1; /* no further away than every third letter */
    for (size_t i = 0; i < count; i++) {
        const size_t length = known[i] != NULL ? strlen(known[i]) : 0;
        if (length == 0 || length > WORD_MAX)
            continue;
        size_t away = distance(text, bytes, known[i], length);
        if (away > 0 && is_nearly(text, bytes, known[i], length))
            away = 1;
        if (away < nearest && away < length) {
            best = known[i];
            nearest = away;
        }
    }
    return best != NULL ? best : begins_alike(text, bytes, known, count);
}
