package handover

import (
	"strconv"
	"strings"

	"ohmwright/core/handover"
	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// worded returns the words of the first key that has any. What comes from a link is no key of ours unless it is one by chance; words with
// a gap to be filled are no label, and left alone.
func worded(s *wording.Speaker, otherwise string, keys ...string) string {
	for _, key := range keys {
		if strings.Trim(key, "abcdefghijklmnopqrstuvwxyz0123456789_.=") != "" || !s.Has(key) {
			continue
		}
		if words := s.Say(key); !strings.Contains(words, "%!") {
			return words
		}
	}
	return otherwise
}

// nameOf names what was read: in the words of the tool that it was read in, which has it as a field or as one of its tests.
func nameOf(s *wording.Speaker, r reading) string {
	what := worded(s, r.what, r.tool+"."+r.what, r.tool+".readings.test="+r.what)
	if r.place != "" {
		what = s.List(what, worded(s, r.place, r.tool+".measured_at="+r.place))
	}
	if r.asWhat != "" {
		what = s.Say("taken_over", what, nameOf(s, reading{tool: r.asTool, what: r.asWhat}))
	}
	return s.List(s.Name(r.name), what)
}

// stepName names a step that is none of this tool: by its key, as no words are here for it.
func stepName(what string) string { return strings.NewReplacer("_", " ", ".", ", ").Replace(what) }

// countName names what was counted.
func countName(s *wording.Speaker, r record, c handover.Count) string {
	if c.Part == handover.Bolts && r.lengths[c.Row] != "" {
		return s.Say("bolts.of", shown(s, r.lengths[c.Row]))
	}
	return s.Say(string(c.Part))
}

// number writes a count; a dash where none was made.
func number(s *wording.Speaker, n *int) string {
	if n == nil {
		return s.Say("unrecorded")
	}
	return strconv.Itoa(*n)
}

// shown writes a quantity with the digits that were typed and its unit as people write it; any other text as it is.
func shown(s *wording.Speaker, typed string) string {
	for kind := quantity.OfResistance; kind <= quantity.OfRatio; kind++ {
		if v, err := quantity.Parse(typed, s.Mark(), kind); err == nil && v.Unit.Sign != "" {
			return s.Mark().In(v.Digits) + "\u00a0" + v.Unit.Sign
		}
	}
	return typed
}
