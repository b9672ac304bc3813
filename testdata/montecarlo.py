#!/usr/bin/env python3
"""Draws samples for the uncertainties that the tools give (JCGM 101: propagation of distributions).

Reads a JSON list of cases on standard input, each {"tool", "request", "given"}: the request as the tool had it, and what
the tool gave, name -> {"u", "p": [below, within, above] or null}. Writes a list of, for each case, name -> {"u": relative
deviation of the tool's u from the sampled standard deviation, "p": largest deviation of its p's from the normal model with
the sampled mean and standard deviation, "p_sampled": the same from the sampled shares themselves}.

Everything is computed from the request, with nothing of the tools' code. Debian: python3-numpy, python3-scipy.
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


def meter(request, unit, default):
    given = request.get("meter", {})
    return (given.get("percent", default[0]), given.get("counts", default[1]),
            number(given["resolution"], unit) if "resolution" in given else default[2])


def half_width(accuracy, reading):
    return abs(reading) * accuracy[0] / 100.0 + accuracy[1] * accuracy[2]


def zero(request):
    material = request.get("material", "copper")
    if isinstance(material, dict):
        return number(material["zero_resistance_at"], "degC")
    return {"copper": -234.5, "aluminium": -228.0}[material]


def at_20(request, part, accuracy, loom):
    """Samples of one winding at 20 degC, from the readings of one part."""
    r = number(part["reading"], "ohm")
    ohms = rectangle(r, half_width(accuracy, r))
    if "leads" in part:
        leads = number(part["leads"], "ohm")
        ohms = ohms - rectangle(leads, half_width(accuracy, leads))
    if loom and "loom" in request:
        ohms = ohms - rectangle(number(request["loom"], "ohm"), number(request.get("loom_within", "0 ohm"), "ohm"))
    arrangement = request.get("arrangement", {})
    ohms = ohms / arrangement.get("series", 1) * arrangement.get("parallel", 1)
    warm = rectangle(number(part["at"], "degC"), number(part.get("at_within", "2 K"), "K"))
    z = zero(request)
    return ohms * (20.0 - z) / (warm - z)


def winding(request):
    accuracy = meter(request, "ohm", (1.0, 2.0, 0.1))
    one = at_20(request, request, accuracy, True)
    out = {"corrected": one}
    if "known_good" in request:
        out["ratio"] = one / at_20(request, request["known_good"], accuracy, False)
    return out


def loop(request):
    volts = rectangle(number(request["supply"], "V"), number(request.get("supply_within", "0 V"), "V"))
    i = number(request["current"], "A")
    amperes = rectangle(i, half_width(meter(request, "A", (2.0, 3.0, 0.01)), i))
    if "spec" in request:
        low, high = number(request["spec"]["min"], "ohm"), number(request["spec"]["max"], "ohm")
        cold, at = rectangle((low + high) / 2, (high - low) / 2), 20.0
    else:
        cold = rectangle(number(request["winding"], "ohm"), number(request.get("winding_within", "0 ohm"), "ohm"))
        at = number(request.get("at", "20 degC"), "degC")
    warm = rectangle(number(request["winding_temperature"], "degC"), number(request.get("winding_temperature_within", "0 K"), "K"))
    hot = cold * (warm + 234.5) / (at + 234.5)
    total = volts / amperes
    return {"total": total, "winding": hot, "unwanted": total - hot - 0.15, "unwanted_drop": volts - amperes * (hot + 0.15)}


def weigh(case):
    request, out = case["request"], {}
    for name, samples in {"winding": winding, "loop": loop}[case["tool"]](request).items():
        given = case["given"].get(name)
        if given is None:
            raise ValueError("%s was not given" % name)
        mean, std = float(samples.mean()), float(samples.std())
        out[name] = {"u": given["u"] / std - 1.0, "p": 0.0, "p_sampled": 0.0}
        if given.get("p"):
            row = request["specs"][0]
            low = number(row["min"], "ohm") if "min" in row else -np.inf
            high = number(row["max"], "ohm") if "max" in row else np.inf
            below, above = float(ndtr((low - mean) / std)), float(ndtr((mean - high) / std))
            model = (below, 1.0 - below - above, above)
            under, over = float((samples < low).mean()), float((samples > high).mean())
            drawn = (under, 1.0 - under - over, over)
            out[name]["p"] = max(abs(a - b) for a, b in zip(given["p"], model))
            out[name]["p_sampled"] = max(abs(a - b) for a, b in zip(given["p"], drawn))
    return out


if __name__ == "__main__":
    json.dump([weigh(case) for case in json.load(sys.stdin)], sys.stdout)
