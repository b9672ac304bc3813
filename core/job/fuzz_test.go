package job

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func FuzzRead(f *testing.F) {
	f.Add(small)
	f.Add(`{"ohmwright":"job","v":1,"id":"tarn24000001","made":"2026-11-23T07:10:00Z","changed":"2026-11-23T07:10:00Z"}`)
	f.Add(`{"ohmwright":"job","v":2}`)
	f.Fuzz(func(t *testing.T, text string) {
		j, err := Read(text)
		if err != nil {
			switch err {
			case Damaged, Newer, Large, Other:
			default:
				t.Fatalf("not one of the faults: %v", err)
			}
			return
		}
		once := Write(j)
		back, err := Read(once)
		if err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, once)
		}
		assert.Equal(t, j, back)
		if again := Write(back); again != once {
			t.Fatalf("not one form:\n%s\n%s", once, again)
		}
	})
}
