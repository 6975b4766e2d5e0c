/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VERSION_H
#define TCR_VERSION_H 
#include <tipcrest/export.h>
#define TCR_VERSION "0.2.0"
#define TCR_VERSION_MAJOR 0
#define TCR_VERSION_MINOR 2
#define TCR_VERSION_PATCH 0
#define TCR_VERSION_NUMBER (TCR_VERSION_MAJOR * 10000 + TCR_VERSION_MINOR * 100 + TCR_VERSION_PATCH)
#define TCR_FORMAT 1
TCR_API const char *tcr_version(void);
#endif
