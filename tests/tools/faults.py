#!/usr/bin/env python3
"""Runs one of the fault tools in its short form against the program, on a folder with one record in the middle of its work.

Usage: faults.py kill9|kill9-stretched|inject|crashsim|abuse BINARY [more arguments for the tool]
"""
import os, pathlib, shlex, subprocess, sys, tempfile

import record

HERE = pathlib.Path(__file__).parent
# from home into the record, at its second figure, with the gauge in hand
REACH = "wait:GO.ON 1 wait:Enter.take Esc wait:Enter.choose 2 wait:which.dial 2 wait:D2.in.hand"
FIGURES = "text:0.228 Enter text:0.020 Enter text:0.230 Enter text:0.022 Enter text:0.230 Enter text:0.020 Enter text:0.224 Enter"
TWO = "text:0.228 Enter text:.02 Enter"
QUIT = "C-q"
SAVED = ["--saved", r"(\d+) saved"]


def arguments(tool, binary):
    """The tool's file and its arguments before the command."""
    check = ["--check", f"ASFOUND_DATA={{dir}} {shlex.quote(binary)} check"]
    around = ["--reach", REACH, "--quit", QUIT, *SAVED, *check]
    taking = ["--keys", FIGURES, *around]
    return {
        "kill9": ("kill9.py", [*taking, "--runs", "60", "--reopen"]),
        "kill9-stretched": ("kill9.py", [*taking, "--runs", "60", "--reopen", "--stretch", "2"]),
        "inject": ("inject.py", ["--keys", TWO, *around, "--most", "2"]),
        "crashsim": ("crashsim.py", ["--keys", f"{REACH} {TWO} {QUIT}", *SAVED, *check, "--limit", "8"]),
        "abuse": ("tui_abuse.py", ["--quit", QUIT, "--reach", REACH, "--repeat", "2"]),
    }[tool]


def main():
    tool, binary = sys.argv[1], os.path.abspath(sys.argv[2])
    with tempfile.TemporaryDirectory() as base:
        folder = os.path.join(base, "one")
        record.make(binary, folder)
        file, given = arguments(tool, binary)
        command = [sys.executable, str(HERE / file), *given, *sys.argv[3:], "--template", folder, "--env", "ASFOUND_DATA={dir}",
                   "--", binary]
        return subprocess.run(command).returncode


if __name__ == "__main__":
    sys.exit(main())
