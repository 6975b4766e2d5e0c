/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The longest length of a map that a plan does not reach: on which eye, and why not.
 */
#include "file/report_plan.h"

/* How much lower a shared line must run before it is said: half a size of most trays. */
static const double LOWERED_LEAST_MM = 0.5;

/* Whether an eye lacks the longest length of its map for a reason that can be named. */
static bool falls_short(const tcr_plan_eye *eye) {
    return eye != NULL && eye->reach.given_mm < eye->reach.asked_mm &&
           (eye->reach.limits != 0 || !eye->reach.at_hand ||
            eye->reach.lowered_mm >= LOWERED_LEAST_MM);
}

/* " (limits: at most 5 mm longer than the lash, 10 times as heavy as the lash)" */
static void add_limits(tcr_paragraph *line, const tcr_limits *limits, unsigned bits,
                       const char *whose) {
    static const char *const WORDS[] = {" mm longer than the lash", " times as heavy as the lash",
                                        " times the lash's own turning force"};
    static const char *const THEN[] = {"", " times as heavy", " times its turning force"};
    const char *between = ": ";
    bool most_said = false;
    if (bits == 0)
        return;
    tcr_add(line, (bits & (bits - 1)) == 0 ? " (limit" : " (limits");
    tcr_add(line, whose);
    for (int k = 0; tcr_plan_limit_name(k) != NULL; k++) {
        if ((bits & 1u << k) == 0)
            continue;
        tcr_add(line, between);
        between = ", ";
        if (k >= (int)(sizeof WORDS / sizeof *WORDS)) { /* the bond: no number to name */
            tcr_add(line, "room for the bond");
            continue;
        }
        const double most = tcr_plan_limit_value(limits, k);
        tcr_add(line, most_said ? "" : "at most ");
        tcr_add_number(line, most);
        tcr_add(line, most_said ? THEN[k] : WORDS[k]);
        most_said = true;
    }
    tcr_add(line, ")");
}

static void add_eye(tcr_paragraph *line, tcr_side side) {
    tcr_add(line, " on the ");
    tcr_add(line, tcr_side_text(side));
    tcr_add(line, " eye");
}

/* Why an eye falls short. */
static void add_reasons(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_reach *reach = &tcr_plan_eye_of(plan, side)->reach;
    add_limits(&t->line, &tcr_plan_options_of(plan)->limits, reach->limits, "");
    if (!reach->at_hand)
        tcr_add(&t->line, " (the tray lacks it in the curls and diameters to choose from)");
    if (reach->lowered_mm < LOWERED_LEAST_MM)
        return;
    tcr_add(&t->line, ", and matching the ");
    tcr_add(&t->line, tcr_side_text((tcr_side)(1 - side)));
    tcr_add(&t->line, " eye costs the ");
    tcr_add(&t->line, tcr_side_text(side));
    tcr_add(&t->line, " ");
    tcr_add_fixed(&t->line, reach->lowered_mm, 1, false);
    tcr_add(&t->line, " mm (--each-eye plans each towards its own line)");
}

/* "11 mm on the left eye (limit: ...)" */
static void add_given(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    tcr_add_number(&t->line, tcr_plan_eye_of(plan, side)->reach.given_mm);
    tcr_add(&t->line, " mm");
    add_eye(&t->line, side);
}

/* Both eyes, which ask for one length and fall short of it by limits alone. */
static void put_short_both(tcr_table *t, const tcr_plan *plan) {
    const tcr_plan_reach *right = &tcr_plan_eye_of(plan, TCR_RIGHT)->reach;
    const tcr_plan_reach *left = &tcr_plan_eye_of(plan, TCR_LEFT)->reach;
    tcr_add_number(&t->line, right->asked_mm);
    tcr_add(&t->line, " mm is not reached: at most ");
    if (right->given_mm == left->given_mm) {
        tcr_add_number(&t->line, right->given_mm);
        tcr_add(&t->line, " mm on either eye");
    } else {
        add_given(t, plan, TCR_RIGHT);
        tcr_add(&t->line, ", ");
        add_given(t, plan, TCR_LEFT);
    }
    add_limits(&t->line, &tcr_plan_options_of(plan)->limits, right->limits | left->limits,
               right->limits == left->limits ? "" : " of one or both");
    tcr_add(&t->line, ".");
    tcr_table_end(t, 0, 2);
}

static bool by_limits_alone(const tcr_plan_eye *eye) {
    return falls_short(eye) && eye->reach.limits != 0 && eye->reach.at_hand &&
           eye->reach.lowered_mm < LOWERED_LEAST_MM;
}

static void put_short_eye(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_reach *reach = &tcr_plan_eye_of(plan, side)->reach;
    tcr_add_number(&t->line, reach->asked_mm);
    tcr_add(&t->line, " mm is not reached");
    if (tcr_set_eyes(t->set, NULL) > 1)
        add_eye(&t->line, side);
    tcr_add(&t->line, ": at most ");
    tcr_add_number(&t->line, reach->given_mm);
    tcr_add(&t->line, " mm");
    add_reasons(t, plan, side);
    tcr_add(&t->line, ".");
    tcr_table_end(t, 0, 2);
}

void tcr_table_plan_reach(tcr_table *t, const tcr_plan *plan) {
    const tcr_plan_eye *left = tcr_plan_eye_of(plan, TCR_LEFT);
    const tcr_plan_eye *right = tcr_plan_eye_of(plan, TCR_RIGHT);
    if (by_limits_alone(right) && by_limits_alone(left) &&
        right->reach.asked_mm == left->reach.asked_mm) {
        put_short_both(t, plan);
        return;
    }
    if (falls_short(right))
        put_short_eye(t, plan, TCR_RIGHT);
    if (falls_short(left))
        put_short_eye(t, plan, TCR_LEFT);
}
