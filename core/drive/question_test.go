package drive_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// inquiry returns a 12 V drive at half duty, of a winding of 5 ohm at 20 °C.
func inquiry() drive.Inquiry {
	return drive.Inquiry{
		Question: drive.Question{
			Circuit:     drive.Circuit{Supply: 12, Inductance: 0.01, Frequency: 1000, Duty: 0.5, Off: drive.OffPath{Reverse: 0.7}},
			Coil:        drive.Coil{Resistance: 5, At: 20, Material: winding.Copper},
			Temperature: 20,
		},
		NowGiven: true, DutyGiven: 0.5,
	}
}

// TestVerdicts checks that the most serious verdict counts, and that a driver which exceeds its limit only if fully on in
// the cold raises a doubt but no verdict. The current reaches 1.3 A now and 1.6 A at −40 °C; fully on, 2.4 A now and 3.1 A
// at −40 °C.
func TestVerdicts(t *testing.T) {
	for name, c := range map[string]struct {
		change  func(q *drive.Inquiry)
		verdict drive.Verdict
		doubts  []drive.Doubt
	}{
		"nothing to mind":          {func(*drive.Inquiry) {}, drive.VerdictPlain, nil},
		"over the limit when full": {func(q *drive.Inquiry) { q.Limit = 3 }, drive.VerdictPlain, []drive.Doubt{drive.OverLimitFullOn}},
		"over the limit when cold": {
			func(q *drive.Inquiry) { q.Limit = 1.5 }, drive.VerdictOverCold, []drive.Doubt{drive.OverLimitCold, drive.OverLimitFullOn},
		},
		"over the limit": {
			func(q *drive.Inquiry) { q.Limit = 1 }, drive.VerdictOverLimit,
			[]drive.Doubt{drive.OverLimit, drive.OverLimitCold, drive.OverLimitFullOn},
		},
		"over the limit while it pulls in": {
			func(q *drive.Inquiry) { q.Limit, q.FullFor = 2, 0.1 }, drive.VerdictOverLimit,
			[]drive.Doubt{drive.OverLimitPullIn, drive.OverLimitCold, drive.OverLimitFullOn},
		},
		"too hot for its class": {
			func(q *drive.Inquiry) { q.Temperature, q.Insulation = 140, 130 }, drive.VerdictTooHot, []drive.Doubt{drive.OverClass},
		},
		"too hot for any class": {func(q *drive.Inquiry) { q.Temperature = 260 }, drive.VerdictTooHot, []drive.Doubt{drive.OverEveryClass}},
		"its class not known":   {func(q *drive.Inquiry) { q.Temperature = 140 }, drive.VerdictPlain, []drive.Doubt{drive.ClassNeeded}},
		"cold and too hot": {
			func(q *drive.Inquiry) { q.Temperature, q.Insulation, q.Limit = 140, 130, 1.5 }, drive.VerdictOverCold,
			[]drive.Doubt{drive.OverLimitCold, drive.OverLimitFullOn, drive.OverClass},
		},
		"a duty that may be in per cent": {
			func(q *drive.Inquiry) { q.DutyGiven, q.Circuit.Duty = 0.005, 0.005 }, drive.VerdictPlain, []drive.Doubt{drive.TinyDuty},
		},
		"no inductance given":  {func(q *drive.Inquiry) { q.Usual = true }, drive.VerdictPlain, []drive.Doubt{drive.InductanceAssumed}},
		"no temperature given": {func(q *drive.Inquiry) { q.NowGiven = false }, drive.VerdictPlain, []drive.Doubt{drive.TemperatureAssumed}},
		"a diode without a drop": {
			func(q *drive.Inquiry) { q.Circuit.Off.Reverse = 0 }, drive.VerdictPlain, []drive.Doubt{drive.IdealDiode},
		},
		"a clamp that a higher supply drives": {
			func(q *drive.Inquiry) { q.Circuit.Off = drive.OffPath{Reverse: 3, Clamp: 15} }, drive.VerdictPlain,
			[]drive.Doubt{drive.ClampConducts},
		},
		"a current that lower supplies do not give": {
			func(q *drive.Inquiry) { q.DutyGiven, q.Wanted = 0, 2.2 }, drive.VerdictPlain, []drive.Doubt{drive.LowSupply},
		},
	} {
		t.Run(name, func(t *testing.T) {
			q := inquiry()
			c.change(&q)
			f := q.Find()
			assert.Equal(t, c.verdict, f.Verdict, "the verdict of a drive with %v", f.Doubts)
			assert.Equal(t, c.doubts, f.Doubts)
		})
	}
}

func TestCourses(t *testing.T) {
	for _, c := range []struct {
		duty      quantity.Ratio
		frequency quantity.Frequency
		want      drive.Course
	}{{0, 1000, drive.NeverOn}, {1, 1000, drive.AlwaysOn}, {0.5, 1000, drive.Flows}, {0.05, 50, drive.Stops}} {
		q := inquiry()
		q.Circuit.Duty, q.Circuit.Frequency = c.duty, c.frequency
		assert.Equal(t, c.want, q.Find().Course, "duty %v at %v Hz", c.duty, c.frequency)
	}
}

// TestUsualInductance checks that the inductance that stands in lies within the ranges of common practice (linear 5 to 20 mH at about
// 5 ohm, shift 10 to 50 mH at 15 ohm, hydraulic 20 to 150 mH at 25 ohm; ../shared/facts/drivers.md), and that half and twice as much
// enclose what the answer is without changing the mean of a continuous current.
func TestUsualInductance(t *testing.T) {
	for _, c := range []struct{ ohms, least, most float64 }{{5, 0.005, 0.020}, {15, 0.010, 0.050}, {25, 0.020, 0.150}} {
		l := float64(drive.UsualInductance(quantity.Resistance(c.ohms)))
		assert.True(t, c.least <= l && l <= c.most, "%g ohm: %g H", c.ohms, l)
	}
	q := inquiry()
	require.Empty(t, q.Find().Swing)
	q.Usual = true
	q.Circuit.Off = drive.OffPath{}
	f := q.Find()
	require.Len(t, f.Swing, 2)
	half, twice := f.Swing[0], f.Swing[1]
	require.True(t, half.State.Continuous)
	assert.InEpsilon(t, float64(q.Circuit.Inductance)/2, float64(half.Circuit.Inductance), 1e-12)
	assert.InEpsilon(t, float64(q.Circuit.Inductance)*2, float64(twice.Circuit.Inductance), 1e-12)
	assert.Greater(t, half.State.Ripple, f.State.Ripple)
	assert.Less(t, twice.State.Ripple, f.State.Ripple)
}
