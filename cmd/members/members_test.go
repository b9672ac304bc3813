package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFilesAreCurrent checks that the methods in the tree are what the structs' tags make of them now.
func TestFilesAreCurrent(t *testing.T) {
	top := filepath.Join("..", "..")
	files, err := written(top)
	require.NoError(t, err)
	assert.Greater(t, len(files), 10, "hardly any file: this test looks in the wrong place")
	for file, want := range files {
		got, err := os.ReadFile(file)
		require.NoError(t, err, "go generate ./core/jsontext")
		assert.Equal(t, string(want), string(got), "%s is not current: go generate ./core/jsontext", file)
	}
}

// house writes a tree of two rooms: one with a struct that the other's can have, and that other one.
func house(t *testing.T, room string) string {
	top := t.TempDir()
	for name, text := range map[string]string{
		"core/low/low.go":          "package low\n\ntype Word string\n\ntype Part struct {\n\tA int `json:\"a\"`\n}\n",
		"core/room/room.go":        "package room\n\nimport \"ohmwright/core/low\"\n\nvar _ low.Part\n\n" + room,
		"core/room/room_test.go":   "package room\n\ntype tested struct {\n\tC chan int `json:\"c\"`\n}\n",
		"core/toolstest/helper.go": "package toolstest\n\ntype drawn struct {\n\tC chan int `json:\"c\"`\n}\n",
		"wasm/main.go":             "//go:build js\n\npackage main\n",
	} {
		file := filepath.Join(top, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	}
	return top
}

// TestMethods checks what is written of each sort of field.
func TestMethods(t *testing.T) {
	top := house(t, "type kind low.Word\n\ntype result struct {\n\t*within\n\tA kind `json:\"a,omitempty\"`\n\tB *float64 `json:\"b\"`\n"+
		"\tC low.Part `json:\"c\"`\n\tD *low.Part `json:\"d,omitempty\"`\n\tE []low.Part `json:\"e\"`\n\tF []string `json:\"f\"`\n"+
		"\tG bool `json:\"-\"`\n\tbare bool\n}\n\ntype within struct {\n\tH bool `json:\"h\"`\n}\n")
	files, err := written(top)
	require.NoError(t, err)
	assert.Len(t, files, 2)
	text := string(files[filepath.Join(top, "core", "room", "members.go")])
	_, methods, _ := strings.Cut(text, "func (r *result) Members(v *jsontext.Visitor) {\n")
	methods, _, _ = strings.Cut(methods, "\n}\n")
	assert.Equal(t, `	if r == nil {
		r = new(result)
		v.Missing()
	}
	v.Are("* a? b c d?",
		r.within, (*string)(&r.A), &r.B, &r.C, r.D)
	v.List("e", len(r.E), (*low.Part)(nil))
	for i := range r.E {
		v.Item(&r.E[i])
	}
	v.Are("f",
		&r.F)`, methods)
	assert.Contains(t, text, "\t\"ohmwright/core/jsontext\"\n\t\"ohmwright/core/low\"\n")
}

// TestRefused checks that a struct which the methods could not tell of as encoding/json would is an error.
func TestRefused(t *testing.T) {
	for fields, fault := range map[string]string{
		"A chan int `json:\"a\"`":                       "cannot be told",
		"A map[string]string `json:\"a\"`":              "cannot be told",
		"A []float64 `json:\"a\"`":                      "cannot be told",
		"A uint8 `json:\"a\"`":                          "cannot be told",
		"A *int `json:\"a\"`":                           "cannot be told",
		"A [2]string `json:\"a\"`":                      "cannot be told",
		"A []low.Word `json:\"a\"`":                     "cannot be told",
		"A *low.Word `json:\"a\"`":                      "cannot be told",
		"A any `json:\"a\"`":                            "cannot be told",
		"low.Part\n\tA int `json:\"a\"`":                "cannot be told",
		"A []low.Part `json:\"a,omitempty\"`":           "always there",
		"A low.Part `json:\"a,omitzero\"`":              "not known",
		"A int `json:\"a,string\"`":                     "not known",
		"A, B int `json:\"a\"`":                         "a tag for each field",
		"A int `json:\",omitempty\"`\n\tB int":          "a tag for each field",
		"A int `json:\"a b\"`":                          "a plain name",
		"a int `json:\"a\"`":                            "a tag for each field",
		"A int `json:\"a\"`\n\tB int `xml:\"no json\"`": "a tag for each field",
	} {
		_, err := written(house(t, "type result struct {\n\t"+fields+"\n}\n"))
		assert.ErrorContains(t, err, fault, fields)
	}
}

// TestStaleFile checks that the file of a package whose structs have no tags any more goes.
func TestStaleFile(t *testing.T) {
	top := house(t, "type result struct{}\n")
	stale := filepath.Join(top, "core", "room", "members.go")
	require.NoError(t, os.WriteFile(stale, []byte("package room\n"), 0o644))
	files, err := written(top)
	require.NoError(t, err)
	text, there := files[stale]
	assert.True(t, there && text == nil)
	_, err = written(t.TempDir())
	assert.Error(t, err)
}
