/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VERSION_H
#define TCR_VERSION_H

#include <tipcrest/export.h>

#define TCR_VERSION "0.1.0"
#define TCR_FORMAT 1 /* the format number of set files and reports */

/* The version of the running library, such as "0.1.0". Static storage, never NULL. */
TCR_API const char *tcr_version(void);

#endif
