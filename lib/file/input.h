/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_INPUT_H
#define TCR_FILE_INPUT_H

/* Inputs, read whole: files, opened with care, or what a host has in memory. */

#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/file.h>

#include "file/error.h"

/* Bytes a file may have at most; numbers of the contract (interface.md, "Limits and safety"). */
enum { TCR_SET_FILE_MAX = 1000 * 1000, TCR_SURVEY_MAX = 20 * 1000 * 1000 };

typedef struct tcr_input {
    char *bytes; /* with a NUL behind them */
    size_t size;
} tcr_input;

/*
 * Reads a regular file of at most 'limit' bytes whole. TCR_E_OPEN (cannot be opened or read),
 * TCR_E_CONTENT (not a regular file, or larger), TCR_E_MEMORY. The bytes are the caller's to
 * release.
 */
tcr_status tcr_input_read(const tcr_allocator *allocator, const char *path, size_t limit,
                          tcr_input *input, tcr_error *error);
void tcr_input_release(const tcr_allocator *allocator, tcr_input *input);

/* Says that an input is above its limit. */
tcr_status tcr_input_fail_large(tcr_error *error, tcr_place place, size_t limit);

/* The folder of a path with its slash, joined with a name; the caller's to release. NULL without
 * memory. */
char *tcr_input_join(const tcr_allocator *allocator, const char *path, const char *name);

/* A file that another one names, in messages: "survey" beside the "set file". */
typedef struct tcr_beside {
    const char *what, *whose;
    const char *path; /* of the one that names it */
} tcr_beside;

/*
 * Where a file is that another one names, by the rules of tcr_input_read_beside. *path is the
 * caller's to release, also after a failure.
 */
tcr_status tcr_input_find_beside(const tcr_allocator *allocator, const tcr_beside *beside,
                                 const char *name, tcr_place place, char **path, tcr_error *error);

/*
 * Reads a survey that a set file names. *path receives the folder of the set file joined with the
 * name, also on failure if there was memory for it, else NULL; it is the caller's to release.
 * 'place' is where the name stands: there, what is wrong with the name is told.
 */
typedef tcr_status (*tcr_survey_read)(void *context, const tcr_allocator *allocator,
                                      const char *set_path, const char *name, tcr_place place,
                                      tcr_input *input, char **path, tcr_error *error);

/* From a file: its name must be relative and lie, once links are followed, in the set file's folder
 * or below it. context is not used. */
tcr_status tcr_input_read_beside(void *context, const tcr_allocator *allocator,
                                 const char *set_path, const char *name, tcr_place place,
                                 tcr_input *input, char **path, tcr_error *error);

/* From the host's memory; context is a tcr_input_host. */
typedef struct tcr_input_host {
    tcr_survey_find find; /* may be NULL: there are none */
    void *context;
} tcr_input_host;
tcr_status tcr_input_hand_over(void *context, const tcr_allocator *allocator, const char *set_path,
                               const char *name, tcr_place place, tcr_input *input, char **path,
                               tcr_error *error);

/* What bytes are that are plainly no text, such as "a picture (PNG)"; NULL where nothing is known.
 */
const char *tcr_input_kind(const char *bytes, size_t size);

#endif
