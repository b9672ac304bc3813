package link_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

func written(t *testing.T, request string) string {
	winding := named(t, "winding")
	o := winding.Answer([]byte(request), quantity.Point, tools.English())
	require.Empty(t, o.Faults)
	return link.Write(winding, o.Record)
}

func left(t *tool.Tool, r *tool.Record) []string {
	_, left := link.Written(t, r)
	return left
}

func named(t *testing.T, name string) *tool.Tool {
	tl, ok := tools.Named(name)
	require.True(t, ok, name)
	return tl
}

// pairs returns the flat keys and values of a request.
func pairs(t *testing.T, o tool.Outcome) []tool.Pair {
	require.NotNil(t, o.Record)
	return o.Record.Pairs()
}

// TestWrittenLink compares a link with its exact text: keys of the request joined by dots, defaults left out, no spaces.
func TestWrittenLink(t *testing.T) {
	assert.Equal(t, "#/winding?v=1&reading=6.9ohm&at=88degC&specs.0.min=5.0ohm&specs.0.max=5.6ohm",
		written(t,
			`{"at":"88 °C","reading":"6,9 Ω","at_within":"2 K","material":"copper","meter":{"percent":1},`+
				`"specs":[{"min":"5.0 ohm","max":"5.6 ohm","at":"20 degC"}]}`))
	assert.Equal(t, "#/winding?v=1&reading=OL&at=20degC&arrangement.series=2", written(t,
		`{"reading":"0.L","at":"20 degC","arrangement":{"series":2}}`))
}

// goldenLinks have been given out and must work for ever. Never change one; only add new ones.
var goldenLinks = [][2]string{
	{"#/winding?v=1&reading=6.9ohm&at=88degC&specs.0.min=5.0ohm&specs.0.max=5.6ohm",
		`{"at":"88degC","reading":"6.9ohm","specs":[{"max":"5.6ohm","min":"5.0ohm"}]}`},
	{"#/winding?v=1&reading=OL&at=20degC&arrangement.series=2",
		`{"arrangement":{"series":"2"},"at":"20degC","reading":"OL"}`},
	{"#/winding?v=1&reading=12ohm&at=75degF&specs.0.name=2028+to+2030&specs.0.nominal=12ohm&specs.0.tolerance=10%25",
		`{"at":"75degF","reading":"12ohm","specs":[{"name":"2028 to 2030","nominal":"12ohm","tolerance":"10%"}]}`},
	{"#/winding?v=1&reading=12ohm&at=20degC&material.zero_resistance_at=-235degC&known_good.reading=12.5ohm",
		`{"at":"20degC","known_good":{"reading":"12.5ohm"},"material":{"zero_resistance_at":"-235degC"},"reading":"12ohm"}`},
	{"#/loop?v=1&supply=13.2V&current=1.65A&winding=5.3ohm&winding_temperature=88degC&driver=0.7V",
		`{"current":"1.65A","driver":"0.7V","supply":"13.2V","winding":"5.3ohm","winding_temperature":"88degC"}`},
	{"#/exercise?v=1&seed=Bench+4&asked.0.test=current_on", `{"seed":"Bench 4","drawing":1,"asked":[{"test":"current_on"}]}`},
	{"#/worksheet?v=1&role=student&questions.0.kind=fault_low&questions.0.level=3&name=Ann&decisions.0.repair=harness",
		`{"role":"student","name":"Ann","drawing":1,"questions":[{"kind":"fault_low","level":"3"}],"decisions":[{"repair":"harness"}]}`},
}

// TestLinkSaysItsWayOfDrawing checks that a link to an exercise says how its name is taken, also where that is the default: what links hide
// that were given out without it must not change. An address without figures has nothing of it.
func TestLinkSaysItsWayOfDrawing(t *testing.T) {
	exercise := named(t, "exercise")
	asked := exercise.Answer([]byte(`{"seed":"Bench 4"}`), quantity.Point, tools.English())
	require.Empty(t, asked.Faults)
	assert.Equal(t, "#/exercise?v=1&seed=Bench+4&drawing=2", link.Write(exercise, asked.Record))
	empty, faults := link.Read("#/exercise?v=1", tools.English())
	assert.Empty(t, faults)
	assert.Empty(t, empty.Given)
	begun, faults := link.Read("#/exercise?v=1&level=2&side=low", tools.English())
	assert.Empty(t, faults)
	assert.NotContains(t, begun.Given, "drawing", "its name is typed yet")
}

func TestGoldenLinksOpen(t *testing.T) {
	for _, golden := range goldenLinks {
		text, want := golden[0], golden[1]
		for _, before := range []string{"", "https://example.org/page.html", "  "} {
			d, faults := link.Read(before+text, tools.English())
			require.Empty(t, faults, text)
			asked := d.Tool.Answer([]byte(want), quantity.Point, tools.English())
			opened := d.Tool.Ask(d.Request(), quantity.Point, tools.English(), tool.Full)
			assert.Equal(t, pairs(t, asked), pairs(t, opened), text)
			assert.Equal(t, asked.Faults, opened.Faults, text)
		}
	}
}

// TestTypedByHand checks that links as people type them are read: unescaped signs, a per cent sign, no version.
func TestTypedByHand(t *testing.T) {
	d, faults := link.Read("/winding?reading=9,7Ω&at=24 °C&specs.0.nominal=12ohm&specs.0.tolerance=10%&", tools.English())
	require.Empty(t, faults)
	assert.Equal(t, map[string]string{"reading": "9,7Ω", "at": "24 °C", "specs.0.nominal": "12ohm", "specs.0.tolerance": "10%"}, d.Given)
}

// TestWrongLinks checks that whatever is wrong with a link is reported, and the rest opens.
func TestWrongLinks(t *testing.T) {
	for text, want := range map[string]struct {
		code tool.Code
		kept int
	}{
		"":                                        {tool.Unknown, 0},
		"#/widget?v=1&reading=5ohm":               {tool.Unknown, 0},
		"#/winding?v=99&reading=5ohm":             {tool.OutOf, 0},
		"#/winding?v=one&reading=5ohm":            {tool.Syntax, 1},
		"#/winding?v=1&reading=5ohm&at":           {tool.Syntax, 1},
		"#/winding?v=1&reading=5ohm&reading=6ohm": {tool.Conflict, 1},
		"#/winding?" + strings.Repeat("x", link.Longest+1): {tool.OutOf, 0},
	} {
		d, faults := link.Read(text, tools.English())
		if assert.Len(t, faults, 1, "%.60s", text) {
			assert.Equal(t, want.code, faults[0].Code, "%.60s", text)
			assert.NotEmpty(t, faults[0].Message)
			assert.NotEmpty(t, faults[0].Hint)
		}
		assert.Len(t, d.Given, want.kept, "%.60s", text)
	}
}

// TestOddNames checks that a tool is found however its name is typed.
func TestOddNames(t *testing.T) {
	for _, text := range []string{"#/winding/", "#/winding?", "#/WINDING", "#winding", "#/ Winding /?v=1&", "#/winding/?v=1"} {
		d, faults := link.Read(text, tools.English())
		assert.Empty(t, faults, text)
		if assert.NotNil(t, d.Tool, text) {
			assert.Equal(t, "winding", d.Tool.Name, text)
		}
		assert.Empty(t, d.Given, text)
	}
	d, faults := link.Read("#/winding?v=1&specs.0.name=which?&specs.0.source=a#b?c", tools.English())
	assert.Empty(t, faults)
	assert.Equal(t, map[string]string{"specs.0.name": "which?", "specs.0.source": "a#b?c"}, d.Given)
}

// TestRowsThatCannotBe checks that keys of rows with odd numbers are named and leave the others alone.
func TestRowsThatCannotBe(t *testing.T) {
	const last = "specs.999999999.min"
	for _, index := range []string{"100000000000000000000", "1000000000", "-1", "00", "01"} {
		d, faults := link.Read("#/winding?v=1&reading=5ohm&specs."+index+".min=4ohm&"+last+"=3ohm", tools.English())
		if assert.Len(t, faults, 1, index) {
			assert.Equal(t, tool.Unknown, faults[0].Code)
			assert.Equal(t, "specs."+index+".min", faults[0].Field)
		}
		assert.Equal(t, map[string]string{"reading": "5ohm", last: "3ohm"}, d.Given)
		assert.Equal(t, "3ohm", d.Compact().Given["specs.0.min"])
	}
}

// TestManyOfAKindAreCounted checks that the same fault of many keys is one fault that counts them.
func TestManyOfAKindAreCounted(t *testing.T) {
	var cut, twice, rows strings.Builder
	for i := range 30_000 {
		n := strconv.Itoa(i)
		cut.WriteString("&k" + n)
		twice.WriteString("&at=" + n)
		rows.WriteString("&specs." + n + "0000000000.min=5")
	}
	for query, code := range map[string]tool.Code{cut.String(): tool.Syntax, twice.String(): tool.Conflict, rows.String(): tool.Unknown} {
		_, faults := link.Read("#/winding?v=1&at=5degC&specs.0.min=5"+query, tools.English())
		if assert.Len(t, faults, 1, "%.40s", query) {
			assert.Equal(t, code, faults[0].Code)
			assert.Regexp(t, "30,?000|29,?999", faults[0].Message)
		}
	}
}

// TestLongestRequestHasALink checks that every request with an answer has a link that opens, however long its texts are:
// here sixty rows with long names in a script that has to be escaped.
func TestLongestRequestHasALink(t *testing.T) {
	rows := []map[string]string{}
	for range 60 {
		rows = append(rows, map[string]string{"min": "10 ohm", "name": strings.Repeat("я", 60), "applies_to": strings.Repeat("я",
			200), "source": strings.Repeat("я", 150)})
	}
	request, err := json.Marshal(map[string]any{"reading": "12 ohm", "at": "20 degC", "specs": rows})
	require.NoError(t, err)
	require.LessOrEqual(t, len(request), tool.MaxRequest)
	d, faults := link.Read(written(t, string(request)), tools.English())
	if assert.Empty(t, faults, "the link of a request of %d bytes does not open", len(request)) {
		assert.Equal(t, "12ohm", d.Given["reading"])
	}
}

func TestWithout(t *testing.T) {
	d := link.Draft{Tool: named(t, "winding"), Given: map[string]string{"specs.1.min": "a", "specs.10.min": "b", "specs": "c", "reading": "d"}}
	less, dropped := d.Without("specs.1")
	assert.True(t, dropped)
	assert.Equal(t, map[string]string{"specs.10.min": "b", "specs": "c", "reading": "d"}, less.Given)
	_, dropped = d.Without("spec")
	assert.False(t, dropped)
	assert.Len(t, d.Given, 4, "the draft itself is untouched")
}

// TestFilesInLinks checks that a short file is part of the link and comes back unchanged, and that one that is too long is
// left out and listed.
func TestFilesInLinks(t *testing.T) {
	trace := named(t, "trace")
	ask := func(recording string) *tool.Record {
		request, err := json.Marshal(map[string]string{"supply": "13.8 V", "recording": recording})
		require.NoError(t, err)
		o := trace.Answer(request, quantity.Point, tools.English())
		require.NotNil(t, o.Record)
		return o.Record
	}
	short := "\nms;A\r\n0;0,5 % & = # ?\t\"µ\"\n" + strings.Repeat("%\n", 4000)
	require.LessOrEqual(t, len(short), tool.LinkedFile)
	r := ask(short)
	assert.Empty(t, left(trace, r))
	text := link.Write(trace, r)
	assert.Less(t, len(text), link.Longest)
	d, faults := link.Read(text, tools.English())
	require.Empty(t, faults)
	assert.Equal(t, short, d.Given["recording"])

	long := strings.Repeat("%", tool.LinkedFile+1)
	r = ask(long)
	assert.Equal(t, []string{"recording"}, left(trace, r))
	assert.Equal(t, "#/trace?v=1&supply=13.8V", link.Write(trace, r))
	assert.Empty(t, left(trace, ask(long[1:])), "a file of just that many bytes goes along")
}

// TestLanguageIsNoField checks that a link's language changes nothing, and that no tool has a field of that name.
func TestLanguageIsNoField(t *testing.T) {
	for _, tl := range tools.All {
		assert.Nil(t, tl.Field("language"), "%s: links have this key already", tl.Name)
	}
	plain, faults := link.Read("#/winding?v=1&reading=13ohm", tools.English())
	assert.Empty(t, faults)
	chosen, faults := link.Read("#/winding?v=1&reading=13ohm&language=de", tools.English())
	assert.Empty(t, faults)
	assert.Equal(t, plain, chosen)
}
