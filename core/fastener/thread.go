package fastener

import (
	"math"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

// A Thread is a metric thread of ISO 261: 60° profile of ISO 68-1, outer diameter and pitch.
//
// Units: mm. Ranges: as [ParseThread] returns it, M1.6 to M24; only these have a bearing face in the table. It ignores coatings, damage,
// and tolerances, which only [Joint.Strip] takes into account.
type Thread struct{ Diameter, Pitch quantity.Length }

// A size is a row of the table of sizes.
type size struct {
	diameter float64
	pitches  []float64 // the coarse one first, then the fine ones
	face     float64   // least outer diameter of a hexagon head's bearing face, d_w
	hole     float64   // medium clearance hole, d_h
}

// sizes are those of ISO 262, the selection of ISO 261 for bolts, with all pitches that ISO 261 has for them; M1.8 is left out, as
// ISO 4014 has no head for it. Sources, keys of testdata/bibliography.md, none of them the standards themselves:
//   - diameters and coarse pitches: jiayuanfitting, mlc-threads and metric-pitch-table; fine pitches: cad-hole, of which those in
//     the first two are a part;
//   - d_h, medium series of ISO 273: cad-hole, with engineeringhardware to M16 the same;
//   - d_w of ISO 4014, grade A: shiyongjun to M10, iso-4014-table from there;
//   - from memory: d_w of M3.5 (5.07; iso4014head has it rounded, 5.1) and of M7 (9.63).
var sizes = []size{
	{1.6, []float64{0.35, 0.2}, 2.27, 1.8},
	{2, []float64{0.4, 0.25}, 3.07, 2.4},
	{2.5, []float64{0.45, 0.35}, 4.07, 2.9},
	{3, []float64{0.5, 0.35}, 4.57, 3.4},
	{3.5, []float64{0.6, 0.35}, 5.07, 3.9},
	{4, []float64{0.7, 0.5}, 5.88, 4.5},
	{5, []float64{0.8, 0.5}, 6.88, 5.5},
	{6, []float64{1, 0.75}, 8.88, 6.6},
	{7, []float64{1, 0.75}, 9.63, 7.6},
	{8, []float64{1.25, 1, 0.75}, 11.63, 9},
	{10, []float64{1.5, 1.25, 1, 0.75}, 14.63, 11},
	{12, []float64{1.75, 1.5, 1.25, 1}, 16.63, 13.5},
	{14, []float64{2, 1.5, 1.25, 1}, 19.64, 15.5},
	{16, []float64{2, 1.5, 1}, 22.49, 17.5},
	{18, []float64{2.5, 2, 1.5, 1}, 25.34, 20},
	{20, []float64{2.5, 2, 1.5, 1}, 28.19, 22},
	{22, []float64{2.5, 2, 1.5, 1}, 31.71, 24},
	{24, []float64{3, 2, 1.5, 1}, 33.61, 26},
}

// sized returns the row of a diameter.
func sized(diameter quantity.Length) (size, bool) {
	for _, s := range sizes {
		if s.diameter == float64(diameter) {
			return s, true
		}
	}
	return size{}, false
}

// Threads returns every thread that [ParseThread] knows, by diameter, the coarse one of each first.
func Threads() []Thread {
	var all []Thread
	for _, s := range sizes {
		for _, p := range s.pitches {
			all = append(all, Thread{quantity.Length(s.diameter), quantity.Length(p)})
		}
	}
	return all
}

// A ThreadFault says why a text is no thread.
type ThreadFault uint8

const (
	Syntax       ThreadFault = iota + 1 // not an M and a diameter, with or without a pitch
	UnknownSize                         // no such diameter in the table
	UnknownPitch                        // no such pitch of that diameter
)

// A ThreadError says what was given, what is wrong, and what would have been right.
type ThreadError struct {
	Given string // the text, shortened
	Fault ThreadFault
	Known []string // the sizes ("M6"), or the pitches of that size in mm ("1", "0.75"), the coarse one first
}

// Error returns the fault in one line of English.
func (e *ThreadError) Error() string {
	head := "fastener: thread " + strconv.Quote(e.Given) + ": "
	known := "; known are " + strings.Join(e.Known, ", ")
	switch e.Fault {
	case UnknownSize:
		return head + "no such size" + known
	case UnknownPitch:
		return head + "no such pitch of this size" + known
	}
	return head + "want a size as M6, or a size and a pitch as M6x0.75" + known
}

// ParseThread reads a metric thread as it is written: "M6", "M6x1", "m6×1", "M 6 x 1.0", "M6*1", "M8x1,25", "M8-1.25".
// Without a pitch it is the coarse thread.
//
// Errors: a [*ThreadError], also if a tolerance class, a length or a left-hand mark follows the pitch. Source: ISO 965-1 on
// designations, from memory: a coarse pitch may be left out. Checked in thread_test.go.
func ParseThread(text string) (Thread, error) {
	bad := func(fault ThreadFault, known []string) (Thread, error) {
		return Thread{}, &ThreadError{Given: quantity.Clip(text), Fault: fault, Known: known}
	}
	rest := strings.TrimSpace(text)
	if rest == "" || rest[0] != 'M' && rest[0] != 'm' {
		return bad(Syntax, sizeNames())
	}
	before, after, pitched := cut(rest[1:])
	d, ok := plain(before)
	if !ok {
		return bad(Syntax, sizeNames())
	}
	s, ok := sized(quantity.Length(d))
	if !ok {
		return bad(UnknownSize, sizeNames())
	}
	if !pitched {
		return Thread{quantity.Length(d), quantity.Length(s.pitches[0])}, nil
	}
	p, ok := plain(after)
	if !ok {
		return bad(Syntax, sizeNames())
	}
	known := make([]string, 0, len(s.pitches))
	for _, of := range s.pitches {
		if of == p {
			return Thread{quantity.Length(d), quantity.Length(p)}, nil
		}
		known = append(known, decimal(of))
	}
	return bad(UnknownPitch, known)
}

// cut separates a diameter from a pitch at the first sign that may come between them.
func cut(text string) (before, after string, found bool) {
	for i, r := range text {
		if strings.ContainsRune("xX×*-", r) {
			return text[:i], text[i+len(string(r)):], true
		}
	}
	return text, "", false
}

// plain reads a number with at most four digits before and four after a point or comma. Blanks around it are allowed.
func plain(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	whole, part, marked := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	if whole == "" || marked && part == "" || len(whole) > 4 || len(part) > 4 || strings.Trim(whole+part, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.ParseFloat(whole+"."+part, 64)
	return n, err == nil
}

// sizeNames returns the sizes of the table as they are written.
func sizeNames() []string {
	names := make([]string, len(sizes))
	for i, s := range sizes {
		names[i] = "M" + decimal(s.diameter)
	}
	return names
}

// decimal writes a number with as few digits as it takes, with a point.
func decimal(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

// Coarse reports whether the thread has the coarse pitch of its diameter.
func (t Thread) Coarse() bool {
	s, ok := sized(t.Diameter)
	return ok && s.pitches[0] == float64(t.Pitch)
}

// String returns the thread as it is written: "M6" with the coarse pitch, "M6x0.75" with another.
func (t Thread) String() string {
	name := "M" + decimal(float64(t.Diameter))
	if t.Coarse() {
		return name
	}
	return name + "x" + decimal(float64(t.Pitch))
}

// height returns the height of the profile's fundamental triangle.
//
//	H = P √3/2
func (t Thread) height() float64 { return float64(t.Pitch) * math.Sqrt(3) / 2 }

// PitchDiameter returns the diameter at which thread and gap are equally wide. It is the same for bolt and hole.
//
//	d₂ = D₂ = d − 3/4 H, H = P √3/2
//
// Units: mm. Basic size, without tolerance. Source: ISO 724. Checked against printed d₂ in thread_test.go.
func (t Thread) PitchDiameter() quantity.Length {
	return t.Diameter - quantity.Length(0.75*t.height())
}

// RootDiameter returns the diameter at the bottom of the bolt's thread, with the rounded root of a rolled thread.
//
//	d₃ = d − 17/12 H, H = P √3/2
//
// Units: mm. Basic size, without tolerance. Source: ISO 68-1, ISO 898-1, 9.1.6.1. Checked as PitchDiameter.
func (t Thread) RootDiameter() quantity.Length {
	return t.Diameter - quantity.Length(17.0/12*t.height())
}

// MinorDiameter returns the diameter of the tapped hole at the tips of its thread.
//
//	D₁ = d − 5/4 H, H = P √3/2
//
// Units: mm. Basic size, without tolerance. Source: ISO 724. Checked as PitchDiameter.
func (t Thread) MinorDiameter() quantity.Length {
	return t.Diameter - quantity.Length(1.25*t.height())
}

// stressDiameter returns the diameter of the stress area, (d₂ + d₃)/2.
func (t Thread) stressDiameter() float64 {
	return float64(t.PitchDiameter()+t.RootDiameter()) / 2
}

// StressArea returns the area from which the bolt's strength is calculated.
//
//	A_s = π/4 ((d₂ + d₃)/2)²
//
// Units: mm². Basic size, without tolerance. It ignores shanks thinner than the thread. Source: ISO 898-1, 9.1.6.1.
// Checked against the printed areas of M3 to M24 in thread_test.go.
func (t Thread) StressArea() quantity.Area {
	d := t.stressDiameter()
	return quantity.Area(math.Pi / 4 * d * d)
}
