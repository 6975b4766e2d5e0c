/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calls that change a set, and what is worked out from a set and a struct that a caller makes. */
#include "fuzz/numeric.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz/claim.h"
#include "fuzz/evaluate.h"
#include "support/digest.h"

/* ---- Changes --------------------------------------------------------------------------------- */

static tcr_status add_lashes(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    enum { MOST = 6 };
    tcr_lash lashes[MOST];
    tcr_wish wishes[MOST] = {0};
    char texts[MOST][3] = {""};
    const char *ids[MOST];
    const uint8_t kind = tcr_any_byte(bytes);
    const size_t n = tcr_any_byte(bytes) % (MOST + 1);
    for (size_t i = 0; i < n; i++) {
        lashes[i] = tcr_any_lash(bytes);
        if (kind & 1)
            wishes[i] = tcr_any_wish(bytes);
        texts[i][0] = (kind & 2) ? (char)tcr_any_byte(bytes) : 'm';
        texts[i][1] = (char)('a' + i);
        ids[i] = kind >= 250 ? NULL : texts[i];
    }
    return tcr_set_add_lashes(set, side, n, (kind & 4) ? ids : NULL, kind == 8 ? NULL : lashes,
                              (kind & 1) ? wishes : NULL);
}

static tcr_status replace(tcr_bytes *bytes, tcr_set *set, tcr_side side, uint8_t what) {
    const size_t i = tcr_any_byte(bytes);
    const bool none = i == 255;
    if (what == 1) {
        const tcr_lash lash = tcr_any_lash(bytes);
        return tcr_set_replace_lash(set, side, i % 8, none ? NULL : &lash);
    }
    if (what == 2) {
        const tcr_wish wish = tcr_any_wish(bytes);
        return tcr_set_replace_wish(set, side, i % 8, none ? NULL : &wish);
    }
    const tcr_lid lid = tcr_any_lid(bytes);
    return tcr_set_replace_lid(set, side, none ? NULL : &lid);
}

static tcr_status replace_all(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    enum { MOST = 8 };
    tcr_lash lashes[MOST];
    const uint8_t kind = tcr_any_byte(bytes);
    const size_t there = tcr_set_lash_count(set, side);
    const size_t n = kind < 192 && there <= MOST ? there : kind % (MOST + 1);
    for (size_t i = 0; i < n; i++)
        lashes[i] = tcr_any_lash(bytes);
    return tcr_set_replace_lashes(set, side, n, kind == 255 ? NULL : lashes);
}

static tcr_status intend(tcr_bytes *bytes, tcr_set *set, tcr_side side) {
    enum { MOST = 4 };
    tcr_zone zones[MOST];
    const size_t count = tcr_any_byte(bytes) % (MOST + 1);
    for (size_t i = 0; i < count; i++)
        zones[i] = tcr_any_zone(bytes, i, count);
    return tcr_set_put_intended(set, side, count > 0 ? zones : NULL, count);
}

static tcr_status put_line(tcr_bytes *bytes, tcr_set *set) {
    tcr_line_rule rule = tcr_line_rule_default();
    rule.tolerance_mm = tcr_any_number(bytes, 0.05, 5.0, 0.5);
    if (tcr_any_byte(bytes) % 2 == 1)
        rule.seen_from_mm = tcr_any_number(bytes, 60.0, 5700.0, 500.0);
    rule.shared = tcr_any_byte(bytes) % 2 == 0;
    return tcr_set_put_line(set, &rule);
}

static tcr_status put_title(tcr_bytes *bytes, tcr_set *set) {
    char title[8];
    for (size_t i = 0; i < sizeof title - 1; i++)
        title[i] = (char)tcr_any_byte(bytes);
    title[sizeof title - 1] = '\0';
    return tcr_set_put_title(set, title);
}

/* A copy equals its original. */
static tcr_status copy(const tcr_set *set) {
    tcr_set *other;
    tcr_mark(&other, sizeof other);
    const tcr_status status = tcr_set_copy(NULL, set, &other);
    tcr_claim_untouched("tcr_set_copy", status, &other, sizeof other);
    if (status == TCR_OK) {
        claim(tcr_set_digest(other) == tcr_set_digest(set), "a copy differs");
        tcr_set_free(other);
    }
    return status;
}

/* Changes by the first byte: 10 and a copy, and beyond them two more. */
enum { CHANGES = 10, MORE_FROM = 242, REPLACE_ALL = 11, REMOVE_LASHES = 12 };

static tcr_status change(tcr_bytes *bytes, tcr_set *set, tcr_side side, uint8_t what) {
    static const tcr_tray NO_TRAY = {.count = 0};
    switch (what) {
    case 0:
        return add_lashes(bytes, set, side);
    case 1:
    case 2:
    case 3:
        return replace(bytes, set, side, what);
    case 4:
        return tcr_set_remove_eye(set, side);
    case 5:
        return intend(bytes, set, side);
    case 6:
        return put_line(bytes, set);
    case 7:
        return put_title(bytes, set);
    case 8:
        return tcr_set_mark_drawn(set, side, tcr_any_byte(bytes));
    case REPLACE_ALL:
        return replace_all(bytes, set, side);
    case REMOVE_LASHES:
        return tcr_set_remove_lashes(set, side);
    default:
        return tcr_set_put_tray(set, &NO_TRAY);
    }
}

void tcr_numeric_change(tcr_bytes *bytes, tcr_set *set) {
    const uint8_t kind = tcr_any_byte(bytes);
    const uint8_t what = kind < MORE_FROM ? kind % (CHANGES + 1)
                         : kind % 2 == 0  ? REPLACE_ALL
                                          : REMOVE_LASHES;
    const tcr_side side = (tcr_side)tcr_any_choice(bytes, TCR_SIDES); /* perhaps of no eye */
    const uint64_t before = tcr_set_digest(set);
    if (what == CHANGES) {
        (void)copy(set);
        claim(tcr_set_digest(set) == before, "a copy changed the set");
        return;
    }
    const tcr_status status = change(bytes, set, side, what);
    const tcr_error *error = tcr_set_error(set);
    claim(error->status == status, "%s, but the set tells %s", tcr_status_text(status),
          tcr_status_text(error->status));
    if (status == TCR_OK) {
        claim(error->message[0] == '\0' && error->member == NULL, "a success says why it failed");
        return;
    }
    tcr_claim_error(status, error);
    claim(error->side >= -1 && error->side < TCR_SIDES, "side %d", error->side);
    claim(tcr_set_digest(set) == before, "change %u failed (%s) and changed the set", what,
          tcr_status_text(status));
}

/* ---- What is worked out ---------------------------------------------------------------------- */

static bool same_bits(double a, double b) { return (isnan(a) && isnan(b)) || a == b; }

/* A quantity of both checks, which are of one set and equal options. */
static void claim_column(const tcr_check *a, const tcr_check *b, tcr_side side,
                         const tcr_quantity *q) {
    const size_t lashes = tcr_set_lash_count(tcr_check_set(a), side);
    const size_t n = q->owner == TCR_OWNER_LASH ? lashes : 1;
    double *values = calloc(2 * n + 1, sizeof *values);
    if (values == NULL)
        return;
    const tcr_status first = tcr_check_column(a, side, q, values, n);
    const tcr_status second = tcr_check_column(b, side, q, values + n, n);
    const bool there = tcr_check_eye(a, side) != NULL;
    claim(first == second && first == (there ? TCR_OK : TCR_E_MISSING), "%s: %s, then %s", q->name,
          tcr_status_text(first), tcr_status_text(second));
    for (size_t i = 0; i < n && first == TCR_OK; i++)
        claim(same_bits(values[i], values[n + i]), "%s of %zu: %.17g, run again %.17g", q->name, i,
              values[i], values[n + i]);
    claim(tcr_check_column(a, side, q, values, n + 1) != TCR_OK, "%s with one too many", q->name);
    const void *in_place;
    size_t stride;
    const tcr_status lies = tcr_check_column_in_place(a, side, q, &in_place, &stride);
    for (size_t i = 0; i < n && lies == TCR_OK && q->kind == TCR_KIND_DOUBLE; i++) {
        const double number = *(const double *)(const void *)((const char *)in_place + i * stride);
        claim(same_bits(values[i], isinf(number) ? NAN : number), "%s of %zu in place", q->name, i);
    }
    const tcr_quantity strange = *q;
    claim(tcr_check_column(a, side, &strange, values, n) != TCR_OK, "%s of no table", q->name);
    free(values);
}

static tcr_check_options any_options(tcr_bytes *bytes, const tcr_line_options *line) {
    tcr_check_options options = tcr_check_options_default();
    const uint8_t kind = tcr_any_byte(bytes);
    options.against = (tcr_against)tcr_any_choice(bytes, 2);
    options.parts = kind < 128 ? kind & TCR_PART_ALL : (unsigned)tcr_any_word(bytes);
    options.has_view = kind % 2 == 1;
    options.view = tcr_any_view(bytes);
    options.line = kind % 8 >= 4 ? line : NULL;
    options.tolerance_mm = kind % 16 >= 8 ? tcr_any_number(bytes, 0.05, 5.0, 0.5) : NAN;
    if (kind >= 250)
        options.size = tcr_any_byte(bytes);
    return options;
}

static void claim_loads(const tcr_check *check, tcr_side side) {
    for (size_t i = 0; i <= tcr_set_lash_count(tcr_check_set(check), side); i++) {
        tcr_weight weight;
        tcr_mark(&weight, sizeof weight);
        const tcr_status status = tcr_check_weight(check, side, i, &weight);
        tcr_claim_untouched("tcr_check_weight", status, &weight, sizeof weight);
        if (status == TCR_OK) {
            claim_finite(weight.moment_uNmm);
            claim_finite(weight.shift_mm);
            tcr_claim_finite("droop", &weight.droop_mm, 1);
        }
    }
}

/* A check run again gives what a new one gives; one that fails has no eyes. */
static void claim_again(tcr_bytes *bytes, const tcr_set *set) {
    size_t count;
    const tcr_quantity *quantities = tcr_quantities(&count);
    const tcr_line_options line = tcr_any_line_options(bytes);
    const tcr_check_options options = any_options(bytes, &line);
    tcr_check *used, *fresh;
    if (tcr_check_new(set, NULL, &used, NULL) != TCR_OK)
        return;
    tcr_error error = tcr_error_none();
    const tcr_status again = tcr_check_again(used, set, &options, &error);
    if (again != TCR_OK)
        tcr_claim_error(again, &error);
    const tcr_status status = tcr_check_new(set, &options, &fresh, NULL);
    claim(again == status || again == TCR_E_MEMORY || status == TCR_E_MEMORY, "new: %s, again: %s",
          tcr_status_text(status), tcr_status_text(again));
    for (int side = 0; side < TCR_SIDES; side++) {
        claim(again == TCR_OK || tcr_check_eye(used, (tcr_side)side) == NULL, "it failed");
        for (size_t q = 0; q < count && again == TCR_OK && status == TCR_OK; q++)
            claim_column(used, fresh, (tcr_side)side, &quantities[q]);
        if (again == TCR_OK)
            claim_loads(used, (tcr_side)side);
    }
    if (status == TCR_OK)
        tcr_check_free(fresh);
    tcr_check_free(used);
}

static void claim_mean(tcr_bytes *bytes, const tcr_set *set, tcr_side side) {
    tcr_mean_lash mean;
    tcr_mark(&mean, sizeof mean);
    const tcr_status status = tcr_mean_lash_of(set, side, &mean);
    tcr_claim_untouched("tcr_mean_lash_of", status, &mean, sizeof mean);
    if (status != TCR_OK)
        return;
    const double u = tcr_any_number(bytes, 0.0, 1.0, 0.5);
    const tcr_lash at = tcr_mean_lash_at(&mean, u);
    if (u >= 0.0 && u <= 1.0)
        tcr_claim_finite("the mean lash", &at.length_mm, 1);
}

static void claim_growth(tcr_bytes *bytes, const tcr_set *set, tcr_side side) {
    for (size_t i = 0; i < tcr_set_lash_count(set, side) && i < 8; i++) {
        tcr_lash full, grown, lash = *tcr_set_lash(set, side, i);
        lash.final_length_mm = tcr_any_number(bytes, 1.0, 20.0, 10.0);
        tcr_mark(&full, sizeof full);
        tcr_status status = tcr_lash_full_grown(&lash, &full);
        tcr_claim_untouched("tcr_lash_full_grown", status, &full, sizeof full);
        if (status != TCR_OK)
            continue;
        const double to = tcr_any_number(bytes, 0.3, full.length_mm, 5.0);
        tcr_mark(&grown, sizeof grown);
        status = tcr_lash_grow(&lash, &full, to, &grown);
        tcr_claim_untouched("tcr_lash_grow", status, &grown, sizeof grown);
        claim(status != TCR_OK || tcr_lash_validate(&grown, NULL) == TCR_OK, "grown to %.17g mm",
              to);
    }
}

void tcr_claim_worked_out(tcr_bytes bytes, const tcr_set *set) {
    for (int side = 0; side < TCR_SIDES; side++) {
        claim_mean(&bytes, set, (tcr_side)side);
        claim_growth(&bytes, set, (tcr_side)side);
    }
    if (tcr_lashes_of(set) <= TCR_FUZZ_LASHES_MAX)
        claim_again(&bytes, set);
}
