/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the layering rule gains (model.md, section 8). Tips of every lash are computed once for each
 * length that a choice can give it; then each choice picks its tips and fits a line to them.
 */
#include <tipcrest/lesson.h>

#include <math.h>
#include <string.h>
#include <tipcrest/line.h>
#include <tipcrest/mean.h>
#include <tipcrest/random.h>

#include "model/evaluate.h"
#include "model/set_data.h"
#include "num/memory.h"
#include "num/range.h"
#include "num/root.h"
#include "num/watch.h"

/* By how much an extension can be shorter than on the bottom layer: what the rule takes off, then
 * the sizes of the tray. */
enum { RULE_DROPS = 4, SIZES_MAX = 13, DROPS_MAX = RULE_DROPS + SIZES_MAX };
static const double RULE_DROP_MM[RULE_DROPS] = {0.0, 1.0, 2.0, 4.0};
/* Of each choice but the best sizes, for each layer: which of them. */
static const int RULE[TCR_LESSON_BEST][TCR_LAYERS] = {{0, 0, 0}, {0, 1, 2}, {0, 2, 3}};

static const double SIZES_TO_MM = 6.0, FINEST_SIZE_MM = 0.5, SIZE_MM = 1.0, TIE_MM = 1e-9;
static const double APART_TO_MM = 1.6, APART_STEP_MM = 0.1;
static const double TURNS_TO_DEG = 70.0, TURNS_STEP_DEG = 5.0;
static const double PITCH_MOST_DEG = 84.9; /* a lash stays below 85 degrees */
enum { USE_LESSON = 3 };

/* A lash that takes part. */
typedef struct member {
    size_t index; /* in its eye */
    tcr_lash mean;
    tcr_choice worn; /* with the bottom length of its place */
} member;

typedef struct study {
    const tcr_set *set;
    tcr_side side;
    tcr_layer_heights own;
    size_t n;
    member *member;
    bool mean_bonds; /* everywhere */
    double *x, *y, *scratch;
    double *tip_x, *tip_y; /* of member j, shorter by drop k, at k * n + j */
    int drops;
    double drop_mm[DROPS_MAX];
    bool possible[DROPS_MAX][TCR_LAYERS];
    int sizes[TCR_UPPER_LAYERS]; /* candidates for the best sizes of the upper layers */
    int size[TCR_UPPER_LAYERS][SIZES_MAX];
    tcr_watch watch;
    double share; /* done */
} study;

static const tcr_lash *lash_of(const study *s, size_t j) {
    return tcr_set_lash(s->set, s->side, s->member[j].index);
}

/* ---- Who takes part, and what may be worn ---------------------------------------------------- */

static bool can_bond(const tcr_set *set, const tcr_lash *lash) {
    return tcr_bond_length(lash, TCR_EXTENSION_LENGTH_LEAST_MM, &set->bond) >= TCR_BOND_LEAST_MM;
}

static tcr_choice worn_by(const tcr_set *set, tcr_side side, const tcr_lash *lash) {
    const tcr_set_map_zones *map = tcr_set_intended_map(set, side);
    const size_t zone = tcr_map_zone_at(map, lash->u);
    tcr_choice worn = tcr_set_ruled_choice(set, map, zone, lash->layer);
    worn.length_mm = tcr_set_ruled_length(set, map, zone, TCR_BOTTOM, lash->u, true);
    return worn;
}

static void gather(study *s) {
    tcr_mean_lash mean;
    (void)tcr_mean_lash_of(s->set, s->side, &mean); /* the eye is there */
    s->mean_bonds = true;
    for (size_t i = 0; i < tcr_set_lash_count(s->set, s->side); i++) {
        const tcr_lash *lash = tcr_set_lash(s->set, s->side, i);
        if (lash->condition != TCR_SUITABLE || !can_bond(s->set, lash) ||
            (tcr_set_wish(s->set, s->side, i)->fixed & TCR_FIX_BARE))
            continue;
        s->member[s->n] =
            (member){i, tcr_mean_lash_at(&mean, lash->u), worn_by(s->set, s->side, lash)};
        s->mean_bonds = s->mean_bonds && can_bond(s->set, &s->member[s->n].mean);
        s->n++;
    }
}

/* The least step between neighbours of the tray. */
static double size_of_tray(const tcr_tray *tray) {
    double least = INFINITY;
    for (size_t i = 1; i < tray->count; i++)
        least = fmin(least, tray->length_mm[i] - tray->length_mm[i - 1]);
    return isfinite(least) ? fmax(least, FINEST_SIZE_MM) : SIZE_MM;
}

/* The place of a drop in the list, at its end if it is new. */
static int place_of_drop(study *s, double mm) {
    int k = 0;
    while (k < s->drops && fabs(s->drop_mm[k] - mm) > TIE_MM)
        k++;
    if (k == s->drops)
        s->drop_mm[s->drops++] = mm;
    return k;
}

/* Whether each lash of a layer has a length with a drop, from the tray where it must be. */
static bool is_possible(const study *s, int layer, double drop_mm, bool of_tray) {
    for (size_t j = 0; j < s->n; j++) {
        tcr_choice worn = s->member[j].worn;
        worn.length_mm -= drop_mm;
        if ((int)lash_of(s, j)->layer != layer)
            continue;
        if (worn.length_mm < TCR_EXTENSION_LENGTH_LEAST_MM - TIE_MM)
            return false;
        if (of_tray && s->set->tray.count > 0 && tcr_set_take_length(s->set, &worn) != TCR_OK)
            return false;
    }
    return true;
}

static void list_drops(study *s) {
    const double size = size_of_tray(&s->set->tray);
    for (int k = 0; k < RULE_DROPS; k++)
        (void)place_of_drop(s, RULE_DROP_MM[k]);
    for (int k = 0; k * size <= SIZES_TO_MM + TIE_MM; k++) {
        const int place = place_of_drop(s, k * size);
        for (int i = 0; i < TCR_UPPER_LAYERS; i++)
            if (is_possible(s, i + 1, k * size, true))
                s->size[i][s->sizes[i]++] = place;
    }
    for (int k = 0; k < s->drops; k++)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            s->possible[k][layer] = is_possible(s, layer, s->drop_mm[k], false);
}

/* ---- One place ------------------------------------------------------------------------------- */

/* A member's lash where the rule is tried. */
static tcr_lash lash_at(const study *s, size_t j, const tcr_lesson_place *place,
                        const tcr_layer_heights *heights, uint64_t seed) {
    const tcr_lash *own = lash_of(s, j);
    tcr_lash lash = place->alike ? s->member[j].mean : *own;
    lash.height_mm = heights->height_mm[own->layer];
    if (!place->alike)
        lash.height_mm += own->height_mm - s->own.height_mm[own->layer];
    if (place->pitch_sd_rad > 0.0) {
        const tcr_random draw = {seed, (uint32_t)s->member[j].index, TCR_FIELD_PITCH,
                                 (uint32_t)s->side, USE_LESSON};
        const double most = PITCH_MOST_DEG * TCR_DEG;
        lash.pitch_rad += place->pitch_sd_rad * tcr_random_normal(&draw);
        lash.pitch_rad = tcr_cut(lash.pitch_rad, -most, most);
    }
    return lash;
}

/* The tips of all lashes with the first 'drops' drops that are possible. */
static void lay(study *s, const tcr_lesson_place *place, uint64_t seed, int drops) {
    const tcr_looking at = tcr_looking_at(tcr_set_lid(s->set, s->side), &place->view);
    const tcr_layer_heights heights =
        place->has_apart ? tcr_layer_heights_apart(&s->own, place->apart_mm) : s->own;
    for (size_t j = 0; j < s->n; j++) {
        const tcr_lash lash = lash_at(s, j, place, &heights, seed);
        const tcr_layer layer = lash_of(s, j)->layer;
        tcr_sight sight;
        tcr_bond_bed bed = {.bond_mm = 0.0};
        (void)tcr_evaluate(&at, &lash, NULL, NULL, TCR_ANEW_ALL, &sight); /* how it stands */
        for (int k = 0; k < (layer == TCR_BOTTOM ? 1 : drops); k++) {
            tcr_choice worn = s->member[j].worn;
            worn.length_mm -= s->drop_mm[k];
            if (!s->possible[k][layer])
                continue;
            const tcr_extension ext = tcr_set_extension(s->set, &worn);
            tcr_kept_fibre fibre = {.known = false};
            tcr_vec2 seen = {NAN, NAN};
            (void)tcr_evaluate_on(&at, &lash, &ext, &s->set->bond, &sight.stance, &bed, &fibre,
                                  &seen);
            s->tip_x[(size_t)k * s->n + j] = seen.x;
            s->tip_y[(size_t)k * s->n + j] = seen.y;
        }
    }
}

/* The mean square off the line, each layer with its drop; NaN where there is none. */
static double mean_square(study *s, const int drop[TCR_LAYERS]) {
    tcr_line line;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (!s->possible[drop[layer]][layer])
            return NAN;
    for (size_t j = 0; j < s->n; j++) {
        const size_t k = (size_t)drop[lash_of(s, j)->layer];
        s->x[j] = s->tip_x[k * s->n + j];
        s->y[j] = s->tip_y[k * s->n + j];
    }
    if (tcr_watch_stops(&s->watch, "trying the rule", s->share) ||
        tcr_line_fit(s->x, s->y, s->n, NULL, s->scratch, &line) != TCR_OK)
        return NAN;
    double sum = 0.0;
    for (size_t j = 0; j < s->n; j++) {
        const double deviation = s->y[j] - tcr_line_at(&line, s->x[j]);
        sum += deviation * deviation;
    }
    return sum / (double)s->n;
}

static void find_best(study *s, tcr_lesson *lesson) {
    double least = INFINITY;
    for (int m = 0; m < s->sizes[0]; m++)
        for (int t = 0; t < s->sizes[1] && !s->watch.stopped; t++) {
            const int drop[TCR_LAYERS] = {0, s->size[0][m], s->size[1][t]};
            const double square = mean_square(s, drop);
            if (!(square < least))
                continue;
            least = square;
            lesson->rms_mm[TCR_LESSON_BEST] = sqrt(square);
            lesson->best_less_mm[0] = s->drop_mm[drop[1]];
            lesson->best_less_mm[1] = s->drop_mm[drop[2]];
        }
}

/* The figures of one place; those of the best sizes only where asked for. */
static tcr_lesson try_at(study *s, const tcr_lesson_place *place, bool best) {
    tcr_lesson lesson = {
        .lashes = s->n, .rms_mm = {NAN, NAN, NAN, NAN}, .best_less_mm = {NAN, NAN}};
    const bool drawn = place->pitch_sd_rad > 0.0;
    const int draws = drawn ? TCR_LESSON_DRAWS : 1;
    double sum[TCR_LESSON_BEST] = {0.0};
    if (place->alike && !s->mean_bonds)
        return lesson;
    for (int draw = 1; draw <= draws; draw++) {
        lay(s, place, (uint64_t)draw, best && !drawn ? s->drops : RULE_DROPS);
        for (int choice = 0; choice < TCR_LESSON_BEST; choice++)
            sum[choice] += mean_square(s, RULE[choice]);
    }
    for (int choice = 0; choice < TCR_LESSON_BEST; choice++)
        lesson.rms_mm[choice] = sqrt(sum[choice] / draws);
    if (best && !drawn)
        find_best(s, &lesson);
    return lesson;
}

/* ---- A study --------------------------------------------------------------------------------- */

static void end_study(study *s) {
    const tcr_allocator *a = &s->set->allocator;
    tcr_release(a, s->tip_y);
    tcr_release(a, s->tip_x);
    tcr_release(a, s->x);
    tcr_release(a, s->member);
}

/* After a failure, too, the study is to be ended. */
static tcr_status begin_study(study *s, const tcr_set *set, tcr_side side,
                              const tcr_progress *progress) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    const tcr_allocator *a = &set->allocator;
    const size_t room = eye->count;
    *s = (study){.set = set, .side = side};
    if (progress != NULL)
        s->watch.progress = *progress;
    (void)tcr_layer_heights_of(set, side, &s->own);
    s->member = tcr_resize(a, NULL, room, sizeof *s->member);
    s->x = tcr_resize(a, NULL, room, 3 * sizeof *s->x);
    s->tip_x = tcr_resize(a, NULL, room, DROPS_MAX * sizeof *s->tip_x);
    s->tip_y = tcr_resize(a, NULL, room, DROPS_MAX * sizeof *s->tip_y);
    if (s->member == NULL || s->x == NULL || s->tip_x == NULL || s->tip_y == NULL)
        return TCR_E_MEMORY;
    s->y = s->x + room;
    s->scratch = s->y + room;
    gather(s);
    list_drops(s);
    return s->n > 0 ? TCR_OK : TCR_E_MISSING;
}

static tcr_status check_eye(const tcr_set *set, tcr_side side) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL)
        return TCR_E_MISSING;
    return eye->map.count > 0 ? TCR_OK : TCR_E_MAP;
}

static bool is_valid(const tcr_lesson_place *place) {
    return (!place->has_apart || tcr_within(place->apart_mm, 0.0, 3.0)) &&
           tcr_within_degrees(place->pitch_sd_rad, 0.0, 20.0) &&
           (place->alike || place->pitch_sd_rad == 0.0) &&
           tcr_view_validate(&place->view, NULL) == TCR_OK;
}

tcr_lesson_place tcr_lesson_place_default(void) {
    return (tcr_lesson_place){.view = tcr_view_named(TCR_OPEN_FRONT)};
}

tcr_status tcr_lesson_of(const tcr_set *set, tcr_side side, const tcr_lesson_place *place, size_t n,
                         const tcr_progress *progress, tcr_lesson *out) {
    tcr_status status = check_eye(set, side);
    if (status != TCR_OK)
        return status;
    if (n > 0 && (place == NULL || out == NULL))
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < n; i++)
        if (!is_valid(&place[i]))
            return TCR_E_RANGE;
    tcr_lesson *lesson = tcr_resize(&set->allocator, NULL, n, sizeof *lesson);
    if (lesson == NULL)
        return TCR_E_MEMORY;
    study s;
    status = begin_study(&s, set, side, progress);
    for (size_t i = 0; i < n && status == TCR_OK; i++) {
        s.share = (double)i / (double)n;
        lesson[i] = try_at(&s, &place[i], true);
        status = s.watch.stopped ? TCR_E_STOPPED : TCR_OK;
    }
    if (status == TCR_OK && n > 0)
        memcpy(out, lesson, n * sizeof *out);
    end_study(&s);
    tcr_release(&set->allocator, lesson);
    return status;
}

/* ---- Where one choice overtakes another ------------------------------------------------------ */

/* Two choices, by a place's number that changes. */
typedef struct race {
    study *study;
    tcr_lesson_place place;
    double *number; /* of the place */
    int from, to;   /* choices */
} race;

/* By how much the second choice lies nearer to its line. */
static double gain(double number, void *context) {
    race *r = context;
    *r->number = number;
    const tcr_lesson lesson = try_at(r->study, &r->place, false);
    return lesson.rms_mm[r->from] - lesson.rms_mm[r->to];
}

/* The first number from 'low' on, by steps, at which the second choice gains. */
static double first_gain(race *r, double low, double step, int steps) {
    double root = NAN;
    if (gain(low, r) > 0.0)
        return low;
    for (int k = 1; k <= steps; k++)
        if (gain(low + k * step, r) > 0.0)
            return tcr_root(gain, r, low + (k - 1) * step, low + k * step, &root) ? root
                                                                                  : (double)NAN;
    return root;
}

/* The least number up to 'high' from which on it gains. */
static double always_gains_from(race *r, double high, double step, int steps) {
    double root = NAN;
    if (!(gain(high, r) > 0.0))
        return root;
    for (int k = 1; k <= steps; k++)
        if (!(gain(high - k * step, r) > 0.0))
            return tcr_root(gain, r, high - k * step, high - (k - 1) * step, &root) ? root
                                                                                    : (double)NAN;
    return high - steps * step;
}

tcr_status tcr_lesson_pays_from(const tcr_set *set, tcr_side side, int less, bool alike,
                                double *apart_mm) {
    tcr_status status = check_eye(set, side);
    if (status != TCR_OK || apart_mm == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    if (less != 1 && less != 2)
        return TCR_E_RANGE;
    study s;
    status = begin_study(&s, set, side, NULL);
    if (status == TCR_OK) {
        race r = {.study = &s, .place = tcr_lesson_place_default(), .from = less - 1, .to = less};
        r.place.has_apart = true;
        r.place.alike = alike;
        r.number = &r.place.apart_mm;
        *apart_mm = first_gain(&r, 0.0, APART_STEP_MM, (int)round(APART_TO_MM / APART_STEP_MM));
    }
    end_study(&s);
    return status;
}

tcr_status tcr_lesson_turns_at(const tcr_set *set, tcr_side side, const tcr_lesson_place *place,
                               double *viewer_rad) {
    tcr_status status = check_eye(set, side);
    if (status != TCR_OK || place == NULL || viewer_rad == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    race r = {.place = *place, .from = TCR_LESSON_ONE_LESS, .to = TCR_LESSON_EQUAL};
    r.place.view = (tcr_view){.opening = 0.0, .viewer_rad = 0.0};
    if (!is_valid(&r.place))
        return TCR_E_RANGE;
    study s;
    status = begin_study(&s, set, side, NULL);
    if (status == TCR_OK) {
        r.study = &s;
        r.number = &r.place.view.viewer_rad;
        *viewer_rad = always_gains_from(&r, TURNS_TO_DEG * TCR_DEG, TURNS_STEP_DEG * TCR_DEG,
                                        (int)round(TURNS_TO_DEG / TURNS_STEP_DEG));
    }
    end_study(&s);
    return status;
}
