"""judge, lift, feelers, journal, wear, life, lands, relative-clearance, to-20, fit, shrink: with exact fractions of the standard library."""
import cmath
import csv
import math
import pathlib
from fractions import Fraction as F

import numpy as np

from draw import decimal, decimals, fractions
from statistics_cases import up_to_two_figures

MM = {"": F(1), " mm": F(1), " um": F(1, 1000), " thou": F("0.0254"), " in": F("25.4")}
ZONES = list(csv.DictReader((pathlib.Path(__file__).parents[1] / "data/outside/iso286_zones.csv").open()))


def length(rng, low, high, places):
    """A length in mm, now and then typed in another unit; the text and the exact millimetres."""
    unit = rng.choice(["", "", "", " mm", " um", " thou", " in"])
    scale = MM[unit]
    more = {" um": 0, " thou": 2, " in": 5}.get(unit, places)
    text = decimal(rng, low / float(scale), high / float(scale), more)
    return text + unit, F(text) * scale


def judge(rng):
    side, touching = rng.choice(["largest", "smallest"]), rng.choice(["fails", "passes"])
    limit, limit_mm = length(rng, 0.015, 0.03, 3)
    inputs = {"limit": limit, "side": side, "touching": touching}
    if rng.random() < 0.5:
        inputs["value"], value = length(rng, 0.014, 0.031, 3)
    else:
        (inputs["a"], a), (inputs["b"], b) = length(rng, 59.92, 59.94, 3), length(rng, 59.9, 59.915, 3)
        value = a - b
    if rng.random() < 0.3:  # on the limit
        inputs.pop("a", None), inputs.pop("b", None)
        inputs["value"], value = limit, limit_mm
    guarded = rng.random() < 0.6
    if guarded:
        inputs.update(rule="guarded", u=decimal(rng, 0.0001, 0.004, 5))
        if rng.random() < 0.3:
            inputs["factor"] = rng.choice(["2", "1.65", "1"])

    def check(answer, meter):
        room = (limit_mm - value) if side == "largest" else value - limit_mm
        meter.exact("value", answer, "value", value)
        meter.exact("room", answer, "room", room)
        guard = F(0)
        if guarded:
            guard = F(inputs.get("factor", "1.65")) * up_to_two_figures(F(inputs["u"]) ** 2)
            meter.exact("guard", answer, "guard", guard)
        past = room < 0 or room == 0 and touching == "fails"
        meter.word("verdict", answer["verdict"], "past" if past else "undecided" if room < guard else "within")

    return inputs, check


def lift(rng):
    places = []
    for number in range(rng.randint(1, 5)):
        pairs = []
        for _ in range(rng.randint(1, 4)):
            down = decimal(rng, -0.02, 0.03, 3)
            pairs.append([down, f"{float(down) + rng.randint(60, 110) * 0.002:.3f}"])
        places.append({"place": f"p{number}", "pairs": pairs})
    inputs = {"places": places}
    if rng.random() < 0.7:
        inputs["division"] = rng.choice(["0.002", "0.01", "0.04"])

    def check(answer, meter):
        means = []
        for place, got in zip(places, answer["places"]):
            c = [F(up) - F(down) for down, up in place["pairs"]]
            meter.word("clearances", [F(x) for x in got["clearances"]], c)
            means.append(sum(c) / len(c))
            meter.exact("mean", got, "mean", means[-1])
            meter.exact("range", got, "range", max(c) - min(c))
            if "division" in inputs:
                meter.word("retake", got["retake"], max(c) - min(c) > 2 * F(inputs["division"]))
            else:
                meter.absent("retake", got, "retake")
        for key, pick in (("largest", max), ("smallest", min)):
            meter.exact(key, answer[key], "mean", pick(means))
            meter.word(key, answer[key]["place"], places[means.index(pick(means))]["place"])

    return inputs, check


def feelers(rng):
    goes = decimal(rng, 0.03, 0.5, 2)
    stops = f"{float(goes) + rng.choice([0.01, 0.02, 0.05]):.2f}"

    def check(answer, meter):
        a, b = F(goes), F(stops)
        for key, want in (("for_smallest", a), ("for_largest", b), ("middle", (a + b) / 2), ("half_width", (b - a) / 2)):
            meter.exact(key, answer, key, want)
        meter.number("u", answer["u"], float(b - a) / math.sqrt(12))

    return {"goes": goes, "stops": stops}, check


def wear(rng):
    new = decimal(rng, 11.9, 12.1, 2)
    places = [{"place": f"p{i}", "values": decimals(rng, rng.randint(1, 4), 10.2, 11.8, 2)} for i in range(rng.randint(1, 5))]

    def check(answer, meter):
        worn = []
        for place, got in zip(places, answer["places"]):
            x = fractions(place["values"])
            meter.exact("mean", got, "mean", sum(x) / len(x))
            worn.append(F(new) - sum(x) / len(x))
            meter.exact("wear", got, "wear", worn[-1])
        for key, pick in (("largest", max), ("smallest", min)):
            meter.exact(key, answer[key], "wear", pick(worn))
            meter.word(key, answer[key]["place"], places[worn.index(pick(worn))]["place"])

    return {"new": new, "places": places}, check


def life(rng):
    then, part, run = (decimal(rng, 0, 40000, 1) for _ in range(3))
    inputs = {"machine": f"{float(then) + float(run):.1f}"}
    fitted = rng.random() < 0.7
    if fitted:
        inputs.update(machine_then=then, part_then=part)
    if rng.random() < 0.7:
        inputs["interval"] = decimal(rng, 1, 50000, 0)

    def check(answer, meter):
        hours = F(inputs["machine"]) - (F(then) - F(part) if fitted else 0)
        meter.exact("hours", answer, "hours", hours)
        if "interval" in inputs:
            meter.exact("left", answer, "left", F(inputs["interval"]) - hours)
        else:
            meter.absent("left", answer, "left")

    return inputs, check


def journal(rng):
    directions = rng.randint(1, 5)
    unworn = decimals(rng, rng.randint(1, 3), 59.930, 59.936, 3)
    planes = [{"plane": "abcd"[i], "diameters": decimals(rng, directions, 59.900, 59.929, 3)} for i in range(rng.randint(1, 4))]

    def check(answer, meter):
        rows = [fractions(plane["diameters"]) for plane in planes]
        smallest = min(map(min, rows))
        meter.exact("smallest", answer["smallest"], "value", smallest)
        meter.exact("step", answer["step_wear"], "value", max(fractions(unworn)) - smallest)

        def ranges(lists):
            return [max(x) - min(x) for x in lists]

        for key, lists, shown in (("ovality", rows, directions > 1), ("taper", list(zip(*rows)), len(rows) > 1)):
            if shown:
                meter.exact(key, answer[key], "value", max(ranges(lists)))
            else:
                meter.absent(key, answer, key)
        if directions > 1:
            oval = ranges(rows)
            meter.word("where", answer["ovality"]["where"], "abcd"[oval.index(max(oval))])

    return {"unworn": unworn, "planes": planes}, check


def lands(rng):
    new = {"taper": "26.4", "flat": "6.6", "depth": "0.040"}
    ring = []
    for _ in range(rng.randint(1, 10)):
        flat = rng.randint(66, 140)
        off = rng.randint(-8, 8)
        ring.append({"taper": f"{(330 - flat + off) / 10:.1f}", "flat": f"{flat / 10:.1f}"})
    inputs = {"lands": ring}
    with_new, with_limit = rng.random() < 0.8, rng.random() < 0.8
    if with_new:
        inputs["new"] = new
    if with_limit:
        inputs["limit"] = rng.choice(["2.1", "2.3", "1", "3"])
    if rng.random() < 0.7:
        inputs["u_edge"] = "0.3"
    if with_new and rng.random() < 0.7:
        inputs["closes_within"] = "0.5"

    def check(answer, meter):
        tapers, flats = [F(x["taper"]) for x in ring], [F(x["flat"]) for x in ring]
        ratios = [t / f for t, f in zip(tapers, flats)]
        worst = ratios.index(min(ratios))
        meter.exact("worst", answer["worst"], "ratio", ratios[worst])
        meter.word("worst land", answer["worst"]["land"], worst + 1)
        taper, flat, depth = (F(new[key]) for key in ("taper", "flat", "depth"))
        depths = [depth * (f - flat) / taper for f in flats]
        for got, t, f, ratio, deep in zip(answer["lands"], tapers, flats, ratios, depths):
            meter.exact("ratio", got, "ratio", ratio)
            if with_new:
                meter.exact("depth", got, "depth", deep)
            else:
                meter.absent("depth", got, "depth")
            if with_new and "closes_within" in inputs:
                meter.word("closes", got["sum_closes"], abs(t + f - taper - flat) <= F("0.5"))
        if "u_edge" in inputs:
            meter.exact("u", answer, "u_ratio", F("0.3") * (tapers[worst] + flats[worst]) / flats[worst] ** 2)
        if with_new and with_limit:
            at = (taper + flat) / (1 + F(inputs["limit"]))
            meter.exact("flat at the limit", answer["at_limit"], "flat", at)
            meter.exact("depth at the limit", answer["at_limit"], "depth", depth * (at - flat) / taper)
        if with_new and len(ring) >= 3:
            harmonic = 2 * np.conj(np.fft.fft([float(x) for x in depths])[1]) / len(ring)
            spread = float(max(depths) - min(depths))
            if spread:
                meter.number("tilt", answer["tilt"]["amount"], abs(harmonic), 0.01 * spread)
            if abs(harmonic) > 1e-3 * spread:
                meter.angle("tilt", answer["tilt"]["direction"], math.degrees(cmath.phase(harmonic)), 10)

    return inputs, check


def relative_clearance(rng):
    (clearance, c), (diameter, d) = length(rng, 0.05, 0.4, 3), length(rng, 20, 120, 3)
    return {"clearance": clearance, "diameter": diameter}, lambda answer, meter: meter.exact("psi", answer, "per_mille", 1000 * c / d)


def to_20(rng):
    text, mm = length(rng, 10, 300, 3)
    bodies = {}
    for name in ("part", "gauge"):
        bodies[name] = {"temperature": decimal(rng, 5, 60, 1), "expansion": f"{rng.randint(50, 250) / 10:.1f}e-6"}
    if rng.random() < 0.3:
        del bodies["gauge"]

    def check(answer, meter):
        def growth(body):
            return 1 + F(body["expansion"]) * (F(body["temperature"]) - 20) if body else F(1)
        want = mm * growth(bodies.get("gauge")) / growth(bodies["part"])
        meter.exact("length", answer, "length_20", want)
        meter.exact("correction", answer, "correction", want - mm)

    return {"length": text, **bodies}, check


def fit(rng):
    zone = rng.choice([z for z in ZONES if z["feature"] == "hole"])
    low, high = int(zone["over_mm"]), int(zone["upto_mm"])
    other = rng.choice([z for z in ZONES if z["feature"] == "shaft" and int(z["over_mm"]) == low])
    nominal = rng.choice([str(high), str(rng.randint(low + 1, high))])
    inputs = {"hole": f"{nominal} {zone['zone']}", "shaft": f"{nominal} {other['zone']}"}
    if rng.random() < 0.2:
        del inputs[rng.choice(["hole", "shaft"])]

    def check(answer, meter):
        sizes = {}
        for key, row in (("hole", zone), ("shaft", other)):
            if key in inputs:
                sizes[key] = [F(nominal) + F(row[c]) / 1000 for c in ("lower_um", "upper_um")]
                meter.exact(key, answer[key], "min", sizes[key][0])
                meter.exact(key, answer[key], "max", sizes[key][1])
        if len(sizes) == 2:
            meter.exact("smallest", answer["clearance"], "min", sizes["hole"][0] - sizes["shaft"][1])
            meter.exact("largest", answer["clearance"], "max", sizes["hole"][1] - sizes["shaft"][0])

    return inputs, check


def shrink(rng):
    inputs = {
        "bore": decimal(rng, 20, 120, 2), "interference": f"{rng.randint(10, 90)} um", "clearance": f"{rng.randint(0, 90)} um",
        "expansion": f"{rng.randint(90, 240) / 10:.1f}e-6", "room": decimal(rng, 5, 35, 0), "largest_allowed": decimal(rng, 80, 350, 0),
    }

    def check(answer, meter):
        way = (F(inputs["interference"].split()[0]) + F(inputs["clearance"].split()[0])) / 1000
        want = F(inputs["room"]) + way / (F(inputs["expansion"]) * F(inputs["bore"]))
        if want > F(inputs["largest_allowed"]):
            meter.word("refused", isinstance(answer.get("refused"), str) and "heat_to" not in answer, True)
        else:
            meter.exact("heat to", answer, "heat_to", want)

    return inputs, check


CASES = {
    "judge": judge, "lift": lift, "feelers": feelers, "journal": journal, "wear": wear, "life": life,
    "lands": lands,
    "relative-clearance": relative_clearance, "to-20": to_20, "fit": fit, "shrink": shrink,
}
