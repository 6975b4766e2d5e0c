#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# abi.sh [--renew] [FOLDER]: holds the libraries to the interface of the release that abi/version names and
# abi/ keeps (doc/stability.md). Builds shared libraries with debugging information in FOLDER, build/abi
# unless given. Compares the names that each library exports, compares the types by abidiff, and runs the
# examples compiled against the headers of the release. Ends with 'N passed, N failed'. --renew writes abi/
# anew.

cd "$(dirname "$0")/.." || exit 1
TIPCREST_SOURCE=$PWD
. "$TIPCREST_SOURCE/tests/tap.sh"
renew=no
if [ "${1-}" = --renew ]; then
    renew=yes
    shift
fi
folder=${1:-build/abi}
skipped=0
libraries='tipcrest tipcrest-file tipcrest-draw tipcrest-study'
here=$(uname -sm)

left_out() { # CLAIM REASON
    skip "$@"
    skipped=$((skipped + 1))
}
end() {
    trap - EXIT
    echo "1..$tap_count"
    echo "$((tap_count - tap_failed - skipped)) passed, $tap_failed failed, $skipped skipped"
    [ "$tap_failed" -eq 0 ]
    exit
}

mkdir -p "$folder" && folder=$(cd "$folder" && pwd) || exit 1
[ -e configure ] || autoreconf -i >"$folder/log" 2>&1
if ! (cd "$folder" && { [ -e Makefile ] || "$TIPCREST_SOURCE/configure" --disable-tests \
    "CFLAGS=-g -O1" "CC=${CC:-gcc}"; } && make -j2 libtipcrest.la libtipcrest-file.la libtipcrest-draw.la \
    libtipcrest-study.la) >"$folder/log" 2>&1; then
    not_ok 'the libraries build' "$(tail -n 20 "$folder/log")"
    end
fi
shared() { echo "$folder/.libs/lib$1.so"; }
exported() { nm -D --defined-only "$(shared "$1")" | awk '$2 != "A" { sub(/@.*/, "", $3); print $3 }' | sort; }
types() { # LIBRARY OUT
    abidw --headers-dir include/tipcrest --drop-private-types --no-show-locs --no-corpus-path \
        --no-comp-dir-path --type-id-style hash --out-file "$2" "$(shared "$1")"
}

if [ $renew = yes ]; then
    set -e
    rm -rf abi
    mkdir -p abi/headers/tipcrest
    for library in $libraries; do
        exported "$library" >"abi/$library.symbols"
        types "$library" "abi/$library.abi"
        xz -9 "abi/$library.abi"
    done
    for header in include/tipcrest/*.h; do # without comments
        { echo '/* SPDX-License-Identifier: GPL-3.0-or-later */'
            ${CC:-gcc} -w -fpreprocessed -dD -E -P "$header"; } >"abi/headers/tipcrest/${header##*/}"
    done
    python3 build-aux/api.py -o "$folder/api.json"
    python3 build-aux/layout.py "$folder/api.json" >abi/layout.c
    ${CC:-gcc} -Iinclude -o "$folder/layout" abi/layout.c
    "$folder/layout" >abi/layout.expected
    echo "$here" >abi/machine
    sed -n 's/.*AC_INIT(\[tipcrest\], \[\(.*\)\]).*/\1/p' configure.ac >abi/version
    ok "abi/ is that of $(cat abi/version)"
    end
fi

version=$(cat abi/version)
for library in $libraries; do
    exported "$library" >"$folder/symbols"
    equal "lib$library lacks no name of $version" "$(comm -23 "abi/$library.symbols" "$folder/symbols")" ''
    equal "lib$library exports names in tcr_ only" "$(grep -v '^tcr_' "$folder/symbols")" ''
done

# Layouts and numbers, struct by struct. One that begins with its size may grow at its end.
claim="structs and enumerations are laid out as in $version"
if [ "$(cat abi/machine)" != "$here" ]; then
    left_out "$claim" "they were written on $(cat abi/machine)"
elif ! said=$(${CC:-gcc} -Iinclude -o "$folder/layout" abi/layout.c 2>&1); then
    not_ok "$claim" "$said"
else
    "$folder/layout" >"$folder/layout.now"
    said=$(paste -d ' ' abi/layout.expected "$folder/layout.now" | awk '
        $1 == "grows" ? $6 < $3 : substr($0, 1, length($0) / 2) != substr($0, length($0) / 2 + 2)')
    equal "$claim" "$said" ''
fi

# All types, as the debugging information has them. What grows was compared above; its inner changes
# are left out here with it.
awk '/^ *printf.*"grows / {
    print "[suppress_type]\n  type_kind = struct\n  name = " $2
    print "  has_data_member_inserted_at = end\n"
}' abi/layout.c >"$folder/grow.abignore"
for library in $libraries; do
    claim="lib$library has the types of $version"
    if ! command -v abidiff >/dev/null || ! command -v xz >/dev/null; then
        left_out "$claim" 'no abidiff or no xz'
    elif [ "$(cat abi/machine)" != "$here" ]; then
        left_out "$claim" "they were written on $(cat abi/machine)"
    else
        xz -dc "abi/$library.abi.xz" >"$folder/old.abi"
        types "$library" "$folder/new.abi"
        # It ends with 0 where nothing differs but names that were added.
        if said=$(abidiff --no-added-syms --suppressions "$folder/grow.abignore" "$folder/old.abi" \
            "$folder/new.abi" 2>&1); then
            ok "$claim"
        else
            not_ok "$claim" "$said"
        fi
    fi
done

# What was compiled against the release runs with these libraries.
for program in top_line plan_eye best_step; do
    # shellcheck disable=SC2086 # a list of words
    if ! said=$(${CC:-gcc} -Iabi/headers -o "$folder/$program" "examples/$program.c" -L"$folder/.libs" \
        -ltipcrest-study -ltipcrest-draw -ltipcrest-file -ltipcrest -lm 2>&1); then
        not_ok "$program compiles with the headers of $version" "$said"
        continue
    fi
    LD_LIBRARY_PATH=$folder/.libs "$folder/$program" >"$folder/out" 2>&1 </dev/null
    if said=$(diff -u "examples/$program.expected" "$folder/out"); then
        ok "$program, compiled with the headers of $version, prints what it should"
    else
        not_ok "$program, compiled with the headers of $version, prints what it should" "$said"
    fi
done
end
