#!/usr/bin/env python3
"""Draws samples for the uncertainties that the tools give (JCGM 101: propagation of distributions).

Reads a JSON list of cases on standard input, each {"tool", "request", "given"}: the request as the tool had it, and what
the tool gave, name -> {"u", "p": [below, within, above] or null, "verdict": or ""}. Writes a list of, for each case, name ->
{"u": relative deviation of the tool's u from the sampled standard deviation, "p": largest deviation of its p's from the normal
model with the sampled mean and standard deviation (from the sampled shares, where the temperature is not known and nothing is
normal), "p_sampled": the same from the sampled shares themselves, "wrong": share of the samples for which the verdict is wrong}.

One meter, as the contract has it: of a reading's half-width a, d = min(counts, 1) x resolution is drawn anew for each reading,
the rest a - d is one drawing for all readings by that meter. Everything is computed from the request, with nothing of the tools'
code. Debian: python3-numpy, python3-scipy.
"""
import json
import sys

try:
    import numpy as np
    from scipy.special import ndtr
except ImportError as missing:
    sys.exit("montecarlo.py: %s: install it: apt-get install python3-numpy python3-scipy" % missing)

SAMPLES = 400_000
rng = np.random.Generator(np.random.PCG64(20310))


def number(text, unit):
    """The number in "6.900 ohm". Another unit is an error."""
    value, found = text.split()
    if found != unit:
        raise ValueError("%s where %s is written" % (text, unit))
    return float(value)


def rectangle(middle, half):
    """Samples of the rectangular distribution middle +- half."""
    if half == 0:
        return np.full(SAMPLES, middle)
    return middle + half * (2.0 * rng.random(SAMPLES) - 1.0)


def unit_rectangle():
    return 2.0 * rng.random(SAMPLES) - 1.0


class Meter:
    """A meter with one drawing of its common error."""

    def __init__(self, request, unit, default):
        given = request.get("meter", {})
        self.percent, self.counts = given.get("percent", default[0]), given.get("counts", default[1])
        self.resolution = number(given["resolution"], unit) if "resolution" in given else default[2]
        self.common = unit_rectangle()

    def read(self, reading):
        a = abs(reading) * self.percent / 100.0 + self.counts * self.resolution
        own = min(self.counts, 1.0) * self.resolution
        return reading + (a - own) * self.common + own * unit_rectangle()


def zero(request):
    material = request.get("material", "copper")
    if isinstance(material, dict):
        return number(material["zero_resistance_at"], "degC")
    return {"copper": -234.5, "aluminium": -228.0}[material]


def temperature(part, at="at", within="at_within", default="2 K"):
    """Samples of a temperature; one that is not given is anywhere from -20 to 130 degC."""
    if at not in part:
        return rectangle(55.0, 75.0)
    return rectangle(number(part[at], "degC"), number(part.get(within, default), "K"))


def one_winding(request, part, meter, loom):
    """Samples of one winding at its own temperature, from the readings of one part."""
    ohms = meter.read(number(part["reading"], "ohm"))
    if "leads" in part:
        ohms = ohms - meter.read(number(part["leads"], "ohm"))
    arrangement = request.get("arrangement", {})
    return (ohms - loom) / arrangement.get("series", 1) * arrangement.get("parallel", 1)


def winding(request):
    meter, z = Meter(request, "ohm", (1.0, 2.0, 0.1)), zero(request)
    loom = 0.0
    if "loom" in request:
        loom = rectangle(number(request["loom"], "ohm"), number(request.get("loom_within", "0 ohm"), "ohm"))
    here, at = one_winding(request, request, meter, loom), temperature(request)
    one = here * (20.0 - z) / (at - z)
    out = {"winding": here, "corrected": one}
    if "known_good" in request:
        good = one_winding(request, request["known_good"], meter, 0.0)
        out["ratio"] = one / (good * (20.0 - z) / (temperature(request["known_good"]) - z))
    if "cold" in request:
        cold, cold_at = one_winding(request, request["cold"], meter, loom), temperature(request["cold"])
        out["cold_temperature"] = z + here / cold * (cold_at - z)
        out["rise"] = out["cold_temperature"] - cold_at
        if "at" in request:
            out["cold_ratio"] = here / cold * (cold_at - z) / (at - z)
    return out


def loop(request):
    volts = rectangle(number(request["supply"], "V"), number(request.get("supply_within", "0.2 V"), "V"))
    amperes = Meter(request, "A", (2.0, 3.0, 0.01)).read(number(request["current"], "A"))
    if "spec" in request:
        low, high = number(request["spec"]["min"], "ohm"), number(request["spec"]["max"], "ohm")
        cold, at = rectangle((low + high) / 2, (high - low) / 2), 20.0
    else:
        r = number(request["winding"], "ohm")
        within = number(request["winding_within"], "ohm") if "winding_within" in request else 0.03 * r
        cold, at = rectangle(r, within), number(request.get("at", "20 degC"), "degC")
    warm = temperature(request, "winding_temperature", "winding_temperature_within", "10 K")
    hot = cold * (warm + 234.5) / (at + 234.5)
    total = volts / amperes
    return {"total": total, "winding": hot, "unwanted": total - hot - 0.15, "unwanted_drop": volts - amperes * (hot + 0.15)}


def limits(request, name):
    """The band that a figure is held against."""
    if name == "unwanted_drop":
        return -np.inf, 0.5
    if name in ("ratio", "cold_ratio"):
        within = 0.1 if name == "ratio" else 0.05
        return 1.0 - within, 1.0 + within
    row = request["specs"][0]
    return (number(row["min"], "ohm") if "min" in row else -np.inf, number(row["max"], "ohm") if "max" in row else np.inf)


def wrong(verdict, samples, low, high):
    """The share of the samples for which a verdict is wrong; 0 where nothing is decided."""
    inside = (samples >= low) & (samples <= high)
    holds = {"below": samples < low, "within": inside, "above": samples > high, "alike": inside, "differs": ~inside,
             "follows": inside, "clean": inside, "unwanted": samples > high}
    return float((~holds[verdict]).mean()) if verdict in holds else 0.0


def weigh(case):
    request, out = case["request"], {}
    for name, samples in {"winding": winding, "loop": loop}[case["tool"]](request).items():
        given = case["given"].get(name)
        if given is None:
            raise ValueError("%s was not given" % name)
        mean, std = float(samples.mean()), float(samples.std())
        out[name] = {"u": given["u"] / std - 1.0, "p": 0.0, "p_sampled": 0.0, "wrong": 0.0}
        if not given.get("p") and not given.get("verdict"):
            continue
        low, high = limits(request, name)
        out[name]["wrong"] = wrong(given.get("verdict"), samples, low, high)
        if given.get("p"):
            below, above = float(ndtr((low - mean) / std)), float(ndtr((mean - high) / std))
            under, over = float((samples < low).mean()), float((samples > high).mean())
            drawn = (under, 1.0 - under - over, over)
            model = (below, 1.0 - below - above, above) if "at" in request else drawn
            out[name]["p"] = max(abs(a - b) for a, b in zip(given["p"], model))
            out[name]["p_sampled"] = max(abs(a - b) for a, b in zip(given["p"], drawn))
    return out


if __name__ == "__main__":
    json.dump([weigh(case) for case in json.load(sys.stdin)], sys.stdout)
