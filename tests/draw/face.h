/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_DRAW_FACE_H
#define TCR_TESTS_DRAW_FACE_H

/* The fonts that a test draws with, and tests that are skipped where the machine lacks them. */

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <pango/pangocairo.h>

#include "support/check.h"

/* Of this process: whether it knows the family. */
static inline bool knows_face(const char *family) {
    PangoFontFamily **families;
    int count;
    bool found = false;
    pango_font_map_list_families(pango_cairo_font_map_get_default(), &families, &count);
    for (int i = 0; i < count; i++)
        found = found || strcmp(pango_font_family_get_name(families[i]), family) == 0;
    g_free(families);
    return found;
}

/* Of this process: whether it knows a font with letters. */
static inline bool knows_letters(void) {
    PangoContext *context = pango_font_map_create_context(pango_cairo_font_map_get_default());
    PangoLayout *layout = pango_layout_new(context);
    pango_layout_set_text(layout, "a", -1);
    const bool known = pango_layout_get_unknown_glyphs_count(layout) == 0;
    g_object_unref(layout);
    g_object_unref(context);
    return known;
}

/* Whether the machine has the family, or any font with letters for NULL. Asked in a process of its
 * own: the first look fixes for good which fonts a process knows. */
static inline bool has_face(const char *family) {
    int status = 1;
    fflush(NULL);
    const pid_t child = fork();
    if (child == 0)
        _exit((family != NULL ? knows_face(family) : knows_letters()) ? 0 : 1);
    return child > 0 && waitpid(child, &status, 0) == child && status == 0;
}

static char face_configuration[] = "/tmp/tcr-face-XXXXXX";

static inline void remove_configuration(void) { unlink(face_configuration); }

/* From here on this process knows the fonts of one family alone, or none for NULL. */
static inline void only_face(const char *family) {
    const int file = mkstemp(face_configuration);
    ck_assert_int_ge(file, 0);
    dprintf(file,
            "<?xml version=\"1.0\"?>\n<!DOCTYPE fontconfig SYSTEM \"fonts.dtd\">\n<fontconfig>\n");
    if (family != NULL)
        dprintf(file,
                "<dir>/usr/share/fonts</dir><cachedir>/var/cache/fontconfig</cachedir>\n"
                "<selectfont><rejectfont><pattern><patelt name=\"scalable\"><bool>true</bool>"
                "</patelt></pattern></rejectfont>\n<acceptfont><pattern><patelt name=\"family\">"
                "<string>%s</string></patelt></pattern></acceptfont></selectfont>\n",
                family);
    dprintf(file, "</fontconfig>\n");
    close(file);
    atexit(remove_configuration);
    setenv("FONTCONFIG_FILE", face_configuration, 1);
    if (family == NULL)
        return;
    given("only %s", family);
    expect_true(knows_face(family)); /* has_face said so */
}

enum { SKIPPED = 77 }; /* an exit status, to the harness of automake */

/* Says that a claim is skipped; for what runs the others. */
static inline void skip_claim(const char *claim, const char *lacking) {
    printf("ok - %s # SKIP no %s on this machine\n", claim, lacking);
}

/* RUN_CLAIMS of claims that draw: all are skipped on a machine without fonts. */
#define RUN_DRAWN_CLAIMS(topic, claims)                                                            \
    run_drawn_claims(topic, claims, sizeof(claims) / sizeof *(claims))
static inline int run_drawn_claims(const char *topic, const TTest *const *claims, size_t count) {
    if (has_face(NULL))
        return tcr_run_claims(topic, claims, count);
    for (size_t i = 0; i < count; i++)
        skip_claim(claims[i]->name, "font");
    return SKIPPED;
}

#endif
