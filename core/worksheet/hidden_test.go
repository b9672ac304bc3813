package worksheet

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/selfcheck"
)

// everyFault calls do with every sheet that hides a fault.
func everyFault(t *testing.T, do func(t *testing.T, s Sheet)) {
	for k := FaultHigh; k <= FaultLow; k++ {
		for l := Level(1); l <= Levels; l++ {
			for drawing := 1; drawing <= Drawing; drawing++ {
				t.Run(fmt.Sprintf("%v %v %d", k, l, drawing), func(t *testing.T) {
					t.Parallel()
					do(t, Sheet{Questions: []Question{{k, l}}, Drawing: drawing})
				})
			}
		}
	}
}

// TestHiddenAreEqual checks that the faults of a class are alike hard to find: the way suffices by the check, has the same number of tests
// for all, and every repair of the sheet is alike frequent; and that no two of 2,000 students have the same readings.
func TestHiddenAreEqual(t *testing.T) {
	everyFault(t, func(t *testing.T, s Sheet) {
		n := variants()
		steps := len(s.Hidden(0, student(0)).Way)
		seen, repairs := map[string]bool{}, map[circuit.Repair]int{}
		for i := range n {
			h := s.Hidden(0, student(i))
			require.True(t, h.Check(), "%s: %v %g, code %v, after %v", student(i), h.Fault, h.X, h.Code, h.Way)
			require.Len(t, h.Way, steps)
			seen[allReadings(h)] = true
			repairs[h.Fault.Repair()]++
		}
		assert.Len(t, seen, n, "different readings")
		share := float64(n) / float64(len(repairs))
		for r, count := range repairs {
			assert.InDelta(t, share, count, 6*sqrt(share), "%v of %v", r, repairs)
		}
		assert.Greater(t, len(repairs), 2)
	})
}

func sqrt(v float64) (root float64) {
	for root = v; root*root > v*1.0001; root = (root + v/root) / 2 {
	}
	return root
}

// allReadings are the readings of every test that there is.
func allReadings(h Hidden) (text string) {
	for t := range circuit.Test(lesson.Tests) {
		if t.Possible(h.Model.Side, h.Model.Return) {
			r := h.Reading(t)
			text += fmt.Sprint(r.Value, r.Over, " ")
		}
	}
	return text
}

// TestOwnWay checks beside the circuit question's own way, which is the best known one on average, that it finds the fault, and what the
// way of the sheet is worth beside it: never two tests more, and never a third more minutes. A student who finds the shorter one has
// all marks, as has one who goes the sheet's.
func TestOwnWay(t *testing.T) {
	everyFault(t, func(t *testing.T, s Sheet) {
		n := variants() / 20
		longer, shorter := 0, 0
		for i := range n {
			h := s.Hidden(0, "way "+strconv.Itoa(i))
			best, way := h.Hidden.Best(), h.Walk(h.Way, h.Fault.Repair())
			require.True(t, best.Right, "%v %g after %v", h.Fault, h.X, best.Tests)
			require.GreaterOrEqual(t, len(best.Tests)+1, len(h.Way), "%v %g: %v", h.Fault, h.X, best.Tests)
			require.GreaterOrEqual(t, best.Minutes*1.3, way.Minutes, "%v %g: %v", h.Fault, h.X, best.Tests)
			switch {
			case len(best.Tests) > len(h.Way):
				longer++
			case len(best.Tests) < len(h.Way):
				shorter++
				assert.Equal(t, 100.0, h.Mark(best.Tests, h.Fault.Repair(), way.Minutes).Marks, "%v %g", h.Fault, h.X)
			}
		}
		t.Logf("of %d the circuit question's own way is longer in %d and shorter in %d", n, longer, shorter)
	})
}

// TestCornersAreFound checks that the way of each stock suffices at its corners: the least and largest parameter and winding, with each
// reading as far off as the draw lets it be, up and down.
func TestCornersAreFound(t *testing.T) {
	for drawing := 1; drawing <= Drawing; drawing++ {
		for k := FaultHigh; k <= FaultLow; k++ {
			for l := Level(1); l <= Levels; l++ {
				of := Question{k, l}.setting(drawing)
				for _, from := range slices.Concat(of.stocks...) {
					checkCorners(t, Question{k, l}, of, from)
				}
			}
		}
	}
}

func checkCorners(t *testing.T, q Question, of setting, from stock) {
	t.Helper()
	way := ways[from.way]
	for corner := range 1 << (2 + len(way)) {
		bit := func(i int) bool { return corner>>i&1 == 1 }
		x, coil := from.from, of.min.N*102
		if bit(0) {
			x = from.to
		}
		if bit(1) {
			coil = of.max.N * 98
		}
		var off [lesson.Tests]float64
		for i, test := range way {
			off[test] = -0.8
			if bit(2 + i) {
				off[test] = 0.8
			}
		}
		for _, code := range stored[from.codes] {
			h := Hidden{Question: q, Model: of.model(), Way: way}
			h.Hidden = lesson.Put(h.Model, from.fault, float64(x)/1000, float64(rounded(coil*(10*of.now.N+2345), 2545))/1e4, code, off)
			m := h.Mark(h.Way, h.Fault.Repair(), h.Best())
			assert.GreaterOrEqual(t, m.Supported, sufficient, "%v %v: %v %d, code %v, winding %d, off %v", q.Kind, q.Level, from.fault, x, code,
				coil, off)
		}
	}
}

// TestCodesAreSet checks that the code that is told is one that the control unit would store of that fault.
func TestCodesAreSet(t *testing.T) {
	everyFault(t, func(t *testing.T, s Sheet) {
		for i := range 300 {
			h := s.Hidden(0, student(i))
			sets := selfcheck.Sets(h.Model, h.Fault, h.X, h.Coil)
			if h.Code == circuit.NoCode {
				assert.Empty(t, sets, "%v %g", h.Fault, h.X)
			} else {
				assert.Contains(t, sets, h.Code, "%v %g", h.Fault, h.X)
			}
		}
	})
}

// TestCodesLeaveTwoRepairs checks that from drawing 2 on no stored code, and no missing one, names the repair: under each of them two or
// more repairs come up, and none in more than two of three cases; so whoever names what is usual under a code is wrong in a third of them.
func TestCodesLeaveTwoRepairs(t *testing.T) {
	everyFault(t, func(t *testing.T, s Sheet) {
		under := map[circuit.Code]map[circuit.Repair]int{}
		n := variants()
		for i := range n {
			h := s.Hidden(0, student(i))
			if under[h.Code] == nil {
				under[h.Code] = map[circuit.Repair]int{}
			}
			under[h.Code][h.Fault.Repair()]++
		}
		for code, repairs := range under {
			all, most := 0, 0
			for _, count := range repairs {
				all, most = all+count, max(most, count)
			}
			t.Logf("code %v: %v", code, repairs)
			if s.Drawing > 1 {
				assert.GreaterOrEqual(t, len(repairs), 2, "code %v: %v", code, repairs)
				assert.LessOrEqual(t, float64(most), 2.0/3*float64(all), "code %v: %v", code, repairs)
			}
		}
	})
}

// TestNamesKeepTheirFigures checks what the draw gives 200 names on every sheet and level, by a sum over all facts and readings. This code
// produced the sums, so they prove nothing but that a link given out keeps its meaning, here and, as these tests run as a page's module
// too, on any other device. Support is left out: it is the circuit question's, which may come to weigh a reading a little otherwise.
func TestNamesKeepTheirFigures(t *testing.T) {
	want := map[Kind][Levels]string{
		FaultHigh:  {"130990c8d5e5268a", "a97c21ac1daf70dc", "8fdf5bce7e9b0baa"},
		FaultLow:   {"fece92c8a9fc1abe", "8bbcc94a4bd3b707", "7e0067fad65aa9cf"},
		HotWinding: {"bbcf8106a4febbe2", "ae2b9df0760a24bc", "b626df5ad9f1d0cc"},
		Rows:       {"599c15dd9d2e4b76", "59f3268a5a127a0a", "28f82ab11126996c"},
		KnownGood:  {"75164d02edd3ebe2", "be0228e94cc5eba8", "ab008771feedef1d"},
		Adapter:    {"7f02791674adfd5b", "c2f7d4c7c65bb522", "f2e1e9af57689586"},
		Pulsed:     {"f742d20e5030aacc", "00578c8cbf3a878f", "639d75d93954f431"},
	}
	second := map[Question]string{{FaultHigh, 2}: "3c1f1c60540935da", {FaultLow, 1}: "291d89f989a2bdde",
		{FaultLow, 2}: "58dd129587dd9fb3", {FaultLow, 3}: "41fc2fa0c85db80b"}
	for k := range Kind(Kinds) {
		for l := Level(1); l <= Levels; l++ {
			q := Question{k, l}
			s := Sheet{Questions: []Question{q}, Series: "7b", Drawing: 1}
			assert.Equal(t, want[k][l-1], sumOfGiven(s), "%v %v", k, l)
			s.Drawing = 2
			if again, ok := second[q]; ok {
				assert.Equal(t, again, sumOfGiven(s), "%v %v, drawing 2", k, l)
			} else {
				assert.Equal(t, want[k][l-1], sumOfGiven(s), "%v %v is the same in drawing 2", k, l)
			}
		}
	}
}

// sumOfGiven is a sum over what 200 names are given on a sheet of one question.
func sumOfGiven(s Sheet) string {
	sum := fnv.New64a()
	for i := range 200 {
		if s.Questions[0].Kind.Hides() {
			h := s.Hidden(0, student(i))
			fmt.Fprintln(sum, h.Fault, h.Code, allReadings(h))
		} else {
			fmt.Fprintln(sum, s.Task(0, student(i)).Facts)
		}
	}
	return fmt.Sprintf("%016x", sum.Sum64())
}
