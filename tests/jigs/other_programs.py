"""Opens every file of fixtures in other programs: a slicer for STL and 3MF, a CAD program for STEP.

`python -m tests.jigs.other_programs [KIND…] [--plan N] [--segments 36]` wants PrusaSlicer and
FreeCAD, both in Debian, and no screen. Without `--plan` it takes a plain ring of wedges with words
on it. The slicer must call every mesh manifold and slice it without a warning or a repair; the CAD
program must find as many valid solids as the fixture has bodies, of its volume in mm³, by name.
Not part of the suite, which reads all files by other libraries.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

import jigs
from jigs.base import Fixture
from jigs.export import files
from rosette.plan import Plan
from tests.jigs.plans import case_of
from tests.jigs.trays import plan as ring_plan

SLICER, CAD = "prusa-slicer", "freecadcmd"
SETTINGS = ("--layer-height", "0.2", "--nozzle-diameter", "0.4", "--filament-diameter", "1.75")
COMPLAINTS = re.compile(r"warning|error|repair|outside|empty|unsupported|fail|invalid", re.I)
AUTOMATIC = re.compile(r"^\d+ => |^\[.*\[trace\]|^Slicing result exported")
READER = """
import json, os
import FreeCAD, Import, Part
path = os.environ["STEP"]
shape = Part.read(path)
document = FreeCAD.newDocument("read")
Import.insert(path, document.Name, merge=False, useLinkGroup=False)
solids = [dict(valid=one.isValid(), volume=one.Volume) for one in shape.Solids]
print("READ " + json.dumps(dict(solids=solids, names=[one.Label for one in document.Objects])))
"""


def main(words: Sequence[str]) -> int:
    """Look at every fixture; print a line for each and what is wrong; 1 where anything is."""
    parser = argparse.ArgumentParser(prog="other_programs")
    parser.add_argument("kinds", nargs="*", default=[], metavar="KIND")
    parser.add_argument("--plan", type=int)
    parser.add_argument("--segments", type=int, default=36)
    asked = parser.parse_args(words)
    plan = (
        ring_plan(segments=asked.segments, text="true")
        if asked.plan is None
        else case_of(asked.plan).plan
    )
    wrong = 0
    for fixture in jigs.fixtures(plan, jigs.check_kinds(asked.kinds or jigs.KINDS)):
        found = [*looked_at(fixture, plan)]
        wrong += len(found)
        print(f"{fixture.name}: {len(found) or 'nothing'} wrong", flush=True)
        for one in found:
            print(f"    {one}", flush=True)
    return int(wrong > 0)


def looked_at(fixture: Fixture, plan: Plan) -> Iterator[str]:
    """What is wrong with any file of a fixture."""
    bed = plan.fixtures.bed
    with tempfile.TemporaryDirectory() as folder:
        for name, data in files(fixture, bed).items():
            path = Path(folder) / name
            path.write_bytes(data)
            if path.suffix == ".step":
                yield from (f"{name}: {one}" for one in opened(path, fixture))
            else:
                yield from (f"{name}: {one}" for one in sliced(path, bed))


def sliced(path: Path, bed: tuple[float, float]) -> Iterator[str]:
    """What the slicer has against a mesh, or against printing it on a bed of that size."""
    told = _run([SLICER, "--info", str(path)])
    answers = re.findall(r"^manifold = (\w+)", told, re.MULTILINE)
    if not answers or set(answers) != {"yes"}:
        yield f"manifold: {answers}"
    if "repaired" in told or "open_edges" in told:
        yield "needs repair"
    lowest = re.findall(r"^min_z = (\S+)", told, re.MULTILINE)
    if any(abs(float(one)) > 1e-4 for one in lowest):
        yield f"stands at {lowest} above the bed"
    code = path.with_suffix(".gcode")
    width, depth = bed
    shape = f"0x0,{width:g}x0,{width:g}x{depth:g},0x{depth:g}"
    told = _run([SLICER, "-g", str(path), "--output", str(code), "--bed-shape", shape, *SETTINGS])
    lines = [one for one in told.splitlines() if one and not AUTOMATIC.search(one)]
    yield from (one for one in lines if COMPLAINTS.search(one))
    if not code.exists() or code.stat().st_size < 1000:
        yield f"was not sliced: {lines}"


def opened(path: Path, fixture: Fixture) -> Iterator[str]:
    """What the CAD program finds otherwise than the fixture has it."""
    with tempfile.NamedTemporaryFile("w", suffix=".py", delete=False) as script:
        script.write(READER)
    told = _run([CAD, script.name], STEP=str(path))
    os.unlink(script.name)
    answer = re.search(r"READ (\{.*\})", told)
    if answer is None:
        yield f"was not opened: {told[-300:]}"
        return
    found = json.loads(answer[1])
    solids, parts = found["solids"], fixture.parts()
    bodies = sum(len(part.places) for part in parts)
    if len(solids) != bodies or not all(one["valid"] for one in solids):
        yield f"{len(solids)} solids instead of {bodies}, valid: {[one['valid'] for one in solids]}"
    volume = sum(one["volume"] for one in solids)
    if abs(volume - fixture.volume()) > 1e-6 * fixture.volume():
        yield f"holds {volume} mm³ instead of {fixture.volume()}"
    titles = {fixture.title, *(part.title for part in parts if bodies > 1)}
    missing = titles - set(found["names"])
    if missing:
        yield f"has no part called {sorted(missing)}"


def _run(words: list[str], **more: str) -> str:
    """What a program tells, on either stream."""
    run = subprocess.run(
        words,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env={**os.environ, **more},
        timeout=900,
        check=False,
    )
    text = run.stdout.decode("utf-8", "replace")
    return text if run.returncode == 0 else f"{text}\nerror: it ended with {run.returncode}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
