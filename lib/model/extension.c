/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Extensions for callers outside the kernels: validity, attachment, fibres (model.md, section 4).
 */
#include <tipcrest/extension.h>

#include <stddef.h>

#include "model/lash_kernel.h"
#include "num/range.h"

tcr_bond tcr_bond_default(void) {
    return (tcr_bond){.offset_mm = 0.7, .length_mm = 3.0, .glue_mm = 0.03};
}

tcr_status tcr_bond_check(const tcr_bond *bond) {
    if (bond == NULL)
        return TCR_E_ARGUMENT;
    const bool fits = tcr_within(bond->offset_mm, 0.0, 3.0) &&
                      tcr_within(bond->length_mm, 1.0, 8.0) && tcr_within(bond->glue_mm, 0.0, 0.2);
    return fits ? TCR_OK : TCR_E_RANGE;
}

tcr_status tcr_extension_check(const tcr_extension *ext) {
    if (ext == NULL || (int)ext->placement < 0 || (int)ext->placement >= TCR_PLACEMENTS)
        return TCR_E_ARGUMENT;
    const bool fits = tcr_within(ext->length_mm, 3.0, 30.0) &&
                      tcr_within(ext->diameter_mm, 0.02, 0.3) && ext->fan >= 1 && ext->fan <= 20 &&
                      tcr_within_degrees(ext->spread_rad, 0.0, 120.0);
    return fits ? tcr_profile_check(&ext->profile) : TCR_E_RANGE;
}

tcr_status tcr_attach(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                      tcr_attachment *attachment) {
    tcr_status status = tcr_lash_check(lash);
    if (status == TCR_OK)
        status = tcr_extension_check(ext);
    if (status == TCR_OK)
        status = tcr_bond_check(bond);
    if (status != TCR_OK)
        return status;
    return attachment == NULL ? TCR_E_ARGUMENT : tcr_attach_kernel(lash, ext, bond, attachment);
}

tcr_vec3 tcr_attachment_fibre(const tcr_attachment *attachment, const tcr_extension *ext, int j,
                              double s_mm) {
    const tcr_arc_point at = tcr_arc_walk(&ext->profile, ext->length_mm, s_mm).point;
    if (s_mm <= attachment->bond_mm || ext->fan < 2) {
        const tcr_vec2 p = tcr_turned(attachment->base_angle_rad, at.x, at.y);
        return (tcr_vec3){attachment->base.x + p.x, attachment->base.y + p.y, attachment->base.z};
    }
    const tcr_arc_point from =
        tcr_arc_walk(&ext->profile, ext->length_mm, attachment->bond_mm).point;
    const tcr_vec2 rest = tcr_turned(-from.angle_rad, at.x - from.x, at.y - from.y);
    const double turn = ext->spread_rad * ((double)j / (ext->fan - 1) - 0.5);
    const tcr_vec2 p = tcr_turned(attachment->part_angle_rad, rest.x * cos(turn), rest.y);
    return (tcr_vec3){attachment->part.x + p.x, attachment->part.y + p.y,
                      attachment->part.z + rest.x * sin(turn)};
}
