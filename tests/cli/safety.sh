#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, some words from room.sh
# What interface.md promises under "Limits and safety" of what goes out, from outside: outputs are
# told apart, appear together or not at all, and old files stay whole when descriptors, disks,
# permissions or memory fail; a locale changes no byte. Messages are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/room.sh"

# ---- Outputs differ from inputs and from each other ----------------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 >a.csv
ln set.yaml hard.yaml
ln -s a.csv soft.csv
ln -s . here
mkdir below
cat set.yaml a.csv >before
same='are the same file; give the output a name of its own'
for command in check why step; do
    for name in set.yaml ./set.yaml hard.yaml here/set.yaml below/../set.yaml "$PWD/set.yaml"; do
        ends 2 "$command --json $name would write over the set" \
            "the output $name and the input set.yaml $same" "$command" set.yaml --json "$name"
    done
    for name in a.csv soft.csv here/a.csv; do
        ends 2 "$command --json $name would write over the survey" \
            "the output $name and the input a.csv $same" "$command" set.yaml --json "$name"
    done
done
ln -s new.json to-new.json
: >old.json
ln old.json old-hard.json
ln -s old.json old-soft.json
for pair in 'x x' 'x ./x' './x x' 'x here/x' 'x below/../x' "x $PWD/x" 'old.json old-hard.json' \
    'old-soft.json old.json' 'old-hard.json old-soft.json'; do
    one=${pair%% *} other=${pair#* }
    ends 2 "check cannot write $one and $other" "the output $other and the output $one $same" \
        check set.yaml --json "$one" --csv "$other"
done
ends 1 'an output that is a link to nothing is refused' \
    'to-new.json: cannot be opened for writing: its links lead nowhere' \
    check set.yaml --json to-new.json
equal 'what was refused left the inputs alone' "$(cat set.yaml a.csv)" "$(cat before)"
equal 'and nothing new' "$(names)" \
    'a.csv before below hard.yaml here old-hard.json old-soft.json old.json set.yaml soft.csv to-new.json '
if [ -z "$lacking" ]; then
    ln -s set.yaml set.png
    cp a.csv a.svg
    set_with a.svg >svg.yaml
    ends 2 'draw cannot write over its set' "the output set.png and the input set.yaml $same" \
        draw set.yaml --view front -o set.png
    ends 2 'nor over its survey' "the output a.svg and the input a.svg $same" \
        draw svg.yaml --view front -o a.svg
    ends 2 'nor over the set that it compares with' \
        "the output set.png and the input set.yaml $same" \
        draw svg.yaml --view compare --with set.yaml -o set.png
    ends 2 'check cannot write its picture and its CSV to one file' \
        "the output ./p.png and the output p.png $same" \
        check set.yaml --csv p.png --picture ./p.png
else
    skip 'draw cannot write over its set' "$lacking"
fi

# Devices may be shared, pipes may not: what goes through one pipe cannot be told apart.
good 'two reports may go to one device' check set.yaml --json /dev/null --csv /dev/null
status=0
"$TIPCREST" check set.yaml --json /dev/null >/dev/null 2>"$said/err" || status=$?
equal 'and the table to the same one' "$status $(cat "$said/err")" '0 '
mkfifo pipe
timeout 1200 cat pipe >from-pipe &
ends 2 'two reports cannot go to one pipe' "the output ./pipe and the output pipe $same" \
    check set.yaml --json pipe --csv ./pipe
wait
equal 'nothing came through it' "$(wc -c <from-pipe)" 0
# A report and the table, or two reports, on one standard output.
status=$({ { "$TIPCREST" check set.yaml --json /dev/stdout 2>"$said/err"; echo $? >&3; } |
    cat >"$said/out"; } 3>&1)
equal 'a report cannot go where the table goes' \
    "$status $(wc -c <"$said/out") $(cat "$said/err")" \
    "2 0 tipcrest: the output /dev/stdout and standard output $same"
status=$({ { "$TIPCREST" check set.yaml --json - --csv /dev/stdout 2>"$said/err"; echo $? >&3; } |
    cat >"$said/out"; } 3>&1)
equal 'nor two reports there by two names' \
    "$status $(wc -c <"$said/out") $(cat "$said/err")" \
    "2 0 tipcrest: the output /dev/stdout and standard output $same"

# ---- All outputs are prepared before any is put in place -----------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 >a.csv
echo old >old.json
ends 1 'a second output that cannot be opened leaves the first as it was' \
    'none/x.csv: cannot be opened for writing: there is no such folder' \
    check set.yaml --json old.json --csv none/x.csv
equal 'nothing was written' "$(names)$(cat old.json)" 'a.csv old.json set.yaml old'
ends 1 'a second output that is full leaves the first as it was' \
    '/dev/full: cannot be written: the disk is full' \
    check set.yaml --json old.json --csv /dev/full
ends 1 'and in the other order' '/dev/full: cannot be written: the disk is full' \
    check set.yaml --json /dev/full --csv old.json
equal 'nothing was written then either' "$(names)$(cat old.json)" 'a.csv old.json set.yaml old'
if [ -z "$lacking" ]; then
    mkdir film-03.png
    ends 1 'a film of which one frame cannot be written' \
        'film-03.png: cannot be opened for writing: it is a folder; give the name of a file' \
        draw set.yaml --view film --frames 3 --dpi 20 -o film.png
    equal 'leaves no frame' "$(names)" 'a.csv film-03.png old.json set.yaml '
else
    skip 'a film of which one frame cannot be written' "$lacking"
fi

# ---- Locale --------------------------------------------------------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 | sed 's/,8$/,8.25/' >a.csv
comma=
for name in $(locale -a 2>/dev/null | grep -i '^\(de\|fr\|es\|nl\|pl\|pt\)_[A-Z]*\.utf-*8$'); do
    [ "$(LC_ALL=$name locale decimal_point 2>/dev/null)" != , ] || comma=$name
done
locales=
if [ -z "$comma" ] && mkdir "$work/locales" &&
    localedef -c -i de_DE -f UTF-8 "$work/locales/de_DE.UTF-8" >/dev/null 2>&1; then
    locales=$work/locales comma=de_DE.UTF-8
fi
# in_commas COMMAND...: with decimal commas in its environment.
in_commas() { env ${locales:+"LOCPATH=$locales"} LC_ALL="$comma" LANG="$comma" "$@"; }
if [ -n "$comma" ] && [ "$(in_commas locale decimal_point)" = , ]; then
    for command in check why step; do
        "$TIPCREST" $command set.yaml --json plain.json >plain.txt
        in_commas "$TIPCREST" $command set.yaml --json comma.json >comma.txt
        equal "$command: decimal commas change no byte" "$(cksum <comma.json)$(cksum <comma.txt)" \
            "$(cksum <plain.json)$(cksum <plain.txt)"
    done
    equal 'begin: decimal commas change no byte' \
        "$(in_commas "$TIPCREST" begin -o - --lengths 9.5,12 | cksum)" \
        "$("$TIPCREST" begin -o - --lengths 9.5,12 | cksum)"
    if [ -z "$lacking" ]; then
        "$TIPCREST" draw set.yaml --view deviations -o plain.svg
        in_commas "$TIPCREST" draw set.yaml --view deviations -o comma.svg
        equal 'draw: decimal commas change no byte' "$(cksum <comma.svg)" "$(cksum <plain.svg)"
    fi
else
    skip 'decimal commas change no byte' 'no such locale, nor a localedef that makes one'
fi

# ---- Closed descriptors --------------------------------------------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 >a.csv
"$TIPCREST" check set.yaml --json plain.json >plain.txt
status=0
"$TIPCREST" check set.yaml --json x.json >x.txt <&- 2>&- || status=$?
equal 'without standard input and error all is done' \
    "$status $(cksum <x.json)$(cksum <x.txt)" "0 $(cksum <plain.json)$(cksum <plain.txt)"
status=0
"$TIPCREST" check set.yaml --json x.json <&- >&- 2>&- || status=$?
equal 'without any the report is whole, and the table that is lost is a failure' \
    "$status $(cksum <x.json)" "1 $(cksum <plain.json)"
closed='standard output: cannot be written: it is not open for writing'
for call in '--help' '--version' 'help check' 'begin --help' 'check set.yaml' 'why set.yaml' \
    'step set.yaml' 'check set.yaml --json -' 'check set.yaml --csv -' 'begin -o -'; do
    status=0
    # shellcheck disable=SC2086 # words
    "$TIPCREST" $call >&- 2>"$said/err" || status=$?
    equal "tipcrest $call: a closed standard output is told" "$status $(cat "$said/err")" \
        "1 tipcrest: $closed"
    status=0
    # shellcheck disable=SC2086
    "$TIPCREST" $call >/dev/full 2>"$said/err" || status=$?
    equal "tipcrest $call: a full one too" "$status $(cat "$said/err")" \
        '1 tipcrest: standard output: cannot be written: the disk is full'
done
status=0
"$TIPCREST" check none.yaml 2>&- || status=$?
equal 'a failure without standard error still has its status' "$status" 1
status=0
"$TIPCREST" check none.yaml 2>/dev/full || status=$?
equal 'and with a full one' "$status" 1
# The first descriptor that is free must not become a file of ours.
rm -f x.json
"$TIPCREST" check set.yaml --json x.json >&- 2>"$said/err" || :
equal 'no message and no table gets into a file' "$(cksum <x.json)" "$(cksum <plain.json)"

# ---- Disks ---------------------------------------------------------------------------------------

fresh
set_with a.csv >set.yaml
rows 2000 >a.csv
echo old >old.json
for limit in 0 1 100; do # blocks of 512 bytes or 1 kB; the report has more than 500 kB
    status=0
    (
        ulimit -f "$limit" || exit 77
        # A shell that may write no file could not keep what is said.
        "$TIPCREST" check set.yaml --json old.json 2>&1 | cat >/dev/null
    ) || status=$?
    equal "a limit of $limit blocks leaves the old report, alone" "$(names)$(cat old.json)" \
        'a.csv old.json set.yaml old'
done
(
    ulimit -f 1
    "$TIPCREST" begin -o begun.yaml 2>&1 | cat >&3
) 3>"$said/err"
equal 'begin says so too, and leaves nothing' "$(cat "$said/err") $(names)" \
    'tipcrest: begun.yaml: cannot be written: it would be larger than is allowed a.csv old.json set.yaml '

# A disk of 64 kB of its own, seen by nobody else.
mkdir disk
cat >fill.sh <<'END'
mount -t tmpfs -o size=64k tipcrest-test disk || exit 77
echo old >disk/old.json
status=0
"$TIPCREST" check set.yaml --json disk/old.json --csv disk/new.csv 2>&1 >/dev/null || status=$?
echo "$status $(ls -A disk) $(cat disk/old.json)"
head -c 100000 /dev/zero >disk/filler 2>/dev/null
status=0
"$TIPCREST" begin -o disk/my.yaml --survey disk/my.csv 2>&1 >/dev/null || status=$?
echo "$status $(ls -A disk | tr '\n' ' ')"
END
maps=
[ "$(id -u)" -eq 0 ] || maps=-r
# shellcheck disable=SC2086
if TIPCREST=$TIPCREST unshare -m $maps sh fill.sh >"$said/out" 2>/dev/null; then
    equal 'a full disk is told, and old files stay' "$(cat "$said/out")" \
        "tipcrest: disk/old.json: cannot be written: the disk is full
1 old.json old
tipcrest: disk/my.yaml: cannot be written: the disk is full
1 filler old.json "
else
    skip 'a full disk is told, and old files stay' 'no small disk can be mounted here'
fi

# ---- Permissions ---------------------------------------------------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 >a.csv
umask 027
good 'check writes a new file' check set.yaml --json new.json
equal 'a new file has what the umask leaves' "$(stat -c %a new.json)" 640
umask 077
for mode in 604 666 640 755; do
    chmod "$mode" new.json
    run check set.yaml --json new.json --opening 0
    equal "a replaced file keeps its mode $mode" "$status $(stat -c %a new.json)" "0 $mode"
done
run begin -o begun.yaml
equal 'what begin writes has what the umask leaves' "$(stat -c %a begun.yaml)" 600
umask 022

# Root may do everything, so root lets nobody try.
as_nobody=
if [ "$(id -u)" -eq 0 ]; then
    as_nobody='setpriv --reuid 65534 --regid 65534 --clear-groups'
    $as_nobody "$TIPCREST" --version >/dev/null 2>&1 || as_nobody=none
fi
if [ "$as_nobody" = none ]; then
    skip 'a folder that is read-only' 'run by root, and nobody else can start the command'
else
    chmod 755 "$work" .
    chmod 777 "$said"
    mkdir closed open
    cp set.yaml a.csv closed
    echo old >closed/old.json
    chmod 644 closed/*
    [ "$(id -u)" -ne 0 ] || chown -R 65534:65534 closed open
    chmod 555 closed
    # nobody ARGUMENT...: run by a user for whom permissions hold.
    nobody() {
        status=0
        # shellcheck disable=SC2086 # a command and its arguments
        $as_nobody "$TIPCREST" "$@" >"$said/out" 2>"$said/err" </dev/null || status=$?
    }
    denied='cannot be opened for writing: permission denied'
    nobody check closed/set.yaml
    equal 'a set in a read-only folder is read' "$status $(cat "$said/err")" '0 '
    nobody check closed/set.yaml --json closed/new.json
    equal 'a new file in a read-only folder is refused' "$status $(cat "$said/err")" \
        "1 tipcrest: closed/new.json: $denied"
    nobody check closed/set.yaml --json closed/old.json
    equal 'an old one is refused too' "$status $(cat "$said/err")" \
        "1 tipcrest: closed/old.json: $denied"
    echo old >open/old.json
    chmod 666 open/old.json
    nobody check closed/set.yaml --json open/old.json --csv closed/new.csv
    equal 'and the output beside it stays as it was' \
        "$status $(cat open/old.json closed/old.json)$(cd open && names)$(cd closed && names)" \
        '1 old
oldold.json a.csv old.json set.yaml '
    chmod 755 closed
    chmod 444 closed/old.json
    nobody check closed/set.yaml --json closed/old.json
    equal 'a read-only file is not replaced' "$status $(cat "$said/err")$(cat closed/old.json)" \
        "1 tipcrest: closed/old.json: ${denied}old"
    chmod 000 closed/a.csv
    nobody check closed/set.yaml
    equal 'a survey that may not be read is told' "$status $(cat "$said/err")" \
        '1 tipcrest: closed/set.yaml:4:22: survey "a.csv" cannot be opened: there is no permission to read it'
    chmod 000 closed/set.yaml
    nobody check closed/set.yaml
    equal 'a set file that may not be read is told' "$status $(cat "$said/err")" \
        '1 tipcrest: closed/set.yaml: cannot be opened: there is no permission to read it'
fi

# ---- Devices and pipes are written through -------------------------------------------------------

fresh
set_with a.csv >set.yaml
rows 30 >a.csv
"$TIPCREST" check set.yaml --json plain.json --csv plain.csv >/dev/null
mkfifo one two
timeout 1200 cat one >from-one &
timeout 1200 cat two >from-two &
good 'two pipes are written to' check set.yaml --json one --csv two
wait
equal 'each gets its report' "$(cksum <from-one)$(cksum <from-two)" \
    "$(cksum <plain.json)$(cksum <plain.csv)"
ln -s one link
timeout 1200 cat one >from-link &
good 'a link to a pipe is written through' check set.yaml --json link
wait
equal 'it gets the report too' "$(cksum <from-link)" "$(cksum <plain.json)"
equal 'pipes stay pipes, and the link a link' \
    "$(stat -c %F one two link | tr '\n' ' ')" 'fifo fifo symbolic link '
good 'a device is written to' check set.yaml --json /dev/null
equal 'and stays a device' "$(stat -c %F /dev/null)" 'character special file'
timeout 1200 cat one >from-begin &
good 'begin writes to a pipe' begin -o one
wait
equal 'and the pipe gets the set file' "$(cksum <from-begin)" \
    "$("$TIPCREST" begin -o - | cksum)"

# ---- The libraries keep to themselves ------------------------------------------------------------

# wanted_by ARCHIVE PATTERN: the objects that use a function of the C library, in one line.
wanted_by() {
    nm -A "$1" 2>/dev/null | LC_ALL=C grep " U \($2\)\(@.*\)\{0,1\}\$" |
        sed 's/^[^:]*:[^:]*_la-\([a-z_]*\)\.o:.* U \([a-z_]*\).*$/\1:\2/' | LC_ALL=C sort -u |
        tr '\n' ' '
}
allocation='malloc\|calloc\|realloc\|free\|reallocarray\|strdup\|strndup\|asprintf\|aligned_alloc\|posix_memalign\|open_memstream\|getline'
manners='printf\|puts\|putchar\|fprintf\|fputs\|perror\|exit\|_exit\|abort\|setlocale\|signal\|sigaction\|strtod\|atof\|setenv\|chdir\|umask\|stdout\|stderr'
for part in core file; do
    archive=$TIPCREST_BUILD/.libs/libtcr-$part.a
    [ -e "$archive" ] || archive=$TIPCREST_BUILD/.libs/libtcr-$part.al
    if [ ! -e "$archive" ] || ! nm "$archive" >/dev/null 2>&1; then
        skip "what lib$part takes from the C library" 'no archive, or no nm'
        continue
    fi
    # The allocator that is used where the embedder gives none, and nothing else.
    allowed=
    [ $part != core ] || allowed='memory:free memory:realloc '
    equal "$part: memory comes through the allocator alone" \
        "$(wanted_by "$archive" "$allocation")" "$allowed"
    equal "$part: nothing is printed, ended or set for the whole process" \
        "$(wanted_by "$archive" "$manners")" ''
done

# ---- Drawing without memory ----------------------------------------------------------------------

# short FILE ARGUMENT...: under limits on its addresses, in steps from 20 MB on, the command draws FILE
# as it does without a limit, or fails with the usual message, and leaves an older file whole and
# nothing beside it. Where there is no memory for the shared libraries, the loader ends it.
short() {
    file=$1
    shift
    rm -f a* b*
    "$TIPCREST" "$@" >"$said/out"
    whole=$(cksum <"$file") failed=0 done=0 broken='' limit=20000
    while [ "$limit" -le 1200000 ]; do # kB; drawing asks for 512 MB beside what the process has
        rm -f a* b*
        cp set.yaml "$file"
        status=0
        # shellcheck disable=SC3045 # where there is no -v nothing fails, and the claim below tells
        (ulimit -c 0 && ulimit -v "$limit" 2>/dev/null && exec "$TIPCREST" "$@") \
            >"$said/out" 2>"$said/err" </dev/null || status=$?
        case $status,$(cat "$said/err") in
        0,) found=whole done=$((done + 1)) ;;
        1,"tipcrest: $file: there is not enough memory") found=old failed=$((failed + 1)) ;;
        127,*'while loading shared libraries'*) found=old ;;
        *) found="$status $(head -n 1 "$said/err")" ;;
        esac
        case $found,$(cksum <"$file") in
        "whole,$whole" | "old,$old") ;;
        *) broken="$broken $limit: $found" ;;
        esac
        [ -z "$(find . -name '.tipcrest-*')" ] || broken="$broken $limit: a temporary file"
        if [ "$limit" -lt 64000 ]; then limit=$((limit + 2000)); else limit=$((limit + limit / 5)); fi
    done
    equal "$*, without memory: the usual message, old files whole, nothing beside them" "$broken" ''
    if [ "$failed" -gt 20 ] && [ "$done" -gt 0 ]; then
        ok "$*: failed $failed times without memory, and was done $done times with more"
    else
        not_ok "$*: failed without memory, and was done with more" \
            "failed $failed times, done $done times"
    fi
}

if [ -n "$lacking" ] || [ "${TIPCREST_SANITIZED-no}" = yes ]; then
    skip 'drawing without memory leaves old files whole' "${lacking:-sanitisers in the way}"
else
    fresh
    described | sed 's/count: 24/count: 60/' >set.yaml
    old=$(cksum <set.yaml)
    short a.png draw set.yaml --view front --dpi 60 -o a.png
    short a.svg draw set.yaml --view side -o a.svg
    short a.gif draw set.yaml --view film --frames 2 --dpi 40 -o a.gif
    short b.pdf check set.yaml --json a.json --picture b.pdf
    short b.pdf plan set.yaml --samples 0 --json a.json --sheet b.pdf
fi

leave
