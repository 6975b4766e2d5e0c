/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the tables for people share. Words a lash artist knows, millimetres and degrees, assumptions
 * called assumptions.
 */
#include "file/table.h"

#include <math.h>
#include <string.h>

#include "num/range.h"

enum { HEADING_COLUMNS = 76 };

const char tcr_table_curls[] = "what the letter of a curl means, where the set does not define it";
const char tcr_table_cautions[] =
    "For trained and, where the law asks, licensed hands; local rules go first.";

void tcr_table_end(tcr_table *t, int first, int next) {
    if (t->line.used > 0)
        t->lines += tcr_paragraph_lines(&t->line, first, next);
    tcr_paragraph_end(&t->line, t->writer, first, next);
}

void tcr_table_line(tcr_table *t, int indent, const char *text) {
    tcr_add(&t->line, text);
    tcr_table_end(t, indent, indent + 2);
}

void tcr_table_put(tcr_table *t, void (*add)(tcr_table *)) {
    add(t);
    if (t->line.used > 0)
        tcr_table_end(t, 2, 4);
}

void tcr_add_view(tcr_paragraph *line, tcr_view view) {
    const double degrees = tcr_degrees_of(view.viewer_rad);
    if (view.opening == 0.0 || view.opening == 1.0) {
        tcr_add(line, view.opening == 0.0 ? "eye closed" : "eye open");
    } else {
        tcr_add(line, "eye ");
        tcr_add_fixed(line, 100.0 * view.opening, 0, false);
        tcr_add(line, " % open");
    }
    if (degrees == 0.0) {
        tcr_add(line, ", from the front");
        return;
    }
    tcr_add(line, ", from ");
    tcr_add_fixed(line, fabs(degrees), degrees == round(degrees) ? 0 : 1, false);
    tcr_add(line, degrees > 0.0 ? "° above" : "° below");
}

void tcr_table_heading(tcr_table *t, tcr_side side, tcr_view view) {
    tcr_paragraph eye;
    tcr_paragraph_begin(&eye);
    tcr_add(&eye, side == TCR_LEFT ? "left eye" : "right eye");
    if (tcr_set_subject(t->set) == TCR_PRACTICE_HEAD)
        tcr_add(&eye, " of a practice head, as if it opened");
    if (view.opening != 1.0 || view.viewer_rad != 0.0) {
        tcr_add(&eye, ": ");
        tcr_add_view(&eye, view);
    }
    const char *title = tcr_set_title(t->set);
    if (*title != '\0' && eye.columns < HEADING_COLUMNS - 4) {
        tcr_add_safe(&t->line, title, HEADING_COLUMNS - eye.columns);
        tcr_add(&t->line, ", ");
    }
    tcr_add(&t->line, eye.text);
    tcr_table_end(t, 0, 2);
}

/* Reasons in the order in which they are told. */
typedef struct bare_counts {
    size_t condition[TCR_CONDITIONS];
    size_t by_row, bond;
} bare_counts;

static bare_counts count_bare(const tcr_table *t) {
    bare_counts counts = {0};
    for (size_t i = 0; i < t->eye->lashes; i++) {
        const tcr_status bare = t->eye->lash[i].status;
        const tcr_condition condition = tcr_set_lash(t->set, t->eye->side, i)->condition;
        if (bare == TCR_E_BARE_BY_ROW)
            counts.by_row++;
        else if (bare == TCR_E_BOND)
            counts.bond++;
        else if (bare == TCR_E_BARE && (int)condition >= 0 && (int)condition < TCR_CONDITIONS)
            counts.condition[condition]++;
    }
    return counts;
}

static void add_reason(tcr_paragraph *line, size_t count, const char *reason, const char **before) {
    if (count == 0)
        return;
    tcr_add(line, *before);
    tcr_add_count(line, count);
    tcr_add(line, " ");
    tcr_add(line, reason);
    *before = ", ";
}

static void add_carried(tcr_table *t) {
    tcr_add_count(&t->line, t->eye->extended);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, t->eye->lashes);
    tcr_add(&t->line, t->eye->lashes == 1 ? " lash carries" : " lashes carry");
    tcr_add(&t->line, t->eye->extended == 1 ? " an extension" : " extensions");
}

/* Who carries an extension and why the others do not; described babies with what makes them so. */
static void add_all_carried(tcr_table *t, bool with_length) {
    const bare_counts bare = count_bare(t);
    const tcr_description *described = tcr_set_description(t->set, t->eye->side);
    const char *before = "; bare: ";
    tcr_paragraph_begin(&t->line);
    add_carried(t);
    for (int c = 0; c < TCR_CONDITIONS; c++) {
        add_reason(&t->line, bare.condition[c], tcr_word(&tcr_words_condition, c), &before);
        if (c != TCR_BABY || bare.condition[c] == 0 || described == NULL || !with_length)
            continue;
        tcr_add(&t->line, " (below ");
        tcr_add_number(&t->line, described->baby_below_mm);
        tcr_add(&t->line, " mm)");
    }
    add_reason(&t->line, bare.by_row, "by the survey", &before);
    add_reason(&t->line, bare.bond, "too short to bond to", &before);
}

void tcr_table_add_beyond(tcr_table *t) {
    size_t count = 0;
    double most_mm = 0.0;
    for (size_t i = 0; i < t->eye->lashes; i++) {
        const tcr_choice *choice = &t->eye->lash[i].choice;
        if (t->eye->lash[i].status != TCR_OK)
            continue;
        const double beyond_mm = tcr_set_lash(t->set, t->eye->side, i)->length_mm -
                                 tcr_set_bond_of(t->set, choice).offset_mm - choice->length_mm;
        count += beyond_mm > 0.0;
        most_mm = fmax(most_mm, beyond_mm);
    }
    if (count == 0)
        return;
    tcr_add_count(&t->line, count);
    tcr_add(&t->line, count == 1 ? " natural lash ends" : " natural lashes end");
    tcr_add(&t->line, " beyond the extension, by at most ");
    tcr_add_bound(&t->line, most_mm, 2, true);
    tcr_add(&t->line, " mm; figures are of extensions");
}

void tcr_table_carried(tcr_table *t, bool in_one_line) {
    add_all_carried(t, true);
    if (in_one_line && tcr_paragraph_lines(&t->line, 2, 4) > 1)
        add_all_carried(t, false);
    if (in_one_line && tcr_paragraph_lines(&t->line, 2, 4) > 1) {
        tcr_paragraph_begin(&t->line);
        add_carried(t);
        tcr_add(&t->line, "; the others are bare: --full");
    }
    tcr_table_end(t, 2, 4);
}

void tcr_table_carriers(tcr_table *t) {
    tcr_table_carried(t, false);
    tcr_table_put(t, tcr_table_add_beyond);
    if (!t->eye->too_few)
        return;
    tcr_add(&t->line, "Fewer than ");
    tcr_add_count(&t->line, TCR_TOO_FEW);
    tcr_add(&t->line, " tips: too few to judge how even they are, for a line bends to so few.");
    tcr_table_end(t, 2, 4);
}

void tcr_add_column_words(tcr_paragraph *line, const char *name) {
    char words[32];
    const size_t length = (size_t)(strrchr(name, '_') - name);
    for (size_t i = 0; i < length && i < sizeof words - 1; i++)
        words[i] = (char)(name[i] == '_' ? ' ' : name[i]);
    words[length < sizeof words - 1 ? length : sizeof words - 1] = '\0';
    tcr_add(line, words);
}

static void put_assumption(tcr_table *t, const tcr_assumed *assumed) {
    const bool is_angle = assumed->field->unit == TCR_UNIT_DEGREES;
    const bool is_diameter = strstr(assumed->field->key, "diameter") != NULL;
    const double moves = assumed->per_unit * (is_diameter ? 0.01 : 1.0);
    tcr_add_column_words(&t->line, assumed->field->key);
    tcr_add(&t->line, " assumed for ");
    tcr_add_count(&t->line, assumed->count);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, assumed->lashes);
    tcr_add(&t->line, assumed->lashes == 1 ? " lash" : " lashes");
    if (isfinite(moves)) {
        tcr_add(&t->line, is_angle ? ": 1°" : is_diameter ? ": 0.01 mm" : ": 1 mm");
        tcr_add(&t->line, " moves a tip by ");
        if (moves < 0.005)
            tcr_add(&t->line, "less than 0.01");
        else
            tcr_add_fixed(&t->line, moves, 2, false);
        tcr_add(&t->line, " mm");
    }
    tcr_table_end(t, 2, 4);
}

/* How many measures of a lid were assumed; measures receives how many there are. */
static size_t count_lid(const tcr_set *set, tcr_side side, size_t *measures) {
    const unsigned assumed = tcr_set_lid_assumed(set, side);
    size_t count = 0;
    *measures = 0;
    for (unsigned bit = 1; bit < TCR_LID_ALL; bit <<= 1) {
        ++*measures;
        count += (assumed & bit) != 0;
    }
    return count;
}

void tcr_table_lid_assumption(tcr_table *t, tcr_side side) {
    if (!tcr_set_has_eye(t->set, side))
        return;
    size_t measures;
    const size_t count = count_lid(t->set, side, &measures);
    if (count == 0)
        return;
    tcr_add(&t->line, tcr_side_text(side));
    tcr_add(&t->line, " lid: ");
    tcr_add_count(&t->line, count);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, measures);
    tcr_add(&t->line, " measures assumed");
    tcr_table_end(t, 2, 4);
}

/* What weighs most comes first: that the lashes are nobody's. */
static void put_drawn(tcr_table *t, tcr_side side) {
    const size_t drawn = tcr_set_drawn_count(t->set, side);
    const size_t lashes = tcr_set_lash_count(t->set, side);
    if (drawn == 0)
        return;
    tcr_add(&t->line, tcr_side_text(side));
    tcr_add(&t->line, " eye: ");
    tcr_add_count(&t->line, drawn);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, lashes);
    tcr_add(&t->line, lashes == 1 ? " lash" : " lashes");
    tcr_add(&t->line, " drawn by chance, none measured");
    tcr_table_end(t, 2, 4);
}

void tcr_table_drawn(tcr_table *t) {
    put_drawn(t, TCR_LEFT);
    put_drawn(t, TCR_RIGHT);
}

void tcr_table_assumptions(tcr_table *t) {
    tcr_assumed assumed[TCR_LASH_BITS];
    const size_t count = tcr_collect_assumed(t->check, assumed);
    tcr_table_line(t, 0, "Assumed, not measured");
    tcr_table_drawn(t);
    for (size_t i = 0; i < count; i++)
        put_assumption(t, &assumed[i]);
    tcr_table_lid_assumption(t, TCR_LEFT);
    tcr_table_lid_assumption(t, TCR_RIGHT);
    tcr_table_line(t, 2, tcr_table_curls);
    tcr_table_line(t, 0, "");
}

/* "all lashes, drawn by chance; ": what weighs most comes first. */
static void add_drawn(tcr_table *t) {
    size_t drawn = 0, lashes = 0;
    bool described = false;
    for (int side = 0; side < TCR_SIDES; side++) {
        drawn += tcr_set_drawn_count(t->set, (tcr_side)side);
        lashes += tcr_set_lash_count(t->set, (tcr_side)side);
        described = described || tcr_set_description(t->set, (tcr_side)side) != NULL;
    }
    if (drawn == 0)
        return;
    if (drawn < lashes) {
        tcr_add_count(&t->line, drawn);
        tcr_add(&t->line, " of ");
        tcr_add_count(&t->line, lashes);
    } else {
        tcr_add(&t->line, "all");
    }
    tcr_add(&t->line, " lashes, drawn by chance: one client of many (study --runs ");
    tcr_add(&t->line, described ? "draws others); " : "varies it); ");
}

static void add_lids(tcr_table *t) {
    size_t count = 0, all = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        size_t measures;
        if (!tcr_set_has_eye(t->set, (tcr_side)side))
            continue;
        count += count_lid(t->set, (tcr_side)side, &measures);
        all += measures;
    }
    if (count == 0)
        return;
    tcr_add(&t->line, tcr_set_eyes(t->set, NULL) > 1 ? "lids (" : "lid (");
    tcr_add_count(&t->line, count);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, all);
    tcr_add(&t->line, "), ");
}

void tcr_table_add_why_not_judged(tcr_table *t) {
    const tcr_eye_result *eye = t->eye;
    if (tcr_check_against(t->check) == TCR_INTENDED)
        tcr_add(&t->line, tcr_no_intended_reason(eye->intended_status));
    else if (eye->fitted_status != TCR_OK)
        tcr_add(&t->line, tcr_no_line_reason(eye->fitted_status, eye->extended));
    else {
        tcr_add(&t->line, "fewer than ");
        tcr_add_count(&t->line, TCR_TOO_FEW);
        tcr_add(&t->line, " tips, to which any line bends");
    }
}

void tcr_table_add_side(tcr_table *t, tcr_side side) {
    tcr_add(&t->line, side == TCR_LEFT ? "Left: " : "Right: ");
}

const char *tcr_table_line_of(tcr_against against) {
    return against == TCR_FITTED ? "fitted" : "map's";
}

void tcr_table_rms(tcr_table *t, const char *line) {
    tcr_add(&t->line, "rms: a tip's typical distance from the ");
    tcr_add(&t->line, line);
    tcr_add(&t->line, " line; far tips count more");
    tcr_table_end(t, 2, 4);
}

void tcr_table_assumed_shortly(tcr_table *t) {
    tcr_assumed assumed[TCR_LASH_BITS];
    const size_t count = tcr_collect_assumed(t->check, assumed);
    tcr_add(&t->line, "Assumed: ");
    add_drawn(t);
    for (size_t i = 0; i < count; i++) {
        tcr_add_column_words(&t->line, assumed[i].field->key);
        tcr_add(&t->line, ", ");
    }
    add_lids(t);
    tcr_add(&t->line, "curls (--full)");
}

bool tcr_can_be_seen(double offset_mm) {
    static const double NEAREST_MM = 100.0;
    return tcr_distance_of(fabs(offset_mm)) > NEAREST_MM;
}

void tcr_add_shows_from(tcr_paragraph *line, double offset_mm) {
    static const double MM_PER_CM = 10.0;
    if (!tcr_can_be_seen(offset_mm)) {
        tcr_add(line, "not seen");
        return;
    }
    tcr_add_bound(line, tcr_distance_of(fabs(offset_mm)) / MM_PER_CM, 0, true);
    tcr_add(line, " cm");
}
