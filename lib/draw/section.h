/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_SECTION_H
#define TCR_DRAW_SECTION_H

#include "draw/picture.h"
#include "draw/viewport.h"

/*
 * An eye cut through at one place of the lid and seen from its outer side, z to the right and y up:
 * globe and lids in section, and the mean lash of each layer projected onto the cut. Globe, lid and
 * lashes are the model's; thickness of the lids, brow, cornea and iris are only drawn.
 */
typedef struct tcr_section {
    const tcr_check *mean; /* of tcr_mean_set at one place: lash 0, 1, 2 is of that layer */
    tcr_side side;
    double u, x_mm;
    double radius_mm;              /* of the circle on which the lid slides here */
    double margin_rad, closed_rad; /* where on it the lid's edge is now, and closed; from +z up */
    double open_rad;               /* and wide open */
    tcr_box panel;
    tcr_viewport viewport;
    unsigned layers; /* to be drawn, bits 1 << layer; all of them unless changed */
    tcr_stance stance[TCR_LAYERS];
    tcr_vec3 tip[TCR_LAYERS]; /* of what each layer carries, or of the bare lash */
} tcr_section;

/* A section at a view's opening, as large as it fits beside 'right' mm that stay free at the right.
 */
void tcr_section_of(const tcr_check *mean, tcr_side side, double u, const tcr_view *view,
                    tcr_box panel, double right, tcr_section *section);

/* Paper, globe, lids, bonds, lashes. */
tcr_status tcr_section_draw(tcr_canvas *canvas, const tcr_section *section);

/* A point of the circle on which the lid slides, on the sheet. */
tcr_vec2 tcr_section_circle(const tcr_section *section, double radius_mm, double angle_rad);
/* A layer's natural lash and its extension's first fibre at the middle of the bond, and in between,
 * on the sheet. */
tcr_vec2 tcr_section_bond(const tcr_section *section, tcr_layer layer, double share);

#endif
