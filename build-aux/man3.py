#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""man3.py JSON FOLDER: manual pages of section 3 from tipcrest-api.json: one for each function, and one
for each header (tipcrest_set.h.3) with its types and constants. FOLDER is made anew."""

import json
import os
import re
import shutil
import sys


def roff(text):
    text = text.replace('\\', '\\e').replace('-', '\\-')
    return re.sub(r'^([.\'])', r'\\&\1', text, flags=re.M)


def paragraphs(text):
    """A comment: prose in paragraphs, indented lines as they stand."""
    out, table = [], False
    for line in text.split('\n'):
        indented = line.startswith('  ') or (table and not line)
        if indented != table:
            out.append('.nf' if indented else '.fi')
            table = indented
        if line:
            if not table and out and out[-1] != '.fi':
                out.append('.PP')
            out.append(roff(line))
    return out + (['.fi'] if table else [])


def page_of(header):
    return header.replace('/', '_')


def prototype(text, width=76):
    """Splits a declaration at its commas."""
    head, rest = text[:text.index('(') + 1], text[text.index('(') + 1:]
    lines, line = [], head
    for part in re.split(r'(?<=,) ', rest):
        if len(line) + len(part) > width and line.strip() != head.strip():
            lines.append(line.rstrip())
            line = '    '
        line += part + ' '
    return [roff(x) for x in lines + [line.rstrip()]]


DIRECTION = {'in': 'in', 'out': 'out', 'inout': 'in and out', 'scratch': 'scratch memory'}


def parameter(p):
    facts = [DIRECTION[p['direction']]]
    if 'length' in p:
        facts.append('array of ' + p['length'] if not p['length'].startswith('of ')
                     else 'array ' + p['length'])
    for member, word in (('unit', 'unit '), ('range', 'range ')):
        if member in p:
            facts.append(word + p[member])
    if p.get('null'):
        facts.append('may be NULL')
    if 'free' in p:
        facts.append('free with ' + p['free'])
    out = ['.TP', '.BI "%s " %s' % (roff(p['type']), roff(p['name'])), roff('; '.join(facts)) + '.']
    if p['doc'] and p['name'] not in ('error', 'context'):
        out.append(roff(p['doc']))
    return out


def function_page(api, name, entry):
    library = api['libraries'][entry['library']]
    out = title(api, name)
    out += ['.SH NAME', '%s \\- %s' % (roff(name), roff(entry['brief'].rstrip('.')) or 'see below'),
            '.SH SYNOPSIS', '.nf', '.B #include <%s>' % entry['header'], '.PP']
    out += ['.B ' + line if not line.startswith('    ') else '.B "%s"' % line
            for line in prototype(entry['declaration'])]
    out += ['.fi', '.PP', 'Link with \\fI\\-l%s\\fR.' % roff(library['link']), '.SH DESCRIPTION']
    out += paragraphs(entry['doc'])
    if entry.get('group'):
        out += ['.PP'] + paragraphs(entry['group'])
    if entry['parameters']:
        out.append('.SH PARAMETERS')
        for p in entry['parameters']:
            out += parameter(p)
    returns = entry['returns']
    if returns['kind'] != 'void':
        out += ['.SH RETURN VALUE']
        if returns['kind'] == 'status':
            out.append('TCR_OK, or a status below.')
        else:
            out.append('A value of type \\fI%s\\fR.' % roff(returns['type']))
            out += [roff(returns[k]) for k in ('doc', 'lifetime') if k in returns]
    if entry['errors'] or entry['errors_as']:
        out.append('.SH ERRORS')
        for error in entry['errors']:
            out += ['.TP', '.B ' + roff(error['status']),
                    roff(error['when'] or status_text(api, error['status']))]
        if entry['errors_as']:
            out += ['.PP', 'The statuses of ' + roff(', '.join(entry['errors_as'])) + '.']
    out += ['.SH SEE ALSO', '.BR %s (3)' % page_of(entry['header'])]
    return out


def status_text(api, name):
    for value in api['enums']['tcr_status']['values']:
        if value['name'] == name:
            return value['doc']
    raise SystemExit('man3.py: no status ' + name)


def title(api, name):
    return ['.\\" Made from the public headers by build\\-aux/man3.py.',
            '.TH %s 3 "" "tipcrest %s" "tipcrest"' % (roff(name), api['version'])]


def brief_of(text):
    first = re.split(r'(?<=[.:])\s', text)[0].rstrip('.:')
    return first[:150]


def header_page(api, header):
    mine = [i for i in api['order'] if i['header'] == header['name']]
    out = title(api, page_of(header['name']))
    doc = header['doc']
    out += ['.SH NAME', '%s \\- %s' % (roff(page_of(header['name'])),
                                       roff(brief_of(doc) or 'part of tipcrest')),
            '.SH SYNOPSIS', '.B #include <%s>' % header['name'], '.PP',
            'Link with \\fI\\-l%s\\fR.' % roff(api['libraries'][header['library']]['link'])]
    if doc:
        out += ['.SH DESCRIPTION'] + paragraphs(doc)
    tables = {'struct': 'structs', 'enum': 'enums', 'callback': 'callbacks', 'opaque': 'objects'}
    constants = [i for i in mine if i['kind'] == 'constant']
    for item in mine:
        if item['kind'] not in tables:
            continue
        entry = api[tables[item['kind']]][item['name']]
        out += ['.SS ' + roff(item['name'])]
        if entry['doc'] and entry['doc'] != doc:
            out += paragraphs(entry['doc'])
        if item['kind'] == 'callback':
            out += ['.PP', '.nf', roff(entry['declaration']), '.fi']
        for field in entry.get('fields', []):
            out += ['.TP', '.BI "%s " %s' % (roff(field['type']), roff(field['name'])),
                    roff(field['doc']) or '\\&']
        for value in entry.get('values', []):
            out += ['.TP', '.B %s = %d' % (roff(value['name']), value['value']),
                    roff(value['doc']) or '\\&']
    if constants:
        out += ['.SS Constants']
        for item in constants:
            entry = api['constants'][item['name']]
            value = entry['value'] if entry['value'] is not None else entry['text']
            out += ['.TP', '.B "%s = %s"' % (roff(item['name']), roff(str(value))),
                    roff(entry['doc']) or '\\&']
    functions = [i['name'] for i in mine if i['kind'] == 'function']
    if functions:
        out += ['.SH SEE ALSO', '.BR %s' % ' ,\n.BR '.join(roff(f) + ' (3)' for f in functions)]
    return out


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    with open(sys.argv[1], encoding='utf-8') as file:
        api = json.load(file)
    folder = sys.argv[2]
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)

    def write(name, lines):
        with open(os.path.join(folder, name + '.3'), 'w', encoding='utf-8') as file:
            file.write('\n'.join(lines) + '\n')
    for name, entry in api['functions'].items():
        write(name, function_page(api, name, entry))
    for header in api['headers']:
        write(page_of(header['name']), header_page(api, header))


if __name__ == '__main__':
    main()
