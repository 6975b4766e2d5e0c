/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures that commands write, alone or beside their reports. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "picture.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#include "common.h"
#include "num/number.h"

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

/* The size in millimetres and in points, and whether a PNG of it is not too large. */
static bool understand_size(const tcr_picture_words *words, tcr_picture_look *look) {
    tcr_picture_options *o = &look->options;
    if (words->dpi != NULL && look->format != TCR_PNG) {
        tcr_say("--dpi is for pictures that end in .png; \"%s\" has no points", words->path);
        return false;
    }
    if (words->width != NULL &&
        !tcr_option_number("--width", words->width, 20, 2000,
                           "a number of millimetres from 20 to 2000", &o->width_mm))
        return false;
    if (words->dpi != NULL &&
        !tcr_option_number("--dpi", words->dpi, 10, 1200,
                           "a number of points an inch from 10 to 1200", &o->dpi))
        return false;
    const double pixels = o->width_mm * o->dpi / 25.4;
    if (look->format != TCR_PNG || pixels <= TCR_PICTURE_PIXELS_MAX)
        return true;
    char width[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
    tcr_number_fixed(pixels, 0, width);
    tcr_number_fixed(floor(TCR_PICTURE_PIXELS_MAX * 25.4 / o->width_mm), 0, most);
    tcr_say("the picture would be %s pixels wide, and %d are the most; at this width, --dpi can be "
            "up to %s",
            width, TCR_PICTURE_PIXELS_MAX, most);
    return false;
}

int tcr_picture_understand(const tcr_picture_words *words, tcr_picture_look *look) {
    const char *stray = words->width != NULL ? "--width"
                        : words->dpi != NULL ? "--dpi"
                        : words->dark        ? "--dark"
                                             : NULL;
    *look = (tcr_picture_look){.options = tcr_picture_options_default()};
    look->options.dark = words->dark;
    if (words->path == NULL && stray != NULL)
        return tcr_say_wrong("%s is for a picture; say with %s FILE where it is to go", stray,
                             words->option);
    if (words->path == NULL)
        return TCR_EXIT_DONE;
    if (!tcr_picture_format_of(words->path, &look->format))
        return tcr_say_wrong("%s is \"%s\"; it needs the name of a file that ends in .png, .svg or "
                             ".pdf",
                             words->option, words->path);
    return understand_size(words, look) ? TCR_EXIT_DONE : TCR_EXIT_WRONG;
}

#else

int tcr_picture_understand(const tcr_picture_words *words, tcr_picture_look *look) {
    (void)look;
    if (words->path == NULL && words->width == NULL && words->dpi == NULL && !words->dark)
        return TCR_EXIT_DONE;
    tcr_say("this tipcrest was built without pictures; leave out --picture, or build it with "
            "cairo");
    return TCR_EXIT_FAILED;
}

#endif
