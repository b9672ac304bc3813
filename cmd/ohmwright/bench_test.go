package main

import (
	"bytes"
	"io"
	"testing"
)

// BenchmarkRunLines times "run winding --ndjson": one operation is one request, read as a line, answered on a line.
func BenchmarkRunLines(b *testing.B) {
	line := []byte(`{"reading": "6.9 ohm", "leads": "0.3 ohm", "at": "88 degC", ` +
		`"specs": [{"name": "row", "min": "5.0 ohm", "max": "5.6 ohm"}]}` + "\n")
	in := bytes.NewReader(bytes.Repeat(line, b.N))
	b.ReportAllocs()
	b.ResetTimer()
	if status := command([]string{"run", "winding", "--ndjson"}, in, io.Discard, io.Discard); status != done {
		b.Fatal(status)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "requests/s")
}
