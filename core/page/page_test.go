package page

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

type form = map[string]string

func toolNamed(name string) *tool.Tool {
	t, ok := tools.Named(name)
	if !ok {
		panic("no tool " + name)
	}
	return t
}

func answer(given form) Reply { return Answer(toolNamed("winding"), given, tools.English()) }

func shown(t *testing.T, v any) string {
	b, err := json.Marshal(v)
	require.NoError(t, err)
	return string(b)
}

// TestEmptyForm checks that an empty form says what is needed, and is not answered.
func TestEmptyForm(t *testing.T) {
	r := answer(form{})
	assert.False(t, r.Answered)
	assert.Contains(t, shown(t, r.Head), tools.English().Say("winding.reading"))
	assert.NotContains(t, shown(t, r.Head), tools.English().Say("winding.at"), "it may be left out")
	assert.NotNil(t, r.Body)
	assert.NotNil(t, r.Echo)
}

// TestPartsFailAlone checks that a part with a fault is named and left out, and the rest is answered.
func TestPartsFailAlone(t *testing.T) {
	for name, c := range map[string]struct {
		wrong form
		field string
	}{
		"a row":        {form{"specs.1.min": "x"}, "specs.1.min"},
		"a good part":  {form{"known_good.reading": "12 ohm"}, "known_good.at"},
		"a driver":     {form{"driver_limit": "3 A"}, "supply"},
		"a reference":  {form{"reference": "-300 degC"}, "reference"},
		"all the rows": {form{"specs": "x"}, ""},
	} {
		given := form{"reading": "12 ohm", "at": "20 degC", "specs.0.min": "10 ohm"}
		for k, v := range c.wrong {
			given[k] = v
		}
		r := answer(given)
		assert.True(t, r.Answered, name)
		if c.field != "" && assert.Len(t, r.Notes, 1, name) {
			assert.Equal(t, c.field, r.Notes[0].Field)
			assert.Contains(t, shown(t, r.Body), "left-out", name)
		}
	}
	for _, wrong := range []form{{"reading": "x"}, {"at": "x"}, {"leads": "x"}, {"meter.percent": "x"}, {"material": "gold"},
		{"leads": "13 ohm"}} {
		given := form{"reading": "12 ohm", "at": "20 degC"}
		for k, v := range wrong {
			given[k] = v
		}
		r := answer(given)
		assert.False(t, r.Answered, "%v", wrong)
		assert.NotEmpty(t, r.Notes, "%v", wrong)
	}
}

// TestRowsKeepTheirNumbers checks that a note belongs to the row with the fault, and that leaving a row out does not pass
// its number to the next row.
func TestRowsKeepTheirNumbers(t *testing.T) {
	r := answer(form{"reading": "12 ohm", "at": "20 degC", "specs.0.min": "x", "specs.1.min": "10 ohm"})
	require.True(t, r.Answered)
	assert.True(t, strings.Contains(shown(t, r.Body), `"row 2"`), "the row that was answered is the second, and is called another")
}

func TestGapsBetweenRows(t *testing.T) {
	r := answer(form{"reading": "12 ohm", "at": "20 degC", "specs.1.min": "10 ohm", "specs.3.min": "x"})
	require.Len(t, r.Notes, 1)
	assert.Equal(t, "specs.3.min", r.Notes[0].Field, "the note belongs to the form's own row")
	assert.True(t, r.Answered, "the good row answers")
}

// TestReadersNotation checks that a form is read in the reader's notation, while its link is in the plain one.
func TestReadersNotation(t *testing.T) {
	german := tools.Speaker("de", "de")
	r := Answer(toolNamed("winding"), form{"reading": "1,250 ohm", "at": "20 degC"}, german)
	require.True(t, r.Answered)
	assert.Contains(t, r.Link, "reading=1.250ohm")
	r = Answer(toolNamed("winding"), form{"reading": "1.250 ohm", "at": "20 degC"}, german)
	require.False(t, r.Answered)
	assert.Equal(t, tool.Ambiguous, r.Notes[0].Code)
}

// TestLinkOfTheFormGivesTheForm checks that opening the link shown with an answer gives the same form again.
func TestLinkOfTheFormGivesTheForm(t *testing.T) {
	for _, locale := range []string{"en", "de", "fr"} {
		speak := tools.Speaker(locale, locale)
		r := Answer(toolNamed("winding"), form{"reading": "6.90 ohm", "at": "75.2 degF", "leads": "300 mohm",
			"specs.0.name": "a & b = c", "specs.0.min": "5 ohm", "arrangement.series": "2"}, speak)
		require.True(t, r.Answered)
		f := Open(r.Link, speak)
		require.Empty(t, f.Notes)
		assert.Equal(t, "winding", f.Tool)
		assert.Equal(t, Field{"a & b = c", ""}, f.Fields["specs.0.name"])
		given := form{}
		for k, v := range f.Fields {
			given[k] = strings.TrimSpace(v.Text + " " + v.Unit)
		}
		again := Answer(toolNamed("winding"), given, speak)
		assert.Equal(t, r.Link, again.Link)
		assert.Equal(t, shown(t, r.Head), shown(t, again.Head))
	}
}

// TestEcho checks that a reading is repeated in words, including a short circuit and OL.
func TestEcho(t *testing.T) {
	for given, want := range map[string]string{"OL": "open: no path", "0 ohm": "dead short: no resistance", "1200 mohm": "1.2\u00a0Ω"} {
		assert.Equal(t, want, answer(form{"reading": given, "at": "20 degC"}).Echo["reading"])
	}
	for given, test := range map[string]string{"0 V": "voltage_pin_on", "0 A": "current_on"} {
		f := form{"readings.0.test": test, "readings.0.value": strings.ReplaceAll(given, " ", " ")}
		assert.Equal(t, given, Answer(toolNamed("circuit"), f, tools.English()).Echo["readings.0.value"], "no volts are no dead short")
	}
}

// checkReply checks what the page needs of every reply.
func checkReply(t testing.TB, given form, r Reply) {
	b, err := json.Marshal(r)
	if err != nil || !json.Valid(b) {
		t.Fatalf("%v: MarshalJSON fails or writes no JSON: %v", given, err)
	}
	if r.Head == nil || r.Body == nil || r.Notes == nil || r.Echo == nil {
		t.Fatalf("%v: the reply has a null: %s", given, b)
	}
	for _, n := range r.Notes {
		if n.Code == "" || n.Text == "" || n.Code == tool.Broken {
			t.Fatalf("%v: a note lacks code or text, or the program is at fault: %+v", given, n)
		}
	}
	if !r.Answered && len(r.Notes) == 0 {
		t.Fatalf("%v: neither an answer nor a note", given)
	}
	for _, bad := range []string{"NaN", "Infinity", "+Inf", "∞ "} {
		if strings.Contains(string(b), bad) && !strings.Contains(shownForm(given), bad[:3]) {
			t.Fatalf("%v: the reply contains %s: %s", given, bad, b)
		}
	}
}

func shownForm(given form) string {
	var b strings.Builder
	for k, v := range given {
		b.WriteString(k + " " + v + " ")
	}
	return b.String()
}

// sameForm checks that the form which a reply's link opens as gets an answer if the reply had one, and that its own link opens as the
// same form again.
func sameForm(t *testing.T, tl *tool.Tool, r Reply) {
	if tl.Hand != nil { // what is handed on is no link of the form
		return
	}
	again := func(r Reply) (Reply, []Note) {
		opened := Open(r.Link, tools.English())
		given := form{}
		for key, field := range opened.Fields {
			given[key] = field.Text
			if field.Unit != "" {
				given[key] += " " + field.Unit
			}
		}
		return Answer(tl, given, tools.English()), opened.Notes
	}
	second, notes := again(r)
	if len(notes) > 0 {
		return
	}
	if third, _ := again(second); r.Answered && !second.Answered || third.Link != second.Link {
		t.Fatalf("%s: a form with the link %q (answered: %v) opens as one with %q (%v), and that as %q", tl.Name, r.Link, r.Answered,
			second.Link, second.Answered, third.Link)
	}
}

// FuzzAnswer checks that a form with any keys and values gets a reply. The form is written as lines of key=value.
func FuzzAnswer(f *testing.F) {
	vs, err := testdata.OfTools()
	if err != nil {
		f.Fatal(err)
	}
	speak := tools.English()
	for _, v := range vs {
		tl, ok := tools.Named(v.In.Tool)
		if !ok || len(v.In.Request) > 4000 {
			continue
		}
		o := tl.Answer(v.In.Request, speak.Mark(), speak)
		if o.Record == nil {
			continue
		}
		d, _ := link.Read(link.Write(tl, o.Record), speak)
		lines := []string{}
		for k, v := range d.Given {
			lines = append(lines, k+"="+v)
		}
		which := uint8(slices.Index(tools.All, tl))
		f.Add(strings.Join(lines, "\n"), which, "en")
		f.Add(strings.Join(lines, "\n"), which, "de")
	}
	f.Add("specs.0.min=x\nspecs.7.min=5 ohm\nspecs.x=1\nspecs=2\nreading=5 ohm\nat=20 degC", uint8(0), "fr")
	f.Add("a.b.c.d.e.f.g.h.i=1\n.=2\n..=3\n=4", uint8(1), "ar")
	f.Fuzz(func(t *testing.T, lines string, which uint8, locale string) {
		tl := tools.All[int(which)%len(tools.All)]
		if len(locale) > 20 {
			locale = "en"
		}
		given := form{}
		for _, line := range strings.Split(lines, "\n") {
			k, v, _ := strings.Cut(line, "=")
			given[k] = v
		}
		r := Answer(tl, given, tools.Speaker(locale, locale))
		checkReply(t, given, r)
		if r.Link != "" {
			shown, err := json.Marshal(Open(r.Link, speak))
			if err != nil || !json.Valid(shown) {
				t.Fatalf("%v: its link %q does not open: %v", given, r.Link, err)
			}
			sameForm(t, tl, r)
		}
	})
}

// TestFileIsNotCut checks that the text of a file is read as a whole, and any other text is cut.
func TestFileIsNotCut(t *testing.T) {
	recording := toolNamed("trace").Field("recording")
	require.NotNil(t, recording)
	require.True(t, recording.File)
	var b strings.Builder
	b.WriteString("s,A\n")
	for i := range 20000 {
		fmt.Fprintf(&b, "%.6f,%.4f\n", float64(i)*1e-6, 1.9*(1-math.Exp(-float64(i)*1e-6/1.5e-3)))
	}
	require.Greater(t, b.Len(), 100*longest)
	r := Answer(toolNamed("trace"), form{"recording": b.String(), "supply": "13.8 V"}, tools.English())
	assert.True(t, r.Answered, "%v", r.Notes)
	assert.Contains(t, shown(t, r.Body), "20000", "all samples were read")
	assert.Equal(t, []string{"recording"}, r.Left)
	assert.NotContains(t, r.Link, "recording")
	assert.Contains(t, r.Link, "supply=13.8V")
	r = Answer(toolNamed("trace"), form{"recording": b.String(), "supply": strings.Repeat("1", 1<<20)}, tools.English())
	assert.False(t, r.Answered)
	assert.Less(t, len(r.Link), 3*longest+100)
}

// TestNoFigureWithoutItsAdapter checks that if there is a fault in the adapter, the torque is not answered as if there
// were no adapter, while the bolts are still answered.
func TestNoFigureWithoutItsAdapter(t *testing.T) {
	for what, given := range map[string]form{
		"mistyped":    {"adapter.wrench": "300 mm", "adapter.extension": "50 mm", "adapter.angle": "4o deg"},
		"too long":    {"adapter.wrench": "300 mm", "adapter.extension": "300 mm"},
		"half filled": {"adapter.wrench": "300 mm"},
		"wrench":      {"wrench.max": "abc"},
	} {
		given["torque"] = "10 N.m"
		r := Answer(toolNamed("torque"), given, tools.English())
		assert.False(t, r.Answered, what)
		given["pattern.count"] = "6"
		r = Answer(toolNamed("torque"), given, tools.English())
		assert.True(t, r.Answered, what)
		head, err := json.Marshal(r.Head)
		require.NoError(t, err)
		kind := "refused"
		if what == "half filled" {
			kind = "waiting"
		}
		assert.Contains(t, string(head), `"data-verdict":"`+kind+`"`, what)
		body := shown(t, r.Body)
		assert.Contains(t, body, "data-plate", what)
		assert.NotContains(t, body, "units-list", what)
		assert.NotContains(t, body, "10\u00a0N·m", what)
	}
}

// TestLinesAreNotCut checks the same for a text of several lines: a link contains all of it, and one that is too long is reported.
func TestLinesAreNotCut(t *testing.T) {
	table := strings.Repeat("M6  10 N·m  89 in-lb\n", 150) + "M8  25 N·m  180 ft-lb\n"
	require.Greater(t, len(table), 3*longest)
	r := Answer(toolNamed("torque"), form{"table": table}, tools.English())
	assert.True(t, r.Answered, "%v", r.Notes)
	assert.Contains(t, shown(t, r.Body), `"data-line":"151"`)
	assert.Contains(t, r.Link, "180")
	r = Answer(toolNamed("torque"), form{"table": strings.Repeat(table, 4)}, tools.English())
	assert.False(t, r.Answered)
	require.Len(t, r.Notes, 1)
	assert.Equal(t, "table", r.Notes[0].Field)
	assert.Equal(t, tool.OutOf, r.Notes[0].Code)
}

// TestLeftIsAList checks that Left is an empty list, not null, if nothing was left out of the link, so that a script finds a list.
func TestLeftIsAList(t *testing.T) {
	assert.Contains(t, shown(t, answer(form{"reading": "6.9 ohm", "at": "88 degC"})), `"left":[]`)
	assert.Contains(t, shown(t, answer(form{})), `"values":{}`)
}

// TestValues checks that the page is told where its sliders are: in the contract's unit, also for values out of range, but
// not for texts that cannot be read.
func TestValues(t *testing.T) {
	at := func(given form, speak *wording.Speaker) map[string]float64 {
		return Answer(toolNamed("drive"), given, speak).Values
	}
	english := tools.English()
	assert.Equal(t, map[string]float64{"supply": 13.8, "duty": 0.45, "frequency": 1200}, at(form{"supply": "13800 mV",
		"duty": "45 %", "frequency": "1.2 kHz", "resistance": "5.3 ohm"}, english))
	assert.Equal(t, map[string]float64{"duty": 1.3}, at(form{"duty": "130 %"}, english))
	assert.Equal(t, map[string]float64{"supply": 13.8}, at(form{"supply": "13,8 V"}, tools.Speaker("de", "de")))
	assert.InDeltaMapValues(t, map[string]float64{"thermal.ambient": 25}, at(form{"thermal.ambient": "77 degF"}, english), 1e-9)
	assert.Empty(t, at(form{"supply": "abc V", "duty": "13 V"}, english))
}
