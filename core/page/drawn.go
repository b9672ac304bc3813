package page

import (
	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// drawnFor returns what draws the answer of a link for a reader: the circuit and how likely nothing in it is at fault. A link without
// such a drawing gives nothing.
func drawnFor(speak *wording.Speaker) func(string) []*sheet.Element {
	return func(text string) (parts []*sheet.Element) {
		d, faults := link.Read(text, tools.English())
		if d.Tool == nil || d.Tool.Name != "circuit" || len(faults) > 0 {
			return nil
		}
		o := d.Tool.Ask(d.Request(), quantity.Point, d.Tool.Speaker(speak), tool.Hasty)
		if o.Answer == nil {
			return nil
		}
		_, body := o.Answer.Lay()
		for _, part := range body {
			for _, class := range []string{"drawing chain", "no-fault"} {
				if found := part.First(class); found != nil {
					parts = append(parts, found)
				}
			}
		}
		return parts
	}
}
