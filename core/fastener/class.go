package fastener

import "ohmwright/core/quantity"

// A Stress is a force over an area, in N/mm², which is MPa.
type Stress float64

// A Class is a property class of a steel bolt: the mark on its head.
type Class uint8

// The classes, by their marks, weakest first.
const (
	Class4_8 Class = iota
	Class5_8
	Class8_8
	Class9_8
	Class10_9
	Class12_9
)

// Classes are all classes, weakest first.
var Classes = []Class{Class4_8, Class5_8, Class8_8, Class9_8, Class10_9, Class12_9}

// A grade is a row of the table of classes.
type grade struct {
	name                  string
	proof, yield, tensile Stress
	thick                 [3]Stress       // proof, yield, tensile above 16 mm, where they differ; else 0
	most                  quantity.Length // the largest diameter, 0 if there is none
}

// grades are those of ISO 898-1, table 3. Source: nfgab, which restates EN ISO 898-1:2013 (testdata/bibliography.md). Class 9.8 ends at
// 16 mm; optimas has dashes above that in its table of proof loads, too.
var grades = [...]grade{
	Class4_8:  {"4.8", 310, 340, 420, [3]Stress{}, 0},
	Class5_8:  {"5.8", 380, 420, 520, [3]Stress{}, 0},
	Class8_8:  {"8.8", 580, 640, 800, [3]Stress{600, 660, 830}, 0},
	Class9_8:  {"9.8", 650, 720, 900, [3]Stress{}, 16},
	Class10_9: {"10.9", 830, 940, 1040, [3]Stress{}, 0},
	Class12_9: {"12.9", 970, 1100, 1220, [3]Stress{}, 0},
}

// thickFrom is the diameter above which thick applies.
const thickFrom quantity.Length = 16

// String returns the class's mark: "8.8".
func (c Class) String() string { return grades[c].name }

// Covers reports whether the class exists for bolts of a diameter.
func (c Class) Covers(d quantity.Length) bool { return grades[c].most == 0 || d <= grades[c].most }

// Proof returns the stress that a bolt of the class bears without lasting stretch, S_p.
//
// Units: N/mm²; diameter in mm. Range: d from 1.6 to 39 where [Class.Covers] holds. Source: ISO 898-1, table 3. Checked
// through the printed proof loads in class_test.go.
func (c Class) Proof(d quantity.Length) Stress { return grades[c].at(d, 0, grades[c].proof) }

// Yield returns the least stress at which a bolt of the class begins to stretch for good: R_p0.2, but for classes 4.8 and 5.8 R_pf of
// the whole bolt.
//
// Units: N/mm²; diameter in mm. Range: as [Class.Proof]. Source: ISO 898-1, table 3. Checked through the printed preloads in
// preload_test.go, for the classes 8.8, 10.9 and 12.9 only.
func (c Class) Yield(d quantity.Length) Stress { return grades[c].at(d, 1, grades[c].yield) }

// Tensile returns the least stress at which a bolt of the class breaks, R_m.
//
// Units: N/mm²; diameter in mm. Range: as [Class.Proof]. Source: ISO 898-1, table 3. Checked through the printed ultimate
// loads in class_test.go.
func (c Class) Tensile(d quantity.Length) Stress { return grades[c].at(d, 2, grades[c].tensile) }

// at returns a strength at a diameter: the one given, or that of a thick bolt if it differs.
func (g grade) at(d quantity.Length, which int, below Stress) Stress {
	if d > thickFrom && g.thick[which] != 0 {
		return g.thick[which]
	}
	return below
}
