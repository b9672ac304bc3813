package doubt

import "ohmwright/core/measure"

// An Estimate is a value and its standard uncertainty.
type Estimate struct{ Value, U float64 }

// Above returns the probability that it is above a limit.
func (e Estimate) Above(limit float64) float64 {
	switch {
	case e.U > 0:
		return measure.Normal((e.Value - limit) / e.U)
	case e.Value > limit:
		return 1
	}
	return 0
}
