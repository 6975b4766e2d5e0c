#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The 12/11/10 rule on a practice head: the figures of the project's README, and its pictures.

    python3 twelve_eleven_ten.py [FOLDER WITH THE PRACTICE HEAD [FOLDER FOR PICTURES]]

Each cell below, between lines of # %%, can be run by itself in an editor that knows notebooks.
"""

# %% The two sets differ in the rule alone.
import pathlib
import sys

import numpy as np

import tipcrest

here = pathlib.Path(__file__).resolve().parent
head = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else here.parent / "practice-head"
folder = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else None
layered = tipcrest.Set.read(head / "layered.yaml")
equal = tipcrest.Set.read(head / "equal.yaml")

# %% How even are they, with the eye open and from the artist's seat?
print("evenness                       layered    equal")
checks = [layered.check(), equal.check()]
eyes = [check.left for check in checks]
print("rms, mm                    " + "".join(f"{eye.rms_mm:11.2f}" for eye in eyes))
within = [int(100 * eye.fitted.within_tolerance) for eye in eyes]  # as reports do, rounded down
print("within half a millimetre   " + "".join(f"{share:9} %" for share in within))
print("tips that stick out        " + "".join(f"{len(eye.staggered):11d}" for eye in eyes))
for view in ("open_front", "artist"):
    for layer in ("bottom", "middle", "top"):
        offsets = [eye.figure(f"views.{view}.layer_offset_mm.{layer}") for eye in eyes]
        print(f"{view + ', ' + layer + ', mm':27}" + "".join(f"{offset:+11.2f}" for offset in offsets))

# %% The tips that stick out, and what to do.
eye = eyes[0]
for i in sorted(np.flatnonzero(eye["staggered"]), key=lambda i: -abs(eye["deviation_mm"][i])):
    print(f"{eye.ids[i]}  {eye.words('layer')[i]:7} {eye['deviation_mm'][i]:+.2f} mm: "
          f"{eye['remedy_length_mm'][i]:g} mm leaves {eye['remedy_deviation_mm'][i]:+.2f}")

# %% Whether the rule pays depends on how far apart the layers root.
apart = np.array([0.0, 0.4, 0.8, 1.0, 1.2, 1.6])
lesson = layered.lesson(apart)
print("layers apart, mm  " + "".join(f"{a:6.1f}" for a in apart))
for words, name in [("equal lengths", "equal"), ("12/11/10", "one_less"), ("the best sizes", "best")]:
    print(f"{words:18}" + "".join(f"{rms:6.2f}" for rms in lesson[f"{name}_rms_mm"]))
pays_from = np.ceil(100 * layered.pays_from()) / 100  # as reports do, rounded up
print(f"The rule beats equal lengths from {pays_from:.2f} mm on.")

# %% Why.
print(layered.why().sentences[0])

# %% Which step holds for lashes that vary? A sweep in one call, each step on the same 200 heads.
steps = [0.0, 0.5, 1.0, 1.5, 2.0]
varied = layered.study({"layering.step_mm": steps}, outputs=["fitted.rms_mm"], runs=200)
there = [i for i in range(len(steps)) if not varied.status[i].any()]  # the tray has no half sizes
for i in there:
    rms = varied["fitted.rms_mm"][i]
    print(f"{steps[i]:.0f} mm less a layer: {rms.mean():.2f} mm rms on average, "
          f"95th percentile {np.percentile(rms, 95):.2f}")

# %% Pictures, of which a notebook shows the last of a cell by itself.
pictures = {
    "front": checks[0].picture("front"),
    "lesson": checks[0].picture("lesson"),
    "compare": checks[1].picture("compare", with_check=checks[0]),
    "deviations": checks[1].picture("deviations"),
}
if folder is not None:
    for name, picture in pictures.items():
        picture.save(folder / f"{name}.png")
    print(f"{len(pictures)} pictures in {folder}")
pictures["front"]
