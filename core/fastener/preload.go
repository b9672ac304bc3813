package fastener

import (
	"math"

	"ohmwright/core/quantity"
)

// A Joint is a bolt with a hexagon head, tightened by turning the head, in a medium clearance hole.
//
// Ranges, which the caller has to check: Thread as [ParseThread] returns it, Friction 0 or more (0.08 to 0.25 is usual), Utilisation
// above 0 (0.9 in the tables). Friction is the same in the thread and under the head. It ignores washers, flanges, reduced shanks,
// thread locking that resists turning, and heads that do not lie flat.
type Joint struct {
	Thread      Thread
	Class       Class
	Friction    quantity.Ratio
	Utilisation quantity.Ratio // the share of yield that tension and torsion together reach
}

// ProofLoad returns the tension that the bolt bears without lasting stretch.
//
//	F_p = A_s S_p
//
// Units: N. It ignores that tightening twists the bolt as well: for the tension it may be tightened to see [Joint.Preload]. Source:
// ISO 898-1, tables 5 and 7. Checked against 86 printed loads, M3 to M24, in class_test.go.
func (j Joint) ProofLoad() quantity.Force {
	return quantity.Force(float64(j.Thread.StressArea()) * float64(j.Class.Proof(j.Thread.Diameter)))
}

// UltimateLoad returns the tension at which the bolt breaks if it is pulled and not twisted.
//
//	F_m = A_s R_m
//
// Units: N. It ignores that tightening twists the bolt as well: see [Joint.Breaking]. Source: ISO 898-1, tables 4 and 6. Checked in
// preload_test.go.
func (j Joint) UltimateLoad() quantity.Force {
	return quantity.Force(float64(j.Thread.StressArea()) * float64(j.Class.Tensile(j.Thread.Diameter)))
}

// twist returns the ratio of the stress from tension and torsion together to that from tension alone.
//
//	√(1 + 3 (3/2 d₂/d₀ (P/(π d₂) + 1.155 μ))²), d₀ = (d₂ + d₃)/2
func (t Thread) twist(friction quantity.Ratio) float64 {
	d2, d0 := float64(t.PitchDiameter()), t.stressDiameter()
	shear := 1.5 * d2 / d0 * (float64(t.Pitch)/(math.Pi*d2) + 1.155*float64(friction))
	return math.Sqrt(1 + 3*shear*shear)
}

// lever returns the torque for each newton of preload, in mm. It is NaN for a thread that is not in the table.
//
//	M/F = 0.16 P + 0.58 d₂ μ + μ D_Km/2, D_Km = (d_w + d_h)/2
func (t Thread) lever(friction quantity.Ratio) float64 {
	s, ok := sized(t.Diameter)
	if !ok {
		return math.NaN()
	}
	mu := float64(friction)
	return 0.16*float64(t.Pitch) + 0.58*float64(t.PitchDiameter())*mu + mu*(s.face+s.hole)/4
}

// yieldLoad returns the tension at which the bolt, pulled and not twisted, begins to stretch for good.
func (j Joint) yieldLoad() float64 {
	return float64(j.Thread.StressArea()) * float64(j.Class.Yield(j.Thread.Diameter))
}

// Preload returns the tension at which tension and torsion together reach the joint's share of yield, its utilisation.
//
//	F_M = A_s ν R_p/√(1 + 3 (3/2 d₂/d₀ (P/(π d₂) + 1.155 μ))²), d₀ = (d₂ + d₃)/2
//
// Units: N. Range: that of the joint. It ignores that the joint settles and loses some preload, and has no safety margin. Source:
// VDI 2230 part 1, formula for the assembly preload. Checked against printed tables, fine threads M8 to M24 and coarse ones M1.6
// to M24, in preload_test.go.
func (j Joint) Preload() quantity.Force {
	return quantity.Force(float64(j.Utilisation) * j.yieldLoad() / j.Thread.twist(j.Friction))
}

// Torque returns the torque that gives the bolt its preload.
//
//	M_A = F_M (0.16 P + 0.58 d₂ μ + μ D_Km/2), D_Km = (d_w + d_h)/2
//
// Units: N·m. Range: that of the joint; NaN for a thread that is not in the table. It ignores what [Joint] ignores: a torque that the
// maker prints for the place takes precedence. Source: VDI 2230 part 1, formula for the tightening torque.
// Checked as [Joint.Preload].
func (j Joint) Torque() quantity.Torque {
	return quantity.Torque(float64(j.Preload()) * j.Thread.lever(j.Friction) / 1000)
}

// PreloadAt returns the tension that a torque gives at a friction, which may differ from the joint's.
//
//	F = M/(0.16 P + 0.58 d₂ μ + μ D_Km/2)
//
// Units: N; torque in N·m. Range: that of [Joint.Torque], of which it is the inverse. It assumes that the bolt stays below yield.
// Source and check: those of [Joint.Torque].
func (j Joint) PreloadAt(torque quantity.Torque, friction quantity.Ratio) quantity.Force {
	return quantity.Force(float64(torque) * 1000 / j.Thread.lever(friction))
}

// Stressed returns the share of yield that tension and torsion reach at a torque and a friction.
//
//	ν = F √(1 + 3 (3/2 d₂/d₀ (P/(π d₂) + 1.155 μ))²)/(A_s R_p), F as in [Joint.PreloadAt]
//
// Above 1 the bolt stretches for good; the figure does not tell by how much. Source and check: those of [Joint.Preload].
func (j Joint) Stressed(torque quantity.Torque, friction quantity.Ratio) quantity.Ratio {
	return quantity.Ratio(float64(j.PreloadAt(torque, friction)) * j.Thread.twist(friction) / j.yieldLoad())
}

// Breaking returns the share of the tensile strength that tension and torsion reach at a torque and a friction.
//
//	F √(1 + 3 (3/2 d₂/d₀ (P/(π d₂) + 1.155 μ))²)/(A_s R_m), F as in [Joint.PreloadAt]
//
// From 1 on the bolt must be expected to break. The formula is that of the elastic range; beyond yield a bolt gains less preload than
// in proportion, so the figure reaches 1 at less torque than a sound bolt bears in a trial. Source of the stress: VDI 2230 part 1; to
// compare it with R_m is an estimate of this package. Range and check: those of [Joint.Stressed].
func (j Joint) Breaking(torque quantity.Torque, friction quantity.Ratio) quantity.Ratio {
	return quantity.Ratio(float64(j.PreloadAt(torque, friction)) * j.Thread.twist(friction) / float64(j.UltimateLoad()))
}
