package worksheet

import (
	"slices"

	"ohmwright/core/wording"
)

// taskWords are the words of the questions.
var taskWords = []wording.Entry{
	{"ready.fault_high", "A code or none, readings at a price, one repair: find it with as few as it takes."},
	{"ready.fault_low", "The same where the control unit switches the ground."},
	{"ready.hot_winding", "A good winding reads high when hot: correct it before you judge it."},
	{"ready.rows", "Two model years, two rows: which one does it fit, and what has to be looked up?"},
	{"ready.known_good", "Two windings at two temperatures: alike or not?"},
	{"ready.adapter", "What to set with a crowfoot on, and whether the wrench reaches it."},
	{"ready.pulsed", "What a DC meter shows of pulses, and what its reading says of the driver."},
	{"ready.title.fault_high", "Tarn 24, gearbox QX-6: one circuit, one fault"},
	{"ready.title.fault_low", "Tarn 24, gearbox QX-6: one circuit, one fault"},
	{"ready.title.hot_winding", "Tarn 24, gearbox QX-6: a winding read hot"},
	{"ready.title.rows", "Tarn 24, gearbox QX-6: two rows that disagree"},
	{"ready.title.known_good", "Tarn 24, gearbox QX-6: beside a known good one"},
	{"ready.title.adapter", "Tarn 24, gearbox QX-6: an adapter on the wrench"},
	{"ready.title.pulsed", "Tarn 24, gearbox QX-6: a pulsed drive and the meter"},

	{"task.fault_high.1", "A solenoid does not do what it is told. The control unit feeds its pin; the far end goes to ground by a " +
		"wire. Ask for as few readings as it takes, then say what you would mend."},
	{"task.fault_high.2", "A solenoid does not do what it is told. The control unit feeds its pin; the far end goes to ground by a " +
		"wire. Ask for as few readings as it takes, then say what you would mend."},
	{"task.fault_high.3", "A solenoid does not do what it is told, and the winding is hot. The control unit feeds its pin; the far end " +
		"goes to ground by a wire. What a sound circuit would read is for you to work out. Ask for as few readings as it takes, then say " +
		"what you would mend."},
	{"task.fault_low.1", "A solenoid does not do what it is told, and its winding is hot. Its far end is fed; the control unit grounds " +
		"the pin. Ask for as few readings as it takes, then say what you would mend."},
	{"task.fault_low.2", "A solenoid does not do what it is told. Its far end is fed; the control unit grounds the pin. Ask for as few " +
		"readings as it takes, then say what you would mend."},
	{"task.fault_low.3", "A solenoid does not do what it is told, and its winding is hot. Its far end is fed; the control unit grounds " +
		"the pin. What a sound circuit would read is for you to work out. Ask for as few readings as it takes, then say what you would " +
		"mend."},
	{"task.hot_winding.1", "This copper winding was read hot, and the specification is for a cold one. What would it read at the " +
		"temperature of the specification, and is it within?"},
	{"task.hot_winding.2", "This copper winding was read hot, with the meter's leads in the reading. What would the winding alone read " +
		"at the temperature of the specification, and is it within?"},
	{"task.hot_winding.3", "This copper winding was read hot, at the control unit's plug, with leads and wiring in the reading. What " +
		"would the winding alone read at the temperature of the specification, and is it within?"},
	{"task.rows.1", "The manual has two rows for this winding, of two model years. It was read hot. What would it read at 20 °C, and " +
		"which row does it fit?"},
	{"task.rows.2", "The manual has two rows for this winding, of two model years. It was read hot, with the meter's leads in the " +
		"reading. What would it read at 20 °C, and which row does it fit?"},
	{"task.rows.3", "The manual has two rows for this winding, of two model years, for two temperatures. It was read hot, with the " +
		"meter's leads in the reading. What would it read at 20 °C, and which row does it fit?"},
	{"task.known_good.1", "A suspect winding and a known good one, each read at its own temperature. What would the suspect read at the " +
		"temperature of the good one, and are they alike?"},
	{"task.known_good.2", "A suspect winding and a known good one, each read at its own temperature, with the same leads. What would " +
		"the suspect alone read at the temperature of the good one, and are they alike?"},
	{"task.known_good.3", "A suspect winding from the shelf and a known good one that is hot, read with the same leads. What would the " +
		"suspect alone read at the temperature of the good one, and are they alike?"},
	{"task.adapter.1", "A bolt is tightened with an adapter straight ahead on a click wrench. What do you set, in the wrench's own " +
		"unit, and is the wrench of use for it?"},
	{"task.adapter.2", "A bolt is tightened with an adapter at an angle on a click wrench. What do you set, in the wrench's own unit, " +
		"and is the wrench of use for it?"},
	{"task.adapter.3", "A bolt is tightened with an adapter at an angle on a click wrench that is marked in another unit than the " +
		"manual. What do you set, in the wrench's own unit, and is the wrench of use for it?"},
	{"task.pulsed.1", "The control unit switches the feed. What should a meter on DC show between pin and ground, and what does its " +
		"reading say? Leave out the driver's drop and the diode."},
	{"task.pulsed.2", "The control unit switches the ground. What should a meter on DC show between pin and ground, and what does its " +
		"reading say? Leave out the diode."},
	{"task.pulsed.3", "The control unit switches the ground; a diode keeps the current flowing, and its drop is left out. What should a " +
		"clamp show on average, and what does its reading say?"},

	{"fact.side", "Switched side"},
	{"fact.code", "Trouble code"},
	{"fact.supply", "Supply"},
	{"fact.spec", "Specification"},
	{"fact.winding_temperature", "Winding temperature now"},
	{"fact.reading", "Reading"},
	{"fact.leads", "Meter leads, shorted together"},
	{"fact.loom", "Wiring in between"},
	{"fact.limits", "Specification"},
	{"fact.rows.0", "Row 1 of the manual"},
	{"fact.rows.1", "Row 2 of the manual"},
	{"fact.band", "%[1]s to %[2]s, at %[3]s"},
	{"fact.of", "%[1]s, at %[2]s"},
	{"fact.known_good", "Reading of the known good one"},
	{"fact.alike_within", "Alike means within"},
	{"fact.torque", "Torque at the bolt"},
	{"fact.adapter.wrench", "Drive to the middle of the grip"},
	{"fact.adapter.extension", "Drive to the bolt"},
	{"fact.adapter.angle", "Adapter to the wrench"},
	{"fact.wrench.max", "Wrench marked up to"},
	{"fact.duty", "Driver on for"},
	{"fact.driver_drop", "Driver's drop while on"},
	{"fact.resistance", "Winding"},
	{"fact.shown", "The meter shows"},

	{"condition=at_reference", "at the temperature of the specification"},
	{"condition=at_20", "at 20 °C"},
	{"condition=at_good", "at the temperature of the good one"},
	{"condition=at_now", "at the temperature it was read at"},
	{"condition=at_own", "each at its own temperature"},
	{"condition=at_any", "at any temperature"},
	{"condition=as_held", "with the adapter held so, the hand at the middle of the grip"},
	{"condition=any_angle", "at any angle of the adapter"},
	{"condition=any_grip", "wherever the hand pulls"},
	{"condition=average", "as an average, at this duty"},
	{"condition=while_on", "while the driver is on"},
	{"condition=any_duty", "at any duty"},

	{"decision=within", "within: plausible"},
	{"decision=below", "reads low"},
	{"decision=above", "reads high"},
	{"decision=row_1", "fits row 1 alone"},
	{"decision=row_2", "fits row 2 alone"},
	{"decision=no_row", "fits neither row"},
	{"decision=alike", "alike"},
	{"decision=reads_less", "the suspect reads less"},
	{"decision=reads_more", "the suspect reads more"},
	{"decision=usable", "the wrench is of use"},
	{"decision=below_fifth", "below a fifth of its scale: take a smaller one"},
	{"decision=above_scale", "beyond its scale: take a larger one"},
	{"decision=as_commanded", "switched as commanded"},
	{"decision=always_on", "on all the time"},
	{"decision=never_on", "never on"},

	{"reason=heat_explains", "copper reads more when hot, and that is all"},
	{"reason=only_heat", "taken to one temperature, they differ by less than allowed"},
	{"reason=lost_turns", "even so it reads less: turns may be shorted"},
	{"reason=added_resistance", "even so it reads more: resistance was added"},
	{"reason=as_read", "the readings as they were taken say so"},
	{"reason=fits_one", "it lies in one band alone; part number and build date say whether that row applies"},
	{"reason=fits_none", "no row explains it, so the winding or the reading is wrong"},
	{"reason=fits_both", "both rows allow it"},
	{"reason=on_scale", "the setting lies between a fifth and the end of the scale"},
	{"reason=not_trusted_low", "nobody vouches for a click wrench down there"},
	{"reason=not_reached", "the setting is beyond the end of the scale"},
	{"reason=as_printed", "the torque in the manual lies on the scale or not"},
	{"reason=follows_duty", "the average is what the duty makes it"},
	{"reason=on_all_the_time", "it shows what a driver shows that never switches off"},
	{"reason=off_all_the_time", "it shows what a driver shows that never switches on"},
	{"reason=shows_peak", "a meter on DC shows the peak"},

	{"slip.coefficient_at_0", "This is what comes out with copper's coefficient at 0 °C (0.00427) used from another temperature."},
	{"slip.direction", "This is what comes out when it is corrected the wrong way: hot copper reads more."},
	{"slip.leads_kept", "The leads were not taken off."},
	{"slip.leads_added", "The leads were added instead of taken off."},
	{"slip.loom_kept", "The wiring in between was not taken off."},
	{"slip.not_corrected", "This still holds at the temperature it was read at."},
	{"slip.ratio_of_celsius", "This is the ratio of the temperatures in °C: count from −234.5 °C."},
	{"slip.kilo", "The number is right but for a factor of a thousand in its unit."},
	{"slip.other_unit", "The number is right, the unit is not."},
	{"slip.adapter_forgotten", "This is the torque at the bolt: the adapter makes the lever longer."},
	{"slip.angle_forgotten", "This is for an adapter straight ahead."},
	{"slip.adapter_inverted", "Multiplied by the ratio of the levers instead of divided."},
	{"slip.inch_for_foot", "Inch-pounds taken for foot-pounds: twelve times."},
	{"slip.not_converted", "Not converted: the wrench is marked in another unit than the manual's."},
	{"slip.duty_inverted", "Duty taken for the other share of the period."},
	{"slip.supply_itself", "This is what shows while the driver is on all the time, or without pulses."},
	{"slip.as_if_never_on", "This is the supply itself: where the ground is switched, it shows while the driver is never on."},
	{"slip.drop_for_supply", "The driver's drop was taken for the supply."},
	{"slip.drop_forgotten", "The driver's drop was left out."},
	{"slip.cold_winding", "The winding's cold resistance was taken: hot, it lets less through."},

	{"table.none", "No hand-in in this text. A hand-in is the link that a student sends: it has #/worksheet? in it, and a name."},
	{"table.found", "Hand-ins: %[1]s. To look at, because of what stands under “Mind”: %[2]s."},
	{"table.unread", "Links that look like a hand-in and could not be read: %s. Ask for them again."},
	{"table.name", "Name"},
	{"table.marks", "Marks"},
	{"table.right", "Right"},
	{"table.supported", "Supported"},
	{"table.minutes", "Minutes"},
	{"table.slips", "Slips"},
	{"table.notes", "Mind"},
	{"table.handed", "Handed in"},
	{"table.of", "%[1]s of %[2]s"},
	{"table.minutes.beside", "%[1]s (best %[2]s)"},
	{"table.later", "later tries: %s"},
	{"table.slip.coefficient_at_0", "coefficient at 0 °C"},
	{"table.slip.direction", "corrected the wrong way"},
	{"table.slip.leads_kept", "leads not taken off"},
	{"table.slip.leads_added", "leads added"},
	{"table.slip.loom_kept", "wiring not taken off"},
	{"table.slip.not_corrected", "not corrected"},
	{"table.slip.ratio_of_celsius", "ratio of °C"},
	{"table.slip.kilo", "factor of a thousand"},
	{"table.slip.other_unit", "another unit"},
	{"table.slip.adapter_forgotten", "adapter forgotten"},
	{"table.slip.angle_forgotten", "angle forgotten"},
	{"table.slip.adapter_inverted", "levers the wrong way round"},
	{"table.slip.inch_for_foot", "inch-pounds for foot-pounds"},
	{"table.slip.not_converted", "not converted"},
	{"table.slip.duty_inverted", "duty for 1 − duty"},
	{"table.slip.supply_itself", "as if always on"},
	{"table.slip.as_if_never_on", "as if never on"},
	{"table.slip.drop_for_supply", "drop for supply"},
	{"table.slip.drop_forgotten", "drop left out"},
	{"table.slip.cold_winding", "winding taken as cold"},
	{"note.changed", "another sheet: %s"},
	{"note.edited", "link changed by hand"},
	{"note.unsummed", "link without its end"},
	{"note.again", "the same again"},
	{"note.second", "handed in before, differs"},
	{"note.late", "late"},
	{"note.untimed", "no time"},
	{"note.undecided", "not all decided"},
	{"note.refused", "does not fit this sheet: %s"},
	{"note.nameless", "no name"},

	{"step.leads", "Leads off"},
	{"step.loom", "Wiring off"},
	{"step.corrected", "To the other temperature"},
	{"step.second_row", "To the temperature of the second row"},
	{"step.good_leads", "Leads off the good one"},
	{"step.ratio", "Suspect over good"},
	{"step.converted", "To the wrench's unit"},
	{"step.reach", "Lever from bolt to hand"},
	{"step.setting", "What to set"},
	{"step.average_high", "Average at the pin"},
	{"step.off_share", "Share that the driver is off"},
	{"step.average_low", "Average at the pin"},
	{"step.warm", "The winding, hot"},
	{"step.full", "Across the winding while on"},
	{"step.average_current", "Average current"},
	{"step.reading", "Likeliest then: %s"},
	{"source.practice", "common practice"},
	{"source.geometry", "balance of moments: one pull, two levers"},
	{"source.definition", "NIST SP 811: exact, from the pound, the inch and standard gravity"},
	{"source.mean", "average over the period"},
	{"source.circuit", "the circuit question, with the faults of the chain alone"},
}

// resultWords returns the words that describe the fields of the result.
func resultWords() []wording.Entry {
	return slices.Concat(fieldWords,
		below("result.questions.", questionWords), below("result.questions.decision.", decidedWords),
		below("result.questions.later.", decidedWords),
		below("result.samples.questions.", questionWords), below("result.samples.questions.decision.", decidedWords),
		below("result.samples.questions.later.", decidedWords))
}

var fieldWords = []wording.Entry{
	{"result.overall", "How it stands: set_out by a teacher; of a student no_name, open while a question is undecided, decided."},
	{"result.heading", "The title."},
	{"result.name", "The student's name, as it was given."},
	{"result.questions", "The questions as they are given to this student."},
	{"result.undecided", "Number of questions without a decision."},
	{"result.marks", "Mean of the questions' marks; one that is undecided has none yet."},
	{"result.link", "The link of the sheet, for the class."},
	{"result.hand_in", "The link that a student hands in."},
	{"result.handed", "When it was handed in, as the student's device had it; empty where it is not known."},
	{"result.due", "Until when it had to be; empty for no limit."},
	{"result.samples", "For a teacher: what students of some names are given, with what is right."},
	{"result.samples.name", "The name."},
	{"result.samples.questions", "The questions as they are given to that student."},
}

// below returns entries with a prefix before their keys.
func below(prefix string, entries []wording.Entry) []wording.Entry {
	list := slices.Clone(entries)
	for i := range list {
		list[i][0] = prefix + list[i][0]
	}
	return list
}

var questionWords = []wording.Entry{
	{"kind", "What it is about."},
	{"level", "Its level."},
	{"facts", "What the sheet gives."},
	{"facts.name", "What it is."},
	{"facts.given", "As it stands on the sheet."},
	{"facts.value", "The same in the contract's unit."},
	{"code_kind", "Of a hidden fault: the kind of code that is stored; empty for none."},
	{"readings", "The readings asked for."},
	{"readings.test", "The test."},
	{"readings.value", "What it reads."},
	{"readings.over", "OL."},
	{"readings.minutes", "What it takes."},
	{"minutes", "Minutes paid."},
	{"steps", "Steps of the solution, or tests of the way that suffices: the same for every student."},
	{"decision", "What follows"},
	{"later", "Later tries, marked the same way and not counted."},
	{"solution", "What is right: told once it is decided, or asked for."},
	{"solution.fault", "The hidden fault."},
	{"solution.repair", "What mends it."},
	{"solution.tests", "Tests that suffice, in order."},
	{"solution.value", "The figure."},
	{"solution.condition", "When it holds."},
	{"solution.decision", "What follows."},
	{"solution.reason", "Why."},
}

var decidedWords = []wording.Entry{
	{"right", "Whether it is right: the repair, or value, unit and what follows."},
	{"marks", "Of 100."},
	{"supported", "Of a repair: its probability given the readings asked for, by the circuit question."},
	{"minutes", "Minutes paid before it."},
	{"best_minutes", "Minutes of the best known way."},
	{"parts", "Of a figure: what is marked."},
	{"parts.part", "Which part: value, unit, condition, decision, reason."},
	{"parts.right", "Whether it is right."},
	{"parts.earned", "What it earned."},
	{"parts.of", "Of how much."},
	{"slip", "The known slip that explains a wrong figure; empty for none."},
}
