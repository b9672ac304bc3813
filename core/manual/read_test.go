package manual_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/manual"
	"ohmwright/core/quantity"
)

// told writes Lines as "number size thread class figures stages angle verdict fault", without what is not there.
func told(t manual.Table) string {
	var out []string
	for _, l := range t.Lines {
		s := []string{strconv.Itoa(l.Number)}
		if l.Size != "" {
			s = append(s, "<"+l.Size+">")
		}
		if l.Thread != nil {
			s = append(s, l.Thread.String())
		}
		if l.Class != "" {
			s = append(s, "class "+l.Class)
		}
		for _, f := range l.Figures {
			text := f.Value.String()
			if f.Ranges() {
				text += "…" + f.To.String()
			}
			if f.Within.Digits != "" {
				text += "±" + f.Within.String()
			}
			if f.Less.Digits != "" {
				text += "−" + f.Less.String()
			}
			s = append(s, text)
		}
		if len(l.Stages) > 0 {
			var stages []string
			for _, f := range l.Stages {
				stages = append(stages, f.Value.String())
			}
			s = append(s, "["+strings.Join(stages, " ")+"]")
		}
		if l.Angle != 0 {
			s = append(s, "+"+strconv.FormatFloat(float64(l.Angle), 'f', -1, 64)+"°")
		}
		if l.Pair != nil {
			s = append(s, l.Pair.Verdict.String())
		}
		if l.Fault != 0 {
			s = append(s, l.Fault.String())
		}
		out = append(out, strings.Join(s, " "))
	}
	return strings.Join(out, "\n")
}

func TestRead(t *testing.T) {
	for _, c := range slices.Concat(cellCases, sizeCases, figureCases, stageCases) {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, told(manual.Read(c.text, quantity.Point)))
			if strings.Contains(c.text, "\r") {
				return
			}
			windows := strings.ReplaceAll(c.text, "\n", "\r\n")
			assert.Equal(t, c.want, told(manual.Read(windows, quantity.Point)), "Windows line ends")
		})
	}
}

func TestReadReads(t *testing.T) {
	table := manual.Read("1,250 N·m\nM6 1 250 in-lb\n10–8 N·m", quantity.Point)
	assert.Equal(t, [2]string{"1.250 N.m", "1250 N.m"}, table.Lines[0].Reads)
	assert.Equal(t, [2]string{"250 lbf.in", "1250 lbf.in"}, table.Lines[1].Reads)
	assert.Zero(t, table.Lines[2].Reads)
	table = manual.Read("1,250 N·m", quantity.Comma)
	require.Len(t, table.Lines[0].Figures, 1, "the reader's mark decides")
	assert.Equal(t, 1.25, table.Lines[0].Figures[0].In)
	lines := manual.Read("Bolts of the body\nM6 10 Nm\nSize N·m\nM8 25", quantity.Point).Lines
	require.Len(t, lines, 2, "words and names of columns are no sizes")
	assert.Equal(t, []int{2, 4}, []int{lines[0].Number, lines[1].Number})
	p := manual.Read("10 N·m 1.0 kgf·m 89 ft-lb", quantity.Point).Lines[0].Pair
	assert.Equal(t, "10N.m 89lbf.ft", p.Figures[0].String()+" "+p.Figures[1].String(), "the two that agree least")
	assert.Equal(t, "89lbf.in", p.Slips[0].Meant.String())
}

func TestReadEnds(t *testing.T) {
	table := manual.Read(strings.Repeat("M6 10 N·m\n", manual.MaxLines), quantity.Point)
	assert.Len(t, table.Lines, manual.MaxLines)
	assert.False(t, table.More)
	for _, text := range []string{
		strings.Repeat("M6 10 N·m\n", manual.MaxLines+1), strings.Repeat("M6 10 N·m ", manual.MaxLines+1),
	} {
		table = manual.Read(text, quantity.Point)
		assert.Len(t, table.Lines, manual.MaxLines)
		assert.True(t, table.More)
	}
}

func TestFaultWords(t *testing.T) {
	var words []string
	for _, f := range []manual.Fault{0, manual.NoTorque, manual.Ambiguous, manual.Unreadable, 9} {
		words = append(words, f.String())
	}
	assert.Equal(t, []string{"", "no_torque", "ambiguous", "unreadable", "unknown"}, words)
}
