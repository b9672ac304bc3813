package bank

import "ohmwright/core/wording"

// Words returns the tool's words in each language.
func Words() []wording.Words {
	return []wording.Words{
		{Language: "en", Entries: english}, {Language: "de", Entries: de}, {Language: "es", Entries: es}, {Language: "fr", Entries: fr},
	}
}

// english are the words of this tool.
var english = []wording.Entry{
	{"title", "Bench sheet"},
	{"purpose", "All windings of one body or connector at once, this unit beside a second one: which are out, which is the odd one?"},
	{"hand", "A whole bank of windings"},
	{"hand.why", "Eight readings in one run, a second unit beside them: which is out, which is the odd one?"},
	{"fine", "Second unit, pins, limits, meter"},

	// Fields.
	{"spec", "Specification of all"},
	{"spec.how", "For every winding below that has none of its own. Leave empty where there is none."},
	{"spec.min", "Minimum"},
	{"spec.min.how", "As printed. Leave empty where only a maximum is given."},
	{"spec.max", "Maximum"},
	{"spec.max.how", "As printed. Leave empty where only a minimum is given."},
	{"spec.at", "Specified at"},
	{"spec.at.how", "20 °C where the manual does not say (common practice)."},
	{"windings", "Windings, in Ω"},
	{"windings.how", "Power off, body unplugged. Type a reading, then Next: down this unit, then down the second one. Next makes the row " +
		"that is missing; from an empty row it goes on."},
	{"windings.reading", "This unit"},
	{"windings.reading.how", "What the display shows, leads included."},
	{"windings.other", "Second unit"},
	{"windings.other.how", "The same winding of a second unit, same meter and leads. Leave empty where there is none."},
	{"windings.name", "Name or pin"},
	{"windings.name.how", "As on the diagram, such as A or pin 3. If left empty, its number is its name."},
	{"windings.min", "Its own minimum"},
	{"windings.min.how", "Where this winding has another specification than the rest."},
	{"windings.max", "Its own maximum"},
	{"windings.max.how", "As printed."},
	{"windings.spec_at", "Its own is specified at"},
	{"windings.spec_at.how", "20 °C where the manual does not say."},
	{"windings.to_case", "Pin to case"},
	{"windings.to_case.how", "OL is healthy. Only where the winding's other end is a wire: one that returns through the case reads " +
		"its own " +
		"resistance here."},
	{"windings.fine", "Name, own limits, case"},
	{"common", "Do the windings share a feed or ground?"},
	{"common.how", "If they share nothing, OL is expected from pin to pin. If they do, two windings in series read their sum."},
	{"common=no", "no, nothing"},
	{"common=yes", "yes"},
	{"pins", "From pin to pin"},
	{"pins.how", "A reading between the pins of two windings, each named as above or by its number."},
	{"pins.from", "From winding"},
	{"pins.from.how", "The winding's name or number."},
	{"pins.to", "To winding"},
	{"pins.to.how", "The other winding's name or number."},
	{"pins.reading", "Reading"},
	{"pins.reading.how", "OL where they share nothing."},
	{"other_at", "Second unit's temperature"},
	{"other_at.how", "If left empty it lies beside this one, at the same temperature."},
	{"tolerance", "Second unit is alike within ±"},
	{"tolerance.how", "How far two good parts may differ. 10 %% is common practice."},
	{"alike_within", "Alike windings are within ±"},
	{"alike_within.how", "How far sound windings of one specification may be from their median in one body. 5 %% is this tool's " +
		"own choice."},
	{"false_alarm", "False alarms, at most"},
	{"false_alarm.how", "How often a sheet of sound windings may be said to have an odd one, all its rows together."},
	{"insulation", "Insulation is at least"},
	{"insulation.how", "From a pin to the case or to a pin that it shares nothing with. 1 MΩ is common practice; the maker's figure comes " +
		"first."},
	{"measured_at", "Measured at"},
	{"measured_at.how", "The circuit is asked with the reading taken there."},
	{"measured_at=component_connector", "the body's connector"},
	{"measured_at=winding", "each winding's own terminals"},

	// Results, for the schema.
	{"result.overall", "The verdict of the sheet, the first that holds: out, leak, off_together, odd, unlike, differs, undecided, " +
		"not_read, " +
		"no_specification, plausible (all of them)."},
	{"result.count", "How many windings or pins that verdict is about."},
	{"result.windings", "What is said of each winding, in the request's order."},
	{"result.windings.name", "Its name, or its number."},
	{"result.windings.winding", "Reading less leads, at its own temperature."},
	{"result.windings.at_reference", "The same at the reference temperature."},
	{"result.windings.verdict", "The winding tool's overall: below, within, above, undecided, open, shorted or no_specification; not_read."},
	{"result.windings.corrected", "The winding at its specification's temperature."},
	{"result.windings.band_now", "Its specification at this unit's temperature."},
	{"result.windings.band_now.min", "Its lower end."},
	{"result.windings.band_now.max", "Its upper end."},
	{"result.windings.p_below", "Probability that the winding is below its specification."},
	{"result.windings.p_within", "Probability that it is within."},
	{"result.windings.p_above", "Probability that it is above."},
	{"result.windings.comparison", "This unit's winding beside the second unit's."},
	{"result.windings.comparison.ratio", "Their ratio at the same temperature."},
	{"result.windings.comparison.verdict", "alike, differs or undecided, as the winding tool has it."},
	{"result.windings.other", "The second unit's winding by itself."},
	{"result.windings.other.winding", "Its reading less leads, at its own temperature."},
	{"result.windings.other.verdict", "Its verdict, as verdict has it."},
	{"result.windings.alike", "The winding beside the median of those with the same specification; left out below three of them."},
	{"result.windings.alike.ratio", "Its ratio to that median."},
	{"result.windings.alike.of", "How many windings were compared."},
	{"result.windings.alike.p", "The most that so large a deviation has of being by chance, over all windings of the sheet."},
	{"result.windings.alike.verdict", "alike, odd, undecided; disagree where half of them or more are far from the median."},
	{"result.windings.to_case", "plausible, leak or undecided; left out where not read."},
	{"result.windings.explained", "true where the factor that the whole bank is off by explains that it is out."},
	{"result.pins", "What is said of each reading from pin to pin."},
	{"result.pins.from", "As in the request."},
	{"result.pins.to", "As in the request."},
	{"result.pins.ratio", "To the sum of the two windings, where they share a feed or ground."},
	{"result.pins.verdict", "plausible, leak, low, high, open or undecided."},
	{"result.shared", "The factor that the whole bank is off by; left out where it is not."},
	{"result.shared.factor", "To the middle of the specification."},
	{"result.shared.side", "below or above."},
	{"result.shared.of", "How many windings have it."},
	{"result.shared.fits_at", "The temperature at which windings in the middle of their specification would read this."},
	{"result.shared.second", "What the second unit tells: fits, too (off to the same side) or none."},

	// Working.
	{"step.one", "%s: reading less leads"},
	{"step.corrected", "%s: at the temperature of its specification"},
	{"step.beside", "%s: beside the second unit's, both at one temperature"},
	{"step.alike", "%s: beside the median of those alike"},
	{"step.meter", "What the meter's accuracy allows, for the first reading"},
	{"source.bonferroni", "Bonferroni's inequality over all windings compared; the meter's common error cancels (JCGM 100:2008, 5.2.2)"},

	// Warnings.
	{"warn.off_together.below", "All %[1]s read low by one factor: %[2]s ± %[3]s of the middle of their specification. So many windings " +
		"seldom fail alike. Look first at what they share: were they at %[4]s, or nearer to %[5]s, where sound ones would read this? Is it " +
		"the right row for this part? Is the meter true on a known resistance?"},
	{"warn.off_together.above", "All %[1]s read high by one factor: %[2]s ± %[3]s of the middle of their specification. So many windings " +
		"seldom fail alike. Look first at what they share: were they at %[4]s, or nearer to %[5]s, where sound ones would read this? Is it " +
		"the right row for this part? Is the meter true on a known resistance?"},
	{"warn.off_together.second_fits", "The second unit is plausible with the same meter and leads, so these are not the reason: " +
		"look at this " +
		"unit's temperature, and whether its part number has another specification."},
	{"warn.off_together.second_too", "The second unit is off to the same side: the meter, the leads, the temperature or the " +
		"specification, " +
		"rather than two units at once."},
	{"warn.off_together_leads", "Nothing is taken off for the meter leads: that alone makes every winding read high. Short them " +
		"together and " +
		"type what shows."},
	{"warn.leads_missing", "Nothing is taken off for the meter leads. They commonly read 0.2 to 0.5 ohm, and that would change a verdict: " +
		"short them together and type what they show."},
	{"warn.any_temperature", "No temperature is given, so anything from %[1]s to %[2]s is possible, and each verdict is as wide. " +
		"The odd one " +
		"and the second unit beside this one need none."},
	{"warn.odd", "Unlike the others of its specification: %[1]s, by more than %[2]s and the meter's doubt. Among sheets of sound " +
		"windings, fewer than %[3]s would have one called odd."},
	{"warn.unlike", "Half of these or more are far from their median: %[1]s. Which is odd cannot be told: are they all of one kind?"},
	{"warn.taken_as_alike", "Windings without a specification are taken as one kind. If they are not, give each its own."},
	{"warn.other_open", "The second unit reads open and is no measure of anything: %s."},
	{"warn.to_case", "Less than %[2]s to the case: %[1]s. Clean and dry the plug, keep fingers off the tips, and read again before " +
		"the part " +
		"is blamed."},

	// The answer.
	{"word.plausible", "All plausible"},
	{"word.out", "Out of specification"},
	{"word.leak", "Path where none should be"},
	{"word.off_together", "All off alike"},
	{"word.odd", "Odd one"},
	{"word.unlike", "Not alike"},
	{"word.differs", "Units differ"},
	{"word.undecided", "Cannot tell"},
	{"word.not_read", "Not all read"},
	{"word.no_specification", "No specification"},
	{"count", "%[1]s of %[2]s"},
	{"headline", "%[1]s: %[2]s"},
	{"headline.off_together", "%[1]s by %[2]s"},
	{"headline.pins", "%s from pin to pin"},
	{"why.plausible", "Every winding is within its specification. That is plausible, not proof: a stuck plunger reads the same."},
	{"why.out", "Outside its specification, and nothing that all share explains it. Take one to its circuit below."},
	{"why.leak", "A reading shows a path to the case or between pins that should not be there, or not the sum that was expected."},
	{"why.off_together", "The whole bank is off by one factor. That points at the temperature, the meter or the specification, not " +
		"at so many " +
		"windings at once: settle that first."},
	{"why.odd", "None is outside its specification, and one is unlike the rest that are wound alike."},
	{"why.unlike", "Windings of one specification that are not alike, with no majority to tell which is odd."},
	{"why.differs", "Without a specification it cannot be told which of the two units is off."},
	{"why.undecided", "A limit lies inside the doubt. A finer ohm range, the leads' reading or a better known temperature decides it."},
	{"why.not_read", "What was read is plausible; some windings are still to be read."},
	{"why.no_specification", "Give a specification to have the windings judged."},
	{"verdict.within", "plausible"},
	{"verdict.below", "reads low"},
	{"verdict.above", "reads high"},
	{"verdict.undecided", "cannot tell"},
	{"verdict.open", "open"},
	{"verdict.shorted", "next to nothing"},
	{"verdict.no_specification", "no specification"},
	{"verdict.not_read", "not read"},
	{"to_circuit", "take it to its circuit"},
	{"sheet.windings", "Each winding: tap one to take it to its circuit"},
	{"sheet.pins", "From pin to pin"},
	{"value", "%[1]s at %[2]s"},
	{"value.of", "%[1]s at %[2]s (%[3]s)"},
	{"band", "%[1]s to %[2]s"},
	{"band.least", "at least %s"},
	{"band.most", "at most %s"},
	{"explained", "Off by the factor that all of them share."},
	{"alike.odd", "Odd one: %[1]s ± %[2]s times the median of %[3]s alike."},
	{"alike.undecided", "Whether it is like the others cannot be told: %[1]s ± %[2]s times the median of %[3]s."},
	{"alike.disagree", "%[1]s ± %[2]s times the median of %[3]s, which do not agree."},
	{"comparison.alike", "alike"},
	{"comparison.differs", "they differ"},
	{"comparison.undecided", "cannot be told apart"},
	{"comparison.ratio", "%[1]s, %[2]s ± %[3]s times"},
	{"second", "Second unit: %s."},
	{"second.compared", "Second unit: %[1]s; %[2]s."},
	{"to_case.plausible", "Pin to case: plausible."},
	{"to_case.leak", "Pin to case: a path where none should be."},
	{"to_case.undecided", "Pin to case: cannot tell."},
	{"pair.plausible", "as expected"},
	{"pair.leak", "a path where none should be"},
	{"pair.low", "less than the two windings: a bridge between them"},
	{"pair.high", "more than the two windings: resistance in what they share"},
	{"pair.open", "open: a break in a winding or in what they share"},
	{"pair.undecided", "cannot tell"},
	{"pair.ratio", "%[1]s (%[2]s ± %[3]s times their sum)"},
	{"drawn.text", "Each winding on its band."},
	{"drawn.second", "second unit %s"},
	{"drawn.odd", "odd one"},
	{"drawn.second_open", "second unit open"},
	{"drawn.caption", "Boxes: what the specification allows at %[1]s. Dot: this unit. Diamond: the second unit, at the same temperature. " +
		"Whiskers: the doubt, about 95 %%. An arrow at the edge: far beyond."},
	{"drawn.caption.unknown", "Boxes: what the specification allows at any temperature it may have. Dot: this unit. Diamond: the " +
		"second unit. " +
		"Whiskers: the doubt, about 95 %%. An arrow at the edge: far beyond."},

	// Cautions.
	{"caution.hot_body", "A body just driven is hot enough to burn, and so is its oil. Let it stand " +
		"until all windings have one temperature."},

	// Faults.
	{"fault.own_spec", "A temperature alone is no specification."},
	{"fault.own_spec.hint", "Give this winding's own minimum or maximum, or leave the temperature out."},
	{"fault.other_is_zero", "The second unit's winding has no resistance left: it cannot be compared with."},
	{"fault.other_is_zero.hint", "Read it again, or leave it out."},
	{"fault.same_pin", "Both ends are the same pin."},
	{"fault.same_pin.hint", "Name two different windings."},
	{"fault.no_such_pin", "No winding here is called “%[1]s”, and their sum is expected."},
	{"fault.no_such_pin.hint", "Name one of: %[2]s."},
}
