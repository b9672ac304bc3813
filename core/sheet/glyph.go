package sheet

// A Mark is the shape beside a verdict's word, so that the verdict can be told without colour or language. Two posts stand
// for what is allowed, the dot for what was read.
type Mark string

// The marks.
const (
	MarkWithin    Mark = "within"    // dot between the posts
	MarkBelow     Mark = "below"     // dot left of them
	MarkAbove     Mark = "above"     // dot right of them
	MarkUndecided Mark = "undecided" // a whisker across a post
	MarkDisagree  Mark = "disagree"  // one dot in, one out
	MarkOpen      Mark = "open"      // a broken wire
	MarkWaiting   Mark = "waiting"   // only the posts
	MarkRefused   Mark = "refused"   // a cross between the posts
	MarkStop      Mark = "stop"      // a bar in an eight-sided plate
	MarkClean     Mark = "clean"     // an intact wire
	MarkUnwanted  Mark = "unwanted"  // a wire with a resistance in it
	MarkProbe     Mark = "probe"     // two probes on a wire
	MarkMend      Mark = "mend"      // a wire with a splice over it
	MarkPulse     Mark = "pulse"     // a current that rises and falls
	MarkWrench    Mark = "wrench"    // a lever on a bolt's head
)

// Glyph draws a mark. It is hidden from screen readers, which read the word.
func Glyph(m Mark) *Element {
	g := New("svg viewBox=? class=? aria-hidden=true focusable=false", "0 0 56 28", "glyph g-"+string(m))
	line := func(class, d string) *Element { return New("path class=? d=?", class, d) }
	dot := func(x string) *Element { return New("circle class=dot cx=? cy=14 r=5", x) }
	posts := line("post", "M21 4h-4v20h4M35 4h4v20h-4")
	switch m {
	case MarkWithin:
		return g.With(posts, dot("28"))
	case MarkBelow:
		return g.With(posts, dot("7"))
	case MarkAbove:
		return g.With(posts, dot("49"))
	case MarkUndecided:
		return g.With(posts, line("whisker", "M5 14h22M5 9v10M27 9v10"))
	case MarkDisagree:
		return g.With(posts, dot("28"), dot("49"))
	case MarkOpen:
		return g.With(line("wire", "M3 14h17M36 14h17"), line("wire thin", "M23 20l4-12M29 20l4-12"))
	case MarkRefused:
		return g.With(posts, line("wire thin", "M24 10l8 8M32 10l-8 8"))
	case MarkStop:
		return g.With(line("post", "M23 3h10l7 7v8l-7 7h-10l-7-7v-8z"), line("wire", "M21 14h14"))
	case MarkClean:
		return g.With(line("wire", "M3 14h50"))
	case MarkProbe:
		return g.With(line("wire", "M3 20h50"), line("wire thin", "M12 2l8 16M44 2l-8 16"))
	case MarkMend:
		return g.With(line("wire", "M3 14h50"), line("post", "M18 7h20v14h-20z"))
	case MarkPulse:
		return g.With(line("wire", "M3 22q7-12 14-14l9 12q7-11 14-13l12 12"))
	case MarkWrench:
		return g.With(line("wire", "M3 14h31"), line("post", "M36 14l5-9h9l5 9l-5 9h-9z"))
	case MarkUnwanted:
		return g.With(line("wire", "M3 14h12l3-8 6 16 6-16 6 16 3-8h14"))
	}
	return g.With(posts)
}

// Verdict returns the head of an answer: a mark, a word, and the number that the word rests on. kind identifies the
// verdict for tests and styles.
func Verdict(m Mark, kind, word, number string) *Element {
	return New("div class=? data-verdict=?", "verdict v-"+string(m), kind).With(
		Glyph(m),
		New("div class=verdict-text").With(Text("strong", "word", word), Text("span", "number", number)),
	)
}

// Chances returns a bar in three parts: below, within and above. Screen readers read the label instead.
func Chances(below, within, above float64, label string) *Element {
	const width = 120.0
	bar := New("svg viewBox=? class=chances role=img aria-label=? preserveAspectRatio=none", "0 0 120 12", label)
	x := 0.0
	for _, part := range []struct {
		class string
		p     float64
	}{{"c-below", below}, {"c-within", within}, {"c-above", above}} {
		w := width * part.p
		if w >= 0.2 {
			bar = bar.With(New("rect class=? x=? y=0 width=? height=12", part.class, Num(x), Num(w)))
		}
		x += w
	}
	return bar
}
