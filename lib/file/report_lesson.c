/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the layering rule gains, for the reports of the level steps: where it is tried, and the
 * member 'lesson' of the JSON report.
 */
#include "file/report_step.h"

#include <math.h>

#include "num/range.h"

/*
 * 4 degrees is what tipcrest assumes of a person's lashes. 8 lies between. 11 was read second-hand,
 * over several people; the original was not seen.
 */
const double tcr_step_spread_deg[TCR_STEP_SPREADS] = {0.0, 4.0, 8.0, 11.0};

/* ---- Where it is tried ------------------------------------------------------------- */

enum { PLACES = 1 + 2 * TCR_STEP_APART + 2 * TCR_STEP_VIEWERS + TCR_STEP_SPREADS };

static tcr_lesson_place here_of(const tcr_step_range *range) {
    tcr_lesson_place here = tcr_lesson_place_default();
    here.has_apart = range->has_apart;
    here.apart_mm = range->apart_mm;
    return here;
}

tcr_status tcr_step_here_of(const tcr_step_range *range, tcr_lesson *here) {
    const tcr_lesson_place place = here_of(range);
    return tcr_lesson_of(range->set, range->side, &place, 1, &range->progress, here);
}

/* Fills the places in the order of the members of tcr_step_lessons; returns how many. */
static size_t list_places(const tcr_step_range *range, tcr_lesson_place place[PLACES]) {
    const tcr_lesson_place here = here_of(range);
    size_t n = 0;
    place[n++] = here;
    for (int alike = 0; alike < 2; alike++)
        for (int i = 0; i < TCR_STEP_APART; i++) {
            place[n] = tcr_lesson_place_default();
            place[n].alike = alike != 0;
            place[n].has_apart = true;
            place[n++].apart_mm = tcr_step_apart_mm(i);
        }
    for (int closed = 0; closed < 2; closed++)
        for (int i = 0; i < TCR_STEP_VIEWERS; i++) {
            place[n] = here;
            place[n++].view = (tcr_view){.opening = closed ? 0.0 : 1.0,
                                         .viewer_rad = tcr_step_viewer_deg(i) * TCR_DEG};
        }
    for (int i = 0; i < TCR_STEP_SPREADS; i++) {
        place[n] = here;
        place[n].alike = true;
        place[n++].pitch_sd_rad = tcr_step_spread_deg[i] * TCR_DEG;
    }
    return n;
}

static const tcr_lesson *take(tcr_lesson *to, const tcr_lesson *from, int n) {
    for (int i = 0; i < n; i++)
        to[i] = from[i];
    return from + n;
}

/* The distances at which the rule begins to pay, and the angle from which it no longer shows. */
static tcr_status find_limits(const tcr_step_range *range, const tcr_lesson_place *here,
                              tcr_step_lessons *l) {
    tcr_status status = TCR_OK;
    for (int less = 1; less <= 2 && status == TCR_OK; less++) {
        status =
            tcr_lesson_pays_from(range->set, range->side, less, false, &l->own_pays_mm[less - 1]);
        if (status == TCR_OK)
            status = tcr_lesson_pays_from(range->set, range->side, less, true,
                                          &l->alike_pays_mm[less - 1]);
    }
    return status == TCR_OK ? tcr_lesson_turns_at(range->set, range->side, here, &l->turns_rad)
                            : status;
}

tcr_status tcr_step_lessons_of(const tcr_step_range *range, tcr_step_lessons *l) {
    tcr_lesson_place place[PLACES];
    tcr_lesson lesson[PLACES];
    const size_t n = list_places(range, place);
    l->status = tcr_lesson_of(range->set, range->side, place, n, &range->progress, lesson);
    if (l->status == TCR_OK)
        l->status = find_limits(range, &place[0], l);
    if (l->status == TCR_E_MISSING || l->status == TCR_E_MAP)
        return TCR_OK;
    if (l->status != TCR_OK)
        return l->status;
    const tcr_lesson *next = take(&l->here, lesson, 1);
    next = take(l->own, next, TCR_STEP_APART);
    next = take(l->alike, next, TCR_STEP_APART);
    next = take(l->open, next, TCR_STEP_VIEWERS);
    next = take(l->closed, next, TCR_STEP_VIEWERS);
    (void)take(l->spread, next, TCR_STEP_SPREADS);
    return TCR_OK;
}

/* ---- JSON -------------------------------------------------------------------------- */

/* The figures of a lesson into the object that is open. */
static void write_figures(tcr_json *json, const tcr_lesson *lesson) {
    static const char *const key[TCR_LESSON_CHOICES] = {"equal_mm", "one_less_mm", "two_less_mm",
                                                        "best_mm"};
    for (int choice = 0; choice < TCR_LESSON_CHOICES; choice++)
        tcr_json_number(json, key[choice], lesson->rms_mm[choice]);
    tcr_json_object(json, "best_less_mm");
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        tcr_json_number(json, tcr_word(&tcr_words_layer, i + 1), lesson->best_less_mm[i]);
    tcr_json_end(json);
}

/* One row for each lesson, with the number at which it is. */
static void write_rows(tcr_json *json, const char *key, const char *number, const double *at,
                       const tcr_lesson *lesson, int n) {
    tcr_json_array(json, key);
    for (int i = 0; i < n; i++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_number(json, number, at[i]);
        write_figures(json, &lesson[i]);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

static void write_pays(tcr_json *json, const char *key, const double pays_mm[2]) {
    tcr_json_object(json, key);
    tcr_json_number(json, "one_less", pays_mm[0]);
    tcr_json_number(json, "two_less", pays_mm[1]);
    tcr_json_end(json);
}

static void write_lessons(tcr_json *json, const tcr_step_lessons *l) {
    double apart[TCR_STEP_APART], viewer[TCR_STEP_VIEWERS];
    for (int i = 0; i < TCR_STEP_APART; i++)
        apart[i] = tcr_step_apart_mm(i);
    for (int i = 0; i < TCR_STEP_VIEWERS; i++)
        viewer[i] = tcr_step_viewer_deg(i);
    tcr_json_count(json, "lashes", l->here.lashes);
    tcr_json_object(json, "here");
    tcr_json_in_line(json);
    write_figures(json, &l->here);
    tcr_json_end(json);
    tcr_json_object(json, "apart");
    write_rows(json, "own", "apart_mm", apart, l->own, TCR_STEP_APART);
    write_rows(json, "alike", "apart_mm", apart, l->alike, TCR_STEP_APART);
    tcr_json_end(json);
    tcr_json_object(json, "pays_from_mm");
    write_pays(json, "own", l->own_pays_mm);
    write_pays(json, "alike", l->alike_pays_mm);
    tcr_json_end(json);
    tcr_json_object(json, "viewer");
    write_rows(json, "open", "viewer_deg", viewer, l->open, TCR_STEP_VIEWERS);
    write_rows(json, "closed", "viewer_deg", viewer, l->closed, TCR_STEP_VIEWERS);
    tcr_json_end(json);
    tcr_json_number(json, "turns_at_deg", tcr_degrees_of(l->turns_rad));
    write_rows(json, "pitch_spread", "pitch_sd_deg", tcr_step_spread_deg, l->spread,
               TCR_STEP_SPREADS);
}

void tcr_step_lessons_json(tcr_json *json, const tcr_step_lessons *lessons) {
    if (lessons->status != TCR_OK) {
        tcr_json_null(json, "lesson");
        tcr_json_text(json, "lesson_reason", tcr_status_text(lessons->status));
        return;
    }
    tcr_json_object(json, "lesson");
    write_lessons(json, lessons);
    tcr_json_end(json);
}
