# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# shellcheck disable=SC2034,SC2154 # shared with the scripts that source it; TIPCREST is the harness's
# For tests of one command, behind tests/tap.sh: a folder to work in, and calls. A script that sets
# 'command' need not name it in each call of bad and fails.

TIPCREST_SOURCE=$(cd "$TIPCREST_SOURCE" && pwd) || exit 1
work=$(mktemp -d) || exit 1
cd "$work" || exit 1
command=''

# run ARGUMENT...: leaves out and err in the folder, and status.
run() {
    status=0
    "$TIPCREST" "$@" >"$work/out" 2>"$work/err" </dev/null || status=$?
}

# good ARGUMENT...: exits with 0 and has nothing to complain about.
good() {
    run "$@"
    equal "tipcrest $*: exits with 0, without complaint" "$status $(cat "$work/err")" '0 '
}

# bad MESSAGE ARGUMENT...: a wrong call of a command says just this, exits with 2 and prints nothing
# else.
bad() { refused " ${command:-$2}: $1" "$@"; }

# wrong MESSAGE ARGUMENT...: the same where no command is to blame, but what is in a file.
wrong() { refused ": $1" "$@"; }

# refused TEXT MESSAGE ARGUMENT...: TEXT stands behind "tipcrest".
refused() {
    message=$1
    shift 2
    run ${command:+"$command"} "$@"
    equal "${command:-tipcrest} $*: says what is wrong" "$(cat "$work/err")" "tipcrest$message"
    equal "${command:-tipcrest} $*: exits with 2 and prints nothing" "$status $(wc -c <"$work/out")" '2 0'
}

# fails MESSAGE ARGUMENT...: work that fails says just this, and exits with 1.
fails() {
    message=$1
    shift
    run ${command:+"$command"} "$@"
    equal "${command:-tipcrest} $*: says why it failed" "$(cat "$work/err")" "tipcrest: $message"
    equal "${command:-tipcrest} $*: exits with 1 and prints nothing" "$status $(wc -c <"$work/out")" '1 0'
}

# joined: standard output with every run of blanks and line ends as one blank.
joined() { tr -s ' \n' '  ' <"$work/out"; }

# member NAME FILE: of a JSON report, where it stands on a line of its own.
member() { sed -n "s/^ *\"$1\": \(.*[^,]\),\{0,1\}\$/\1/p" "$2"; }

# small_survey FILE: 13 lashes, the layers in turn along the lid.
small_survey() {
    {
        echo id,u,layer,length_mm
        i=10
        for layer in bottom middle top bottom middle top bottom middle top bottom middle top bottom; do
            echo "n$i,0.$i,$layer,8"
            i=$((i + 5))
        done
    } >"$1"
}
