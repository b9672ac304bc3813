package fastener_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// TestAdapterAsInManuals checks settings against the worked examples that manuals print (facts 5.3). Torques are in the manual's own unit;
// the formula works in any.
func TestAdapterAsInManuals(t *testing.T) {
	const inch, foot = 25.4, 304.8
	for _, c := range []struct {
		source           string
		wrench, adapter  quantity.Length
		angle            quantity.Angle
		torque, setting  quantity.Torque
		printed, holding float64 // what is printed, and half of its last digit
	}{
		{"an aircraft's maintenance manual, 30 ft-lb, 1 ft and 0.25 ft", 1 * foot, 0.25 * foot, 0, 30, 24, 24, 0.5},
		{"a helicopter's, lengthening, 135 in-lb", 10 * inch, 1.5 * inch, 0, 135, 135 * 10 / 11.5, 117.39, 0.005},
		{"the same, shortening", 10 * inch, 1.5 * inch, 180, 135, 135 * 10 / 8.5, 158.82, 0.005},
		{"an army manual, 40 lb-ft", 12 * inch, 4 * inch, 0, 40, 30, 30, 0.5},
		{"a navy course, 100 in-lb", 12 * inch, 6 * inch, 0, 100, 100 * 12 / 18.0, 66.7, 0.05},
		{"a shop manual, 20 ft-lb", 14 * inch, 3 * inch, 0, 20, 20 * 14 / 17.0, 16.5, 0.05},
	} {
		a := fastener.Adapter{Wrench: c.wrench, Extension: c.adapter, Angle: c.angle}
		assert.InDelta(t, float64(c.setting), float64(a.Setting(c.torque)), 1e-12*float64(c.torque), c.source)
		assert.InDelta(t, c.printed, float64(a.Setting(c.torque)), c.holding, c.source)
	}
}

func TestAdapterAtRightAngles(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	for range 1000 {
		a := fastener.Adapter{Wrench: quantity.Length(50 + 900*r.Float64()), Extension: quantity.Length(1000 * r.Float64()), Angle: 90}
		torque := quantity.Torque(500 * r.Float64())
		assert.Equal(t, torque, a.Setting(torque), "%+v: no correction, to the last digit", a)
		assert.Equal(t, torque, a.Reached(torque))
		assert.Equal(t, a.Wrench, a.Reach())
		a.Angle = 270
		assert.Equal(t, torque, a.Setting(torque))
		a.Angle = 180
		assert.Equal(t, a.Wrench-a.Extension, a.Reach())
		a.Angle = 0
		assert.Equal(t, a.Wrench+a.Extension, a.Reach())
	}
}

func TestAdapterThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 3))
	for range 2000 {
		a := fastener.Adapter{Wrench: quantity.Length(50 + 900*r.Float64()), Angle: quantity.Angle(180 * r.Float64())}
		a.Extension = quantity.Length(0.95 * r.Float64() * float64(a.Wrench))
		torque := quantity.Torque(0.1 + 500*r.Float64())
		set := a.Setting(torque)
		assert.InEpsilon(t, float64(torque), float64(a.Reached(set)), 1e-14, "%+v", a)
		// The hand's pull is the same at the wrench's drive and at the bolt: F = set/L = T/reach.
		assert.InEpsilon(t, float64(set)/float64(a.Wrench), float64(torque)/float64(a.Reach()), 1e-14)
		// The farther the extension is turned back, the shorter the lever, and the higher the setting.
		b := a
		b.Angle += quantity.Angle((180 - float64(a.Angle)) * r.Float64())
		assert.LessOrEqual(t, a.Setting(torque), b.Setting(torque)*(1+1e-15), "%+v and %v", a, b.Angle)
		// Left and right are alike.
		b = a
		b.Angle = -a.Angle
		assert.Equal(t, set, b.Setting(torque))
		b.Angle = 360 + a.Angle
		assert.InEpsilon(t, float64(set), float64(b.Setting(torque)), 1e-12)
	}
}

func TestAdapterWithoutALever(t *testing.T) {
	for _, a := range []fastener.Adapter{
		{Wrench: 100, Extension: 100, Angle: 180}, {Wrench: 100, Extension: 150, Angle: 180}, {}, {Extension: 100},
		{Wrench: -1, Extension: 100},
	} {
		assert.Zero(t, a.Setting(10), "%+v: no setting", a)
		assert.Zero(t, a.Reached(10), "%+v", a)
	}
	assert.Equal(t, quantity.Torque(10), fastener.Adapter{Wrench: 100}.Setting(10), "no extension")
	assert.Negative(t, fastener.Adapter{Wrench: 100, Extension: 150, Angle: 180}.Reach())
}
