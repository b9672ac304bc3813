package tools_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// A factUse is a field that holds a fact of a job, or a part of one.
type factUse struct {
	where string // tool and path
	*tool.Field
	takes bool
}

// factUses returns where each fact, and each part of one, stands: by the key that it has in a job, such as "spec.min".
func factUses() map[string][]factUse {
	uses := map[string][]factUse{}
	var note func(d *tool.Field, key, where string, takes bool)
	note = func(d *tool.Field, key, where string, takes bool) {
		uses[key] = append(uses[key], factUse{where, d, takes})
		for _, in := range d.Fields {
			note(in, tool.JoinPath(key, in.Name), where+"."+in.Name, takes)
		}
	}
	for _, tl := range tools.All {
		each(tl.Fields, "", func(d *tool.Field, path string) {
			if d.Fact != "" {
				note(d, d.Fact, tl.Name+" "+path, d.Takes)
			}
		})
	}
	return uses
}

// TestFactsAreAlike checks that a fact is the same in every tool: its kind, its shape, its choices and what is in it. What is taken
// in one tool must be what another one gave.
func TestFactsAreAlike(t *testing.T) {
	uses := factUses()
	require.NotEmpty(t, uses)
	for key, all := range uses {
		first := all[0]
		for _, use := range all[1:] {
			assert.Equal(t, first.Shape, use.Shape, "%s: the shape in %s and in %s", key, first.where, use.where)
			assert.Equal(t, first.Kinds, use.Kinds, "%s: the kinds in %s and in %s", key, first.where, use.where)
			assert.ElementsMatch(t, first.Choices, use.Choices, "%s: the choices in %s and in %s", key, first.where, use.where)
			assert.Equal(t, namesOf(first.Fields), namesOf(use.Fields), "%s: what is in it in %s and in %s", key, first.where, use.where)
		}
		given := slices.DeleteFunc(slices.Clone(all), func(u factUse) bool { return u.takes })
		assert.NotEmpty(t, given, "%s is taken and nowhere given", key)
		for _, use := range given {
			// A choice that is left out must mean the same wherever it is given, since the page then keeps nothing.
			if use.Shape == tool.Choice {
				assert.Equal(t, given[0].Default, use.Default, "%s: the default in %s and in %s", key, given[0].where, use.where)
			}
		}
	}
}

func namesOf(fields []*tool.Field) (names []string) {
	for _, d := range fields {
		names = append(names, d.Name)
	}
	slices.Sort(names)
	return names
}

// noFacts are the fields that are called like a fact and mean something else, by tool and path, with the reason.
var noFacts = map[string]string{
	"loop driver":         "what the driver drops, not what kind it is",
	"drive driver":        "its on-resistance, not what kind it is",
	"trace driver":        "its on-resistance, not what kind it is",
	"trace supply_within": "a share of the supply, where the others have volts",
	"circuit meter":       "a group of three meters; those for ohms and amperes are facts inside it",
}

// TestFactsAreDeclared checks that no tool has a field that is called like a fact and is none: it would be asked for twice in a job.
// The exercise is about nobody's vehicle and takes part in no job.
func TestFactsAreDeclared(t *testing.T) {
	names := map[string]bool{}
	for _, tl := range tools.All {
		each(tl.Fields, "", func(d *tool.Field, path string) {
			if d.Fact == "" {
				return
			}
			assert.False(t, tl.Jobless, "%s %s: the tool takes part in no job", tl.Name, path)
			names[d.Fact] = true
		})
	}
	met := map[string]bool{}
	for _, tl := range tools.All {
		if tl.Jobless {
			continue
		}
		for _, d := range tl.Fields {
			at := tl.Name + " " + d.Name
			if !names[d.Name] || d.Fact != "" {
				continue
			}
			met[at] = true
			assert.Contains(t, noFacts, at, "%s is called like a fact of a job: declare it (tool.Field.Fact), or say here why it is none", at)
		}
	}
	for at := range noFacts {
		assert.True(t, met[at], "%s is no longer called like a fact", at)
	}
	assert.Subset(t, slices.Collect(maps.Keys(names)), strings.Fields("side return supply specs spec winding_temperature meter clamp "+
		"material driver costs minutes code failure_type code_kind fault_present inner_harness"))
}
