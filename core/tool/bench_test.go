package tool

import (
	"testing"

	"ohmwright/core/wording"
)

// BenchmarkRunWinding times one request as "run winding --ndjson" answers it.
func BenchmarkRunWinding(b *testing.B) {
	request := []byte(Winding.Example)
	speak := wording.English()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Run("winding", request, speak); err != nil {
			b.Fatal(err)
		}
	}
}
