package sheet

import (
	"encoding/json"
	"math"
	"strconv"
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

// TestNum holds coordinates against strconv, which writes the shortest decimal that reads back as the rounded number.
func TestNum(t *testing.T) {
	check := func(v float64) {
		assert.Equal(t, strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64), Num(v), "%v", v)
	}
	for n := -100_000; n <= 100_000; n++ {
		check(float64(n) / 1000)
	}
	for _, v := range []float64{0, math.Copysign(0, -1), -0.001, 1e7, -1e7, 1e7 + 0.01, 123456789.125, 1e300, math.Inf(1), math.NaN()} {
		check(v)
	}
}

// TestCompare checks which parts of a tree are told by 0: those that are the same at the same place, and nothing that a reader can set.
func TestCompare(t *testing.T) {
	tree := func(word, class string, inside ...*Element) *Element {
		return New("div").With(New("p class=?", class).Say(word).Say("!"), New("ul").With(inside...))
	}
	for _, c := range []struct {
		was, is *Element
		want    string
	}{
		{tree("a", "x"), tree("a", "x"), `0`},
		{tree("a", "x"), tree("b", "x"), `["div",{},["p",{"class":"x"},"b",0],0]`},
		{tree("a", "x"), tree("a", "y"), `["div",{},["p",{"class":"y"},0,0],0]`},
		{tree("a", "x"), tree("a", "x", New("li")), `["div",{},0,["ul",{},["li",{}]]]`},
		{tree("a", "x", New("li"), New("li").Say("b")), tree("a", "x", New("li")), `["div",{},0,["ul",{},0]]`},
		{tree("a", "x", New("input")), tree("a", "x", New("input")), `["div",{},0,["ul",{},["input",{}]]]`},
		{tree("a", "x", New("li").Say("b")), tree("a", "x", New("li").Late()), `["div",{},0,["ul",{},["li",{"data-late":"yes"}]]]`},
		{tree("a", "x", New("li").Late()), tree("a", "x", New("li").Say("b")), `["div",{},0,["ul",{},["li",{},"b"]]]`},
		{New("p").Say("b"), New("p").With(New("b")), `["p",{},["b",{}]]`},
	} {
		same := c.is.Compare(c.was)
		b, err := c.is.MarshalJSON()
		require.NoError(t, err)
		assert.Equal(t, c.want, string(b))
		assert.Equal(t, c.want == `0`, same)
	}
}
