#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The rules of the house, as TAP: every file is built and shipped, floors rest only on those below,
# every file says what it is, formatting, shell scripts. CI runs it; so may you.

cd "$(dirname "$0")/.." || exit 1
TIPCREST_SOURCE=.
. "$TIPCREST_SOURCE/tests/tap.sh"

# Files of the project: what git tracks or would track. A tarball has no git; then all.
if git -c safe.directory='*' rev-parse --git-dir >/dev/null 2>&1; then
    files=$(git -c safe.directory='*' ls-files --cached --others --exclude-standard | sort)
else
    files=$(find . -path ./build -prune -o -name ltmain.sh -o -type f -print | sed 's,^\./,,' | sort)
fi
existing=$(for file in $files; do [ ! -e "$file" ] || echo "$file"; done)
c_files=$(echo "$existing" | grep -E '^(include|lib|cli|tests|bench|examples)/.*\.[ch]$')
scripts=$(echo "$existing" | grep -E '\.sh$|^\.ci/run$')

holds() { # CLAIM OFFENDERS: no line of offenders
    if [ -z "$2" ]; then ok "$1"; else not_ok "$1" "$2"; fi
}

listed=$(cat Makefile.am build-aux/installed.am | sed 's/#.*//' | tr -s ' \t\\=' '\n' | sort -u)
unlisted() {
    for file in $1; do
        case $file in
        examples/page/*.c | examples/python/*.c) name=$file ;;
        # Programs of one source are listed by their names.
        tests/*/test_*.c | examples/*.c | bench/*.c) name=${file%.c} ;;
        *) name=$file ;;
        esac
        echo "$listed" | grep -qxF "$name" || echo "$file"
    done
}
holds 'Makefile.am lists every source, header and test' \
    "$(unlisted "$c_files $(echo "$existing" | grep -E '^tests/cli/.*\.sh$|^(examples|tests)/page/')")"

# Floors from the ground up; file and draw stand beside each other on all of them, and results on
# study and file.
floors='num geom model line rod time plan study measure'
misplaced() {
    for file in $(echo "$c_files" | grep '^lib/'); do
        floor=${file#lib/}
        floor=${floor%%/*}
        case $floor in
        file | draw) allowed="$floors $floor" ;;
        results) allowed="$floors file $floor" ;;
        *) allowed="${floors%"$floor"*}$floor" ;;
        esac
        sed -n 's/^ *# *include *"\([a-z]*\)\/.*/\1/p' "$file" | while read -r below; do
            case " $allowed " in
            *" $below "*) ;;
            *) echo "$file includes from $below/" ;;
            esac
        done
    done
}
holds 'every floor rests on those below it' "$(misplaced)"

unlicensed=$(for file in $c_files $scripts; do
    head -n 3 "$file" | grep -q 'SPDX-License-Identifier: GPL-3.0-or-later' || echo "$file"
done)
holds 'every file names its licence' "$unlicensed"

long=$(for file in $c_files; do
    lines=$(wc -l <"$file")
    [ "$lines" -le 600 ] || echo "$file: $lines lines"
done)
holds 'no source is longer than 600 lines' "$long"

# The compiler tells only where unused constants are warnings.
unmade=$(for file in $(echo "$c_files" | grep -E '^tests/.*/test_[a-z0-9_]*\.c$'); do
    sed -n 's/^CLAIM(\([a-z0-9_]*\)).*/\1/p' "$file" | while read -r claim; do
        grep -q "&$claim\>" "$file" || echo "$file: $claim"
    done
done)
holds 'every claim of a test is in its list' "$unmade"

# A mutant whose text is no longer in its file tries nothing.
holds 'no mutant is stale' "$(awk -v mode=stale -v tree=. -f tests/mutants/mutants.awk tests/mutants/*.list)"

# What a machine has hides what is forgotten, so the table is asked, not the machine.
forgotten=$(sed -n "/<<'END'/,/^END/p" build-aux/packages.sh | sed '1d;$d' |
    while read -r group package _; do
        sh build-aux/packages.sh --list base build tests page browser node package cross ci release 32 big-endian musl |
            grep -qxF "$package" || echo "$package of $group, among all"
        sh build-aux/packages.sh --list "$group" | grep -qxF "$package" || echo "$package of $group"
    done
    for package in gcc libtool libyaml-dev libcairo2-dev libgsl-dev; do
        sh build-aux/packages.sh --list build | grep -qxF "$package" || echo "$package to build"
    done)
holds 'packages.sh names all that a group takes' "$forgotten"

holds 'a test calls every public function, and a fuzz target every one that takes input' \
    "$(python3 build-aux/calls.py)"

# shellcheck disable=SC2086 # lists of names without blanks
{
    holds 'the C files are formatted as .clang-format says' \
        "$(clang-format --dry-run --Werror $c_files 2>&1 | sed -n 's/^\([^ :]*\):.*error:.*/\1/p' | uniq -c)"
    holds 'shellcheck has nothing to say' "$(shellcheck -x -f gcc $scripts 2>&1)"
}

finish
