package site

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// pageIn is the page as it is written in a language; a word that is missing is a panic.
func pageIn(t *testing.T, language string) string {
	files, err := Files([]byte("module"), []byte("glue"), language)
	require.NoError(t, err)
	return string(files["index.html"])
}

// TestPage holds that the page is made of the declarations, in every language: a form for each tool with each of its
// fields, no words missing, none with a verb left over, and nothing that the template refused to write.
func TestPage(t *testing.T) {
	for _, language := range wording.Languages() {
		html := pageIn(t, language)
		assert.NotContains(t, html, "ZgotmplZ")
		assert.NotContains(t, html, "%!")
		assert.Contains(t, html, `<html lang="`+language+`">`)
		for _, tl := range tool.All {
			assert.Contains(t, html, `data-tool="`+tl.Name+`"`)
			assert.Contains(t, html, `href="#/`+tl.Name+`"`)
			for _, f := range tl.Fields {
				assert.Regexp(t, `data-(path|list|group)="`+f.Name+`"`, html, tl.Name)
			}
			for _, c := range tl.Before {
				assert.Contains(t, html, strings.ReplaceAll(wording.English().Say("caution."+c), "'", "&#39;"))
			}
		}
	}
}

// TestIDs holds that no id stands twice, since labels and hints are found by it.
func TestIDs(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(pageIn(t, "en"), -1) {
		assert.False(t, seen[m[1]], "%s twice", m[1])
		seen[m[1]] = true
	}
}

// TestNoThirdParty holds that no file of the site names another host, but for the names of XML's languages.
func TestNoThirdParty(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), "en")
	require.NoError(t, err)
	for name, content := range files {
		for _, m := range regexp.MustCompile(`https?://[^"'\s)]+`).FindAllString(string(content), -1) {
			assert.True(t, strings.HasPrefix(m, "http://www.w3.org/"), "%s: %s", name, m)
		}
	}
}

// TestLanguages holds that a language without a catalogue is refused, and the error says which there are.
func TestLanguages(t *testing.T) {
	_, err := Files(nil, nil, "tlh")
	assert.ErrorContains(t, err, `no language "tlh"; want en`)
}
