/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a plan reaches, in a paragraph at the head of its work sheet. */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "num/range.h"

static const double LINE_MM = 3.5; /* of small type */

void tcr_work_same(const tcr_work_sheet *sheet, bool *diameter, bool *fan) {
    const tcr_choice *first = NULL;
    *diameter = *fan = true;
    for (size_t p = 0; p < sheet->work->places; p++) {
        const tcr_plan_place *place = &sheet->work->place[p];
        const tcr_choice *choice =
            &tcr_plan_eye_of(sheet->plan, place->side)->lash[place->lash].choice;
        first = first == NULL ? choice : first;
        *diameter = *diameter && choice->diameter_mm == first->diameter_mm;
        *fan = *fan && choice->fan == first->fan;
    }
}

/* Text that grows, cut where there is no more room. */
typedef struct growing {
    char text[6 * TCR_WORDS];
    size_t used;
} growing;

static void add(growing *to, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    const int wrote = vsnprintf(to->text + to->used, sizeof to->text - to->used, format, arguments);
    va_end(arguments);
    if (wrote > 0)
        to->used = (size_t)fmin((double)(to->used + (size_t)wrote), sizeof to->text - 1);
}

/* Says which eyes the figures are of where the other is planned by zones only; how many they are.
 */
static int measured(const tcr_work_sheet *sheet, growing *to) {
    int eyes = 0;
    tcr_side side = TCR_LEFT;
    for (int i = 0; i < sheet->picture.eyes; i++)
        if (!tcr_plan_eye_of(sheet->plan, sheet->picture.side[i])->zones_only) {
            side = sheet->picture.side[i];
            eyes++;
        }
    const bool both = eyes == 0 || eyes == sheet->picture.eyes;
    add(to, "Tips off the map\xe2\x80\x99s line%s%s", both ? "" : ", ",
        both                ? ""
        : side == TCR_RIGHT ? "right eye"
                            : "left eye");
    return eyes;
}

static void say_distances(growing *to, const tcr_work_sheet *sheet) {
    const tcr_plan_result *r = tcr_plan_result_of(sheet->plan);
    const tcr_plan_point *made = tcr_plan_point_made(sheet->plan);
    char a[TCR_WORDS], b[TCR_WORDS], c[TCR_WORDS];
    const int eyes = measured(sheet, to);
    /* Of an eye that nobody measured only the zones are known to come to something. */
    const double zones_mm = r->points > 0 ? r->point[0].rms_mm : r->rms_mm;
    add(to, ": %.20s mm rms ", tcr_say_number(a, zones_mm, 2, false));
    if (sheet->form == TCR_SHEET_ZONES || made == NULL) {
        add(to, "with the zones alone. ");
        return;
    }
    tcr_say_number(b, made->rms_mm, 2, false);
    /* Rounded down, but for rounding of the product: 94.96 % is not 95. */
    tcr_say_number(c, floor(1000.0 * made->within_tolerance + 1e-9) / 10.0, 1, false);
    if (r->corrections == 0)
        add(to, "with the zones alone");
    else
        add(to, "with the zones alone, %.20s mm with %zu %s", b, r->corrections,
            r->corrections == 1 ? "correction" : "corrections");
    add(to, " (%.20s %% of %s tips within %.20s mm). ", c,
        eyes > 1 ? "the worse eye\xe2\x80\x99s" : "the",
        tcr_say_trimmed(a, tcr_set_tolerance(sheet->set), 2));
}

static void say_line(growing *to, const tcr_plan_result *r, bool is_free) {
    char a[TCR_WORDS], b[TCR_WORDS];
    if (!r->proved)
        add(to, "The zones\xe2\x80\x99 choice is the best found so far; it is not proved that none "
                "is better. ");
    if (is_free)
        add(to,
            "The line is free: it is the map\xe2\x80\x99s one shifted by %.20s mm (plus: up) and "
            "tilted by %.20s\xc2\xb0 (plus: outer end up)%s. ",
            tcr_say_number(a, r->shift_mm, 2, true),
            tcr_say_number(b, atan(r->tilt) / TCR_DEG, 1, true),
            r->at_limit ? ", which is as far as it may" : "");
}

static void say_kind(growing *to, const tcr_work_sheet *sheet) {
    bool diameter, fan;
    char number[TCR_WORDS];
    tcr_work_same(sheet, &diameter, &fan);
    if (tcr_plan_result_of(sheet->plan)->one_kind && diameter && fan && sheet->work->places > 0) {
        const tcr_plan_place *place = &sheet->work->place[0];
        const tcr_choice *choice =
            &tcr_plan_eye_of(sheet->plan, place->side)->lash[place->lash].choice;
        add(to, "All %.20s mm, ", tcr_say_trimmed(number, choice->diameter_mm, 3));
        if (choice->fan > 1)
            add(to, "fans of %d. ", choice->fan);
        else
            add(to, "single. ");
    }
    if (sheet->work->fibres > sheet->work->lashes)
        add(to, "\xe2\x80\x9cLay out\xe2\x80\x9d counts fibres, of which a fan takes several.");
}

/* Single lashes that nobody has must not pass for a client's. Of a client whom nobody measured the
 * sheet has zones. */
static void say_drawn(growing *to, const tcr_work_sheet *sheet) {
    size_t drawn = 0;
    int eyes = 0;
    tcr_side side = TCR_LEFT; /* whose zones alone are planned */
    for (int i = 0; i < sheet->picture.eyes; i++) {
        if (tcr_plan_eye_of(sheet->plan, sheet->picture.side[i])->zones_only) {
            side = sheet->picture.side[i];
            eyes++;
        } else {
            drawn += tcr_set_drawn_count(sheet->set, sheet->picture.side[i]);
        }
    }
    if (drawn > 0)
        add(to,
            "NO CLIENT\xe2\x80\x99S SHEET: %zu of its lashes are drawn by chance, not measured. ",
            drawn);
    if (eyes == 0)
        return;
    add(to,
        "Nobody measured the lashes%s%s%s: what zones get is best on average over %zu samples like "
        "them; %s average lashes. ",
        eyes < sheet->picture.eyes ? " of the " : "",
        eyes < sheet->picture.eyes ? tcr_side_text(side) : "",
        eyes < sheet->picture.eyes ? " eye" : "", tcr_plan_result_of(sheet->plan)->samples,
        eyes < sheet->picture.eyes ? "its map shows" : "the maps show");
}

/* Which length of the map is out of reach, and why. */
static void say_reach(growing *to, const tcr_work_sheet *sheet) {
    char reach[TCR_PLAN_REACH_SIZE];
    tcr_plan_reach_text(sheet->plan, reach);
    add(to, "%s%s", reach, *reach != '\0' ? " " : "");
}

double tcr_work_reached(tcr_canvas *canvas, const tcr_work_sheet *sheet, double top) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL,
                               .colour = canvas->style->ink,
                               .width_mm = TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE,
                               .lines = 9};
    growing said = {.used = 0};
    say_drawn(&said, sheet);
    say_reach(&said, sheet);
    say_distances(&said, sheet);
    say_line(&said, tcr_plan_result_of(sheet->plan),
             tcr_plan_options_of(sheet->plan)->free_mm > 0.0);
    say_kind(&said, sheet);
    return top + tcr_canvas_text(canvas, TCR_PAGE_EDGE, top + LINE_MM, said.text, &small);
}
