package site

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/wording"
)

// TestShortened checks that the page gets every form as the template made it, by doing what page/markup.js does, and that ids take little
// of what goes out.
func TestShortened(t *testing.T) {
	sign := regexp.MustCompile(` data-(?:path|list)="([^"]*)"|~`)
	for _, language := range Languages() {
		_, forms, err := render(speaker(language), tonguesOf(Plan{Language: language})[0], nil, "")
		require.NoError(t, err)
		require.NotEmpty(t, forms)
		for _, f := range forms {
			require.NotContains(t, f.Markup, ownID, f.Name)
			short, id := shortened(f.Name, f.Markup), ""
			got := sign.ReplaceAllStringFunc(short, func(found string) string {
				if found == ownID {
					return id
				}
				id = f.Name + "-" + sign.FindStringSubmatch(found)[1]
				return found
			})
			assert.Equal(t, f.Markup, got, f.Name)
			assert.NotContains(t, short, ` for="`+f.Name+`-reading"`, f.Name)
		}
	}
}

// TestColumns checks that the page hands the module the words as they were compiled, by doing what page/core.js does.
func TestColumns(t *testing.T) {
	for _, language := range Languages() {
		words, err := wording.NewBook(moduleRooms()...).Compiled(language)
		require.NoError(t, err)
		keys, sentences, found := strings.Cut(columns(words), "\x00")
		require.True(t, found)
		said := strings.Split(sentences, "\n")
		var got strings.Builder
		key := ""
		for i, rest := range strings.Split(keys, "\n") {
			key = key[:rest[0]-'!'] + rest[1:]
			got.WriteString(key + "\t" + said[i] + "\n")
		}
		assert.Equal(t, words, got.String(), language)
	}
}

// TestParcel checks that core.js has the hash of each part of what is packed, in the order of need, and that the page's policy and the one
// file let in the script that the first part is, and no other.
func TestParcel(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	p := parcelOf("script", "", "words")
	assert.Equal(t, []part{{6, integrity([]byte("script"))}, {0, integrity(nil)}, {5, integrity([]byte("words"))}}, p.parts)
	core, page := string(files["core.js"]), string(files["index.html"])
	assert.Equal(t, len(Languages()), strings.Count(core, `"parts":[{"size":`))
	if Script() == "" {
		assert.NotContains(t, core, `"script":{`)
		assert.Contains(t, page, `<script src="app.js?`)
		assert.NotContains(t, page, "'wasm-unsafe-eval' 'sha256-")
		return
	}
	assert.Equal(t, integrity(files["app.js"]), Script())
	assert.Contains(t, core, `"parts":[{"size":`)
	assert.Contains(t, core, `"integrity":"`+Script()+`"`)
	assert.Equal(t, len(Languages())+1, strings.Count(core, Script()))
	assert.NotContains(t, page, "app.js")
	assert.Contains(t, page, "script-src 'self' 'wasm-unsafe-eval' '"+Script()+"'; ")
	one, err := Single(files)
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(string(one), "'"+Script()+"'"))
}
