package circuit

import (
	"ohmwright/core/portable"
	"ohmwright/core/winding"
)

// A Drive is what the driver does when it is told to be on: fully on, or not quite. The readings lie between those of a driver that
// stays off and one that is fully on.
type Drive struct {
	Chance   float64
	Share, U float64 // of the current, and its standard deviation; if Holds, it is the current itself, in ampere
	Holds    bool
	Load     float64 // the share on the test load; if it is negative, what is held there too
}

// Same reports whether another driver does the same, however likely that is.
func (d *Drive) Same(as *Drive) bool {
	return d.Share == as.Share && d.Load == as.Load && d.Holds == as.Holds
}

// Fully is a driver that does as it is told.
var Fully = Drive{Chance: 1, Share: 1, Load: 1}

// What drivers are like: common practice. The first three are how common each stage is where nothing is known of it.
const (
	plainShare     = 0.40
	protectedShare = 0.35
	regulatedShare = 0.25

	heldByCode = 0.06 // how often a stored code keeps a driver off
	heldAnyhow = 0.01
	// A driver protects itself from some current between these, as multiples of that of a healthy circuit.
	leastLimit, mostLimit = 1.3, 4.5
	leastTrip             = 1.4 // A: no driver protects itself below that
	latched               = 0.5 // share of those that stay off once they have tripped; the rest try again, on for a tenth of the time
	retryShare, retryU    = 0.08, 0.06
	loadTripsHeld         = 0.5  // how likely one that holds its current sees the test load's first rush as too much, where others would
	leastChance           = 2e-3 // of what a driver may do, to be looked at
)

// DeadVolts is the voltage from which a control unit works, about: common practice.
const DeadVolts = 6

// setShares are the currents that a regulating driver may hold, as shares of that of a healthy circuit, where it is not known, and
// setU is how far each stands for its neighbours: common practice.
var setShares = [...]float64{0.25, 0.40, 0.55, 0.70}

const setU = 0.06

// HealthyAmperes returns the current of a healthy circuit with a winding in the middle of its specification.
func (m *Model) HealthyAmperes() float64 {
	lo, hi := m.Coils()
	return m.Predict(CurrentOn, None, 0, (lo+hi)/2)
}

// Coils returns the least and the largest resistance of a healthy winding at the middle of what its temperature may be.
func (m *Model) Coils() (lo, hi float64) {
	k := winding.Copper.Factor(m.Row.At, m.Warmth.Middle())
	return m.Row.Min * k, m.Row.Max * k
}

// An Output is a circuit's driver, of which nobody knows what it does.
type Output struct {
	healthy, load       float64 // the current of a healthy circuit, and that through the test load, fully on
	held                float64 // how likely it is kept off
	protects, regulates float64 // how likely it protects itself, and regulates its current
	loadTrips           float64 // how likely one that protects itself does so on the test load
	set                 float64 // the current that it holds, if it regulates it; 0 if not known
}

// Output returns the driver of a circuit.
func (m *Model) Output() Output {
	o := Output{healthy: m.HealthyAmperes(), load: m.LoadAmperes(), held: heldAnyhow, set: m.Set}
	if m.Code != NoCode {
		o.held = heldByCode
	}
	switch m.Stage {
	case AnyStage:
		o.protects, o.regulates = protectedShare, regulatedShare
	case Protected:
		o.protects = 1
	case Regulated:
		o.regulates = 1
	}
	o.protects, o.regulates = o.protects*(1-o.held), o.regulates*(1-o.held)
	o.loadTrips = tripped(o.load, o.healthy)
	return o
}

// May returns what the driver may do with the circuit as seen: amperes is its current, fully on, and volts what the control unit is left
// with.
func (o *Output) May(f Fault, amperes, volts float64, into []Drive) []Drive {
	list := into[:0]
	rest := 1.0
	add := func(d Drive) {
		if d.Chance > leastChance {
			list = append(list, d)
			rest -= d.Chance
		}
	}
	switch {
	case volts < DeadVolts && f.Part() == Power:
		add(Drive{Chance: 0.4})
		add(Drive{Chance: 0.4, Share: 0.5, U: 0.25, Load: 0.5})
	case f != DriverNever && f != DriverAlways:
		add(Drive{Chance: o.held, Load: 1})
		p, trips := o.protects, tripped(amperes, o.healthy)
		add(Drive{Chance: p * trips * latched, Load: 1})
		add(Drive{Chance: p * trips * (1 - latched), Share: retryShare, U: retryU, Load: 1})
		add(Drive{Chance: p * (1 - trips) * o.loadTrips * latched, Share: 1})
		add(Drive{Chance: p * (1 - trips) * o.loadTrips * (1 - latched), Share: 1, Load: retryShare})
		most := max(amperes, o.load)
		regulates := func(chance, set, u float64) {
			if set-2*u < most {
				chance *= o.regulates
				trips := loadTripsHeld * o.loadTrips
				add(Drive{Chance: chance * (1 - trips), Share: set, U: u, Holds: true, Load: -1})
				add(Drive{Chance: chance * trips, Share: set, U: u, Holds: true, Load: retryShare})
			}
		}
		if o.set > 0 {
			regulates(1, o.set, 0.07*o.set+0.03)
			break
		}
		for _, share := range setShares {
			regulates(1/float64(len(setShares)), share*o.healthy, setU*o.healthy)
		}
	}
	full := Fully
	full.Chance = max(0, rest)
	return append(list, full)
}

// limits is the width of what limits there are, in the logarithm.
var limits = portable.Log(mostLimit / leastLimit)

// tripped returns how likely a driver that protects itself does so at a current, beside that of a healthy circuit.
func tripped(amperes, healthy float64) float64 {
	if amperes <= leastTrip {
		return 0
	}
	return min(1, max(0, portable.Log(amperes/(leastLimit*healthy))/limits))
}

// A Left is what a driver leaves of a reading: its share of the way from off to fully on, and the standard deviation of that.
type Left struct {
	Share, U float64
	Holds    bool // what lets less current flow makes it stay on for longer
}

// Wholly is what a driver that is fully on leaves.
var Wholly = Left{Share: 1}

// Leaves returns what a drive leaves of a test in which the full current is amperes: for the test load those through it. Where the current
// that it holds is a guess, the test load counts as on a sound driver.
func (o *Output) Leaves(d *Drive, t Test, amperes float64) Left {
	if t == VoltsLoad {
		switch {
		case d.Load == retryShare:
			return Left{d.Load, retryU, false}
		case d.Load >= 0:
			return Left{d.Load, 0, false}
		case o.set == 0:
			amperes = o.load
		}
	} else if !d.Holds {
		return Left{d.Share, d.U, false}
	}
	share, u := d.held(amperes)
	return Left{share, u, t != VoltsLoad && (share != 1 || u != 0)}
}

// held returns the share of a full current that is let through where one is held, and its standard deviation.
func (d *Drive) held(amperes float64) (share, u float64) {
	if amperes <= d.Share {
		return 1, 0
	}
	return d.Share / amperes, d.U / amperes
}
