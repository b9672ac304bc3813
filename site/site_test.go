package site

import (
	"html/template"
	"maps"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// pageIn returns the page in a language, with the forms behind it. It panics if a word is missing.
func pageIn(t *testing.T, language string) string {
	index, forms, err := render(speaker(language), tonguesOf(Plan{Language: language})[0], tonguesOf(Plan{Language: language}), "")
	require.NoError(t, err)
	all := string(index)
	for _, f := range forms {
		all += "\n" + f.Markup
	}
	return all
}

// TestPage checks the page in every language: it has a form for each tool with each of its fields, no word is missing or
// has a formatting verb left, and the template refused nothing.
func TestPage(t *testing.T) {
	for _, language := range Languages() {
		html := pageIn(t, language)
		assert.NotContains(t, html, "ZgotmplZ")
		assert.NotContains(t, html, "%!")
		assert.Contains(t, html, `<html lang="`+language+`">`)
		for _, tl := range tools.All {
			assert.Contains(t, html, `data-tool="`+tl.Name+`"`)
			assert.Contains(t, html, `href="#/`+tl.Name+`"`)
			for _, f := range tl.Fields {
				assert.Regexp(t, `data-(path|list|group)="`+f.Name+`"`, html, tl.Name)
			}
			for _, c := range tl.Before {
				caution := speaker(language).Within(tl.Name).Say("caution." + c)
				assert.Contains(t, html, strings.ReplaceAll(caution, "'", "&#39;"))
			}
		}
	}
}

// TestReading checks that every tool has a page in every language that says what it does, works its example out and leads to the tool.
func TestReading(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	for _, tongue := range tonguesOf(Plan{Language: "en"}) {
		for _, tl := range tools.All {
			name := readingFile(tongue, tl.Name)
			text := string(files[name])
			speak := tl.Speaker(speaker(tongue.Tag))
			assert.Contains(t, text, `<html lang="`+tongue.Tag+`" `, name)
			assert.Contains(t, text, "<h1>"+template.HTMLEscapeString(speak.Say("title"))+"</h1>", name)
			assert.Contains(t, text, `href="`+pageLink(tongue)+"#/"+tl.Name+`"`, name)
			assert.Regexp(t, `<dt>[^<]+</dt><dd>[^<]+</dd>`, text, name)
			assert.NotContains(t, text, "%!", name)
			assert.NotContains(t, text, "ZgotmplZ", name)
			assert.NotContains(t, text, "<script", name)
			assert.Contains(t, string(files[readingFile(tongue, "tools")]), `href="`+name+`"`, name)
		}
	}
	assert.Contains(t, string(files["winding.html"]), "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)", "the formula")
	assert.Contains(t, string(files["de-winding.html"]), "θ₀ = −234,5", "the German example has a comma")
}

// TestIDs checks that no id occurs twice, since labels and hints refer to ids.
func TestIDs(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(pageIn(t, "en"), -1) {
		assert.False(t, seen[m[1]], "the id %s occurs twice", m[1])
		seen[m[1]] = true
	}
}

// TestShapes checks that the page shows a field as its declaration says: a text of several lines, a place for the answer
// after a field, places on a plate, and fields that are kept but never shown.
func TestShapes(t *testing.T) {
	html := pageIn(t, "en")
	part := func(from, to string) string {
		_, rest, found := strings.Cut(html, from)
		require.True(t, found, from)
		inside, _, found := strings.Cut(rest, to)
		require.True(t, found, "%s … %s", from, to)
		return inside
	}
	assert.Contains(t, html, `<textarea id="torque-table" class="lines"`)
	assert.NotContains(t, html, `<input id="torque-table"`)
	assert.Regexp(t, `<p class="note" id="torque-torque-note"></p>\s*</div>\s*<div class="slot" data-slot="torque"></div>`, html)
	plate := part(`data-list="bolts" data-plated data-most="100"`, `</fieldset></template>`)
	for _, want := range []string{`data-slot="bolts"`, `<div class="cards">`, `data-slot="bolts-next"`, `class="card placed"`,
		`data-path="bolts.#.x"`, `data-do="remove"`} {
		assert.Contains(t, plate, want)
	}
	for _, other := range []string{`data-do="add"`, `data-do="keep"`, `data-shelf`} {
		assert.NotContains(t, plate, other)
	}
	assert.Contains(t, part(`data-group="progress"`, `>`), `data-held hidden`)
	// Only named rows of a specification can be kept for later: a part that was fitted is no such row.
	assert.NotContains(t, part(`data-list="parts"`, `</fieldset>`), `data-do="keep"`)
	assert.NotContains(t, part(`data-list="passes"`, `</fieldset>`), `data-shelf`)
	assert.Contains(t, part(`data-list="specs"`, `</fieldset>`), `data-shelf="rows"`)
	assert.Contains(t, html, `class="tool beside" data-tool="torque"`)
}

// TestFilledIn checks that the words into which scripts put something have each placeholder once.
func TestFilledIn(t *testing.T) {
	words := newPage(speaker("en"), tonguesOf(Plan{Language: "en"})[0], nil).Words
	assert.Contains(t, words["placed"], "{0}")
	for _, e := range scriptWords.Words[0].Entries {
		for _, place := range placeholders(e[1]) {
			assert.Equal(t, 1, strings.Count(words[e[0]], place.(string)), e[0])
		}
	}
}

// TestNoThirdParty checks that no file of the site names another host, except in the names of XML namespaces and in licences.
func TestNoThirdParty(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	delete(files, "licences.txt") // a text, which a browser does not follow
	for name, content := range files {
		for _, m := range regexp.MustCompile(`https?://[^"'\s)]+`).FindAllString(string(content), -1) {
			assert.True(t, strings.HasPrefix(m, "http://www.w3.org/"), "%s: %s", name, m)
		}
	}
}

// TestNothingBecomesMarkup checks that the scripts make no markup or code of a text, with three exceptions: the page's script, which the
// policy lets in by its hash, the tools' forms, whose bytes are the version's, and a copy of a template of theirs, in which a row's number
// is put.
func TestNothingBecomesMarkup(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	ways := regexp.MustCompile(`innerHTML\s*\+?=|outerHTML|insertAdjacentHTML|setHTML|document\.write|createContextualFragment|` +
		`DOMParser|\beval\(|new Function|srcdoc|javascript:|createElement\(["']script`)
	var found, shipped []string
	scripts := filesBelow(t, "assets", ends(".js"))
	maps.Copy(scripts, filesBelow(t, "page", ends(".js")))
	for path, content := range scripts {
		for _, m := range ways.FindAllString(content, -1) {
			found = append(found, path+": "+strings.ReplaceAll(m, " ", ""))
		}
	}
	want := []string{"assets/markup.js: innerHTML=", "assets/lists.js: innerHTML=", "page/core.js: createElement('script"}
	assert.ElementsMatch(t, want, found)
	for name, content := range files {
		if strings.HasSuffix(name, ".js") {
			shipped = append(shipped, ways.FindAllString(string(content), -1)...)
		}
	}
	assert.Len(t, shipped, len(found), "what is shipped may be in fewer files: %v", shipped)
}

// TestLanguages checks that a language without words is refused, and that the error lists the languages there are.
func TestLanguages(t *testing.T) {
	_, err := Files(nil, nil, Plan{Language: "tlh"})
	assert.ErrorContains(t, err, `no language "tlh"; want en`)
}

// TestRuns compares a slider's run in each unit with figures worked out by hand: decimal prefixes keep the steps, other
// units get round ones, and the ends are never inside the declared range.
func TestRuns(t *testing.T) {
	unit := func(k quantity.Kind, symbol string) quantity.Unit {
		for _, u := range quantity.Units(k) {
			if u.Symbol == symbol {
				return u
			}
		}
		t.Fatal("no unit " + symbol)
		return quantity.Unit{}
	}
	for name, c := range map[string]struct {
		slide tool.Slide
		unit  quantity.Unit
		want  run
	}{
		"volts": {tool.Slide{From: 6, To: 32, Step: 0.1}, unit(quantity.OfVoltage, "V"), run{From: 6, To: 32, Step: 0.1, Times: 1}},
		"millivolts": {tool.Slide{From: 6, To: 32, Step: 0.1}, unit(quantity.OfVoltage, "mV"), run{From: 6000, To: 32000,
			Step: 100, Times: 1000}},
		"a share": {tool.Slide{From: 0, To: 1, Step: 0.01}, unit(quantity.OfRatio, "%"), run{From: 0, To: 100, Step: 1, Times: 100}},
		"Fahrenheit": {tool.Slide{From: -40, To: 180, Step: 1}, unit(quantity.OfTemperature, "degF"), run{From: -40, To: 356,
			Step: 1, Times: 1.8, Plus: 32}},
		"outwards": {tool.Slide{From: -39, To: 151, Step: 5}, unit(quantity.OfTemperature, "degF"), run{From: -40, To: 305,
			Step: 5, Times: 1.8, Plus: 32}},
		"kelvin": {tool.Slide{From: -40, To: 180, Step: 1}, unit(quantity.OfTemperature, "K"), run{From: 233, To: 454,
			Step: 1, Times: 1, Plus: 273.15}},
		"hertz":     {tool.Slide{From: 5, To: 20000, Ratio: true}, unit(quantity.OfFrequency, "Hz"), run{From: 5, To: 20000, Times: 1}},
		"kilohertz": {tool.Slide{From: 5, To: 20000, Ratio: true}, unit(quantity.OfFrequency, "kHz"), run{From: 0.005, To: 20, Times: 0.001}},
		"millihenries": {tool.Slide{From: 0, To: 0.2, Step: 0.0005}, unit(quantity.OfInductance, "mH"), run{From: 0, To: 200,
			Step: 0.5, Times: 1000}},
	} {
		assert.Equal(t, c.want, runIn(c.slide, c.unit), name)
	}
}

// TestEverySliderRuns checks that every slider has a run in each unit that its field offers, that defaults are within the
// run, and that a form has its answer beside it only if it needs that.
func TestEverySliderRuns(t *testing.T) {
	seen := 0
	var walk func(fields []*tool.Field)
	walk = func(fields []*tool.Field) {
		for _, d := range fields {
			walk(d.Fields)
			slider := d.Page.Slide
			if slider == nil {
				continue
			}
			seen++
			s := newSlide(d)
			for _, u := range offered(d) {
				r, ok := s.Runs[u.Symbol]
				if !assert.True(t, ok, "%s in %s", d.Name, u.Symbol) {
					continue
				}
				assert.Less(t, r.From, r.To, d.Name)
				assert.Equal(t, slider.Ratio, r.Step == 0, d.Name)
				assert.LessOrEqual(t, r.From, slider.From*r.Times+r.Plus+1e-9)
				assert.GreaterOrEqual(t, r.To, slider.To*r.Times+r.Plus-1e-9)
				assert.True(t, d.Range.Holds(slider.From) && d.Range.Holds(slider.To),
					"%s: the slider reaches values outside the field's range", d.Name)
				if r.Start != nil {
					assert.True(t, r.From <= *r.Start && *r.Start <= r.To, "%s: its default is outside the slider's run", d.Name)
				}
			}
		}
	}
	for _, tl := range tools.All {
		walk(tl.Fields)
	}
	assert.Positive(t, seen)
	html := pageIn(t, "en")
	assert.Equal(t, seen, strings.Count(html, `type="range"`))
	assert.Contains(t, html, `class="tool beside slides" data-tool="drive"`)
	assert.Contains(t, html, `class="tool beside" data-tool="circuit"`)
	assert.Contains(t, html, `class="tool" data-tool="winding"`)
}

// TestUnitsAreOffered checks that units are offered in the declared order, since the first is preselected.
func TestUnitsAreOffered(t *testing.T) {
	d := tool.Field{Kinds: []quantity.Kind{quantity.OfInductance}, Page: tool.Hints{Offer: []string{"mH", "H"}}}
	units := offered(&d)
	assert.Equal(t, "mH", units[0].Symbol)
	assert.Len(t, units, 2)
	d.Page.Offer = nil
	assert.Equal(t, []quantity.Unit{quantity.Units(quantity.OfInductance)[0]}, offered(&d))
}
