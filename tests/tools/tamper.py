#!/usr/bin/env python3
"""Changes a signed record at every entry, in every way that verify must find, and counts what it does not find.

The program makes its demonstration, the decisions are signed line by line, and then, for each entry of that record:
  digit     a digit of it is made another
  removed   it is taken out
  doubled   it stands there twice
  swapped   it and the next one change places
  put in    an entry of the record before stands before it, numbered to fit and with a chain value that fits
  moved     the signature of the record before stands in its place
  older     the record is cut before it, as an older copy is; the data folder's note names the end
  anew      it is another, and all chain values and seals behind it are reckoned anew, as a forger would; the note names the end
  alone     cut before it and nothing names the end: no fault, but the words that this cannot be seen
  forged    as anew, and no note: no fault, but the words that a seal without a key does not prove who signed
Chain values are reckoned here by themselves, after the head of the record: this is a second opinion on the program's.

example: tamper.py target/release/asfound
"""
import argparse, hashlib, json, os, random, re, shutil, subprocess, sys, tempfile

TAIL = "A missing tail cannot be seen"
NO_KEY = "it does not prove who signed"


def chain_of(before, data):
    return hashlib.sha256(before.encode() + data).hexdigest()[:16]


class Record:
    """A record's head and entries, each with its bytes up to its chain line, and its chain value."""

    def __init__(self, data):
        begin = data.index(b"\nentries:\n") + len(b"\nentries:\n")
        self.head = data[:begin]
        starts = [begin + m.start() for m in re.finditer(rb"^- entry: ", data[begin:], re.M)] + [len(data)]
        self.entries = []
        for one, end in zip(starts, starts[1:]):
            whole = data[one:end]
            at = whole.rindex(b"  chain: ")
            self.entries.append((whole[:at], whole[at:].split(b'"')[1].decode()))

    def check(self):
        """The chain as the head of the record says; a wrong program or a wrong reading of the head ends here."""
        before = hashlib.sha256(self.head).hexdigest()[:16]
        for number, (data, chain) in enumerate(self.entries, 1):
            before = chain_of(before, data)
            if before != chain:
                sys.exit(f"tamper: the chain of entry {number} is not as the head of the record says")

    def text(self, entries=None):
        entries = self.entries if entries is None else entries
        return self.head + b"".join(data + b'  chain: "' + chain.encode() + b'"\n' for data, chain in entries)

    def before(self, place):
        return self.entries[place - 1][1] if place else hashlib.sha256(self.head).hexdigest()[:16]

    def anew(self, place, data):
        """The record with another entry at `place`, and everything behind it reckoned to fit."""
        entries, before = self.entries[:place], self.before(place)
        for one in [data] + [data for data, _ in self.entries[place + 1:]]:
            if b"\n  kind: sign\n" in one:
                so_far = self.text(entries)
                one = re.sub(rb"\n  length: \d+", b"\n  length: %d" % len(so_far), one)
                one = re.sub(rb'\n  sha256: "\w+"', b'\n  sha256: "%s"' % hashlib.sha256(so_far).hexdigest().encode(), one)
            before = chain_of(before, one)
            entries = entries + [(one, before)]
        return self.text(entries)


def other_digit(data, seed):
    places = [m.start() for m in re.finditer(rb"\d", data)]
    at = random.Random(seed).choice(places)
    digit = str((int(chr(data[at])) + 1) % 10).encode()
    return data[:at] + digit + data[at + 1:]


def numbered(data, number):
    return re.sub(rb"^- entry: \d+", b"- entry: %d" % number, data)


def changes(record, earlier):
    """Kind, entry, the spoilt record, whether a note names the end, and what must be said."""
    signed = next(data for data, _ in earlier.entries if b"\n  kind: sign\n" in data)
    entries = record.entries
    for place, (data, chain) in enumerate(entries):
        number, all_but = place + 1, entries[:place] + entries[place + 1:]
        yield "digit", number, record.text(entries[:place] + [(other_digit(data, number), chain)] + entries[place + 1:]), False, None
        yield "doubled", number, record.text(entries[:place] + [entries[place]] + entries[place:]), False, None
        stranger = numbered(earlier.entries[place % len(earlier.entries)][0], number)
        fitting = (stranger, chain_of(record.before(place), stranger))
        yield "put in", number, record.text(entries[:place] + [fitting] + entries[place:]), False, None
        moved = (signed, chain_of(record.before(place), signed))
        yield "moved", number, record.text(entries[:place] + [moved] + entries[place + 1:]), False, None
        if number < len(entries):
            yield "removed", number, record.text(all_but), False, None
            yield "swapped", number, record.text(entries[:place] + [entries[place + 1], entries[place]] + entries[place + 2:]), False, None
        if place:
            yield "older", number, record.text(entries[:place]), True, "the tail was cut off"
            yield "alone", number, record.text(entries[:place]), False, TAIL
        # the last digit of the second: still a moment
        another = re.sub(rb'(\n  at: "[-0-9T:]*)(\d)', lambda m: m[1] + b"%d" % ((int(m[2]) + 1) % 10), data, count=1)
        forged = record.anew(place, another)
        yield "anew", number, forged, True, "the record was replaced"
        yield "forged", number, forged, False, NO_KEY


class Program:
    def __init__(self, path, data):
        self.path, self.data = path, data

    def run(self, *words, typed=""):
        return subprocess.run([self.path, "--data", self.data, *words], input=typed, capture_output=True, text=True)

    def verify(self, files):
        return json.loads(self.run("verify", "--json", *files).stdout)["records"]


class Blind:
    """A verify that finds nothing and says nothing: with it every kind must be counted as not found."""

    def verify(self, files):
        return [{"fine": True, "faults": [], "not_seen": []} for _ in files]


def demonstration(program):
    """The present record of the demonstration, its decisions signed, and the one before it."""
    program.run("demo", "--typed")
    folder = os.path.join(program.data, "demo/rotors/DEMO-1")
    names = sorted(name for name in os.listdir(folder) if name.endswith("-overhaul.yaml"))
    inspection = "DEMO-1/" + names[-1][:-len(".yaml")]
    said = program.run("resume", inspection, "--plain", typed="yes\n" * 8 + "sign\n").stdout
    records = [Record(open(os.path.join(folder, name), "rb").read()) for name in names]
    if b"\n  kind: sign\n" not in records[-1].entries[-1][0]:
        sys.exit(f"tamper: the decisions were not signed\n{said[-2000:]}")
    return records[-1], records[-2]


def is_found(kind, said, wanted):
    if kind in ("alone", "forged"):
        return said["fine"] and any(wanted in line for line in said["not_seen"])
    return not said["fine"] and (wanted is None or any(wanted in line for line in said["faults"]))


def missed(program, all_changes, last, base):
    """How often each kind was tried, and each that was not found."""
    tried, lost, batch = {}, [], []
    note = f'# asfound note of a record\'s last entry\nformat: 1\nentry: {last[0]}\nchain: "{last[1]}"\n'

    def flush():
        for (kind, number, wanted, _), said in zip(batch, program.verify([path for *_, path in batch])):
            tried[kind] = tried.get(kind, 0) + 1
            if not is_found(kind, said, wanted):
                lost.append(f"{kind} at entry {number}: {'no fault' if said['fine'] else said['faults'][:2]}")
        batch.clear()
        shutil.rmtree(base)

    for count, (kind, number, text, noted, wanted) in enumerate(all_changes):
        folder = os.path.join(base, str(count))
        os.makedirs(os.path.join(folder, "record"))
        path = os.path.join(folder, "record.yaml")
        with open(path, "wb") as file:
            file.write(text)
        if noted:
            with open(os.path.join(folder, "record", "last.yaml"), "w") as file:
                file.write(note)
        batch.append((kind, number, wanted, path))
        if len(batch) == 200:
            flush()
    if batch:
        flush()
    return tried, lost


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", help="the program")
    parser.add_argument("--self-test", action="store_true", help="with a verify that finds nothing: each kind must be missed")
    a = parser.parse_args()
    scratch = tempfile.mkdtemp(prefix="tamper-")
    try:
        program = Program(os.path.abspath(a.program), os.path.join(scratch, "data"))
        record, earlier = demonstration(program)
        record.check()
        # a note names the end of a record of its own data folder only, so they are spoilt inside it
        judge_data = os.path.join(scratch, "spoilt")
        judge = Blind() if a.self_test else Program(program.path, judge_data)
        whole = os.path.join(scratch, "whole.yaml")
        with open(whole, "wb") as file:
            file.write(record.text())
        untouched = judge.verify([whole])[0]
        if not untouched["fine"]:
            sys.exit(f"tamper: the untouched record has faults: {untouched['faults'][:3]}")
        last = (len(record.entries), record.entries[-1][1])
        tried, lost = missed(judge, changes(record, earlier), last, os.path.join(judge_data, "rotors"))
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    for line in lost[:20] if not a.self_test else []:
        print(line)
    count = sum(tried.values())
    good = len(lost) == count if a.self_test else not lost
    print(f"{count} changes at {len(record.entries)} entries, {len(lost)} not borne out: " + ", ".join(f"{kind} {n}" for kind, n in tried.items()))
    print(json.dumps({"tool": "tamper", "entries": len(record.entries), "tried": tried, "missed": len(lost), "good": good}))
    sys.exit(0 if good and len(tried) == 10 else 1)


if __name__ == "__main__":
    main()
