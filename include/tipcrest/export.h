/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXPORT_H
#define TCR_EXPORT_H

/* C++ has to be told that the library's functions are C's. */
#if defined(__cplusplus)
#define TCR_C extern "C"
#else
#define TCR_C
#endif

/* TCR_API marks what a shared library shows to others; everything else stays inside. */
#if defined(__GNUC__)
#define TCR_API TCR_C __attribute__((visibility("default")))
#else
#define TCR_API TCR_C
#endif

#endif
