/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_STUDY_WRITTEN_H
#define TCR_TESTS_STUDY_WRITTEN_H

/*
 * Sets written out: set files with the values of a point, key by key, to be read back by
 * libtipcrest-file. Of a study only the names of keys are used here.
 */

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/lash.h>
#include <tipcrest/text.h>

#include "file/folder.h"
#include "support/check.h"
#include "support/make.h"

/* A factor: its key, and what it can be. */
typedef struct kind {
    const char *key;
    double low, high;
    const char *words; /* of a word: all of them in their order, with blanks between */
} kind;

#define CURLS "J B C CC D DD L M"
#define PLACEMENTS "top underside inner-side outer-side"
#define WHOLE "" /* a whole number */

/* Of one described eye. Ranges are such that most points are valid. */
static const kind DESCRIBED[] = {
    {"eyes.left.lid.fissure_width_mm", 24, 30, NULL},
    {"eyes.left.lid.canthal_tilt_deg", -5, 10, NULL},
    {"eyes.left.lid.inner_corner_height_mm", -2, 0, NULL},
    {"eyes.left.lid.mrd1_mm", 2, 5, NULL},
    {"eyes.left.lid.mrd2_mm", 4, 6, NULL},
    {"eyes.left.lid.peak_offset_mm", -2, 2, NULL},
    {"eyes.left.lid.fullness", 1, 2, NULL},
    {"eyes.left.lid.globe_radius_mm", 11.5, 14, NULL},
    {"eyes.left.lid.lateral_semiaxis_mm", 15.5, 20, NULL},
    {"eyes.left.lashes.describe.count", 20, 110, WHOLE},
    {"eyes.left.lashes.describe.seed", 1, 1e15, WHOLE},
    {"eyes.left.lashes.describe.phases", 0, 2, "A B none"},
    {"eyes.left.lashes.describe.gap_mm", 0, 2, NULL},
    {"eyes.left.lashes.describe.height_sd_mm", 0, 0.3, NULL},
    {"eyes.left.lashes.describe.pitch_deg", -20, 5, NULL},
    {"eyes.left.lashes.describe.pitch_sd_deg", 0, 11, NULL},
    {"eyes.left.lashes.describe.yaw_deg", -20, 0, NULL},
    {"eyes.left.lashes.describe.yaw_fan_deg", 0, 40, NULL},
    {"eyes.left.lashes.describe.yaw_sd_deg", 0, 8, NULL},
    {"eyes.left.lashes.describe.roll_deg", -10, 10, NULL},
    {"eyes.left.lashes.describe.roll_sd_deg", 0, 5, NULL},
    {"eyes.left.lashes.describe.length_mm", 6, 10, NULL},
    {"eyes.left.lashes.describe.length_sd_mm", 0, 2, NULL},
    {"eyes.left.lashes.describe.length_inner_share", 0.6, 1, NULL},
    {"eyes.left.lashes.describe.length_outer_share", 0.6, 1, NULL},
    {"eyes.left.lashes.describe.turn_deg", 30, 90, NULL},
    {"eyes.left.lashes.describe.turn_sd_deg", 0, 15, NULL},
    {"eyes.left.lashes.describe.root_diameter_mm", 0.06, 0.1, NULL},
    {"eyes.left.lashes.describe.root_diameter_sd_mm", 0, 0.02, NULL},
    {"eyes.left.lashes.describe.tip_diameter_mm", 0, 0.02, NULL},
    {"eyes.left.lashes.describe.stray_share", 0, 0.1, NULL},
    {"eyes.left.lashes.describe.stray_rise_mm", 0, 2, NULL},
    {"eyes.left.lashes.describe.baby_below_mm", 3, 6, NULL},
    {"eyes.left.lashes.describe.weak_below_mm", 0.04, 0.06, NULL},
    {"eyes.left.map.1.to", 0.2, 0.4, NULL},
    {"eyes.left.map.1.length_mm", 6.1, 12, NULL},
    {"eyes.left.map.1.curl", 0, 7, CURLS},
    {"eyes.left.map.2.to", 0.5, 0.8, NULL},
    {"eyes.left.map.2.length_mm", 6.1, 15, NULL},
    {"eyes.left.map.2.curl", 0, 7, CURLS},
    {"eyes.left.map.2.top.length_mm", 6, 14, NULL},
    {"eyes.left.map.2.top.curl", 0, 7, CURLS},
    {"eyes.left.map.2.top.diameter_mm", 0.05, 0.2, NULL},
    {"eyes.left.map.2.top.placement", 0, 3, PLACEMENTS},
    {"eyes.left.map.2.top.fan", 1, 8, WHOLE},
    {"eyes.left.map.2.top.spread_deg", 0, 60, NULL},
    {"eyes.left.map.3.length_mm", 6.1, 13, NULL},
    {"eyes.left.map.3.curl", 0, 7, CURLS},
    {"layering.step_mm", 0, 1.5, NULL},
    {"layering.diameter_mm", 0.05, 0.2, NULL},
    {"layering.fan", 1, 6, WHOLE},
    {"layering.spread_deg", 0, 60, NULL},
    {"layering.blend", 0, 1, "false true"},
    {"layering.placement.bottom", 0, 3, PLACEMENTS},
    {"layering.placement.middle", 0, 3, PLACEMENTS},
    {"layering.placement.top", 0, 3, PLACEMENTS},
    {"bond.offset_mm", 0.3, 1, NULL},
    {"bond.length_mm", 2, 4, NULL},
    {"bond.glue_mm", 0, 0.1, NULL},
    {"line.tolerance_mm", 0.2, 1, NULL},
    {"line.shared", 0, 1, "false true"},
    {"opening", 0.5, 1, NULL},
    {"viewer_deg", -20, 60, NULL},
};

/* Of two surveyed eyes. */
static const kind SURVEYED[] = {
    {"longest_mm", 9, 15, NULL},
    {"apart_mm", 0, 2, NULL},
    {"lid.mrd1_mm", 2.5, 4.5, NULL},
    {"eyes.right.lid.canthal_tilt_deg", 0, 8, NULL},
    {"eyes.left.map.1.curl", 0, 7, CURLS},
    {"eyes.right.map.2.top.placement", 0, 3, PLACEMENTS},
    {"eyes.right.intended.1.to", 0.3, 0.6, NULL},
    {"eyes.right.intended.2.curl", 0, 7, CURLS},
    {"line.seen_from_mm", 200, 1000, NULL},
    {"mean_lash.length_mm", 6, 9, NULL},
    {"mean_lash.height_mm", 0, 1, NULL},
    {"mean_lash.pitch_deg", -20, 0, NULL},
    {"mean_lash.yaw_deg", -10, 10, NULL},
    {"mean_lash.roll_deg", -5, 5, NULL},
    {"mean_lash.turn_deg", 40, 80, NULL},
    {"mean_lash.final_length_mm", 9, 12, NULL},
    {"mean_lash.root_diameter_mm", 0.06, 0.1, NULL},
    {"mean_lash.tip_diameter_mm", 0, 0.02, NULL},
    {"placement.middle", 0, 3, PLACEMENTS},
    {"opening", 0.5, 1, NULL},
};

enum { KINDS_MAX = 64 };

/* A point: the kinds with a value of each. */
typedef struct point {
    const kind *kinds;
    size_t n;
    double value[KINDS_MAX];
} point;

static inline void draw_point(gsl_rng *rng, point *p) {
    for (size_t i = 0; i < p->n; i++) {
        const kind *k = &p->kinds[i];
        double *value = &p->value[i];
        if (k->words != NULL) {
            *value = k->low + floor(gsl_rng_uniform(rng) * (k->high - k->low + 1.0));
            continue;
        }
        /* All digits, few, or an end. */
        *value = tcr_draw_between(rng, k->low, k->high);
        const unsigned long how = gsl_rng_uniform_int(rng, 10);
        if (how < 5)
            *value = round(*value * 1000.0) / 1000.0;
        else if (how == 5)
            *value = k->high;
    }
}

static inline double value_of(const point *p, const char *key) {
    for (size_t i = 0; i < p->n; i++)
        if (strcmp(p->kinds[i].key, key) == 0)
            return p->value[i];
    ck_abort_msg("no kind %s", key);
    return NAN;
}

/* ---- Set files ------------------------------------------------------------------------------- */

static inline void put_value(FILE *to, const kind *k, double value) {
    char text[TCR_NUMBER_SIZE];
    if (k->words == NULL || *k->words == '\0') {
        (void)tcr_number_text(value, text);
        fputs(text, to);
        return;
    }
    const char *word = k->words;
    for (int i = 0; i < (int)value; i++)
        word = strchr(word, ' ') + 1;
    fprintf(to, "%.*s", (int)strcspn(word, " "), word);
}

/* "key: value, ..." of those kinds whose key is one behind a path; 'also' goes before them. */
static inline void put_block(FILE *to, const point *p, const char *path, const char *also) {
    const char *between = *also != '\0' ? ", " : "";
    fprintf(to, "{%s", also);
    for (size_t i = 0; i < p->n; i++) {
        const kind *k = &p->kinds[i];
        const size_t bytes = strlen(path);
        if (strncmp(k->key, path, bytes) != 0 || strchr(k->key + bytes, '.') != NULL)
            continue;
        fprintf(to, "%s%s: ", between, k->key + bytes);
        put_value(to, k, p->value[i]);
        between = ", ";
    }
    fputs("}\n", to);
}

static inline void put_line(FILE *to, const point *p, const char *before, const char *path,
                            const char *also) {
    fputs(before, to);
    put_block(to, p, path, also);
}

static inline void put_top(FILE *to, const point *p, const char *key) {
    for (size_t i = 0; i < p->n; i++)
        if (strcmp(p->kinds[i].key, key) == 0) {
            fprintf(to, "%s: ", key);
            put_value(to, &p->kinds[i], p->value[i]);
            fputs("\n", to);
        }
}

static inline FILE *begin_file(const char *path) {
    FILE *to = fopen(path, "w");
    ck_assert_ptr_nonnull(to);
    fputs("tipcrest: 1\ntray: any\neyes:\n", to);
    return to;
}

static inline void write_described(const point *p) {
    FILE *to = begin_file("set.yaml");
    put_line(to, p, "  - side: left\n    lid: ", "eyes.left.lid.", "");
    put_line(to, p, "    lashes:\n      describe: ", "eyes.left.lashes.describe.", "");
    put_line(to, p, "    map:\n      - ", "eyes.left.map.1.", "");
    fputs("      - to: ", to);
    put_value(to, &p->kinds[0], value_of(p, "eyes.left.map.2.to"));
    fputs("\n        length_mm: ", to);
    put_value(to, &p->kinds[0], value_of(p, "eyes.left.map.2.length_mm"));
    fputs("\n        curl: ", to);
    put_value(to, &(kind){"", 0, 7, CURLS}, value_of(p, "eyes.left.map.2.curl"));
    put_line(to, p, "\n        top: ", "eyes.left.map.2.top.", "");
    put_line(to, p, "      - ", "eyes.left.map.3.", "to: 1");
    fputs("layering:\n", to);
    for (size_t i = 0; i < p->n; i++) {
        const char *key = p->kinds[i].key;
        if (strncmp(key, "layering.", 9) != 0 || strchr(key + 9, '.') != NULL)
            continue;
        fprintf(to, "  %s: ", key + 9);
        put_value(to, &p->kinds[i], p->value[i]);
        fputs("\n", to);
    }
    put_line(to, p, "  placement: ", "layering.placement.", "");
    put_line(to, p, "bond: ", "bond.", "");
    put_line(to, p, "line: ", "line.", "");
    put_top(to, p, "opening");
    put_top(to, p, "viewer_deg");
    fclose(to);
}

/* The heights of the survey's lashes by layer, as they are without apart_mm. */
static inline double height_in_survey(int i) { return 0.9 * (i % 3) + 0.01 * (i * 7 % 11) - 0.05; }

enum { LASHES = 60 };

/* A survey of which the heights may be moved; those of babies do not count for a layer's mean. */
static inline void write_survey(const char *path, int from, const double *apart_mm) {
    double sum[TCR_LAYERS] = {0.0}, mean[TCR_LAYERS];
    int count[TCR_LAYERS] = {0};
    static const char *const LAYERS[] = {"bottom", "middle", "top"};
    FILE *to = fopen(path, "w");
    ck_assert_ptr_nonnull(to);
    for (int i = from; i < from + LASHES; i++)
        if (i % 13 != 0) {
            sum[i % 3] += height_in_survey(i);
            count[i % 3]++;
        }
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        mean[layer] = sum[layer] / count[layer];
    fputs("id,u,layer,length_mm,height_mm,pitch_deg,yaw_deg,turn_deg,condition,ext_length_mm\n",
          to);
    for (int i = from; i < from + LASHES; i++) {
        char height[TCR_NUMBER_SIZE];
        const int layer = i % 3;
        double h = height_in_survey(i);
        if (apart_mm != NULL && layer > 0) /* source: study_key.h and mean.h */
            h = mean[0] + layer * *apart_mm + (h - mean[layer]);
        (void)tcr_number_text(h, height);
        fprintf(to, "x%02d,%.3f,%s,%.1f,%s,%d,%s,%d,%s,%s\n", i,
                0.05 + 0.9 * (i - from) / (LASHES - 1.0), LAYERS[layer], 6.5 + 0.1 * (i * 3 % 17),
                height, i % 9 - 14, i % 4 == 0 ? "" : "2", 50 + i % 20, i % 13 == 0 ? "baby" : "",
                i % 17 == 5 ? "11" : "");
    }
    fclose(to);
}

static inline void write_zone(FILE *to, const char *end, double length_mm, const char *curl) {
    char text[TCR_NUMBER_SIZE];
    (void)tcr_number_text(length_mm, text);
    fprintf(to, "      - to: %s\n        length_mm: %s\n        curl: %s\n", end, text, curl);
}

static inline const char *curl_of(double index) {
    static const char *const LABELS[] = {"J", "B", "C", "CC", "D", "DD", "L", "M"};
    return LABELS[(int)index];
}

/* p NULL: the set before anything varies, with a longest zone of 12 mm. */
static inline void write_surveyed(const point *p) {
    const double move = p != NULL ? value_of(p, "longest_mm") - 12.0 : 0.0;
    const double apart = p != NULL ? value_of(p, "apart_mm") : 0.0;
    char end[TCR_NUMBER_SIZE] = "0.5";
    FILE *to = begin_file("set.yaml");
    write_survey("left.csv", 0, p != NULL ? &apart : NULL);
    write_survey("right.csv", 100, p != NULL ? &apart : NULL);
    const point none = {NULL, 0, {0.0}};
    const point *known = p != NULL ? p : &none;
    fputs("  - side: left\n", to);
    put_line(to, known, "    lid: ", "lid.", "");
    fputs("    lashes: {survey: left.csv}\n    map:\n", to);
    write_zone(to, "0.4", 10.0 + move,
               p != NULL ? curl_of(value_of(p, "eyes.left.map.1.curl")) : "C");
    write_zone(to, "1", p != NULL ? value_of(p, "longest_mm") : 12.0, "D");
    fputs("  - side: right\n    lid: {", to);
    for (size_t i = 0; i < known->n; i++) {
        const char *key = known->kinds[i].key;
        if (strstr(key, "lid.") == NULL)
            continue;
        fprintf(to, "%s: ", strrchr(key, '.') + 1);
        put_value(to, &known->kinds[i], known->value[i]);
        fputs(strstr(key, "right") != NULL ? "" : ", ", to);
    }
    fputs("}\n    lashes: {survey: right.csv}\n    map:\n", to);
    write_zone(to, "0.6", 9.5 + move, "CC");
    fputs("        middle: {length_mm: ", to);
    char text[TCR_NUMBER_SIZE];
    (void)tcr_number_text(8.5 + move, text);
    fprintf(to, "%s}\n", text);
    write_zone(to, "1", 11.0 + move, "C");
    put_line(to, known, "        top: ", "eyes.right.map.2.top.", p != NULL ? "" : "fan: 1");
    fputs("    intended:\n", to);
    if (p != NULL)
        (void)tcr_number_text(value_of(p, "eyes.right.intended.1.to"), end);
    write_zone(to, end, 10.5 + move, "B");
    write_zone(to, "1", 11.5 + move,
               p != NULL ? curl_of(value_of(p, "eyes.right.intended.2.curl")) : "C");
    put_line(to, known, "mean_lash: ", "mean_lash.", "");
    put_line(to, known, "layering:\n  placement: ", "placement.", "bottom: inner-side");
    put_line(to, known, "line: ", "line.", "shared: false");
    put_top(to, known, "opening");
    fclose(to);
}

#endif
