package worksheet

import (
	"fmt"
	"math"
	"runtime"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
)

// variants is the number of students that each question is drawn for; fewer where the tests run as a page's module.
func variants() int {
	if runtime.GOARCH == "wasm" {
		return 100
	}
	return 2000
}

// students are names as a class has them.
func student(i int) string { return "student " + strconv.Itoa(i) }

// everyTask calls do with every kind and level that asks for a figure, and a series.
func everyTask(t *testing.T, do func(t *testing.T, s Sheet)) {
	for k := HotWinding; int(k) < Kinds; k++ {
		for l := Level(1); l <= Levels; l++ {
			for series := range 4 {
				t.Run(fmt.Sprintf("%v %v %d", k, l, series), func(t *testing.T) {
					t.Parallel()
					do(t, Sheet{Questions: []Question{{k, l}}, Series: strconv.Itoa(series), Tolerance: 0.01})
				})
			}
		}
	}
}

// TestVariantsAreEqual checks that the tasks of a class are alike hard: all can be set by the check, with the same verdict and reason, in
// the same number of steps, with the same slips to make; and that no two of 2,000 students who sit near each other have the same figures.
func TestVariantsAreEqual(t *testing.T) {
	everyTask(t, func(t *testing.T, s Sheet) {
		n := variants() / 4
		first := s.Task(0, student(0))
		seen := map[string]int{}
		for i := range n {
			task := s.Task(0, student(i))
			require.True(t, task.Check(), "%s: %+v", student(i), task.Facts)
			require.Equal(t, []string{first.Condition, first.Decision, first.Reason}, []string{task.Condition, task.Decision, task.Reason})
			require.Equal(t, slipsOf(first), slipsOf(task), "of the same slips to make")
			require.Len(t, task.Lines, len(first.Lines), "steps")
			require.InDelta(t, task.Value, lastOf(task), 1e-9*task.Value, "the lines of the solution lead to the value")
			facts := fmt.Sprint(task.Facts)
			if other, twice := seen[facts]; twice {
				assert.Greater(t, i-other, 20, "%s and %s, near each other, have the same figures", student(i), student(other))
			}
			seen[facts] = i
		}
		assert.Greater(t, len(seen), n*99/100)
	})
}

func slipsOf(t Task) (list []Slip) {
	for _, m := range t.Misses {
		list = append(list, m.Slip)
	}
	return list
}

// lastOf is the value of the line that answers the question: of the kind asked for, and equal to the value.
func lastOf(t Task) float64 {
	best := math.Inf(1)
	for _, l := range t.Lines {
		if l.Kind == t.Kind && math.Abs(l.Value-t.Value) < math.Abs(best-t.Value) {
			best = l.Value
		}
	}
	return best
}

// rightly is the right answer to a task, with the number to so many digits after the mark.
func rightly(t Task, decimals int) Answer {
	return Answer{Number: toDecimals(t.Value, decimals), Given: true, Unit: t.Unit, Condition: t.Condition, Decision: t.Decision,
		Reason: t.Reason}
}

func toDecimals(v float64, n int) float64 {
	p := math.Pow10(n)
	return math.Round(v*p) / p
}

// TestSlipsAreNamed checks that each slip is recognised from the figure that it leads to, written to four digits, and that what is right is
// never called a slip: exactly, to three digits, and anywhere within the tolerance where no slip is much nearer. (A figure that is 0.99 %
// off counted as right even where a slip leads to 1.25 %: so who had made that slip and rounded it was right, and the neighbour was not.)
func TestSlipsAreNamed(t *testing.T) {
	everyTask(t, func(t *testing.T, s Sheet) {
		for i := range variants() / 4 {
			task := s.Task(0, student(i))
			for _, v := range []float64{task.Value, digits(task.Value, 3), task.Value * 1.0099, task.Value * 0.9901, task.Value * 1.005,
				task.Value * 1.0083, task.Value * 0.9917} {
				if slip := beside(task, v); slip && math.Abs(v/task.Value-1) > 0.0084 {
					continue
				}
				a := rightly(task, 2)
				a.Number = v
				m := task.Mark(a, s.Tolerance)
				require.True(t, m.Value.Right && m.Unit.Right, "%g beside %g", v, task.Value)
				require.Empty(t, m.Slip, "%g is right: %g", v, task.Value)
				require.Equal(t, 100.0, m.Marks)
			}
			for _, miss := range task.Misses {
				a := rightly(task, 2)
				a.Number = digits(miss.Value, 4)
				m := task.Mark(a, s.Tolerance)
				require.Equal(t, named(task, miss, a.Number), m.Slip, "%s of %g: %g", miss.Slip, task.Value, a.Number)
				require.False(t, m.Value.Right)
				require.Less(t, m.Marks, 100.0)
			}
			for _, kilo := range []float64{1000, 0.001} {
				a := rightly(task, 3)
				a.Number *= kilo
				require.Equal(t, KiloForOne, task.Mark(a, s.Tolerance).Slip)
			}
		}
	})
}

// named returns what a number is called that a slip leads to, once it is written: that slip, or one that comes out nearer on another way.
func named(t Task, m Miss, number float64) Slip {
	for _, also := range t.Also {
		if math.Abs(number/also.Value-1) < math.Abs(number/m.Value-1) {
			return also.Slip
		}
	}
	return m.Slip
}

// beside reports whether a slip leads to within 0.4 % of a value.
func beside(t Task, v float64) bool {
	for _, m := range t.Misses {
		if math.Abs(v/m.Value-1) <= 0.004 {
			return true
		}
	}
	return false
}

// copies are the slips whose value is a figure of the sheet as it stands there.
var copies = map[Question]Slip{
	{HotWinding, 1}: NotCorrected, {Rows, 1}: NotCorrected, {KnownGood, 1}: NotCorrected, {Adapter, 1}: ForgotAdapter,
	{Adapter, 2}: ForgotAdapter, {Pulsed, 1}: SupplyItself, {Pulsed, 2}: NeverOn,
}

// TestCopiesAreKnown checks that those are all: of each kind and level, what stands on every student's sheet.
func TestCopiesAreKnown(t *testing.T) {
	everyTask(t, func(t *testing.T, s Sheet) {
		onAll := map[Slip]int{}
		for i := range 20 {
			task := s.Task(0, student(i))
			for _, m := range task.Misses {
				for _, f := range task.Facts {
					if f.Unit == task.Unit && math.Abs(f.In()-m.Value) < 1e-9 {
						onAll[m.Slip]++
						break
					}
				}
			}
		}
		for slip, count := range onAll {
			require.Equal(t, count == 20, slip == copies[s.Questions[0]], "%s on %d of 20", slip, count)
		}
		if slip, copied := copies[s.Questions[0]]; copied {
			require.Contains(t, onAll, slip)
		}
	})
}

// TestCopyIsAGuess checks that who copies a figure off the sheet and takes what the neighbour chose earns what the choices earn without a
// figure, with the slip named; also in the manual's unit where that had to be converted. A guess earns a third at most.
func TestCopyIsAGuess(t *testing.T) {
	task := Sheet{Questions: []Question{{Adapter, 3}}}.Task(0, "copy")
	a := rightly(task, 3)
	a.Number, a.Unit = task.Facts[0].Number(), task.Facts[0].Unit
	m := task.Mark(a, 0.01)
	assert.Equal(t, []any{ForgotAdapter, false, false, 16.7}, []any{m.Slip, m.Value.Right, m.Unit.Right, m.Marks}, "as it stands there")
	a.Number, a.Unit = task.Facts[0].In(), "N.m"
	m = task.Mark(a, 0.01)
	assert.Equal(t, []any{ForgotAdapter, 70.0}, []any{m.Slip, m.Marks}, "converted: a step")
	for q, slip := range copies {
		task := Sheet{Questions: []Question{q}}.Task(0, "copy")
		for _, miss := range task.Misses {
			if miss.Slip == slip {
				a := rightly(task, 3)
				a.Number = miss.Value
				m := task.Mark(a, 0.01)
				assert.Equal(t, []any{slip, 0.0, 0.0, 5.0, 6.7, 5.0}, []any{m.Slip, m.Value.Earned, m.Unit.Earned, m.Condition.Earned,
					m.Decision.Earned, m.Reason.Earned}, "%v %v", q.Kind, q.Level)
			}
		}
	}
}

// TestSlipsEarnTheSame checks that who makes the same slip earns the same, with the same words, whatever the figures are and however large
// the tolerance is: written to hundredths as the sheet's own figures are, or to four digits.
func TestSlipsEarnTheSame(t *testing.T) {
	everyTask(t, func(t *testing.T, s Sheet) {
		for _, tolerance := range []float64{0.001, 0.01, 0.02, 0.05, 0.1} {
			for i := range variants() / 40 {
				task := s.Task(0, student(i))
				for _, miss := range task.Misses {
					written := []float64{digits(miss.Value, 4)}
					if miss.Value > 1.25 { // below, a hundredth is more than 0.4 %
						written = append(written, toDecimals(miss.Value, 2))
					}
					for _, number := range written {
						a := rightly(task, 2)
						a.Number = number
						m := task.Mark(a, tolerance)
						want := 70.0
						if miss.Slip == copies[s.Questions[0]] {
							want = 16.7 // as the choices alone
						}
						require.Equal(t, []any{named(task, miss, number), false, want}, []any{m.Slip, m.Value.Right, m.Marks}, "%s of %g: %g, tolerance %g",
							miss.Slip, task.Value, number, tolerance)
					}
				}
				right := task.Mark(rightly(task, 3), tolerance)
				require.True(t, tolerance < 0.01 || right.Marks == 100, "%g", tolerance)
			}
		}
	})
}

// TestCoefficientTowardsHot checks what who takes a cold winding to a hot temperature by copper's coefficient at 0 degC gets and earns:
// R × (1 + 0.00427 × (hot − cold)) is that slip, as it is elsewhere, whatever the tolerance. What is right stays right beside it.
func TestCoefficientTowardsHot(t *testing.T) {
	for series := range 4 {
		s := Sheet{Questions: []Question{{KnownGood, 3}}, Series: strconv.Itoa(series)}
		first, n := 0, variants()/4
		for i := range n {
			task := s.Task(0, student(i))
			given := map[string]float64{}
			for _, f := range task.Facts {
				given[f.Name] = f.Number()
			}
			cold, hot := given["winding_temperature"], given["known_good.at"]
			require.Less(t, cold, hot)
			a := rightly(task, 3)
			a.Number = (given["reading"] - given["leads"]) * (1 + 0.00427*(hot-cold))
			require.Greater(t, a.Number, task.Value*1.0125)
			for _, tolerance := range []float64{0.001, 0.01, 0.03, 0.1} {
				m := task.Mark(a, tolerance)
				require.Equal(t, []any{CoefficientAtZero, false, 70.0}, []any{m.Slip, m.Value.Right, m.Marks}, "%g beside %g, tolerance %g", a.Number,
					task.Value, tolerance)
				require.Equal(t, 100.0, task.Mark(rightly(task, 3), tolerance).Marks)
			}
			a.Number = digits(a.Number, 4)
			if m := task.Mark(a, 0.01); m.Slip == CoefficientAtZero {
				first++
			} else {
				require.Contains(t, []Slip{LeadsKept, LeadsAdded}, m.Slip, "two that may come out nearer, once it is rounded")
				require.Equal(t, 70.0, m.Marks)
			}
		}
		require.GreaterOrEqual(t, first, n*97/100)
	}
}

// TestSupplyItself checks what the supply itself is called as the answer: what shows while the driver is on all the time where it switches
// the feed, and what shows while it is never on where it switches the ground. That is what the pin shows then.
func TestSupplyItself(t *testing.T) {
	for level, want := range map[Level]Slip{1: SupplyItself, 2: NeverOn} {
		task := Sheet{Questions: []Question{{Pulsed, level}}}.Task(0, "supply")
		p := pulses{level: level, supply: task.Facts[0].Figure, duty: task.Facts[1].Figure}
		never, always := p.value(0), p.value(1)
		a := rightly(task, 3)
		a.Number = p.supply.Number()
		assert.Equal(t, want, task.Mark(a, 0.01).Slip)
		assert.Equal(t, map[Slip]float64{SupplyItself: always, NeverOn: never}[want], a.Number, "%v", want)
	}
}

// digits returns a value to so many significant digits.
func digits(v float64, n int) float64 {
	text := strconv.FormatFloat(v, 'g', n, 64)
	short, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err)
	}
	return short
}

// TestUnits checks what is said of the unit beside a right number: the right one, another one that means the same, a thousandth of it, one
// of another kind, and none.
func TestUnits(t *testing.T) {
	s := Sheet{Questions: []Question{{HotWinding, 2}}, Tolerance: 0.01}
	task := s.Task(0, "unit")
	for _, c := range []struct {
		number       float64
		unit         string
		value, right bool
		slip         Slip
	}{
		{task.Value, "ohm", true, true, ""},
		{task.Value / 1000, "kohm", true, true, ""},
		{task.Value, "kohm", true, false, KiloForOne},
		{task.Value * 1000, "ohm", false, true, KiloForOne},
		{task.Value, "V", true, false, OtherUnit},
		{task.Value, "", true, false, OtherUnit},
		{task.Value * 3, "ohm", false, true, ""},
	} {
		a := rightly(task, 3)
		a.Number, a.Unit = c.number, c.unit
		m := task.Mark(a, s.Tolerance)
		assert.Equal(t, []any{c.value, c.right, c.slip}, []any{m.Value.Right, m.Unit.Right, m.Slip}, "%g %s", c.number, c.unit)
	}
	none := task.Mark(Answer{Unit: "ohm", Condition: task.Condition, Decision: task.Decision, Reason: task.Reason}, 0.01)
	assert.Equal(t, 5+6.7+5, none.Marks, "without a value a third of 15, of 20 and of 15, and nothing for the unit")
	assert.Zero(t, task.Mark(Answer{}, 0.01).Marks)
}

// TestWrenchHasOneScale checks the unit where the manual's is another than the wrench's: what is right in inch-pounds or foot-pounds was
// not converted, and what is right in newton metres, or a hundredth of them, was. Where both have one unit, others that mean the same are
// right.
func TestWrenchHasOneScale(t *testing.T) {
	const inch, foot = 0.45359237 * 9.80665 * 0.0254, 0.45359237 * 9.80665 * 0.3048
	for level := Level(1); level <= Levels; level++ {
		for i := range variants() / 10 {
			task := Sheet{Questions: []Question{{Adapter, level}}}.Task(0, student(i))
			for unit, newtonMetres := range map[string]float64{"N.m": 1, "cN.m": 0.01, "lbf.in": inch, "lbf.ft": foot} {
				a := rightly(task, 3)
				a.Number, a.Unit = task.Value/newtonMetres, unit
				want := []any{true, true, Slip(""), 100.0}
				if level == 3 && newtonMetres != 1 && newtonMetres != 0.01 {
					want = []any{true, false, NotConverted, 90.0}
				}
				m := task.Mark(a, 0.01)
				require.Equal(t, want, []any{m.Value.Right, m.Unit.Right, m.Slip, m.Marks}, "level %v: %g %s", level, a.Number, unit)
			}
		}
	}
}

// TestWordsAreAllOffered checks that all that can be chosen on a task is among the words of the declaration, and the right one among those
// of the task.
func TestWordsAreAllOffered(t *testing.T) {
	everyTask(t, func(t *testing.T, s Sheet) {
		task := s.Task(0, "words")
		assert.Subset(t, Conditions(), task.Conditions)
		assert.Subset(t, Decisions(), task.Decisions)
		assert.Subset(t, Reasons(), task.Reasons)
		assert.Subset(t, Units(), task.Offered())
		assert.Contains(t, task.Conditions, task.Condition)
		assert.Contains(t, task.Decisions, task.Decision)
		assert.Contains(t, task.Reasons, task.Reason)
		assert.Contains(t, task.Offered(), task.Unit)
		for _, unit := range task.Offered() {
			_, ok := quantity.UnitNamed(task.Kind, task.Unit)
			assert.True(t, ok, unit)
		}
	})
}

// TestSeriesChangeTheVerdict checks that the verdict is the class's and not always the same: over forty series each verdict comes up.
func TestSeriesChangeTheVerdict(t *testing.T) {
	for k := HotWinding; int(k) < Kinds; k++ {
		seen := map[string]bool{}
		for i := range 40 {
			s := Sheet{Questions: []Question{{k, 1}}, Series: strconv.Itoa(i)}
			seen[s.Task(0, "one").Decision] = true
		}
		assert.Len(t, seen, 3, "%v", k)
	}
}

// TestPlain checks that a name is the same however it is typed: case, spaces, Unicode form, wide and invisible characters; and that names
// which differ stay apart.
func TestPlain(t *testing.T) {
	for _, same := range []string{"anna müller", "ANNA MÜLLER", " Anna  Mu\u0308ller ", "Anna\u00a0Müller", "Anna\tMüller\n", "Ａｎｎａ Müller",
		"An\u200bna Mü\u00adller"} {
		assert.Equal(t, "anna müller", Plain(same), "%q", same)
	}
	assert.Equal(t, Plain("STRASSE"), Plain("straße"))
	assert.Equal(t, Plain("ΣΊΣΥΦΟΣ"), Plain("σίσυφος"))
	assert.NotEqual(t, Plain("anna"), Plain("anne"))
	assert.Empty(t, Plain(" \u200b\t"))
	for _, text := range []string{"İstanbul", "ﬁ", "\u0345α", "ǅ", "a\u0315\u0300", "\xff"} {
		assert.Equal(t, Plain(text), Plain(Plain(text)), "%q", text)
	}
}

// TestNamesDecide checks that figures follow from the plain name, and another series, level or place on the sheet gives others.
func TestNamesDecide(t *testing.T) {
	s := Sheet{Questions: []Question{{HotWinding, 2}, {HotWinding, 2}, {Rows, 1}}}
	assert.Equal(t, s.Task(0, "Anna Müller").Facts, s.Task(0, " anna  MU\u0308LLER").Facts)
	assert.NotEqual(t, s.Task(0, "anna").Facts, s.Task(1, "anna").Facts, "two questions of one kind are two")
	other := s
	other.Series = "7b"
	assert.NotEqual(t, s.Task(0, "anna").Facts, other.Task(0, "anna").Facts)
	moved := Sheet{Questions: []Question{{Rows, 1}, {HotWinding, 2}}}
	assert.Equal(t, s.Task(0, "anna").Facts, moved.Task(1, "anna").Facts, "what comes before on the sheet changes nothing")
}

// TestDraw checks the draw in whole numbers: the first numbers that SplitMix64 gives from a state of 0 are those that its authors' program
// prints (prng.di.unimi.it/splitmix64.c, from memory), and each of three numbers comes up a third of the time.
func TestDraw(t *testing.T) {
	d := draw{&lesson.Draw{}}
	assert.Equal(t, []uint64{0xe220a8397b1dcdaf, 0x6e789e6aa1b965f4, 0x06c45d188009454f}, []uint64{d.Whole(), d.Whole(), d.Whole()})
	var count [3]int
	for range 30000 {
		count[d.below(3)]++
	}
	for _, n := range count {
		assert.InDelta(t, 10000, n, 4*math.Sqrt(30000*2/9.0))
	}
	for range 1000 {
		n := d.decade(300, 16000)
		assert.True(t, 300 <= n && n <= 16000, "%d", n)
	}
}
