package main

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cold, if set, has each build begin with an empty cache.
const cold = "OHMWRIGHT_COLD"

// A place is where the project is built: how the sources get there, and what is set there.
type place struct {
	name string
	get  func(t *testing.T, from, to string)
	mask string // of the modes of new files
	set  []string
}

var places = []place{
	{"a clone", clone(), "022", nil},
	{"a later commit of the README alone, in a clone in a deeper place, with other settings", func(t *testing.T, from, to string) {
		clone("-c", "core.autocrlf=true", "-c", "core.eol=crlf")(t, from, to)
		require.NoError(t, os.WriteFile(filepath.Join(to, "README.md"), []byte("other\n"), 0o644))
		git(t, to, "commit", "-qam", "README")
	}, "077", []string{
		"GOFLAGS=-tags=elsewhere -buildvcs=true", "CGO_ENABLED=1", "GOAMD64=v3", "GOARM64=v9.0", "GOFIPS140=latest", "GOEXPERIMENT=jsonv2",
		"TZ=Pacific/Chatham", "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8", "USER=someone", "GOMAXPROCS=1",
	}},
	{"an archive without a history", func(t *testing.T, from, to string) {
		require.NoError(t, os.MkdirAll(to, 0o755))
		archive := filepath.Join(t.TempDir(), "archive.tar")
		git(t, from, "archive", "-o", archive, "HEAD")
		sh(t, to, nil, "tar", "-xf", archive)
	}, "022", nil},
}

func clone(flags ...string) func(t *testing.T, from, to string) {
	return func(t *testing.T, from, to string) {
		git(t, ".", append(append([]string{"clone", "-q"}, flags...), from, to)...)
	}
}

// TestSameBytesAnywhere builds the project in several places, and compares every byte of the page's module, the site and the program.
// Go's cache serves all of them, so that this takes seconds: "make same" does without.
func TestSameBytesAnywhere(t *testing.T) {
	sources := filepath.Join(t.TempDir(), "sources")
	snapshot(t, sources)
	top := t.TempDir()
	built := make([]map[string]string, len(places))
	t.Run("build", func(t *testing.T) {
		for i, p := range places {
			t.Run(p.name, func(t *testing.T) {
				t.Parallel()
				directory := filepath.Join(top, fmt.Sprint(i), strings.Repeat("deep er/", i), "project")
				p.get(t, sources, directory)
				built[i] = p.build(t, directory)
			})
		}
	})
	require.Greater(t, len(built[0]), 15, "files")
	for _, name := range []string{"build/ohmwright", "site/built/wasm_exec.js", "out/sw.js", "out/index.html", "out/_headers"} {
		assert.Contains(t, built[0], name)
	}
	for i, p := range places[1:] {
		assert.Equal(t, built[0], built[i+1], p.name)
	}
}

// snapshot copies the sources as they are now into a repository of their own.
func snapshot(t *testing.T, to string) {
	t.Helper()
	apart := []string{".git", ".wrangler", "build", "node_modules", "__pycache__"}
	count := 0
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		name, _ := filepath.Rel("../..", path)
		switch {
		case err != nil:
			return err
		case slices.Contains(apart, d.Name()) && d.IsDir():
			return filepath.SkipDir
		case d.IsDir():
			return os.MkdirAll(filepath.Join(to, name), 0o755)
		case !d.Type().IsRegular() || d.Name() == ".git" || strings.HasPrefix(name, "site/built/") && d.Name() != ".keep":
			return nil
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		count++
		return os.WriteFile(filepath.Join(to, name), content, 0o644)
	})
	require.NoError(t, err)
	require.Greater(t, count, 300, "sources")
	git(t, to, "init", "-q")
	git(t, to, "add", "-A")
	git(t, to, "commit", "-qm", "sources")
}

// build builds in a directory and returns a hash of each file that was built.
func (p place) build(t *testing.T, directory string) map[string]string {
	t.Helper()
	begun := time.Now()
	set := slices.Clone(p.set)
	cache := known(t, "GOCACHE")
	if os.Getenv(cold) != "" {
		cache = t.TempDir()
	}
	set = append(set, "HOME="+t.TempDir(), "GOCACHE="+cache, "GOMODCACHE="+known(t, "GOMODCACHE"), "MAKEFLAGS=", "MAKELEVEL=")
	sh(t, directory, set, "sh", "-c", "umask "+p.mask+" && make -s build && build/ohmwright build out")
	hashes := map[string]string{}
	hash := func(name string) {
		content, err := os.ReadFile(filepath.Join(directory, name))
		require.NoError(t, err)
		hashes[name] = fmt.Sprintf("%x of %d bytes", sha256.Sum256(content), len(content))
	}
	hash("build/ohmwright")
	for _, folder := range []string{"site/built", "site/built/small", "out"} {
		entries, err := os.ReadDir(filepath.Join(directory, folder))
		require.NoError(t, err)
		for _, e := range entries {
			if !e.IsDir() {
				hash(folder + "/" + e.Name())
			}
		}
	}
	t.Logf("%d files in %.1f s", len(hashes), time.Since(begun).Seconds())
	return hashes
}

// known returns a setting of Go's.
func known(t *testing.T, name string) string {
	t.Helper()
	return strings.TrimSpace(sh(t, ".", nil, "go", "env", name))
}

// git runs git with none of its settings.
func git(t *testing.T, directory string, args ...string) {
	t.Helper()
	none := []string{"GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null", "GIT_DIR=", "GIT_WORK_TREE=", "GIT_INDEX_FILE="}
	sh(t, directory, append(none, names...), "git", args...)
}

var names = []string{"GIT_AUTHOR_NAME=x", "GIT_AUTHOR_EMAIL=x@example.org", "GIT_COMMITTER_NAME=x", "GIT_COMMITTER_EMAIL=x@example.org"}

// sh runs a program and returns what it prints. A setting without a value is taken away.
func sh(t *testing.T, directory string, set []string, name string, args ...string) string {
	t.Helper()
	c := exec.CommandContext(t.Context(), name, args...)
	c.Dir = directory
	for _, setting := range append(os.Environ(), set...) {
		key, _, _ := strings.Cut(setting, "=")
		c.Env = slices.DeleteFunc(c.Env, func(e string) bool { return strings.HasPrefix(e, key+"=") })
		if !strings.HasSuffix(setting, "=") {
			c.Env = append(c.Env, setting)
		}
	}
	out, err := c.CombinedOutput()
	require.NoError(t, err, "%s %s: %s", name, strings.Join(args, " "), out)
	return string(out)
}
