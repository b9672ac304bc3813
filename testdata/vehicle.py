"""A vehicle with one solenoid circuit, and what meters show in it, for troubles.py.

Written from the trade's side and from public data sheets (facts/drivers.md), apart from core/circuit: plain nodal analysis of the
whole vehicle, with battery, body, control unit with its own feed and ground, plugs, wires, component, and other circuits beside it.
Thresholds and check currents: Infineon TLE8102SG, TLE6230GP, TLE6228GP, BTS4300SGA, TI TPS1H100-Q1, ST VND5E160 (as restated there);
all other figures are common practice.

Nodes: gnd battery negative, bat battery positive, body, vcc the unit's logic supply, vout the supply of its outputs, ugnd the unit's
ground, pin the output inside the unit, plug its terminal on the harness side, wire the middle of the control wire, comp the harness's
terminal at the component, lead the component's own terminal, w1 wm w2 the winding, out the component's other terminal, far the
harness's terminal there, case the housing.
"""
import copy
import math

import numpy as np

OPEN = 1e12
COPPER_ZERO = 234.5

MINUTES = {
    "resistance_winding": 45, "resistance_component": 10, "resistance_unit": 12, "continuity_harness": 15,
    "insulation_harness": 12, "insulation_component": 10, "voltage_harness_open": 8, "voltage_pin_on": 10,
    "voltage_pin_off": 8, "current_on": 8, "voltage_drop_return": 12, "voltage_feed": 8, "voltage_unit_test_load": 15,
}
NEW_MINUTES = {
    "voltage_unit_feed": 8, "voltage_unit_ground": 8, "wiggle_harness": 10, "row_applies": 5, "winding_temperature": 3,
    "supply_driven": 4, "heat_component": 20,
}


class Net:
    """Resistors and current sources between named nodes; gnd is zero."""

    def __init__(self):
        self.index, self.resistors, self.currents = {"gnd": -1}, [], []

    def node(self, name):
        if name not in self.index:
            self.index[name] = len(self.index) - 1
        return self.index[name]

    def resistor(self, a, b, ohm):
        ends = self.node(a), self.node(b)
        if ohm < OPEN:
            self.resistors.append((*ends, 1 / max(ohm, 1e-4)))

    def current(self, a, b, ampere):
        """Current drawn out of a and put into b."""
        self.currents.append((self.node(a), self.node(b), ampere))

    def source(self, a, volt, ohm):
        self.resistor(a, "gnd", ohm)
        self.current("gnd", a, volt / ohm)

    def solve(self):
        n = len(self.index) - 1
        g, i = np.zeros((n + 1, n + 1)), np.zeros(n + 1)
        for a, b, s in self.resistors:
            g[a, a] += s
            g[b, b] += s
            g[a, b] -= s
            g[b, a] -= s
        for a, b, ampere in self.currents:
            i[a] -= ampere
            i[b] += ampere
        g[range(n), range(n)] += 1e-11
        volts = np.linalg.solve(g[:n, :n], i[:n])
        found = {name: volts[k] for name, k in self.index.items() if k >= 0}
        found["gnd"] = 0.0
        return found


class Meter:
    """One multimeter and clamp: the error within its accuracy is common to all its readings, one count is each reading's own."""

    def __init__(self, rng):
        self.rng = rng
        self.gain = {"ohm": rng.uniform(-0.01, 0.01), "V": rng.uniform(-0.005, 0.005), "A": rng.uniform(-0.02, 0.02)}
        self.zero = {"ohm": rng.uniform(-1, 1), "V": rng.uniform(-1, 1), "A": rng.uniform(-2, 2)}
        self.leads = 0.0
        self.clamp = 0.0

    def step(self, kind, value):
        if kind != "ohm":
            return 0.01
        return next((s for most, s in ((400, 0.1), (4e3, 1), (4e4, 10), (4e5, 100), (4e6, 1e3)) if value < most), 1e4)

    def show(self, kind, value):
        if kind == "ohm":
            value += self.leads + self.rng.uniform(0, 0.1)
            if value > 40e6:
                return "OL"
        if kind == "A":
            value += self.clamp
        step = self.step(kind, value)
        value += self.gain[kind] * value + (self.zero[kind] + self.rng.uniform(-1, 1)) * step
        value = round(value / step) * step
        if kind == "ohm":
            value = max(value, 0)
        return f"{value:.{1 if step == 0.1 else 2 if step < 0.1 else 0}f} {kind}"


class Vehicle:
    """A healthy one as drawn; kinds of trouble change it."""

    def __init__(self, rng, side=None, driver=None, ret=None):
        self.rng = rng
        self.meter = Meter(rng)
        self.side = side or rng.choice(("high", "low"))
        self.ret = "wire" if self.side == "low" else ret or rng.choice(("case", "wire"))
        heavy = rng.random() < 0.15
        self.supply = rng.uniform(25.5, 28) if heavy else rng.choice((rng.uniform(12.2, 12.7), rng.uniform(13.5, 14.5)))
        self.driven_supply = self.supply - rng.uniform(0, 0.15)
        self.typed_supply = self.supply + rng.uniform(-0.1, 0.1)
        self.heat = rng.uniform(10, 30) if rng.random() < 0.5 else rng.uniform(60, 110)
        self.typed_heat = self.heat + rng.uniform(-8, 8)
        self.cooling = 0.0
        self.row_applies = "yes"
        middle = math.exp(rng.uniform(math.log(12 if heavy else 3), math.log(45)))
        half = rng.uniform(0.05, 0.12)
        self.spec = (round(middle * (1 - half), 1), round(middle * (1 + half), 1))
        self.winding = rng.uniform(*self.spec)
        self.ohms = {
            "source": rng.uniform(0.01, 0.03), "body": rng.uniform(0.002, 0.01), "feed": rng.uniform(0.02, 0.08),
            "ground": rng.uniform(0.01, 0.04), "logic": rng.uniform(12, 35), "unit_plug": rng.uniform(0.005, 0.03),
            "harness": rng.uniform(0.05, 0.5), "component_plug": rng.uniform(0.005, 0.03), "inner": rng.uniform(0.05, 0.2),
            "return_plug": rng.uniform(0.005, 0.03),
            "return": rng.uniform(0.02, 0.1) if self.side == "high" else rng.uniform(0.05, 0.25),
        }
        self.split = rng.random() < 0.5
        self.unit_load = rng.uniform(0.3, 2)
        self.body_current = rng.uniform(0, 5)
        self.shunts = []
        self.sources = []
        self.draw_driver(driver)
        self.bad, self.flicker, self.moved, self.heated = None, 0.0, "steady", "steady"
        self.slips = {}
        self.code, self.shows = None, "steady"
        self.made = 0

    def draw_driver(self, kind):
        rng = self.rng
        self.driver = kind or rng.choices(("plain", "protected", "regulated"), (40, 35, 25))[0]
        healthy = self.supply / (self.winding_at(20) + 0.8)
        self.on_ohms = rng.uniform(0.1, 0.6)
        self.limit = max(1.5, healthy * rng.uniform(1.6, 4)) if self.driver != "plain" else math.inf
        self.retry = rng.choice((0.0, rng.uniform(0.01, 0.2)))
        self.set_current = 0.8 * self.supply / (self.winding_at(130) + 1.5) * rng.uniform(0.5, 1)
        self.goal = self.set_current
        self.pull = rng.uniform(10e3, 50e3) if self.side == "high" else math.exp(rng.uniform(math.log(2e4), math.log(2e5)))
        self.dead = self.held = False
        self.separates = rng.random() < 0.4
        self.open_word = rng.choice(("open", self.side))
        self.checks_on = rng.random() < 0.5
        self.senses = self.driver == "regulated" or rng.random() < 0.3
        self.threshold = rng.uniform(2.5, 3.5) if rng.random() < 0.7 else None

    def winding_at(self, degrees):
        return self.winding * (COPPER_ZERO + degrees) / (COPPER_ZERO + 20)

    def temperature(self):
        return self.heat - self.cooling * (1 - math.exp(-self.made / 4))

    def changed(self, change):
        """This vehicle as it is while a fault that comes and goes is there."""
        other = copy.copy(self)
        other.ohms, other.shunts, other.sources = dict(self.ohms), list(self.shunts), list(self.sources)
        change(other)
        return other

    # The network. unit: in place and powered; mated: its plug is on; fitted: the component's plug is on; battery: on. A shunt or a source
    # is there while all the words of its last entry hold.
    def network(self, unit, mated, fitted, battery, driven=False):
        net, o = Net(), self.ohms
        states = {"always": True, "unit": unit, "mated": mated, "fitted": fitted, "battery": battery}
        here = {word for word, is_so in states.items() if is_so}
        if battery:
            net.source("bat", self.driven_supply if driven else self.supply, o["source"])
        net.resistor("body", "gnd", o["body"])
        if battery:
            net.current("bat", "body", self.body_current)
        if unit:
            self.add_unit(net, mated)
        net.resistor("plug", "wire", o["harness"] / 2)
        net.resistor("wire", "comp", o["harness"] / 2)
        self.add_component(net)
        if fitted:
            net.resistor("comp", "lead", o["component_plug"])
            if self.ret == "wire":
                net.resistor("out", "far", o["return_plug"])
        home = "bat" if self.side == "low" else "body"
        net.resistor("case" if self.ret == "case" else "far", home, o["return"])
        if self.ret == "wire":
            net.resistor("case", "body", 0.02)
        for a, b, ohm, when in self.shunts:
            if set(when.split()) <= here:
                net.resistor(a, b, ohm)
        for a, volt, ohm, when in self.sources:
            if set(when.split()) <= here:
                net.source(a, volt, ohm)
        return net

    def add_unit(self, net, mated):
        o = self.ohms
        net.resistor("bat", "vout", o["feed"])
        net.resistor("bat" if self.split else "vout", "vcc", 0.03)
        net.resistor("ugnd", "gnd", o["ground"])
        net.resistor("vcc", "ugnd", o["logic"])
        if self.ohms["ground"] < 1 and self.ohms["feed"] < 1:
            net.current("vcc", "ugnd", self.unit_load)
        if mated:
            net.resistor("pin", "plug", o["unit_plug"])

    def add_component(self, net):
        half = self.winding_at(self.temperature()) / 2
        net.resistor("lead", "w1", self.ohms["inner"])
        net.resistor("w1", "wm", half)
        net.resistor("wm", "w2", half)
        net.resistor("w2", "case" if self.ret == "case" else "out", 0.01)

    def alive(self, volts):
        return volts["vcc"] - volts["ugnd"] > 6

    def with_pull(self, net):
        net.resistor("pin", "vcc" if self.side == "high" else "ugnd", self.pull)

    def rest(self, make):
        """Driver off: node volts, and whether the unit lives."""
        net = make()
        self.with_pull(net)
        volts = net.solve()
        if self.alive(volts):
            return volts, True
        net = make()
        net.resistor("pin", "ugnd", 1e6)
        return net.solve(), False

    def drive(self, make):
        """Driver commanded on: node volts as meters average them, and whether it tripped."""
        off, lives = self.rest(make)
        if not lives or self.dead or self.held:
            return off, False
        rail = "vout" if self.side == "high" else "ugnd"
        net = make()
        self.with_pull(net)
        net.resistor(rail, "pin", self.on_ohms)
        full = net.solve()
        ampere = abs(full[rail] - full["pin"]) / self.on_ohms
        if ampere > self.limit:
            return self.mixed(off, full, self.retry * min(1, self.limit / ampere)), True
        if not self.alive(full):
            return self.mixed(off, full, 0.5), False
        if self.driver == "regulated" and ampere > self.goal:
            return self.regulated(make), False
        return full, False

    def mixed(self, off, on, share):
        return {name: off[name] + share * (on[name] - off[name]) for name in off}

    def regulated(self, make):
        duty = 0.5
        for _ in range(6):
            net = make()
            self.with_pull(net)
            on, idle = duty * self.goal, (1 - duty) * self.goal
            if self.side == "high":
                net.current("vout", "pin", on)
                net.current("ugnd", "pin", idle)
            else:
                net.current("pin", "ugnd", on)
                net.current("pin", "vcc", idle)
            v = net.solve()
            span = v["vcc"] - v["ugnd"] + 0.7
            up = v["pin"] - v["ugnd"] + 0.7 if self.side == "high" else v["vcc"] + 0.7 - v["pin"]
            duty = min(1, max(0, up / span))
        return v

    # What the unit's own checks would store, by drivers.md.
    def checks(self):
        def plugged(driven):
            return self.network(True, True, True, True, driven)
        off, lives = self.rest(lambda: plugged(False))
        if not lives:
            return "none"
        pin = off["pin"] - off["ugnd"]
        limit = self.threshold or (off["vcc"] - off["ugnd"]) * (0.86 if self.side == "high" else 0.33)
        if (pin > limit) if self.side == "high" else (pin < limit):
            return self.floating(lambda: plugged(False), limit)
        on, tripped = self.drive(lambda: plugged(True))
        pin = on["pin"] - on["ugnd"]
        ampere = abs(on["pin"] - on["plug"]) / self.ohms["unit_plug"]
        if tripped or self.driver != "regulated" and (pin < 2.8 if self.side == "high" else pin > 2.5):
            return "low" if self.side == "high" else "high"
        if self.checks_on and ampere < (0.04 if self.side == "high" else 0.1):
            return self.open_word
        return self.range_code(ampere)

    def floating(self, make, limit):
        if not self.separates:
            return self.open_word
        net = make()
        net.resistor("pin", "ugnd" if self.side == "high" else "vcc", self.pull)
        volts = net.solve()
        pin = volts["pin"] - volts["ugnd"]
        stays = pin > limit if self.side == "high" else pin < limit
        return self.side if stays else "open"

    def range_code(self, ampere):
        if not self.senses:
            return "none"
        middle = sum(self.spec) / 2 * (COPPER_ZERO + self.temperature()) / (COPPER_ZERO + 20)
        wanted = self.set_current if self.driver == "regulated" else self.driven_supply / (middle + 0.9)
        # A sense resistor that has drifted hides its own error: the unit believes its goal.
        seen = ampere * self.set_current / self.goal
        if abs(seen / wanted - 1) < 0.2:
            return "none"
        if self.rng.random() < 0.7:
            return "range"
        much = seen > wanted
        return ("low" if much else "high") if self.side == "high" else ("high" if much else "low")

    # What a test reads.
    def reading(self, test, again=False):
        """The text that the technician types. Asked for a reading again, or for a test load, he clears the stored code first, and zeroes
        the clamp."""
        self.made += 1
        if again or test == "voltage_unit_test_load":
            self.held = False
        if again:
            self.meter.clamp = 0.0
        if test in self.slips:
            return self.slips.pop(test)
        now = self
        if self.bad is not None and self.rng.random() < self.flicker:
            now = self.bad
            now.made = self.made
        words = {"wiggle_harness": self.moved, "heat_component": self.heated, "row_applies": self.row_applies}
        if test in words:
            return words[test]
        if test == "winding_temperature":
            return f"{self.temperature() + self.rng.uniform(-2, 2):.0f} degC"
        return self.meter.show(*now.true_value(test))

    def ohm(self, a, b, unit=False, mated=False, fitted=False):
        net = self.network(unit, mated, fitted, False)
        net.current(b, a, 1e-3)
        volts = net.solve()
        return "ohm", abs(volts[a] - volts[b]) / 1e-3

    def true_value(self, test):
        home = "bat" if self.side == "low" else "gnd"
        if test == "resistance_winding":
            return "ohm", self.winding_alone()
        if test == "resistance_component":
            return self.ohm("lead", "case" if self.ret == "case" else "out")
        if test == "resistance_unit":
            return self.ohm("plug", home, fitted=True)
        if test == "continuity_harness":
            return self.ohm("plug", "comp")
        if test == "insulation_harness":
            return self.ohm("plug", "gnd")
        if test == "insulation_component":
            return self.ohm("lead", "case")
        if test == "voltage_unit_test_load":
            return self.test_load(home)
        if test == "voltage_harness_open":
            return "V", self.powered(unit=False, mated=False, fitted=False)["plug"]
        if test == "voltage_feed":
            return "V", self.powered(unit=True, mated=True, fitted=False)["far"]
        if test == "voltage_pin_off":
            return "V", self.rest(lambda: self.network(True, True, True, True))[0]["plug"]
        return self.driven_value(test, home)

    def winding_alone(self):
        return self.winding_at(self.temperature())

    def powered(self, unit, mated, fitted):
        net = self.network(unit, mated, fitted, True)
        for probed in ("plug", "far"):
            net.resistor(probed, "gnd", 10e6)
        return self.rest(lambda: net)[0] if unit else net.solve()

    def test_load(self, home):
        def make():
            net = self.network(True, False, True, True, True)
            net.resistor("pin", home, 12)
            return net
        volts, _ = self.drive(make)
        return "V", abs(volts["pin"] - volts[home])

    def driven_value(self, test, home):
        volts, _ = self.drive(lambda: self.network(True, True, True, True, True))
        if test == "current_on":
            return "A", abs(volts["pin"] - volts["plug"]) / self.ohms["unit_plug"]
        if test == "voltage_drop_return":
            return "V", abs(volts[home] - volts["case" if self.ret == "case" else "far"])
        where = {"voltage_pin_on": "plug", "voltage_unit_feed": "vout", "voltage_unit_ground": "ugnd", "supply_driven": "bat"}
        return "V", volts[where[test]]
