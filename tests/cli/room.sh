# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# shellcheck disable=SC2034,SC2154 # shared with the scripts that source it; TIPCREST is the harness's
# For limits.sh and safety.sh, behind tests/tap.sh: a folder to work in, calls of the command, and
# sets and surveys to call it with. All data is invented.

work=$(mktemp -d) || exit 1
cd "$work" || exit 1
said=$work/said # what the command writes on standard output and error
mkdir "$said"
lacking=$(no_pictures) # what keeps the command from drawing; empty where nothing does

# run ARGUMENT...: leaves said/out, said/err and status.
run() {
    status=0
    "$TIPCREST" "$@" >"$said/out" 2>"$said/err" </dev/null || status=$?
}

# good CLAIM ARGUMENT...: exits with 0 and has nothing to complain about.
good() {
    claim=$1
    shift
    run "$@"
    equal "$claim" "$status $(cat "$said/err")" '0 '
}

# ends STATUS CLAIM MESSAGE ARGUMENT...: says just this, prints nothing and exits with STATUS.
ends() {
    wanted=$1 claim=$2 message=$3
    shift 3
    run "$@"
    equal "$claim" "$status $(wc -c <"$said/out") $(cat "$said/err")" "$wanted 0 tipcrest: $message"
}

# fresh: an empty folder to work in.
fresh() {
    cd "$work" && chmod -R u+rwx room 2>/dev/null
    rm -rf room && mkdir room && cd room || exit 1
}

# names: what is in this folder, in one line.
names() { find . -mindepth 1 -maxdepth 1 | sed 's,^\./,,' | LC_ALL=C sort | tr '\n' ' '; }

# repeat TIMES TEXT: the text so many times, without line ends between.
repeat() { awk -v times="$1" -v text="$2" 'BEGIN { while (times-- > 0) printf "%s", text }'; }

# set_with SURVEY: a set file whose left eye has this survey.
set_with() {
    printf '%s\n' 'tipcrest: 1' 'eyes:' '  - side: left' "    lashes: {survey: $1}" \
        '    map: [{to: 1, length_mm: 12, curl: C}]'
}

# described: a set file without a survey.
described() { set_with x | sed 's/{survey: x}/{describe: {count: 24}}/'; }

# rows COUNT: a survey of so many lashes.
rows() {
    awk -v count="$1" 'BEGIN {
        print "id,u,layer,length_mm"
        split("bottom middle top", layer, " ")
        for (i = 0; i < count; i++)
            printf "a%d,%.5f,%s,8\n", i, 0.05 + 0.9 * (i % 997) / 997, layer[i % 3 + 1]
    }'
}

# Ends the script as finish does, and leaves no folder behind.
leave() {
    cd / && chmod -R u+rwx "$work" && rm -rf "$work"
    finish
}
