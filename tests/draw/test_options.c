/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options of libtipcrest-draw: defaults and sizes. The set is INVENTED. */
#include "draw/drawn.h"
#include "support/options.h"

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

CLAIM(a_smaller_older_size_is_taken_and_a_wrong_one_refused) {
    tcr_set *set = new_set(NULL, false, true);
    describe(set, 20);
    tcr_check *check = check_of(set);
    const tcr_picture_options picture_options = tcr_picture_options_default();
    tcr_expect_sizes(&picture_options, sizeof picture_options, draw, check);
    tcr_expect_sizes(&picture_options, sizeof picture_options, draw_steps, set);
    const tcr_step_picture step_picture = tcr_step_picture_default();
    tcr_expect_sizes(&step_picture, sizeof step_picture, draw_step, set);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_defaults_are_what_the_header_says,
        &a_smaller_older_size_is_taken_and_a_wrong_one_refused,
    };
    return RUN_CLAIMS("draw/options", claims);
}
