package job

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestLeads checks that a meter and its leads are told apart again.
func TestLeads(t *testing.T) {
	for _, of := range [][3]string{
		{"", "", ""}, {"±(1 % + 2)", "", "±(1 % + 2)"}, {"", "0.3 ohm", "leads 0.3 ohm"},
		{"±(1 % + 2 × 0.1 ohm)", "0,3 ohm", "±(1 % + 2 × 0.1 ohm); leads 0,3 ohm"},
	} {
		assert.Equal(t, of[2], WithLeads(of[0], of[1]))
		meter, ohms := Leads(of[2])
		assert.Equal(t, of[:2], []string{meter, ohms})
	}
}
