/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_BEGIN_H
#define TCR_BEGIN_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/file.h>
#include <tipcrest/map.h>
#include <tipcrest/set.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>

/*
 * A first set file to change: a map from a few words, and every default that matters, with a note
 * of its unit, of where it comes from and of what to change first. And an example survey, with
 * invented lashes, to fill in. Both are what tcr_set_file_read takes.
 *
 * Part of libtipcrest-file. Thread-safe; no call allocates but tcr_begin_files.
 */
typedef struct tcr_begin_options {
    size_t size;         /* of this struct; set by tcr_begin_options_default */
    bool eye[TCR_SIDES]; /* which eyes, by tcr_side; default both */
    /* The map: lengths of evenly wide zones from the inner corner on the bottom layer, whole or
     * half millimetres from 5 to 20; default none, and then the look's. */
    size_t zones; /* 0 to TCR_ZONES_MAX */
    double length_mm[TCR_ZONES_MAX];
    const char *look; /* a name of look.h; NULL, the default: natural. NULL where zones is not 0 */
    const char *curl; /* of the catalogue; NULL, the default: C */
    /* Bottom, middle and top length in the longest zone; default: 1 mm less for each layer up. */
    bool has_layers;
    double layer_mm[TCR_LAYERS];
    /* The survey of each eye, as the set file is to name it (from its own folder); NULL, the
     * default: the lashes are described. For all eyes or none. */
    const char *survey[TCR_SIDES];
    /* The name of the command, for the notes that name one to type; UTF-8 on one line; NULL, the
     * default: tipcrest. Better without its folder: the file may be read elsewhere. */
    const char *program;
} tcr_begin_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_begin_options_init(tcr_begin_options *options, size_t size);
static inline tcr_begin_options tcr_begin_options_default(void) {
    tcr_begin_options options;
    tcr_begin_options_init(&options, sizeof options);
    return options;
}

/*
 * Whether a set file can be written from the options: TCR_OK, TCR_E_ARGUMENT, TCR_E_TRAY (a length
 * that no tray has, on some layer), TCR_E_CURL, or TCR_E_CONTENT (the name of a survey). error may
 * be NULL; its path is empty, and its message begins with the member of the options that is wrong:
 * eyes, lengths, look, curl, layers, survey or program.
 */
TCR_API tcr_status tcr_begin_check(const tcr_begin_options *options, tcr_error *error);

/* Writes the set file to a sink. As tcr_begin_check, or TCR_E_WRITE where the sink stops. */
TCR_API tcr_status tcr_begin_write(const tcr_begin_options *options, tcr_sink sink, void *context);

/* Writes an example survey of one eye to a sink. TCR_E_ARGUMENT, or TCR_E_WRITE as above. */
TCR_API tcr_status tcr_begin_write_survey(tcr_side side, tcr_sink sink, void *context);

/*
 * Writes the set file to set_path, which ends in .yaml or .yml unless it is a device or a pipe
 * ("-": standard output), and, where survey_path is not NULL, the survey to that path; for two
 * eyes, FILE.csv becomes FILE-left.csv and FILE-right.csv. The options' own survey names are not
 * used: the set file names these files, which must lie in its folder or below it.
 *
 * Nothing is overwritten, and nothing is put in place before all is ready. As tcr_begin_check, or
 * TCR_E_WRITE (a file that is there already or cannot be written), TCR_E_OPEN, TCR_E_CONTENT (a
 * path that cannot be), TCR_E_MEMORY. error may be NULL.
 */
TCR_API tcr_status tcr_begin_files(const tcr_begin_options *options, const char *set_path,
                                   const char *survey_path, tcr_error *error);

#endif
