package spelling

import (
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// theirs is [Folded] as golang.org/x/text does it.
func theirs(text string) string {
	return norm.NFKC.String(cases.Fold().String(norm.NFKC.String(text)))
}

func check(t *testing.T, text string) {
	if got, want := Folded(text), theirs(text); got != want {
		require.Fail(t, "another spelling", "%+q: %+q, not %+q", text, got, want)
	}
}

// TestEveryCharacter checks every code point by itself, behind and before letters and marks that it may join, and among so many marks that
// they are parted.
func TestEveryCharacter(t *testing.T) {
	many := "a" + strings.Repeat("\u0323", 27)
	for r := range rune(utf8.MaxRune + 1) {
		c := string(r)
		if check(t, c); inert(c) {
			continue
		}
		for _, text := range []string{
			"A" + c, c + "\u0301", c + "\u0345\u0323", "α" + c + "\u0327", "a\u0302" + c, c + c + c, "가" + c, "\u1100" + c, c + "\u1161\u11a8",
			many + c + "\u0323\u0301\u0316\u0301\u0323", many + "\u0323\u0323" + c + c + c + "\u0316",
			c + many[1:] + "\u0316\u0301\u0323\u0301\u0316",
		} {
			check(t, text)
		}
	}
}

// inert reports whether what stands beside a character makes no difference to it, nor it to that.
func inert(c string) bool {
	p := norm.NFKC.PropertiesString(c)
	return p.BoundaryBefore() && p.BoundaryAfter() && norm.NFKC.IsNormalString(c) && cases.Fold().String(c) == c
}

// sorts are characters of many kinds, of which random texts are drawn.
var sorts = func() (sorts [][]rune) {
	for _, text := range []string{"aAbBiIoOsSuU", "iıIİ\u0307\u0131", "σςΣΊΐΰᾳᾼῷᾶαΑω", "ſßẞŉǰﬁﬂﬃﬄﬅﬆ", "ＡａＺｚ０９ｶﾞﾟﾊｱ", "がざはパカゝヴ",
		"\u0300\u0301\u0302\u0303\u0304\u0306\u0307\u0308\u030a\u030b\u030c\u031b\u0323\u0324\u0325\u0327\u0328\u0331\u0338\u0342\u0344\u0345",
		"\u0334\u0335\u0316\u0317\u0321\u0322\u05b0\u05b4\u05bc\u05c1\u064b\u0653\u0654\u0655\u0670\u093c\u09bc\u3099\u309a\U0001d165\U0001d16d",
		"\u1100\u1112\u1113\u1161\u1175\u1176\u11a7\u11a8\u11c2\u11c3가각힣ㄱㅏㆎﾡￂ㈀㈎㉠",
		"\u09be\u09c7\u09d7\u0b3e\u0b47\u0bc6\u0bd7\u0dca\u0dcf\u0dd9\u1025\u102e",
		"\u0958\u0929\u0928\u0f71\u0f72\u0f73\u0f76\u0fb2\u0fb3\u0f80", "\U00011099\U000110ba\U00011131\U00011127\U00011930\U00011935",
		"豈更車\ufa6c\U0002f800\U0002fa1d", "ﷺﷻ㌖㎆℀½Ⅻ①⒈㍱", "\u034f\u200b\u200d\u00ad\ufeff\ufffd", "Ꭰꭰᏸᲀᲈꙋ\U00010400\U0001e900ႠⴀᲐ", "שׁבּאְ", "ｇＥﾞ",
		"\u0f0c\u2011\u2024\u2025\u2026", " \u00a0\u3000\t"} {
		sorts = append(sorts, []rune(text))
	}
	return sorts
}()

// TestRandomTexts checks texts of a few kinds of characters each, short ones and some with many marks, and texts of any characters.
func TestRandomTexts(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	for range 100_000 {
		var text []rune
		kinds := [3][]rune{}
		for i := range kinds {
			kinds[i] = sorts[random.IntN(len(sorts))]
		}
		length := 1 + random.IntN(8)
		if random.IntN(20) == 0 {
			length = 30 + random.IntN(60)
			kinds[0], kinds[1] = sorts[6], sorts[7]
		}
		for range length {
			kind := kinds[random.IntN(3)]
			r := kind[random.IntN(len(kind))]
			if random.IntN(10) == 0 {
				r = random.Int32N(0x20000)
			}
			if utf8.ValidRune(r) {
				text = append(text, r)
			}
		}
		check(t, string(text))
	}
}

// TestPairs checks all pairs of a mark or letter that joins and what it may join.
func TestPairs(t *testing.T) {
	joined := read()
	for pair, one := range joined.pairs {
		for _, text := range []string{string(pair[:]), string(one), "x" + string(pair[:]) + "\u0301",
			string(pair[0]) + "\u0316" + string(pair[1]), string(pair[0]) + "\u0301" + string(pair[1]),
			string(pair[0]) + "\u0334" + string(pair[1]) + string(pair[1])} {
			check(t, text)
		}
	}
	for second := range joined.second {
		for r := range rune(0x3100) {
			check(t, string(r)+string(second))
		}
	}
}

// TestNoText checks that a byte that is no UTF-8 is one U+FFFD.
func TestNoText(t *testing.T) {
	assert.Equal(t, "a\ufffd\ufffd\u00e9", Folded("A\xe3\x81E\u0301"))
	assert.Empty(t, Folded(""))
}

// FuzzFolded checks any text that is UTF-8.
func FuzzFolded(f *testing.F) {
	for _, text := range []string{"Anna Müller", "ΣΊΣΥΦΟΣ", "İstanbul", "a\u0315\u0300", "ﷺ",
		"한글\u1112\u1161\u11ab", strings.Repeat("\u0301\u0316", 40)} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { check(t, strings.ToValidUTF8(text, "\ufffd")) })
}

func BenchmarkFolded(b *testing.B) {
	for range b.N {
		Folded("Ａnna-Łucja MÜLLER")
	}
}
