/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_DRAW_SAID_H
#define TCR_TESTS_DRAW_SAID_H

/* The texts of a picture in the order in which they are drawn, and claims about them. */

#include <stdio.h>

#include <cairo.h>

#include "draw/drawn.h"
#include "draw/face.h"
#include "draw/picture.h"
#include "draw/sheet.h"
#include "draw/words.h"

enum { TEXTS_MAX = 4000, TEXT_SIZE = 400 };

static char said[TEXTS_MAX][TEXT_SIZE];
static size_t texts;

static inline void keep(void *context, const tcr_text_drawn *drawn) {
    (void)context;
    ck_assert_uint_lt(texts, TEXTS_MAX);
    snprintf(said[texts++], TEXT_SIZE, "%s", drawn->text);
}

static inline void listen_to(const tcr_picture_view *view, tcr_picture *picture) {
    const cairo_rectangle_t page = {0, 0, TCR_SHEET_WIDTH, TCR_SHEET_HEIGHT};
    cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page);
    cairo_t *cr = cairo_create(surface);
    texts = 0;
    picture->watcher = (tcr_text_watcher){keep, NULL};
    expect_status(tcr_picture_fill(view, cr, picture), TCR_OK);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

static inline void listen(const char *name, const tcr_check *check,
                          const tcr_picture_options *options) {
    tcr_picture picture;
    given("view %s", name);
    expect_status(tcr_picture_take(check, options, &picture), TCR_OK);
    listen_to(tcr_picture_view_find(name), &picture);
}

static inline void listen_to_steps(const tcr_set *set, const tcr_step_picture *step) {
    tcr_picture picture;
    expect_status(tcr_picture_take_step(set, step, NULL, &picture), TCR_OK);
    listen_to(&tcr_picture_view_step, &picture);
}

/* The first text that is or contains these words, from a number on; 'texts' where there is none. */
static inline size_t find(size_t from, const char *words) {
    while (from < texts && strstr(said[from], words) == NULL)
        from++;
    return from;
}

static inline size_t find_whole(size_t from, const char *words) {
    while (from < texts && strcmp(said[from], words) != 0)
        from++;
    return from;
}

static inline void expect_said(const char *words) {
    if (find(0, words) < texts)
        return;
    for (size_t i = 0; i < texts; i++)
        fprintf(stderr, "# %s\n", said[i]);
    ck_abort_msg("nowhere: %s", words);
}

/* These texts one after the other, somewhere. */
static inline void expect_row(const char *const *cell, size_t cells) {
    for (size_t from = 0; (from = find_whole(from, cell[0])) < texts; from++) {
        size_t same = 0;
        while (same < cells && from + same < texts && strcmp(said[from + same], cell[same]) == 0)
            same++;
        if (same == cells)
            return;
    }
    for (size_t i = 0; i < texts; i++)
        fprintf(stderr, "# %s\n", said[i]);
    ck_abort_msg("no row: %s %s %s ...", cell[0], cell[1], cells > 2 ? cell[2] : "");
}

/* A comparison says how far the tips of a left eye lie off the map's line, before and after. */
static inline void expect_map_row(const tcr_check *before, const tcr_check *after) {
    char from[TCR_WORDS], to[TCR_WORDS];
    tcr_say_number(from, tcr_check_eye(before, TCR_LEFT)->intended.upright.rms_mm, 2, false);
    tcr_say_number(to, tcr_check_eye(after, TCR_LEFT)->intended.upright.rms_mm, 2, false);
    expect_true(strcmp(from, to) != 0);
    expect_row((const char *const[]){"off the map\xe2\x80\x99s line", from, to}, 3);
}

#endif
