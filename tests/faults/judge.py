#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Judges the runs of a command under interpose.c.

judge.py FOLDER TARGETS EXEMPT

FOLDER holds a folder 'before' with the files that were there before, a folder 'right' of a run without
the interposer, which says what done has to look like, and one for each failure, named FAULT-once or
FAULT-lasting, with the file 'runs' and a folder for each run. TARGETS are the names of the outputs.
EXEMPT is 'memory' where blocks and descriptors are not looked at, as with pictures, and else 'nothing'.

Prints what does not hold, a line for each; then how many calls were made to fail in words; last the
numbers of allocations, of calls of the system, and of signals.
"""
import os
import re
import sys

place, targets, exempt = sys.argv[1:]
targets = targets.split()
FAULTS = (133, 134, 139)  # TRAP, ABRT and SEGV, by which GLib and what lies below it end
ENDLESS = 142             # ALRM, by which interpose.c ends what does not come to an end
ENDS = {'kill': 137, 'moments': 137, 'INT': 130, 'TERM': 143, 'HUP': 129}  # 128 and the signal
OURS = re.compile(r'\.tipcrest-\d+-\d+\.tmp$')
WRITTEN = re.compile(r'; written: (.*?)(?:; as before: .*)?$')


def held(*path):
    """What a file holds; None where there is none."""
    try:
        with open(os.path.join(*path), 'rb') as stream:
            return stream.read()
    except FileNotFoundError:
        return None


AFTER = {name: held(place, 'right', name) for name in targets}
BEFORE = {name: held(place, 'before', name) for name in targets}
OUT = held(place, 'right', 'out')


class Run:
    """What one run left behind."""

    def __init__(self, folder, line):
        self.number, status, self.call, struck, self.blocks, self.descriptors = line.split()
        self.status, self.struck = int(status), int(struck)
        self.path = os.path.join(folder, self.number)
        self.found = {name: held(self.path, name) for name in targets}
        self.out, self.err = held(self.path, 'out') or b'', held(self.path, 'err') or b''
        names = os.listdir(self.path) if os.path.isdir(self.path) else []
        self.others = sorted(set(names) - {'out', 'err', *targets})


def judge_done(run):
    for name in targets:
        if run.found[name] != AFTER[name]:
            yield f'done, but {name} is not what it should be'
    if run.out != OUT:
        yield 'done, but standard output is not what it should be'
    if run.err:
        yield f'done, but it says {run.err!r}'


def whole(run):
    """Each output is the old or the new one."""
    for name in targets:
        if run.found[name] not in (BEFORE[name], AFTER[name]):
            yield f'{name} is neither old nor new'


def judge_failed(run):
    """Each file is old or new, and the message names those that are new."""
    if not re.fullmatch(rb'tipcrest: [^\n]+\n', run.err):
        yield f'failed, and its message is {run.err!r}'
    yield from whole(run)
    new = {name for name in targets if run.found[name] == AFTER[name]}
    if len(new) == len(targets) and run.out != OUT:
        return  # what is printed comes when the files are in place
    named = WRITTEN.search(run.err.decode().strip())
    paths = named[1].split(', ') if named else []
    if new != {os.path.normpath(path) for path in paths}:
        yield f'failed, with {new} in place, and its message is {run.err!r}'


def judge_drawn(run):
    """A picture without memory: what lies below takes another font, prints what it likes, ends the
    process, or (fontconfig) searches without end. Where the process ends so, the files are whole."""
    if run.status in (1, ENDLESS, *FAULTS) and run.struck:
        yield from whole(run)
    elif run.status != 0:
        yield f'exit status {run.status}, standard error {run.err!r}'


def judge_output(run, fault):
    if not OUT.startswith(run.out):
        yield 'standard output is not a beginning of what it should be'
    if run.status == 0:
        yield from judge_done(run)
    elif run.status == 1 and run.struck:
        yield from judge_failed(run)
    elif run.status == ENDS.get(fault):
        yield from whole(run)
    else:
        yield f'exit status {run.status}, standard error {run.err!r}'


def judge(run, fault, lasting):
    if exempt == 'memory' and fault == 'memory':
        yield from judge_drawn(run)
    else:
        yield from judge_output(run, fault)
    may_stay = ENDS.get(fault) == 137 or run.status == ENDLESS or \
        (fault == 'EIO' and (lasting or run.call == 'unlink'))
    for name in run.others:
        if not OURS.match(name) or not may_stay:
            yield f'{name} was left behind'
    if exempt != 'memory' and run.blocks not in ('0', '-'):
        yield f'{run.blocks} blocks of memory leaked'
    if exempt != 'memory' and run.descriptors not in ('0', '-'):
        yield f'{run.descriptors} descriptors left open'


def judge_all(fault, lasting, folder):
    """Prints what does not hold; the number of failures."""
    with open(os.path.join(folder, 'runs'), encoding='ascii') as stream:
        runs = [Run(folder, line) for line in stream.read().splitlines()]
    for run in runs:
        for sentence in judge(run, fault, lasting):
            print(f'{os.path.basename(folder)}, run {run.number}, {run.call}: {sentence}')
    if fault in ('moments', 'HUP'):
        return sum(run.status == ENDS[fault] for run in runs)
    if not runs or runs[-1].struck:
        print(f'{os.path.basename(folder)}: the last run is to be one without a failure')
    return sum(run.struck for run in runs)


def main():
    words, sums = [], {'memory': 0, 'calls': 0, 'kills': 0}
    for name in sorted(set(os.listdir(place)) - {'before', 'right'}):
        fault, _, lasts = name.partition('-')
        failures = judge_all(fault, lasts == 'lasting', os.path.join(place, name))
        words.append(f'{fault} {lasts} {failures}'.replace(' once', ''))
        kind = 'kills' if fault in ENDS else 'memory' if fault == 'memory' else 'calls'
        sums[kind] += failures
    print(', '.join(words))
    print(*sums.values())


main()
