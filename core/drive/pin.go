package drive

import (
	"math"
	"slices"

	"ohmwright/core/quantity"
)

// A Pin is what meters show between the control pin and ground.
type Pin struct {
	Average   quantity.Voltage // on DC
	AC        quantity.Voltage // of a true-RMS meter on AC, which blocks the average
	Averaging quantity.Voltage // of a meter on AC that is no true-RMS one
	RMS       quantity.Voltage // of a true-RMS meter on AC+DC
	Max       quantity.Voltage
	Min       quantity.Voltage
	High      quantity.Ratio // share of the period in which the pin is high, as a meter's duty function shows it
}

// Pin returns the voltage at the control pin in a steady state. On the high side the driver feeds the pin, and the winding's far end
// is at ground; on the low side the far end is fed, and the driver grounds the pin.
//
//	high: on V − i R_driver; off −V_reverse while current flows, then 0
//	low:  on i R_driver;     off V + V_reverse while current flows, then V
//
// It ignores the driver's own check current and external pull-ups, which matter only at a pin that nothing else holds.
func (c Circuit) Pin(low bool, s State) Pin {
	v, rd, vr := float64(c.Supply), float64(c.Driver), float64(c.Off.Reverse)
	// At a high-side pin stands i R + L di/dt, on average i R alone: while on, as the current rises, the voltage stays above its average.
	on := stretch{share: s.on.share, mean: v - rd*s.on.mean, variance: rd * rd * s.on.variance}
	off, rest := stretch{share: s.off.share, mean: -vr}, stretch{share: s.rest.share}
	high := c.Duty
	edges := []float64{v - rd*float64(s.Max), v - rd*float64(s.Min)}
	if low {
		on.mean, off.mean, rest.mean = rd*s.on.mean, v+vr, v
		high = 1 - c.Duty
		edges = []float64{rd * float64(s.Max), rd * float64(s.Min)}
	}
	if c.Duty == 0 {
		edges = nil
	}
	for _, part := range []stretch{off, rest} {
		if part.share > 0 {
			edges = append(edges, part.mean)
		}
	}
	average := on.flow() + off.flow() + rest.flow()
	square := on.square() + off.square() + rest.square()
	return Pin{
		Average: quantity.Voltage(average), AC: quantity.Voltage(spread(average, on, off, rest)),
		Averaging: quantity.Voltage(averaging(average, on, off, rest)), RMS: quantity.Voltage(math.Sqrt(square)),
		Max: quantity.Voltage(slices.Max(edges)), Min: quantity.Voltage(slices.Min(edges)), High: high,
	}
}
