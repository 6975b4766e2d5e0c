/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_WORK_SHEET_H
#define TCR_DRAW_WORK_SHEET_H

#include <tipcrest/draw.h>
#include <tipcrest/plan.h>

#include "draw/canvas.h"
#include "draw/picture.h"
#include "draw/words.h"

/* The parts of the work sheet: pages of A4, portrait, whose unit is the millimetre. */
#define TCR_PAGE_WIDTH 210.0
#define TCR_PAGE_HEIGHT 297.0
#define TCR_PAGE_EDGE 11.0
#define TCR_PAGE_GAP 7.0 /* between two columns */
#define TCR_PAGE_COLUMN ((TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE - TCR_PAGE_GAP) / 2)
#define TCR_WORK_LINE 4.4                      /* height of a line of cells, */
#define TCR_WORK_DENSE 3.6                     /* of one in a long list */
#define TCR_PAGE_FOOT (TCR_PAGE_HEIGHT - 15.0) /* where a page's own matter ends */

/* A lash that gets something else than its zone; its number is its index + 1. */
typedef struct tcr_work_correction {
    tcr_side side;
    size_t lash;
    double u;
} tcr_work_correction;

/* What a work sheet is made of. */
typedef struct tcr_work_sheet {
    const tcr_plan *plan;
    const tcr_plan_work *work;
    const tcr_check *after;
    const tcr_set *set; /* of the check: planned */
    tcr_sheet_form form;
    tcr_picture picture;
    bool zones_only;       /* nobody measured: the form is that of zones */
    bool zones_with_tally; /* and the full sheet was asked for: what to lay out is added */
    size_t corrections;
    const tcr_work_correction *correction; /* by eye, as the sheet shows them, and place */
    bool zones_among_lists;                /* they do not fit the first page */
    bool tally_first, loads_first;         /* what to lay out, and loads, stand on the first page */
    bool dense_first;                      /* in dense lines */
    bool lists_first; /* the lists begin on the first page, which saves the last one */
    double
        squeeze; /* of the lines of long lists: below 1 to save a last page, above 1 to fill it */
    tcr_text_watcher watcher; /* of its texts; all zero for none */
} tcr_work_sheet;

/* tcr_work_sheet_write with a watcher of the texts, which may be NULL. */
tcr_status tcr_work_sheet_watched(const tcr_plan *plan, const tcr_plan_work *work,
                                  const tcr_check *after, tcr_sheet_form form,
                                  const tcr_text_watcher *watcher, tcr_sink sink, void *context);

/* Where the next line of a list goes: two columns a page, and a new page when both are full. */
typedef struct tcr_work_flow {
    tcr_canvas *canvas;
    const tcr_work_sheet *sheet;
    int page, pages; /* of how many, as far as it is known */
    int column;
    double y;      /* the top of what comes next */
    double bottom; /* where the column ends */
    double right;  /* the top of the page's right column */
} tcr_work_flow;

/* Makes sure of so much room in the column, or goes on to the next. */
void tcr_work_room(tcr_work_flow *flow, double height);
double tcr_work_left(const tcr_work_flow *flow);
/* A heading, with room for a few lines below it, and a paragraph. */
#define TCR_WORK_HEADING 6.6 /* its height, mm */
void tcr_work_heading(tcr_work_flow *flow, const char *text);
void tcr_work_paragraph(tcr_work_flow *flow, const char *text, tcr_rgba colour);
double tcr_work_paragraph_height(const tcr_work_flow *flow, const char *text);

/* Cells that start at these places of the column, each cut to the next one. A negative place: the
 * cell ends there, a number. */
typedef struct tcr_work_table {
    const double *at;
    int cells;
    unsigned ids; /* the cells with a lash's id, a bit each */
    bool dense;
} tcr_work_table;
double tcr_work_line(const tcr_work_flow *flow, const tcr_work_table *table);
/* One line of cells. */
void tcr_work_cells(tcr_work_flow *flow, const tcr_work_table *table, const char *const *cell,
                    bool quiet);
/* Texts from here on in a face of equal widths, in which l, 1 and I differ; or no longer so. */
void tcr_work_mono(tcr_canvas *canvas, bool mono);

/* What the plan chose for a layer of a zone; NULL where that has no lash to wear it. */
const tcr_plan_cell *tcr_work_cell_at(const tcr_plan *plan, tcr_side side, size_t zone,
                                      tcr_layer layer);
/* "L 37": a lash with its eye. Room for an id of any length. */
enum { TCR_WORK_ID = TCR_ID_SIZE_MAX + 3 };
const char *tcr_work_id(char out[TCR_WORK_ID], const tcr_set *set, tcr_side side, size_t lash);
/* "9 C", and "9 C outer" */
const char *tcr_work_say(char out[TCR_WORDS], const tcr_set *set, const tcr_choice *choice,
                         bool placement);
/* Where a number comes from, while it is the usual one: another is the set file's own. */
const char *tcr_work_source(double value, double usual, const char *source);
/* "12.5 %" along the lid */
const char *tcr_work_place(char out[TCR_WORDS], double u);

/* Whether all extensions have one diameter, and one count of fibres. */
void tcr_work_same(const tcr_work_sheet *sheet, bool *diameter, bool *fan);
/* What the plan reaches, in a paragraph across the page; returns where it ends. */
double tcr_work_reached(tcr_canvas *canvas, const tcr_work_sheet *sheet, double top);
/* The two eyes at 1:1 with the bar, each eye larger with its zones and corrections; returns where
 * they end. */
tcr_status tcr_work_maps(tcr_canvas *canvas, const tcr_work_sheet *sheet, double top, double *end);

/* The rows of an eye's zones. */
void tcr_work_zones(tcr_work_flow *flow, tcr_side side);
/* How to recognise the lashes that want another size than their zone; nothing for an eye that
 * somebody measured. */
void tcr_work_wants(tcr_work_flow *flow, tcr_side side);
double tcr_work_wants_height(const tcr_work_flow *flow, tcr_side side);
/* What to lay out and how long it takes, the lashes that carry most, and how high these lists are.
 */
void tcr_work_tally(tcr_work_flow *flow);
void tcr_work_loads(tcr_work_flow *flow);
/* The first of these in words across both columns from y down, where there is room for them; where
 * they end. */
double tcr_work_tally_words(tcr_work_flow *flow, double y);
double tcr_work_tally_height(const tcr_work_flow *flow);
double tcr_work_loads_height(const tcr_work_flow *flow);
/* How even the plan comes with how many corrections. */
void tcr_work_curve(tcr_work_flow *flow);
/* The lashes in the order in which they are done, and those left bare with the reason. */
void tcr_work_order(tcr_work_flow *flow);
void tcr_work_bare(tcr_work_flow *flow);
/* Everything behind the first page. */
void tcr_work_lists(tcr_work_flow *flow);

#endif
