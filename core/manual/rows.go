package manual

import "strings"

// rows returns the lines of a text, cleaned.
func rows(text string) []string {
	return strings.Split(lineEnds.Replace(cleaner.Replace(strings.ToValidUTF8(text, "\ufffd"))), "\n")
}

// lineEnds makes one line end of each that is used. It runs after cleaner, so that nothing invisible parts "\r" from "\n".
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// cleaner replaces characters that mean the same by one of them, and removes those that are not seen.
var cleaner = strings.NewReplacer(
	"\u00a0", " ", "\u2002", " ", "\u2003", " ", "\u2007", " ", "\u2009", " ", "\u200a", " ", "\u202f", " ", "\u3000", " ",
	"\u00ad", "", "\u200b", "", "\u200c", "", "\u200d", "", "\ufeff", "", "\x00", "",
	"\v", "\n", "\f", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n",
	"->", "→", "=>", "→", "⇒", "→",
	"\u2010", "-", "\u2011", "-", "\u2212", "-", "\u2012", "–", "\u2014", "–", "\u2015", "–",
	"+/-", "±", "+-", "±", "+/\u2212", "±", "+\u2212", "±", "+/–", "±", "+ / -", "±", "+ / \u2212", "±",
	"plus or minus", "±", "plus/minus", "±",
	" percent", "%", " per cent", "%", " Prozent", "%", " pct", "%",
)
