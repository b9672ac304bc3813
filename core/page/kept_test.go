package page

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/job"
	"ohmwright/core/tools"
)

// TestKeptJobsAreServed checks the jobs of testdata/jobs, which have to open for ever: the handover takes the record of each without a
// fault, each link of an entry opens, and each can be listed.
func TestKeptJobsAreServed(t *testing.T) {
	names, err := filepath.Glob("../../testdata/jobs/*.json")
	require.NoError(t, err)
	require.Greater(t, len(names), 5, "this test looks in the wrong place")
	links := 0
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		j, err := job.Read(string(text))
		require.NoError(t, err, name)
		reply := Answer(toolNamed("handover"), Record(j), tools.English())
		assert.True(t, reply.Answered, name)
		assert.Empty(t, reply.Notes, name)
		sheet := shown(t, reply.Body)
		for _, e := range j.Entries {
			if e.Kind == job.Reading && e.Name != "" && e.Name[0] != '<' {
				assert.Contains(t, sheet, e.Name, name)
			}
			if e.Link != "" {
				links++
				form := Open(e.Link, tools.English())
				assert.Equal(t, e.Tool, form.Tool, "%s: %s", name, e.Link)
				assert.Empty(t, form.Notes, "%s: %s", name, e.Link)
			}
		}
		said, _, when := Line(j, tools.English())
		assert.NotEmpty(t, said, name)
		assert.Equal(t, j.Changed, when, name)
	}
	assert.Greater(t, links, 5)
}
