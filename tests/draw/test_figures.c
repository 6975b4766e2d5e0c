/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What pictures and work sheets say, word by word: the figures in them are those of the check, the
 * plan and the model, and each has the words that belong to it. The words are the pictures' own.
 */
#include "draw/said.h"
#include "draw/words.h"
#include "draw/work_sheet.h"
#include "num/range.h"

/* ---- A set ----------------------------------------------------------------------------------- */

enum { LASHES = 36 };

/* Lashes of three layers in turn with what their rows give them; some of 15 mm, and one bare. The
 * bottom layer lies underneath, the middle one at the outer side, of the top one a third inside. */
static tcr_set *a_set(bool both) {
    tcr_set *set = new_set("Figures", both, true);
    for (int side = 0; side < TCR_SIDES; side++)
        for (int i = 0; i < LASHES && tcr_set_has_eye(set, (tcr_side)side); i++) {
            const tcr_lash lash = tcr_lash_unknown(0.05 + 0.025 * i, (tcr_layer)(i % 3));
            tcr_wish wish = {.fixed = TCR_FIX_PLACEMENT,
                             .placement = i % 3 == 0   ? TCR_UNDERSIDE
                                          : i % 3 == 1 ? TCR_OUTER_SIDE
                                          : i % 9 == 2 ? TCR_INNER_SIDE
                                                       : TCR_ON_TOP};
            char id[8];
            snprintf(id, sizeof id, "n%d", i);
            if (i % 4 == 1 || (i % 4 == 3 && side == TCR_RIGHT)) {
                wish.fixed |= TCR_FIX_LENGTH;
                wish.length_mm = 15;
            }
            if (i == 30)
                wish = (tcr_wish){.fixed = TCR_FIX_BARE};
            expect_status(tcr_set_add_lash(set, (tcr_side)side, id, &lash, &wish), TCR_OK);
        }
    return set;
}

CLAIM(a_sheet_counts_lashes_and_extensions) {
    tcr_set *set = a_set(true);
    tcr_check *check = check_of(set);
    listen("front", check, NULL);
    /* Of each eye one lash is bare. */
    expect_said("70 of 72 lashes carry an extension");
    /* The client's right eye comes first, as a portrait shows it. */
    const size_t right = find_whole(0, "Right eye, off the line");
    const size_t left = find_whole(0, "Left eye, off the line");
    expect_true(right < left && left < texts);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_artist_reads_where_each_layer_lies) {
    tcr_set *set = a_set(false);
    tcr_check *check = check_of(set);
    char number[TCR_WORDS];
    listen("artist", check, NULL);
    /* As a_set lays them: 12 of each layer, of the bottom one the 31st lash is bare. */
    expect_said("bottom: under its lash");
    expect_said("middle: at the outer side");
    expect_said("top: 8 on top, 4 inner");
    /* The figures of the eye open stand beside those from here. */
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    char open[2 * TCR_WORDS];
    snprintf(open, sizeof open, "%s mm with the eye open",
             tcr_say_number(number, eye->fitted.upright.rms_mm, 2, false));
    expect_said(open);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(layers_stand_off_the_line_as_seen_and_from_the_couch) {
    tcr_set *set = a_set(false);
    tcr_check *check = check_of(set);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    listen("front", check, NULL);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        char open[TCR_WORDS], couch[TCR_WORDS];
        tcr_say_number(open, eye->fitted.layer_offset_mm[layer], 2, true);
        tcr_say_number(couch, eye->view_offset_mm[TCR_ARTIST][layer], 2, true);
        const char *const row[] = {tcr_layer_name((tcr_layer)layer), open, couch};
        given("%s %s %s", row[0], row[1], row[2]);
        expect_row(row, 3);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(staggered_lashes_are_listed_worst_first_and_the_rest_counted) {
    tcr_set *set = a_set(true);
    tcr_check *check = check_of(set);
    listen("deviations", check, NULL);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        enum { SHOWN = 8 }; /* ours: of each of two eyes */
        char more[TCR_WORDS], number[TCR_WORDS];
        given("side %d", side);
        expect_true(eye->staggered > SHOWN);
        snprintf(more, sizeof more, "and %zu more", eye->staggered - SHOWN);
        expect_count(find_whole(0, more) < texts, 1);
        for (size_t i = 0, shown = 0; i < eye->lashes; i++) {
            size_t worse = 0;
            for (size_t k = 0; k < eye->lashes; k++)
                worse += fabs(eye->lash[k].deviation_mm) > fabs(eye->lash[i].deviation_mm);
            if (!eye->lash[i].staggered || worse >= SHOWN)
                continue;
            shown++;
            tcr_say_number(number, eye->lash[i].deviation_mm, 2, true);
            const char *const row[] = {tcr_set_id(set, (tcr_side)side, i), number};
            expect_row(row, 2);
        }
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_profile_says_how_far_tips_lie_over_the_bottom_one) {
    tcr_set *set = new_set("Profile", false, true);
    tcr_picture_options options = tcr_picture_options_default();
    char words[TCR_LAYERS][TCR_WORDS], number[TCR_WORDS];
    double tip[TCR_LAYERS];
    describe(set, 60);
    tcr_check *check = check_of(set);
    options.at_u = 0.5;
    listen("side", check, &options);
    /* By calls that any host has: the mean lash on each layer, with what the map gives it. */
    tcr_mean_lash mean;
    tcr_layer_heights heights;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    expect_status(tcr_layer_heights_of(set, TCR_LEFT, &heights), TCR_OK);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        tcr_lash lash = tcr_mean_lash_at(&mean, options.at_u);
        tcr_vec3 at;
        lash.layer = (tcr_layer)layer;
        lash.height_mm += heights.height_mm[layer] - heights.height_mm[TCR_BOTTOM];
        tcr_set *one = new_set("One", false, true);
        tcr_choice choice;
        expect_status(tcr_set_add_lash(one, TCR_LEFT, "one", &lash, NULL), TCR_OK);
        expect_status(tcr_set_choice(one, TCR_LEFT, 0, &choice), TCR_OK);
        const tcr_extension ext = tcr_set_extension(one, &choice);
        expect_status(tcr_tip(tcr_set_lid(one, TCR_LEFT), 1, &lash, &ext, tcr_set_bond(one), &at),
                      TCR_OK);
        tip[layer] = at.y; /* from the front, height is y */
        tcr_set_free(one);
    }
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        snprintf(
            words[layer], TCR_WORDS,
            layer == TCR_BOTTOM ? "%.20s mm over the eye\xe2\x80\x99s middle"
                                : "%.20s mm over the bottom tip",
            tcr_say_number(number, layer == TCR_BOTTOM ? tip[0] : tip[layer] - tip[0], 2, true));
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        expect_said(words[layer]);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_comparison_counts_the_staggered_tips_of_both) {
    tcr_set *before = a_set(false), *after = new_set("After", false, true);
    describe(after, 96);
    tcr_check *check[] = {check_of(before), check_of(after)};
    tcr_picture_options options = tcr_picture_options_default();
    char number[2][TCR_WORDS];
    options.with = check[1];
    listen("compare", check[0], &options);
    for (int i = 0; i < 2; i++) {
        const tcr_eye_result *eye = tcr_check_eye(check[i], TCR_LEFT);
        tcr_say_number(number[i], (double)eye->staggered, 0, false);
    }
    const char *const row[] = {"tips that stick out", number[0], number[1]};
    expect_row(row, 3);
    expect_true(strcmp(number[0], number[1]) != 0);
    expect_said("Before: Figures");
    expect_said("After: After");
    for (int i = 0; i < 2; i++)
        tcr_check_free(check[i]);
    tcr_set_free(before);
    tcr_set_free(after);
}

CLAIM(a_film_shows_the_eye_from_closed_to_open_in_even_time) {
    tcr_set *set = a_set(false);
    tcr_check *check = check_of(set);
    tcr_picture_options options = tcr_picture_options_default();
    options.frames = 5;
    /* Evenly in 77.6 ms (source: science.md); by the polynomial of blink.c a quarter of the time
     * opens I(4, 4) of 1/4 = 1156 / 16384. */
    static const char *const words[] = {"0 % open after 0.0 ms", "7 % open after 19.4 ms",
                                        "50 % open after 38.8 ms", "93 % open after 58.2 ms",
                                        "100 % open after 77.6 ms"};
    for (options.frame = 0; options.frame < options.frames; options.frame++) {
        listen("film", check, &options);
        expect_said(words[options.frame]);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

/* ---- Two eyes that differ --------------------------------------------------------------------
 */

/* Lashes of both eyes, the side in their ids; some far too long. */
static tcr_set *told_apart(void) {
    tcr_set *set = new_set("Sides", true, true);
    for (int side = 0; side < TCR_SIDES; side++)
        for (int i = 0; i < LASHES; i++) {
            const tcr_lash lash = tcr_lash_unknown(0.05 + 0.025 * i, (tcr_layer)(i % 3));
            const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 15};
            char id[12];
            snprintf(id, sizeof id, "%s%d", side == TCR_LEFT ? "left" : "right", i);
            expect_status(
                tcr_set_add_lash(set, (tcr_side)side, id, &lash, i % 9 == 4 ? &wish : NULL),
                TCR_OK);
        }
    return set;
}

CLAIM(rings_are_named_after_lashes_of_their_own_eye) {
    static const char *const views[] = {"front", "deviations"};
    tcr_set *set = told_apart();
    tcr_check *check = check_of(set);
    for (int v = 0; v < 2; v++) {
        listen(views[v], check, NULL);
        size_t named[TCR_SIDES] = {0};
        for (size_t i = 0; i < texts; i++) {
            /* Names stand between the marks of an isolated text, U+2068 and U+2069. */
            named[TCR_LEFT] += strstr(said[i], "\xe2\x81\xa8left") != NULL;
            named[TCR_RIGHT] += strstr(said[i], "\xe2\x81\xa8right") != NULL;
        }
        given("view %s, %zu left, %zu right", views[v], named[TCR_LEFT], named[TCR_RIGHT]);
        expect_true(named[TCR_LEFT] > 0 && named[TCR_RIGHT] > 0);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(from_the_head_of_the_couch_the_left_eye_is_at_the_left) {
    tcr_set *set = told_apart();
    tcr_check *check = check_of(set);
    for (int turned = 0; turned <= 1; turned++) {
        tcr_picture_options options = tcr_picture_options_default();
        options.from_head = turned == 1;
        listen("artist", check, &options);
        /* Eyes are drawn from the viewer's left to right: draw.h. */
        const size_t left = find(0, "Left eye, from here"), right = find(0, "Right eye, from here");
        given("from the head: %d", turned);
        expect_true(left < texts && right < texts);
        expect_true((left < right) == (turned == 1));
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_corners_stand_at_the_ends_of_the_deviations) {
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_set *set = new_set("Corners", side == TCR_RIGHT, side == TCR_LEFT);
        describe(set, 60);
        tcr_check *check = check_of(set);
        listen("deviations", check, NULL);
        /* As a portrait shows them: the right eye's outer corner is at the viewer's left. */
        given("side %d", side);
        expect_said(side == TCR_LEFT ? "\xe2\x86\x90 inner corner" : "\xe2\x86\x90 outer corner");
        expect_said(side == TCR_LEFT ? "outer corner \xe2\x86\x92" : "inner corner \xe2\x86\x92");
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

/* ---- The average lash, causes and layers -----------------------------------------------------
 */

CLAIM(the_profile_says_how_the_average_lash_grows) {
    tcr_set *set = new_set("Growth", false, true);
    tcr_mean_lash mean;
    describe(set, 60);
    tcr_check *check = check_of(set);
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    for (int end = 0; end < 2; end++) {
        tcr_picture_options options = tcr_picture_options_default();
        char text[2 * TCR_WORDS], up[TCR_WORDS], out[TCR_WORDS];
        options.at_u = end == 0 ? 0.1 : 0.9;
        listen("side", check, &options);
        const tcr_lash lash = tcr_mean_lash_at(&mean, options.at_u);
        /* lash.h: yaw is positive towards the outer corner; the lashes fan out. */
        expect_true(end == 0 ? lash.yaw_rad < -0.1 : lash.yaw_rad > 0.1);
        snprintf(text, sizeof text, "grows %s\xc2\xb0 %s, %s\xc2\xb0 %s",
                 tcr_say_trimmed(up, fabs(lash.pitch_rad) / TCR_DEG, 1),
                 lash.pitch_rad > 0 ? "up" : "down",
                 tcr_say_trimmed(out, fabs(lash.yaw_rad) / TCR_DEG, 1),
                 end == 0 ? "inwards" : "outwards");
        expect_said(text);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

/* With shorter layers, which make a pair with their heights, and without. */
static void expect_bars(double step_mm) {
    tcr_set *set = new_set("Causes", false, true);
    tcr_layering layering = *tcr_set_layering(set);
    describe(set, 60);
    layering.step_mm = step_mm;
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    tcr_check *check = check_of(set);
    tcr_why why;
    size_t bars = 0;
    listen("why", check, NULL);
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    const bool pair = !tcr_cause_is_absent(&why, TCR_CAUSE_HEIGHTS) &&
                      !tcr_cause_is_absent(&why, TCR_CAUSE_SHORTENING);
    expect_true(pair == (step_mm > 0));
    for (int cause = 0; cause <= TCR_CAUSES; cause++) {
        const tcr_share *share = cause == TCR_CAUSES ? &why.layering : &why.cause[cause];
        const bool of_pair = cause == TCR_CAUSE_HEIGHTS || cause == TCR_CAUSE_SHORTENING;
        if (cause == TCR_CAUSES ? !pair
                                : (pair && of_pair) || tcr_cause_is_absent(&why, (tcr_cause)cause))
            continue;
        const double added = why.whole_rms_mm - share->without_rms_mm; /* view_why.c */
        char number[TCR_WORDS];
        if (fabs(added) < TCR_WHY_LITTLE_MM)
            continue; /* these may have another digit */
        given("cause %d", cause);
        tcr_say_number(number, added, 2, true);
        expect_true(find_whole(0, number) < texts);
        bars++;
    }
    expect_true(bars >= 2);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(bars_of_causes_say_what_a_cause_adds) {
    expect_bars(1);
    expect_bars(0);
}

CLAIM(the_lesson_says_how_far_apart_the_tips_of_equal_layers_are) {
    tcr_set *set = new_set("Lesson", false, true);
    char words[TCR_WORDS + 8], number[TCR_WORDS];
    const double u = tcr_picture_options_default().at_u;
    describe(set, 60);
    tcr_check *check = check_of(set);
    listen("lesson", check, NULL);
    /* By calls that any host has: the mean lash on each layer, with what the map has there. */
    const tcr_extension ext = tcr_set_intended_extension(set, TCR_LEFT, u);
    tcr_mean_lash mean;
    tcr_layer_heights heights;
    double low = INFINITY, high = -INFINITY;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    expect_status(tcr_layer_heights_of(set, TCR_LEFT, &heights), TCR_OK);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        tcr_lash lash = tcr_mean_lash_at(&mean, u);
        tcr_vec3 at;
        lash.layer = (tcr_layer)layer;
        lash.height_mm += heights.height_mm[layer] - heights.height_mm[TCR_BOTTOM];
        expect_status(tcr_tip(tcr_set_lid(set, TCR_LEFT), 1, &lash, &ext, tcr_set_bond(set), &at),
                      TCR_OK);
        low = fmin(low, at.y);
        high = fmax(high, at.y);
    }
    snprintf(words, sizeof words, "%s mm", tcr_say_number(number, high - low, 2, false));
    given("%s", words);
    expect_true(find_whole(0, words) < texts);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(layers_are_counted_with_what_is_bare) {
    tcr_set *set = a_set(true);
    tcr_check *check = check_of(set);
    listen("layers", check, NULL);
    /* Of each eye 12 a layer; lash 30, of the bottom layer, is bare. */
    expect_said("bottom: 22, 2 bare");
    expect_said("middle: 24, 0 bare");
    expect_said("top: 24, 0 bare");
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_comparison_goes_by_the_tolerance_and_the_line_of_the_check) {
    tcr_set *set = a_set(false);
    tcr_check_options of = tcr_check_options_default();
    tcr_picture_options options = tcr_picture_options_default();
    for (int against = 0; against < 2; against++) {
        tcr_check *check;
        char number[TCR_WORDS];
        of.tolerance_mm = 2.5;
        of.against = against == 0 ? TCR_FITTED : TCR_INTENDED;
        expect_status(tcr_check_new(set, &of, &check, NULL), TCR_OK);
        options.with = check;
        listen("compare", check, &options);
        const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
        tcr_say_number(number, (double)eye->staggered, 0, false);
        const char *const row[] = {"tips that stick out", number, number};
        given("against %d", against);
        expect_row(row, 3);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(as_many_lashes_as_judge_a_line_are_compared) {
    for (int more = 0; more < 2; more++) {
        tcr_set *set = new_set("Few", false, true);
        for (int i = 0; i < TCR_TOO_FEW - 1 + more; i++) {
            char id[16];
            snprintf(id, sizeof id, "n%d", i);
            add_lash(set, TCR_LEFT, id, 0.1 + 0.06 * i, (tcr_layer)(i % 3));
        }
        tcr_check *check = check_of(set);
        tcr_picture_options options = tcr_picture_options_default();
        options.with = check;
        listen("compare", check, &options);
        given("%d lashes", TCR_TOO_FEW - 1 + more);
        /* TCR_TOO_FEW is the least number; source: model.md, section 5 */
        expect_true((find(0, "too few tips") < texts) == (more == 0));
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

/* ---- The work sheet ---------------------------------------------------------------------------
 */

static int drop(void *context, const void *piece, size_t count) {
    (void)context;
    (void)piece;
    (void)count;
    return 0;
}

/* Whether the list of corrections has a lash under a number that the plan does correct. */
static bool is_corrected(const tcr_plan *plan, const tcr_set *set, int number) {
    char text[8];
    snprintf(text, sizeof text, "%d", number);
    size_t at = find(0, "Corrections: ");
    while ((at = find_whole(at + 1, text)) < texts)
        for (int side = 0; side < TCR_SIDES; side++) {
            const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
            for (size_t i = 0; i < eye->lashes; i++) {
                char id[TCR_WORDS];
                snprintf(id, sizeof id, "%c %s", side == TCR_LEFT ? 'L' : 'R',
                         tcr_set_id(set, (tcr_side)side, i));
                if (eye->lash[i].corrected && strcmp(said[at + 1], id) == 0)
                    return true;
            }
        }
    return false;
}

CLAIM(a_work_sheet_lists_what_the_plan_has) {
    tcr_set *set = new_set("Work", true, true), *planned;
    tcr_plan *plan;
    tcr_plan_work *work;
    tcr_check *after;
    tcr_plan_options options = tcr_plan_options_default();
    tcr_plan_pace pace = tcr_plan_pace_default();
    const tcr_text_watcher watcher = {keep, NULL};
    describe(set, 60);
    options.corrections = 6;
    options.free_mm = 0.05;
    pace.loss_share = 0.4;
    expect_status(tcr_plan_new(set, &options, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_check_new(planned, NULL, &after, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, &pace, &work), TCR_OK);
    texts = 0;
    expect_status(tcr_work_sheet_watched(plan, work, after, TCR_SHEET_FULL, &watcher, drop, NULL),
                  TCR_OK);
    for (size_t i = 0; i < work->rows; i++) {
        const tcr_plan_row *row = &work->row[i];
        char cell[4][TCR_WORDS];
        tcr_say_trimmed(cell[0], row->length_mm, 2);
        tcr_say_trimmed(cell[1], row->diameter_mm, 3);
        snprintf(cell[2], TCR_WORDS, "%zu", row->lashes);
        snprintf(cell[3], TCR_WORDS, "%zu", row->with_loss);
        const char *const all[] = {cell[0], tcr_set_curl(set, row->curl)->label, cell[1], cell[2],
                                   cell[3]};
        expect_true(row->with_loss > row->lashes);
        expect_row(all, 5);
    }
    for (size_t p = 0; p < work->places; p++) {
        const tcr_plan_place *place = &work->place[p];
        char number[24], id[TCR_WORDS];
        snprintf(number, sizeof number, "%zu", p + 1);
        /* R and L: the client's right and left eye. */
        snprintf(id, sizeof id, "%c %s", place->side == TCR_LEFT ? 'L' : 'R',
                 tcr_set_id(set, place->side, place->lash));
        const char *const row[] = {number, id};
        given("place %zu", p);
        expect_row(row, 2);
    }
    size_t end = 0; /* of the first run from one row of the tray */
    while (end < work->places && work->place[end].row == work->place[0].row)
        end++;
    char length[TCR_WORDS], diameter[TCR_WORDS], run[TCR_WORDS];
    const tcr_plan_row *first = &work->row[work->place[0].row];
    snprintf(run, sizeof run, "%.20s %s %.20s mm, %zu lashes",
             tcr_say_trimmed(length, first->length_mm, 2), tcr_set_curl(set, first->curl)->label,
             tcr_say_trimmed(diameter, first->diameter_mm, 3), end);
    expect_true(find_whole(0, run) < texts);
    for (int c = 1; c <= 6; c++) {
        given("correction %d", c);
        expect_true(is_corrected(plan, planned, c));
    }
    /* On the maps, which come before their note, they are numbered from one. */
    const size_t note = find(0, "Ringed: corrections");
    expect_true(find_whole(0, "1") < note && find_whole(0, "0") > note);
    const tcr_plan_result *result = tcr_plan_result_of(plan);
    expect_true(result->at_limit);
    expect_said("which is as far as it may");
    tcr_plan_work_free(work);
    tcr_check_free(after);
    tcr_set_free(planned);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_sheet_counts_lashes_and_extensions,
        &the_artist_reads_where_each_layer_lies,
        &layers_stand_off_the_line_as_seen_and_from_the_couch,
        &staggered_lashes_are_listed_worst_first_and_the_rest_counted,
        &the_profile_says_how_far_tips_lie_over_the_bottom_one,
        &a_comparison_counts_the_staggered_tips_of_both,
        &a_film_shows_the_eye_from_closed_to_open_in_even_time,
        &rings_are_named_after_lashes_of_their_own_eye,
        &from_the_head_of_the_couch_the_left_eye_is_at_the_left,
        &the_corners_stand_at_the_ends_of_the_deviations,
        &the_profile_says_how_the_average_lash_grows,
        &bars_of_causes_say_what_a_cause_adds,
        &the_lesson_says_how_far_apart_the_tips_of_equal_layers_are,
        &layers_are_counted_with_what_is_bare,
        &a_comparison_goes_by_the_tolerance_and_the_line_of_the_check,
        &as_many_lashes_as_judge_a_line_are_compared,
        &a_work_sheet_lists_what_the_plan_has,
    };
    return RUN_DRAWN_CLAIMS("figures", claims);
}
