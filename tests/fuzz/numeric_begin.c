/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The questions for a first set: any answers and any options, and what is written of them. */
#include "fuzz/numeric.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/begin.h>

#include "fuzz/claim.h"
#include "fuzz/sinks.h"

static int count_bytes(void *context, const void *bytes, size_t count) {
    (void)bytes;
    *(size_t *)context += count;
    return 0;
}

static void draw_options(tcr_bytes *bytes, tcr_begin_options *o) {
    o->eye[TCR_LEFT] = tcr_any_byte(bytes) % 4 != 3;
    o->eye[TCR_RIGHT] = tcr_any_byte(bytes) % 4 == 3;
    o->count = (size_t)tcr_any_whole(bytes, 0, 40);
    o->zones = tcr_any_byte(bytes) % 4 == 3 ? (size_t)tcr_any_whole(bytes, 0, 6) : 0;
    for (size_t i = 0; i < o->zones && i < TCR_ZONES_MAX; i++)
        o->length_mm[i] = tcr_any_number(bytes, 5.0, 20.0, 10.0);
    o->has_layers = tcr_any_byte(bytes) % 4 == 3;
    for (int i = 0; i < TCR_LAYERS; i++)
        o->layer_mm[i] = tcr_any_number(bytes, 5.0, 20.0, 12.0 - i);
    o->lash_mm = tcr_any_number(bytes, 1.0, 20.0, (double)NAN);
    o->mrd1_mm = tcr_any_number(bytes, 0.0, 8.0, (double)NAN);
    o->mrd1_right_mm = tcr_any_number(bytes, 0.0, 8.0, (double)NAN);
    o->diameter_mm = tcr_any_number(bytes, 0.02, 0.3, (double)NAN);
    o->seed[TCR_LEFT] = tcr_any_byte(bytes) % 4 == 3 ? UINT64_MAX : 0;
    o->tray_lengths = tcr_any_byte(bytes) % 8 == 7 ? (size_t)tcr_any_whole(bytes, 0, 6) : 0;
    for (size_t i = 0; i < o->tray_lengths && i < TCR_TRAY_MAX; i++)
        o->tray_mm[i] = tcr_any_number(bytes, 3.0, 30.0, 8.0 + (double)i);
}

/* A text of any bytes, mostly digits and what stands between them. */
static void draw_answer(tcr_bytes *bytes, char *answer, size_t size) {
    static const char USUAL[] = "0123456789 ,;.-/Cnaturlboheg";
    const uint8_t kind = tcr_any_byte(bytes);
    const size_t length = tcr_any_byte(bytes) % size;
    for (size_t i = 0; i < length; i++)
        answer[i] = (char)(kind < 200 ? USUAL[tcr_any_byte(bytes) % (sizeof USUAL - 1)]
                                      : tcr_any_byte(bytes));
    answer[length] = '\0';
}

void tcr_numeric_begin(tcr_bytes *bytes) {
    tcr_begin_options options = tcr_begin_options_default();
    tcr_error error = tcr_error_none();
    char answer[40], usual[TCR_BEGIN_ANSWER_SIZE], title[40];
    size_t questions, written = 0;
    tcr_begin_fit fit = {.step_mm = -1.0};
    (void)tcr_begin_questions(&questions);
    draw_options(bytes, &options);
    const tcr_status valid = tcr_begin_validate(&options, &error);
    if (valid != TCR_OK)
        tcr_claim_error(valid, &error);
    const bool lacks = tcr_begin_fit_of(&options, &fit);
    claim(lacks ? fit.step_mm >= 0.0 && valid == TCR_OK && fit.lacking <= TCR_TRAY_MAX
                : fit.step_mm == -1.0,
          "another fit: %d, %g mm, %zu lacking", lacks, fit.step_mm, fit.lacking);
    const tcr_status wrote = tcr_begin_write(&options, count_bytes, &written);
    claim(wrote == valid, "valid: %s, written: %s", tcr_status_text(valid), tcr_status_text(wrote));
    claim((written > 0) == (wrote == TCR_OK), "%zu bytes: %s", written, tcr_status_text(wrote));
    tcr_csv_options csv = tcr_csv_options_default();
    csv.decimal_comma = tcr_any_byte(bytes) % 2 == 1;
    csv.digits = tcr_any_whole(bytes, 0, 17);
    (void)tcr_begin_write_survey((tcr_side)tcr_any_choice(bytes, TCR_SIDES), &csv, count_bytes,
                                 &written);
    const size_t question = tcr_any_byte(bytes) % (questions + 1);
    if (valid == TCR_OK) {
        const tcr_status said = tcr_begin_usual(&options, question, usual);
        claim((question < questions) == (said == TCR_OK), "question %zu: %s", question,
              tcr_status_text(said));
    }
    if (options.count > 40 || tcr_any_byte(bytes) % 4 != 3)
        return; /* each answer takes a plan */
    tcr_begin_options few = tcr_begin_options_default();
    few.eye[TCR_RIGHT] = false;
    few.count = 20;
    (void)tcr_begin_try(&few, &error);
    (void)tcr_begin_find_seeds(&few, few.seed, &error);
    draw_answer(bytes, answer, sizeof answer);
    memcpy(title, answer, sizeof title);
    const tcr_begin_options before = few;
    error = tcr_error_none();
    const tcr_status status = tcr_begin_answer(&few, question, title, &error);
    if (status != TCR_OK) {
        tcr_claim_error(status, &error);
        claim(few.count == before.count && few.title == before.title && few.zones == before.zones &&
                  few.look == before.look && few.curl == before.curl &&
                  few.tray_lengths == before.tray_lengths && few.has_layers == before.has_layers,
              "\"%s\" changed the options", answer);
    } else {
        claim(tcr_begin_validate(&few, NULL) == TCR_OK, "\"%s\" was taken", answer);
    }
}
