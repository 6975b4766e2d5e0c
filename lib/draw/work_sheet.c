/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The work sheet of a plan: pages of A4 to print. The first has the maps, what zones get and the
 * cautions, those behind it the lists. All is laid out first into nothing, to know how many
 * pages there are.
 */
#include "draw/work_sheet.h"

#include <cairo-pdf.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include <tipcrest/version.h>

#include "draw/sheet.h"
#include "draw/write.h"
#include "num/order.h"

static const double POINTS_PER_MM = 72 / 25.4;

static const char *const CAUTIONS[] = {
    "For trained and, where the law asks, licensed hands; local rules go before this sheet.",
    "Lids stay closed until the adhesive has cured. Work with good ventilation.",
    "Ask the glue\xe2\x80\x99s maker for its ingredients; test it on the skin, away from the eye.",
    "Not with an active eye or lid disease, nor a known acrylate or formaldehyde allergy.",
    "Isolate every lash: none may stick to its neighbour.",
    "Pain, redness or a change of sight: stop, and have a doctor see the eye.",
};
enum { CAUTIONS_COUNT = sizeof CAUTIONS / sizeof *CAUTIONS };
static const double LIST_TOP = TCR_PAGE_EDGE + 8; /* of the columns behind the first page */
static const double LEAST_FILLED = 0.5;           /* of a last page */

const char *tcr_work_source(double value, double usual, const char *source) {
    return value == usual ? source : "";
}

const char *tcr_work_place(char out[TCR_WORDS], double u) {
    char number[TCR_WORDS];
    snprintf(out, TCR_WORDS, "%.20s %%", tcr_say_number(number, 100 * u, 1, false));
    return out;
}

const char *tcr_work_id(char out[TCR_WORK_ID], const tcr_set *set, tcr_side side, size_t lash) {
    snprintf(out, TCR_WORK_ID, "%c %s", side == TCR_LEFT ? 'L' : 'R', tcr_set_id(set, side, lash));
    return out;
}

const char *tcr_work_say(char out[TCR_WORDS], const tcr_set *set, const tcr_choice *choice,
                         bool placement) {
    char number[TCR_WORDS];
    snprintf(out, TCR_WORDS, "%.20s %s%s%s", tcr_say_trimmed(number, choice->length_mm, 2),
             tcr_set_curl(set, choice->curl)->label, placement ? " " : "",
             placement ? tcr_say_placement(choice->placement) : "");
    return out;
}

/* ---- Flow ---------------------------------------------------------------------------- */

double tcr_work_left(const tcr_work_flow *flow) {
    return TCR_PAGE_EDGE + flow->column * (TCR_PAGE_COLUMN + TCR_PAGE_GAP);
}

static void foot(const tcr_work_flow *flow) {
    const double y = TCR_PAGE_HEIGHT - 8.5;
    char text[TCR_WORDS];
    tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = flow->canvas->style->quiet};
    tcr_canvas_text(flow->canvas, TCR_PAGE_EDGE, y, tcr_sheet_cautions, &small);
    snprintf(text, sizeof text, "tipcrest %s \xc2\xb7 page %d of %d", tcr_version(), flow->page,
             flow->pages);
    small.align = 1;
    tcr_canvas_text(flow->canvas, TCR_PAGE_WIDTH - TCR_PAGE_EDGE, y, text, &small);
}

static void next_page(tcr_work_flow *flow) {
    const char *title = tcr_set_title(flow->sheet->set);
    const tcr_setting heading = {.type = TCR_TYPE_HEADING,
                                 .colour = flow->canvas->style->ink,
                                 .width_mm = TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE};
    foot(flow);
    tcr_canvas_page(flow->canvas);
    flow->page++;
    flow->column = 0;
    flow->y = flow->right = LIST_TOP;
    flow->bottom = TCR_PAGE_FOOT;
    tcr_canvas_text(flow->canvas, TCR_PAGE_EDGE, TCR_PAGE_EDGE + 3,
                    title[0] != '\0' ? title : "Work sheet", &heading);
}

void tcr_work_room(tcr_work_flow *flow, double height) {
    if (flow->y + height <= flow->bottom)
        return;
    if (flow->column == 1) {
        next_page(flow);
    } else {
        flow->column = 1;
        flow->y = flow->right;
    }
}

void tcr_work_heading(tcr_work_flow *flow, const char *text) {
    const tcr_setting heading = {
        .type = TCR_TYPE_HEADING, .colour = flow->canvas->style->ink, .width_mm = TCR_PAGE_COLUMN};
    const double top = flow->y;
    tcr_work_room(flow, 18);
    if (flow->y == top)
        flow->y += 2;
    tcr_canvas_text(flow->canvas, tcr_work_left(flow), flow->y + 3, text, &heading);
    flow->y += 4.6;
}

static tcr_setting paragraph_setting(tcr_rgba colour) {
    return (tcr_setting){
        .type = TCR_TYPE_SMALL, .colour = colour, .width_mm = TCR_PAGE_COLUMN, .lines = 12};
}

double tcr_work_paragraph_height(const tcr_work_flow *flow, const char *text) {
    const tcr_setting small = paragraph_setting(flow->canvas->style->ink);
    return tcr_canvas_measure(flow->canvas, text, &small).height + 1.2;
}

void tcr_work_paragraph(tcr_work_flow *flow, const char *text, tcr_rgba colour) {
    const tcr_setting small = paragraph_setting(colour);
    const tcr_box size = tcr_canvas_measure(flow->canvas, text, &small);
    tcr_work_room(flow, size.height + 1.2);
    tcr_canvas_text(flow->canvas, tcr_work_left(flow), flow->y + 0.6 - size.y, text, &small);
    flow->y += size.height + 1.2;
}

double tcr_work_line(const tcr_work_flow *flow, const tcr_work_table *table) {
    /* The first page is laid out before it is known how many there are. */
    const double squeeze = flow->page == 1 ? fmin(1, flow->sheet->squeeze) : flow->sheet->squeeze;
    return table->dense ? TCR_WORK_DENSE * squeeze : TCR_WORK_LINE;
}

void tcr_work_mono(tcr_canvas *canvas, bool mono) {
    PangoAttrList *list = NULL;
    if (mono) {
        list = pango_attr_list_new();
        pango_attr_list_insert(
            list, pango_attr_family_new("Noto Sans Mono, DejaVu Sans Mono, monospace"));
    }
    pango_layout_set_attributes(canvas->layout, list);
    if (list != NULL)
        pango_attr_list_unref(list);
}

void tcr_work_cells(tcr_work_flow *flow, const tcr_work_table *table, const char *const *cell,
                    bool quiet) {
    const double line = tcr_work_line(flow, table);
    const double left = (tcr_work_room(flow, line), tcr_work_left(flow));
    const double *at = table->at;
    const tcr_style *style = flow->canvas->style;
    for (int i = 0; i < table->cells; i++) {
        const bool ends = at[i] < 0;
        const bool id = (table->ids >> i & 1) != 0 && !quiet;
        const double next = i + 1 == table->cells ? TCR_PAGE_COLUMN
                            : at[i + 1] < 0       ? -at[i + 1] - 10.5
                                                  : at[i + 1];
        const tcr_setting setting = {.type = quiet || table->dense ? TCR_TYPE_SMALL : TCR_TYPE_BODY,
                                     .colour = quiet ? style->quiet : style->ink,
                                     .align = ends ? 1 : 0,
                                     .width_mm = ends || quiet ? 0 : next - at[i] - 1.2,
                                     .keep_end = id};
        tcr_work_mono(flow->canvas, id);
        tcr_canvas_text(flow->canvas, left + (ends ? -at[i] : at[i]),
                        flow->y + (table->dense ? line - 1 : 3.2), cell[i], &setting);
    }
    tcr_work_mono(flow->canvas, false);
    flow->y += line;
    tcr_canvas_colour(flow->canvas, tcr_rgba_faded(style->quiet, 0.35));
    cairo_rectangle(flow->canvas->cr, left, flow->y - 0.05, TCR_PAGE_COLUMN, 0.1);
    cairo_fill(flow->canvas->cr);
}

/* ---- The first page ------------------------------------------------------------------ */

static void titles(tcr_canvas *canvas, const tcr_work_sheet *sheet) {
    const double width = TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE;
    const char *title = tcr_set_title(sheet->set);
    char text[2 * TCR_WORDS], minutes[TCR_WORDS];
    tcr_setting large = {.type = TCR_TYPE_TITLE, .colour = canvas->style->ink};
    title = title[0] != '\0' ? title : "Work sheet";
    const bool fits = tcr_canvas_measure(canvas, title, &large).width <= width;
    large.width_mm = width;
    if (!fits) { /* a long one in small type on two lines */
        large.type = TCR_TYPE_HEADING;
        large.lines = 2;
    }
    const tcr_setting body = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->quiet, .width_mm = width};
    tcr_canvas_text(canvas, TCR_PAGE_EDGE, TCR_PAGE_EDGE + (fits ? 5.5 : 3), title, &large);
    const int used = snprintf(
        text, sizeof text, "%s \xc2\xb7 %s \xc2\xb7 %s%zu lashes get an extension",
        sheet->form == TCR_SHEET_ZONES ? "Zones" : "Work sheet", tcr_sheet_eyes(&sheet->picture),
        sheet->zones_only ? "about " : "", sheet->work->lashes);
    if (sheet->form == TCR_SHEET_FULL)
        snprintf(text + used, sizeof text - (size_t)used,
                 " \xc2\xb7 about %.20s minutes at the paces below",
                 tcr_say_number(minutes, sheet->work->minutes, 0, false));
    tcr_canvas_text(canvas, TCR_PAGE_EDGE, TCR_PAGE_EDGE + 11.5, text, &body);
}

/* What is filled in by hand: the sheet holds no one's data. */
static void fields(tcr_canvas *canvas, double y) {
    static const char *const NAME[] = {"Client", "Date", "By"};
    static const double AT[] = {0, 92, 132}, END[] = {88, 128, TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE};
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->ink};
    for (int i = 0; i < 3; i++) {
        const double x = TCR_PAGE_EDGE + AT[i];
        const double width = tcr_canvas_measure(canvas, NAME[i], &small).width;
        tcr_canvas_text(canvas, x, y, NAME[i], &small);
        tcr_canvas_colour(canvas, canvas->style->ink);
        cairo_rectangle(canvas->cr, x + width + 1.5, y + 0.3, END[i] - AT[i] - width - 1.5, 0.15);
        cairo_fill(canvas->cr);
    }
}

static tcr_setting caution_setting(const tcr_canvas *canvas) {
    return (tcr_setting){.type = TCR_TYPE_SMALL,
                         .colour = canvas->style->ink,
                         .width_mm = (TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE - 12) / 2,
                         .lines = 3};
}

enum { CAUTIONS_HALF = CAUTIONS_COUNT / 2 };
static const double CAUTIONS_HEAD = 9.6, CAUTIONS_GAP = 0.8;

/* The height of their box, from its longer half. */
static double cautions_height(tcr_canvas *canvas) {
    const tcr_setting body = caution_setting(canvas);
    double half[2] = {0, 0};
    for (int i = 0; i < CAUTIONS_COUNT; i++)
        half[i / CAUTIONS_HALF] +=
            tcr_canvas_measure(canvas, CAUTIONS[i], &body).height + CAUTIONS_GAP;
    return CAUTIONS_HEAD + fmax(half[0], half[1]) + 1;
}

static void cautions(tcr_canvas *canvas) {
    const tcr_style *style = canvas->style;
    const double height = cautions_height(canvas);
    const tcr_box box = {TCR_PAGE_EDGE, TCR_PAGE_FOOT - height, TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE,
                         height};
    const tcr_setting heading = {.type = TCR_TYPE_HEADING, .colour = style->ink};
    const tcr_setting body = caution_setting(canvas);
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, box, 1.5);
    tcr_canvas_colour(canvas, style->ink);
    cairo_set_line_width(canvas->cr, 0.35);
    cairo_stroke(canvas->cr);
    tcr_canvas_text(canvas, box.x + 4, box.y + 5, "Before you begin", &heading);
    for (int half = 0; half < 2; half++) {
        double y = box.y + CAUTIONS_HEAD;
        for (int i = half * CAUTIONS_HALF; i < (half + 1) * CAUTIONS_HALF; i++)
            y += tcr_canvas_text(canvas, box.x + 4 + half * (body.width_mm + 4), y, CAUTIONS[i],
                                 &body) +
                 CAUTIONS_GAP;
    }
}

/* What to lay out, and loads, below the zones of two eyes or beside those of one. */
static void lists_of_first(tcr_work_flow *flow, tcr_work_sheet *sheet, double top,
                           double end[TCR_SIDES]) {
    const bool one = sheet->picture.eyes == 1;
    const double low = fmax(end[0], end[1]);
    const double left = one ? end[0] : low, right = one ? top : low;
    sheet->dense_first = false;
    if (left + tcr_work_tally_height(flow) > flow->bottom ||
        right + tcr_work_loads_height(flow) > flow->bottom)
        sheet->dense_first = true;
    const double tally = tcr_work_tally_height(flow), loads = tcr_work_loads_height(flow);
    sheet->tally_first = left + tally <= flow->bottom;
    if (sheet->tally_first) {
        flow->column = 0;
        flow->y = left;
        tcr_work_tally(flow);
        end[0] = flow->y;
    }
    sheet->loads_first = right + loads <= flow->bottom;
    if (sheet->loads_first) {
        flow->column = 1;
        flow->y = right;
        tcr_work_loads(flow);
        end[1] = flow->y;
    }
}

/* Of the eye that has more. */
static size_t most_zones(const tcr_work_sheet *sheet) {
    size_t most = 0, zones;
    for (int i = 0; i < sheet->picture.eyes; i++) {
        (void)tcr_set_map(sheet->set, sheet->picture.side[i], &zones);
        most = zones > most ? zones : most;
    }
    return most;
}

/* Of what stands below the heads of the zones: the rows of the eye that has more, and which lashes
 * want another size. */
static double zones_height(const tcr_work_flow *flow) {
    const tcr_work_sheet *sheet = flow->sheet;
    double wants = 0;
    for (int i = 0; i < sheet->picture.eyes; i++)
        wants = fmax(wants, tcr_work_wants_height(flow, sheet->picture.side[i]));
    const bool kinds = !tcr_plan_result_of(sheet->plan)->one_kind;
    const double dense = TCR_WORK_DENSE * (kinds + (sheet->form == TCR_SHEET_ZONES));
    return wants + (TCR_WORK_LINE + dense) * (double)most_zones(sheet);
}

/* Lines to write on, down to the cautions, where there is room for a few. */
static void notes(const tcr_work_flow *flow, double y) {
    static const double APART_MM = 8;
    const tcr_setting heading = {.type = TCR_TYPE_HEADING, .colour = flow->canvas->style->ink};
    if (y + 3 * APART_MM > flow->bottom)
        return;
    tcr_canvas_text(flow->canvas, TCR_PAGE_EDGE, y, "Notes", &heading);
    tcr_canvas_colour(flow->canvas, tcr_rgba_faded(flow->canvas->style->quiet, 0.35));
    while ((y += APART_MM) <= flow->bottom)
        cairo_rectangle(flow->canvas->cr, TCR_PAGE_EDGE, y, TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE,
                        0.1);
    cairo_fill(flow->canvas->cr);
}

static tcr_status first_page(tcr_work_flow *flow, tcr_work_sheet *sheet) {
    double top = 0, end[TCR_SIDES] = {0};
    titles(flow->canvas, sheet);
    const double said = tcr_work_reached(flow->canvas, sheet, TCR_PAGE_EDGE + 13);
    fields(flow->canvas, said + 4.5);
    const tcr_status status = tcr_work_maps(flow->canvas, sheet, said + 8, &top);
    end[0] = end[1] = top;
    flow->bottom = TCR_PAGE_FOOT - cautions_height(flow->canvas) - 3;
    sheet->zones_among_lists = top + 8 + TCR_WORK_LINE + zones_height(flow) > flow->bottom;
    for (int i = 0; i < sheet->picture.eyes && !sheet->zones_among_lists; i++) {
        flow->column = i;
        flow->y = top;
        tcr_work_zones(flow, sheet->picture.side[i]);
        tcr_work_wants(flow, sheet->picture.side[i]);
        end[i] = flow->y;
    }
    if (sheet->form == TCR_SHEET_FULL)
        lists_of_first(flow, sheet, top, end);
    else
        notes(flow, (sheet->zones_with_tally ? tcr_work_tally_words(flow, fmax(end[0], end[1]))
                                             : fmax(end[0], end[1])) +
                        5);
    flow->column = 0;
    flow->y = end[0];
    flow->right = end[1];
    cautions(flow->canvas);
    return status;
}

/* How much of the page's two columns is filled. */
static double filled(const tcr_work_flow *flow) {
    const double high = flow->bottom - LIST_TOP;
    return (flow->column * high + flow->y - LIST_TOP) / (2 * high);
}

/* All pages on a surface; how many there are, and how much of the last is filled. */
static tcr_status fill(cairo_surface_t *surface, tcr_work_sheet *sheet, int pages, int *count,
                       double *last) {
    cairo_t *cr = cairo_create(surface);
    tcr_canvas canvas;
    cairo_scale(cr, POINTS_PER_MM, POINTS_PER_MM);
    tcr_status status = tcr_canvas_begin(&canvas, cr, tcr_style_on(false));
    if (status == TCR_OK) {
        canvas.watcher = sheet->picture.watcher;
        tcr_work_flow flow = {.canvas = &canvas, .sheet = sheet, .page = 1, .pages = pages};
        status = first_page(&flow, sheet);
        if (status == TCR_OK) {
            const bool alone = sheet->form == TCR_SHEET_ZONES && !sheet->zones_among_lists;
            if (!sheet->lists_first && !alone)
                next_page(&flow);
            tcr_work_lists(&flow);
            foot(&flow);
            *count = flow.page;
            *last = flow.page > 1 ? filled(&flow) : 1;
        }
        cairo_show_page(cr);
        const tcr_status drawn = tcr_canvas_end(&canvas);
        status = status == TCR_OK ? drawn : status;
    }
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    if (status == TCR_OK && cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        status = TCR_E_MEMORY;
    return status;
}

/* ---- The file ------------------------------------------------------------------------ */

static cairo_status_t drop(void *context, const unsigned char *bytes, unsigned count) {
    (void)context;
    (void)bytes;
    (void)count;
    return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t *surface_for(cairo_write_func_t write, void *context) {
    return cairo_pdf_surface_create_for_stream(write, context, POINTS_PER_MM * TCR_PAGE_WIDTH,
                                               POINTS_PER_MM * TCR_PAGE_HEIGHT);
}

static bool by_eye_and_place(const void *a, const void *b, const void *unused) {
    const tcr_work_correction *x = a, *y = b;
    (void)unused;
    if (x->side != y->side)
        return x->side == TCR_RIGHT; /* as the artist sees the eyes */
    return x->u != y->u ? x->u < y->u : x->lash < y->lash;
}

static tcr_status find_corrections(tcr_work_sheet *sheet, tcr_work_correction **found) {
    size_t count = 0;
    *found = calloc(sheet->work->places + 1, sizeof **found);
    if (*found == NULL)
        return TCR_E_MEMORY;
    for (size_t p = 0; p < sheet->work->places; p++) {
        const tcr_plan_place *place = &sheet->work->place[p];
        if (tcr_plan_eye_of(sheet->plan, place->side)->lash[place->lash].corrected)
            (*found)[count++] = (tcr_work_correction){
                place->side, place->lash, tcr_set_lash(sheet->set, place->side, place->lash)->u};
    }
    tcr_sort_items(*found, count, sizeof **found, by_eye_and_place, NULL);
    sheet->correction = *found;
    sheet->corrections = count;
    return TCR_OK;
}

/* Lays all out into nothing. */
static tcr_status try_out(tcr_work_sheet *sheet, int *pages, double *last) {
    cairo_surface_t *surface = surface_for(drop, NULL);
    const tcr_status status = fill(surface, sheet, 1, pages, last);
    cairo_surface_destroy(surface);
    return status;
}

/* Tries lists that begin on the first page, then lower lines, until the last page is saved. */
static tcr_status save_last(tcr_work_sheet *sheet, int first, int *pages) {
    static const double LESS[] = {0.97, 0.94, 0.91};
    double last;
    sheet->lists_first = true;
    tcr_status status = try_out(sheet, pages, &last);
    if (status != TCR_OK || *pages < first)
        return status;
    sheet->lists_first = false;
    for (size_t i = 0; i < sizeof LESS / sizeof *LESS; i++) {
        sheet->squeeze = LESS[i];
        status = try_out(sheet, pages, &last);
        if (status != TCR_OK || *pages < first)
            return status;
    }
    sheet->squeeze = 1;
    return status;
}

/* Higher lines, which are easier to read, until the last page is filled enough. */
static tcr_status fill_last(tcr_work_sheet *sheet, int first, int *pages) {
    static const double STEP = 0.05, MOST = 1.5;
    double last = 0;
    tcr_status status = TCR_OK;
    *pages = first;
    while (status == TCR_OK && last < LEAST_FILLED && sheet->squeeze + STEP <= MOST) {
        int now;
        sheet->squeeze += STEP;
        status = try_out(sheet, &now, &last);
        if (status == TCR_OK && now > first) {
            sheet->squeeze -= STEP;
            break;
        }
    }
    return status;
}

/* No last page with less than half of it filled, where that can be helped. */
static tcr_status find_pages(tcr_work_sheet *sheet, int *pages) {
    double last = 1;
    int first = 1;
    sheet->squeeze = 1;
    tcr_status status = try_out(sheet, &first, &last);
    *pages = first;
    if (status != TCR_OK || last >= LEAST_FILLED)
        return status;
    status = save_last(sheet, first, pages);
    if (status == TCR_OK && *pages == first)
        status = fill_last(sheet, first, pages);
    return status;
}

static tcr_status write_sheet(tcr_work_sheet *sheet, tcr_picture_file *file) {
    int pages = 1;
    double last;
    tcr_status status = find_pages(sheet, &pages);
    if (status != TCR_OK)
        return status;
    cairo_surface_t *surface = surface_for(tcr_picture_add_cairo, file);
    tcr_pdf_describe(surface, tcr_set_title(sheet->set),
                     "Eyelash extensions: the work sheet of a plan.");
    sheet->picture.watcher = sheet->watcher; /* of the last time only */
    status = fill(surface, sheet, pages, &pages, &last);
    cairo_surface_destroy(surface);
    return status;
}

tcr_status tcr_work_sheet_write(const tcr_plan *plan, const tcr_plan_work *work,
                                const tcr_check *after, tcr_sheet_form form, tcr_sink sink,
                                void *context) {
    return tcr_work_sheet_watched(plan, work, after, form, NULL, sink, context);
}

tcr_status tcr_work_sheet_watched(const tcr_plan *plan, const tcr_plan_work *work,
                                  const tcr_check *after, tcr_sheet_form form,
                                  const tcr_text_watcher *watcher, tcr_sink sink, void *context) {
    tcr_work_sheet sheet = {.plan = plan, .work = work, .after = after, .form = form};
    tcr_work_correction *found;
    if (work == NULL || work->plan != plan || sink == NULL || (unsigned)form >= TCR_SHEET_FORMS ||
        !tcr_plan_fits(plan, tcr_check_set(after)))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_picture_take(after, NULL, &sheet.picture);
    if (status != TCR_OK)
        return status;
    sheet.set = tcr_check_set(after);
    sheet.zones_only = true;
    for (int i = 0; i < sheet.picture.eyes; i++)
        sheet.zones_only =
            sheet.zones_only && tcr_plan_eye_of(plan, sheet.picture.side[i])->zones_only;
    sheet.zones_with_tally = sheet.zones_only && form == TCR_SHEET_FULL;
    if (sheet.zones_only) /* no lash is known one by one */
        sheet.form = TCR_SHEET_ZONES;
    status = find_corrections(&sheet, &found);
    if (status != TCR_OK)
        return status;
    tcr_picture_file file = {0};
    if (watcher != NULL)
        sheet.watcher = *watcher;
    status = tcr_picture_hand_over(&file, write_sheet(&sheet, &file), sink, context);
    free(found);
    return status;
}
