package circuit

import "math"

// A drive is what the driver does when it is told to be on: fully on, or not quite.
type drive struct {
	chance float64
	// The readings lie between those of a driver that stays off and one that is fully on. The share is that of the current, or, if amperes
	// is set, what a current of amperes is of the full one.
	share, u float64
	amperes  float64
	load     bool // the same holds on the test load
}

// fully is a driver that does as it is told.
var fully = drive{share: 1, load: true}

// What drivers are like: common practice. The first three are how common each stage is where nothing is known of it.
const (
	plainShare     = 0.40
	protectedShare = 0.35
	regulatedShare = 0.25

	heldByCode = 0.06 // how often a stored code keeps a driver off
	heldAnyhow = 0.01
	// A driver protects itself from some current between these, as multiples of that of a healthy circuit.
	leastLimit, mostLimit = 1.3, 4.5
	leastTrip             = 1.0 // A: no driver protects itself below that
	latched               = 0.5 // share of those that stay off once they have tripped; the rest try again, on for a tenth of the time
	retryShare, retryU    = 0.08, 0.06
	// The current that a regulating driver holds, as a share of that of a healthy circuit, where it is not known.
	setShare, setU = 0.5, 0.16
	deadVolts      = 6 // a control unit works from about this voltage on
)

// drives returns what the driver may do with the circuit as seen: amperes is its current, fully on, healthy that of a healthy
// circuit, and volts what the control unit is left with.
func (m *Model) drives(f Fault, amperes, healthy, volts float64, into []drive) []drive {
	list := into[:0]
	rest := 1.0
	add := func(d drive) {
		if d.chance > 1e-4 {
			list = append(list, d)
			rest -= d.chance
		}
	}
	if volts < deadVolts && faults[f].part == Power {
		add(drive{chance: 0.4, load: true})
		add(drive{chance: 0.4, share: 0.5, u: 0.25, load: true})
	} else if f != DriverNever && f != DriverAlways {
		held := heldAnyhow
		if m.Code != NoCode {
			held = heldByCode
		}
		add(drive{chance: held})
		stage := [Stages]float64{Plain: plainShare, Protected: protectedShare, Regulated: regulatedShare}
		if m.Stage != AnyStage {
			stage = [Stages]float64{}
			stage[m.Stage] = 1
		}
		if amperes > leastTrip {
			trips := math.Log(amperes/(leastLimit*healthy)) / math.Log(mostLimit/leastLimit)
			trips = (1 - held) * stage[Protected] * min(1, max(0, trips))
			add(drive{chance: trips * latched})
			add(drive{chance: trips * (1 - latched), share: retryShare, u: retryU})
		}
		set, u := setShare*healthy, setU*healthy
		if m.Set > 0 {
			set, u = m.Set, 0.07*m.Set+0.03
		}
		add(drive{chance: (1 - held) * stage[Regulated] * normal((amperes-set)/u), share: set, u: u, amperes: 1, load: true})
	}
	full := fully
	full.chance = max(0, rest)
	return append(list, full)
}

// of returns the share, and its standard deviation, for a test in which the full current is amperes.
func (d *drive) of(amperes float64) (share, u float64) {
	if d.amperes == 0 {
		return d.share, d.u
	}
	if amperes <= d.share {
		return 1, 0
	}
	return d.share / amperes, d.u / amperes
}

// loadAmperes returns the current through the test load, fully on.
func (m *Model) loadAmperes() float64 { return m.Supply / (loadOhms + m.Nominal.Driver) }
