/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How far the tips of a check lie off any line, as they are or once that line has been moved and
 * tilted to suit them: by the straight line y = a + b x of least squares through the distances, of
 * which sum (y - a - b x)^2 = Syy - Sxy^2 / Sxx is left.
 */
#include <tipcrest/check.h>

#include <math.h>

/* Sums over tips: of places, of how far off they are, and of products. */
typedef struct sums {
    double n, x, xx, y, xy, yy;
} sums;

static void add_eye(const tcr_eye_result *eye, const tcr_line *line, sums *of) {
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash_result *lash = &eye->lash[i];
        if (lash->status != TCR_OK)
            continue;
        const double x = lash->seen.x, y = lash->seen.y - tcr_line_at(line, x);
        of->n += 1.0;
        of->x += x;
        of->xx += x * x;
        of->y += y;
        of->xy += x * y;
        of->yy += y * y;
    }
}

/* The squares that are left once the straight line is taken off; a level one where all x are one.
 */
static double left_of(const sums *s) {
    const double xx = s->xx - s->x * s->x / s->n, xy = s->xy - s->x * s->y / s->n;
    const double flat = s->yy - s->y * s->y / s->n;
    return fmax(0.0, xx > 0.0 ? flat - xy * xy / xx : flat);
}

double tcr_check_rms_off(const tcr_check *check, const tcr_line line[TCR_SIDES], bool moved,
                         size_t *tips) {
    sums of = {0};
    for (int side = 0; side < TCR_SIDES && line != NULL; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        if (eye != NULL)
            add_eye(eye, &line[side], &of);
    }
    if (tips != NULL)
        *tips = (size_t)of.n;
    return of.n > 0.0 ? sqrt((moved ? left_of(&of) : of.yy) / of.n) : NAN;
}
