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
    expect_said("top: 8 top, 4 inner");
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
        &a_work_sheet_lists_what_the_plan_has,
    };
    return RUN_DRAWN_CLAIMS("figures", claims);
}
