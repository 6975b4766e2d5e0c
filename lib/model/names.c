/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A text for every side, layer and placement, the word that set files and surveys use, and for why
 * a lash is bare. */
#include "model/names.h"

#include <stddef.h>

#include <tipcrest/set.h>

static const char *name_of(const char *const *names, size_t count, int value) {
    return value >= 0 && (size_t)value < count ? names[value] : "unknown";
}

const char *tcr_layer_text(tcr_layer layer) {
    static const char *const names[TCR_LAYERS] = {TCR_LAYER_NAMES};
    return name_of(names, TCR_LAYERS, (int)layer);
}

const char *tcr_placement_text(tcr_placement placement) {
    static const char *const names[TCR_PLACEMENTS] = {TCR_PLACEMENT_NAMES};
    return name_of(names, TCR_PLACEMENTS, (int)placement);
}

const char *tcr_side_text(tcr_side side) {
    static const char *const names[TCR_SIDES] = {TCR_SIDE_NAMES};
    return name_of(names, TCR_SIDES, (int)side);
}

const char *tcr_bare_text(tcr_status status, tcr_condition condition) {
    static const char *const CONDITIONS[TCR_CONDITIONS] = {[TCR_BABY] = "baby lash",
                                                           [TCR_STRAY] = "stray lash",
                                                           [TCR_WEAK] = "weak lash",
                                                           [TCR_SHEDDING] = "shedding lash"};
    const bool known = (unsigned)condition < TCR_CONDITIONS && CONDITIONS[condition] != NULL;
    switch (status) {
    case TCR_OK:
        return NULL;
    case TCR_E_BARE_BY_ROW:
        return "its row asks for none";
    case TCR_E_BOND:
        return "less than 1 mm of lash to bond to";
    default:
        return status == TCR_E_BARE && known ? CONDITIONS[condition] : tcr_status_text(status);
    }
}
