#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Commands to which memory and the system fail, call by call, and which a signal ends at each of them:
# interpose.c makes it so, judge.py looks at what is left. A run that fails says why with exit status
# 1 and which files are in place all the same, leaves the others as they were, nothing half and no
# memory; a run that copes is as good as any other.
#
# Everything takes longer than a test may. TIPCREST_FAULTS=all tries it before a release, but of the calls
# for memory of a picture one in 97; else pictures
# fail in a few ways, memory that stays short and moments are tried on two commands, HUP on those that
# take long, and of calls for memory that come by the thousand a part fails.

. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
. "$TIPCREST_SOURCE/tests/faults/before.sh"
find_python os re

if [ "${TIPCREST_SANITIZED-}" = yes ]; then
    skip 'commands to which memory and the system fail' \
        'the interposer and the sanitiser both take the place of malloc(); test_memory runs'
    finish
fi

work=$(mktemp -d "${TMPDIR:-/tmp}/tipcrest-faults-XXXXXX") || exit 1
trap 'rm -rf "$work"; echo "not ok - the script came to its end"; exit 99' EXIT
interpose=$TIPCREST_BUILD/tests/faults/interpose.so
cd "$work" || exit 1
cp "$TIPCREST_SOURCE"/examples/practice-head/layered.yaml "$TIPCREST_SOURCE"/examples/practice-head/*.csv .
cp "$TIPCREST_SOURCE/examples/client/client.yaml" .
set=$work/layered.yaml

all_memory=0 all_calls=0 all_kills=0

# inject FAULT LASTS WORD...: runs the command again and again in a folder of its own below the current
# one, with another call failing each time; of calls for memory one in $memory_step.
inject() {
    place=$1-$2
    mkdir "$place" || return
    (
        cd "$place" || exit
        FAULT_WITH=$1 FAULT_OLD=$work/$label/before FAULT_RUNS=$PWD/runs LD_PRELOAD=$interpose
        export FAULT_WITH FAULT_OLD FAULT_RUNS LD_PRELOAD
        [ "$2" = once ] || export FAULT_LASTS=yes
        [ "$1" != memory ] || export FAULT_STEP="$memory_step"
        # Pictures: fontconfig has its own ways with files that it cannot read.
        [ "$exempt" = nothing ] || [ "$1" = memory ] || export FAULT_CHANGES=yes
        shift 2
        exec "$TIPCREST" "$@"
    ) 2>said || echo "the interposer failed: $(cat said)"
    rm -f said
}

# fails LABEL OLD TARGETS EXEMPT FAULTS WORD...: one claim about a command; OLD as put_before has it. A
# fault with a plus is also tried as one that lasts; to be interrupted for ever, or never to be ready,
# is no failure but a standstill.
fails() {
    label=$1 old=$2 targets=$3 exempt=$4 faults=$5
    shift 5
    mkdir "$work/$label" && cd "$work/$label" && put_before "$old" && cp -R before right && cd right || return
    "$TIPCREST" "$@" >out 2>err || not_ok "$label: done where nothing fails" "$(cat err)"
    cd .. || return
    found=$(for fault in $faults; do
        inject "${fault%+}" once "$@"
        case $fault in *+) inject "${fault%+}" lasting "$@" ;; esac
    done)
    verdict=$("$python" "$TIPCREST_SOURCE/tests/faults/judge.py" . "$targets" "$exempt" 2>&1)
    counts=$(echo "$verdict" | sed -n '$s/^\([0-9]*\) \([0-9]*\) \([0-9]*\)$/\1 \2 \3/p')
    found=$found$(echo "$verdict" | sed '$d' | sed '$d')
    if [ -z "$counts" ]; then found=$verdict counts='0 0 0'; fi
    echo "# $label: failures injected: $(echo "$verdict" | tail -n 2 | head -n 1)"
    if [ -z "$found" ]; then
        ok "$label: nothing half, nothing lost, whatever fails"
    else
        not_ok "$label: nothing half, nothing lost, whatever fails" "$(echo "$found" | head -n 40)"
    fi
    # shellcheck disable=SC2086 # three numbers
    set -- $counts
    all_memory=$((all_memory + $1)) all_calls=$((all_calls + $2)) all_kills=$((all_kills + $3))
    cd "$work" && rm -rf "${work:?}/$label"
}

calls='ENOSPC+ EIO+ EPIPE+ EINTR EAGAIN EPERM+ short+ kill INT TERM moments HUP'
every="memory+ $calls"
if [ "${TIPCREST_FAULTS-}" = all ]; then
    some=$every some_calls=$calls more="" of_thousands=1 of_picture=97
else
    some_calls=${calls% moments HUP} some="memory ${calls% moments HUP}" more=HUP
    of_thousands=13 of_picture=997 # primes, so that they fall on all kinds of calls
fi

# begin finds the lengths by trying many, each of which takes memory.
memory_step=$of_thousands

fails begin '' 'a.yaml' nothing "$some" begin -o a.yaml
fails begin-survey '' 'a.yaml s-left.csv s-right.csv' nothing "$every" begin -o a.yaml --survey s.csv
fails begin-stdout '' '' nothing "$some" begin -o -
memory_step=1
fails check-files 'a.json a.csv' 'a.json a.csv' nothing "$every" check "$set" --json a.json --csv a.csv
fails check-new '' 'a.json a.csv' nothing "$some_calls" check "$set" --json a.json --csv a.csv
fails check-stdout 'a.csv' 'a.csv' nothing "$some" check "$set" --json - --csv a.csv
fails check-reports '' 'layered.json layered.csv layered.txt' nothing "$some" \
    check "$set" --reports .
fails check-table '' '' nothing "$some" check "$set"
fails check-two-eyes 'a.json' 'a.json a.csv' nothing "$some_calls" \
    check "$work/client.yaml" --json a.json --csv a.csv
fails why 'a.json' 'a.json' nothing "$some" why "$set" --json a.json
fails why-stdout '' '' nothing "$some_calls" why "$set" --json -
fails step 'a.json' 'a.json' nothing "$some" step "$set" --json a.json
fails step-table '' '' nothing "$some_calls" step "$set"
fails plan 'a.json' 'a.json a.yaml a-left.csv' nothing "$some $more" \
    plan "$set" -o a.yaml --json a.json
plan_before
fails plan-again planned 'a.json a.yaml a-left.csv' nothing "$some_calls" \
    plan "$set" -o a.yaml --json a.json

# Pango and GLib end the process without memory; files stay whole all the same, then and when the disk
# fails, and no temporary file stays.
lacking=$(no_pictures)
if [ -z "$lacking" ]; then
    if [ "${TIPCREST_FAULTS-}" = all ]; then
        pictures=$calls
    else
        pictures='ENOSPC kill INT TERM'
    fi
    fails check-picture 'a.png' 'a.png a.csv' memory "$pictures $more" \
        check "$set" --csv a.csv --picture a.png
    fails draw-png 'a.png' 'a.png' memory "$pictures" \
        draw "$set" --view side --width 40 --dpi 40 -o a.png
    # A picture takes memory thousands of times. Only once each: fontconfig may go on without end where
    # all memory is gone.
    memory_step=$of_picture
    fails draw-memory 'a.png' 'a.png' memory memory \
        draw "$set" --view side --width 40 --dpi 40 -o a.png
    memory_step=1
    fails draw-svg '' 'a.svg' memory "$pictures" draw "$set" --view side -o a.svg
    fails draw-pdf 'a.pdf' 'a.pdf' memory "$pictures" draw "$set" --view side -o a.pdf
    fails draw-film 'a-01.png' 'a-01.png a-02.png a-03.png a-04.png' memory "$pictures $more" \
        draw "$set" --view film --frames 4 --width 40 --dpi 40 -o a.png
else
    skip 'pictures' "$lacking"
fi

echo "# failures injected into commands: $((all_memory + all_calls + all_kills)) ($all_memory of memory, $all_calls of the system's" \
    "calls, $all_kills signals)"
rm -rf "$work"
finish
