/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loops of rows.c for one instruction set, under names of their own. */
#if defined(__x86_64__) && defined(__GNUC__)
#include "num/elementary_kernel.h"
#undef TCR_CLONED
#define TCR_CLONED __attribute__((target("avx2")))
#define tcr_seats_n tcr_seats_n_avx2
#define tcr_partings_n tcr_partings_n_avx2
#define tcr_tip_rows_n tcr_tip_rows_n_avx2
#include "../../lib/model/rows.c"
#else
typedef int tcr_no_such_set;
#endif
