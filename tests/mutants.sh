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

passed=0
failed=0
hold() { passed=$((passed + 1)); echo "ok - $1"; }
miss() { failed=$((failed + 1)); echo "not ok - $1"; }
finish() {
    [ $((passed + failed)) -gt 0 ] || miss 'nothing was run'
    echo "$passed passed, $failed failed"
    [ "$failed" -eq 0 ]
    exit
}

# mutants MODE [ARGUMENT...]: what mutants.awk makes of the lists.
mutants() {
    mode=$1
    shift
    awk -v mode="$mode" -v tree="$root" "$@" -f tests/mutants/mutants.awk tests/mutants/*.list
}

# Sources as they are now, with their times, so that objects stay good from run to run.
copy() {
    rm -rf "$tree"
    mkdir -p "$tree" &&
        tar -cf - --exclude=./build --exclude=./.git --exclude=./autom4te.cache . | tar -xf - -C "$tree"
}

# Removes what was built since the stamp: it came from a mutant.
forget() {
    [ -e "$place/stamp" ] || return 0
    find "$place" -path "$tree" -prune -o -newer "$place/stamp" -type f ! -name '*.log' -exec rm -f {} +
    rm -f "$place/stamp"
}

build() { # TARGET LOG
    (cd "$place" && make -j2 -f tree/tests/mutants/mutants.mk "$1" CC="$compiler") >"$2" 2>&1
}

# What make has to build for a test.
target_of() {
    case $1 in
    *.sh | *.py) echo tipcrest ;;
    *) echo "$1" ;;
    esac
}

# run TEST LOG: as 'make check' does. The limit is only against a test that never ends.
run() {
    case $1 in
    *.sh) set -- "$2" sh "$tree/$1" ;;
    *.py) set -- "$2" sh "$tree/tests/draw/python.sh" "$tree/$1" ;;
    *) set -- "$2" "$place/$1" ;;
    esac
    log=$1
    shift
    (cd "$place" && TIPCREST=$place/tipcrest TIPCREST_SOURCE=$tree TIPCREST_BUILD=$place \
        CK_DEFAULT_TIMEOUT=600 PYTHONDONTWRITEBYTECODE=1 timeout 1800 "$@") >"$log" 2>&1
}

# noticed STATUS LOG: whether the test failed as a test does, by a check or a signal or without end.
noticed() {
    [ "$1" -eq 124 ] || [ "$1" -ge 128 ] || grep -q '^not ok\|^[^:]*:[0-9]*:[FE]:' "$2"
}

# Whether a test passes as the tree is; asked once a test.
passes() {
    case " $good " in *" $1 "*) return 0 ;; esac
    case " $broken " in *" $1 "*) return 1 ;; esac
    rm -f "$place/test.log"
    if build "$(target_of "$1")" "$place/build.log" && run "$1" "$place/test.log" &&
        ! grep -q '# *SKIP' "$place/test.log"; then
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
    cp -p "$tree/$2" "$place/kept"
    mutants apply -v name="$1" >"$tree/$2"
    status=0
    if ! build "$(target_of "$3")" "$place/$1.log"; then
        miss "$1: does not compile: $(grep error "$place/$1.log" | head -n 1)"
    else
        run "$3" "$place/$1.log" || status=$?
        if noticed "$status" "$place/$1.log"; then
            found=yes
        else
            found=no
        fi
        case $4$found in
        noyes) hold "$1: noticed by $3" && rm -f "$place/$1.log" ;;
        yesno) hold "$1: equivalent" && rm -f "$place/$1.log" ;;
        nono) miss "$1: not noticed by $3, which ended with $status" ;;
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
