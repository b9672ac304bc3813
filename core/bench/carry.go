package bench

import (
	"strconv"

	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// CarryPulsed returns a button that takes a winding to the tool for a pulsed drive: its resistance in ohm, and whatever
// else both tools ask, as a link writes it. It returns nil if there is no resistance.
func CarryPulsed(l *tool.Layout, ohms float64, with tool.Setting) *sheet.Element {
	if ohms <= 0 {
		return nil
	}
	given := tool.Setting{"resistance", strconv.FormatFloat(ohms, 'g', 4, 64) + "ohm"}
	return l.Carry("drive", "sheet.carry.pulsed", append(given, with...))
}
