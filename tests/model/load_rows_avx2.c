/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loops of load_rows.c for one instruction set, under names of their own. */
#if defined(__x86_64__) && defined(__GNUC__)
#include "num/elementary_kernel.h"
#undef TCR_CLONED
#define TCR_CLONED __attribute__((target("avx2")))
#define tcr_load_rows_n tcr_load_rows_n_avx2
#include "../../lib/model/load_rows.c"
#else
typedef int tcr_no_such_set;
#endif
