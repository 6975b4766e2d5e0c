/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets, checks and reports to which memory fails, as faults/failing.h says. */
#include "faults/failing.h"

#include <stdlib.h>

#include "file/sample.h"

/* ---- Sets ---------------------------------------------------------------------------- */

static const tcr_zone ZONES[] = {{.to = 0.5, .length_mm = 10, .curl = "C"},
                                 {.to = 1, .length_mm = 11, .curl = "D"}};
enum { ZONES_COUNT = 2, LASHES = 30 };

static void add_some(tcr_set *set, tcr_side side) {
    expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, side, ZONES, ZONES_COUNT), TCR_OK);
    for (int i = 0; i < LASHES; i++) {
        char id[16];
        snprintf(id, sizeof id, "x%d", i);
        const tcr_lash lash = tcr_lash_unknown(0.05 + 0.03 * i, (tcr_layer)(i % TCR_LAYERS));
        add_lash(set, side, id, &lash, NULL);
    }
}

/* With two eyes; what it allocates finds memory. */
static tcr_set *make_set(void) {
    tcr_set *set = new_set("two eyes");
    add_some(set, TCR_RIGHT);
    add_some(set, TCR_LEFT);
    return set;
}

/* All that a check tells of a set, the caller's to free. */
static char *told(const tcr_set *set) {
    text written = {0};
    tcr_check *check = new_check(set, NULL);
    expect_status(tcr_report_json(check, NULL, keep_text, &written), TCR_OK);
    tcr_check_free(check);
    return written.bytes;
}

/* Whether a set is told as it was; takes 'before'. */
static void expect_tells(const tcr_set *set, char *before, bool same) {
    char *after = told(set);
    expect_true((strcmp(before, after) == 0) == same);
    free(before);
    free(after);
}

static tcr_status try_set_new(void) {
    tcr_set *const sentinel = (tcr_set *)&memory, *set = sentinel;
    arm();
    const tcr_status status = tcr_set_new(&FAILING, &set);
    disarm();
    expect_true((set == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_set_free(set);
    return status;
}

typedef tcr_status change(tcr_set *set);

/* A change of a set does all of its work or leaves the set as it was, and goes well again. */
static tcr_status try_change(change *make_it) {
    tcr_set *set = make_set();
    char *before = told(set);
    arm();
    const tcr_status status = make_it(set);
    disarm();
    expect_tells(set, before, status != TCR_OK);
    if (status != TCR_OK) {
        before = told(set);
        expect_status(make_it(set), TCR_OK);
        expect_tells(set, before, false);
    }
    tcr_set_free(set);
    return status;
}

static const tcr_profile STRAIGHT = {1, {1.0}, {0.1}};
static const double TWO_LENGTHS[] = {8, 12};
static const tcr_profile TWO_PROFILES[] = {{1, {1.0}, {0.1}}, {1, {1.0}, {0.2}}};

static tcr_status change_curl(tcr_set *set) {
    return tcr_set_add_curl(set, &(tcr_curl){"C", 2, TWO_LENGTHS, TWO_PROFILES});
}
/* More than there is room for; those before one that fails are there, and the catalogue. */
static tcr_status try_curls(void) {
    static const char *const LABELS[] = {"n1", "n2", "n3", "n4", "n5", "n6", "n7", "n8", "n9"};
    tcr_set *set = new_set("");
    const size_t before = tcr_set_curl_count(set);
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < sizeof LABELS / sizeof *LABELS && status == TCR_OK; i++) {
        const tcr_curl curl = {LABELS[i], 1, NULL, &STRAIGHT};
        size_t index;
        arm();
        status = tcr_set_add_curl(set, &curl);
        disarm();
        expect_count(tcr_set_curl_count(set), before + i + (status == TCR_OK));
        expect_status(tcr_set_find_curl(set, LABELS[i], &index),
                      status == TCR_OK ? TCR_OK : TCR_E_CURL);
        expect_status(tcr_set_find_curl(set, "M", &index), TCR_OK);
        if (status != TCR_OK)
            expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
    }
    tcr_set_free(set);
    return status;
}
static tcr_status change_map(tcr_set *set) {
    const tcr_zone one = {.to = 1, .length_mm = 9, .curl = "L"};
    return tcr_set_put_map(set, TCR_LEFT, &one, 1);
}
/* So many that lashes and ids both need room; one by one, each wholly or not. */
static tcr_status change_lash(tcr_set *set) {
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_TOP);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 9.5};
    static char id[TCR_ID_SIZE_MAX];
    memset(id, 'i', sizeof id - 1);
    return tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish);
}
static tcr_status try_lashes(void) {
    tcr_set *set = new_set("");
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_TOP);
    tcr_status status = TCR_OK;
    for (int i = 0; i < 200 && status == TCR_OK; i++) {
        char id[64];
        snprintf(id, sizeof id, "a-long-name-for-one-lash-%d", i);
        arm();
        status = tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL);
        disarm();
        expect_count(tcr_set_lash_count(set, TCR_LEFT), i + (status == TCR_OK));
        for (int k = 0; status != TCR_OK && k < i; k++) {
            snprintf(id, sizeof id, "a-long-name-for-one-lash-%d", k);
            expect_text(tcr_set_id(set, TCR_LEFT, (size_t)k), id);
        }
    }
    tcr_set_free(set);
    return status;
}
static tcr_status change_describe(tcr_set *set) {
    tcr_description description = tcr_description_default();
    description.count = 500;
    return tcr_set_describe(set, TCR_RIGHT, &description);
}
static tcr_status change_title(tcr_set *set) { return tcr_set_put_title(set, "changed"); }
static tcr_status change_plain(tcr_set *set) {
    tcr_layering layering = tcr_layering_default();
    tcr_tray tray = tcr_tray_default();
    tcr_bond bond = tcr_bond_default();
    const tcr_view view = {0.9, 0.0};
    const tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    layering.diameter_mm = 0.12;
    const bool good =
        tcr_set_put_subject(set, TCR_PRACTICE_HEAD) == TCR_OK &&
        tcr_set_put_layering(set, &layering) == TCR_OK && tcr_set_put_tray(set, &tray) == TCR_OK &&
        tcr_set_put_bond(set, &bond) == TCR_OK && tcr_set_put_view(set, &view) == TCR_OK &&
        tcr_set_put_tolerance(set, 0.4) == TCR_OK && tcr_set_put_mean_lash(set, &mean) == TCR_OK;
    return good ? TCR_OK : TCR_E_ARGUMENT;
}
static tcr_status try_change_curl(void) { return try_change(change_curl); }
static tcr_status try_change_map(void) { return try_change(change_map); }
static tcr_status try_change_lash(void) { return try_change(change_lash); }
static tcr_status try_change_describe(void) { return try_change(change_describe); }
static tcr_status try_change_title(void) { return try_change(change_title); }
static tcr_status try_change_plain(void) { return try_change(change_plain); }

static tcr_status try_find_duplicate(void) {
    tcr_set *set = make_set();
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_TOP);
    add_lash(set, TCR_LEFT, "x3", &lash, NULL);
    size_t index = 77;
    arm();
    const tcr_status status = tcr_set_find_duplicate(set, TCR_LEFT, &index);
    disarm();
    expect_count(index, status == TCR_E_DUPLICATE ? LASHES : 77);
    tcr_set_free(set);
    return status == TCR_E_DUPLICATE ? TCR_OK : status;
}

CLAIM(a_set_says_that_memory_is_short_and_is_as_it_was) {
    expect_true(watch_behind());
    fail_each("tcr_set_new", try_set_new, 10);
    fail_each("tcr_set_add_curl, in place of one", try_change_curl, 3);
    fail_each("tcr_set_add_curl", try_curls, 18);
    fail_each("tcr_set_title", try_change_title, 1);
    fail_each("tcr_set_map", try_change_map, 1);
    fail_each("tcr_set_add_lash", try_lashes, 5);
    fail_each("tcr_set_add_lash, a long id", try_change_lash, 1);
    fail_each("tcr_set_describe", try_change_describe, 2);
    fail_each("tcr_set_find_duplicate", try_find_duplicate, 1);
    fail_each("what a set holds as a whole", try_change_plain, 0);
}

/* ---- Checks and reports -------------------------------------------------------------- */

static tcr_status try_check(void) {
    tcr_set *set = make_set();
    tcr_check *const sentinel = (tcr_check *)&memory, *check = sentinel;
    tcr_error fault = tcr_error_none();
    char *before = told(set);
    arm();
    const tcr_status status = tcr_check_new(set, NULL, &check, &fault);
    disarm();
    expect_true((check == sentinel) == (status != TCR_OK));
    if (status == TCR_OK)
        tcr_check_free(check);
    expect_tells(set, before, true);
    tcr_set_free(set);
    return status;
}

typedef tcr_status reader(const tcr_check *check);

/* What reads a check leaves it as it was: it fares well when it is read again. A reader disarms. */
static tcr_status try_reader(reader *read_it) {
    tcr_set *set = make_set();
    tcr_check *check = new_check(set, NULL);
    arm();
    const tcr_status status = read_it(check);
    disarm();
    if (status != TCR_OK)
        expect_status(read_it(check), TCR_OK);
    tcr_check_free(check);
    tcr_set_free(set);
    return status;
}

static tcr_status read_why(const tcr_check *check) {
    tcr_why why, before;
    memset(&why, 0x5A, sizeof why);
    before = why;
    const tcr_status status = tcr_why_of(check, TCR_LEFT, &why);
    disarm();
    if (status != TCR_OK)
        expect_bytes(&why, &before, sizeof why);
    return status;
}
static tcr_status read_rest(const tcr_check *check) {
    tcr_symmetry symmetry;
    tcr_step step;
    tcr_sensitivity sensitivity;
    const tcr_step_question question = {
        .side = TCR_LEFT, .curl = 2, .bottom_length_mm = 12.0, .middle = TCR_OUTER_SIDE};
    tcr_choice choice;
    const tcr_set *set = tcr_check_set(check);
    const bool good = tcr_check_symmetry(check, &symmetry) == TCR_OK &&
                      tcr_step_of(set, &question, &step) == TCR_OK &&
                      tcr_step_sensitivity(set, &question, &sensitivity) == TCR_OK &&
                      tcr_set_choice(set, TCR_LEFT, 0, &choice) == TCR_OK;
    return good ? TCR_OK : TCR_E_ARGUMENT;
}

/* A sink that takes no memory, and how much came. */
static size_t taken;
static int take(void *context, const void *bytes, size_t count) {
    (void)context;
    (void)bytes;
    taken += count;
    return 0;
}
/* "Before anything is written": a report whose memory fails has put nothing out. */
static tcr_status nothing_came(tcr_status status) {
    disarm();
    if (status != TCR_OK)
        expect_count(taken, 0);
    else
        expect_true(taken > 0);
    taken = 0;
    return status;
}
static tcr_status read_json(const tcr_check *check) {
    return nothing_came(tcr_report_json(check, NULL, take, NULL));
}
static tcr_status read_csv(const tcr_check *check) {
    return nothing_came(tcr_report_csv(check, NULL, take, NULL));
}
static tcr_status read_table(const tcr_check *check) {
    return nothing_came(tcr_report_table(check, NULL, take, NULL));
}
static tcr_status read_why_json(const tcr_check *check) {
    return nothing_came(tcr_report_why_json(check, NULL, take, NULL));
}
static tcr_status read_why_csv(const tcr_check *check) {
    return nothing_came(tcr_report_why_csv(check, NULL, take, NULL));
}
static tcr_status read_why_table(const tcr_check *check) {
    return nothing_came(tcr_report_why_table(check, true, take, NULL));
}
static tcr_status read_step_json(const tcr_check *check) {
    return nothing_came(tcr_report_step_json(tcr_check_set(check), NULL, NULL, take, NULL));
}
static tcr_status read_step_csv(const tcr_check *check) {
    return nothing_came(tcr_report_step_csv(tcr_check_set(check), NULL, NULL, take, NULL));
}
static tcr_status read_step_table(const tcr_check *check) {
    return nothing_came(tcr_report_step_table(tcr_check_set(check), NULL, take, NULL));
}
static tcr_status try_why(void) { return try_reader(read_why); }
static tcr_status try_rest(void) { return try_reader(read_rest); }
static tcr_status try_json(void) { return try_reader(read_json); }
static tcr_status try_csv(void) { return try_reader(read_csv); }
static tcr_status try_table(void) { return try_reader(read_table); }
static tcr_status try_why_json(void) { return try_reader(read_why_json); }
static tcr_status try_why_csv(void) { return try_reader(read_why_csv); }
static tcr_status try_why_table(void) { return try_reader(read_why_table); }
static tcr_status try_step_json(void) { return try_reader(read_step_json); }
static tcr_status try_step_csv(void) { return try_reader(read_step_csv); }
static tcr_status try_step_table(void) { return try_reader(read_step_table); }

CLAIM(a_check_and_its_reports_say_that_memory_is_short) {
    expect_true(watch_behind());
    fail_each("tcr_check_new", try_check, 3);
    fail_each("tcr_why_of", try_why, 1);
    fail_each("tcr_report_json", try_json, 0);
    fail_each("tcr_report_csv", try_csv, 0);
    fail_each("tcr_report_table", try_table, 0);
    fail_each("tcr_report_why_json", try_why_json, 1);
    fail_each("tcr_report_why_csv", try_why_csv, 1);
    fail_each("tcr_report_why_table", try_why_table, 1);
    fail_each("tcr_report_step_json", try_step_json, 0);
    fail_each("tcr_report_step_csv", try_step_csv, 0);
    fail_each("tcr_report_step_table", try_step_table, 0);
    fail_each("tcr_check_symmetry, tcr_step_of and others", try_rest, 0);
}

/* ---- What the allocator does not see ------------------------------------------------- */

/* The watch itself: what goes behind the allocator is seen, so the counts of 0 above mean it. */
CLAIM(what_goes_behind_the_allocator_is_seen) {
    expect_true(watch_behind());
    memset(&memory, 0, sizeof memory);
    arm();
    void *volatile block = malloc(10);
    disarm();
    free(block);
    expect_count(memory.behind, 1);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_set_says_that_memory_is_short_and_is_as_it_was,
        &a_check_and_its_reports_say_that_memory_is_short,
        &what_goes_behind_the_allocator_is_seen,
    };
    return RUN_FAILURES("memory that fails", claims);
}
