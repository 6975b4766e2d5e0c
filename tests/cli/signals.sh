#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, some words from room.sh
# What a signal leaves: those that are sent, and those of a fault, remove temporary files and end the
# command, and a search of plan ends with its best plan by INT and TERM. What a KILL left is named by the next run and stays.
# tests/faults/commands.sh sends signals at every call that changes files, and at moments.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/room.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
tests=$TIPCREST_SOURCE/tests/cli
find_python pty

# ---- A command that waits for a reader of its pipe -----------------------------------------------

signals='INT TERM HUP QUIT XCPU ABRT TRAP' faults='SEGV BUS ILL FPE'
if [ "${TIPCREST_SANITIZED-}" = yes ]; then
    skip "$faults" 'the sanitisers handle them'
    faults=
fi
for signal in $signals $faults; do
    fresh
    set_with a.csv >set.yaml
    rows 30 >a.csv
    mkfifo pipe
    equal "$signal ends a check and removes its temporary file" \
        "$("$python" "$tests/blocked.py" "$signal" ends pipe \
            "$TIPCREST" check set.yaml --json a.json --csv pipe 2>&1)" \
        "ended by SIG$signal: a.csv pipe set.yaml"
    equal "$signal is still ignored where it was before" \
        "$("$python" "$tests/blocked.py" "$signal" ignored pipe \
            "$TIPCREST" check set.yaml --json a.json --csv pipe 2>&1)" \
        'exit status 0: a.csv a.json pipe set.yaml'
done

# ---- A search ------------------------------------------------------------------------------------

fresh
"$TIPCREST" begin --lengths 8,9,10,11,10,9 -o set.yaml >/dev/null
"$TIPCREST" plan set.yaml --samples 0 -o one.yaml >/dev/null
# stops SIGNAL: a search of minutes, which gets it as soon as the terminal shows it.
stops() {
    "$python" "$tests/interrupt.py" "$1" "$TIPCREST" plan one.yaml --samples 100000 -o plan.yaml \
        --json plan.json 2>&1 >/dev/null | tail -n 1 | cut -d ';' -f 1
}
equal 'TERM ends a search with the best plan so far' "$(stops TERM)" 'exit status 0'
good 'which check takes' check plan.yaml
contains 'and which is not proved' "$(grep '"proved"' plan.json)" false
rm -f plan*
equal 'HUP ends a search without a plan' "$(stops HUP) $(names)" \
    'exit status -1 one-left.csv one-right.csv one.yaml set.yaml '

# ---- What a KILL left ----------------------------------------------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 >a.csv
mkdir out
gone=$(sh -c 'echo $$') # a process that has ended
left="$PWD/out/.tipcrest-$gone-3.tmp"
echo theirs >"$left"
# These are no leftovers: of a process at work, and names of another kind.
for name in ".tipcrest-$$-0.tmp" .tipcrest-x-0.tmp .tipcrest-0-0.tmp ".tipcrest-$gone.tmp" \
    ".tipcrest-$gone-0.tmp~" "x.tipcrest-$gone-0.tmp" ".tipcrest-$gone-0" .tipcrest-99999999999999999999-0.tmp; do
    echo theirs >"out/$name"
done
before=$(cd out && ls -A)
run check set.yaml --json out/a.json --csv out/a.csv
equal 'a leftover is named once' "$status $(cat "$said/err")" \
    "0 tipcrest: $left is left over from a run that was killed; remove it if no other tipcrest is at work there"
rm -f out/a.json out/a.csv
equal 'and stays, as all else does' "$(cd out && ls -A) $(cat out/.tip* out/x* | sort -u)" "$before theirs"
echo theirs >"$PWD/out/.tipcrest-$gone-12.tmp"
run begin -o out/my.yaml
equal 'of two the first is named' "$status $(cat "$said/err")" \
    "0 tipcrest: $PWD/out/.tipcrest-$gone-12.tmp and 1 more like it are left over from runs that were killed; remove them if no other tipcrest is at work there"
good 'a run that writes elsewhere names nothing' check set.yaml --json a.json
if [ -z "$lacking" ]; then
    run draw set.yaml --view side --width 40 --dpi 40 -o out/a.png
    contains 'draw names them too' "$status $(cat "$said/err")" "0 tipcrest: $PWD/out/.tipcrest-$gone-12.tmp and 1 more like it "
else
    skip 'draw names them too' "$lacking"
fi
# A process of the same number, as in containers, goes round what its forerunner left.
fresh
set_with a.csv >set.yaml
rows 30 >a.csv
# shellcheck disable=SC2016 # the inner shell's own
sh -c 'for i in 0 1; do echo theirs >.tipcrest-$$-$i.tmp; done; exec "$@"' sh \
    "$TIPCREST" check set.yaml --json a.json >"$said/out" 2>"$said/err"
equal 'and so are those of a process with the number of this one' \
    "$? $(sed 's/-[0-9]*-0/-N-0/' "$said/err")$(cat .tip* | tr '\n' ' ')" \
    "0 tipcrest: $PWD/.tipcrest-N-0.tmp and 1 more like it are left over from runs that were killed; remove them if no other tipcrest is at work theretheirs theirs "

leave
