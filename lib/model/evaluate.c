/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set with changes, evaluated as if it had been built so. */
#include "model/evaluate.h"

tcr_status tcr_variant_evaluate_one(const tcr_variant *v, size_t j, tcr_change change,
                                    const void *context, unsigned anew) {
    tcr_changed one = {j, *tcr_set_lash(v->set, v->side, v->index[j]), v->worn[j]};
    if (change != NULL)
        change(context, &one);
    const tcr_status status =
        tcr_evaluate_worn(&v->at, v->set, &one.lash, &one.worn, anew, &v->sight[j]);
    if (status != TCR_OK)
        return status;
    v->x_mm[j] = v->sight[j].seen.x;
    v->y_mm[j] = v->sight[j].seen.y;
    return TCR_OK;
}

tcr_status tcr_variant_evaluate(const tcr_variant *v, tcr_change change, const void *context,
                                unsigned anew) {
    tcr_status status = TCR_OK;
    for (size_t j = 0; j < v->n && status == TCR_OK; j++)
        status = tcr_variant_evaluate_one(v, j, change, context, anew);
    return status;
}
