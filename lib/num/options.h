/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_OPTIONS_H
#define TCR_NUM_OPTIONS_H

/*
 * Options structs that grow at their end (tipcrest.h). The first member of each is its size, a
 * size_t, as the program knows it.
 */

#include <stddef.h>

#include <tipcrest/status.h>

/*
 * Writes size bytes: of the defaults, which are own_size bytes, as many as there is room for, zeros
 * behind them, and size itself as the first member. Nothing where size has no room for itself or
 * options is NULL.
 */
void tcr_options_init(void *options, size_t size, const void *defaults, size_t own_size);

/*
 * Puts what was given over the defaults in own, which has own_size bytes and keeps that as its
 * size. Nothing is read behind the size that was given; NULL gives nothing. TCR_E_ARGUMENT, and own
 * stays as it was, where that size is 0, above own_size, or none that a struct with a size_t in it
 * can have.
 */
tcr_status tcr_options_take(void *own, size_t own_size, const void *given);

#endif
