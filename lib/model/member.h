/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_MEMBER_H
#define TCR_MODEL_MEMBER_H

/* A member of a struct as a number, for tables that name members by their offset. */

#include <math.h>
#include <stdint.h>

#include <tipcrest/field.h>

/* The label of a curl is its index, where the struct holds that (tcr_choice). */
static inline double tcr_member_value(tcr_kind kind, const void *at) {
    if (kind == TCR_KIND_DOUBLE)
        return *(const double *)at;
    switch (kind) {
    case TCR_KIND_INT:
    case TCR_KIND_ENUM:
        return *(const int *)at;
    case TCR_KIND_SIZE:
    case TCR_KIND_LABEL:
        return (double)*(const size_t *)at;
    case TCR_KIND_UINT64:
        return (double)*(const uint64_t *)at;
    case TCR_KIND_BOOL:
        return *(const bool *)at;
    case TCR_KIND_DOUBLE:
        break;
    }
    return NAN;
}

#endif
