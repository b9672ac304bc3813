package manual_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/quantity"
)

// seeds are where the fuzzing of Read begins.
var seeds = []string{
	"", "M6 10 N·m (89 in-lb)", "Size | N·m | in-lb\n---|---|---\nM6 | 10 | 89", "Size,N·m,in-lb\nM6,10,89\nM8x1,25,10,89",
	"Thread    Torque, N·m (in-lb)\nM6   10 (89)", "Size | 8.8 | 10.9\n | N·m | N·m\nM6 | 10 | 15", "M6: 10 N·m, M8: 25 N·m",
	"1/4-20 UNC 7 1/2 ft-lb\n#10-32 32 in-lb\n7½ ft-lb", "1,250 N·m\nM6 1 250 N·m\n1.2.3 Nm\n0 N·m\n10–8 N·m\n1e999 N.m",
	"10 ± 1 N·m (88 ± 9 in-lb)\r\n10 Nm ± 10 %", "All torques in N·m\n1. M6 10", "M6 x 1.0 x 30-6g 8...10Nm/71...89in/lb",
	"\xff\x00M\u00a06\t½ in lb\u2028±", "M6 | 10 | N·m", "M999999 99999999999999999999999999 N·m", "#", "M", "½", "1/2 N·m",
	"No. 8 1/2-13", "20 N·m + 90°\nthen 45 deg\n1st 15 Nm 2nd 30 Nm (22 ft-lb)",
	"Size | Stage 1 N·m | Stage 2 (N·m) | Stage 3 °\nM10 | 20 | 40 | 90", "1) 20 Nm 2) 40 Nm, 85–95° + 1/4 turn",
	"Size N·m + 90°\nM10 50",
}

// FuzzRead checks that any text gives a table: its numbers are finite and read back the same, its Lines are in the order of the text, and
// each has torques or says why not.
func FuzzRead(f *testing.F) {
	for _, s := range seeds {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, comma bool) {
		mark := quantity.Point
		if comma {
			mark = quantity.Comma
		}
		if len(text) > 8<<10 {
			return
		}
		table := manual.Read(text, mark)
		before := 0
		for _, l := range table.Lines {
			if l.Number < before {
				t.Fatalf("%q: line %d %q after %d", text, l.Number, l.Text, before)
			}
			before = l.Number
			holdLine(t, text, l)
			holdFigures(t, text, l)
			if l.Pair != nil {
				holdPair(t, text, *l.Pair)
			}
		}
		holdTable(t, text, table)
		if !strings.ContainsRune(text, '\r') {
			if other := manual.Read(strings.ReplaceAll(text, "\n", "\r\n"), mark); told(other) != told(table) {
				t.Fatalf("%q: read\n%s\nand with Windows line ends\n%s", text, told(table), told(other))
			}
		}
	})
}

// holdLine checks what is not a torque.
func holdLine(t *testing.T, text string, l manual.Line) {
	trimmed := l.Text != "" && l.Text == strings.TrimSpace(l.Text)
	if l.Number < 1 || !trimmed || !utf8.ValidString(l.Text) || strings.ContainsAny(l.Text, "\n\r") {
		t.Fatalf("%q: line %d %q", text, l.Number, l.Text)
	}
	if (len(l.Figures) == 0) == (l.Fault == 0) {
		t.Fatalf("%q: %d figures and fault %v", text, len(l.Figures), l.Fault)
	}
	known := l.Thread == nil || l.Thread.Diameter == l.Diameter
	if !(l.Diameter >= 0 && l.Diameter <= 100) || !known || l.Size == "" && l.Diameter != 0 {
		t.Fatalf("%q: size %q, %v mm, %v", text, l.Size, l.Diameter, l.Thread)
	}
	if !(l.Angle >= 0 && l.Angle <= 3600) {
		t.Fatalf("%q: angle %v", text, l.Angle)
	}
}

// holdValue checks that a quantity is finite and above 0, and reads back the same.
func holdValue(t *testing.T, text string, v quantity.Value) {
	if !(v.In > 0) || math.IsInf(v.In, 0) {
		t.Fatalf("%q: %v", text, v.In)
	}
	again, err := quantity.Parse(v.String(), quantity.Point, quantity.OfTorque)
	if err != nil || again.In != v.In || again.Digits != v.Digits || again.Unit.Symbol != v.Unit.Symbol {
		t.Fatalf("%q: %v is read back as %v, %v", text, v, again, err)
	}
}

// holdFigures checks the figures and the stages.
func holdFigures(t *testing.T, text string, l manual.Line) {
	if n := len(l.Stages); n == 1 || n > 0 && (l.Fault != 0 || l.Stages[n-1].String() != l.Figures[0].String()) {
		t.Fatalf("%q: stages %v, figures %v", text, l.Stages, l.Figures)
	}
	for _, g := range slices.Concat(l.Figures, l.Stages) {
		holdValue(t, text, g.Value)
		if g.Ranges() {
			holdValue(t, text, g.To)
			if !(g.To.In > g.In) {
				t.Fatalf("%q: %v to %v", text, g.Value, g.To)
			}
		}
		if math.IsNaN(g.Within.In) || math.IsInf(g.Within.In, 0) {
			t.Fatalf("%q: ± %v", text, g.Within)
		}
	}
}

// holdPair checks that each slip explains the pair.
func holdPair(t *testing.T, text string, p fastener.Pair) {
	if d := float64(p.Difference); math.IsNaN(d) || math.IsInf(d, 0) {
		t.Fatalf("%q: difference %v", text, d)
	}
	for _, s := range p.Slips {
		holdValue(t, text, s.Meant)
		if s.String() == "unknown" || s.Figure < 0 || s.Figure > 1 || !(s.Number() > 0) {
			t.Fatalf("%q: slip %+v", text, s)
		}
		q := p.Figures
		q[s.Figure] = s.Meant
		if s.Kind != fastener.FactorInverted && fastener.Compare(q[0], q[1]).Verdict == fastener.Disagree {
			t.Fatalf("%q: %+v explains nothing", text, s)
		}
	}
}

// holdTable checks what Under and Differs say about lines.
func holdTable(t *testing.T, text string, table manual.Table) {
	for i := range table.Lines {
		j, falls := table.Under(i)
		if l, s := table.Lines[i], table.Lines[j]; falls && (l.Angle > 0 || s.Angle > 0 || !(s.Diameter < l.Diameter)) {
			t.Fatalf("%q: %d falls below %d", text, i, j)
		}
	}
	for _, same := range table.Differs() {
		if len(same) < 2 {
			t.Fatalf("%q: %v differ", text, same)
		}
	}
}
