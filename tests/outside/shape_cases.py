"""run-out, bow, circle, unbalance: with numpy, scipy and pint."""
import cmath
import math
from fractions import Fraction

import numpy as np
import pint
from scipy import optimize, stats

from draw import decimal, decimals, floats, fractions

UNITS = pint.UnitRegistry()


def harmonic(angles, readings):
    """Mean, first harmonic as a complex number, what is left; lstsq on any spacing."""
    t, y = np.radians(floats(angles)), np.array(floats(readings))
    base = np.column_stack([np.ones_like(t), np.cos(t), np.sin(t)])
    mean, c, s = np.linalg.lstsq(base, y, rcond=None)[0]
    return complex(c, s), y - base @ np.array([mean, c, s])


def turn(rng):
    """Marks round the whole turn, and readings of an off-centre shaft with lobes, to a division."""
    n = rng.choice([6, 8, 12, 24])
    angles = [str(360 * i // n) for i in range(n)]
    if rng.random() < 0.4:
        angles = sorted(rng.sample(range(0, 360, 5), n))
        while max((b - a) % 360 for a, b in zip(angles, angles[1:] + angles[:1])) > 170:
            angles = sorted(rng.sample(range(0, 360, 5), n))
        angles = [str(a) for a in angles]
    e, at, lobe, turned = rng.uniform(0.002, 0.03), rng.uniform(0, 360), rng.uniform(0, 0.01), rng.uniform(0, 360)
    k = rng.randint(2, 5)
    wave = [e * math.cos(math.radians(float(a) - at)) + lobe * math.cos(k * math.radians(float(a) - turned)) for a in angles]
    return angles, [f"{w:.4f}" for w in wave]


def run_out(rng):
    angles, readings = turn(rng)
    inputs = {"angles": angles, "readings": readings}
    if rng.random() < 0.5:
        inputs["division"] = "0.001"
        inputs["closing"] = f"{float(Fraction(readings[0]) + Fraction(rng.randint(-10, 10), 10000)):.4f}"
    if rng.random() < 0.5:
        top, bottom = max(fractions(readings)), min(fractions(readings))
        inputs["swept"] = [f"{float(top) + 0.001:.4f}", f"{float(bottom):.4f}"]

    def check(answer, meter):
        y = fractions(readings)
        marks = max(y) - min(y)
        tir = marks
        if "swept" in inputs:
            tir = max(tir, Fraction(inputs["swept"][0]) - Fraction(inputs["swept"][1]))
        meter.exact("tir", answer, "tir", tir)
        meter.exact("tir by the marks", answer, "tir_marks", marks)
        vector, left = harmonic(angles, readings)
        size = float(marks)
        meter.number("eccentricity", answer["eccentricity"], abs(vector), 0.01 * size)
        meter.angle("high spot", answer["high_spot"], math.degrees(cmath.phase(vector)), max(1.0, 0.1 * size / abs(vector)))
        meter.number("residual", answer["residual"], float(np.ptp(left)), 0.01 * size)
        meter.number("rms", answer["rms_residual"], float(np.sqrt(np.mean(left**2))), 0.01 * size)
        if "closing" in inputs:
            meter.exact("closure", answer, "closure", Fraction(inputs["closing"]) - y[0])
        lobes = [n for n in range(2, len(angles) + 2) if n % len(angles) in (1, len(angles) - 1)]
        if all(int(a) == 360 * i // len(angles) for i, a in enumerate(angles)):
            said = f"{len(angles)} marks cannot tell {' or '.join(map(str, lobes))} lobes from an eccentricity."
            meter.word("lobes", answer["warnings"][0], said)

    return inputs, check


def bow(rng):
    places = sorted(rng.sample(range(-200, 600, 5), rng.randint(3, 6)))
    names = [f"s{i}" for i in range(len(places))]
    with_u = rng.random() < 0.6
    stations = []
    for name, at in zip(names, places):
        station = {"name": name, "at": str(at)}
        if rng.random() < 0.3:
            station["angles"], station["readings"] = turn(rng)
        else:
            station["eccentricity"] = decimal(rng, 0.001, 0.03, 5)
            station["direction"] = decimal(rng, 0, 359, 1)
        if with_u:
            station["u"] = decimal(rng, 0.0003, 0.006, 5)
        stations.append(station)
    journals = rng.sample(names, 2)
    inputs = {"stations": stations, "journals": journals}
    before = {name: (decimal(rng, 0.001, 0.03, 5), decimal(rng, 0, 359, 1)) for name in names if rng.random() < 0.5}
    if before:
        inputs["before"] = [{"name": n, "eccentricity": e, "direction": d} for n, (e, d) in before.items()]

    def polar(e, d):
        return float(e) * cmath.exp(1j * math.radians(float(d)))

    def check(answer, meter):
        vectors = {}
        for s in stations:
            vectors[s["name"]] = harmonic(s["angles"], s["readings"])[0] if "angles" in s else polar(s["eccentricity"], s["direction"])
        at = dict(zip(names, places))
        u = {s["name"]: float(s["u"]) for s in stations} if with_u else None
        first, second = journals
        justified = True
        if with_u:
            chi2 = sum(abs(vectors[j]) ** 2 / u[j] ** 2 for j in journals)
            limit = stats.chi2.ppf(0.95, 4)
            if abs(chi2 - limit) < 1e-6 * limit:
                return
            justified = bool(chi2 > limit)
            meter.word("line justified", answer["line_justified"], justified)
        else:
            meter.absent("line justified", answer, "line_justified")
        scale = max(abs(v) for v in vectors.values())

        def pair(what, got, amount, direction, want):
            meter.number(what, got[amount], abs(want), 0.01 * scale)
            if abs(want) > 1e-9 * scale:
                meter.angle(what + " direction", got[direction], math.degrees(cmath.phase(want)), max(1.0, scale / abs(want)))
            else:
                meter.absent(what + " direction", got, direction)

        for name, got in zip(names, answer["stations"]):
            share = (at[name] - at[first]) / (at[second] - at[first])
            line = vectors[first] + (vectors[second] - vectors[first]) * share if justified else 0j
            on_line = justified and name in journals
            rest = 0j if on_line else vectors[name] - line
            pair("vector", got, "eccentricity", "direction", vectors[name])
            pair("line", got["line"], "amount", "direction", line)
            pair("bow", got, "bow", "bow_direction", rest)
            if not with_u:
                meter.absent("u", got, "u")
            elif on_line:
                meter.number("u", got["u"], 0.0)
            else:
                parts = [u[name], u[first] * (1 - share), u[second] * share] if justified else [u[name]]
                meter.number("u", got["u"], math.sqrt(sum(p * p for p in parts)))
            if name in before:
                pair("change", got["change"], "amount", "direction", vectors[name] - polar(*before[name]))
            else:
                meter.absent("change", got, "change")

    return inputs, check


def circle(rng):
    r, x, y, n = rng.uniform(5, 60), rng.uniform(-50, 50), rng.uniform(-50, 50), rng.randint(4, 16)
    form = r * rng.choice([1e-4, 1e-3, 0.05])
    around = [2 * math.pi * i / n + rng.uniform(-0.1, 0.1) for i in range(n)]
    radius = [r + rng.uniform(-form, form) for _ in around]
    method = rng.choice(["geometric", "geometric", "algebraic"])
    polar = rng.random() < 0.4
    if polar:
        inputs = {"angles": [f"{math.degrees(a):.2f}" for a in around], "radii": [f"{d:.4f}" for d in radius], "method": method}
        a, d = np.radians(floats(inputs["angles"])), np.array(floats(inputs["radii"]))
        px, py = d * np.cos(a), d * np.sin(a)
    else:
        inputs = {"points": [[f"{x + d * math.cos(a):.4f}", f"{y + d * math.sin(a):.4f}"] for a, d in zip(around, radius)], "method": method}
        px, py = (np.array(floats([p[i] for p in inputs["points"]])) for i in (0, 1))

    def check(answer, meter):
        mx, my = px.mean(), py.mean()
        qx, qy = px - mx, py - my
        columns, squares = np.column_stack([2 * qx, 2 * qy, np.ones_like(qx)]), qx**2 + qy**2
        solved = np.linalg.lstsq(columns, squares, rcond=None)[0]
        for _ in range(3):  # solved once, squares of the radius leave too few digits for a form of 1e-4 of it
            solved = solved + np.linalg.lstsq(columns, squares - columns @ solved, rcond=None)[0]
        a, b, c = solved
        fit = np.array([a, b, math.sqrt(c + a * a + b * b)])
        if method == "geometric":
            def rest(p):
                return np.hypot(qx - p[0], qy - p[1]) - p[2]

            def slope(p):
                away = np.hypot(qx - p[0], qy - p[1])
                return np.column_stack([(p[0] - qx) / away, (p[1] - qy) / away, -np.ones_like(qx)])

            fit = optimize.least_squares(rest, fit, jac=slope, xtol=1e-15, ftol=1e-15, gtol=1e-15, method="lm").x
            for _ in range(60):  # the library stops where squares stop changing: half the digits of the centre
                fit = fit - np.linalg.lstsq(slope(fit), rest(fit), rcond=None)[0]
        off = np.hypot(qx - fit[0], qy - fit[1]) - fit[2]
        size = float(fit[2])
        meter.number("x", answer["x"], float(fit[0] + mx), size)
        meter.number("y", answer["y"], float(fit[1] + my), size)
        meter.number("r", answer["r"], size)
        # made of distances that round in the sixteenth digit of the radius: nine digits of a form of 1e-4 of it
        meter.number("roundness", answer["roundness"], float(np.ptp(off)))
        for got, want in zip(answer["deviations"], off):
            meter.number("deviation", got, float(want), float(np.ptp(off)))

    return inputs, check


def unbalance(rng):
    arrangement = rng.choice(["inboard", "overhung", "single"])
    inputs = {
        "grade": rng.choice(["1", "2.5", "6.3"]), "mass": decimal(rng, 1, 400, 1), "speed": decimal(rng, 3000, 60000, 0),
        "arrangement": arrangement,
    }
    if arrangement != "single":
        inputs["a"], inputs["b"] = decimal(rng, 20, 900, 1), decimal(rng, 20, 900, 1)
        if inputs["a"] == inputs["b"]:
            inputs["a"] = "950"
    measured = rng.random() < 0.6
    if measured:
        inputs["measured"] = {"a": decimal(rng, 0, 100, 1)}
        if arrangement != "single":
            inputs["measured"]["b"] = decimal(rng, 0, 100, 1)
        if rng.random() < 0.5:
            inputs["measured"]["u"] = decimal(rng, 0.5, 9, 1)

    def check(answer, meter):
        omega = UNITS.Quantity(float(inputs["speed"]), "revolution/minute").to("radian/second").magnitude
        allowed = UNITS.Quantity(float(inputs["grade"]) / omega, "mm") * UNITS.Quantity(float(inputs["mass"]), "kg")
        total = allowed.to("gram*mm").magnitude
        meter.number("total", answer["total"], total)
        shares = {"a": 1.0}
        limited = False
        if arrangement != "single":
            a, b = Fraction(inputs["a"]), Fraction(inputs["b"])
            span = a + b if arrangement == "inboard" else abs(a - b)
            top = Fraction(7, 10) if arrangement == "inboard" else Fraction(13, 10)
            levers = {"a": b / span, "b": a / span}
            shares = {plane: min(max(lever, Fraction(3, 10)), top) for plane, lever in levers.items()}
            limited = shares != levers
        else:
            meter.absent("b", answer, "b")
        meter.word("limited", answer["limited"], limited)
        verdicts = []
        for plane, share in shares.items():
            permitted = total * float(share)
            meter.number(plane, answer[plane], permitted)
            if measured:
                shown = float(inputs["measured"][plane])
                guard = 1.65 * float(inputs["measured"].get("u", 0))
                verdicts.append(2 if shown > permitted else 1 if shown + guard > permitted else 0)
        if measured:
            meter.word("verdict", answer["verdict"], ["within", "undecided", "past"][max(verdicts)])
        else:
            meter.absent("verdict", answer, "verdict")

    return inputs, check


CASES = {"run-out": run_out, "bow": bow, "circle": circle, "unbalance": unbalance}
