/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures of odd sets: too few tips, none at all, lengths that the tray lacks, lashes too short to
 * carry any, no title, nothing assumed. Each picture says what is missing, in its own words, and
 * draws the rest.
 */
#include "draw/said.h"
#include "draw/words.h"
#include "draw/work_sheet.h"
#include "num/range.h"

/* A left eye with lashes in turn on all layers; how: what their rows give them. */
static tcr_set *some_lashes(const char *title, size_t count, const tcr_wish *how) {
    tcr_set *set = new_set(title, false, true);
    for (size_t i = 0; i < count; i++) {
        const tcr_lash lash =
            tcr_lash_unknown(((double)i + 0.5) / (double)count, (tcr_layer)(i % TCR_LAYERS));
        char id[24];
        snprintf(id, sizeof id, "n%zu", i);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, how), TCR_OK);
    }
    return set;
}

static void put_away(tcr_set *set, tcr_check *check) {
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(few_tips_are_not_judged) {
    tcr_set *set = some_lashes(NULL, 5, NULL);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    options.with = check;
    static const char *const views[] = {"front", "artist", "film", "deviations", "why"};
    for (size_t v = 0; v < sizeof views / sizeof *views; v++) {
        listen(views[v], check, &options);
        expect_said("too few tips to judge");
    }
    listen("front", check, &options);
    expect_said("5, and 12 are the least"); /* TCR_TOO_FEW; source: model.md, section 5 */
    expect_said("5 of 5 lashes carry an extension");
    listen("compare", check, &options);
    expect_said("after; \xe2\x80\x93: too few tips");
    listen("lesson", check, &options);
    expect_said("Too few lashes to judge how even they are");
    put_away(set, check);
}

CLAIM(bare_lashes_have_no_line) {
    static const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    tcr_set *set = some_lashes("All bare", 20, &bare);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    options.with = check;
    const tcr_status status = tcr_check_eye(check, TCR_LEFT)->fitted_status;
    expect_true(status != TCR_OK);
    static const char *const views[] = {"front", "artist", "film", "deviations", "why"};
    for (size_t v = 0; v < sizeof views / sizeof *views; v++) {
        listen(views[v], check, &options);
        expect_said(tcr_status_text(status));
    }
    listen("front", check, &options);
    expect_said("0 of 20 lashes carry an extension");
    listen("artist", check, &options);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        char none[TCR_WORDS];
        snprintf(none, sizeof none, "%s: none", tcr_layer_name((tcr_layer)layer));
        expect_said(none);
    }
    listen("compare", check, &options);
    listen("layers", check, &options);
    put_away(set, check);
}

CLAIM(a_layer_without_its_length_is_said_to_lack_it) {
    tcr_set *set = some_lashes("Short tray", 20, NULL);
    tcr_tray tray = {.count = 4, .length_mm = {9, 10, 11, 12}};
    tcr_layering rule = *tcr_set_layering(set);
    tcr_check_options how = tcr_check_options_default();
    tcr_picture_options options = tcr_picture_options_default();
    tcr_check *check;
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    rule.step_mm = 1;
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    how.any_length = true;
    expect_status(tcr_check_new(set, &how, &check, NULL), TCR_OK);
    /* In the zone of 9 mm the rule gives 8 and 7, which the tray lacks; in that of 12 all. */
    options.at_u = 0.1;
    listen("side", check, &options);
    expect_said("middle: the tray has no such length");
    expect_said("top: the tray has no such length");
    options.at_u = 0.6;
    listen("side", check, &options);
    expect_count(find(0, "no such length"), texts);
    expect_said("zone 3 of 4: 12 mm C");
    listen("artist", check, &options);
    listen("lesson", check, &options);
    expect_said("The tray lacks sizes for 1 mm less; with the best that it has it is ");
    put_away(set, check);
}

CLAIM(lashes_too_short_for_a_bond_are_said_to_be) {
    tcr_set *set = some_lashes("Too short", 20, NULL);
    tcr_lash mean = tcr_lash_unknown(0, TCR_BOTTOM);
    tcr_picture_options options = tcr_picture_options_default();
    mean.length_mm = 1.2; /* less than 1 mm off the skin and 1 mm of bond: model.md, section 4 */
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    tcr_check *check = check_of(set);
    listen("side", check, &options);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        char words[TCR_WORDS];
        snprintf(words, sizeof words, "%s: too short to carry any",
                 tcr_layer_name((tcr_layer)layer));
        expect_said(words);
    }
    listen("lesson", check, &options);
    expect_said("The average lash here is too short to carry an extension.");
    listen("artist", check, &options);
    const tcr_step_picture step = tcr_step_picture_default();
    listen_to_steps(set, &step);
    put_away(set, check);
}

CLAIM(a_lash_that_grows_down_and_inwards_is_said_to) {
    tcr_set *set = some_lashes("Down and in", 20, NULL);
    tcr_lash mean = tcr_lash_unknown(0, TCR_BOTTOM);
    tcr_picture_options options = tcr_picture_options_default();
    mean.pitch_rad = -10 * TCR_DEG;
    mean.yaw_rad = -5 * TCR_DEG;
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    tcr_check *check = check_of(set);
    listen("side", check, &options);
    expect_said("grows 10\xc2\xb0 down, 5\xc2\xb0 inwards");
    mean.pitch_rad = 12.5 * TCR_DEG;
    mean.yaw_rad = 3 * TCR_DEG;
    tcr_check_free(check);
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    check = check_of(set);
    listen("side", check, &options);
    expect_said("grows 12.5\xc2\xb0 up, 3\xc2\xb0 outwards");
    put_away(set, check);
}

CLAIM(sets_without_titles_have_those_of_their_views) {
    tcr_set *set = some_lashes(NULL, 20, NULL);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    options.with = check;
    options.name = "a.yaml";
    options.with_name = "b.yaml";
    static const char *const titles[][2] = {{"artist", "The set from the artist\xe2\x80\x99s seat"},
                                            {"side", "The set in profile"},
                                            {"film", "The set as the eye opens"},
                                            {"compare", "Before: a.yaml"},
                                            {"compare", "After: b.yaml"},
                                            {"compare", "Left eye, all at one scale"}};
    for (size_t v = 0; v < sizeof titles / sizeof *titles; v++) {
        listen(titles[v][0], check, &options);
        expect_said(titles[v][1]);
    }
    /* One set has a title, so that the names tell them apart. */
    tcr_set *other = some_lashes("Titled", 20, NULL);
    tcr_check *with = check_of(other);
    options.with = with;
    listen("compare", check, &options);
    expect_said("Before: a.yaml");
    expect_said("After: b.yaml \xc2\xb7 Titled");
    expect_said("lines: fitted to the tips");
    expect_count(find(0, "a plan aims"), texts);
    expect_count(find(0, "off the map"), texts);
    /* A plan keeps the map that it was made for. */
    tcr_zone zone = {.to = 1, .length_mm = 11, .curl = "D"};
    tcr_check_free(with);
    expect_status(tcr_set_put_intended(other, TCR_LEFT, &zone, 1), TCR_OK);
    options.with = with = check_of(other);
    listen("compare", check, &options);
    expect_said("lines: fitted to the tips; a plan aims at its map\xe2\x80\x99s");
    expect_map_row(check, with);
    put_away(other, with);
    put_away(set, check);
}

CLAIM(a_zone_whose_layers_have_lengths_of_their_own_shows_these_alone) {
    tcr_set *set = some_lashes("Planned", 20, NULL);
    tcr_zone zone = {.to = 1, .length_mm = 11, .curl = "D"};
    for (int fixed = 0; fixed < 2; fixed++) {
        zone.layer[TCR_BOTTOM] =
            (tcr_wish){.fixed = fixed ? TCR_FIX_LENGTH : 0u, .length_mm = fixed ? 9 : 0};
        expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
        tcr_check *check = check_of(set);
        listen("artist", check, NULL);
        given("fixed %d", fixed);
        expect_true((find_whole(0, "11 D") < texts) == (fixed == 0));
        expect_true(find_whole(0, fixed ? "D" : "11 D") < texts);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(what_is_given_is_not_called_assumed) {
    tcr_set *set = new_set("All given", false, true);
    unsigned assumed;
    const tcr_lid lid = tcr_lid_complete(NULL, &assumed);
    expect_status(tcr_set_replace_lid(set, TCR_LEFT, &lid), TCR_OK);
    for (size_t i = 0; i < 15; i++) {
        const tcr_lash given = tcr_make_default_lash(0.1 + 0.05 * (double)i, (tcr_layer)(i % 3));
        char id[24];
        snprintf(id, sizeof id, "n%zu", i);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &given, NULL), TCR_OK);
    }
    tcr_check *check = check_of(set);
    listen("front", check, NULL);
    expect_said("No number of a lash or a lid was assumed.");
    expect_status(tcr_set_mark_drawn(set, TCR_LEFT, 1), TCR_OK);
    expect_status(tcr_check_again(check, set, NULL, NULL), TCR_OK);
    listen("front", check, NULL);
    expect_said("1 lash drawn by chance, not measured. ");
    put_away(set, check);
}

/* ---- Steps ----------------------------------------------------------------------------------- */

CLAIM(steps_begin_with_the_sets_own_answer_and_show_its_own_case) {
    tcr_set *set = some_lashes("Steps", 20, NULL);
    const tcr_step_picture step = tcr_step_picture_default();
    const tcr_lesson_place here = tcr_lesson_place_default();
    const tcr_zone zone = {.to = 1, .length_mm = 11, .curl = "D"};
    tcr_lesson lesson;
    tcr_step own;
    char text[TCR_WORDS], number[TCR_WORDS], other[TCR_WORDS];
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &here, 1, NULL, &lesson), TCR_OK);
    const tcr_placement *placement = tcr_set_layering(set)->placement;
    tcr_step_question q = {.bottom_length_mm = 11,
                           .bottom = placement[TCR_BOTTOM],
                           .middle = placement[TCR_MIDDLE],
                           .top = placement[TCR_TOP]};
    expect_status(tcr_set_find_curl(set, "D", &q.curl), TCR_OK);
    expect_status(tcr_step_of(set, &q, &own), TCR_OK);
    listen_to_steps(set, &step);
    snprintf(text, sizeof text, " here: %.20s mm rms, equal lengths %.20s",
             tcr_say_number(number, lesson.rms_mm[TCR_LESSON_ONE_LESS], 2, false),
             tcr_say_number(other, lesson.rms_mm[TCR_LESSON_EQUAL], 2, false));
    expect_true(strncmp(said[find(0, text)], "11/10/9 ", 8) == 0);
    expect_said("thick: this set\xe2\x80\x99s curl at the pupil, D");
    expect_said("The same by the viewer's angle");
    expect_true(find(0, "All at the outer side") == texts);
    const size_t at = find(0, "This set at the pupil, D 11 mm");
    tcr_say_number(number, 11 - own.length_mm[0], 2, false);
    expect_true(find_whole(at, number) < texts);
    tcr_say_number(number, lesson.rms_mm[TCR_LESSON_BEST], 2, false);
    expect_true(find_whole(at, number) < texts);
    tcr_set_free(set);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_title(set, "No map"), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    listen_to_steps(set, &step);
    expect_true(find_whole(0, "No map") < texts && find(0, "This set at the pupil") == texts &&
                find(0, "thick: ") == texts);
    expect_said("All at the outer side"); /* in place of curves that take a map */
    expect_true(find(0, "The same by the viewer") == texts);
    tcr_set_free(set);
}

CLAIM(steps_show_the_curl_and_the_distance_asked_for) {
    tcr_set *set = some_lashes("Steps", 20, NULL);
    tcr_step_picture step = tcr_step_picture_default();
    listen_to_steps(set, &step);
    size_t curls = 0;
    for (size_t i = 0; i < tcr_set_curl_count(set); i++)
        curls += find_whole(0, tcr_set_curl(set, i)->label) < texts;
    expect_count(curls, tcr_set_curl_count(set));
    step.curl = "D";
    step.has_apart = true;
    step.apart_mm = 0.5;
    step.length_mm = 16;
    listen_to_steps(set, &step);
    expect_said("layers 0.50 and 0.50 mm apart.");
    expect_said("16 mm, on top, side, underneath");
    expect_said("Tip rises by, mm (D, 16 mm)");
    for (size_t i = 0; i < tcr_set_curl_count(set); i++) {
        const char *label = tcr_set_curl(set, i)->label;
        given("curl %s", label);
        expect_true((find_whole(0, label) < texts) == (strcmp(label, "D") == 0));
    }
    tcr_set_free(set);
}

CLAIM(without_a_tray_steps_have_level_lengths) {
    tcr_set *set = some_lashes("No tray", 20, NULL);
    const tcr_tray any = {.count = 0};
    tcr_step_picture step = tcr_step_picture_default();
    tcr_step found;
    char number[TCR_WORDS];
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    step.curl = "C";
    listen_to_steps(set, &step);
    expect_said("no tray: level lengths in mm, nothing left over");
    tcr_step_question question = {.side = TCR_LEFT,
                                  .bottom_length_mm = 12,
                                  .bottom = TCR_ON_TOP,
                                  .middle = TCR_OUTER_SIDE,
                                  .top = TCR_UNDERSIDE};
    expect_status(tcr_set_find_curl(set, "C", &question.curl), TCR_OK);
    expect_status(tcr_step_of(set, &question, &found), TCR_OK);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        expect_said(tcr_say_number(number, found.length_mm[i], 2, false));
    tcr_set_free(set);
}

CLAIM(steps_of_a_tray_far_from_common_sizes_show_the_length_asked_for) {
    tcr_set *set = some_lashes("Long tray", 20, NULL);
    const tcr_tray tray = {.count = 2, .length_mm = {25, 26}};
    const tcr_step_picture step = tcr_step_picture_default();
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    listen_to_steps(set, &step);
    expect_said("12 mm, on top, side, underneath"); /* the usual length; source: draw.h */
    tcr_set_free(set);
}

CLAIM(a_step_picture_needs_an_eye_a_curl_and_numbers_in_range) {
    tcr_set *set = some_lashes("Wrong", 20, NULL);
    tcr_picture picture;
    tcr_step_picture step = tcr_step_picture_default();
    expect_status(tcr_picture_take_step(NULL, &step, NULL, &picture), TCR_E_ARGUMENT);
    expect_status(tcr_picture_take_step(set, NULL, NULL, &picture), TCR_E_ARGUMENT);
    step.side = TCR_RIGHT;
    expect_status(tcr_picture_take_step(set, &step, NULL, &picture), TCR_E_MISSING);
    step = tcr_step_picture_default();
    step.has_apart = true;
    step.apart_mm = 3.1; /* source: draw.h: 0 to 3 mm */
    expect_status(tcr_picture_take_step(set, &step, NULL, &picture), TCR_E_RANGE);
    step = tcr_step_picture_default();
    step.length_mm = 31; /* source: model.md: an extension has 3 to 30 mm */
    expect_status(tcr_picture_take_step(set, &step, NULL, &picture), TCR_E_RANGE);
    double height = 0;
    step = tcr_step_picture_default();
    expect_status(tcr_step_picture_draw(NULL, set, &step, NULL, &height), TCR_OK);
    expect_near(height, TCR_SHEET_HEIGHT, 1e-9, "the usual width");
    bytes none = {0};
    step.curl = "no such";
    expect_status(tcr_step_picture_write(TCR_SVG, set, &step, NULL, keep_bytes, &none), TCR_E_CURL);
    expect_status(
        tcr_step_picture_write((tcr_picture_format)-1, set, &step, NULL, keep_bytes, &none),
        TCR_E_ARGUMENT);
    expect_status(tcr_step_picture_write(TCR_SVG, set, &step, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_count(none.count, 0);
    tcr_set_free(set);
}

/* ---- Options and numbers at their edges ------------------------------------------------------ */

CLAIM(what_a_picture_leaves_out_is_not_told_either) {
    tcr_set *set = some_lashes("Plain", 20, NULL);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    options.with = check;
    options.frames = 1;
    options.companion = options.lines = options.staggered = false;
    for (size_t v = 0; v < tcr_picture_views(); v++)
        listen(tcr_picture_view_name(v), check, &options);
    listen("film", check, &options);
    expect_said("100 % open after 77.6 ms"); /* a single frame is the last */
    listen("artist", check, &options);
    expect_count(find(0, "as everybody sees it"), texts);
    listen("front", check, &options);
    expect_count(find_whole(0, "fitted line"), texts); /* of the legend */
    put_away(set, check);
}

CLAIM(only_the_worst_of_very_many_are_ringed) {
    tcr_set *set = new_set("Many", false, true);
    for (size_t i = 0; i < 300; i++) {
        const tcr_lash lash = tcr_lash_unknown(0.03 + 0.003 * (double)i, (tcr_layer)(i % 3));
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = i % 2 == 0 ? 8 : 16};
        char id[24];
        snprintf(id, sizeof id, "n%zu", i);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish), TCR_OK);
    }
    tcr_check *check = check_of(set);
    expect_true(tcr_check_eye(check, TCR_LEFT)->staggered > 120);
    listen("front", check, NULL);
    expect_said("the worst 120 that stick out"); /* TCR_RINGS_MAX; source: marks.h */
    put_away(set, check);
}

CLAIM(the_artist_reads_a_layers_own_curl_and_side) {
    tcr_set *set = some_lashes("Own curl", 20, NULL);
    tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    zone.layer[TCR_TOP] = (tcr_wish){
        .fixed = TCR_FIX_CURL | TCR_FIX_PLACEMENT, .curl = "DD", .placement = TCR_INNER_SIDE};
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    tcr_check *check = check_of(set);
    listen("artist", check, NULL);
    expect_said("top: at the inner side");
    expect_said("10 C");                       /* the zone */
    expect_true(find_whole(0, "8DD") < texts); /* its top layer, 2 mm shorter */
    expect_true(find_whole(0, "9") < texts);   /* the middle one, of the zone's curl */
    put_away(set, check);
}

CLAIM(zones_too_narrow_for_labels_are_counted) {
    tcr_set *set = some_lashes("Narrow", 20, NULL);
    tcr_zone zone[TCR_ZONES_MAX] = {0};
    for (int k = 0; k < TCR_ZONES_MAX; k++) {
        zone[k].to = k + 1 < TCR_ZONES_MAX ? 0.5 + 1e-4 * (k + 1) : 1;
        zone[k].length_mm = 10;
        strcpy(zone[k].curl, "C");
    }
    expect_status(tcr_set_put_map(set, TCR_LEFT, zone, TCR_ZONES_MAX), TCR_OK);
    tcr_check *check = check_of(set);
    listen("artist", check, NULL);
    expect_said("zones are too narrow to be labelled here.");
    put_away(set, check);
}

CLAIM(a_lesson_says_where_the_rule_pays_at_every_distance_or_none) {
    static const struct {
        double pitch_deg[TCR_LAYERS];
        bool flat; /* layers root on one line */
        const char *words, *closed;
    } cases[] = {
        {{0, 8, 16},
         false,
         "It pays at any distance of the layers up to 1.6 mm; from ",
         "with the eye closed equal lengths look more even from "},
        {{0, 0, 0},
         true,
         "It pays where layers root at least ",
         "with the eye closed equal lengths look more even at every angle."},
        {{0, -20, -40},
         false,
         "It pays at no distance of the layers up to 1.6 mm.",
         "with the eye closed equal lengths look more even from no angle up to 70\xc2\xb0."}};
    for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
        tcr_set *set = new_set("Pitched", false, true);
        tcr_zone zone = {.to = 1, .length_mm = 11, .curl = "C"};
        /* What the zone fixes for its bottom layer is what the lesson begins with. */
        zone.layer[TCR_BOTTOM] = (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = 12};
        expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
        for (size_t i = 0; i < 30; i++) {
            char id[24];
            snprintf(id, sizeof id, "p%zu", i);
            tcr_lash lash = tcr_make_default_lash(0.1 + 0.025 * (double)i, (tcr_layer)(i % 3));
            lash.pitch_rad += cases[k].pitch_deg[lash.layer] * TCR_DEG;
            lash.height_mm = cases[k].flat ? 0.5 + 0.01 * (double)lash.layer : lash.height_mm;
            expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
        }
        tcr_check *check = check_of(set);
        listen("lesson", check, NULL);
        expect_said(cases[k].words);
        expect_said(cases[k].closed);
        expect_said("Equal: 12/12/12");
        /* Without a pitch each is the mean lash of its layer. */
        expect_said(k == 1 ? "over all 30 lashes; far" : "over all 30 lashes, which vary; far");
        put_away(set, check);
    }
}

CLAIM(a_lesson_without_a_length_for_all_has_no_figure) {
    tcr_set *set = some_lashes("Too short", 20, NULL);
    const tcr_tray any = {.count = 0};
    const tcr_zone zone = {.to = 1, .length_mm = 4, .curl = "C"};
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    tcr_check_options how = tcr_check_options_default();
    tcr_layering rule = *tcr_set_layering(set);
    tcr_check *check;
    rule.step_mm = 0;
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_check_new(set, &how, &check, NULL), TCR_OK);
    listen("lesson", check, NULL);
    /* 2 mm less than 4 is no extension: those have 3 to 30 mm (model.md). */
    expect_said("No figure for all lashes: a length is below 3 mm");
    put_away(set, check);
}

CLAIM(a_profile_from_above_or_below_is_drawn_whole) {
    for (int deg = -80; deg <= 80; deg += 40) {
        tcr_set *set = some_lashes("Raised", 20, NULL);
        const tcr_view view = {0.3, deg * TCR_DEG};
        char words[TCR_WORDS], seen[TCR_WORDS];
        expect_status(tcr_set_put_view(set, &view), TCR_OK);
        tcr_check *check = check_of(set);
        listen("side", check, NULL);
        snprintf(words, sizeof words, "%.80s \xc2\xb7 the average lash of each layer",
                 tcr_say_view(seen, &view));
        expect_said(words);
        put_away(set, check);
    }
}

CLAIM(steps_of_very_many_curls_show_the_first) {
    tcr_set *set = some_lashes("Curls", 20, NULL);
    const tcr_step_picture step = tcr_step_picture_default();
    for (int i = 0; i < 16; i++) {
        const tcr_profile turn = {1, {1.0}, {0.5 + 0.05 * i}};
        char label[8];
        snprintf(label, sizeof label, "x%d", i);
        expect_status(tcr_set_add_curl(set, &(tcr_curl){label, 1, NULL, &turn}), TCR_OK);
    }
    const tcr_zone zone = {.to = 1, .length_mm = 11, .curl = "x3"};
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    listen_to_steps(set, &step);
    expect_said("the first 16 curls");
    /* The column has room for seven and what is left; the set's own is the last of them. */
    const size_t more = find(0, "9 more curls: in the table of step");
    expect_true(more < texts);
    expect_true(find_whole(find(0, "mm, on top, side, underneath"), "x3") < more);
    expect_true(find_whole(find(0, "mm, on top, side, underneath"), "x0") > more);
    tcr_set_free(set);
}

CLAIM(wrong_calls_put_nothing_out) {
    tcr_set *set = some_lashes("Wrong", 20, NULL), *other = new_set("Right eye", true, false);
    add_lash(other, TCR_RIGHT, "one", 0.5, TCR_BOTTOM);
    tcr_check *check = check_of(set), *right = check_of(other);
    tcr_picture_options options = tcr_picture_options_default();
    bytes none = {0};
    expect_status(tcr_picture_write(NULL, TCR_SVG, check, NULL, keep_bytes, &none), TCR_E_ARGUMENT);
    expect_status(tcr_picture_write("nope", TCR_SVG, check, NULL, keep_bytes, &none),
                  TCR_E_ARGUMENT);
    expect_status(
        tcr_picture_write("front", (tcr_picture_format)-1, check, NULL, keep_bytes, &none),
        TCR_E_ARGUMENT);
    expect_status(tcr_picture_write("front", TCR_SVG, check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    options.with = right; /* no eye in common; source: draw.h */
    expect_status(tcr_picture_write("compare", TCR_SVG, check, &options, keep_bytes, &none),
                  TCR_E_MISSING);
    options = tcr_picture_options_default();
    options.has_apart = true;
    options.apart_mm = 3.01;
    expect_status(tcr_picture_write("side", TCR_SVG, check, &options, keep_bytes, &none),
                  TCR_E_RANGE);
    options = tcr_picture_options_default();
    options.frame = options.frames; /* from 0 */
    expect_status(tcr_picture_write("film", TCR_SVG, check, &options, keep_bytes, &none),
                  TCR_E_RANGE);
    expect_count(none.count, 0);
    put_away(other, right);
    put_away(set, check);
}

CLAIM(a_title_of_any_characters_makes_a_whole_svg_and_png) {
    tcr_set *set = some_lashes("a<b>&c\x01\t\xef\xbf\xbe \xc3\xa9", 20, NULL);
    tcr_check *check = check_of(set);
    bytes svg = {0};
    expect_status(tcr_picture_write("front", TCR_SVG, check, NULL, keep_bytes, &svg), TCR_OK);
    ck_assert_int_eq(keep_bytes(&svg, "", 1), 0);
    /* XML 1.0, section 2.2: U+0001 and U+FFFE are no characters of it. */
    expect_true(strstr((const char *)svg.byte, "<title>a&lt;b&gt;&amp;c?\t? \xc3\xa9</title>") !=
                NULL);
    bytes again = {0}; /* cairo goes on counting from picture to picture */
    expect_status(tcr_picture_write("front", TCR_SVG, check, NULL, keep_bytes, &again), TCR_OK);
    expect_count(again.count, svg.count - 1);
    expect_bytes(again.byte, svg.byte, again.count);
    free(again.byte);
    free(svg.byte);
    tcr_picture_options options = tcr_picture_options_default();
    options.width_mm = 40;
    options.dpi = 40;
    bytes png = png_of(check, &options);
    char *title = text_of(&png, "Title");
    ck_assert_ptr_nonnull(title);
    expect_true(strstr(title, "a<b>&c") != NULL);
    free(title);
    free(png.byte);
    put_away(set, check);
}

int main(void) {
    static const TTest *const claims[] = {
        &few_tips_are_not_judged,
        &bare_lashes_have_no_line,
        &a_layer_without_its_length_is_said_to_lack_it,
        &lashes_too_short_for_a_bond_are_said_to_be,
        &a_lash_that_grows_down_and_inwards_is_said_to,
        &sets_without_titles_have_those_of_their_views,
        &a_zone_whose_layers_have_lengths_of_their_own_shows_these_alone,
        &what_is_given_is_not_called_assumed,
        &steps_begin_with_the_sets_own_answer_and_show_its_own_case,
        &steps_show_the_curl_and_the_distance_asked_for,
        &without_a_tray_steps_have_level_lengths,
        &steps_of_a_tray_far_from_common_sizes_show_the_length_asked_for,
        &a_step_picture_needs_an_eye_a_curl_and_numbers_in_range,
        &what_a_picture_leaves_out_is_not_told_either,
        &only_the_worst_of_very_many_are_ringed,
        &the_artist_reads_a_layers_own_curl_and_side,
        &zones_too_narrow_for_labels_are_counted,
        &a_lesson_says_where_the_rule_pays_at_every_distance_or_none,
        &a_lesson_without_a_length_for_all_has_no_figure,
        &a_profile_from_above_or_below_is_drawn_whole,
        &steps_of_very_many_curls_show_the_first,
        &wrong_calls_put_nothing_out,
        &a_title_of_any_characters_makes_a_whole_svg_and_png,
    };
    return RUN_DRAWN_CLAIMS("odd", claims);
}
