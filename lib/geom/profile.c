/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc-spline profiles for callers outside the kernels: validity and points (model.md, section 3).
 */
#include <tipcrest/profile.h>

#include <math.h>
#include <stddef.h>

#include "geom/arc.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

static const double SHARE_SLACK = 1e-9;

static tcr_status refuse_shares(double sum, tcr_error *error) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(sum, text);
    return tcr_error_set(error, TCR_E_CURL,
                         "the shares of the pieces add up to %s; each is above 0 and they add up "
                         "to 1",
                         text);
}

static tcr_status refuse_turn(double turn_rad, tcr_error *error) {
    const double least = TCR_PIECE_TURN_LEAST_DEG * TCR_DEG,
                 most = TCR_PIECE_TURN_MOST_DEG * TCR_DEG;
    char found[TCR_NUMBER_SIZE], low[TCR_NUMBER_SIZE], high[TCR_NUMBER_SIZE];
    tcr_number_text(turn_rad, found);
    tcr_number_fixed(least, 2, low);
    tcr_number_fixed(most, 2, high);
    tcr_error_set(error, TCR_E_RANGE, "turn_rad of a piece is %s, but must be from %s to %s", found,
                  low, high);
    tcr_error_number(error, "turn_rad", turn_rad, least, most);
    return TCR_E_RANGE;
}

tcr_status tcr_profile_validate(const tcr_profile *profile, tcr_error *error) {
    if (!tcr_profile_has_pieces(profile))
        return tcr_error_set(error, TCR_E_ARGUMENT, "a profile has from 1 to %d pieces",
                             (int)TCR_PIECES_MAX);
    double sum = 0.0;
    for (int i = 0; i < profile->pieces; i++) {
        if (!tcr_within_degrees(profile->turn_rad[i], TCR_PIECE_TURN_LEAST_DEG,
                                TCR_PIECE_TURN_MOST_DEG))
            return refuse_turn(profile->turn_rad[i], error);
        if (!tcr_within(profile->share[i], TCR_PIECE_SHARE_LEAST, 1.0 + SHARE_SLACK))
            return tcr_error_set(error, TCR_E_CURL,
                                 "the share of a piece is above 0 and at most 1");
        sum += profile->share[i];
    }
    return fabs(sum - 1.0) <= SHARE_SLACK ? TCR_OK : refuse_shares(sum, error);
}

tcr_arc_point tcr_profile_at(const tcr_profile *profile, double length_mm, double s_mm) {
    return tcr_profile_has_pieces(profile) ? tcr_arc_walk(profile, length_mm, s_mm).point
                                           : (tcr_arc_point){NAN, NAN, NAN};
}
