/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines: fitted through any points, and any numbers as a line. */
#include "fuzz/numeric.h"

#include <math.h>

#include "fuzz/claim.h"

enum { POINTS_MAX = 48 };

/* Points of a set lie within some tens of millimetres of the eye. */
static const double NEAR_EYE_MM = 100.0;

typedef struct points {
    size_t n;
    double x[POINTS_MAX], y[POINTS_MAX];
    tcr_layer layer[POINTS_MAX];
    bool near_eye;
} points;

/* Spread out, or crowded at one place, or at two, or everywhere. */
static void draw_points(tcr_bytes *bytes, points *p) {
    const uint8_t kind = tcr_any_byte(bytes);
    const double crowd = kind % 4 == 0 ? 1.0 : pow(10.0, -(double)(kind / 4 % 16));
    p->n = tcr_any_byte(bytes) % (POINTS_MAX + 1);
    p->near_eye = true;
    for (size_t i = 0; i < p->n; i++) {
        const double x = tcr_any_number(bytes, -20.0, 20.0, (double)i);
        p->x[i] = x * crowd + (kind % 4 == 1 && i % 2 == 1 ? 10.0 : 0.0);
        p->y[i] = tcr_any_number(bytes, 0.0, 30.0, 12.0);
        p->layer[i] = (tcr_layer)tcr_any_choice(bytes, TCR_LAYERS);
        p->near_eye = p->near_eye && fabs(p->x[i]) <= NEAR_EYE_MM && fabs(p->y[i]) <= NEAR_EYE_MM;
    }
}

/* Figures of points about a line; of points far away they may be infinite. */
static void claim_figures(const points *p, const tcr_line *line, bool finite, tcr_bytes *bytes) {
    double deviation[POINTS_MAX], across[POINTS_MAX], scratch[POINTS_MAX];
    tcr_evenness evenness;
    const double tolerance = tcr_any_number(bytes, 0.05, 5.0, 0.5);
    tcr_mark(deviation, sizeof deviation);
    tcr_mark(across, sizeof across);
    tcr_mark(&evenness, sizeof evenness);
    const tcr_status status = tcr_line_evenness(line, p->x, p->y, p->layer, p->n, tolerance,
                                                deviation, across, scratch, &evenness);
    tcr_claim_untouched("tcr_line_evenness", status, deviation, sizeof deviation);
    tcr_claim_untouched("tcr_line_evenness", status, across, sizeof across);
    tcr_claim_untouched("tcr_line_evenness", status, &evenness, sizeof evenness);
    const double gap = tcr_line_largest_gap(p->x, p->n, scratch);
    claim(p->n >= 2 || isnan(gap), "the largest gap of %zu points is %g", p->n, gap);
    if (status != TCR_OK)
        return;
    claim(evenness.within_tolerance >= 0.0 && evenness.within_tolerance <= 1.0,
          "share within is %.17g", evenness.within_tolerance);
    if (!finite)
        return;
    tcr_claim_finite("deviation", deviation, p->n);
    tcr_claim_finite("across", across, p->n);
    claim_finite(evenness.upright);
    claim_finite(evenness.across);
}

void tcr_numeric_points(tcr_bytes *bytes) {
    points p;
    tcr_line line;
    double scratch[POINTS_MAX];
    draw_points(bytes, &p);
    const bool not_finite = bytes->not_finite;
    tcr_any_begin(bytes);
    const tcr_line_options options = tcr_any_line_options(bytes);
    const bool usual = tcr_any_byte(bytes) < 192;
    tcr_mark(&line, sizeof line);
    const tcr_status status = tcr_line_fit(p.x, p.y, p.n, usual ? NULL : &options, scratch, &line);
    tcr_claim_untouched("tcr_line_fit", status, &line, sizeof line);
    claim(!not_finite || status != TCR_OK, "a line through %zu points, not all finite", p.n);
    if (!usual)
        tcr_claim_verdict("tcr_line_fit", status, bytes, false);
    else if (p.near_eye)
        claim(status == TCR_OK || status == TCR_E_FEW || status == TCR_E_ONE_X,
              "%zu points near the eye: %s", p.n, tcr_status_text(status));
    if (status != TCR_OK)
        return;
    claim_finite(line);
    const double x = tcr_any_number(bytes, -20.0, 20.0, 0.0);
    claim(!(fabs(x) <= 1e6) || !p.near_eye ||
              (isfinite(tcr_line_at(&line, x)) && isfinite(tcr_line_slope(&line, x))),
          "at %.17g: %g, slope %g", x, tcr_line_at(&line, x), tcr_line_slope(&line, x));
    claim_figures(&p, &line, true, bytes);
}

static tcr_line draw_line(tcr_bytes *bytes) {
    tcr_line line;
    line.x_min_mm = tcr_any_number(bytes, -20.0, 0.0, -15.0);
    line.x_max_mm = tcr_any_number(bytes, 0.0, 20.0, 15.0);
    for (int i = 0; i < TCR_LINE_COEFFICIENTS; i++)
        line.coefficient_mm[i] = tcr_any_number(bytes, 0.0, 20.0, 10.0);
    line.sigma_mm = tcr_any_number(bytes, 0.0, 1.0, 0.1);
    return line;
}

/* Lines that the caller made up; those within the ranges above are proper ones. */
void tcr_numeric_lines(tcr_bytes *bytes) {
    points p;
    tcr_symmetry symmetry;
    const tcr_line left = draw_line(bytes), right = draw_line(bytes);
    const bool proper =
        !bytes->outside && left.x_min_mm < left.x_max_mm && right.x_min_mm < right.x_max_mm;
    tcr_mark(&symmetry, sizeof symmetry);
    const tcr_status status = tcr_line_symmetry(&left, &right, &symmetry);
    tcr_claim_untouched("tcr_line_symmetry", status, &symmetry, sizeof symmetry);
    if (status == TCR_OK && proper)
        claim_finite(symmetry);
    tcr_any_begin(bytes);
    draw_points(bytes, &p);
    claim_figures(&p, &left, proper && !bytes->outside, bytes);
}
