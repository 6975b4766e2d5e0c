/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures that commands write, alone or beside their reports. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "picture.h"

#include <string.h>
#include <strings.h>

#include "common.h"

#ifdef TCR_WITH_DRAW

/* Of a film in one file, which is to be sent on; also in the help of --dpi. */
static const double FILM_DPI = 80;

/* Whether the name ends so. */
static bool ends_in(const char *path, const char *ending) {
    return strcasecmp(path + strlen(path) - 4, ending) == 0;
}

/* By the ending, which the table of options has checked. */
static tcr_picture_format format_of(const char *path) {
    const char *ending = path + strlen(path) - 4;
    return strcasecmp(ending, ".pdf") == 0   ? TCR_PDF
           : strcasecmp(ending, ".svg") == 0 ? TCR_SVG
                                             : TCR_PNG;
}

int tcr_picture_understand(const tcr_call *call, const char *option, const tcr_value *file,
                           tcr_picture_look *look) {
    const char *stray = call->width.text != NULL  ? "--width"
                        : call->dpi.text != NULL  ? "--dpi"
                        : call->dark.text != NULL ? "--dark"
                                                  : NULL;
    *look = (tcr_picture_look){.options = tcr_picture_options_default()};
    tcr_picture_options *o = &look->options;
    if (file->text == NULL)
        return stray == NULL ? TCR_EXIT_DONE
                             : tcr_say_wrong("%s is for a picture; add %s FILE, or leave it out",
                                             stray, option);
    look->format = format_of(file->text);
    look->plays = ends_in(file->text, ".gif");
    o->dark = call->dark.text != NULL;
    o->width_mm = tcr_value_or(&call->width, o->width_mm);
    o->dpi = tcr_value_or(&call->dpi, look->plays ? FILM_DPI : o->dpi);
    const double most = tcr_picture_dpi_most(o->width_mm);
    if (look->format == TCR_PNG && o->dpi > most)
        return tcr_say_wrong("a PNG has at most %d pixels in a row; at this width --dpi is at "
                             "most %.0f",
                             TCR_PICTURE_PIXELS_MAX, most);
    if (look->format != TCR_PNG && call->dpi.text != NULL)
        return tcr_say_wrong("--dpi is for a file that ends in .png or .gif; \"%s\" has no pixels",
                             file->text);
    return TCR_EXIT_DONE;
}

#else

int tcr_picture_understand(const tcr_call *call, const char *option, const tcr_value *file,
                           tcr_picture_look *look) {
    *look = (tcr_picture_look){0};
    if (file->text == NULL && call->width.text == NULL && call->dpi.text == NULL &&
        call->dark.text == NULL)
        return TCR_EXIT_DONE;
    tcr_say("this tipcrest was built without pictures; leave out %s, or build it with cairo",
            option);
    return TCR_EXIT_FAILED;
}

#endif
