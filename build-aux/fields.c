/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints the reference of set files as Markdown, from the table of fields (tipcrest/field.h). */
#include <math.h>
#include <stdio.h>

#include <tipcrest/field.h>
#include <tipcrest/text.h>

/* Where files have the fields of a group. */
static const struct {
    tcr_group group;
    const char *heading, *where;
} BLOCKS[] = {
    {TCR_GROUP_VIEW, "How it is looked at", "At the top level of the file."},
    {TCR_GROUP_LID, "The lid", "In `lid`, and in the `lid` of an eye."},
    {TCR_GROUP_DESCRIPTION, "Described lashes", "In `describe` of the lashes of an eye."},
    {TCR_GROUP_LASH, "A measured lash", "The columns of a survey, a row for each lash."},
    {TCR_GROUP_WISH, "A lash's own extension",
     "Columns of a survey with `ext_` in front, and a layer of a zone."},
    {TCR_GROUP_MEAN_LASH, "The mean lash", "In `mean_lash`."},
    {TCR_GROUP_ZONE, "A zone", "In each item of `map` and of `intended`."},
    {TCR_GROUP_LAYERING, "Layering", "In `layering`."},
    {TCR_GROUP_PLACEMENT, "Placement by layer", "In `placement` of `layering`."},
    {TCR_GROUP_TRAY, "The tray", "Each length in `tray`."},
    {TCR_GROUP_BOND, "The bond", "In `bond`."},
    {TCR_GROUP_PIECE, "A piece of a curl", "In each piece of a curl in `curls`."},
    {TCR_GROUP_LINE, "The line", "In `line`."},
    {TCR_GROUP_LIMITS, "What plans may do", "In `plan`."},
    {TCR_GROUP_PACE, "How long work takes", "In `pace`."},
};

static const char *unit_text(tcr_unit unit) {
    static const char *const TEXT[] = {"",      "mm",    "degrees", "place along the lid",
                                       "share", "ratio", "count",   "s",
                                       "min",   "mg",    "µN mm"};
    return TEXT[unit];
}

static void put_number(double value) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(value, text);
    fputs(text, stdout);
}

static void put_range(const tcr_field *f) {
    if (f->words != NULL) {
        for (int i = 0; i <= (int)f->file.most; i++)
            printf("%s`%s`", i > 0 ? ", " : "", f->words[i]);
    } else if (f->kind == TCR_KIND_LABEL) {
        fputs("a curl's letter", stdout);
    } else if (f->kind == TCR_KIND_BOOL) {
        fputs("`false`, `true`", stdout);
    } else {
        fputs(f->above ? "above " : "", stdout);
        put_number(f->file.least);
        fputs(f->below ? " to below " : " to ", stdout);
        put_number(f->file.most);
    }
}

static void put_standard(const tcr_field *f) {
    if (isnan(f->file.standard))
        fputs("none", stdout);
    else if (f->words != NULL)
        printf("`%s`", f->words[(int)f->file.standard]);
    else if (f->kind == TCR_KIND_BOOL)
        fputs(f->file.standard != 0.0 ? "`true`" : "`false`", stdout);
    else
        put_number(f->file.standard);
    const char *source = f->reference != NULL ? f->reference : tcr_source_text(f->source);
    if (source[0] != '\0')
        printf("; %s", source);
}

static void put_group(tcr_group group) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    puts("| key | unit | range | default and its source | what it is |\n|---|---|---|---|---|");
    for (size_t i = 0; i < count; i++) {
        printf("| `%s` | %s | ", fields[i].key, unit_text(fields[i].unit));
        put_range(&fields[i]);
        fputs(" | ", stdout);
        put_standard(&fields[i]);
        printf(" | %s |\n", fields[i].note != NULL ? fields[i].note : "");
    }
}

int main(void) {
    puts(
        "# Set files\n\nEvery number that a set file or a survey may hold, from the table by which "
        "the library reads them. `tipcrest begin` writes a whole file with notes. A default that "
        "is *assumed* is ours; *common practice* has no source but the trade.");
    for (size_t i = 0; i < sizeof BLOCKS / sizeof *BLOCKS; i++) {
        printf("\n## %s\n\n%s\n\n", BLOCKS[i].heading, BLOCKS[i].where);
        put_group(BLOCKS[i].group);
    }
    return ferror(stdout) || fflush(stdout) != 0;
}
