#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Asks the tests whether they notice: each mutant in tests/mutants/*.list is a small fault, and the
# test that it names has to fail with it.
#
#     sh tests/mutants.sh                 # all of them
#     sh tests/mutants.sh --part 3/10     # the third tenth
#     sh tests/mutants.sh NAME...         # these
#     sh tests/mutants.sh --spread        # how many lines and mutants each file has; runs nothing
#
# It builds in build/mutants, from a copy of the tree, with ccache if that is there. A test must pass
# before its mutants count. A mutant that does not compile, or whose text is not in its file just
# once, is stale, which is a failure. One that is marked as equivalent must not be noticed. Ends with
# 'N passed, N failed'; build/mutants/NAME.log has what the test said.

set -u
cd "$(dirname "$0")/.." || exit 1
root=$(pwd -P)
place=$root/build/mutants
tree=$place/tree
exec </dev/null

held=0
missed=0
hold() { held=$((held + 1)); echo "ok - $1"; }
miss() { missed=$((missed + 1)); echo "not ok - $1"; }
finish() {
    [ $((held + missed)) -gt 0 ] || miss 'nothing was run'
    echo "$held passed, $missed failed"
    [ "$missed" -eq 0 ]
    exit
}

# mutants MODE [ARGUMENT...]: what mutants.awk makes of the lists here.
mutants() {
    mode=$1
    shift
    awk -v mode="$mode" -v tree=. "$@" -f tests/mutants/mutants.awk tests/mutants/*.list
}

# Sources as they are now. Those that have not changed keep their times, so that what was built from
# them stays good from run to run; the others are new, also where they were changed while the run
# before was going on.
copy() {
    rm -rf "$place/new"
    mkdir -p "$tree" "$place/new" || return
    tar -cf - --exclude=./build --exclude=./.git --exclude=./autom4te.cache . |
        tar -xmf - -C "$place/new" || return
    (cd "$place/new" && find . -name '*.[ch]') | while read -r file; do
        ! cmp -s "$place/new/$file" "$tree/$file" || touch -r "$tree/$file" "$place/new/$file"
    done
    rm -rf "$tree" && mv "$place/new" "$tree"
}

# Removes what was built since the stamp: it came from a mutant.
forget() {
    [ -e "$place/stamp" ] || return 0
    find "$place" -path "$tree" -prune -o -newer "$place/stamp" -type f ! -name '*.log' -exec rm -f {} +
    rm -f "$place/stamp"
}

build() { # TARGETS LOG
    # shellcheck disable=SC2086 # names
    (cd "$place" && make -j2 -f tree/tests/mutants/mutants.mk $1 CC="$compiler") >"$2" 2>&1
}

# What make has to build for a test.
target_of() {
    case $1 in
    tests/cli/study-mpi.sh) echo tipcrest tipcrest-study-mpi ;;
    tests/faults/*.sh) echo tipcrest tests/faults/interpose.so tests/faults/journal.so ;;
    *.sh | *.py) echo tipcrest ;;
    *) echo "$1" ;;
    esac
}

# run TEST LOG: as 'make check' does, up to the first claim that does not hold. The limit is only
# against a test that never ends. The log's last line has the exit status, unless a claim ended it.
run() {
    case $1 in
    *.sh) set -- "$2" sh "$tree/$1" ;;
    *.py) set -- "$2" sh "$tree/tests/draw/python.sh" "$tree/$1" ;;
    *) set -- "$2" "$place/$1" ;;
    esac
    log=$1
    shift
    (
        cd "$place" || exit
        export TIPCREST="$place/tipcrest" TIPCREST_SOURCE="$tree" TIPCREST_BUILD="$place"
        export CK_DEFAULT_TIMEOUT=600 PYTHONDONTWRITEBYTECODE=1 PYTHONUNBUFFERED=1
        timeout 1800 "$@" 2>&1
        echo "exit status $?"
    ) | sed '/^not ok/q' >"$log"
}

# passed LOG: whether all claims held, and none was left out.
passed() {
    [ "$(tail -n 1 "$1")" = 'exit status 0' ] && ! grep -q '# *SKIP' "$1"
}

# noticed LOG: whether the test failed as a test does, by a claim or a signal or without end.
noticed() {
    tail -n 1 "$1" | grep -q '^exit status \(124\|12[89]\|1[3-9][0-9]\)$' ||
        grep -q '^not ok\|^[^:]*:[0-9]*:[FE]:' "$1"
}

# Whether a test passes as the tree is; asked once a test.
passes() {
    case " $good " in *" $1 "*) return 0 ;; esac
    case " $broken " in *" $1 "*) return 1 ;; esac
    rm -f "$place/test.log"
    if build "$(target_of "$1")" "$place/build.log" && run "$1" "$place/test.log" &&
        passed "$place/test.log"; then
        good="$good $1"
    else
        broken="$broken $1"
        tail -n 20 "$place/build.log"
        [ ! -e "$place/test.log" ] || tail -n 20 "$place/test.log"
        return 1
    fi
}

try() { # NAME FILE TEST EQUIVALENT
    if ! passes "$3"; then
        miss "$1: $3 does not pass without it"
        return
    fi
    : >"$place/stamp"
    start=$(date +%s)
    cp -p "$tree/$2" "$place/kept"
    (cd "$tree" && mutants apply -v name="$1") >"$place/mutant"
    cat "$place/mutant" >"$tree/$2"
    if ! build "$(target_of "$3")" "$place/$1.log"; then
        miss "$1: does not compile: $(grep " error: " "$place/$1.log" | head -n 1)"
    else
        run "$3" "$place/$1.log"
        found=no
        ! noticed "$place/$1.log" || found=yes
        took="$(($(date +%s) - start)) s"
        case $4$found in
        noyes) hold "$1: noticed by $3, $took" && rm -f "$place/$1.log" ;;
        yesno) hold "$1: equivalent, $took" && rm -f "$place/$1.log" ;;
        nono) miss "$1: not noticed by $3: $(tail -n 1 "$place/$1.log"), $took" ;;
        *) miss "$1: said to be equivalent, but noticed by $3" ;;
        esac
    fi
    cp -p "$place/kept" "$tree/$2"
    forget
}

if [ "${1-}" = --spread ]; then
    for file in $(find lib cli -name '*.[ch]' | sort); do
        echo "$(wc -l <"$file") $file"
    done | mutants spread
    exit
fi

stale=$(mutants stale 2>&1)
if [ -n "$stale" ]; then
    echo "$stale"
    miss 'the lists of mutants fit the tree'
fi
chosen=$(mutants list 2>/dev/null)
case ${1---all} in
--all) ;;
--part)
    chosen=$(echo "$chosen" | awk -v part="${2-}" '
        { line[NR] = $0 }
        END {
            split(part, of, "/")
            for (i = int(NR * (of[1] - 1) / of[2]) + 1; i <= int(NR * of[1] / of[2]); i++)
                print line[i]
        }')
    ;;
-*)
    sed -n '3,/^$/s/^# \{0,1\}//p' tests/mutants.sh
    exit 2
    ;;
*)
    for name in "$@"; do
        echo "$chosen" | grep -q "^$name " || miss "there is no mutant $name"
    done
    names=$(printf '%s\n' "$@")
    chosen=$(echo "$chosen" | grep -E "^($(echo "$names" | tr '\n' '|' | sed 's/|$//')) ")
    ;;
esac

compiler=${CC-cc}
! command -v ccache >/dev/null || compiler="ccache $compiler"
export CCACHE_NOHASHDIR=1 CCACHE_BASEDIR="$place"
good=''
broken=''
forget
copy || { miss 'the tree was copied'; finish; }
[ -z "$chosen" ] || while read -r name file test equivalent; do
    try "$name" "$file" "$test" "$equivalent"
done <<END_OF_LIST
$chosen
END_OF_LIST
finish
