package drive

import (
	"fmt"
	"math"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/drive"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

// A writer writes the working. It holds intermediate results, and writes quantities for the reader.
type writer struct {
	drive.Period
	q question
	f finding
	a *tool.Answer
	s *wording.Speaker

	flow      float64 // s: how long current flows after the driver is off
	qOn, qOff float64 // coulomb: the charge in each part of the period
}

// say writes a quantity to four figures; ohm, sec, amp and coulomb what their names say.
func say[Q ~float64](w *writer, v Q) string { return w.s.Of(quantity.KindOf[Q](), float64(v), 0) }
func (w *writer) ohm(v float64) string      { return w.s.Of(quantity.OfResistance, v, 0) }
func (w *writer) sec(v float64) string      { return w.s.Of(quantity.OfTime, v, 0) }
func (w *writer) amp(v float64) string      { return w.s.Of(quantity.OfCurrent, v, 0) }
func (w *writer) coulomb(v float64) string  { return w.s.Figures(v*1e3, 4) + "\u00a0mC" }

// steps writes the working.
func steps(q question, f finding, a *tool.Answer) {
	w := &writer{Period: f.Circuit.Period(), q: q, f: f, a: a, s: a.Speak, flow: float64(f.State.Flow)}
	// The charges follow from the circuit's equations for on and off, each integrated over its part of the period.
	swing := float64(f.State.Ripple)
	w.qOn, w.qOff = w.ToOn*w.On-w.TauOn*swing, w.TauOff*swing-w.ToOff*w.flow
	w.winding()
	w.loop()
	w.ends()
	w.average()
	w.rms()
	w.power()
	w.pin()
}

// winding writes the temperature, if it was worked out, and the winding's resistance at that temperature.
func (w *writer) winding() {
	q, c := w.q, w.f.Circuit
	if h := q.Heating; h != nil {
		w.a.Step("balance", "θ = θ_ambient + R_thermal × P",
			fmt.Sprintf("θ = %s + %s × %s = %s", say(w, h.Ambient), say(w, h.Thermal), say(w, w.f.State.Winding), say(w, w.f.Temperature)),
			tool.Of(w.f.Temperature), "balance")
	}
	if w.f.Temperature != q.Coil.At {
		m := winding.Measurement{At: q.Coil.At, Material: q.Coil.Material}
		with := bench.Correction(w.s, float64(q.Coil.Resistance), measure.Estimate{Value: float64(c.Winding)}, m, w.f.Temperature)
		w.a.Step("hot", bench.CorrectionFormula, with, tool.Of(c.Winding), bench.SourceOf(q.Coil.Material))
	}
}

// loop writes the loop's resistances, time constants, times, and the currents that it tends to.
func (w *writer) loop() {
	c, st := w.f.Circuit, w.f.State
	w.a.Step("loop", "R_on = R + R_wiring + R_driver;  R_off = R + R_wiring",
		fmt.Sprintf("R_on = %s + %s + %s = %s;  R_off = %s", say(w, c.Winding), say(w, c.Wiring), say(w, c.Driver), w.ohm(w.LoopOn),
			w.ohm(w.LoopOff)), tool.Plain(quantity.OfResistance, w.LoopOn), "ohm")
	w.a.Step("tau", "τ_on = L/R_on;  τ_off = L/R_off",
		fmt.Sprintf("τ_on = %s/%s = %s;  τ_off = %s/%s = %s", say(w, c.Inductance), w.ohm(w.LoopOn), say(w, st.TimeConstant),
			say(w, c.Inductance), w.ohm(w.LoopOff), w.sec(w.TauOff)), tool.Of(st.TimeConstant), "exponential")
	if t := w.q.onTime; t > 0 {
		formula := "D = t × f"
		if w.q.rest {
			formula = "D = 1 − t × f"
		}
		with := strings.NewReplacer("t", say(w, t), "f", say(w, c.Frequency)).Replace(formula) + " = " + say(w, c.Duty)
		w.a.Step("on_time", formula, with, tool.Of(c.Duty), "arithmetic")
	}
	if w.q.Wanted > 0 {
		with := fmt.Sprintf("I_average(%s) = %s", say(w, c.Duty), say(w, st.Average))
		w.a.Step("duty", "D: I_average(D) = I_wanted", with, tool.Of(c.Duty), "sought")
	}
	w.a.Step("times", "t_on = D/f;  t_off = (1 − D)/f",
		fmt.Sprintf("t_on = %s/%s = %s;  t_off = %s", say(w, c.Duty), say(w, c.Frequency), w.sec(w.On), w.sec(w.Off)),
		tool.Of(quantity.Time(w.On)), "arithmetic")
	w.a.Step("ends", "I_f = V/R_on;  I_r = V_r/R_off",
		fmt.Sprintf("I_f = %s/%s = %s;  I_r = %s/%s = %s", say(w, c.Supply), w.ohm(w.LoopOn), w.amp(w.ToOn), say(w, c.Off.Reverse),
			w.ohm(w.LoopOff), w.amp(w.ToOff)), tool.Plain(quantity.OfCurrent, w.ToOn), "ohm")
}

// ends writes the lowest and the highest current.
func (w *writer) ends() {
	c, st := w.f.Circuit, w.f.State
	x, y := w.s.Figures(w.X, 4), w.s.Figures(w.Y, 4)
	top := func(formula, with, source string) { w.a.Step("top", formula, with, tool.Of(st.Max), source) }
	switch {
	case c.Inductance == 0 || math.IsInf(w.X, 0):
		top("L = 0: I_max = I_f", "I_max = "+say(w, st.Max), "ohm")
	case st.Continuous:
		w.a.Step("valley", "I_min = (I_f (1 − e^−x) e^−y − I_r (1 − e^−y))/(1 − e^−(x+y)),  x = t_on/τ_on,  y = t_off/τ_off",
			fmt.Sprintf("x = %s;  y = %s;  I_min = (%s × (1 − e^−%s) × e^−%s − %s × (1 − e^−%s))/(1 − e^−(%s + %s)) = %s",
				x, y, w.amp(w.ToOn), x, y, w.amp(w.ToOff), y, x, y, say(w, w.f.Least)), tool.Of(w.f.Least), "exponential")
		top("I_max = I_min + (I_f − I_min)(1 − e^−x)", fmt.Sprintf("I_max = %s + (%s − %s)(1 − e^−%s) = %s",
			say(w, st.Min), w.amp(w.ToOn), say(w, st.Min), x, say(w, st.Max)), "exponential")
	default:
		with := fmt.Sprintf("I_max = %s × (1 − e^−%s) = %s", w.amp(w.ToOn), x, say(w, st.Max))
		top("I_max = I_f (1 − e^−x),  x = t_on/τ_on", with, "exponential")
		if w.ToOff > 0 {
			with := fmt.Sprintf("t_flow = %s × ln(1 + %s/%s) = %s", w.sec(w.TauOff), say(w, st.Max), w.amp(w.ToOff), say(w, st.Flow))
			w.a.Step("stops", "t_flow = τ_off ln(1 + I_max/I_r)", with, tool.Of(st.Flow), "exponential")
		}
	}
}

func (w *writer) average() {
	st, hertz := w.f.State, say(w, w.f.Circuit.Frequency)
	on := fmt.Sprintf("Q_on = %s × %s − %s × %s = %s", w.amp(w.ToOn), w.sec(w.On), say(w, st.TimeConstant), say(w, st.Ripple),
		w.coulomb(w.qOn))
	off := fmt.Sprintf("Q_off = %s × %s − %s × %s = %s", w.sec(w.TauOff), say(w, st.Ripple), w.amp(w.ToOff), w.sec(w.flow), w.coulomb(w.qOff))
	sum := fmt.Sprintf("I_average = %s × (%s + %s) = %s", hertz, w.coulomb(w.qOn), w.coulomb(w.qOff), say(w, st.Average))
	w.a.Step("average", "Q_on = I_f t_on − τ_on (I_max − I_min);  Q_off = τ_off (I_max − I_min) − I_r t_flow;  I_average = f (Q_on + Q_off)",
		on+";  "+off+";  "+sum, tool.Of(st.Average), "charge")
}

func (w *writer) rms() {
	c, st := w.f.Circuit, w.f.State
	joule := say(w, quantity.Energy(float64(c.Inductance)/2*(float64(st.Max)*float64(st.Max)-float64(st.Min)*float64(st.Min))))
	with := fmt.Sprintf("ΔW = %s;  I_rms = √(%s × ((%s × %s − %s)/%s + (%s − %s × %s)/%s)) = %s", joule, say(w, c.Frequency), say(w, c.Supply),
		w.coulomb(w.qOn), joule, w.ohm(w.LoopOn), joule, say(w, c.Off.Reverse), w.coulomb(w.qOff), w.ohm(w.LoopOff), say(w, st.RMS))
	w.a.Step("rms", "ΔW = L/2 (I_max² − I_min²);  I_rms = √(f ((V Q_on − ΔW)/R_on + (ΔW − V_r Q_off)/R_off))", with, tool.Of(st.RMS), "charge")
}

func (w *writer) power() {
	st := w.f.State
	with := fmt.Sprintf("P = (%s)² × %s = %s", say(w, st.RMS), say(w, w.f.Circuit.Winding), say(w, st.Winding))
	w.a.Step("power", "P = I_rms² × R", with, tool.Of(st.Winding), "joule")
	with = fmt.Sprintf("P_supply = %s + %s + %s + %s = %s", say(w, st.Winding), say(w, st.Wiring), say(w, st.Driver), say(w, st.OffPath),
		say(w, st.Supply))
	w.a.Step("supply", "P_supply = P + P_wiring + P_driver + P_off", with, tool.Of(st.Supply), "balance_power")
}

// pin writes the average voltage at the control pin.
func (w *writer) pin() {
	c, hertz := w.f.Circuit, say(w, w.f.Circuit.Frequency)
	value := tool.Of(w.f.Pin.Average)
	if w.q.Low {
		rest := max(0, w.Off-w.flow)
		with := fmt.Sprintf("V_pin = %s × (%s × %s + %s × %s + %s × %s) = %s", hertz, say(w, c.Driver), w.coulomb(w.qOn),
			say(w, c.Supply+c.Off.Reverse), w.sec(w.flow), say(w, c.Supply), w.sec(rest), say(w, w.f.Pin.Average))
		w.a.Step("pin", "V_pin = f (R_driver Q_on + (V + V_r) t_flow + V t_rest)", with, value, "mean")
		return
	}
	with := fmt.Sprintf("V_pin = %s × (%s × %s − %s × %s − %s × %s) = %s", hertz, say(w, c.Supply), w.sec(w.On), say(w, c.Driver),
		w.coulomb(w.qOn), say(w, c.Off.Reverse), w.sec(w.flow), say(w, w.f.Pin.Average))
	w.a.Step("pin", "V_pin = f (V t_on − R_driver Q_on − V_r t_flow)", with, value, "mean")
}
