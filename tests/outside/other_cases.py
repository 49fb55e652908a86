"""convert and torque with pint, due with dateutil, indication with another way to the distance of two lines."""
import datetime
import math
from fractions import Fraction

import pint
from dateutil.relativedelta import relativedelta
from scipy import optimize

from draw import decimal

UNITS = pint.UnitRegistry()
KINDS = [
    {"mm": "mm", "um": "um", "nm": "nm", "m": "m", "in": "inch", "thou": "thou", "ft": "foot"},
    {"h": "hour", "min": "minute", "s": "second", "d": "day"},
    {"Pa": "Pa", "kPa": "kPa", "MPa": "MPa", "bar": "bar", "mbar": "mbar", "psi": "psi", "kgf/cm2": "kgf/cm**2"},
    {"N": "N", "kgf": "kgf", "lbf": "lbf"},
    {"N m": "N*m", "kgf m": "kgf*m", "lbf ft": "lbf*foot", "lbf in": "lbf*inch"},
    {"kg": "kg", "g": "g", "lb": "pound", "oz": "ounce"},
    {"g mm": "g*mm", "kg m": "kg*m", "oz in": "ounce*inch"},
    {"r/min": "revolution/minute", "rad/s": "radian/second"},
    {"mT": "mT", "T": "T"},
    {"deg": "degree", "rad": "radian"},
    {"degC": "degC", "degF": "degF", "K": "kelvin"},
]


def convert(rng):
    kind = rng.choice(KINDS)
    source, to = rng.choice(list(kind)), rng.choice(list(kind))
    number = decimal(rng, 0.001, 900, 3)
    inputs = {"value": f"{number} {source}", "to": to}
    heat = "degC" in kind
    difference = heat and rng.random() < 0.5
    if difference:
        inputs["difference"] = True

    def check(answer, meter):
        names = {"degC": "delta_degC", "degF": "delta_degF"} if difference else {}
        want = UNITS.Quantity(float(number), names.get(source, kind[source])).to(names.get(to, kind[to])).magnitude
        # a thermometer's scales are shifted: the shift is part of the figure's size
        meter.number("value", float(answer["value"]), want, 300.0 if heat and not difference else 0.0)

    return inputs, check


def torque(rng):
    unit = rng.choice(["N m", "lbf ft", "kgf m"])
    number, bolts = decimal(rng, 5, 300, 1), rng.randint(1, 24)
    stages = [str(x) for x in sorted(rng.sample(range(5, 100, 5), rng.randint(0, 3)))] + ["100"]

    def check(answer, meter):
        full = UNITS.Quantity(float(number), {"N m": "N*m", "lbf ft": "lbf*foot", "kgf m": "kgf*m"}[unit])
        for stage, got in zip(stages, answer["stages"]):
            part = full * (float(stage) / 100)
            for key, to in (("n_m", "N*m"), ("lbf_ft", "lbf*foot")):
                meter.number(key, float(got[key]), part.to(to).magnitude)
        order = answer["order"]
        meter.word("every bolt once", sorted(order), list(range(1, bolts + 1)))
        if bolts % 2 == 0:
            apart = {abs(a - b) for a, b in zip(order[::2], order[1::2])}
            meter.word("opposite in pairs", apart, {bolts // 2})

    return {"value": f"{number} {unit}", "stages": stages, "bolts": bolts}, check


def due(rng):
    start = datetime.date(2024, 1, 1) + datetime.timedelta(rng.randint(0, 30000))
    if rng.random() < 0.3:
        start = rng.choice([datetime.date(2024, 2, 29), datetime.date(2025, 1, 31), datetime.date(2100, 2, 28), datetime.date(2031, 12, 31)])
    inputs = {"date": start.isoformat()}
    which = rng.choice(["hours", "months", "both"])
    if which != "months":
        inputs.update(hours_left=decimal(rng, 0, 20000, 1), hours_per_day=decimal(rng, 0, 24, 1) if rng.random() < 0.9 else "0")
    if which != "hours":
        inputs["months"] = rng.randint(0, 60)

    def check(answer, meter):
        by = {}
        if which != "months" and Fraction(inputs["hours_per_day"]) > 0:
            days = math.floor(Fraction(inputs["hours_left"]) / Fraction(inputs["hours_per_day"]))
            by["by_hours"] = start + relativedelta(days=days)
        if which != "hours":
            by["by_calendar"] = start + relativedelta(months=inputs["months"])
        for key in ("by_hours", "by_calendar"):
            if key in by:
                meter.word(key, answer[key], by[key].isoformat())
            else:
                meter.absent(key, answer, key)
        if not by:
            meter.absent("due", answer, "due")
            return
        first = min(by.values())
        meter.word("due", answer["due"], first.isoformat())
        decided = "both" if list(by.values()).count(first) == 2 else "hours" if by.get("by_hours") == first else "calendar"
        meter.word("decided by", answer["decided_by"], decided)

    return inputs, check


def apart(one, other):
    """The distance of two lines between their ends, by descent on both shares: no case of crossing or of ends."""
    (a, b), (c, d) = one, other

    def point(line, share):
        return tuple(p + share * (q - p) for p, q in zip(*line))

    def squared(shares):
        return math.dist(point((a, b), shares[0]), point((c, d), shares[1])) ** 2

    best = min(
        (optimize.minimize(squared, start, bounds=[(0, 1)] * 2, method="L-BFGS-B", options={"ftol": 1e-15, "gtol": 1e-12}).fun
         for start in ((0.5, 0.5), (0.0, 1.0), (1.0, 0.0))),
    )
    return math.sqrt(max(best, 0.0))


def indication(rng):
    marks = []
    for _ in range(rng.randint(1, 6)):
        width = decimal(rng, 0.1, 2, 1)
        long = rng.choice([f"{3 * Fraction(width)}", decimal(rng, float(width), 9, 1)])
        long = f"{float(Fraction(long)):.1f}"
        marks.append({
            "length": long, "width": width, "x": decimal(rng, 0, 20, 1), "y": decimal(rng, 0, 20, 1),
            "direction": str(rng.randint(0, 179)),
        })
    inputs = {"indications": marks}
    if rng.random() < 0.8:
        inputs["gap"] = decimal(rng, 0.5, 4, 1)

    def check(answer, meter):
        for mark, got in zip(marks, answer["indications"]):
            linear = Fraction(mark["length"]) > 3 * Fraction(mark["width"])
            meter.word("class", got["class"], "linear" if linear else "rounded")
        if "gap" not in inputs:
            meter.absent("groups", answer, "groups")
            return
        lines, radii = [], []
        for mark in marks:
            half, turned = (float(mark["length"]) - float(mark["width"])) / 2, math.radians(float(mark["direction"]))
            dx, dy = half * math.cos(turned), half * math.sin(turned)
            x, y = float(mark["x"]), float(mark["y"])
            lines.append(((x - dx, y - dy), (x + dx, y + dy)))
            radii.append(float(mark["width"]) / 2)
        gap, n = float(inputs["gap"]), len(marks)
        group = list(range(n))
        for i in range(n):
            for j in range(i):
                clear = apart(lines[i], lines[j]) - radii[i] - radii[j]
                if abs(clear - gap) < 1e-4:
                    return
                if clear < gap:
                    group = [group[i] if g == group[j] else g for g in group]
        sets = sorted([k + 1 for k in range(n) if group[k] == g] for g in set(group))
        meter.word("groups", [g["members"] for g in answer["groups"]], sets)
        for members, got in zip(sets, answer["groups"]):
            ends = [(p, radii[m - 1]) for m in members for p in lines[m - 1]]
            extent = max(math.dist(p, q) + r + s for p, r in ends for q, s in ends)
            meter.number("extent", got["length"], extent)

    return inputs, check


CASES = {"convert": convert, "torque": torque, "due": due, "indication": indication}
