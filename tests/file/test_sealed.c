/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Outputs with a seal: a set file or survey is replaced only while nobody has changed it. The
 * seal's words are the library's own; its digest is held against the SHA-256 of other programs.
 */
#include <tipcrest/file.h>

#include <fcntl.h>
#include <sys/stat.h>

#include "file/folder.h"

#define REFUSED                                                                                    \
    "this file was not written by plan, or was changed since; choose another name or folder, "     \
    "or move it away"

/* Adds a sealed target and writes a text to it in two pieces. */
static tcr_status add_sealed(tcr_outputs *outputs, const char *path, const char *text,
                             tcr_error *error) {
    size_t index;
    const size_t first = strlen(text) / 2;
    tcr_status status = tcr_outputs_add_sealed(outputs, path, &index, error);
    if (status == TCR_OK)
        status = tcr_outputs_write(outputs, index, text, first);
    if (status == TCR_OK)
        status = tcr_outputs_write(outputs, index, text + first, strlen(text) - first);
    return status;
}

static tcr_status seal_file(const char *path, const char *text, tcr_error *error) {
    tcr_outputs *outputs = new_outputs();
    tcr_status status = add_sealed(outputs, path, text, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(outputs, error);
    tcr_outputs_free(outputs);
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    return status;
}

/* The file at a path is refused, by both calls, and stays as it is. */
static void expect_refused(const char *path) {
    tcr_error error = {0};
    char before[256];
    strcpy(before, held(path));
    expect_status(tcr_outputs_may_seal(path, &error), TCR_E_CONTENT);
    expect_text(error.message, REFUSED);
    error = (tcr_error){0};
    expect_status(seal_file(path, "after\n", &error), TCR_E_CONTENT);
    expect_text(error.message, REFUSED);
    expect_text(error.path, path);
    expect_text(held(path), before);
}

#define WORDS "# tipcrest may replace this file while the lines above have sha256:"
/* printf 'abc\n' | sha256sum, and of nothing; computed by GNU coreutils 9.1. */
#define SEAL_OF_ABC WORDS "edeaaff3f1774ad2888673770c6d64097e391bc362d7d6fb34982ddf0efd18cb\n"
#define SEAL_OF_NOTHING WORDS "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\n"

CLAIM(a_seal_is_the_digest_of_all_lines_above_it) {
    enter_folder();
    expect_status(seal_file("new", "abc\n", NULL), TCR_OK);
    expect_text(held("new"), "abc\n" SEAL_OF_ABC);
    expect_status(seal_file("empty", "", NULL), TCR_OK);
    expect_text(held("empty"), SEAL_OF_NOTHING);
    leave_folder();
}

CLAIM(a_file_whose_seal_holds_is_replaced) {
    enter_folder();
    expect_status(seal_file("old", "before\n", NULL), TCR_OK);
    ck_assert_int_eq(symlink("old", "link"), 0);
    expect_status(tcr_outputs_may_seal("old", NULL), TCR_OK);
    expect_status(seal_file("old", "abc\n", NULL), TCR_OK);
    expect_text(held("old"), "abc\n" SEAL_OF_ABC);
    expect_status(seal_file("link", "", NULL), TCR_OK);
    expect_text(held("old"), SEAL_OF_NOTHING);
    leave_folder();
}

CLAIM(a_file_longer_than_any_buffer_is_sealed_and_replaced) {
    enter_folder();
    enum { LENGTH = 300000 };
    static char text[LENGTH + 1];
    memset(text, 'x', LENGTH);
    text[LENGTH - 1] = '\n';
    expect_status(seal_file("long", text, NULL), TCR_OK);
    expect_status(seal_file("long", text, NULL), TCR_OK);
    FILE *stream = fopen("long", "r+");
    ck_assert_int_eq(fseek(stream, 100000, SEEK_SET), 0);
    fputc('y', stream);
    fclose(stream);
    expect_status(seal_file("long", text, NULL), TCR_E_CONTENT);
    leave_folder();
}

CLAIM(what_somebody_else_wrote_or_changed_is_refused) {
    enter_folder();
    static const char *const TEXTS[] = {
        "",
        "\n",
        "mine\n",
        "# A set planned by tipcrest.\n",
        SEAL_OF_ABC,                    /* a line was taken out */
        "abc\r\n" SEAL_OF_ABC,          /* as another editor ends lines */
        "abc\n" WORDS "edeaaff3\n",     /* cut off */
        "abc\n\n" SEAL_OF_ABC,          /* an empty line */
        "abc \n" SEAL_OF_ABC,           /* a blank */
        "Abc\n" SEAL_OF_ABC,            /* a letter */
        "abc\n" SEAL_OF_ABC "\n",       /* a line added behind */
        "abc\n" SEAL_OF_ABC "# mine\n", /* a remark added behind */
        "abc\n" SEAL_OF_NOTHING,        /* another's seal */
        "\xEF\xBB\xBF"
        "abc\n" SEAL_OF_ABC, /* a byte order mark */
    };
    for (size_t i = 0; i < sizeof TEXTS / sizeof *TEXTS; i++) {
        given("text %zu", i);
        put("old", TEXTS[i]);
        expect_refused("old");
    }
    /* The seal's own line saved with another end, and without one. */
    char text[256] = "abc\n" SEAL_OF_ABC;
    text[strlen(text) - 1] = '\0';
    put("old", text);
    expect_refused("old");
    strcat(text, "\r\n");
    put("old", text);
    expect_refused("old");
    leave_folder();
}

CLAIM(a_file_changed_before_the_commit_is_kept_and_nothing_is_placed) {
    enter_folder();
    expect_status(seal_file("set", "before\n", NULL), TCR_OK);
    put("report", "before");
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    expect_status(add(outputs, "report", "after", NULL), TCR_OK);
    expect_status(add_sealed(outputs, "set", "after\n", NULL), TCR_OK);
    put("set", "mine");
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_CONTENT);
    expect_text(error.path, "set");
    expect_text(error.message, REFUSED);
    tcr_outputs_free(outputs);
    expect_text(held("set"), "mine");
    expect_text(held("report"), "before");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(a_file_made_or_removed_before_the_commit_is_noticed) {
    enter_folder();
    expect_status(seal_file("gone", "before\n", NULL), TCR_OK);
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    expect_status(add_sealed(outputs, "gone", "abc\n", NULL), TCR_OK);
    ck_assert_int_eq(unlink("gone"), 0);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
    expect_text(held("gone"), "abc\n" SEAL_OF_ABC);

    outputs = new_outputs();
    expect_status(add_sealed(outputs, "new", "abc\n", NULL), TCR_OK);
    put("new", "mine");
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_CONTENT);
    expect_text(error.message, REFUSED);
    tcr_outputs_free(outputs);
    expect_text(held("new"), "mine");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(a_device_and_a_pipe_get_the_seal_and_are_never_asked) {
    enter_folder();
    ck_assert_int_eq(mkfifo("pipe", 0600), 0);
    const int reader = open("pipe", O_RDONLY | O_NONBLOCK);
    expect_status(tcr_outputs_may_seal("pipe", NULL), TCR_OK);
    expect_status(seal_file("pipe", "abc\n", NULL), TCR_OK);
    char text[256] = "";
    expect_count(read(reader, text, sizeof text - 1), (long)strlen("abc\n" SEAL_OF_ABC));
    expect_text(text, "abc\n" SEAL_OF_ABC);
    close(reader);
    expect_status(seal_file("/dev/null", "abc\n", NULL), TCR_OK);
    leave_folder();
}

CLAIM(a_path_that_cannot_be_written_is_told_beforehand) {
    enter_folder();
    tcr_error error = {0};
    expect_status(tcr_outputs_may_seal("none/new", &error), TCR_E_OPEN);
    expect_text(error.message, "cannot be opened for writing: there is no such folder");
    expect_status(tcr_outputs_may_seal(".", &error), TCR_E_OPEN);
    expect_status(tcr_outputs_may_seal("new", &error), TCR_OK);
    expect_text(held("new"), "(none)");
    expect_status(tcr_outputs_may_seal(NULL, &error), TCR_E_ARGUMENT);
    size_t index;
    expect_status(tcr_outputs_add_sealed(NULL, "new", &index, &error), TCR_E_ARGUMENT);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_seal_is_the_digest_of_all_lines_above_it,
        &a_file_whose_seal_holds_is_replaced,
        &a_file_longer_than_any_buffer_is_sealed_and_replaced,
        &what_somebody_else_wrote_or_changed_is_refused,
        &a_file_changed_before_the_commit_is_kept_and_nothing_is_placed,
        &a_file_made_or_removed_before_the_commit_is_noticed,
        &a_device_and_a_pipe_get_the_seal_and_are_never_asked,
        &a_path_that_cannot_be_written_is_told_beforehand,
    };
    return RUN_CLAIMS("sealed", claims);
}
