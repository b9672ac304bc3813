package site

import (
	"encoding/json"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStamp checks that files name each other with the version behind, that the page has the right hash of each script and style sheet,
// and that it lists every module: one that it left out would be taken with whatever bytes.
func TestStamp(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	worker := string(files["sw.js"])
	version := regexp.MustCompile(`const VERSION = "([0-9a-f]{16})";`).FindStringSubmatch(worker)[1]
	var hashes map[string]string
	_, rest, _ := strings.Cut(worker, "const FILES = ")
	list, _, _ := strings.Cut(rest, ";\n")
	require.NoError(t, json.Unmarshal([]byte(list), &hashes))
	var about []string // pages and pictures that no device keeps
	_, rest, _ = strings.Cut(worker, "const ABOUT = ")
	list, _, _ = strings.Cut(rest, ";\n")
	require.NoError(t, json.Unmarshal([]byte(list), &about))
	assert.NotEmpty(t, about)
	assert.Len(t, hashes, len(files)-len(about)-1)
	named := map[string]string{}
	hashed := regexp.MustCompile(`(?:src|href)="([a-z0-9-]+\.\w+)\?(\w+)" integrity="([^"]*)"`)
	for _, m := range hashed.FindAllSubmatch(files["index.html"], -1) {
		named[string(m[1])] = string(m[3])
		assert.Equal(t, version, string(m[2]), "%s", m[1])
	}
	for name, content := range files {
		if name == "sw.js" {
			continue
		}
		if slices.Contains(about, name) {
			if path.Ext(name) == ".html" {
				assert.Contains(t, string(content), "style.css?"+version, name)
			}
			assert.NotContains(t, hashes, name, "it would be kept")
			continue
		}
		assert.Equal(t, integrity(content), hashes[name], name)
		if ext := path.Ext(name); ext == ".js" || ext == ".css" {
			assert.Equal(t, hashes[name], named[name], "%s in index.html", name)
		}
		for _, m := range regexp.MustCompile(`(?m)(?:from|^import|import\() ?['"]\./([^'"]*)['"]`).FindAllSubmatch(content, -1) {
			other, v, _ := strings.Cut(string(m[1]), "?")
			assert.Contains(t, files, other, name)
			assert.Equal(t, version, v, "%s imports %s", name, other)
		}
	}
}

// TestLeanScripts checks that no script that lean is for has a text over several lines, whose white space lean would take out, and that it
// takes out nothing else.
func TestLeanScripts(t *testing.T) {
	_, glue := Built()
	scripts := map[string]string{"wasm_exec.js": string(glue)}
	for path, text := range filesBelow(t, ".", ends(".js")) {
		if strings.HasPrefix(path, "page/") {
			scripts[path] = text
		}
	}
	assert.Len(t, scripts, 7)
	for path, text := range scripts {
		for i, line := range strings.Split(text, "\n") {
			assert.Zero(t, strings.Count(line, "`")%2, "%s:%d: a text that goes on in the next line", path, i+1)
			assert.NotContains(t, line, "/*", "%s:%d: a comment that may go on in the next line", path, i+1)
		}
	}
	in := "// first\nlet a = 1; // one\n\n  if (a) {\n    // deep\n\tb(' // no comment');\n  }\n"
	assert.Equal(t, "let a = 1; // one\nif (a) {\nb(' // no comment');\n}\n", string(lean([]byte(in))))
}

// TestStampOfTwoLanguages checks that a second language has files of its own, each page its language and the right names and hashes, and
// that the worker knows whose files are whose.
func TestStampOfTwoLanguages(t *testing.T) {
	pseudo = true
	defer func() { pseudo = false }()
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	page := string(files["en-xa.html"])
	assert.Contains(t, page, `<html lang="en-XA">`)
	assert.Contains(t, page, `href="en-xa.webmanifest"`)
	assert.Contains(t, page, `<meta name="page" lang="en" content="index.html"`)
	assert.Contains(t, page, `integrity="`+integrity(files["look.js"])+`"`)
	assert.Contains(t, string(files["index.html"]), `integrity="`+integrity(files["look.js"])+`"`)
	assert.Contains(t, string(files["core.js"]), `"en-XA":{"address":"en-xa.packed?`)
	assert.Contains(t, string(files["core.js"]), integrity(files["en-xa.packed"]))
	assert.Contains(t, string(files["sw.js"]), `const LANGUAGES = [["en","index.html","forms.packed","manifest.webmanifest"],`)
	assert.Contains(t, string(files["sw.js"]), `["en-XA","en-xa.html","en-xa.packed","en-xa.webmanifest"]`)
	files, err = Files([]byte("module"), []byte("glue"), Plan{Language: "en-XA"})
	require.NoError(t, err)
	assert.Contains(t, string(files["index.html"]), `<html lang="en-XA">`)
	assert.Contains(t, string(files["en.html"]), `<html lang="en">`)
}

// TestServedBy checks which readers a language serves against golang.org/x/text's own answers: Swiss German is served by
// German, Basque by Spanish, Breton by French.
func TestServedBy(t *testing.T) {
	served := servedBy([]string{"en", "de", "es", "fr"})
	for i, bases := range [][]string{{"en"}, {"de", "gsw"}, {"es", "eu"}, {"fr", "br"}} {
		assert.Subset(t, served[i], bases)
	}
	for _, base := range []string{"ja", "zh", "ru"} {
		for i := range served {
			assert.NotContains(t, served[i], base)
		}
	}
}
