package markbook_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/markbook"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	sheets "ohmwright/core/tools/worksheet"
)

type object = map[string]any

// answered returns the result of a request that has to be answered.
func answered(t testing.TB, request object) object {
	t.Helper()
	in, err := json.Marshal(request)
	require.NoError(t, err)
	out, err := tools.Run("worksheet", in, tools.English())
	require.NoError(t, err, "%s\n%s", in, out)
	var response object
	require.NoError(t, json.Unmarshal(out, &response))
	return response["result"].(object)
}

// sheet is the sheet of these tests: a hidden fault and a hot winding.
func sheet(more object) object {
	o := object{"role": "student", "heading": "First hour", "due": "2026-11-30T08:00Z",
		"questions": []any{object{"kind": "fault_high", "level": "2"}, object{"kind": "hot_winding", "level": "2"}}}
	for k, v := range more {
		o[k] = v
	}
	return o
}

const tests = "resistance_component voltage_pin_on voltage_drop_return current_on voltage_pin_off insulation_component insulation_harness"

// work is what a student does: some readings, a repair, a figure that is right, or wrong by a slip, or anything.
func work(t testing.TB, r *rand.Rand, name string) object {
	o := sheet(object{"name": name, "handed": "2026-11-29T18:04Z"})
	list := strings.Fields(tests)
	n := r.IntN(len(list) + 1)
	var asked []any
	for _, test := range list[:n] {
		asked = append(asked, object{"test": test})
	}
	if asked != nil {
		o["asked"] = asked
	}
	repairs := []string{"component", "harness", "return_path", "control_unit", "nothing"}
	o["decisions"] = []any{object{"question": 1, "after": n, "repair": repairs[r.IntN(5)]},
		object{"question": 2, "value": 5 + r.Float64()*5, "unit": "ohm", "condition": "at_reference", "decision": "within",
			"reason": "heat_explains"}}
	return o
}

// handIn is the link that a student hands in.
func handIn(t testing.TB, o object) string {
	link, ok := answered(t, o)["hand_in"].(string)
	require.True(t, ok)
	return link
}

// disguises are what mail and chat do to a link.
var disguises = map[string]func(link string) string{
	"as it is":           func(l string) string { return l },
	"with an address":    func(l string) string { return "https://class.example/ohm/" + l },
	"brackets":           func(l string) string { return "<https://class.example/" + l + ">" },
	"a full stop":        func(l string) string { return "Here: https://class.example/" + l + "." },
	"parentheses":        func(l string) string { return "(see https://class.example/" + l + "), thanks!" },
	"wrapped at 72":      func(l string) string { return wrap("https://class.example/"+l, 72, "\n") },
	"wrapped and quoted": func(l string) string { return "> " + wrap("https://class.example/"+l, 70, "\r\n> ") },
	"entities": func(l string) string {
		return `<a href="https://class.example/` + strings.ReplaceAll(l, "&", "&amp;") + `">mine</a>`
	},
	"numeric entities": func(l string) string { return strings.ReplaceAll(l, "&", "&#38;") },
	"quoted-printable": func(l string) string {
		return wrap("https://class.example/"+strings.ReplaceAll(l, "=", "=3D"), 75, "=\r\n")
	},
	"a JSON text": func(l string) string { return `{"hand_in":"` + strings.ReplaceAll(l, "&", `\u0026`) + `"}` },
	"inside another link": func(l string) string {
		return "https://safe.example/?url=https%3A%2F%2Fclass.example%2F" + coded(l) + "&data=1"
	},
	"followed by a line":    func(l string) string { return l + "\nThat was hard.\nSee you" },
	"followed by no space":  func(l string) string { return l + "\u00bb and so on" },
	"markdown":              func(l string) string { return "[my work](https://class.example/" + l + ")" },
	"wrapped, then a line":  func(l string) string { return wrap("https://class.example/"+l, 60, "\n") + "\nBest\nme" },
	"wrapped with a stop":   func(l string) string { return wrap("https://class.example/"+l, 64, "\n") + ".\nBest" },
	"wrapped and indented":  func(l string) string { return "   " + wrap("https://class.example/"+l, 64, "\n   ") },
	"twice on one line":     func(l string) string { return l + " " + "https://class.example/#/winding?v=1&reading=5ohm" },
	"with spaces at breaks": func(l string) string { return wrap("https://class.example/"+l, 66, " \n") },
}

// wrap cuts a text into lines of so many bytes.
func wrap(s string, width int, with string) string {
	var lines []string
	for len(s) > width {
		at := width
		if with == "=\r\n" { // no escape is cut
			for s[at-1] == '=' || s[at-2] == '=' {
				at--
			}
		}
		lines, s = append(lines, s[:at]), s[at:]
	}
	return strings.Join(append(lines, s), with)
}

// coded writes every character but letters and digits as %XX, as a link has it that was put into another one.
func coded(s string) string {
	var b strings.Builder
	for i := range len(s) {
		c := s[i]
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_' || c == '.' {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

// TestLinksAreFound checks that a link is found whole in every disguise, alone and between other text.
func TestLinksAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for i := range 20 {
		link := handIn(t, work(t, r, "Żółć & Söhne #"+strconv.Itoa(i)))
		for name, put := range disguises {
			text := "Good morning\n" + put(link) + "\nand bye"
			got := markbook.Links(text)
			require.Len(t, got, 1, "%s:\n%s", name, text)
			require.Equal(t, link, got[0], name)
		}
	}
	assert.Empty(t, markbook.Links("nothing here: #/winding?v=1&reading=5ohm, worksheet?, #/worksheet"))
}

// TestUnsummedLinks checks that links typed by hand, which have no sum, are found up to their end.
func TestUnsummedLinks(t *testing.T) {
	const link = "#/worksheet?v=1&role=student&questions.0.kind=rows&name=bo"
	for text, want := range map[string]string{
		link: link, link + ".": link, "<" + link + ">": link, link + "\nThanks": link, link + "), and": link, link + "\n\nx=1": link,
		link + "&decisions.0.\nvalue=5.21": link + "&decisions.0.value=5.21",
	} {
		assert.Equal(t, []string{want}, markbook.Links(text), text)
	}
}

// pastedOf hands in for a class: in a chat with other text, each in another disguise, every seventh changed by hand, every ninth on a sheet
// of the student's own.
func pastedOf(t testing.TB, n int) (text string, want []object) {
	r := rand.New(rand.NewPCG(2, 2))
	var names []string
	for name := range disguises {
		names = append(names, name)
	}
	var b strings.Builder
	for i := range n {
		o := work(t, r, "student "+strconv.Itoa(i))
		honest := answered(t, o)
		link := honest["hand_in"].(string)
		row := object{"name": o["name"], "result": honest}
		switch {
		case i%7 == 3: // a repair put in by hand, after the sum was made
			forged := sheet(object{"name": o["name"], "handed": o["handed"], "decisions": o["decisions"], "asked": o["asked"]})
			if o["asked"] == nil {
				delete(forged, "asked")
			}
			decisions := append([]any{}, o["decisions"].([]any)...)
			decisions[0] = object{"question": 1, "after": decisions[0].(object)["after"], "repair": "harness"}
			forged["decisions"] = decisions
			row["result"], row["edited"] = answered(t, forged), true
			body, sum, _ := strings.Cut(link, sheets.SumKey)
			cut := strings.Index(body, "decisions.0.repair=") + len("decisions.0.repair=")
			rest := body[cut:]
			if end := strings.IndexByte(rest, '&'); end >= 0 {
				rest = rest[end:]
			} else {
				rest = ""
			}
			link = body[:cut] + "harness" + rest + sheets.SumKey + sum
			row["edited"] = sheets.SumOf(strings.TrimSuffix(link, sheets.SumKey+sum)) != sum
		case i%9 == 4: // a tolerance of the student's own, with a sum that is right
			body, _, _ := strings.Cut(link, sheets.SumKey)
			link = sheets.Summed(body + "&tolerance=10%25")
			row["changed"] = true
		}
		fmt.Fprintf(&b, "[%d] student %d: %s\n", i, i, disguises[names[i%len(names)]](link))
		want = append(want, row)
	}
	return b.String(), want
}

// TestClassIsMarkedAnew checks 200 hand-ins in a chat: each gets, to the last digit, what "run worksheet" gives for the work on the
// teacher's sheet; those changed by hand and those of another sheet are named.
func TestClassIsMarkedAnew(t *testing.T) {
	const n = 200
	text, want := pastedOf(t, n)
	book, faults, err := markbook.Open(answered(t, sheet(nil))["link"].(string), tools.English())
	require.NoError(t, err, faults)
	began := time.Now()
	rows, unread := book.Mark(text, tools.English())
	took := time.Since(began)
	assert.Zero(t, unread)
	require.Len(t, rows, n)
	for i, r := range rows {
		w := want[i]
		require.Equal(t, w["name"], r.Name)
		res := w["result"].(object)
		marks, all := 0.0, res["questions"].([]any)
		require.Len(t, r.Questions, len(all))
		for k, q := range all {
			d := q.(object)["decision"].(object)
			require.Equal(t, d["marks"], r.Questions[k].Marks, r.Name)
			require.Equal(t, d["right"], r.Questions[k].Right, r.Name)
			require.Equal(t, d["slip"], r.Questions[k].Slip, r.Name)
			if d["supported"] != nil {
				require.Equal(t, d["supported"], r.Questions[k].Supported, r.Name)
				require.Equal(t, d["minutes"], r.Questions[k].Minutes, r.Name)
			}
			marks += d["marks"].(float64) / 2
		}
		require.Equal(t, res["marks"], r.Marks)
		assert.Equal(t, w["edited"] == true, r.Has(markbook.Edited), "%s: %v", r.Name, r.Notes)
		assert.Equal(t, w["changed"] == true, r.Has(markbook.Changed), "%s: %v", r.Name, r.Notes)
		if w["changed"] == true {
			assert.Equal(t, []string{"tolerance"}, r.Changes)
		}
		assert.False(t, r.Has(markbook.Late) || r.Has(markbook.Unsummed))
	}
	t.Logf("%d hand-ins, %d bytes, marked in %v", n, len(text), took)
}

// BenchmarkMark times 200 hand-ins, which have to be marked in under a second.
func BenchmarkMark(b *testing.B) {
	text, _ := pastedOf(b, 200)
	book, _, err := markbook.Open(answered(b, sheet(nil))["link"].(string), tools.English())
	require.NoError(b, err)
	for b.Loop() {
		book.Mark(text, tools.English())
	}
}

// TestNotes checks what is said of a hand-in beside its marks.
func TestNotes(t *testing.T) {
	s := tools.English()
	book, _, err := markbook.Open(answered(t, sheet(nil))["link"].(string), s)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(3, 3))
	one := work(t, r, "Ann")
	link := handIn(t, one)
	one["handed"] = "2026-11-30T08:01Z"
	late := handIn(t, one)
	delete(one, "handed")
	untimed := handIn(t, one)
	one["decisions"] = one["decisions"].([]any)[:1]
	half := handIn(t, one)
	other := handIn(t, func() object {
		o := work(t, r, "Cem")
		o["questions"] = []any{object{"kind": "fault_low", "level": "2"}, object{"kind": "hot_winding", "level": "2"}}
		o["asked"] = []any{object{"test": "voltage_feed"}}
		o["decisions"] = []any{object{"question": 1, "repair": "harness"}}
		return o
	}())
	text := strings.Join([]string{link, link, late, strings.ReplaceAll(untimed, "name=Ann", "name=ANN"),
		strings.ReplaceAll(half, "Ann", "Bo"), other, strings.ReplaceAll(link, "name=Ann&", ""), answered(t, sheet(nil))["link"].(string)}, "\n")
	want := [][]markbook.Note{
		{}, {markbook.Again}, {markbook.Second, markbook.Late}, {markbook.Edited, markbook.Second, markbook.Untimed},
		{markbook.Edited, markbook.Untimed, markbook.Undecided}, {markbook.Refused, markbook.Changed}, {markbook.Nameless, markbook.Edited},
	}
	rows, unread := book.Mark(text, s)
	assert.Zero(t, unread)
	require.Len(t, rows, len(want), "the sheet's own link is none that was handed in")
	for i, r := range rows {
		assert.ElementsMatch(t, want[i], r.Notes, "%d: %s", i, r.Why)
	}
	assert.Equal(t, []string{"questions"}, rows[5].Changes)
	table := markbook.Table(rows, s)
	assert.Contains(t, table[6][6], "does not fit this sheet: This circuit has no such test")
	assert.Contains(t, table[6][6], "another sheet: Questions")
	assert.Contains(t, table[7][6], "no name")
}

// TestDrawingsStayApart checks that a class whose link was given out while there was one way of drawing is marked by that one: the link and
// the hand-ins, which say nothing of it, are of one sheet. On a sheet that is drawn otherwise they are from another, and marked by the
// figures that they were given. A hand-in that lost its end in the mail still says how it was drawn.
func TestDrawingsStayApart(t *testing.T) {
	const first = "#/worksheet?v=1&role=student&questions.0.kind=fault_low&questions.0.level=3"
	work := object{"role": "student", "name": "Ann", "questions": []any{object{"kind": "fault_low", "level": "3"}},
		"asked": []any{object{"test": "insulation_harness"}}, "decisions": []any{object{"repair": "harness"}}}
	supported := func(drawing int) float64 {
		work["drawing"] = drawing
		return answered(t, work)["questions"].([]any)[0].(object)["decision"].(object)["supported"].(float64)
	}
	require.NotEqual(t, supported(1), supported(2))
	handed := sheets.Summed(first + "&name=Ann&asked.0.test=insulation_harness&decisions.0.repair=harness")
	again := handIn(t, work) // in the second
	cut := again[:strings.Index(again, "&decisions")+14]
	for i, sheet := range []string{first, first + "&drawing=2"} {
		book, faults, err := markbook.Open(sheet, tools.English())
		require.NoError(t, err, faults)
		rows, unread := book.Mark(strings.Join([]string{handed, again, cut}, "\n\n"), tools.English())
		require.Zero(t, unread)
		require.Len(t, rows, 3)
		for j, drawing := range []int{1, 2, 2} {
			assert.Equal(t, drawing != i+1, rows[j].Has(markbook.Changed), "hand-in %d on sheet %d: %v", j, i, rows[j].Changes)
			assert.False(t, rows[j].Has(markbook.Edited))
		}
		assert.Equal(t, supported(1), rows[0].Questions[0].Supported)
		assert.Equal(t, supported(2), rows[1].Questions[0].Supported)
	}
}

// TestNothingRunsInASpreadsheet checks that no cell begins like a formula, in either form, and that a name with everything in it stays one
// cell.
func TestNothingRunsInASpreadsheet(t *testing.T) {
	for _, name := range []string{"=1+1", "+49 170", "-x", "@sum", "\t=x", " =cmd|' /C calc'!A0", "＝1", "−5", "|x", "a\"b,c;d\te\nf",
		"'=1", "\"=1", "Ann;=1+1;", "Bo, =1+1", "x\";=cmd|' /C calc'!A0;\""} {
		table := [][]string{{"Name", "Marks"}, {name, "1"}}
		tsv, csv, german := markbook.TSV(table), markbook.CSV(table, quantity.Point), markbook.CSV(table, quantity.Comma)
		assert.True(t, strings.HasPrefix(csv, "\ufeffName,") && strings.HasPrefix(german, "\ufeffName;"), "%q %q", csv, german)
		assert.Equal(t, 2, strings.Count(tsv, "\n"), "%q", tsv)
		assert.Equal(t, 2, strings.Count(tsv, "\t"), "%q", tsv)
		pasted := strings.Split(strings.Split(tsv, "\n")[1], "\t")[0]
		for _, cell := range []string{pasted, firstCell(t, csv, ","), firstCell(t, german, ";")} {
			first := []rune(strings.TrimLeft(cell, " \"'\u00a0"))[0]
			if strings.ContainsRune("=+-@|%＝＋－＠−", first) {
				assert.True(t, strings.HasPrefix(cell, "'"), "%q gives the cell %q", name, cell)
			}
		}
		// A spreadsheet that takes the other sign for its separator: whatever stands behind one of them begins no formula.
		for _, file := range []string{tsv, csv, german} {
			for _, cell := range strings.FieldsFunc(file, func(r rune) bool { return strings.ContainsRune(",;\t\r\n", r) }) {
				cell = strings.TrimLeft(cell, " \"\u00a0\ufeff")
				assert.False(t, cell != "" && strings.ContainsRune("=+-@|%＝＋－＠−", []rune(cell)[0]), "%q holds %q", file, cell)
			}
		}
	}
}

// firstCell reads the first cell of the second line, as RFC 4180 has it.
func firstCell(t *testing.T, csv, separator string) string {
	lines := strings.Split(csv, "\r\n")
	require.Len(t, lines, 3, "%q", csv)
	l := lines[1]
	if !strings.HasPrefix(l, `"`) {
		cell, _, _ := strings.Cut(l, separator)
		return cell
	}
	for i := 1; i < len(l); i++ {
		if l[i] == '"' {
			if i+1 < len(l) && l[i+1] == '"' {
				i++
				continue
			}
			return strings.ReplaceAll(l[1:i], `""`, `"`)
		}
	}
	require.Fail(t, "a cell without an end", csv)
	return ""
}

// TestOpenSheet checks that a sheet is opened from its link however it is given, and refused in words.
func TestOpenSheet(t *testing.T) {
	s := tools.English()
	for _, text := range []string{"#/worksheet?v=1&questions.0.kind=rows",
		"see <https://x.example/#/worksheet?v=1&amp;questions.0.kind=rows>."} {
		_, faults, err := markbook.Open(text, s)
		assert.NoError(t, err, "%v", faults)
	}
	for _, text := range []string{"", "#/winding?v=1", "#/worksheet?v=1", "#/worksheet?v=1&questions.0.kind=x",
		"#/worksheet?v=1&questions.0.kind=fault_high&questions.1.kind=fault_low"} {
		_, _, err := markbook.Open(text, s)
		assert.ErrorIs(t, err, markbook.ErrSheet, text)
	}
	_, faults, _ := markbook.Open("#/worksheet?v=1&questions.0.kind=x", s)
	require.NotEmpty(t, faults)
	assert.Equal(t, tool.Unknown, faults[0].Code)
}

// FuzzLinks checks that any text is looked through without harm: what is found begins like a link, is no longer than allowed, and is found
// again; and what was handed in is found whole, whatever stands before and after it.
func FuzzLinks(f *testing.F) {
	link := sheets.Summed("#/worksheet?v=1&role=student&questions.0.kind=rows&name=bo&decisions.0.value=5.21")
	for _, put := range disguises {
		f.Add(put(link), "x")
	}
	for _, put := range forms {
		f.Add(put("x "+host, link), "x")
		f.Add(put("x "+host, link[:len(link)-5]), put("y ", link))
	}
	for _, s := range []string{"", "&", "&#", "&#x;", "%23%2Fworksheet%3F", "%23%2Fworksheet%3", "#/worksheet?v=3D1=", "#/worksheet?=\n=\n",
		"#/worksheet?#/worksheet?", "#/worksheet?v=1\n> > &sum=", `\u0026`, "#/worksheet?&sum=0123456"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, before, after string) {
		for _, l := range markbook.Links(before) {
			if !strings.HasPrefix(l, "#/worksheet?") || len(l) > markbook.Longest+100 {
				t.Fatalf("Links(%q) has %q", before, l)
			}
			if len(markbook.Links(l)) == 0 {
				t.Fatalf("Links(%q) has %q, in which it finds nothing", before, l)
			}
		}
		text := before + "\n \n" + link + " " + after
		if !slices.Contains(markbook.Links(text), link) {
			t.Fatalf("Links(%q) does not have %q", text, link)
		}
	})
}
