/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options of libtipcrest-draw: defaults and sizes. The set is INVENTED. */
#include "draw/drawn.h"
#include "draw/face.h"
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

CLAIM(the_largest_dpi_is_the_last_that_is_drawn) {
    tcr_set *set = new_set(NULL, false, true);
    describe(set, 20);
    const tcr_step_picture step = tcr_step_picture_default();
    tcr_picture_options options = tcr_picture_options_default();
    bytes png = {0};
    options.width_mm = 2000.0;
    options.dpi = tcr_picture_dpi_most(options.width_mm) + 1.0;
    expect_status(tcr_step_picture_write(TCR_PNG, set, &step, &options, keep_bytes, &png),
                  TCR_E_RANGE);
    expect_count(png.calls, 0);
    /* Source: draw.h; 2000 mm are 2000/25.4 inches, and the side of a PNG at most 12000 pixels. */
    expect_same(tcr_picture_dpi_most(2000.0), 152.0, "floor(12000 x 25.4 / 2000)");
    tcr_set_free(set);
}

CLAIM(a_sheet_of_what_does_not_belong_together_is_refused) {
    tcr_set *set = new_set(NULL, false, true), *other = new_set(NULL, false, true), *planned;
    tcr_plan *plan, *second;
    tcr_plan_work *work, *others;
    bytes pdf = {0};
    describe(set, 40);
    describe(other, 30);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_new(set, NULL, &second, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    expect_status(tcr_plan_work_new(second, NULL, &others), TCR_OK);
    tcr_check *after = check_of(planned), *foreign = check_of(other);
    const struct {
        const tcr_plan_work *work;
        const tcr_check *after;
        int form;
        tcr_status status;
    } calls[] = {{others, after, 0, TCR_E_ARGUMENT},    {work, foreign, 0, TCR_E_ARGUMENT},
                 {NULL, after, 0, TCR_E_ARGUMENT},      {work, NULL, 0, TCR_E_ARGUMENT},
                 {work, after, -1, TCR_E_ARGUMENT},     {work, after, 99, TCR_E_ARGUMENT},
                 {work, after, TCR_SHEET_ZONES, TCR_OK}};
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
        given("call %zu", i);
        expect_count(pdf.calls, 0);
        expect_status(tcr_work_sheet_write(plan, calls[i].work, calls[i].after,
                                           (tcr_sheet_form)calls[i].form, keep_bytes, &pdf),
                      calls[i].status);
    }
    expect_true(pdf.calls > 0);
    free(pdf.byte);
    tcr_check_free(after);
    tcr_check_free(foreign);
    tcr_plan_work_free(work);
    tcr_plan_work_free(others);
    tcr_plan_free(plan);
    tcr_plan_free(second);
    tcr_set *const sets[] = {set, other, planned};
    for (int i = 0; i < 3; i++)
        tcr_set_free(sets[i]);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_defaults_are_what_the_header_says,
        &a_smaller_older_size_is_taken_and_a_wrong_one_refused,
        &the_largest_dpi_is_the_last_that_is_drawn,
        &a_sheet_of_what_does_not_belong_together_is_refused,
    };
    return RUN_DRAWN_CLAIMS("draw/options", claims);
}
