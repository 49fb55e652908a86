"""Loads `asfound export` into DuckDB by assets/export/duckdb.sql and compares it with what the records' files say.

    pip install -r tests/outside/requirements.txt
    python3 tests/outside/export.py target/debug/asfound

The records are the demonstration's with the mark of the invented taken out, in a scratch folder. Counted and summed are the
files' lines, without the program. Exit 1 when the engine refuses a row or a figure differs.
"""
import decimal
import os
import pathlib
import re
import subprocess
import sys
import tempfile

import duckdb

SQL = pathlib.Path(__file__).parents[2] / "assets/export/duckdb.sql"
TABLES = ("inspections", "entries", "readings", "characteristics", "findings", "reckoned")


def records(program, scratch):
    """A data folder with three records of a rotor that passes for a real one; the texts of the records."""
    subprocess.run([program, "--data", scratch, "demo", "--typed"], check=True, stdout=subprocess.DEVNULL)
    folder = scratch / "demo"
    for file in folder.rglob("*.yaml"):
        file.write_text(file.read_text().replace("\ninvented: yes\n", "\n"))
    return folder, [file.read_text() for file in sorted(folder.glob("rotors/*/2*.yaml"))]


def load(program, folder, scratch):
    """The tables in an engine of their own."""
    for table in TABLES:
        with open(scratch / f"{table}.ndjson", "wb") as out:
            subprocess.run([program, "--data", folder, "export", table], check=True, stdout=out)
    os.chdir(scratch)
    engine = duckdb.connect()
    engine.execute(SQL.read_text())
    return engine


def main(program):
    """Loads, counts, sums."""
    program = str(pathlib.Path(program).resolve())
    home = os.getcwd()
    with tempfile.TemporaryDirectory() as scratch:
        scratch = pathlib.Path(scratch)
        folder, texts = records(program, scratch)
        engine = load(program, folder, scratch)
        one = lambda query: engine.execute(query).fetchone()[0]  # noqa: E731
        count = lambda pattern: sum(len(re.findall(pattern, text, re.M)) for text in texts)  # noqa: E731
        taken = [figure for text in texts for figure in re.findall(r"^  taken: (-?[\d.]+) mm$", text, re.M)]
        cases = {
            "inspections": (one("SELECT count(*) FROM inspections"), len(texts)),
            "entries": (one("SELECT count(*) FROM entries"), count(r"^- entry: ")),
            "readings": (one("SELECT count(*) FROM readings"), count(r"^  kind: reading$")),
            "findings": (one("SELECT count(*) FROM findings"), count(r"^  kind: finding$")),
            "unbalances reckoned": (
                one("SELECT count(*) FROM reckoned WHERE step = 'balance/report' AND reckoning = 'unbalance/1'"),
                sum("step: balance/report" in text for text in texts),
            ),
            "lengths taken": (one("SELECT sum(taken) FROM readings WHERE unit = 'mm'"), sum(map(decimal.Decimal, taken))),
            "last chains": (
                one("SELECT string_agg(chain, ' ' ORDER BY begun) FROM entries JOIN inspections i USING (file) "
                    "WHERE entry = i.entries"),
                " ".join(re.findall(r'^  chain: "(\w+)"', text, re.M)[-1] for text in texts),
            ),
            "in Parquet": (one("SELECT count(*) FROM read_parquet('entries-parquet/**/*.parquet')"), count(r"^- entry: ")),
        }
        os.chdir(home)
    wrong = {name: pair for name, pair in cases.items() if pair[0] != pair[1]}
    for name, (found, expected) in wrong.items():
        print(f"{name}: {found}, the files say {expected}")
    print(f"{len(TABLES)} tables, {cases['entries'][0]} entries, {len(cases)} cases compared, {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
