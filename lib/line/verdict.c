/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The words for how even a set is and how alike two eyes are, and the figures of a check that they
 * rest on (model.md, section 6).
 */
#include "line/verdict.h"

#include <math.h>

#include <tipcrest/check.h>

tcr_verdict tcr_verdict_of(size_t tips, size_t staggered) {
    if (tips == 0)
        return TCR_NOT_JUDGED;
    /* By counts: 0.95 is no double, and a share of just 95 % is even. Parts of the whole, 5 and
     * 20 % of it, that no number of tips can overflow. */
    if (staggered <= tips / 20)
        return TCR_EVEN;
    return staggered <= tips / 5 ? TCR_MOSTLY_EVEN : TCR_UNEVEN;
}

const char *tcr_verdict_text(tcr_verdict verdict) {
    static const char *const text[TCR_VERDICTS] = {TCR_VERDICT_NAMES};
    return (int)verdict >= 0 && (int)verdict < TCR_VERDICTS ? text[verdict] : "unknown";
}

const char *tcr_verdict_words(tcr_verdict verdict, tcr_against against) {
    static const char *const words[][TCR_VERDICTS] = {
        [TCR_FITTED] = {"not judged", "even", "mostly even", "uneven"},
        [TCR_INTENDED] = {"not judged", "as mapped", "mostly as mapped", "not as mapped"}};
    if ((int)verdict < 0 || (int)verdict >= TCR_VERDICTS ||
        (against != TCR_FITTED && against != TCR_INTENDED))
        return "unknown";
    return words[against][verdict];
}

tcr_likeness tcr_likeness_of(const tcr_symmetry *symmetry, double tolerance_mm) {
    if (symmetry == NULL)
        return TCR_UNLIKE;
    return symmetry->max_mm <= tolerance_mm         ? TCR_ALIKE
           : symmetry->level_max_mm <= tolerance_mm ? TCR_ALIKE_BUT_HEIGHT
                                                    : TCR_UNLIKE;
}

const char *tcr_likeness_text(tcr_likeness likeness) {
    static const char *const text[TCR_LIKENESSES] = {"alike", "alike-but-for-height", "unlike"};
    return (int)likeness >= 0 && (int)likeness < TCR_LIKENESSES ? text[likeness] : "unknown";
}

tcr_status tcr_check_judge(const tcr_check *check, unsigned sides, tcr_judgement *judgement) {
    if (check == NULL || judgement == NULL)
        return TCR_E_ARGUMENT;
    const tcr_against against = tcr_check_against(check);
    tcr_judgement sum = {.rms_mm = NAN, .within_tolerance = NAN};
    double squares = 0.0;
    size_t eyes = 0, judged = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        if (eye == NULL || (sides & 1u << side) == 0)
            continue;
        const bool fitted = against == TCR_FITTED;
        const double rms = (fitted ? &eye->fitted : &eye->intended)->upright.rms_mm;
        eyes++;
        sum.lashes += eye->lashes;
        sum.tips += eye->extended;
        sum.staggered += eye->staggered;
        if ((fitted ? eye->fitted_status : eye->intended_status) != TCR_OK)
            continue;
        squares += rms * rms * (double)eye->extended;
        judged += eye->verdict != TCR_NOT_JUDGED;
    }
    if (eyes == 0)
        return TCR_E_MISSING;
    if (judged == eyes) {
        sum.rms_mm = sqrt(squares / (double)sum.tips);
        sum.within_tolerance = (double)(sum.tips - sum.staggered) / (double)sum.tips;
        sum.verdict = tcr_verdict_of(sum.tips, sum.staggered);
    }
    *judgement = sum;
    return TCR_OK;
}

tcr_status tcr_check_likeness(const tcr_check *check, tcr_likeness *likeness) {
    tcr_symmetry symmetry;
    if (likeness == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_check_symmetry(check, &symmetry);
    if (status != TCR_OK)
        return status;
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_check_eye(check, (tcr_side)side)->too_few)
            return TCR_E_FEW;
    *likeness = tcr_likeness_of(&symmetry, tcr_check_tolerance(check));
    return TCR_OK;
}
