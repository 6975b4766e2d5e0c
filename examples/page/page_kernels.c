/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The longer functions of the library's kernels, compiled once for all files (lib/num/inline.h). */
#define TCR_SMALL_HERE
#include "model/evaluate.h"
