#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""api.py [-o FILE]: describes the public interface as JSON, from the headers in include/tipcrest.

The maker of bindings and of manual pages reads tipcrest-api.json and not the headers. It has every
function, struct, enumeration, constant and callback with its comment, its types, and what a binding
needs beside them: which pointers are arrays and how long, what may be NULL, what the caller frees.
build-aux/api-arrays.txt says what types do not: the lengths of arrays. doc/api.md explains the members.
Python's standard library is all it takes.
"""

import argparse
import json
import os
import re
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
HERE = os.path.join(ROOT, 'include', 'tipcrest')

LIBRARIES = {
    'core': ('tipcrest', 'core_headers'),
    'file': ('tipcrest-file', 'file_headers'),
    'draw': ('tipcrest-draw', 'draw_headers'),
    'study': ('tipcrest-study', 'study_headers'),
}
SCALARS = ('void bool char int unsigned double float size_t int8_t int16_t int32_t int64_t uint8_t '
           'uint16_t uint32_t uint64_t').split()
# How the end of a name tells the unit; the longest end counts.
UNITS = {'mm': 'mm', 'mm2': 'mm2', 'rad': 'rad', 'deg': 'degrees', 'mg': 'mg', 'unmm': 'uN mm',
         'unmm_rad': 'uN mm/rad', 'kg_m3': 'kg/m3', 'gpa': 'GPa', 's': 's', 'min': 'min', 'ms': 'ms',
         'share': 'share', 'ratio': 'ratio', 'dpi': 'dpi', 'opening': 'share', 'minutes': 'min'}
# How a comment writes a unit.
UNIT = (r'mm per rad or per mm|(?:mm|rad|uN mm) per (?:mm|rad)|mm2?|rad|mg|s|degrees|share|no unit'
        r'|(?:square of the )?unit of (?:the )?[a-z]+')
# A number of items passed by value: beside it a pointer may be an array, and the table must say so.
COUNTS = set('n count size room length bytes most points runs factors combinations dimensions '
             'profile_count columns'.split())


class Wrong(Exception):
    pass


# ---- Text --------------------------------------------------------------------------------------

def comment_text(raw):
    """The text of a comment: paragraphs on one line each, indented lines as they stand."""
    body = raw[2:-2]
    lines = [re.sub(r'^\s*\* ?', '', line) if i else line for i, line in enumerate(body.split('\n'))]
    out = []
    for line in lines:
        line = line.rstrip()
        line = line[1:] if not out and line.startswith(' ') else line
        indented = line.startswith('  ')
        if not line:
            out.append('')
        elif out and out[-1] and not indented and not out[-1].startswith('  ') \
                and not re.match(r' ? ?- ', line):
            out[-1] += ' ' + line.strip()
        else:
            out.append(line if indented else line.strip())
    return '\n'.join(out).strip('\n')


def member_text(raw):
    """The text of a comment beside a member: always one line."""
    return ' '.join(re.sub(r'^\s*\* ?', '', line).strip() for line in raw[2:-2].split('\n')).strip()


def sentences(text):
    """The sentences of the prose in a comment."""
    out = []
    for line in text.split('\n'):
        if line and not line.startswith('  '):
            out += re.split(r'(?<=\.)(?<!al\.)(?<!\.\.\.)\s+', line)
    return [s for s in out if s]


def naming(text, name):
    """The sentences that name a parameter."""
    return ' '.join(s for s in sentences(text) if re.search(r"\b%s\b(?!\.h)" % re.escape(name), s))


def unit_of(name, doc, around=()):
    """The unit of a member: as its comment says first, by the end of its name, or as the comment of the
    struct or the header says of all."""
    found = re.match(r'(%s)(?![\w-])' % UNIT, doc) or re.search(r'\b[Ii]n the (unit of (?:the )?[a-z]+)', doc)
    if found and ' ' in found.group(1):
        return found.group(1)
    words = name.lower().split('_')
    for i in range(len(words)):
        end = '_'.join(words[i:])
        if end in UNITS and (i or end in ('dpi', 'opening', 'share', 'minutes')):
            return UNITS[end]
    for text in ([] if found else around):
        found = found or re.search(r'\bin (?:the )?(unit of (?:the )?[a-z]+|mm\b)', text)
    return found.group(1) if found else None


NUMBER = r'(?:-?[0-9][0-9.]*(?:e-?[0-9]+)?|[A-Z][A-Z_]+)'
END = r"(?:%s|[a-z]\w*(?:->\w+)?|the [a-z' ]+?)" % NUMBER
RANGE = (r'any|finite|(?:above half )?{0} to (?:below )?{0}(?: degrees)?|above {0}(?: (?:and|to) (?:below )?{0})?|{0} or more'
         r"|the range of [a-z' ]+").format(END)


def in_brackets(name, doc):
    """Unit and range of a parameter: 'u (share, 0.02 to 0.98)', 'x_mm and y_mm (any)'."""
    for found in re.finditer(r"(?<!\w)'?%s'?(?:(?:,| and) \w+)* \(([^()]+)\)" % re.escape(name), doc):
        parts = re.split(r'[,;] ', found.group(1))
        unit = parts.pop(0) if re.fullmatch(UNIT, parts[0]) else None
        if parts and re.fullmatch(RANGE, parts[0]):
            return unit, parts[0]
    return None, None


def range_of(name, doc, patterns=slice(None)):
    """A range as the comment writes it; of a member also as a clause of its own."""
    if patterns == slice(None):
        clauses = re.split(r'[,;] ', doc)
        clauses = clauses[1:] if re.fullmatch(UNIT, clauses[0]) else clauses
        clauses[:1] = [c.split(': ')[0] for c in clauses[:1]]
        for clause in clauses:
            if re.fullmatch(RANGE, clause) and re.search(r'[0-9]|finite', clause):
                return clause
    for pattern in (r'^(?:[^0-9;.]{0,40}?)(%s to %s(?: degrees)?)\b' % (NUMBER, NUMBER),
                    r'\b%s(?: is| must be)? (?:finite, )?(%s to %s(?: degrees)?)\b'
                    % (re.escape(name), NUMBER, NUMBER),
                    r'(above %s and below %s(?: degrees)?)\b' % (NUMBER, NUMBER))[patterns]:
        found = re.search(pattern, doc)
        if found:
            return found.group(1)
    return None


def default_of(doc):
    found = re.search(r'\b([^;,:()]+?), the default\b', doc) or re.search(r'\bdefault:? ([^;,]+)', doc)
    return found.group(1).strip().rstrip('.') if found else None


# ---- Reading a header -----------------------------------------------------------------------------

TOKEN = re.compile(r'/\*.*?\*/|^[ \t]*#(?:[^\n\\]|\\.|\\\n)*|\s+|"(?:\\.|[^"\\])*"'
                   r'|[A-Za-z_]\w*|[0-9][\w.]*|<<|.', re.S | re.M)


def tokens(text):
    return [m.group(0) for m in TOKEN.finditer(text)]


def pieces(text):
    """Splits a header: ('comment', text), ('blank',), ('directive', text), ('code', text)."""
    out, code, depth = [], '', 0
    for token in tokens(text):
        if token.lstrip().startswith('#') and not code.strip():
            out.append(('directive', token.strip()))
            code = ''
        elif token.startswith('/*') and not code.strip():
            out.append(('comment', token))
        elif token.isspace() and not code.strip():
            if token.count('\n') > 1:
                out.append(('blank',))
        else:
            code += token
            depth += {'{': 1, '(': 1, '}': -1, ')': -1}.get(token, 0)
            if depth == 0 and (token == ';' or (token == '}' and code.startswith('static inline'))):
                out.append(('code', code.strip()))
                code = ''
    return out


def bare(code):
    """Code without comments, on one line."""
    code = re.sub(r'/\*.*?\*/', ' ', code, flags=re.S)
    return re.sub(r'\s+', ' ', code).strip()


def spelt(words):
    """A type as the house writes it: const double *const *"""
    return re.sub(r'\* (?=[*c])', '*', ' '.join(words))


class Api:
    def __init__(self):
        self.value = {}          # of constants
        self.headers, self.items = [], []
        self.functions, self.structs, self.enums = {}, {}, {}
        self.constants, self.callbacks, self.opaque = {}, {}, {}
        self.arrays = self.read_arrays()
        self.used = set()

    @staticmethod
    def read_arrays():
        table = {}
        with open(os.path.join(ROOT, 'build-aux', 'api-arrays.txt'), encoding='utf-8') as file:
            for line in file:
                line = line.split('#')[0].split(None, 1)
                if line:
                    table[line[0]] = line[1].strip() if len(line) > 1 else ''
        return table

    def number(self, text):
        """The value of a constant expression."""
        text = re.sub(r'\b([0-9]+)[uUlL]+\b', r'\1', text.strip())
        if re.fullmatch(r'"[^"]*"', text):
            return text[1:-1]
        names = re.sub(r'[A-Za-z_]\w*', lambda m: str(self.value[m.group(0)])
                       if m.group(0) in self.value else m.group(0), text)
        if not re.fullmatch(r'[-+*/()<>|& 0-9.e]+', names):
            raise Wrong('not a constant: ' + text)
        return eval(names, {'__builtins__': {}})  # digits and operators alone

    # ---- Types --------------------------------------------------------------------------------

    def type_of(self, text):
        """Takes 'const double *const x[3]' apart; a nameless void gives None."""
        text = re.sub(r'\s+', ' ', text.strip())
        if text == 'void':
            return None
        function = re.match(r'(.*)\(\*(\w+)\)\((.*)\)$', text)
        if function:
            return {'name': function.group(2), 'type': text.replace('(*' + function.group(2) + ')', '(*)'),
                    'base': 'function', 'pointers': 1, 'const': False,
                    'returns': function.group(1).strip(), 'arguments': function.group(3)}
        dims = re.findall(r'\[([^\]]*)\]', text)
        text = re.sub(r'\[[^\]]*\]', '', text).strip()
        words = re.findall(r'\w+|\*', text)
        name, words = words[-1], words[:-1]
        if not words or name in SCALARS or words[-1] == 'struct':
            raise Wrong('not a declaration: ' + text)
        stars = words.count('*')
        front = words[:words.index('*')] if stars else words
        out = {'name': name, 'type': spelt(words), 'base': ' '.join(w for w in front if w != 'const'),
               'pointers': stars, 'const': 'const' in front}
        if dims:
            out['dimensions'] = [{'text': d, 'value': self.number(d)} for d in dims]
            out['type'] += ''.join('[%s]' % d for d in dims)
        return out

    def sort(self, base):
        if base in SCALARS + ['unsigned long'] or base == 'function':
            return 'scalar' if base not in ('void', 'function') else base
        for table, sort in ((self.structs, 'struct'), (self.enums, 'enum'), (self.opaque, 'object'),
                            (self.callbacks, 'callback')):
            if base in table:
                return sort
        if base == 'cairo_t':
            return 'foreign'
        raise Wrong('type without a declaration: ' + base)

    # ---- Items --------------------------------------------------------------------------------

    def add(self, kind, name, entry, table):
        if name in table:
            raise Wrong(name + ' is declared twice')
        table[name] = entry
        self.items.append({'kind': kind, 'name': name})

    def read(self, path, library):
        name = os.path.basename(path)
        with open(path, encoding='utf-8') as file:
            text = file.read()
        header = {'name': 'tipcrest/' + name, 'library': library, 'includes': [], 'doc': ''}
        self.headers.append(header)
        doc, pending, above, section, group = '', [], '', '', ''
        for piece in pieces(text):
            if piece[0] == 'comment':
                said = comment_text(piece[1])
                if said.startswith('SPDX'):
                    continue
                heading = re.fullmatch(r'-{2,} (.*?) -{2,}', said)
                if heading:
                    section, group, doc = heading.group(1), '', ''
                    continue
                doc = said
                above = 'comment'
            elif piece[0] == 'blank':
                if above == 'comment':  # a comment by itself: of the header, or of what follows
                    if not header['doc'] and not any(i.get('header') == header['name']
                                                     for i in self.items):
                        header['doc'] = doc
                    else:
                        group = doc
                doc, above = '', ''
            elif piece[0] == 'directive':
                include = re.match(r'#\s*include\s*<(.*)>', piece[1])
                if include:
                    header['includes'].append(include.group(1))
                self.directive(piece[1], doc, section, header)
            else:
                own = above == 'comment'
                first = len(self.items)
                self.code(piece[1], doc, header['name'], library)
                for item in self.items[first:]:
                    item['header'] = header['name']
                    entry = self.entry(item)
                    entry.update({k: v for k, v in (('section', section), ('group', group)) if v})
                    if doc and not own:
                        entry['doc_shared'] = True
                above = 'code'
        if not header['doc']:
            mine = [i for i in self.items if i.get('header') == header['name']]
            header['doc'] = self.entry(mine[0])['doc'] if mine else doc

    def entry(self, item):
        return {'function': self.functions, 'struct': self.structs, 'enum': self.enums,
                'constant': self.constants, 'callback': self.callbacks,
                'opaque': self.opaque}[item['kind']][item['name']]

    def directive(self, text, doc, section, header):
        found = re.match(r'#\s*define\s+(TCR_\w+)\s+(.*)', text, re.S)
        if not found or found.group(1) in ('TCR_C', 'TCR_API'):
            return
        name, rest = found.groups()
        beside = re.search(r'/\*.*\*/', rest, re.S)
        plain = ' '.join(bare(rest).replace('\\', ' ').split())
        try:
            value = self.value[name] = self.number(plain)
        except Wrong:
            value = None  # an initialiser
        said = member_text(beside.group(0)) if beside else doc
        self.add('constant', name, {'header': header['name'], 'library': header['library'],
                                    'value': value, 'text': plain, 'macro': True, 'doc': said}, self.constants)
        self.items[-1]['header'] = header['name']

    def code(self, code, doc, header, library):
        entry = {'header': header, 'library': library, 'doc': doc, 'declaration': bare(code)}
        flat = entry['declaration']
        if flat.startswith('typedef enum') or flat.startswith('enum'):
            self.enum(code, entry)
        elif flat.startswith('typedef struct') and '{' in flat:
            self.struct(code, entry)
        elif flat.startswith('typedef struct'):
            self.add('opaque', flat.rstrip(';').split()[-1], entry, self.opaque)
        elif flat.startswith('typedef') and '(*' in flat:
            self.callback(flat, entry)
        elif flat.startswith('TCR_API') or flat.startswith('static inline'):
            self.function(flat, entry)
        else:
            raise Wrong(header + ': not understood: ' + flat[:80])

    def enum(self, code, entry):
        body = code[code.index('{') + 1:code.rindex('}')]
        name = bare(code[code.rindex('}') + 1:]).rstrip(';').strip()
        values, last = [], -1
        for text, said in listed(body, ','):
            part = text.split('=')
            last = self.number(part[1]) if len(part) > 1 else last + 1
            self.value[part[0].strip()] = last
            values.append({'name': part[0].strip(), 'value': last, 'doc': said})
        if name:
            entry['values'] = values
            self.add('enum', name, entry, self.enums)
            return
        for value in values:  # a nameless enumeration holds constants
            if not value['doc'] and len(values) == 1:
                value['doc'] = entry['doc']
            self.add('constant', value['name'], {
                'header': entry['header'], 'library': entry['library'], 'value': value['value'],
                'macro': False, 'doc': value['doc'], 'group_doc': entry['doc']}, self.constants)

    def struct(self, code, entry):
        body = code[code.index('{') + 1:code.rindex('}')]
        name = bare(code[code.rindex('}') + 1:]).rstrip(';').strip()
        fields = []
        for text, said in listed(body, ';'):
            if '(*' in text:
                names = [text]
            else:
                front = re.match(r'((?:const |struct )*(?:unsigned long|\w+))\s*(.*)$', text)
                names = [front.group(1) + ' ' + n.strip() for n in front.group(2).split(',')]
            for one in names:
                field = self.type_of(one)
                field['doc'] = said
                fields.append(field)
        entry['fields'] = fields
        self.add('struct', name, entry, self.structs)
        for field in fields:
            self.describe_field(name, field, fields)
        if fields and fields[0]['name'] == 'size' and fields[0]['base'] == 'size_t':
            entry['sized'] = True

    def describe_field(self, struct, field, fields):
        key = struct + '.' + field['name']
        if field['base'] == 'function':
            field['kind'] = 'function'
        elif field['pointers'] == 0:
            field['kind'] = self.sort(field['base']) if field['base'] != struct else 'struct'
        elif field['base'] == 'void':
            field['kind'] = 'context' if field['name'].endswith('context') else 'bytes'
        elif field['base'] == 'char' and field['pointers'] == 1:
            field['kind'] = 'string'
        else:
            names = {f['name'] for f in fields}
            plural = [p for p in (field['name'] + 's', field['name'] + 'es') if p in names]
            length = self.length(key) or (plural[0] if plural else None)
            sort = self.sort(field['base']) if field['base'] != struct else 'struct'
            if not length and sort in ('scalar', 'enum'):
                raise Wrong('build-aux/api-arrays.txt: give the length of ' + key)
            field['kind'] = ('strings' if field['base'] == 'char' else 'array') if length and length != '1' \
                else sort
            if length and length != '1':
                field['length'] = length
        around = [self.structs[struct]['doc'], self.headers[-1]['doc']] if field['base'] == 'double' else []
        extra = {'unit': unit_of(field['name'], field['doc'], around),
                 'range': range_of(field['name'], field['doc']) if field['base'] in SCALARS else None,
                 'default': default_of(field['doc'])}
        field.update({k: v for k, v in extra.items() if v})
        if 'dimensions' in field and field['name'] + 's' in {f['name'] for f in fields}:
            field['count'] = field['name'] + 's'  # how many of the array's items are used
        if field['pointers'] and re.search(r'\bNULL\b', field['doc']):
            field['null'] = True

    def length(self, key):
        self.used.add(key)
        return self.arrays.get(key)

    def callback(self, flat, entry):
        found = re.match(r'typedef (.*?)\(\*(\w+)\)\((.*)\);$', flat)
        entry['parameters'] = [self.type_of(p) for p in found.group(3).split(',')]
        front = re.match(r'(.*?\w) ?(\**)$', found.group(1).strip())
        entry['returns'] = self.returned(found.group(2), front.group(1), front.group(2),
                                         dict(entry, brief=''))
        if 'owner' in entry['returns']:
            entry['returns']['owner'] = 'caller'  # of the library: the host keeps it
        self.add('callback', found.group(2), entry, self.callbacks)
        for p in entry['parameters']:
            self.describe(found.group(2), p, entry['parameters'], entry['doc'], callback=True)

    def function(self, flat, entry):
        inline = flat.startswith('static inline')
        flat = re.sub(r'^(TCR_API|static inline) ', '', flat)
        if inline:
            flat = flat[:flat.index('{')].strip() + ';'
        entry['declaration'] = flat
        found = re.match(r'((?:const )?\w+) (\**)(\w+)\((.*)\);$', flat)
        if not found:
            raise Wrong('not a function: ' + flat)
        base, stars, name, arguments = found.groups()
        entry['inline'] = inline
        self.add('function', name, entry, self.functions)
        entry['brief'] = (sentences(entry['doc']) or [''])[0]
        entry['parameters'] = [p for p in map(self.type_of, arguments.split(',')) if p]
        for p in entry['parameters']:
            self.describe(name, p, entry['parameters'], entry['doc'])
        entry['returns'] = self.returned(name, base, stars, entry)
        entry['errors'] = errors_of(entry['doc'])
        entry['errors_as'] = sorted({f for s in sentences(entry['doc'])
                                     if re.search(r'[Ss]tatus(es)?\b|\bas (for )?tcr_\w+', s)
                                     for f in re.findall(r'\btcr_\w+', s)
                                     if f != name} - {'tcr_status'})
        stack = re.search(r'Stack: below ([0-9]+) kB', entry['doc'])
        if stack:
            entry['stack_kb'] = int(stack.group(1))

    # ---- Parameters ---------------------------------------------------------------------------

    def describe(self, function, p, all_of, doc, callback=False):
        name, base, key = p['name'], p['base'], function + '.' + p['name']
        p['doc'] = naming(doc, name)
        sort = self.sort(base)
        p['pointers'] += 1 if 'dimensions' in p else 0  # in a parameter an array is a pointer
        length = self.length(key) or (p['dimensions'][0]['text'] if 'dimensions' in p else None)
        p['direction'] = 'in'
        if p['pointers'] == 0 and not length:
            p['kind'] = sort if sort != 'callback' else 'callback'
        elif base == 'void':
            p['kind'] = 'bytes' if length else 'context' if name.endswith('context') else 'struct_any'
            given = p['const'] and p['pointers'] == 1
            p['direction'] = 'in' if given or p['kind'] == 'context' else 'out'
            p['null'] = p['kind'] == 'context'
        elif base == 'char' and p['pointers'] == 1:
            p['kind'] = 'bytes' if length and p['const'] else 'string'
            p['direction'] = 'in' if p['const'] else 'out'
        elif base == 'char':
            p['kind'] = 'strings' if length else 'string'
            p['direction'] = 'in' if length else 'out'
        elif p['pointers'] == 2 and not length:
            p['kind'], p['direction'] = sort, 'out'
            if sort == 'object':
                p['owner'], p['free'] = 'caller', base + '_free'
        elif sort in ('object', 'foreign'):
            p['kind'] = sort
            p['direction'] = 'in' if p['const'] or sort == 'foreign' else 'inout'
        else:
            needs = any(q['pointers'] == 0 and q['name'] in COUNTS and q['base'] in
                        ('size_t', 'uint64_t', 'int') for q in all_of)
            if needs and not length and base != 'tcr_error' and not function.endswith('_init') \
                    and not base.endswith('_options') and sort in ('scalar', 'enum', 'struct'):
                raise Wrong('build-aux/api-arrays.txt: say how long %s is, 1 for one item' % key)
            p['kind'] = 'array' if length and length != '1' else sort
            p['direction'] = 'in' if p['const'] else 'out'
        if length and length != '1':
            p['length'] = length
        if name == 'scratch':
            p['direction'] = 'scratch'
        if key + '!inout' in self.arrays:
            self.used.add(key + '!inout')
            p['direction'] = 'inout'
        if p['pointers'] or sort == 'callback':
            p['null'] = p.get('null', False) or may_be_null(name, doc) or base in ('tcr_error', 'tcr_allocator') \
                or (function.endswith('_free'))
        if key + '!null' in self.arrays:
            self.used.add(key + '!null')
            p['null'] = True
        unit, limits = in_brackets(name, p['doc'])
        around = [self.headers[-1]['doc']] if base == 'double' else []
        extra = {'unit': unit or unit_of(name, '', around),
                 'range': limits or range_of(name, p['doc'], slice(1, 2))}
        extra = extra if base in SCALARS and base not in ('char', 'void') else {}
        p.update({k: v for k, v in extra.items() if v})

    def returned(self, name, base, stars, entry):
        plain = base.replace('const ', '').strip()
        out = {'type': base + (' ' + stars if stars else ''), 'base': plain, 'pointers': len(stars),
               'const': base.startswith('const ')}
        if base == 'void' and not stars:
            out['kind'] = 'void'
            return out
        if plain == 'char' and stars:
            out['kind'] = 'string'
        elif plain == 'tcr_status':
            out['kind'] = 'status'
        else:
            out['kind'] = self.sort(plain)
        if stars:
            out['owner'] = 'library'
            count = [p['name'] for p in entry['parameters']
                     if p['name'] == 'count' and p['pointers'] == 1]
            length = self.length(name + '.return') or ('*count' if count else None)
            if length:
                out['kind'], out['length'] = 'array', length
        said = [s for s in sentences(entry['doc'])
                if re.search(r'\b[Rr]eturns\b|\bfor NULL\b|\bNULL if\b|\bor NULL\b', s)]
        if said:
            out['doc'] = ' '.join(said)
        life = [s for s in sentences(entry['doc'] + '\n' + entry.get('group', ''))
                if re.search(r'[Vv]alid until|[Ss]tatic storage|stays? valid', s)]
        if life and stars:
            out['lifetime'] = ' '.join(life)
        unit = unit_of(name, '')
        if unit or re.search(r'\b(?:in mm|mm[;.,])', entry['brief']):
            out['unit'] = unit or 'mm'
        return out

    def finish(self):
        """What needs all functions."""
        for name, entry in self.functions.items():
            for p in entry['parameters']:
                if 'free' in p and p['free'] not in self.functions:
                    raise Wrong('%s: no %s' % (name, p['free']))
            entry['errors_as'] = [f for f in entry['errors_as'] if f in self.functions]
        for name, entry in self.opaque.items():
            if name + '_free' in self.functions:
                entry['free'] = name + '_free'
        for name, entry in self.structs.items():
            stem = re.sub(r'_options$', '', name)
            for verb in ('init', 'default', 'validate'):
                for front in (name, stem):
                    if front + '_' + verb in self.functions:
                        entry[verb] = front + '_' + verb
                        break
        for name, entry in self.functions.items():
            if entry['returns'].get('owner') and 'lifetime' not in entry['returns']:
                life = [s for s in sentences(entry.get('group', ''))
                        if re.search(r'[Vv]alid until|[Ss]tatic storage', s)]
                if life:
                    entry['returns']['lifetime'] = ' '.join(life)
        left = sorted(k for k in self.arrays if k not in self.used)
        if left:
            raise Wrong('build-aux/api-arrays.txt: not in the headers: ' + ', '.join(left))


def listed(body, mark):
    """The parts of a struct or an enumeration, each with its comment, above it or beside it."""
    out, code, said, depth = [], '', '', 0
    stream = tokens(body)
    last_line = False  # nothing but blanks since the last part ended, on its line
    for token in stream:
        if token.startswith('/*'):
            text = member_text(token)
            if last_line and out and not code.strip():
                out[-1][1] = (out[-1][1] + ' ' + text).strip() if out[-1][2] else text
                out[-1][2] = True
            elif code.strip():
                said = (said + ' ' + text).strip()
            else:
                said = text
            continue
        if token.isspace():
            if '\n' in token and not code.strip():
                last_line = False
            code += ' '
            continue
        depth += {'(': 1, ')': -1}.get(token, 0)
        if token == mark and depth == 0:
            out.append([re.sub(r'\s+', ' ', code).strip(), said, False])
            code, said, last_line = '', '', True
        else:
            code += token
            last_line = False
    if code.strip():
        out.append([re.sub(r'\s+', ' ', code).strip(), said, False])
    return [(text, doc) for text, doc, _ in out]


def may_be_null(name, doc):
    for s in sentences(doc):
        if 'NULL' not in s:
            continue
        clause = r'(?:^|; |: )%s\b' % name
        if re.search(r'\b%s\b(?:,? (?:and )?\w+)* may be NULL' % name, s) or \
                re.search(clause + r'[^;]*?(?:; it|, which) may be NULL', s) or \
                re.search(clause + r'[^;]*?\b(?:and|or) (?:may be|is) NULL', s) or \
                re.search(clause + r'[^.]*?; NULL ', s) or \
                re.search(r'\bIf %s is NULL\b' % name, s) or \
                re.search(r'\bNULL is accepted', s):
            return True
    return False


def errors_of(doc):
    """TCR_E_RANGE (an option): the statuses that a comment names, with the reason in brackets."""
    out = {}
    text = ' '.join(doc.split())
    for found in re.finditer(r'\b(TCR_E_[A-Z0-9_]+)\b', text):
        when = ''
        rest = text[found.end():]
        if rest.startswith(' ('):
            depth = 0
            for i, letter in enumerate(rest):
                depth += {'(': 1, ')': -1}.get(letter, 0)
                if letter == ')' and depth == 0:
                    when = rest[2:i]
                    break
        out.setdefault(found.group(1), when)
        if when and not out[found.group(1)]:
            out[found.group(1)] = when
    return [{'status': k, 'when': v} for k, v in out.items()]


# ---- The whole -----------------------------------------------------------------------------------

def header_lists():
    with open(os.path.join(ROOT, 'Makefile.am'), encoding='utf-8') as file:
        text = file.read().replace('\\\n', ' ')
    out = {}
    for library, (_, variable) in LIBRARIES.items():
        for path in re.search(r'^%s =(.*)$' % variable, text, re.M).group(1).split():
            out[os.path.basename(path)] = library
    return out


def in_order(names):
    """Headers with what they include first."""
    out = []

    def visit(name):
        if name in out or name not in names:
            return
        with open(os.path.join(HERE, name), encoding='utf-8') as file:
            for other in re.findall(r'#include <tipcrest/(.*?)>', file.read()):
                visit(other)
        out.append(name)
    for name in sorted(names):
        visit(name)
    return out


def version():
    with open(os.path.join(ROOT, 'configure.ac'), encoding='utf-8') as file:
        return re.search(r'AC_INIT\(\[tipcrest\], \[(.*?)\]', file.read()).group(1)


def describe():
    api = Api()
    lists = header_lists()
    for name in in_order(lists):
        api.read(os.path.join(HERE, name), lists[name])
    api.finish()
    libraries = {}
    for library, (link, _) in LIBRARIES.items():
        libraries[library] = {'link': link, 'pkg_config': link,
                              'headers': [h['name'] for h in api.headers if h['library'] == library]}
    return {'format': 1, 'name': 'tipcrest', 'version': version(), 'libraries': libraries,
            'headers': api.headers, 'order': api.items, 'constants': api.constants,
            'enums': api.enums, 'structs': api.structs, 'objects': api.opaque,
            'callbacks': api.callbacks, 'functions': api.functions}


def main():
    parser = argparse.ArgumentParser(description='Describes the public headers as JSON.')
    parser.add_argument('-o', metavar='FILE', help='write FILE, whole or not at all')
    call = parser.parse_args()
    try:
        text = json.dumps(describe(), indent=1, ensure_ascii=False) + '\n'
    except Wrong as wrong:
        sys.exit('api.py: ' + str(wrong))
    if not call.o:
        sys.stdout.write(text)
        return
    with open(call.o + '.new', 'w', encoding='utf-8') as file:
        file.write(text)
    os.replace(call.o + '.new', call.o)


if __name__ == '__main__':
    main()
