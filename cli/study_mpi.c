/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * tipcrest-study-mpi: tipcrest study on many machines. Rank 0 does what the command does, and hands
 * out blocks of points to the other ranks; between tiles of a block of its own it takes in theirs.
 * Each rank reads the same files. Results are written in the order of the points, so that they are
 * those of the command, to the last byte, and a job that ends early is resumed.
 *
 * Nobody waits within MPI, which would keep a processor busy: ranks look for messages and sleep.
 */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "study.h"

#include <mpi.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <tipcrest/version.h>

#include "common.h"
#include "signals.h"

/* Messages. To a rank: the digest of the study, points to evaluate, the end. From a rank: that it
 * has read that study, or not; results; that it leaves. */
enum { TAG_BEGIN, TAG_POINTS, TAG_END, TAG_READY, TAG_DONE, TAG_LEAVES };

/* Blocks that a rank has at a time, so that it need not wait for the next one; blocks in all for
 * each rank, until the slowest is done. */
enum { AHEAD = 2, WINDOW = 4 };

/* Points to evaluate. */
typedef struct part {
    uint64_t first, points;
} part;

/* Results of a part; behind them, in one piece of memory, outputs and statuses of its
 * evaluations. */
typedef struct block {
    part of;
    int64_t failed; /* the status of a part that could not be evaluated */
} block;

/* What all ranks know of the study. */
typedef struct shape {
    const tcr_study *study;
    size_t runs, factors, outputs;
    uint64_t usual; /* points of a block at most */
} shape;

static void pause_briefly(void) {
    const struct timespec pause = {.tv_nsec = 200000};
    (void)nanosleep(&pause, NULL);
}

static shape shape_of(const tcr_study *study) {
    const size_t runs = tcr_study_runs(study);
    return (shape){.study = study,
                   .runs = runs > 0 ? runs : 1,
                   .factors = tcr_study_factor_count(study),
                   .outputs = tcr_study_output_count(study),
                   .usual = tcr_study_usual_block(study)};
}

static double *values_of(block *b) { return (double *)(void *)(b + 1); }

static tcr_status *statuses_of(const shape *s, block *b) {
    return (tcr_status *)(void *)(values_of(b) + (size_t)b->of.points * s->runs * s->outputs);
}

static size_t block_bytes(const shape *s, uint64_t points) {
    return sizeof(block) +
           (size_t)points * s->runs * (s->outputs * sizeof(double) + sizeof(tcr_status));
}

static void evaluate(const shape *s, block *b, const tcr_study_run_options *run) {
    b->failed = (int64_t)tcr_study_evaluate(s->study, b->of.first, (size_t)b->of.points, run,
                                            values_of(b), statuses_of(s, b));
}

/* ---- Rank 0 ---------------------------------------------------------------------------------- */

/* A block that is handed out. */
typedef struct slot {
    block *block;
    int rank; /* that evaluates it */
    bool done;
    MPI_Request received;
} slot;

static struct head {
    const tcr_study_work *work;
    shape shape;
    tcr_progress progress; /* of the command */
    tcr_error *error;
    tcr_status status; /* TCR_OK, or why all ends */
    int ranks;
    uint64_t next, end;    /* points: to be handed out, behind the last */
    uint64_t given, taken; /* blocks */
    size_t window;         /* of them that are kept at a time */
    slot *slot;
    int *has; /* blocks that a rank has; -1: it is not ready */
    double *factor;
} head;

static slot *slot_at(uint64_t i) { return &head.slot[i % head.window]; }

static void fail(tcr_status status) {
    if (head.status != TCR_OK)
        return;
    head.status = status;
    if (head.error->status != status)
        (void)tcr_fill_error(head.error, status, "");
}

/* The least points of a part: of a few points by many runs each draws the lashes of its runs anew,
 * but a part is no longer than the wait for the slowest rank may be. */
static uint64_t least_points(void) {
    enum { SHARING = 16, EVALUATIONS = 65536 };
    const uint64_t points = EVALUATIONS / head.shape.runs;
    return points < 1 ? 1 : points > SHARING ? SHARING : points;
}

/* The next part for a rank, smaller towards the end, so that all ranks end together; NULL where
 * none is left, or too many are on their way. */
static slot *take_part(int rank) {
    enum { SHARES = 4 };
    const uint64_t left = head.end - head.next, least = least_points();
    uint64_t points = left / (uint64_t)(SHARES * head.ranks);
    if (left == 0 || head.status != TCR_OK || head.given - head.taken == head.window)
        return NULL;
    points = points < least ? least : points;
    points = points > left ? left : points;
    points = points > head.shape.usual ? head.shape.usual : points;
    slot *to = slot_at(head.given++);
    *to->block = (block){.of = {head.next, points}};
    to->rank = rank;
    to->done = false;
    head.next += points;
    return to;
}

static void hand_out(int rank) {
    slot *to = take_part(rank);
    if (to == NULL)
        return;
    MPI_Irecv(to->block, (int)block_bytes(&head.shape, to->block->of.points), MPI_BYTE, rank,
              TAG_DONE, MPI_COMM_WORLD, &to->received);
    const part of = to->block->of;
    MPI_Send(&of, sizeof of, MPI_BYTE, rank, TAG_POINTS, MPI_COMM_WORLD);
    head.has[rank]++;
}

/* Takes in what has come of a slot. */
static void receive(slot *from) {
    int there = 0;
    if (from->done || from->rank == 0)
        return;
    MPI_Test(&from->received, &there, MPI_STATUS_IGNORE);
    if (!there)
        return;
    from->done = true;
    head.has[from->rank]--;
    if (from->block->failed != TCR_OK)
        fail((tcr_status)from->block->failed);
}

/* Writes the blocks whose turn it is. */
static void write_blocks(void) {
    const shape *s = &head.shape;
    for (; head.taken < head.given && slot_at(head.taken)->done && head.status == TCR_OK;
         head.taken++) {
        block *b = slot_at(head.taken)->block;
        tcr_status status =
            tcr_study_points(s->study, b->of.first, (size_t)b->of.points, head.factor);
        const tcr_study_block whole = {.first = b->of.first,
                                       .points = (size_t)b->of.points,
                                       .runs = s->runs,
                                       .factors = s->factors,
                                       .outputs = s->outputs,
                                       .factor = head.factor,
                                       .value = values_of(b),
                                       .status = statuses_of(s, b)};
        if (status == TCR_OK)
            status = tcr_results_take(head.work->results, &whole, head.error);
        if (status != TCR_OK)
            fail(status);
    }
}

/* Takes in which ranks have read the study. */
static void take_ready(void) {
    for (;;) {
        MPI_Status found;
        int there, ready;
        MPI_Iprobe(MPI_ANY_SOURCE, TAG_READY, MPI_COMM_WORLD, &there, &found);
        if (!there)
            return;
        const int rank = found.MPI_SOURCE;
        MPI_Recv(&ready, 1, MPI_INT, rank, TAG_READY, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
        if (ready) {
            head.has[rank] = 0;
        } else if (head.status == TCR_OK) {
            head.status = tcr_fill_error(head.error, TCR_E_OPEN, "");
            (void)snprintf(head.error->message, sizeof head.error->message,
                           "rank %d does not read the same study; all ranks need the same files, "
                           "and one version of tipcrest",
                           rank);
        }
    }
}

/* Takes in what has come, writes what can be written, and hands out new parts. */
static void serve(void) {
    take_ready();
    for (uint64_t i = head.taken; i < head.given; i++)
        receive(slot_at(i));
    write_blocks();
    for (int turn = 0; turn < AHEAD; turn++)
        for (int rank = 1; rank < head.ranks; rank++)
            if (head.has[rank] == turn)
                hand_out(rank);
}

/* Progress between tiles of rank 0's own block, as that of the whole; false to end. */
static bool between_tiles(void *context, const char *phase, double share) {
    tcr_results_state state;
    (void)context;
    (void)share;
    serve();
    (void)tcr_results_state_of(head.work->results, &state);
    const double done = (double)state.done / (double)(state.end - state.first);
    if (head.status == TCR_OK && head.progress.report != NULL &&
        !head.progress.report(head.progress.context, phase, done))
        fail(TCR_E_STOPPED);
    return head.status == TCR_OK;
}

/* Hands out all of it, and computes too. */
static void share_out(const tcr_study_run_options *given) {
    tcr_study_run_options run = *given;
    run.progress = (tcr_progress){between_tiles, NULL};
    run.threads = run.threads > 0 ? run.threads : 1;
    while (head.taken < head.given || head.next < head.end) {
        if (!between_tiles(NULL, "study", 0.0))
            return;
        slot *own = take_part(0);
        if (own == NULL) {
            if (head.taken < head.given)
                pause_briefly();
            continue;
        }
        evaluate(&head.shape, own->block, &run);
        own->done = true;
        if (own->block->failed != TCR_OK)
            fail((tcr_status)own->block->failed);
    }
}

static bool make_room(void) {
    const size_t window = (size_t)WINDOW * (size_t)head.ranks;
    head.slot = calloc(window, sizeof *head.slot);
    head.has = malloc((size_t)head.ranks * sizeof *head.has);
    head.factor = malloc((size_t)head.shape.usual * (head.shape.factors + 1) * sizeof *head.factor);
    if (head.slot == NULL || head.has == NULL || head.factor == NULL)
        return false;
    for (; head.window < window; head.window++) {
        slot *s = &head.slot[head.window];
        *s = (slot){malloc(block_bytes(&head.shape, head.shape.usual)), 0, false, MPI_REQUEST_NULL};
        if (s->block == NULL)
            return false;
    }
    for (int rank = 0; rank < head.ranks; rank++)
        head.has[rank] = -1;
    return true;
}

/* Frees it, with what is never received. */
static void free_room(void) {
    for (size_t i = 0; i < head.window; i++) {
        if (head.slot[i].received != MPI_REQUEST_NULL) {
            MPI_Cancel(&head.slot[i].received);
            MPI_Wait(&head.slot[i].received, MPI_STATUS_IGNORE);
        }
        free(head.slot[i].block);
    }
    free(head.slot);
    free(head.has);
    free(head.factor);
}

/* Tells all ranks which study it is. */
static tcr_status begin_ranks(void) {
    char digest[TCR_STUDY_DIGEST_SIZE];
    const tcr_status status = tcr_study_file_digest(head.work->file, digest);
    if (status != TCR_OK)
        return tcr_fill_error(head.error, status, "");
    for (int rank = 1; rank < head.ranks; rank++)
        MPI_Send(digest, sizeof digest, MPI_CHAR, rank, TAG_BEGIN, MPI_COMM_WORLD);
    return TCR_OK;
}

/* Sends all ranks home. What they were sending comes first, into its slots. */
static void end_ranks(void) {
    for (int rank = 1; rank < head.ranks; rank++)
        MPI_Send(NULL, 0, MPI_CHAR, rank, TAG_END, MPI_COMM_WORLD);
    for (int left = head.ranks - 1; left > 0;) {
        MPI_Status found;
        int there;
        MPI_Iprobe(MPI_ANY_SOURCE, TAG_LEAVES, MPI_COMM_WORLD, &there, &found);
        if (!there) {
            pause_briefly();
            continue;
        }
        MPI_Recv(NULL, 0, MPI_CHAR, found.MPI_SOURCE, TAG_LEAVES, MPI_COMM_WORLD,
                 MPI_STATUS_IGNORE);
        left--;
    }
    free_room();
}

static tcr_status compute(const tcr_study_work *work, const tcr_study_run_options *run,
                          tcr_error *error) {
    tcr_results_state state;
    head.work = work;
    head.error = error;
    head.progress = run->progress;
    head.shape = shape_of(tcr_study_file_study(work->file));
    tcr_status status = tcr_results_begin(work->results, &run->progress, error);
    if (status != TCR_OK)
        return status;
    (void)tcr_results_state_of(work->results, &state);
    head.next = state.first + state.done;
    head.end = state.end;
    if (head.next < head.end) {
        status = make_room() ? begin_ranks() : tcr_fill_error(error, TCR_E_MEMORY, "");
        if (status == TCR_OK) {
            share_out(run);
            status = head.status;
        }
    }
    return status == TCR_OK ? tcr_results_end(work->results, error) : status;
}

/* ---- The other ranks ------------------------------------------------------------------------- */

enum { BUFFERS = 2 };

typedef struct hand {
    shape shape;
    block *buffer[BUFFERS];
    MPI_Request sent[BUFFERS];
} hand;

/* Waits for a message of rank 0; its tag. */
static int wait_for_head(void) {
    for (;;) {
        MPI_Status found;
        int there;
        MPI_Iprobe(0, MPI_ANY_TAG, MPI_COMM_WORLD, &there, &found);
        if (there)
            return found.MPI_TAG;
        pause_briefly();
    }
}

/* Between tiles: lets messages go on; false where rank 0 says that all ends. */
static bool goes_on(void *context, const char *phase, double share) {
    hand *h = context;
    int there, gone;
    (void)phase;
    (void)share;
    for (int i = 0; i < BUFFERS; i++)
        MPI_Test(&h->sent[i], &gone, MPI_STATUS_IGNORE);
    MPI_Iprobe(0, TAG_END, MPI_COMM_WORLD, &there, MPI_STATUS_IGNORE);
    return !there;
}

/* Reads the study, and says whether it is the one of rank 0. */
static bool read_study(const tcr_call *call, const char *digest, tcr_study_file **file) {
    char own[TCR_STUDY_DIGEST_SIZE];
    tcr_error error = tcr_error_none();
    const tcr_study_ask ask = tcr_study_ask_of(call);
    tcr_status status = tcr_study_file_read(call->set, &ask, NULL, file, &error);
    if (status == TCR_OK && (status = tcr_study_file_digest(*file, own)) != TCR_OK)
        (void)tcr_fill_error(&error, status, "");
    if (status != TCR_OK)
        (void)tcr_say_error(&error);
    return status == TCR_OK && strcmp(own, digest) == 0;
}

static void work_for_head(hand *h, size_t threads) {
    tcr_study_run_options run = tcr_study_run_options_default();
    run.progress = (tcr_progress){goes_on, h};
    run.threads = threads;
    for (int turn = 0; wait_for_head() == TAG_POINTS; turn = (turn + 1) % BUFFERS) {
        block *b = h->buffer[turn];
        MPI_Wait(&h->sent[turn], MPI_STATUS_IGNORE);
        *b = (block){.failed = 0};
        MPI_Recv(&b->of, sizeof b->of, MPI_BYTE, 0, TAG_POINTS, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
        evaluate(&h->shape, b, &run);
        if (b->failed == TCR_E_STOPPED)
            break;
        MPI_Isend(b, (int)block_bytes(&h->shape, b->of.points), MPI_BYTE, 0, TAG_DONE,
                  MPI_COMM_WORLD, &h->sent[turn]);
    }
    MPI_Waitall(BUFFERS, h->sent, MPI_STATUSES_IGNORE);
}

/* What a rank does from the digest of a study to the end. Rank 0 has told what is wrong with the
 * call. */
static void be_hand(const tcr_command *command, int argc, char **argv) {
    char digest[TCR_STUDY_DIGEST_SIZE];
    hand h = {.sent = {MPI_REQUEST_NULL, MPI_REQUEST_NULL}};
    tcr_study_file *file = NULL;
    tcr_call call;
    bool help;
    MPI_Recv(digest, sizeof digest, MPI_CHAR, 0, TAG_BEGIN, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    int ready = tcr_call_read(command, argc, argv, &call, &help) == TCR_EXIT_DONE &&
                read_study(&call, digest, &file);
    if (ready)
        h.shape = shape_of(tcr_study_file_study(file));
    for (int i = 0; i < BUFFERS && ready; i++)
        ready = (h.buffer[i] = malloc(block_bytes(&h.shape, h.shape.usual))) != NULL;
    MPI_Send(&ready, 1, MPI_INT, 0, TAG_READY, MPI_COMM_WORLD);
    if (ready)
        work_for_head(&h, (size_t)tcr_value_or(&call.threads, 1.0));
    for (int i = 0; i < BUFFERS; i++)
        free(h.buffer[i]);
    tcr_study_file_free(file);
}

/* A rank that is not 0: waits for a study, and ends when rank 0 says so. */
static void follow(const tcr_command *command, int argc, char **argv) {
    int tag;
    tcr_may_end_early(true); /* rank 0 says when */
    while ((tag = wait_for_head()) != TAG_END) {
        part unread;
        if (tag == TAG_BEGIN)
            be_hand(command, argc, argv);
        else /* points that were sent before rank 0 ended it all */
            MPI_Recv(&unread, sizeof unread, MPI_BYTE, 0, tag, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    }
    MPI_Recv(NULL, 0, MPI_CHAR, 0, TAG_END, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    MPI_Send(NULL, 0, MPI_CHAR, 0, TAG_LEAVES, MPI_COMM_WORLD);
}

/* ---- The program ----------------------------------------------------------------------------- */

static const char PAGE[] =
    "usage: mpirun -n N tipcrest-study-mpi SET [OPTION]...\n"
    "\n"
    "Does what tipcrest study does, to the same files, on N processors of one machine\n"
    "or many. Rank 0 hands out points and writes the results; all machines need the\n"
    "input files under the same names, rank 0 alone the folder of the results. A job\n"
    "that ends early goes on with --resume.\n"
    "\n"
    "The options are those of tipcrest study: tipcrest help study lists them. With\n"
    "--threads N each rank has N threads, default 1.\n";

/* What rank 0 does; an exit status. */
static int lead(const tcr_command *command, int argc, char **argv) {
    tcr_call call;
    bool help;
    if (argc == 2 && strcmp(argv[1], "--version") == 0)
        return tcr_print("tipcrest-study-mpi " TCR_VERSION "\n");
    const int exit_status = tcr_call_read(command, argc, argv, &call, &help);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    return help ? tcr_print(PAGE) : tcr_study_command(&call, compute);
}

int main(int argc, char **argv) {
    int provided, rank, exit_status = TCR_EXIT_DONE;
    tcr_guard_descriptors();
    if (MPI_Init_thread(&argc, &argv, MPI_THREAD_FUNNELED, &provided) != MPI_SUCCESS)
        return TCR_EXIT_FAILED; /* it has said why */
    tcr_set_command(tcr_command_study.name);
    tcr_catch_signals(); /* what MPI handles is left alone */
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
    MPI_Comm_rank(MPI_COMM_WORLD, &rank);
    MPI_Comm_size(MPI_COMM_WORLD, &head.ranks);
    if (rank == 0) {
        exit_status = lead(&tcr_command_study, argc, argv);
        end_ranks();
    } else {
        follow(&tcr_command_study, argc, argv);
    }
    MPI_Finalize();
    return exit_status;
}
