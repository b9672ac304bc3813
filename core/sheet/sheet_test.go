package sheet

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestElementsAreData checks that what a user typed stays a text, even in an attribute: the form is ["tag", {attributes}, kid, …].
func TestElementsAreData(t *testing.T) {
	b, err := json.Marshal(New("p class=? id=x", `a" b`).Say(`<script>"&`).With(nil, New("b")))
	require.NoError(t, err)
	assert.JSONEq(t, `["p",{"class":"a\" b","id":"x"},"<script>\"&",["b",{}]]`, string(b))
}

// TestTicks checks that for scales of any size the ticks are round, within the scale, and few.
func TestTicks(t *testing.T) {
	for _, s := range []Scale{{From: 0, To: 100}, {From: -40, To: 117}, {From: 4.97, To: 5.03}, {From: 0, To: 1e12}, {From: 0, To: 1e-9}} {
		at, _ := s.Ticks(5)
		assert.NotEmpty(t, at)
		assert.LessOrEqual(t, len(at), 12)
		for _, v := range at {
			assert.True(t, v >= s.From-1e-9*math.Abs(s.To) && v <= s.To*(1+1e-9), "%v in %v", v, s)
		}
	}
}

// TestClamp checks that a value outside the drawing is moved to its edge, and reported as outside.
func TestClamp(t *testing.T) {
	s := Scale{From: 0, To: 10, A: 200, B: 0}
	x, out := s.Clamp(5)
	assert.Equal(t, 100.0, x)
	assert.False(t, out)
	x, out = s.Clamp(11)
	assert.Equal(t, 0.0, x)
	assert.True(t, out)
}
