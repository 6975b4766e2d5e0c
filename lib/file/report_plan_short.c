/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The short table of a plan: one line that answers, then what an artist needs to begin. Numbers
 * have two decimals, three where that decides; bounds are rounded to the safe side.
 */
#include "file/doubts.h"
#include "file/report_plan.h"
#include "num/range.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/why.h>

/* CLIENTS_LEAST: of fewer samples the 5th and 95th percentiles say little. */
enum { IDS_MOST = 12, GROUPS_MOST = 5, ID_COLUMNS = 24, CLIENTS_LEAST = 100 };

/* ---- The answer ---------------------------------------------------------------------- */

/* Whether the line may move away from the map's. */
static bool is_moved(const tcr_plan *plan) { return tcr_plan_options_of(plan)->free_mm > 0.0; }

static bool is_measured(const tcr_plan *plan) { return tcr_plan_result_of(plan)->points > 0; }

/* "Off the line: 0.25 mm rms; 95 % of tips within 0.5 mm.", and which eye's where the other is
 * planned in the other way. */
static void add_answer(tcr_table *t, const tcr_plan *plan, bool zones_only, double rms_mm,
                       double share) {
    tcr_side side = TCR_LEFT;
    const int eyes = tcr_plan_eyes(plan, zones_only, &side);
    tcr_add(&t->line, zones_only ? "Expect off the " : "Off the ");
    tcr_add(&t->line, is_moved(plan) ? "moved line" : "map's line");
    if (eyes < (int)tcr_set_eyes(t->set, NULL)) {
        tcr_add(&t->line, ", ");
        tcr_add(&t->line, tcr_side_text(side));
        tcr_add(&t->line, " eye");
    }
    tcr_add(&t->line, ": ");
    tcr_add_fixed(&t->line, rms_mm, 2, false);
    tcr_add(&t->line, " mm rms; ");
    tcr_add_share(&t->line, share);
    tcr_add(&t->line, eyes > 1 ? " of the worse eye within " : " of tips within ");
    tcr_add_given(&t->line, tcr_set_tolerance(t->set));
    tcr_add(&t->line, " mm.");
    tcr_table_end(t, 0, 2);
}

static void put_measured(tcr_table *t, const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_point *point = tcr_plan_point_made(plan);
    add_answer(t, plan, false, point->rms_mm, point->within_tolerance);
    if (r->corrections == 0)
        return;
    tcr_add(&t->line, "With the zones alone it is ");
    tcr_add_fixed(&t->line, r->point[0].rms_mm, 2, false);
    tcr_add(&t->line, " mm; ");
    tcr_add_count(&t->line, r->corrections);
    tcr_add(&t->line, r->corrections == 1 ? " lash differs from its zone."
                                          : " lashes differ from their zone.");
    tcr_table_end(t, 0, 2);
}

/* What the zones come to over all samples of the eyes that nobody measured, and what map and rule
 * as they stand come to with the same lashes; the shares within the tolerance are of the worse eye.
 */
typedef struct mapped {
    double planned_mm, planned_within;
    double rms_mm; /* NaN where there is none */
    double within, beyond, lacking;
} mapped;

static mapped mapped_of(const tcr_plan *plan) {
    mapped m = {.planned_within = 1.0, .within = 1.0};
    double tips = 0.0, squares = 0.0, planned = 0.0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        if (eye == NULL || !eye->zones_only)
            continue;
        const tcr_plan_over *over = &eye->over;
        const double n = (double)over->tips;
        tips += n;
        squares += n * over->mapped_rms_mm * over->mapped_rms_mm;
        planned += n * over->rms_mm * over->rms_mm;
        m.planned_within = fmin(m.planned_within, over->within_tolerance);
        m.beyond += n * over->mapped_beyond;
        m.lacking += n * over->mapped_lacking;
        m.within = fmin(m.within, over->mapped_within);
    }
    m.rms_mm = sqrt(squares / tips);
    m.planned_mm = sqrt(planned / tips);
    m.beyond /= tips;
    m.lacking /= tips;
    return m;
}

/* Whether the plan may choose whatever map and rule give, as far as limits and tray let it. */
static bool may_choose_map(const tcr_plan *plan, const tcr_set *set) {
    const tcr_plan_options *o = tcr_plan_options_of(plan);
    const tcr_layering *rule = tcr_set_layering(set);
    bool may = o->curls + o->diameters + o->fans == 0 && o->lengths_most == 0 &&
               isinf(o->zone_step_most_mm);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        may = may && o->placement[rule->placement[layer]];
    return may;
}

/*
 * Whether limits and tray alone let the map come nearer than the plan. The plan has the least mean
 * square of all choices that keep to them, so a map that is nearer does not.
 */
static bool is_nearer_by_excess(const tcr_plan *plan, const tcr_set *set, const mapped *m) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    return m->rms_mm < m->planned_mm && m->beyond + m->lacking > 0.0 && r->proved &&
           tcr_plan_options_of(plan)->objective == TCR_LEAST_SQUARES && may_choose_map(plan, set);
}

/* "3 %", never less than it is. */
static void add_share_up(tcr_paragraph *line, double share) {
    tcr_add_bound(line, 100.0 * share - 1e-9, 0, true);
    tcr_add(line, " %");
}

static void put_mapped(tcr_table *t, const tcr_plan *plan, const mapped *m) {
    if (isnan(m->rms_mm))
        return;
    const bool excess = is_nearer_by_excess(plan, t->set, m);
    const bool moved = is_moved(plan); /* then they have different lines */
    const bool alike = !moved && !excess && tcr_effect_of(m->rms_mm, m->planned_mm) == TCR_LITTLE;
    tcr_add(&t->line, moved   ? "The map as it stands, off its own line: "
                      : alike ? "The map as it stands is as near: "
                              : "The map as it stands: ");
    tcr_add_fixed(&t->line, m->rms_mm, 2, false);
    tcr_add(&t->line, " mm rms; ");
    tcr_add_share(&t->line, m->within);
    if (m->beyond > 0.0) {
        tcr_add(&t->line, "; ");
        add_share_up(&t->line, m->beyond);
        tcr_add(&t->line, " of it beyond the limits");
    }
    if (m->lacking > 0.0) {
        tcr_add(&t->line, "; ");
        add_share_up(&t->line, m->lacking);
        tcr_add(&t->line, " of it not in the tray");
    }
    tcr_add(&t->line, excess ? "; the plan keeps to them and is farther by that." : ".");
    tcr_table_end(t, 0, 2);
}

/* What one client of those may come to, for whom checks after the plan. */
static void add_one_client(tcr_paragraph *line, const tcr_plan_result *r) {
    if (r->samples < CLIENTS_LEAST || isnan(r->client_rms_mm[0]))
        return;
    tcr_add(line, " Nine clients in ten: ");
    tcr_add_fixed(line, r->client_rms_mm[0], 2, false);
    tcr_add(line, " to ");
    tcr_add_fixed(line, r->client_rms_mm[1], 2, false);
    tcr_add(line, " mm");
    if (r->clients_nearer_as_mapped > 0.0) {
        tcr_add(line, "; the map as it stands is nearer for ");
        add_share_up(line, r->clients_nearer_as_mapped);
    }
    tcr_add(line, ".");
}

static void put_expected(tcr_table *t, const tcr_plan *plan) {
    const mapped m = mapped_of(plan);
    add_answer(t, plan, true, m.planned_mm, m.planned_within);
    put_mapped(t, plan, &m);
    /* Corrections of measured lashes leave their layer anyway. */
    if (!is_measured(plan) && tcr_table_add_placed(&t->line, plan, false))
        tcr_table_end(t, 0, 2);
}

bool tcr_table_plan_clients(tcr_table *t, const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    tcr_side side;
    if (tcr_plan_eyes(plan, true, &side) == 0)
        return false;
    tcr_add(&t->line, "What to expect is the mean over ");
    tcr_add_count(&t->line, r->samples);
    tcr_add(&t->line, r->samples == 1 ? " client" : " clients");
    tcr_add(&t->line, " drawn by chance, with the zones alone: nobody measured these lashes.");
    add_one_client(&t->line, r);
    if (tcr_plan_options_of(plan)->correct_all ||
        tcr_plan_options_of(plan)->corrections != SIZE_MAX)
        tcr_add(&t->line, " Corrections need measured lashes, or --samples 0.");
    return true;
}

/* The eyes whose lashes are all nobody's. */
static bool is_demonstration(const tcr_table *t, const tcr_plan *plan) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const size_t lashes = tcr_set_lash_count(t->set, (tcr_side)side);
        if (lashes > 0 && tcr_set_drawn_count(t->set, (tcr_side)side) == lashes &&
            !tcr_plan_eye_of(plan, (tcr_side)side)->zones_only)
            return true;
    }
    return false;
}

/* ---- Looks that cannot be had -------------------------------------------------------- */

static bool is_at_hand(const tcr_set *set, const tcr_choice *choice) {
    const char *curl = tcr_set_curl(set, choice->curl)->label;
    tcr_tray of;
    return tcr_tray_of(tcr_set_tray(set), curl, choice->diameter_mm, &of) == TCR_OK &&
           tcr_tray_has(&of, choice->length_mm);
}

/* What the rule gives and the tray lacks, the shortest and the longest of it. */
static void put_lacking(tcr_table *t) {
    const bool kinds = tcr_set_tray(t->set)->kinds > 0;
    double least = INFINITY, most = -INFINITY;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(t->check, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            const double length = eye->lash[i].choice.length_mm;
            if (eye->lash[i].status != TCR_OK || is_at_hand(t->set, &eye->lash[i].choice) ||
                (tcr_set_wish(t->set, (tcr_side)side, i)->fixed & TCR_FIX_LENGTH) != 0)
                continue;
            least = fmin(least, length);
            most = fmax(most, length);
        }
    }
    if (!(least <= most))
        return;
    tcr_add(&t->line, "The tray lacks ");
    tcr_add_number(&t->line, least);
    tcr_add(&t->line, " mm");
    if (least < most) {
        tcr_add(&t->line, " and others up to ");
        tcr_add_number(&t->line, most);
        tcr_add(&t->line, " mm");
    }
    tcr_add(&t->line, kinds ? " in the curl and diameter" : ",");
    tcr_add(&t->line, kinds ? " that the rule would give" : " which the rule would give");
    tcr_add(&t->line, ".");
    tcr_table_end(t, 0, 2);
}

/* A curl to choose from of which the tray has nothing. */
static void put_unstocked(tcr_table *t, const tcr_plan_options *o) {
    const tcr_tray *tray = tcr_set_tray(t->set);
    for (size_t i = 0; i < o->curls && tray->kinds > 0; i++) {
        const char *curl = tcr_set_curl(t->set, o->curl[i])->label;
        size_t of_it = 0;
        for (size_t k = 0; k < tray->kinds; k++)
            of_it += strcmp(tray->kind[k].curl, curl) == 0;
        if (of_it > 0)
            continue;
        tcr_add(&t->line, "The tray has nothing of curl ");
        tcr_add_safe(&t->line, curl, TCR_LABEL_SIZE);
        tcr_add(&t->line, ", which was to be chosen from too.");
        tcr_table_end(t, 0, 2);
    }
}

/* How long the look's longest is against the eye, beside what people were found to like. */
static void put_share_of_width(tcr_table *t) {
    double width_mm = 0.0; /* of the wider eye */
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(t->set, sides);
    for (size_t e = 0; e < eyes; e++)
        width_mm = fmax(width_mm, tcr_set_lid(t->set, sides[e])->fissure_width_mm);
    tcr_add(&t->line, ", ");
    tcr_add_fixed(&t->line, tcr_set_longest_mm(t->set) / width_mm, 2, false);
    tcr_add(&t->line, " of the eye's width; about a third was liked best "
                      "(Pazhoohi and Kingstone 2023, excerpt).");
    tcr_table_end(t, 0, 2);
}

void tcr_table_plan_answer(tcr_table *t, const tcr_plan *plan, const char *map) {
    tcr_side side;
    char reach[TCR_PLAN_REACH_SIZE];
    tcr_plan_reach_text(plan, reach);
    if (*reach != '\0')
        tcr_table_line(t, 0, reach);
    if (is_measured(plan))
        put_measured(t, plan);
    if (tcr_plan_eyes(plan, true, &side) > 0)
        put_expected(t, plan);
    if (is_demonstration(t, plan))
        tcr_table_line(t, 0,
                       "A demonstration: lashes that nobody measured are planned one by one, "
                       "as one sample drew them.");
    if (map != NULL) {
        tcr_add(&t->line, map);
        put_share_of_width(t);
    }
    put_lacking(t);
    put_unstocked(t, tcr_plan_options_of(plan));
    tcr_table_doubts(t); /* at once: the figures may rest on a mistake */
    tcr_table_rms(t, is_moved(plan) ? "moved" : tcr_table_line_of(TCR_INTENDED));
}

/* ---- An eye -------------------------------------------------------------------------- */

/* The gap that check reports, with the plan and as the set is. */
static void add_gaps(tcr_table *t, const tcr_check *after, tcr_side side) {
    const tcr_eye_result *is = tcr_check_eye(t->check, side), *will = tcr_check_eye(after, side);
    if (will->extended < 2)
        return;
    tcr_add(&t->line, "Largest gap between tips ");
    tcr_add_fixed(&t->line, will->largest_gap_mm, 2, false);
    if (is->extended >= 2) {
        tcr_add(&t->line, " mm (");
        tcr_add_fixed(&t->line, is->largest_gap_mm, 2, false);
        tcr_add(&t->line, " as the set is).");
    } else {
        tcr_add(&t->line, " mm.");
    }
}

/* Layers of zones that the cover leaves bare although some of their lashes could carry. */
static void put_bare_layers(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    bool counted[TCR_ZONES_MAX][TCR_LAYERS] = {{false}};
    size_t bare = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash *lash = tcr_set_lash(t->set, side, i);
        bool *is = &counted[tcr_set_zone_at(t->set, side, lash->u)][lash->layer];
        if (eye->lash[i].use != TCR_BARE_COVER || *is ||
            tcr_plan_cell_of(plan, t->set, side, i) != NULL)
            continue;
        *is = true;
        bare++;
    }
    if (bare == 0)
        return;
    tcr_add_count(&t->line, bare);
    tcr_add(&t->line, bare == 1 ? " layer of a zone stays" : " layers of zones stay");
    tcr_add(&t->line, " bare by the share; --share 1 uses all.");
    tcr_table_end(t, 2, 4);
}

/* The planned set has zones alone where nobody measured, so that a check of it knows nothing of
 * lashes that the plan leaves bare. */
static void add_checked(tcr_table *t, const tcr_plan_eye *eye, size_t extended) {
    if (!eye->zones_only || extended == eye->used)
        return;
    tcr_add(&t->line, "; check counts ");
    tcr_add_count(&t->line, extended);
    tcr_add(&t->line, ", as the planned file names no bare lash");
}

/* What the cells of an eye that nobody measured say together, as the work counts it. */
static size_t mean_of_cells(const tcr_plan *plan, tcr_side side) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    size_t lashes = 0;
    for (size_t c = 0; c < r->cells; c++)
        if (r->cell[c].side == side)
            lashes += r->cell[c].lashes;
    return lashes;
}

static void put_carriers(tcr_table *t, const tcr_plan *plan, const tcr_check *after,
                         tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    tcr_add(&t->line, eye->zones_only ? "About " : "");
    tcr_add_count(&t->line, eye->zones_only ? mean_of_cells(plan, side) : eye->used);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, eye->lashes);
    tcr_add(&t->line, " lashes get an extension");
    if (eye->zones_only) {
        tcr_add(&t->line, "; of the client drawn here ");
        tcr_add_count(&t->line, eye->used);
    }
    const char *between = "; ";
    for (int use = TCR_BARE_COVER; use < TCR_USES; use++)
        if (eye->uses[use] > 0) {
            tcr_add(&t->line, between);
            between = ", ";
            tcr_add_count(&t->line, eye->uses[use]);
            tcr_add(&t->line, " ");
            tcr_add(&t->line, tcr_use_brief((tcr_use)use));
            if (use != TCR_BARE_COVER)
                continue;
            tcr_add(&t->line, " ");
            tcr_add_number(&t->line, tcr_plan_options_of(plan)->share);
        }
    add_checked(t, eye, tcr_check_eye(after, side)->extended);
    tcr_add(&t->line, ". ");
    add_gaps(t, after, side);
    tcr_table_end(t, 2, 4);
    put_bare_layers(t, plan, side);
}

static bool same_choice(const tcr_choice *a, const tcr_choice *b) {
    return a->length_mm == b->length_mm && a->curl == b->curl && a->placement == b->placement &&
           a->diameter_mm == b->diameter_mm && a->fan == b->fan;
}

/* Whether a corrected lash is the first one with what it gets. */
static bool is_first(const tcr_plan_eye *eye, size_t i) {
    for (size_t k = 0; k < i; k++)
        if (eye->lash[k].corrected && same_choice(&eye->lash[k].choice, &eye->lash[i].choice))
            return false;
    return eye->lash[i].corrected;
}

static void put_group(tcr_table *t, tcr_side side, const tcr_plan_eye *eye, size_t first) {
    size_t told = 0, more = 0;
    tcr_add_choice(&t->line, t->set, &eye->lash[first].choice);
    tcr_add(&t->line, ":");
    for (size_t i = first; i < eye->lashes; i++) {
        if (!eye->lash[i].corrected || !same_choice(&eye->lash[i].choice, &eye->lash[first].choice))
            continue;
        if (told == IDS_MOST) {
            more++;
            continue;
        }
        told++;
        tcr_add(&t->line, " ");
        tcr_add_safe(&t->line, tcr_set_id(t->set, side, i), ID_COLUMNS);
    }
    if (more > 0) {
        tcr_add(&t->line, " and ");
        tcr_add_count(&t->line, more);
        tcr_add(&t->line, " more");
    }
}

/* The lashes that leave their zone, by what they get. */
static void put_corrected(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    size_t corrected = 0, groups = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        corrected += eye->lash[i].corrected;
        groups += is_first(eye, i);
    }
    if (corrected == 0)
        return;
    tcr_add_count(&t->line, corrected);
    tcr_add(&t->line,
            corrected == 1 ? " lash differs from its zone. " : " lashes differ from their zone. ");
    size_t told = 0;
    for (size_t i = 0; i < eye->lashes && told < GROUPS_MOST; i++)
        if (is_first(eye, i)) {
            tcr_add(&t->line, told++ > 0 ? "; " : "");
            put_group(t, side, eye, i);
        }
    if (groups > told)
        tcr_add(&t->line, "; the others: --full");
    tcr_add(&t->line, ".");
    tcr_table_end(t, 2, 4);
}

/* Lashes that stay beyond the tolerance. */
static void put_left(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    const double tolerance = tcr_set_tolerance(t->set);
    size_t told = 0, left = 0;
    for (size_t i = 0; i < eye->lashes; i++)
        left += fabs(eye->lash[i].deviation_mm) > tolerance;
    if (left == 0)
        return;
    tcr_add_count(&t->line, left);
    tcr_add(&t->line, left == 1 ? " stays more than " : " stay more than ");
    tcr_add_given(&t->line, tolerance);
    tcr_add(&t->line, " mm off the line: ");
    for (size_t i = 0; i < eye->lashes && told < IDS_MOST / 2; i++) {
        if (!(fabs(eye->lash[i].deviation_mm) > tolerance))
            continue;
        tcr_add(&t->line, told++ > 0 ? ", " : "");
        tcr_add_safe(&t->line, tcr_set_id(t->set, side, i), ID_COLUMNS);
        tcr_add(&t->line, " ");
        tcr_add_beside(&t->line, eye->lash[i].deviation_mm, tolerance, true);
    }
    if (left > told)
        tcr_add(&t->line, " and more: --full");
    tcr_add(&t->line, ".");
    tcr_table_end(t, 2, 4);
}

/* ---- Lashes that will want another size ---------------------------------------------- */

/* "About 3 in 10 lashes will want another size than their zone" */
static void add_in_ten(tcr_paragraph *line, double share) {
    if (share <= 0.0) {
        tcr_add(line, "No lash will want another size than its zone");
        return;
    }
    if (share < 0.05) {
        tcr_add(line, "Fewer than 1 in 20");
    } else {
        tcr_add(line, "About ");
        tcr_add_fixed(line, floor(10.0 * share + 0.5), 0, false);
        tcr_add(line, " in 10");
    }
    tcr_add(line, " lashes will want another size than their zone");
}

static void put_want(tcr_table *t, const tcr_plan_wanting *w, const char *size, const char *words) {
    if (*words == '\0')
        return;
    tcr_add_fixed(&t->line, 100.0 * w->share, 0, false);
    tcr_add(&t->line, " % a ");
    tcr_add(&t->line, size);
    tcr_add(&t->line, " one: ");
    tcr_add(&t->line, words);
    tcr_add(&t->line, ".");
    tcr_table_end(t, 4, 6);
}

void tcr_table_plan_wanting(tcr_table *t, const tcr_plan_eye *eye, tcr_side side) {
    const double lash_mm = tcr_plan_lash_mm(t->set, side);
    const tcr_plan_over *over = &eye->over;
    const tcr_plan_wanting *shorter = &over->wants[TCR_WANTS_SHORTER];
    const tcr_plan_wanting *longer = &over->wants[TCR_WANTS_LONGER];
    const double share = shorter->share + longer->share;
    char of_longer[TCR_PLAN_WANTING_SIZE], of_shorter[TCR_PLAN_WANTING_SIZE];
    tcr_plan_wanting_text(longer, lash_mm, of_longer);
    tcr_plan_wanting_text(shorter, lash_mm, of_shorter);
    add_in_ten(&t->line, share);
    if (share > 0.0) {
        tcr_add(&t->line, "; with it ");
        tcr_add_share(&t->line, over->within_sized);
        tcr_add(&t->line, " of tips lie within ");
        tcr_add_given(&t->line, tcr_set_tolerance(t->set));
        tcr_add(&t->line, " mm");
    }
    tcr_add(&t->line, ".");
    if (*of_longer != '\0' || *of_shorter != '\0') {
        tcr_add(&t->line, " How they differ (natural tip: of a lash of ");
        tcr_add_number(&t->line, lash_mm);
        tcr_add(&t->line, " mm):");
    }
    tcr_table_end(t, 2, 4);
    put_want(t, longer, "longer", of_longer);
    put_want(t, shorter, "shorter", of_shorter);
}

/* ---- All of it ----------------------------------------------------------------------- */

static void put_eye(tcr_table *t, const tcr_plan *plan, const tcr_check *after, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    tcr_table_heading(t, side, *tcr_set_view(t->set));
    tcr_table_plan_zones(t, plan, side);
    put_carriers(t, plan, after, side);
    if (eye->zones_only) {
        tcr_table_plan_wanting(t, eye, side);
    } else {
        put_corrected(t, plan, side);
        put_left(t, plan, side);
        tcr_table_plan_against_limits(t, plan, after, side);
    }
    tcr_put(t->writer, "\n");
}

static void put_work(tcr_table *t, const tcr_plan *plan, const tcr_plan_work *work) {
    tcr_table_work_rows(t, work);
    tcr_add(&t->line, "About ");
    tcr_add_fixed(&t->line, work->minutes, 0, false);
    tcr_add(&t->line, " minutes. Paces");
    tcr_add(&t->line, ", limits of what a lash may carry");
    tcr_add(&t->line, is_measured(plan) ? " and much else are assumed or common practice: --full "
                                          "has each, --sheet the order of work."
                                        : " and much else are assumed or common practice: --full "
                                          "has each.");
    tcr_table_end(t, 2, 4);
}

void tcr_table_plan_short(tcr_table *t, const tcr_plan *plan, const tcr_plan_work *work,
                          const tcr_check *after) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(t->set, sides);
    for (size_t e = 0; e < eyes; e++)
        put_eye(t, plan, after, sides[e]);
    (void)tcr_table_plan_clients(t, plan);
    (void)tcr_table_plan_kind(t, plan);
    tcr_table_plan_proof(t, plan, false);
    tcr_table_plan_planned_before(t);
    put_work(t, plan, work);
    tcr_table_drawn(t);
}
