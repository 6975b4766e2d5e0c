/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures to which memory fails: each allocation that this library makes, in every place from
 * which it makes one. The call then says TCR_E_MEMORY, has put out nothing and leaked nothing, and
 * works when it is made again. cairo and pango end the process without memory, so theirs never
 * fails.
 */
#include <stdio.h>

#include <gif_lib.h>

#include "draw/drawn.h"
#include "draw/face.h"
#include "faults/places.h"

/* giflib takes memory of its own: its calls say when they find none. */
#define WRAP_GIF(name, parameters, arguments)                                                      \
    int __real_##name parameters;                                                                  \
    int __wrap_##name parameters;                                                                  \
    int __wrap_##name parameters { return fails_here() ? GIF_ERROR : __real_##name arguments; }
WRAP_GIF(EGifPutScreenDesc,
         (GifFileType * gif, int width, int height, int depth, int ground,
          const ColorMapObject *map),
         (gif, width, height, depth, ground, map))
WRAP_GIF(EGifPutExtensionLeader, (GifFileType * gif, int code), (gif, code))
WRAP_GIF(EGifPutExtensionBlock, (GifFileType * gif, int count, const void *data),
         (gif, count, data))
WRAP_GIF(EGifPutExtensionTrailer, (GifFileType * gif), (gif))
WRAP_GIF(EGifPutComment, (GifFileType * gif, const char *words), (gif, words))
WRAP_GIF(EGifPutExtension, (GifFileType * gif, int code, int count, const void *data),
         (gif, code, count, data))
WRAP_GIF(EGifPutImageDesc,
         (GifFileType * gif, int left, int top, int width, int height, bool interlace,
          const ColorMapObject *map),
         (gif, left, top, width, height, interlace, map))
WRAP_GIF(EGifPutLine, (GifFileType * gif, GifPixelType *line, int count), (gif, line, count))

ColorMapObject *__real_GifMakeMapObject(int count, const GifColorType *colour);
ColorMapObject *__wrap_GifMakeMapObject(int count, const GifColorType *colour);
ColorMapObject *__wrap_GifMakeMapObject(int count, const GifColorType *colour) {
    return fails_here() ? NULL : __real_GifMakeMapObject(count, colour);
}

/* The file is closed all the same. */
int __real_EGifCloseFile(GifFileType *gif, int *why);
int __wrap_EGifCloseFile(GifFileType *gif, int *why);
int __wrap_EGifCloseFile(GifFileType *gif, int *why) {
    const int status = __real_EGifCloseFile(gif, why);
    return fails_here() ? GIF_ERROR : status;
}

/* ---- Making a call fail -------------------------------------------------------------- */

static tcr_set *set;
static tcr_check *check;
static tcr_plan *plan;
static tcr_plan_work *work;
static tcr_picture_options options;
static const char *view;
static tcr_picture_format format;
static tcr_progress progress;

static size_t put_out;

static int count_bytes(void *context, const void *piece, size_t count) {
    (void)context;
    (void)piece;
    put_out += count;
    return 0;
}

typedef tcr_status trial(void);

static tcr_status a_picture(void) {
    return tcr_picture_write(view, format, check, &options, count_bytes, NULL);
}

static tcr_status a_film(void) {
    return tcr_film_write(check, &options, &progress, count_bytes, NULL);
}

static tcr_status a_step(void) {
    const tcr_step_picture step = tcr_step_picture_default();
    return tcr_step_picture_write(format, set, &step, &options, count_bytes, NULL);
}

static tcr_status a_sheet(void) {
    return tcr_work_sheet_write(plan, work, check, TCR_SHEET_FULL, count_bytes, NULL);
}

/* in_pieces: what goes out as it is made may be there already. */
static void fail_each(const char *name, trial *try_it, bool in_pieces) {
    size_t least = 0;
    memset(&memory, 0, sizeof memory);
    expect_status(try_it(), TCR_OK); /* what stays behind for later calls is there */
    do {
        put_out = 0;
        memory.failed = false;
        memory.calls = 0;
        given("%s, place %zu", name, memory.places);
        memory.armed = true;
        const tcr_status status = try_it();
        memory.armed = false;
        expect_status(status, memory.failed ? TCR_E_MEMORY : TCR_OK);
        expect_true(memory.failed ? in_pieces || put_out == 0 : put_out > 0);
        expect_count(memory.blocks, 0);
        least++;
    } while (memory.failed);
    given("%s", name);
    expect_true(least > 3);
    expect_true(memory.places < PLACES_MAX);
    printf("# %s: memory failed in %zu places\n", name, memory.places);
    fflush(stdout);
}

static void make_set(bool both) {
    set = new_set("Memory", both, true);
    for (int side = 0; side < TCR_SIDES; side++)
        for (int i = 0; i < 15 && tcr_set_has_eye(set, (tcr_side)side); i++) {
            char id[8];
            snprintf(id, sizeof id, "n%d", i);
            add_lash(set, (tcr_side)side, id, 0.1 + 0.05 * i, (tcr_layer)(i % 3));
        }
    check = check_of(set);
    options = tcr_picture_options_default();
    options.with = check;
    options.width_mm = 60;
    options.dpi = 30;
    options.frames = 2;
}

static void put_away(void) {
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(every_view_without_memory_says_so) {
    make_set(true);
    for (size_t v = 0; v < tcr_picture_views(); v++) {
        view = tcr_picture_view_name(v);
        format = (tcr_picture_format)(v % TCR_PICTURE_FORMATS);
        fail_each(view, a_picture, false);
    }
    put_away();
}

CLAIM(a_film_without_memory_says_so) {
    make_set(false);
    fail_each("film in one file", a_film, true);
    put_away();
}

CLAIM(steps_without_memory_say_so) {
    make_set(false);
    format = TCR_PNG;
    fail_each("step", a_step, false);
    put_away();
}

CLAIM(a_work_sheet_without_memory_says_so) {
    make_set(true);
    tcr_check *const before = check;
    tcr_set *planned;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_check_new(planned, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    fail_each("work sheet", a_sheet, false);
    tcr_plan_work_free(work);
    tcr_check_free(check);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    check = before;
    put_away();
}

int main(void) {
    static const TTest *const claims[] = {
        &every_view_without_memory_says_so,
        &a_film_without_memory_says_so,
        &steps_without_memory_say_so,
        &a_work_sheet_without_memory_says_so,
    };
    return RUN_DRAWN_CLAIMS("memory that fails pictures", claims);
}
