/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set filled by calls with any numbers, and all that is worked out from it. */
#include "fuzz/numeric.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz/claim.h"
#include "fuzz/evaluate.h"
#include "fuzz/harsh.h"

/* How much a set holds, by which it shows that a failed call left it as it was. */
typedef struct holding {
    size_t curls, eyes, lashes[TCR_SIDES], zones[TCR_SIDES];
} holding;

static holding holding_of(const tcr_set *set) {
    holding h = {0};
    h.curls = tcr_set_curl_count(set);
    h.eyes = tcr_set_eyes(set, NULL);
    for (int side = 0; side < TCR_SIDES; side++) {
        h.lashes[side] = tcr_set_lash_count(set, (tcr_side)side);
        (void)tcr_set_map(set, (tcr_side)side, &h.zones[side]);
    }
    return h;
}

static void set_up_eye(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    const tcr_lid lid = tcr_any_lid(bytes);
    (void)tcr_set_add_eye(set, side, tcr_any_byte(bytes) < 128 ? NULL : &lid);
}

static void set_up_map(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    enum { MOST = 6 };
    tcr_zone zones[MOST];
    const size_t count = tcr_any_byte(bytes) % (MOST + 1);
    for (size_t i = 0; i < count; i++)
        zones[i] = tcr_any_zone(bytes, i, count);
    (void)tcr_set_put_map(set, side, zones, count);
}

static void set_up_lash(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    char id[4] = "a";
    const tcr_lash lash = tcr_any_lash(bytes);
    const uint8_t kind = tcr_any_byte(bytes);
    const tcr_wish wish = kind % 4 == 0 ? tcr_any_wish(bytes) : (tcr_wish){0};
    id[1] = (char)('a' + tcr_set_lash_count(set, side) % 26);
    if (kind == 255)
        id[0] = (char)tcr_any_byte(bytes);
    (void)tcr_set_add_lash(set, side, id, &lash, kind % 4 == 0 ? &wish : NULL);
}

static void set_up_description(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    tcr_description description = tcr_any_description(bytes);
    if (description.count > 64 && description.count <= TCR_LASHES_MAX)
        description.count = 64; /* more would only take time */
    (void)tcr_set_describe(set, side, &description);
}

static void set_up_whole(tcr_bytes *bytes, tcr_set *set) {
    const tcr_layering layering = tcr_any_layering(bytes);
    const tcr_tray tray = tcr_any_tray(bytes);
    const tcr_bond bond = tcr_any_bond(bytes);
    const tcr_view view = tcr_any_view(bytes);
    const tcr_lash mean = tcr_any_lash(bytes);
    (void)tcr_set_put_layering(set, &layering);
    (void)tcr_set_put_tray(set, &tray);
    (void)tcr_set_put_bond(set, &bond);
    (void)tcr_set_put_view(set, &view);
    (void)tcr_set_put_mean_lash(set, &mean);
    (void)tcr_set_put_tolerance(set, tcr_any_number(bytes, 0.05, 5.0, 0.5));
    (void)tcr_set_put_subject(set, (tcr_subject)tcr_any_choice(bytes, 2));
}

static void set_up_curl(tcr_bytes *bytes, tcr_set *set) {
    char label[TCR_LABEL_SIZE];
    tcr_profile profiles[2];
    double length_mm[2];
    tcr_any_label(bytes, label);
    for (int i = 0; i < 2; i++) {
        profiles[i] = tcr_any_profile(bytes);
        length_mm[i] = tcr_any_number(bytes, 3.0, 30.0, 6.0 + 6.0 * i);
    }
    const tcr_curl curl = {label, 1 + tcr_any_byte(bytes) % 2, length_mm, profiles};
    (void)tcr_set_add_curl(set, &curl);
}

/* What the calls add is all or nothing: but for a change, a set never holds less than before. */
static void set_up(tcr_bytes *bytes, tcr_set *set) {
    set_up_eye(bytes, set, TCR_LEFT);
    for (int steps = 0; steps < 64 && bytes->at < bytes->end; steps++) {
        const holding before = holding_of(set);
        const uint8_t kind = tcr_any_byte(bytes);
        const tcr_side side = kind < 200 ? TCR_LEFT : (tcr_side)(kind % 3);
        if (kind >= 240) {
            tcr_numeric_change(bytes, set);
            continue;
        }
        switch (kind % 8) {
        case 0:
            set_up_whole(bytes, set);
            break;
        case 1:
        case 2:
            set_up_map(bytes, set, side);
            break;
        case 3:
            set_up_curl(bytes, set);
            break;
        case 4:
            set_up_description(bytes, set, side);
            break;
        case 5:
            set_up_eye(bytes, set, side);
            break;
        default:
            set_up_lash(bytes, set, side);
            break;
        }
        const holding after = holding_of(set);
        claim(after.curls >= before.curls && after.curls <= before.curls + 1, "%zu curls, then %zu",
              before.curls, after.curls);
        for (int s = 0; s < TCR_SIDES; s++)
            claim(after.lashes[s] >= before.lashes[s] && after.lashes[s] <= before.lashes[s] + 64,
                  "%zu lashes, then %zu", before.lashes[s], after.lashes[s]);
    }
}

static void claim_choices(const tcr_set *set, tcr_side side) {
    for (size_t i = 0; i < tcr_set_lash_count(set, side); i++) {
        tcr_choice choice;
        tcr_mark(&choice, sizeof choice);
        const tcr_status status = tcr_set_choice(set, side, i, &choice);
        if (status != TCR_E_TRAY) /* which tells the length that the tray lacks */
            tcr_claim_untouched("tcr_set_choice", status, &choice, sizeof choice);
        if (status != TCR_OK)
            continue;
        const tcr_extension ext = tcr_set_extension(set, &choice);
        claim(tcr_extension_validate(&ext, NULL) == TCR_OK, "lash %zu is to carry %.17g mm, fan %d",
              i, ext.length_mm, ext.fan);
    }
}

static tcr_step_question draw_question(tcr_bytes *bytes) {
    tcr_step_question question = {0};
    question.side = (tcr_side)tcr_any_choice(bytes, TCR_SIDES);
    question.curl = tcr_any_byte(bytes) % 12;
    question.bottom_length_mm = tcr_any_number(bytes, 3.0, 30.0, 12.0);
    question.bottom = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS);
    question.middle = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS);
    question.top = (tcr_placement)tcr_any_choice(bytes, TCR_PLACEMENTS);
    question.has_apart = tcr_any_byte(bytes) % 2 == 1;
    question.apart_mm = tcr_any_number(bytes, 0.0, 3.0, 0.6);
    return question;
}

static tcr_check_options draw_options(tcr_bytes *bytes) {
    tcr_check_options options = tcr_check_options_default();
    options.against = (tcr_against)tcr_any_choice(bytes, 2);
    options.has_view = tcr_any_byte(bytes) % 2 == 1;
    options.view = tcr_any_view(bytes);
    return options;
}

static void claim_answers(const tcr_set *set, const tcr_check_options *options) {
    tcr_check *check;
    tcr_mark(&check, sizeof check);
    const tcr_status status = tcr_check_new(set, options, &check, NULL);
    tcr_claim_untouched("tcr_check_new", status, &check, sizeof check);
    claim(status != TCR_E_NO_CONVERGENCE, "a check: %s", tcr_status_text(status));
    if (status == TCR_OK)
        (void)tcr_claim_all(check, NULL);
}

static void run(tcr_bytes bytes, tcr_harsh *harsh) {
    const tcr_bytes whole = bytes; /* read a second time, as other structs */
    const tcr_allocator allocator = tcr_harsh_allocator(harsh);
    const tcr_check_options options = draw_options(&bytes);
    const tcr_step_question question = draw_question(&bytes);
    tcr_set *set;
    if (tcr_set_new(&allocator, &set) == TCR_OK) {
        set_up(&bytes, set);
        for (int side = 0; side < TCR_SIDES; side++)
            claim_choices(set, (tcr_side)side);
        if (tcr_lashes_of(set) <= TCR_FUZZ_LASHES_MAX)
            claim_answers(set, &options);
        tcr_claim_step(set, &question);
        tcr_claim_worked_out(whole, set);
        tcr_claim_read(whole, set);
        tcr_set_free(set);
    }
    claim(harsh->blocks == 0, "%zu blocks were not given back", harsh->blocks);
}

void tcr_numeric_set(tcr_bytes *bytes) {
    tcr_harsh enough = {0};
    const uint64_t number = tcr_hash(bytes->at, (size_t)(bytes->end - bytes->at));
    run(*bytes, &enough);
    if (number % 4 != 0)
        return;
    tcr_harsh scarce = {.fail_at = 1 + number / 4 % enough.calls};
    run(*bytes, &scarce);
}
