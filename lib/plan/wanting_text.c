/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How to recognise the lashes that want another size than their zone, in words for tables and
 * sheets. */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/number.h"
#include "num/range.h"

enum { TOLD_MOST = 2 };
static const double LEAST_SD = 0.5;     /* a trait tells from half a standard deviation on */
static const double LEAST_SHARE = 0.01; /* of fewer lashes no trait is named */

/* "natural tip 0.4 mm (3.3°) lower", of a lash of lash_mm; "root 0.13 mm lower" */
static void add_trait(char *text, size_t size, tcr_trait trait, double apart, double lash_mm) {
    static const struct {
        const char *noun, *unit, *less, *more;
        bool angle;
    } WORDS[TCR_TRAITS] = {
        [TCR_TRAIT_HEIGHT] = {"root", " mm", "lower", "higher", false},
        [TCR_TRAIT_PITCH] = {"natural tip", "\xc2\xb0)", "lower", "higher", true},
        [TCR_TRAIT_LENGTH] = {"lash", " mm", "shorter", "longer", false},
        [TCR_TRAIT_TURN] = {"curl", "\xc2\xb0", "less", "more", true},
    };
    const bool angle = WORDS[trait].angle;
    char rise[TCR_NUMBER_SIZE] = "", number[TCR_NUMBER_SIZE];
    if (trait == TCR_TRAIT_PITCH)
        tcr_number_fixed(lash_mm * sin(fabs(apart)), 1, rise);
    tcr_number_fixed(fabs(angle ? tcr_degrees_of(apart) : apart), angle ? 1 : 2, number);
    snprintf(text, size, "%s %s%s%s%s %s", WORDS[trait].noun, rise, *rise != '\0' ? " mm (" : "",
             number, WORDS[trait].unit, apart > 0.0 ? WORDS[trait].more : WORDS[trait].less);
}

/* The trait that tells most among those that are not told yet; -1 for none. */
static int next_trait(const tcr_plan_wanting *w, const bool told[TCR_TRAITS]) {
    int best = -1;
    for (int k = 0; k < TCR_TRAITS; k++)
        if (!told[k] && fabs(w->in_sd[k]) >= LEAST_SD &&
            (best < 0 || fabs(w->in_sd[k]) > fabs(w->in_sd[best])))
            best = k;
    return best;
}

void tcr_plan_wanting_text(const tcr_plan_wanting *wanting, double lash_mm,
                           char text[TCR_PLAN_WANTING_SIZE]) {
    bool told[TCR_TRAITS] = {false};
    size_t length = 0;
    if (text == NULL)
        return;
    text[0] = '\0';
    if (wanting == NULL || !(wanting->share >= LEAST_SHARE))
        return;
    for (int count = 0; count < TOLD_MOST; count++) {
        const int best = next_trait(wanting, told);
        if (best < 0 && count == 0)
            strcpy(text, "nothing tells them by itself");
        if (best < 0)
            return;
        told[best] = true;
        if (count > 0)
            strcpy(text + length, ", ");
        length = strlen(text);
        add_trait(text + length, TCR_PLAN_WANTING_SIZE - length, (tcr_trait)best,
                  wanting->apart[best], lash_mm);
        length = strlen(text);
    }
}

double tcr_plan_lash_mm(const tcr_set *set, tcr_side side) {
    const tcr_description *described = tcr_set_description(set, side);
    return described != NULL ? described->length_mm : tcr_description_default().length_mm;
}
