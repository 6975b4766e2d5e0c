/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Quantities in a JSON report. The place of each, "fitted.layer_offset_mm.top" or "tip_mm[2]", says
 * in which objects and arrays it stands; neighbours in the table share them.
 */
#include "file/json_quantities.h"

#include <math.h>
#include <string.h>

enum {
    RUN_MOST = 64, /* quantities of one owner */
    KEY_SIZE = 32,
    IN_LINE_MOST = TCR_LAYERS /* so few numbers stand on one line */
};

typedef struct printer {
    tcr_json *json;
    const tcr_set *set;
    const tcr_quantity *first;
    double value[RUN_MOST];
} printer;

tcr_quantity_run tcr_quantities_of(tcr_owner owner) {
    size_t count, from = 0;
    const tcr_quantity *all = tcr_quantities(&count);
    while (from < count && all[from].owner != owner)
        from++;
    size_t to = from;
    while (to < count && all[to].owner == owner)
        to++;
    return (tcr_quantity_run){all + from, to - from};
}

static double value_of(const printer *p, const tcr_quantity *q) { return p->value[q - p->first]; }

static void write_value(const printer *p, const tcr_quantity *q, const char *key) {
    const double value = value_of(p, q);
    if (isnan(value))
        tcr_json_null(p->json, key);
    else if (q->kind == TCR_KIND_BOOL)
        tcr_json_bool(p->json, key, value != 0.0);
    else if (q->kind == TCR_KIND_ENUM)
        tcr_json_text(p->json, key, q->words[(size_t)value]);
    else if (q->kind == TCR_KIND_LABEL)
        tcr_json_text(p->json, key, tcr_set_curl(p->set, (size_t)value)->label);
    else if (q->kind == TCR_KIND_SIZE)
        tcr_json_count(p->json, key, (size_t)value);
    else
        tcr_json_number(p->json, key, value);
}

/* Whether a quantity stands in the same object or array as another, whose place is known so far. */
static bool is_beside(const tcr_quantity *q, const char *place, size_t length) {
    return q->json != NULL && strncmp(q->json, place, length) == 0;
}

/* Whether an object has numbers of its own, and all are missing. */
static bool is_missing(const printer *p, const tcr_quantity *from, const tcr_quantity *to,
                       size_t within) {
    size_t own = 0, missing = 0;
    for (const tcr_quantity *q = from; q < to; q++) {
        if (strpbrk(q->json + within, ".[") != NULL)
            continue;
        own++;
        missing += isnan(value_of(p, q)) ? 1 : 0;
    }
    return own > 0 && missing == own;
}

static bool is_optional(const char *key) {
    return strcmp(key, "remedy") == 0 || strcmp(key, "load") == 0;
}

/* Members from one place of the table to another; 'within' characters of their places are common.
 */
static void write_members(const printer *p, const tcr_quantity *from, const tcr_quantity *to,
                          size_t within);

/* The object or array in which a quantity stands; returns the one behind its last member. */
static const tcr_quantity *write_container(const printer *p, const tcr_quantity *from,
                                           const tcr_quantity *to, size_t within, size_t length) {
    char key[KEY_SIZE];
    const bool is_array = from->json[within + length] == '[';
    const size_t inside = within + length + 1;
    const tcr_quantity *end = from;
    while (end < to && is_beside(end, from->json, inside))
        end++;
    memcpy(key, from->json + within, length);
    key[length] = '\0';
    if (!is_array && is_missing(p, from, end, inside)) {
        if (!is_optional(key))
            tcr_json_null(p->json, key);
        return end;
    }
    if (is_array)
        tcr_json_array(p->json, key);
    else
        tcr_json_object(p->json, key);
    if (end - from <= IN_LINE_MOST)
        tcr_json_in_line(p->json);
    if (is_array)
        for (const tcr_quantity *q = from; q < end; q++)
            write_value(p, q, NULL);
    else
        write_members(p, from, end, inside);
    tcr_json_end(p->json);
    return end;
}

static void write_members(const printer *p, const tcr_quantity *from, const tcr_quantity *to,
                          size_t within) {
    for (const tcr_quantity *q = from; q < to;) {
        const size_t length = q->json != NULL ? strcspn(q->json + within, ".[") : 0;
        if (q->json == NULL)
            q++;
        else if (q->json[within + length] != '\0' && length < KEY_SIZE)
            q = write_container(p, q, to, within, length);
        else {
            write_value(p, q, q->json + within);
            q++;
        }
    }
}

void tcr_json_quantities(tcr_json *json, const tcr_check *check, tcr_side side, size_t lash,
                         tcr_quantity_run run) {
    printer p = {.json = json, .set = tcr_check_set(check), .first = run.first};
    const tcr_status status = run.count <= RUN_MOST
                                  ? tcr_check_row(check, side, lash, run.first, p.value, run.count)
                                  : TCR_E_ARGUMENT;
    if (status == TCR_OK)
        write_members(&p, run.first, run.first + run.count, 0);
    else if (json->writer->status == TCR_OK)
        json->writer->status = status;
}
