/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The questions for a first set: how each answer is read into the options, and how its default is
 * shown. Ranges and defaults are those of the options themselves, so an answer and an option of the
 * command are refused in the same words.
 */
#include "file/begin.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "file/error.h"
#include "file/keys.h"
#include "file/look_name.h"
#include "num/number.h"

static const tcr_place NOWHERE = {"", 0, 0};

/* A question: reads an answer that is not empty into fresh options, or shows the default. */
typedef struct asked {
    tcr_status (*read)(tcr_begin_options *o, char *answer, tcr_error *error);
    void (*clear)(tcr_begin_options *o);
    void (*show)(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]);
} asked;

/* ---- Lists of lengths ---------------------------------------------------------------- */

static tcr_status fail_list(const char *member, const char *text, size_t bytes, tcr_error *error) {
    tcr_quoted found;
    return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                    "%s has %s; lengths are numbers of millimetres, such as 9, 10.5, 12 or 8-14",
                    member, tcr_quote(&found, text, bytes));
}

/* Adds "8" or "8-14" to a list. */
static bool add_lengths(const char *text, size_t bytes, bool comma, double *list, size_t most,
                        size_t *count) {
    const char *dash = memchr(text + 1, '-', bytes - 1);
    const size_t first = dash != NULL ? (size_t)(dash - text) : bytes;
    double from, to;
    bool (*const parse)(const char *, size_t, double *) =
        comma ? tcr_number_parse_comma : tcr_number_parse;
    if (!parse(text, first, &from))
        return false;
    to = from;
    if (dash != NULL && !parse(dash + 1, bytes - first - 1, &to))
        return false;
    if (!(to - from >= 0.0) || !(to - from < (double)(most - *count)))
        return false;
    const size_t more = (size_t)floor(to - from);
    for (size_t i = 0; i <= more; i++)
        list[(*count)++] = from + (double)i;
    return true;
}

/* Makes "8 - 13" and "8\xe2\x80\x9313", with the dash of printed ranges, "8-13". */
static void tidy_runs(char *answer) {
    static const char DASH[] = "\xe2\x80\x93";
    char *to = answer;
    for (const char *at = answer; *at != '\0';) {
        const char *mark = at + strspn(at, " \t");
        const size_t bytes = strncmp(mark, DASH, sizeof DASH - 1) == 0 ? sizeof DASH - 1 : 1;
        if (*mark != '-' && bytes == 1) {
            *to++ = *at++;
            continue;
        }
        *to++ = '-';
        at = mark + bytes;
        at += strspn(at, " \t");
    }
    *to = '\0';
}

/* Lengths with blanks, commas or semicolons between; behind semicolons or blanks a comma between
 * digits is decimal. */
static tcr_status read_lengths(const char *member, char *answer, double *list, size_t most,
                               size_t *count, tcr_error *error) {
    const bool comma = strchr(answer, ';') != NULL;
    const char *const between = comma ? "; \t" : ", \t";
    *count = 0;
    tidy_runs(answer);
    for (const char *at = answer; *(at += strspn(at, between)) != '\0';) {
        const size_t bytes = strcspn(at, between);
        if (*count >= most || !add_lengths(at, bytes, comma, list, most, count))
            return fail_list(member, at, bytes, error);
        at += bytes;
    }
    return *count > 0 ? TCR_OK : fail_list(member, answer, strlen(answer), error);
}

static void show_lengths(const double *list, size_t count, char text[TCR_BEGIN_ANSWER_SIZE]) {
    bool is_run = count > 2;
    for (size_t i = 1; i < count; i++)
        is_run = is_run && list[i] == list[0] + (double)i;
    size_t used = 0;
    for (size_t i = 0; i < count && used + TCR_NUMBER_SIZE + 2 < TCR_BEGIN_ANSWER_SIZE;
         i += is_run && i == 0 ? count - 1 : 1) {
        char number[TCR_NUMBER_SIZE];
        tcr_number_text(list[i], number);
        used += (size_t)snprintf(text + used, TCR_BEGIN_ANSWER_SIZE - used, "%s%s",
                                 i == 0   ? ""
                                 : is_run ? "-"
                                          : ", ",
                                 number);
    }
}

/* ---- Numbers ------------------------------------------------------------------------- */

/* Any number, with a decimal comma too; its range is checked with the options. */
static tcr_status read_number(const char *member, const char *answer, double *number,
                              tcr_error *error) {
    tcr_quoted found;
    if (tcr_number_parse_comma(answer, strlen(answer), number) && isfinite(*number))
        return TCR_OK;
    return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s needs a number, not %s", member,
                    tcr_quote(&found, answer, strlen(answer)));
}

/* ---- The questions ------------------------------------------------------------------- */

static tcr_status read_title(tcr_begin_options *o, char *answer, tcr_error *error) {
    (void)error;
    o->title = answer;
    return TCR_OK;
}
static void clear_title(tcr_begin_options *o) { o->title = NULL; }
static void show_title(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    snprintf(text, TCR_BEGIN_ANSWER_SIZE, "%s", map->title);
}

static const char *const EYES[] = {"both", "left", "right"};
static tcr_status read_eyes(tcr_begin_options *o, char *answer, tcr_error *error) {
    static const tcr_words WORDS = {EYES, sizeof EYES / sizeof *EYES};
    size_t index = 0;
    const tcr_status status =
        tcr_word_read(&WORDS, "eyes", answer, strlen(answer), &index, NOWHERE, error);
    o->eye[TCR_LEFT] = index != 2;
    o->eye[TCR_RIGHT] = index != 1;
    return status;
}
static void clear_eyes(tcr_begin_options *o) { o->eye[TCR_LEFT] = o->eye[TCR_RIGHT] = true; }
static void show_eyes(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    (void)map;
    snprintf(text, TCR_BEGIN_ANSWER_SIZE, "%s", EYES[0]);
}

static void show_number(double number, char text[TCR_BEGIN_ANSWER_SIZE]) {
    char shown[TCR_NUMBER_SIZE];
    tcr_number_text(number, shown);
    snprintf(text, TCR_BEGIN_ANSWER_SIZE, "%s", shown);
}

/* A number of the options and of the map that is made of them. */
#define NUMBER_QUESTION(name, member, shown)                                                       \
    static tcr_status read_##name(tcr_begin_options *o, char *answer, tcr_error *error) {          \
        return read_number(#name, answer, &o->member, error);                                      \
    }                                                                                              \
    static void clear_##name(tcr_begin_options *o) { o->member = NAN; }                            \
    static void show_##name(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {          \
        show_number(shown, text);                                                                  \
    }
NUMBER_QUESTION(length, lash_mm, map->lash_mm)
NUMBER_QUESTION(diameter, diameter_mm, map->diameter_mm)

/* Where an answer is two numbers with another mark between, as "3.2,2.9": the error says how to
 * write them. */
static void tell_two_numbers(const char *answer, tcr_error *error) {
    tcr_quoted found;
    double number;
    for (const char *mark = answer; *(mark += strcspn(mark, ",/")) != '\0'; mark++) {
        const size_t first = (size_t)(mark - answer), second = strlen(mark + 1);
        if (tcr_number_parse_comma(answer, first, &number) &&
            tcr_number_parse_comma(mark + 1, second, &number)) {
            tcr_fail(error, TCR_E_ARGUMENT, NOWHERE,
                     "mrd1 is %s; put a blank between the left and the right eye's number: "
                     "%.*s %s",
                     tcr_quote(&found, answer, strlen(answer)), (int)first, answer, mark + 1);
            return;
        }
    }
}

/* One number for both eyes, or the left eye's and the right eye's, with a blank, a semicolon or a
 * comma and a blank between. */
static tcr_status read_mrd1(tcr_begin_options *o, char *answer, tcr_error *error) {
    const size_t bytes = strcspn(answer, "; \t");
    char *second = answer + bytes;
    second += strspn(second, "; \t");
    if (*second == '\0') {
        const tcr_status one = read_number("mrd1", answer, &o->mrd1_mm, error);
        if (one != TCR_OK)
            tell_two_numbers(answer, error);
        return one;
    }
    answer[bytes > 0 && answer[bytes - 1] == ',' ? bytes - 1 : bytes] = '\0';
    const tcr_status status = read_number("mrd1", answer, &o->mrd1_mm, error);
    return status == TCR_OK ? read_number("mrd1", second, &o->mrd1_right_mm, error) : status;
}
static void clear_mrd1(tcr_begin_options *o) { o->mrd1_mm = o->mrd1_right_mm = NAN; }
static void show_mrd1(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    show_number(map->mrd1_mm, text);
}

static tcr_status read_count(tcr_begin_options *o, char *answer, tcr_error *error) {
    tcr_field field = *tcr_field_find(TCR_GROUP_DESCRIPTION, "count");
    double count = 0.0;
    tcr_status status = read_number("count", answer, &count, error);
    if (status == TCR_OK)
        status = tcr_field_validate(&field, count, error);
    if (status == TCR_OK)
        o->count = (size_t)count;
    return status;
}
static void clear_count(tcr_begin_options *o) { o->count = 0; }
static void show_count(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    snprintf(text, TCR_BEGIN_ANSWER_SIZE, "%zu", map->count);
}

static tcr_status read_tray(tcr_begin_options *o, char *answer, tcr_error *error) {
    return read_lengths("tray", answer, o->tray_mm, TCR_TRAY_MAX, &o->tray_lengths, error);
}
static void clear_tray(tcr_begin_options *o) { o->tray_lengths = 0; }
static void show_tray(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    show_lengths(map->tray.length_mm, map->tray.count, text);
}

static void clear_map(tcr_begin_options *o) {
    o->zones = 0;
    o->look = NULL;
}
static tcr_status read_map(tcr_begin_options *o, char *answer, tcr_error *error) {
    const tcr_look *look = NULL;
    clear_map(o);
    if (isdigit((unsigned char)*answer))
        return read_lengths("lengths", answer, o->length_mm, TCR_ZONES_MAX, &o->zones, error);
    const tcr_status status = tcr_look_name_read("look", answer, &look, error);
    if (status == TCR_OK)
        o->look = look->name;
    return status;
}
static void show_map(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    snprintf(text, TCR_BEGIN_ANSWER_SIZE, "%s", map->look->name);
}

static tcr_status read_curl(tcr_begin_options *o, char *answer, tcr_error *error) {
    tcr_begin_options tried = *o;
    tcr_begin_map map;
    tried.curl = answer;
    const tcr_status status = tcr_begin_map_of(&tried, &map, error);
    if (status == TCR_OK)
        o->curl = map.curl; /* the catalogue's own text */
    return status;
}
static void clear_curl(tcr_begin_options *o) { o->curl = NULL; }
static void show_curl(const tcr_begin_map *map, char text[TCR_BEGIN_ANSWER_SIZE]) {
    snprintf(text, TCR_BEGIN_ANSWER_SIZE, "%s", map->curl);
}

static const tcr_begin_question QUESTIONS[] = {
    {"title", "A title for the set"},
    {"eyes", "Which eyes, of the client: both, left or right"},
    {"mrd1", "How far the open lid's edge is above the pupil's middle, mm (or: left right)"},
    {"count", "How many natural lashes an eye has"},
    {"length", "How long full-grown lashes are in the middle of the lid, mm"},
    {"tray", "The lengths in your trays, mm"},
    {"look", "The map: "
#define ALSO(name) " or " name
#define LOOK(name, other, about, ...) name other ", "
#include "model/looks.def"
#undef LOOK
             "or each zone's length, mm"},
    {"curl", "The curl"},
    {"diameter", "How thick an extension is, mm"},
};
#define ASKED(name)                                                                                \
    { read_##name, clear_##name, show_##name }
static const asked ASKED_AS[] = {ASKED(title), ASKED(eyes),   ASKED(mrd1),
                                 ASKED(count), ASKED(length), ASKED(tray),
                                 ASKED(map),   ASKED(curl),   ASKED(diameter)};
enum { QUESTION_COUNT = sizeof QUESTIONS / sizeof *QUESTIONS };
static_assert(QUESTION_COUNT == sizeof ASKED_AS / sizeof *ASKED_AS, "one way to ask each");

const tcr_begin_question *tcr_begin_questions(size_t *count) {
    if (count != NULL)
        *count = QUESTION_COUNT;
    return QUESTIONS;
}

tcr_status tcr_begin_usual(const tcr_begin_options *options, size_t question,
                           char text[TCR_BEGIN_ANSWER_SIZE]) {
    tcr_begin_options usual;
    tcr_begin_map map;
    tcr_error unread;
    if (question >= QUESTION_COUNT || text == NULL ||
        tcr_begin_options_take(options, &usual) != TCR_OK)
        return TCR_E_ARGUMENT;
    ASKED_AS[question].clear(&usual);
    const tcr_status status = tcr_begin_map_of(&usual, &map, &unread);
    if (status == TCR_OK)
        ASKED_AS[question].show(&map, text);
    return status;
}

/* Cuts blanks off both ends; the text then begins where the call says. */
static char *trim(char *text) {
    text += strspn(text, " \t\r\n");
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t\r\n", text[length - 1]) != NULL)
        length--;
    text[length] = '\0';
    return text;
}

tcr_status tcr_begin_answer(tcr_begin_options *options, size_t question, char *answer,
                            tcr_error *error) {
    tcr_error unread;
    tcr_begin_options tried;
    if (error == NULL)
        error = &unread;
    if (question >= QUESTION_COUNT || answer == NULL || options == NULL ||
        options->size != sizeof *options || tcr_begin_options_take(options, &tried) != TCR_OK)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s", tcr_status_text(TCR_E_ARGUMENT));
    tcr_status status = TCR_OK;
    answer = trim(answer);
    ASKED_AS[question].clear(&tried);
    if (*answer != '\0')
        status = ASKED_AS[question].read(&tried, answer, error);
    if (status == TCR_OK)
        status = tcr_begin_try(&tried, error);
    if (status == TCR_OK)
        *options = tried;
    return status;
}
