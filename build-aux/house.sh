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
# Programs of one source are listed by their names.
unlisted() {
    echo "$1" | sed -E 's,^(tests/[^/]*/test_[^/]*|(examples|bench)/[^/]*)\.c$,\1,' | grep -vxF "$listed"
}
holds 'Makefile.am lists every source, header and test' \
    "$(unlisted "$c_files
$(echo "$existing" | grep -E '^tests/cli/.*\.sh$|^(examples|tests)/page/')")"

# Floors from the ground up; file and draw stand beside each other on all of them, and results on
# study and file.
floors='num geom model line rod time plan study measure'
misplaced() {
    # shellcheck disable=SC2046 # names without blanks
    grep -Ho '^ *# *include *"[a-z]*/' $(echo "$c_files" | grep '^lib/') | while IFS=: read -r file include; do
        floor=${file#lib/}
        floor=${floor%%/*}
        below=${include#*\"}
        below=${below%/}
        case $floor in
        file | draw) allowed="$floors $floor" ;;
        results) allowed="$floors file $floor" ;;
        *) allowed="${floors%"$floor"*}$floor" ;;
        esac
        case " $allowed " in
        *" $below "*) ;;
        *) echo "$file includes from $below/" ;;
        esac
    done
}
holds 'every floor rests on those below it' "$(misplaced)"

# shellcheck disable=SC2086 # lists of names without blanks
{
    holds 'every file names its licence' "$(awk '
        FNR <= 3 && /SPDX-License-Identifier: GPL-3.0-or-later/ { named[FILENAME] }
        END { for (i = 1; i < ARGC; i++) if (!(ARGV[i] in named)) print ARGV[i] }' $c_files $scripts)"

    holds 'no source is longer than 600 lines' \
        "$(wc -l $c_files | awk '$1 > 600 && $2 != "total" { print $2 ": " $1 " lines" }')"
}

# The compiler tells only where unused constants are warnings.
# shellcheck disable=SC2016 # awk's own
unmade='
    match($0, /^CLAIM\([a-z0-9_]*/) { claims[FILENAME ": " substr($0, 7, RLENGTH - 6)] }
    {
        for (rest = $0; match(rest, /&[A-Za-z0-9_]+/); rest = substr(rest, RSTART + RLENGTH))
            used[FILENAME ": " substr(rest, RSTART + 1, RLENGTH - 1)]
    }
    END { for (claim in claims) if (!(claim in used)) print claim }'
# shellcheck disable=SC2046 # names without blanks
holds 'every claim of a test is in its list' \
    "$(awk "$unmade" $(echo "$c_files" | grep -E '^tests/.*/test_[a-z0-9_]*\.c$'))"

# A mutant whose text is no longer in its file tries nothing.
holds 'no mutant is stale' "$(awk -v mode=stale -v tree=. -f tests/mutants/mutants.awk tests/mutants/*.list)"

# What a machine has hides what is forgotten, so the table is asked, not the machine.
all=$(sh build-aux/packages.sh --list base build tests page browser node package cross ci release 32 big-endian musl)
to_build=$(sh build-aux/packages.sh --list build)
table=$(sed -n "/<<'END'/,/^END/p" build-aux/packages.sh | sed '1d;$d')
forgotten=$(
    echo "$table" | awk '{ print $2 }' | grep -vxF "$all" | sed 's/$/, among all/'
    for group in $(echo "$table" | awk '{ print $1 }' | sort -u); do
        named=$(sh build-aux/packages.sh --list "$group")
        echo "$table" | awk -v group="$group" '$1 == group { print $2 }' | grep -vxF "$named" | sed "s/\$/ of $group/"
    done
    printf '%s\n' gcc libtool libyaml-dev libcairo2-dev libgsl-dev | grep -vxF "$to_build" | sed 's/$/ to build/'
)
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
