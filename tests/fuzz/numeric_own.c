/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls that change a set, given what the set itself holds. The same call on a copy, given what the
 * original holds, must return the same and leave the same set.
 */
#include "fuzz/numeric.h"

#include <stdlib.h>

#include "fuzz/claim.h"
#include "fuzz/harsh.h"
#include "support/digest.h"

/* A call: which, to what, and from which places of the set its arguments come. */
typedef struct call {
    uint8_t kind;
    tcr_side side, from;
    size_t i, j, k;
} call;

static call draw_call(tcr_bytes *bytes) {
    call c = {.kind = tcr_any_byte(bytes)};
    const uint8_t sides = tcr_any_byte(bytes);
    c.side = (tcr_side)(sides & 1);
    c.from = (tcr_side)(sides >> 1 & 1);
    c.i = tcr_any_byte(bytes) % 16;
    c.j = tcr_any_byte(bytes) % 16;
    c.k = tcr_any_byte(bytes) % 16;
    return c;
}

/* Lashes with the ids of others, and themselves again. */
static tcr_status add(const call *c, tcr_set *set, const tcr_set *of) {
    enum { MOST = 4 };
    const char *ids[MOST];
    for (int n = 0; n < MOST; n++)
        ids[n] = tcr_set_id(of, c->from, c->i + (size_t)n);
    const tcr_lash *lash = tcr_set_lash(of, c->from, c->j);
    const tcr_wish *wish = tcr_set_wish(of, c->from, c->k);
    if (c->kind % 3 == 0)
        return tcr_set_add_lashes(set, c->side, lash != NULL, ids, lash, wish);
    return tcr_set_add_lash(set, c->side, ids[0], lash, wish);
}

static tcr_status put_text(const call *c, tcr_set *set, const tcr_set *of) {
    const tcr_curl *curl = tcr_set_curl(of, c->i);
    if (c->kind % 3 == 0)
        return tcr_set_put_title(set, tcr_set_title(of));
    if (c->kind % 3 == 1)
        return tcr_set_put_title(set, tcr_set_id(of, c->from, c->i));
    return tcr_set_put_title(set, curl != NULL ? curl->label : NULL);
}

/* Both a curl as it is and one of the set's profiles under another of its labels. */
static tcr_status add_curl(const call *c, tcr_set *set, const tcr_set *of) {
    const tcr_curl *curl = tcr_set_curl(of, c->i), *other = tcr_set_curl(of, c->j);
    if (c->kind % 2 == 0 || curl == NULL || other == NULL)
        return tcr_set_add_curl(set, curl);
    return tcr_set_add_curl(
        set, &(tcr_curl){other->label, curl->count, curl->length_mm, curl->profiles});
}

static tcr_status put_map(const call *c, tcr_set *set, const tcr_set *of) {
    size_t map, intended;
    const tcr_zone *zones = tcr_set_map(of, c->from, &map);
    const tcr_zone *meant = tcr_set_intended(of, c->from, &intended);
    switch (c->kind % 4) {
    case 0:
        return tcr_set_put_map(set, c->side, zones, map);
    case 1: /* the last zones alone, from the middle of the set's array */
        return tcr_set_put_map(set, c->side, map > 1 ? zones + 1 : zones, map > 1 ? map - 1 : map);
    case 2:
        return tcr_set_put_intended(set, c->side, zones, map);
    default:
        return tcr_set_put_map(set, c->side, meant, intended);
    }
}

static tcr_status put_whole(const call *c, tcr_set *set, const tcr_set *of) {
    const tcr_lash *lash = tcr_set_lash(of, c->from, c->i);
    switch (c->i % 6) {
    case 0:
        return tcr_set_put_layering(set, tcr_set_layering(of));
    case 1:
        return tcr_set_put_tray(set, tcr_set_tray(of));
    case 2:
        return tcr_set_put_bond(set, tcr_set_bond(of));
    case 3:
        return tcr_set_put_view(set, tcr_set_view(of));
    case 4:
        return tcr_set_put_line(set, tcr_set_line(of));
    default:
        return tcr_set_put_mean_lash(set, c->j % 2 == 0 ? lash : tcr_set_mean_lash(of));
    }
}

/* The call on a set, with arguments from another or from itself. */
static tcr_status make_call(const call *c, tcr_set *set, const tcr_set *of) {
    switch (c->kind % 11) {
    case 0:
    case 1:
        return add(c, set, of);
    case 2:
        return put_text(c, set, of);
    case 3:
        return add_curl(c, set, of);
    case 4:
        return put_map(c, set, of);
    case 5:
        return put_whole(c, set, of);
    case 6:
        return tcr_set_replace_lash(set, c->side, c->i, tcr_set_lash(of, c->from, c->j));
    case 7:
        return tcr_set_replace_wish(set, c->side, c->i, tcr_set_wish(of, c->from, c->j));
    case 8:
        return tcr_set_replace_lid(set, c->side, tcr_set_lid(of, c->from));
    case 9:
        return tcr_set_add_eye(set, c->side, tcr_set_lid(of, c->from));
    default:
        return tcr_set_describe(set, c->side, tcr_set_description(of, c->from));
    }
}

/* One eye of few lashes, with a map. */
static void set_up(tcr_bytes *bytes, tcr_set *set) {
    tcr_description description = tcr_description_default();
    description.count = 1 + tcr_any_byte(bytes) % 12;
    const tcr_zone zones[] = {{.to = 0.4, .length_mm = 9.0, .curl = "C"},
                              {.to = 1.0, .length_mm = 11.0, .curl = "D"}};
    (void)tcr_set_add_eye(set, TCR_LEFT, NULL);
    (void)tcr_set_put_map(set, TCR_LEFT, zones, 2);
    (void)tcr_set_describe(set, TCR_LEFT, &description);
}

void tcr_numeric_own(tcr_bytes *bytes) {
    tcr_harsh harsh = {0};
    const tcr_allocator allocator = tcr_harsh_allocator(&harsh);
    tcr_set *set, *copy;
    if (tcr_set_new(&allocator, &set) != TCR_OK)
        return;
    set_up(bytes, set);
    for (int steps = 0; steps < 64 && bytes->at < bytes->end; steps++) {
        const call c = draw_call(bytes);
        claim(tcr_set_copy(NULL, set, &copy) == TCR_OK, "no copy of %zu lashes",
              tcr_set_lash_count(set, TCR_LEFT));
        const tcr_status expected = make_call(&c, copy, set), status = make_call(&c, set, set);
        claim(status == expected, "call %u: %s with its own, %s with another's", c.kind % 11u,
              tcr_status_text(status), tcr_status_text(expected));
        claim(tcr_set_digest(set) == tcr_set_digest(copy), "call %u: another set", c.kind % 11u);
        tcr_set_free(copy);
    }
    tcr_set_free(set);
    claim(harsh.blocks == 0, "%zu blocks were not given back", harsh.blocks);
}
