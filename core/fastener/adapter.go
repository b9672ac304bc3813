package fastener

import (
	"math"

	"ohmwright/core/quantity"
)

// An Adapter is a crowfoot or an extension on a wrench: with it the bolt is not under the square drive but beside it.
type Adapter struct {
	Wrench    quantity.Length // from the middle of the drive to where the hand pulls
	Extension quantity.Length // from the middle of the drive to the middle of the bolt
	Angle     quantity.Angle  // of the extension to the wrench: 0 is straight ahead, 180 folded back over the handle
}

// Reach returns the lever from the bolt to the hand, along the wrench.
//
//	reach = L + E·cos θ
//
// Length in mm, angle in degrees; at 0, 90, 180 and 270° the cosine is exact. The reach is 0 or less if the bolt is under the hand or
// behind it: then there is no setting. There are no errors. A pull along the wrench is ignored: a hand pulls at right angles to the
// handle. Source: geometry; the straight cases as in the manuals at [Adapter.Setting]. Checked in adapter_test.go.
func (a Adapter) Reach() quantity.Length {
	return a.Wrench + a.Extension*quantity.Length(cosine(a.Angle))
}

// cosine returns the cosine of an angle, exact for multiples of 90°.
func cosine(of quantity.Angle) float64 {
	switch turn := math.Mod(math.Abs(float64(of)), 360); turn {
	case 0:
		return 1
	case 90, 270:
		return 0
	case 180:
		return -1
	default:
		return math.Cos(turn * math.Pi / 180)
	}
}

// Setting returns what the wrench has to be set to, or has to show, for a torque at the bolt.
//
//	setting = T·L/(L + E·cos θ)
//
// Torque in N.m. At 90° it is the torque itself, to the last digit. If the reach or the wrench's length is not above 0, there is no
// setting and the result is 0. It ignores the wrench's own deviation, and a hand that pulls elsewhere than at L: with an extension, the
// wrench then clicks at another torque. Source: facts 5.3 (maintenance manuals with worked examples). Checked in adapter_test.go.
func (a Adapter) Setting(at quantity.Torque) quantity.Torque {
	reach := a.Reach()
	switch {
	case !(reach > 0) || !(a.Wrench > 0):
		return 0
	case reach == a.Wrench:
		return at
	}
	return quantity.Torque(float64(at) * (float64(a.Wrench) / float64(reach)))
}

// Reached returns the torque at the bolt when the wrench clicks at, or shows, a setting: the inverse of [Adapter.Setting].
//
//	T = set·(L + E·cos θ)/L
//
// Torque in N.m; 0 where there is no setting. It ignores what Setting ignores. Checked in adapter_test.go: Setting, then Reached, gives
// the torque again.
func (a Adapter) Reached(set quantity.Torque) quantity.Torque {
	reach := a.Reach()
	switch {
	case !(reach > 0) || !(a.Wrench > 0):
		return 0
	case reach == a.Wrench:
		return set
	}
	return quantity.Torque(float64(set) * (float64(reach) / float64(a.Wrench)))
}
