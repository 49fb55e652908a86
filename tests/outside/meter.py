"""How far the program's figures are from the ones reckoned here."""
import json
import math
import subprocess
from fractions import Fraction


class Refused(Exception):
    """The program did not reckon a case that it should."""


def run(program, name, inputs):
    """The JSON answer of `asfound reckon NAME - --json` for these inputs."""
    done = subprocess.run([program, "reckon", name, "-", "--json"], input=json.dumps(inputs), capture_output=True, text=True)
    if done.returncode != 0:
        raise Refused(f"{name} {json.dumps(inputs)}: exit {done.returncode}, {done.stderr.strip()}")
    return json.loads(done.stdout)


def refused(program, name, inputs):
    """The exit code where no answer is expected."""
    done = subprocess.run([program, "reckon", name, "-", "--json"], input=json.dumps(inputs), capture_output=True, text=True)
    return done.returncode


def figure(answers, key):
    """An exact figure of the answer: a decimal string, or the fraction beside a number."""
    if key + "_exact" in answers:
        return Fraction(answers[key + "_exact"])
    value = answers[key]
    if not isinstance(value, str):
        raise TypeError(f"{key} is {value!r}, expected a string with all digits")
    return Fraction(value)


class Meter:
    """Collects deviations of one reckoning; `case` says where the largest one was."""

    def __init__(self, name):
        self.name, self.cases, self.figures, self.largest, self.where = name, 0, 0, 0.0, ""
        self.case = None

    def note(self, deviation, what, got, want):
        self.figures += 1
        if not deviation <= self.largest:  # also when it is no number
            self.largest = deviation if math.isfinite(deviation) else math.inf
            self.where = f"{what}: program {got!r}, here {want!r}; {json.dumps(self.case)}"

    def number(self, what, got, want, scale=0.0):
        """A computed figure; `scale` is the size below which it is made of differences of larger ones."""
        if got is None or not isinstance(got, (int, float)) or isinstance(got, bool):
            return self.note(math.inf, what, got, want)
        size = max(abs(want), scale)
        self.note(0.0 if got == want else abs(got - want) / size if size else math.inf, what, got, want)

    def angle(self, what, got, want, tolerance=1.0):
        """A direction in degrees from 0 up to 360; deviations count as parts of `tolerance` times 360 degrees."""
        if got is None or not 0 <= got < 360:
            return self.note(math.inf, what, got, want)
        off = (got - want + 180) % 360 - 180
        self.note(abs(off) / 360 / tolerance, what, got, want % 360)

    def exact(self, what, answers, key, want):
        """An exact figure: not a digit may be off."""
        try:
            got = figure(answers, key)
        except (KeyError, TypeError, ValueError) as fault:
            return self.note(math.inf, what, repr(fault), str(want))
        self.note(0.0 if got == want else max(1.0, abs(float(got - want))), what, str(got), str(want))

    def word(self, what, got, want):
        """A word, a count, yes or no."""
        self.note(0.0 if got == want else math.inf, what, got, want)

    def absent(self, what, answers, key):
        """No value, and why beside it."""
        ok = answers.get(key, 0) is None and isinstance(answers.get(key + "_why"), str)
        self.note(0.0 if ok else math.inf, what, answers.get(key, "no such key"), "null, and why")
