/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures as SVG, by cairo. What cairo writes is kept in memory and then passed on with two
 * changes: the root element says millimetres while coordinates are finer, as cairo rounds them to
 * 1/256 of its unit; and ids, which cairo numbers through the whole process, are numbered anew in
 * the order in which they appear, so that the same picture is the same bytes.
 */
#include "draw/write.h"

#include <cairo-svg.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "num/number.h"

static const double units_per_mm = 10;

static void append(tcr_picture_file *to, const char *words) {
    (void)tcr_picture_add(to, words, strlen(words)); /* what is lost shows when it is handed over */
}

/* As XML has it; what XML cannot have at all becomes a question mark. */
static void append_escaped(tcr_picture_file *to, const char *words) {
    char *valid = g_utf8_make_valid(words, -1);
    for (const char *c = valid; *c != '\0'; c = g_utf8_next_char(c)) {
        const gunichar code = g_utf8_get_char(c);
        const bool never =
            (code < 0x20 && code != '\t' && code != '\n') || (code & 0xfffe) == 0xfffe;
        char one[8] = {0};
        memcpy(one, c, (size_t)(g_utf8_next_char(c) - c));
        append(to, code == '&'   ? "&amp;"
                   : code == '<' ? "&lt;"
                   : code == '>' ? "&gt;"
                   : never       ? "?"
                                 : one);
    }
    g_free(valid);
}

/* The root element, with what the picture shows for those who cannot see it. */
static void append_head(tcr_picture_file *to, const tcr_picture_view *view,
                        const tcr_picture *picture) {
    const double size[] = {picture->options.width_mm, tcr_picture_height_mm(picture)};
    char mm[2][TCR_NUMBER_SIZE], units[2][TCR_NUMBER_SIZE], head[500], words[TCR_DESCRIPTION];
    for (int i = 0; i < 2; i++) {
        tcr_number_text(size[i], mm[i]);
        tcr_number_text(size[i] * units_per_mm, units[i]);
    }
    snprintf(head, sizeof head,
             "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
             "<svg xmlns=\"http://www.w3.org/2000/svg\" "
             "xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"%smm\" height=\"%smm\" "
             "viewBox=\"0 0 %s %s\" version=\"1.1\">\n<title>",
             mm[0], mm[1], units[0], units[1]);
    append(to, head);
    append_escaped(to, tcr_picture_title(picture));
    append(to, "</title>\n<desc>");
    append_escaped(to, tcr_picture_describe(words, view, picture));
    append(to, "</desc>");
}

/* ---- Ids --------------------------------------------------------------------------- */

/* An id as cairo wrote it. */
typedef struct id {
    const char *name;
    size_t length;
} id;

typedef struct ids {
    id *list;
    size_t count, capacity;
} ids;

/* The number of an id, from 0 in the order of their first appearance; SIZE_MAX without memory. */
static size_t number_of(ids *known, const char *name, size_t length) {
    for (size_t i = 0; i < known->count; i++)
        if (known->list[i].length == length && memcmp(known->list[i].name, name, length) == 0)
            return i;
    if (known->count == known->capacity) {
        const size_t capacity = 2 * known->capacity + 64;
        id *grown = realloc(known->list, capacity * sizeof *grown);
        if (grown == NULL)
            return SIZE_MAX;
        known->list = grown;
        known->capacity = capacity;
    }
    known->list[known->count] = (id){name, length};
    return known->count++;
}

/* Whether an id begins here: after id=", or after # in a reference. */
static bool id_begins(const char *start, const char *at) {
    static const char own[] = " id=\"";
    const size_t before = (size_t)(at - start), length = sizeof own - 1;
    if (before >= length && memcmp(at - length, own, length) == 0)
        return true;
    return before >= 2 && at[-1] == '#' && (at[-2] == '"' || at[-2] == '(');
}

/* Copies from a text on with every id numbered anew. */
static tcr_status renumber(const char *start, const char *end, tcr_picture_file *to) {
    ids known = {NULL, 0, 0};
    tcr_status status = TCR_OK;
    const char *copied = start;
    for (const char *at = start; at < end && status == TCR_OK; at++) {
        if (!(at[0] != '"' && at > start && (at[-1] == '"' || at[-1] == '#') &&
              id_begins(start, at)))
            continue;
        const size_t length = strcspn(at, "\")");
        const size_t number = number_of(&known, at, length);
        char name[32];
        snprintf(name, sizeof name, "i%zu", number);
        if (number == SIZE_MAX || !tcr_picture_add(to, copied, (size_t)(at - copied)))
            status = TCR_E_MEMORY;
        append(to, name);
        copied = at + length;
        at = copied - 1;
    }
    if (status == TCR_OK && !tcr_picture_add(to, copied, (size_t)(end - copied)))
        status = TCR_E_MEMORY;
    free(known.list);
    return status;
}

/* ---- The file ---------------------------------------------------------------------- */

static tcr_status paint(const tcr_picture_view *view, const tcr_picture *picture,
                        tcr_picture_file *raw) {
    cairo_surface_t *surface = cairo_svg_surface_create_for_stream(
        tcr_picture_add_cairo, raw, units_per_mm * picture->options.width_mm,
        units_per_mm * tcr_picture_height_mm(picture));
    cairo_t *cr = cairo_create(surface);
    cairo_scale(cr, units_per_mm, units_per_mm);
    tcr_status status = tcr_picture_fill(view, cr, picture);
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    if (status == TCR_OK && cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        status = TCR_E_MEMORY;
    cairo_surface_destroy(surface);
    return status;
}

/* The content of cairo's root element, behind its start tag; raw ends with a NUL. */
static const char *content_of(const tcr_picture_file *raw) {
    const char *root = strstr(raw->byte, "<svg");
    const char *end = root != NULL ? strchr(root, '>') : NULL;
    return end != NULL ? end + 1 : NULL;
}

tcr_status tcr_picture_svg(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_file *file) {
    tcr_picture_file raw = {0};
    tcr_status status = paint(view, picture, &raw);
    if (status == TCR_OK && !tcr_picture_add(&raw, "", 1))
        status = TCR_E_MEMORY;
    const char *content = status == TCR_OK ? content_of(&raw) : NULL;
    if (content != NULL) {
        append_head(file, view, picture);
        status = renumber(content, raw.byte + raw.count - 1, file);
    } else if (status == TCR_OK) {
        status = TCR_E_MEMORY;
    }
    free(raw.byte);
    return status;
}
