/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The embedder's own surface gets the same picture as the file, in every view, and pictures do not
 * depend on what was drawn before. */
#include "draw/drawn.h"
#include "draw/face.h"

/* A check with its set, both freed by free_check. */
static tcr_set *set_of_check;

static tcr_check *some_check(bool both) {
    set_of_check = new_set("Surface", true, both);
    describe(set_of_check, 24);
    return check_of(set_of_check);
}

static void free_check(tcr_check *check) {
    tcr_check_free(check);
    tcr_set_free(set_of_check);
}

static tcr_picture_options options_for(size_t view, const tcr_check *check) {
    tcr_picture_options options = tcr_picture_options_default();
    options.dpi = 60;
    options.frame = 7;
    if (strcmp(tcr_picture_view_name(view), "compare") == 0)
        options.with = check;
    return options;
}

static bytes file_of(size_t view, tcr_picture_format format, const tcr_check *check,
                     const tcr_picture_options *options) {
    bytes file = {0};
    expect_status(
        tcr_picture_write(tcr_picture_view_name(view), format, check, options, keep_bytes, &file),
        TCR_OK);
    return file;
}

CLAIM(the_views_are_those_of_the_header) {
    static const char *const names[] = {"front",  "artist",  "side", "deviations",
                                        "layers", "compare", "film"}; /* source: draw.h */
    expect_true(tcr_picture_views() >= 7);
    for (size_t i = 0; i < 7; i++) {
        expect_text(tcr_picture_view_name(i), names[i]);
        expect_true(strlen(tcr_picture_view_brief(i)) > 20);
    }
    ck_assert_ptr_null(tcr_picture_view_name(tcr_picture_views()));
    ck_assert_ptr_null(tcr_picture_view_brief(SIZE_MAX));
}

/* The sheet on a new surface as large as a file's pixels; the caller's to destroy. */
static cairo_surface_t *own_surface(size_t view, const tcr_check *check,
                                    const tcr_picture_options *options, cairo_surface_t *like) {
    cairo_surface_t *own =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, cairo_image_surface_get_width(like),
                                   cairo_image_surface_get_height(like));
    cairo_t *cr = cairo_create(own);
    cairo_scale(cr, options->dpi / 25.4, options->dpi / 25.4);
    expect_status(tcr_picture_draw(tcr_picture_view_name(view), cr, check, options, NULL), TCR_OK);
    cairo_destroy(cr);
    cairo_surface_flush(own);
    return own;
}

CLAIM(an_own_surface_gets_the_picture_of_the_file) {
    for (int both = 0; both <= 1; both++) {
        tcr_check *check = some_check(both);
        for (size_t view = 0; view < tcr_picture_views(); view++) {
            given("%s, %d eyes", tcr_picture_view_name(view), 1 + both);
            const tcr_picture_options options = options_for(view, check);
            bytes png = file_of(view, TCR_PNG, check, &options);
            cairo_surface_t *file = pixels_of(&png);
            cairo_surface_t *own = own_surface(view, check, &options, file);
            const int width = cairo_image_surface_get_width(own);
            const int height = cairo_image_surface_get_height(own);
            int other = 0;
            for (int y = 0; y < height; y++)
                for (int x = 0; x < width; x++)
                    other += pixel(own, x, y) != pixel(file, x, y);
            expect_count(other, 0); /* the same drawing at the same scale */
            cairo_surface_destroy(own);
            cairo_surface_destroy(file);
            free(png.byte);
        }
        free_check(check);
    }
}

CLAIM(what_was_drawn_before_changes_no_byte) {
    tcr_check *check = some_check(true);
    for (int format = TCR_SVG; format <= TCR_PDF; format++) {
        bytes first[16] = {{0}};
        /* Cairo numbers surfaces and patterns through the whole process. */
        for (size_t i = 0; i < 2 * tcr_picture_views(); i++) {
            const size_t view = i % tcr_picture_views();
            given("%s, format %d", tcr_picture_view_name(view), format);
            const tcr_picture_options options = options_for(view, check);
            bytes file = file_of(view, (tcr_picture_format)format, check, &options);
            if (i < tcr_picture_views()) {
                first[view] = file;
                continue;
            }
            expect_count(file.count, first[view].count);
            expect_bytes(file.byte, first[view].byte, file.count);
            free(first[view].byte);
            free(file.byte);
        }
    }
    free_check(check);
}

CLAIM(every_view_tells_its_height_before_it_is_drawn) {
    tcr_check *check = some_check(true);
    static const double widths[] = {20, 254, 2000};
    for (size_t view = 0; view < tcr_picture_views(); view++) {
        tcr_picture_options options = options_for(view, check);
        for (int i = 0; i < 3; i++) {
            double height = 0;
            options.width_mm = widths[i];
            expect_status(
                tcr_picture_draw(tcr_picture_view_name(view), NULL, check, &options, &height),
                TCR_OK);
            expect_near(height, widths[i] * 9 / 16, 1e-9 * widths[i],
                        "rounding; a sheet of 16 : 9");
        }
    }
    free_check(check);
}

CLAIM(a_picture_comes_in_one_piece_which_its_sink_may_refuse) {
    tcr_check *check = some_check(false);
    for (int format = 0; format < TCR_PICTURE_FORMATS; format++) {
        for (size_t view = 2; view < tcr_picture_views(); view += 4) {
            given("%s, format %d", tcr_picture_view_name(view), format);
            const tcr_picture_options options = options_for(view, check);
            bytes whole = file_of(view, (tcr_picture_format)format, check, &options);
            expect_count(whole.calls, 1); /* source: draw.h */
            bytes cut = {.fail_at = 1};
            expect_status(tcr_picture_write(tcr_picture_view_name(view), (tcr_picture_format)format,
                                            check, &options, keep_bytes, &cut),
                          TCR_E_WRITE); /* source: draw.h */
            expect_count(cut.calls, 1);
            free(whole.byte);
        }
    }
    free_check(check);
}

typedef struct asked {
    int times, stop_at; /* stop_at: the time, from 1, that ends the work; 0 none */
    double last;
} asked;

static bool ask(void *context, const char *phase, double share) {
    asked *a = context;
    expect_text(phase, "drawing");
    expect_within(share, a->last, 1, "a share that never falls");
    a->last = share;
    return ++a->times != a->stop_at;
}

CLAIM(a_film_ends_with_its_sink_or_its_caller) {
    tcr_check *check = some_check(false);
    tcr_picture_options options = tcr_picture_options_default();
    options.dpi = 20;
    options.frames = 3;
    asked all = {0};
    const tcr_progress progress = {ask, &all};
    bytes whole = {0};
    expect_status(tcr_film_write(check, &options, &progress, keep_bytes, &whole), TCR_OK);
    expect_bytes(whole.byte, "GIF89a", 6); /* source: the GIF89a specification, section 17 */
    expect_true(all.times >= options.frames);
    const size_t calls[] = {1, 1 + whole.calls / 2, whole.calls};
    for (int i = 0; i < 3; i++) {
        given("call %zu of %zu fails", calls[i], whole.calls);
        bytes cut = {.fail_at = calls[i]};
        expect_status(tcr_film_write(check, &options, NULL, keep_bytes, &cut), TCR_E_WRITE);
        expect_count(cut.calls, cut.fail_at);
        free(cut.byte);
    }
    for (int stop = 1; stop <= all.times; stop++) {
        given("stopped at report %d of %d", stop, all.times);
        asked some = {.stop_at = stop};
        const tcr_progress stopping = {ask, &some};
        bytes part = {0};
        expect_status(tcr_film_write(check, &options, &stopping, keep_bytes, &part), TCR_E_STOPPED);
        expect_count(some.times, stop);
        free(part.byte);
    }
    bytes none = {0};
    expect_status(tcr_film_write(NULL, &options, NULL, keep_bytes, &none), TCR_E_ARGUMENT);
    expect_status(tcr_film_write(check, &options, NULL, NULL, NULL), TCR_E_ARGUMENT);
    options.frames = 0;
    expect_status(tcr_film_write(check, &options, NULL, keep_bytes, &none), TCR_E_RANGE);
    expect_count(none.count, 0);
    free(whole.byte);
    free_check(check);
}

/* The delays of a GIF's frames, hundredths of a second; how many. Source: GIF89a. */
static int delays_of(const bytes *gif, int delay[], int most) {
    const unsigned char *b = gif->byte;
    size_t at = 13 + ((b[10] & 0x80) != 0 ? (size_t)3 << ((b[10] & 7) + 1) : 0);
    int frames = 0;
    while (at < gif->count && b[at] != 0x3B) {
        if (b[at] == 0x21 && b[at + 1] == 0xF9 && frames < most)
            delay[frames++] = b[at + 4] + 256 * b[at + 5];
        at += b[at] == 0x21 ? 2 : 11; /* behind it, the blocks of an extension or a frame */
        while (b[at] != 0)
            at += (size_t)b[at] + 1;
        at++;
    }
    return frames;
}

CLAIM(a_film_rests_at_its_ends_and_runs_evenly_between) {
    static const struct { int frames, even_cs; } films[] = {{5, 40}, {2, 0}};
    tcr_check *check = some_check(false);
    for (size_t i = 0; i < sizeof films / sizeof *films; i++) {
        tcr_picture_options options = tcr_picture_options_default();
        bytes film = {0};
        int delay[200];
        options.dpi = 10;
        options.frames = films[i].frames;
        expect_status(tcr_film_write(check, &options, NULL, keep_bytes, &film), TCR_OK);
        given("%d frames", options.frames);
        expect_count(delays_of(&film, delay, 200), options.frames);
        /* film_gif.c: 0.6 s closed, 2 s open, 2 s in all between. */
        expect_count(delay[0], 60);
        expect_count(delay[options.frames - 1], 200);
        for (int k = 1; k + 1 < options.frames; k++)
            expect_count(delay[k], films[i].even_cs);
        free(film.byte);
    }
    free_check(check);
}

CLAIM(options_out_of_range_are_refused_by_every_view) {
    tcr_check *check = some_check(false);
    for (size_t view = 0; view < tcr_picture_views(); view++) {
        given("%s", tcr_picture_view_name(view));
        for (int i = 0; i < 8; i++) {
            given("%s, option %d", tcr_picture_view_name(view), i);
            tcr_picture_options options = options_for(view, check);
            double *const number[] = {&options.width_mm, &options.dpi, &options.at_u,
                                      &options.seat.viewer_rad, &options.seat.opening};
            if (i < 5)
                *number[i] = NAN;
            else if (i == 5)
                options.frame = options.frames;
            else if (i == 6)
                options.frame = -1;
            else
                options.frames = TCR_FRAMES_MAX + 1;
            bytes none = {0};
            expect_status(tcr_picture_write(tcr_picture_view_name(view), TCR_SVG, check, &options,
                                            keep_bytes, &none),
                          TCR_E_RANGE); /* source: draw.h */
            expect_count(none.count, 0);
        }
        tcr_picture_options options = options_for(view, check);
        options.eye[TCR_RIGHT] = false; /* the check has this one alone */
        bytes none = {0};
        expect_status(tcr_picture_write(tcr_picture_view_name(view), TCR_SVG, check, &options,
                                        keep_bytes, &none),
                      TCR_E_MISSING); /* source: draw.h */
        expect_count(none.count, 0);
    }
    bytes none = {0};
    expect_status(tcr_picture_write("compare", TCR_SVG, check, NULL, keep_bytes, &none),
                  TCR_E_ARGUMENT); /* source: draw.h; it has no second set */
    expect_count(none.count, 0);
    expect_status(tcr_picture_draw("sideways", NULL, check, NULL, NULL), TCR_E_ARGUMENT);
    free_check(check);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_views_are_those_of_the_header,
        &an_own_surface_gets_the_picture_of_the_file,
        &what_was_drawn_before_changes_no_byte,
        &every_view_tells_its_height_before_it_is_drawn,
        &a_picture_comes_in_one_piece_which_its_sink_may_refuse,
        &a_film_ends_with_its_sink_or_its_caller,
        &a_film_rests_at_its_ends_and_runs_evenly_between,
        &options_out_of_range_are_refused_by_every_view,
    };
    return RUN_DRAWN_CLAIMS("surface", claims);
}
