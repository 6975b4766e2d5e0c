/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits of what a lash may be given: common practice or assumptions, none with a validated value.
 */
#include "rod/limits.h"

#include <math.h>
#include <tipcrest/field.h>
#include <tipcrest/load.h>

#include "model/lash_kernel.h"

tcr_limits tcr_limits_default(void) {
    tcr_limits limits = {0};
    tcr_fields_default(TCR_GROUP_LIMITS, &limits);
    return limits;
}

bool tcr_limits_weigh(const tcr_limits *limits) {
    return limits->mass_ratio != INFINITY || limits->moment_ratio != INFINITY;
}

bool tcr_limits_too_long(const tcr_limits *limits, const tcr_lash *lash, double length_mm) {
    static const double ROUNDING_MM = 1e-9;
    return length_mm > lash->length_mm + limits->overlength_mm + ROUNDING_MM;
}

unsigned tcr_limits_beyond_load(const tcr_limits *limits, const tcr_load *load) {
    unsigned found = 0;
    if (!(load->mass_ratio <= limits->mass_ratio))
        found |= TCR_BEYOND_MASS;
    /* A ratio that is not there, since the lash's own weight turns nothing, is beyond any limit. */
    if (limits->moment_ratio != INFINITY && !(load->moment_ratio <= limits->moment_ratio))
        found |= TCR_BEYOND_MOMENT;
    return found;
}

/* tcr_limits_beyond for valid arguments, of an extension that is attached. */
static unsigned beyond(const tcr_limits *limits, const tcr_lash *lash, const tcr_stance *stance,
                       tcr_worn worn) {
    const unsigned found =
        tcr_limits_too_long(limits, lash, worn.ext->length_mm) ? TCR_BEYOND_LENGTH : 0;
    if (!tcr_limits_weigh(limits))
        return found;
    const tcr_load load = tcr_usual_load(lash, stance, worn);
    return found | tcr_limits_beyond_load(limits, &load);
}

unsigned tcr_limits_beyond(const tcr_limits *limits, const tcr_set *set, const tcr_lash *lash,
                           const tcr_stance *stance, const tcr_choice *choice) {
    tcr_attachment attachment;
    if (limits == NULL || set == NULL || lash == NULL || stance == NULL || choice == NULL ||
        choice->curl >= tcr_set_curl_count(set))
        return 0;
    const tcr_extension ext = tcr_set_extension(set, choice);
    const tcr_bond bond = tcr_set_bond_of(set, choice);
    tcr_status status = tcr_lash_validate(lash, NULL);
    if (status == TCR_OK)
        status = tcr_extension_validate(&ext, NULL);
    if (status == TCR_OK) /* a row may move the bond farther out than a set's bond may lie */
        status = tcr_attach_kernel(lash, &ext, &bond, &attachment);
    if (status != TCR_OK)
        return status == TCR_E_BOND ? TCR_BEYOND_BOND : 0;
    return beyond(limits, lash, stance, (tcr_worn){&ext, &bond, &attachment});
}
