package circuit

import "ohmwright/core/wording"

// What is said of every test that has the driver commanded on, and of every test on a live circuit that is plugged in.
const (
	commanded = " Command the driver on by the scan tool's output test, or run the circuit in the state that uses it. A stored " +
		"code may " +
		"keep it off: clear the code first, then listen or feel for the click; another reading with the driver on that shows life " +
		"tells it too." +
		secured
	secured = " Selector in park, wheels chocked, nobody underneath, exhaust extracted, hands away from hot parts."
)

// Words returns the tool's words in each language.
func Words() []wording.Words {
	return []wording.Words{
		{Language: "en", Entries: english}, {Language: "de", Entries: de}, {Language: "es", Entries: es}, {Language: "fr", Entries: fr},
	}
}

// english are the words of this tool.
var english = []wording.Entry{
	{"title", "Circuit"},
	{"purpose", "Which part of the circuit is at fault, and what to measure next? Readings, code, costs."},
	{"return", "Other end of the winding"},
	{"return.how", "A wire of its own at the connector, or the housing as ground? Low side: always a wire."},
	{"return=wire", "own wire"},
	{"return=case", "the case"},
	{"supply", "Supply voltage"},
	{"supply.how", "At the battery posts, in the state in which you measure."},
	{"spec", "Specified winding"},
	{"spec.how", "Anything between the two counts as healthy. Which row applies has to be settled first."},
	{"spec.min", "Minimum"},
	{"spec.min.how", "As printed."},
	{"spec.max", "Maximum"},
	{"spec.max.how", "As printed."},
	{"settled", "Row settled"},
	{"settled.how", "The row that a known good part fits while it fits no other. Counts as looked up as long as it is the row given above."},
	{"settled.min", "Minimum"},
	{"settled.min.how", "As printed."},
	{"settled.max", "Maximum"},
	{"settled.max.how", "As printed."},
	{"settled.at", "Specified at"},
	{"settled.at.how", "20 °C where the manual does not say (common practice)."},
	{"spec.at", "Specified at"},
	{"spec.at.how", "20 °C where the manual does not say (common practice)."},
	{"winding_temperature", "Winding temperature"},
	{"winding_temperature.how", "While you measure: oil temperature, or room temperature after a night. Left out: anything from −20 to " +
		"130 °C."},
	{"winding_temperature_within", "Temperature is within ±"},
	{"winding_temperature_within.how", "How sure you are of it. 10 °C if left empty."},
	{"supply_within", "Supply is within ±"},
	{"supply_within.how", "How far the battery may be from that figure while you read. 0.3 V if left empty."},
	{"fault_present", "Does it show now?"},
	{"fault_present.how", "Does the complaint show while you measure? A fault that comes and goes reads healthy while it is away."},
	{"fault_present=yes", "yes"},
	{"fault_present=no", "no"},
	{"fault_present=unknown", "not known"},
	{"driver", "Driver in the control unit"},
	{"driver.how", "What it does when its current grows. One that protects itself shows nothing at its pin when it works into a short."},
	{"driver.at", "Current that it holds"},
	{"driver.at.how", "Of a driver that holds a set current, where the maker's data give it."},
	{"inner_harness", "Inner leads of the component"},
	{"inner_harness.how", "From its plug to its winding: part of the component, or sold as a harness of their own?"},
	{"inner_harness=part", "part of it"},
	{"inner_harness=apart", "sold apart"},
	{"code_kind", "Trouble code"},
	{"code_kind.how", "What it says of this circuit. None also where it does not say."},
	{"code_kind=none", "none"},
	{"code_kind=low", "low"},
	{"code_kind=high", "high"},
	{"code_kind=open", "open"},
	{"code_kind=range", "range"},
	{"readings", "Readings"},
	{"readings.how", "Tap a point of the circuit. Any reading helps, in any order; of one test the last counts."},
	{"readings.test", "Test"},
	{"readings.test.how", "What was measured."},
	{"readings.value", "Reading"},
	{"readings.value.how", "What the display shows, leads taken off; OL where there is no path."},
	{"readings.value=steady", "steady"},
	{"readings.value=jumps", "jumps"},
	{"readings.value=yes", "yes"},
	{"readings.value=no", "no"},
	{"readings.supply", "Supply at this reading"},
	{"readings.supply.how", "Where it was another than the one above."},
	{"readings.at", "Winding at this reading"},
	{"readings.at.how", "Where its temperature was another than the one above."},
	{"readings.aside", "Put aside for"},
	{"readings.aside.how", "The winding on which it was read, where that is another one: it is kept, and does not count here. #0 for one " +
		"without a name."},
	{"winding", "Winding"},
	{"winding.how", "Which of several windings this circuit is of: its name, or #3 for row 3 of a bench sheet."},
	{"others", "Put aside"},
	{"others.how", "Limits and code of windings whose readings are put aside."},
	{"readings.fine", "Taken at another supply or temperature"},
	{"minutes", "Minutes for each test"},
	{"minutes.how", "How long it takes on this vehicle, access included. Common practice if left empty; your own minutes steer better."},
	{"costs", "Costs"},
	{"costs.how", "In your currency. They decide when another test no longer pays."},
	{"costs.hour", "An hour of labour"},
	{"costs.hour.how", "60 if left empty."},
	{"costs.wrong", "Cost of a wrong repair"},
	{"costs.wrong.how", "Part and labour lost where it was not the fault: a comeback counts too. 300 for each if left empty."},
	{"meter", "Meter accuracy"},
	{"meter.how", "From the meter's manual, for each kind of reading: ± (per cent of reading + digits)."},
	{"meter.resistance", "Resistance"},
	{"meter.resistance.how", "Last figure left out: a meter of 4000 counts that changes its range."},
	{"meter.voltage", "Voltage"},
	{"meter.voltage.how", "Of the range used."},
	{"meter.current", "Current"},
	{"meter.current.how", "Of the clamp or meter used."},
	{"meter.resistance.percent", "Per cent of reading"},
	{"meter.resistance.percent.how", "1 %% for a plain hand-held meter."},
	{"meter.resistance.counts", "Digits"},
	{"meter.resistance.counts.how", "How many steps of the last figure the manual adds."},
	{"meter.resistance.resolution", "Last figure is"},
	{"meter.resistance.resolution.how", "One step of the last figure. Left out: 0.1 Ω below 400 Ω, then coarser."},
	{"meter.voltage.percent", "Per cent of reading"},
	{"meter.voltage.percent.how", "0.5 %% for a plain hand-held meter."},
	{"meter.voltage.counts", "Digits"},
	{"meter.voltage.counts.how", "How many steps of the last figure the manual adds."},
	{"meter.voltage.resolution", "Last figure is"},
	{"meter.voltage.resolution.how", "One step of the last figure."},
	{"meter.current.percent", "Per cent of reading"},
	{"meter.current.percent.how", "2 %% for a plain direct-current clamp."},
	{"meter.current.counts", "Digits"},
	{"meter.current.counts.how", "How many steps of the last figure the manual adds."},
	{"meter.current.resolution", "Last figure is"},
	{"meter.current.resolution.how", "One step of the last figure."},
	{"priors", "How common each fault is"},
	{"priors.how", "Weights beside each other, before any reading. Common practice if left empty; 0 rules a fault out."},
	{"parameters", "How large a fault can be"},
	{"parameters.how", "Between these limits; ohms are spread evenly over their powers of ten. Common practice."},
	{"parameters.min", "Least"},
	{"parameters.max", "Most"},
	{"nominal", "The rest of the circuit, healthy"},
	{"nominal.how", "Resistances that nobody prints. Where a field is empty, anything that is common practice is possible; a " +
		"value that " +
		"is given is taken as exact."},
	{"nominal.driver", "Driver, on"},
	{"nominal.driver.how", "0.1 to 0.8 Ω where left empty, with its sense resistor; an exercise takes 0.15 Ω."},
	{"nominal.harness", "Harness"},
	{"nominal.harness.how", "Control wire, connector to connector: 0.05 to 0.9 Ω where left empty; an exercise takes 0.15 Ω."},
	{"nominal.inner_lead", "Inner lead"},
	{"nominal.inner_lead.how", "From the component's connector to the winding: 0.05 to 0.3 Ω where left empty; an exercise takes " +
		"0.10 Ω."},
	{"nominal.return_path", "Return path"},
	{"nominal.return_path.how", "To ground (high side) or to the feed (low side): 0.02 to 0.3 Ω where left empty; an exercise takes " +
		"0.05 and 0.15 Ω."},
	{"nominal.source", "Battery and its cables"},
	{"nominal.source.how", "0.02 Ω where left empty."},
	{"nominal.check_current", "Check current, as a resistor"},
	{"nominal.check_current.how", "What the driver pulls the idle pin with: 20 kΩ to supply (high side), 50 kΩ to ground (low " +
		"side) where " +
		"left " +
		"empty."},
	{"checks", "When the control unit sets a code"},
	{"checks.how", "Thresholds of the driver's own checks, as common data sheets have them, where a field is empty."},
	{"checks.off", "Off: pin at"},
	{"checks.off.how", "Above it (high side) or below it (low side) the circuit counts as open: 3 V."},
	{"checks.on", "On: pin at"},
	{"checks.on.how", "Below it (high side, 2.8 V) or above it (low side, 2.5 V) the output counts as shorted."},
	{"checks.over", "On: current above"},
	{"checks.over.how", "Counts as a short: 4.5 A."},
	{"checks.open", "On: current below"},
	{"checks.open.how", "Counts as open: 40 mA (high side), 100 mA (low side)."},
	{"checks.range", "Current off by more than"},
	{"checks.range.how", "Counts as out of range: 20 %% of the expected."},

	// Faults, repairs, parts.
	{"fault.none", "no fault"},
	{"fault.winding.open", "winding open"},
	{"fault.winding.shorted_turns", "shorted turns"},
	{"fault.winding.high_resistance", "winding: high resistance"},
	{"fault.winding.to_case", "winding leaks to the case"},
	{"fault.inner_lead.open", "inner lead open"},
	{"fault.inner_lead.high_resistance", "inner lead: high resistance"},
	{"fault.inner_lead.to_ground", "inner lead to ground"},
	{"fault.harness.open", "control wire open"},
	{"fault.harness.high_resistance", "control wire: high resistance"},
	{"fault.harness.to_ground", "control wire to ground"},
	{"fault.harness.to_battery", "control wire to battery"},
	{"fault.return_path.open", "return path open"},
	{"fault.return_path.high_resistance", "return path: high resistance"},
	{"fault.driver.never_on", "driver never switches on"},
	{"fault.driver.always_on", "driver never switches off"},
	{"fault.driver.weak", "driver weak"},
	{"fault.unit_feed.open", "unit's feed open"},
	{"fault.unit_feed.high_resistance", "unit's feed: high resistance"},
	{"fault.unit_ground.open", "unit's ground open"},
	{"fault.unit_ground.high_resistance", "unit's ground: high resistance"},
	{"fault.unit_connector.open", "contact open in the unit's plug"},
	{"fault.unit_connector.high_resistance", "poor contact in the unit's plug"},
	{"fault.component_connector.open", "contact open in the component's plug"},
	{"fault.component_connector.high_resistance", "poor contact in the component's plug"},
	{"fault.inner_lead.to_battery", "inner lead to battery"},
	{"fault.harness.to_other", "control wire bridged to another circuit"},
	{"fault.component.to_other", "component bridged to another circuit inside"},
	{"fault.driver.shorted", "driver shorted inside the unit"},
	{"fault.intermittent.harness", "harness comes and goes"},
	{"fault.intermittent.component", "component comes and goes"},
	{"fault.intermittent.return_path", "return path comes and goes"},
	{"fault.intermittent.unit", "control unit comes and goes"},
	{"fault.other_row", "another row of the specification applies"},
	{"fault.other", "something else"},
	{"repair.nothing", "nothing"},
	{"repair.component", "the component"},
	{"repair.harness", "the harness"},
	{"repair.return_path", "the return path"},
	{"repair.control_unit", "the control unit"},
	{"repair.unit_power", "the control unit's supply or ground"},
	{"repair.inner_harness", "the inner harness"},
	{"repair.unexplained", "none of these"},
	{"mending.nothing", "nothing to mend"},
	{"do.nothing", "Nothing to mend found"},
	{"do.component", "Replace the component"},
	{"do.harness", "Mend the harness"},
	{"do.return_path", "Mend the return path"},
	{"do.control_unit", "Control unit, by elimination"},
	{"do.unit_power", "Mend the control unit's supply or ground"},
	{"do.inner_harness", "Replace the inner harness"},
	{"do.unexplained", "No known fault fits"},
	{"do.doubtful", "Not settled"},
	{"do.test", "Measure next"},
	{"do.look", "Look at this first"},
	{"do.again", "Readings do not fit"},
	{"part.driver", "driver"},
	{"part.harness", "harness"},
	{"part.inner_lead", "lead"},
	{"part.winding", "winding"},
	{"part.return_path.high", "ground"},
	{"part.return_path.low", "feed"},
	{"part.unit_power", "unit power"},

	// Tests: name, the short name of its point in the drawing, and how to take it.
	{"point.resistance_winding", "Ohms, lifted out"},
	{"point.resistance_component", "Ohms of part"},
	{"point.resistance_unit", "Ohms at unit plug"},
	{"point.continuity_harness", "Ohms end to end"},
	{"point.insulation_harness", "Ohms to ground"},
	{"point.insulation_component", "Ohms to case"},
	{"point.voltage_harness_open", "Volts, wire loose"},
	{"point.voltage_pin_on", "Volts, driver on"},
	{"point.voltage_pin_off", "Volts, driver off"},
	{"point.current_on", "Amps, driver on"},
	{"point.voltage_drop_return", "Volts lost"},
	{"point.voltage_feed", "Volts of feed"},
	{"point.voltage_unit_test_load", "Volts on test load"},
	{"point.voltage_unit_feed", "Volts, unit feed"},
	{"point.voltage_unit_ground", "Volts, unit ground"},
	{"point.wiggle_harness", "Ohms, wires moved"},
	{"point.row_applies", "Right row?"},
	{"point.winding_temperature", "How hot?"},
	{"point.supply_driven", "Battery volts, driver on"},
	{"point.heat_component", "Ohms as it warms"},
	{"readings.test=resistance_winding", "Ohms of the winding, lifted out"},
	{"readings.test=resistance_component", "Ohms at the component"},
	{"readings.test=resistance_unit", "Ohms at the unit's plug"},
	{"readings.test=continuity_harness", "Ohms of the control wire"},
	{"readings.test=insulation_harness", "Ohms, control wire to ground"},
	{"readings.test=insulation_component", "Ohms, component pin to case"},
	{"readings.test=voltage_harness_open", "Volts on the loose wire"},
	{"readings.test=voltage_pin_on", "Volts at the pin, driver on"},
	{"readings.test=voltage_pin_off", "Volts at the pin, driver off"},
	{"readings.test=current_on", "Current, driver on"},
	{"readings.test=voltage_drop_return", "Volts lost in the return path"},
	{"readings.test=voltage_feed", "Volts at the component's feed"},
	{"readings.test=voltage_unit_test_load", "Volts across a test load"},
	{"readings.test=voltage_unit_feed", "Volts at the unit's feed"},
	{"readings.test=voltage_unit_ground", "Volts lost in the unit's ground"},
	{"readings.test=wiggle_harness", "Ohms while wires are moved"},
	{"readings.test=row_applies", "Row fits the part number"},
	{"readings.test=winding_temperature", "Thermometer on the component"},
	{"readings.test=supply_driven", "Battery volts, driver on"},
	{"readings.test=heat_component", "Ohms while the component warms"},
	{"readings.test=resistance_winding.how", "Lift the winding out; read across its own two terminals. Power off; hot parts and " +
		"oil burn."},
	{"readings.test=resistance_component.how", "Power off, component unplugged. Read on the component's side, pin to return " +
		"pin; to the " +
		"case where it returns " +
		"through the case."},
	{"readings.test=resistance_unit.how", "Battery off, unit unplugged, component plugged in. Read on the harness's side: " +
		"pin to ground on " +
		"the high side, " +
		"pin to feed on the low side. Never probe the unit itself with an ohmmeter."},
	{"readings.test=continuity_harness.how", "Power off, both ends unplugged. Read the control wire end to end; do not spread the " +
		"terminals with the probe."},
	{"readings.test=insulation_harness.how", "Power off, both ends unplugged. Read control wire to ground: OL if all is well."},
	{"readings.test=insulation_component.how", "Power off, component unplugged. Read its pin to its metal case: OL if all is well."},
	{"readings.test=voltage_harness_open.how", "Both ends unplugged, then supply on. Read control wire to ground with a plain " +
		"voltmeter, " +
		"not a test lamp."},
	{"readings.test=voltage_pin_on.how", "All plugged in, driver fully on. Back-probe the control pin on the harness's side of " +
		"the unit's " +
		"plug, to ground; a pulsed output reads an average." + commanded},
	{"readings.test=voltage_pin_off.how", "All plugged in, supply on, driver commanded off. Back-probe the control pin on the " +
		"harness's " +
		"side of the unit's plug, to ground; do not let the probe slip to its neighbour." + secured},
	{"readings.test=current_on.how", "All plugged in, driver fully on. Clamp round the control wire alone, zeroed beside it." +
		commanded},
	{"readings.test=voltage_drop_return.how", "All plugged in, driver fully on. High side: far end to battery minus. Low side: " +
		"battery plus to far end." + commanded},
	{"readings.test=voltage_feed.how", "Component unplugged, supply on. Read the feed terminal of the harness to ground."},
	{"readings.test=voltage_unit_test_load.how", "Ignition off, harness unplugged at the unit, a 12 Ω resistor in its place: " +
		"pin to ground " +
		"on the high side, supply to pin on the low side. It gives off U²/12 watts. " +
		"Ignition on, " +
		"code cleared first, or the unit may keep its driver off; then command it on by the scan tool's output test. Read across the " +
		"resistor, seconds only: it gets hot."},
	{"readings.test=voltage_unit_feed.how", "All plugged in, driver on, since a poor feed shows only under load. Back-probe the " +
		"unit's supply " +
		"pin, to battery negative; try each where it has several." + commanded},
	{"readings.test=voltage_unit_ground.how", "All plugged in, driver on. Back-probe the unit's ground pin, to battery " +
		"negative: a sound " +
		"ground loses next to nothing." + commanded},
	{"readings.test=wiggle_harness.how", "As ohms at the unit's plug: battery off, unit unplugged, component plugged in. Watch " +
		"the display " +
		"while wires, plugs and brackets are moved, piece by piece: does it stay steady, or jump?"},
	{"readings.test=row_applies.how", "Part number and build date against the manual: is the specification typed here the row for this " +
		"part? Nothing is opened. A known good part, read at the same temperature, settles it too."},
	{"readings.test=winding_temperature.how", "Thermometer on the component's body, or the oil temperature of the scan tool " +
		"once all has had " +
		"time to settle. Infrared misreads bright metal: tape on it helps."},
	{"readings.test=supply_driven.how", "Volts at the battery posts, driver on, in the state in which you took the other readings." +
		commanded},
	{"readings.test=heat_component.how", "Power off, component unplugged. Ohms at its connector while a hot-air gun warms it by " +
		"40 °C or more. " +
		"Copper climbs steadily, about 4 %% for each 10 °C: that is steady. Breaks, leaps and OL are jumps."},

	// The answer.
	{"waiting", "Describe the circuit"},
	{"headline.of", "%[1]s: %[2]s"},
	{"headline.test", "%[1]s · %[2]s min"},
	{"headline.repair", "%[1]s likely"},
	{"headline.nothing", "readings plausible, %[1]s likely"},
	{"headline.comes_and_goes", "a fault that comes and goes stays possible, %[1]s"},
	{"headline.unexplained", "order nothing on these readings"},
	{"headline.against_code", "code does not fit"},
	{"headline.rests_on", "rests on one reading"},
	{"headline.again", "take again: %[1]s"},
	{"why.test", "Likeliest so far: %[1]s (%[2]s), %[3]s (%[4]s). Another test pays: it should save about %[5]s in labour and wrong parts."},
	{"why.again", "The readings contradict each other: no repair follows from them yet."},
	{"again.title", "Take again: %s"},
	{"why.sure", "Likeliest fault: %[1]s (%[2]s). Another test would cost more than it saves."},
	{"why.repair", "Likeliest fault: %[1]s (%[2]s). Another test would cost more than it saves; what is left of doubt costs %[3]s " +
		"on average."},
	{"why.nothing", "The readings are what a healthy circuit gives, and another test would cost more than it saves. That does not " +
		"make a part good: a fault that comes and goes, or a stuck plunger, reads the same."},
	{"why.none_left", "Likeliest fault: %[1]s (%[2]s). No test is left; what is left of doubt costs %[3]s on average."},
	{"why.eliminate", "A control unit is reached by elimination. Before it is condemned, its feed, its ground and its plug are " +
		"measured, " +
		"and it is tried on a test load: this is the next of them."},
	{"why.not_shown", "No reading has shown the fault yet, or much doubt is left: this test tells most for its minutes."},
	{"why.look", "This is looked at before anything is mended for it."},
	{"why.look.row", "Another row of the specification, or another temperature, may explain these readings. That is looked at before a " +
		"component is condemned."},
	{"why.look.supply", "A supply other than the one typed may explain these readings. That is looked at before anything is condemned."},
	{"why.look.loose", "The readings are healthy now, and a fault that comes and goes is likely. It is looked for before anything is " +
		"mended."},
	{"why.held_off", "The driver is told to be on, and nothing shows: a stored code may keep it off. Clear the code, command it " +
		"on again, and take this reading once more."},
	{"why.other_row", "Another row of the specification explains the readings (%[1]s): by that row the winding is plausible. " +
		"Make sure by " +
		"part number and build date which row applies."},
	{"why.doubtful", "The likeliest fault is %[1]s, at only %[2]s, and no test is left that would tell more. Too little is known to replace " +
		"anything: take a reading again that surprised you, or measure by the maker's procedure."},
	{"why.unexplained", "The readings fit nothing known here, also where taken again. Order nothing on this: begin anew with fresh " +
		"readings, and look for what is not on this list, such as a second fault or another circuit."},
	{"load.watts", "A 12 Ω load on %[1]s gives off %[2]s W: use a resistor rated for that or more."},
	{"next.title", "Next: %s"},
	{"next.numbers", "%[1]s min · should save about %[2]s in labour and wrong parts"},
	{"next.expected", "If all is well: %s."},
	{"price", "Wrong repair (%[1]s): counted as %[2]s. Type your price"},
	{"next.outcomes", "What each reading would point to; at the right, how likely that reading is."},
	{"next.take", "Take this reading"},
	{"next.look", "Say what you found"},
	{"next.other", "Other tests"},
	{"next.not", "does not pay"},
	{"next.pays", "saves %s"},
	{"minutes.short", "%s min"},
	{"outcome", "%[1]s (%[2]s): %[3]s, %[4]s"},
	{"outcome.one", "%[1]s: %[2]s (%[3]s)"},
	{"outcome.over", "OL"},
	{"outcome.any", "any value"},
	{"outcome.below", "below %s"},
	{"outcome.above", "above %s"},
	{"outcome.rest", "any other reading"},
	{"outcome.open", "no repair is clearly ahead yet"},
	{"range", "%[1]s to %[2]s"},
	{"range.over", "OL, no path"},
	{"range.upto", "up to %s"},
	{"reading.settled", "%s: yes, settled by a known good part"},
	{"reading.counted", "%[1]s: %[2]s (if all is well %[3]s)"},
	{"reading.well", "%[1]s: %[2]s, as it should"},
	{"reading.own", "%[1]s at %[2]s"},
	{"reading.superseded", "%[1]s: %[2]s (read again since, does not count)"},
	{"drawn.text", "The circuit from the control unit to the far end, each part with the probability that it is at fault: %s. No " +
		"fault: %s."},
	{"drawn.chain", "The circuit from the control unit to the far end: %s."},
	{"drawn.part", "%[1]s %[2]s"},
	{"drawn.caption", "The stronger its colour, the likelier a part is at fault. Tap a point below a part to enter a reading there."},
	{"drawn.points", "Test points"},
	{"drawn.looks", "Is what was typed right?"},
	{"drawn.supply", "supply"},
	{"drawn.ground", "ground"},
	{"point.state.open", "%[3]s: %[1]s, not taken, %[2]s min"},
	{"point.state.next", "%[3]s: %[1]s, next, %[2]s min"},
	{"point.state.taken", "%[3]s %[2]s: %[1]s, read"},
	{"none", "No fault: %s"},
	{"other", "Something else: %s"},
	{"sheet.back", "Put it back: torque and bolts"},
	{"sheet.handover", "Write it up: to the handover"},
	{"sheet.as_found", "Hand it back as found: write it up"},
	{"sheet.practise", "Practise: hide a fault in this circuit"},
	{"about", "Circuit of %s"},
	{"about.none", "A circuit of its own"},
	{"about.aside", "Put aside, with what was read there: tap one to take it again."},
	{"aside.none", "circuit without a name"},
	{"sheet.repairs", "Likely repair"},

	// Warnings.
	{"warn.surprise", "No single fault explains these readings. “%s” fits least: take it again before anything is ordered."},
	{"warn.two_faults", "Two faults at once would explain them: %[1]s, and %[2]s."},
	{"warn.rests_on", "All of this rests on one reading, “%s”: take it again before anything is ordered."},
	{"warn.superseded", "A test was taken again: its last reading counts. Earlier readings left out: %s."},
	{"warn.same_repair", "Not told apart by these readings: %[1]s, %[2]s. They need not be, as the repair is the same: %[3]s."},
	{"warn.temperature_unknown", "No temperature is given for the winding, so anything from %[1]s to %[2]s is possible, and the " +
		"answer is " +
		"as wide. Type it, if only roughly with a wide ±, or put a thermometer on the part."},
	{"warn.against_code", "“%[1]s” would not normally set a code “%[2]s”; it sets %[3]s. Read the codes again, and look for a " +
		"second fault, " +
		"before anything is ordered."},
	{"warn.against_code.none", "“%[1]s” would not normally set a code at all, and “%[2]s” is stored. Read the codes again, and " +
		"look for a " +
		"second fault, before anything is ordered."},
	{"warn.comes_and_goes", "Healthy now; a fault that comes and goes stays possible, %[1]s: it reads healthy while it is away. " +
		"Measure while " +
		"the complaint shows, or move the wires and warm the part while you read."},
	{"warn.held_off", "A stored code may keep the driver off, and one that protects itself switches off into a short: either " +
		"reads like a " +
		"dead driver. Clear the code, command it on again, and listen or feel for the click."},

	// Cautions.
	{"caution.plugs", "Ignition off before a plug is pulled or put back: a control unit can be ruined by it."},
	{"caution.test_load", "A 12 Ω resistor on this supply gives off %[1]s W (U²/12) and burns: use one rated for that, seconds " +
		"only, away " +
		"from anything that melts."},
	{"caution.hot_part", "The part and its oil may burn you. Warm it with hot air, never a flame, and nowhere near fuel."},
	{"caution.lifted", "Lifting a part out opens the hydraulics: pressure off, hot oil, and new seals where the maker asks for them."},
	{"caution.before_unit", "A control unit is reached by elimination. Before a new one is connected, make sure that the " +
		"winding and its " +
		"wiring do not draw more than the driver's limit."},

	// Working.
	{"step.coil", "A healthy winding at its temperature, least (without a temperature: at the middle of what it may be)"},
	{"step.current", "Current of a healthy circuit with a winding in the middle"},
	{"step.prior", "How likely “%s” was before any reading"},
	{"step.posterior", "How likely it is after the readings"},
	{"step.stop", "Expected cost of being wrong, if repaired now"},
	{"step.value", "What “%s” saves on average, looking two tests ahead"},
	{"source.bayes", "Bayes' rule; weights and parameters are common practice"},
	{"source.network", "Ohm's and Kirchhoff's laws"},
	{"fault.reversed", "%[1]s is below zero."},
	{"fault.reversed.hint", "Change the probes over and read again, or leave the sign out."},
	{"fault.set_current", "A current is given for a driver that does not hold one."},
	{"fault.set_current.hint", "Leave this out, or say that the driver holds a set current."},
	{"fault.no_word", "This test is read in a word, and “%[1]s” is none of its words."},
	{"fault.no_word.hint", "Give one of: %[2]s."},
	{"fault.over_limit_of", "OL is a reading of resistance. This test reads another kind: %[1]s."},
	{"fault.over_limit_of.hint", "Give what the display shows, for example %[2]s."},

	// Results, for the schema.
	{"result.overall", "The one verdict: test, again, the repair, or stop."},
	{"result.stop", "high_voltage where a supply is above 60 V: no advice; left out where there is none."},
	{"result.faults", "Every fault, likeliest first; the probabilities sum to 1."},
	{"result.faults.fault", "Its name."},
	{"result.faults.probability", "How likely it is."},
	{"result.repairs", "The same by what would be replaced or mended."},
	{"result.repairs.repair", "component, harness, return_path, control_unit, unit_power, nothing, unexplained; inner_harness " +
		"where it is sold " +
		"apart."},
	{"result.repairs.probability", "How likely it is that this mends it."},
	{"result.next", "Tests not yet made that are possible, best first."},
	{"result.next.test", "Its name."},
	{"result.next.gain_bits", "Information about the fault that it is expected to give."},
	{"result.next.minutes", "How long it takes."},
	{"result.next.value", "What it is expected to save, its own cost taken off; below 0 it does not pay."},
	{"result.next.expected", "Where 95 of 100 readings of a healthy circuit lie."},
	{"result.next.expected.min", "From."},
	{"result.next.expected.max", "To."},
	{"result.next.expected.over", "OL."},
	{"result.next.expected.word", "The word, of a test that is read in words."},
	{"result.next.outcomes", "What each likely reading would mean, from the smallest on."},
	{"result.next.undecided", "How likely a reading is that none of these says: no repair is clearly ahead after " +
		"it. Left out below a hundredth."},
	{"result.next.outcomes.from", "Lower end; left out where there is none."},
	{"result.next.outcomes.to", "Upper end; left out where there is none."},
	{"result.next.outcomes.over", "OL."},
	{"result.next.outcomes.word", "The word, of a test that is read in words."},
	{"result.next.outcomes.probability", "How likely it is."},
	{"result.next.outcomes.fault", "The likeliest fault then."},
	{"result.next.outcomes.fault_probability", "How likely that would be."},
	{"result.next.outcomes.repair", "The likeliest repair then."},
	{"result.next.outcomes.repair_probability", "How likely that would be."},
	{"result.decision", "What pays now."},
	{"result.decision.do", "test, repair, recheck where the readings fit nothing known, or stop."},
	{"result.decision.why", "Why: again (readings contradict), test (it pays), look, eliminate or not_shown (before a part is " +
		"condemned), sure, repair, none_left (no test), nothing (healthy), unexplained (fits nothing), " +
		"doubtful (too little is known)."},
	{"result.decision.test", "The test to make, or to make again."},
	{"result.decision.repair", "The repair with the least expected cost of error; nothing: hand over as it is."},
	{"result.decision.probability", "How likely it is to be right."},
	{"result.decision.expected_cost_of_error", "What being wrong costs on average."},
	{"result.decision.rests_on", "The one reading without which the repair would be doubtful; left out where there is none."},
	{"result.comes_and_goes", "How likely a fault is that comes and goes, and reads healthy while it is away."},
	{"result.sets", "The kinds of code that the likeliest fault of the repair normally sets."},
	{"result.surprise", "How unlikely, in bits, readings as far as these from the best single fault are; a warning from 7 on."},
	{"result.worst", "With a surprise: the reading without which they would fit best."},
	{"result.pair", "With a surprise: two faults that together would explain the readings."},
	{"result.rests_on", "The one reading without which the repair decided on would be doubtful; left out where there is none."},
	{"result.readings", "The readings as understood."},
	{"result.readings.test", "The test."},
	{"result.readings.value", "What it read."},
	{"result.readings.over", "OL."},
	{"result.readings.word", "What it read, of a test that is read in words."},
	{"result.readings.supply", "The supply at that reading, where it was another."},
	{"result.readings.at", "The winding's temperature at that reading, where it was another."},
	{"result.readings.counted", "Whether it counts: the last of its test does."},
	{"result.readings.expected", "Where 95 of 100 readings of a healthy circuit lie."},
	{"result.readings.expected.min", "From."},
	{"result.readings.expected.max", "To."},
	{"result.readings.expected.over", "OL."},
	{"result.readings.expected.word", "The word, of a test that is read in words."},
	{"hand", "A code and a harness"},
	{"hand.why", "Which part is at fault, and which test is worth its minutes next?"},
	{"fine", "Minutes, costs, meter, assumptions"},
}
