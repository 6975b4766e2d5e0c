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
 * A first set file to edit: a map from a few words, and every important default, with notes on its
 * unit, its source and what to change first. Also an example survey with invented lashes, to fill
 * in. tcr_set_file_read reads both.
 *
 * Part of libtipcrest-file. Thread-safe. Only tcr_begin_files allocates.
 */
typedef struct tcr_begin_options {
    size_t size;         /* of this struct; set by tcr_begin_options_default */
    bool eye[TCR_SIDES]; /* eyes to write, by tcr_side; default both */
    /* The map: bottom lengths of equally wide zones from the inner corner, whole or half
     * millimetres from 5 to 20; default none: those of the look. */
    size_t zones; /* 0 to TCR_ZONES_MAX */
    double length_mm[TCR_ZONES_MAX];
    const char *look; /* a name of look.h; NULL, the default: natural. If zones is not 0, it must be
                         NULL and the map has no look */
    const char *curl; /* a label of the catalogue; NULL, the default: C */
    /* Bottom, middle and top length in the longest zone; default: 1 mm shorter for each layer
     * up. */
    bool has_layers;
    double layer_mm[TCR_LAYERS];
    /* The path of each eye's survey, relative to the set file's folder; NULL, the default: the
     * lashes are described. For all eyes or none. */
    const char *survey[TCR_SIDES];
    /* The command's name in notes: UTF-8 on one line; NULL, the default: tipcrest. Best without
     * a folder, since the file may be read elsewhere. */
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
 * Checks the options, which must not be NULL. TCR_E_TRAY (a layer would need a length that no tray
 * has), TCR_E_CURL, TCR_E_CONTENT (the name of a survey), TCR_E_ARGUMENT. error may be NULL; its
 * path is empty, and its message begins with the option at fault: eyes, lengths, look, curl,
 * layers, survey or program.
 */
TCR_API tcr_status tcr_begin_validate(const tcr_begin_options *options, tcr_error *error);

/*
 * Writes the set file to a sink; context may be NULL. Statuses of tcr_begin_validate, and
 * TCR_E_WRITE if the sink stops.
 */
TCR_API tcr_status tcr_begin_write(const tcr_begin_options *options, tcr_sink sink, void *context);

/*
 * Writes an example survey of one eye to a sink; context may be NULL. TCR_E_ARGUMENT, or
 * TCR_E_WRITE if the sink stops.
 */
TCR_API tcr_status tcr_begin_write_survey(tcr_side side, tcr_sink sink, void *context);

/*
 * Writes the set file to set_path, which must end in .yaml or .yml unless it is a device, a pipe or
 * "-" (standard output). If survey_path is not NULL, it writes the survey there too; for two eyes
 * FILE.csv becomes FILE-left.csv and FILE-right.csv. The set file names these surveys instead of
 * those in the options, so they must be in its folder or below it.
 *
 * No file is overwritten, and no file is put in place before all are ready. TCR_E_WRITE (a file
 * exists or cannot be written), TCR_E_OPEN, TCR_E_CONTENT (an unsuitable path), TCR_E_MEMORY, and
 * the statuses of tcr_begin_validate. error may be NULL.
 */
TCR_API tcr_status tcr_begin_files(const tcr_begin_options *options, const char *set_path,
                                   const char *survey_path, tcr_error *error);

#endif
