/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one table of the options of all commands. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "option.h"

#include <stdio.h>
#include <string.h>

#include <tipcrest/draw.h>
#include <tipcrest/study.h>
#include <tipcrest/text.h>
#include <tipcrest/tipcrest.h>

#include "call.h"
#include "common.h"

/* ---- Words --------------------------------------------------------------------------- */

#define WORDS(NAME, ...)                                                                           \
    static const char *NAME(size_t i) {                                                            \
        static const char *const WORD[] = {__VA_ARGS__};                                           \
        return i < sizeof WORD / sizeof *WORD ? WORD[i] : NULL;                                    \
    }

WORDS(sides, "left", "right")
WORDS(eyes, "both", "left", "right")
WORDS(lines, "fitted", "intended")
WORDS(objectives, "rms", "max")
WORDS(decimals, "point", "comma")
WORDS(all, "all")
WORDS(pdf, ".pdf")
WORDS(pictures, ".png", ".svg", ".pdf")
WORDS(drawings, ".png", ".svg", ".pdf", ".gif")
WORDS(set_files, ".yaml", ".yml")
WORDS(goals, "usual", "least", "most", "zero")

static const char *placements(size_t i) {
    return i < TCR_PLACEMENTS ? tcr_placement_text((tcr_placement)i) : NULL;
}

static const char *curls(size_t i) {
    size_t count;
    const tcr_curl *curl = tcr_curl_catalogue(&count);
    return i < count ? curl[i].label : NULL;
}

/* A look may have two names. */
static const char *looks(size_t i) {
    size_t count;
    const tcr_look *look = tcr_look_catalogue(&count);
    for (size_t k = 0; k < count; k++) {
        const size_t names = *look[k].other_name != '\0' ? 2 : 1;
        if (i < names)
            return i == 0 ? look[k].name : look[k].other_name;
        i -= names;
    }
    return NULL;
}

#ifdef TCR_WITH_DRAW
static const char *views(size_t i) { return tcr_picture_view_name(i); }
#else
#define views NULL
#endif

#ifdef TCR_WITH_STUDY
static const char *designs(size_t i) {
    return i < TCR_DESIGNS ? tcr_design_text((tcr_design_kind)i) : NULL;
}

static const char *criteria(size_t i) {
    return i < TCR_BEST_BYS ? tcr_best_by_text((tcr_best_by)i) : NULL;
}
#else
#define designs NULL
#define criteria NULL
#endif

/* ---- The table ----------------------------------------------------------------------- */

enum {
    BEGIN = TCR_BIT_BEGIN,
    CHECK = TCR_BIT_CHECK,
    DRAW = TCR_BIT_DRAW,
    WHY = TCR_BIT_WHY,
    STEP = TCR_BIT_STEP,
    PLAN = TCR_BIT_PLAN,
    STUDY = TCR_BIT_STUDY
};

#define TO(MEMBER) .member = offsetof(tcr_call, MEMBER)
#define FLAG .kind = TCR_OPTION_FLAG
#define TEXT .kind = TCR_OPTION_TEXT
#define TEXTS .kind = TCR_OPTION_TEXT, .repeats = true
#define FILE_TO_WRITE .kind = TCR_OPTION_FILE
#define WITHIN(LEAST, MOST) .kind = TCR_OPTION_NUMBER, .least = (LEAST), .most = (MOST)
#define COUNT(LEAST, MOST) .kind = TCR_OPTION_COUNT, .least = (LEAST), .most = (MOST)
#define OF_FIELD(KIND, GROUP, KEY)                                                                 \
    .kind = TCR_OPTION_##KIND, .group = TCR_GROUP_##GROUP, .key = (KEY)
#define ONE_OF(WORD) .kind = TCR_OPTION_CHOICE, .word = (WORD)
#define LIST(MARK, FEWEST, MANY) .separator = (MARK), .fewest = (FEWEST), .many = (MANY)

static const tcr_option OPTIONS[] = {
    {BEGIN, TO(output), "o", "SET", FILE_TO_WRITE, .required = true,
     .help = "the set file to write; its name ends in .yaml or .yml; - is standard output"},
    {BEGIN, TO(lengths), "lengths", "MM,MM,...", WITHIN(5, 20), .unit = "mm",
     LIST(',', 1, TCR_ZONES_MAX),
     .help =
         "the map: the length of each zone, from the inner to the outer corner; zones are equally "
         "wide; lengths are whole or half millimetres"},
    {BEGIN, TO(look), "look", "NAME", ONE_OF(looks), .standard = "natural",
     .help = "the map by a look, in place of --lengths; its longest zone is 2.5 mm longer than the "
             "natural lashes, or as --layers says; the shapes are common practice without a "
             "source, and artists differ"},
    {BEGIN, TO(layers), "layers", "B/M/T", WITHIN(5, 20), .unit = "mm", LIST('/', 3, 3),
     .standard = "1 mm less for each layer up",
     .help = "bottom, middle and top length where the map is longest, such as 12/11/10; where each "
             "layer is 1 mm shorter than the one below, begin also writes the usual placement for "
             "that rule: bottom on top, middle at the outer side, top underneath"},
    {BEGIN, TO(curl), "curl", "C", ONE_OF(curls), .standard = "C",
     .help = "the curl of every extension"},
    {BEGIN, TO(eyes), "eyes", "WHICH", ONE_OF(eyes), .standard = "both",
     .help = "the eyes of the set; left and right are the client's"},
    {BEGIN, TO(diameter), "diameter", "MM", OF_FIELD(NUMBER, LAYERING, "diameter_mm"),
     .standard = "0.12, common practice", .help = "how thick every extension is"},
    {BEGIN, TO(tray), "tray", "MM,MM,...", OF_FIELD(NUMBER, TRAY, "lengths_mm"),
     LIST(',', 1, TCR_TRAY_MAX), .runs = true,
     .standard = "5 to 20 by 1, or by 0.5 where half millimetres are "
                 "asked for",
     .help = "the lengths at hand, such as 8-13 or 8,9,10.5; where they are too few for layers "
             "that are 1 mm shorter each, "
             "begin takes 0.5 mm or equal lengths"},
    {BEGIN, TO(title), "title", "TEXT", TEXT, .standard = "My first set",
     .help = "the set's title"},
    {BEGIN, TO(count), "count", "N", OF_FIELD(COUNT, DESCRIPTION, "count"),
     .standard = "#, assumed",
     .help = "the number of natural lashes of each eye; not with --survey"},
    {BEGIN, TO(length), "length", "MM", OF_FIELD(NUMBER, DESCRIPTION, "length_mm"),
     .standard = "#, published",
     .help = "the mean length of full-grown natural lashes in the middle of the lid; not with "
             "--survey"},
    {BEGIN, TO(mrd1), "mrd1", "MM", OF_FIELD(NUMBER, LID, "mrd1_mm"), .standard = "#, published",
     .help = "how far the eye opens: from the middle of the pupil up to the edge of the lid"},
    {BEGIN, TO(mrd1_right), "mrd1-right", "MM", OF_FIELD(NUMBER, LID, "mrd1_mm"),
     .standard = "that of --mrd1", .help = "the same of the right one of two unlike eyes"},
    {BEGIN, TO(survey), "survey", "FILE.csv", FILE_TO_WRITE,
     .standard = "lashes drawn by chance from a description",
     .help =
         "also writes a survey: a table of INVENTED lashes, to be replaced by what you measure; "
         "FILE.csv must lie in the folder of the set file or below it; for two eyes it becomes "
         "FILE-left.csv and FILE-right.csv"},

    {DRAW, TO(view), "view", "VIEW", ONE_OF(views), .required = true, .help = "the view to draw"},
    {DRAW, TO(output), "o", "FILE", FILE_TO_WRITE, .required = true, .word = drawings,
     .help = "the picture to write; .gif is for a film"},
    {PLAN, TO(output), "o", "PLANNED.yaml", FILE_TO_WRITE, .word = set_files,
     .help = "the planned set to write, for check and draw, with a survey for each eye beside it, "
             "PLANNED-left.csv and PLANNED-right.csv; they replace only files that plan "
             "wrote and nobody changed since"},
    {PLAN, TO(sheet), "sheet", "FILE.pdf", FILE_TO_WRITE, .word = pdf,
     .help =
         "a work sheet to print on A4: maps in full size, lengths, what to lay out, the working "
         "order, corrections, loads and cautions"},
    {PLAN, TO(sheet_zones), "sheet-zones", "FILE.pdf", FILE_TO_WRITE, .word = pdf,
     .help =
         "the same for the zones alone, on one page: maps in full size, what each zone and layer "
         "gets, and cautions"},

    {CHECK | WHY | STEP | PLAN, TO(full), "full", NULL, FLAG,
     .help = "also prints what the short report leaves out"},
    {CHECK | WHY | STEP | PLAN, TO(json), "json", "FILE", FILE_TO_WRITE,
     .help = "writes all results as JSON, for programs"},
    {CHECK, TO(csv), "csv", "FILE", FILE_TO_WRITE,
     .help = "writes a row for each lash as CSV, for spreadsheets"},
    {WHY, TO(csv), "csv", "FILE", FILE_TO_WRITE,
     .help = "writes a row for each cause as CSV, for spreadsheets"},
    {STEP, TO(csv), "csv", "FILE", FILE_TO_WRITE,
     .help = "writes a row for each step as CSV, for spreadsheets"},
    {PLAN, TO(csv), "csv", "FILE", FILE_TO_WRITE,
     .help = "writes a row for each zone and layer as CSV, for spreadsheets"},
    {CHECK, TO(reports), "reports", "DIR", TEXT,
     .help =
         "writes the reports of each set into the folder DIR, made if it is not there: NAME.json, "
         "NAME.csv and NAME.txt for NAME.yaml, put in place when all are ready; replaces no file "
         "that is there; for a judge, or a class"},
    {CHECK | WHY | STEP | PLAN | BEGIN | STUDY, TO(decimal), "decimal", "MARK", ONE_OF(decimals),
     .standard = "point",
     .help = "CSV with decimal points and commas between the cells, or with decimal commas and "
             "semicolons"},
    {CHECK | WHY | STEP | PLAN, TO(digits), "digits", "N", COUNT(1, 17), .standard = "6",
     .help = "the significant digits of the numbers in CSV; with 17 every number reads back as the "
             "same"},
    {CHECK, TO(picture), "picture", "FILE", FILE_TO_WRITE, .word = pictures,
     .help = "draws the front view; of many sets a bar for each, the most even first"},
    {WHY, TO(picture), "picture", "FILE", FILE_TO_WRITE, .word = pictures,
     .help =
         "draws a bar for each cause: to the right what it adds to the rms, to the left what it "
         "takes away"},
    {STEP, TO(picture), "picture", "FILE", FILE_TO_WRITE, .word = pictures,
     .help = "draws the steps of each curl over the length on the bottom layer, with a grid of the "
             "tray's sizes"},
    {CHECK | DRAW | WHY | STEP | STUDY, TO(width), "width", "MM", WITHIN(20, 2000), .unit = "mm",
     .standard = "254",
     .help = "the width of the picture; text and lines scale with it; a PDF has a bar by which to "
             "check the size of a print"},
    {CHECK | WHY | STEP | STUDY, TO(dpi), "dpi", "N", WITHIN(10, 1200), .standard = "160",
     .help = "the pixels per inch of a PNG"},
    {DRAW, TO(dpi), "dpi", "N", WITHIN(10, 1200), .standard = "160, and 80 of a GIF",
     .help = "the pixels per inch of a PNG or a GIF"},
    {CHECK | DRAW | WHY | STEP | STUDY, TO(dark), "dark", NULL, FLAG,
     .help = "draws on a dark background"},

    {CHECK | WHY, TO(opening), "opening", "A", OF_FIELD(NUMBER, VIEW, "opening"),
     .standard = "as the set says", .help = "how far the eye is open: 0 is closed, 1 is open"},
    {CHECK | WHY, TO(viewer), "viewer", "DEG", OF_FIELD(NUMBER, VIEW, "viewer_deg"),
     .standard = "as the set says",
     .help = "the angle from which the viewer looks down; 0 is straight from the front"},
    {DRAW, TO(opening), "opening", "A", OF_FIELD(NUMBER, VIEW, "opening"),
     .standard = "as the set says, and 0 in the artist's view",
     .help = "how far the eye is open: 0 is closed, 1 is open"},
    {DRAW, TO(viewer), "viewer", "DEG", OF_FIELD(NUMBER, VIEW, "viewer_deg"),
     .standard = "as the set says, and 60 in the artist's view",
     .help = "the angle from which the viewer looks down; 0 is straight from the front"},
    {CHECK | DRAW | WHY, TO(against), "against", "LINE", ONE_OF(lines), .standard = "fitted",
     .help =
         "the line from which distances are measured: fitted follows the tips and shows how even "
         "they are; intended follows the map"},
    {CHECK | DRAW, TO(seen_from), "seen-from", "MM", OF_FIELD(NUMBER, LINE, "seen_from_mm"),
     .standard = "the tolerance of the set",
     .help = "how near the viewer stands: the tolerance is what 3 minutes of arc span from there, "
             "noise that people still take for one contour in the laboratory"},
    {DRAW, TO(eye), "eye", "SIDE", ONE_OF(sides),
     .standard = "each eye of the set; in the views side and lesson its first eye",
     .help = "the eye to draw, left or right of the client"},
    {DRAW, TO(from_head), "from-head", NULL, FLAG,
     .help = "artist view: turns the eyes as from the head of the couch; words stay upright"},
    {DRAW, TO(plain), "plain", NULL, FLAG,
     .help = "front view: leaves out the lines and the marks on the tips"},
    {DRAW, TO(at), "at", "U", WITHIN(0.02, 0.98), .standard = "0.5",
     .help = "side view: the place along the lid, from 0 at the inner to 1 at the outer corner"},
    {DRAW, TO(with), "with", "SET2", TEXT, .help = "compare view: the set file of the set after"},
    {DRAW, TO(frames), "frames", "N", COUNT(2, TCR_FRAMES_MAX), .standard = "24",
     .help = "film view: the number of pictures"},

    {STEP, TO(curl), "curl", "LABEL", TEXT, .standard = "all curls of the set",
     .help = "one curl of the set"},
    {STEP, TO(length), "length", "MM", OF_FIELD(NUMBER, TRAY, "lengths_mm"),
     .standard = "the map's at the pupil, else 12; in JSON and CSV also 8 to 15",
     .help = "the length on the bottom layer"},
    {STEP, TO(eye), "eye", "SIDE", ONE_OF(sides),
     .standard = "the first eye of the set; left without a set",
     .help = "the eye whose lid counts"},

    {STEP | DRAW, TO(apart), "apart", "MM", WITHIN(0, 3), .unit = "mm",
     .standard = "as high as the set's own layers root",
     .help = "how far each layer roots above the one below; draw: for the views side and lesson"},

    {PLAN, TO(look), "look", "NAME", ONE_OF(looks), .standard = "the set's map",
     .help =
         "plans for a look in place of the map; each zone keeps the map's curl at its place; the "
         "shapes are common practice without a source"},
    {PLAN, TO(longest), "longest", "MM", OF_FIELD(NUMBER, TRAY, "lengths_mm"),
     .standard = "that of the map", .help = "the longest length of the look"},
    {PLAN, TO(share), "share", "S", WITHIN(0.05, 1), .standard = "0.7, common practice",
     .help = "the share of each eye's lashes to use, as far as they suit"},
    {PLAN, TO(least), "least", "WHAT", ONE_OF(objectives), .standard = "rms",
     .help = "the distance from the line that the choice for the zones minimises: rms, that of all "
             "tips together, or max, that of "
             "the farthest tip"},
    {PLAN, TO(free_line), "free", "MM", WITHIN(0, 10), .unit = "mm", .bare = true,
     .help = "lets the line shift and tilt as a whole, away from the line that the map intends, by "
             "at most MM at either end, 1 mm without a value; the table says how far"},
    {PLAN, TO(each_eye), "each-eye", NULL, FLAG,
     .help = "plans each of two eyes towards its own line, as if the set file said line: {shared: "
             "false}; the eyes then need not match"},
    {PLAN, TO(most_lengths), "most-lengths", "K", COUNT(1, TCR_TRAY_MAX), .standard = "no limit",
     .help = "the maximum number of different lengths"},
    {PLAN, TO(zone_step), "zone-step", "MM", WITHIN(0, 30), .unit = "mm", .standard = "no limit",
     .help = "the maximum difference between neighbouring zones of a layer"},
    {PLAN, TO(curls), "curls", "C,...", TEXT, .standard = "those of the map",
     .help = "the curls to choose from, such as C,CC,D"},
    {PLAN, TO(placements), "placements", "P,...", ONE_OF(placements), LIST(',', 1, TCR_PLACEMENTS),
     .standard = "all but inner-side", .help = "the placements to choose from"},
    {PLAN, TO(same_placement), "same-placement", NULL, FLAG,
     .help =
         "gives all zones of a layer, over both eyes, one placement, but where a zone fixes one "
         "or its lashes can carry no length so; corrections are free"},
    {PLAN, TO(diameters), "diameters", "MM,...", OF_FIELD(NUMBER, EXTENSION, "diameter_mm"),
     LIST(',', 1, TCR_PLAN_DIAMETERS_MAX), .standard = "that of the layering",
     .help = "the diameters to choose from"},
    {PLAN, TO(fans), "fans", "N,...", OF_FIELD(COUNT, EXTENSION, "fan"),
     LIST(',', 1, TCR_PLAN_FANS_MAX), .standard = "that of the layering",
     .help = "the numbers of fibres in a fan to choose from; 1 is a single extension"},
    {PLAN, TO(overlength), "overlength", "MM", OF_FIELD(NUMBER, LIMITS, "overlength_mm"),
     .standard = "overlength_mm of the set file, else #, assumed",
     .help = "the maximum by which an extension is longer than its lash"},
    {PLAN, TO(corrections), "corrections", "N", COUNT(0, TCR_LASHES_MAX), .word = all,
     .standard =
         "the fewest that bring at least 95 % of each eye's tips within the tolerance, or as "
         "many as all corrections would",
     .help =
         "the maximum number of lashes that differ from their zone, by one size, another placement "
         "or both, first those that come within the tolerance; all: every lash that comes "
         "nearer to the line that way"},
    {PLAN, TO(samples), "samples", "N", COUNT(0, TCR_SAMPLES_MAX),
     .standard = "200 where nobody measured the lashes of an eye, else 0",
     .help =
         "chooses by the mean over N random samples: of a described eye other clients of the same "
         "description, of a measured one how its lashes vary and how far it opens; with --least "
         "max, by the 95th percentile of the distance, assumed; 0: for the lashes as they are, "
         "which for a described eye is a demonstration"},
    {PLAN, TO(time_limit), "time-limit", "S", WITHIN(0.1, 86400), .unit = "s",
     .standard = "no limit",
     .help = "ends the search after S seconds with the best plan so far, which may be another at "
             "each run; samples end after half of them; the table says how much better any other "
             "choice for the zones can be"},

    {STUDY, TO(vary), "vary", "KEY=VALUES", TEXTS,
     .help = "a factor: a key of the set file with its values, as a list, curl=C,CC,D, or a range, "
             "longest_mm=8:14:1; once for each factor"},
    {STUDY, TO(outputs), "output", "NAME", TEXTS,
     .standard = "those of the study file, else the usual ones",
     .help = "a number to compute, by its name in check's JSON; a number of each lash with .mean, "
             ".min, .max or .p95 behind it; once for each output"},
    {STUDY, TO(design), "design", "KIND", ONE_OF(designs), .standard = "grid",
     .help = "which values are tried together: every combination, random points, Sobol points, or "
             "Sobol points for indices of sensitivity"},
    {STUDY, TO(indices), "indices", NULL, FLAG,
     .help = "the same as --design sensitivity: which factor matters how much"},
    {STUDY, TO(points), "points", "N", COUNT(1, 1e10), .standard = "1024",
     .help = "the number of points, if it is no grid; of a sensitivity design the base points of "
             "each scrambling"},
    {STUDY, TO(scramblings), "scramblings", "N", COUNT(16, 256), .standard = "16",
     .help = "the number of independent scramblings of a sensitivity design"},
    {STUDY, TO(runs), "runs", "N", COUNT(0, 1e6), .standard = "0, the lashes as they are",
     .help = "evaluates each combination N times, with other lashes each time: drawn from the "
             "described eye, or varied about the surveyed ones"},
    {STUDY, TO(seed), "seed", "N", COUNT(0, 9007199254740991.0), .standard = "1",
     .help = "of the random numbers"},
    {STUDY, TO(best), "best", "BY", ONE_OF(criteria), .standard = "mean",
     .help = "how combinations are ranked over the runs: by the mean, the 90th percentile or the "
             "mean of the worst runs of 16 equal groups"},
    {STUDY, TO(of), "of", "NAME", TEXT, .standard = "the first output",
     .help = "the output that the answer is about; without left. or right. the worse of two eyes "
             "counts"},
    {STUDY, TO(goal), "goal", "WHAT", ONE_OF(goals),
     .standard = "usual: most of within_tolerance, zero of layer offsets, least of the others",
     .help = "what is good in that output"},
    {STUDY, TO(alike), "alike", "X", WITHIN(0, 1000), .standard = "0.05, assumed",
     .help = "a difference that does not matter, in the unit of that output"},
    {STUDY, TO(output), "o", "DIR", TEXT,
     .help = "the folder for results.csv, results.npy, study.json and chart.png; it is made if it "
             "is not there"},
    {STUDY, TO(all), "all", NULL, FLAG,
     .help = "also keeps runs.npy and writes runs.csv, a row for each run"},
    {STUDY, TO(no_chart), "no-chart", NULL, FLAG, .help = "draws no chart into DIR"},
    {STUDY, TO(resume), "resume", NULL, FLAG,
     .help = "goes on with the study in DIR, to the same files as if it had never stopped"},
    {STUDY, TO(part), "part", "I/N", TEXT,
     .help = "computes part I of N, for job arrays: each part in a folder of its own"},
    {STUDY, TO(join), "join", "DIR...", TEXTS, .greedy = true,
     .help = "puts the folders of all parts together in the folder of -o"},
    {STUDY, TO(dry_run), "dry-run", NULL, FLAG,
     .help = "says how many evaluations it takes and about how long, from a few of them"},
    {STUDY, TO(threads), "threads", "N", COUNT(1, 256), .standard = "one for each processor",
     .help = "the number of threads; the results are the same for any"},
    {STUDY, TO(picture), "picture", "FILE", FILE_TO_WRITE, .word = pictures,
     .help =
         "draws the answer: a curve with a band for one factor, a line for each of a few values "
         "or a heat map for two, bars for many"},
};

const tcr_option *tcr_option_next(unsigned command_bit, size_t *i) {
    while (*i < sizeof OPTIONS / sizeof *OPTIONS) {
        const tcr_option *option = &OPTIONS[(*i)++];
        if ((option->commands & command_bit) != 0)
            return option;
    }
    return NULL;
}

/* ---- As text ------------------------------------------------------------------------- */

const char *tcr_option_named(tcr_option_name *out, const tcr_option *option) {
    const char *dashes = option->name[1] == '\0' ? "-" : "--";
    snprintf(out->text, sizeof out->text, "%s%s", dashes, option->name);
    return out->text;
}

const char *tcr_option_words(tcr_word_list *out, const tcr_option *option) {
    size_t used = 0;
    out->text[0] = '\0';
    for (size_t i = 0; option->word != NULL && option->word(i) != NULL; i++) {
        const char *before = i == 0 ? "" : option->word(i + 1) == NULL ? " or " : ", ";
        used += (size_t)snprintf(out->text + used, sizeof out->text - used, "%s%s", before,
                                 option->word(i));
        if (used >= sizeof out->text)
            break;
    }
    return out->text;
}

const char *tcr_option_standard(tcr_word_list *out, const tcr_option *option) {
    const char *text = option->standard != NULL ? option->standard : "";
    const size_t before = strcspn(text, "#");
    char number[TCR_NUMBER_SIZE] = "";
    if (text[before] == '#')
        tcr_number_text(tcr_field_find(option->group, option->key)->file.standard, number);
    snprintf(out->text, sizeof out->text, "%.*s%s%s", (int)before, text, number,
             text + before + (text[before] == '#'));
    return out->text;
}

tcr_range tcr_option_range(const tcr_option *option) {
    if (option->key == NULL)
        return (tcr_range){option->least, option->most, option->unit != NULL ? option->unit : ""};
    const tcr_field *field = tcr_field_find(option->group, option->key);
    const char *unit = field->unit == TCR_UNIT_MM        ? "mm"
                       : field->unit == TCR_UNIT_DEGREES ? "degrees"
                                                         : "";
    return (tcr_range){field->file.least, field->file.most, unit};
}

const char *tcr_option_range_text(tcr_range_text *out, const tcr_option *option,
                                  const char *between) {
    char least[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
    const tcr_range range = tcr_option_range(option);
    tcr_number_text(range.least, least);
    tcr_number_text(range.most, most);
    snprintf(out->text, sizeof out->text, "%s%s%s%s%s", least, between, most,
             *range.unit != '\0' ? " " : "", range.unit);
    return out->text;
}
