/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_INLINE_H
#define TCR_NUM_INLINE_H

/*
 * How functions in headers are compiled. TCR_LANE marks what loops over columns call: inlined at
 * any optimisation. TCR_SHARED marks longer functions, which the compiler inlines where it sees
 * fit.
 *
 * TCR_SMALL is for builds in which size counts for more than speed, such as the live page: nothing
 * is always inlined then, and each shared function is compiled once, in the one file that defines
 * TCR_SMALL_HERE before it includes their headers. The bits of results are the same.
 */
#ifdef TCR_SMALL_HERE
#define TCR_SHARED extern inline
#elif defined(TCR_SMALL)
#define TCR_SHARED inline
#else
#define TCR_SHARED static inline
#endif

#if defined(__GNUC__) && !defined(TCR_SMALL)
#define TCR_LANE static inline __attribute__((always_inline, unused))
#else
#define TCR_LANE static inline
#endif

#endif
