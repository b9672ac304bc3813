package worksheet

import "ohmwright/core/quantity"

// pulsed draws a pulsed drive and what a meter shows of it. Level 1 has the driver on the high side and no drop; 2 on the low side with its
// drop; 3 asks for the clamp's average through a hot winding.
func pulsed(level Level, verdict func(int) int, d draw) Task {
	v := verdict(3)
	return until(d, func(d draw) (Task, bool) {
		p := pulses{level: level, supply: centivolts(d.between(1220, 1460)), duty: percent(d.between(18, 82)), drop: centivolts(0)}
		if level > 1 {
			p.drop.N = d.between(25, 70)
		}
		if level > 2 {
			p.cold, p.now = centiohm(d.between(500, 1300)), hot(d)
		}
		t := Task{Question: Question{Pulsed, level}, Kind: quantity.OfVoltage, Unit: "V", Value: p.value(p.share()),
			Facts: p.facts(), Misses: p.misses(), Lines: p.lines(),
			Condition: "average", Conditions: []string{"average", "while_on", "any_duty"},
			Decisions: []string{"as_commanded", "always_on", "never_on"},
			Reasons:   []string{"follows_duty", "on_all_the_time", "off_all_the_time", "shows_peak"}}
		if level > 2 {
			t.Kind, t.Unit = quantity.OfCurrent, "A"
		}
		t.Decision, t.Reason = t.Decisions[v], t.Reasons[v]
		shown := p.shown(d, v)
		t.Facts = append(t.Facts, Fact{"shown", shown})
		if v > 0 { // what is shown must not be taken for what was commanded
			t.Borders = append(t.Borders, Border{shown.Number(), t.Value, 0.2})
		}
		return t, true
	})
}

// pulses is a pulsed drive as the sheet gives it.
type pulses struct {
	level              Level
	supply, duty, drop Figure
	cold, now          Figure // of level 3: the winding at 20 degC, and its temperature
}

// share is the share of the period in which the driver is on.
func (p pulses) share() float64 { return p.duty.In() }

// value returns what the meter shows on average if the driver is on for a share of the period.
func (p pulses) value(on float64) float64 {
	u, drop := p.supply.Number(), p.drop.Number()
	switch p.level {
	case 1:
		return on * u
	case 2:
		return (1-on)*u + on*drop
	}
	return on * (u - drop) / p.warm()
}

// warm returns the hot winding's resistance.
func (p pulses) warm() float64 { return p.cold.Number() * factor(degrees(20), p.now) }

// shown draws what the meter shows: about what was commanded, or what a driver shows that is always on or never.
func (p pulses) shown(d draw, v int) Figure {
	f := Figure{0, 2, quantity.OfVoltage, "V"}
	if p.level > 2 {
		f.Kind, f.Unit = quantity.OfCurrent, "A"
	}
	hundredths := func(value float64) int { return int(value*100 + 0.5) }
	switch v {
	case 0:
		f.N = rounded(hundredths(p.value(p.share()))*d.between(980, 1020), 1000)
	case 1:
		f.N = rounded(hundredths(p.value(1))*d.between(985, 1015), 1000)
	default:
		f.N = rounded(hundredths(p.value(0))*d.between(985, 1015), 1000)
	}
	return f
}

func (p pulses) facts() []Fact {
	list := []Fact{{"supply", p.supply}, {"duty", p.duty}}
	if p.drop.N > 0 {
		list = append(list, Fact{"driver_drop", p.drop})
	}
	if p.level > 2 {
		list = append(list, Fact{"resistance", p.cold}, Fact{"at", degrees(20)}, Fact{"winding_temperature", p.now})
	}
	return list
}

func (p pulses) misses() []Miss {
	on, u, drop := p.share(), p.supply.Number(), p.drop.Number()
	list := []Miss{{DutyInverted, p.value(1 - on)}}
	switch p.level {
	case 1:
		return append(list, Miss{SupplyItself, u})
	case 2:
		return append(list, Miss{NeverOn, u}, Miss{DropForgotten, (1 - on) * u}, Miss{DropForSupply, (1 - on) * drop})
	}
	return append(list, Miss{SupplyItself, (u - drop) / p.warm()}, Miss{DropForgotten, on * u / p.warm()},
		Miss{DropForSupply, on * drop / p.warm()}, Miss{ColdWinding, on * (u - drop) / p.cold.Number()},
		Miss{Direction, on * (u - drop) / (p.cold.Number() / factor(degrees(20), p.now))})
}

func (p pulses) lines() []Line {
	on := pure(p.duty.N, 2)
	switch p.level {
	case 1:
		return []Line{{"average_high", "V = D·U", "? × ?", []Figure{on, p.supply}, quantity.OfVoltage, p.value(p.share()), "mean"}}
	case 2:
		off := pure(100-p.duty.N, 2)
		return []Line{{"off_share", "1 − D", "? − ?", []Figure{pure(1, 0), on}, quantity.OfRatio, off.Number(), "arithmetic"},
			{"average_low", "V = (1 − D)·U + D·V_drop", "? × ? + ? × ?", []Figure{off, p.supply, on, p.drop}, quantity.OfVoltage,
				p.value(p.share()), "mean"}}
	}
	return []Line{{"warm", "R₂ = R₁ × (θ₂ + 234.5)/(θ₁ + 234.5)", "? × (? + ?)/(? + ?)",
		[]Figure{p.cold, p.now, zero, degrees(20), zero}, quantity.OfResistance, p.warm(), "copper"},
		{"full", "U − V_drop", "? − ?", []Figure{p.supply, p.drop}, quantity.OfVoltage, p.supply.Number() - p.drop.Number(), "arithmetic"},
		{"average_current", "I = D·(U − V_drop)/R₂", "? × ?/?", []Figure{on, centivolts(p.supply.N - p.drop.N), shownAs(p.warm())},
			quantity.OfCurrent, p.value(p.share()), "ohm"}}
}
