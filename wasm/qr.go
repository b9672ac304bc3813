//go:build js && wasm

package main

import (
	"strconv"
	"strings"

	"rsc.io/qr/coding"
)

// mostInCode is the most characters of a text for which a code is drawn. A code of more is too fine for a phone to read off a screen or
// paper. Common practice.
const mostInCode = 500

// A code is a text as a QR code (ISO/IEC 18004) for a drawing: Size modules on each side, with the quiet zone of 4 around them, and Path,
// an SVG path that covers the dark ones in units of a module. Path is empty if the text is too long.
type code struct {
	Size int    `json:"size"`
	Path string `json:"path"`
}

// quiet is the width of the light margin around a code, in modules (ISO/IEC 18004).
const quiet = 4

// drawCode returns the code of a text, with the error correction of level M: 15 % of it may be dirty.
func drawCode(text string) code {
	var out code
	if len(text) > mostInCode {
		return out
	}
	drawn, err := encoded(coding.String(text))
	if err != nil {
		return out
	}
	var path strings.Builder
	for y := range drawn.Size {
		for x := 0; x < drawn.Size; x++ {
			from := x
			for x < drawn.Size && drawn.Black(x, y) {
				x++
			}
			if x > from {
				run := strconv.Itoa(x - from)
				path.WriteString("M" + strconv.Itoa(from+quiet) + " " + strconv.Itoa(y+quiet) + "h" + run + "v1h-" + run + "z")
			}
		}
	}
	out.Size, out.Path = drawn.Size+2*quiet, path.String()
	return out
}

// encoded returns a text as a code of the least version that holds it.
func encoded(text coding.Encoding) (*coding.Code, error) {
	version := coding.Version(coding.MinVersion)
	for version < coding.MaxVersion && text.Bits(version) > version.DataBytes(coding.M)*8 {
		version++
	}
	plan, err := coding.NewPlan(version, coding.M, 0)
	if err != nil {
		return nil, err
	}
	return plan.Encode(text)
}
