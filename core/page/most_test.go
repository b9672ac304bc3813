package page_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/job"
	"ohmwright/core/page"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// TestFullFormsAreRead checks that the form of every tool, with all its rows and fields filled, has no more keys than a saved form or a
// job may have: what is saved must be readable. The page's scripts have the same limit (state.js, MOST_KEYS).
func TestFullFormsAreRead(t *testing.T) {
	for _, one := range tools.All {
		n := keys(one.Fields)
		t.Log(one.Name, n)
		assert.LessOrEqual(t, n, job.MostKeys, one.Name)
	}
}

func keys(fields []*tool.Field) (n int) {
	for _, d := range fields {
		switch d.Shape {
		case tool.Group:
			n += keys(d.Fields)
		case tool.List:
			n += min(page.MostRows, d.Most) * keys(d.Fields)
		case tool.Choice:
			n += 1 + keys(d.Fields)
		default:
			n++
		}
	}
	return n
}
