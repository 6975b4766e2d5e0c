/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A shared object to preload into a command, which it then runs again and again: in run n the n-th
 * call of memory or of the system fails, until a run needs fewer calls than that. Each run is a
 * process forked off just before main(), so that calls before it count for nothing and no run waits
 * for the loader, and works in a folder of its own, named n, below the current one. The environment
 * says what to do:
 *
 *   FAULT_WITH    memory      malloc(), calloc() or realloc() finds none
 *                 ENOSPC, EIO, EPIPE, EINTR, EAGAIN, EPERM  one of the calls that may fail so does
 *                 short       read() or write() does half of what it was asked for
 *                 kill        the process is killed in place of a call that changes files
 *                 INT         it gets this signal just before such a call
 *                 TERM        it gets this one just behind it
 *                 moments     the process is killed at 60 moments, whatever it does
 *                 HUP         it gets this signal at such moments
 *   FAULT_LASTS   set: each later call of the same kind fails too, as on a disk that stays full
 *   FAULT_CHANGES set: only calls that change files fail, not those that libraries read by
 *   FAULT_STEP    how many calls lie between those that fail; 1 without it
 *   FAULT_OLD     a folder, by its absolute path, whose files are there before each run
 *   FAULT_RUNS    the file that receives a line for each run: its number; its exit status, or 128
 * and the number of the signal; the call that failed first, or "none"; how many calls failed; the
 * blocks of memory that were taken since main() and not given back, and the descriptors that were
 * left open, or "- -" where main() did not return
 *
 * Standard output and standard error go to the files out and err of the folder.
 */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* RTLD_NEXT, renameat2 */
#endif
#include "replace.h"

#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

/* ---- What fails ---------------------------------------------------------------------- */

/* Kinds of calls that can fail alike. */
enum {
    MEMORY = 1 << 0,
    OPEN = 1 << 1,   /* to read */
    CREATE = 1 << 2, /* or open to write */
    READ = 1 << 3,
    WRITE = 1 << 4,
    SYNC = 1 << 5,
    CLOSE = 1 << 6, /* what was written to */
    NAME = 1 << 7,  /* rename */
    LINK = 1 << 8,  /* or rename without replacing */
    UNLINK = 1 << 9,
    CUT = 1 << 10,  /* ftruncate */
    MODE = 1 << 11, /* fchmod */
    LOOK = 1 << 12, /* stat and its like */
    CHANGES = CREATE | WRITE | SYNC | CLOSE | NAME | LINK | CUT,
    CALLS = CHANGES | OPEN | READ | UNLINK | MODE | LOOK
};
enum { SHORT = -1, BEFORE = -2, BEHIND = -3, MOMENTS = -4 }; /* in place of an errno */

/* By POSIX, but for ENOSPC, which no call that only reads can give. */
static const struct fault {
    const char *name;
    int code;
    unsigned kinds;
    int signal; /* where the code is BEFORE, BEHIND or MOMENTS */
} FAULTS[] = {
    {"memory", ENOMEM, MEMORY, 0},
    {"ENOSPC", ENOSPC, CHANGES, 0},
    {"EIO", EIO, CALLS, 0},
    {"EPIPE", EPIPE, WRITE, 0},
    {"EINTR", EINTR, OPEN | CREATE | READ | WRITE | SYNC | CLOSE | CUT, 0},
    {"EAGAIN", EAGAIN, WRITE, 0},
    {"EPERM", EPERM, LINK | MODE, 0}, /* a file system without links and modes */
    {"short", SHORT, READ | WRITE, 0},
    {"kill", BEFORE, CHANGES | UNLINK, SIGKILL},
    {"INT", BEFORE, CHANGES | UNLINK, SIGINT},
    {"TERM", BEHIND, CHANGES | UNLINK, SIGTERM},
    {"moments", MOMENTS, 0, SIGKILL},
    {"HUP", MOMENTS, 0, SIGHUP},
};

/* What a run did, in memory that the process shares with the one that watches it. */
typedef struct seen {
    atomic_size_t calls, failures; /* a command may have threads */
    char failed[16];               /* the name of the first call that failed */
    atomic_long blocks;
    int descriptors; /* more than before */
    bool returned;   /* from main() */
} seen;

static const struct fault *fault;
static unsigned kinds; /* those that fail */
static bool lasts;
static size_t at; /* the call that fails, from 1 */
static bool armed;
static seen *run;
static bool due; /* a signal, behind the call that is at work */

/* Whether this call is to fail; errno then says why, unless it is to be short. */
static bool fails(unsigned kind, const char *name) {
    if (!armed || !(kinds & kind))
        return false;
    const size_t call = atomic_fetch_add(&run->calls, 1) + 1;
    if (call < at || (call > at && !lasts))
        return false;
    run->failures++;
    if (run->failed[0] == '\0')
        strncpy(run->failed, name, sizeof run->failed - 1);
    if (fault->code == BEFORE)
        raise(fault->signal);
    due = fault->code == BEHIND;
    errno = fault->code;
    return fault->signal == 0;
}

/* Sends the signal that is due behind a call, which leaves errno as the call did. */
static void send_due(void) {
    const int code = errno;
    if (due) {
        due = false;
        raise(fault->signal);
    }
    errno = code;
}

/* How much of so many bytes a call that is to be short does; 0: it fails altogether. */
static size_t short_of(size_t count) { return fault->code == SHORT ? (count + 1) / 2 : 0; }

/* ---- The calls ----------------------------------------------------------------------- */

#pragma GCC visibility push(default)

/* dlsym() may want memory itself, and manages without. find_memory() comes before any thread. */
#define REPLACE_MEMORY(name, parameters, arguments, adds)                                          \
    void *name parameters {                                                                        \
        static bool found_real, looking;                                                           \
        if (looking && !found_real)                                                                \
            return NULL;                                                                           \
        looking = true;                                                                            \
        FIND_REAL(void *, name, parameters)                                                        \
        found_real = true;                                                                         \
        if (fails(MEMORY, #name))                                                                  \
            return NULL;                                                                           \
        void *found = real arguments;                                                              \
        if (armed && found != NULL && (adds))                                                      \
            run->blocks++;                                                                         \
        return found;                                                                              \
    }

REPLACE_MEMORY(malloc, (size_t bytes), (bytes), true)
REPLACE_MEMORY(calloc, (size_t count, size_t bytes), (count, bytes), true)
REPLACE_MEMORY(realloc, (void *block, size_t bytes), (block, bytes), block == NULL)

void free(void *block) {
    FIND_REAL(void, free, (void *))
    if (armed && block != NULL)
        run->blocks--;
    real(block);
}

static void find_memory(void) {
    void *block = calloc(1, 1), *larger = realloc(block, 2);
    free(larger != NULL ? larger : block);
    free(malloc(1));
}

#define REPLACE(result, name, parameters, arguments, kind)                                         \
    result name parameters {                                                                       \
        FIND_REAL(result, name, parameters)                                                        \
        if (fails(kind, #name))                                                                    \
            return (result)-1;                                                                     \
        const result answer = real arguments;                                                      \
        send_due();                                                                                \
        return answer;                                                                             \
    }

REPLACE(int, rename, (const char *from, const char *to), (from, to), NAME)
REPLACE(int, renameat, (int a, const char *from, int b, const char *to), (a, from, b, to), NAME)
REPLACE(int, renameat2, (int a, const char *from, int b, const char *to, unsigned flags),
        (a, from, b, to, flags), LINK)
REPLACE(int, link, (const char *from, const char *to), (from, to), LINK)
REPLACE(int, unlink, (const char *path), (path), UNLINK)
REPLACE(int, ftruncate, (int fd, off_t size), (fd, size), CUT)
REPLACE(int, fchmod, (int fd, mode_t mode), (fd, mode), MODE)
REPLACE(int, stat, (const char *path, struct stat *found), (path, found), LOOK)
REPLACE(int, lstat, (const char *path, struct stat *found), (path, found), LOOK)
REPLACE(int, fstat, (int fd, struct stat *found), (fd, found), LOOK)
REPLACE(int, faccessat, (int folder, const char *path, int how, int flags),
        (folder, path, how, flags), LOOK)

static unsigned kind_of_open(int flags) { return (flags & O_ACCMODE) == O_RDONLY ? OPEN : CREATE; }

#define REPLACE_OPEN(name, parameters, arguments)                                                  \
    int name parameters {                                                                          \
        FIND_REAL(int, name, parameters)                                                           \
        TAKE_MODE(flags)                                                                           \
        if (fails(kind_of_open(flags), #name))                                                     \
            return -1;                                                                             \
        const int fd = real arguments;                                                             \
        send_due();                                                                                \
        return fd;                                                                                 \
    }

REPLACE_OPEN(open, (const char *path, int flags, ...), (path, flags, mode))
REPLACE_OPEN(openat, (int folder, const char *path, int flags, ...), (folder, path, flags, mode))
REPLACE_OPEN(open64, (const char *path, int flags, ...), (path, flags, mode))
REPLACE_OPEN(openat64, (int folder, const char *path, int flags, ...), (folder, path, flags, mode))

#define REPLACE_TRANSFER(name, parameters, whole, part, kind)                                      \
    ssize_t name parameters {                                                                      \
        FIND_REAL(ssize_t, name, parameters)                                                       \
        if (!fails(kind, #name)) {                                                                 \
            const ssize_t done = real whole;                                                       \
            send_due();                                                                            \
            return done;                                                                           \
        }                                                                                          \
        count = short_of(count);                                                                   \
        return count > 0 ? real part : -1;                                                         \
    }

REPLACE_TRANSFER(read, (int fd, void *to, size_t count), (fd, to, count), (fd, to, count), READ)
REPLACE_TRANSFER(write, (int fd, const void *from, size_t count), (fd, from, count),
                 (fd, from, count), WRITE)

ssize_t writev(int fd, const struct iovec *parts, int count) {
    FIND_REAL(ssize_t, writev, (int, const struct iovec *, int))
    if (!fails(WRITE, "writev")) {
        const ssize_t done = real(fd, parts, count);
        send_due();
        return done;
    }
    return short_of(1) > 0 ? real(fd, parts, 1) : -1;
}

/* What no power cut is to survive need not be synced, and it takes long. */
#define REPLACE_SYNC(name)                                                                         \
    int name(int fd) {                                                                             \
        FIND_REAL(int, name, (int))                                                                \
        if (fails(SYNC, #name))                                                                    \
            return -1;                                                                             \
        const int synced = !armed || fault->code == MOMENTS ? real(fd) : 0;                        \
        send_due();                                                                                \
        return synced;                                                                             \
    }

REPLACE_SYNC(fsync)
REPLACE_SYNC(fdatasync)

/* As Linux does: the descriptor is gone even where close() fails. */
int close(int fd) {
    FIND_REAL(int, close, (int))
    const int flags = armed ? fcntl(fd, F_GETFL) : -1;
    const bool failed = flags >= 0 && (flags & O_ACCMODE) != O_RDONLY && fails(CLOSE, "close");
    const int code = errno, result = real(fd);
    send_due();
    if (failed)
        errno = code;
    return failed ? -1 : result;
}

#pragma GCC visibility pop

/* ---- The runs ------------------------------------------------------------------------ */

typedef int main_function(int argc, char **argv, char **environment);
static main_function *real_main;

static void give_up(const char *what) {
    perror(what);
    _exit(99);
}

static void redirect(int fd, const char *path) {
    const int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (file < 0 || dup2(file, fd) < 0 || close(file) != 0)
        give_up(path);
}

/* Copies a file into the current folder. */
static void copy_from(const char *folder, const char *name) {
    char path[PATH_MAX], bytes[4096];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *from = fopen(path, "rb"), *to = fopen(name, "wb");
    if (from == NULL || to == NULL)
        give_up(path);
    for (size_t count; (count = fread(bytes, 1, sizeof bytes, from)) > 0;)
        if (fwrite(bytes, 1, count, to) != count)
            give_up(name);
    if (fclose(from) != 0 || fclose(to) != 0)
        give_up(name);
}

/* Files that are there before. */
static void put_old(const char *folder) {
    DIR *stream = opendir(folder);
    if (stream == NULL)
        give_up(folder);
    for (const struct dirent *entry; (entry = readdir(stream)) != NULL;)
        if (entry->d_name[0] != '.')
            copy_from(folder, entry->d_name);
    closedir(stream);
}

/* The folder of a run, made before its process is, so that no kill comes between. */
static const char *make_folder(void) {
    static char folder[24];
    snprintf(folder, sizeof folder, "%zu", at);
    if (mkdir(folder, 0777) != 0 || chdir(folder) != 0)
        give_up(folder);
    const char *old = getenv("FAULT_OLD");
    if (old != NULL)
        put_old(old);
    if (chdir("..") != 0)
        give_up("..");
    return folder;
}

static void enter(const char *folder) {
    if (chdir(folder) != 0)
        give_up(folder);
    redirect(STDOUT_FILENO, "out");
    redirect(STDERR_FILENO, "err");
}

static int open_descriptors(void) {
    enum { MANY = 64 };
    int found = 0;
    for (int fd = 0; fd < MANY; fd++)
        found += fcntl(fd, F_GETFD) >= 0;
    return found;
}

static double now(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static void wait_until(double moment) {
    for (double left; (left = moment - now()) > 0.0;) {
        const struct timespec time = {(time_t)left, (long)(1e9 * (left - (double)(time_t)left))};
        nanosleep(&time, NULL);
    }
}

/* Whatever started this may have signals ignored, and the command would leave them so. None leaves
 * an image of the memory. */
static void let_signals_end(void) {
    const struct rlimit none = {0, 0};
    setrlimit(RLIMIT_CORE, &none);
    static const int SIGNALS[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT};
    for (size_t i = 0; i < sizeof SIGNALS / sizeof *SIGNALS; i++)
        signal(SIGNALS[i], SIG_DFL);
}

/* Runs the command in a process of its own; it gets the signal after a time where that is above 0.
 */
static int run_once(int argc, char **argv, char **environment, double signal_after) {
    enum { HANGS = 600 }; /* seconds: no run takes so long */
    memset(run, 0, sizeof *run);
    const char *folder = make_folder();
    const double start = now();
    const pid_t child = fork();
    if (child < 0)
        give_up("fork");
    if (child == 0) {
        enter(folder);
        let_signals_end();
        alarm(HANGS);
        const int before = open_descriptors();
        armed = true;
        const int status = real_main(argc, argv, environment);
        armed = false;
        run->descriptors = open_descriptors() - before;
        run->returned = true;
        _exit(status); /* what other libraries do at the end takes longer than the run */
    }
    if (signal_after > 0.0) {
        wait_until(start + signal_after);
        kill(child, fault->signal);
    }
    int status;
    if (waitpid(child, &status, 0) != child)
        give_up("waitpid");
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

static void note(FILE *runs, int status) {
    fprintf(runs, "%zu %d %s %zu ", at, status, run->failed[0] != '\0' ? run->failed : "none",
            (size_t)run->failures);
    if (run->returned)
        fprintf(runs, "%ld %d\n", (long)run->blocks, run->descriptors);
    else
        fprintf(runs, "- -\n");
}

/*
 * Moments at random that are the same every time: multiples of the golden section. They reach a
 * little beyond the time that a run takes that is left alone, the shortest so far.
 */
static void run_to_moments(FILE *runs, int argc, char **argv, char **environment) {
    enum { MOMENTS_COUNT = 60 };
    const double beyond = 1.05, golden = 0.6180339887498949;
    double shortest = 1e9;
    for (at = 0; at <= MOMENTS_COUNT; at++) {
        const double share = golden * (double)at, start = now();
        const double signal_after = beyond * (share - (double)(long)share) * shortest;
        const int status = run_once(argc, argv, environment, at > 0 ? signal_after : 0.0);
        const double took = now() - start;
        if (status == 0 && took < shortest)
            shortest = took;
        note(runs, status);
    }
}

static int serve(int argc, char **argv, char **environment) {
    const char *path = getenv("FAULT_RUNS");
    FILE *runs = path != NULL ? fopen(path, "w") : NULL;
    if (runs == NULL)
        give_up("FAULT_RUNS");
    setvbuf(runs, NULL, _IOLBF, 0); /* no process that is forked off may hold a rest of it */
    if (fault->code == MOMENTS) {
        run_to_moments(runs, argc, argv, environment);
    } else {
        const char *step = getenv("FAULT_STEP");
        at = 0;
        do {
            at += step != NULL ? strtoul(step, NULL, 10) : 1;
            note(runs, run_once(argc, argv, environment, 0.0));
        } while (run->failed[0] != '\0');
    }
    return fclose(runs) == 0 ? 0 : 99;
}

/* The C library's way into a program, on whose way main() is replaced. */
typedef int start_function(main_function *, int, char **, void (*)(void), void (*)(void),
                           void (*)(void), void *);

#pragma GCC visibility push(default)
int __libc_start_main(main_function *main, int argc, char **argv, void (*init)(void),
                      void (*finish)(void), void (*loader_finish)(void), void *stack);
int __libc_start_main(main_function *main, int argc, char **argv, void (*init)(void),
                      void (*finish)(void), void (*loader_finish)(void), void *stack) {
    FIND_REAL(
        int, __libc_start_main,
        (main_function *, int, char **, void (*)(void), void (*)(void), void (*)(void), void *))
    const char *name = getenv("FAULT_WITH");
    for (size_t i = 0; name != NULL && i < sizeof FAULTS / sizeof *FAULTS; i++)
        if (strcmp(name, FAULTS[i].name) == 0)
            fault = &FAULTS[i];
    lasts = getenv("FAULT_LASTS") != NULL;
    kinds = fault != NULL ? fault->kinds : 0;
    if (getenv("FAULT_CHANGES") != NULL)
        kinds &= CHANGES | UNLINK | MODE;
    run = mmap(NULL, sizeof *run, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (fault == NULL || run == MAP_FAILED)
        give_up("FAULT_WITH");
    find_memory();
    real_main = main;
    return real(serve, argc, argv, init, finish, loader_finish, stack);
}
#pragma GCC visibility pop
