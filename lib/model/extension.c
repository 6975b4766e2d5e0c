/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Extensions for callers outside the kernels: validity, attachment, fibres (model.md, section 4).
 */
#include <tipcrest/extension.h>

#include <stddef.h>

#include "model/field_table.h"
#include "model/lash_kernel.h"
#include "model/valid.h"
#include "num/range.h"

tcr_bond tcr_bond_default(void) {
    tcr_bond bond = {0};
    tcr_fields_default(TCR_GROUP_BOND, &bond);
    return bond;
}

tcr_status tcr_bond_validate(const tcr_bond *bond, tcr_error *error) {
    return tcr_fields_validate(TCR_GROUP_BOND, bond, error);
}

tcr_status tcr_extension_validate(const tcr_extension *ext, tcr_error *error) {
    if (ext == NULL || !tcr_extension_is_in_range(ext))
        return tcr_fields_validate(TCR_GROUP_EXTENSION, ext, error);
    return tcr_profile_validate(&ext->profile, error);
}

tcr_status tcr_attach(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                      tcr_attachment *attachment) {
    tcr_status status = tcr_lash_validate(lash, NULL);
    if (status == TCR_OK)
        status = tcr_extension_validate(ext, NULL);
    if (status == TCR_OK)
        status = tcr_bond_validate(bond, NULL);
    if (status != TCR_OK)
        return status;
    return attachment == NULL ? TCR_E_ARGUMENT : tcr_attach_kernel(lash, ext, bond, attachment);
}

tcr_vec3 tcr_attachment_fibre(const tcr_attachment *attachment, const tcr_extension *ext, int j,
                              double s_mm) {
    if (attachment == NULL || ext == NULL || !tcr_profile_has_pieces(&ext->profile))
        return tcr_vec3_none();
    const tcr_arc_point at = tcr_arc_walk(&ext->profile, ext->length_mm, s_mm).point;
    if (s_mm <= attachment->bond_mm || ext->fan < 2) {
        const tcr_vec2 p = tcr_turned(attachment->base_angle_rad, at.x, at.y);
        return (tcr_vec3){attachment->base.x + p.x, attachment->base.y + p.y, attachment->base.z};
    }
    const tcr_arc_point from =
        tcr_arc_walk(&ext->profile, ext->length_mm, attachment->bond_mm).point;
    const tcr_vec2 rest = tcr_turned(-from.angle_rad, at.x - from.x, at.y - from.y);
    const tcr_sine_cosine turn =
        tcr_sine_cosine_of(ext->spread_rad * ((double)j / (ext->fan - 1) - 0.5));
    const tcr_vec2 p = tcr_turned(attachment->part_angle_rad, rest.x * turn.cosine, rest.y);
    return (tcr_vec3){attachment->part.x + p.x, attachment->part.y + p.y,
                      attachment->part.z + rest.x * turn.sine};
}
