# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# Sourced by examples/first-set.sh, tests/run.sh and .ci/run, in the root of the source tree: builds
# tipcrest in a folder of its own, and does nothing twice.

root=$(pwd -P)

# Libtool and make take a blank in a path for its end. If the tree lies below such a path, enter it
# through a link in the user's cache whose name has none; it is kept, so that the build stays good.
enter_by_plain_name() {
    case $root in
    *[!A-Za-z0-9_/.,+:@%=~-]*) ;;
    *) return ;;
    esac
    links=${XDG_CACHE_HOME:-${HOME-}/.cache}/tipcrest
    case $links in
    /.cache/* | *[!A-Za-z0-9_/.,+:@%=~-]*) links=$(mktemp -d) || return ;;
    esac
    link=$links/$(printf %s "$root" | cksum | tr ' ' -)
    if [ "$(cd "$link" 2>/dev/null && pwd -P)" != "$root" ]; then
        mkdir -p "$links" && rm -f "$link" && ln -s "$root" "$link" || return
    fi
    cd "$link" || return
}
enter_by_plain_name || exit 1

# in_folder FOLDER COMMAND...: 'make -C' would not do, for it forgets by which name we came.
in_folder() (
    cd "$1" && shift && "$@"
)

# Configure and libtool are shell scripts, and libtool runs for each file: dash takes less than half of
# bash's time.
quick_shell=$(command -v dash || echo sh)

# quietly LOG COMMAND...: runs it with its output in LOG, the end of which is shown if it fails.
quietly() {
    log=$1
    shift
    if ! "$@" >"$log" 2>&1 </dev/null; then
        tail -n 60 "$log" >&2
        echo "failed: $* (all of it in $log)" >&2
        return 1
    fi
}

# no_run WHY: ends a script of tests that cannot run, as one failed.
no_run() {
    echo "$1"
    echo '0 passed, 1 failed'
    exit 1
}

# files_to_compile FOLDER TARGET: how many, 0 where make does not tell.
files_to_compile() {
    in_folder "$1" make -n "$2" 2>/dev/null </dev/null | grep -c 'echo "  CC  ' || :
}

# tell_compiled TOTAL: of the lines of make on standard input tells now and then how far it is.
tell_compiled() {
    compiled=0
    while read -r line; do
        case $line in
        CC\ *) ;;
        *) continue ;;
        esac
        compiled=$((compiled + 1))
        [ $((compiled % 40)) -ne 0 ] || echo "  $compiled of $1 files compiled"
    done
}

# make_telling FOLDER TARGET...: makes them, tells how far it is, and shows the end of the log if it fails.
make_telling() {
    folder=$1
    shift
    total=$(files_to_compile "$folder" "$1")
    rm -f "$folder/make.status"
    {
        in_folder "$folder" make -j2 "$@" </dev/null 2>&1
        echo $? >"$folder/make.status"
    } | tee "$folder/make.log" | tell_compiled "$total"
    [ "$(cat "$folder/make.status")" != 0 ] || return 0
    tail -n 60 "$folder/make.log" >&2
    echo "failed: make $* (all of it in $folder/make.log)" >&2
    return 1
}

# The way from folder $1 back to the root, relative so that messages name short paths.
way_back() {
    case $1 in
    /*) pwd ;;
    *) echo "$1" | sed 's,//*,/,g; s,/$,,; s,[^/][^/]*,..,g' ;;
    esac
}

# empty_dependencies FOLDER: puts there, empty so far, the files in which make notes what includes what.
# Configure would start four processes for each.
empty_dependencies() {
    # shellcheck disable=SC2016 # make's words
    sed -n 's/^@AMDEP_TRUE@.*@am__quote@\(.*\)\$(DEPDIR)\(.*\)@am__quote@.*/\1.deps\2/p' Makefile.in |
        while read -r file; do
            [ -d "$1/${file%/*}" ] || mkdir -p "$1/${file%/*}" || return
            [ -e "$1/$file" ] || echo '# dummy' >"$1/$file"
        done
}

# quicken_libtool FOLDER: puts quick-libtool.sh into the libtool that configure has made there.
quicken_libtool() {
    if ! grep -q 'quick-libtool' "$1/libtool"; then
        sed -i '/^# ### END LIBTOOL CONFIG/r build-aux/quick-libtool.sh' "$1/libtool"
    fi
}

# prepare FOLDER [CONFIGURE-ARGUMENT...]: configures in FOLDER. It starts anew when the arguments are
# other ones or the tree was moved since, for what is there would be of no use.
prepare() {
    folder=$1
    shift
    configured_with=$(pwd; printf '%s\n' "$@")
    if [ -e "$folder/configured-with" ] && [ "$configured_with" != "$(cat "$folder/configured-with")" ]; then
        rm -rf "$folder"
    fi
    mkdir -p "$folder" || return 1
    if [ ! -e configure ] || [ ! -e Makefile.in ]; then
        echo "preparing configure"
        quietly "$folder/autoreconf.log" autoreconf -i || return 1
    fi
    if [ ! -e "$folder/configured-with" ] || [ ! -e "$folder/Makefile" ]; then
        echo "configuring in $folder"
        empty_dependencies "$folder" || return 1
        quietly "$folder/configure.log" in_folder "$folder" env CONFIG_SHELL="$quick_shell" \
            "$quick_shell" "$(way_back "$folder")/configure" "$@" || return 1
        echo "$configured_with" >"$folder/configured-with"
    fi
    quicken_libtool "$folder"
}

# set_up FOLDER [CONFIGURE-ARGUMENT...]: configures and compiles in FOLDER.
set_up() {
    prepare "$@" || return 1
    echo "building in $folder"
    make_telling "$folder" all
}

# with_tests FOLDER: looks again for what the tests need, if it was not there when FOLDER was set up.
with_tests() {
    if ! grep -q '^have_tests = yes' "$1/Makefile"; then
        echo "configuring in $1 for the tests"
        quietly "$1/configure.log" in_folder "$1" sh -c './config.status --recheck && ./config.status' &&
            quicken_libtool "$1"
    fi
}
