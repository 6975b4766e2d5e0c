/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Set files with one mistake in a value: what is wrong, at its place, and what would be right. The
 * mistakes are made on purpose; places are counted here and words are this project's own.
 */
#include "file/folder.h"

/* Five lines that are right; the mistake begins line 6. */
static const char RIGHT[] = "tipcrest: 1\neyes:\n  - side: left\n"
                            "    lashes: {describe: {count: 20}}\n"
                            "    map: [{to: 1, length_mm: 10, curl: C}]\n";

typedef struct mistake {
    const char *text;
    unsigned long column; /* in line 6, from 1 */
    const char *words;    /* in the message */
} mistake;

static void expect_told(const char *text, unsigned long line, unsigned long column,
                        const char *words) {
    tcr_set_file *file = NULL;
    tcr_error error;
    put("a.yaml", text);
    const tcr_status status = tcr_set_file_read("a.yaml", NULL, &file, &error);
    given("\"%.60s\": %lu:%lu %s", text + (line > 5 ? strlen(RIGHT) : 0), error.line, error.column,
          error.message);
    expect_status(status, TCR_E_CONTENT);
    ck_assert_ptr_null(file);
    expect_true(strstr(error.message, words) != NULL);
    expect_count(error.line, line);
    expect_count(error.column, column);
}

#define EXPECT_TOLD(mistakes) expect_each(mistakes, sizeof(mistakes) / sizeof *(mistakes))
static void expect_each(const mistake *made, size_t count) {
    static char text[20000];
    enter_folder();
    for (size_t i = 0; i < count; i++) {
        snprintf(text, sizeof text, "%s%s\n", RIGHT, made[i].text);
        expect_told(text, 6, made[i].column, made[i].words);
    }
    leave_folder();
}

CLAIM(a_number_stands_alone_without_its_unit) {
    const mistake mistakes[] = {
        {"viewer_deg: 12 deg", 13,
         "viewer_deg is \"12 deg\"; write the number alone, in degrees: 12"},
        {"viewer_deg: 12\xC2\xB0", 13, "write the number alone, in degrees: 12"},
        {"viewer_deg: 0.2 rad", 13, "write the number alone, in degrees"},
        {"bond: {length_mm: 3mm}", 19, "write the number alone, in millimetres: 3"},
        {"bond: {length_mm: 3 \t mm}", 19, "write the number alone, in millimetres: 3"},
        {"bond: {length_mm: 0.3 cm}", 19, "write the number alone, in millimetres"},
        {"bond: {length_mm: 3 xx}", 19, "write the number alone, in millimetres"},
        {"pace: {lash_s: 20 s}", 16, "write the number alone, in seconds"},
        {"pace: {preparation_min: 5 min}", 25, "write the number alone, in minutes"},
        {"opening: 80 %", 10, "write it as a share, 0.8"},
        {"opening: 1 x", 10, "write the number alone"},
        {"viewer_deg: 1,5", 13, "with a decimal comma; write 1.5"},
        {"layering: {fan: 2.5}", 17, "must be a whole number"},
        {"viewer_deg: 1.2.3", 13, "viewer_deg needs a number, not \"1.2.3\""},
        {"viewer_deg: 2026-01-01", 13, "viewer_deg needs a number, not"},
        {"viewer_deg: .inf", 13, "viewer_deg needs a number, not"},
        {"viewer_deg: far", 13, "viewer_deg needs a number, not \"far\""},
        {"viewer_deg: \"12\"", 13, "in quotes; write the number without quotes"},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(a_value_of_another_kind_is_told_with_what_is_needed) {
    const mistake mistakes[] = {
        {"viewer_deg: [1, 2]", 13, "viewer_deg needs a number, not a list"},
        {"viewer_deg: {a: 1}", 13, "viewer_deg needs a number, not a block of keys"},
        {"viewer_deg:", 12, "viewer_deg has no value; it needs a number"},
        {"title: \"a\\0b\"", 8, "holds a character that no text can hold (\\0)"},
        {"line: [1]", 7, "not a list"},
        {"line: far", 7, "line needs keys with values, such as \""},
        {"line: tolerance_mm:1", 7, "a space is missing after the colon"},
        {"line: foo:bar", 7, "is none: is a space missing after its colon?"},
        {"line:", 6, "line has nothing in it"},
        {"line: {tolerance_mm: 1, seen_from_mm: 500}", 39,
         "line has tolerance_mm and seen_from_mm; give one"},
        {"line: {shared: \"true\"}", 16, "write true or false"},
        {"line: {shared: yes}", 16, "write true or false"},
        {"subject: horse", 10, "subject \"horse\" is not known; one of client"},
        {"subject: clint", 10, "did you mean client?"},
        {"bond: {length_mm: 2,5}", 19, "a decimal comma; write a point, 2.5"},
        {"\xC2\xA0 title: x", 1, "no-break spaces"},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(trays_say_how_their_lengths_are_written) {
    static const char BY_ITSELF[] = "needs each length by itself, such as [8, 9, 10], not \"8-14\"";
    static const char BY_DIAMETER[] = "the tray has the lengths of C by diameter";
    const mistake mistakes[] = {
        {"tray: {lengths_mm: 8-14}", 20, BY_ITSELF},
        {"tray: {lengths_mm: [8-14]}", 21, BY_ITSELF},
        {"tray: 8-14", 7, "not \"8-14\""},
        {"tray: some", 7, "not \"some\""},
        {"tray: []", 7, "not a list"},
        {"tray: {}", 7, "lengths_mm is missing"},
        {"tray: {lengths_mm: }", 20, "lengths_mm has nothing in it; it needs a list of lengths"},
        {"tray: {lengths_mm: []}", 20, "lengths_mm is an empty list; give from 1 to 64 lengths"},
        {"tray: {lengths_mm: [8, a]}", 24, "a length of the tray needs a number, not \"a\""},
        {"tray: {lengths_mm: [8, 8]}", 24, "8 is in the tray twice; give each length once"},
        {"tray: {C: [8, 9]}", 11, BY_DIAMETER},
        {"tray: {C: {}}", 11, BY_DIAMETER},
        {"tray: {C: {a: [8]}}", 12, "a diameter of the tray needs a number, not \"a\""},
        {"tray: {C: {0.1: [8], 0.10: [9]}}", 22, "this diameter of C is here twice"},
        {"tray: {Q: {0.1: [8]}}", 8, "the tray's curl \"Q\" is not in the catalogue"},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(numbers_that_need_others_and_names_of_layers_are_told) {
    const mistake mistakes[] = {
        {"mean_lash: {tip_diameter_mm: 0.15}", 30,
         "at most root_diameter_mm, 0.08 here by default"},
        {"mean_lash: {tip_diameter_mm: 0.15, root_diameter_mm: 0.1}", 30,
         "at most root_diameter_mm, 0.1 here"},
        {"layering: {placement: {7: top}}", 24, "of six rows, 1 and 2 are bottom"},
        {"layering: {placement: {2: top}}", 24, "1 is bottom, 2 is middle, 3 is top"},
        {"line: {1,5}", 8, "key \"1\" is not known in line"},
        {"bond: {length_mm: a,5}", 19, "length_mm needs a number, not \"a\""},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(curls_say_what_is_wrong_with_them) {
    const mistake mistakes[] = {
        {"curls: {X: []}", 12, "a curl is an empty list; give from 1 to 8 pieces"},
        {"curls: {X: {}}", 12, "a measured curl has 0 lengths, but must have from 1 to 64"},
        {"curls: {X: 5}", 12, "a curl needs a list of pieces"},
        {"curls: {X: [1]}", 13, "a piece of a curl is two numbers in [ ]"},
        {"curls: {X: [[1, 60, 3]]}", 13, "a piece of a curl is two numbers in [ ]"},
        {"curls: {X: [[a, 60]]}", 14, "the share of a piece needs a number, not \"a\""},
        {"curls: {X: [[0.4, 10], [0.4, 20]]}", 12, "add up to 0.8, but must add up to 1"},
        {"curls: {X: [[0.4, 10]]}", 12, "add up to 0.4, but must add up to 1"},
        {"curls: {X: {7: [[1, 50]], 7: [[1, 60]]}}", 27, "key \"7\" is here twice"},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(what_is_too_much_is_told_with_the_limit) {
    static char text[20000];
    enter_folder();
    /* A title of 1024 bytes: 1023 are the most. */
    size_t used = (size_t)snprintf(text, sizeof text, "%stitle: ", RIGHT);
    memset(text + used, 't', 1024);
    strcpy(text + used + 1024, "\n");
    expect_told(text, 6, 8, "the title is too long; it may have at most 1023 bytes");
    /* 65 lengths of which 64 are the most, over two kinds. */
    used = (size_t)snprintf(text, sizeof text, "%stray: {C: {0.15: [", RIGHT);
    for (int i = 0; i < 64; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%g", i > 0 ? ", " : "",
                                 3 + 0.25 * i);
    snprintf(text + used, sizeof text - used, "], 0.12: [25]}}\n");
    const char *more = strstr(text, "[25]");
    expect_told(text, 6, (unsigned long)(more + 1 - (text + strlen(RIGHT))) + 1,
                "the tray has more than 64 lengths");
    /* 65 diameters of one curl, of which 64 are the most over all curls. */
    used = (size_t)snprintf(text, sizeof text, "%stray: {C: {", RIGHT);
    for (int i = 0; i < 65; i++) {
        more = text + used;
        used += (size_t)snprintf(text + used, sizeof text - used, "0.0%d: [8], ", 20 + i);
    }
    strcpy(text + used, "}}\n");
    expect_told(text, 6, (unsigned long)(more - (text + strlen(RIGHT))) + 1,
                "the tray has more than 64 curls and diameters");
    leave_folder();
}

CLAIM(a_file_that_is_no_set_is_told) {
    enter_folder();
    expect_told("~\n", 1, 1, "a set file begins with the line tipcrest: 1");
    expect_told("\xEF\xBB\xBFid,u,layer\n", 0, 0,
                "this is a survey; give the set file that names it");
    expect_told("id;u;layer\n", 0, 0, "this is a survey");
    leave_folder();
}

/* A set whose map is this; zones are told on line 5. */
static void expect_map_told(const char *map, unsigned long column, const char *words) {
    static char text[2000];
    snprintf(
        text, sizeof text,
        "tipcrest: 1\neyes:\n  - side: left\n    lashes: {describe: {count: 20}}\n    map: %s\n",
        map);
    expect_told(text, 5, column, words);
}

CLAIM(zones_rise_to_the_outer_corner_and_have_all_that_they_need) {
    enter_folder();
    expect_map_told("[{to: 0.9, length_mm: 10, curl: C}]", 16,
                    "the last zone ends at 0.9, but must end at 1, the outer corner");
    expect_map_told("[{to: 0.5, length_mm: 10, curl: C}, {to: 0.5, length_mm: 9, curl: C}]", 51,
                    "this zone ends at 0.5, but must end beyond 0.5, where it begins");
    expect_map_told("[{to: 1, curl: C}]", 11,
                    "length_mm is missing; every zone needs to, length_mm");
    expect_map_told("[{to: 1, length_mm: 1.2, curl: C}]", 30,
                    "must be from 3 to 30 mm; 1.2 cm is 12 mm");
    expect_map_told("[{to: 50, length_mm: 10, curl: C}]", 16, "not per cent or millimetres");
    expect_map_told("[{to: 1, length_mm: 10, curl: cc}]", 40,
                    "curl \"cc\" is not in the catalogue; did you mean CC? One of J, B, C, CC");
    expect_map_told("[{to: 1, length_mm: 10, curl: \xE2\x80\x9C"
                    "C\xE2\x80\x9D}]",
                    40, "; curly quotation marks are part of the text here, leave them out");
    expect_map_told("[{to: 1, length_mm: 10, curl: C, top: {from_skin_mm: 1}}]", 63,
                    "from_skin_mm is a lash's own");
    leave_folder();
}

CLAIM(keys_stand_once_and_where_they_belong) {
    const mistake mistakes[] = {
        {"eyes: 1", 1, "key \"eyes\" is here twice"},
        {"mrd1_mm: 4", 1,
         "key \"mrd1_mm\" is not known in a set file; it belongs in lid, inside an eye, below a "
         "line \"lid:\" without a # in front"},
        {"length_mm: 4", 1,
         "it belongs in one of these: describe, inside lashes, a zone of the map"},
        {"step_mm: 1", 1,
         "it belongs in layering, below a line \"layering:\" without a # in front"},
        {"placement: top", 1, "it belongs in layering"},
        {"lid: {}", 1, "it belongs in an eye, beside its side"},
        {"pace: {lash_z: 20}", 8, "key \"lash_z\" is not known in pace; did you mean lash_s?"},
        {"curls: {X: [[0, 10], [1, 60]]}", 14,
         "the share of a piece is 0, but must be above 0; leave such a piece out"},
    };
    EXPECT_TOLD(mistakes);
}

CLAIM(what_a_file_is_instead_of_a_set_is_named) {
    static const char *const files[][2] = {{"%PDF-1.4\n", "a PDF document"},
                                           {"GIF89a", "a picture (GIF)"},
                                           {"\x89PNG\r\n\x1a\n", "a picture (PNG)"}};
    enter_folder();
    /* Source: the formats' own first bytes. */
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        expect_told(files[i][0], 0, 0, files[i][1]);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_number_stands_alone_without_its_unit,
        &a_value_of_another_kind_is_told_with_what_is_needed,
        &trays_say_how_their_lengths_are_written,
        &numbers_that_need_others_and_names_of_layers_are_told,
        &curls_say_what_is_wrong_with_them,
        &what_is_too_much_is_told_with_the_limit,
        &a_file_that_is_no_set_is_told,
        &zones_rise_to_the_outer_corner_and_have_all_that_they_need,
        &keys_stand_once_and_where_they_belong,
        &what_a_file_is_instead_of_a_set_is_named,
    };
    return RUN_CLAIMS("mistakes", claims);
}
