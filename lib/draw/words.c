/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The texts of a picture. */
#include "draw/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/number.h"
#include "num/range.h"

#define MINUS "\xe2\x88\x92"
#define DASH "\xe2\x80\x93"

const char *tcr_say_number(char out[TCR_WORDS], double value, int decimals, bool plus) {
    char text[TCR_NUMBER_SIZE];
    if (!(fabs(value) < 1e12)) {
        snprintf(out, TCR_WORDS, "%s", DASH);
        return out;
    }
    tcr_number_fixed(value, decimals, text);
    const char *digits = text[0] == '-' ? text + 1 : text;
    const bool zero = strspn(digits, "0.") == strlen(digits);
    const char *sign = text[0] == '-' ? MINUS : plus && !zero ? "+" : "";
    snprintf(out, TCR_WORDS, "%s%s", sign, digits);
    return out;
}

const char *tcr_say_most(char out[TCR_WORDS], double value, int decimals) {
    char text[TCR_NUMBER_SIZE];
    if (!(fabs(value) < 1e12))
        return tcr_say_number(out, value, decimals, false);
    tcr_number_bound(value, decimals, true, text);
    snprintf(out, TCR_WORDS, "%s", text);
    return out;
}

const char *tcr_say_trimmed(char out[TCR_WORDS], double value, int decimals) {
    tcr_say_number(out, value, decimals, false);
    size_t length = strlen(out);
    if (strchr(out, '.') == NULL)
        return out;
    while (out[length - 1] == '0')
        out[--length] = '\0';
    if (out[length - 1] == '.')
        out[--length] = '\0';
    return out;
}

const char *tcr_say_share(char out[TCR_WORDS], double share) {
    /* A share is a count over another: what rounding takes off a whole per cent is given back. */
    return tcr_say_number(out, floor(100 * share + 1e-9), 0, false);
}

const char *tcr_say_side(tcr_side side) { return side == TCR_LEFT ? "Left eye" : "Right eye"; }

const char *tcr_say_view(char out[TCR_WORDS], const tcr_view *view) {
    char number[TCR_WORDS];
    if (view->opening == 1 && view->viewer_rad == 0) {
        snprintf(out, TCR_WORDS, "open, seen from the front");
    } else if (view->viewer_rad == 0 && view->opening == 0) {
        snprintf(out, TCR_WORDS, "closed, seen from the front");
    } else if (view->viewer_rad == 0) {
        tcr_say_number(number, 100 * view->opening, 0, false);
        snprintf(out, TCR_WORDS, "%.8s %% open, seen from the front", number);
    } else {
        char raised[TCR_WORDS];
        tcr_say_number(number, 100 * view->opening, 0, false);
        tcr_say_number(raised, fabs(view->viewer_rad) / TCR_DEG, 0, false);
        snprintf(out, TCR_WORDS, "%.8s%s seen from %.8s\xc2\xb0 %s",
                 view->opening == 0   ? "closed"
                 : view->opening == 1 ? "open"
                                      : number,
                 view->opening == 0 || view->opening == 1 ? "," : " % open,", raised,
                 view->viewer_rad > 0 ? "above" : "below");
    }
    return out;
}

const char *tcr_say_seen(char out[TCR_WORDS], const tcr_view *view) {
    if (view->opening != 1 || view->viewer_rad != 0)
        return tcr_say_view(out, view);
    snprintf(out, TCR_WORDS, "as everybody sees it");
    return out;
}

const char *tcr_say_seat(char out[TCR_WORDS], const tcr_view *seat) {
    const tcr_view standard = tcr_view_named(TCR_ARTIST);
    tcr_say_view(out, seat);
    if (seat->viewer_rad == standard.viewer_rad) {
        const size_t used = strlen(out);
        snprintf(out + used, TCR_WORDS - used, " (assumed)");
    }
    return out;
}

/* The name of a field of a lash. */
static const char *field_name(unsigned field) {
    switch (field) {
    case TCR_LASH_HEIGHT:
        return "height";
    case TCR_LASH_PITCH:
        return "pitch";
    case TCR_LASH_YAW:
        return "yaw";
    case TCR_LASH_ROLL:
        return "roll";
    case TCR_LASH_LENGTH:
        return "length";
    case TCR_LASH_FINAL_LENGTH:
        return "final length";
    case TCR_LASH_TURN:
        return "turn";
    case TCR_LASH_ROOT_DIAMETER:
        return "root diameter";
    case TCR_LASH_TIP_DIAMETER:
        return "tip diameter";
    default:
        return "other";
    }
}

/* How many lashes of both eyes have a field assumed. */
static size_t assumed_count(const tcr_check *check, unsigned field) {
    size_t count = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->assumptions; i++)
            if (eye->assumption[i].field == field)
                count += eye->assumption[i].count;
    }
    return count;
}

static unsigned next_assumed(const tcr_check *check, unsigned field) {
    while (field & TCR_LASH_ALL && assumed_count(check, field) == 0)
        field <<= 1;
    return field & TCR_LASH_ALL;
}

/* How many measures of the lids there are, and of these how many were assumed. */
static size_t assumed_of_lids(const tcr_check *check, size_t *measures) {
    size_t count = 0;
    *measures = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        if (tcr_check_eye(check, (tcr_side)side) == NULL)
            continue;
        const unsigned assumed = tcr_set_lid_assumed(tcr_check_set(check), (tcr_side)side);
        for (unsigned bit = 1; bit < TCR_LID_ALL; bit <<= 1) {
            count += (assumed & bit) != 0;
            ++*measures;
        }
    }
    return count;
}

/* That lashes were drawn by chance comes first, since it weighs most. */
static size_t say_drawn(char out[TCR_WORDS], const tcr_check *check) {
    size_t drawn = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        drawn += tcr_set_drawn_count(tcr_check_set(check), (tcr_side)side);
    out[0] = '\0';
    if (drawn == 0)
        return 0;
    return (size_t)snprintf(out, TCR_WORDS, "%zu %s drawn by chance, not measured. ", drawn,
                            drawn == 1 ? "lash" : "lashes");
}

/* "14 of 18 measures of the lids"; nothing where all are given. */
static void say_lids(char *out, size_t size, const tcr_check *check) {
    size_t measures;
    const size_t count = assumed_of_lids(check, &measures);
    out[0] = '\0';
    if (count > 0)
        snprintf(out, size, "%zu of %zu measures of the lid%s", count, measures,
                 measures > 9 ? "s" : "");
}

/* "100 lashes drawn by chance, not measured. Assumed where not given: roll, tip diameter (90
 * lashes), 9 of 9 measures of the lid" */
const char *tcr_say_assumed(char out[TCR_WORDS], const tcr_check *check) {
    unsigned field = next_assumed(check, 1);
    const size_t start = say_drawn(out, check);
    const char *between = "Assumed where not given: ";
    char lids[80];
    size_t used = start;
    say_lids(lids, sizeof lids, check);
    if (!(field & TCR_LASH_ALL) && *lids == '\0')
        snprintf(out + used, TCR_WORDS - used, "No number of a lash or a lid was assumed.");
    while (field & TCR_LASH_ALL && used < TCR_WORDS) {
        const unsigned next = next_assumed(check, field << 1);
        const size_t count = assumed_count(check, field);
        char many[40] = ""; /* once for neighbours of which there are as many */
        if (!(next & TCR_LASH_ALL) || assumed_count(check, next) != count)
            snprintf(many, sizeof many, " (%zu %s)", count, count == 1 ? "lash" : "lashes");
        used += (size_t)snprintf(out + used, TCR_WORDS - used, "%s%s%s", between, field_name(field),
                                 many);
        between = ", ";
        field = next;
    }
    if (*lids != '\0' && used < TCR_WORDS)
        snprintf(out + used, TCR_WORDS - used, "%s%s", between, lids);
    return out;
}

const char *tcr_say_assumed_short(char out[TCR_WORDS], const tcr_check *check) {
    size_t kinds = 0;
    char lids[80];
    const size_t used = say_drawn(out, check);
    for (unsigned field = next_assumed(check, 1); field & TCR_LASH_ALL;
         field = next_assumed(check, field << 1))
        kinds++;
    say_lids(lids, sizeof lids, check);
    snprintf(out + used, TCR_WORDS - used, "Assumed: %zu measures of lashes%s%s; check lists them",
             kinds, *lids != '\0' ? ", " : "", lids);
    return out;
}

const char *tcr_say_placement(tcr_placement placement) {
    static const char *const PLACEMENTS[TCR_PLACEMENTS] = {"on top", "under", "inner", "outer"};
    return PLACEMENTS[placement];
}

const char *tcr_say_laid(tcr_placement placement) {
    switch (placement) {
    case TCR_ON_TOP:
        return "on top of its lash";
    case TCR_UNDERSIDE:
        return "under its lash";
    case TCR_INNER_SIDE:
        return "at the inner side";
    default:
        return "at the outer side";
    }
}
