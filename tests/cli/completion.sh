#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The completion for bash: it is the one that the table of options gives, and completes commands,
# options, words and files. What each case expects follows from the table in cli/option.c.

. "$TIPCREST_SOURCE/tests/tap.sh"
completion=$TIPCREST_SOURCE/cli/tipcrest.bash
work=$(mktemp -d) || exit 1

if "$TIPCREST" --help | grep -q '^  study' && ! "$TIPCREST" draw --help 2>&1 | grep -q 'without pictures'; then
    "$TIPCREST_BUILD/tests/cli/table" >"$work/table"
    if difference=$(sh "$TIPCREST_SOURCE/build-aux/completion.sh" "$work/table" | diff -u "$completion" -); then
        ok 'the completion is that of the table of options'
    else
        not_ok 'the completion is that of the table of options; make completion renews it' "$difference"
    fi
else
    skip 'the completion is that of the table of options' 'pictures or studies are not built in'
fi

if ! command -v bash >/dev/null; then
    skip 'bash completes' 'no bash'
    rm -rf "$work"
    finish
fi

# completed WORD...: what bash offers for the last word, in order, on one line.
program=tipcrest
export program
completed() {
    (cd "$work" && bash -c '
        . "$0"
        COMP_WORDS=("$program" "$@") COMP_CWORD=$#
        _tipcrest
        printf "%s\n" "${COMPREPLY[@]}"' "$completion" "$@" 2>&1 | sort | tr '\n' ' ' | sed 's/ $//')
}
: >"$work/my set.yaml"
: >"$work/other.yaml"
equal 'a command' "$(completed ch)" 'check'
equal 'commands that begin alike' "$(completed st)" 'step study'
equal 'help of a command' "$(completed help w)" 'why'
equal 'an option' "$(completed check --js)" '--json'
equal 'no option of another command' "$(completed check --sheet)" ''
contains 'all options' " $(completed plan --) " ' --corrections '
equal 'a word' "$(completed check --against f)" 'fitted'
equal 'all words' "$(completed plan --least '')" 'max rms'
equal 'the next word of a list' "$(completed plan --placements top,out)" 'top,outer-side'
equal 'no word where a number stands' "$(completed plan --share '')" ''
equal 'a set file' "$(completed check o)" 'other.yaml'
equal 'a file with a blank' "$(completed check my)" 'my set.yaml'
equal 'a file of an option' "$(completed check set.yaml --csv o)" 'other.yaml'
program=/usr/bin/tipcrest-study-mpi
equal 'an option of a study on many machines' "$(completed --res)" '--resume'
equal 'a word of such an option' "$(completed --design g)" 'grid'
equal 'a file of a study on many machines' "$(completed o)" 'other.yaml'
equal 'no command there' "$(completed ch)" ''

rm -rf "$work"
finish
