"""Reckons random cases anew with other libraries and compares them with `asfound reckon NAME - --json`.

    pip install -r tests/outside/requirements.txt
    python3 tests/outside/compare.py target/debug/asfound [NAME ...]

Prints the largest relative deviation of each reckoning and the figure it was found at. Exit 1 when one is above 1e-9, when
a case is refused that should not be, or when the program has a reckoning that nothing here recomputes. The cases are the
same on every run.
"""
import json
import pathlib
import random
import subprocess
import sys

sys.dont_write_bytecode = True  # leaves nothing in the tree
sys.path.insert(0, str(pathlib.Path(__file__).parent))

import exact_cases  # noqa: E402
import line_cases  # noqa: E402
import other_cases  # noqa: E402
import shape_cases  # noqa: E402
import statistics_cases  # noqa: E402
from meter import Meter, Refused, run  # noqa: E402

LIMIT = 1e-9
COUNT = 200
CASES = statistics_cases.CASES | shape_cases.CASES | line_cases.CASES | exact_cases.CASES | other_cases.CASES


def compare(program, name):
    """All cases of one reckoning."""
    meter = Meter(name)
    rng = random.Random(f"asfound {name}")
    for _ in range(COUNT):
        inputs, check = CASES[name](rng)
        meter.case = inputs
        meter.cases += 1
        try:
            check(run(program, name, inputs), meter)
        except Refused as refusal:
            meter.note(float("inf"), "refused", str(refusal), "an answer")
    return meter


def main():
    program, chosen = sys.argv[1], sys.argv[2:]
    listed = subprocess.run([program, "reckon", "--json"], capture_output=True, text=True, check=True)
    # an older number of one is not the one that its name calls
    known = list(dict.fromkeys(row["name"] for row in json.loads(listed.stdout)))
    unread = [name for name in known if name not in CASES]
    bad = count = 0
    largest = 0.0
    for name in chosen or [name for name in known if name in CASES]:
        meter = compare(program, name)
        fine = meter.largest <= LIMIT
        bad += not fine
        count += 1
        largest = max(largest, meter.largest)
        print(f"{name:20} {meter.cases:4} cases {meter.figures:6} figures  largest deviation {meter.largest:.1e}")
        if not fine:
            print(f"{name:20} FAILED: {meter.where}")
    for name in unread:
        print(f"{name:20} FAILED: nothing recomputes it")
    print(f"{count - bad} passed, {bad + len(unread)} failed, largest deviation {largest:.1e}")
    return 1 if bad or unread else 0


if __name__ == "__main__":
    sys.exit(main())
