/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the eyes and their figures lie on a sheet. */
#include "draw/layout.h"

#include "draw/hair.h"
#include "draw/sheet.h"

static double outer_x(int i) {
    return i == 0 ? TCR_EDGE : TCR_SHEET_WIDTH - TCR_EDGE - TCR_OUTER_COLUMN;
}

tcr_box tcr_layout_panel(int eyes) {
    if (eyes == 1)
        return tcr_sheet_panel();
    return (tcr_box){TCR_EDGE, TCR_HEAD, TCR_SHEET_WIDTH - 2 * TCR_EDGE, TCR_PAIR_HEIGHT};
}

static tcr_box small_panel(int eyes, int i) {
    if (eyes == 2)
        return (tcr_box){outer_x(i) + 42, TCR_HEAD + TCR_PAIR_HEIGHT + 3, 36, 27};
    const tcr_box column = tcr_sheet_column();
    return (tcr_box){column.x, TCR_SHEET_HEIGHT - TCR_FOOT - 44, column.width, 37};
}

void tcr_layout_of(const tcr_picture *picture, const tcr_view *main, const tcr_view *small,
                   tcr_layout *layout) {
    tcr_stage_fit(&layout->main, picture, main, tcr_layout_panel(picture->eyes));
    for (int i = 0; i < picture->eyes; i++) {
        tcr_picture one = *picture;
        one.eyes = 1;
        one.side[0] = picture->side[i];
        one.options.staggered = false;
        tcr_stage_fit(&layout->small[i], &one, small, small_panel(picture->eyes, i));
    }
}

tcr_box tcr_layout_figures(const tcr_layout *layout, int i) {
    if (layout->main.eyes == 1)
        return tcr_sheet_column();
    const tcr_box panel = layout->main.panel;
    return (tcr_box){outer_x(i), panel.y + panel.height + 2.4, TCR_OUTER_COLUMN, 39};
}

tcr_box tcr_layout_common(const tcr_layout *layout) {
    tcr_box box = tcr_layout_figures(layout, 0);
    box.x += TCR_OUTER_COLUMN + 4;
    box.width = TCR_MIDDLE_COLUMN;
    return box;
}

double tcr_layout_title_width(const tcr_layout *layout) {
    return TCR_SHEET_WIDTH - 2 * TCR_EDGE - (layout->main.eyes == 1 ? TCR_COLUMN + 6 : 0);
}

tcr_status tcr_layout_draw(tcr_canvas *canvas, const tcr_layout *layout, bool small,
                           tcr_stage_under under, void *context, size_t *every) {
    /* No clip about the hairs: everything is laid out to lie inside, and round clips cost much
     * time. */
    size_t ignored = 1;
    tcr_status status =
        tcr_stage_draw(canvas, &layout->main, TCR_EVERY_LAYER, under, context, every);
    for (int i = 0; i < layout->main.eyes && small && status == TCR_OK; i++)
        status = tcr_stage_draw(canvas, &layout->small[i], TCR_EVERY_LAYER, NULL, NULL, &ignored);
    return status;
}
