package wording

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestRowNames checks that a row without a name is told from any name that somebody types.
func TestRowNames(t *testing.T) {
	for n := range 200 {
		assert.Equal(t, n, RowOf(RowName(n)))
	}
	for _, name := range []string{"", "Y4", "#", "#-1", "#+1", "#01", "# 3", "3", "#3a"} {
		assert.Zero(t, RowOf(name), name)
		assert.Equal(t, name, OwnName(name))
	}
	assert.Equal(t, "# 3", OwnName("#3"))
	assert.Equal(t, "# 0", OwnName(Nameless))
}
