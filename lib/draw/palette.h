/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_PALETTE_H
#define TCR_DRAW_PALETTE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A few colours that stand for all of some pictures, chosen by median cut. */

enum { TCR_PALETTE_MOST = 255 };

typedef struct tcr_palette tcr_palette;

/* NULL without memory. Free it with tcr_palette_free, which accepts NULL. */
tcr_palette *tcr_palette_new(void);
void tcr_palette_free(tcr_palette *palette);

/* Counts the colours of a row of cairo's 32-bit pixels. */
void tcr_palette_count(tcr_palette *palette, const unsigned char *pixels, int width);

/* Chooses the colours, at most TCR_PALETTE_MOST, from all that were counted. Once, after at least
 * one row. */
void tcr_palette_choose(tcr_palette *palette);

/* Number and values of the chosen colours. */
size_t tcr_palette_colours(const tcr_palette *palette, uint8_t rgb[TCR_PALETTE_MOST][3]);

/* The chosen colour for each pixel of row y; neighbouring pixels are rounded to different sides, so
 * that a smooth slope has no steps. The same pixel at the same place always gets the same colour.
 */
void tcr_palette_map(tcr_palette *palette, const unsigned char *pixels, int width, int y,
                     unsigned char *index);

#endif
