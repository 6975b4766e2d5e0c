/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page's sets: read from the page's own texts, checked, and asked for their figures. */
#include "page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct page_slot {
    tcr_set_file *file;
    tcr_check *check;
} page_slot;

/* A survey that the page has opened. */
typedef struct page_survey {
    char *name, *bytes;
    size_t size;
} page_survey;

/* A set that is only planned may ask for lengths that its tray lacks. */
enum { PAGE_ANY_LENGTH = 1 << 16 };

static page_slot slots[PAGE_SLOTS];
static page_survey surveys[TCR_SIDES];
static tcr_error fault;
static double *numbers;
static size_t room;

static bool is_slot(int slot) { return slot >= 0 && slot < PAGE_SLOTS; }

const tcr_set_file *page_file(int slot) { return is_slot(slot) ? slots[slot].file : NULL; }
const tcr_set *page_set(int slot) { return tcr_set_file_set(page_file(slot)); }
const tcr_check *page_check(int slot) { return is_slot(slot) ? slots[slot].check : NULL; }
tcr_error *page_fault(void) { return &fault; }

double *page_numbers(size_t count) {
    if (count > room) {
        double *more = realloc(numbers, count * sizeof *more);
        if (more == NULL)
            return NULL;
        numbers = more;
        room = count;
    }
    return numbers;
}

/* ---- Memory for what the page hands in ------------------------------------------------------- */

void *PAGE(page_room)(size_t bytes) { return malloc(bytes > 0 ? bytes : 1); }
void PAGE(page_give)(void *block) { free(block); }

/* Keeps a survey; name and bytes are the page's by page_room and taken over. NULL bytes drop it. */
void PAGE(page_survey_put)(int side, char *name, char *bytes, size_t size) {
    page_survey *survey = &surveys[side == TCR_RIGHT];
    free(survey->name);
    free(survey->bytes);
    *survey = (page_survey){name, bytes, size};
}

static const char *find(void *context, const char *name, size_t *size) {
    (void)context;
    for (int side = 0; side < TCR_SIDES; side++)
        if (surveys[side].name != NULL && strcmp(surveys[side].name, name) == 0) {
            *size = surveys[side].size;
            return surveys[side].bytes;
        }
    return NULL;
}

/* ---- Sets ------------------------------------------------------------------------------------ */

/* Checks a set in the memory of the slot's check; what is wrong is told as the command tells it. */
static tcr_status check_file(page_slot *slot, const tcr_set_file *file, unsigned how) {
    tcr_check_options options = tcr_check_options_default();
    tcr_check *told = NULL;
    options.parts = how & TCR_PART_ALL;
    options.any_length = (how & PAGE_ANY_LENGTH) != 0;
    if (slot->check == NULL)
        return tcr_set_file_check(file, &options, &slot->check, &fault);
    const tcr_status status =
        tcr_check_again(slot->check, tcr_set_file_set(file), &options, &fault);
    if (status == TCR_OK)
        return TCR_OK;
    (void)tcr_set_file_check(file, &options, &told, &fault);
    tcr_check_free(told);
    if (slot->file != NULL)
        (void)tcr_check_again(slot->check, tcr_set_file_set(slot->file), &options, NULL);
    return status;
}

/*
 * Reads and checks a set file; how has the bits TCR_PART_... and PAGE_ANY_LENGTH. A set that is
 * refused leaves the slot as it was. Returns the status; page_message says the rest.
 */
int PAGE(page_read)(int slot, const char *bytes, size_t size, const char *path, unsigned how) {
    tcr_set_file *file = NULL;
    fault = tcr_error_none();
    if (!is_slot(slot))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_set_file_parse(bytes, size, path, find, NULL, NULL, &file, &fault);
    if (status == TCR_OK)
        status = check_file(&slots[slot], file, how);
    if (status != TCR_OK) {
        tcr_set_file_free(file);
        return status;
    }
    tcr_set_file_free(slots[slot].file); /* the check reads the new one by now */
    slots[slot].file = file;
    return TCR_OK;
}

const char *PAGE(page_message)(void) { return fault.message; }
const char *PAGE(page_message_path)(void) { return fault.path; }
unsigned long PAGE(page_message_line)(void) { return fault.line; }
unsigned long PAGE(page_message_column)(void) { return fault.column; }

/* ---- Figures --------------------------------------------------------------------------------- */

/* Number of a quantity by its name in reports; -1 for none. */
int PAGE(page_quantity)(const char *name) {
    const tcr_quantity *found = tcr_quantity_find(name);
    return found != NULL ? (int)(found - tcr_quantities(NULL)) : -1;
}

/* A quantity of an eye; NaN for one that there is not. */
double PAGE(page_figure)(int slot, int side, int quantity) {
    size_t count;
    const tcr_quantity *all = tcr_quantities(&count);
    double value;
    if (quantity < 0 || (size_t)quantity >= count ||
        tcr_check_column(page_check(slot), (tcr_side)side, &all[quantity], &value, 1) != TCR_OK)
        return NAN;
    return value;
}

/* A quantity of each lash of an eye: an array as long as the eye has lashes, or NULL. */
const double *PAGE(page_column)(int slot, int side, int quantity) {
    size_t count;
    const tcr_quantity *all = tcr_quantities(&count);
    const size_t n = tcr_set_lash_count(page_set(slot), (tcr_side)side);
    double *values = page_numbers(n + 1);
    if (values == NULL || quantity < 0 || (size_t)quantity >= count ||
        tcr_check_column(page_check(slot), (tcr_side)side, &all[quantity], values, n) != TCR_OK)
        return NULL;
    return values;
}

int PAGE(page_has_eye)(int slot, int side) {
    return tcr_set_has_eye(page_set(slot), (tcr_side)side);
}

size_t PAGE(page_lash_count)(int slot, int side) {
    return tcr_set_lash_count(page_set(slot), (tcr_side)side);
}

const char *PAGE(page_id)(int slot, int side, size_t lash) {
    const char *id = tcr_set_id(page_set(slot), (tcr_side)side, lash);
    return id != NULL ? id : "";
}

const char *PAGE(page_curl)(int slot, size_t curl) {
    const tcr_curl *found = tcr_set_curl(page_set(slot), curl);
    return found != NULL ? found->label : "";
}

/* Symmetry of two eyes: rms, maximum, and the same at one height; then the likeness. NULL: none. */
const double *PAGE(page_symmetry)(int slot) {
    double *out = page_numbers(5);
    tcr_symmetry symmetry;
    tcr_likeness likeness;
    if (out == NULL || tcr_check_symmetry(page_check(slot), &symmetry) != TCR_OK)
        return NULL;
    out[0] = symmetry.rms_mm;
    out[1] = symmetry.max_mm;
    out[2] = symmetry.level_rms_mm;
    out[3] = symmetry.level_max_mm;
    out[4] = tcr_check_likeness(page_check(slot), &likeness) == TCR_OK ? likeness : NAN;
    return out;
}

const char *PAGE(page_version)(void) { return TCR_VERSION; }

/* ---- Surveys out ----------------------------------------------------------------------------- */

typedef struct page_text {
    char *bytes;
    size_t size, capacity;
} page_text;

static int keep(void *context, const void *bytes, size_t count) {
    page_text *text = context;
    if (text->capacity - text->size <= count) {
        const size_t more = 2 * text->capacity + count + 4096;
        char *grown = realloc(text->bytes, more);
        if (grown == NULL)
            return -1;
        text->bytes = grown;
        text->capacity = more;
    }
    memcpy(text->bytes + text->size, bytes, count);
    text->size += count;
    text->bytes[text->size] = '\0';
    return 0;
}

/* The lashes of an eye as a survey; the page gives the text back by page_give. NULL on failure. */
char *PAGE(page_survey_text)(int slot, int side) {
    page_text text = {0};
    if (tcr_survey_write(page_set(slot), (tcr_side)side, NULL, NULL, NULL, keep, &text) == TCR_OK)
        return text.bytes;
    free(text.bytes);
    return NULL;
}
