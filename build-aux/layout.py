#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""layout.py JSON: a C program that prints the layout of every public struct of tipcrest-api.json, and the
number of every enumerator and constant. build-aux/abi.sh keeps it for a release and compiles it anew."""

import json
import sys

with open(sys.argv[1], encoding='utf-8') as file:
    api = json.load(file)
out = ['/* SPDX-License-Identifier: GPL-3.0-or-later */', '/* Made by build-aux/layout.py. */',
       '#include <stddef.h>', '#include <stdio.h>']
out += ['#include <%s>' % h['name'] for h in api['headers'] if not h['name'].endswith('_cairo.h')]
out += ['int main(void) {']
for name, struct in api['structs'].items():
    out.append('    printf("%s %s %%zu\\n", sizeof(%s));'
               % ('grows' if struct.get('sized') else 'size', name, name))
    out += ['    printf("member %s.%s %%zu %%zu\\n", offsetof(%s, %s), sizeof(((%s *)0)->%s));'
            % (name, f['name'], name, f['name'], name, f['name']) for f in struct['fields']]
names = [v['name'] for e in api['enums'].values() for v in e['values']]
# Counts and limits may rise with what is added; they stand in arrays, whose sizes are compared.
for name in names:
    out.append('    printf("number %s %%d\\n", %s);' % (name, name))
out += ['    return 0;', '}']
print('\n'.join(out))
