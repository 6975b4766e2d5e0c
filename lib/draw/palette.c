/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Median cut (Heckbert 1982, 10.1145/800064.801294): the box of colours with the most pixels times
 * its longest edge is cut at the median of that edge, until there are enough boxes; each box gives
 * its mean colour. Colours are counted in cells of 4 x 4 x 4 values. Dithering is ordered (Bayer's
 * matrix of 8 x 8), so that what rests in a film stays as it is from frame to frame.
 */
#include "draw/palette.h"

#include <stdlib.h>
#include <string.h>

enum { BITS = 6, STEPS = 1 << BITS, CELLS = STEPS * STEPS * STEPS, NONE = 0xffff };
enum { DITHER = 10 }; /* values that a pixel is moved by, from end to end */

/* A box of cells, from low to high, ends included. */
typedef struct box {
    int low[3], high[3];
    uint64_t pixels;
} box;

struct tcr_palette {
    uint32_t count[CELLS];
    uint16_t nearest[CELLS]; /* NONE: not looked for yet */
    size_t colours;
    uint8_t colour[TCR_PALETTE_MOST][3];
};

tcr_palette *tcr_palette_new(void) { return calloc(1, sizeof(tcr_palette)); }

void tcr_palette_free(tcr_palette *palette) { free(palette); }

static size_t cell_of(const int value[3]) {
    return ((size_t)(value[0] >> (8 - BITS)) * STEPS + (size_t)(value[1] >> (8 - BITS))) * STEPS +
           (size_t)(value[2] >> (8 - BITS));
}

static void values_of(const unsigned char *pixel, int value[3]) {
    uint32_t whole;
    memcpy(&whole, pixel, sizeof whole);
    value[0] = (int)(whole >> 16 & 0xff);
    value[1] = (int)(whole >> 8 & 0xff);
    value[2] = (int)(whole & 0xff);
}

void tcr_palette_count(tcr_palette *palette, const unsigned char *pixels, int width) {
    for (int x = 0; x < width; x++) {
        int value[3];
        values_of(pixels + 4 * (size_t)x, value);
        uint32_t *count = &palette->count[cell_of(value)];
        *count += *count < UINT32_MAX;
    }
}

/* ---- Median cut ---------------------------------------------------------------------------------
 */

static uint32_t count_at(const tcr_palette *palette, const int place[3]) {
    return palette->count[((size_t)place[0] * STEPS + (size_t)place[1]) * STEPS + (size_t)place[2]];
}

/* Pixels of a box by their place along an axis. */
static void profile_of(const tcr_palette *palette, const box *b, int axis, uint64_t sum[STEPS]) {
    int at[3];
    memset(sum, 0, STEPS * sizeof *sum);
    for (at[0] = b->low[0]; at[0] <= b->high[0]; at[0]++)
        for (at[1] = b->low[1]; at[1] <= b->high[1]; at[1]++)
            for (at[2] = b->low[2]; at[2] <= b->high[2]; at[2]++)
                sum[at[axis]] += count_at(palette, at);
}

/* Draws a box together about its pixels and counts them. */
static void tighten(const tcr_palette *palette, box *b) {
    uint64_t sum[STEPS];
    for (int axis = 0; axis < 3; axis++) {
        profile_of(palette, b, axis, sum);
        while (b->low[axis] < b->high[axis] && sum[b->low[axis]] == 0)
            b->low[axis]++;
        while (b->high[axis] > b->low[axis] && sum[b->high[axis]] == 0)
            b->high[axis]--;
    }
    b->pixels = 0;
    for (int k = b->low[2]; k <= b->high[2]; k++)
        b->pixels += sum[k];
}

static int longest_axis(const box *b) {
    int longest = 0;
    for (int axis = 1; axis < 3; axis++)
        if (b->high[axis] - b->low[axis] > b->high[longest] - b->low[longest])
            longest = axis;
    return longest;
}

static uint64_t weight_of(const box *b) {
    const int axis = longest_axis(b);
    return b->pixels * (uint64_t)(b->high[axis] - b->low[axis]);
}

/* Cuts a box at its median; the other half goes to *other. */
static void cut(const tcr_palette *palette, box *b, box *other) {
    const int axis = longest_axis(b);
    uint64_t sum[STEPS], before = 0;
    profile_of(palette, b, axis, sum);
    int at = b->low[axis];
    while (at + 1 < b->high[axis] && 2 * (before + sum[at]) < b->pixels)
        before += sum[at++];
    *other = *b;
    b->high[axis] = at;
    other->low[axis] = at + 1;
    tighten(palette, b);
    tighten(palette, other);
}

static void mean_of(const tcr_palette *palette, const box *b, uint8_t rgb[3]) {
    for (int axis = 0; axis < 3; axis++) {
        uint64_t sum[STEPS], all = 0;
        profile_of(palette, b, axis, sum);
        for (int k = b->low[axis]; k <= b->high[axis]; k++)
            all += sum[k] * (uint64_t)(k * (256 / STEPS) + 128 / STEPS);
        rgb[axis] = (uint8_t)(b->pixels > 0 ? (all + b->pixels / 2) / b->pixels : 0);
    }
}

void tcr_palette_choose(tcr_palette *palette) {
    box boxes[TCR_PALETTE_MOST] = {{.high = {STEPS - 1, STEPS - 1, STEPS - 1}}};
    size_t count = 1;
    tighten(palette, &boxes[0]);
    while (count < TCR_PALETTE_MOST) {
        size_t largest = 0;
        for (size_t i = 1; i < count; i++)
            if (weight_of(&boxes[i]) > weight_of(&boxes[largest]))
                largest = i;
        if (weight_of(&boxes[largest]) == 0)
            break;
        cut(palette, &boxes[largest], &boxes[count]);
        count++;
    }
    for (size_t i = 0; i < count; i++)
        mean_of(palette, &boxes[i], palette->colour[i]);
    palette->colours = count;
    for (size_t i = 0; i < CELLS; i++)
        palette->nearest[i] = NONE;
}

size_t tcr_palette_colours(const tcr_palette *palette, uint8_t rgb[TCR_PALETTE_MOST][3]) {
    memcpy(rgb, palette->colour, sizeof palette->colour);
    return palette->colours;
}

/* ---- Pixels -------------------------------------------------------------------------------------
 */

static uint16_t look_for(const tcr_palette *palette, const int value[3]) {
    size_t best = 0;
    int least = 1 << 30;
    for (size_t i = 0; i < palette->colours; i++) {
        int apart = 0;
        for (int axis = 0; axis < 3; axis++) {
            const int off = value[axis] - palette->colour[i][axis];
            apart += off * off;
        }
        if (apart < least) {
            least = apart;
            best = i;
        }
    }
    return (uint16_t)best;
}

/* Bayer's matrix: 0 to 63, neighbours far apart. */
static int threshold(int x, int y) {
    int value = 0;
    for (int bit = 0; bit < 3; bit++) {
        const int across = x >> bit & 1, down = y >> bit & 1;
        value |= ((across ^ down) << 1 | down) << (2 * (2 - bit));
    }
    return value;
}

void tcr_palette_map(tcr_palette *palette, const unsigned char *pixels, int width, int y,
                     unsigned char *index) {
    for (int x = 0; x < width; x++) {
        const int moved = (2 * threshold(x, y) - 63) * DITHER / 126;
        int value[3];
        values_of(pixels + 4 * (size_t)x, value);
        for (int axis = 0; axis < 3; axis++) {
            value[axis] += moved;
            value[axis] = value[axis] < 0 ? 0 : value[axis] > 255 ? 255 : value[axis];
        }
        uint16_t *nearest = &palette->nearest[cell_of(value)];
        if (*nearest == NONE)
            *nearest = look_for(palette, value);
        index[x] = (unsigned char)*nearest;
    }
}
