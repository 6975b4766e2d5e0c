/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_BEGIN_H
#define TCR_BEGIN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

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
 * Part of libtipcrest-file. Thread-safe. Only tcr_begin_try, tcr_begin_find_seeds,
 * tcr_begin_answer, tcr_begin_place and tcr_begin_files allocate. Stack: below 40 kB.
 */
typedef struct tcr_begin_options {
    size_t size;         /* of this struct; set by tcr_begin_options_default */
    bool eye[TCR_SIDES]; /* eyes to write, by tcr_side; default both */
    /* The map: bottom lengths of equally wide zones from the inner corner, each in the tray, or
     * without a tray a whole or half millimetre from 5 to 20; default none: those of the look, of
     * which the longest is about 2.5 mm longer than the lashes. Of the tray's lengths the look then
     * uses those from which both upper layers find theirs. */
    size_t zones; /* 0 to TCR_ZONES_MAX */
    double length_mm[TCR_ZONES_MAX];
    const char *look; /* a name of look.h; NULL, the default: natural. If zones is not 0, it must be
                         NULL and the map has no look */
    const char *curl; /* a label of the catalogue; NULL, the default: C */
    /* Bottom, middle and top length in the longest zone; default: 1 mm shorter for each layer up,
     * or 0.5 or 0 mm if a given tray lacks the lengths for more, or has them only for zones longer
     * than the look's longest. */
    bool has_layers;
    double layer_mm[TCR_LAYERS];
    /* The path of each eye's survey, relative to the set file's folder; NULL, the default: the
     * lashes are described. For all eyes or none. */
    const char *survey[TCR_SIDES];
    /* The command's name in notes: UTF-8 on one line; NULL, the default: tipcrest. Best without
     * a folder, since the file may be read elsewhere. */
    const char *program;
    const char *title; /* UTF-8 on one line, at most 1023 bytes; NULL, the default: one that says
                          that the set is a first one */
    size_t count;      /* lashes of each eye, 1 to 100000; 0, the default: 96. Not with a survey */
    double lash_mm;    /* mean length of full-grown lashes, 1 to 20; NaN, the default: 7.5. Not with
                          a survey */
    double mrd1_mm;    /* of each lid (lid.h), 0 to 8; NaN, the default: not measured */
    double
        diameter_mm; /* of every fibre, 0.02 to 0.3; NaN, the default: 0.12, with which nearly all
                        default lashes bear default lengths by the limits that plan assumes */
    size_t tray_lengths; /* 0 to TCR_TRAY_MAX; 0, the default: 5 to 20 mm in steps of 1, or of 0.5
                            if lengths or layers need it */
    double tray_mm[TCR_TRAY_MAX]; /* lengths at hand, 3 to 30, in any order */
    bool decimal_comma;           /* surveys with decimal commas and semicolons; default false */
    double mrd1_right_mm; /* of the right eye's lid of two, 0 to 8; NaN, the default: as mrd1_mm */
    uint64_t seed[TCR_SIDES]; /* of each eye's described lashes (describe.h), below 2^53; 0, the
                                 default: 1 for the left eye, 2 for the right one. Ignored with a
                                 survey */
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
 * has), TCR_E_RANGE, TCR_E_CURL, TCR_E_CONTENT (the name of a survey), TCR_E_ARGUMENT. error may be
 * NULL; its path is empty, and its message begins with the option at fault: eyes, lengths, look,
 * curl, layers, survey, program, title, count, length, mrd1, mrd1-right, diameter, seed or tray.
 */
TCR_API tcr_status tcr_begin_validate(const tcr_begin_options *options, tcr_error *error);

/* What a tray makes of a map whose layers nobody gave, where that differs from the usual. */
typedef struct tcr_begin_fit {
    double step_mm; /* from layer to layer: 1, 0.5, or 0 for equal lengths */
    size_t zones;
    double length_mm[TCR_ZONES_MAX]; /* of the zones, on the bottom layer */
    size_t lacking; /* lengths that the tray lacks for layers by 1 mm and the look as it is; 0 if no
                       tray can have them */
    double lacking_mm[TCR_TRAY_MAX]; /* rising */
    bool keeps; /* where zones of the look are all alike, or the step is below 1 mm: with longer
                   zones the tray keeps some of the look at 1 mm less a layer, and 'kept_mm' are the
                   bottom lengths of the zones then */
    double kept_mm[TCR_ZONES_MAX];
} tcr_begin_fit;

/*
 * Whether the tray lacks lengths that the upper layers need by the usual step, so that the set has
 * a smaller step, or zones of the look have other lengths. 'fit' then receives what the set has.
 * False otherwise, for options that are wrong, and if 'fit' is NULL; fit is then left as it is.
 */
TCR_API bool tcr_begin_fit_of(const tcr_begin_options *options, tcr_begin_fit *fit);

/*
 * Checks the options, and whether the set can be judged and planned: tries a check and a plan of
 * described lashes, at most 400 an eye, also for a survey. TCR_E_NO_SOLUTION if an eye has too few
 * lashes for its extensions, TCR_E_MEMORY, or the statuses of tcr_begin_validate; error as there.
 * Cost: that of a plan. Stack: below 112 kB.
 */
TCR_API tcr_status tcr_begin_try(const tcr_begin_options *options, tcr_error *error);

/*
 * Finds seeds for the options, so that the client who is drawn can carry the map: the first of 1,
 * 3, 5, ... for the left eye and 2, 4, 6, ... for the right one, 32 each, with which enough lashes
 * carry extensions and none is beyond the limits that plan assumes (tcr_limits_default). Seeds in
 * the options count for nothing; seed may be those. It receives 0, the default, for an eye that is
 * not asked for or has no such seed, and for both eyes with more than 400 lashes, with a survey,
 * and where tcr_begin_try would refuse a client who is not the usual one. TCR_E_MEMORY, or the
 * statuses of tcr_begin_validate; seed is then all 0. TCR_E_ARGUMENT if seed is NULL. error may be
 * NULL. Cost: at most 64 checks of the set, and tcr_begin_try. Stack: below 112 kB.
 */
TCR_API tcr_status tcr_begin_find_seeds(const tcr_begin_options *options, uint64_t seed[TCR_SIDES],
                                        tcr_error *error);

/*
 * The questions for a first set, in the order to ask them. A host shows the text and the default,
 * reads a line, and passes it to tcr_begin_answer.
 */
typedef struct tcr_begin_question {
    const char *key;  /* one word, such as "count": the option at fault in messages */
    const char *text; /* the question, on one line */
} tcr_begin_question;
enum { TCR_BEGIN_ANSWER_SIZE = 512 };

/* All questions, at most 10. count receives their number and may be NULL. Static storage. */
TCR_API const tcr_begin_question *tcr_begin_questions(size_t *count);

/*
 * Writes the answer to a question that an empty line stands for, given the answers so far. The text
 * is one that tcr_begin_answer takes. TCR_E_ARGUMENT (also for a question that does not exist), or
 * the statuses of tcr_begin_validate.
 */
TCR_API tcr_status tcr_begin_usual(const tcr_begin_options *options, size_t question,
                                   char text[TCR_BEGIN_ANSWER_SIZE]);

/*
 * Puts an answer into the options, and tries them (tcr_begin_try). Blanks about the answer are
 * dropped, and an empty answer is the default. A list may have commas, semicolons or blanks between
 * its lengths; "8-12" stands for 8 to 12 in steps of 1. mrd1 may be two numbers, the left
 * eye's and the right eye's. The options keep 'answer' itself for the
 * title, so it must live as long as they do; it is cut at the end. For other questions they keep
 * nothing of it. After a failure the options are as they were. Statuses of tcr_begin_try; the
 * message of error begins with an option's name and says what would be right. Stack: below 112 kB.
 */
TCR_API tcr_status tcr_begin_answer(tcr_begin_options *options, size_t question, char *answer,
                                    tcr_error *error);

/*
 * Writes the set file to a sink; context may be NULL. Statuses of tcr_begin_validate, and
 * TCR_E_WRITE if the sink stops.
 */
TCR_API tcr_status tcr_begin_write(const tcr_begin_options *options, tcr_sink sink, void *context);

/*
 * Writes an example survey of one eye to a sink; context may be NULL. csv may be NULL for the
 * defaults: decimal points, all digits. TCR_E_ARGUMENT, TCR_E_RANGE (digits), or TCR_E_WRITE if the
 * sink stops.
 */
TCR_API tcr_status tcr_begin_write_survey(tcr_side side, const tcr_csv_options *csv, tcr_sink sink,
                                          void *context);

/*
 * Checks that tcr_begin_files could write a set file to a path now: before the questions, so that
 * no answer is lost. It adds the file to outputs, which the caller frees without a commit, so that
 * nothing is left. Statuses as for tcr_begin_files. error may be NULL.
 */
TCR_API tcr_status tcr_begin_place(const char *set_path, tcr_outputs *outputs, tcr_error *error);

/*
 * Adds the set file at set_path to outputs (file.h) and writes it; the caller commits. The path
 * must end in .yaml or .yml unless it is a device, a pipe or "-" (standard output). If survey_path
 * is not NULL, it does the same for the survey; for two eyes FILE.csv becomes FILE-left.csv and
 * FILE-right.csv. The set file names these surveys instead of
 * those in the options, so they must be in its folder or below it.
 *
 * No file is overwritten: the paths must be new, also at the commit. TCR_E_WRITE (a file cannot be
 * written), TCR_E_OPEN, TCR_E_CONTENT (an unsuitable path, or a file exists), and the statuses of
 * tcr_begin_try, which is called first. After an error the outputs can only be freed. error may be
 * NULL. Stack: below 128 kB.
 */
TCR_API tcr_status tcr_begin_files(const tcr_begin_options *options, const char *set_path,
                                   const char *survey_path, tcr_outputs *outputs, tcr_error *error);

#endif
