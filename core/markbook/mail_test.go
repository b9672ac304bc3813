package markbook_test

import (
	"encoding/base64"
	"fmt"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/markbook"
	"ohmwright/core/tools"
	sheets "ohmwright/core/tools/worksheet"
)

const host = "https://class.example/ohm/"

// soft writes a text as quoted-printable, with soft breaks that cut no escape.
func soft(s string) string { return wrap(strings.ReplaceAll(s, "=", "=3D"), 75, "=\r\n") }

func amp(s string) string { return strings.ReplaceAll(s, "&", "&amp;") }

// inside puts a link into another address.
func inside(l string) string { return "https://safe.example/?url=" + coded(l) + "&data=05%7C01" }

// forms are what mail makes of a line on which a link stands.
var forms = map[string]func(before, link string) string{
	"quoted-printable":               func(b, l string) string { return soft(b + l + " bye") },
	"quoted-printable, cut anywhere": func(b, l string) string { return wrap(b+strings.ReplaceAll(l, "=", "=3D")+" bye", 76, "=\n") },
	"quoted-printable HTML":          func(b, l string) string { return soft(`<p>` + b + `<a href="` + amp(l) + `">mine</a></p>`) },
	"quoted-printable &amp;amp;":     func(b, l string) string { return soft(b + `"` + amp(amp(l)) + `"`) },
	"quoted-printable, inside":       func(b, l string) string { return soft(b + inside(l) + " bye") },
	"quoted-printable HTML, inside":  func(b, l string) string { return soft(b + `<a href="` + amp(inside(l)) + `">mine</a>`) },
	"quoted-printable, inside twice": func(b, l string) string { return soft(b + inside(inside(l)) + " bye") },
	"wrapped":                        func(b, l string) string { return wrap(b+l, 72, "\n") + "\n\nbye" },
	"wrapped, then a line":           func(b, l string) string { return wrap(b+l, 72, "\r\n") + "\r\nbye" },
	"wrapped and quoted":             func(b, l string) string { return "> > " + wrap(b+l, 72, "\n> > ") + "\n> > bye" },
	"wrapped and indented":           func(b, l string) string { return "   " + wrap(b+l, 72, "\n   ") + "\n   bye" },
	"wrapped &amp;":                  func(b, l string) string { return wrap(b+amp(l), 72, "\n") + "\n\nbye" },
	"wrapped &amp;amp;":              func(b, l string) string { return wrap(b+amp(amp(l)), 72, "\n") + "\n\nbye" },
	"wrapped, inside":                func(b, l string) string { return wrap(b+inside(l), 72, "\n") + "\n\nbye" },
	"wrapped, inside, &amp;":         func(b, l string) string { return wrap(b+amp(inside(l)), 72, "\n") + "\n\nbye" },
	"wrapped, inside twice":          func(b, l string) string { return wrap(b+inside(inside(l)), 72, "\n") + "\n\nbye" },
	"wrapped with blank lines":       func(b, l string) string { return wrap(b+l, 72, "\n\n") + "\n\n(bye)" },
	"inside twice, one line":         func(b, l string) string { return b + inside(inside(l)) },
	"JSON":                           func(b, l string) string { return `{"t":"` + strings.ReplaceAll(b+l, "/", `\/`) + `"}` },
	"JSON, all of it": func(b, l string) string {
		return `{"t":"` + strings.NewReplacer("/", `\/`, "&", `\u0026`, "=", `\u003d`, "?", `\u003F`, "#", `\u0023`).Replace(b+l) + `"}`
	},
	"JSON in JSON": func(b, l string) string { return `{"t":"{\"u\":\"` + strings.ReplaceAll(b+l, "/", `\\/`) + `\"}"}` },
	"rewritten": func(b, l string) string {
		return b + strings.NewReplacer("+", "%20", "%C3", "%c3", ":", "%3A").Replace(l)
	},
	"base64": func(b, l string) string {
		return mailed("text/plain", b+l+"\nbye") + "--=_x\n" + mailed("image/png", "\x89PNG"+strings.Repeat(b, 9)) + "--=_x--\n"
	},
	"letters bare": func(b, l string) string { return b + strings.ReplaceAll(l, "%C3%B6", "ö") + " bye" },
}

// mailed is a part of a mail in base64.
func mailed(kind, text string) string {
	return "Content-Type: " + kind + ";\r\n charset=utf-8\r\nContent-Transfer-Encoding: base64\r\nX-Other: 1\r\n\r\n" +
		wrap(base64.StdEncoding.EncodeToString([]byte(text)), 76, "\r\n") + "\r\n\r\n"
}

// step is how far one place of a break is from the next: all are looked at, fewer where the tests run as a page's module.
func step() int {
	if runtime.GOARCH == "wasm" {
		return 15
	}
	return 1
}

// places calls do with a text for each form and each place of the break on its line, in which some links stand one after another.
func places(t *testing.T, links []string, do func(t *testing.T, text string)) {
	for name, put := range forms {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for n := 0; n < 76; n += step() {
				var b strings.Builder
				for _, l := range links {
					b.WriteString("Good morning\n" + put(strings.Repeat("x", n)+" "+host, l) + "\n")
				}
				do(t, b.String())
			}
		})
	}
}

// TestEveryBreak checks that a hand-in gives the same row in every form of mail, wherever on its line the break falls, and no other row.
func TestEveryBreak(t *testing.T) {
	s := tools.English()
	book, _, err := markbook.Open(answered(t, sheet(nil))["link"].(string), s)
	require.NoError(t, err)
	link := handIn(t, work(t, rand.New(rand.NewPCG(5, 5)), "Jörg Żółć"))
	want, _ := book.Mark(link, s)
	require.Len(t, want, 1)
	require.Empty(t, want[0].Notes)
	places(t, []string{link}, func(t *testing.T, text string) {
		rows, unread := book.Mark(text, s)
		require.Equal(t, want, rows, text)
		require.Zero(t, unread, text)
	})
}

// TestTwoStayTwo checks that of two hand-ins, one after another, none takes anything of the other: neither where both are whole nor where
// the first has lost its end.
func TestTwoStayTwo(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	one, two := handIn(t, work(t, r, "Jo")), handIn(t, work(t, r, "Jörg"))
	places(t, []string{one, two}, func(t *testing.T, text string) {
		require.Equal(t, []string{one, two}, markbook.Links(text), text)
	})
	for _, cut := range []int{1, 8, 9, 13, 31} {
		places(t, []string{one[:len(one)-cut], two}, func(t *testing.T, text string) {
			got := markbook.Links(text)
			require.Len(t, got, 2, text)
			require.Equal(t, two, got[1], text)
			require.True(t, strings.HasPrefix(one, strings.TrimSuffix(got[0], "bye")), "%s\n%s", text, got[0])
		})
	}
}

// TestCutAnywhere checks a hand-in that was cut after its name: wherever that is, it is marked as far as it goes, and said to have no end;
// never to be changed by hand.
func TestCutAnywhere(t *testing.T) {
	s := tools.English()
	book, _, err := markbook.Open(answered(t, sheet(nil))["link"].(string), s)
	require.NoError(t, err)
	link := handIn(t, work(t, rand.New(rand.NewPCG(8, 8)), "Ann"))
	whole, _ := book.Mark(link, s)
	named, done := strings.Index(link, "&name=Ann")+len("&name=Ann"), strings.Index(link, "&handed=")
	for end := named; end < len(link); end++ {
		for _, text := range []string{link[:end], "<" + host + link[:end] + ">", "see " + host + link[:end] + "… \nThanks", soft(link[:end]),
			wrap(host+link[:end], 72, "\n")} {
			rows, unread := book.Mark(text, s)
			require.Len(t, rows, 1, text)
			row := rows[0]
			require.Equal(t, "Ann", row.Name, text)
			require.Empty(t, row.Why, text)
			require.True(t, row.Has(markbook.Unsummed) && !row.Has(markbook.Edited) && !row.Has(markbook.Changed), "%s: %v", text, row.Notes)
			require.Zero(t, unread)
			if end >= done {
				require.Equal(t, whole[0].Marks, row.Marks, text)
				timed := end >= strings.Index(link, sheets.SumKey)
				require.Equal(t, !timed, row.Has(markbook.Untimed), text)
			}
		}
	}
}

// TestEditedInEveryForm checks that a hand-in that was changed by hand is said to be that, and marked as it stands, wherever its lines are
// broken.
func TestEditedInEveryForm(t *testing.T) {
	s := tools.English()
	book, _, err := markbook.Open(answered(t, sheet(nil))["link"].(string), s)
	require.NoError(t, err)
	one := work(t, rand.New(rand.NewPCG(11, 11)), "Ann")
	link := strings.ReplaceAll(handIn(t, one), "unit=ohm", "unit=V")
	want, _ := book.Mark(link, s)
	require.Equal(t, []markbook.Note{markbook.Edited}, want[0].Notes)
	for name, put := range forms {
		if strings.Contains(name, "blank") || strings.Contains(name, "bare") { // these only a sum can tell
			continue
		}
		for n := 0; n < 76; n += step() {
			text := put(strings.Repeat("x", n)+" "+host, link)
			rows, _ := book.Mark(text, s)
			require.Equal(t, want, rows, "%s: %s", name, text)
		}
	}
}

// TestNothingDisappears checks that what looks like a hand-in and cannot be read is counted, and what is none is not.
func TestNothingDisappears(t *testing.T) {
	s := tools.English()
	class := answered(t, sheet(nil))["link"].(string)
	book, _, err := markbook.Open(class, s)
	require.NoError(t, err)
	link := handIn(t, work(t, rand.New(rand.NewPCG(9, 9)), "Ann"))
	half := strings.Index(link, "&questions.1")
	for text, want := range map[string]int{
		"":                                       0,
		class:                                    0,
		host + class + "&language=de, for all":   0,
		"a hand-in has #/worksheet? in it":       0,
		"is this the worksheet? The sum is 12":   0,
		`data-path="questions.0.kind" (sum=12)`:  0,
		"#/winding?v=1&reading=5ohm":             0,
		link:                                     0,
		link + " " + link:                        0,
		link[:len(link)-3] + "\n12:02 - Ana: ok": 0,
		link[:strings.Index(link, "&name=")-4] + "…": 1, // in the time that it has to be handed in by
		link[:half+12]:                                             1,
		strings.ReplaceAll(link, "#", "*"):                         1,
		strings.ReplaceAll(coded(link), "%", "-"):                  1,
		strings.ReplaceAll(link, "#/", ""):                         1,
		soft(strings.ReplaceAll(link, "#/", "")):                   1,
		wrap(strings.ReplaceAll(link, "#/", ""), 20, "\n"):         1,
		strings.ReplaceAll(link, "heading=", "heading=\"x\""):      1, // it ends in its middle, and its end is a piece of the same
		"estions.0.level=2" + link[half:]:                          1, // its beginning is gone
		link + "\n" + strings.ReplaceAll(link, "#", "*") + "\n":    1,
		strings.Repeat(strings.ReplaceAll(link, "#", "*")+"\n", 3): 3,
		strings.ReplaceAll(link, "v=1", "v=99"):                    1,
	} {
		rows, unread := book.Mark(text, s)
		assert.Equal(t, want, unread, "%q", text)
		said := markbook.Said(rows, unread, s)
		assert.Equal(t, want > 0, strings.Contains(said, fmt.Sprintf("could not be read: %d", want)), said)
	}
}

// TestRewrittenIsNotEdited checks that a sum holds over what a link says: a program may write the same characters in another way, and
// nobody may write others.
func TestRewrittenIsNotEdited(t *testing.T) {
	s := tools.English()
	book, _, err := markbook.Open(answered(t, sheet(nil))["link"].(string), s)
	require.NoError(t, err)
	link := handIn(t, work(t, rand.New(rand.NewPCG(10, 10)), "Jörg Ö. (7b)"))
	for _, again := range []string{strings.ReplaceAll(link, "+", "%20"), strings.ReplaceAll(link, "%C3", "%c3"),
		strings.ReplaceAll(link, ":", "%3A"), strings.ReplaceAll(link, "%C3%B6", "ö"), strings.ReplaceAll(link, "%28", "%2528")} {
		require.NotEqual(t, link, again)
		rows, _ := book.Mark(link+"\n"+again, s)
		require.Len(t, rows, 2)
		same := !strings.Contains(again, "%2528")
		assert.Equal(t, same, rows[1].Has(markbook.Again), "%s: %v", again, rows[1].Notes)
		assert.Equal(t, !same, rows[1].Has(markbook.Edited), "%s: %v", again, rows[1].Notes)
	}
}

// TestALinkInATitle checks a sheet whose title holds what looks like the link of another one.
func TestALinkInATitle(t *testing.T) {
	title := object{"heading": "as on https://x.example/#/worksheet?v=1&questions.0.kind=rows, but hot", "name": "Ann"}
	one := sheet(title)
	one["decisions"] = []any{object{"question": 1, "repair": "harness"}}
	link := handIn(t, one)
	for _, text := range []string{link, host + link + " and " + link, inside(link), wrap(host+link, 72, "\n")} {
		for _, l := range markbook.Links(text) {
			assert.Equal(t, link, l, text)
		}
	}
}

// hostile are texts of so many bytes that look like the beginnings of links over and over.
func hostile(size int) (texts []string) {
	pieces := []string{"#/worksheet?", "#/worksheet?v=1&sum=00000000", "&sum=00000000", "#/worksheet?v=1&name=x\n", "#/work=\nsheet?v=3D1&",
		"w\n", "w=\n", "=\n", "q\n", "\n>", " ", "%25", "%23%2Fworksheet%3F", "%2523%252Fworksheet%253Fv%253D1",
		"#/worksheet?v=1%23/worksheet%3F",
		"#/worksheet?%2523%252Fworksheet%253F%23/worksheet%3F", "&amp;", "&amp;amp;#", `\u0026`, `\\/`, "sum=3D", "questions.0.kind=",
		"Encoding: base64\n\n", "Encoding: base64\n\nAAAA\n", "base64"}
	for _, piece := range pieces {
		for _, before := range []string{"", "#/worksheet?v=1&", "#/worksheet?v=3D1&"} {
			texts = append(texts, before+strings.Repeat(piece, size/len(piece)))
		}
	}
	return texts
}

// TestHostileTextEnds looks through such texts of 256 KiB: what took the square of their length would take minutes. How long they take is
// measured by BenchmarkHostile.
func TestHostileTextEnds(t *testing.T) {
	for _, text := range hostile(1 << 18 / step()) {
		for _, link := range markbook.Links(text) {
			require.LessOrEqual(t, len(link), 2*len(text))
		}
	}
}

// BenchmarkHostile measures how much longer the slowest of such texts takes than one of a quarter of it: four times, if time grows as the
// text does.
func BenchmarkHostile(b *testing.B) {
	took := func(text string) time.Duration {
		began := time.Now()
		markbook.Links(text)
		return time.Since(began)
	}
	quarters, wholes := hostile(1<<18), hostile(1<<20)
	for b.Loop() {
		most, times := time.Duration(0), 0.0
		for i, text := range wholes {
			whole := took(text)
			most, times = max(most, whole), max(times, float64(whole)/float64(took(quarters[i])+time.Millisecond))
		}
		b.ReportMetric(most.Seconds(), "s/slowest")
		b.ReportMetric(times, "times/quarter")
	}
}
