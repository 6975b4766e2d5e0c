#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Loses power at every call of a command that changes files, and looks at what the disk may hold then.

disk.py JOURNAL BEFORE AFTER [FORGETS] TARGET...

JOURNAL is what journal.c wrote while the command ran, BEFORE a copy of the folder before it and AFTER
the folder as it is now. TARGETS are the names of the outputs. FORGETS is "file" or "folder": a disk
whose syncs of these do nothing, on which the command must be found wanting.

A disk keeps what was synced. Of the rest it keeps what it likes, as POSIX allows: each write of a file
whole, in part, as zeros or not at all, each change of a name or none, one without those before it. A
file's sync says nothing of its name, a folder's nothing of what is in the files. After each call the
disk is drawn many times, by numbers that are the same every time.

Prints what does not hold, a line for each; last the number of disks, of calls, and of disks on which
all outputs were old, all were new, and some of each.
"""
import os
import random
import re
import sys

OURS = re.compile(r'\.tipcrest-\d+-\d+\.tmp$')
DRAWS = 200  # disks for each call


class File:
    """What a disk surely holds of a file, and the writes since, one after the other."""

    def __init__(self, content=b''):
        self.synced, self.now, self.writes = content, content, []

    @staticmethod
    def apply(content, place, data):
        """Writes, or cuts where there is no data; a gap is filled with zeros."""
        content += bytes(max(0, place - len(content)))
        return content[:place] if data is None else content[:place] + data + content[place + len(data):]

    def change(self, place, data):
        self.now = self.apply(self.now, place, data)
        self.writes.append((place, data))

    def sync(self):
        self.synced, self.writes = self.now, []

    def drawn(self, keeps):
        """What a disk may hold of it."""
        content = self.synced
        for place, data in self.writes:
            fate = keeps(('whole', 'none', 'part', 'zeros'))
            if fate == 'none':
                continue
            if data and fate == 'part':
                data = data[:keeps(range(len(data)))]
            elif data and fate == 'zeros':
                data = bytes(len(data))
            content = self.apply(content, place, data)
        return content


class Disk:
    def __init__(self, root):
        self.files = {}    # by the number of the inode
        self.now = {}      # files by path
        self.synced = {}   # the same as far as folders were synced
        self.changes = []  # since: lists of (path, file or None) that a disk makes together
        for folder, _, names in os.walk(root):
            for name in names:
                path = os.path.join(folder, name)
                with open(path, 'rb') as stream:
                    self.now[os.path.relpath(path, root)] = File(stream.read())
        self.synced = dict(self.now)

    def rename(self, *change):
        for path, file in change:
            self.enter(self.now, path, file)
        self.changes.append(change)

    @staticmethod
    def enter(names, path, file):
        if file is None:
            names.pop(path, None)
        else:
            names[path] = file

    def sync_folder(self, folder):
        rest = []
        for change in self.changes:
            if any(os.path.dirname(path) == folder for path, _ in change):
                for path, file in change:
                    self.enter(self.synced, path, file)
            else:
                rest.append(change)
        self.changes = rest

    def drawn(self, draw):
        """The files of a disk, by path; the first two draws keep all and nothing."""
        random.seed(draw)
        keeps = {0: lambda ways: ways[0], 1: lambda ways: ways[1]}.get(draw, random.choice)
        names = dict(self.synced)
        for change in self.changes:
            if keeps((True, False)):
                for path, file in change:
                    self.enter(names, path, file)
        contents = {file: file.drawn(keeps) for file in dict.fromkeys(names.values())}
        return {path: contents[file] for path, file in names.items()}


def events(path):
    """The calls of a journal: what, the words behind it, and bytes."""
    with open(path, 'rb') as stream:
        for line in stream:
            what, *words = line.decode().rstrip('\n').split('\t')
            yield what, words, stream.read(int(words[2])) if what == 'write' else b''


def replay(disk, root, what, words, data, forgets):
    """Does what a call did, and says whether it is one of a file here."""
    def inside(path):
        path = os.path.relpath(os.path.join(root, path), root)
        return None if path.startswith('..') else '' if path == '.' else path
    if what == 'open':
        path = inside(words[3])
        if path is None:
            return False
        if words[1] == '1':
            disk.rename((path, File()))
        disk.files[words[0]] = disk.now[path]
        if words[2] == '1':
            disk.now[path].change(0, None)
    elif what in ('rename', 'link'):
        come, go = inside(words[0]), inside(words[1])
        if come is None or go is None:
            return False
        leaves = [(come, None)] if what == 'rename' else []
        disk.rename((go, disk.now[come]), *leaves)
    elif what == 'unlink':
        path = inside(words[0])
        if path is None:
            return False
        disk.rename((path, None))
    elif what == 'folder':
        path = inside(words[0])
        if path is None:
            return False
        if forgets != 'folder':
            disk.sync_folder(path)
    elif words[0] not in disk.files:
        return False
    elif what == 'sync':
        if forgets != 'file':
            disk.files[words[0]].sync()
    else:
        disk.files[words[0]].change(int(words[1]), data if what == 'write' else None)
    return True


class Judge:
    def __init__(self, before, after, targets):
        self.before = {path: file.now for path, file in Disk(before).now.items()}
        self.after = {path: file.now for path, file in Disk(after).now.items()}
        self.targets = targets
        self.disks, self.calls, self.old, self.new, self.both = 0, 0, 0, 0, 0
        for name in targets:
            if self.after.get(name) in (None, self.before.get(name)):
                self.say(f'{name} is not new, so nothing can be seen')

    def say(self, sentence):
        print(sentence if self.calls == 0 else f'power lost after call {self.calls}, {sentence}')

    def judge(self, held, ended):
        """What is not as it has to be on a disk: outputs old or new, all else as it was."""
        found = [held.get(name) for name in self.targets]
        old = [held == self.before.get(name) for name, held in zip(self.targets, found)]
        new = [held == self.after[name] for name, held in zip(self.targets, found)]
        self.disks += 1
        self.old += all(old)
        self.new += all(new)
        self.both += any(old) and any(new)
        wrong = [f'{name} is neither old nor new' for i, name in enumerate(self.targets)
                 if not old[i] and not new[i]]
        if ended and not all(new):
            wrong.append('the command was done, and not all is new')
        for path in set(held) | set(self.before):
            if path not in self.targets and held.get(path) != self.before.get(path) and \
                    not OURS.match(os.path.basename(path)):
                wrong.append(f'{path} is not as it was')
        return wrong

    def judge_draws(self, disk, call, ended=False):
        """Draws disks, and says once for each call what is wrong with them."""
        wrong = [sentence for draw in range(DRAWS)
                 for sentence in self.judge(disk.drawn(draw), ended)]
        for sentence in dict.fromkeys(wrong):
            self.say(f'{call}: {sentence}, on {wrong.count(sentence)} of {DRAWS} disks')


def main():
    journal, before, after, *targets = sys.argv[1:]
    forgets = targets.pop(0) if targets[0] in ('file', 'folder') else None
    judge, disk = Judge(before, after, targets), Disk(before)
    calls = list(events(journal))
    root = calls.pop(0)[1][0]
    for what, words, data in calls:
        if replay(disk, root, what, words, data, forgets):
            judge.calls += 1
            judge.judge_draws(disk, ' '.join([what, *words]))
    judge.judge_draws(disk, 'the end', ended=True)
    if {path: file.now for path, file in disk.now.items()} != judge.after and not forgets:
        judge.say('the journal lacks calls: it does not lead to what is there')
    print(judge.disks, judge.calls, judge.old, judge.new, judge.both)


main()
