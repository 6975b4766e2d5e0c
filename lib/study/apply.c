/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The values of a point, put into a trial's set: every struct that a factor is a member of is made
 * anew from the study's own set, so that nothing of an earlier point is left.
 */
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "num/error.h"
#include "study/study.h"

/* Whether a factor is one of a kind of key in an eye. */
static bool varies_eye(const tcr_study *study, int what, tcr_side side) {
    for (size_t i = 0; i < study->factors; i++) {
        const tcr_key *key = &study->factor[i].key;
        if (key->what == what && (key->sides >> side & 1u) != 0)
            return true;
    }
    return false;
}

/* Puts the values of the factors of a kind into their object; of zones, the first of them. */
static void put(const tcr_trial *trial, int what, int side, void *object) {
    const tcr_study *study = trial->study;
    for (size_t i = 0; i < study->factors; i++) {
        const tcr_key *key = &study->factor[i].key;
        if (key->what != what || (side >= 0 && (key->sides >> side & 1u) == 0))
            continue;
        void *at = key->zone >= 0 ? (tcr_zone *)object + key->zone : object;
        tcr_key_put(study->set, key, at, trial->value[i]);
    }
}

/* The value of a short; NaN if it is no factor. */
static double value_of(const tcr_trial *trial, int what) {
    for (size_t i = 0; i < trial->study->factors; i++)
        if (trial->study->factor[i].key.what == what)
            return trial->value[i];
    return NAN;
}

/* ---- What holds for the whole set ------------------------------------------------------------ */

/* A file gives a tolerance or a distance, not both: the one that varies takes the other's place. */
static tcr_status apply_line(tcr_trial *trial) {
    const tcr_study *study = trial->study;
    tcr_line_rule rule = *tcr_set_line(study->set);
    for (size_t i = 0; i < study->factors; i++)
        if (study->factor[i].key.what == TCR_AT_LINE &&
            study->factor[i].key.field->offset == offsetof(tcr_line_rule, tolerance_mm))
            rule.seen_from_mm = NAN;
    put(trial, TCR_AT_LINE, -1, &rule);
    return tcr_set_put_line(trial->set, &rule);
}

static tcr_status apply_rules(tcr_trial *trial) {
    const tcr_study *study = trial->study;
    tcr_status status = TCR_OK;
    if (tcr_study_varies(study, TCR_AT_LAYERING)) {
        tcr_layering layering = *tcr_set_layering(study->set);
        put(trial, TCR_AT_LAYERING, -1, &layering);
        status = tcr_set_put_layering(trial->set, &layering);
    }
    if (status == TCR_OK && tcr_study_varies(study, TCR_AT_BOND)) {
        tcr_bond bond = *tcr_set_bond(study->set);
        put(trial, TCR_AT_BOND, -1, &bond);
        status = tcr_set_put_bond(trial->set, &bond);
    }
    if (status == TCR_OK && tcr_study_varies(study, TCR_AT_VIEW)) {
        tcr_view view = *tcr_set_view(study->set);
        put(trial, TCR_AT_VIEW, -1, &view);
        status = tcr_set_put_view(trial->set, &view);
    }
    if (status == TCR_OK && tcr_study_varies(study, TCR_AT_MEAN_LASH)) {
        tcr_lash mean = *tcr_set_mean_lash(study->set);
        put(trial, TCR_AT_MEAN_LASH, -1, &mean);
        status = tcr_set_put_mean_lash(trial->set, &mean);
    }
    return status == TCR_OK && tcr_study_varies(study, TCR_AT_LINE) ? apply_line(trial) : status;
}

/* ---- What an eye has of its own -------------------------------------------------------------- */

/* Moves a length along with the longest zone, which gets its value to the last bit. */
static double move_length(double length_mm, double longest_mm, double to_mm) {
    return length_mm == longest_mm ? to_mm : length_mm + (to_mm - longest_mm);
}

static void put_shorts(const tcr_trial *trial, tcr_zone *zones, size_t count) {
    const tcr_set *set = trial->study->set;
    const double curl = value_of(trial, TCR_AT_CURL), to = value_of(trial, TCR_AT_LONGEST);
    const double longest = tcr_set_longest_mm(set);
    for (size_t z = 0; z < count; z++) {
        if (!isnan(curl)) {
            const char *label = tcr_set_curl(set, (size_t)curl)->label;
            memset(zones[z].curl, 0, sizeof zones[z].curl);
            memcpy(zones[z].curl, label, strlen(label));
        }
        if (isnan(to))
            continue;
        zones[z].length_mm = move_length(zones[z].length_mm, longest, to);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            if (zones[z].layer[layer].fixed & TCR_FIX_LENGTH)
                zones[z].layer[layer].length_mm =
                    move_length(zones[z].layer[layer].length_mm, longest, to);
    }
}

/* The map, or the intended map, with the values of the point. */
static tcr_status apply_map(tcr_trial *trial, tcr_side side, int what) {
    const tcr_study *study = trial->study;
    size_t count;
    const tcr_zone *zones = what == TCR_AT_ZONE ? tcr_set_map(study->set, side, &count)
                                                : tcr_set_intended(study->set, side, &count);
    if (count == 0 || (!varies_eye(study, what, side) && !tcr_study_varies(study, TCR_AT_CURL) &&
                       !tcr_study_varies(study, TCR_AT_LONGEST)))
        return TCR_OK;
    memcpy(trial->zone, zones, count * sizeof *zones);
    put_shorts(trial, trial->zone, count);
    put(trial, what, (int)side, trial->zone);
    return what == TCR_AT_ZONE ? tcr_set_put_map(trial->set, side, trial->zone, count)
                               : tcr_set_put_intended(trial->set, side, trial->zone, count);
}

static tcr_status apply_eye(tcr_trial *trial, tcr_side side, tcr_error *error) {
    const tcr_study *study = trial->study;
    tcr_status status = apply_map(trial, side, TCR_AT_ZONE);
    if (status == TCR_OK)
        status = apply_map(trial, side, TCR_AT_MEANT);
    if (status == TCR_OK && varies_eye(study, TCR_AT_LID, side)) {
        tcr_lid lid;
        (void)tcr_set_given_lid(study->set, side, &lid); /* the eye is there */
        put(trial, TCR_AT_LID, (int)side, &lid);
        status = tcr_set_replace_lid(trial->set, side, &lid);
    }
    if (status != TCR_OK && error != NULL)
        *error = *tcr_set_error(trial->set);
    const tcr_description *own = tcr_set_description(study->set, side);
    if (status == TCR_OK && own != NULL) {
        trial->description[side] = *own;
        put(trial, TCR_AT_DESCRIPTION, (int)side, &trial->description[side]);
        status = tcr_description_validate(&trial->description[side], error);
    }
    return status;
}

static tcr_status check_values(const tcr_study *study, const double *value, tcr_error *error) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < study->factors && status == TCR_OK; i++)
        status = tcr_key_validate(study->set, &study->factor[i].key, value[i], error);
    return status;
}

tcr_status tcr_trial_apply(tcr_trial *trial, const double *value, tcr_error *error) {
    const tcr_study *study = trial->study;
    const size_t bytes = study->factors * sizeof *value;
    if (trial->applied && (bytes == 0 || memcmp(trial->value, value, bytes) == 0))
        return TCR_OK;
    tcr_status status = check_values(study, value, error);
    if (status != TCR_OK)
        return status;
    trial->applied = false;
    if (bytes > 0)
        memcpy(trial->value, value, bytes);
    status = apply_rules(trial);
    if (status != TCR_OK && error != NULL)
        *error = *tcr_set_error(trial->set);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (tcr_set_has_eye(study->set, (tcr_side)side))
            status = apply_eye(trial, (tcr_side)side, error);
    trial->apart_mm = value_of(trial, TCR_AT_APART);
    trial->applied = status == TCR_OK;
    return status;
}
