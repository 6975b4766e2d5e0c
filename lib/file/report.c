/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the reports of a check share: words, reasons, and sums over both eyes. */
#include "file/report.h"

#include <math.h>

#include "num/range.h"

tcr_status tcr_report_validate(const tcr_check *check, tcr_sink sink) {
    if (check == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    const bool has_eyes =
        tcr_check_eye(check, TCR_LEFT) != NULL || tcr_check_eye(check, TCR_RIGHT) != NULL;
    return has_eyes ? TCR_OK : TCR_E_MISSING;
}

const char *tcr_word(const tcr_words *words, int value) {
    return value >= 0 && (size_t)value < words->count ? words->word[value] : "unknown";
}

const char *tcr_against_word(tcr_against against) {
    return against == TCR_FITTED ? "fitted" : "intended";
}

const char *tcr_bare_reason(const tcr_lash *lash, const tcr_lash_result *result) {
    return tcr_bare_text(result->status, lash->condition);
}

const char *tcr_no_line_reason(tcr_status status, size_t extended) {
    if (extended == 0)
        return "no lash carries an extension";
    if (status == TCR_E_FEW)
        return "fewer than three lashes carry an extension";
    return status == TCR_E_ONE_X ? "all tips stand above one place" : tcr_status_text(status);
}

const char *tcr_no_intended_reason(tcr_status status) {
    if (status == TCR_E_FEW)
        return "no lash carries an extension";
    return status == TCR_E_BOND    ? "the mean lash is too short to bond to"
           : status == TCR_E_ONE_X ? "all intended tips stand above one place"
                                   : tcr_status_text(status);
}

/* Adds what one eye assumed of a field; weight counts the lashes that stand behind per_unit. */
static void add_eye(const tcr_eye_result *eye, tcr_assumed *to, size_t *weight) {
    for (size_t i = 0; i < eye->assumptions; i++) {
        const tcr_assumption *from = &eye->assumption[i];
        if (from->field != to->field->bit)
            continue;
        to->count += from->count;
        if (isnan(from->per_unit) || eye->extended == 0)
            continue;
        const double unit = to->field->unit == TCR_UNIT_DEGREES ? TCR_DEG : 1.0;
        const double share = (double)eye->extended / (double)(*weight + eye->extended);
        const double before = *weight > 0 ? to->per_unit : 0.0;
        to->per_unit = before + share * (from->per_unit * unit - before);
        *weight += eye->extended;
    }
}

size_t tcr_collect_assumed(const tcr_check *check, tcr_assumed assumed[TCR_LASH_BITS]) {
    size_t count = 0, lashes = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        lashes += eye != NULL ? eye->lashes : 0;
    }
    for (unsigned bit = 1; bit < TCR_LASH_ALL; bit <<= 1) {
        tcr_assumed sum = {.field = tcr_lash_field(bit), .lashes = lashes, .per_unit = NAN};
        size_t weight = 0;
        for (int side = 0; side < TCR_SIDES; side++) {
            const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
            if (eye != NULL)
                add_eye(eye, &sum, &weight);
        }
        if (sum.count > 0)
            assumed[count++] = sum;
    }
    return count;
}
