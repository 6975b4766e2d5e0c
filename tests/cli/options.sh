#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# Help, parser and manual against each other, for every option of every command: what a help page says
# of an option is read from it and tried. No range, word or default is written down here.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

cat >set.yaml <<'END'
tipcrest: 1
title: Small drill (invented)
eyes:
  - side: left
    lashes: {survey: small.csv}
    map: [{to: 0.5, length_mm: 10, curl: C}, {to: 1, length_mm: 11, curl: C}]
  - side: right
    lashes: {survey: small.csv}
    map: [{to: 0.5, length_mm: 10, curl: C}, {to: 1, length_mm: 11, curl: C}]
END
small_survey small.csv

draws=yes
[ -z "$(no_pictures)" ] || draws=no

# ---- The table, as the help pages show it --------------------------------------------------------

# page COMMAND: a line for each option: name, value or "-", what it does, with tabs between.
page() {
    "$TIPCREST" help "$1" | awk '
        function flush() { if (name != "") print name "\t" value "\t" text; name = "" }
        /^  -/ {
            flush()
            name = $1
            value = substr($0, 4 + length(name), 18 - length(name))
            sub(/ *$/, "", value)
            if (value == "") value = "-"
            if (sub(/\[=.*/, "", name)) value = substr($1, length(name) + 1) # --free[=MM]
            text = substr($0, 23)
            next
        }
        /^                      / && name != "" { text = text " " substr($0, 23); next }
        { flush() }
        END { flush() }'
}

commands=$("$TIPCREST" --help | sed -n 's/^  \([a-z]*\)   .*/\1/p')
for on in $commands; do
    page "$on" | sed "s/^/$on	/"
done >table

# range TEXT: the ends of a range, "LEAST MOST UNIT"; nothing for other options.
range() {
    echo "$1" | sed -n 's/.*(\(-\{0,1\}[0-9.]*\) to \([0-9.]*\)\( [a-z]*\)\{0,1\}[,;)].*/\1 \2\3/p'
}

# words TEXT: the words that an option takes, in one line; nothing for other options.
words() {
    echo "$1" | sed -n 's/.*(\([^()]*\))$/\1/p' | sed 's/; default.*//' | grep ' or ' |
        grep -v '[0-9] to \|^ends in' | sed 's/, / /g; s/ or / /'
}

# standard TEXT: the default.
standard() { echo "$1" | sed -n 's/.*default: \([^()]*\))$/\1/p'; }

equal 'the commands, and as many options as there are at least' \
    "$(echo "$commands" | tr '\n' ' ')$(($(wc -l <table) > 55))" 'begin check draw why step plan study 1'

# ---- The manual ----------------------------------------------------------------------------------

manual=$TIPCREST_SOURCE/cli/tipcrest.1
if [ $draws = no ]; then
    skip 'the manual has the options of the help pages' 'there are no pictures'
elif difference=$(sh "$TIPCREST_SOURCE/build-aux/manual.sh" "$TIPCREST" "$manual" |
    diff -u "$manual" -); then
    ok 'the manual has the options of the help pages'
else
    not_ok 'the manual has the options of the help pages; make manual renews it' "$difference"
fi
while IFS='	' read -r on option value text; do
    section=$(sed -n '/^\.\\" options of '"$on"'$/,/^\.\\" end$/p' "$manual" | sed 's/[\\]//g')
    contains "the manual has $on $option" "$section" " $option"
    contains "the usage of $on has $option" \
        "$("$TIPCREST" help "$on" | sed -n '1,/^$/p' | tr -s '\n ' '  ')" "$option"
done <table

# ---- Calls ---------------------------------------------------------------------------------------

# around COMMAND OPTION: the words with which the option is taken, with a set and a folder that are not
# there: such a call passes the parser, and then its work fails.
around() {
    around=nowhere.yaml
    case "$1 $2" in
    begin*) around= ;;
    'draw --at') around="$around --view side" ;;
    'draw --from-head') around="$around --view artist" ;;
    'draw --with') around="$around --view compare" ;;
    'draw --frames') around="$around --view film" ;;
    'draw --view') ;;
    draw*) around="$around --view front" ;;
    esac
    case "$1 $2" in
    'begin -o' | 'draw -o') ;;
    begin*) around="$around -o nowhere/a.yaml" ;;
    draw*) around="$around -o nowhere/a.png" ;;
    'plan --longest') around="$around --look cat" ;;
    *' --width' | *' --dpi') around="$around --picture nowhere/a.png" ;;
    esac
    # A wide PNG has fewer points an inch.
    [ "$2" != --width ] || around="$around --dpi 10"
}

# call COMMAND OPTION VALUE: runs it.
call() {
    around "$1" "$2"
    # shellcheck disable=SC2086 # words
    case $2 in
    --*) run "$1" $around "$2=$3" ;;
    *) run "$1" $around "$2" "$3" ;;
    esac
}

# ---- Numbers, at both ends of their ranges and just beyond ---------------------------------------

# beyond LEAST MOST NUMBERS: the numbers next to both, as near as matters; whole ones or any.
beyond() {
    if [ "$3" = whole ]; then
        echo $(($1 - 1)) $(($2 + 1))
    else
        LC_ALL=C awk -v a="$1" -v b="$2" 'BEGIN { printf "%.14g %.14g\n", a - 1e-9, b + 1e-9 }'
    fi
}

while IFS='	' read -r on option value text; do
    found=$(range "$text")
    [ -n "$found" ] || continue
    case $draws$option in no--width | no--dpi) continue ;; esac
    read -r least most unit <<END
$found
END
    tail="$least to $most${unit:+ $unit}"
    case $text in *', or all;'*) tail="$tail, or all" ;; esac
    verb=is it=", but" ends="$least $most" numbers=any
    case $value in
    B/M/T) ends="$least/$least/$least $most/$most/$most" verb=has it="; each" ;;
    *,...) verb=has it="; each" ;;
    esac
    call "$on" "$option" many
    ! grep -q 'a whole number' err || numbers=whole
    read -r below above <<END
$(beyond "$least" "$most" $numbers)
END
    for end in $ends; do
        call "$on" "$option" "$end"
        # begin refuses more than a range can say, such as layers below the tray, in other words.
        equal "$on $option $end is taken" "$(grep -c 'must be' err)" 0
    done
    for end in "$below" "$above"; do
        call "$on" "$option" "$end"
        equal "$on $option $end is refused" "$status $(cat err)" \
            "2 tipcrest $on: $option $verb $end$it must be from $tail"
    done
    a='a number'
    [ $numbers = any ] || a='a whole number'
    for end in many nan 1e999 0x1; do
        call "$on" "$option" $end
        equal "$on $option $end is refused" "$status $(cat err)" \
            "2 tipcrest $on: $option $verb \"$end\"$it must be $a from $tail"
    done
done <table

# ---- Words ---------------------------------------------------------------------------------------

while IFS='	' read -r on option value text; do
    [ -n "$(words "$text")" ] || continue
    for word in $(words "$text"); do
        call "$on" "$option" "$word"
        # A view may ask for more options, but it is known.
        equal "$on $option $word is known" "$(grep -c -e "$option \(is\|has\) " err)" 0
    done
    call "$on" "$option" nothing-such
    equal "$on $option nothing-such is refused" \
        "$status $(grep -c "^tipcrest $on: $option \(is\|has\) \"nothing-such\"; " err)" '2 1'
done <table

# ---- Any option ----------------------------------------------------------------------------------

while IFS='	' read -r on option value text; do
    set_file=set.yaml
    [ "$on" != begin ] || set_file=
    # shellcheck disable=SC2086 # words
    if [ "$value" = - ]; then
        run "$on" $set_file "$option=1"
        equal "$on $option=1 is refused" "$status $(cat err)" "2 tipcrest $on: $option takes no value"
        run "$on" $set_file "$option" "$option"
        equal "$on $option twice is refused" "$status $(cat err)" \
            "2 tipcrest $on: $option is given twice"
    elif [ "${value#\[}" != "$value" ]; then # the value may be left out
        run "$on" $set_file "$option"
        equal "$on $option without a value is taken" "$(grep "$option" err)" ''
        run "$on" $set_file "$option" "$option=1"
        equal "$on $option twice is refused" "$status $(cat err)" \
            "2 tipcrest $on: $option is given twice"
    else
        run "$on" $set_file "$option"
        equal "$on $option without a value is refused" "$status $(sed 's/;.*//' err)" \
            "2 tipcrest $on: $option needs a value"
        run "$on" $set_file "$option" --help
        contains "$on $option with another option for a value is refused" "$status $(cat err)" \
            "2 tipcrest $on: $option needs a value, and \"--help\" looks like an option; "
        run "$on" $set_file "$option" 1 "$option" 1
        said="2 tipcrest $on: $option is given twice"
        case "$value|$text" in
        'DIR...|'* | *'once for each'*)
            equal "$on $option may be given again" "$(grep -c 'given twice' err)" 0
            ;;
        *) equal "$on $option twice is refused" "$status $(cat err)" "$said" ;;
        esac
    fi
done <table
run check set.yaml --json --dark
equal 'no file is named by mistake' "$status $(find . -name '--*')" '2 '
run check set.yaml --json=--dark
equal 'a file is named so with =' "$status $(find . -name '--*')" '0 ./--dark'
run check set.yaml --json ./-d
equal 'and with ./' "$status $(find . -name '-d')" '0 ./-d'

# ---- Defaults: where they are given they change nothing ------------------------------------------

# same COMMAND OPTION VALUE ARGUMENT...: the call writes the same with the option and without it.
same() {
    on=$1 option=$2 value=$3
    shift 3
    rm -rf result && mkdir result
    run "$on" "$@"
    before="$status $(find result -type f -exec cat {} + | cat - out | cksum) $(find result | wc -l)"
    rm -rf result && mkdir result
    run "$on" "$@" "$option" "$value"
    equal "$on $option $value is the default" \
        "$status $(find result -type f -exec cat {} + | cat - out | cksum) $(find result | wc -l)" "$before"
}

tried=0
while IFS='	' read -r on option value text; do
    default=$(standard "$text" | sed 's/, common practice$//')
    case " $(words "$text") " in
    *" ${default:-none} "*) ;;
    *) echo "$default" | grep -q '^[0-9.][0-9.]*$' || continue ;;
    esac
    case $draws$on$option in nodraw* | no*--width | no*--dpi) continue ;; esac
    case "$on $option" in
    begin*) set -- -o - ;;
    'draw --at') set -- set.yaml --view side -o result/a.png --dpi 40 ;;
    'draw --from-head') set -- set.yaml --view artist -o result/a.png --dpi 40 ;;
    'draw --frames') set -- set.yaml --view film -o result/a.png --dpi 10 ;;
    draw*) set -- set.yaml --view front -o result/a.png ;;
    *' --width' | *' --dpi') set -- set.yaml --picture result/a.png ;;
    *) set -- set.yaml --json - ;;
    esac
    same "$on" "$option" "$default" "$@"
    tried=$((tried + 1))
done <table
[ $draws = no ] || equal 'there are defaults that are numbers or words' "$((tried >= 15))" 1

cd /
rm -rf "$work"
finish
