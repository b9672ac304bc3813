"""The contract's model of the circuit (section "circuit") where all but the winding and one fault of the chain is known exactly, cases
drawn from it, and its exact posterior.

Written only from the contract, and solved in another way than the code: the circuit is a ladder between two rails, ground and the
battery post. It is reduced from the far end to the pin by Norton's theorem, then the voltages follow from the pin to the far end.
Used by evaluate.py.
"""
from dataclasses import dataclass, field

import numpy as np
from scipy.special import log_ndtr

OPEN = 1e15  # ohms without a path: far beyond the 40 Mohm at which a meter shows OL
OVER = 40e6
VOLTMETER = 10e6
COPPER = 234.5
IMPOSSIBLE = -1e9  # log-likelihood of OL where there is a path, and the other way round

# Fault, prior weight, parameter: None, ("even", from, to) or ("log", from, to).
FAULTS = (
    ("none", 6, None),
    ("winding.open", 8, None),
    ("winding.shorted_turns", 12, ("even", 0.10, 0.98)),
    ("winding.high_resistance", 5, ("log", 3.0, 1000.0)),
    ("winding.to_case", 4, ("log", 0.1, 10e3)),
    ("inner_lead.open", 5, None),
    ("inner_lead.high_resistance", 5, ("log", 1.0, 1000.0)),
    ("inner_lead.to_ground", 4, ("log", 0.05, 1000.0)),
    ("harness.open", 10, None),
    ("harness.high_resistance", 10, ("log", 1.0, 1000.0)),
    ("harness.to_ground", 9, ("log", 0.05, 1000.0)),
    ("harness.to_battery", 4, ("log", 0.05, 100.0)),
    ("return_path.open", 4, None),
    ("return_path.high_resistance", 6, ("log", 0.5, 1000.0)),
    ("driver.never_on", 4, None),
    ("driver.always_on", 2, None),
    ("driver.weak", 2, ("log", 1.0, 100.0)),
)
NAMES = [name for name, _, _ in FAULTS]
WEIGHTS = np.array([weight for _, weight, _ in FAULTS], dtype=float)
REPAIRS = ("component", "harness", "return_path", "control_unit", "nothing")
MENDED_BY = {"winding": 0, "inner_lead": 0, "harness": 1, "return_path": 2, "driver": 3, "none": 4}
REPAIR_OF = np.array([MENDED_BY[name.split(".")[0]] for name in NAMES])
# The contract's second table, which the exact world leaves out: fault and repair.
SECOND_FAULTS = {
    "unit_feed.open": "unit_power", "unit_feed.high_resistance": "unit_power",
    "unit_ground.open": "unit_power", "unit_ground.high_resistance": "unit_power",
    "unit_connector.open": "harness", "unit_connector.high_resistance": "harness",
    "component_connector.open": "harness", "component_connector.high_resistance": "harness",
    "inner_lead.to_battery": "component", "harness.to_other": "harness", "component.to_other": "component",
    "driver.shorted": "control_unit", "intermittent.harness": "harness", "intermittent.component": "component",
    "intermittent.return_path": "return_path", "intermittent.unit": "control_unit", "other_row": "nothing", "other": "unexplained",
}
ALL_FAULTS = NAMES + list(SECOND_FAULTS)
ALL_REPAIRS = REPAIRS + ("unit_power", "unexplained", "inner_harness")
ALL_REPAIR_OF = np.append(REPAIR_OF, [ALL_REPAIRS.index(repair) for repair in SECOND_FAULTS.values()])
KINDS = ("low", "high", "open", "range")
LOW, HIGH, NOT_THERE, RANGE = range(4)

# Test, minutes, unit of its reading.
TESTS = (
    ("resistance_winding", 45, "ohm"),
    ("resistance_component", 10, "ohm"),
    ("resistance_unit", 12, "ohm"),
    ("continuity_harness", 15, "ohm"),
    ("insulation_harness", 12, "ohm"),
    ("insulation_component", 10, "ohm"),
    ("voltage_harness_open", 8, "V"),
    ("voltage_pin_on", 10, "V"),
    ("voltage_pin_off", 8, "V"),
    ("current_on", 8, "A"),
    ("voltage_drop_return", 12, "V"),
    ("voltage_feed", 8, "V"),
    ("voltage_unit_test_load", 15, "V"),
)
MINUTES = {name: float(minutes) for name, minutes, _ in TESTS}
UNIT = {name: unit for name, _, unit in TESTS}


@dataclass(frozen=True)
class Nominals:
    """Ohms of the healthy parts. The contract's, unless robustness is asked for."""
    driver: float = 0.15
    harness: float = 0.15
    inner: float = 0.10
    to_ground: float = 0.05
    to_feed: float = 0.15
    source: float = 0.02
    pull_up: float = 20e3
    pull_down: float = 50e3


@dataclass(frozen=True)
class Circuit:
    side: str
    back: str  # "case" or "wire"
    supply: float
    spec: tuple  # ohms at 20 degC
    temperature: float
    nominals: Nominals = field(default_factory=Nominals)

    def band(self):
        warm = (self.temperature + COPPER) / (20.0 + COPPER)
        return self.spec[0] * warm, self.spec[1] * warm

    def tests(self):
        return [name for name, _, _ in TESTS
                if not (name == "insulation_component" and self.back == "case" or name == "voltage_feed" and self.side == "high")]


def parameter(fault, share):
    """The parameter at a share 0 to 1 of its distribution."""
    kind = FAULTS[fault][2]
    if kind is None:
        return np.zeros_like(share)
    shape, low, high = kind
    return low + share * (high - low) if shape == "even" else low * (high / low) ** share


def parameters(fault, share):
    out = np.zeros(len(fault))
    for f in np.unique(fault):
        out[fault == f] = parameter(f, share[fault == f])
    return out


def parts(circuit, fault, value, winding):
    """Ohms of every part, for arrays of fault, its parameter and the healthy winding."""
    n, count = circuit.nominals, len(fault)

    def ohms(nominal, **faulty):
        """The nominal, but for the faults named (two underscores for the dot)."""
        out = np.broadcast_to(nominal, count).astype(float)
        for name, instead in faulty.items():
            here = fault == NAMES.index(name.replace("__", "."))
            out[here] = np.broadcast_to(instead, count)[here]
        return out

    back = n.to_feed if circuit.side == "low" else n.to_ground
    half = winding / 2
    return {
        "on": ohms(n.driver, driver__never_on=OPEN, driver__weak=value),
        "off": ohms(OPEN, driver__always_on=n.driver),
        "pull": np.full(count, n.pull_up if circuit.side == "high" else n.pull_down),
        "harness": ohms(n.harness, harness__open=OPEN, harness__high_resistance=n.harness + value),
        "inner": ohms(n.inner, inner_lead__open=OPEN, inner_lead__high_resistance=n.inner + value),
        "near": ohms(half, winding__shorted_turns=half * (1 - value)),
        "far": ohms(half, winding__shorted_turns=half * (1 - value), winding__open=OPEN, winding__high_resistance=half + value),
        "back": ohms(back, return_path__open=OPEN, return_path__high_resistance=back + value),
        "pin_ground": ohms(OPEN, harness__to_ground=value),
        "pin_battery": ohms(OPEN, harness__to_battery=value),
        "lead_ground": ohms(OPEN, inner_lead__to_ground=value),
        "middle_ground": ohms(OPEN, winding__to_case=value),
    }


def powered(circuit, p, driver, meter):
    """Volts at the pin, the far end and the battery post, and the driver's amperes; everything plugged.

    The far end, and every part, hangs between ground and the post; the post is taken as 1 V, and scaled at the end by
    what the source's own resistance leaves of the supply.
    """
    low = circuit.side == "low"
    post = 1.0 if low else 0.0  # the rail of the far end

    def fold(g, j, series):
        return g / (1 + g * series), j / (1 + g * series)

    g = 1 / p["back"] + (1 / VOLTMETER if meter == "far" else 0.0)
    j = post * g
    far = (g, j)
    g, j = fold(g, j, p["far"])
    g = g + 1 / p["middle_ground"]
    middle = (g, j)
    g, j = fold(g, j, p["near"])
    g, j = fold(g, j, p["inner"])
    g = g + 1 / p["lead_ground"]
    lead = (g, j)
    g, j = fold(g, j, p["harness"])
    feed = 1 / driver + 1 / p["pull"]
    g = g + 1 / p["pin_ground"] + 1 / p["pin_battery"] + feed + (1 / VOLTMETER if meter == "pin" else 0.0)
    j = j + 1 / p["pin_battery"] + (0.0 if low else feed)
    pin = j / g

    def unfold(volts, node, series):
        return (volts + node[1] * series) / (1 + node[0] * series)

    v = unfold(pin, lead, p["harness"])
    v = unfold(v, middle, p["inner"] + p["near"])
    end = unfold(v, far, p["far"])
    drawn = (1 - pin) / p["pin_battery"]
    drawn = drawn + ((1 - end) / p["back"] if low else (1 - pin) * feed)
    battery = circuit.supply / (1 + circuit.nominals.source * drawn)
    return battery * pin, battery * end, battery, battery * feed * (pin if low else 1 - pin)


def beside(*ohms):
    return 1 / sum(1 / r for r in ohms)


def predict(circuit, p, tests):
    """What an ideal meter would show, for each test; a resistance over 40 Mohm stands for OL."""
    low, case, n = circuit.side == "low", circuit.back == "case", circuit.nominals
    out = []
    for test in tests:
        if test == "resistance_winding":
            value = p["near"] + p["far"]
        elif test == "resistance_component":
            if case:
                beyond = p["inner"] + p["near"] + beside(p["middle_ground"], p["far"] + p["back"])
                value = beside(p["lead_ground"], beyond)
            else:
                value = p["inner"] + p["near"] + p["far"]
        elif test == "resistance_unit":
            if low:
                value = beside(p["pin_battery"], p["harness"] + p["inner"] + p["near"] + p["far"] + p["back"])
            else:
                beyond = p["inner"] + p["near"] + beside(p["middle_ground"], p["far"] + p["back"])
                value = beside(p["pin_ground"], p["harness"] + beside(p["lead_ground"], beyond))
        elif test == "continuity_harness":
            value = p["harness"]
        elif test == "insulation_harness":
            value = p["pin_ground"]
        elif test == "insulation_component":
            value = beside(p["lead_ground"], p["inner"] + p["near"] + p["middle_ground"])
        elif test == "voltage_harness_open":
            value = circuit.supply * VOLTMETER / (VOLTMETER + n.source + p["pin_battery"])
        elif test == "voltage_pin_on":
            value = powered(circuit, p, p["on"], "pin")[0]
        elif test == "voltage_pin_off":
            value = powered(circuit, p, p["off"], "pin")[0]
        elif test == "current_on":
            value = powered(circuit, p, p["on"], None)[3]
        elif test == "voltage_drop_return":
            _, end, battery, _ = powered(circuit, p, p["on"], "far")
            value = battery - end if low else end
        elif test == "voltage_feed":
            value = circuit.supply * VOLTMETER / (VOLTMETER + n.source + p["back"])
        else:  # voltage_unit_test_load: the driver, its pull and 12 ohm, beside the voltmeter; the harness is off
            load = beside(12.0, VOLTMETER)
            value = circuit.supply * load / (load + beside(p["on"], p["pull"]) + n.source)
        out.append(value)
    return np.array(out)


def step(reading):
    """The display's resolution in ohms."""
    r = np.abs(reading)
    return np.where(r < 400, 0.1, np.where(r < 4e3, 1.0, np.where(r < 40e3, 10.0, 1e3)))


def errors(unit, mean):
    """Standard deviations of a reading around its prediction: the reading's own, and what all readings of that unit by one meter share.

    Of a half-width, one count is the reading's own and the rest is the meter's (contract, "One meter"); contacts are each reading's own.
    """
    m = np.abs(mean)
    if unit == "ohm":
        contacts, count = 0.12, step(mean)
        half = 0.01 * m + 2 * count
    elif unit == "V":
        contacts, count, half = 0.06, 0.01, 0.005 * m + 0.02
    else:
        contacts, count, half = 0.03 * m + 0.02, 0.01, 0.02 * m + 0.03
    return np.sqrt(contacts ** 2 + count ** 2 / 3) + 0 * m, (half - count) / np.sqrt(3)


def spread(unit, mean):
    """Standard deviation of a reading by itself."""
    return np.hypot(*errors(unit, mean))


def shown(unit, mean, own, common):
    """The reading displayed for a prediction and two standard normal draws, its own and the meter's; infinite is OL."""
    alone, shared = errors(unit, mean)
    if unit != "ohm":
        return round(float(mean + alone * own + shared * common), 2) + 0.0
    if mean > OVER:
        return np.inf
    r = max(0.0, float(mean + alone * own + shared * common))
    s = float(step(r))
    return round(round(r / s) * s, 1)


def likelihood(unit, mean, sd, reading):
    """Log-probability, up to a constant of the reading, that the display shows one reading with a normal error.

    Rounding to a step w adds w²/12 to the variance; 0.0 ohm also stands for everything below.
    """
    if unit != "ohm":
        wide = sd ** 2 + 0.01 ** 2 / 12
        return -0.5 * ((reading - mean) ** 2 / wide + np.log(wide))
    if np.isinf(reading):
        return np.where(mean > OVER, 0.0, IMPOSSIBLE)
    if reading == 0:
        # The same constant as below, a density's: probability over the step, times √2π.
        out = log_ndtr((0.05 - mean) / sd) + LOWEST
    else:
        wide = sd ** 2 + float(step(reading)) ** 2 / 12
        out = -0.5 * ((reading - mean) ** 2 / wide + np.log(wide))
    return np.where(mean > OVER, IMPOSSIBLE, out)


LOWEST = -np.log(0.1 / np.sqrt(2 * np.pi))
NODES, NODE_WEIGHTS = np.polynomial.hermite.hermgauss(9)


def together(unit, means, readings):
    """Log-probability that the display shows all readings of one unit; means: readings by hypotheses.

    The covariance is the readings' own variances and one column of the meter's error: Σ = D + v vᵀ. By Sherman and Morrison,
    eᵀ Σ⁻¹ e = eᵀ D⁻¹ e − (vᵀ D⁻¹ e)² / (1 + vᵀ D⁻¹ v), and det Σ = det D (1 + vᵀ D⁻¹ v). What the other readings leave of the
    meter's error is normal; over that, the chance of each 0.0 is integrated by Gauss and Hermite.
    """
    a, b, c = (np.zeros(means.shape[1]) for _ in range(3))
    total, lowest = np.zeros(means.shape[1]), []
    for mean, reading in zip(means, readings):
        own, shared = errors(unit, mean)
        if np.isinf(reading):
            total += np.where(mean > OVER, 0.0, IMPOSSIBLE)
            continue
        ends = mean > OVER
        total += np.where(ends, IMPOSSIBLE, 0.0)
        mean, own, shared = np.where(ends, reading, mean), np.where(ends, 1.0, own), np.where(ends, 0.0, shared)
        if unit == "ohm" and reading == 0:
            lowest.append((mean, own, shared))
            continue
        wide = own ** 2 + (float(step(reading)) if unit == "ohm" else 0.01) ** 2 / 12
        a += (reading - mean) ** 2 / wide + np.log(wide)
        b += shared * (reading - mean) / wide
        c += shared ** 2 / wide
    total += -0.5 * (a - b ** 2 / (1 + c) + np.log(1 + c))
    if lowest:
        meter = b / (1 + c) + np.sqrt(2 / (1 + c)) * NODES[:, None]
        chance = sum(log_ndtr((0.05 - mean - shared * meter) / own) for mean, own, shared in lowest)
        most = chance.max(axis=0)
        total += most + np.log((NODE_WEIGHTS[:, None] / np.sqrt(np.pi) * np.exp(chance - most)).sum(axis=0)) + len(lowest) * LOWEST
    return total


def by_unit(tests):
    """The units that tests are read in, and the tests' places in the list."""
    units = {}
    for place, test in enumerate(tests):
        units.setdefault(UNIT[test], []).append(place)
    return units.items()


def expected_current(circuit):
    """The driver's current when all is well, with a winding in the middle of its row."""
    middle = np.array([sum(circuit.band()) / 2])
    healthy = Circuit(circuit.side, circuit.back, circuit.supply, circuit.spec, circuit.temperature)
    return float(powered(healthy, parts(healthy, np.array([0]), np.zeros(1), middle), np.array([healthy.nominals.driver]), None)[3][0])


def kinds(circuit, p):
    """Which code kinds the control unit's own checks would give: booleans, hypotheses by KINDS."""
    pin_off = powered(circuit, p, p["off"], None)[0]
    pin_on, _, _, amperes = powered(circuit, p, p["on"], None)
    ratio = amperes / expected_current(circuit)
    out = np.zeros((len(pin_off), 4), dtype=bool)
    if circuit.side == "high":
        out[:, NOT_THERE] = (pin_off > 3) | (amperes < 0.040)
        out[:, HIGH] = out[:, NOT_THERE] | (ratio < 0.8)
        out[:, LOW] = (pin_on < 2.8) | (amperes > 4.5) | (ratio > 1.2)
    else:
        out[:, NOT_THERE] = (pin_off < 3) | (amperes < 0.100)
        out[:, LOW] = out[:, NOT_THERE] | (ratio < 0.8)
        out[:, HIGH] = (pin_on > 2.5) | (amperes > 4.5) | (ratio > 1.2)
    out[:, RANGE] = (ratio < 0.8) | (ratio > 1.2)
    return out


# --- cases -----------------------------------------------------------------------------------------------------------

SPECS = ((5.0, 5.6), (11.0, 16.0), (20.0, 30.0), (2.0, 3.0), (8.0, 10.0), (12.0, 14.0), (25.0, 29.0), (3.5, 4.5))


@dataclass
class Case:
    circuit: Circuit
    fault: int
    value: float
    winding: float
    readings: dict  # every test that the circuit has; what a reader of the case has seen is chosen later
    draws: np.ndarray  # the errors of the readings, from draw_errors
    kind: int = -1  # index of KINDS, or none


METERS = ("ohm", "V", "A")


def draw_errors(rng):
    """Standard normal draws: one for each test of TESTS, then the meter's own for each unit."""
    return rng.standard_normal(len(TESTS) + len(METERS))


def readings_of(circuit, fault, value, winding, draws):
    """Every test's reading, from the draws of draw_errors."""
    p = parts(circuit, np.array([fault]), np.array([value]), np.array([winding]))
    tests = circuit.tests()
    means = predict(circuit, p, tests)[:, 0]
    own = {name: draws[k] for k, (name, _, _) in enumerate(TESTS)}
    common = dict(zip(METERS, draws[len(TESTS):]))
    return {test: shown(UNIT[test], mean, own[test], common[UNIT[test]]) for test, mean in zip(tests, means)}


def random_circuit(rng, side="mix"):
    if side == "mix":
        side = rng.choice(["high", "low"])
    back = "wire" if side == "low" else str(rng.choice(["wire", "case"]))
    spec = SPECS[rng.integers(len(SPECS))]
    return Circuit(str(side), back, round(rng.uniform(11.0, 14.5), 1), spec, float(round(rng.uniform(-10, 100))))


def random_fault(rng, circuit):
    fault = int(rng.choice(len(FAULTS), p=WEIGHTS / WEIGHTS.sum()))
    value = float(parameter(fault, np.array(rng.random())))
    return fault, value, float(rng.uniform(*circuit.band()))


def random_kind(rng, circuit, fault, value, winding):
    """One of the kinds that the model predicts; one case in twenty gives any kind, predicted or not."""
    p = parts(circuit, np.array([fault]), np.array([value]), np.array([winding]))
    predicted = np.flatnonzero(kinds(circuit, p)[0])
    if len(predicted) and rng.random() < 0.95 or not len(predicted) and rng.random() >= 0.05:
        return int(rng.choice(predicted)) if len(predicted) else -1
    return int(rng.integers(4))


def random_case(rng, circuit, with_kind):
    fault, value, winding = random_fault(rng, circuit)
    draws = draw_errors(rng)
    case = Case(circuit, fault, value, winding, readings_of(circuit, fault, value, winding, draws), draws)
    if with_kind:
        case.kind = random_kind(rng, circuit, fault, value, winding)
    return case


# --- the exact posterior -----------------------------------------------------------------------------------------------

PARAMETRIC = np.array([kind is not None for _, _, kind in FAULTS])


class Cells:
    """Boxes in (share of the parameter's distribution, share of the winding's), for integrating over both.

    All predictions rise or fall steadily along either, so the corners of a cell bound them.
    """

    def __init__(self, circuit, readings, kind):
        self.circuit, self.readings, self.kind, self.tests = circuit, readings, kind, list(readings)
        fault, u, w = [], [], []
        for f in range(len(FAULTS)):
            us, ws = np.meshgrid(np.arange(16 if PARAMETRIC[f] else 1), np.arange(4), indexing="ij")
            fault.append(np.full(us.size, f))
            u.append(us.ravel() / us.shape[0])
            w.append(ws.ravel() / 4)
        self.fault, self.u, self.w = np.concatenate(fault), np.concatenate(u), np.concatenate(w)
        self.du, self.dw = np.where(PARAMETRIC[self.fault], 1 / 16, 1.0), np.full(len(self.fault), 1 / 4)

    def at(self, along_u, along_w):
        """Predictions and whether the code is set, at a place of each cell: 0 to 1 along both sides."""
        low, high = self.circuit.band()
        share_u, share_w = self.u + along_u * self.du, self.w + along_w * self.dw
        p = parts(self.circuit, self.fault, parameters(self.fault, share_u), low + share_w * (high - low))
        code = kinds(self.circuit, p)[:, self.kind] if self.kind >= 0 else np.zeros(len(self.fault), dtype=bool)
        return predict(self.circuit, p, self.tests), code

    def bounds(self, means):
        """How far the predictions at the corners are apart along both sides, squared, and the most that a cell's likelihood can be."""
        along_u, along_w, ceiling = np.zeros(len(self.u)), np.zeros(len(self.u)), np.zeros(len(self.u))
        for unit, places in by_unit(self.tests):
            # The exponent is at least that of any one reading by itself, and at least the own errors' over 1 + vᵀ D⁻¹ v.
            one, own, shared = np.zeros(len(self.u)), np.zeros(len(self.u)), np.ones(len(self.u))
            for t in places:
                m, reading = means[:, t], self.readings[self.tests[t]]
                finite = m[0] <= OVER
                m = np.where(finite, m, 0.0)
                alone, meter = errors(unit, m)
                narrow, wide, meter = alone.min(axis=0), alone.max(axis=0), meter.max(axis=0)
                along_u += np.maximum(abs(m[2] - m[0]), abs(m[3] - m[1])) ** 2 / narrow ** 2
                along_w += np.maximum(abs(m[1] - m[0]), abs(m[3] - m[2])) ** 2 / narrow ** 2
                if np.isinf(reading):
                    ceiling += np.where(finite, IMPOSSIBLE, 0.0)
                    continue
                ceiling += np.where(finite, 0.0, IMPOSSIBLE)
                off = np.where(finite, np.clip(reading, m.min(axis=0), m.max(axis=0)) - reading, 0.0)
                if unit == "ohm" and reading == 0:
                    ceiling += LOWEST
                    one = np.maximum(one, -2 * np.where(finite, log_ndtr((0.05 - off) / np.hypot(wide, meter)), 0.0))
                    continue
                rounding = (float(step(reading)) if unit == "ohm" else 0.01) ** 2 / 12
                # The height of the density is that of the narrowest, its fall that of the widest.
                ceiling -= np.where(finite, 0.5 * np.log(narrow ** 2 + rounding), 0.0)
                one = np.maximum(one, off ** 2 / (wide ** 2 + meter ** 2 + rounding))
                own += off ** 2 / (wide ** 2 + rounding)
                shared += np.where(finite, meter ** 2 / (narrow ** 2 + rounding), 0.0)
            ceiling -= 0.5 * np.maximum(one, own / shared)
        return along_u, along_w, ceiling

    def centre(self, prior):
        """The likelihood at the middle of each cell, times its prior; logarithms."""
        means, code = self.at(0.5, 0.5)
        centre = prior.copy()
        for unit, places in by_unit(self.tests):
            centre += together(unit, means[places], [self.readings[self.tests[t]] for t in places])
        if self.kind >= 0:
            centre += np.where(code, 0.0, np.log(0.05))
        return centre

    def split(self, done, split_u, split_w):
        """Replaces the cells that are not done by their halves or quarters."""
        new = []
        for a, b in ((0, 0), (1, 0), (0, 1), (1, 1)):
            take = ~done & ((a == 0) | split_u) & ((b == 0) | split_w)
            half_u, half_w = np.where(split_u, self.du / 2, self.du)[take], np.where(split_w, self.dw / 2, self.dw)[take]
            new.append((self.fault[take], self.u[take] + a * half_u, self.w[take] + b * half_w, half_u, half_w))
        self.fault, self.u, self.w, self.du, self.dw = (np.concatenate(column) for column in zip(*new))


def posterior(circuit, readings, kind=-1, fineness=1.0):
    """Probability of each fault, integrated over parameter and winding on cells that are split until they are fine.

    A cell is dropped when even its largest possible likelihood could not matter (e^-20 of the best), and split while its
    predictions differ by more than half a standard deviation, or while the predicted code kinds differ within it. Twice the
    fineness halves the cells both ways.
    """
    across = 0.5 / fineness
    finest = 1e-4 / fineness ** 2  # share of a fault below which a cell is not split for a code kind
    cells = Cells(circuit, readings, kind)
    total, best = np.full(len(FAULTS), -np.inf), -np.inf
    for _ in range(40):
        corner = [cells.at(a, b) for a in (0, 1) for b in (0, 1)]
        told = np.array([code for _, code in corner])
        along_u, along_w, ceiling = cells.bounds(np.array([mean for mean, _ in corner]))  # corners, tests, cells
        prior = np.log(WEIGHTS[cells.fault] * cells.du * cells.dw)
        ceiling += prior
        centre = cells.centre(prior)
        best = max(best, centre.max())
        alive = ceiling > best - 20
        coarse = cells.du * cells.dw > finest
        edge_u = coarse & ((told[0] != told[2]) | (told[1] != told[3]))
        edge_w = coarse & ((told[0] != told[1]) | (told[2] != told[3]))
        split_u = alive & PARAMETRIC[cells.fault] & ((along_u > across ** 2) | edge_u)
        split_w = alive & ((along_w > across ** 2) | edge_w)
        done = ~split_u & ~split_w
        for f in np.unique(cells.fault[done]):
            total[f] = np.logaddexp(total[f], np.logaddexp.reduce(centre[done & (cells.fault == f)]))
        if done.all():
            break
        cells.split(done, split_u, split_w)
    else:
        raise ArithmeticError("the integration did not settle")
    p = np.exp(total - total.max())
    return p / p.sum()


def by_repair(p):
    return np.bincount(REPAIR_OF, weights=p, minlength=len(REPAIRS))
