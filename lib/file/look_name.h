/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_LOOK_NAME_H
#define TCR_FILE_LOOK_NAME_H

#include <tipcrest/look.h>

#include "file/error.h"

/* The look of a name. TCR_E_ARGUMENT with the names that there are; 'what' is what the caller calls
 * the value. */
tcr_status tcr_look_name_read(const char *what, const char *name, const tcr_look **look,
                              tcr_error *error);

#endif
