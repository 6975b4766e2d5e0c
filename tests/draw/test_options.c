/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Options of libtipcrest-draw, for programs of other releases. The structs named first_ are those
 * of version 0.1.0 and never change; the set is INVENTED.
 */
#include "draw/drawn.h"
#include "support/options.h"

typedef struct first_picture_options {
    size_t size;
    double width_mm, dpi;
    bool lines, staggered, companion, dark;
    bool eye[2];
    tcr_view seat;
    double at_u;
    const tcr_check *with;
    int frame, frames;
} first_picture_options;

typedef struct first_step_picture {
    size_t size;
    tcr_side side;
    const char *curl;
    double length_mm;
} first_step_picture;

INIT_OF(tcr_picture_options)
INIT_OF(tcr_step_picture)

CLAIM(members_of_the_first_release_lie_where_they_lay) {
    SAME_PLACE(first_picture_options, tcr_picture_options, size);
    SAME_PLACE(first_picture_options, tcr_picture_options, width_mm);
    SAME_PLACE(first_picture_options, tcr_picture_options, dpi);
    SAME_PLACE(first_picture_options, tcr_picture_options, lines);
    SAME_PLACE(first_picture_options, tcr_picture_options, staggered);
    SAME_PLACE(first_picture_options, tcr_picture_options, companion);
    SAME_PLACE(first_picture_options, tcr_picture_options, dark);
    SAME_PLACE(first_picture_options, tcr_picture_options, eye);
    SAME_PLACE(first_picture_options, tcr_picture_options, seat);
    SAME_PLACE(first_picture_options, tcr_picture_options, at_u);
    SAME_PLACE(first_picture_options, tcr_picture_options, with);
    SAME_PLACE(first_picture_options, tcr_picture_options, frame);
    SAME_PLACE(first_picture_options, tcr_picture_options, frames);
    SAME_PLACE(first_step_picture, tcr_step_picture, size);
    SAME_PLACE(first_step_picture, tcr_step_picture, side);
    SAME_PLACE(first_step_picture, tcr_step_picture, curl);
    SAME_PLACE(first_step_picture, tcr_step_picture, length_mm);
}

CLAIM(defaults_fill_a_struct_of_any_size_and_no_byte_behind_it) {
    tcr_expect_init("tcr_picture_options", init_tcr_picture_options, sizeof(tcr_picture_options));
    tcr_expect_init("tcr_step_picture", init_tcr_step_picture, sizeof(tcr_step_picture));
}

CLAIM(the_defaults_are_what_the_header_says) {
    const tcr_picture_options picture = tcr_picture_options_default();
    expect_count(picture.size, sizeof picture); /* source: draw.h */
    expect_same(picture.width_mm, 254.0, "given");
    expect_same(picture.dpi, 160.0, "given");
    expect_true(picture.lines && picture.staggered && picture.companion && !picture.dark);
    expect_true(picture.eye[TCR_LEFT] && picture.eye[TCR_RIGHT]);
    expect_same(picture.seat.opening, 0.0, "given");
    expect_near(picture.seat.viewer_rad, tcr_degrees(60.0), 1e-15, "rounding of two products");
    expect_same(picture.at_u, 0.5, "given");
    expect_true(picture.with == NULL);
    expect_count(picture.frame, 0);
    expect_count(picture.frames, 24);
    const tcr_step_picture step = tcr_step_picture_default();
    expect_count(step.size, sizeof step);
    expect_count(step.side, TCR_LEFT);
    expect_true(step.curl == NULL);
    expect_same(step.length_mm, 0.0, "given");
}

static tcr_status draw(const void *options, void *check) {
    bytes svg = {0};
    double height_mm = -1.0;
    const tcr_status status =
        tcr_picture_write("deviations", TCR_SVG, check, options, keep_bytes, &svg);
    expect_true((status == TCR_OK) == (svg.calls > 0));
    expect_status(tcr_picture_draw("deviations", NULL, check, options, &height_mm), status);
    expect_true((status == TCR_OK) == (height_mm > 0.0));
    free(svg.byte);
    return status;
}

/* The options of a picture where it shows steps. */
static tcr_status draw_steps(const void *options, void *set) {
    const tcr_step_picture step = tcr_step_picture_default();
    bytes svg = {0};
    double height_mm = -1.0;
    const tcr_status status =
        tcr_step_picture_write(TCR_SVG, set, &step, options, keep_bytes, &svg);
    expect_true((status == TCR_OK) == (svg.calls > 0));
    expect_status(tcr_step_picture_draw(NULL, set, &step, options, &height_mm), status);
    expect_true((status == TCR_OK) == (height_mm > 0.0));
    free(svg.byte);
    return status;
}

static tcr_status draw_step(const void *step, void *set) {
    bytes svg = {0};
    double height_mm = -1.0;
    const tcr_status status = tcr_step_picture_write(TCR_SVG, set, step, NULL, keep_bytes, &svg);
    expect_true((status == TCR_OK) == (svg.calls > 0));
    expect_status(tcr_step_picture_draw(NULL, set, step, NULL, &height_mm), status);
    expect_true((status == TCR_OK) == (height_mm > 0.0));
    free(svg.byte);
    return status;
}

CLAIM(every_size_from_the_first_releases_to_todays_is_taken_and_no_other) {
    tcr_set *set = new_set(NULL, false, true);
    describe(set, 20);
    tcr_check *check = check_of(set);
    tcr_expect_sizes(init_tcr_picture_options, sizeof(first_picture_options),
                     sizeof(tcr_picture_options), draw, check);
    tcr_expect_sizes(init_tcr_picture_options, sizeof(first_picture_options),
                     sizeof(tcr_picture_options), draw_steps, set);
    tcr_expect_sizes(init_tcr_step_picture, sizeof(first_step_picture), sizeof(tcr_step_picture),
                     draw_step, set);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_program_of_the_first_release_gets_what_it_asks_for) {
    /* Source: the same call with today's struct. */
    tcr_set *set = new_set(NULL, false, true);
    first_step_picture asked;
    first_picture_options dark;
    tcr_step_picture_init((tcr_step_picture *)&asked, sizeof asked);
    tcr_picture_options_init((tcr_picture_options *)&dark, sizeof dark);
    tcr_step_picture step = tcr_step_picture_default();
    tcr_picture_options options = tcr_picture_options_default();
    asked.curl = step.curl = "D";
    asked.length_mm = step.length_mm = 9.0;
    dark.dark = options.dark = true;
    bytes older = {0}, today = {0}, usual = {0};
    expect_status(tcr_step_picture_write(TCR_SVG, set, (const tcr_step_picture *)&asked,
                                         (const tcr_picture_options *)&dark, keep_bytes, &older),
                  TCR_OK);
    expect_status(tcr_step_picture_write(TCR_SVG, set, &step, &options, keep_bytes, &today),
                  TCR_OK);
    step = tcr_step_picture_default();
    expect_status(tcr_step_picture_write(TCR_SVG, set, &step, &options, keep_bytes, &usual),
                  TCR_OK);
    expect_count(older.count, today.count);
    expect_bytes(older.byte, today.byte, older.count);
    expect_true(usual.count != today.count); /* or nothing was asked for */
    free(older.byte);
    free(today.byte);
    free(usual.byte);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &members_of_the_first_release_lie_where_they_lay,
        &defaults_fill_a_struct_of_any_size_and_no_byte_behind_it,
        &the_defaults_are_what_the_header_says,
        &every_size_from_the_first_releases_to_todays_is_taken_and_no_other,
        &a_program_of_the_first_release_gets_what_it_asks_for,
    };
    return RUN_CLAIMS("draw/options", claims);
}
