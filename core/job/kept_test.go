package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const kept = "../../testdata/jobs"

// keptJobs returns the documents of a folder of testdata/jobs, by name.
func keptJobs(t testing.TB, folder string) map[string]string {
	names, err := filepath.Glob(filepath.Join(kept, folder, "*.json"))
	require.NoError(t, err)
	require.Greater(t, len(names), 5, "this test looks in the wrong place")
	texts := map[string]string{}
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		texts[filepath.Base(name)] = string(text)
	}
	return texts
}

// TestKeptJobsOpenForEver reads documents of version 1, which no code of this project wrote: each opens, and nothing in it is changed.
func TestKeptJobsOpenForEver(t *testing.T) {
	for name, text := range keptJobs(t, "") {
		j, err := Read(text)
		if assert.NoError(t, err, name) {
			assert.JSONEq(t, text, Write(j), name)
			m, err := Merge(j, j)
			require.NoError(t, err, name)
			assert.Equal(t, Write(j), Write(m), name)
		}
	}
}

// TestRefusedJobsStayRefused reads documents that are wrong; the name of each begins with the fault.
func TestRefusedJobsStayRefused(t *testing.T) {
	for name, text := range keptJobs(t, "refused") {
		_, err := Read(text)
		want, _, _ := strings.Cut(name, "-")
		assert.Equal(t, Fault(want), err, name)
	}
}
