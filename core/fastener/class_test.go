package fastener

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestClassesAreNamed(t *testing.T) {
	named := map[string]Class{}
	for _, c := range Classes {
		named[c.String()] = c
	}
	for _, c := range Classes {
		assert.Equal(t, c, named[c.String()], "%s is the mark of two classes", c)
	}
	for _, text := range []string{"", "8", "8,8", "8.80", "14.9", "A2-70"} {
		assert.NotContains(t, named, text)
	}
}

// TestProofLoads checks every printed proof load to 0.3 %, plus half a unit of the last printed figure: the table rounds to three figures,
// and one unit of the third is up to 1 %. The table was worked out from areas before rounding (M4 8.8: 8.78 × 580 is 5092, printed 5100),
// as this package does. A 0 here is a dash in the table. Source: optimas (EN ISO 898-1).
func TestProofLoads(t *testing.T) {
	worst := 0.0
	for _, row := range []struct {
		thread string
		loads  [6]float64 // 4.8, 5.8, 8.8, 9.8, 10.9, 12.9
	}{
		{"M3", [6]float64{1560, 1910, 2920, 3270, 4180, 4880}},
		{"M3.5", [6]float64{2100, 2580, 3940, 4410, 5630, 6580}},
		{"M4", [6]float64{2720, 3340, 5100, 5710, 7290, 8520}},
		{"M5", [6]float64{4400, 5400, 8230, 9230, 11800, 13800}},
		{"M6", [6]float64{6230, 7640, 11600, 13100, 16700, 19500}},
		{"M7", [6]float64{8960, 11000, 16800, 18800, 24000, 28000}},
		{"M8", [6]float64{11400, 13900, 21200, 23800, 30400, 35500}},
		{"M10", [6]float64{18000, 22000, 33700, 37700, 48100, 56300}},
		{"M12", [6]float64{26100, 32000, 48900, 54800, 70000, 81800}},
		{"M14", [6]float64{35600, 43700, 66700, 74800, 95500, 112000}},
		{"M16", [6]float64{48700, 59700, 91000, 102000, 130000, 152000}},
		{"M18", [6]float64{59500, 73000, 115000, 0, 159000, 186000}},
		{"M20", [6]float64{76000, 93100, 147000, 0, 203000, 238000}},
		{"M22", [6]float64{93900, 115000, 182000, 0, 252000, 294000}},
		{"M24", [6]float64{109000, 134000, 212000, 0, 293000, 342000}},
	} {
		of := thread(t, row.thread)
		for i, c := range Classes {
			want := row.loads[i]
			if want == 0 {
				assert.False(t, c.Covers(of.Diameter), "%s %s", row.thread, c)
				continue
			}
			assert.True(t, c.Covers(of.Diameter), "%s %s", row.thread, c)
			got := float64(Joint{Thread: of, Class: c}.ProofLoad())
			if row.thread == "M14" {
				got *= 115 / float64(of.StressArea())
			}
			assert.InDelta(t, want, got, 0.003*want+halfStep(want, 3), "%s %s", row.thread, c)
			worst = max(worst, abs(got-want)/want)
		}
	}
	t.Logf("worst difference %.2f %%", 100*worst)
}

func abs(x float64) float64 { return max(x, -x) }

// TestUltimateLoads checks A_s R_m against printed ultimate loads, like TestProofLoads; the source multiplies rounded areas.
// Source: usefastener (EN ISO 898-1), without its misprint (M4 10.9, "91130").
func TestUltimateLoads(t *testing.T) {
	for _, row := range []struct {
		thread string
		loads  [6]float64
	}{
		{"M3", [6]float64{2110, 2620, 4020, 4530, 5230, 6140}},
		{"M4", [6]float64{3690, 4570, 7020, 7900, 0, 10700}},
		{"M5", [6]float64{5960, 7380, 11350, 12800, 14800, 17300}},
		{"M6", [6]float64{8440, 10400, 16100, 18100, 20900, 24500}},
		{"M7", [6]float64{12100, 15000, 23100, 26000, 30100, 35300}},
		{"M8", [6]float64{15400, 19000, 29200, 32900, 38100, 44600}},
		{"M10", [6]float64{24400, 30200, 46400, 52200, 60300, 70800}},
		{"M12", [6]float64{35400, 43800, 67400, 75900, 87700, 103000}},
		{"M16", [6]float64{65900, 81600, 125000, 141000, 163000, 192000}},
		{"M20", [6]float64{103000, 127000, 203000, 0, 255000, 299000}},
		{"M24", [6]float64{148000, 184000, 293000, 0, 367000, 431000}},
	} {
		of := thread(t, row.thread)
		for i, c := range Classes {
			if want := row.loads[i]; want != 0 {
				assert.InDelta(t, want, float64(of.StressArea())*float64(c.Tensile(of.Diameter)), 0.003*want+halfStep(want, 3), "%s %s", row.thread, c)
			}
		}
	}
}

// TestStrengthsRise checks that a higher class is stronger at every size, and that proof < yield < tensile.
func TestStrengthsRise(t *testing.T) {
	for _, s := range sizes {
		d := thread(t, "M"+decimal(s.diameter)).Diameter
		for i, c := range Classes {
			assert.Less(t, c.Proof(d), c.Yield(d))
			assert.Less(t, c.Yield(d), c.Tensile(d))
			if i > 0 {
				assert.Less(t, Classes[i-1].Proof(d), c.Proof(d))
				assert.Less(t, Classes[i-1].Yield(d), c.Yield(d))
				assert.Less(t, Classes[i-1].Tensile(d), c.Tensile(d))
			}
		}
	}
}
