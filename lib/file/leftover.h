/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_LEFTOVER_H
#define TCR_FILE_LEFTOVER_H

/* Temporary files that processes left behind when they were killed. */

#include <tipcrest/file.h>

#include "file/target.h"

/* Tells of each folder of the targets, by the chain of 'earlier', what was left over in it. */
void tcr_leftovers_say(const tcr_target *latest, tcr_leftover_say say, void *context);

#endif
