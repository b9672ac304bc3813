package loop

import "ohmwright/core/wording"

// Words returns the tool's words in each language.
func Words() []wording.Words {
	return []wording.Words{
		{Language: "en", Entries: english}, {Language: "de", Entries: de}, {Language: "es", Entries: es}, {Language: "fr", Entries: fr},
	}
}

// english are the words of this tool.
var english = []wording.Entry{
	{"title", "Loaded test"},
	{"purpose", "Does the rest of the circuit lose voltage? Volts at the battery and amperes by clamp."},

	// Fields of the loaded test.
	{"supply", "Supply, loaded"},
	{"supply.how", "At the battery posts while the driver is fully on."},
	{"current", "Current"},
	{"current.how", "Zero the clamp beside the wire, close it round the control wire alone, driver commanded fully on."},
	{"winding", "Winding's resistance"},
	{"winding.how", "Of the winding alone, leads taken off. Or give the specification instead."},
	{"at", "Winding was read at"},
	{"at.how", "The temperature of the winding when its resistance was read."},
	{"spec", "Winding by specification"},
	{"spec.how", "Where the winding itself was not read: its middle is taken, and the width of the band counts as doubt."},
	{"spec.min", "Minimum"},
	{"spec.min.how", "As printed."},
	{"spec.max", "Maximum"},
	{"spec.max.how", "As printed."},
	{"spec.at", "Specified at"},
	{"spec.at.how", "20 °C where the manual does not say (common practice)."},
	{"winding_temperature", "Winding temperature now"},
	{"winding_temperature.how", "Its temperature during the loaded test: oil temperature, or more after minutes of full current. If " +
		"left empty, anything from −20 to 130 °C is possible."},
	{"winding_temperature_within", "Temperature is within ±"},
	{"winding_temperature_within.how", "How sure you are of it. 10 °C for a winding under load."},
	{"winding_within", "Resistance is within ±"},
	{"winding_within.how", "How sure you are of the winding's resistance: in per cent of it, or in ohms."},
	{"supply_within", "Supply is within ±"},
	{"supply_within.how", "How much it moves while you read, and the voltmeter's own accuracy."},
	{"driver", "Driver"},
	{"driver.how", "What the switch in the control unit loses: in ohms, or in volts. 0.15 ohm is common practice."},
	{"segments", "Volts allowed for each part"},
	{"segments.how", "What each part may lose under load. These are common practice; the maker's figures come first."},
	{"segments.ground", "Ground"},
	{"segments.ground.how", "From the component, or its case, to battery negative."},
	{"segments.wire", "Wire"},
	{"segments.wire.how", "One wire, from plug to plug."},
	{"segments.switch", "Switch or driver"},
	{"segments.switch.how", "Across what switches the current."},
	{"limit", "Volts lost, at most"},
	{"limit.how", "What wiring, contacts and grounds together may lose. 0.5 V is common practice."},
	{"meter", "Clamp accuracy"},
	{"meter.how", "From the clamp's manual: ± (per cent of reading + digits)."},
	{"meter.percent", "Per cent of reading"},
	{"meter.percent.how", "2 %% for a plain direct-current clamp."},
	{"meter.counts", "Digits"},
	{"meter.counts.how", "How many steps of the last figure the manual adds."},
	{"meter.resolution", "Last figure is"},
	{"meter.resolution.how", "One step of the last figure on the display in this range."},
	{"result.total", "Resistance of the whole loop."},
	{"result.winding", "The winding at its temperature during the test."},
	{"result.unwanted", "What is left over: wiring, contacts, grounds."},
	{"result.unwanted_drop", "The volts lost in it."},
	{"result.overall", "The one verdict: clean, unwanted, undecided; too_much where the loop draws more than the winding alone should; " +
		"no_loaded_test where the driver regulates its current; stop."},
	{"result.stop", "high_voltage where the supply is above 60 V: no advice; left out where there is none."},
	{"result.segments", "What each part of the loop may lose at the measured current."},
	{"result.segments.segment", "ground, wire or switch."},
	{"result.segments.allowed", "Volts that it may lose."},
	{"result.segments.resistance", "Resistance that loses them at the measured current."},
	{"result.segments.expected", "Volts that sound wire of the gauge and length given loses."},
	{"result.verdict", "clean, unwanted or undecided."},
	{"step.total", "Resistance of the whole loop"},
	{"step.winding", "Winding at its temperature during the test"},
	{"step.drop", "Volts lost outside winding and driver"},
	{"step.unwanted", "The resistance that loses them"},
	{"step.segment", "What loses the volts allowed: %s"},
	{"step.wire", "Sound wire of this size"},
	{"step.clamp", "What the clamp's accuracy allows"},

	// Warnings of the loaded test.
	{"warn.temperature_unknown", "No temperature is given for the winding during the test, so anything from %[1]s to %[2]s is possible, " +
		"and the answer is as wide. Type the temperature, if only roughly with a wide ±."},
	{"warn.regulated", "The driver holds its current by pulsing: supply divided by current is then no resistance. Command it fully on " +
		"if the maker's scan tool can, or measure the drop directly across wiring and ground."},
	{"warn.may_regulate", "If this driver holds a set current by pulsing, this is no loaded test, and nothing is wrong with the wiring. " +
		"Find out before mending: volts at its pin that are well below the supply, and a meter on Hz, show pulsing."},
	{"warn.may_be_off", "So little current may also be a driver that protects itself and has switched off, at least at times: into a " +
		"short it shows the same."},
	{"warn.wire_alone", "Sound wire of this size loses %[1]s by itself, more than the %[2]s allowed: check size and length, or allow more."},
	{"warn.too_much", "The loop draws more than its winding should allow. Shorted turns, a second path to ground, a colder winding, or " +
		"a clamp that was not zeroed: read the winding itself before trusting this test."},
	{"warn.undecided.supply", "The drop is known only to ± %s, and the limit lies inside that. Most of the doubt is the " +
		"supply's: read it at the battery posts at the same moment. Or measure the drop directly, across the wiring and across " +
		"the ground."},
	{"warn.undecided.clamp", "The drop is known only to ± %s, and the limit lies inside that. Most of the doubt is the clamp's: " +
		"use a finer one. Or measure the drop directly, across the wiring and across the ground."},
	{"warn.undecided.winding", "The drop is known only to ± %s, and the limit lies inside that. Most of the doubt is that of the " +
		"winding's resistance: read the winding itself. Or measure the drop directly, across the wiring and across the ground."},
	{"warn.undecided.temperature", "The drop is known only to ± %s, and the limit lies inside that. Most of the doubt is that of " +
		"the winding's temperature: measure it, or test before the part warms. Or measure the drop directly, across the wiring " +
		"and across the ground."},
	{"word.clean", "Clean"},
	{"word.unwanted", "Unwanted resistance"},
	{"word.undecided", "Cannot tell"},
	{"word.too_much", "Draws too much"},
	{"word.no_loaded_test", "Not a loaded test"},
	{"headline.regulated", "the driver holds its current"},
	{"why.no_loaded_test", "What flows is what the driver sets, whatever the wiring has. Nothing can be said of the rest of the circuit " +
		"by this test."},
	{"sheet.segments", "What each part may lose at this current"},
	{"segment.ground", "ground"},
	{"segment.wire", "wire"},
	{"segment.switch", "switch or driver"},
	{"segment.allowed", "%[1]s, that is %[2]s"},
	{"segment.sound.name", "sound wire of this size"},
	{"segment.sound", "%[1]s, by %[2]s"},
	{"headline", "%s lost in the wiring"},
	{"headline.too_much", "loop %[1]s, winding alone %[2]s"},
	{"why.clean", "Wiring, contacts and grounds lose %[1]s, within the %[2]s accepted. They do not explain the fault under this load."},
	{"why.unwanted", "Wiring, contacts and grounds lose %[1]s, more than the %[2]s accepted: %[3]s more than there should be. Measure " +
		"the drop across each piece to find it."},
	{"why.undecided", "Wiring, contacts and grounds lose %[1]s; the %[2]s accepted lies inside that doubt."},
	{"why.too_much", "There is less resistance in the loop than winding and driver alone should have."},
	{"drawn.text", "Of %[1]s, the winding takes %[2]s, the driver %[3]s, and %[4]s are lost."},
	{"drawn.winding", "winding %s"},
	{"drawn.driver", "driver %s"},
	{"drawn.lost", "lost %s"},
	{"drawn.supply", "supply %s"},
	{"drawn.caption", "Where the supply's volts go."},
	{"fault.winding_and_spec", "Either the winding's own resistance or its specification is used, not both."},
	{"fault.winding_and_spec.hint", "Leave one of the two out; the winding's own reading is the better one."},
	{"fault.winding_or_spec", "The winding's resistance is missing."},
	{"fault.winding_or_spec.hint", "Give its resistance, for example 5.3 ohm, or its specification."},
	{"fault.spec_at", "The specification has a temperature of its own."},
	{"fault.spec_at.hint", "Leave this out, and give the specification's own temperature."},
	{"fault.spec_within", "The width of the specification is the doubt already."},
	{"fault.spec_within.hint", "Leave this out."},
	{"fault.driver_supply", "A drop of %[1]s in the driver leaves nothing of a supply of %[2]s."},
	{"fault.driver_supply.hint", "Check both; a driver commonly takes 0.1 to 0.5 V."},
	{"hand", "A clamp, circuit live"},
	{"hand.why", "Volts and amperes under load: is the rest of the circuit clean?"},
	{"fine", "Driver, limits, wire, clamp, doubts"},
}
