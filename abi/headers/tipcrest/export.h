/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXPORT_H
#define TCR_EXPORT_H 
#if defined(__cplusplus)
#define TCR_C extern "C"
#else
#define TCR_C 
#endif
#if defined(__GNUC__)
#define TCR_API TCR_C __attribute__((visibility("default")))
#else
#define TCR_API TCR_C
#endif
#endif
