package bench

import (
	"strconv"

	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// CarryPulsed is a button that takes a winding to the question what a pulsed drive gives: its resistance in ohm, and what else
// both questions ask, as a link writes it. Nil where there is no resistance.
func CarryPulsed(l *tool.Layout, ohms float64, with tool.Setting) *sheet.Element {
	if ohms <= 0 {
		return nil
	}
	given := tool.Setting{"resistance", strconv.FormatFloat(ohms, 'g', 4, 64) + "ohm"}
	return l.Carry("drive", "sheet.carry.drive", append(given, with...))
}
