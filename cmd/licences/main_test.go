package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFileIsCurrent asks Go anew what the page, the edge worker and the program contain.
func TestFileIsCurrent(t *testing.T) {
	want, err := licences(targets)
	require.NoError(t, err)
	got, err := os.ReadFile("../../site/assets/licences.txt")
	require.NoError(t, err)
	assert.Equal(t, want, string(got), "site/assets/licences.txt is old: run go generate ./site")
}

// TestEveryModuleIsNamed compares the file with the modules of go.mod: what is required and not only for tests and tools is shipped.
func TestEveryModuleIsNamed(t *testing.T) {
	text, err := os.ReadFile("../../site/assets/licences.txt")
	require.NoError(t, err)
	mod, err := os.ReadFile("../../go.mod")
	require.NoError(t, err)
	required, _, _ := strings.Cut(string(mod), ")")
	apart := []string{"testify", "jsonschema"}
	found := 0
	for line := range strings.Lines(required) {
		fields := strings.Fields(line)
		if len(fields) != 2 || !strings.HasPrefix(fields[1], "v") {
			continue
		}
		found++
		shipped := strings.Contains(string(text), "\n"+strings.Join(fields, " ")+"\n")
		assert.Equal(t, !strings.Contains(line, apart[0]) && !strings.Contains(line, apart[1]), shipped, line)
	}
	assert.Greater(t, found, 3)
	for _, of := range []string{
		"The Ohmwright authors", "The Go Authors", "Apache License", "Sun Microsystems", "Stephen L. Moshier", "Lucent",
	} {
		assert.Contains(t, string(text), of)
	}
}

// TestWithoutLicence: a work that has none, or only a notice, is an error.
func TestWithoutLicence(t *testing.T) {
	directory := t.TempDir()
	put := func(name string) {
		require.NoError(t, os.WriteFile(filepath.Join(directory, name), []byte(name+" \r\n\n"), 0o644))
	}
	for _, name := range []string{"README.md", "LICENSES-OF-OTHERS", "NOTICE"} {
		put(name)
		_, err := textsIn(directory)
		assert.ErrorContains(t, err, directory+" has no licence", "with %s", name)
	}
	put("License.md")
	texts, err := textsIn(directory)
	require.NoError(t, err)
	assert.Equal(t, []string{"License.md", "NOTICE"}, texts)
	_, err = textsIn(filepath.Join(directory, "none"))
	assert.Error(t, err)
	_, err = licences(targets[:0])
	assert.ErrorContains(t, err, "was not listed")
	_, err = licences([]target{{"page", "ohmwright/none", "js", "wasm"}})
	assert.ErrorContains(t, err, "ohmwright/none")
}

// TestNotice takes the part of a comment that has to be handed on, and no comment of Go's authors.
func TestNotice(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x.go")
	text := `// Copyright 2009 The Go Authors. All rights reserved.
// Use of this source code is governed by a license.

package x

// From elsewhere, with this notice.
//
// ====
// Copyright (C) 1993 by Someone.
//
// Free to use.
// ====
//
// How it works.

/*
 * How it works.
 *
 * Library 2.8
 * Copyright 1984 by Another
 *
 * Also free.
 */
var y = 1 // Copyright 2000 by nobody: no comment of its own
`
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	got, err := noticesIn([]string{file, file})
	require.NoError(t, err)
	assert.Equal(t, []string{"Copyright (C) 1993 by Someone.\n\nFree to use.", "Library 2.8\nCopyright 1984 by Another\n\nAlso free."}, got)
	_, err = noticesIn([]string{file + "none"})
	assert.Error(t, err)
}
