/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How the main job grows: a survey of 1000 to 100 000 lashes read, checked, and reported as JSON
 * and CSV into files that are synced to the disk, all through the public interface. The limit is
 * the disk: as many bytes written and synced, and nothing computed. The last lines give the
 * exponent p of time = c * lashes^p by least squares over the sizes (1 is linear) and the most
 * memory that was held. The survey is invented.
 */
#include "bench.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <tipcrest/file.h>

enum { SIZES = 5, RUNS = 5, PATH_SIZE = 128 };
static const size_t LASHES[SIZES] = {1000, 3000, 10000, 30000, 100000};

static char folder[] = "/tmp/tipcrest-scale-XXXXXX";

static const char *in_folder(const char *name) {
    static char path[3][PATH_SIZE]; /* as many as are used at a time */
    static int next;
    char *to = path[next++ % 3];
    snprintf(to, PATH_SIZE, "%s/%s", folder, name);
    return to;
}

/* Uniform in [-1, 1): Numerical Recipes' quick linear congruential generator, from memory. */
static double jitter(uint32_t *state) {
    *state = *state * 1664525u + 1013904223u;
    return (double)*state / 2147483648.0 - 1.0;
}

static void write_inputs(size_t lashes) {
    FILE *set = fopen(in_folder("set.yaml"), "w"), *survey = fopen(in_folder("survey.csv"), "w");
    tcr_bench_must(set != NULL && survey != NULL, "writing the set");
    fputs("tipcrest: 1\neyes:\n  - side: left\n    lashes: {survey: survey.csv}\n    map:\n"
          "      - {to: 0.4, length_mm: 10, curl: C}\n      - {to: 1, length_mm: 12, curl: C}\n",
          set);
    fputs("id,u,layer,length_mm,height_mm,pitch_deg,yaw_deg\n", survey);
    static const char *const layer[] = {"bottom", "middle", "top"};
    uint32_t state = 7;
    for (size_t i = 0; i < lashes; i++) {
        const double u = 0.02 + 0.96 * ((double)i + 0.5) / (double)lashes;
        fprintf(survey, "a%06zu,%.7f,%s,%.2f,%.3f,%.2f,%.2f\n", i, u, layer[i % 3],
                8.0 + 2.0 * jitter(&state), 0.6 * (double)(i % 3) + 0.1 * jitter(&state),
                10.0 + 5.0 * jitter(&state), 5.0 * jitter(&state));
    }
    tcr_bench_must(fclose(set) == 0 && fclose(survey) == 0, "writing the set");
}

static void job(size_t lashes) {
    tcr_set_file *file = NULL;
    tcr_check *check = NULL;
    tcr_outputs_target json = {0}, csv = {0};
    const tcr_check_options options = tcr_check_options_default();
    tcr_bench_must(tcr_set_file_read(in_folder("set.yaml"), NULL, &file, NULL) == TCR_OK &&
                       tcr_set_file_check(file, &options, &check, NULL) == TCR_OK,
                   "the check");
    tcr_bench_expect("lashes", (double)tcr_check_eye(check, TCR_LEFT)->lashes, (double)lashes, 0.0);
    tcr_outputs *outputs = NULL;
    tcr_bench_must(tcr_outputs_new(NULL, &outputs) == TCR_OK &&
                       tcr_outputs_add(outputs, in_folder("o.json"), &json.index, NULL) == TCR_OK &&
                       tcr_outputs_add(outputs, in_folder("o.csv"), &csv.index, NULL) == TCR_OK,
                   "the outputs");
    json.outputs = csv.outputs = outputs;
    tcr_bench_must(tcr_report_json(check, tcr_set_file_digest(file), tcr_outputs_sink, &json) ==
                           TCR_OK &&
                       tcr_report_csv(check, NULL, tcr_outputs_sink, &csv) == TCR_OK &&
                       tcr_outputs_commit(outputs, NULL) == TCR_OK,
                   "the reports");
    tcr_outputs_free(outputs);
    tcr_check_free(check);
    tcr_set_file_free(file);
}

static size_t bytes_of(const char *name) {
    struct stat found = {0};
    tcr_bench_must(stat(in_folder(name), &found) == 0 && found.st_size > 0, "the reports");
    return (size_t)found.st_size;
}

/* The same bytes from memory to the disk. */
static void disk(size_t bytes) {
    static char block[65536];
    const int fd = open(in_folder("o.raw"), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    tcr_bench_must(fd >= 0, "writing to the disk");
    while (bytes > 0) {
        const size_t part = bytes < sizeof block ? bytes : sizeof block;
        tcr_bench_must(write(fd, block, part) == (ssize_t)part, "writing to the disk");
        bytes -= part;
    }
    tcr_bench_must(fsync(fd) == 0 && close(fd) == 0, "writing to the disk");
}

static tcr_bench_time time_of(void (*work)(size_t), size_t argument) {
    double run[RUNS];
    for (int i = 0; i < RUNS; i++) {
        const double before = tcr_bench_now();
        work(argument);
        run[i] = tcr_bench_now() - before;
    }
    qsort(run, RUNS, sizeof run[0], tcr_bench_compare);
    return (tcr_bench_time){run[0], run[RUNS / 2]};
}

static double exponent(const tcr_bench_time *time) {
    double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
    for (int i = 0; i < SIZES; i++) {
        const double a = log((double)LASHES[i]), b = log(time[i].min_s);
        n += 1.0, x += a, y += b, xx += a * a, xy += a * b;
    }
    return (n * xy - x * y) / (n * xx - x * x);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    tcr_bench_time time[SIZES];
    tcr_bench_must(mkdtemp(folder) != NULL, "a folder in /tmp");
    for (int i = 0; i < SIZES; i++) {
        write_inputs(LASHES[i]);
        time[i] = time_of(job, LASHES[i]); /* the first of the runs warms up */
        const tcr_bench_time limit = time_of(disk, bytes_of("o.json") + bytes_of("o.csv"));
        tcr_bench_row(&bench, "the reports' bytes to the disk", LASHES[i], limit, NULL);
        tcr_bench_row(&bench, "read, check, JSON and CSV", LASHES[i], time[i], &limit);
    }
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("time grows as lashes^%.2f; at most %ld MB of memory\n", exponent(time),
           usage.ru_maxrss / 1024);
    static const char *const names[] = {"set.yaml", "survey.csv", "o.json", "o.csv", "o.raw"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        unlink(in_folder(names[i]));
    rmdir(folder);
    return tcr_bench_close(&bench);
}
