/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Natural lashes and extensions as tapered strokes along their centre lines, to scale: a filled
 * outline at half the diameter to both sides. A natural lash tapers linearly; a fibre keeps its
 * diameter over the first half and runs out to a tenth of it at the tip (model.md, section 9). No
 * hair is drawn thinner than a line that can be seen.
 */
#include "draw/hair.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "draw/soft.h"
#include "num/order.h"

enum { POINTS_NATURAL = 16, POINTS_FIBRE = 28, POINTS_SHADOW = 10, POINTS_MAX = 28 };
static const double thinnest_half = 0.06; /* mm on the sheet */
static const double farthest = 1e5;       /* mm on the sheet: beyond it, a hair is not drawn */

enum { NATURAL = -1 };

/* One hair: a natural lash, or a fibre of its extension. */
typedef struct tcr_hair {
    double depth;
    uint32_t lash;
    int fibre; /* NATURAL or the fibre's number */
} tcr_hair;

/* A hair on the sheet. */
typedef struct tcr_stroke {
    size_t count;
    tcr_vec2 point[POINTS_MAX];
    double half[POINTS_MAX];
} tcr_stroke;

/* A lash with what it carries, at one opening. */
typedef struct lash_pose {
    const tcr_lash *lash;
    tcr_profile profile;
    tcr_stance stance;
    tcr_extension extension;
    const tcr_attachment *attachment; /* NULL where it is bare */
} lash_pose;

static lash_pose pose_of(const tcr_check *check, tcr_side side, size_t i, double opening) {
    lash_pose pose = {.lash = tcr_set_lash(tcr_check_set(check), side, i)};
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash_result *result = &tcr_check_eye(check, side)->lash[i];
    pose.profile = tcr_lash_profile(pose.lash);
    if (result->status == TCR_OK) {
        pose.extension = tcr_set_extension(set, &result->choice);
        pose.attachment = &result->attachment;
    }
    /* A lash and a lid of a set are valid, and so is the opening of a view. */
    (void)tcr_lash_stance(pose.lash, tcr_set_lid(set, side), opening, &pose.stance);
    return pose;
}

static int fibres_of(const tcr_lash_result *result) {
    return result->status == TCR_OK ? result->choice.fan : 0;
}

/* A point of a hair at a share of its length, in the eye's frame. */
static tcr_vec3 hair_point(const lash_pose *pose, int fibre, double share) {
    tcr_vec3 local;
    if (fibre == NATURAL) {
        const double length = pose->lash->length_mm;
        const tcr_arc_point p = tcr_profile_at(&pose->profile, length, share * length);
        local = (tcr_vec3){p.x, p.y, 0};
    } else {
        local = tcr_attachment_fibre(pose->attachment, &pose->extension, fibre,
                                     share * pose->extension.length_mm);
    }
    return tcr_stance_point(&pose->stance, local);
}

static double hair_diameter(const lash_pose *pose, int fibre, double share) {
    if (fibre == NATURAL)
        return tcr_lash_diameter(pose->lash, share * pose->lash->length_mm);
    const double taper = share <= 0.5 ? 1 : 1 - 0.9 * (share - 0.5) / 0.5;
    return pose->extension.diameter_mm * taper;
}

/* The hair on the sheet; false where it lies nowhere on it. */
static bool stroke_of(const lash_pose *pose, int fibre, const tcr_viewport *viewport, int points,
                      tcr_stroke *stroke) {
    stroke->count = 0;
    for (int i = 0; i < points; i++) {
        const double share = (double)i / (points - 1);
        const tcr_vec2 p = tcr_viewport_point(viewport, hair_point(pose, fibre, share));
        const double half = hair_diameter(pose, fibre, share) * viewport->scale / 2;
        if (!(fabs(p.x) < farthest && fabs(p.y) < farthest && half < farthest))
            return false;
        /* Points on top of each other have no direction: a hair seen end on. The tip stays. */
        if (stroke->count > 0 && i + 1 < points) {
            const tcr_vec2 last = stroke->point[stroke->count - 1];
            if (hypot(p.x - last.x, p.y - last.y) < thinnest_half)
                continue;
        }
        stroke->point[stroke->count] = p;
        stroke->half[stroke->count++] = fmax(half, thinnest_half);
    }
    return stroke->count >= 2;
}

static double mean_depth(const lash_pose *pose, int fibre, const tcr_viewport *viewport) {
    double sum = 0;
    for (int i = 0; i < 5; i++)
        sum += tcr_viewport_depth(viewport, hair_point(pose, fibre, i / 4.0));
    return sum / 5;
}

/* Far before near; hairs at one depth stay in the order of the set. */
static bool is_farther(const void *a, const void *b, const void *unused) {
    (void)unused;
    return ((const tcr_hair *)a)->depth < ((const tcr_hair *)b)->depth;
}

/* Every how many lashes one is drawn, and how many hairs that gives at most. */
static size_t thin_out(const tcr_eye_result *eye, size_t *hairs) {
    size_t all = 0;
    for (size_t i = 0; i < eye->lashes; i++)
        all += 1 + (size_t)fibres_of(&eye->lash[i]);
    const size_t every = all / TCR_HAIRS_MAX + 1;
    *hairs = 0;
    for (size_t i = 0; i < eye->lashes; i += every)
        *hairs += 1 + (size_t)fibres_of(&eye->lash[i]);
    return every;
}

size_t tcr_hairs_every(const tcr_check *check, tcr_side side) {
    size_t hairs;
    return thin_out(tcr_check_eye(check, side), &hairs);
}

/* How many there are. */
static size_t collect(const tcr_check *check, tcr_side side, const tcr_viewport *viewport,
                      unsigned layers, size_t every, tcr_hair *hairs) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    size_t count = 0;
    for (size_t i = 0; i < eye->lashes; i += every) {
        if (!(layers >> tcr_set_lash(tcr_check_set(check), side, i)->layer & 1u))
            continue;
        const lash_pose pose = pose_of(check, side, i, viewport->view.opening);
        for (int fibre = NATURAL; fibre < fibres_of(&eye->lash[i]); fibre++)
            hairs[count++] = (tcr_hair){mean_depth(&pose, fibre, viewport), (uint32_t)i, fibre};
    }
    tcr_sort_items(hairs, count, sizeof *hairs, is_farther, NULL);
    return count;
}

/* A thin light line where the hair's round side catches the light. */
static void sheen(tcr_canvas *canvas, const tcr_stroke *whole, tcr_rgba colour) {
    tcr_stroke lit = {0};
    const double from = 0.22 * (double)whole->count, to = 0.72 * (double)whole->count;
    for (size_t i = 0; i < whole->count; i++) {
        const double along = ((double)i - from) / (to - from);
        if (along < 0 || along > 1)
            continue;
        const double half = whole->half[i];
        lit.point[lit.count] = (tcr_vec2){whole->point[i].x - 0.22 * half, whole->point[i].y};
        lit.half[lit.count++] = 0.34 * half * 4 * along * (1 - along);
    }
    tcr_canvas_taper(canvas, lit.point, lit.half, lit.count);
    tcr_canvas_colour(canvas, tcr_rgba_faded(colour, 0.75));
    cairo_fill(canvas->cr);
}

/* Shadows of all hairs on the skin; drawn solid and then thinned, so that crossing ones do not add
 * up. */
static void shadows(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                    const tcr_viewport *viewport, tcr_box panel, const tcr_hair *hairs,
                    size_t count) {
    const double fall = 0.35 * viewport->scale;
    tcr_soft soft;
    cairo_new_path(canvas->cr);
    tcr_soft_begin(canvas, panel, 0.3 * viewport->scale, &soft);
    tcr_canvas_colour(canvas, canvas->style->hair_shadow);
    for (size_t i = 0; i < count; i++) {
        const lash_pose pose = pose_of(check, side, hairs[i].lash, viewport->view.opening);
        tcr_stroke stroke;
        if (!stroke_of(&pose, hairs[i].fibre, viewport, POINTS_SHADOW, &stroke))
            continue;
        for (size_t k = 0; k < stroke.count; k++) {
            const double along = (double)k / (double)(stroke.count - 1);
            stroke.point[k].x += 0.5 * fall * along;
            stroke.point[k].y += fall * along;
            stroke.half[k] *= 1.5;
        }
        tcr_canvas_taper(canvas, stroke.point, stroke.half, stroke.count);
        cairo_fill(canvas->cr);
    }
    cairo_set_operator(canvas->cr, CAIRO_OPERATOR_DEST_IN);
    cairo_set_source_rgba(canvas->cr, 0, 0, 0, 0.22);
    cairo_paint(canvas->cr);
    tcr_soft_end(canvas, &soft);
}

static void paint(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                  const tcr_viewport *viewport, const tcr_hair *hair) {
    const tcr_style *style = canvas->style;
    const lash_pose pose = pose_of(check, side, hair->lash, viewport->view.opening);
    tcr_stroke stroke;
    const bool natural = hair->fibre == NATURAL;
    const int points = natural ? POINTS_NATURAL : POINTS_FIBRE;
    if (!stroke_of(&pose, hair->fibre, viewport, points, &stroke))
        return;
    tcr_canvas_taper(canvas, stroke.point, stroke.half, stroke.count);
    tcr_canvas_colour(canvas, natural ? style->natural : style->layer[pose.lash->layer]);
    cairo_fill(canvas->cr);
    if (!natural && stroke.half[0] > 2 * thinnest_half)
        sheen(canvas, &stroke, style->layer_sheen[pose.lash->layer]);
}

tcr_status tcr_hairs_draw(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                          const tcr_viewport *viewport, const tcr_hair_choice *choice,
                          size_t *every) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    size_t count;
    const size_t n = thin_out(eye, &count);
    *every = n > *every ? n : *every;
    tcr_hair *hairs = malloc((count > 0 ? count : 1) * sizeof *hairs);
    if (hairs == NULL)
        return TCR_E_MEMORY;
    count = collect(check, side, viewport, choice->layers, n, hairs);
    if (choice->shadow_on.width > 0)
        shadows(canvas, check, side, viewport, choice->shadow_on, hairs, count);
    for (size_t i = 0; i < count; i++)
        paint(canvas, check, side, viewport, &hairs[i]);
    free(hairs);
    return TCR_OK;
}

void tcr_hairs_extent(const tcr_check *check, tcr_side side, const tcr_viewport *viewport,
                      tcr_vec2 *low, tcr_vec2 *high) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    size_t hairs;
    const size_t every = thin_out(eye, &hairs);
    for (size_t i = 0; i < eye->lashes; i += every) {
        const lash_pose pose = pose_of(check, side, i, viewport->view.opening);
        for (int fibre = NATURAL; fibre < fibres_of(&eye->lash[i]); fibre++) {
            for (int k = 0; k <= 4; k++) {
                const tcr_vec2 p =
                    tcr_viewport_project(viewport, hair_point(&pose, fibre, k / 4.0));
                *low = (tcr_vec2){fmin(low->x, p.x), fmin(low->y, p.y)};
                *high = (tcr_vec2){fmax(high->x, p.x), fmax(high->y, p.y)};
            }
        }
    }
}

double tcr_hairs_reach(const tcr_check *check, tcr_side side, const tcr_viewport *viewport,
                       double u_low, double u_high, tcr_vec2 from, tcr_vec2 direction) {
    enum { PIECES = 8 };
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    double reach = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const double u = tcr_set_lash(tcr_check_set(check), side, i)->u;
        if (u < u_low || u > u_high)
            continue;
        const lash_pose pose = pose_of(check, side, i, viewport->view.opening);
        for (int fibre = NATURAL; fibre < fibres_of(&eye->lash[i]); fibre++)
            for (int k = 0; k <= PIECES; k++) {
                const tcr_vec2 p =
                    tcr_viewport_point(viewport, hair_point(&pose, fibre, (double)k / PIECES));
                reach = fmax(reach, (p.x - from.x) * direction.x + (p.y - from.y) * direction.y);
            }
    }
    return reach;
}

tcr_vec2 tcr_hair_tip(const tcr_check *check, tcr_side side, size_t lash,
                      const tcr_viewport *viewport) {
    const lash_pose pose = pose_of(check, side, lash, viewport->view.opening);
    return tcr_viewport_point(viewport, hair_point(&pose, 0, 1));
}
