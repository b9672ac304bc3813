// Package recording reads a recorded current from the text that an oscilloscope or a logger saves: lines of numbers, time and
// current among them. It finds the separator, the decimal mark, the header, the units and the two columns, and names line and
// column of what it cannot read.
package recording

import (
	"math"
	"slices"
)

// Limits of a recording.
const (
	MaxBytes   = 1 << 20 // of text
	MaxSamples = 100_000
	MinSamples = 16
)

// A Layout is what the user says about the text. The zero value leaves everything to be found.
type Layout struct {
	TimeUnit, CurrentUnit     string  // "": as the header says, else s and A
	TimeColumn, CurrentColumn int     // from 1; 0: to be found
	Probe                     float64 // volts per ampere of a clamp: a column in V or mV is divided by it; 0: no clamp
}

// Samples are a current over time.
type Samples struct {
	T, I     []float64 // s and A; T rises strictly
	Interval float64   // the usual time between samples: the median, s
}

// A Recording is the samples and how their text was read.
type Recording struct {
	Samples
	Missing int // how many more samples the gaps in time have room for
	Gaps    int // places where samples are missing

	Separator                   byte   // ',', ';', '\t' or ' '
	Comma                       bool   // the decimal mark is a comma
	TimeColumn, CurrentColumn   int    // from 1
	First                       int    // line of the first sample
	Header                      int    // line of the header; 0: none
	TimeUnit, CurrentUnit       string // as used
	TimeAssumed, CurrentAssumed bool   // neither header nor layout named the unit
}

// findGaps finds the usual time between samples, and where samples are missing.
func (r *Recording) findGaps() {
	stride := 1 + len(r.T)/(2*looked)
	steps := make([]float64, 0, 2*looked)
	for k := 1; k < len(r.T); k += stride {
		steps = append(steps, r.T[k]-r.T[k-1])
	}
	slices.Sort(steps)
	r.Interval = steps[len(steps)/2]
	for k := 1; k < len(r.T); k++ {
		if n := math.Round((r.T[k] - r.T[k-1]) / r.Interval); n > 1 {
			r.Gaps++
			r.Missing = int(min(float64(r.Missing)+n-1, 1e9))
		}
	}
}
