package jsontext

import (
	"encoding/json"
	"errors"
	"io"
	"math/rand"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pieces are what texts are put together from, and damaged with.
var pieces = []string{"{", "}", "[", "]", ",", ":", `"`, `""`, `"a"`, `"a":`, `\`, `\"`, `\/`, `\b\f\n\r\t`, `\u00e9`, `\ud83d\ude00`,
	`\ud83d`, `\ude00`, `\ud83dA`, `\u12`, `\x`, "true", "false", "null", "tru", "nul", "0", "-0", "-", "01", "1.", "1.5", ".5", "1e", "1E+5",
	"1e-07", "12345678901234567890", " ", "\t", "\n", "\r", "\v", "\x00", "\x1f", "\x7f", "\xff", "\xc3", "é", "\u2028", "\U0001d11e",
	"\ufeff", "\u00a0", "NaN", "//", "'", "[1,[2,{}],[]]", `{"a":{"b":[]},"a":null}`}

// TestReaderReadsAsTheirs holds texts against encoding/json: such as people write, and such as nobody does.
func TestReaderReadsAsTheirs(t *testing.T) {
	whole := []string{"", " ", "0", `"a"`, "null", "{}", "[]", "{} {}", "1 2", "{}x", `{"a":1,"b":[true,false,null],"c":{"d":"e"}}`, "[1,]",
		"[,1]", `{"a"}`, `{"a":}`, `{"a":1,}`, `{1:2}`, "{{", "[1}", `{"a":1]`, `{"a":1 "b":2}`, `{"a"::1}`, "[1 2]", "]", "}", ",", ":", `{} "a`,
		`"a`, `"a\`, "\"a\nb\"", strings.Repeat("[", 300), strings.Repeat("[", 300) + strings.Repeat("]", 300)}
	for _, text := range whole {
		readAsTheirs(t, text)
	}
	random := rand.New(rand.NewSource(1))
	for range 200_000 {
		var text strings.Builder
		if n := random.Intn(len(whole)); n < 20 && random.Intn(2) == 0 {
			text.WriteString(whole[n])
		}
		for range random.Intn(8) {
			text.WriteString(pieces[random.Intn(len(pieces))])
		}
		if !readAsTheirs(t, text.String()) {
			return
		}
	}
}

func FuzzReader(f *testing.F) {
	for _, text := range pieces {
		f.Add(text)
		f.Add("[" + text + "]")
		f.Add(`{"a":"` + text + `","b":[1,` + text + `]}`)
	}
	f.Fuzz(func(t *testing.T, text string) { readAsTheirs(t, text) })
}

// readAsTheirs checks that each token is that of encoding/json, up to where one of them finds a fault, and that both find it there.
func readAsTheirs(t *testing.T, text string) bool {
	ours, theirs := NewReader(text), json.NewDecoder(strings.NewReader(text))
	theirs.UseNumber()
	for {
		got := ours.Next()
		token, err := theirs.Token()
		want := Token{Kind: Wrong}
		switch {
		case err == nil:
			want = tokenOf(t, token)
		case errors.Is(err, io.EOF):
			return assert.Equal(t, Token{Kind: Ended}, got, "%q", text)
		case errors.Is(err, io.ErrUnexpectedEOF):
			return assert.Equal(t, Token{Kind: Cut}, got, "%q", text)
		}
		if !assert.Equal(t, want, got, "%q", text) || !assert.Equal(t, theirs.InputOffset(), int64(ours.Offset()), "%q", text) {
			return false
		}
		if err != nil {
			return true
		}
	}
}

// tokenOf returns a token of encoding/json as one of ours.
func tokenOf(t *testing.T, token json.Token) Token {
	switch token := token.(type) {
	case string:
		return Token{String, token}
	case json.Number:
		return Token{Number, token.String()}
	case bool:
		return Token{Word, strconv.FormatBool(token)}
	case nil:
		return Token{Word, "null"}
	case json.Delim:
		return Token{Kind: map[json.Delim]Kind{'{': BeginObject, '[': BeginArray, '}': End, ']': End}[token]}
	}
	require.Fail(t, "encoding/json has another kind of token", "%T", token)
	return Token{}
}
