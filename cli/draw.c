/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest draw: pictures of a set in one of several views, as PNG, SVG or PDF. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"

#ifdef TCR_WITH_DRAW

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/draw.h>

#include "call.h"
#include "picture.h"
#include "view.h"

static const char HELP[] =
    "usage: tipcrest draw SET --view VIEW -o FILE [--eye left|right] [--dark]\n"
    "                     [--width MM] [--dpi N] [--opening A] [--viewer DEG]\n"
    "                     [--against fitted|intended] [--plain] [--at U]\n"
    "                     [--with SET2] [--frames N]\n"
    "\n"
    "Draws the set in the set file SET. FILE ends in .png, .svg or .pdf, and that\n"
    "is what it becomes. VIEW is one of\n"
    "\n"
    "  front        the open eye from the front, with lines and staggered tips\n"
    "  artist       the closed eye from the artist's seat at the head of the couch,\n"
    "               with the zones, lengths and layers of the map\n"
    "  side         the profile through one place of the lid: the average lash of\n"
    "               each layer, its extension, the bond, the gap between the tips\n"
    "  deviations   how far each tip lies off the line, by layer\n"
    "  layers       each layer alone, and the whole\n"
    "  compare      SET before and SET2 after, from the artist's seat and with the\n"
    "               eye open: what the couch hides\n"
    "  film         the eye as it opens, in N pictures FILE-01.png, FILE-02.png ...\n"
    "  why          what makes the line uneven and what helps, cause by cause\n"
    "\n"
    "  --eye WHICH      left or right, the client's own; every eye unless given,\n"
    "                   and of two the right one in the profile\n"
    "  --dark           a dark ground\n"
    "  --width MM       how wide the picture is, 20 to 2000 mm; 254 unless given.\n"
    "                   A PDF has a bar to check the size of a print by\n"
    "  --dpi N          points an inch of a PNG, 10 to 1200; 160 unless given\n"
    "  --opening A      how far the eye is open, 0 closed to 1 open; unless given,\n"
    "                   as the set says. In the artist's view 0 unless given\n"
    "  --viewer DEG     how far the viewer is raised, -80 to 80 degrees; unless\n"
    "                   given, as the set says. In the artist's view 60 unless given\n"
    "  --against LINE   the line from which tips are measured, fitted or intended;\n"
    "                   fitted unless given\n"
    "  --plain          front: without lines and without marks on staggered tips\n"
    "  --at U           side: the place along the lid, 0.02 at the inner corner to\n"
    "                   0.98 at the outer one; 0.5 unless given\n"
    "  --with SET2      compare: the set after\n"
    "  --frames N       film: how many pictures, 2 to 600; 24 unless given\n"
    "\n"
    "Files appear whole or not at all, and a film as a whole.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed; 2 the call or the set is wrong.\n";

typedef struct draw_call {
    tcr_view_words view;
    const char *shows; /* the name of the view */
    const char *eye, *at, *with, *frames;
    bool plain;
    tcr_picture_words file;
    tcr_check_options check;
    tcr_picture_look look;
} draw_call;

/* ---- The call ---------------------------------------------------------------------- */

static bool shows(const draw_call *call, const char *view) {
    return strcmp(call->shows, view) == 0;
}

/* "front, artist, ... or film" */
static const char *view_list(char *out, size_t size) {
    const size_t count = tcr_picture_views();
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < count && used < size; i++)
        used += (size_t)snprintf(out + used, size - used, "%s%s", tcr_picture_view_name(i),
                                 i + 1 == count   ? ""
                                 : i + 2 == count ? " or "
                                                  : ", ");
    return out;
}

static int understand_view(const draw_call *call) {
    enum { LIST_SIZE = 200, NAMES_MAX = 32 };
    char list[LIST_SIZE];
    const char *names[NAMES_MAX];
    size_t count = tcr_picture_views();
    view_list(list, sizeof list);
    if (call->shows == NULL)
        return tcr_say_wrong("draw needs to know what to show: --view %s", list);
    count = count < NAMES_MAX ? count : NAMES_MAX;
    for (size_t i = 0; i < count; i++) {
        names[i] = tcr_picture_view_name(i);
        if (shows(call, names[i]))
            return TCR_EXIT_DONE;
    }
    const char *meant = tcr_suggest(call->shows, strlen(call->shows), names, count);
    if (meant != NULL)
        return tcr_say_wrong("--view is \"%s\"; perhaps %s was meant", call->shows, meant);
    return tcr_say_wrong("--view is \"%s\"; it is %s", call->shows, list);
}

static int understand_output(draw_call *call) {
    if (call->file.path == NULL)
        return tcr_say_wrong("draw needs a file to write: -o FILE.png, FILE.svg or FILE.pdf");
    const int status = tcr_picture_understand(&call->file, &call->look);
    if (status == TCR_EXIT_DONE && shows(call, "film") && call->look.format != TCR_PNG)
        return tcr_say_wrong("-o is \"%s\"; a film is a row of pictures that end in .png",
                             call->file.path);
    return status;
}

/* Options that mean something in one view only. */
static int refuse_strays(const draw_call *call) {
    const struct {
        bool given;
        const char *option, *view;
    } own[] = {
        {call->at != NULL, "--at", "side"},
        {call->with != NULL, "--with", "compare"},
        {call->frames != NULL, "--frames", "film"},
        {call->plain, "--plain", "front"},
    };
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (own[i].given && !shows(call, own[i].view))
            return tcr_say_wrong("%s is for --view %s, not for --view %s", own[i].option,
                                 own[i].view, call->shows);
    if (shows(call, "compare") && call->with == NULL)
        return tcr_say_wrong("--view compare needs a second set to compare with: --with SET2");
    if (shows(call, "film") && call->view.opening != NULL)
        return tcr_say_wrong("--view film opens the eye from 0 to 1; leave out --opening");
    return TCR_EXIT_DONE;
}

static bool understand_rest(draw_call *call) {
    tcr_picture_options *o = &call->look.options;
    double frames = o->frames;
    if (call->plain)
        o->lines = o->staggered = false;
    if (call->eye != NULL) {
        o->eye[TCR_LEFT] = strcmp(call->eye, "left") == 0;
        o->eye[TCR_RIGHT] = strcmp(call->eye, "right") == 0;
        if (!o->eye[TCR_LEFT] && !o->eye[TCR_RIGHT]) {
            tcr_say("--eye is \"%s\"; it is left or right", call->eye);
            return false;
        }
    }
    if (call->at != NULL &&
        !tcr_option_number("--at", call->at, 0.02, 0.98,
                           "a number from 0.02 (inner corner) to 0.98 (outer)", &o->at_u))
        return false;
    static const char FRAMES[] = "a whole number from 2 to 600";
    if (call->frames != NULL &&
        !tcr_option_number("--frames", call->frames, 2, TCR_FRAMES_MAX, FRAMES, &frames))
        return false;
    if (frames != floor(frames)) {
        tcr_say("--frames is \"%s\"; it needs %s", call->frames, FRAMES);
        return false;
    }
    o->frames = (int)frames;
    return true;
}

static int understand(void *context) {
    draw_call *call = context;
    int status = tcr_view_understand("draw", &call->view, &call->check);
    if (status == TCR_EXIT_DONE)
        status = understand_view(call);
    if (status == TCR_EXIT_DONE)
        status = understand_output(call);
    if (status == TCR_EXIT_DONE)
        status = refuse_strays(call);
    if (status == TCR_EXIT_DONE && !understand_rest(call))
        status = TCR_EXIT_WRONG;
    return status;
}

/* ---- The sets ---------------------------------------------------------------------- */

/* A set file and its check; all zero to begin with. */
typedef struct checked_set {
    tcr_set_file *file;
    tcr_check *check;
} checked_set;

static void free_set(checked_set *set) {
    tcr_check_free(set->check);
    tcr_set_file_free(set->file);
}

/* In the artist's view the options of the call move the artist, and the check stays as the set has
 * it. */
static tcr_status read_set(draw_call *call, const char *path, checked_set *set,
                           tcr_file_error *error) {
    tcr_status status = tcr_set_file_read(path, NULL, &set->file, error);
    if (status != TCR_OK)
        return status;
    const tcr_view asked = call->check.view;
    const bool artist = shows(call, "artist");
    const tcr_view_words none = {0};
    if (artist && call->view.opening != NULL)
        call->look.options.seat.opening = asked.opening;
    if (artist && call->view.viewer != NULL)
        call->look.options.seat.viewer_rad = asked.viewer_rad;
    return tcr_view_evaluate(artist ? &none : &call->view, set->file, &call->check, &set->check,
                             error);
}

/* Whether a set has one of the eyes asked for; where not, it was said. */
static bool has_eyes(const draw_call *call, const char *path, const checked_set *set) {
    for (int side = 0; side < TCR_SIDES; side++)
        if (call->look.options.eye[side] && tcr_check_eye(set->check, (tcr_side)side) != NULL)
            return true;
    if (call->eye != NULL)
        tcr_say("%s has no %s eye; leave out --eye, or give the other", path, call->eye);
    return false;
}

/* Whether two sets to compare have an eye in common; where not, it was said. */
static bool share_an_eye(const char *const path[2], const checked_set sets[2]) {
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_check_eye(sets[0].check, (tcr_side)side) != NULL &&
            tcr_check_eye(sets[1].check, (tcr_side)side) != NULL)
            return true;
    const bool left = tcr_check_eye(sets[0].check, TCR_LEFT) != NULL;
    tcr_say("%s has a %s eye alone and %s a %s one; a comparison needs the same eye of both",
            path[0], left ? "left" : "right", path[1], left ? "right" : "left");
    return false;
}

static const char *base_of(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash != NULL && slash[1] != '\0' ? slash + 1 : path;
}

/* What two sets are called where their titles do not tell them apart: by file, with the folders
 * where the files have one name. */
static void name_sets(const char *const path[2], tcr_picture_options *picture) {
    const bool alike = strcmp(base_of(path[0]), base_of(path[1])) == 0;
    picture->name = alike ? path[0] : base_of(path[0]);
    picture->with_name = alike ? path[1] : base_of(path[1]);
}

/* ---- The pictures ------------------------------------------------------------------ */

/* The name of a frame: -01, -02 ... before the ending, with as many digits as the last one needs.
 */
static const char *frame_name(char *out, size_t size, const draw_call *call, int frame) {
    const int stem = (int)strlen(call->file.path) - 4;
    const int digits = call->look.options.frames < 100 ? 2 : 3;
    if (!shows(call, "film"))
        snprintf(out, size, "%s", call->file.path);
    else
        snprintf(out, size, "%.*s-%0*d%s", stem, call->file.path, digits, frame + 1,
                 call->file.path + stem);
    return out;
}

/* Draws one picture into an output that is not in place yet. */
static tcr_status draw_one(const draw_call *call, int frame, const tcr_check *check,
                           tcr_outputs *outputs, tcr_file_error *error) {
    const size_t size = strlen(call->file.path) + 8;
    char *path = malloc(size);
    if (path == NULL)
        return tcr_fail_memory(error, call->file.path);
    tcr_outputs_target to = {.outputs = outputs};
    tcr_picture_options options = call->look.options;
    options.frame = frame;
    frame_name(path, size, call, frame);
    tcr_status status = tcr_outputs_add(outputs, path, &to.index, error);
    if (status == TCR_OK) {
        status = tcr_picture_write(call->shows, call->look.format, check, &options,
                                   tcr_outputs_sink, &to);
        if (status == TCR_OK) /* a long film has more frames than there are descriptors */
            status = tcr_outputs_finish(outputs, to.index);
        const tcr_place place = {path, 0, 0};
        if (status == TCR_E_WRITE) /* commit refuses and knows what went wrong */
            status = tcr_outputs_commit(outputs, error);
        else if (status != TCR_OK)
            tcr_fail(error, status, place, "%s", tcr_status_text(status));
    }
    free(path);
    return status;
}

static tcr_status draw_all(const draw_call *call, const checked_set *sets, int count,
                           tcr_outputs *outputs, tcr_file_error *error) {
    tcr_status status = TCR_OK;
    for (int k = 0; k < count; k++)
        for (size_t i = 0; i < tcr_set_file_input_count(sets[k].file); i++)
            if (tcr_outputs_protect(outputs, tcr_set_file_input(sets[k].file, i)) == TCR_E_MEMORY)
                return tcr_fail_memory(error, call->file.path);
    const int frames = shows(call, "film") ? call->look.options.frames : 1;
    for (int frame = 0; frame < frames && status == TCR_OK; frame++)
        status = draw_one(call, frame, sets[0].check, outputs, error);
    return status == TCR_OK ? tcr_outputs_commit(outputs, error) : status;
}

static int run(int argc, char **argv) {
    draw_call call = {.file = {.option = "-o"}};
    const tcr_call_option options[] = {
        {"view", &call.shows},
        {"o", &call.file.path},
        {"width", &call.file.width},
        {"dpi", &call.file.dpi},
        {"eye", &call.eye},
        {"opening", &call.view.opening},
        {"viewer", &call.view.viewer},
        {"against", &call.view.against},
        {"at", &call.at},
        {"with", &call.with},
        {"frames", &call.frames},
    };
    const tcr_call_flag flags[] = {{"dark", &call.file.dark}, {"plain", &call.plain}};
    const tcr_call_words words = {options, sizeof options / sizeof *options, flags,
                                  sizeof flags / sizeof *flags, &call.view.set};
    int exit_status;
    if (!tcr_call_start(HELP, argc, argv, &words, understand, &call, &exit_status))
        return exit_status;
    const char *const path[] = {call.view.set, call.with};
    const int count = call.with != NULL ? 2 : 1;
    checked_set sets[2] = {{0}};
    tcr_file_error error;
    tcr_outputs *outputs = NULL;
    tcr_status status = TCR_OK;
    bool good = true;
    for (int i = 0; i < count && status == TCR_OK && good; i++) {
        status = read_set(&call, path[i], &sets[i], &error);
        good = status == TCR_OK && has_eyes(&call, path[i], &sets[i]);
    }
    if (status == TCR_OK && good && count == 2)
        good = share_an_eye(path, sets);
    call.look.options.with = sets[1].check;
    if (count == 2)
        name_sets(path, &call.look.options);
    if (status == TCR_OK && good) {
        status = tcr_outputs_new(NULL, &outputs);
        status = status == TCR_OK ? draw_all(&call, sets, count, outputs, &error)
                                  : tcr_fail_memory(&error, call.file.path);
    }
    tcr_outputs_free(outputs);
    free_set(&sets[0]);
    free_set(&sets[1]);
    if (!good && status == TCR_OK)
        return TCR_EXIT_WRONG;
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

#else

static const char HELP[] = "tipcrest draw: this tipcrest was built without pictures.\n";

static int run(int argc, char **argv) {
    (void)argc;
    (void)argv;
    tcr_say("this tipcrest was built without pictures; build it with cairo to draw");
    return TCR_EXIT_FAILED;
}

#endif

const tcr_command tcr_command_draw = {
    "draw", "pictures of a set: from the front, the artist's seat, the side ...", HELP, run};
