#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""join.py MODULE OUT: joins the page's files and the WebAssembly module into one HTML file.

The module goes in as base64 of its gzip, script and style inline, and a content policy lets the browser
run these alone: by their hashes, with no request to anywhere.
"""

import base64
import gzip
import hashlib
import html
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).resolve().parent
SCRIPTS = ("words.js", "engine.js", "widgets.js", "picture.js", "map.js", "sets.js", "teach.js", "planner.js", "consult.js",
           "main.js")


def read(name):
    """A file of the page without comments and indentation, which are for whoever reads the sources."""
    text = (HERE / name).read_text(encoding="utf-8")
    if name != "page.html":
        text = re.sub(r"/\*.*?\*/", "", text, flags=re.S)
        text = "".join(line.strip() + "\n" for line in text.splitlines() if line.strip())
    return text


def word(name):
    """A text of the page that stands in it before any script runs, out of its table."""
    return html.escape(re.search(rf"^    {name}: '([^']*)',$", (HERE / "words.js").read_text(encoding="utf-8"), re.M).group(1))


def hash_of(text):
    """The source expression of an inline script or style (Content Security Policy, level 3)."""
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"


def main(module, out):
    """Writes the page."""
    script = '"use strict";\n' + "".join(read(name) for name in SCRIPTS)
    script = script.replace("</script", "<\\/script")
    style = read("style.css")
    packed = gzip.compress(pathlib.Path(module).read_bytes(), 9, mtime=0)
    policy = (f"default-src 'none'; script-src {hash_of(script)} 'wasm-unsafe-eval'; style-src {hash_of(style)}; "
              "worker-src blob:; base-uri 'none'; form-action 'none'")
    page = read("page.html")
    for mark, text in (("@LANG@", word("lang")), ("@TITLE@", word("title")), ("@STARTING@", word("starting")),
                       ("@POLICY@", policy), ("@STYLE@", style), ("@SCRIPT@", script),
                       ("@MODULE@", base64.b64encode(packed).decode())):
        head, tail = page.split(mark)
        page = head + text + tail
    pathlib.Path(out).write_text(page, encoding="utf-8")
    print(f"The page takes {len(page.encode()) / 1000:.0f} kB, the library {len(packed) * 4 / 3000:.0f} of these.")


if __name__ == "__main__":
    main(*sys.argv[1:])
