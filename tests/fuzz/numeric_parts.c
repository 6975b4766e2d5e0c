/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lid, lash, extension, curl, columns of them, rule and description: calls without a set. */
#include "fuzz/numeric.h"

#include <math.h>
#include <string.h>

#include "fuzz/claim.h"
#include "geom/vector.h"

/* Products and sums of a few numbers near 1 lose a few times 1e-16; where the lid's contour nears
 * the edge of the globe, some digits more. */
static const double NEAR = 1e-9;

static void claim_axes(tcr_vec3 a, tcr_vec3 b, tcr_vec3 c) {
    const double numbers[] = {tcr_vec3_dot(a, a) - 1.0, tcr_vec3_dot(b, b) - 1.0,
                              tcr_vec3_dot(c, c) - 1.0, tcr_vec3_dot(a, b),
                              tcr_vec3_dot(b, c),       tcr_vec3_dot(c, a)};
    for (int i = 0; i < 6; i++)
        claim(fabs(numbers[i]) <= NEAR, "number %d is %.17g", i, numbers[i]);
}

void tcr_numeric_lid(tcr_bytes *bytes) {
    const tcr_lid lid = tcr_any_lid(bytes);
    tcr_frame frame;
    tcr_vec3 point;
    const tcr_status valid = tcr_lid_validate(&lid, NULL);
    tcr_claim_verdict("tcr_lid_validate", valid, bytes, false);
    claim(bytes->outside || valid == TCR_OK || valid == TCR_E_SEMIAXIS || valid == TCR_E_MRD1 ||
              valid == TCR_E_MRD2,
          "a lid within its ranges: %s", tcr_status_text(valid));
    const double u = tcr_any_number(bytes, 0.02, 0.98, 0.5);
    const double opening = tcr_any_number(bytes, 0.0, 1.0, 1.0);
    tcr_mark(&frame, sizeof frame);
    tcr_mark(&point, sizeof point);
    const tcr_status framed = tcr_lid_frame(&lid, u, opening, &frame);
    const tcr_status placed = tcr_lid_margin(&lid, u, opening, &point);
    tcr_claim_verdict("tcr_lid_frame", framed, bytes, valid == TCR_OK);
    tcr_claim_untouched("tcr_lid_frame", framed, &frame, sizeof frame);
    tcr_claim_untouched("tcr_lid_margin", placed, &point, sizeof point);
    if (placed == TCR_OK)
        claim_finite(point);
    if (framed != TCR_OK)
        return;
    claim_finite(frame);
    claim_axes(frame.t, frame.n, frame.b);
}

static void claim_bare(const tcr_lash *lash, const tcr_lid *lid, double opening) {
    tcr_vec3 tip;
    tcr_weight weight;
    tcr_stance stance;
    tcr_mark(&tip, sizeof tip);
    tcr_mark(&stance, sizeof stance);
    const tcr_status status = tcr_tip(lid, opening, lash, NULL, NULL, &tip);
    const tcr_status stands = tcr_lash_stance(lash, lid, opening, &stance);
    tcr_claim_untouched("tcr_tip", status, &tip, sizeof tip);
    tcr_claim_untouched("tcr_lash_stance", stands, &stance, sizeof stance);
    claim((status == TCR_OK) == (stands == TCR_OK), "tip: %s; stance: %s", tcr_status_text(status),
          tcr_status_text(stands));
    if (status != TCR_OK)
        return;
    claim_finite(tip);
    claim_finite(stance);
    claim_axes(stance.along, stance.up, stance.out);
    claim(tcr_weight_of(lash, &stance, NULL, NULL, NULL, &weight) == TCR_OK &&
              isfinite(weight.load.root_moment_uNmm) && weight.load.natural_mass_mg > 0.0,
          "moment %g, mass %g", weight.load.root_moment_uNmm, weight.load.natural_mass_mg);
}

void tcr_numeric_lash(tcr_bytes *bytes) {
    const tcr_lash lash = tcr_any_lash(bytes);
    const tcr_status valid = tcr_lash_validate(&lash, NULL);
    tcr_claim_verdict("tcr_lash_validate", valid, bytes, true);
    if (valid == TCR_OK) {
        const tcr_profile profile = tcr_lash_profile(&lash);
        claim(tcr_profile_validate(&profile, NULL) == TCR_OK,
              "a turn of %.17g rad gives no profile", lash.turn_rad);
    }
    const tcr_lid lid = tcr_any_lid(bytes);
    claim_bare(&lash, &lid, tcr_any_number(bytes, 0.0, 1.0, 1.0));
}

static void claim_weight(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                         tcr_bytes *bytes) {
    const tcr_lid lid = tcr_lid_default();
    tcr_stance stance;
    tcr_weight weight;
    if (tcr_lash_stance(lash, &lid, 1.0, &stance) != TCR_OK)
        return;
    tcr_any_begin(bytes);
    const tcr_weight_options options = tcr_any_weight_options(bytes);
    const bool bare = tcr_any_byte(bytes) >= 192;
    tcr_mark(&weight, sizeof weight);
    const tcr_status status =
        tcr_weight_of(lash, &stance, bare ? NULL : ext, bare ? NULL : bond, &options, &weight);
    tcr_claim_verdict("tcr_weight_of", status, bytes, true);
    tcr_claim_untouched("tcr_weight_of", status, &weight, sizeof weight);
    if (status != TCR_OK)
        return;
    claim(!isinf(weight.load.moment_ratio), "the ratio of %.17g and %.17g",
          weight.load.root_moment_uNmm, weight.load.natural_moment_uNmm);
    claim(isfinite(weight.shift_length_mm) && isfinite(weight.droop_mm) &&
              isfinite(weight.droop_thicker_mm) && isfinite(weight.droop_thinner_mm) &&
              isfinite(weight.droop_what_if_mm) && isfinite(weight.load.root_moment_uNmm),
          "shift %g, droops %g %g %g %g, moment %g", weight.shift_length_mm, weight.droop_mm,
          weight.droop_thicker_mm, weight.droop_thinner_mm, weight.droop_what_if_mm,
          weight.load.root_moment_uNmm);
}

void tcr_numeric_extension(tcr_bytes *bytes) {
    const tcr_lash lash = tcr_any_lash(bytes);
    tcr_any_begin(bytes);
    const tcr_extension ext = tcr_any_extension(bytes);
    tcr_claim_verdict("tcr_extension_validate", tcr_extension_validate(&ext, NULL), bytes, true);
    tcr_any_begin(bytes);
    const tcr_bond bond = tcr_any_bond(bytes);
    tcr_claim_verdict("tcr_bond_validate", tcr_bond_validate(&bond, NULL), bytes, true);
    tcr_attachment attachment;
    tcr_mark(&attachment, sizeof attachment);
    const tcr_status status = tcr_attach(&lash, &ext, &bond, &attachment);
    tcr_claim_untouched("tcr_attach", status, &attachment, sizeof attachment);
    if (status != TCR_OK)
        return;
    claim_finite(attachment);
    const double s = tcr_any_number(bytes, 0.0, ext.length_mm, ext.length_mm);
    const tcr_vec3 point =
        tcr_attachment_fibre(&attachment, &ext, tcr_any_byte(bytes) % ext.fan, s);
    claim_finite(point);
    claim_weight(&lash, &ext, &bond, bytes);
}

/* ---- Curls ----------------------------------------------------------------------------------- */

static void claim_point(const tcr_profile *profile, tcr_bytes *bytes) {
    const double length = tcr_any_number(bytes, 0.3, 30.0, 10.0);
    const double s = tcr_any_number(bytes, 0.0, 30.0, 5.0);
    if (!(length > 0.0) || isinf(length))
        return;
    const tcr_arc_point at = tcr_profile_at(profile, length, s);
    claim_finite(at);
}

static void claim_curl_in_set(const tcr_curl *curl) {
    tcr_set *set;
    size_t index;
    if (tcr_set_new(NULL, &set) != TCR_OK)
        return;
    const tcr_status status = tcr_set_add_curl(set, curl);
    claim(status == TCR_OK || status == TCR_E_ARGUMENT, "a good curl: %s", tcr_status_text(status));
    claim(status != TCR_OK || tcr_set_find_curl(set, curl->label, &index) == TCR_OK,
          "curl %s was added and is not there", curl->label);
    tcr_set_free(set);
}

void tcr_numeric_curl(tcr_bytes *bytes) {
    enum { MOST = 5 };
    tcr_profile profiles[MOST];
    double length_mm[MOST];
    char label[TCR_LABEL_SIZE];
    const int count = tcr_any_whole(bytes, 1, MOST);
    tcr_any_label(bytes, label);
    for (int i = 0; i < MOST && i < count; i++) {
        profiles[i] = tcr_any_profile(bytes);
        length_mm[i] = tcr_any_number(bytes, 3.0, 30.0, 5.0 + i);
    }
    if (count > MOST && count <= TCR_CURL_LENGTHS_MAX)
        return; /* there are not so many */
    const tcr_curl curl = {label, (size_t)count, length_mm, profiles};
    const tcr_status status = tcr_curl_validate(&curl, NULL);
    tcr_claim_verdict("tcr_curl_validate", status, bytes, false);
    if (status != TCR_OK)
        return;
    const tcr_profile profile = tcr_curl_profile(&curl, tcr_any_number(bytes, 3.0, 30.0, 9.0));
    claim(tcr_profile_validate(&profile, NULL) == TCR_OK,
          "no profile between those of a curl of %d", count);
    claim_point(&profile, bytes);
    claim_curl_in_set(&curl);
}

/* ---- Columns --------------------------------------------------------------------------------- */

enum { ROWS = 6, PROFILES = 2 };

typedef struct rows {
    double column[12][ROWS]; /* as in tcr_lash_columns */
    int fan[ROWS], placement[ROWS], profile[ROWS];
    tcr_lash lash[ROWS];
    tcr_extension ext[ROWS];
} rows;

static void draw_row(tcr_bytes *bytes, rows *r, int i) {
    const tcr_lash lash = tcr_any_lash(bytes);
    const tcr_extension ext = tcr_any_extension(bytes);
    const bool bare = tcr_any_byte(bytes) % 8 == 7;
    const double numbers[12] = {lash.u,
                                lash.height_mm,
                                lash.pitch_rad,
                                lash.yaw_rad,
                                lash.roll_rad,
                                lash.length_mm,
                                lash.turn_rad,
                                lash.root_diameter_mm,
                                lash.tip_diameter_mm,
                                bare ? 0.0 : ext.length_mm,
                                ext.diameter_mm,
                                ext.spread_rad};
    for (int c = 0; c < 12; c++)
        r->column[c][i] = numbers[c];
    r->fan[i] = ext.fan;
    r->placement[i] = (int)ext.placement;
    r->profile[i] = tcr_any_choice(bytes, PROFILES);
    r->ext[i] = ext;
    r->lash[i] = lash; /* columns have no layer, condition and final length */
    r->lash[i].layer = TCR_BOTTOM;
    r->lash[i].condition = TCR_SUITABLE;
    r->lash[i].final_length_mm = NAN;
}

/* One row against the scalar call. */
static void claim_row(const rows *r, int i, const tcr_lid *lid, double opening,
                      const tcr_bond *bond, const tcr_profile *profiles, tcr_vec3 tip,
                      tcr_status status) {
    const bool bare = r->column[9][i] == 0.0,
               known = r->profile[i] >= 0 && r->profile[i] < PROFILES;
    tcr_extension ext = r->ext[i];
    tcr_vec3 expected = {NAN, NAN, NAN};
    if (known)
        ext.profile = profiles[r->profile[i]];
    tcr_status alone = tcr_lash_validate(&r->lash[i], NULL);
    if (alone == TCR_OK && !bare && !known)
        alone = TCR_E_ARGUMENT;
    if (alone == TCR_OK)
        alone = tcr_tip(lid, opening, &r->lash[i], bare ? NULL : &ext, bond, &expected);
    claim(status == alone, "row %d: %s, alone: %s", i, tcr_status_text(status),
          tcr_status_text(alone));
    if (status == TCR_OK)
        claim_finite(tip);
    claim(status == TCR_OK ? memcmp(&tip, &expected, sizeof tip) == 0
                           : isnan(tip.x) && isnan(tip.y) && isnan(tip.z),
          "row %d at %.17g %.17g %.17g, alone %.17g %.17g %.17g", i, tip.x, tip.y, tip.z,
          expected.x, expected.y, expected.z);
}

void tcr_numeric_columns(tcr_bytes *bytes) {
    rows r;
    const tcr_lid lid = tcr_any_byte(bytes) < 128 ? tcr_lid_default() : tcr_any_lid(bytes);
    const double opening = tcr_any_number(bytes, 0.0, 1.0, 1.0);
    const tcr_bond bond = tcr_any_bond(bytes);
    tcr_profile profiles[PROFILES];
    for (int i = 0; i < PROFILES; i++)
        profiles[i] = tcr_any_profile(bytes);
    for (int i = 0; i < ROWS; i++)
        draw_row(bytes, &r, i);
    const tcr_lash_columns lashes = {r.column[0], r.column[1], r.column[2],  r.column[3],
                                     r.column[4], r.column[5], r.column[6],  r.column[7],
                                     r.column[8], r.column[9], r.column[10], r.column[11],
                                     r.fan,       r.placement, r.profile};
    double out[3][ROWS];
    int verdict[ROWS];
    tcr_tip_columns tips = {out[0], out[1], out[2], verdict};
    tcr_mark(out, sizeof out);
    tcr_mark(verdict, sizeof verdict);
    const tcr_status status =
        tcr_tips_n(&lid, opening, &bond, profiles, PROFILES, ROWS, &lashes, &tips);
    tcr_claim_untouched("tcr_tips_n", status, out, sizeof out);
    tcr_claim_untouched("tcr_tips_n", status, verdict, sizeof verdict);
    for (int i = 0; status == TCR_OK && i < ROWS; i++)
        claim_row(&r, i, &lid, opening, &bond, profiles,
                  (tcr_vec3){out[0][i], out[1][i], out[2][i]}, (tcr_status)verdict[i]);
}

/* ---- Rule, tray, looks, view ----------------------------------------------------------------- */

static void claim_look(const tcr_tray *tray, tcr_bytes *bytes) {
    double length_mm[TCR_LOOK_ZONES_MAX];
    size_t count;
    const tcr_look *looks = tcr_look_catalogue(&count);
    const tcr_look *look = &looks[tcr_any_byte(bytes) % count];
    const double longest = tcr_any_number(bytes, 3.0, 30.0, 12.0);
    tcr_mark(length_mm, sizeof length_mm);
    const tcr_status status = tcr_look_lengths(look, longest, tray, length_mm);
    tcr_claim_untouched("tcr_look_lengths", status, length_mm, sizeof length_mm);
    for (size_t i = 0; status == TCR_OK && i < look->zones; i++)
        claim(tcr_tray_has(tray, length_mm[i]), "zone %zu is to get %.17g", i, length_mm[i]);
}

static void claim_tray(const tcr_tray *tray, tcr_bytes *bytes) {
    const double wanted = tcr_any_number(bytes, 3.0, 30.0, 10.25);
    const double nearest = tcr_tray_nearest(tray, wanted);
    claim(tray->count == 0 || tcr_tray_has(tray, nearest), "nearest to %.17g: %.17g", wanted,
          nearest);
    claim(!tcr_tray_has(tray, wanted) || fabs(nearest - wanted) <= NEAR, "%.17g is there: %.17g",
          wanted, nearest);
    claim_look(tray, bytes);
}

static void claim_view(tcr_bytes *bytes) {
    tcr_any_begin(bytes);
    const tcr_view view = tcr_any_view(bytes);
    const tcr_status status = tcr_view_validate(&view, NULL);
    tcr_claim_verdict("tcr_view_validate", status, bytes, true);
    if (status != TCR_OK)
        return;
    tcr_vec3 point;
    point.x = tcr_any_number(bytes, -100.0, 100.0, 0.0);
    point.y = tcr_any_number(bytes, -100.0, 100.0, 10.0);
    point.z = tcr_any_number(bytes, -100.0, 100.0, 10.0);
    const tcr_vec2 seen = tcr_view_project(&view, point);
    if (fabs(point.x) <= 1e300 && fabs(point.y) <= 1e300 && fabs(point.z) <= 1e300)
        claim_finite(seen);
    const double opening = tcr_blink_opening(point.x);
    claim(opening >= 0 && opening <= 1, "a blink at %.17g opens by %.17g", point.x, opening);
}

void tcr_numeric_rule(tcr_bytes *bytes) {
    const tcr_layering layering = tcr_any_layering(bytes);
    tcr_claim_verdict("tcr_layering_validate", tcr_layering_validate(&layering, NULL), bytes, true);
    tcr_any_begin(bytes);
    const tcr_tray tray = tcr_any_tray(bytes);
    const tcr_status status = tcr_tray_validate(&tray, NULL);
    tcr_claim_verdict("tcr_tray_validate", status, bytes, true);
    if (status == TCR_OK)
        claim_tray(&tray, bytes);
    claim_view(bytes);
}

/* Lashes from random numbers, drawn or of the bytes. */
static void claim_draws(tcr_bytes *bytes, const tcr_description *description, bool valid) {
    enum { N = 3 };
    const uint32_t eye = tcr_any_byte(bytes) % 3;
    const size_t first = (size_t)(tcr_any_word(bytes) % 128);
    tcr_lash_draw draw[N];
    tcr_lash lash[N];
    tcr_mark(draw, sizeof draw);
    tcr_status status = tcr_describe_draw(tcr_any_word(bytes), eye, first, N, draw);
    tcr_claim_untouched("tcr_describe_draw", status, draw, sizeof draw);
    if (status != TCR_OK)
        (void)tcr_describe_draw(1, 0, 0, N, draw);
    bool odd = false;
    for (int i = 0; i < 4; i++) { /* most stay as they are */
        const uint8_t at = tcr_any_byte(bytes);
        if (at % 4 == 3) {
            draw[at / 4 % N].number[at / 16 % TCR_DESCRIBE_FIELDS] = tcr_any_double(bytes);
            odd = true;
        }
    }
    tcr_mark(lash, sizeof lash);
    status = tcr_describe_lashes(description, first, N, draw, lash);
    tcr_claim_untouched("tcr_describe_lashes", status, lash, sizeof lash);
    claim(status != TCR_OK || valid, "lashes of a wrong description");
    claim(odd || !valid || (status == TCR_OK) == (first + N <= description->count),
          "lashes %zu: %s", first, tcr_status_text(status));
    for (int i = 0; i < N && status == TCR_OK; i++)
        claim(tcr_lash_validate(&lash[i], NULL) == TCR_OK, "lash %d is not valid", i);
}

void tcr_numeric_description(tcr_bytes *bytes) {
    const tcr_description description = tcr_any_description(bytes);
    const tcr_status valid = tcr_description_validate(&description, NULL);
    tcr_claim_verdict("tcr_description_validate", valid, bytes, true);
    const uint32_t eye = tcr_any_byte(bytes) % 3;
    const uint32_t first = (uint32_t)tcr_any_word(bytes);
    for (uint32_t i = 0; i < 8; i++) {
        const uint32_t k = i == 0 ? first : i;
        tcr_lash lash;
        tcr_mark(&lash, sizeof lash);
        const tcr_status status = tcr_describe_lash(&description, eye, k, &lash);
        tcr_claim_untouched("tcr_describe_lash", status, &lash, sizeof lash);
        claim((status == TCR_OK) == (valid == TCR_OK && eye < 2 && k < description.count),
              "lash %lu of %zu: %s", (unsigned long)k, description.count, tcr_status_text(status));
        claim(status != TCR_OK || tcr_lash_validate(&lash, NULL) == TCR_OK, "lash %lu is not valid",
              (unsigned long)k);
    }
    claim_draws(bytes, &description, valid == TCR_OK);
}
