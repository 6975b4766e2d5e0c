/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Set files read: what a value becomes in the set, limits, safety, and where faults are told. The
 * texts of messages are held by tests/cli/bad/; here only what they stand on.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <sys/stat.h>

#include "file/folder.h"
#include "support/memory.h"

#define DEGREE (3.14159265358979323846 / 180.0)
static const char TWO_ROUNDINGS[] = "a degree's conversion rounds twice";

/* The example of the interface with a survey of three lashes; all invented. */
static const char SURVEY[] = "id,u,layer,length_mm,pitch_deg,ext_length_mm,ext_curl\n"
                             "a01,0.1,bottom,8,,,\n"
                             "a02,0.5,middle,7.5,-12,13,X\n"
                             "a03,0.9,top,7,,none,\n";
static const char TOP[] = "tipcrest: 1\n"
                          "title: First layering drill\n"
                          "subject: practice-head\n";
static const char EYES[] =
    "eyes:\n"
    "  - side: left\n"
    "    lid: {fissure_width_mm: 28.5, canthal_tilt_deg: 4}\n"
    "    lashes:\n"
    "      survey: left.csv\n"
    "    map:\n"
    "      - {to: 0.2, length_mm: 9,  curl: C}\n"
    "      - {to: 0.4, length_mm: 10, curl: X}\n"
    "      - to: 0.8\n"
    "        length_mm: 12\n"
    "        curl: C\n"
    "        top: {length_mm: 10, curl: D, placement: underside}\n"
    "      - {to: 1,   length_mm: 11, curl: C}\n"
    "  - side: right\n"
    "    lashes: {describe: {count: 40, seed: 9007199254740991, phases: none}}\n"
    "    map: [{to: 1, length_mm: 10, curl: K}]\n";
static const char REST[] = "layering:\n"
                           "  step_mm: 2\n"
                           "  diameter_mm: 0.07\n"
                           "  fan: 3\n"
                           "  spread_deg: 25\n"
                           "  placement: {middle: outer-side, top: underside}\n"
                           "  blend: true\n"
                           "mean_lash: {length_mm: 8, turn_deg: 65}\n"
                           "tray: {lengths_mm: [14, 6, 7, 8, 9, 10, 11, 12, 13]}\n"
                           "bond: {offset_mm: 0.6, length_mm: 2.5, glue_mm: 0.02}\n"
                           "curls:\n"
                           "  X: [[0.4, 0], [0.6, 70]]\n"
                           "  K: {\"12\": [[0.2, 0], [0.8, 95]], 8: [[0.3, 0], [0.7, 80]]}\n"
                           "line: {tolerance_mm: 0.4}\n"
                           "opening: 0.9\n"
                           "viewer_deg: -5\n";

static void put_parts(const char *path, const char *a, const char *b, const char *c) {
    char text[8192];
    snprintf(text, sizeof text, "%s%s%s", a, b, c);
    put(path, text);
}

static tcr_set_file *read_good(const char *path) {
    tcr_error error;
    tcr_set_file *file = NULL;
    const tcr_status status = tcr_set_file_read(path, NULL, &file, &error);
    given("%s:%lu:%lu: %s", path, error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    return file;
}

static tcr_error read_bad(const char *path, tcr_status expected) {
    tcr_error error = {.message = "?"};
    tcr_set_file *file = NULL;
    given("%s", path);
    expect_status(tcr_set_file_read(path, NULL, &file, &error), expected);
    expect_status(error.status, expected);
    expect_true(file == NULL);
    return error;
}

/* A set file whose text is given, in the folder of the test. */
static tcr_error read_bad_text(const char *text) {
    put("bad.yaml", text);
    return read_bad("bad.yaml", TCR_E_CONTENT);
}

static void expect_at(tcr_error error, const char *path, unsigned long line, unsigned long column) {
    given("the message: %s", error.message);
    expect_text(error.path, path);
    expect_count(error.line, line);
    expect_count(error.column, column);
}

static void expect_the_example(const tcr_set *set) {
    expect_text(tcr_set_title(set), "First layering drill");
    expect_count(tcr_set_subject(set), TCR_PRACTICE_HEAD);
    expect_count(tcr_set_lash_count(set, TCR_LEFT), 3);
    expect_count(tcr_set_lash_count(set, TCR_RIGHT), 40);

    const tcr_lid *lid = tcr_set_lid(set, TCR_LEFT);
    expect_same(lid->fissure_width_mm, 28.5, "no arithmetic");
    expect_near(lid->canthal_tilt_rad, 4 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_count(tcr_set_lid_assumed(set, TCR_LEFT),
                 TCR_LID_ALL & ~(unsigned)(TCR_LID_FISSURE_WIDTH | TCR_LID_CANTHAL_TILT));
    expect_count(tcr_set_lid_assumed(set, TCR_RIGHT), TCR_LID_ALL);

    size_t zones;
    const tcr_zone *zone = tcr_set_map(set, TCR_LEFT, &zones);
    expect_count(zones, 4);
    expect_same(zone[2].to, 0.8, "no arithmetic");
    expect_same(zone[2].length_mm, 12, "no arithmetic");
    expect_text(zone[1].curl, "X");
    expect_count(zone[2].layer[TCR_TOP].fixed, TCR_FIX_LENGTH | TCR_FIX_CURL | TCR_FIX_PLACEMENT);
    expect_same(zone[2].layer[TCR_TOP].length_mm, 10, "no arithmetic");
    expect_text(zone[2].layer[TCR_TOP].curl, "D");
    expect_count(zone[2].layer[TCR_TOP].placement, TCR_UNDERSIDE);
    expect_count(zone[2].layer[TCR_BOTTOM].fixed, 0);
}

static void expect_the_rest(const tcr_set *set) {
    const tcr_layering *layering = tcr_set_layering(set);
    expect_same(layering->step_mm, 2, "no arithmetic");
    expect_same(layering->diameter_mm, 0.07, "no arithmetic");
    expect_count(layering->fan, 3);
    expect_near(layering->spread_rad, 25 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_count(layering->placement[TCR_BOTTOM], TCR_ON_TOP);
    expect_count(layering->placement[TCR_MIDDLE], TCR_OUTER_SIDE);
    expect_count(layering->placement[TCR_TOP], TCR_UNDERSIDE);
    expect_true(layering->blend);

    const tcr_lash *mean = tcr_set_mean_lash(set);
    expect_same(mean->length_mm, 8, "no arithmetic");
    expect_near(mean->turn_rad, 65 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_nan(mean->pitch_rad); /* not said */

    const tcr_tray *tray = tcr_set_tray(set);
    expect_count(tray->count, 9);
    expect_same(tray->length_mm[0], 6, "sorted");
    expect_same(tray->length_mm[8], 14, "sorted");
    expect_same(tcr_set_bond(set)->offset_mm, 0.6, "no arithmetic");
    expect_same(tcr_set_bond(set)->length_mm, 2.5, "no arithmetic");
    expect_same(tcr_set_bond(set)->glue_mm, 0.02, "no arithmetic");
    expect_same(tcr_set_tolerance(set), 0.4, "no arithmetic");
    expect_same(tcr_set_view(set)->opening, 0.9, "no arithmetic");
    expect_near(tcr_set_view(set)->viewer_rad, -5 * DEGREE, 1e-15, TWO_ROUNDINGS);

    size_t index;
    expect_status(tcr_set_find_curl(set, "K", &index), TCR_OK);
    const tcr_curl *curl = tcr_set_curl(set, index);
    expect_count(curl->count, 2);
    expect_same(curl->length_mm[0], 8, "sorted, quoted or not");
    expect_same(curl->length_mm[1], 12, "sorted, quoted or not");
    expect_same(curl->profiles[0].share[1], 0.7, "no arithmetic");
    expect_near(curl->profiles[1].turn_rad[1], 95 * DEGREE, 1e-15, TWO_ROUNDINGS);
}

CLAIM(the_example_of_the_interface_reaches_the_set) {
    enter_folder();
    put("left.csv", SURVEY);
    put_parts("drill.yaml", TOP, EYES, REST);
    tcr_set_file *file = read_good("drill.yaml");
    expect_the_example(tcr_set_file_set(file));
    expect_the_rest(tcr_set_file_set(file));
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(keys_may_stand_in_any_order) {
    enter_folder();
    put("left.csv", SURVEY);
    put_parts("drill.yaml", EYES, REST, TOP);
    tcr_set_file *file = read_good("drill.yaml");
    expect_the_example(tcr_set_file_set(file));
    expect_the_rest(tcr_set_file_set(file));
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(json_is_read_as_well) {
    enter_folder();
    put("drill.json",
        "{\"tipcrest\": 1, \"title\": \"A \\\"drill\\\"\",\n\t\"eyes\": [{\"side\": \"right\",\n"
        "\t\"lashes\": {\"describe\": {\"count\": 24}},\n"
        "\t\"map\": [{\"to\": 1, \"length_mm\": 1.0e1, \"curl\": \"K\"}]}],\n"
        "\t\"curls\": {\"K\": {\"8\": [[1, 80]], \"12\": [[1, 95]]}}}\n");
    tcr_set_file *file = read_good("drill.json");
    const tcr_set *set = tcr_set_file_set(file);
    expect_text(tcr_set_title(set), "A \"drill\"");
    expect_count(tcr_set_lash_count(set, TCR_RIGHT), 24);
    expect_true(!tcr_set_has_eye(set, TCR_LEFT));
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(the_digest_is_over_the_set_file_and_then_its_surveys) {
    enter_folder();
    put("left.csv", SURVEY);
    put_parts("drill.yaml", TOP, EYES, REST);
    tcr_set_file *file = read_good("drill.yaml");
    /* computed by: cat drill.yaml left.csv | sha256sum (GNU coreutils 9.1) */
    expect_text(tcr_set_file_digest(file),
                "sha256:eb41aa380070670ea982a5bcf925880697602ee7903c92bb66cb4e77254e28df");
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(inputs_are_listed_as_the_user_would_write_them) {
    enter_folder();
    expect_count(mkdir("sets", 0700), 0);
    put("sets/left.csv", SURVEY);
    put_parts("sets/drill.yaml", TOP, EYES, REST);
    tcr_set_file *file = read_good("sets/drill.yaml");
    expect_count(tcr_set_file_input_count(file), 2);
    expect_text(tcr_set_file_input(file, 0), "sets/drill.yaml");
    expect_text(tcr_set_file_input(file, 1), "sets/left.csv");
    expect_true(tcr_set_file_input(file, 2) == NULL);
    tcr_set_file_free(file);
    leave_folder();
}

/* ---- Calls ----------------------------------------------------------------------------------- */

CLAIM(null_arguments_are_refused_and_an_error_is_not_needed) {
    tcr_set_file *file = NULL;
    expect_status(tcr_set_file_read(NULL, NULL, &file, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_read("drill.yaml", NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_file_read("/nowhere/drill.yaml", NULL, &file, NULL), TCR_E_OPEN);
    expect_status(tcr_set_file_check(NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_true(tcr_set_file_set(NULL) == NULL);
    tcr_set_file_free(NULL);
}

CLAIM(every_allocation_may_fail) {
    enter_folder();
    put("left.csv", SURVEY);
    put_parts("drill.yaml", TOP, EYES, REST);
    size_t calls = 0;
    tcr_status status = TCR_E_MEMORY;
    while (status == TCR_E_MEMORY) {
        tcr_counted counted = {.fail_at = ++calls};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_error error;
        tcr_set_file *file = NULL;
        given("allocation %zu", calls);
        status = tcr_set_file_read("drill.yaml", &allocator, &file, &error);
        if (status == TCR_E_MEMORY) {
            expect_true(file == NULL);
            expect_status(error.status, TCR_E_MEMORY);
        }
        tcr_set_file_free(file);
        expect_count(counted.blocks, 0);
    }
    expect_status(status, TCR_OK);
    expect_true(calls > 30); /* the tree, the set, its curls, the survey: more than a few */
    leave_folder();
}

/* Whether text may go to a terminal: no control character and no mark of direction. */
static bool is_safe(const char *text) {
    for (const unsigned char *at = (const unsigned char *)text; *at != '\0'; at++)
        if (*at < 0x20 || *at == 0x7F || (at[0] == 0xE2 && at[1] == 0x80 && at[2] == 0xAE))
            return false;
    return true;
}

CLAIM(messages_and_paths_are_safe_for_a_terminal) {
    enter_folder();
    const char *const texts[] = {
        "tipcrest: 1\n\"\\e[2J\\a\\n\": 1\n",
        "tipcrest: 1\n\"\\u202e\": 1\n",
        "tipcrest: 1\nopening: \"\\r\\x9b31m\"\n",
        "tipcrest: 1\ntitle: x\neyes: [{side: \"\\b\\b\", lashes: {}, map: []}]\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        const tcr_error error = read_bad_text(texts[i]);
        given("%s", error.message);
        expect_true(is_safe(error.message));
        expect_true(strchr(error.message, '\\') != NULL); /* shown all the same */
    }
    put("a\x1b[2J\nb.yaml", "");
    expect_true(is_safe(read_bad("a\x1b[2J\nb.yaml", TCR_E_CONTENT).path));
    leave_folder();
}

CLAIM(a_long_text_is_cut_in_a_message) {
    enter_folder();
    enum { LONG = 300000 };
    static char text[LONG + 64];
    strcpy(text, "tipcrest: 1\nopening: ");
    memset(text + strlen(text), 'k', LONG);
    strcat(text, "\neyes: []\n");
    const tcr_error error = read_bad_text(text);
    given("%s", error.message);
    expect_true(strlen(error.message) < 200); /* a sentence, not a page */
    expect_true(strstr(error.message, "kkk...\"") != NULL);
    leave_folder();
}

/* ---- Files ----------------------------------------------------------------------------------- */

CLAIM(what_is_no_regular_file_is_refused_without_waiting) {
    enter_folder();
    expect_count(mkfifo("fifo.yaml", 0600), 0);
    expect_count(mkdir("folder.yaml", 0700), 0);
    read_bad("fifo.yaml", TCR_E_CONTENT);
    read_bad("folder.yaml", TCR_E_CONTENT);
    read_bad("/dev/null", TCR_E_CONTENT);
    read_bad("none.yaml", TCR_E_OPEN);
    read_bad("", TCR_E_OPEN);
    expect_count(symlink("round.yaml", "round.yaml"), 0);
    read_bad("round.yaml", TCR_E_OPEN);
    leave_folder();
}

/* A set file with a comment that makes it so many bytes long. */
static void put_padded(const char *path, size_t bytes) {
    const char text[] = "tipcrest: 1\neyes: [{side: left, lashes: {describe: {count: 9}}, map: "
                        "[{to: 1, length_mm: 9, curl: C}]}]\n#";
    FILE *stream = fopen(path, "w");
    ck_assert_ptr_nonnull(stream);
    fputs(text, stream);
    for (size_t i = strlen(text); i < bytes; i++)
        fputc('-', stream);
    fclose(stream);
}

CLAIM(a_set_file_may_have_a_million_bytes_and_no_more) {
    enter_folder();
    put_padded("most.yaml", 1000000); /* 1 MB: interface.md, "Limits and safety" */
    tcr_set_file_free(read_good("most.yaml"));
    put_padded("more.yaml", 1000001);
    expect_at(read_bad("more.yaml", TCR_E_CONTENT), "more.yaml", 0, 0);
    leave_folder();
}

/* Reads a set whose survey has a name. */
static tcr_status read_survey_named(const char *name, tcr_error *error) {
    char text[1024];
    tcr_set_file *file = NULL;
    snprintf(text, sizeof text,
             "tipcrest: 1\neyes:\n  - side: left\n    lashes: {survey: \"%s\"}\n"
             "    map: [{to: 1, length_mm: 9, curl: C}]\n",
             name);
    put("sets/drill.yaml", text);
    const tcr_status status = tcr_set_file_read("sets/drill.yaml", NULL, &file, error);
    given("survey %s: %s", name, error->message);
    tcr_set_file_free(file);
    return status;
}

CLAIM(a_survey_lies_in_the_folder_of_the_set_also_through_links) {
    enter_folder();
    tcr_error error = {0};
    const char rows[] = "id,u,layer,length_mm\na01,0.5,bottom,8\n";
    expect_count(mkdir("sets", 0700) | mkdir("sets/below", 0700) | mkdir("sets-2", 0700), 0);
    put("outside.csv", rows);
    put("sets-2/a.csv", rows);
    put("sets/a.csv", rows);
    put("sets/below/b.csv", rows);
    expect_count(symlink("below/b.csv", "sets/link-in.csv"), 0);
    expect_count(symlink("../outside.csv", "sets/link-out.csv"), 0);
    expect_count(symlink("..", "sets/up"), 0);
    expect_count(mkfifo("sets/fifo.csv", 0600), 0);

    expect_status(read_survey_named("a.csv", &error), TCR_OK);
    expect_status(read_survey_named("./below/../a.csv", &error), TCR_OK);
    expect_status(read_survey_named("below/b.csv", &error), TCR_OK);
    expect_status(read_survey_named("link-in.csv", &error), TCR_OK);
    expect_status(read_survey_named("up/sets/a.csv", &error), TCR_OK);
    const char *const refused[] = {"../outside.csv",
                                   "link-out.csv",
                                   "up/outside.csv",
                                   "/etc/hostname",
                                   "../sets-2/a.csv",
                                   "",
                                   "fifo.csv",
                                   "below",
                                   ".",
                                   "../none.csv",
                                   "below/../../none.csv"};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
        expect_status(read_survey_named(refused[i], &error), TCR_E_CONTENT);
    expect_status(read_survey_named("none.csv", &error), TCR_E_OPEN);
    expect_at(error, "sets/drill.yaml", 4, 22);
    leave_folder();
}

CLAIM(a_survey_may_have_twenty_million_bytes_and_no_more) {
    enter_folder();
    tcr_error error = {0};
    expect_count(mkdir("sets", 0700), 0);
    put("sets/a.csv", "id,u,layer,length_mm\na01,0.5,bottom,8\n");
    expect_count(truncate("sets/a.csv", 20000001), 0); /* 20 MB: interface.md */
    expect_status(read_survey_named("a.csv", &error), TCR_E_CONTENT);
    expect_at(error, "sets/a.csv", 0, 0);
    expect_count(truncate("sets/a.csv", 20000000), 0);
    expect_status(read_survey_named("a.csv", &error), TCR_E_CONTENT);
    expect_at(error, "sets/a.csv", 3, 1); /* read, up to its first byte 0 */
    leave_folder();
}

/* ---- Limits of the document ------------------------------------------------------------------ */

/* Writes a beginning, so many copies of a part, and an end. */
static void put_repeated(const char *path, const char *start, const char *part, size_t times,
                         const char *end) {
    FILE *stream = fopen(path, "w");
    ck_assert_ptr_nonnull(stream);
    fputs(start, stream);
    for (size_t i = 0; i < times; i++)
        fputs(part, stream);
    fputs(end, stream);
    fclose(stream);
}

CLAIM(depth_nodes_and_keys_are_limited) {
    enter_folder();
    const char start[] = "tipcrest: 1\ntray:\n  ";
    /* The root is one level, so 31 lists in each other are 32 and fail only for what they are. */
    put_repeated("deep.yaml", start, "[", 31, "]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\n");
    expect_at(read_bad("deep.yaml", TCR_E_CONTENT), "deep.yaml", 1, 1); /* eyes is missing */
    put_repeated("deep.yaml", start, "[", 32, "]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\n");
    expect_at(read_bad("deep.yaml", TCR_E_CONTENT), "deep.yaml", 3, 34);

    /* Nodes: the root, two keys, the 1, the list, its items. */
    put_repeated("nodes.yaml", "tipcrest: 1\ntray: [", "1, ", 100000 - 5, "]\n");
    expect_at(read_bad("nodes.yaml", TCR_E_CONTENT), "nodes.yaml", 1, 1);
    put_repeated("nodes.yaml", "tipcrest: 1\ntray: [", "1, ", 100000 - 4, "]\n");
    expect_at(read_bad("nodes.yaml", TCR_E_CONTENT), "nodes.yaml", 2, 8 + 3 * (100000 - 5));
    leave_folder();
}

CLAIM(hostile_documents_take_no_long_time) {
    enter_folder();
    const char *const parts[] = {
        "[", "{",  "- ", "? ",     "a: ",  "\"",   "'",       "!",       "&a ", "*a ", "|\n",
        "#", "\t", "%",  "a: 1\n", "{a: ", "[a, ", "- - a\n", "--- a\n", "\\",  ":",   ","};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        put_repeated("hostile.yaml", "", parts[i], 990000 / strlen(parts[i]), "");
        read_bad("hostile.yaml", TCR_E_CONTENT); /* Check's time limit is the assertion */
    }
    leave_folder();
}

/* ---- What shows only in the check ------------------------------------------------------------ */

CLAIM(a_length_that_the_tray_lacks_is_told_at_its_zone) {
    enter_folder();
    put("left.csv", "id,u,layer,length_mm\na01,0.1,top,8\na02,0.9,top,8\n");
    put("drill.yaml",
        "tipcrest: 1\ntray: {lengths_mm: [9, 10, 11]}\neyes:\n  - side: left\n"
        "    lashes: {survey: left.csv}\n    map:\n"
        "      - {to: 0.5, length_mm: 11, curl: C}\n      - {to: 1, length_mm: 10, curl: C}\n");
    tcr_set_file *file = read_good("drill.yaml");
    tcr_error error = {0};
    tcr_check *check = NULL;
    expect_status(tcr_set_file_check(file, NULL, &check, &error), TCR_E_CONTENT);
    expect_at(error, "drill.yaml", 8, 9);
    expect_status(tcr_set_file_check(file, NULL, &check, NULL), TCR_E_CONTENT);
    expect_true(check == NULL);
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(an_extension_that_cannot_be_bonded_is_told_at_its_cell) {
    enter_folder();
    put("left.csv",
        "# invented\nid,u,layer,ext_length_mm,length_mm\n\na01,0.1,top,9,8\na02,0.9,top,9,1.6\n");
    put("drill.yaml", "tipcrest: 1\neyes:\n  - side: left\n    lashes: {survey: left.csv}\n"
                      "    map: [{to: 1, length_mm: 11, curl: C}]\n");
    tcr_set_file *file = read_good("drill.yaml");
    tcr_error error = {0};
    tcr_check *check = NULL;
    expect_status(tcr_set_file_check(file, NULL, &check, &error), TCR_E_CONTENT);
    expect_at(error, "left.csv", 5, 4);
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(a_set_that_was_read_can_be_checked) {
    enter_folder();
    put("left.csv", SURVEY);
    put_parts("drill.yaml", TOP, EYES, REST);
    tcr_set_file *file = read_good("drill.yaml");
    tcr_check *check = NULL;
    expect_status(tcr_set_file_check(file, NULL, &check, NULL), TCR_OK);
    expect_count(tcr_check_eye(check, TCR_LEFT)->lashes, 3);
    tcr_check_free(check);

    tcr_set_file_free(file);
    leave_folder();
}

/* ---- Advice ---------------------------------------------------------------------------------- */

CLAIM(the_mrd1_that_is_said_to_fit_is_the_largest_that_does) {
    enter_folder();
    const tcr_error error = read_bad_text(
        "tipcrest: 1\neyes:\n  - side: left\n    lid: {globe_radius_mm: 8, mrd1_mm: 8}\n"
        "    lashes: {describe: {count: 9}}\n    map: [{to: 1, length_mm: 9, curl: C}]\n");
    double advised = 0;
    const char *advice = strstr(error.message, "at most ");
    given("%s", error.message);
    expect_true(advice != NULL && sscanf(advice, "at most %lf", &advised) == 1);
    tcr_lid lid = tcr_lid_default();
    lid.globe_radius_mm = 8;
    lid.mrd1_mm = advised;
    expect_status(tcr_lid_validate(&lid, NULL), TCR_OK);
    lid.mrd1_mm = advised + 0.1; /* the advice goes by tenths of a millimetre */
    expect_status(tcr_lid_validate(&lid, NULL), TCR_E_MRD1);
    leave_folder();
}

CLAIM(limits_and_pace_are_those_of_the_file_or_the_defaults) {
    static const char OWN[] = "plan: {overlength_mm: 3.5}\npace: {lash_s: 50}\n";
    put("left.csv", SURVEY);
    char text[4096];
    snprintf(text, sizeof text, "%s%s%s%s", TOP, EYES, REST, OWN);
    put("own.yaml", text);
    tcr_set_file *file = read_good("own.yaml");
    const tcr_limits own = tcr_set_file_plan_limits(file), usual = tcr_limits_default();
    const tcr_plan_pace pace = tcr_set_file_pace(file), standard = tcr_plan_pace_default();
    expect_same(own.overlength_mm, 3.5, "as in the file");
    expect_same(own.mass_ratio, usual.mass_ratio, "omitted");
    expect_same(pace.lash_s, 50.0, "as in the file");
    expect_same(pace.setting_s, standard.setting_s, "omitted");
    tcr_set_file_free(file);
    /* Source: NULL has what an empty file has. */
    expect_same(tcr_set_file_plan_limits(NULL).overlength_mm, usual.overlength_mm, "default");
    expect_same(tcr_set_file_pace(NULL).lash_s, standard.lash_s, "default");
}

int main(void) {
    static const TTest *const claims[] = {
        &the_example_of_the_interface_reaches_the_set,
        &keys_may_stand_in_any_order,
        &json_is_read_as_well,
        &the_digest_is_over_the_set_file_and_then_its_surveys,
        &inputs_are_listed_as_the_user_would_write_them,
        &null_arguments_are_refused_and_an_error_is_not_needed,
        &every_allocation_may_fail,
        &messages_and_paths_are_safe_for_a_terminal,
        &a_long_text_is_cut_in_a_message,
        &what_is_no_regular_file_is_refused_without_waiting,
        &a_set_file_may_have_a_million_bytes_and_no_more,
        &a_survey_lies_in_the_folder_of_the_set_also_through_links,
        &a_survey_may_have_twenty_million_bytes_and_no_more,
        &depth_nodes_and_keys_are_limited,
        &hostile_documents_take_no_long_time,
        &a_length_that_the_tray_lacks_is_told_at_its_zone,
        &an_extension_that_cannot_be_bonded_is_told_at_its_cell,
        &a_set_that_was_read_can_be_checked,
        &the_mrd1_that_is_said_to_fit_is_the_largest_that_does,
        &limits_and_pace_are_those_of_the_file_or_the_defaults,
    };
    return RUN_CLAIMS("set file", claims);
}
