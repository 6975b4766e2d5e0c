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
typedef enum tcr_picture_format { TCR_PNG = 0, TCR_SVG = 1, TCR_PDF = 2 } tcr_picture_format;
enum { TCR_PICTURE_FORMATS = 3 };
typedef struct tcr_picture_options {
    size_t size;
    double width_mm;
    double dpi;
    bool lines;
    bool staggered;
    bool companion;
    bool dark;
    bool eye[TCR_SIDES];
    tcr_view seat;
    bool from_head;
    double at_u;
    const tcr_check *with;
    int frame;
    int frames;
    const char *name, *with_name;
    bool has_apart;
    double apart_mm;
} tcr_picture_options;
enum { TCR_PICTURE_PIXELS_MAX = 12000, TCR_FRAMES_MAX = 600 };
TCR_API double tcr_picture_dpi_most(double width_mm);
TCR_API void tcr_picture_options_init(tcr_picture_options *options, size_t size);
static inline tcr_picture_options tcr_picture_options_default(void) {
    tcr_picture_options options;
    tcr_picture_options_init(&options, sizeof options);
    return options;
}
TCR_API size_t tcr_picture_views(void);
TCR_API const char *tcr_picture_view_name(size_t i);
TCR_API const char *tcr_picture_view_brief(size_t i);
TCR_API tcr_status tcr_picture_write(const char *view, tcr_picture_format format,
                                     const tcr_check *check, const tcr_picture_options *options,
                                     tcr_sink sink, void *context);
TCR_API tcr_status tcr_film_write(const tcr_check *check, const tcr_picture_options *options,
                                  const tcr_progress *progress, tcr_sink sink, void *context);
typedef struct tcr_step_picture {
    size_t size;
    tcr_side side;
    const char *curl;
    double length_mm;
    bool has_apart;
    double apart_mm;
} tcr_step_picture;
TCR_API void tcr_step_picture_init(tcr_step_picture *step, size_t size);
static inline tcr_step_picture tcr_step_picture_default(void) {
    tcr_step_picture step;
    tcr_step_picture_init(&step, sizeof step);
    return step;
}
TCR_API tcr_status tcr_step_picture_write(tcr_picture_format format, const tcr_set *set,
                                          const tcr_step_picture *step,
                                          const tcr_picture_options *options, tcr_sink sink,
                                          void *context);
typedef enum tcr_sheet_form {
    TCR_SHEET_FULL = 0,
    TCR_SHEET_ZONES = 1
} tcr_sheet_form;
enum { TCR_SHEET_FORMS = 2 };
TCR_API tcr_status tcr_work_sheet_write(const tcr_plan *plan, const tcr_plan_work *work,
                                        const tcr_check *after, tcr_sheet_form form, tcr_sink sink,
                                        void *context);
#endif
