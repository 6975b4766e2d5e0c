/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Threads that draw the same check, plan and set at once, as draw.h allows: each must come to the
 * bytes that one thread alone came to. Built with -fsanitize=thread too.
 */
#include <tipcrest/draw.h>
#include <tipcrest/plan.h>
#include <tipcrest/tipcrest.h>

#include "draw/drawn.h"
#include "draw/face.h"
#include "threads/together.h"

static tcr_set *set, *planned;
static tcr_check *check, *after;
static tcr_plan *plan;
static tcr_plan_work *order;

static void share(void) {
    set = new_set("Drawn by threads", true, true);
    describe(set, 30);
    check = check_of(set);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &order), TCR_OK);
    after = check_of(planned);
}

static void drop(void) {
    tcr_check_free(after);
    tcr_plan_work_free(order);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    tcr_check_free(check);
    tcr_set_free(set);
}

static tcr_picture_options small(void) {
    tcr_picture_options options = tcr_picture_options_default();
    options.dpi = 30;
    options.frames = 2;
    options.with = after;
    return options;
}

/* Every third view, so that each is drawn in one format: the sanitiser makes drawing slow. */
static void draw_views(kept *k, tcr_picture_format format) {
    tcr_picture_options options = small();
    for (size_t v = (size_t)format; v < tcr_picture_views(); v += TCR_PICTURE_FORMATS)
        note(k, tcr_picture_write(tcr_picture_view_name(v), format, check, &options, keep, k));
}

static void draw_png(kept *k) { draw_views(k, TCR_PNG); }
static void draw_svg(kept *k) { draw_views(k, TCR_SVG); }
static void draw_pdf(kept *k) { draw_views(k, TCR_PDF); }

static void draw_film(kept *k) {
    tcr_picture_options options = small();
    options.with = NULL;
    note(k, tcr_film_write(check, &options, NULL, keep, k));
}

static void draw_steps(kept *k) {
    const tcr_step_picture step = tcr_step_picture_default();
    note(k, tcr_step_picture_write(TCR_SVG, set, &step, NULL, keep, k));
}

static void draw_sheet(kept *k) {
    note(k, tcr_work_sheet_write(plan, order, after, TCR_SHEET_FULL, keep, k));
}

static void compare_drawing(const work *works, int kinds) {
    share();
    compare(works, kinds);
    drop();
}

CLAIM(threads_draw_the_same_views) { compare_drawing((const work[]){draw_svg}, 1); }

CLAIM(threads_write_the_same_work_sheet) { compare_drawing((const work[]){draw_sheet}, 1); }

CLAIM(threads_that_draw_different_things_leave_each_other_alone) {
    compare_drawing((const work[]){draw_png, draw_svg, draw_pdf, draw_film, draw_steps, draw_sheet},
                    6);
}

int main(void) {
    static const TTest *const claims[] = {
        &threads_draw_the_same_views,
        &threads_write_the_same_work_sheet,
        &threads_that_draw_different_things_leave_each_other_alone,
    };
    return RUN_DRAWN_CLAIMS("drawn", claims);
}
