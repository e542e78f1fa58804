"""What the tests of this folder share: reading a text, naming its mistakes."""

from collections.abc import Callable
from typing import TypeVar

from snugset.files.problems import Problems
from snugset.files.tree import Node, parse

T = TypeVar("T")

ENGINE = """\
snugset: engine/1
name: Barn pump six (invented)
note: Invented for examples.
layout: inline
cylinders: 6
firing-order: [1, 5, 3, 6, 2, 4]
intervals: [120, 120, 120, 120, 120, 120]
running: clockwise
marks: [0, 120, 240]
damper: 7.5 in
rockers: bridged
lifters: hydraulic
ratio: 1.6
camshaft: IVO 12 IVC 48 EVO 52 EVC 10 at seat
stroke: 4.5 in
connecting-rod: 8 in
valves: [E, I, I, E, E, I, I, E, E, I, I, E]
fasteners:
  head:
    kind: stud
    rows: [lower, upper]
    order: ["2", "5", "4", "3", "6", "1"]
    places:
      "1": {x: 0 in, y: 3 in, hole: wet through, length: 4.25 in}
      "2": {x: 2.5 in, y: 3 in, hole: dry blind}
      "3": {x: 127 mm, y: 3 in}
      "4": {x: 0 in, y: 0 in, hole: unknown unknown}
      "5": {x: 2.5 in, y: 0 in, hole: wet blind}
      "6": {x: 5 in, y: 0 in, hole: unknown through}
  cover:
    kind: bolt
    places:
      a: {x: 0 in, y: 0 in}
      b: {x: 4 in, y: 0 in}
"""

SPECS = """\
snugset: specs/1
engine: engines/barn.yaml
note: Invented.
figures:
  stages: {value: "22, 45, 110 lbf·ft", source: leaflet p. 4, assumes: engine oil}
  window: {value: 30..40 thou, source: leaflet p. 9}
  target: {value: 35, source: leaflet p. 9}
  camshaft: {none: yes}
"""

PROCEDURE = """\
snugset: procedure/1
name: Barn pump six
expects: {rockers: bridged, cylinders: 6}
figures:
  stages:
    kind: torque
    form: rising
    unit: lbf·ft
    ask: Torque of each stage?
    plausible: 10..200 lbf·ft
    assumes: Lubricant on the nut threads and faces?
    wrench: wrench
  wrench: {kind: torque, form: window, unit: lbf·ft, ask: Range of the wrench?}
  window: {kind: length, form: window, unit: thou, ask: Preload window?, plausible: 5..120 thou}
  target: {kind: length, unit: thou, ask: Preload aimed for?, within: window}
  camshaft: {kind: camshaft, ask: Camshaft card?, none: Each cylinder at its own dead centre.}
phases:
  - title: Head
    steps:
      - do: lay-gasket
        say: Lay the gasket dry.
        caution: Look down every hole.
        people: 2
      - each: studs
        over: fasteners
        steps:
          - read: depth
            needs: lay-gasket
            meanwhile: yes
            view: map
"""

ANSWERS = """\
snugset: answers/1
procedure: p.yaml
engine: e.yaml
name: Barn pump
start: 2026-11-02T19:04:00+01:00
person: Ada
pace: 1 min
answers:
  - {at: lay-gasket, say: ""}
  - {at: "gap@1I#2", say: 17+18, expect: refused unit}
  - {wait: 9 d}
  - {person: Bea}
  - {at: mark, pick: No}
"""


def told(text: str, read: Callable[[Node, Problems], object] | None = None) -> list[str]:
    """Return every mistake of a file named f, as it is printed."""
    into = Problems()
    node = parse(text, "f", into)
    if node is not None and read is not None:
        read(node, into)
    return [str(problem) for problem in into.items]


def value(text: str, read: Callable[[Node, Problems], T | None]) -> T:
    """Return what a file without mistakes gives."""
    into = Problems()
    node = parse(text, "f", into)
    assert node is not None, into.items
    got = read(node, into)
    assert not into, [str(problem) for problem in into.items]
    assert got is not None
    return got


def changed(text: str, old: str, new: str) -> str:
    """Return the text with one part of it replaced; the part must be there."""
    assert old in text
    return text.replace(old, new, 1)
