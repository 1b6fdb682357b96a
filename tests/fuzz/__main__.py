"""``python3 -m tests.fuzz --seconds 60``: feeds odd input, and keeps each that brings the program down.

    --seconds N     for each kind (60)
    --seed N        of the first input (0); the same seed gives the same inputs
    --kind NAME     one kind alone: design, bytes, settings, autosave, entry, command

An input that is a fault is written to tests/fuzz/kept, where a test feeds it from then on. A kind stops at its fifth.
"""

from __future__ import annotations

import argparse
import hashlib
import random
import resource
import sys
import tempfile
import time
import traceback
from pathlib import Path

from tests.fuzz.input_kinds import KINDS, own_home

KEPT = Path(__file__).parent / "kept"
SLOW = 2.0  # s of processor time: no input may take longer
MOST_FAULTS = 5


def main() -> int:
    """Return 0 where all input was borne, else 1."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--seconds", type=float, default=60.0)
    words.add_argument("--seed", type=int, default=0)
    words.add_argument("--kind", choices=sorted(KINDS))
    taken = words.parse_args()
    bad = 0
    with tempfile.TemporaryDirectory() as name, own_home(Path(name)):
        for kind in [taken.kind] if taken.kind else KINDS:
            bad += run(kind, taken.seed, taken.seconds, Path(name))
    return 1 if bad else 0


def run(kind: str, seed: int, seconds: float, folder: Path) -> int:
    """Feed one kind for some seconds, print what it bore, and return the number of faults."""
    number, faults, slowest, began = seed, 0, 0.0, time.process_time()
    while time.process_time() - began < seconds and faults < MOST_FAULTS:
        raw = KINDS[kind].make(random.Random(number))
        start = time.process_time()
        try:
            KINDS[kind].feed(raw, folder)
            fault = ""
        except Exception:  # noqa: BLE001 (any of them is what is looked for)
            fault = traceback.format_exc()
        took = time.process_time() - start
        slowest = max(slowest, took)
        if took > SLOW:
            fault = fault or f"It took {took:.1f} s."
        if fault:
            faults += 1
            file = KEPT / f"{kind}-{hashlib.sha256(raw).hexdigest()[:12]}"
            file.write_bytes(raw)
            sys.stderr.write(f"{kind}, seed {number}, kept as {file.name}:\n{fault}\n")
        number += 1
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(f"{kind}: {number - seed} inputs, {faults} faults, slowest {slowest:.2f} s, {most:.0f} MB at most\n")
    return faults


if __name__ == "__main__":
    sys.exit(main())
