#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs.py SOURCE API.json FIELDS.md FOLDER: the documentation as HTML.

Chapters are README.md, doc/*.md and the reference of set files, which build-aux/fields.c prints from the
table of fields; behind them stands a page for each public header, from tipcrest-api.json. Links between
Markdown files become links between pages. Ends with an error where a link leads nowhere, or where the
reference of C lacks something: a function without a sentence, a double that a function takes without
unit or range, one of a struct without a unit ("no unit" is one).
"""

import html
import json
import os
import posixpath
import re
import shutil
import sys

import markdown

# Page, what the list of contents calls it, and the Markdown that it is made of.
CHAPTERS = [
    ("index", "tipcrest", "README.md"),
    ("embedding", "Embedding in ten minutes", "doc/embedding.md"),
    ("set-files", "Set files", None),
    ("model", "The model", "doc/model.md"),
    ("science", "Sources", "doc/science.md"),
    ("scale", "Studies at scale", "doc/scale.md"),
    ("python", "Python", "examples/python/README.md"),
    ("stability", "What stays", "doc/stability.md"),
    ("api", "The description of the interface", "doc/api.md"),
    ("changelog", "Changes", "CHANGELOG.md"),
]

PAGES = {chapter[0] + ".html" for chapter in CHAPTERS} | {"rules.html"}

STYLE = """
body { margin: 0 auto; max-width: 70rem; padding: 1rem; font: 1rem/1.5 sans-serif; color: #222; background: #fff;
  display: grid; grid-template-columns: 14rem minmax(0, 1fr); gap: 2rem; }
nav { font-size: 0.9rem; } nav ul { list-style: none; padding: 0; } nav li { margin: 0.2rem 0; }
main { min-width: 0; } img { max-width: 100%; } h2 { margin-top: 2.5rem; } h3 { margin-top: 2rem; }
pre { background: #f4f1ec; padding: 0.7rem; overflow-x: auto; } code { font-size: 0.9em; }
table { border-collapse: collapse; display: block; overflow-x: auto; } a { color: #0a5a75; }
th, td { border-bottom: 1px solid #ccc; padding: 0.2rem 0.6rem; text-align: left; vertical-align: top; }
@media (max-width: 45rem) { body { display: block; } }
@media (prefers-color-scheme: dark) { body { color: #ddd; background: #1b1b1b; } pre { background: #2a2723; }
  a { color: #7cc4dd; } th, td { border-color: #444; } }
"""


def escaped(text):
    return html.escape(text, quote=False)


def prose(text):
    """A comment's words: paragraphs; an indented block stays as it is."""
    out = []
    for block in re.split(r"\n\n", text):
        if re.match(r" {2,}", block) or re.search(r"\n {2,}", block):
            out.append("<pre>%s</pre>" % escaped(block))
        elif block.strip():
            out.append("<p>%s</p>" % escaped(block))
    return "\n".join(out)


class Reference:
    """Pages of C, from the description of the interface."""

    def __init__(self, api):
        self.api = api
        self.page = {}
        for kind in ("functions", "structs", "enums", "callbacks", "objects", "constants"):
            for name, item in api[kind].items():
                self.page[name] = page_of(item["header"]) + ".html#" + name

    def linked(self, text, own=None):
        def link(match):
            name = match.group(0)
            where = self.page.get(name)
            return name if where is None or name == own else '<a href="%s">%s</a>' % (where, name)

        return re.sub(r"\b(?:tcr|TCR)_\w+\b", link, text)

    def rows(self, members):
        rows = []
        for m in members:
            limits = [m.get("unit", ""), m.get("range", "")]
            if "default" in m:
                limits.append("default " + str(m["default"]))
            notes = [m.get("direction", "")]
            if m.get("null"):
                notes.append("may be NULL")
            if "length" in m:
                notes.append("length " + str(m["length"]))
            rows.append("<tr><td><code>%s</code></td><td><code>%s</code></td><td>%s</td><td>%s</td><td>%s</td></tr>" % (
                escaped(m["name"]), self.linked(escaped(m["type"])), escaped("; ".join(filter(None, limits))),
                escaped("; ".join(filter(None, notes))), self.linked(escaped(m.get("doc", "")))))
        return ("<table><tr><th>name</th><th>type</th><th>unit and range</th><th>as</th><th>what it is</th></tr>%s</table>"
                % "".join(rows))

    def item(self, kind, name):
        item = self.api[kind][name]
        out = ['<h3 id="%s">%s</h3>' % (name, name)]
        if kind == "constants":
            value = item.get("text") if item.get("value") is None else item["value"]
            out = ['<h3 id="%s">%s = %s</h3>' % (name, name, escaped(str(value)))]
        elif item.get("declaration") and kind != "structs":  # the table below says it all
            out.append("<pre>%s</pre>" % self.linked(escaped(item["declaration"]), name))
        out.append(self.linked(prose(item.get("doc", "") or item.get("group", "")), name))
        members = item.get("parameters") or item.get("fields")
        if members:
            out.append(self.rows(members))
        if item.get("errors"):
            out.append("<p>Errors: %s.</p>" % "; ".join(
                "<code>%s</code>%s" % (self.linked(e["status"]), " (%s)" % escaped(e["when"]) if e["when"] else "")
                for e in item["errors"]))
        return "\n".join(out)

    def header(self, header):
        own = [o for o in self.api["order"]
               if o["header"] == header["name"]]
        return "<h1><code>%s</code></h1><p>Library: %s.</p>%s%s" % (
            header["name"], header["library"], self.linked(prose(header.get("doc", ""))),
            "\n".join(self.item(PLURAL[o["kind"]], o["name"]) for o in own))

    def rules(self):
        """Threads, ownership and errors of the whole interface."""
        top = [h for h in self.api["headers"] if h["name"] == "tipcrest/tipcrest.h"][0]
        owners = ["<tr><td>%s</td><td>%s</td></tr>" % (self.linked(name), self.linked(item.get("free") or ""))
                  for name, item in self.api["objects"].items()]
        made = []
        for name, f in self.api["functions"].items():
            for m in f["parameters"] + [dict(f["returns"], name="what it returns")]:
                if m.get("owner") == "caller":
                    made.append("<tr><td>%s</td><td>%s</td><td>%s</td></tr>" % (
                        self.linked(name), escaped(m["name"]), self.linked(m.get("free") or "")))
        threads = []
        for h in self.api["headers"]:
            said = [s for s in re.split(r"(?<=\.)\s+", h.get("doc", "")) if re.search(r"\bthread", s)]
            if said and h is not top:
                threads.append("<tr><td><a href=\"%s.html\">%s</a></td><td>%s</td></tr>" % (
                    page_of(h["name"]), h["name"], escaped(" ".join(said))))
        statuses = ["<tr><td><code>%s</code></td><td>%s</td></tr>" % (v["name"], escaped(v.get("doc", "")))
                    for v in self.api["enums"]["tcr_status"]["values"]]
        return ("<h1>Threads, ownership and errors</h1>%s<h2 id=\"threads\">Threads</h2><table>%s</table>"
                "<h2 id=\"ownership\">Ownership</h2><table><tr><th>object</th><th>freed with</th></tr>%s</table>"
                "<table><tr><th>call</th><th>the caller frees</th><th>with</th></tr>%s</table>"
                "<h2 id=\"errors\">Errors</h2><table>%s</table>" % (
                    self.linked(prose(top["doc"])), "".join(threads), "".join(owners), "".join(made),
                    "".join(statuses)))

    def gaps(self):
        """What a reader would look for and not find."""
        for name, f in self.api["functions"].items():
            if not f.get("brief"):
                yield "%s: no sentence says what it does" % name
        for kind in ("functions", "callbacks"):
            for name, item in self.api[kind].items():
                for m in item["parameters"]:
                    if m["base"] == "double" and m["direction"] in ("in", "inout"):
                        for what in ("unit", "range"):
                            if not m.get(what):
                                yield "%s: %s has no %s; write %s (unit, range)" % (
                                    name, m["name"], what, m["name"])
        for name, item in self.api["structs"].items():
            for m in item["fields"]:
                if m["base"] == "double" and not m.get("unit"):
                    yield "%s.%s has no unit: write one, or 'no unit'" % (name, m["name"])


PLURAL = {"function": "functions", "struct": "structs", "enum": "enums", "callback": "callbacks",
          "opaque": "objects", "constant": "constants"}


def page_of(header):
    return "c-" + posixpath.basename(header)[:-2].replace("_", "-")


def quoted(source, path):
    """A file of the sources as it stands, so that what is shown is what is tested."""
    with open(os.path.join(source, path), encoding="utf-8") as file:
        return "```c\n%s```" % file.read()


def chapter(source, folder, text, base):
    """Markdown to HTML; links to what is no page lead into files, which holds copies."""
    text = re.sub(r"^<!-- file: (\S+) -->$", lambda m: quoted(source, m.group(1)), text, flags=re.M)
    body = markdown.markdown(text, extensions=["tables", "fenced_code", "toc"], output_format="html")
    pages = {c[2]: c[0] + ".html" for c in CHAPTERS if c[2]}

    def link(match):
        attribute, target = match.group(1), html.unescape(match.group(2))
        if re.match(r"[a-z]+:|#", target) or target in PAGES:
            return match.group(0)
        path, _, anchor = target.partition("#")
        path = posixpath.normpath(posixpath.join(base, path))
        if path in pages:
            return '%s="%s%s"' % (attribute, pages[path], "#" + anchor if anchor else "")
        here = os.path.join(source, path)
        if os.path.isfile(here):
            os.makedirs(os.path.dirname(os.path.join(folder, "files", path)), exist_ok=True)
            shutil.copyfile(here, os.path.join(folder, "files", path))
            return '%s="files/%s"' % (attribute, path)
        return match.group(0)

    return re.sub(r'\b(href|src)="([^"]*)"', link, body)


def frame(title, body, contents):
    return ('<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>%s</title>'
            '<meta name="viewport" content="width=device-width"><style>%s</style></head><body><nav>%s</nav>'
            "<main>%s</main></body></html>\n" % (escaped(title), STYLE, contents, body))


def dead_links(folder):
    ids = {}
    pages = [f for f in sorted(os.listdir(folder)) if f.endswith(".html")]
    for page in pages:
        with open(os.path.join(folder, page), encoding="utf-8") as file:
            ids[page] = file.read()
    anchors = {page: set(re.findall(r'\bid="([^"]*)"', text)) for page, text in ids.items()}
    for page, text in ids.items():
        for target in re.findall(r'\b(?:href|src)="([^"]*)"', text):
            target = html.unescape(target)
            if re.match(r"[a-z]+:", target):
                continue
            path, _, anchor = target.partition("#")
            path = path or page
            if path in anchors:
                if anchor and anchor not in anchors[path]:
                    yield "%s: there is no %s" % (page, target)
            elif not os.path.isfile(os.path.join(folder, path)):
                yield "%s: there is no %s" % (page, target)


def main():
    source, api_path, fields_path, folder = sys.argv[1:]
    with open(api_path, encoding="utf-8") as file:
        reference = Reference(json.load(file))
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)

    headers = reference.api["headers"]
    contents = ["<ul>%s</ul>" % "".join('<li><a href="%s.html">%s</a></li>' % (page, title)
                                        for page, title, _ in CHAPTERS),
                '<p>C</p><ul><li><a href="rules.html">Threads, ownership, errors</a></li>']
    contents += ['<li><a href="%s.html"><code>%s</code></a></li>' % (page_of(h["name"]), posixpath.basename(h["name"]))
                 for h in headers]
    contents = "".join(contents) + "</ul>"

    made = {"rules": ("Threads, ownership and errors", reference.rules())}
    for header in headers:
        made[page_of(header["name"])] = (header["name"], reference.header(header))
    for page, title, path in CHAPTERS:
        with open(os.path.join(source, path) if path else fields_path, encoding="utf-8") as file:
            made[page] = (title, chapter(source, folder, file.read(), posixpath.dirname(path or "")))
    for page, (title, body) in made.items():
        with open(os.path.join(folder, page + ".html"), "w", encoding="utf-8") as file:
            file.write(frame(title, body, contents))

    faults = list(reference.gaps()) + list(dead_links(folder))
    for fault in faults:
        print("docs.py: " + fault, file=sys.stderr)
    print("%d pages in %s, %d faults" % (len(made), folder, len(faults)))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
