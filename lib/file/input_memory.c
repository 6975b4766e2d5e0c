/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inputs as bytes in memory: what is the same wherever they come from. */
#include "file/input.h"

#include <string.h>

#include "num/memory.h"

void tcr_input_release(const tcr_allocator *allocator, tcr_input *input) {
    tcr_release(allocator, input->bytes);
    *input = (tcr_input){NULL, 0};
}

char *tcr_input_join(const tcr_allocator *allocator, const char *path, const char *name) {
    const char *slash = strrchr(path, '/');
    const size_t folder = slash != NULL ? (size_t)(slash - path) + 1 : 0, length = strlen(name);
    char *joined = tcr_resize(allocator, NULL, folder + length + 1, 1);
    if (joined != NULL) {
        memcpy(joined, path, folder);
        memcpy(joined + folder, name, length + 1);
    }
    return joined;
}

tcr_status tcr_input_fail_large(tcr_error *error, tcr_place place, size_t limit) {
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "the file is too large; it may have at most %lu MB",
                    (unsigned long)(limit / 1000000));
}

tcr_status tcr_input_hand_over(void *context, const tcr_allocator *allocator, const char *set_path,
                               const char *name, tcr_place place, tcr_input *input, char **path,
                               tcr_error *error) {
    const tcr_input_host *host = context;
    tcr_quoted quoted;
    size_t size = 0;
    *path = tcr_input_join(allocator, set_path, name);
    if (*path == NULL)
        return tcr_fail_memory(error, set_path);
    const char *bytes = host->find != NULL ? host->find(host->context, name, &size) : NULL;
    if (bytes == NULL)
        return tcr_fail(error, TCR_E_OPEN, place, "survey %s is not here; open it too",
                        tcr_quote(&quoted, name, strlen(name)));
    if (size > TCR_SURVEY_MAX)
        return tcr_input_fail_large(error, (tcr_place){*path, 0, 0}, TCR_SURVEY_MAX);
    *input = (tcr_input){tcr_resize(allocator, NULL, size + 1, 1), size};
    if (input->bytes == NULL)
        return tcr_fail_memory(error, set_path);
    memcpy(input->bytes, bytes, size);
    input->bytes[size] = '\0';
    return TCR_OK;
}

const char *tcr_input_kind(const char *bytes, size_t size) {
    static const struct {
        const char *start;
        size_t length;
        const char *kind;
    } KINDS[] = {
        {"\x89PNG", 4, "a picture (PNG)"},
        {"\xFF\xD8\xFF", 3, "a picture (JPEG)"},
        {"GIF8", 4, "a picture (GIF)"},
        {"RIFF", 4, "a picture or a sound"},
        {"%PDF", 4, "a PDF document"},
        {"PK\x03\x04", 4, "a spreadsheet or an archive"},
        {"\xD0\xCF\x11\xE0", 4, "an old spreadsheet or document"},
        {"\x1F\x8B", 2, "a compressed file"},
        {"{\\rtf", 5, "a word processor's document"},
        {"\x7F"
         "ELF",
         4, "a program"},
    };
    for (size_t i = 0; i < sizeof KINDS / sizeof KINDS[0]; i++)
        if (size >= KINDS[i].length && memcmp(bytes, KINDS[i].start, KINDS[i].length) == 0)
            return KINDS[i].kind;
    return NULL;
}
