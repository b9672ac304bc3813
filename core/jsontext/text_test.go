package jsontext

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzAppend holds texts against encoding/json, which has to read what was meant, and what encoding/json itself would have written.
func FuzzAppend(f *testing.F) {
	for _, s := range []string{"", "5.21 Ω", `a"b\c`, "\x00\x1f\x7f\b\f\n\r\t", "<&>", "\xff\xc3", "\u2028\u2029", "\U0001d11e",
		"\ufffd", "a\ufffd\xed\xa0\x80<"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		theirs, err := json.Marshal(s)
		require.NoError(t, err)
		var want, got string
		require.NoError(t, json.Unmarshal(theirs, &want))
		ours := Append([]byte("[]"), s)
		assert.Equal(t, "[]", string(ours[:2]), "what stood before")
		require.NoError(t, json.Unmarshal(ours[2:], &got), "%q", ours)
		assert.Equal(t, want, got)
		assert.Equal(t, string(theirs), string(AppendEscaped(nil, s)), "%q", s)
	})
}

// TestAppend checks the escapes one by one; the wanted texts are RFC 8259's, and JSON.stringify's where that leaves a choice.
func TestAppend(t *testing.T) {
	for s, want := range map[string]string{
		"":              `""`,
		"5.21 Ω <&>":    `"5.21 Ω <&>"`,
		`a"b\c`:         `"a\"b\\c"`,
		"\b\f\n\r\t":    `"\b\f\n\r\t"`,
		"\x00 \x1f\x7f": "\"\\u0000 \\u001f\x7f\"",
		"no \xff UTF-8": "\"no \ufffd UTF-8\"",
	} {
		assert.Equal(t, want, string(Append(nil, s)), "%q", s)
	}
}

// TestAppendMany checks lists and maps, empty ones too.
func TestAppendMany(t *testing.T) {
	assert.Equal(t, `[]`, string(AppendList(nil, nil)))
	assert.Equal(t, `["b","a\n"]`, string(AppendList(nil, []string{"b", "a\n"})))
	assert.Equal(t, `{}`, string(AppendMap(nil, nil)))
	assert.Equal(t, `{"a":"2","b":"1"}`, string(AppendMap(nil, map[string]string{"b": "1", "a": "2"})))
}
