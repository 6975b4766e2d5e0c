/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_YAML_PROBLEM_H
#define TCR_FILE_YAML_PROBLEM_H

#include <yaml.h>

#include "file/error.h"

/*
 * Tells what libyaml's parser stumbled over, in words for people who never heard of YAML's grammar.
 * bytes is the text that was parsed.
 */
tcr_status tcr_yaml_problem(const yaml_parser_t *parser, const char *bytes, size_t size,
                            const char *path, tcr_error *error);

#endif
