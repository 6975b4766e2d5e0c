/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a study computes, key by key. */
#include "results/record.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/text.h>
#include <tipcrest/version.h>

#include "num/memory.h"

/* A list that is longer stands as its digest. */
enum { LIST_BYTES_MAX = 300 };

static tcr_status reserve(tcr_record *r, size_t bytes) {
    if (bytes <= r->room - r->used)
        return TCR_OK;
    const size_t room = r->room + r->room / 2 + bytes + 1024;
    char *text = tcr_resize(r->allocator, r->text, room, 1);
    if (text == NULL)
        return TCR_E_MEMORY;
    r->text = text;
    r->room = room;
    return TCR_OK;
}

static tcr_status add(tcr_record *r, const char *before, const char *key, const char *value) {
    const size_t bytes = strlen(value) + 1;
    tcr_status status =
        tcr_grow(r->allocator, (void **)&r->item, r->items, &r->item_room, sizeof *r->item);
    if (status == TCR_OK)
        status = reserve(r, bytes);
    if (status != TCR_OK)
        return status;
    tcr_record_item *item = &r->item[r->items++];
    (void)snprintf(item->key, sizeof item->key, "%s%s", before, key);
    item->text = r->used;
    memcpy(r->text + r->used, value, bytes);
    r->used += bytes;
    return TCR_OK;
}

static tcr_status add_number(tcr_record *r, const char *before, const char *key, double value) {
    char text[TCR_NUMBER_SIZE];
    (void)tcr_number_text(value, text);
    return add(r, before, key, text);
}

static tcr_status add_count(tcr_record *r, const char *key, uint64_t value) {
    char text[24];
    (void)snprintf(text, sizeof text, "%llu", (unsigned long long)value);
    return add(r, "", key, text);
}

/* A list that is put together word by word; a long one becomes "1000 values, sha256:...". */
typedef struct list {
    char text[LIST_BYTES_MAX + TCR_DIGEST_SIZE + 40];
    size_t bytes, words;
    bool is_long;
    tcr_sha256 digest;
} list;

static void begin_list(list *l) {
    l->text[0] = '\0';
    l->bytes = l->words = 0;
    l->is_long = false;
    tcr_sha256_begin(&l->digest);
}

static void add_word(list *l, const char *word) {
    const size_t bytes = strlen(word);
    tcr_sha256_add(&l->digest, word, bytes + 1);
    if (l->bytes + bytes + 2 > LIST_BYTES_MAX)
        l->is_long = true;
    if (!l->is_long)
        l->bytes += (size_t)snprintf(l->text + l->bytes, sizeof l->text - l->bytes, "%s%s",
                                     l->words > 0 ? "," : "", word);
    l->words++;
}

static const char *end_list(list *l) {
    if (l->is_long) {
        char digest[TCR_DIGEST_SIZE];
        tcr_digest_text(&l->digest, digest);
        (void)snprintf(l->text, sizeof l->text, "%zu values, %s", l->words, digest);
    }
    return l->text;
}

/* ---- The study ------------------------------------------------------------------------------- */

static tcr_status add_factor(tcr_record *r, const tcr_set *set, const tcr_study_factor *f) {
    char value[TCR_KEY_VALUE_SIZE];
    const tcr_factor *factor = &f->factor;
    list l;
    begin_list(&l);
    if (factor->distribution == TCR_LEVELS) {
        for (size_t i = 0; i < factor->levels; i++) {
            (void)tcr_key_value_text(set, &f->key, factor->level[i], value);
            add_word(&l, value);
        }
        return add(r, "vary.", f->key.name, end_list(&l));
    }
    const struct {
        const char *name;
        double value;
        unsigned of; /* bits 1 << tcr_distribution */
    } number[] = {{"least", factor->least, 1u << TCR_UNIFORM | 1u << TCR_TRIANGULAR},
                  {"mode", factor->mode, 1u << TCR_TRIANGULAR},
                  {"most", factor->most, 1u << TCR_UNIFORM | 1u << TCR_TRIANGULAR},
                  {"mean", factor->mean, 1u << TCR_NORMAL},
                  {"sd", factor->sd, 1u << TCR_NORMAL}};
    size_t bytes =
        (size_t)snprintf(l.text, sizeof l.text, "%s", tcr_distribution_text(factor->distribution));
    for (size_t i = 0; i < sizeof number / sizeof *number; i++) {
        char text[TCR_NUMBER_SIZE];
        if ((number[i].of >> factor->distribution & 1u) == 0)
            continue;
        (void)tcr_number_text(number[i].value, text);
        bytes +=
            (size_t)snprintf(l.text + bytes, sizeof l.text - bytes, " %s %s", number[i].name, text);
    }
    return add(r, "vary.", f->key.name, l.text);
}

static tcr_status add_outputs(tcr_record *r, const tcr_study *study) {
    list l;
    begin_list(&l);
    for (size_t i = 0; i < tcr_study_output_count(study); i++)
        add_word(&l, tcr_study_output_at(study, i)->name);
    return add(r, "", "outputs", end_list(&l));
}

/* How surveyed lashes vary from run to run. */
static tcr_status add_spread(tcr_record *r, const tcr_description *spread) {
    static const char *const KEYS[] = {"height_sd_mm", "pitch_sd_deg", "yaw_sd_deg", "roll_sd_deg",
                                       "turn_sd_deg"};
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS && status == TCR_OK; i++) {
        const tcr_field *field = tcr_field_find(TCR_GROUP_DESCRIPTION, KEYS[i]);
        status = add_number(r, "spread.", KEYS[i], tcr_field_value(field, spread));
    }
    return status;
}

static tcr_status add_study(tcr_record *r, const tcr_study_file *file) {
    const tcr_study_options *o = &file->options;
    const tcr_set *set = tcr_set_file_set(file->set);
    tcr_status status = add(r, "", "version", tcr_version());
    for (size_t i = 0; i < tcr_study_factor_count(file->study) && status == TCR_OK; i++)
        status = add_factor(r, set, tcr_study_factor_at(file->study, i));
    if (status == TCR_OK)
        status = add(r, "", "design", tcr_design_text(o->design));
    if (status == TCR_OK && o->design != TCR_DESIGN_GRID)
        status = add_count(r, "points", o->points);
    if (status == TCR_OK && o->design == TCR_DESIGN_SENSITIVITY)
        status = add_count(r, "scramblings", o->scramblings);
    if (status == TCR_OK)
        status = add_count(r, "runs", o->runs);
    if (status == TCR_OK)
        status = add_count(r, "seed", o->seed);
    if (status == TCR_OK)
        status = add(r, "", "against", o->against == TCR_FITTED ? "fitted" : "intended");
    if (status == TCR_OK && o->runs > 0)
        status = add_spread(r, &o->spread);
    if (status == TCR_OK)
        status = add_outputs(r, file->study);
    return status == TCR_OK ? add(r, "", "title", tcr_study_file_title(file)) : status;
}

/* ---- The set --------------------------------------------------------------------------------- */

static int digest_sink(void *context, const void *bytes, size_t count) {
    tcr_sha256_add(context, bytes, count);
    return 0;
}

/* The set as it would be written, so that neither comments nor the order of keys count. */
static tcr_status add_set(tcr_record *r, const tcr_set *set) {
    tcr_sha256 context;
    char digest[TCR_DIGEST_SIZE];
    tcr_side sides[TCR_SIDES];
    tcr_set_write_options options = tcr_set_write_options_default();
    const size_t eyes = tcr_set_eyes(set, sides);
    for (size_t e = 0; e < eyes; e++)
        options.survey[sides[e]] = "survey.csv";
    tcr_sha256_begin(&context);
    tcr_status status = tcr_set_write(set, &options, digest_sink, &context);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        status = tcr_survey_write(set, sides[e], NULL, NULL, NULL, digest_sink, &context);
    if (status != TCR_OK)
        return status;
    tcr_digest_text(&context, digest);
    return add(r, "", "set", digest);
}

/* Every number that the set has of those that a study could vary, so that a change is named. */
static tcr_status add_keys(tcr_record *r, const tcr_set *set) {
    tcr_key key;
    tcr_status status = TCR_OK;
    for (size_t i = 0; status == TCR_OK && tcr_key_at(set, i, &key); i++) {
        char value[TCR_KEY_VALUE_SIZE];
        if (!isnan(key.now) && tcr_key_value_text(set, &key, key.now, value) > 0)
            status = add(r, "set.", key.name, value);
    }
    return status;
}

tcr_status tcr_record_make(const tcr_study_file *file, const tcr_allocator *allocator,
                           tcr_record *record) {
    const tcr_set *set = tcr_set_file_set(file->set);
    *record = (tcr_record){.allocator = allocator};
    tcr_status status = add_study(record, file);
    if (status == TCR_OK)
        status = add_keys(record, set);
    return status == TCR_OK ? add_set(record, set) : status;
}

void tcr_record_release(tcr_record *record) {
    tcr_release(record->allocator, record->item);
    tcr_release(record->allocator, record->text);
    record->item = NULL;
    record->text = NULL;
    record->items = record->used = 0;
}

const char *tcr_record_text(const tcr_record *record, size_t item) {
    return record->text + record->item[item].text;
}

const char *tcr_record_find(const tcr_record *record, const char *key) {
    for (size_t i = 0; i < record->items; i++)
        if (strcmp(record->item[i].key, key) == 0)
            return tcr_record_text(record, i);
    return NULL;
}

tcr_status tcr_study_file_digest(const tcr_study_file *file, char text[TCR_STUDY_DIGEST_SIZE]) {
    tcr_record record;
    if (file == NULL || text == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_record_make(file, &file->allocator, &record);
    if (status == TCR_OK)
        tcr_record_digest(&record, text);
    tcr_record_release(&record);
    return status;
}

void tcr_record_digest(const tcr_record *record, char text[TCR_DIGEST_SIZE]) {
    tcr_sha256 context;
    tcr_sha256_begin(&context);
    for (size_t i = 0; i < record->items; i++) {
        const char *value = tcr_record_text(record, i);
        tcr_sha256_add(&context, record->item[i].key, strlen(record->item[i].key) + 1);
        tcr_sha256_add(&context, value, strlen(value) + 1);
    }
    tcr_digest_text(&context, text);
}
