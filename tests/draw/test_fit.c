/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every text of every picture is whole, on the page and off the other texts, whatever the face. A
 * machine has one face in each claim, by a configuration of fontconfig made for it.
 */
#include <stdio.h>

#include <cairo.h>

#include "draw/drawn.h"
#include "draw/face.h"
#include "draw/layout.h"
#include "draw/picture.h"
#include "draw/work_sheet.h"

/* ---- What is drawn --------------------------------------------------------------------------- */

enum { TEXTS_MAX = 4000, SHOWN = 80 };

typedef struct texts {
    size_t count;
    int cut, clipped, unknown;
    char text[TEXTS_MAX][SHOWN];
    tcr_box box[TEXTS_MAX]; /* mm on the page */
    int page[TEXTS_MAX];
    double per_mm; /* units of the surface */
} texts;

static void keep(void *context, const tcr_text_drawn *drawn) {
    texts *to = context;
    const double unit = 1 / to->per_mm, slack = 0.05 * to->per_mm;
    ck_assert_uint_lt(to->count, TEXTS_MAX);
    if (drawn->cut)
        fprintf(stderr, "# cut: %s\n", drawn->text);
    if (drawn->unknown > 0)
        fprintf(stderr, "# unknown glyphs: %s\n", drawn->text);
    to->cut += drawn->cut;
    to->unknown += drawn->unknown;
    const tcr_box ink = drawn->ink, clip = drawn->clip;
    if (ink.width <= 0)
        return;
    if (ink.x < clip.x - slack || ink.y < clip.y - slack ||
        ink.x + ink.width > clip.x + clip.width + slack ||
        ink.y + ink.height > clip.y + clip.height + slack) {
        to->clipped++;
        fprintf(stderr, "# not whole: %s\n", drawn->text);
    }
    snprintf(to->text[to->count], SHOWN, "%s", drawn->text);
    to->page[to->count] = drawn->page;
    to->box[to->count++] =
        (tcr_box){unit * ink.x, unit * ink.y, unit * ink.width, unit * ink.height};
}

/* Pairs of texts whose glyphs lie on each other by more than this, in both directions. */
static int covered(const texts *all) {
    const double touch_mm = 0.15;
    int count = 0;
    for (size_t i = 0; i < all->count; i++)
        for (size_t k = i + 1; k < all->count; k++) {
            const tcr_box a = all->box[i], b = all->box[k];
            const double across = fmin(a.x + a.width, b.x + b.width) - fmax(a.x, b.x);
            const double down = fmin(a.y + a.height, b.y + b.height) - fmax(a.y, b.y);
            if (all->page[i] != all->page[k] || across < touch_mm || down < touch_mm)
                continue;
            count++;
            fprintf(stderr, "# covered: \"%s\" and \"%s\" at %.1f %.1f\n", all->text[i],
                    all->text[k], b.x, b.y);
        }
    return count;
}

/* Texts beyond the rim of a page. */
static int beyond(const texts *all, double rim, double width, double height) {
    int count = 0;
    for (size_t i = 0; i < all->count; i++) {
        const tcr_box b = all->box[i];
        if (b.x >= rim && b.y >= rim && b.x + b.width <= width - rim &&
            b.y + b.height <= height - rim)
            continue;
        count++;
        fprintf(stderr, "# beyond the page: %s at %.1f %.1f\n", all->text[i], b.x, b.y);
    }
    return count;
}

static void expect_whole(const texts *all, double rim, double width, double height) {
    const int lost = beyond(all, rim, width, height), over = covered(all);
    expect_true(all->count > 10);
    expect_count(all->cut, 0);
    expect_count(all->unknown, 0);
    expect_count(all->clipped, 0);
    expect_count(lost, 0);
    expect_count(over, 0);
}

/* ---- Pictures -------------------------------------------------------------------------------- */

static tcr_set *a_set(int eyes) {
    tcr_set *set = new_set("A set to look at, layered and described", eyes == 2, true);
    describe(set, 96);
    return set;
}

static texts all;

static cairo_t *a_page(double width, double height) {
    const cairo_rectangle_t page = {0, 0, width, height};
    cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page);
    cairo_t *cr = cairo_create(surface);
    cairo_surface_destroy(surface);
    return cr;
}

static void draw_whole(const tcr_picture_view *view, tcr_picture *picture) {
    const double width = picture->options.width_mm, height = tcr_picture_height_mm(picture);
    cairo_t *cr = a_page(width, height);
    all = (texts){.per_mm = 1};
    picture->watcher = (tcr_text_watcher){keep, &all};
    fprintf(stderr, "# %s, %d eyes, %g mm\n", view->name, picture->eyes, width);
    expect_status(tcr_picture_fill(view, cr, picture), TCR_OK);
    cairo_destroy(cr);
    /* Covering counts at the README's size; at other sizes the same is drawn in other units. */
    expect_whole(&all, 0.5, width, height);
}

/* No words of the column on the small picture at its foot, which is drawn first. */
static void expect_off_companion(const tcr_picture *picture) {
    const tcr_view view = tcr_check_view(picture->check);
    const double unit = picture->options.width_mm / TCR_SHEET_WIDTH;
    tcr_layout layout;
    tcr_layout_of(picture, &view, &picture->options.seat, &layout);
    for (int k = 0; k < picture->eyes; k++) {
        const tcr_box p = layout.small[k].panel;
        for (size_t i = 0; i < all.count; i++) {
            const tcr_box b = all.box[i];
            given("%s at %g %g", all.text[i], b.x, b.y);
            expect_true(b.x > unit * (p.x + p.width) || b.x + b.width < unit * p.x ||
                        b.y > unit * (p.y + p.height) || b.y + b.height < unit * p.y);
        }
    }
}

static const double WIDTHS_MM[] = {TCR_SHEET_WIDTH, 120};

static void draw_as(const char *view, const tcr_check *check, tcr_picture_options options) {
    for (size_t w = 0; w < sizeof WIDTHS_MM / sizeof *WIDTHS_MM; w++) {
        tcr_picture picture;
        options.width_mm = WIDTHS_MM[w];
        expect_status(tcr_picture_take(check, &options, &picture), TCR_OK);
        given("%s, %d eyes, %g mm", view, picture.eyes, WIDTHS_MM[w]);
        draw_whole(tcr_picture_view_find(view), &picture);
        if (strcmp(view, "front") == 0 || strcmp(view, "artist") == 0)
            expect_off_companion(&picture);
    }
}

static void draw_views(int eyes, tcr_against against) {
    tcr_set *set = a_set(eyes);
    tcr_check_options how = tcr_check_options_default();
    tcr_check *check;
    how.against = against;
    expect_status(tcr_check_new(set, &how, &check, NULL), TCR_OK);
    tcr_picture_options options = tcr_picture_options_default();
    options.with = check;
    options.frame = 12;
    for (size_t v = 0; v < tcr_picture_views(); v++)
        draw_as(tcr_picture_view_name(v), check, options);
    options.with = NULL;
    options.from_head = true;
    draw_as("artist", check, options);
    tcr_check_free(check);
    tcr_set_free(set);
}

static void draw_steps(void) {
    tcr_set *set = a_set(1);
    for (size_t w = 0; w < sizeof WIDTHS_MM / sizeof *WIDTHS_MM; w++) {
        tcr_picture_options options = tcr_picture_options_default();
        const tcr_step_picture step = tcr_step_picture_default();
        tcr_picture picture;
        options.width_mm = WIDTHS_MM[w];
        expect_status(tcr_picture_take_step(set, &step, &options, &picture), TCR_OK);
        given("step, %g mm", WIDTHS_MM[w]);
        draw_whole(&tcr_picture_view_step, &picture);
    }
    tcr_set_free(set);
}

/* Every form, with names as long as those of keys and of sets are. */
static void draw_charts(void) {
    static const double NUMBER[] = {0.31, 0.12, NAN, 0.22, 0.4, 0.5, 0.123456, 1.5};
    static const double PLACE[] = {0.1, 0.25, 1200.0, 1800.0};
    static const char *const WORD[] = {"eyes.right.lashes.describe.root_diameter_sd_mm",
                                       "outer-side",
                                       "C",
                                       "lashes.describe.length_sd_mm",
                                       "a",
                                       "b",
                                       "c",
                                       "d"};
    static const char *const REMARK[] = {
        "Best: lashes.describe.length_sd_mm 0.5, layering.placement.middle outer-side, "
        "with mean 0.284 mm.",
        "100 runs: lashes drawn by chance, with spreads that are assumed where none is given."};
    enum {
        WITH_LINES = TCR_CHART_FORMS
    }; /* a curve over numbers, close to each other at its end */
    for (int form = 0; form <= WITH_LINES; form++)
        for (size_t w = 0; w < sizeof WIDTHS_MM / sizeof *WIDTHS_MM; w++) {
            tcr_picture_options options = tcr_picture_options_default();
            tcr_chart chart = tcr_chart_default(), taken;
            tcr_picture picture;
            chart.form = form == WITH_LINES ? TCR_CHART_CURVE : (tcr_chart_form)form;
            chart.title = "Which curl and length forgive lashes that grow every which way";
            chart.text = "fitted.layer_offset_mm.middle over 1000 points";
            chart.quantity = "intended.layer_offset_mm.middle, mm, mean over the runs";
            chart.x = (tcr_chart_axis){WORD[0], form == TCR_CHART_BARS ? 4 : 2, NULL, WORD};
            if (form == TCR_CHART_CURVES)
                chart.x = (tcr_chart_axis){NULL, 2, PLACE, NULL};
            if (form == WITH_LINES)
                chart.x = (tcr_chart_axis){WORD[0], 2, PLACE, NULL};
            if (form == WITH_LINES || form == TCR_CHART_MAP)
                chart.y = (tcr_chart_axis){WORD[3], 2, NULL, WORD + 1};
            chart.panel = (tcr_chart_axis){WORD[3], 2, NULL, WORD + 1};
            chart.value = chart.second = NUMBER;
            chart.first_name = "what a factor explains by itself";
            chart.second_name = "with all that it does together with others";
            chart.remark = REMARK;
            chart.remarks = 2;
            chart.foot = "Computed for the set of the study; other lashes, other answers.";
            options.width_mm = WIDTHS_MM[w];
            expect_status(tcr_picture_take_chart(&chart, &options, &taken, &picture), TCR_OK);
            given("chart of form %d, %g mm", form, WIDTHS_MM[w]);
            draw_whole(&tcr_picture_view_study, &picture);
        }
}

static int drop(void *context, const void *piece, size_t count) {
    (void)context;
    (void)piece;
    (void)count;
    return 0;
}

/* Both forms of the sheet of a plan, with as many corrections as it makes by itself. */
static void draw_sheets(int eyes) {
    static const double A4_MM[] = {210, 297}, RIM_MM = 5, POINTS_PER_MM = 72 / 25.4;
    tcr_set *set = a_set(eyes), *planned;
    tcr_plan *plan;
    tcr_plan_work *work;
    tcr_check *after;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_check_new(planned, NULL, &after, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    for (int form = 0; form < TCR_SHEET_FORMS; form++) {
        const tcr_text_watcher watcher = {keep, &all};
        all = (texts){.per_mm = POINTS_PER_MM};
        given("sheet of form %d, %d eyes", form, eyes);
        fprintf(stderr, "# sheet of form %d, %d eyes,\n", form, eyes);
        expect_status(
            tcr_work_sheet_watched(plan, work, after, (tcr_sheet_form)form, &watcher, drop, NULL),
            TCR_OK);
        expect_whole(&all, RIM_MM, A4_MM[0], A4_MM[1]);
        expect_true(form == TCR_SHEET_FULL ? all.page[all.count - 1] > 0
                                           : all.page[all.count - 1] == 0);
    }
    tcr_plan_work_free(work);
    tcr_check_free(after);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

static void draw_all(const char *family) {
    only_face(family);
    for (int eyes = 1; eyes <= 2; eyes++) {
        draw_views(eyes, TCR_FITTED);
        draw_views(eyes, TCR_INTENDED);
    }
    draw_steps();
    draw_charts();
    draw_sheets(1);
    draw_sheets(2);
}

static const char NOTO[] = "Noto Sans", DEJAVU[] = "DejaVu Sans";
/*
 * The widest face that build-aux/packages.sh installs: on the sample of canvas.c 28 % wider than
 * Noto Sans in regular type and 21 % in bold; DejaVu Sans has 9 and 16 %. It is not the widest of
 * Debian 12: of 14 packages more that were tried, Fira Code has 32 %, League Mono 51 % and Monoid
 * Loose 59 % in regular type, all for programs. A sheet's type is set smaller by as much
 * (canvas.c), so what is tried here is how unlike Noto Sans the single texts come out.
 */
static const char WIDE[] = "DejaVu Sans Mono";

CLAIM(pictures_are_whole_in_noto_sans) { draw_all(NOTO); }
CLAIM(pictures_are_whole_in_dejavu_sans) { draw_all(DEJAVU); }
CLAIM(pictures_are_whole_in_a_wide_face) { draw_all(WIDE); }

int main(void) {
    static const struct {
        const char *family;
        const TTest *claim;
    } each[] = {{NOTO, &pictures_are_whole_in_noto_sans},
                {DEJAVU, &pictures_are_whole_in_dejavu_sans},
                {WIDE, &pictures_are_whole_in_a_wide_face}};
    enum { FACES = sizeof each / sizeof *each };
    const TTest *claims[FACES];
    size_t count = 0;
    for (size_t i = 0; i < FACES; i++) {
        if (has_face(each[i].family))
            claims[count++] = each[i].claim;
        else
            skip_claim(each[i].claim->name, each[i].family);
    }
    return count > 0 ? tcr_run_claims("fit", claims, count) : SKIPPED;
}
