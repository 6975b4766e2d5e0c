/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Views (model.md, section 5). */
#include <tipcrest/view.h>

#include <math.h>
#include <stddef.h>

#include "model/field_table.h"
#include "num/elementary.h"
#include "num/range.h"

tcr_view tcr_view_named(tcr_named_view name) {
    switch (name) {
    case TCR_CLOSED_FRONT:
        return (tcr_view){0.0, 0.0};
    case TCR_ARTIST:
        return (tcr_view){0.0, 60.0 * TCR_DEG};
    case TCR_OPEN_FRONT:
    default:
        return (tcr_view){1.0, 0.0};
    }
}

tcr_status tcr_view_validate(const tcr_view *view, tcr_error *error) {
    return tcr_fields_validate(TCR_GROUP_VIEW, view, error);
}

tcr_vec2 tcr_view_project(const tcr_view *view, tcr_vec3 point) {
    if (view == NULL)
        return (tcr_vec2){NAN, NAN};
    const tcr_sine_cosine viewer = tcr_sine_cosine_of(view->viewer_rad);
    return (tcr_vec2){point.x, point.y * viewer.cosine - point.z * viewer.sine};
}
