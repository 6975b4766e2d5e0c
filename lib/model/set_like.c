/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set with what holds for the whole of another one. */
#include <tipcrest/set.h>

static tcr_status copy_rules(const tcr_set *from, tcr_set *to) {
    tcr_status status = tcr_set_title(to, tcr_set_get_title(from));
    if (status == TCR_OK)
        status = tcr_set_subject(to, tcr_set_get_subject(from));
    for (size_t i = 0; i < tcr_set_curl_count(from) && status == TCR_OK; i++)
        status = tcr_set_add_curl(to, tcr_set_get_curl(from, i));
    if (status == TCR_OK)
        status = tcr_set_layering(to, tcr_set_get_layering(from));
    if (status == TCR_OK)
        status = tcr_set_tray(to, tcr_set_get_tray(from));
    if (status == TCR_OK)
        status = tcr_set_bond(to, tcr_set_get_bond(from));
    if (status == TCR_OK)
        status = tcr_set_view(to, tcr_set_get_view(from));
    if (status == TCR_OK)
        status = tcr_set_tolerance(to, tcr_set_get_tolerance(from));
    if (status == TCR_OK)
        status = tcr_set_mean_lash(to, tcr_set_get_mean_lash(from));
    return status;
}

tcr_status tcr_set_new_like(const tcr_allocator *allocator, const tcr_set *from, tcr_set **set) {
    tcr_set *made;
    if (from == NULL || set == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_set_new(allocator, &made);
    if (status != TCR_OK)
        return status;
    status = copy_rules(from, made);
    if (status != TCR_OK) {
        tcr_set_free(made);
        return status;
    }
    *set = made;
    return TCR_OK;
}
