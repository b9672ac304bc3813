package fastener

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

// joint returns a joint used to 90 % of yield.
func joint(t testing.TB, name string, c Class, friction float64) Joint {
	return Joint{thread(t, name), c, quantity.Ratio(friction), 0.9}
}

// A tabled is a row of a table: preloads and torques for 8.8, 10.9 and 12.9.
type tabled struct {
	thread   string
	friction float64
	preload  [3]float64 // kN
	torque   [3]float64 // N·m
}

var inTables = []Class{Class8_8, Class10_9, Class12_9}

// step returns half of the last printed digit: the tables print a whole row with one decimal or with none.
func step(row tabled, values [3]float64) float64 {
	for _, v := range values {
		if v != float64(int(v)) {
			return 0.05
		}
	}
	return 0.5
}

// fine are the rows of VDI 2230:2001 for fine threads, 90 % of yield, hexagon and socket heads, medium holes. Source: mastik,
// page 685, all rows.
var fine = []tabled{
	{"M8x1", 0.10, [3]float64{20.7, 30.4, 35.6}, [3]float64{22.8, 33.5, 39.2}},
	{"M8x1", 0.12, [3]float64{20.2, 29.7, 34.7}, [3]float64{26.1, 38.3, 44.9}},
	{"M8x1", 0.14, [3]float64{19.7, 28.9, 33.9}, [3]float64{29.2, 42.8, 50.1}},
	{"M10x1.25", 0.10, [3]float64{32.4, 47.5, 55.6}, [3]float64{44, 65, 76}},
	{"M10x1.25", 0.12, [3]float64{31.6, 46.4, 54.3}, [3]float64{51, 75, 87}},
	{"M10x1.25", 0.14, [3]float64{30.8, 45.2, 52.9}, [3]float64{57, 83, 98}},
	{"M12x1.25", 0.10, [3]float64{49.1, 72.1, 84.4}, [3]float64{79, 116, 135}},
	{"M12x1.25", 0.12, [3]float64{48.0, 70.5, 82.5}, [3]float64{90, 133, 155}},
	{"M12x1.25", 0.14, [3]float64{46.8, 68.7, 80.4}, [3]float64{101, 149, 174}},
	{"M14x1.5", 0.10, [3]float64{66.4, 97.5, 114.1}, [3]float64{124, 182, 213}},
	{"M14x1.5", 0.12, [3]float64{64.8, 95.2, 111.4}, [3]float64{142, 209, 244}},
	{"M14x1.5", 0.14, [3]float64{63.2, 92.9, 108.7}, [3]float64{159, 234, 274}},
	{"M16x1.5", 0.10, [3]float64{89.6, 131.6, 154.0}, [3]float64{189, 278, 325}},
	{"M16x1.5", 0.12, [3]float64{87.6, 128.7, 150.6}, [3]float64{218, 320, 374}},
	{"M16x1.5", 0.14, [3]float64{85.5, 125.5, 146.9}, [3]float64{244, 359, 420}},
	{"M18x1.5", 0.10, [3]float64{120, 171, 200}, [3]float64{283, 403, 472}},
	{"M18x1.5", 0.12, [3]float64{117, 167, 196}, [3]float64{327, 465, 544}},
	{"M18x1.5", 0.14, [3]float64{115, 163, 191}, [3]float64{368, 523, 613}},
	{"M20x1.5", 0.10, [3]float64{151, 215, 252}, [3]float64{392, 558, 653}},
	{"M20x1.5", 0.12, [3]float64{148, 211, 246}, [3]float64{454, 646, 756}},
	{"M20x1.5", 0.14, [3]float64{144, 206, 241}, [3]float64{511, 728, 852}},
	{"M22x1.5", 0.10, [3]float64{186, 264, 309}, [3]float64{529, 754, 882}},
	{"M22x1.5", 0.12, [3]float64{182, 259, 303}, [3]float64{613, 873, 1022}},
	{"M22x1.5", 0.14, [3]float64{178, 253, 296}, [3]float64{692, 985, 1153}},
	{"M24x2", 0.10, [3]float64{213, 304, 355}, [3]float64{666, 949, 1110}},
	{"M24x2", 0.12, [3]float64{209, 297, 348}, [3]float64{769, 1095, 1282}},
	{"M24x2", 0.14, [3]float64{204, 290, 339}, [3]float64{865, 1232, 1442}},
}

// TestFineThreads checks every printed row to 0.5 %, plus half of the last printed digit.
func TestFineThreads(t *testing.T) {
	worstF, worstM := 0.0, 0.0
	for _, row := range fine {
		for i, c := range inTables {
			j := joint(t, row.thread, c, row.friction)
			f, m := float64(j.Preload())/1000, float64(j.Torque())
			assert.InDelta(t, row.preload[i], f, 0.005*row.preload[i]+step(row, row.preload), "%s %s %v", row.thread, c, row.friction)
			assert.InDelta(t, row.torque[i], m, 0.005*row.torque[i]+step(row, row.torque), "%s %s %v", row.thread, c, row.friction)
			worstF, worstM = max(worstF, abs(f/row.preload[i]-1)), max(worstM, abs(m/row.torque[i]-1))
		}
	}
	t.Logf("worst difference: preload %.2f %%, torque %.2f %%", 100*worstF, 100*worstM)
}

// TestFriction012 checks class 8.8 at a friction of 0.12 against an independent source, to the same limits as TestFineThreads. Source:
// 51dongshi (90 % of yield, hexagon head). Its M3 is 1.3 % below the formula, which the stainless table below confirms: 1.5 % is allowed.
func TestFriction012(t *testing.T) {
	for name, want := range map[string]struct{ torque, step float64 }{
		"M3": {1.27, 0.015 * 1.27}, "M4": {3, 0.5}, "M5": {5.9, 0.05}, "M6": {10.1, 0.05}, "M8": {24.6, 0.05}, "M10": {48, 0.5}, "M12": {84, 0.5},
	} {
		assert.InDelta(t, want.torque, float64(joint(t, name, Class8_8, 0.12).Torque()), 0.005*want.torque+want.step, name)
	}
	// Source: bossard (VDI 2230 tables 2021-05): M12 8.8 at 0.14, at most 41.9 kN.
	assert.InEpsilon(t, 41.9, float64(joint(t, "M12", Class8_8, 0.14).Preload())/1000, 0.005)
}

// stainless are rows of coarse threads in stainless steel of class 70, yield 450 N/mm². Formulas and geometry are the same, so they check
// coarse threads, frictions up to 0.3, and d_w and d_h of small and large sizes. fStep and mStep are half of the last printed digit, but
// for the torque of M1.6 at 0.2 a whole one: the source has a wider head there (see TestSmallestThread). Source: mastik, page 686.
var stainless = []struct {
	thread                                  string
	friction, preload, fStep, torque, mStep float64
}{
	{"M1.6", 0.1, 0.45, 0.005, 0.11, 0.005}, {"M1.6", 0.2, 0.39, 0.005, 0.17, 0.01}, {"M1.6", 0.3, 0.33, 0.005, 0.2, 0.05},
	{"M2", 0.1, 0.74, 0.005, 0.23, 0.005}, {"M2", 0.2, 0.64, 0.005, 0.35, 0.005}, {"M2", 0.3, 0.55, 0.005, 0.43, 0.005},
	{"M2.5", 0.1, 1.23, 0.005, 0.46, 0.005}, {"M2.5", 0.2, 1.06, 0.005, 0.72, 0.005}, {"M2.5", 0.3, 0.9, 0.05, 0.89, 0.005},
	{"M3", 0.1, 1.84, 0.005, 0.8, 0.05}, {"M3", 0.2, 1.6, 0.05, 1.26, 0.005}, {"M3", 0.3, 1.36, 0.005, 1.56, 0.005},
	{"M4", 0.1, 3.2, 0.05, 1.85, 0.005}, {"M4", 0.2, 2.76, 0.005, 2.9, 0.05}, {"M4", 0.3, 2.35, 0.005, 3.6, 0.05},
	{"M5", 0.1, 5.2, 0.05, 3.6, 0.05}, {"M5", 0.2, 4.51, 0.005, 5.7, 0.05}, {"M5", 0.3, 3.85, 0.005, 7, 0.5},
	{"M6", 0.1, 7.3, 0.05, 6.3, 0.05}, {"M6", 0.2, 6.4, 0.05, 10, 0.5}, {"M6", 0.3, 5.5, 0.05, 12.2, 0.05},
	{"M8", 0.1, 13.4, 0.05, 15.2, 0.05}, {"M8", 0.2, 11.6, 0.05, 24.1, 0.05}, {"M8", 0.3, 9.9, 0.05, 30, 0.5},
	{"M10", 0.1, 21.3, 0.05, 30, 0.5}, {"M10", 0.2, 18.5, 0.05, 47.7, 0.05},
	{"M18", 0.1, 71, 0.5, 176, 0.5}, {"M18", 0.2, 62, 0.5, 282, 0.5}, {"M18", 0.3, 53, 0.5, 352, 0.5},
	{"M20", 0.1, 91, 0.5, 247, 0.5}, {"M20", 0.2, 79.6, 0.05, 401, 0.5}, {"M20", 0.3, 68, 0.5, 501, 0.5},
	{"M22", 0.1, 113, 0.5, 337, 0.5}, {"M22", 0.2, 99.3, 0.05, 551, 0.5}, {"M22", 0.3, 85.2, 0.05, 692, 0.5},
	{"M24", 0.1, 131, 0.5, 426, 0.5}, {"M24", 0.2, 115, 0.5, 690, 0.5}, {"M24", 0.3, 98, 0.5, 863, 0.5},
}

func TestCoarseThreadsOfStainlessSteel(t *testing.T) {
	worstF, worstM := 0.0, 0.0
	for _, row := range stainless {
		j := joint(t, row.thread, Class8_8, row.friction)
		j.Utilisation *= quantity.Ratio(450 / j.Class.Yield(j.Thread.Diameter)) // all is in proportion to yield
		f, m := float64(j.Preload())/1000, float64(j.Torque())
		assert.InDelta(t, row.preload, f, 0.005*row.preload+row.fStep, "%s %v", row.thread, row.friction)
		assert.InDelta(t, row.torque, m, 0.005*row.torque+row.mStep, "%s %v", row.thread, row.friction)
		worstF, worstM = max(worstF, (abs(f-row.preload)-row.fStep)/row.preload), max(worstM, (abs(m-row.torque)-row.mStep)/row.torque)
	}
	t.Logf("worst difference beyond rounding: preload %.2f %%, torque %.2f %%", 100*worstF, 100*worstM)
}

// TestSmallestThread checks the rows of M1.6 to 3 %, as they have another basis: for 10.9 they use 900 N/mm² (from the ratio of the two
// classes, 882/627 = 900/640). Their preloads are 2 to 3 % and their torques 1 % below the formula, which the stainless table of the same
// source confirms. Source: mastik, page 684 (VDI 2230:2003; the rest was cut off).
func TestSmallestThread(t *testing.T) {
	for _, row := range []struct {
		friction        float64
		preload, torque [2]float64 // 8.8 and 10.9, N and N·cm
	}{
		{0.10, [2]float64{627, 882}, [2]float64{15.1, 21.2}}, {0.12, [2]float64{607, 854}, [2]float64{16.9, 23.7}},
		{0.14, [2]float64{588, 826}, [2]float64{18.5, 26}},
	} {
		assert.InEpsilon(t, 900.0/640, row.preload[1]/row.preload[0], 0.002)
		for i, yield := range []float64{640, 900} {
			j := joint(t, "M1.6", Class8_8, row.friction)
			j.Utilisation *= quantity.Ratio(yield / 640)
			assert.InEpsilon(t, row.preload[i], float64(j.Preload()), 0.03, "%v %v", row.friction, yield)
			assert.InEpsilon(t, row.torque[i], 100*float64(j.Torque()), 0.015, "%v %v", row.friction, yield)
		}
	}
}

// TestCoarseThreadsFromMemory checks rows of VDI 2230 for coarse threads, from memory, to 0.5 % plus a unit of the last digit. The check
// with a source is TestCoarseThreadsOfStainlessSteel.
func TestCoarseThreadsFromMemory(t *testing.T) {
	frictions := []float64{0.08, 0.10, 0.12, 0.14}
	for _, row := range []struct {
		thread          string
		class           Class
		preload, torque [4]float64
		digit           float64 // of the torque
	}{
		{"M4", Class8_8, [4]float64{4.6, 4.5, 4.4, 4.3}, [4]float64{2.3, 2.6, 3.0, 3.3}, 0.1},
		{"M4", Class10_9, [4]float64{6.8, 6.7, 6.5, 6.3}, [4]float64{3.3, 3.9, 0, 4.8}, 0.1}, // at 0.12 memory has 4.6, the formula 4.35
		{"M5", Class8_8, [4]float64{7.6, 7.4, 7.2, 7.0}, [4]float64{4.4, 5.2, 5.9, 6.5}, 0.1},
		{"M5", Class10_9, [4]float64{11.1, 10.8, 10.6, 10.3}, [4]float64{6.5, 7.6, 8.6, 9.5}, 0.1},
		{"M6", Class8_8, [4]float64{10.7, 10.4, 10.2, 9.9}, [4]float64{7.7, 9.0, 10.1, 11.3}, 0.1},
		{"M6", Class10_9, [4]float64{15.7, 15.3, 14.9, 14.5}, [4]float64{11.3, 13.2, 14.9, 16.5}, 0.1},
		{"M8", Class8_8, [4]float64{19.5, 19.1, 18.6, 18.1}, [4]float64{18.5, 21.6, 24.6, 27.3}, 0.1},
		{"M8", Class10_9, [4]float64{28.7, 28.0, 27.3, 26.6}, [4]float64{27.2, 31.8, 36.1, 40.1}, 0.1},
		{"M10", Class8_8, [4]float64{31.0, 30.3, 29.6, 28.8}, [4]float64{36, 43, 48, 54}, 1},
		{"M10", Class10_9, [4]float64{45.6, 44.5, 43.4, 42.2}, [4]float64{53, 63, 71, 79}, 1},
	} {
		for i, mu := range frictions {
			j := joint(t, row.thread, row.class, mu)
			assert.InDelta(t, row.preload[i], float64(j.Preload())/1000, 0.005*row.preload[i]+0.1, "%s %s %v", row.thread, row.class, mu)
			if row.torque[i] != 0 {
				assert.InDelta(t, row.torque[i], float64(j.Torque()), 0.005*row.torque[i]+row.digit, "%s %s %v", row.thread, row.class, mu)
			}
		}
	}
}

// TestNinetyInchPounds checks that 90 in-lb is what an M6 of class 8.8 takes at usual frictions. The figure is common practice, so this
// is only a plausibility check.
func TestNinetyInchPounds(t *testing.T) {
	const torque = 90 * 0.1129848290276167
	assert.Less(t, float64(joint(t, "M6", Class8_8, 0.10).Torque()), torque)
	assert.Greater(t, float64(joint(t, "M6", Class8_8, 0.14).Torque()), torque)
}

// TestNutFactor checks that K = M/(d F) of the coarse threads from M5 up is near two published values: 0.15 lubricated, at a friction of
// 0.10, and 0.20 plain, at 0.15. A plausibility check: K is a rule of thumb. The worked example of the facts (3/8-16) is of an inch
// thread, which this package does not know. Source: constantcontact-1102586894903.
func TestNutFactor(t *testing.T) {
	for _, s := range sizes {
		if s.diameter < 5 {
			continue
		}
		k := func(friction float64) float64 {
			j := joint(t, "M"+decimal(s.diameter), Class8_8, friction)
			return float64(j.Torque()) * 1000 / (s.diameter * float64(j.Preload()))
		}
		assert.InDelta(t, 0.15, k(0.10), 0.02, s.diameter)
		assert.InDelta(t, 0.20, k(0.15), 0.02, s.diameter)
	}
}

// several calls draw with joints of every thread and every class that covers it, at random frictions and utilisations.
func several(draw func(j Joint)) {
	r := rand.New(rand.NewPCG(5, 1))
	for _, of := range Threads() {
		for _, c := range Classes {
			if c.Covers(of.Diameter) {
				draw(Joint{of, c, quantity.Ratio(0.02 + r.Float64()*0.4), quantity.Ratio(0.3 + r.Float64()*0.7)})
			}
		}
	}
}

func TestTorqueAndPreloadAreEachOthersInverse(t *testing.T) {
	several(func(j Joint) {
		require.InEpsilon(t, float64(j.Preload()), float64(j.PreloadAt(j.Torque(), j.Friction)), 1e-12, "%+v", j)
		require.InEpsilon(t, float64(j.Utilisation), float64(j.Stressed(j.Torque(), j.Friction)), 1e-12, "%+v", j)
		require.InEpsilon(t, 2*float64(j.Preload()), float64(j.PreloadAt(2*j.Torque(), j.Friction)), 1e-12, "%+v", j)
		require.Zero(t, j.PreloadAt(0, j.Friction))
	})
}

func TestMoreFrictionTakesMoreTorqueAndLeavesLessPreload(t *testing.T) {
	several(func(j Joint) {
		more := j
		more.Friction += 0.005
		require.Greater(t, more.Torque(), j.Torque(), "%+v", j)
		require.Less(t, more.Preload(), j.Preload(), "%+v", j)
		require.Less(t, j.PreloadAt(10, more.Friction), j.PreloadAt(10, j.Friction), "%+v", j)
		require.Less(t, j.Stressed(j.Torque(), more.Friction), j.Stressed(j.Torque(), j.Friction), "%+v", j)
		more = j
		more.Utilisation *= 1.01
		require.Greater(t, more.Torque(), j.Torque())
		require.Greater(t, more.Preload(), j.Preload())
	})
}

// TestAHigherClassAndALargerThreadTakeMore compares threads of the same pitch, or both coarse.
func TestAHigherClassAndALargerThreadTakeMore(t *testing.T) {
	several(func(j Joint) {
		for _, c := range Classes {
			if c > j.Class && c.Covers(j.Thread.Diameter) {
				more := j
				more.Class = c
				require.Greater(t, more.Torque(), j.Torque(), "%+v", j)
				require.Greater(t, more.Preload(), j.Preload(), "%+v", j)
				require.Greater(t, more.ProofLoad(), j.ProofLoad(), "%+v", j)
			}
		}
		for _, of := range Threads() {
			alike := of.Pitch == j.Thread.Pitch || of.Coarse() && j.Thread.Coarse()
			if alike && of.Diameter > j.Thread.Diameter && j.Class.Covers(of.Diameter) {
				more := j
				more.Thread = of
				require.Greater(t, more.Torque(), j.Torque(), "%+v %v", j, of)
				require.Greater(t, more.Preload(), j.Preload(), "%+v %v", j, of)
				require.Greater(t, more.ProofLoad(), j.ProofLoad(), "%+v %v", j, of)
			}
		}
	})
}

// TestPreloadStaysBelowYield checks that torsion costs tension: a twentieth to two fifths of it at usual friction.
func TestPreloadStaysBelowYield(t *testing.T) {
	for _, of := range Threads() {
		j := Joint{of, Class8_8, 0.12, 0.9}
		share := float64(j.Preload()) / (0.9 * j.yieldLoad())
		assert.Greater(t, share, 0.6, of)
		assert.Less(t, share, 0.95, of)
	}
}

// TestAThreadNotInTheTable checks that no figure is made up for one.
func TestAThreadNotInTheTable(t *testing.T) {
	j := Joint{Thread{9, 1.25}, Class8_8, 0.12, 0.9}
	assert.True(t, math.IsNaN(float64(j.Torque())))
	assert.True(t, math.IsNaN(float64(j.PreloadAt(10, 0.12))))
}

// TestBreaking checks that the share of strength rises with torque and falls with friction, is below the share of yield, and is above the
// share from tension alone.
func TestBreaking(t *testing.T) {
	several(func(j Joint) {
		at := j.Torque()
		share := j.Breaking(at, j.Friction)
		require.Less(t, share, j.Stressed(at, j.Friction), "%+v", j)
		ratio := j.Class.Yield(j.Thread.Diameter) / j.Class.Tensile(j.Thread.Diameter)
		require.InEpsilon(t, float64(ratio), float64(share/j.Stressed(at, j.Friction)), 1e-12, "%+v", j)
		require.Greater(t, j.Breaking(1.01*at, j.Friction), share, "%+v", j)
		require.Less(t, j.Breaking(at, j.Friction+0.01), share, "%+v", j)
		require.Greater(t, share, quantity.Ratio(float64(j.Preload())/float64(j.UltimateLoad())), "%+v", j)
		require.Greater(t, j.UltimateLoad(), j.ProofLoad(), "%+v", j)
		require.Zero(t, j.Breaking(0, j.Friction))
	})
	// By hand: 20.1 mm² of 800 N/mm² are 16.1 kN (ISO 898-1 prints 16 100 N, from memory).
	m6 := joint(t, "M6", Class8_8, 0.12)
	assert.InDelta(t, 16100, float64(m6.UltimateLoad()), 50)
	// 10.1 N·m are 90 % of 640 N/mm² (printed, TestFriction012): 800 N/mm² are reached at 10.1 × 800/576 = 14.0 N·m; 30 N·m are past it.
	assert.Less(t, m6.Breaking(13.8, 0.12), quantity.Ratio(1))
	assert.Greater(t, m6.Breaking(14.2, 0.12), quantity.Ratio(1))
	assert.Greater(t, m6.Breaking(30, 0.12), quantity.Ratio(2))
	assert.True(t, math.IsNaN(float64(Joint{Thread{9, 1.25}, Class8_8, 0.12, 0.9}.Breaking(10, 0.12))))
}
