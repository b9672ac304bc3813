package job

import (
	"compress/flate"
	"encoding/base64"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
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

// TestKeptLinks reads the links of version 1 that the page once made of the documents, as site/assets/joblink.js describes them, with
// another reader of the same standards: each holds its document, without the photographs. The page itself opens them in
// page-job-link.test.mjs.
func TestKeptLinks(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(kept, "links.txt"))
	require.NoError(t, err)
	documents := keptJobs(t, "")
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	require.GreaterOrEqual(t, len(lines), 8, "links are only added, never taken away")
	for _, line := range lines {
		name, link, _ := strings.Cut(line, " ")
		parts := regexp.MustCompile(`^#/job\?v=1&z=([\w-]+)&c=(\w{5})$`).FindStringSubmatch(link)
		require.Len(t, parts, 3, name)
		sum := fnv.New32a()
		sum.Write([]byte(parts[1]))
		base36 := "0000" + strconv.FormatUint(uint64(sum.Sum32()), 36)
		assert.Equal(t, base36[len(base36)-5:], parts[2], name)
		plain, err := io.ReadAll(flate.NewReader(base64.NewDecoder(base64.RawURLEncoding, strings.NewReader(parts[1]))))
		require.NoError(t, err, name)
		linked, err := Read(`{"ohmwright":"job","v":1,` + strings.TrimPrefix(string(plain), "{"))
		require.NoError(t, err, name)
		whole, err := Read(documents[name])
		require.NoError(t, err, name)
		whole.Photos = []Photo{}
		assert.Equal(t, whole, linked, name)
	}
}
