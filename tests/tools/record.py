"""A data folder with one record in the middle of its work, for the tools beside this file: the filled-in demonstration without
its earlier inspections, its present record cut behind the first reading of one step. Usage: record.py BINARY FOLDER"""
import os, pathlib, re, shutil, subprocess, sys, tempfile

STEP = "bush.ts/clearance"


def make(binary, folder):
    """Makes the folder, which must not be there; the record's id."""
    with tempfile.TemporaryDirectory() as base:
        env = {**os.environ, "ASFOUND_DATA": base}
        subprocess.run([binary, "demo", "--typed"], env=env, check=True, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        shutil.copytree(pathlib.Path(base, "demo"), folder)
    records = sorted(pathlib.Path(folder, "rotors", "DEMO-1").glob("*-overhaul.yaml"))
    for former in records[:-1]:
        former.unlink()
    whole = records[-1].read_bytes()
    # a record cut after any entry is an earlier state of itself
    entries = [m.start() for m in re.finditer(rb"^- entry: ", whole, re.M)] + [len(whole)]
    kept = next(end for start, end in zip(entries, entries[1:])
                 if b"\n  kind: reading\n" in whole[start:end] and f"\n  step: {STEP}\n".encode() in whole[start:end])
    records[-1].write_bytes(whole[:kept])
    # the demonstration was filled in the day before: no question after a break comes between the tools and their figures
    pathlib.Path(folder, "settings.yaml").write_text("format: 1\nbreak hours: 48\n")
    return f"DEMO-1/{records[-1].stem}"


if __name__ == "__main__":
    print(make(os.path.abspath(sys.argv[1]), sys.argv[2]))
