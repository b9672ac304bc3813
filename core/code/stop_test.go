package code

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStop asks for every code there can be: the contract's ranges stop, and nothing else does.
func TestStop(t *testing.T) {
	count := map[Stop]int{}
	for _, letter := range "PBCU" {
		for n := range 0x4000 {
			c, _, err := Read(fmt.Sprintf("%c%04X", letter, n))
			require.NoError(t, err)
			f := Question{Code: c, Type: "11"}.Find()
			count[f.Stop]++
			want := Stop("")
			switch text := c.String(); text[:3] {
			case "B00":
				want = Restraint
			case "P0A", "P0B", "P0C", "P1A":
				want = HighVoltage
			}
			require.Equal(t, want, f.Stop, c)
			if f.Stop != "" {
				require.Equal(t, Stopped, f.Overall, c)
				require.Empty(t, f.Kind, c)
				require.Empty(t, append(f.Meaning.High, f.Meaning.Low...), c)
			}
		}
	}
	assert.Equal(t, 256, count[Restraint])
	assert.Equal(t, 4*256, count[HighVoltage])
}
