# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=bash
# Completion of tipcrest for bash. Made by build-aux/completion.sh from the table of options.

_tipcrest() {
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD - 1]}
    local command=${COMP_WORDS[1]-} options="" words="" list="" file=""
    local at=$COMP_CWORD
    # The other program has no subcommand.
    if [ "${COMP_WORDS[0]##*/}" = tipcrest-study-mpi ]; then
        command=study
        at=$((at + 1))
    fi
    COMPREPLY=()
    if [ "$at" -eq 1 ]; then
        words="begin check draw why step plan study help --help --version"
        mapfile -t COMPREPLY < <(compgen -W "$words" -- "$cur")
        return
    fi
    case $command in
    help)
        words="begin check draw why step plan study"
        ;;
    begin)
        options="-o --lengths --look --layers --curl --eyes --diameter --tray --title --count --length --mrd1 --mrd1-right --survey --decimal --help"
        case $prev in
        --look) words="natural doll open cat squirrel" ;;
        --curl) words="J B C CC D DD L M" ;;
        --eyes) words="both left right" ;;
        --decimal) words="point comma" ;;
        -o | --survey) file=yes ;;
        --lengths | --layers | --diameter | --tray | --title | --count | --length | --mrd1 | --mrd1-right) return ;;
        *) file="" ;;
        esac
        ;;
    check)
        options="--full --json --csv --reports --decimal --digits --picture --width --dpi --dark --opening --viewer --against --seen-from --help"
        case $prev in
        --decimal) words="point comma" ;;
        --against) words="fitted intended" ;;
        --json | --csv | --reports | --picture) file=yes ;;
        --digits | --width | --dpi | --opening | --viewer | --seen-from) return ;;
        *) file=yes ;;
        esac
        ;;
    draw)
        options="--view -o --width --dpi --dark --opening --viewer --against --seen-from --eye --from-head --plain --at --with --frames --apart --help"
        case $prev in
        --view) words="front artist side deviations layers compare film why lesson" ;;
        --against) words="fitted intended" ;;
        --eye) words="left right" ;;
        -o | --with) file=yes ;;
        --width | --dpi | --opening | --viewer | --seen-from | --at | --frames | --apart) return ;;
        *) file=yes ;;
        esac
        ;;
    why)
        options="--full --json --csv --decimal --digits --picture --width --dpi --dark --opening --viewer --against --help"
        case $prev in
        --decimal) words="point comma" ;;
        --against) words="fitted intended" ;;
        --json | --csv | --picture) file=yes ;;
        --digits | --width | --dpi | --opening | --viewer) return ;;
        *) file=yes ;;
        esac
        ;;
    step)
        options="--full --json --csv --decimal --digits --picture --width --dpi --dark --curl --length --eye --apart --help"
        case $prev in
        --decimal) words="point comma" ;;
        --eye) words="left right" ;;
        --json | --csv | --picture) file=yes ;;
        --digits | --width | --dpi | --curl | --length | --apart) return ;;
        *) file=yes ;;
        esac
        ;;
    plan)
        options="-o --sheet --sheet-zones --full --json --csv --decimal --digits --look --longest --share --least --free --each-eye --most-lengths --zone-step --curls --placements --same-placement --diameters --fans --overlength --corrections --samples --time-limit --help"
        case $prev in
        --decimal) words="point comma" ;;
        --look) words="natural doll open cat squirrel" ;;
        --least) words="rms max" ;;
        --placements) words="top underside inner-side outer-side" list=, ;;
        --corrections) words="all" ;;
        -o | --sheet | --sheet-zones | --json | --csv) file=yes ;;
        --digits | --longest | --share | --most-lengths | --zone-step | --curls | --diameters | --fans | --overlength | --samples | --time-limit) return ;;
        *) file=yes ;;
        esac
        ;;
    study)
        options="--decimal --width --dpi --dark --vary --output --design --indices --points --scramblings --runs --seed --best --of --goal --alike -o --all --no-chart --resume --part --join --dry-run --threads --picture --help"
        case $prev in
        --decimal) words="point comma" ;;
        --design) words="grid random sobol sensitivity" ;;
        --best) words="mean p90 worst" ;;
        --goal) words="usual least most zero" ;;
        -o | --join | --picture) file=yes ;;
        --width | --dpi | --vary | --output | --points | --scramblings | --runs | --seed | --of | --alike | --part | --threads) return ;;
        *) file=yes ;;
        esac
        ;;
    esac
    if [ -n "$words" ]; then
        local front=""
        if [ -n "$list" ]; then
            case $cur in *"$list"*) front=${cur%"$list"*}$list ;; esac
        fi
        mapfile -t COMPREPLY < <(compgen -P "$front" -W "$words" -- "${cur#"$front"}")
        return
    fi
    case $cur in
    -*)
        mapfile -t COMPREPLY < <(compgen -W "$options" -- "$cur")
        return
        ;;
    esac
    if [ -n "$file" ]; then
        compopt -o filenames 2>/dev/null
        mapfile -t COMPREPLY < <(compgen -f -- "$cur")
    fi
}
complete -F _tipcrest tipcrest tipcrest-study-mpi
