/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXPORT_H
#define TCR_EXPORT_H

/* TCR_API marks what a shared library shows to others; everything else stays inside. */
#if defined(__GNUC__)
#define TCR_API __attribute__((visibility("default")))
#else
#define TCR_API
#endif

#endif
