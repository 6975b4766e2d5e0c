/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest draw: pictures of a set in one of several views, as PNG, SVG or PDF. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"
#include "progress.h"
#include "signals.h"
#include "work.h"

static const char ABOUT[] =
    "Draws the set in the set file SET. The ending of FILE, .png, .svg, .pdf, or .gif\n"
    "for a film that plays, chooses the format. VIEW is one of\n"
    "\n"
    "  front        the open eye from the front, with lines and tips that stick out\n"
    "  artist       the closed eye from the artist's seat at the head of the couch,\n"
    "               with the zones, lengths and layers of the map\n"
    "  side         the profile through one place of the lid: the average lash of\n"
    "               each layer, its extension, the bond, the gap between the tips\n"
    "  deviations   how far each tip lies off the line, by layer\n"
    "  layers       each layer by itself, and the whole set\n"
    "  compare      SET before and SET2 after, from the artist's seat and with the\n"
    "               eye open: what either shows\n"
    "  film         the eye as it opens: FILE.gif plays, slowly; FILE.png becomes N\n"
    "               pictures FILE-01.png, FILE-02.png ...\n"
    "  why          what makes the line uneven and what helps, cause by cause\n"
    "  lesson       why 12/11/10, and when: equal and shortened layers in profile,\n"
    "               and what the rule gains over how far the layers are apart\n";

static const char NOTES[] = "Files appear whole or not at all. A film appears as a whole.\n"
                            "\n" TCR_NOTES_EXIT;

#ifdef TCR_WITH_DRAW

typedef struct draw {
    const char *view; /* its name */
    const char *path;
    tcr_picture_look look;
    tcr_checked_set sets[2]; /* the second one to compare with */
} draw;

static bool shows(const draw *d, const char *view) { return strcmp(d->view, view) == 0; }

/* ---- The call ---------------------------------------------------------------------- */

/* Options that mean something in one view alone. */
static int refuse_strays(const draw *d, const tcr_call *call) {
    const struct {
        const tcr_value *value;
        const char *option, *view;
    } own[] = {
        {&call->at, "--at", "side"},
        {&call->with, "--with", "compare"},
        {&call->frames, "--frames", "film"},
        {&call->plain, "--plain", "front"},
        {&call->from_head, "--from-head", "artist"},
    };
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (own[i].value->text != NULL && !shows(d, own[i].view))
            return tcr_say_wrong("%s is for --view %s, not for --view %s", own[i].option,
                                 own[i].view, d->view);
    if (call->apart.count > 0 && !shows(d, "side") && !shows(d, "lesson"))
        return tcr_say_wrong("--apart is for --view side and --view lesson, not for --view %s",
                             d->view);
    if (shows(d, "compare") && call->with.text == NULL)
        return tcr_say_wrong("--view compare needs a second set to compare with: --with SET2");
    if (call->seen_from.text != NULL && (shows(d, "artist") || shows(d, "side")))
        return tcr_say_wrong("--seen-from sets the tolerance, of which --view %s shows nothing; "
                             "leave it out",
                             d->view);
    if (shows(d, "lesson") && (call->opening.text != NULL || call->viewer.text != NULL))
        return tcr_say_wrong("--view lesson shows the open eye from the front and the couch; leave "
                             "out --opening and --viewer");
    if (shows(d, "film") && call->opening.text != NULL)
        return tcr_say_wrong("--view film opens the eye from 0 to 1; leave out --opening");
    if (shows(d, "film") && d->look.format != TCR_PNG)
        return tcr_say_wrong("-o is \"%s\"; a film needs a name that ends in .gif or .png",
                             d->path);
    if (!shows(d, "film") && d->look.plays)
        return tcr_say_wrong(
            "-o is \"%s\"; only a film is a GIF; the view %s needs a name that ends in "
            ".png, .svg or .pdf",
            d->path, d->view);
    return TCR_EXIT_DONE;
}

/* In the artist's view the view of the call is the artist's, and the check stays as the set has it.
 */
static int understand(const tcr_call *call, draw *d) {
    const int status = tcr_picture_understand(call, "-o", &call->output, &d->look);
    if (status != TCR_EXIT_DONE)
        return status;
    tcr_picture_options *o = &d->look.options;
    if (call->plain.text != NULL)
        o->lines = o->staggered = false;
    for (int side = 0; call->eye.count > 0 && side < TCR_SIDES; side++)
        o->eye[side] = side == (int)call->eye.number[0];
    if (shows(d, "artist"))
        tcr_view_of(call, &o->seat);
    o->from_head = call->from_head.text != NULL;
    o->at_u = tcr_value_or(&call->at, o->at_u);
    o->has_apart = call->apart.count > 0;
    o->apart_mm = tcr_value_or(&call->apart, 0);
    o->frames = (int)tcr_value_or(&call->frames, o->frames);
    return refuse_strays(d, call);
}

/* ---- The sets ---------------------------------------------------------------------- */

/* Whether a set has one of the eyes asked for; where not, it was said. */
static bool has_eyes(const draw *d, const tcr_call *call, const char *path,
                     const tcr_checked_set *set) {
    for (int side = 0; side < TCR_SIDES; side++)
        if (d->look.options.eye[side] && tcr_check_eye(set->check, (tcr_side)side) != NULL)
            return true;
    /* Without --eye each eye is asked for, and a set has one at least. */
    tcr_say_wrong("%s has no %s eye; leave out --eye, or give the other side", path,
                  call->eye.text);
    return false;
}

/* Whether two sets to compare have an eye in common; where not, it was said. */
static bool share_an_eye(const char *const path[2], const tcr_checked_set sets[2]) {
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_check_eye(sets[0].check, (tcr_side)side) != NULL &&
            tcr_check_eye(sets[1].check, (tcr_side)side) != NULL)
            return true;
    const bool left = tcr_check_eye(sets[0].check, TCR_LEFT) != NULL;
    tcr_say_wrong(
        "%s has only a %s eye and %s only a %s eye; a comparison needs the same eye in both",
        path[0], left ? "left" : "right", path[1], left ? "right" : "left");
    return false;
}

/* What two sets are called where their titles do not tell them apart: by file, with the folders
 * where the files have one name. */
static void name_sets(const char *const path[2], tcr_picture_options *picture) {
    const char *const base[2] = {tcr_base_name(path[0]), tcr_base_name(path[1])};
    const bool alike = strcmp(base[0], base[1]) == 0;
    picture->name = alike ? path[0] : base[0];
    picture->with_name = alike ? path[1] : base[1];
}

/* Reads the set, or two to compare; an exit status. */
static int read_sets(const tcr_call *call, draw *d) {
    const char *const path[] = {call->set, call->with.text};
    const int count = call->with.text != NULL ? 2 : 1;
    tcr_error error;
    for (int i = 0; i < count; i++) {
        if (tcr_read_checked(call, path[i], !shows(d, "artist"), &d->sets[i], &error) != TCR_OK)
            return tcr_say_error(&error);
        if (!has_eyes(d, call, path[i], &d->sets[i]))
            return TCR_EXIT_WRONG;
    }
    if (count == 1)
        return TCR_EXIT_DONE;
    d->look.options.with = d->sets[1].check;
    name_sets(path, &d->look.options);
    return share_an_eye(path, d->sets) ? TCR_EXIT_DONE : TCR_EXIT_WRONG;
}

/* ---- The pictures ------------------------------------------------------------------ */

/* The name of a frame: -01, -02 ... before the ending, with as many digits as the last one needs.
 */
static const char *frame_name(char *out, size_t size, const draw *d, int frame) {
    const int stem = (int)strlen(d->path) - 4;
    const int digits = d->look.options.frames < 100 ? 2 : 3;
    if (!shows(d, "film") || d->look.plays)
        snprintf(out, size, "%s", d->path);
    else
        snprintf(out, size, "%.*s-%0*d%s", stem, d->path, digits, frame + 1, d->path + stem);
    return out;
}

/* Draws one picture, or a film that plays, into an output that is not in place yet. */
static tcr_status draw_one(const draw *d, int frame, const tcr_progress *progress,
                           tcr_outputs *outputs, tcr_error *error) {
    const size_t size = strlen(d->path) + 8;
    char *path = malloc(size);
    if (path == NULL)
        return tcr_fill_error(error, TCR_E_MEMORY, d->path);
    tcr_outputs_target to = {.outputs = outputs};
    tcr_picture_options options = d->look.options;
    options.frame = frame;
    frame_name(path, size, d, frame);
    tcr_status status = tcr_outputs_add(outputs, path, &to.index, error);
    if (status == TCR_OK) {
        status = d->look.plays
                     ? tcr_film_write(d->sets[0].check, &options, progress, tcr_outputs_sink, &to)
                     : tcr_picture_write(d->view, d->look.format, d->sets[0].check, &options,
                                         tcr_outputs_sink, &to);
        if (status == TCR_OK) /* a long film has more frames than there are descriptors */
            status = tcr_outputs_finish(outputs, to.index);
        if (status == TCR_E_WRITE) /* commit refuses and knows what went wrong */
            status = tcr_outputs_commit(outputs, error);
        else if (status != TCR_OK)
            tcr_fill_error(error, status, path);
    }
    free(path);
    return status;
}

/* Draws all pictures and puts them in place together; an exit status. */
static int draw_all(const draw *d, tcr_outputs *outputs) {
    const int frames = shows(d, "film") && !d->look.plays ? d->look.options.frames : 1;
    tcr_error error;
    tcr_watch watch;
    const tcr_progress progress = {tcr_watch_report, &watch};
    tcr_status status = TCR_OK;
    for (int k = 0; k < 2 && status == TCR_OK; k++)
        if (d->sets[k].file != NULL && tcr_protect_inputs(outputs, d->sets[k].file) != TCR_OK)
            status = tcr_fill_error(&error, TCR_E_MEMORY, d->path);
    tcr_watch_begin(&watch, "ends it without a picture");
    for (int frame = 0; frame < frames && status == TCR_OK; frame++) {
        status = draw_one(d, frame, &progress, outputs, &error);
        if (!d->look.plays)
            (void)tcr_watch_report(&watch, "drawing", (frame + 1.0) / frames);
    }
    tcr_watch_end(&watch);
    if (status == TCR_OK)
        status = tcr_commit_outputs(outputs, &error);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

static int run(const tcr_call *call) {
    draw d = {.view = call->view.text, .path = call->output.text};
    tcr_outputs *outputs = NULL;
    tcr_error error;
    int exit_status = understand(call, &d);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = read_sets(call, &d);
    if (exit_status == TCR_EXIT_DONE && tcr_new_outputs(&outputs) != TCR_OK) {
        tcr_fill_error(&error, TCR_E_MEMORY, d.path);
        exit_status = tcr_say_error(&error);
    }
    if (exit_status == TCR_EXIT_DONE)
        exit_status = draw_all(&d, outputs);
    tcr_free_outputs(outputs);
    tcr_free_checked(&d.sets[0]);
    tcr_free_checked(&d.sets[1]);
    return exit_status;
}

#else

static int run(const tcr_call *call) {
    tcr_picture_look look;
    return tcr_picture_understand(call, "draw", &call->output, &look);
}

#endif

const tcr_command tcr_command_draw = {
    "draw",      TCR_BIT_DRAW,
    TCR_ONE_SET, "draws a set from the front, the artist's seat, the side ...",
    ABOUT,       NOTES,
    run};
