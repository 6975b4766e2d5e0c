/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layering rule (model.md, section 7). */
#include <tipcrest/map.h>

#include "model/field_table.h"

tcr_layering tcr_layering_default(void) {
    tcr_layering layering = {0};
    tcr_fields_default(TCR_GROUP_LAYERING, &layering);
    tcr_fields_default(TCR_GROUP_PLACEMENT, &layering);
    return layering;
}

tcr_status tcr_layering_validate(const tcr_layering *layering, tcr_error *error) {
    const tcr_status status = tcr_fields_validate(TCR_GROUP_PLACEMENT, layering, error);
    return status == TCR_OK ? tcr_fields_validate(TCR_GROUP_LAYERING, layering, error) : status;
}
