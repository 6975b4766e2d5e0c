/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_KEY_H
#define TCR_STUDY_KEY_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/field.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * Keys: what a study can vary in a set, by its path in the set file, with dots between its keys.
 *
 *     layering.step_mm                     opening
 *     layering.placement.middle            viewer_deg
 *     bond.glue_mm                         line.tolerance_mm
 *     mean_lash.turn_deg                   eyes.left.lid.mrd1_mm
 *     eyes.right.map.2.length_mm           eyes.right.map.2.top.curl
 *     eyes.left.lashes.describe.pitch_sd_deg
 *
 * An item of 'eyes' is called left or right, a zone by its number from 1 at the inner corner. A
 * path without "eyes.left." or "eyes.right." in front (lid.mrd1_mm, map.2.length_mm) is that of
 * every eye. The fields, their units and ranges are those of the table of fields (field.h), so a
 * new field is a new key. Shorts:
 *
 *     curl
 * The curl of every zone; what a zone fixes for a layer stays.
 *     longest_mm
 * The longest zone of the set; every length of the maps, fixed ones and those of intended maps too,
 * moves along by the same.
 *     apart_mm
 * 0 to 3: the heights of the lashes are moved so that the layers' mean heights lie this far apart;
 * the bottom layer stays (tcr_layer_heights_apart).
 *     placement.LAYER
 * layering.placement.LAYER.
 *     describe.KEY
 * lashes.describe.KEY, of every eye.
 *
 * What a lash's own row gives in a survey wins over map and rule, so it stays as it is.
 */
enum { TCR_KEY_SIZE = 64 }; /* bytes for any key, NUL included */

/* What a key is in a set. */
typedef struct tcr_key {
    char name[TCR_KEY_SIZE]; /* the full path, or the short curl, longest_mm or apart_mm */
    tcr_kind kind; /* of its values; those of TCR_KIND_LABEL are labels of the set's curls */
    tcr_unit unit;
    double least, most;       /* range in the unit of files; of a label the indices of the curls */
    const char *const *words; /* of an enumeration or a bool, indexed by number; else NULL */
    const char *note;         /* what it is in one plain line, or NULL; static storage */
    double now;     /* its value in the set, in the unit of files; NaN if it is unknown, or differs
                       between eyes */
    unsigned sides; /* bits 1 << tcr_side of the eyes that it is in; 0: of the whole set */
    const tcr_field *field; /* of the table of fields; of a short, the one whose range it has */
    int what, zone, layer;  /* used by the library */
} tcr_key;

/*
 * Finds a key in a set. TCR_E_MISSING if the set has no such key: error says why, and names the
 * nearest that it has. TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_key_find(const tcr_set *set, const char *key, tcr_key *found,
                                tcr_error *error);

/*
 * Lists the keys of a set, as paths of single eyes and shorts, in the order of set files. Call with
 * i = 0, 1, ... until it returns false. key receives key i. Cost: a pass over the keys before it.
 */
TCR_API bool tcr_key_at(const tcr_set *set, size_t i, tcr_key *key);

/*
 * Reads one value of a key: a number in the unit of files, a word ("outer-side", "true"), or the
 * label of a curl, from the whole of a text of 'bytes' bytes. value receives the number, the index
 * of the word, or the index of the curl in the set. TCR_E_RANGE (a number out of range or not
 * whole), TCR_E_CONTENT (no number, a word that is not known, a curl that the set lacks; error
 * names the nearest), TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_key_parse(const tcr_set *set, const tcr_key *key, const char *text,
                                 size_t bytes, double *value, tcr_error *error);

enum { TCR_KEY_VALUE_SIZE = 40 }; /* bytes for the text of any value, NUL included */

/*
 * Writes a value (unit of the key, any) as tcr_key_parse reads it, with the fewest digits that read
 * back as the same double; "" for a word or curl that does not exist and for NULL. Returns the
 * length.
 */
TCR_API size_t tcr_key_value_text(const tcr_set *set, const tcr_key *key, double value,
                                  char text[TCR_KEY_VALUE_SIZE]);

/*
 * Checks a value (unit of the key, the range of the key). TCR_E_RANGE (out of range, not finite,
 * not whole where a whole number is needed), TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_key_validate(const tcr_set *set, const tcr_key *key, double value,
                                    tcr_error *error);

/*
 * Reads the values of a key as people write them: a list "C,D,L" or "8,9.5,11", or a range
 * "0:2:0.5" (tcr_factor_range). level receives 'room' values at most; levels receives how many
 * there are. TCR_E_RANGE (also more than TCR_LEVELS_MAX), TCR_E_CONTENT, TCR_E_DUPLICATE (a value
 * twice), TCR_E_ARGUMENT. Nothing is written after an error. error may be NULL.
 */
TCR_API tcr_status tcr_key_parse_levels(const tcr_set *set, const tcr_key *key, const char *text,
                                        double *level, size_t room, size_t *levels,
                                        tcr_error *error);

#endif
