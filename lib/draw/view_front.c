/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The front view: the client's eyes as a portrait shows them, the right eye at the viewer's left,
 * with lashes, lines and figures, and small beside them what the artist sees of the same set from
 * the couch.
 */
#include <stdio.h>

#include "draw/figures.h"
#include "draw/layout.h"
#include "draw/marks.h"
#include "draw/sheet.h"
#include "draw/words.h"
#include "num/range.h"

/* Lines, rings and the millimetre bar over the large eyes; how many tips are named. */
static size_t marks(tcr_canvas *canvas, const tcr_picture *picture, const tcr_stage *stage) {
    tcr_label_map map = tcr_stage_begin_marks(canvas, stage);
    if (picture->options.lines)
        tcr_stage_lines(canvas, stage, &map);
    size_t named = 0;
    for (int i = 0; i < stage->eyes && picture->options.staggered; i++)
        named += tcr_mark_staggered(canvas, picture->check, stage->side[i], &stage->eye[i], &map);
    tcr_stage_bar(canvas, stage);
    tcr_stage_end_marks(canvas);
    return named;
}

static void titles(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout) {
    char view[TCR_WORDS], count[TCR_WORDS], text[3 * TCR_WORDS];
    snprintf(text, sizeof text, "%s %s%s", tcr_sheet_eyes(picture),
             tcr_say_view(view, &layout->main.eye[0].view),
             tcr_sheet_count(count, sizeof count, picture));
    tcr_sheet_titles(canvas, tcr_sheet_title(picture->check, "The set with the eye open"), text,
                     tcr_layout_title_width(layout));
}

/* "..., 60° above (assumed)" */
static const char *seat_caption(char out[TCR_WORDS], const char *from, const tcr_picture *picture) {
    const double raised = picture->options.seat.viewer_rad;
    const bool assumed = raised == tcr_view_named(TCR_ARTIST).viewer_rad;
    char number[TCR_WORDS];
    snprintf(out, TCR_WORDS, "%s, %.8s\xc2\xb0 above%s", from,
             tcr_say_trimmed(number, raised / TCR_DEG, 1), assumed ? " (assumed)" : "");
    return out;
}

static void figures_beside(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout,
                           size_t named) {
    const tcr_box box = tcr_layout_figures(layout, 0);
    const tcr_check *check = picture->check;
    double y = box.y;
    y = tcr_figures_evenness(canvas, check, picture->side[0], NULL, box.x, y, box.width) + 3;
    y = tcr_figures_layers(canvas, check, picture->side, 1, box.x, y, box.width) + 2.6;
    tcr_figures_legend(canvas, picture, named, 1, box.x, y, box.width);
    char text[TCR_WORDS];
    if (picture->options.companion)
        tcr_sheet_caption(canvas, layout->small[0].panel,
                          seat_caption(text, "From the artist\xe2\x80\x99s seat", picture));
}

static void figures_below(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout,
                          size_t named) {
    const tcr_box common = tcr_layout_common(layout);
    const tcr_check *check = picture->check;
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        char name[TCR_WORDS], text[TCR_WORDS];
        tcr_figures_name(name, check, picture->side[i]);
        tcr_figures_evenness(canvas, check, picture->side[i], name, box.x, box.y,
                             picture->options.companion ? 41 : box.width);
        if (picture->options.companion)
            tcr_sheet_caption(canvas, layout->small[i].panel,
                              seat_caption(text, "from the couch", picture));
    }
    const double x = common.x, width = common.width;
    double y = tcr_figures_layers(canvas, check, picture->side, 2, x, common.y, width) + 1.6;
    y = tcr_figures_legend(canvas, picture, named, 2, x, y, width);
    tcr_figures_symmetry(canvas, check, x, y + 1.6, width);
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const tcr_view view = tcr_check_view(picture->check);
    size_t every = 1;
    tcr_layout layout;
    tcr_layout_of(picture, &view, &picture->options.seat, &layout);
    const tcr_status status =
        tcr_layout_draw(canvas, &layout, picture->options.companion,
                        picture->options.lines ? tcr_stage_band : NULL, NULL, &every);
    if (status != TCR_OK)
        return status;
    const size_t named = marks(canvas, picture, &layout.main);
    titles(canvas, picture, &layout);
    (picture->eyes == 1 ? figures_beside : figures_below)(canvas, picture, &layout, named);
    tcr_sheet_footer(canvas, picture->check, tcr_sheet_drawn(picture), every);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_front = {
    "front", "the eye open from the front, with lines, tips that stick out and figures", draw};
