package worksheet

import "ohmwright/core/quantity"

// zero is copper's zero-resistance temperature as a figure of a solution: 234.5 below 0 degC (IACS, as in core/winding).
var zero = Figure{2345, 1, quantity.OfRatio, "1"}

// warmed returns a resistance at 20 degC, in whole thousandths, at another temperature.
func warmed(milliohms, from, to int) int { return rounded(milliohms*(10*to+2345), 10*from+2345) }

// factor returns copper's factor from one temperature to another.
func factor(from, to Figure) float64 {
	return (to.Number() + zero.Number()) / (from.Number() + zero.Number())
}

// atZero returns that factor as it comes out where copper's coefficient at 0 degC is used from the second temperature.
func atZero(from, to Figure) float64 {
	const perDegree = 0.00427 // at 0 degC; at 20 degC it is 0.00393
	return 1 / (1 + perDegree*(from.Number()-to.Number()))
}

// A copper is a reading that has to be brought to another temperature: leads and loom off, then corrected.
type copper struct {
	reading, leads, loom Figure
	now, to              Figure
}

func (c copper) net() float64 { return c.reading.Number() - c.leads.Number() - c.loom.Number() }

func (c copper) value() float64 { return c.net() * factor(c.now, c.to) }

// misses returns what the slips lead to.
func (c copper) misses() []Miss {
	f, net := factor(c.now, c.to), c.net()
	list := []Miss{{Direction, net / f}, {NotCorrected, net}, {CoefficientAtZero, net * atZero(c.now, c.to)},
		{Celsius, net * c.to.Number() / c.now.Number()}}
	if c.leads.N > 0 {
		list = append(list, Miss{LeadsKept, (net + c.leads.Number()) * f}, Miss{LeadsAdded, (net + 2*c.leads.Number()) * f})
	}
	if c.loom.N > 0 {
		list = append(list, Miss{LoomKept, (net + c.loom.Number()) * f})
	}
	return list
}

// also returns what a slip leads to where a cold winding is taken to a hot temperature: the coefficient is used from the first one, and
// nobody divides.
func (c copper) also() []Miss { return []Miss{{CoefficientAtZero, c.net() / atZero(c.to, c.now)}} }

// facts returns what the sheet gives of it.
func (c copper) facts() []Fact {
	list := []Fact{{"reading", c.reading}}
	if c.leads.N > 0 {
		list = append(list, Fact{"leads", c.leads})
	}
	if c.loom.N > 0 {
		list = append(list, Fact{"loom", c.loom})
	}
	return append(list, Fact{"winding_temperature", c.now})
}

// lines returns its lines of the solution.
func (c copper) lines() []Line {
	rest := c.reading
	var list []Line
	if c.leads.N > 0 {
		list = append(list, Line{"leads", "R = r − r_leads", "? − ?", []Figure{rest, c.leads}, quantity.OfResistance,
			rest.Number() - c.leads.Number(), "arithmetic"})
		rest.N -= c.leads.N
	}
	if c.loom.N > 0 {
		list = append(list, Line{"loom", "R = r − r_loom", "? − ?", []Figure{rest, c.loom}, quantity.OfResistance,
			rest.Number() - c.loom.Number(), "arithmetic"})
		rest.N -= c.loom.N
	}
	return append(list, Line{"corrected", "R₂ = R₁ × (θ₂ + 234.5)/(θ₁ + 234.5)", "? × (? + ?)/(? + ?)",
		[]Figure{rest, c.to, zero, c.now, zero}, quantity.OfResistance, c.value(), "copper"})
}

// drawCopper draws leads, loom and reading for a winding that has so many thousandths of an ohm at the temperature to.
func drawCopper(d draw, level Level, milliohms int, now, to Figure) copper {
	c := copper{now: now, to: to, leads: centiohm(0), loom: centiohm(0)}
	if level > 1 {
		c.leads.N = d.between(10, 45)
	}
	if level > 2 {
		c.loom.N = d.between(65, 98)
	}
	c.reading = centiohm(rounded(warmed(milliohms, to.N, now.N), 10) + c.leads.N + c.loom.N)
	return c
}

// hot draws the temperature of a winding that has run: far enough from 20 degC that a wrong coefficient shows.
func hot(d draw) Figure { return degrees(d.between(78, 124)) }

// specified draws a specification in tenths of an ohm, given in hundredths: its ends are about 11 % apart, as in the trade.
func specified(d draw) [2]int {
	least := d.between(41, 125)
	return [2]int{10 * least, 10 * rounded(least*111, 100)}
}

// hotWinding draws a winding that was read hot, beside a specification for a cold one. Level 1 corrects; 2 takes the leads off first; 3
// is read at the control unit, with the wiring in between, and specified at 25 degC.
func hotWinding(level Level, verdict func(int) int, d draw) Task {
	v := verdict(3)
	return until(d, func(d draw) (Task, bool) {
		to := degrees(20)
		if level > 2 {
			to = degrees(25)
		}
		band := specified(d)
		c := drawCopper(d, level, placed(d, band, v), hot(d), to)
		t := Task{Question: Question{HotWinding, level}, Kind: quantity.OfResistance, Unit: "ohm", Value: c.value(),
			Facts:     append(c.facts(), Fact{"min", centiohm(band[0])}, Fact{"max", centiohm(band[1])}, Fact{"at", to}),
			Condition: "at_reference", Conditions: []string{"at_reference", "at_now", "at_any"},
			Decisions: []string{"within", "below", "above"}, Reasons: []string{"heat_explains", "lost_turns", "added_resistance", "as_read"},
			Misses: c.misses(), Lines: c.lines(), Borders: borders(c.value(), band)}
		t.Decision, t.Reason = t.Decisions[v], t.Reasons[v]
		return t, true
	})
}

// placed draws a resistance in thousandths of an ohm that lies within a band, below it or above it.
func placed(d draw, band [2]int, where int) int {
	lo, hi := 10*band[0], 10*band[1]
	switch where {
	case 0:
		return d.between(lo, hi)
	case 1:
		return d.between(lo*75/100, lo*95/100)
	}
	return d.between(hi*105/100, hi*135/100)
}

// borders keeps a value away from the ends of a band.
func borders(value float64, band [2]int) []Border {
	return []Border{{value, centiohm(band[0]).Number(), 0.02}, {value, centiohm(band[1]).Number(), 0.02}}
}

// pair draws two rows of a specification that disagree, as of two model years, in hundredths of an ohm. A hot winding of the first reads
// like a cold one of the second.
func pair(d draw) [2][2]int {
	first := specified(d)
	shift := d.between(124, 130)
	return [2][2]int{first, {10 * rounded(first[0]*shift, 1000), 10 * rounded(first[1]*shift, 1000)}}
}

// rows draws a reading beside two rows of a specification that disagree. Level 1 corrects; 2 takes the leads off first; 3 has the second
// row specified hot, so that the winding is compared at two temperatures.
func rows(level Level, verdict func(int) int, d draw) Task {
	v := verdict(3)
	return until(d, func(d draw) (Task, bool) {
		pair := pair(d)
		where, band := 0, pair[min(v, 1)]
		if v == 2 {
			where, band = 1, pair[0]
		}
		c := drawCopper(d, min(level, 2), placed(d, band, where), hot(d), degrees(20))
		second, at := pair[1], degrees(20)
		lines := c.lines()
		moved := c.value()
		if level > 2 {
			at = degrees(80)
			second = [2]int{rounded(warmed(10*second[0], 20, 80), 10), rounded(warmed(10*second[1], 20, 80), 10)}
			moved *= factor(c.to, at)
			lines = append(lines, Line{"second_row", "R₃ = R₂ × (θ₃ + 234.5)/(θ₂ + 234.5)", "? × (? + ?)/(? + ?)",
				[]Figure{shownAs(c.value()), at, zero, c.to, zero}, quantity.OfResistance, moved, "copper"})
		}
		t := Task{Question: Question{Rows, level}, Kind: quantity.OfResistance, Unit: "ohm", Value: c.value(),
			Facts: append(c.facts(), Fact{"rows.0.min", centiohm(pair[0][0])}, Fact{"rows.0.max", centiohm(pair[0][1])},
				Fact{"rows.0.at", degrees(20)}, Fact{"rows.1.min", centiohm(second[0])}, Fact{"rows.1.max", centiohm(second[1])},
				Fact{"rows.1.at", at}),
			Condition: "at_20", Conditions: []string{"at_20", "at_now", "at_any"},
			Decisions: []string{"row_1", "row_2", "no_row"}, Reasons: []string{"fits_one", "fits_none", "fits_both", "as_read"},
			Misses: c.misses(), Lines: lines, Borders: append(borders(c.value(), pair[0]), borders(moved, second)...)}
		t.Decision, t.Reason = t.Decisions[v], t.Reasons[max(0, v-1)]
		return t, true
	})
}

// shownAs returns a resistance as a figure of a solution, to a hundredth.
func shownAs(ohms float64) Figure { return centiohm(int(ohms*100 + 0.5)) }

// knownGood draws a suspect winding beside a known good one, each at its own temperature. Level 1 corrects; 2 takes the leads off both; 3
// has the suspect cold and the good one hot.
func knownGood(level Level, verdict func(int) int, d draw) Task {
	const least, most = 0.9, 1.1 // alike is within 10 %, common practice
	v := verdict(3)
	return until(d, func(d draw) (Task, bool) {
		band := specified(d)
		own, good := hot(d), degrees(d.between(17, 27))
		if level > 2 {
			own, good = good, own
		}
		cold := placed(d, band, 0)
		share := d.between(96, 104)
		switch v {
		case 1:
			share = d.between(68, 86)
		case 2:
			share = d.between(115, 145)
		}
		c := drawCopper(d, min(level, 2), warmed(rounded(cold*share, 100), 20, good.N), own, good)
		g := copper{now: good, to: good, leads: c.leads, loom: centiohm(0)}
		g.reading = centiohm(rounded(warmed(cold, 20, good.N), 10) + c.leads.N)
		ratio := c.value() / g.net()
		t := Task{Question: Question{KnownGood, level}, Kind: quantity.OfResistance, Unit: "ohm", Value: c.value(),
			Facts:     append(c.facts(), Fact{"known_good.reading", g.reading}, Fact{"known_good.at", good}, Fact{"alike_within", percent(10)}),
			Condition: "at_good", Conditions: []string{"at_good", "at_own", "at_any"},
			Decisions: []string{"alike", "reads_less", "reads_more"},
			Reasons:   []string{"only_heat", "lost_turns", "added_resistance", "as_read"},
			Misses:    c.misses(), Borders: []Border{{ratio, least, 0.03}, {ratio, most, 0.03}}}
		t.Lines = c.lines()
		if level > 2 {
			t.Also = c.also()
		}
		if level > 1 {
			t.Lines = append(t.Lines, Line{"good_leads", "R_good = r − r_leads", "? − ?", []Figure{g.reading, g.leads},
				quantity.OfResistance, g.net(), "arithmetic"})
		}
		t.Lines = append(t.Lines, Line{"ratio", "R/R_good", "?/?", []Figure{shownAs(c.value()), shownAs(g.net())}, quantity.OfRatio, ratio,
			"practice"})
		t.Decision, t.Reason = t.Decisions[v], t.Reasons[v]
		return t, true
	})
}
