package fastener

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

// adapted asks for 10 N·m with a 50 mm adapter on a 300 mm wrench, whose scale goes to 25 N·m in steps of 0.5 N·m.
func adapted() Question {
	return Question{Torque: 10, Adapter: &Adapter{Wrench: 300, Extension: 50}, Wrench: Wrench{Max: 25, Graduation: 0.5, Deviation: 0.04}}
}

// TestFindOnScale compares what is found about a setting with values worked out by hand: 10 × 300/350 N·m is between the
// marks 8.5 and 9, each of which gives 7/6 of its torque at the bolt.
func TestFindOnScale(t *testing.T) {
	q := adapted()
	f := q.Find()
	assert.InDelta(t, 3000.0/350, float64(f.Setting), 1e-12)
	assert.EqualValues(t, 350, f.Reach)
	require.NotNil(t, f.Scale)
	require.NotNil(t, f.Scale.Marks)
	m := f.Scale.Marks
	assert.Equal(t, []quantity.Torque{8.5, 9, 8.5}, []quantity.Torque{m.Below, m.Above, m.Nearest})
	assert.InDelta(t, 1-8.5*35/300, float64(m.Off), 1e-12)
	assert.InDelta(t, 8.5*7/6/1.04, float64(f.Scale.May().Least), 1e-12)
	assert.InDelta(t, 10/1.04, float64(f.Scale.Reached.Least), 1e-12)
	assert.Empty(t, f.Scale.InRange)
	assert.Empty(t, f.Doubts)

	q.Wanted = &Span{9.6, 10.4}
	f = q.Find()
	assert.Equal(t, RangeCrossed, f.Scale.InRange, "8.5 on the scale may reach 9.54")
	assert.Equal(t, []Doubt{MayCross}, f.Doubts)
	q.Wanted = &Span{9.5, 10.5}
	assert.Equal(t, RangeKept, q.Find().Scale.InRange)
	q.Wrench.Max = 50
	f = q.Find()
	assert.Equal(t, RangeUnknown, f.Scale.InRange, "below a fifth nothing is vouched for")
	assert.Nil(t, f.Scale.Reached)
	assert.Equal(t, []Doubt{TooLow}, f.Doubts)
}

// TestPortion checks what to set in a pass.
func TestPortion(t *testing.T) {
	p := adapted().Portion(0.7)
	assert.EqualValues(t, 7, p.Torque)
	assert.InDelta(t, 6, float64(p.Setting), 1e-12)
	assert.InDelta(t, 6, float64(p.Mark), 1e-12)
	assert.Equal(t, Usable, *p.Use)
	p = adapted().Portion(0.5)
	assert.Equal(t, BelowFifth, *p.Use)
	assert.Zero(t, p.Mark)
	assert.Equal(t, Portion{}, Question{}.Portion(1), "no torque")
	assert.Nil(t, Question{Torque: 10}.Portion(1).Use, "no scale")
}

// TestFindEstimate checks that the verdict is about the highest torque wanted, and which doubt belongs to it.
func TestFindEstimate(t *testing.T) {
	thread, err := ParseThread("M6")
	require.NoError(t, err)
	joint := Joint{Thread: thread, Class: Class8_8, Friction: 0.12, Utilisation: 0.9}
	q := Question{Assembly: &Assembly{Joint: joint, FrictionWithin: 0.04}}
	none := q.Find().Estimate
	assert.Equal(t, none.Band.Least, none.At, "without a torque, what the bolt bears at the least friction")
	for _, c := range []struct {
		torque quantity.Torque
		want   Loading
	}{{8, Plausible}, {10.5, MayStretch}, {13, Stretches}, {30, Breaks}} {
		q.Torque = c.torque
		f := q.Find()
		assert.Equal(t, c.want, f.Estimate.Verdict, c.torque)
		want := []Doubt{SizeAlone}
		if c.want != Plausible {
			want = append(want, Doubt(c.want))
		}
		assert.Equal(t, want, f.Doubts)
		q.Torque, q.Wanted = 1, &Span{0.5, c.torque}
		assert.Equal(t, c.want, q.Find().Estimate.Verdict, "a range up to %v", c.torque)
		q.Wanted = nil
	}
}
