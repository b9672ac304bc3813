package fastener

import (
	"math"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// A Material is what a hole is tapped in.
type Material uint8

// The materials. The strength of a casting depends on alloy, wall thickness and quality, so each has a least and a usual strength.
const (
	Aluminium Material = iota // cast: AlSi9Cu3 and the like
	Magnesium                 // cast: AZ91 and the like
	CastIron                  // grey
	Steel                     // unalloyed, not hardened
)

// Materials are all materials.
var Materials = []Material{Aluminium, Magnesium, CastIron, Steel}

// A stock is a row of the table of materials.
type stock struct {
	name         string
	least, usual Stress // shear strengths
}

// shearOfTensile is the shear strength of a ductile metal as a share of its tensile strength, used where no shear strength is published.
// Common practice; a maker's glossary has it too: simplified, 0.6 times the tensile strength (expydoc-9094306).
const shearOfTensile = 0.6

// stocks are the shear strengths. Sources, keys of testdata/bibliography.md:
//   - aluminium: least 0.6 × 180, R_m of gravity-cast AlSi9Cu3 (mastik, page 678); usual 190, test bars of die-cast A380
//     (nadca-a-3-2, where the weakest alloy has 130);
//   - magnesium: least 0.6 × 160, the low end of R_m of AZ91D as cast (niolly); usual 140, die-cast AZ91A (makeitfrom-az91a; 138
//     in diecasting-org);
//   - grey cast iron: least 170, GJL-150; usual 290, GJL-250 (jgmtcasting);
//   - steel: least 0.6 × 360, S235; usual 0.6 × 500, S355 and E295 (R_m from mastik, page 677).
//
// The products with 0.6 are estimates, not published shear strengths.
var stocks = [...]stock{
	Aluminium: {"aluminium", shearOfTensile * 180, 190},
	Magnesium: {"magnesium", shearOfTensile * 160, 140},
	CastIron:  {"cast_iron", 170, 290},
	Steel:     {"steel", shearOfTensile * 360, shearOfTensile * 500},
}

// String returns the material's word: aluminium, magnesium, cast_iron or steel.
func (m Material) String() string { return stocks[m].name }

// Shear returns the stress at which threads in the material shear off, for the weakest grade in common use and for the usual one.
//
// Units: N/mm². It ignores temperature: at 150 °C cast aluminium and magnesium are clearly weaker. Source: the comment on stocks.
// Checked against recommended lengths of engagement in strip_test.go.
func (m Material) Shear() (least, usual Stress) { return stocks[m].least, stocks[m].usual }

// A Strip is the pull along the bolt at which a thread shears off.
type Strip struct {
	Least, Most quantity.Force // with the weakest and with the usual material of the hole; never above BoltThread
	BoltThread  quantity.Force // at which the bolt's own thread shears off
}

// A Holding is what a pull does to the threads.
type Holding uint8

// Holds: up to the least pull. Strips: above the most. Undecided: between them, where it depends on the material.
const (
	Holds Holding = iota
	Undecided
	Strips
)

// String returns holds, undecided or strips.
func (h Holding) String() string { return [...]string{"holds", "undecided", "strips"}[h] }

// Under returns what a pull does.
func (s Strip) Under(load quantity.Force) Holding {
	switch {
	case load <= s.Least:
		return Holds
	case load > s.Most:
		return Strips
	}
	return Undecided
}

// limits are the diameters that matter for stripping: the bolt's outer and pitch diameter, the hole's pitch and minor diameter.
type limits struct{ d, d2, hole2, hole1 float64 }

// limits returns the diameters at the worst ends of the tolerances 6g (bolt) and 6H (hole).
//
//	es = 15 + 11 P, T_d = 180 ∛P² − 3.15/√P, T_d2 = 90 P^0.4 d^0.1, T_D2 = 1.32 T_d2 (µm)
//	T_D1 = 433 P − 190 P^1.22 up to P = 0.8, 230 P^0.7 above (µm)
//
// where d is the geometric mean of the range that the diameter is in. Source: ISO 965-1, the formulas from memory; the standard rounds
// their results, by up to 6 %. Checked against printed limits of M1.6 to M20 in strip_test.go.
func (t Thread) limits() limits {
	p, d := float64(t.Pitch), float64(t.Diameter)
	es := (15 + 11*p) / 1000
	td := (180*math.Cbrt(p*p) - 3.15/math.Sqrt(p)) / 1000
	td2 := 90 * portable.Pow(p, 0.4) * portable.Pow(middle(d), 0.1) / 1000
	td1 := 230 * portable.Pow(p, 0.7) / 1000
	if p <= 0.8 {
		td1 = (433*p - 190*portable.Pow(p, 1.22)) / 1000
	}
	d2 := float64(t.PitchDiameter())
	return limits{d: d - es - td, d2: d2 - es - td2, hole2: d2 + 1.32*td2, hole1: float64(t.MinorDiameter()) + td1}
}

// basic returns the diameters without tolerance.
func (t Thread) basic() limits {
	d2 := float64(t.PitchDiameter())
	return limits{float64(t.Diameter), d2, d2, float64(t.MinorDiameter())}
}

// middle returns the geometric mean of the range in which ISO 965-1 has a single tolerance for all diameters.
func middle(d float64) float64 {
	ends := [...]float64{0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45}
	for i, end := range ends[1:] {
		if d <= end {
			return math.Sqrt(ends[i] * end)
		}
	}
	return d
}

// holeShear returns the area that shears in the hole for each millimetre of engagement.
//
//	A_SG/m = π d/P (P/2 + (d − D₂) tan 30°)
//
// Source: Alexander (SAE 770420), VDI 2230 part 1; FED-STD-H28 has it in inches. Checked against a published example in
// strip_test.go.
func (l limits) holeShear(pitch float64) float64 {
	return math.Pi * l.d / pitch * (pitch/2 + (l.d-l.hole2)/math.Sqrt(3))
}

// boltShear returns the same for the bolt's thread.
//
//	A_SS/m = π D₁/P (P/2 + (d₂ − D₁) tan 30°)
func (l limits) boltShear(pitch float64) float64 {
	return math.Pi * l.hole1 / pitch * (pitch/2 + (l.d2-l.hole1)/math.Sqrt(3))
}

const (
	// leadIn is the part of an engagement that carries nothing, as the first turns are cut or chamfered away, in pitches. Source:
	// VDI 2230 part 1, FROM MEMORY.
	leadIn = 0.8
	// deepest is the engagement beyond which more turns carry nothing more, in diameters: the first turns bear most of the load and
	// give way one by one before the last ones carry much. Common practice.
	deepest = 2.5
	// bending is the share of the hole's strength that is left because its threads bend: Alexander's factor C₃, 0.897 if hole and bolt
	// are equally strong and up to 1.05 if the hole is softer. FROM MEMORY; public programs restate it, as does ISO/TR 16224. The least
	// is used throughout.
	bending = 0.897
)

// Carrying returns the engagement from which a thread begins to carry, and the one beyond which more carries no more.
//
//	from 0.8 P to 2.5 d
//
// Units: mm. There are no errors. It ignores blind holes whose last turns are incomplete: the engagement is in whole turns. Source: 0.8 P
// VDI 2230 part 1, FROM MEMORY; 2.5 d common practice. Checked with [Joint.Strip].
func (t Thread) Carrying() (from, to quantity.Length) { return leadIn * t.Pitch, deepest * t.Diameter }

// rates returns the loads for each millimetre of effective engagement: those of the hole, in the weakest and in the usual material, and
// that of the bolt.
func (j Joint) rates(into Material) (least, most, bolt float64) {
	weak, usual := into.Shear()
	p, narrow := float64(j.Thread.Pitch), j.Thread.limits()
	bolt = shearOfTensile * float64(j.Class.Tensile(j.Thread.Diameter)) * narrow.boltShear(p)
	return bending * float64(weak) * narrow.holeShear(p), float64(usual) * j.Thread.basic().holeShear(p), bolt
}

// Strip returns the pull at which the threads of a bolt in a tapped hole shear off.
//
//	F = τ A/m m_eff, m_eff = min(m, 2.5 d) − 0.8 P; τ of the hole from [Material.Shear], of the bolt 0.6 R_m
//
// with the areas of holeShear and boltShear: for Least and BoltThread at the worst ends of the tolerances 6g and 6H, for Most at basic
// size. In Least the hole counts with 0.897, as its threads bend. Units: N; engagement in mm, 0 or more, the length over which the
// threads touch. Up to 0.8 P nothing holds, and all loads are 0; beyond 2.5 d they grow no more ([Thread.Carrying]).
//
// It ignores that the bolt's threads bend too, that a thin boss widens and that turning under load weakens a thread (Alexander's other
// factors; from memory about 10 % each), holes drilled too large, worn or repaired threads, inserts and heat. Source: Alexander (SAE
// 770420), VDI 2230 part 1; the factor and 0.8 P FROM MEMORY, 2.5 d common practice. Checked in strip_test.go against a published
// example, recommended lengths of engagement and one measured stripping torque.
func (j Joint) Strip(into Material, engagement quantity.Length) Strip {
	least, most, bolt := j.rates(into)
	from, to := j.Thread.Carrying()
	m := max(0, float64(min(engagement, to)-from))
	return Strip{Least: quantity.Force(min(least, bolt) * m), Most: quantity.Force(min(most, bolt) * m), BoltThread: quantity.Force(bolt * m)}
}

// EngagementFor returns the engagement at which Least of [Joint.Strip] is a load: its inverse. helps is false if even 2.5 d, beyond which
// more carries no more, is not enough.
//
//	m = F/(τ A/m) + 0.8 P, up to 2.5 d
//
// Units: mm; load in N, above 0. Ranges, source and what it ignores: those of [Joint.Strip]. Checked as its inverse.
func (j Joint) EngagementFor(into Material, load quantity.Force) (engagement quantity.Length, helps bool) {
	least, _, bolt := j.rates(into)
	from, to := j.Thread.Carrying()
	if m := quantity.Length(float64(load)/min(least, bolt)) + from; m <= to*(1+within) {
		return min(m, to), true
	}
	return 0, false
}
