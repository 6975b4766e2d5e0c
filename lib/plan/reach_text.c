/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The longest length of a map that a plan does not reach, in words for tables and sheets: in which
 * zones of which eye, and why not.
 */
#include "plan/plan_data.h"

#include <stdarg.h>
#include <string.h>

#include "model/set_data.h"
#include "num/number.h"

/* How much lower a shared line must run before it is said: half a size of most trays. */
static const double LOWERED_LEAST_MM = 0.5;
static const double ROUNDING_MM = 1e-9;

/* Text being put together; what does not fit is left out. */
typedef struct words {
    char *text;
    size_t used;
} words;

/* Adds texts, of which END is the last. */
#define END ((const char *)NULL)
static void say(words *w, ...) {
    va_list texts;
    va_start(texts, w);
    for (const char *text = va_arg(texts, const char *); text != NULL;
         text = va_arg(texts, const char *)) {
        const size_t room = TCR_PLAN_REACH_SIZE - 1 - w->used, length = strlen(text);
        const size_t taken = length < room ? length : room;
        memcpy(w->text + w->used, text, taken);
        w->used += taken;
    }
    va_end(texts);
    w->text[w->used] = '\0';
}

static void say_number(words *w, double number) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(number, text);
    say(w, text, END);
}

static const tcr_plan_reach *reach_of(const tcr_plan *plan, tcr_side side) {
    return &tcr_plan_eye_of(plan, side)->reach;
}

/* Whether an eye lacks the longest length of its map for a reason that can be named. */
static bool falls_short(const tcr_plan *plan, tcr_side side) {
    if (tcr_plan_eye_of(plan, side) == NULL)
        return false;
    const tcr_plan_reach *reach = reach_of(plan, side);
    return reach->given_mm < reach->asked_mm &&
           (reach->limits != 0 || !reach->at_hand || reach->lowered_mm >= LOWERED_LEAST_MM ||
            plan->moved_mm[side] <= -LOWERED_LEAST_MM);
}

/* The zones whose bottom layer is asked for the longest; bit z for the zone of index z. */
static uint64_t zones_of(const tcr_plan *plan, tcr_side side) {
    size_t count;
    const tcr_zone *map = tcr_set_map(plan->set, side, &count);
    const double asked_mm = reach_of(plan, side)->asked_mm;
    uint64_t zones = 0;
    for (size_t z = 0; z < count; z++)
        if (tcr_set_layer_length(plan->set, &map[z], TCR_BOTTOM) >= asked_mm - ROUNDING_MM)
            zones |= UINT64_C(1) << z;
    return zones;
}

/* "11 mm is not reached in zones 3 and 4" */
static void say_asked(words *w, const tcr_plan *plan, tcr_side side) {
    uint64_t left = zones_of(plan, side);
    say_number(w, reach_of(plan, side)->asked_mm);
    say(w,
        (left & (left - 1)) == 0 ? " mm is not reached in zone " : " mm is not reached in zones ",
        END);
    for (int z = 0; left != 0; z++) {
        if ((left >> z & 1u) == 0)
            continue;
        left &= left - 1;
        say_number(w, z + 1);
        say(w, left == 0 ? "" : (left & (left - 1)) == 0 ? " and " : ", ", END);
    }
}

static void say_carry(words *w, const tcr_plan *plan, tcr_side side) {
    say(w,
        tcr_plan_eye_of(plan, side)->zones_only ? "more than 1 in 10 lashes there cannot carry it"
                                                : "not every lash there can carry it",
        END);
}

/* "limits: at most 5 mm longer than the lash, 10 times as heavy" */
static void say_limits(words *w, const tcr_plan *plan, unsigned bits) {
    static const char *const FIRST[] = {" mm longer than the lash", " times as heavy as the lash",
                                        " times the lash's own turning force"};
    static const char *const THEN[] = {"", " times as heavy", " times its turning force"};
    const tcr_limits *limits = &plan->options.limits;
    const double most[] = {limits->overlength_mm, limits->mass_ratio, limits->moment_ratio};
    bool said = false;
    say(w, (bits & (bits - 1)) == 0 ? "limit: " : "limits: ", END);
    for (int k = 0; k < (int)(sizeof most / sizeof *most); k++) {
        if ((bits & 1u << k) == 0)
            continue;
        say(w, said ? ", " : "at most ", END);
        say_number(w, most[k]);
        say(w, said ? THEN[k] : FIRST[k], END);
        said = true;
    }
    if ((bits & TCR_BEYOND_BOND) != 0)
        say(w, said ? ", " : "", "room for the bond", END);
}

/* ---- One eye ------------------------------------------------------------------------- */

static void say_eye(words *w, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_reach *reach = reach_of(plan, side);
    const char *name = tcr_side_text(side), *between = ": ";
    say_asked(w, plan, side);
    if (tcr_set_eyes(plan->set, NULL) > 1)
        say(w, " of the ", name, " eye, whose longest is ", END);
    else
        say(w, "; the longest is ", END);
    say_number(w, reach->given_mm);
    say(w, " mm", END);
    if (reach->limits != 0) {
        say(w, between, END);
        say_carry(w, plan, side);
        say(w, " (", END);
        say_limits(w, plan, reach->limits);
        say(w, ")", END);
        between = ", and ";
    }
    if (!reach->at_hand) {
        say(w, between, "the tray lacks it in the curls and diameters to choose from", END);
        between = ", and ";
    }
    if (reach->lowered_mm >= LOWERED_LEAST_MM) {
        char lowered[TCR_NUMBER_SIZE];
        tcr_number_fixed(reach->lowered_mm, 1, lowered);
        say(w, between, "matching the ", tcr_side_text((tcr_side)(1 - side)), " eye costs the ",
            name, " ", lowered, " mm (--each-eye plans each towards its own line)", END);
        between = ", and ";
    }
    if (plan->moved_mm[side] <= -LOWERED_LEAST_MM) {
        char moved[TCR_NUMBER_SIZE];
        tcr_number_fixed(-plan->moved_mm[side], 1, moved);
        say(w, between, "the line, free to move, runs ", moved, " mm lower there", END);
    }
    say(w, ".", END);
}

/* ---- Both eyes ----------------------------------------------------------------------- */

static bool by_limits_alone(const tcr_plan *plan, tcr_side side) {
    return falls_short(plan, side) && reach_of(plan, side)->limits != 0 &&
           reach_of(plan, side)->at_hand && reach_of(plan, side)->lowered_mm < LOWERED_LEAST_MM &&
           plan->moved_mm[side] > -LOWERED_LEAST_MM;
}

/* Whether one sentence does for both eyes: the same length in the same zones, and limits alone. */
static bool are_alike(const tcr_plan *plan) {
    return by_limits_alone(plan, TCR_LEFT) && by_limits_alone(plan, TCR_RIGHT) &&
           reach_of(plan, TCR_LEFT)->asked_mm == reach_of(plan, TCR_RIGHT)->asked_mm &&
           zones_of(plan, TCR_LEFT) == zones_of(plan, TCR_RIGHT) &&
           tcr_plan_eye_of(plan, TCR_LEFT)->zones_only ==
               tcr_plan_eye_of(plan, TCR_RIGHT)->zones_only;
}

static void say_both(words *w, const tcr_plan *plan) {
    const double right_mm = reach_of(plan, TCR_RIGHT)->given_mm;
    const double left_mm = reach_of(plan, TCR_LEFT)->given_mm;
    const unsigned right = reach_of(plan, TCR_RIGHT)->limits;
    const unsigned left = reach_of(plan, TCR_LEFT)->limits;
    say_asked(w, plan, TCR_RIGHT);
    say(w, " of either eye, whose longest is ", END);
    say_number(w, right_mm);
    if (right_mm == left_mm) {
        say(w, " mm", END);
    } else {
        say(w, " mm on the right and ", END);
        say_number(w, left_mm);
        say(w, " mm on the left", END);
    }
    say(w, ": ", END);
    say_carry(w, plan, TCR_RIGHT);
    say(w, right == left ? " (" : " (right eye, ", END);
    say_limits(w, plan, right);
    if (right != left) {
        say(w, "; left eye, ", END);
        say_limits(w, plan, left);
    }
    say(w, ").", END);
}

void tcr_plan_reach_text(const tcr_plan *plan, char text[TCR_PLAN_REACH_SIZE]) {
    if (text == NULL)
        return;
    words w = {.text = text};
    text[0] = '\0';
    if (plan == NULL || !tcr_plan_fits(plan, plan->set))
        return;
    if (are_alike(plan)) {
        say_both(&w, plan);
        return;
    }
    for (int side = TCR_RIGHT; side >= TCR_LEFT; side--)
        if (falls_short(plan, (tcr_side)side)) {
            say(&w, w.used > 0 ? " " : "", END);
            say_eye(&w, plan, (tcr_side)side);
        }
}
