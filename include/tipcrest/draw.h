/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_H
#define TCR_DRAW_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/plan.h>
#include <tipcrest/progress.h>
#include <tipcrest/set.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>
#include <tipcrest/view.h>

/*
 * libtipcrest-draw makes pictures of a checked set as PNG, SVG or PDF, and a film as GIF.
 * draw_cairo.h draws them on a cairo context. A picture shows one of these views:
 *
 *   front        the eye as the check sees it, with lines, staggered tips and figures
 *   artist       the closed eye from the artist's seat, with zones and lengths of the map
 *   side         the profile at one place of the lid: the mean lash of each layer, dimensioned
 *   deviations   the deviation of each tip from the line, by layer, and their distribution
 *   layers       each layer alone, and the whole
 *   compare      two sets at one scale, each from the artist's seat and as the check sees it
 *   film         one moment of an opening eye
 *   why          the causes of unevenness one by one, and what helps (why.h)
 *   lesson       why 12/11/10, and when: equal and shortened layers in profile, and what the rule
 *                gains over how far the layers are apart (lesson.h)
 *
 * A separate picture, which needs no check, shows the level steps of step.h.
 *
 * Pango, GLib and fontconfig end the process when memory runs out; no other part of the libraries
 * does. So nothing is drawn unless 512 MB of addresses are free, of which most stay unused: a limit
 * on the process (RLIMIT_AS) gives TCR_E_MEMORY. A machine without memory can still end it; a
 * picture goes to the caller's sink when it is whole, so files stay whole even then. Memory comes
 * from the C library. Several threads may draw at once, even the same check, each on its own cairo
 * context. Stack: below 384 kB.
 */

typedef enum tcr_picture_format { TCR_PNG = 0, TCR_SVG = 1, TCR_PDF = 2 } tcr_picture_format;
enum { TCR_PICTURE_FORMATS = 3 };

typedef struct tcr_picture_options {
    size_t size;     /* of this struct; set by tcr_picture_options_default */
    double width_mm; /* 20 to 2000; default 254. Everything scales with it, text too */
    double dpi;      /* of a PNG, 10 to 1200; default 160 */
    bool lines;      /* fitted and intended line, and the band of the tolerance; default true */
    bool staggered;  /* rings around staggered tips, and at each tip the mark of its layer; default
                        true */
    bool companion;  /* front and artist: show the other of the two as a small picture beside it;
                        default true */
    bool dark;       /* dark background; default false */
    bool eye[TCR_SIDES]; /* eyes to draw, if the check has them; default both. Side and lesson
                            draw one: the first of them in the set */
    tcr_view seat;  /* the artist's view; default: the closed eye from 60 degrees above, assumed */
    bool from_head; /* artist: turned as the artist sees the eyes from the head of the couch, words
                       upright; default false: brow up */
    double at_u; /* share, 0.02 to 0.98; of the side view: the place along the lid; default 0.5 */
    const tcr_check *with; /* compare: a check of the second set; default NULL */
    int frame;             /* film: from 0; default 0 */
    int frames;            /* film: how many, 1 to TCR_FRAMES_MAX; default 24 */
    /* compare: the caller's names for the two sets, such as file names, in any bytes; shown if
     * their titles are the same or missing; default NULL */
    const char *name, *with_name;
    bool has_apart;  /* side and lesson: use 'apart_mm'; default false: the heights of the eye's own
                        layers */
    double apart_mm; /* 0 to 3, from layer to layer */
} tcr_picture_options;

/*
 * The longest side of a PNG in pixels (a PNG of 12000 x 6750 needs 324 MB while it is made), and
 * the most frames of a film.
 */
enum { TCR_PICTURE_PIXELS_MAX = 12000, TCR_FRAMES_MAX = 600 };

/*
 * The largest whole dpi at which a PNG of width_mm (above 0, not checked) stays within
 * TCR_PICTURE_PIXELS_MAX.
 */
TCR_API double tcr_picture_dpi_most(double width_mm);

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_picture_options_init(tcr_picture_options *options, size_t size);
static inline tcr_picture_options tcr_picture_options_default(void) {
    tcr_picture_options options;
    tcr_picture_options_init(&options, sizeof options);
    return options;
}

/* The number of views. */
TCR_API size_t tcr_picture_views(void);
/* The name of view i, or NULL if there is none. Static storage. */
TCR_API const char *tcr_picture_view_name(size_t i);
/* A line on what view i shows, or NULL if there is none. Static storage. */
TCR_API const char *tcr_picture_view_brief(size_t i);

/*
 * Writes a view of a check as a file to a sink, in one piece when it is whole; context may be NULL.
 * view is a name from the list above. options may be NULL for the defaults. The same check, options
 * and fonts give the same bytes. Time grows with the number of hairs up to 12000; beyond, the
 * picture shows an even selection and says so.
 *
 * TCR_E_ARGUMENT (view, format, compare without a second set), TCR_E_RANGE (an option, or a PNG
 * with a side above TCR_PICTURE_PIXELS_MAX), TCR_E_MISSING (no eye to draw, or the second set lacks
 * one), the status of a lash that cannot be placed on the lid, TCR_E_FONT, TCR_E_MEMORY (also for
 * errors of cairo), TCR_E_WRITE (the sink stopped).
 *
 * A PNG has its physical size (pHYs) and text chunks: Title (if the set has one), Software,
 * Description, and for each eye of the check, "left" or "right": left.lashes, left.extended,
 * left.fitted.rms_mm, left.fitted.p95_abs_mm, left.fitted.tolerance_mm,
 * left.fitted.within_tolerance, left.fitted.layer_offset_mm.bottom, .middle and .top ("null" for an
 * empty layer), left.intended.rms_mm, digit for digit as in the report; or left.fitted_reason. An
 * SVG is width_mm wide, and its unit is the millimetre. A PDF is one page of that width without a
 * date. A strip below its picture has a bar to check the size of a print: 50 mm long, or 10 mm on a
 * page narrower than 70 mm.
 */
TCR_API tcr_status tcr_picture_write(const char *view, tcr_picture_format format,
                                     const tcr_check *check, const tcr_picture_options *options,
                                     tcr_sink sink, void *context);

/*
 * Writes the film of an opening eye as one GIF that plays without end, slowly: about 2 s for a
 * blink of 77.6 ms. Of the options frame is ignored; frames is how many it has. A GIF has 256
 * colours, so that skin and iris are coarser than in the frames of tcr_picture_write. progress may
 * be NULL; it is asked once a frame, and its phase is "drawing". The film goes to the sink in
 * pieces while it is drawn. The statuses of tcr_picture_write, and TCR_E_STOPPED. The same check,
 * options and fonts give the same bytes.
 */
TCR_API tcr_status tcr_film_write(const tcr_check *check, const tcr_picture_options *options,
                                  const tcr_progress *progress, tcr_sink sink, void *context);

/*
 * A picture of the level steps (step.h): how much shorter than on the bottom layer an extension
 * must be on the middle and the top layer, over the bottom length, for each curl. It shows all
 * layers at the outer side, and the layers with the usual placement, with the nearest sizes of the
 * tray and what they leave over.
 */
typedef struct tcr_step_picture {
    size_t size;      /* of this struct; set by tcr_step_picture_default */
    tcr_side side;    /* the eye whose lid is used */
    const char *curl; /* a label; NULL, the default: every curl of the set, at most 16 */
    double length_mm; /* bottom length whose sizes are listed, 3 to 30; 0, the default: 12 */
    bool has_apart;   /* use 'apart_mm'; default false: the heights of the eye's own layers */
    double apart_mm;  /* 0 to 3, from layer to layer */
} tcr_step_picture;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_step_picture_init(tcr_step_picture *step, size_t size);
static inline tcr_step_picture tcr_step_picture_default(void) {
    tcr_step_picture step;
    tcr_step_picture_init(&step, sizeof step);
    return step;
}

/*
 * Writes the picture of the level steps, as tcr_picture_write does. Of the options it uses size,
 * width_mm, dpi and dark; options may be NULL. The set needs the eye, but no lash and no map.
 * TCR_E_MISSING (eye), TCR_E_CURL, TCR_E_RANGE (length, an option), TCR_E_FONT, TCR_E_MEMORY,
 * TCR_E_WRITE, TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_step_picture_write(tcr_picture_format format, const tcr_set *set,
                                          const tcr_step_picture *step,
                                          const tcr_picture_options *options, tcr_sink sink,
                                          void *context);

/* How much a work sheet says. */
typedef enum tcr_sheet_form {
    TCR_SHEET_FULL = 0, /* all, lash by lash */
    TCR_SHEET_ZONES = 1 /* what zones and layers get, on one page unless zones are many */
} tcr_sheet_form;
enum { TCR_SHEET_FORMS = 2 };

/*
 * Writes the work sheet of a plan, to print: a PDF of A4 pages, portrait, to a sink. The first page
 * has the maps of the eyes at 1:1 with a bar of 50 mm to check the print, each eye enlarged with
 * its zones, their lengths and numbered corrections, the choice for every zone and layer, and the
 * cautions. The following pages have the corrections, what to lay out, the lashes with the greatest
 * load, and the working order. A sheet of zones has its first page alone, with the number of lashes
 * in each zone and layer in place of corrections and loads. work is the plan's; after is a check of
 * the planned set (tcr_plan_apply). Statuses as for tcr_picture_write, TCR_E_ARGUMENT also
 * for the work of another plan and a set that does not fit the plan (tcr_plan_fits). The same input
 * and fonts give the same bytes.
 */
TCR_API tcr_status tcr_work_sheet_write(const tcr_plan *plan, const tcr_plan_work *work,
                                        const tcr_check *after, tcr_sheet_form form, tcr_sink sink,
                                        void *context);

#endif
