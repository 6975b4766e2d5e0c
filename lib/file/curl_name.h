/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_CURL_NAME_H
#define TCR_FILE_CURL_NAME_H

#include <tipcrest/set.h>

#include "file/error.h"

/*
 * Reads the label of a curl that the set must know. TCR_E_CONTENT with the labels that there are.
 * 'name' is what the file calls the value.
 */
tcr_status tcr_curl_name_read(const tcr_set *set, const char *name, const char *text, size_t bytes,
                              char label[TCR_LABEL_SIZE], tcr_place place, tcr_error *error);

#endif
