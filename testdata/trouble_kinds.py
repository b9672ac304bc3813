"""Kinds of trouble that real vehicles have and that no chain of one fixed fault describes, for troubles.py.

Each kind changes a healthy vehicle; its sentence says what is really wrong. `right` are the decisions that would be right, `broken`
what really is broken of component and control unit: what is not named is fine, and must not be condemned. From service literature:
intermittent and poor connections (spread or pushed-out terminals, strands broken inside the insulation, rubbed-through insulation),
water in plugs, corroded splices and grounds, protected drivers (facts/drivers.md), and slips of practice (facts/needs.md). How large a
fault is, and how often a mechanic sees it, is common practice.
"""
import math

from vehicle import OPEN, Vehicle

KINDS = {}


class Kind:
    def __init__(self, make, right, broken, draw):
        self.name, self.make, self.right, self.broken, self.draw = make.__name__, make, set(right.split()), set(broken.split()), draw
        self.what = " ".join(make.__doc__.split())

    def vehicle(self, rng):
        v = Vehicle(rng, **{k: rng.choice(c) for k, c in self.draw.items()})
        v.right, v.broken = set(self.right), set(self.broken)
        self.make(v, rng)
        if v.code is None:
            v.code = v.checks()
        return v


def kind(right, broken="", **draw):
    def keep(make):
        KINDS[make.__name__] = Kind(make, right, broken, draw)
        return make
    return keep


def spread(rng, low, high):
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def stored(v, shows="sound"):
    """A sound circuit: the code, where there is one, is an old one."""
    v.code, v.shows = v.rng.choice(("low", "high", "open", "range", "none")), shows


def away(v, change, flicker=0.0):
    """What change does comes and goes; the code was stored while it was there."""
    v.bad, v.flicker, v.shows = v.changed(change), flicker, "flickers" if flicker else "away"
    v.code = v.bad.checks()


# Sound, and something makes it look bad.

@kind("nothing")
def stored_code(v, rng):
    """A code left from an earlier repair; nothing is wrong now."""
    stored(v)


@kind("nothing unexplained")
def other_circuit_code(v, rng):
    """Another circuit's fault set this code and is still there; this circuit is sound."""
    stored(v, "elsewhere")


@kind("nothing")
def other_row(v, rng):
    """A sound winding to which another row of the specification applies."""
    v.winding = v.spec[0] * rng.uniform(0.5, 0.85) if rng.random() < 0.5 else v.spec[1] * rng.uniform(1.15, 2)
    v.row_applies = "no"
    stored(v)


@kind("nothing")
def hot_left_out(v, rng):
    """A sound winding, hot; its temperature is left out."""
    v.heat, v.typed_heat = rng.uniform(70, 125), None
    stored(v)


@kind("nothing")
def temperature_misjudged(v, rng):
    """A sound winding whose temperature is typed 20 to 30 K wrong."""
    v.heat = rng.uniform(40, 100)
    v.typed_heat = v.heat + rng.choice((-1, 1)) * rng.uniform(20, 30)
    stored(v)


@kind("nothing")
def cools_while_measured(v, rng):
    """A sound winding that cools by 30 to 60 K from test to test; the temperature was typed once."""
    v.heat = rng.uniform(80, 110)
    v.typed_heat, v.cooling = v.heat + rng.uniform(-5, 5), rng.uniform(30, 60)
    stored(v)


@kind("nothing")
def supply_typed_high(v, rng):
    """A sound circuit; the supply is typed 0.3 to 0.5 V too high."""
    v.typed_supply = v.driven_supply + rng.uniform(0.3, 0.5)
    stored(v)


@kind("nothing")
def meter_at_its_limit(v, rng):
    """A sound circuit; the meter is out by the whole of its accuracy."""
    v.meter.gain = {k: rng.choice((-1, 1)) * abs(g) for k, g in {"ohm": 0.01, "V": 0.005, "A": 0.02}.items()}
    v.meter.zero = {k: rng.choice((-1, 1)) for k in v.meter.zero}
    stored(v)


@kind("nothing")
def leads_left_on(v, rng):
    """A sound circuit; the meter's leads are not taken off."""
    v.meter.leads = rng.uniform(0.25, 0.5)
    stored(v)


@kind("nothing")
def clamp_not_zeroed(v, rng):
    """A sound circuit; the clamp still shows 0.08 to 0.3 A of an earlier field until it is zeroed."""
    v.meter.clamp = rng.choice((-1, 1)) * rng.uniform(0.08, 0.3)
    stored(v)


@kind("nothing")
def long_loom(v, rng):
    """A sound loom of 0.8 to 1 ohm, thin and long."""
    v.ohms["harness"] = rng.uniform(0.8, 1.0)
    stored(v)


@kind("nothing unexplained")
def low_battery(v, rng):
    """A weak battery: 12 V at rest, about 10.8 V while driven; the supply was typed at rest."""
    v.supply = v.typed_supply = rng.uniform(11.9, 12.4)
    v.driven_supply = rng.uniform(10.5, 11.1)
    v.ohms["source"] = rng.uniform(0.04, 0.1)
    v.code, v.shows = v.checks(), "elsewhere"


@kind("nothing unexplained")
def charges_too_high(v, rng):
    """The charging system makes 15.5 V while the engine runs; the supply was typed before, or is typed right."""
    v.supply, v.driven_supply = 15.4, rng.uniform(15.2, 15.7)
    v.typed_supply = rng.choice((rng.uniform(14.0, 14.6), v.driven_supply))
    v.code, v.shows = v.checks(), "elsewhere"


@kind("nothing")
def suppressor(v, rng):
    """A sound component with a suppressor resistor across its terminals, which the specification leaves out."""
    v.shunts.append(("lead", "case" if v.ret == "case" else "out", rng.choice((330, 470, 560, 680)), "always"))
    stored(v)


@kind("nothing", driver=("regulated",))
def regulated_sound(v, rng):
    """A sound circuit on a driver that regulates its current: clamp and pin show averages."""
    stored(v)


@kind("nothing")
def held_off(v, rng):
    """A sound circuit; the stored code keeps the driver off until it is cleared."""
    stored(v)
    v.code, v.held = rng.choice(("low", "high", "open")), True


@kind("nothing unexplained")
def wrong_pin(v, rng):
    """A sound circuit; the first reading at the unit's plug was taken at the neighbouring pin."""
    stored(v)
    ohms = lambda: rng.choice(("OL", f"{rng.uniform(4, 60):.1f} ohm", f"{rng.uniform(1000, 4000):.0f} ohm"))
    volts = lambda: rng.choice(("0.01 V", "5.02 V", f"{v.supply:.2f} V", f"{rng.uniform(0.3, 9):.2f} V"))
    wrong = {"resistance_unit": ohms, "continuity_harness": lambda: "OL", "insulation_harness": ohms, "voltage_pin_on": volts,
             "voltage_pin_off": volts, "voltage_harness_open": volts, "current_on": lambda: "0.00 A"}
    test = rng.choice(sorted(wrong))
    v.first, v.slips = test, {test: wrong[test]()}


@kind("nothing unexplained component", broken="component")
def stuck_plunger(v, rng):
    """The plunger sticks; the circuit is sound."""
    v.code, v.shows = v.checks(), "steady"


# The unit's own supply and ground.

@kind("unit_power")
def unit_feed_open(v, rng):
    """The unit's feed is open: terminal, splice or fuse."""
    v.split = v.split and v.side == "high"
    v.ohms["feed"] = OPEN


@kind("unit_power")
def unit_feed_corroded(v, rng):
    """The unit's feed has a corroded splice or terminal."""
    v.split = v.split and v.side == "high"
    v.ohms["feed"] = spread(rng, 1, 20)


@kind("unit_power return_path")
def relay_in_feed(v, rng):
    """A relay fitted later stands in the feed, its contacts burnt: in the unit's feed (high side), in the component's (low side)."""
    v.ohms["feed" if v.side == "high" else "return"] = spread(rng, 1, 8)
    v.right = {"unit_power" if v.side == "high" else "return_path"}


@kind("unit_power return_path")
def fuse_blown(v, rng):
    """The fuse of the outputs' feed is blown (high side), or that of the component's feed (low side)."""
    v.split = True
    v.ohms["feed" if v.side == "high" else "return"] = OPEN
    v.right = {"unit_power" if v.side == "high" else "return_path"}


@kind("unit_power", side=("low", "low", "high"))
def unit_ground_open(v, rng):
    """The unit's ground is open: it floats on what sensors and screens let through."""
    v.ohms["ground"] = spread(rng, 5, 50)


@kind("unit_power", side=("low", "low", "high"))
def unit_ground_corroded(v, rng):
    """The unit's ground is corroded."""
    v.ohms["ground"] = spread(rng, 1, 6)


# Contacts that are bad only while plugged, or come and go.

@kind("harness")
def unit_plug_open(v, rng):
    """A terminal of the unit's plug is pushed back: no contact while plugged."""
    v.ohms["unit_plug"] = OPEN


@kind("harness")
def unit_plug_corroded(v, rng):
    """A terminal of the unit's plug is spread or green: 3 to 200 ohm while plugged."""
    v.ohms["unit_plug"] = spread(rng, 3, 200)


@kind("harness")
def component_plug_open(v, rng):
    """A terminal of the component's plug makes no contact while plugged."""
    v.ohms["component_plug"] = OPEN


@kind("harness")
def component_plug_corroded(v, rng):
    """A terminal of the component's plug has 3 to 200 ohm while plugged."""
    v.ohms["component_plug"] = spread(rng, 3, 200)


@kind("harness return_path", ret=("wire",))
def return_terminal(v, rng):
    """The return's terminal in the component's plug is open or has 3 to 200 ohm while plugged."""
    v.ohms["return_plug"] = OPEN if rng.random() < 0.4 else spread(rng, 3, 200)


@kind("harness")
def plug_comes_and_goes(v, rng):
    """A contact of a plug comes and goes while measuring: open in half of the plugged readings."""
    plug = rng.choice(("unit_plug", "component_plug"))
    away(v, lambda b: b.ohms.update({plug: OPEN}), 0.5)
    v.moved = "jumps" if plug == "component_plug" else rng.choice(("jumps", "steady"))


@kind("harness")
def wire_breaks_when_moved(v, rng):
    """A wire broken inside its insulation opens only when moved."""
    away(v, lambda b: b.ohms.update(harness=OPEN))
    v.moved = "jumps"


@kind("harness")
def wire_rubs_when_moved(v, rng):
    """A rubbed-through wire touches the body only when moved."""
    ohm = spread(rng, 0.05, 2)
    away(v, lambda b: b.shunts.append(("wire", "body", ohm, "always")))
    v.moved = "jumps"


@kind("return_path harness")
def return_loose(v, rng):
    """The eyelet or splice of the return opens only when moved; moving it shows the place."""
    away(v, lambda b: b.ohms.update({"return": OPEN}))
    v.moved = "jumps"


@kind("nothing harness unexplained")
def wire_not_caught(v, rng):
    """A contact that opens only on the road: moving and warming show nothing today."""
    away(v, lambda b: b.ohms.update(harness=OPEN))


@kind("component", broken="component")
def opens_hot(v, rng):
    """The winding or its inner lead opens only hot; it is measured cold."""
    v.heat = rng.uniform(10, 30)
    v.typed_heat = v.heat + rng.uniform(-5, 5)
    away(v, lambda b: b.ohms.update(inner=OPEN))
    v.heated = "jumps"


@kind("component", broken="component")
def shorts_hot(v, rng):
    """Turns short only hot; it is measured cold."""
    v.heat = rng.uniform(10, 30)
    v.typed_heat = v.heat + rng.uniform(-5, 5)
    part = rng.uniform(0.02, 0.5)
    away(v, lambda b: setattr(b, "winding", b.winding * part))
    v.heated = "jumps"


@kind("control_unit nothing unexplained", broken="control_unit")
def unit_solder_crack(v, rng):
    """A cracked solder joint in the unit opens on the road; at rest all is well."""
    away(v, lambda b: setattr(b, "dead", True))


# Wires and windings that touch others, or leak.

def other_wire(v, rng, at):
    """Another circuit, bridged to a point of this one: a sensor's 5 V, another solenoid's wire, or a switched load."""
    which = rng.choice(("five", "solenoid", "lamp"))
    bridge = spread(rng, 0.05, 20)
    v.shunts.append((at, "other", bridge, "always"))
    if which == "five":
        v.sources.append(("other", 5.0, 10, "unit battery"))
        v.shunts.append(("other", "gnd", rng.uniform(800, 4000), "always"))
    elif which == "solenoid":
        v.shunts.append(("other", "bat" if v.side == "low" else "body", rng.uniform(*v.spec) + 0.3, "always"))
        if rng.random() < 0.3:
            v.shunts.append(("other", "vout" if v.side == "high" else "ugnd", 0.4, "unit battery"))
    else:
        v.shunts.append(("other", "gnd", rng.uniform(2, 12), "always"))
        if rng.random() < 0.5:
            v.shunts.append(("other", "bat", 0.1, "battery"))


@kind("harness")
def bridged_wire(v, rng):
    """The control wire is bridged to another circuit's wire."""
    other_wire(v, rng, "wire")


@kind("component", broken="component")
def inner_bridge(v, rng):
    """Two solenoids leak into each other inside one component."""
    v.shunts.append(("lead", "twin", spread(rng, 0.1, 30), "always"))
    v.shunts.append(("twin", "case" if v.ret == "case" else "out", v.winding * rng.uniform(0.9, 1.1), "always"))
    if rng.random() < 0.3:
        v.shunts.append(("twin", "vout" if v.side == "high" else "ugnd", 0.5, "unit fitted battery"))


@kind("component", broken="component")
def inner_to_battery(v, rng):
    """The inner lead touches a battery-fed terminal inside the component."""
    if v.side == "low":
        v.shunts.append(("lead", "out", spread(rng, 0.05, 5), "always"))
    else:
        v.shunts.append(("lead", "bat", spread(rng, 0.05, 30), "fitted"))


def wet(v, rng, at, dry):
    ohm = spread(rng, 50, 50e3)
    v.shunts.append((at, rng.choice(("body", "bat")), ohm, dry))
    # No test tells a leak to ground that is there only while plugged, and changes less than the specification is wide.
    if ohm > 2000 or dry != "always" and v.shunts[-1][1] == "body" and ohm > 20 * v.winding:
        v.right |= {"nothing", "unexplained"}


@kind("harness")
def water_in_unit_plug(v, rng):
    """Water in the unit's plug leaks 50 ohm to 50 kohm to ground or battery (above 2 kohm it disturbs nothing)."""
    wet(v, rng, "plug", rng.choice(("always", "mated")))


@kind("harness")
def water_in_component_plug(v, rng):
    """Water in the component's plug leaks 50 ohm to 50 kohm to ground or battery."""
    wet(v, rng, "comp", rng.choice(("always", "fitted")))


@kind("harness unexplained")
def swapped_plugs(v, rng):
    """Two plugs were swapped after a repair: the unit drives the other winding, and this one hangs on the other driver."""
    v.ohms["harness"] = OPEN
    where = "body" if v.ret == "case" else "far"
    v.shunts.append(("plug", where, rng.uniform(*v.spec) * rng.choice((1, 0.5, 2)) + 0.3, "fitted"))
    v.shows = "steady"


# Wires and returns.

@kind("harness")
def few_strands(v, rng):
    """A chafed wire hangs by a few strands: 0.5 to 3 ohm (below 1 ohm no meter tells it from a long loom)."""
    added = spread(rng, 0.5, 3)
    v.ohms["harness"] = rng.uniform(0.1, 0.4) + added
    if added < 1:
        v.right |= {"nothing", "unexplained"}


@kind("return_path", ret=("wire",))
def shared_splice(v, rng):
    """A corroded splice in the return that two solenoids share; the other one is on at times."""
    v.ohms["return"] = rng.uniform(0.05, 0.15) + spread(rng, 1.5, 20)
    twin = rng.uniform(*v.spec) + 0.4
    if rng.random() < 0.4:
        # The other solenoid's current through the splice, as a resistor from its driver's rail.
        v.shunts.append(("far", "vout" if v.side == "high" else "ugnd", twin, "unit battery"))


@kind("return_path", side=("high",))
def ground_strap(v, rng):
    """The body's ground strap is bad: other loads' current lifts the component's ground."""
    v.ohms["body"], v.body_current = rng.uniform(0.15, 1.0), rng.uniform(2, 5)


# Drivers.

@kind("control_unit", broken="control_unit")
def driver_shorted(v, rng):
    """The output is joined to supply or ground inside the unit."""
    v.shunts.append(("pin", rng.choice(("vout", "ugnd")), spread(rng, 0.02, 1), "unit"))


@kind("control_unit", broken="control_unit")
def driver_leaks(v, rng):
    """The output transistor leaks while off."""
    v.shunts.append(("pin", "vout" if v.side == "high" else "ugnd", v.winding * rng.uniform(0.5, 3), "unit"))


@kind("control_unit", broken="control_unit", driver=("regulated",))
def sense_drifted(v, rng):
    """The sense resistor has drifted: the driver regulates 0.4 to 0.7 of the current it should."""
    v.goal = v.set_current * rng.uniform(0.4, 0.7)
    v.code = rng.choice((v.checks(), "range"))


@kind("control_unit", broken="control_unit", driver=("protected",))
def trips_too_early(v, rng):
    """The driver's protection trips at a fraction of a healthy current."""
    v.limit = min(0.5, 0.5 * v.supply / (v.winding_at(110) + 1)) * rng.uniform(0.4, 1)


@kind("harness", driver=("protected",))
def protected_short(v, rng):
    """The control wire is shorted, to ground (high side) or battery (low side); the driver protects itself and the pin shows little."""
    v.shunts.append(("wire", "body" if v.side == "high" else "bat", spread(rng, 0.05, 1), "always"))


@kind("component", broken="component", driver=("protected", "regulated"))
def protected_turns(v, rng):
    """Nearly all turns are shorted; the driver protects itself."""
    v.winding = rng.uniform(0.2, 0.8)


@kind("component", broken="component")
def diode_shorted(v, rng):
    """The suppressor diode inside the component is shorted."""
    v.shunts.append(("lead", "case" if v.ret == "case" else "out", rng.uniform(0.1, 0.8), "always"))


@kind("component", broken="component", driver=("regulated",))
def regulated_turns(v, rng):
    """A part of the turns is shorted; the driver regulates, so that the current is right."""
    v.winding *= rng.uniform(0.3, 0.75)


@kind("harness", driver=("regulated",))
def regulated_wire(v, rng):
    """Ohms in the control wire keep a regulating driver from its current."""
    v.ohms["harness"] += spread(rng, 3, 30)


# Two at once.

@kind("harness component", broken="component")
def wire_and_turns(v, rng):
    """Two at once: ohms in the control wire and shorted turns."""
    v.ohms["harness"] += spread(rng, 3, 100)
    v.winding *= rng.uniform(0.2, 0.7)


@kind("harness unit_power")
def plug_and_feed(v, rng):
    """Two at once: ohms in the component's plug and in the unit's feed."""
    v.split = v.split and v.side == "high"
    v.ohms["component_plug"], v.ohms["feed"] = spread(rng, 3, 50), spread(rng, 1, 8)


@kind("harness")
def wire_and_row(v, rng):
    """A wire with 5 to 100 ohm, and another row applies to the sound winding."""
    v.ohms["harness"] += spread(rng, 5, 100)
    v.winding *= rng.choice((rng.uniform(0.55, 0.8), rng.uniform(1.25, 1.9)))
    v.row_applies = "no"


@kind("return_path")
def return_and_heat(v, rng):
    """A return with 2 to 50 ohm, and the temperature of the hot winding left out."""
    v.ohms["return"] += spread(rng, 2, 50)
    v.heat, v.typed_heat = rng.uniform(70, 120), None
