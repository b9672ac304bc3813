// Package torque is the tool for refitting a part: what torque, what to set, and in which order.
package torque

import (
	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// The widest values that are accepted. Anything beyond is a typing error.
const (
	mostNewtonMetres = 1e6
	mostMillimetres  = 1e5
	mostTable        = 8 << 10
	mostBolts        = 100
	mostPasses       = 8
)

var (
	lengths = tool.Over(0, mostMillimetres)
	places  = tool.Between(-mostMillimetres, mostMillimetres)
)

// shownUnits are the units in which the page shows a torque. typedUnits are the units that it offers for entering one; any
// other can be typed after the number.
var (
	shownUnits = []string{"N.m", "lbf.ft", "lbf.in", "kgf.cm", "kgf.m", "ozf.in", "cN.m"}
	typedUnits = []string{"N.m", "lbf.ft", "lbf.in", "kgf.cm"}
)

type (
	torqueField = tool.QuantityField[quantity.Torque]
	ratioField  = tool.QuantityField[quantity.Ratio]
)

// torqueOf declares a torque.
func torqueOf(d tool.Field) torqueField {
	d.Range = tool.Over(0, mostNewtonMetres)
	return tool.QuantityOf[quantity.Torque](d)
}

// shareOf declares a share, such as 50 %.
func shareOf(d tool.Field, limits tool.Range) ratioField {
	d.Range, d.Page.Offer = limits, []string{"%"}
	return tool.QuantityOf[quantity.Ratio](d)
}

// The torque itself.
var (
	wanted = torqueOf(tool.Field{Name: "torque", Apart: "torque", Grave: true, Page: tool.Hints{Slot: true, Offer: typedUnits}})
	second = torqueOf(tool.Field{Name: "printed_as", Sample: "89 in-lb", Apart: "printed_as",
		Page: tool.Hints{Slot: true, Offer: []string{"lbf.in", "lbf.ft", "N.m", "kgf.cm"}}})
	from = torqueOf(tool.Field{Name: "min", Sample: "8 N.m", Apart: "torque", Grave: true,
		Page: tool.Hints{Fine: true, Offer: typedUnits}})
	to = torqueOf(tool.Field{Name: "max", Sample: "12 N.m", Apart: "torque", Grave: true,
		Page: tool.Hints{Fine: true, UnitFrom: "min"}})
	tolerance = tool.MeasureOf(tool.Field{Name: "tolerance", Sample: "10 %", Apart: "torque", Grave: true,
		Range: tool.Over(0, mostNewtonMetres), Page: tool.Hints{Fine: true, Offer: []string{"%", "N.m", "lbf.in"}}},
		quantity.OfRatio, quantity.OfTorque)
)

// The adapter.
var (
	handle = tool.QuantityOf[quantity.Length](tool.Field{Name: "wrench", Sample: "12 in", Need: true, Range: lengths,
		Page: tool.Hints{Offer: []string{"mm", "cm", "in"}}})
	extension = tool.QuantityOf[quantity.Length](tool.Field{Name: "extension", Sample: "3 in", Need: true, Range: lengths,
		Page: tool.Hints{UnitFrom: "wrench"}})
	angle = tool.QuantityOf[quantity.Angle](tool.Field{Name: "angle", Default: "0 deg", Range: tool.Between(0, 180),
		Page: tool.Hints{Slide: &tool.Slide{From: 0, To: 180, Step: 5}}})
	adapter = tool.GroupOf(tool.Field{Name: "adapter", Apart: "torque", Grave: true, Page: tool.Hints{Slot: true}}, handle, extension, angle)
)

// The wrench.
var (
	kind = tool.ChoiceOf(tool.Field{Name: "kind", Default: "click"},
		tool.Named(fastener.Click, fastener.Beam, fastener.Electronic))
	scaleTo    = torqueOf(tool.Field{Name: "max", Sample: "60 N.m", Page: tool.Hints{Offer: typedUnits}})
	scaleFrom  = torqueOf(tool.Field{Name: "min", Sample: "10 N.m", Page: tool.Hints{UnitFrom: "max"}})
	graduation = torqueOf(tool.Field{Name: "graduation", Sample: "0.5 N.m", Page: tool.Hints{UnitFrom: "max"}})
	deviation  = shareOf(tool.Field{Name: "deviation", Sample: "4 %"}, tool.Over(0, 0.5))
	shows      = tool.ChoiceOf(tool.Field{Name: "shows", Default: "any", Page: tool.Hints{Held: true}}, shownOptions())
	wrench     = tool.GroupOf(tool.Field{Name: "wrench", Apart: "torque", Grave: true, Page: tool.Hints{Slot: true}},
		kind, scaleTo, scaleFrom, graduation, deviation, shows)
)

// shownOptions returns the units that a wrench may show. The value nil means any.
func shownOptions() []tool.Option[*quantity.Unit] {
	options := []tool.Option[*quantity.Unit]{{Word: "any"}}
	for _, symbol := range shownUnits {
		u := speech.Unit(symbol)
		options = append(options, tool.Option[*quantity.Unit]{Word: symbol, Is: &u})
	}
	return options
}

// The bolt, and what it goes into.
var (
	thread         = tool.TextOf(tool.Field{Name: "thread", Need: true, Sample: "M6x1", Most: 20})
	class          = tool.ChoiceOf(tool.Field{Name: "class", Need: true, Sample: "8.8"}, tool.Named(fastener.Classes...))
	friction       = tool.NumberOf(tool.Field{Name: "friction", Default: "0.12", Range: tool.Between(0.04, 0.6)})
	frictionWithin = tool.NumberOf(tool.Field{Name: "friction_within", Default: "0.04", Range: tool.Between(0, 0.3)})
	into           = tool.ChoiceOf(tool.Field{Name: "into", Default: "unknown"}, materialOptions())
	engagement     = tool.QuantityOf[quantity.Length](tool.Field{Name: "engagement", Range: tool.Over(0, 1000),
		Page: tool.Hints{Offer: []string{"mm", "in"}}})
	utilisation = shareOf(tool.Field{Name: "utilisation", Default: "90 %"}, tool.Between(0.05, 1))
	screw       = tool.GroupOf(tool.Field{Name: "fastener", Apart: "fastener", Page: tool.Hints{Slot: true}},
		thread, class, friction, frictionWithin, into, engagement, utilisation)
)

// materialOptions returns the materials that a thread may go into. The value nil means unknown.
func materialOptions() []tool.Option[*fastener.Material] {
	options := []tool.Option[*fastener.Material]{{Word: "unknown"}}
	for _, m := range fastener.Materials {
		options = append(options, tool.Option[*fastener.Material]{Word: m.String(), Is: &m})
	}
	return options
}

var pasted = tool.TextOf(tool.Field{Name: "table", Apart: "table", Most: mostTable, Page: tool.Hints{Slot: true, Lines: true}})

// An arrangement returns the places of n bolts for a width and a height.
type arrangement func(n int, width, height float64) []bolts.Point

// The bolts on the plate.
var (
	form = tool.ChoiceOf(tool.Field{Name: "kind", Default: "rectangle"}, []tool.Option[arrangement]{
		{Word: "rectangle", Is: bolts.Rectangle},
		{Word: "circle", Is: func(n int, width, _ float64) []bolts.Point { return bolts.Circle(n, width) }},
		{Word: "row", Is: func(n int, width, _ float64) []bolts.Point { return bolts.Row(n, width) }},
	})
	count   = tool.WholeOf(tool.Field{Name: "count", Need: true, Sample: "12", Range: tool.Between(1, mostBolts)})
	width   = tool.NumberOf(tool.Field{Name: "width", Default: "80", Range: lengths}, quantity.OfLength)
	height  = tool.NumberOf(tool.Field{Name: "height", Default: "50", Range: lengths}, quantity.OfLength)
	pattern = tool.GroupOf(tool.Field{Name: "pattern", Apart: "pattern"}, form, count, width, height)

	across = tool.NumberOf(tool.Field{Name: "x", Need: true, Sample: "20", Range: places}, quantity.OfLength)
	up     = tool.NumberOf(tool.Field{Name: "y", Need: true, Sample: "20", Range: places}, quantity.OfLength)
	length = tool.QuantityOf[quantity.Length](tool.Field{Name: "length", Sample: "30 mm", Range: lengths,
		Page: tool.Hints{Offer: []string{"mm", "in"}}})
	kept   = tool.ChoiceOf(tool.Field{Name: "kept", Default: "no"}, []tool.Option[bool]{{Word: "no", Is: false}, {Word: "yes", Is: true}})
	single = tool.ListOf(tool.Field{Name: "bolts", Apart: "bolts", Most: mostBolts, Page: tool.Hints{Slot: true, Plate: true}},
		across, up, length, kept)
)

// The passes, and how far they have come.
var (
	passIs    = tool.ChoiceOf(tool.Field{Name: "kind", Default: "share"}, tool.Words(bolts.ToShare, bolts.Snug, bolts.Check))
	passShare = shareOf(tool.Field{Name: "share", Sample: "50 %"}, tool.Over(0, 1))
	passList  = tool.ListOf(tool.Field{Name: "passes", Apart: "passes", Most: mostPasses, Page: tool.Hints{Fine: true}}, passIs, passShare)

	done       = tool.WholeOf(tool.Field{Name: "done", Need: true, Sample: "3", Range: tool.Between(0, mostBolts*mostPasses)})
	countedIn  = tool.TextOf(tool.Field{Name: "of", Most: 16})
	wrenchSet  = tool.WholeOf(tool.Field{Name: "set", Default: "0", Range: tool.Between(0, mostPasses)})
	progressOf = tool.GroupOf(tool.Field{Name: "progress", Apart: "progress", Page: tool.Hints{Held: true}}, done, countedIn, wrenchSet)
)

// Tool tells how to refit a part.
var Tool = tool.New(tool.Tool{
	Name: "torque",
	Example: `{"torque": "90 in-lb", "printed_as": "10 N.m", "adapter": {"wrench": "12 in", "extension": "3 in"},
  "wrench": {"kind": "click", "max": "150 in-lb", "graduation": "5 in-lb"}, "pattern": {"kind": "rectangle", "count": 12}}`,
	Mind:   "before_tightening",
	Works:  true,
	Fields: tool.Declare(wanted, second, adapter, wrench, screw, pasted, pattern, single, from, to, tolerance, passList, progressOf),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})
