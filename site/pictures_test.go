package site

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPictures checks that each language has its pictures: of the kind and size that the manifest says, small, and kept by no device.
// Browsers take none with a side under 320 px, or longer than 2.3 times the other.
func TestPictures(t *testing.T) {
	files, err := Files([]byte("module"), []byte("glue"), Plan{Language: "en"})
	require.NoError(t, err)
	worker := string(files["sw.js"])
	seen := map[string]string{}
	for _, tongue := range tonguesOf(Plan{Language: "en"}) {
		var manifest struct {
			Screenshots []struct {
				Src, Sizes, Type, Label string
				Form                    string `json:"form_factor"`
			}
		}
		require.NoError(t, json.Unmarshal(files[tongue.Manifest], &manifest))
		require.Len(t, manifest.Screenshots, 2, tongue.Tag)
		for i, s := range manifest.Screenshots {
			assert.Equal(t, []string{"narrow", "wide"}[i], s.Form)
			assert.NotEmpty(t, s.Label, s.Src)
			assert.Equal(t, "image/webp", s.Type)
			picture := files[s.Src]
			require.NotEmpty(t, picture, s.Src)
			assert.LessOrEqual(t, len(picture), 40_000, s.Src)
			require.Equal(t, "RIFF WEBPVP8X", string(picture[:4])+" "+string(picture[8:16]), s.Src) // RFC 9649, 2.7: the sides less 1
			width, height := binary.LittleEndian.Uint32(picture[24:])&0xffffff+1, binary.LittleEndian.Uint32(picture[26:])>>8+1
			assert.Equal(t, s.Sizes, fmt.Sprintf("%dx%d", width, height), s.Src)
			long, short := max(width, height), min(width, height)
			assert.True(t, short >= 320 && float64(long) <= 2.3*float64(short), s.Src)
			assert.Empty(t, seen[string(picture)], "%s is another language's", s.Src)
			seen[string(picture)] = s.Src
			_, about, _ := strings.Cut(worker, "const ABOUT = ")
			assert.Contains(t, about, `"`+s.Src+`"`, "the next build has to know that it is ours")
			assert.NotContains(t, worker, `"`+s.Src+`":`, "no device keeps it")
		}
	}
}
