package tools_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/job"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// TestFactsAreThoseOfAJob checks that every fact that a field names is in the list of a job's facts, with the kind that the field has, and
// that every fact of the list has a field.
func TestFactsAreThoseOfAJob(t *testing.T) {
	kinds := map[string]job.FactKind{}
	for _, f := range job.AllFacts {
		assert.NotContains(t, kinds, f.Name, "stands twice")
		assert.True(t, job.IsKey(f.Name), f.Name)
		kinds[f.Name] = f.Kind
	}
	of := map[tool.Shape]job.FactKind{tool.Text: job.Words, tool.Choice: job.Choice, tool.Quantity: job.Quantity, tool.Group: job.Group,
		tool.List: job.Rows}
	held := map[string]bool{}
	for key, uses := range factUses() {
		held[key] = true
		for _, use := range uses {
			if use.Fact != "" {
				assert.Equal(t, kinds[use.Fact], of[use.Shape], "%s: the fact %q has another kind in core/job, or is missing there",
					use.where, use.Fact)
			}
		}
	}
	for name := range kinds {
		assert.True(t, held[name], "no tool has a field for the fact %q", name)
	}
}

// TestReadingsAreTaken checks that the tools that are asked with a meter in hand say which of their fields are readings.
func TestReadingsAreTaken(t *testing.T) {
	taken := map[string][]string{}
	for _, tl := range tools.All {
		each(tl.Fields, "", func(d *tool.Field, path string) {
			if d.Taken != nil {
				taken[tl.Name] = append(taken[tl.Name], path)
			}
		})
	}
	assert.Equal(t, []string{"reading", "known_good.reading", "cold.reading"}, taken["winding"])
	assert.Equal(t, []string{"supply", "current", "winding"}, taken["loop"])
	assert.Equal(t, []string{"readings.value"}, taken["circuit"])
	assert.Equal(t, []string{"new_part.reading"}, taken["handover"])
	assert.Empty(t, taken["exercise"], "what an exercise hides is no reading of a vehicle")
}
