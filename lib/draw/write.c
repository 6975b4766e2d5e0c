/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures as files: which format is written by what, and what all of them share. A file is made in
 * memory and handed over when it is whole, so a failure on the way leaves nothing half written.
 */
#include "draw/write.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "draw/sheet.h"
#include "draw/words.h"

static const tcr_picture_writer WRITERS[TCR_PICTURE_FORMATS] = {
    [TCR_PNG] = tcr_picture_png,
    [TCR_SVG] = tcr_picture_svg,
    [TCR_PDF] = tcr_picture_pdf,
};

bool tcr_picture_add(tcr_picture_file *file, const void *bytes, size_t count) {
    if (!file->lost && count > file->capacity - file->count) {
        const size_t capacity = 2 * file->capacity + count + 4096;
        char *grown = realloc(file->byte, capacity);
        file->lost = grown == NULL;
        if (grown != NULL) {
            file->byte = grown;
            file->capacity = capacity;
        }
    }
    if (file->lost || count == 0)
        return !file->lost;
    memcpy(file->byte + file->count, bytes, count);
    file->count += count;
    return true;
}

cairo_status_t tcr_picture_add_cairo(void *context, const unsigned char *bytes, unsigned count) {
    return tcr_picture_add(context, bytes, count) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

tcr_status tcr_picture_hand_over(tcr_picture_file *file, tcr_status status, tcr_sink sink,
                                 void *context) {
    if (status == TCR_OK && file->lost)
        status = TCR_E_MEMORY;
    if (status == TCR_OK && sink(context, file->byte, file->count) != 0)
        status = TCR_E_WRITE;
    free(file->byte);
    return status;
}

const char *tcr_picture_describe(char out[TCR_DESCRIPTION], const tcr_picture_view *view,
                                 const tcr_picture *picture) {
    char words[TCR_WORDS];
    if (picture->check == NULL) {
        snprintf(out, TCR_DESCRIPTION, "Eyelash extensions: %s.", view->brief);
        return out;
    }
    const tcr_view seen = tcr_check_view(picture->check);
    snprintf(out, TCR_DESCRIPTION, "Eyelash extensions: %s. Figures of the eye %s. %s", view->brief,
             tcr_say_view(words, &seen), tcr_sheet_drawn(picture));
    return out;
}

tcr_status tcr_picture_write(const char *view, tcr_picture_format format, const tcr_check *check,
                             const tcr_picture_options *options, tcr_sink sink, void *context) {
    const tcr_picture_view *found = tcr_picture_view_find(view);
    tcr_picture picture;
    if (found == NULL || sink == NULL || (unsigned)format >= TCR_PICTURE_FORMATS)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_picture_take(check, options, &picture);
    if (status != TCR_OK)
        return status;
    tcr_picture_file file = {0};
    return tcr_picture_hand_over(&file, WRITERS[format](found, &picture, &file), sink, context);
}

tcr_status tcr_step_picture_write(tcr_picture_format format, const tcr_set *set,
                                  const tcr_step_picture *step, const tcr_picture_options *options,
                                  tcr_sink sink, void *context) {
    tcr_picture picture;
    if (sink == NULL || (unsigned)format >= TCR_PICTURE_FORMATS)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_picture_take_step(set, step, options, &picture);
    if (status != TCR_OK)
        return status;
    tcr_picture_file file = {0};
    return tcr_picture_hand_over(&file, WRITERS[format](&tcr_picture_view_step, &picture, &file),
                                 sink, context);
}

tcr_status tcr_chart_write(tcr_picture_format format, const tcr_chart *chart,
                           const tcr_picture_options *options, tcr_sink sink, void *context) {
    tcr_picture picture;
    tcr_chart taken;
    if (sink == NULL || (unsigned)format >= TCR_PICTURE_FORMATS)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_picture_take_chart(chart, options, &taken, &picture);
    if (status != TCR_OK)
        return status;
    tcr_picture_file file = {0};
    return tcr_picture_hand_over(&file, WRITERS[format](&tcr_picture_view_study, &picture, &file),
                                 sink, context);
}
