package torque_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"ohmwright/core/quantity"
)

func maybe(r *rand.Rand) bool { return r.IntN(2) == 0 }

// randomTorque draws a request that the tool answers. Every field occurs now and then.
func randomTorque(r *rand.Rand) request {
	o := request{}
	switch r.IntN(4) {
	case 0:
		o["min"], o["max"] = drawTorque(r, 1, 10), drawTorque(r, 11, 100)
	case 1:
		o["torque"], o["tolerance"] = drawTorque(r, 1, 300), []string{"10 %", "0.5 %", "0.5 N.m", "4 in-lb"}[r.IntN(4)]
	default:
		o["torque"] = drawTorque(r, 0.01, 1000)
		if maybe(r) {
			o["printed_as"] = drawTorque(r, 0.01, 1000)
		}
	}
	for name, draw := range map[string]func(*rand.Rand) any{"adapter": drawAdapter, "wrench": drawWrench, "fastener": drawFastener} {
		if maybe(r) {
			o[name] = draw(r)
		}
	}
	if maybe(r) {
		o["table"] = fmt.Sprintf("M5 6 N·m 53 in-lb\nM6  %d N·m  %d in-lb\n\nM8 | 25–30 Nm", 1+r.IntN(20), 1+r.IntN(200))
	}
	if maybe(r) {
		kind := pick(r, []string{"rectangle", "circle", "row"})
		o["pattern"] = request{"kind": kind, "count": 1 + r.IntN(30), "width": 1 + r.IntN(200), "height": "3 in"}
	}
	if maybe(r) {
		o["bolts"] = drawBolts(r)
	}
	if maybe(r) {
		share := text(10+80*r.Float64(), 3, "%")
		o["passes"] = []any{request{"kind": "snug"}, request{"kind": "share", "share": share}, request{"share": "100 %"},
			request{"kind": "check"}}
	}
	if maybe(r) {
		o["progress"] = request{"done": r.IntN(40), "of": pick(r, []string{"", "1a2b", "f8ed84a"})}
	}
	return o
}

func drawTorque(r *rand.Rand, lo, hi float64) string {
	u := pick(r, quantity.Units(quantity.OfTorque))
	return text(u.To(wide(r, lo, hi)), 2+r.IntN(7), u.Symbol)
}

func drawAdapter(r *rand.Rand) any {
	length := wide(r, 50, 1000)
	extension := text(length*0.9*r.Float64()/25.4, 3, "in")
	return request{"wrench": text(length, 4, "mm"), "extension": extension, "angle": text(180*r.Float64(), 3, "deg")}
}

func drawWrench(r *rand.Rand) any {
	w := request{"kind": pick(r, []string{"click", "beam", "electronic"}), "max": drawTorque(r, 10, 1000),
		"shows": pick(r, append(unitsOf(quantity.OfTorque)[:2], "any"))}
	if maybe(r) {
		w["min"] = drawTorque(r, 0.01, 9)
	}
	if maybe(r) {
		w["graduation"] = drawTorque(r, 0.01, 9)
	}
	if maybe(r) {
		w["deviation"] = text(1+9*r.Float64(), 2, "%")
	}
	return w
}

func drawFastener(r *rand.Rand) any {
	f := request{"thread": pick(r, []string{"M6", "M6x1", "M8x1", "M10×1,25", "M1.6", "m 24 x 1.5"}),
		"class":    pick(r, []string{"4.8", "5.8", "8.8", "10.9", "12.9"}),
		"friction": 0.1 + float64(r.IntN(20))/100, "friction_within": float64(r.IntN(8)) / 100,
		"utilisation": text(20+70*r.Float64(), 3, "%")}
	if maybe(r) {
		f["into"], f["engagement"] = pick(r, []string{"aluminium", "magnesium", "cast_iron", "steel"}), text(wide(r, 0.5, 40), 3, "mm")
	}
	return f
}

func drawBolts(r *rand.Rand) any {
	rows := []any{}
	for range 1 + r.IntN(12) {
		b := request{"x": math.Round(1000*r.Float64()) / 10, "y": text(100*r.Float64(), 4, "mm")}
		if maybe(r) {
			b["length"] = pick(r, []string{"30 mm", "3 cm", "1.5 in"})
		}
		if r.IntN(4) == 0 {
			b["kept"] = "yes"
		}
		rows = append(rows, b)
	}
	return rows
}
