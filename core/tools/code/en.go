package code

import (
	"slices"

	"ohmwright/core/wording"
)

// Words returns the tool's words in each language.
func Words() []wording.Words {
	return []wording.Words{
		{Language: "en", Entries: slices.Concat(english, englishCircuits)},
		{Language: "de", Entries: de}, {Language: "es", Entries: es}, {Language: "fr", Entries: fr},
	}
}

// english are the words of this tool.
var english = []wording.Entry{
	{"title", "Trouble code"},
	{"purpose", "What does a trouble code say of a circuit? Its structure, the circuit it names, and the states that set it."},

	// Fields.
	{"code", "Trouble code"},
	{"code.how", "As the scan tool shows it: a letter and four more, such as P0962. Its failure type may stand behind it: P0962-11."},
	{"failure_type", "Failure type"},
	{"failure_type.how", "Two more characters behind the code, such as 11, where the scan tool shows them. Else leave it empty."},

	// Results, for the schema.
	{"result.code", "The code in five characters."},
	{"result.system", "powertrain, body, chassis or network."},
	{"result.origin", "standard (the same on every make) or manufacturer."},
	{"result.area", "For a P0 code the field of work that its third character names; a hint, newer editions of the standard no " +
		"longer group codes."},
	{"result.known", "Whether the code is in the table of solenoid circuits."},
	{"result.overall", "The one verdict: the failure of the circuit; manufacturer or not_in_table where none is known; stop where no " +
		"advice is given."},
	{"result.stop", "restraint_system or high_voltage: no advice, only the maker's procedure; left out where there is none."},
	{"result.first", "What to find out first: unit_feed (volts at the control unit's supply pin and ground) or shows_now (does the " +
		"complaint " +
		"show now?); left out where there is nothing to find out first."},
	{"result.circuit", "The circuit that the code names: a circuit, never a part. A description in English, not the standard's sentence."},
	{"result.failure", "How it fails: low, high, open, range, circuit, device, electrical, performance, intermittent, shorted, " +
		"stuck_on, stuck_open or stuck_closed."},
	{"result.failure_type", "The failure type, where one is given."},
	{"result.failure_type.code", "Its two hexadecimal digits."},
	{"result.failure_type.meaning", "What it says; left out where it is not known."},
	{"result.code_kind", "The same as the circuit question takes it: low, high, open or range; empty where none fits."},
	{"result.meaning", "The electrical states that set it, likeliest first."},
	{"result.meaning.high_side", "Where the control unit feeds the pin; empty where the code does not fit that side."},
	{"result.meaning.high_side.state", "The state's name."},
	{"result.meaning.high_side.text", "The same in a sentence."},
	{"result.meaning.low_side", "Where the control unit grounds the pin; empty where the code does not fit that side."},
	{"result.meaning.low_side.state", "The state's name."},
	{"result.meaning.low_side.text", "The same in a sentence."},

	// The structure.
	{"system.powertrain", "powertrain"},
	{"system.body", "body"},
	{"system.chassis", "chassis"},
	{"system.network", "network"},
	{"origin.standard", "standard: the same meaning on every make"},
	{"origin.manufacturer", "the maker's own: another meaning on another make"},
	{"area.fuel_air", "fuel and air"},
	{"area.injection", "fuel and air, injectors"},
	{"area.ignition", "ignition, misfire"},
	{"area.emission", "emission control"},
	{"area.speed_idle", "speed and idle"},
	{"area.computer", "control unit and its outputs"},
	{"area.transmission", "transmission"},
	{"area.hybrid", "hybrid drive"},
	{"names", "%[1]s: %[2]s"},
	{"failure.low", "low"},
	{"failure.high", "high"},
	{"failure.open", "open"},
	{"failure.range", "range or performance"},
	{"failure.circuit", "circuit fault, kind not said"},
	{"failure.device", "malfunction, kind not said"},
	{"failure.electrical", "electrical, kind not said"},
	{"failure.performance", "performance"},
	{"failure.intermittent", "intermittent"},
	{"failure.shorted", "shorted"},
	{"failure.stuck_on", "stuck on"},
	{"failure.stuck_open", "stuck open"},
	{"failure.stuck_closed", "stuck closed"},

	// Failure types.
	{"type.00", "no sub-type"},
	{"type.01", "general electrical failure"},
	{"type.10", "general electrical category, no sub-type"},
	{"type.11", "short to ground"},
	{"type.12", "short to battery"},
	{"type.13", "open"},
	{"type.14", "short to ground or open"},
	{"type.15", "short to battery or open"},
	{"type.16", "voltage below threshold"},
	{"type.17", "voltage above threshold"},
	{"type.18", "current below threshold"},
	{"type.19", "current above threshold"},
	{"type.1A", "resistance below threshold"},
	{"type.1B", "resistance above threshold"},
	{"type.1C", "voltage out of range"},
	{"type.1D", "current out of range"},
	{"type.1E", "resistance out of range"},
	{"type.1F", "intermittent"},
	{"type.71", "actuator stuck"},
	{"type.72", "actuator stuck open"},
	{"type.73", "actuator stuck closed"},
	{"type.7E", "actuator stuck on (from memory)"},
	{"type.7F", "actuator stuck off"},

	// States: a name, and what they do at either side.
	{"name.open_circuit", "Open."},
	{"name.short_to_ground", "Short to ground."},
	{"name.short_to_battery", "Short to battery."},
	{"name.shorted_winding", "Shorted turns."},
	{"name.lost_ground", "Ground lost."},
	{"name.lost_feed", "Feed lost."},
	{"name.high_resistance", "Bad contact."},
	{"name.leak_to_ground", "Leak to ground."},
	{"name.driver", "Driver."},
	{"state.high.open_circuit", "Harness, contact, inner lead or winding is interrupted, and the unit's own check current pulls the loose " +
		"pin " +
		"up. With the driver off it takes tens of kilo-ohms to be seen, not some ohms."},
	{"state.high.short_to_ground", "Control wire, inner lead or winding touches ground: with the driver on, over-current, and the pin's " +
		"voltage " +
		"collapses."},
	{"state.high.short_to_battery", "The control wire touches a feed: the pin stays up with the driver off, and the winding is fed " +
		"all the " +
		"time."},
	{"state.high.shorted_winding", "So few turns are left that the driver sees over-current, as with a short to ground."},
	{"state.high.lost_ground", "The winding's far end has no ground. A ground shared by several loads, once lost, sets the codes " +
		"of all of " +
		"them."},
	{"state.high.lost_feed", "What supplies this feed is gone: fuse, relay or the wire before it."},
	{"state.high.high_resistance", "Some ohms too many in contact, wire or ground: less current than commanded. Only a unit that watches " +
		"the " +
		"current sees it; to be called open it takes hundreds."},
	{"state.high.leak_to_ground", "Some ohms to tens of ohms from the control wire to ground: current that does not pass the " +
		"winding. Only " +
		"a unit " +
		"that watches the current sees it."},
	{"state.high.driver", "The switch in the control unit. It is reached by elimination alone: first prove harness, winding and ground."},
	{"state.low.open_circuit", "Harness, contact, inner lead or winding is interrupted, and the unit's own check current pulls the loose " +
		"pin " +
		"down. With the driver off it takes tens of kilo-ohms to be seen, not some ohms."},
	{"state.low.short_to_ground", "Control wire, inner lead or winding touches ground: the pin stays down with the driver off, and the " +
		"winding is " +
		"fed all the time, past the driver."},
	{"state.low.short_to_battery", "The control wire touches a feed: with the driver on, over-current, and the pin does not come down."},
	{"state.low.shorted_winding", "So few turns are left that the driver sees over-current, as with a short to battery."},
	{"state.low.lost_feed", "The winding's far end is not fed: fuse, relay or wire. A feed shared by several loads, once lost, sets the " +
		"codes of all of them."},
	{"state.low.high_resistance", "Some ohms too many in contact, wire or feed: less current than commanded. Only a unit that watches the " +
		"current " +
		"sees it; to be called open it takes hundreds."},
	{"state.low.leak_to_ground", "Tens of ohms from the control wire to ground: they feed the winding past the driver. A check of " +
		"the pin's " +
		"voltage does not see it, though it moves the valve."},
	{"state.low.driver", "The switch in the control unit. It is reached by elimination alone: first prove harness, winding and feed."},
	{"name.supply_off", "Battery or charging."},
	{"name.control_unit", "Control unit."},
	{"state.unit.lost_feed", "No volts reach the control unit's supply pin: fuse, relay, splice or wire before it; a wire that " +
		"touches ground " +
		"blows the fuse."},
	{"state.unit.lost_ground", "The control unit's own ground is open or has ohms in it: the unit then sees less than the battery gives."},
	{"state.unit.high_resistance", "A fuse holder, terminal or splice in the feed that loses volts under load and reads right without it."},
	{"state.unit.supply_off", "Battery or charging voltage itself is too low or too high: a weak battery, a charging fault, a jump start."},
	{"state.unit.control_unit", "The unit measures its own supply wrongly. It is reached by elimination alone: first prove feed " +
		"and ground."},
	{"none.high", "Nothing at a high-side driver sets this."},
	{"none.low", "Nothing at a low-side driver sets this."},

	// Warnings.
	{"warn.not_in_table", "%s is not among the solenoid circuits known here. Its structure is all that is said of it: look it up in the " +
		"maker's list."},
	{"warn.manufacturer", "What this code means is the maker's own affair: a list of another make, or of none, may say something else."},
	{"warn.reserved", "The standard keeps this range for later: no meaning of it is published. Read the code again."},
	{"warn.shared_range", "Published lists differ on this range: by some it is the standard's, by others the makers' as well. The maker's " +
		"list decides."},
	{"warn.type_unknown", "The failure type %s is not known here and is left aside."},
	{"warn.types_disagree", "“%[1]s” and the failure type %[2]s, %[3]s, fit together at neither kind of driver. The failure type is " +
		"followed " +
		"here; the maker's list decides."},
	{"warn.stop_makers_own", "P1A codes are the maker's own, and of hybrid or electric drive in every list seen here. Only where " +
		"the maker's " +
		"list names another system does this stop not apply."},
	{"warn.unit_power", "The code names the control unit's own supply, not the circuit of one solenoid. Measure first, plugged " +
		"in and with the loads on: volts from battery plus to the unit's supply pin, and from its ground pin to battery minus. " +
		"Each should be a tenth or two of a volt (common practice). While they are wrong, other codes of this unit mean little."},
	{"warn.common_feed", "The code names a feed that several loads share, not the circuit of one. Any of their wires can pull it " +
		"down: unplug them one by one."},
	{"warn.any_state", "It does not say which way the circuit fails: open, shorted or out of range. A failure type behind the code, or " +
		"measuring, tells."},
	{"warn.wide_range", "“Range” also stands for performance: a current off the commanded one, or an effect that did not follow " +
		"it. Then part or fluid may be at fault with every wire sound."},
	{"warn.not_electrical_alone", "This need not be electrical: what was commanded did not happen. A stuck plunger, a worn " +
		"valve, pressure or fluid set this with every wire and winding sound."},
	{"warn.rest_position", "Whether a fed winding opens or closes it depends on the valve, so a winding that is always fed and one " +
		"that is " +
		"never fed are both listed."},
	{"warn.intermittent", "The state came and went. Does it show now, while you measure? If not, a reading shows a sound circuit: " +
		"measure hot and cold, and while moving wires and plugs."},
	{"warn.shorted_where", "It says a short, and not to where: to ground, to a feed, or within the winding."},

	// The answer as it is laid out.
	{"sheet.decoded", "The code, piece by piece"},
	{"sheet.unit_power", "What sets it, likeliest first"},
	{"sheet.high_side", "High side: the control unit feeds the pin"},
	{"sheet.low_side", "Low side: the control unit grounds the pin"},
	{"carry", "Which part is at fault? Take this code there"},
	{"carry.unit_feed", "Feed and ground are right? Then look for the part"},
	{"carry.shows_now", "Which part is at fault? Measure while it shows"},
	{"carry.no_kind", "Which part is at fault? Measure the circuit"},
	{"word.stop", "Stop: no advice here"},
	{"word.low", "Circuit low"},
	{"word.high", "Circuit high"},
	{"word.open", "Circuit open"},
	{"word.range", "Out of range"},
	{"word.circuit", "Circuit fault"},
	{"word.device", "Circuit fault"},
	{"word.electrical", "Circuit fault"},
	{"word.performance", "Does not follow"},
	{"word.intermittent", "Comes and goes"},
	{"word.shorted", "Circuit shorted"},
	{"word.stuck_on", "Stuck on"},
	{"word.stuck_open", "Stuck open"},
	{"word.stuck_closed", "Stuck closed"},
	{"word.not_in_table", "Not in the table"},
	{"word.manufacturer", "Maker's own code"},
	{"headline.unknown", "%[1]s, %[2]s"},
	{"headline.typed", "%[1]s; %[2]s"},
	{"why", "It names a circuit, never a part: control unit, wiring, contacts, winding and the far end all belong to it. " +
		"Measure before anything is replaced."},
	{"why.stop.restraint_system", "A code of the restraint system: air bags and belt tensioners. Do not measure here: a meter's " +
		"current can " +
		"set one off. The maker's procedure, by people trained for it, and nothing else."},
	{"why.stop.high_voltage", "A code of hybrid or electric drive: its voltage can kill. Do not measure by this tool's steps. The maker's " +
		"procedure, by people licensed for it, and nothing else."},
	{"why.unit_feed", "Measure the control unit's supply pin and its ground first. The code names a circuit, never a part: battery, fuse, " +
		"relay, wires, contacts and ground all belong to it."},
	{"why.shows_now", "Does it show now? Find that out first."},
	{"why.listed", "Below is what sets it, likeliest first."},
	{"why.unknown", "A code names a circuit or a function, never a part. Measure before anything is replaced."},

	// Cautions.
	{"caution.stop_restraint_system", "Air bags and belt tensioners: the current of an ohmmeter or a test lamp can set one off, " +
		"minutes after " +
		"the battery was taken off too. No measuring by this tool; the maker's procedure and trained people only."},
	{"caution.stop_high_voltage", "Hybrid and electric drive: hundreds of volts, also with the ignition off and in capacitors " +
		"after it. No " +
		"measuring by this tool; the maker's shut-down procedure, its protective gear and licensed people only."},
	{"caution.unit_plug", "Measure at the back of the plug, plugged in. Ignition off before a control unit's plug is pulled or put back."},

	// Faults.
	{"fault.code.letter", "“%[1]s” does not begin with P, B, C or U."},
	{"fault.code.letter.hint", "A code is one of these letters and four more characters: P0962."},
	{"fault.code.short", "“%[1]s” is too short: a code has five characters."},
	{"fault.code.short.hint", "Give all of one code, such as P0962; a failure type behind a hyphen: P0962-11."},
	{"fault.code.long", "“%[1]s” is too long: a code has five characters."},
	{"fault.code.long.hint", "Give one code alone, such as P0962; a failure type behind a hyphen: P0962-11."},
	{"fault.code.digit", "“%[1]s”: 0, 1, 2 or 3 has to follow the letter."},
	{"fault.code.digit.hint", "The figure 0, and not the letter O: P0962."},
	{"fault.code.hex", "“%[1]s” does not end in three hexadecimal digits."},
	{"fault.code.hex.hint", "Only figures and the letters A to F, and 0 rather than O: P0962, P075A."},
	{"fault.code.type", "“%[1]s”: a failure type has two hexadecimal digits."},
	{"fault.code.type.hint", "Figures and the letters A to F, such as 11 or 1F. Leave it out if there is none."},
	{"fault.code.types", "The code has the failure type %[1]s behind it; here it is %[2]s."},
	{"fault.code.types.hint", "Leave one of the two out."},

	// The page's tile; the page knows the core's words too.
	{"hand", "A trouble code"},
	{"hand.why", "Which circuit it names, and what sets it: it is never a part."},
}
