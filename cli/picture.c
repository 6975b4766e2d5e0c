/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures that commands write beside their reports. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "picture.h"

#include <string.h>
#include <strings.h>

#include "common.h"

#ifdef TCR_WITH_DRAW

bool tcr_picture_format_of(const char *path, tcr_picture_format *format) {
    static const char *const ending[TCR_PICTURE_FORMATS] = {".png", ".svg", ".pdf"};
    const size_t length = strlen(path);
    for (int i = 0; i < TCR_PICTURE_FORMATS; i++)
        if (length > 4 && strcasecmp(path + length - 4, ending[i]) == 0) {
            *format = (tcr_picture_format)i;
            return true;
        }
    return false;
}

int tcr_text_sink_put(void *context, const void *bytes, size_t count) {
    const tcr_text_sink *to = context;
    return to->sink(to->context, bytes, count);
}

int tcr_picture_understand(const char *path, tcr_picture_format *format) {
    if (path == NULL || tcr_picture_format_of(path, format))
        return TCR_EXIT_DONE;
    return tcr_say_wrong("--picture is \"%s\"; it needs the name of a file that ends in .png, .svg "
                         "or .pdf",
                         path);
}

#else

int tcr_picture_understand(const char *path, tcr_picture_format *format) {
    (void)format;
    if (path == NULL)
        return TCR_EXIT_DONE;
    tcr_say("this tipcrest was built without pictures; leave out --picture, or build it with "
            "cairo");
    return TCR_EXIT_FAILED;
}

#endif
