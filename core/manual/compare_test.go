package manual_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/manual"
	"ohmwright/core/quantity"
)

// TestUnder checks which lines have a smaller torque than a smaller size.
func TestUnder(t *testing.T) {
	for _, c := range []struct {
		text string
		want []int
	}{
		{"M6 10 N·m\nM8 25 N·m\nM10 49 N·m", nil},
		{"M6 10 N·m\nM8 9 N·m\nM10 49 N·m", []int{1}},
		{"M8 8 N·m\nM6 10 N·m\nM6 12 N·m", []int{0}},
		{"M6 8.8 10 N·m\nM8 10.9 9 N·m", nil},           // of another class
		{"M6 8.8 10 N·m\nM8 9 N·m", []int{1}},           // of a class not named
		{"M6 8–10 N·m\nM8 9–12 N·m", nil},               // ranges that overlap
		{"M6 12–14 N·m\nM8 8–10 N·m", []int{1}},         // ranges that do not
		{"M6 10 N·m\nM8 90 in-lb", nil},                 // one torque
		{"M6 90 in-lb\nM8 10 N·m", nil},                 // one torque, as printed
		{"M8x1 27 N·m\nM8 25 N·m", nil},                 // one diameter
		{"1/4-20 11 N·m\nM8 9 N·m", nil},                // no diameter
		{"M24 700 N·m\nM30 70 N·m", []int{1}},           // beyond the table of threads
		{"M8 25 N·m\nM10 20 N·m + 90°", nil},            // with an angle
		{"M8 25 N·m + 90°\nM10 20 N·m", nil},            // below one with an angle
		{"M8 15 N·m then 30 N·m\nM10 20 N·m", []int{1}}, // the last stage
		{"M8 25 N·m\nM10 20 N·m then 40 N·m", nil},
		{"M6 10 N·m\nM8\nM10 1,250 N·m\n0 N·m", nil}, // nothing to compare
	} {
		table := manual.Read(c.text, quantity.Point)
		var got []int
		for i, l := range table.Find().Lines {
			if l.Under == "" {
				continue
			}
			got = append(got, i)
			smaller, falls := table.Under(i)
			require.True(t, falls)
			assert.Less(t, table.Lines[smaller].Diameter, l.Diameter, c.text)
		}
		assert.Equal(t, c.want, got, c.text)
	}
	smaller, falls := manual.Read("M8 8 N·m\nM6 10 N·m\nM6 12 N·m", quantity.Point).Under(0)
	assert.True(t, falls)
	assert.Equal(t, 2, smaller, "the largest of the smaller ones")
}

func TestDiffers(t *testing.T) {
	for _, c := range []struct {
		text string
		want [][]int
	}{
		{"M6 8 N·m\nM6 12 N·m\nM8 25 N·m\nM6x1 14 N·m\nM 6 x 1.0 16 N·m", [][]int{{0, 1, 3, 4}}},
		{"M6 10 N·m\nM6 89 in-lb", nil},
		{"M6 8.8 10 N·m\nM6 10.9 14 N·m", nil},
		{"M8x1 27 N·m\nM8 25 N·m", nil},
		{"1/4-20 8 ft-lb\n1/4-20 10 ft-lb\nM6 8 N·m\nM6 9 N·m", [][]int{{0, 1}, {2, 3}}},
		{"8 N·m\n9 N·m", nil},
		{"M8 10 N·m then 25 N·m\nM8 15 N·m then 25 N·m\nM8 25 N·m", nil},
		{"M8 10 N·m then 25 N·m\nM8 10 N·m", [][]int{{0, 1}}},
		{"M6 8–10 N·m\nM6 8–10 N·m", nil},
		{"M6 8–10 N·m\nM6 8–12 N·m", [][]int{{0, 1}}},
	} {
		assert.Equal(t, c.want, manual.Read(c.text, quantity.Point).Differs(), c.text)
	}
}
