/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A machine without fonts, or with none that has letters: no call draws a sheet of empty boxes. */
#include "draw/drawn.h"
#include "draw/face.h"

/* Every statement about TCR_E_FONT has its source in status.h and draw.h. */

static void expect_no_picture(const tcr_check *check) {
    tcr_picture_options options = tcr_picture_options_default();
    options.with = check;
    options.dpi = 40;
    options.frames = 2;
    for (size_t v = 0; v < tcr_picture_views(); v++)
        for (int format = 0; format < TCR_PICTURE_FORMATS; format++) {
            const char *view = tcr_picture_view_name(v);
            bytes none = {0};
            given("%s, format %d", view, format);
            expect_status(tcr_picture_write(view, (tcr_picture_format)format, check, &options,
                                            keep_bytes, &none),
                          TCR_E_FONT);
            expect_count(none.calls, 0);
        }
    bytes none = {0};
    expect_status(tcr_film_write(check, &options, NULL, keep_bytes, &none), TCR_E_FONT);
    expect_count(none.calls, 0);
}

static void expect_no_step(const tcr_set *set) {
    const tcr_step_picture step = tcr_step_picture_default();
    for (int format = 0; format < TCR_PICTURE_FORMATS; format++) {
        bytes none = {0};
        given("steps, format %d", format);
        expect_status(
            tcr_step_picture_write((tcr_picture_format)format, set, &step, NULL, keep_bytes, &none),
            TCR_E_FONT);
        expect_count(none.calls, 0);
    }
}

static void expect_no_sheet(const tcr_set *set) {
    tcr_set *planned;
    tcr_plan *plan;
    tcr_plan_work *work;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    tcr_check *after = check_of(planned);
    for (int form = 0; form < TCR_SHEET_FORMS; form++) {
        bytes none = {0};
        given("work sheet of form %d", form);
        expect_status(
            tcr_work_sheet_write(plan, work, after, (tcr_sheet_form)form, keep_bytes, &none),
            TCR_E_FONT);
        expect_count(none.calls, 0);
    }
    tcr_plan_work_free(work);
    tcr_check_free(after);
    tcr_set_free(planned);
    tcr_plan_free(plan);
}

/* The caller's context stays as it was, and can be drawn on. */
static void expect_context_kept(const tcr_check *check) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 8, 8);
    cairo_t *cr = cairo_create(surface);
    cairo_matrix_t matrix;
    double height = -1;
    cairo_scale(cr, 2, 3);
    expect_status(tcr_picture_draw("front", cr, check, NULL, &height), TCR_E_FONT);
    cairo_get_matrix(cr, &matrix);
    expect_same(matrix.xx, 2, "given");
    expect_same(matrix.yy, 3, "given");
    expect_same(height, -1, "a failed call leaves its outputs as they were");
    cairo_set_source_rgb(cr, 1, 0, 0);
    cairo_paint(cr);
    expect_count(cairo_status(cr), CAIRO_STATUS_SUCCESS);
    expect_count(pixel(surface, 4, 4), 0xff0000);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

static void expect_nothing_drawn(void) {
    tcr_set *set = new_set("Without a font", true, true);
    describe(set, 40);
    tcr_check *check = check_of(set);
    expect_no_picture(check);
    expect_no_step(set);
    expect_no_sheet(set);
    expect_context_kept(check);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(without_a_font_nothing_is_drawn) {
    only_face(NULL);
    expect_nothing_drawn();
}

/* It has signs of cuneiform alone. */
static const char NO_LETTERS[] = "Noto Sans Ugaritic";

CLAIM(a_font_without_letters_is_none) {
    only_face(NO_LETTERS);
    expect_nothing_drawn();
}

int main(void) {
    static const TTest *const claims[] = {&without_a_font_nothing_is_drawn,
                                          &a_font_without_letters_is_none};
    const bool both = has_face(NO_LETTERS);
    if (!both)
        skip_claim(claims[1]->name, NO_LETTERS);
    return tcr_run_claims("font", claims, both ? 2 : 1);
}
