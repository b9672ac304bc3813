package bench

import (
	"fmt"
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// AccuracyFormula is what the accuracy of a meter says of one reading r: o is the reading's own, the rest of the half-width a is
// common to all readings by the meter.
const AccuracyFormula = "a = r × p + n × d;  o = min(n, 1) × d;  u = √(((a − o)² + o²)/3)"

// Accuracy is [AccuracyFormula] with the numbers put in, and u.
func Accuracy(s *wording.Speaker, k quantity.Kind, m measure.Meter, reading float64) (with string, u float64) {
	half, u := m.HalfWidth(reading), m.Read(reading).Estimate().U
	return fmt.Sprintf("a = %s × %s %% + %s × %s = %s;  o = %s × %s;  u = %s", s.Of(k, reading, 0), s.Typed(m.Percent), s.Typed(m.Counts),
		s.Of(k, m.Resolution, 0), s.Of(k, half, half/10), s.Typed(math.Min(m.Counts, 1)), s.Of(k, m.Resolution, 0), s.Of(k, u, u)), u
}
