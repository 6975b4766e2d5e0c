/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Surveys read: every way in which people and spreadsheets write CSV gives the same lashes, and a
 * fault is told by line and cell. The texts of messages are held by tests/cli/bad/.
 */
#include <tipcrest/file.h>

#include "file/folder.h"

#define DEGREE (3.14159265358979323846 / 180.0)
static const char TWO_ROUNDINGS[] = "a degree's conversion rounds twice";

static const char SET[] =
    "tipcrest: 1\ncurls: {X: [[1, 70]]}\neyes:\n  - side: right\n"
    "    lashes: {survey: a.csv}\n    map: [{to: 1, length_mm: 10, curl: C}]\n";

static void put_bytes(const char *path, const char *bytes, size_t size) {
    FILE *stream = fopen(path, "w");
    ck_assert_ptr_nonnull(stream);
    ck_assert_uint_eq(fwrite(bytes, 1, size, stream), size);
    fclose(stream);
}

/* Reads what a.csv holds as the survey of a right eye. */
static tcr_status read_survey(tcr_set_file **file, tcr_error *error) {
    put("set.yaml", SET);
    *file = NULL;
    *error = (tcr_error){.message = "?"};
    return tcr_set_file_read("set.yaml", NULL, file, error);
}

static tcr_set_file *read_file(void) {
    tcr_error error;
    tcr_set_file *file;
    const tcr_status status = read_survey(&file, &error);
    given("%s:%lu:%lu: %s", error.path, error.line, error.column, error.message);
    expect_status(status, TCR_OK);
    return file;
}

static tcr_set_file *read_good(const char *csv) {
    put("a.csv", csv);
    return read_file();
}

static tcr_error expect_bad(const char *csv, unsigned long line, unsigned long column) {
    tcr_error error;
    tcr_set_file *file;
    put("a.csv", csv);
    const tcr_status status = read_survey(&file, &error);
    given("%s gave %lu:%lu: %s", csv, error.line, error.column, error.message);
    expect_status(status, TCR_E_CONTENT);
    expect_text(error.path, "a.csv");
    expect_count(error.line, line);
    expect_count(error.column, column);
    return error;
}

static const char *id_of(const tcr_set_file *file, size_t i) {
    return tcr_set_id(tcr_set_file_set(file), TCR_RIGHT, i);
}
static const tcr_lash *lash_of(const tcr_set_file *file, size_t i) {
    return tcr_set_lash(tcr_set_file_set(file), TCR_RIGHT, i);
}
static const tcr_wish *wish_of(const tcr_set_file *file, size_t i) {
    return tcr_set_wish(tcr_set_file_set(file), TCR_RIGHT, i);
}

CLAIM(a_row_gives_every_number_of_a_lash_and_of_what_it_wears) {
    enter_folder();
    tcr_set_file *file = read_good(
        "id,u,layer,length_mm,height_mm,pitch_deg,yaw_deg,roll_deg,turn_deg,final_length_mm,root_"
        "diameter_mm,"
        "tip_diameter_mm,condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,"
        "ext_spread_deg\n"
        "a01,0.25,top,8.5,-1.5,-84.9,3e0,90,200,9,0.1,0,shedding,30,X,0.07,inner-side,20,120\n");
    const tcr_lash *lash = lash_of(file, 0);
    expect_text(id_of(file, 0), "a01");
    expect_same(lash->u, 0.25, "no arithmetic");
    expect_count(lash->layer, TCR_TOP);
    expect_same(lash->length_mm, 8.5, "no arithmetic");
    expect_same(lash->height_mm, -1.5, "no arithmetic");
    expect_near(lash->pitch_rad, -84.9 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_near(lash->yaw_rad, 3 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_near(lash->roll_rad, 90 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_near(lash->turn_rad, 200 * DEGREE, 1e-15, TWO_ROUNDINGS);
    expect_same(lash->final_length_mm, 9, "no arithmetic");
    expect_same(lash->root_diameter_mm, 0.1, "no arithmetic");
    expect_same(lash->tip_diameter_mm, 0, "no arithmetic");
    expect_count(lash->condition, TCR_SHEDDING);
    expect_count(tcr_set_assumed(tcr_set_file_set(file), TCR_RIGHT, 0), 0);
    const tcr_wish *wish = wish_of(file, 0);
    expect_count(wish->fixed, TCR_FIX_ALL & ~(unsigned)(TCR_FIX_BARE | TCR_FIX_FROM_SKIN));
    expect_same(wish->length_mm, 30, "no arithmetic");
    expect_text(wish->curl, "X");
    expect_same(wish->diameter_mm, 0.07, "no arithmetic");
    expect_count(wish->placement, TCR_INNER_SIDE);
    expect_count(wish->fan, 20);
    expect_near(wish->spread_rad, 120 * DEGREE, 1e-15, TWO_ROUNDINGS);
    tcr_set_file_free(file);
    leave_folder();
}

CLAIM(empty_cells_and_missing_columns_take_the_defaults_and_are_marked_assumed) {
    enter_folder();
    tcr_set_file *file = read_good("layer,id,length_mm,u,pitch_deg,condition,ext_length_mm\n"
                                   "middle,a01,8,0.9,,,\nmiddle,a02,8,0.9,-3,,none\n");
    /* expected: the contract's defaults at u and layer, as tcr_lash_complete gives them */
    const tcr_lash unknown = tcr_lash_unknown(0.9, TCR_MIDDLE);
    const tcr_lash standard = tcr_lash_complete(&unknown, NULL), *lash = lash_of(file, 0);
    expect_same(lash->height_mm, standard.height_mm, "the default itself");
    expect_same(lash->pitch_rad, standard.pitch_rad, "the default itself");
    expect_same(lash->yaw_rad, standard.yaw_rad, "the default itself");
    expect_same(lash->turn_rad, standard.turn_rad, "the default itself");
    expect_nan(lash->final_length_mm); /* not known */
    expect_count(lash->condition, TCR_SUITABLE);
    const unsigned all = TCR_LASH_ALL & ~(unsigned)TCR_LASH_FINAL_LENGTH; /* has no default */
    const tcr_set *set = tcr_set_file_set(file);
    expect_count(tcr_set_assumed(set, TCR_RIGHT, 0), all & ~(unsigned)TCR_LASH_LENGTH);
    expect_count(wish_of(file, 0)->fixed, 0);
    expect_count(tcr_set_assumed(set, TCR_RIGHT, 1),
                 all & ~(unsigned)(TCR_LASH_LENGTH | TCR_LASH_PITCH));
    expect_count(wish_of(file, 1)->fixed, TCR_FIX_BARE);
    tcr_set_file_free(file);
    leave_folder();
}

/* Two lashes, however they are written. */
static void expect_the_two(const char *csv) {
    tcr_set_file *file = read_good(csv);
    given("%s", csv);
    expect_count(tcr_set_lash_count(tcr_set_file_set(file), TCR_RIGHT), 2);
    expect_text(id_of(file, 0), "a01");
    expect_text(id_of(file, 1), "a02");
    expect_same(lash_of(file, 0)->u, 0.25, "no arithmetic");
    expect_same(lash_of(file, 1)->u, 0.5, "no arithmetic");
    expect_count(lash_of(file, 0)->layer, TCR_BOTTOM);
    expect_count(lash_of(file, 1)->layer, TCR_TOP);
    expect_same(lash_of(file, 1)->length_mm, 7.5, "no arithmetic");
    tcr_set_file_free(file);
}

CLAIM(all_ways_to_write_a_sheet_give_the_same_lashes) {
    enter_folder();
    const char *const ways[] = {
        "id,u,layer,length_mm\na01,0.25,bottom,8\na02,0.5,top,7.5\n",
        "id,u,layer,length_mm\r\na01,0.25,bottom,8\r\na02,0.5,top,7.5\r\n",
        "id,u,layer,length_mm\ra01,0.25,bottom,8\ra02,0.5,top,7.5\r",
        "\xEF\xBB\xBFid,u,layer,length_mm\na01,0.25,bottom,8\na02,0.5,top,7.5", /* no last line end
                                                                                 */
        "\xEF\xBB\xBF# a mark and a "
        "remark\nid,u,layer,length_mm\na01,0.25,bottom,8\na02,0.5,top,7.5",
        "id;u;layer;length_mm\na01;0,25;bottom;8\na02;0.5;top;7,5\n", /* commas beside points */
        "# a, remark; \"open\n\n  \n\t\nid,u,layer,length_mm\n\n#\na01,0.25,bottom,8\n# no "
        "more\na02,0.5,top,7.5\n#",
        "id,u,layer,length_mm,,\na01,0.25,bottom,8,,\n,,,,,\na02,0.5,top,7.5,,\n,,,,,\n",
        "id,u,layer,length_mm,,\na01,0.25,bottom,8\na02,0.5,top,7.5,,\n",
        "id,u,layer,length_mm\na01,0.25,bottom,8\n,,,,,,,\na02,0.5,top,7.5\n", /* a blank row */
        "\"id\",\"u\",\"layer\",\"length_mm\"\n\"a01\",\"0.25\",\"bottom\",\"8\"\n\"a02\",\"0.5\","
        "\"top\",\"7.5\"\n",
        " id ,\tu, layer,length_mm \n a01 , 0.25,bottom , \"8\" \n\" a02 \",0.5\t,\"top\n\",7.5\n",
        "id,u,layer,length_mm\na01,\xC2\xA0"
        "0.25,bottom\xC2\xA0,8\na02,0.5,top,7.5\n",
        "note,id,u,note 2,layer,length_mm,notes\n\"5\"\", it's\n# soft;\",a01,0.25,,bottom,8,x\n"
        "same,a02,0.5,\"\",top,7.5,\n",
        "id;u;layer;length_mm;note\na01;0.25;bottom;8;a, b\na02;0.5;top;7.5;\"a; b\"\n",
        "id,u,layer,length_mm,note;s\na01,0.25,bottom,8,a;b\na02,0.5,top,7.5,\n",
    };
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++)
        expect_the_two(ways[i]);
    leave_folder();
}

CLAIM(ids_may_hold_separators_quotes_and_anything_else_that_is_text) {
    enter_folder();
    tcr_set_file *file = read_good(
        "id,u,layer,length_mm\n\"a,b\",0.1,bottom,8\n\"say \"\"hi\"\"\",0.2,bottom,8\n"
        "\"\"\"\"\"\",0.3,bottom,8\n=1+1,0.4,bottom,8\n\xC3\xA9 \xE4\xBD\xA0,0.5,bottom,8\n"
        "\"two\nlines\",0.6,bottom,8\n\"#1\",0.7,bottom,8\n");
    const char *const ids[] = {"a,b",        "say \"hi\"", "\"\"", "=1+1", "\xC3\xA9 \xE4\xBD\xA0",
                               "two\nlines", "#1"};
    for (size_t i = 0; i < sizeof ids / sizeof *ids; i++)
        expect_text(id_of(file, i), ids[i]);
    tcr_set_file_free(file);
    leave_folder();
}

/* ---- Where faults are told ------------------------------------------------------------------- */

CLAIM(a_fault_is_told_by_its_line_and_cell) {
    enter_folder();
    expect_bad("", 1, 1);
    expect_bad("id,u,layer,length_mm,lid\n", 1, 5);
    expect_bad("# remark\n\nid,u,layer\na01,0.1,bottom\n", 3, 1);
    expect_bad("id,u,layer,length_mm\na01,0.1,bottom,8\na02,0.1,top,long\n", 3, 4);
    expect_bad("id,u,layer,length_mm\r\n\r\n# remark\r\na02,2,top,8\r\n", 4, 2);
    expect_bad("id,u,layer,length_mm\ra01,0.1,bottom,8\r\ra02,0.1,up,8\r", 4, 3);
    /* lines inside cells count */
    expect_bad(
        "note,id,u,layer,length_mm\n\"1\n2\n\n\",a01,0.1,bottom,8\n\"\r\n\",a02,0.1,bottom,x\n", 7,
        5);
    expect_bad("note,id,u,layer,length_mm\n\"1\n2\",a01,0.1,up,8\n", 3, 4);
    expect_bad("id,u,layer,length_mm\na01,0.1,bottom,8\na02,,top,8\n", 3, 2);
    expect_bad("id,u,layer,length_mm\na01,0.1,bottom,8\na02,0.1\n", 3, 2);
    expect_bad("id,u,layer,length_mm\na01,0.1,bottom,8,,,x\n", 2, 5);
    expect_bad("id,u,layer,length_mm\na01,0.1,bottom,\"8\n", 2, 4);
    leave_folder();
}

CLAIM(an_id_given_twice_is_told_where_it_is_repeated) {
    enter_folder();
    const tcr_error error = expect_bad(
        "u,id,layer,length_mm\n0.1,a,bottom,8\n0.2,b,bottom,8\n\n0.3,\"b\",top,8\n0.4,a,top,8\n", 5,
        2);
    expect_text(error.message, "id \"b\" is here twice; it was given in line 3 already");
    leave_folder();
}

CLAIM(ranges_hold_at_their_ends) {
    enter_folder();
    const char *const good[] = {"0.02,bottom,0.3,-2,-84.999,0", "0.98,top,20,8,84.999,0.08"};
    const char *const bad[] = {
        "0.0199,bottom,8,0,0,0", "0.9801,bottom,8,0,0,0", "0.5,bottom,0.29,0,0,0",
        "0.5,bottom,20.1,0,0,0", "0.5,bottom,8,-2.1,0,0", "0.5,bottom,8,8.1,0,0",
        "0.5,bottom,8,0,-85,0",  "0.5,bottom,8,0,85,0",   "0.5,bottom,8,0,0,-0.001",
        "0.5,bottom,8,0,0,0.09", "0.5,bottom,nan,0,0,0",  "0.5,bottom,inf,0,0,0",
        "0.5,bottom,1e999,0,0,0"};
    const unsigned long cell[] = {2, 2, 4, 4, 5, 5, 6, 6, 7, 7, 4, 4, 4};
    const char header[] = "id,u,layer,length_mm,height_mm,pitch_deg,tip_diameter_mm\na,";
    char csv[256];
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        snprintf(csv, sizeof csv, "%s%s\n", header, good[i]);
        tcr_set_file_free(read_good(csv));
    }
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        snprintf(csv, sizeof csv, "%s%s\n", header, bad[i]);
        expect_bad(csv, 2, cell[i]);
    }
    leave_folder();
}

CLAIM(bytes_that_are_no_text_are_refused) {
    enter_folder();
    static const struct {
        const char *bytes;
        size_t size;
        unsigned long line, column;
    } cases[] = {
        {"id,u,layer,length_mm\na\0b,0.1,bottom,8\n", 39, 2, 1},
        {"id,u,layer,length_mm,note\na,0.1,bottom,8,\xFF\n", 43, 2, 5},
        {"id,u,layer,length_mm\na,0.1,bottom,8\xC3", 37, 2, 4},
        {"id,u,layer,length_mm,note\na,0.1,bottom,8,\"\xED\xA0\x80\"\n", 47, 2, 5},
        {"PK\x03\x04\0\0", 6, 0, 0},
        {"\xFF\xFEi\0d\0", 6, 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tcr_error error;
        tcr_set_file *file;
        put_bytes("a.csv", cases[i].bytes, cases[i].size);
        const tcr_status status = read_survey(&file, &error);
        given("case %zu: %s", i, error.message);
        expect_status(status, TCR_E_CONTENT);
        expect_count(error.line, cases[i].line);
        expect_count(error.column, cases[i].column);
    }
    leave_folder();
}

/* ---- Limits ---------------------------------------------------------------------------------- */

CLAIM(an_id_may_have_255_bytes_and_a_row_64_kilobytes) {
    enter_folder();
    enum { ROW = 64 * 1000 };
    static char csv[ROW + 200], cell[ROW + 1];
    memset(cell, 'n', ROW);
    for (int bytes = 255; bytes <= 256; bytes++) {
        snprintf(csv, sizeof csv, "id,u,layer,length_mm\n%.*s,0.1,bottom,8\n", bytes, cell);
        if (bytes == 255)
            tcr_set_file_free(read_good(csv));
        else
            expect_bad(csv, 2, 1);
    }
    /* "a,0.1,bottom,8," has 15 bytes; with a note behind it the row has bytes in all */
    for (int bytes = ROW; bytes <= ROW + 1; bytes++) {
        snprintf(csv, sizeof csv, "id,u,layer,length_mm,note\na,0.1,bottom,8,%.*s\n", bytes - 15,
                 cell);
        put("a.csv", csv);
        tcr_error error;
        tcr_set_file *file;
        const tcr_status status = read_survey(&file, &error);
        given("a row of %d bytes: %s", bytes, error.message);
        expect_status(status, bytes == ROW ? TCR_OK : TCR_E_CONTENT);
        tcr_set_file_free(file);
    }
    leave_folder();
}

CLAIM(a_line_that_is_skipped_may_have_64_kilobytes_too) {
    enter_folder();
    enum { LINE = 64 * 1000 };
    static char csv[LINE + 200], line[LINE + 1];
    for (int blank = 0; blank < 2; blank++) {
        memset(line, blank ? ' ' : '#', LINE + 1);
        for (int bytes = LINE; bytes <= LINE + 1; bytes++) {
            snprintf(csv, sizeof csv, "id,u,layer,length_mm\n%.*s\na,0.1,bottom,8\n", bytes, line);
            given("a %s line of %d bytes", blank ? "blank" : "comment", bytes);
            if (bytes == LINE)
                tcr_set_file_free(read_good(csv));
            else
                expect_bad(csv, 2, 1);
            snprintf(csv, sizeof csv, "%.*s\nid,u,layer,length_mm\na,0.1,bottom,8", bytes, line);
            if (bytes == LINE)
                tcr_set_file_free(read_good(csv));
            else
                expect_bad(csv, 1, 1);
        }
    }
    leave_folder();
}

/* A survey of so many lashes. */
static void put_lashes(size_t count) {
    FILE *stream = fopen("a.csv", "w");
    ck_assert_ptr_nonnull(stream);
    fputs("id,u,layer,length_mm\n", stream);
    for (size_t i = 0; i < count; i++)
        fprintf(stream, "a%zu,0.5,bottom,8\n", i);
    fclose(stream);
}

CLAIM(a_survey_may_have_100000_lashes_and_no_more) {
    enter_folder();
    put_lashes(100000); /* interface.md, "Limits and safety" */
    tcr_set_file *file = read_file();
    expect_count(tcr_set_lash_count(tcr_set_file_set(file), TCR_RIGHT), 100000);
    expect_text(id_of(file, 99999), "a99999");
    tcr_set_file_free(file);
    put_lashes(100001);
    tcr_error error;
    expect_status(read_survey(&file, &error), TCR_E_CONTENT);
    expect_count(error.line, 100002);
    leave_folder();
}

CLAIM(many_columns_of_notes_are_no_burden) {
    enter_folder();
    static char csv[60000] = "id,u,layer,length_mm";
    size_t used = strlen(csv);
    for (int i = 0; i < 5000; i++)
        used += (size_t)snprintf(csv + used, sizeof csv - used, ",note%d", i);
    used += (size_t)snprintf(csv + used, sizeof csv - used, "\na,0.5,bottom,8");
    memset(csv + used, ',', 5000);
    csv[used + 5000] = '\0';
    tcr_set_file *file = read_good(csv);
    expect_count(tcr_set_lash_count(tcr_set_file_set(file), TCR_RIGHT), 1);
    tcr_set_file_free(file);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_row_gives_every_number_of_a_lash_and_of_what_it_wears,
        &empty_cells_and_missing_columns_take_the_defaults_and_are_marked_assumed,
        &all_ways_to_write_a_sheet_give_the_same_lashes,
        &ids_may_hold_separators_quotes_and_anything_else_that_is_text,
        &a_fault_is_told_by_its_line_and_cell,
        &an_id_given_twice_is_told_where_it_is_repeated,
        &ranges_hold_at_their_ends,
        &bytes_that_are_no_text_are_refused,
        &an_id_may_have_255_bytes_and_a_row_64_kilobytes,
        &a_line_that_is_skipped_may_have_64_kilobytes_too,
        &a_survey_may_have_100000_lashes_and_no_more,
        &many_columns_of_notes_are_no_burden,
    };
    return RUN_CLAIMS("survey", claims);
}
