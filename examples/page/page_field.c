/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the page's controls stand: what the library read of a set, its defaults and its lists. */
#include "page.h"

#include <math.h>

/* ---- Fields ---------------------------------------------------------------------------------- */

/* A field by its group (tcr_group) and its key, or NULL. */
const tcr_field *PAGE(page_field)(int group, const char *key) {
    return tcr_field_find((tcr_group)group, key);
}

/* Its default and the end of its range, in the unit of files; NaN if there is none. */
double PAGE(page_standard)(const tcr_field *field) {
    return field != NULL ? field->file.standard : NAN;
}

double PAGE(page_most)(const tcr_field *field) { return field != NULL ? field->file.most : NAN; }

/* The source of its default (tcr_source). */
int PAGE(page_source)(const tcr_field *field) { return field != NULL ? (int)field->source : 0; }

/* The word of an enumeration for a value, or "". */
const char *PAGE(page_word)(const tcr_field *field, double value) {
    return field != NULL && field->words != NULL && value >= 0 && value <= field->core.most
               ? field->words[(int)value]
               : "";
}

static const void *object_of(const tcr_set *set, tcr_side side, tcr_group group) {
    switch (group) {
    case TCR_GROUP_LAYERING:
    case TCR_GROUP_PLACEMENT:
        return tcr_set_layering(set);
    case TCR_GROUP_LINE:
        return tcr_set_line(set);
    case TCR_GROUP_VIEW:
        return tcr_set_view(set);
    case TCR_GROUP_DESCRIPTION:
        return tcr_set_description(set, side);
    default:
        return NULL;
    }
}

/* A field of a slot's set, in the unit of files. NaN: the eye has no description, or no such group.
 */
double PAGE(page_value)(int slot, int side, int group, const tcr_field *field) {
    return tcr_field_value(field, object_of(page_set(slot), (tcr_side)side, (tcr_group)group));
}

/* From how far the tolerance of a slot's set is judged, mm. */
double PAGE(page_seen_from)(int slot) {
    const tcr_line_rule *rule = tcr_set_line(page_set(slot));
    if (rule == NULL)
        return NAN;
    return isnan(rule->seen_from_mm) ? tcr_distance_of(rule->tolerance_mm) : rule->seen_from_mm;
}

/* ---- Lists and views ------------------------------------------------------------------------- */

/* The lengths of a slot's tray, or of the default one: their number first; 0 for any length. */
const double *PAGE(page_tray)(int slot) {
    const tcr_set *set = page_set(slot);
    const tcr_tray tray = set != NULL ? *tcr_set_tray(set) : tcr_tray_default();
    double *out = page_numbers(1 + TCR_TRAY_MAX);
    if (out == NULL)
        return NULL;
    out[0] = (double)tray.count;
    for (size_t i = 0; i < tray.count; i++)
        out[1 + i] = tray.length_mm[i];
    return out;
}

/* The label of a curl of the catalogue; "" behind the last. */
const char *PAGE(page_catalogue_curl)(size_t i) {
    size_t count;
    const tcr_curl *all = tcr_curl_catalogue(&count);
    return i < count ? all[i].label : "";
}

/* The artist's view: opening, viewer in degrees. */
const double *PAGE(page_artist)(void) {
    const tcr_view view = tcr_view_named(TCR_ARTIST);
    double *out = page_numbers(2);
    if (out == NULL)
        return NULL;
    out[0] = view.opening;
    out[1] = tcr_field_value(tcr_field_find(TCR_GROUP_VIEW, "viewer_deg"), &view);
    return out;
}

/* How far the eye is open at a share of a blink's opening, and how long that takes, ms. */
double PAGE(page_blink)(double share) { return tcr_blink_opening(share); }
double PAGE(page_blink_ms)(void) { return TCR_BLINK_MS; }
