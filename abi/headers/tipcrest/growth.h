/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_GROWTH_H
#define TCR_GROWTH_H 
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>
TCR_API double tcr_lash_turn_share(double q);
TCR_API tcr_status tcr_lash_full_grown(const tcr_lash *lash, tcr_lash *full);
TCR_API tcr_status tcr_lash_grow(const tcr_lash *lash, const tcr_lash *full, double length_mm,
                                 tcr_lash *grown);
#endif
