/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_H
#define TCR_DRAW_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/plan.h>
#include <tipcrest/set.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>
#include <tipcrest/view.h>

/*
 * libtipcrest-draw: pictures of a checked set as a PNG, an SVG or a PDF; draw_cairo.h draws them on
 * a cairo context of the embedder's. A picture shows a set in one of several views, each known by
 * its name:
 *
 *   front        the eye as the check sees it, with lines, staggered tips and figures
 *   artist       the closed eye from the artist's seat, with zones and lengths of the map
 *   side         the profile through one place of the lid: the mean lash of each layer, dimensioned
 *   deviations   how far each tip lies off the line, by layer, and how many by how much
 *   layers       each layer alone, and the whole
 *   compare      two sets at one scale, each from the artist's seat and as the check sees it
 *   film         one moment of an opening eye
 *   why          what makes the line uneven and what helps, cause by cause (why.h)
 *
 * A picture of its own, which needs no check, shows the level steps of step.h.
 *
 * Pango and GLib end the process when memory runs out; drawing alone is exempt from "no memory is
 * an error". A picture goes to the caller's sink, so that files stay whole even then. Memory comes
 * from the C library. Different threads may draw at once, each on a cairo context of its own, also
 * the same check.
 */

typedef enum tcr_picture_format { TCR_PNG = 0, TCR_SVG = 1, TCR_PDF = 2 } tcr_picture_format;
enum { TCR_PICTURE_FORMATS = 3 };

typedef struct tcr_picture_options {
    size_t size; /* of this struct; set by tcr_picture_options_default */
    double
        width_mm; /* of the picture, 20 to 2000; default 254. Everything scales with it, text too */
    double dpi;   /* of a PNG, 10 to 1200; default 160 */
    bool lines;   /* fitted and intended line, and the band of the tolerance; default true */
    bool staggered; /* marks on staggered tips; default true */
    bool companion; /* in front and artist, the other of the two small beside it; default true */
    bool dark;      /* dark ground; default false */
    bool eye[TCR_SIDES];   /* which eyes to draw, of those that the check has; default both */
    tcr_view seat;         /* the artist's: the closed eye from 60 degrees above (assumed) */
    double at_u;           /* side: the place, 0.02 to 0.98; default 0.5 */
    const tcr_check *with; /* compare: the set after; default NULL */
    int frame, frames;     /* film: which of how many, frame from 0; default 0 of 24 */
    /* compare: what the caller calls the two sets, such as the names of their files, in any bytes;
     * shown where their titles are the same or missing; default NULL */
    const char *name, *with_name;
} tcr_picture_options;

/* The longest side of a PNG in pixels: a picture of 12000 x 6750 takes 324 MB while it is made. */
enum { TCR_PICTURE_PIXELS_MAX = 12000, TCR_FRAMES_MAX = 600 };

/* The largest whole dpi with which a PNG width_mm wide keeps to TCR_PICTURE_PIXELS_MAX; width_mm is
 * above 0. */
TCR_API double tcr_picture_dpi_most(double width_mm);

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_picture_options_init(tcr_picture_options *options, size_t size);
static inline tcr_picture_options tcr_picture_options_default(void) {
    tcr_picture_options options;
    tcr_picture_options_init(&options, sizeof options);
    return options;
}

/* The views that there are: name and what it shows in a line, static storage; NULL for i at or
 * beyond their number. */
TCR_API size_t tcr_picture_views(void);
TCR_API const char *tcr_picture_view_name(size_t i);
TCR_API const char *tcr_picture_view_brief(size_t i);

/*
 * A view of a check as a file, given to sink in pieces. options may be NULL for the defaults. The
 * same check, options and fonts give the same bytes. Time grows with the lashes up to 12000 hairs;
 * beyond, they are thinned out evenly and the sheet says so.
 *
 * TCR_E_ARGUMENT (no such view or format, compare without a second set), TCR_E_RANGE (an option, or
 * a PNG with a side above TCR_PICTURE_PIXELS_MAX), TCR_E_MISSING (none of the eyes asked for, or
 * the second set lacks one), the status of a place that no lash can stand at, TCR_E_MEMORY, also
 * where cairo reports an error, or TCR_E_WRITE (sink.h).
 *
 * A PNG has its physical size (pHYs) and text chunks: Title (where the set has one), Software,
 * Description, and for each eye of the check, "left" or "right": left.lashes, left.extended,
 * left.fitted.rms_mm, left.fitted.p95_abs_mm, left.fitted.tolerance_mm,
 * left.fitted.within_tolerance, left.fitted.layer_offset_mm.bottom, .middle and .top ("null" for an
 * empty layer), left.intended.rms_mm, digit for digit as in the report; or left.fitted_reason.
 * An SVG is as large as width_mm says, its unit the millimetre. A PDF is one page as wide, with a
 * strip below the picture that has a bar to check the size of a print by, 50 mm long, or 10 mm on a
 * page narrower than 70 mm. It carries no date.
 */
TCR_API tcr_status tcr_picture_write(const char *view, tcr_picture_format format,
                                     const tcr_check *check, const tcr_picture_options *options,
                                     tcr_sink sink, void *context);

/*
 * A picture of the level steps (step.h): how much shorter than on the bottom layer an extension
 * must be on the middle and the top one, over the bottom length, for each curl, with all at the
 * outer side and as it is taught, and the nearest sizes of the tray with what they leave over.
 */
typedef struct tcr_step_picture {
    size_t size;      /* of this struct; set by tcr_step_picture_default */
    tcr_side side;    /* whose lid */
    const char *curl; /* the label of one curl; NULL, the default: each of the set's, at most 16 */
    double length_mm; /* whose sizes stand beside, 3 to 30; 0, the default: 12 */
} tcr_step_picture;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_step_picture_init(tcr_step_picture *step, size_t size);
static inline tcr_step_picture tcr_step_picture_default(void) {
    tcr_step_picture step;
    tcr_step_picture_init(&step, sizeof step);
    return step;
}

/*
 * As tcr_picture_write does it; of the options, size, width_mm, dpi and dark
 * count. The set needs the eye, but no lash and no map. TCR_E_MISSING (eye), TCR_E_CURL,
 * TCR_E_RANGE (length).
 */
TCR_API tcr_status tcr_step_picture_write(tcr_picture_format format, const tcr_set *set,
                                          const tcr_step_picture *step,
                                          const tcr_picture_options *options, tcr_sink sink,
                                          void *context);

/*
 * The work sheet of a plan, to print: a PDF of A4 pages, portrait. The first page has the maps of
 * the eyes at 1:1 with a bar of 50 mm to check a print by, each eye larger with its zones and
 * corrections by number, what every zone and layer gets, and the cautions; the pages behind it have
 * the corrections, what to lay out, the lashes that carry most, and the working order. after: a
 * check of the planned set (tcr_plan_apply). Statuses as tcr_picture_write; the same input and
 * fonts give the same bytes.
 */
TCR_API tcr_status tcr_work_sheet_write(const tcr_plan *plan, const tcr_plan_work *work,
                                        const tcr_check *after, tcr_sink sink, void *context);

#endif
