#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# tipcrest begin from outside: what it writes is what check takes, it overwrites nothing, and it says
# what is wrong with a call. Expected messages are those of the command itself: they are the claim.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"

# bad MESSAGE ARGUMENT...: a wrong call says just this, exits with 2 and leaves no file.
bad() { refused " begin: $1" "$@"; }

# wrong MESSAGE ARGUMENT...: the same where the name of a file is to blame.
wrong() { refused ": $1" "$@"; }

# refused TEXT MESSAGE ARGUMENT...: TEXT stands behind "tipcrest".
refused() {
    message=$1
    shift 2
    run begin "$@"
    equal "begin $*: says what is wrong" "$(cat "$work/err")" "tipcrest$message"
    equal "begin $*: exits with 2, prints nothing, writes nothing" \
        "$status $(wc -c <"$work/out") $(ls -A)" '2 0 '
}

# fails MESSAGE ARGUMENT...: work that fails says just this and exits with 1.
fails() { ends 1 "$@"; }

# taken MESSAGE ARGUMENT...: the same for the name of a file that is there already, with 2.
taken() { ends 2 "$@"; }

# ends STATUS MESSAGE ARGUMENT...
ends() {
    wanted=$1 message=$2
    shift 2
    run begin "$@"
    equal "begin $*: says why" "$(cat "$work/err")" "tipcrest: $message"
    equal "begin $*: exits with $wanted and prints nothing" "$status $(wc -c <"$work/out")" \
        "$wanted 0"
}

# names FOLDER: what is in it, in one line.
names() { find "$1" -mindepth 1 -maxdepth 1 | sed 's,^.*/,,' | LC_ALL=C sort | tr '\n' ' '; }

# fresh: an empty folder to work in.
fresh() {
    cd "$work" && rm -rf room && mkdir room && cd room || exit 1
}

# checks CLAIM SET: check takes the set as it is, and its report goes to ../report.json.
checks() {
    run check "$2" --json "$work/report.json"
    equal "$1" "$status $(cat "$work/err")" '0 '
}

# begins ARGUMENT...: begin writes set.yaml by these arguments, and check takes it.
begins() {
    fresh
    run begin -o set.yaml "$@"
    equal "begin $*: exits with 0, without complaint" "$status $(cat "$work/err")" '0 '
    checks "begin $*: check takes the set" set.yaml
    equal "begin $*: no line is wider than 100 columns" "$(cat ./* | grep -c '.\{101\}')" 0
}

# sides: the eyes in the last report, in order.
sides() { sed -n 's/^   "side": "\([a-z]*\)",$/\1/p' "$work/report.json" | tr '\n' ' '; }

# cells FILE COLUMN: a column of a CSV file without quotes, by its name, comments skipped.
cells() {
    awk -F, -v name="$2" '/^#/ { next }
        !n { for (i = 1; i <= NF; i++) if ($i == name) n = i; next }
        { print $n }' "$1"
}

# known OPTION: the names that an option takes, as its message lists them.
known() {
    run begin -o never --"$1" '?'
    sed 's/^.*; it is //; s/,//g; s/ or / /' "$work/err"
}

# ---- Help

good help begin
contains 'help begin shows its options' "$(cat out)" '--layers B/M/T'
equal 'help begin is at most 80 columns wide' "$(grep -c '.\{81\}' out)" 0
cp out help.txt
good begin --help
equal 'begin --help is help begin' "$(cat out)" "$(cat help.txt)"
good --help
contains '--help lists begin' "$(cat out)" 'begin     writes a first set file'

# ---- What begin writes, check takes

begins
equal 'both eyes unless asked otherwise' "$(sides)" 'left right '
contains 'lashes that are drawn are said to be' "$(cat set.yaml)" 'THE LASHES ARE NOT MEASURED'
for eye in left right both; do
    wanted="$eye "
    [ "$eye" != both ] || wanted='left right '
    begins --eyes "$eye"
    equal "--eyes $eye: the set has them" "$(sides)" "$wanted"
    begins --eyes "$eye" --survey lashes.csv
    equal "--eyes $eye --survey: the set has them" "$(sides)" "$wanted"
    contains "--eyes $eye --survey: lashes are said to be invented" "$(cat set.yaml)" \
        'THE LASHES ARE INVENTED'
done

# The trade's names (common practice, no source).
looks=$(known look)
equal 'the looks are known by the names of the trade' "$looks" 'natural doll open cat squirrel'
for look in $looks; do
    begins --look "$look"
    begins --look "$look" --layers 9/9/9 --eyes left --survey lashes.csv
done
begins --look open --eyes left
sed '/The look/,/practice/d' set.yaml >../open.yaml
begins --look doll --eyes left
equal 'open is another name for doll' "$(sed '/The look/,/practice/d' set.yaml)" \
    "$(cat ../open.yaml)"

# The catalogue of interface and model.
curls=$(known curl)
equal 'the curls are those of the catalogue' "$curls" 'J B C CC D DD L M'
for curl in $curls; do
    begins --curl "$curl" --eyes right
    begins --curl "$curl" --eyes left --survey lashes.csv
done

begins --lengths 9,10,12,11
begins --lengths '9, 10 ,12,  11'
equal 'blanks between the lengths change nothing' \
    "$("$TIPCREST" begin -o - --lengths '9, 10 ,12,  11' | cksum)" \
    "$("$TIPCREST" begin -o - --lengths 9,10,12,11 | cksum)"
begins --lengths 9,10.5,12,11
contains 'half millimetres in the map: the tray has them' "$(cat set.yaml)" '[5, 5.5, 6,'
begins --lengths 12,11 --layers 12/11.5/11 --survey lashes.csv
contains 'half millimetres in the layers: the tray has them' "$(cat set.yaml)" '[5, 5.5, 6,'
contains 'layers half a millimetre apart: the step is half a millimetre' "$(cat set.yaml)" \
    'step_mm: 0.5 '
# Trade.md: a millimetre less for each layer up is taught with this placement.
taught='  placement: {bottom: top, middle: outer-side, top: underside}'
on_top='  placement: {bottom: top, middle: top, top: top}'
# placement: the line of the set file that is switched on.
placement() { grep '^  placement:' set.yaml; }
begins --layers 12/11/10
equal 'layers that step down by a millimetre are laid as it is taught' "$(placement)" "$taught"
contains 'and all on top is offered' "$(cat set.yaml)" "  # $on_top"
begins
equal 'so they are where the step of a millimetre is not asked for' "$(placement)" "$taught"
for layers in 12/12/12 12/11.5/11 12/10/8 12/11/9; do
    begins --layers "$layers"
    equal "layers of $layers are laid on top" "$(placement)" "$on_top"
    contains 'and what is taught is offered' "$(cat set.yaml)" "  # $taught"
done
begins --lengths 7
begins --lengths 20 --layers 20/20/20 --length 16
contains 'equal layers: no step' "$(cat set.yaml)" 'step_mm: 0 '
begins --layers 12/11/9
begins --layers 10/11/12 --lengths 9,10
# As many zones as a map may have, of 9 mm each.
begins --lengths "$(printf '9,%.0s' 1 2 3 4 5 6 7 8)$(printf '9,%.0s' $(seq 55))9"
equal '64 zones are 64 zones' "$(grep -c '^ *- {to:' set.yaml)" 128

# ---- Numbers of one's own

begins --title 'Mine: "a" # é' --count 60 --length 9 --mrd1 3 --diameter 0.1 --tray 12,8,9,10,11
for line in 'title: "Mine: \"a\" # é"' '  diameter_mm: 0.1 ' '  lengths_mm: [8, 9, 10, 11, 12]' \
    '        count: 60 ' '        length_mm: 9 ' '    lid:' '      mrd1_mm: 3 '; do
    contains 'what is given stands in the set' "$(cat set.yaml)" "$line"
done
equal 'a lid with a measure is no longer all assumed' \
    "$("$TIPCREST" check set.yaml --full | grep -c 'lid: 8 of 9 measures assumed')" 2
begins --tray 10,11,12
contains 'a tray without the lengths for 1 mm gets equal layers' "$(cat set.yaml)" 'step_mm: 0 '
begins --tray 8,8.5,9,9.5,10 --lengths 10,9
contains 'or half a millimetre' "$(cat set.yaml)" 'step_mm: 0.5 '
contains 'which it says' "$("$TIPCREST" begin -o half.yaml --tray 8,8.5,9,9.5,10 --lengths 10,9)" \
    'The tray lacks 7 mm for 1 mm less a layer, so each layer is 0.5 mm shorter.'
contains 'and that layers are equal, and zones where a look is lost' "$("$TIPCREST" begin -o flat.yaml --tray 10,11,12)" \
    'The tray lacks 6, 7, 8 and 9 mm for 1 mm less a layer, so all layers have
  equal lengths, and all zones too: nothing of the look is left.
'
contains 'zones that were given are no look' \
    "$("$TIPCREST" begin -o given.yaml --tray 10,11,12 --lengths 11,11)" ', so all layers have equal lengths.
'
contains 'and that a look has other lengths' \
    "$("$TIPCREST" begin -o cat.yaml --tray 8,9,10,11,12,13 --length 9 --look cat)" \
    'The tray lacks 5, 6 and 7 mm for 1 mm less a layer with
  the look as it is, so its zones have 10, 10, 10, 10 and 11 mm.'
contains 'also where nothing is left of the look' \
    "$("$TIPCREST" begin -o none.yaml --tray 8,9,10 --look cat)" \
    'so its zones have 10, 10, 10, 10 and 10 mm:
  nothing of the look is left.'
# By hand from looks.def: with 11 mm the shares of cat ask for 7.4, 8.3, 9.1, 10.1 and 11 mm, and the
# tray has two shorter lengths under 10 and more alone.
says=$("$TIPCREST" begin -o near.yaml --tray 8-13 --look cat)
contains 'and which zones would keep some of it' "$says" \
    'Nearest with some of it: --lengths 10,10,10,10,11'
good begin -o near-cat.yaml --tray 8-13 --lengths 10,10,10,10,11
good plan near-cat.yaml
# By hand from looks.def: with 11 mm natural asks for 9.1, 10.1, 11, 11 and 10.1 mm, and the tray has two
# shorter lengths under 10 and 11 alone.
says=$("$TIPCREST" begin -o equal.yaml --tray 8-11 --length 7.2)
contains 'where all layers become equal, the zones that keep the rule are named' "$says" \
    'so all layers have equal lengths.
Longer zones keep 1 mm less a layer: --lengths 10,10,11,11,10
'
says=$("$TIPCREST" begin -o kept.yaml --tray 8-11 --length 7.2 --lengths 10,10,11,11,10)
equal 'and they do' "$(echo "$says" | grep -c 'lacks') $(sed -n 's/.*step_mm: *\([0-9.]*\).*/\1/p' kept.yaml)" '0 1'
good begin -o unlike.yaml --mrd1 3.5 --mrd1-right 2.8
equal 'unlike eyes have a lid each' "$(sed -n 's/^ *mrd1_mm: \([0-9.]*\).*/\1/p' unlike.yaml | tr '\n' ' ')" '3.5 2.8 '
contains 'as its file says' "$(cat cat.yaml)" 'Some zones have another length than it would give'
says=$("$TIPCREST" begin -o shut.yaml --mrd1 0.35 --eyes left)
contains 'and what is doubtful about it' "$says" \
    'Doubt, left eye: mrd1 is 0.35 mm, a lid that hardly opens; in centimetres?
Its notes say'
equal 'as check says it' "$("$TIPCREST" check shut.yaml | grep -c "$(echo "$says" | grep Doubt)")" 1
# What nobody gives stays within the limits that plan assumes, but for a lash or two.
begins
equal 'nearly all lashes of the first set are within the limits' \
    "$("$TIPCREST" check set.yaml --full | grep -c 'Beyond the limits that plan assumes: [0-2] of')" 2

# ---- The lines that are switched off can be switched on, as the notes tell

begins --eyes left --curl D
cp ../report.json ../off.json
sed 's/^\( *\)# \(lid:\|  [a-z0-9_]*_\(mm\|deg\): .*\|  [a-z]*_\(s\|min\|share\|ratio\): .*\|plan:\|pace:\|curls:\|  D: .*\|subject: .*\)/\1\2/' \
    set.yaml >on.yaml
for key in lid fissure_width_mm canthal_tilt_deg mrd1_mm mrd2_mm curls subject plan overlength_mm \
    mass_ratio pace lash_s drop_min loss_share; do
    contains "$key is switched off in the file, and on in its copy" \
        "$(grep -c "^ *# *$key:" set.yaml)$(grep -c "^ *$key:" on.yaml)" 11
done
checks 'check takes the set with all of it switched on' on.yaml
# The numbers that stand there are the defaults, so tips and lines stay what they were.
figures() { grep -v 'input_digest\|"what"\|subject' "$1" | sed '/"assumptions"/,/^ \]/d'; }
equal 'what is switched on is what was assumed' "$(figures ../report.json | cksum)" \
    "$(figures ../off.json | cksum)"
run plan set.yaml --json "$work/plan-off.json"
run plan on.yaml --json "$work/plan-on.json"
planned() { sed '/"plan": {/,$!d; /"work": {/,$d' "$1"; }
equal 'and limits and paces are those that a plan takes without them' \
    "$(planned "$work/plan-on.json" | cksum) $(grep -A 8 '"pace"' "$work/plan-on.json")" \
    "$(planned "$work/plan-off.json" | cksum) $(grep -A 8 '"pace"' "$work/plan-off.json")"
equal 'with the lid switched on fewer of its measures are assumed' \
    "$("$TIPCREST" check set.yaml --full | grep 'lid:') $("$TIPCREST" check on.yaml --full | grep 'lid:')" \
    '  left lid: 9 of 9 measures assumed   left lid: 5 of 9 measures assumed'

# ---- The survey

begins --survey lashes.csv
equal 'two eyes: a survey for each, and nothing else' "$(names .)" \
    'lashes-left.csv lashes-right.csv set.yaml '
for eye in left right; do
    file=lashes-$eye.csv
    contains "$file is said to be invented" "$(head -n 1 "$file")" 'INVENTED'
    contains "$file is of its eye" "$(head -n 1 "$file")" "$eye eye"
    equal "$file has rows of all layers" "$(cells "$file" layer | sort -u | tr '\n' ' ')" \
        'bottom middle top '
    for column in $(grep -v '^#' "$file" | head -n 1 | tr , ' '); do
        equal "$file tells how to measure $column" "$(grep -c "^# $column " "$file")" 1
    done
    # Other marks would not come back from a spreadsheet as they were.
    equal "$file keeps to what a spreadsheet leaves alone" \
        "$(grep -c '^#.*[";]' "$file")$(grep -v '^#' "$file" | grep -c '[";#=+@]')" 00
done
rows=$(cells lashes-left.csv id | wc -l)
if [ "$rows" -ge 24 ] && [ "$rows" -le 60 ]; then
    ok 'a few dozen rows'
else
    not_ok 'a few dozen rows' "found: $rows"
fi
"$TIPCREST" check set.yaml --csv read.csv >/dev/null
for column in id u layer condition; do
    equal "check reads the $column of each lash as begin wrote it" "$(cells read.csv "$column")" \
        "$(cells lashes-left.csv "$column")
$(cells lashes-right.csv "$column")"
done
if cmp -s lashes-left.csv lashes-right.csv; then
    not_ok 'the two eyes have lashes of their own' 'both surveys are the same'
else
    ok 'the two eyes have lashes of their own'
fi
sed 's/^a01,[^,]*,/a01,0.5,/' lashes-left.csv >changed && mv changed lashes-left.csv
cp "$work/report.json" ../before.json
checks 'a changed survey is taken too' set.yaml
if cmp -s ../before.json "$work/report.json"; then
    not_ok 'a changed survey changes the report' 'it did not'
else
    ok 'a changed survey changes the report'
fi

begins --survey lashes.csv --eyes left
cp lashes.csv ../points.csv
sed '/"input_digest"/d' "$work/report.json" >../points.json
begins --survey lashes.csv --eyes left --decimal comma
equal 'decimal commas: the same rows, marked otherwise' \
    "$(grep -v '^#' lashes.csv | tr ';,' ',.')" "$(grep -v '^#' ../points.csv)"
contains 'decimal commas: the notes say so' "$(cat lashes.csv)" 'Use a decimal comma and no units.'
equal 'decimal commas: the report is the same' "$(sed '/"input_digest"/d' "$work/report.json")" \
    "$(cat ../points.json)"
good plan set.yaml -o planned.yaml --decimal comma
contains 'the survey of a planned set has the marks too' "$(grep -v '^#' planned-left.csv | head -n 1)" \
    'id;u;layer;length_mm'
checks 'and is read back' planned.yaml

# ---- Where the survey lies

fresh
mkdir -p sets/below
good begin -o sets/my.yaml --eyes left --survey sets/below/my.csv
contains 'the survey is named from the folder of the set file' "$(cat sets/my.yaml)" \
    'survey: below/my.csv'
checks 'a survey below the set file is found' sets/my.yaml
good begin -o "$PWD/sets/full.yaml" --eyes right --survey sets/full.csv
contains 'a survey beside it is named alone' "$(cat sets/full.yaml)" 'survey: full.csv'
checks 'a survey beside a set file with a full path is found' sets/full.yaml
ln -s sets link
good begin -o link/l.yaml --eyes left --survey sets/below/l.csv
checks 'a set file by way of a link finds its survey' link/l.yaml
odd="it's \"my\" #1: \\ {é}	½"
good begin -o odd.yaml --survey "$odd.csv"
checks 'a survey with an odd name is found' odd.yaml
equal 'its files have the name that was asked for' "$(names .)" \
    "$odd-left.csv $odd-right.csv link odd.yaml sets "
fresh
mkdir sets sets2
ln -s ../sets2 sets/out
bad_place() {
    run begin "$@"
    contains "begin $*: says that it lies elsewhere" "$(cat "$work/err")" \
        ': a survey must lie in the folder of its set file or below it; choose a name there'
    equal "begin $*: exits with 2 and leaves nothing" "$status $(find . -type f)" '2 '
}
bad_place -o sets/my.yaml --survey my.csv
bad_place -o my.yaml --survey ../my.csv
bad_place -o sets/my.yaml --survey sets2/my.csv
bad_place -o sets/my.yaml --survey sets/out/my.csv
bad_place -o my.yaml --eyes left --survey "$work/my.csv"

# ---- What to type next

fresh
mkdir bin 'a folder'
ln -s "$TIPCREST" bin/tip
run_as() { "$@" >out 2>err </dev/null || :; }
run_as bin/tip begin -o my.yaml
contains 'the command to type next is called as this one was' "$(cat out)" '  bin/tip check my.yaml'
contains 'the notes of the file have its name alone' "$(cat my.yaml)" '#   tip begin -o other.yaml'
equal 'and no note has another name for it' "$(grep -c 'tipcrest check' my.yaml)" 0
run_as bin/tip frob
contains 'and in messages' "$(cat err)" '; bin/tip --help lists them'
(PATH=$PWD/bin:$PATH && run_as tip begin -o path.yaml)
contains 'a command that is found by PATH needs no folder' "$(cat out)" '  tip check path.yaml'
ln -s "$TIPCREST" 'a folder/tip'
run_as 'a folder/tip' begin -o 'my set.yaml'
contains 'blanks are quoted' "$(cat out)" "  'a folder/tip' check 'my set.yaml'"
odd=$(printf 'a\033[31m.yaml')
run_as bin/tip begin -o "$odd"
contains 'what cannot be typed is not shown' "$(cat out)" '  bin/tip check SET'
run_as bin/tip help
contains 'help has its name alone' "$(cat out)" '  tip help COMMAND '

# Where the command lies changes neither what it writes nor how wide its help is.
long=$(printf 'folder/%.0s' 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20)
mkdir -p "$long"
ln -s "$TIPCREST" "$long/tip"
run_as "$long/tip" help
equal 'help is at most 80 columns wide wherever the command lies' "$(grep -c '.\{81\}' out)" 0
run_as "$long/tip" begin -o far.yaml
equal 'a set file is the same wherever the command lies' "$(cksum <far.yaml)" "$(cksum <my.yaml)"

# ---- Limits

fresh
good begin -o long.yaml --lengths 12,14,16,15 --length 7
"$TIPCREST" check long.yaml >"../checked"
# source: what check counts, eye by eye
equal 'how many extensions are beyond the limits of a plan is told' "$(tail -n +2 ../out | head -n 2)" \
    "$(sed -n 's/^  \([0-9]*\) of the \([0-9]*\) are beyond.*/\1 \2/p' ../checked |
        awk '{ over += $1; all += $2 } END { print "Beyond the limits that plan assumes of a lash: " over " of " all " extensions." }'
    echo '  A plan keeps to them; so may shorter or thinner ones.')"
good begin -o short.yaml
equal 'and nothing where none is' "$(grep -c beyond ../out)" 0
"$TIPCREST" check short.yaml --full >"../checked"
equal 'what begin writes stays within the limits' \
    "$(sed -n 's/^  Beyond the limits that plan assumes: \([0-9]*\) of.*/\1/p' ../checked | tr '\n' ' ')" '0 0 '
rm long.yaml short.yaml

# ---- Standard output

fresh
for name in my.yml MY.YAML; do
    good begin -o "$name" --eyes left
    rm "$name"
done
good begin -o - --lengths 9,12
equal 'begin -o - writes no file' "$(ls -A)" ''
cp ../out set.yaml
checks 'begin -o - prints the set file' set.yaml
"$TIPCREST" begin -o other.yaml --lengths 9,12 >/dev/null
equal 'begin -o - prints what -o FILE writes' "$(cksum <set.yaml)" "$(cksum <other.yaml)"
equal 'a pipe is written through' \
    "$("$TIPCREST" begin -o /dev/stdout --lengths 9,12 2>&1 | cksum)" \
    "$(cksum <set.yaml)"
if [ -c /dev/full ]; then
    fails '/dev/full: cannot be written: the disk is full' -o /dev/full
else
    skip 'a full device is told' 'no /dev/full'
fi

# ---- Nothing is overwritten, nothing half written

exists='there is a file of this name already; choose another name or folder, or move it away'
# kept CLAIM: the folder holds just FILES with their old text.
kept() {
    equal "$1" "$(names .)$(cat "$2")" "$2 mine"
}
fresh
echo mine >my.yaml
taken "my.yaml: $exists" -o my.yaml
kept 'an old set file stays as it was, alone' my.yaml
taken "my.yaml: $exists" -o my.yaml --survey lashes.csv
kept 'no survey is written beside an old set file' my.yaml
for name in lashes-left.csv lashes-right.csv; do
    fresh
    echo mine >"$name"
    taken "$name: $exists" -o my.yaml --survey lashes.csv
    kept "an old $name stays as it was, alone" "$name"
done
fresh
echo mine >lashes.csv
good begin -o my.yaml --survey lashes.csv
equal 'FILE.csv itself is not touched for two eyes' "$(cat lashes.csv)" mine
taken "lashes.csv: $exists" -o other.yaml --eyes left --survey lashes.csv
fresh
ln -s nowhere my.yaml
taken "my.yaml: $exists" -o my.yaml
equal 'a link that leads nowhere is not followed' "$(ls -A)" my.yaml
fresh
fails 'none/my.yaml: cannot be opened for writing: there is no such folder' -o none/my.yaml
fails '.: cannot be opened for writing: it is a folder; give the name of a file' -o .
fails 'none/l-left.csv: cannot be opened for writing: there is no such folder' \
    -o my.yaml --survey none/l.csv
equal 'nothing is left of what could not be written' "$(ls -A)" ''

# Root may write everywhere, so root lets nobody try.
as_nobody=
if [ "$(id -u)" -eq 0 ]; then
    as_nobody='setpriv --reuid 65534 --regid 65534 --clear-groups'
    $as_nobody "$TIPCREST" --version >/dev/null 2>&1 || as_nobody=none
fi
if [ "$as_nobody" = none ]; then
    skip 'a folder that is read-only' 'run by root, and nobody else can start the command'
else
    fresh
    chmod 755 "$work"
    mkdir open closed
    chmod 777 open
    chmod 555 closed
    status=0
    # shellcheck disable=SC2086 # a command and its arguments
    $as_nobody "$TIPCREST" begin -o closed/my.yaml 2>err || status=$?
    equal 'a folder that is read-only is told' "$status $(cat err)" \
        '1 tipcrest: closed/my.yaml: cannot be opened for writing: permission denied'
    mkdir open/closed
    chmod 555 open/closed
    status=0
    # shellcheck disable=SC2086
    $as_nobody "$TIPCREST" begin -o open/my.yaml --survey open/closed/my.csv 2>err || status=$?
    equal 'where the survey cannot be written the set file is not either' \
        "$status $(names open)$(names open/closed)" '1 closed '
fi

# Two at once: one of them wins with a whole file, the other is refused.
fresh
"$TIPCREST" begin -o my.yaml --eyes left >/dev/null 2>&1 &
"$TIPCREST" begin -o my.yaml --eyes left >/dev/null 2>&1 || :
wait
"$TIPCREST" begin -o alone.yaml --eyes left >/dev/null
equal 'two at once leave one whole file' "$(names .)$(cksum <my.yaml)" \
    "alone.yaml my.yaml $(cksum <alone.yaml)"

# ---- Calls that are wrong

fresh
length='each must be a number from 5 to 20 mm'
range='each must be from 5 to 20 mm'
tray='lengths are whole or half millimetres from 5 to 20'
bad '-o SET is missing; '"$TIPCREST"' help begin says what it is'
bad '--mrd1-right is for two eyes; of one eye mrd1 is the number' -o one.yaml --eyes left --mrd1-right 3
bad '-o needs a value; '"$TIPCREST"' help begin says which' -o
bad '-o has an empty value; '"$TIPCREST"' help begin says what it needs' -o ''
bad '-o is given twice' -o x.yaml -o y.yaml
bad '--look is given twice' --look cat -o x.yaml --look cat
bad '"y" is no option; '"$TIPCREST"' help begin lists them' -o x.yaml y
bad '"y" is no option; '"$TIPCREST"' help begin lists them' -o x.yaml -- y
bad '"y" is no option; to write that file, put -o in front of it' y
blank='put the whole value in quotes, or leave out its blanks'
bad "\"10\" is no option; if it belongs to the value of --lengths, $blank" \
    -o x.yaml --lengths 9 10 12
bad "\"10,\" is no option; if it belongs to the value of --lengths, $blank" \
    -o x.yaml --lengths 9, 10, 12
bad 'there is no option "--o"; perhaps -o was meant' --o x.yaml
for dash in – — −; do
    bad "\"${dash}lengths\" begins with a long dash; write it with two hyphens, --lengths" \
        -o x.yaml "${dash}lengths" 9
done
few='--lengths: in a zone of 5 mm the middle layer would get 4 mm, less than any of the tray; give that zone at least 7 mm, or layers that differ less; commas separate the lengths, so write half a millimetre with a point: 9.5'
bad "$few" -o x.yaml --lengths 9,5,10
bad "$few" -o x.yaml --lengths 10,9,5
bad 'there is no option "--lenght"; perhaps --length was meant' -o x.yaml --lenght 9
bad 'there is no option "--frob"; '"$TIPCREST"' help begin lists them' -o x.yaml --frob
bad '--layers is "12,11,10"; separate its values by /: 12/11/10' -o x.yaml --layers 12,11,10
bad 'there is no option "-z"; '"$TIPCREST"' help begin lists them' -z
bad '--help takes no value' --help=9
bad "--lengths has \"\"; $length" -o x.yaml --lengths 9,,10
bad "--lengths has \"\"; $length" -o x.yaml --lengths 9,10,
bad "--lengths has \"nine\"; $length" -o x.yaml --lengths nine
commas='separate its values by commas, with a point in a number:'
bad '--lengths is "9;10"; separate its values by commas: 9,10' -o x.yaml --lengths '9;10'
bad '--lengths is "8/9/10"; separate its values by commas: 8,9,10' -o x.yaml --lengths 8/9/10
bad '--lengths is "8 9 10"; separate its values by commas: 8,9,10' -o x.yaml --lengths '8 9 10'
bad '--layers is "12-11-10"; separate its values by /: 12/11/10' -o x.yaml --layers 12-11-10
bad "--lengths is \"9,5; 10\"; $commas 9.5, 10" -o x.yaml --lengths '9,5; 10'
bad "--lengths has \"9;ten\"; $length" -o x.yaml --lengths '9;ten'
bad "--lengths has \"nan\"; $length" -o x.yaml --lengths nan
bad "--lengths has \"1e999\"; $length" -o x.yaml --lengths 9,1e999
bad '--lengths has more than 64 values' -o x.yaml \
    --lengths "$(printf '9,%.0s' $(seq 64))9"
bad "--lengths has 9.3; $tray" -o x.yaml --lengths 9.3
bad "--lengths has 4; $range" -o x.yaml --lengths 12,4
bad "--lengths has 21; $range" -o x.yaml --lengths 21
bad "--lengths has -9; $range" -o x.yaml --lengths -9
bad '--lengths: in a zone of 6 mm the top layer would get 4 mm, less than any of the tray; give that zone at least 7 mm, or layers that differ less' \
    -o x.yaml --lengths 9,6
bad '--lengths: in a zone of 9.5 mm the top layer would get 4.5 mm, less than any of the tray; give that zone at least 10 mm, or layers that differ less' \
    -o x.yaml --lengths 20,9.5 --layers 20/20/15
bad '--layers: in a zone of 5 mm the middle layer would get 4 mm, less than any of the tray; give the zones (lengths), each at least 7 mm, or layers that differ less' \
    -o x.yaml --look cat --layers 7/6/5
few='and fewer than 12 are too few to judge; give more lashes (count) or longer ones (length)'
bad "--count: of 10 lashes of the left eye only 7 can carry an extension, $few" -o x.yaml --count 10
bad "--length: of 96 lashes of the left eye only 0 can carry an extension, $few" -o x.yaml --length 2
carry='fewer than 12 lashes of an eye carry these lengths within the limits that plan assumes; give shorter lengths, a smaller diameter, more lashes (count) or longer ones than 7.5 mm (length)'
bad "--lengths: with 0.12 mm thick, $carry" -o x.yaml --lengths 16
bad "--look: with 0.3 mm thick, $carry" -o x.yaml --diameter 0.3
bad '--lengths has 9.5, which the tray lacks; it has 8, 9, 10' -o x.yaml --tray 8,9,10 --lengths 9.5
bad '--tray has 9 twice; give each length once' -o x.yaml --tray 9,8,9
bad "--title: it must be UTF-8 on one line" -o x.yaml --title "$(printf 'a\nb')"
for option in count length; do
    wrong "$option is for lashes that are described; those of a survey stand in its rows" \
        -o x.yaml --survey x.csv --$option 20
done
bad '--layers is "12/11"; it is B/M/T, 3 values' -o x.yaml --layers 12/11
bad '--layers has more than 3 values' -o x.yaml --layers 12/11/10/9
bad "--layers has 11.7; $tray" -o x.yaml --layers 12/11.7/11
bad '--layers begins with 11, but the longest zone has 12; the first of layers is the bottom layer of that zone' \
    -o x.yaml --lengths 9,12 --layers 11/10/9
bad '--look and --lengths both give the map; leave one of them out' -o x.yaml --look cat --lengths 9,10
bad '--look is "catt"; perhaps cat was meant' -o x.yaml --look catt
bad '--curl is "c"; perhaps C was meant' -o x.yaml --curl c
bad '--curl is "Q"; it is J, B, C, CC, D, DD, L or M' -o x.yaml --curl Q
bad '--eyes is "three"; it is both, left or right' -o x.yaml --eyes three
wrong 'lashes: a survey needs a name that ends in .csv, such as lashes.csv' -o x.yaml --survey lashes
ending='a set file needs a name that ends in .yaml, such as my.yaml'
for name in my.txt my my.csv my.yaml.txt .yaml sub/.yml my.json; do
    wrong "$name: $ending" -o "$name"
done
wrong '.csv: a survey needs a name that ends in .csv, such as lashes.csv' -o x.yaml --survey .csv
wrong 'a survey lies beside its set file, so the set file cannot go to standard output; give it a name' \
    -o - --survey lashes.csv
run begin -o x.yaml --survey "$(printf 'l\377.csv')"
equal 'a survey with a name that is not UTF-8: refused' "$status $(cat "$work/err")$(ls -A)" \
    '2 tipcrest: survey: the name of a file must be UTF-8 to stand in a set file'

# ---- The conversation

# converse ANSWERS ARGUMENT...: begin on a terminal; ANSWERS is a line for each question.
find_python pty termios
if ! has_terminal; then
    skip 'a conversation' "$no_terminal"
    cd / && rm -rf "$work"
    finish
fi
converse() {
    answers=$1
    shift
    printf '%s' "$answers" | "$python" "$TIPCREST_SOURCE/tests/cli/converse.py" "$TIPCREST" begin "$@" \
        >"$work/out" 2>"$work/err"
}

fresh
converse '








' -o my.yaml
equal 'nine questions, and Enter for each, is done' "$(grep -c '\]: $' "$work/out") $(tail -n 1 "$work/out")" \
    '9 exit status 0, 0 answers left'
"$TIPCREST" begin -o same.yaml </dev/null >/dev/null
equal 'and writes what no question would' "$(cksum <my.yaml)" "$(cksum <same.yaml)"
contains 'each default is shown' "$(cat "$work/out")" "The map: natural, doll or open, cat, squirrel, or each zone's length, mm [natural]:"

fresh
converse 'Mine
left
9
3,2
many
60
9
8-12
9,5;10;11
9;10;11
cc
CC
0,1
' -o my.yaml
shown=$(cat "$work/out")
for told in '  mrd1 is 9, but must be from 0 to 8 mm' '  count needs a number, not "many"' \
    '  lengths has 9.5, which the tray lacks; it has 8, 9, 10, 11, 12' \
    '  curl "cc" is not known; did you mean CC? One of J, B, C, CC, D, DD, L, M'; do
    contains 'a wrong answer gets a message' "$shown" "$told"
done
equal 'and asked again' "$(grep -c '\]: $' "$work/out") $(tail -n 1 "$work/out")" \
    '13 exit status 0, 0 answers left'
"$TIPCREST" begin -o same.yaml --title Mine --eyes left --mrd1 3.2 --count 60 --length 9 \
    --tray 8,9,10,11,12 --lengths 9,10,11 --curl CC --diameter 0.1 >/dev/null
equal 'the answers do what the options do' "$(cksum <my.yaml)" "$(cksum <same.yaml)"
checks 'check takes the set' my.yaml
good plan my.yaml

fresh
converse "$(printf '%03000d' 0)
Mine








" -o my.yaml
contains 'a line of 3000 bytes is no answer' "$(cat "$work/out")" \
    '  title is too long; it may have at most 1023 bytes'
equal 'and is one line, behind which comes the next' "$(grep -c '\]: $' "$work/out") $(tail -n 1 "$work/out")" \
    '10 exit status 0, 0 answers left'
contains 'that is taken' "$(cat my.yaml)" 'title: "Mine"'

for end in '\x03:exit status -2' '\x04:exit status 1'; do
    fresh
    converse "Mine
left
${end%%:*}
" -o my.yaml
    equal "an end by ${end%%:*} leaves nothing" "$(tail -n 1 "$work/out" | cut -d, -f1)$(ls -A)" "${end#*:}"
done
contains 'the end of input has a message' "$(cat "$work/out")" \
    'tipcrest: the input ended before the last answer; nothing is written'

fresh
converse 'Mine\x04\x04
' -o my.yaml
equal 'input that ends in the middle of a line leaves nothing either' \
    "$(tail -n 1 "$work/out" | cut -d, -f1)$(ls -A)" 'exit status 1'
contains 'for want of the next answer' "$(cat "$work/out")" \
    'tipcrest: the input ended before the last answer; nothing is written'

fresh
echo mine >there.yaml
converse '' -o there.yaml
equal 'a file that is there is told before the first question' \
    "$(grep -c '\]: $' "$work/out") $(cat there.yaml) $(tail -n 1 "$work/out")" '0 mine exit status 2, 0 answers left'
converse '' -o my.yaml --curl D
equal 'an option, and nothing is asked' "$(grep -c '\]: $' "$work/out") $(tail -n 1 "$work/out")" \
    '0 exit status 0, 0 answers left'

cd / && rm -rf "$work"
finish
