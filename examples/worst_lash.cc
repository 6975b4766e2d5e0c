// SPDX-License-Identifier: GPL-3.0-or-later
//
// The lash that sticks out most, from C++17: owners free what the library made, in the right order.
//
//     c++ -std=c++17 worst_lash.cc $(pkg-config --cflags --libs tipcrest-file) && ./a.out SET.yaml
#include <cmath>
#include <cstdio>
#include <memory>
#include <stdexcept>

#include <tipcrest/file.h>
#include <tipcrest/tipcrest.h>

// Frees an object of the library with the call that belongs to it.
struct Free {
    void operator()(tcr_set_file *file) const { tcr_set_file_free(file); }
    void operator()(tcr_check *check) const { tcr_check_free(check); }
};
template <typename T> using Owner = std::unique_ptr<T, Free>;

// Throws what a call says that went wrong.
static void need(tcr_status status, const tcr_error &error) {
    if (status != TCR_OK)
        throw std::runtime_error(error.message);
}

static Owner<tcr_set_file> read(const char *path) {
    tcr_error error = tcr_error_none();
    tcr_set_file *file = nullptr;
    need(tcr_set_file_read(path, nullptr, &file, &error), error);
    return Owner<tcr_set_file>(file);
}

static Owner<tcr_check> evaluate(const tcr_set_file &file) {
    tcr_error error = tcr_error_none();
    tcr_check *check = nullptr;
    need(tcr_set_file_check(&file, nullptr, &check, &error), error);
    return Owner<tcr_check>(check);
}

static void print_worst(const tcr_set *set, const tcr_eye_result &eye) {
    const tcr_lash_result *worst = nullptr;
    for (size_t i = 0; i < eye.lashes; i++) {
        const tcr_lash_result &lash = eye.lash[i];
        if (lash.staggered &&
            (!worst || std::fabs(lash.deviation_mm) > std::fabs(worst->deviation_mm)))
            worst = &lash;
    }
    std::printf("%s eye: %.2f mm rms\n", tcr_side_text(eye.side), eye.fitted.upright.rms_mm);
    if (!worst)
        return;
    std::printf("%s sticks out by %+.2f mm; %.0f mm instead of %.0f would leave %+.2f\n",
                tcr_set_id(set, eye.side, static_cast<size_t>(worst - eye.lash)),
                worst->deviation_mm, worst->remedy.length_mm, worst->choice.length_mm,
                worst->remedy.deviation_mm);
}

int main(int argc, char **argv) try {
    const auto file = read(argc > 1 ? argv[1] : "examples/practice-head/layered.yaml");
    const auto check = evaluate(*file); // freed before the file that it reads
    for (tcr_side side : {TCR_LEFT, TCR_RIGHT}) {
        if (const tcr_eye_result *eye = tcr_check_eye(check.get(), side))
            print_worst(tcr_set_file_set(file.get()), *eye);
    }
    return 0;
} catch (const std::exception &wrong) {
    std::fprintf(stderr, "worst_lash: %s\n", wrong.what());
    return 1;
}
