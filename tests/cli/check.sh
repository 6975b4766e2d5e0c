#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# tipcrest check from outside: standard output, standard error and exit status of good and bad calls.
# All data is invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

cat >set.yaml <<'END'
tipcrest: 1
title: Small drill (invented)
eyes:
  - side: left
    lashes: {survey: small.csv}
    map:
      - {to: 0.5, length_mm: 10, curl: C}
      - {to: 1, length_mm: 11, curl: C}
opening: 0.8
viewer_deg: 12.5
END
small_survey small.csv

# shellcheck disable=SC2317 # holds calls it
is_json() { # FILE: begins and ends as a whole report does
    [ "$(head -n 1 "$1")" = '{' ] && [ "$(tail -n 1 "$1")" = '}' ]
}

# holds CLAIM COMMAND...: the command finds it true.
holds() {
    claim=$1
    shift
    if "$@"; then ok "$claim"; else not_ok "$claim" "false: $*"; fi
}

# ---- Help and version

good --help
contains '--help shows how to call' "$(cat out)" 'usage: tipcrest COMMAND'
contains '--help lists check' "$(cat out)" 'check     evaluates a set, eye open'
cp out help.txt
good help
equal 'help is --help' "$(cat out)" "$(cat help.txt)"
good -h
equal '-h is --help' "$(cat out)" "$(cat help.txt)"
good help check
contains 'help check shows its options' "$(cat out)" '--against LINE'
cp out help-check.txt
good check --help
equal 'check --help is help check' "$(cat out)" "$(cat help-check.txt)"
good check -h
equal 'check -h is help check' "$(cat out)" "$(cat help-check.txt)"
good --version
version=$(sed -n 's/^#define TCR_VERSION "\(.*\)"$/\1/p' "$TIPCREST_SOURCE/include/tipcrest/version.h")
equal '--version names the version of the header' "$(cat out)" "tipcrest $version"
for page in help.txt help-check.txt; do
    equal "$page is at most 80 columns wide" "$(grep -c '.\{81\}' "$page")" 0
done

# ---- Calls that do their work

good check set.yaml
contains 'the table begins with a verdict' "$(head -n 1 out)" ' of 13 tips stick out'
contains 'the table names title, eye and view' "$(cat out)" \
    'Small drill (invented), left eye: eye 80 % open, from 12.5° above'
contains 'the table counts lashes' "$(cat out)" '13 of 13 lashes carry extensions'
contains 'the table ends with cautions' "$(tail -n 1 out)" 'local rules go first'
cp out table.txt
good check --json a.json set.yaml --csv a.csv
equal 'the table is the same beside files' "$(cat out)" "$(cat table.txt)"
holds 'the JSON report is whole' is_json a.json
equal 'the CSV report has a row for each lash and one of names' "$(wc -l <a.csv)" 14
equal 'the CSV report names its columns' "$(head -n 1 a.csv)" \
    'side,id,layer,u,condition,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,ext_spread_deg,root_x_mm,root_y_mm,root_z_mm,tip_x_mm,tip_y_mm,tip_z_mm,line_mm,deviation_mm,across_mm,staggered'
good check set.yaml --json -
equal '--json - prints the report and nothing else' "$(cat out)" "$(cat a.json)"
good check set.yaml --csv - --json b.json
equal '--csv - prints the report and nothing else' "$(cat out)" "$(cat a.csv)"
equal 'a second run gives the same bytes' "$(cat b.json)" "$(cat a.json)"
digest=$(cat set.yaml small.csv | sha256sum | cut -d ' ' -f 1)
equal 'the digest is that of the set file and its survey' "$(member input_digest a.json)" \
    "\"sha256:$digest\""
equal 'the view is the set file'"'"'s' "$(member opening a.json) $(member viewer_deg a.json)" '0.8 12.5'
good check set.yaml --json c.json --viewer -30
equal '--viewer changes the viewer alone' "$(member opening c.json) $(member viewer_deg c.json)" \
    '0.8 -30'
good check set.yaml --json c.json --opening=0
equal '--opening changes the opening alone' "$(member opening c.json) $(member viewer_deg c.json)" \
    '0 12.5'
good check set.yaml --json c.json --against intended
equal '--against intended is reported' "$(member against c.json)" '"intended"'
contains '--against intended is in the table' "$(cat out)" "rms: a tip's typical distance from the map's line; "
good check --ag fitted --js c.json -- set.yaml
equal 'options may be cut short, and -- ends them' "$(cat c.json)" "$(cat a.json)"
status=0
POSIXLY_CORRECT=1 "$TIPCREST" check set.yaml --json d.json >out 2>err || status=$?
equal 'options may follow the set where POSIXLY_CORRECT is set' "$status $(cat d.json)" "0 $(cat a.json)"
cp set.yaml ./-dash.yaml
good check -- -dash.yaml
good check ./-dash.yaml
mkdir elsewhere
(cd elsewhere && "$TIPCREST" check ../set.yaml --json - >../out 2>../err)
equal 'surveys are found beside the set file, not in the working folder' "$(cat out)" "$(cat a.json)"
mkfifo pipe
timeout 1200 cat pipe >from-pipe &
good check set.yaml --json pipe
wait
equal 'a pipe is written through' "$(cat from-pipe)" "$(cat a.json)"
holds 'and stays a pipe' test -p pipe
good check set.yaml --csv - --decimal comma
equal '--decimal comma writes decimal commas and semicolons' "$(tr ',;' '.,' <out)" "$(cat a.csv)"
good check set.yaml --csv - --digits 17
cp out all.csv
good check set.yaml --csv - --digits 3 --decimal point
holds 'six digits are neither three nor all' test "$(cat a.csv)" != "$(cat out)" -a "$(cat a.csv)" != "$(cat all.csv)"
equal 'three digits are three' "$(grep -c '[1-9]\.[0-9]\{3\}' out) $(grep -c '[1-9]\.[0-9]\{3\}' a.csv)" '0 13'
ln -s a.json link.json
good check set.yaml --json link.json --against intended
equal 'a link is followed and stays' "$(readlink link.json) $(member against a.json)" 'a.json "intended"'
good check set.yaml --json /dev/null --csv /dev/null

# ---- How near the viewer stands

good check set.yaml --json seen.json --seen-from 1000
# model.md, section 6: 1000 mm make a tolerance of 0.87 mm; closed form, 1000 tan 3'.
equal '--seen-from makes the tolerance' "$(member tolerance_mm seen.json | cut -c 1-6 | sort -u)" 0.8726
contains 'and the verdict says so, to a hundredth' "$(head -n 1 out)" ' within 0.87 mm; '
{ cat set.yaml; echo 'line: {seen_from_mm: 1000}'; } >seen.yaml
good check seen.yaml --json from-set.json
equal 'as seen_from_mm of the set does' "$(sed '/digest/d' from-set.json)" "$(sed '/digest/d' seen.json)"
good check seen.yaml --json near.json --seen-from 60
equal 'and --seen-from wins over it' "$(member tolerance_mm near.json | cut -c 1-6 | sort -u)" 0.0523
good check set.yaml --full --seen-from 60
contains 'what sticks out lies beyond the same number' "$(cat out)" 'more than 0.052 mm off the fitted line'

# ---- Calls that are wrong

wrong 'a command is missing; '"$TIPCREST"' --help lists them'
wrong 'there is no command "chek"; perhaps check was meant' chek set.yaml
wrong 'there is no command "quux"; '"$TIPCREST"' --help lists them' quux
wrong 'a command comes first, not "--json"; '"$TIPCREST"' --help lists them' --json x check set.yaml
wrong '--help takes no argument; "check" is one too many' --help check
wrong '--version takes no argument; "now" is one too many' --version now
wrong 'there is no command "chekc"; perhaps check was meant' help chekc
wrong 'help takes one command, and "more" is one too many' help check more
bad 'a set file is missing: '"$TIPCREST"' check SET' check
bad 'a set file is missing: '"$TIPCREST"' check SET' check ''
bad 'a set is read from a file, not from standard input, because surveys lie beside it' check -
bad 'one set file is enough; "b.yaml" is one too many' why set.yaml b.yaml
bad 'one set file is enough; "b.yaml" is one too many' why set.yaml -- b.yaml
bad 'the name of the set file is empty; leave it out, or give one' check set.yaml ''
bad 'a set is read from a file, not from standard input, because surveys lie beside it' check set.yaml -
bad 'there is no option "--jsno"; perhaps --json was meant' check set.yaml --jsno x
bad 'there is no option "--pitcure=x.png"; perhaps --picture was meant' check set.yaml --pitcure=x.png
bad 'there is no option "--quux"; '"$TIPCREST"' help check lists them' check set.yaml --quux
bad 'there is no option "-x"; '"$TIPCREST"' help check lists them' check set.yaml -x
bad '--help takes no value' check --help=now
bad '--json needs a value; '"$TIPCREST"' help check says which' check set.yaml --json
bad '--json has an empty value; '"$TIPCREST"' help check says what it needs' check set.yaml --json ''
bad '--json is given twice' check set.yaml --json x.json --json y.json
bad '--opening is given twice' check set.yaml --opening 1 --opening 1
bad '--opening is "wide", but must be a number from 0 to 1' check set.yaml --opening wide
bad '--opening is 2, but must be from 0 to 1' check set.yaml --opening 2
bad '--opening is -0.1, but must be from 0 to 1' check set.yaml --opening -0.1
bad '--opening is "0,5", but needs a decimal point: 0.5' check set.yaml --opening 0,5
bad '--opening is "0.5x", but must be a number from 0 to 1' check set.yaml --opening 0.5x
bad '--opening is " 1", but must be a number from 0 to 1' check set.yaml --opening ' 1'
bad '--opening is "nan", but must be a number from 0 to 1' check set.yaml --opening nan
bad '--opening is "0x1", but must be a number from 0 to 1' check set.yaml --opening 0x1
bad '--viewer is 80.5, but must be from -80 to 80 degrees' check set.yaml --viewer 80.5
bad '--viewer is "1e999", but must be a number from -80 to 80 degrees' check set.yaml --viewer 1e999
bad '--viewer is "30deg", but must be a number from -80 to 80 degrees' check set.yaml --viewer 30deg
bad '--against is "line"; it is fitted or intended' check set.yaml --against line
bad '--picture is "out.jpg"; the name of the file must end in .png, .svg or .pdf' check set.yaml --picture out.jpg
bad '--picture is "-"; the name of the file must end in .png, .svg or .pdf' check set.yaml --picture -
bad '--decimal is "dot"; it is point or comma' check set.yaml --decimal dot
bad '--seen-from is 59, but must be from 60 to 5700 mm' check set.yaml --seen-from 59
bad '--digits is 18, but must be from 1 to 17' check set.yaml --digits 18
bad 'only one of --json and --csv can go to standard output; give the other a file' \
    check set.yaml --json - --csv -
bad 'there is no option "--\x1b[31mred"; '"$TIPCREST"' help check lists them' check "$(printf -- '--\033[31mred')"
equal 'a wrong call is told on one line' "$(wc -l <err)" 1

# Two names of one file.
cp set.yaml before.yaml
cp small.csv before.csv
ln set.yaml hard.yaml
same='are the same file; give the output a name of its own'
wrong "the output ./x.json and the output x.json $same" check set.yaml --json x.json --csv ./x.json
wrong "the output set.yaml and the input set.yaml $same" check set.yaml --json set.yaml
wrong "the output hard.yaml and the input set.yaml $same" check set.yaml --json hard.yaml
wrong "the output elsewhere/../small.csv and the input small.csv $same" \
    check set.yaml --csv elsewhere/../small.csv
equal 'the inputs are as they were' "$(cat set.yaml small.csv)" "$(cat before.yaml before.csv)"
status=0
# shellcheck disable=SC2094 # that is the point
"$TIPCREST" check set.yaml --json same.json >same.json 2>err || status=$?
equal 'the table and a file cannot go to one place' "$status $(cat err)" \
    "2 tipcrest: the output same.json and standard output $same"
holds 'a refused call writes nothing' test ! -e x.json

# ---- Work that fails

fails 'nowhere.yaml: cannot be opened: there is no such file' check nowhere.yaml
refused='cannot be opened for writing'
fails "nowhere/x.json: $refused: there is no such folder" check set.yaml --json nowhere/x.json
fails "elsewhere: $refused: it is a folder; give the name of a file" check set.yaml --json elsewhere
echo old >old.json
fails '/dev/full: cannot be written: the disk is full' check set.yaml --json old.json --csv /dev/full
equal 'where one output fails the other stays as it was' "$(cat old.json)" old
status=0
"$TIPCREST" check set.yaml --json new.json >/dev/full 2>err || status=$?
equal 'a full standard output is told' "$status $(cat err)" \
    '1 tipcrest: standard output: cannot be written: the disk is full'
holds 'and the file is in place: the table is printed last' is_json new.json
status=0
"$TIPCREST" check set.yaml --json - >/dev/full 2>err || status=$?
equal 'a report on a full standard output is told' "$status $(cat err)" \
    '1 tipcrest: standard output: cannot be written: the disk is full'
rm new.json
status=0
"$TIPCREST" check set.yaml --json new.json >&- 2>err || status=$?
equal 'a closed standard output is told' "$status $(cat err)" \
    '1 tipcrest: standard output: cannot be written: it is not open for writing'
equal 'and no file takes its place' "$(cat new.json)" "$(cat b.json)"
status=0
"$TIPCREST" check set.yaml --json closed.json <&- >out 2>&- || status=$?
equal 'closed standard input and error change nothing' "$status $(cat closed.json)" "0 $(cat b.json)"
# shellcheck disable=SC2030,SC2031
{
    (trap '' PIPE && while echo; do :; done) 2>/dev/null # until the reader has gone
    status=0
    "$TIPCREST" check set.yaml 2>err || status=$?
    echo "$status" >status
} | true
equal 'a reader that has gone is told' "$(cat status) $(cat err)" \
    '1 tipcrest: standard output: cannot be written: whoever reads it has stopped'
(
    ulimit -f 1
    status=0
    "$TIPCREST" check set.yaml --json old.json >out 2>err || status=$?
    echo "$status" >status
)
equal 'a file that may not grow is told' "$(cat status) $(cat err)" \
    '1 tipcrest: old.json: cannot be written: it would be larger than is allowed'
equal 'and the old one stays' "$(cat old.json)" old
for folder in . elsewhere; do
    equal "nothing is left behind in $folder" "$(find "$folder" -maxdepth 1 -name '.tipcrest-*')" ''
done

# ---- Weight

# weight: the lines of the last table that tell of it, blanks made one.
weight() { joined | sed -n 's/.*\(Weight.*\) \(Beyond the limits\|Assumed:\).*/\1/p'; }
{
    echo id,u,layer,length_mm,root_diameter_mm,ext_length_mm
    echo usual,0.5,bottom,7.5,0.08,12
    echo bare,0.6,bottom,3,0.02,none # would sink most, but carries nothing
    echo short,0.7,bottom,7.5,0.08,8
} >weight.csv
cat >weight.yaml <<'END'
tipcrest: 1
eyes:
  - {side: left, lashes: {survey: weight.csv}, map: [{to: 1, length_mm: 12, curl: C}]}
END
good check weight.yaml --full
# Source: model.md, section 9: C 12 mm, 0.15 mm thick, on the default lash sinks by 0.004 mm, three
# times that in a blink, by 0.04 mm at k = 1000; bounds are rounded up, the last digits are the
# command's own.
equal 'the lash that sinks most is named' "$(weight | sed 's/0\.04[0-9]/0.04/')" \
    'Weight: the tip of usual sinks most, by 0.004 mm with its root held rigidly, which is assumed. No tip moves by more than 0.006 with a root 0.01 mm thinner, than 0.011 in a blink (size only, assumed), than 0.04 where its follicle gives way (a what-if: 1000 µN·mm/rad). All other figures leave this out.'
good check weight.yaml
equal 'by how little weight moves the tips is in the short form' "$(weight | sed 's/0\.04[0-9]/0.04/')" \
    'Weight moves no tip by more than 0.004 mm; if roots are thin 0.006, in a blink 0.011, if follicles give way (1000 µN·mm/rad) 0.04; no limit known'
sed 's/usual,0.5,bottom,7.5,0.08,12/usual,0.5,bottom,7.5,0.02,12/' weight.csv >thin.csv
sed 's/weight.csv/thin.csv/' weight.yaml >thin.yaml
good check thin.yaml
contains 'and in the short form' "$(weight)" ', size only; no limit known'
good check thin.yaml --full
contains 'where linear theory does not hold is said' "$(weight)" \
    "Linear theory does not hold for 1 of 2 lashes: a droop is a twentieth of the extension's length or more, and tells the size alone."

# ---- Beyond the limits that plan assumes

# limits: the lines of the last table that tell, blanks made one.
limits() { tr '\n' ' ' <out | tr -s ' ' | sed -n 's/.*\(Beyond the limits.*turning force\)\..*/\1/p'; }
{
    echo id,u,layer,length_mm,ext_length_mm
    for i in 1 2 3 4 5 6; do echo "a$i,0.${i}5,bottom,8,9"; done
    echo b,0.8,bottom,8,13 # 5 mm longer: at the limit
    echo c,0.9,bottom,8,14 # 6 mm longer: beyond it
} >loads.csv
cat >loads.yaml <<'END'
tipcrest: 1
layering: {diameter_mm: 0.03}
eyes:
  - {side: left, lashes: {survey: loads.csv}, map: [{to: 1, length_mm: 9, curl: C}]}
END
good check loads.yaml --full
# 0.03 mm are too thin to be heavy; lengths: closed form.
equal 'one of eight is too long by the limits of plan' "$(limits)" \
    'Beyond the limits that plan assumes: 1 of 8; 1 more than 5 mm longer than the lash, 0 over 10 times its mass, 0 over 20 times its turning force'
echo 'plan: {overlength_mm: 0.5, mass_ratio: 0.1, moment_ratio: 1}' >>loads.yaml
good check loads.yaml --full
# All are longer by more than 0.5 mm; 0.03 mm to a mean square of 0.05 mm make a third and more.
equal 'limits of the set file count' "$(limits)" \
    'Beyond the limits that plan assumes: 8 of 8; 8 more than 0.5 mm longer than the lash, 8 over 0.1 times its mass, 8 over 1 times its turning force'

# ---- Natural lashes that are longer than their extensions reach

printf 'id,u,layer,length_mm\n%s\n' 'a,0.2,bottom,8
b,0.4,bottom,7.5
c,0.6,bottom,6.5
d,0.8,bottom,6.5' >beyond.csv
cat >beyond.yaml <<'END'
tipcrest: 1
eyes:
  - {side: left, lashes: {survey: beyond.csv}, map: [{to: 1, length_mm: 6, curl: C}]}
END
good check beyond.yaml
# Closed form: the extensions end at 0.7 + 6 mm along the lash, so a of 8 mm goes on for 1.3 mm.
contains 'lashes that show beyond their extensions are told' "$(joined)" \
    '2 natural lashes end beyond the extension, by at most 1.30 mm; figures are of extensions'
good check set.yaml
equal 'and only where there are any' "$(joined | grep -c 'end beyond')" 0

# ---- Layers as the larger part of what is uneven

head=$TIPCREST_SOURCE/examples/practice-head
good check "$head/equal.yaml" --csv heads.csv
# The means of the layers' distances, squared and weighed by their lashes, over all distances squared.
share=$(awk -F , 'NR == 1 { for (i = 1; i <= NF; i++) column[$i] = i; next }
    $column["deviation_mm"] != "" {
        layer = $column["layer"]; off = $column["deviation_mm"]
        n[layer]++; sum[layer] += off; whole += off * off }
    END { for (layer in n) part += sum[layer] * sum[layer] / n[layer]; print int(100 * part / whole) }' heads.csv)
contains 'layers that make most of it are told with their share, and where to ask' "$(joined)" \
    "The layers make $share % of it (mean square): see tipcrest why first."
good check "$head/layered.yaml"
equal 'and only there' "$(joined | grep -c 'The layers make')" 0
# In the place of the worst lashes, where there is none for both.
"$TIPCREST" begin -o upside.yaml --lengths 9,10,10,9 --layers 10/11/12 >/dev/null
good check upside.yaml
contains 'also where extensions are beyond limits' "$(joined)" ' are beyond the limits that plan assumes of a lash: --full.'
equal 'of each eye' "$(joined | grep -o 'The layers make [0-9]* %' | wc -l)" 2
equal 'the worst is named all the same' "$(grep -c '^  Sticking out: n[0-9]* ' out)" 2
contains 'on one line where there is no room' "$(grep '^  Sticking out: n[0-9]* by -[0-9.]* mm, and [0-9]* more' out)" \
    ' more, none worse: --full'
contains 'a study draws others of lashes that are described' "$(joined)" '(study --runs draws others)'
"$TIPCREST" begin -o rows.yaml --eyes left --survey rows.csv >/dev/null
good check rows.yaml
contains 'and varies those that stand in rows' "$(joined)" '(study --runs varies it)'
good check "$head/equal.yaml" --seen-from 5000
contains 'nor of a set that is even' "$(head -n 1 out)$(joined | grep -c 'The layers make')" 'tick out0'

# ---- Pictures

lacking=$(no_pictures)
if [ -z "$lacking" ]; then
    good check set.yaml --picture p.png
    equal 'a picture is a PNG' "$(head -c 8 p.png | od -An -tx1)" ' 89 50 4e 47 0d 0a 1a 0a'
elif [ "$lacking" = 'no font found' ]; then
    skip 'a picture is a PNG' "$lacking"
else
    fails 'this tipcrest was built without pictures; leave out --picture, or build it with cairo' \
        check set.yaml --picture p.png
fi

cd /
rm -rf "$work"
finish
