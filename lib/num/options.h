/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_OPTIONS_H
#define TCR_NUM_OPTIONS_H

/*
 * Options structs that grow at their end while programs compiled against an older header go on
 * (tipcrest.h). The first member of each is its size, a size_t, as the program knows it.
 */

#include <stddef.h>

#include <tipcrest/status.h>

/* What a struct takes up to and with a member: the least size to accept, by the last member that
 * the first release had. */
#define TCR_SIZE_THROUGH(type, member) (offsetof(type, member) + sizeof(((type *)NULL)->member))

/*
 * Writes size bytes and no more: of the defaults, which are own_size bytes, as many as there is
 * room for, zeros behind them, and size itself as the first member. Where size has no room for
 * itself, or options is NULL, nothing is written.
 */
void tcr_options_init(void *options, size_t size, const void *defaults, size_t own_size);

/*
 * Puts what was given over the defaults in own, which has own_size bytes and keeps that as its
 * size. Nothing is read behind the size that was given; NULL gives nothing. TCR_E_ARGUMENT, and own
 * stays as it was, where that size is below least, above own_size, or none that a struct with a
 * size_t in it can have, so that no pointer is ever cut in two.
 */
tcr_status tcr_options_take(void *own, size_t own_size, size_t least, const void *given);

#endif
