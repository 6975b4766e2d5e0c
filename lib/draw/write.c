/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures as files: which format is written by what, and what all of them share. */
#include "draw/write.h"

#include <stdio.h>

#include "draw/sheet.h"
#include "draw/words.h"

static const tcr_picture_writer WRITERS[TCR_PICTURE_FORMATS] = {
    [TCR_PNG] = tcr_picture_png,
    [TCR_SVG] = tcr_picture_svg,
    [TCR_PDF] = tcr_picture_pdf,
};

bool tcr_picture_put(tcr_picture_sink *sink, const void *bytes, size_t count) {
    if (!sink->refused)
        sink->refused = sink->put(sink->context, bytes, count) != 0;
    return !sink->refused;
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
    tcr_picture_sink to = {.put = sink, .context = context};
    return WRITERS[format](found, &picture, &to);
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
    tcr_picture_sink to = {.put = sink, .context = context};
    return WRITERS[format](&tcr_picture_view_step, &picture, &to);
}
