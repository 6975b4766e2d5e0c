/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_SHEET_H
#define TCR_DRAW_SHEET_H

#include "draw/picture.h"

/* The sheet that all views share: where its parts lie, mm, and what stands around a picture. */
#define TCR_SHEET_HEIGHT (TCR_SHEET_WIDTH * 9 / 16)
#define TCR_EDGE 8.0    /* of the sheet, free */
#define TCR_HEAD 25.0   /* height of title and subtitle */
#define TCR_FOOT 9.5    /* height of the footer */
#define TCR_COLUMN 58.0 /* width of the figures beside a picture */
#define TCR_CORNER 2.0  /* radius of a panel's corners */

/* The large panel beside the column of figures, and the column. */
tcr_box tcr_sheet_panel(void);
tcr_box tcr_sheet_column(void);

void tcr_sheet_ground(tcr_canvas *canvas);
/* Title and a line below it, width mm wide. */
void tcr_sheet_titles(tcr_canvas *canvas, const char *title, const char *text, double width);
/* The set's own title, or other words where it has none. */
const char *tcr_sheet_title(const tcr_check *check, const char *otherwise);
/* "Left eye", "Both eyes". */
const char *tcr_sheet_eyes(const tcr_picture *picture);
/* " · 81 of 90 lashes carry an extension", of the eyes to be drawn. */
const char *tcr_sheet_count(char out[], size_t size, const tcr_picture *picture);
/* Two lines at the foot, and at their right the cautions and by what the sheet was made. */
void tcr_sheet_foot(tcr_canvas *canvas, const char *first, const char *second);
/* The same with what was assumed in a check and a note. every above 1 says in place of the note
 * that lashes were thinned out. */
void tcr_sheet_footer(tcr_canvas *canvas, const tcr_check *check, const char *note, size_t every);
/* What every sheet says, since people work near eyes by it. */
extern const char tcr_sheet_cautions[];
/* The note of a picture of eyes. */
const char *tcr_sheet_drawn(const tcr_picture *picture);

/* A panel of paper to plot on; what is drawn on it wears the colours for labels. */
void tcr_sheet_paper(tcr_canvas *canvas, tcr_box panel);
/* Small quiet words below a panel, on up to two lines. */
void tcr_sheet_caption(tcr_canvas *canvas, tcr_box panel, const char *text);

#endif
