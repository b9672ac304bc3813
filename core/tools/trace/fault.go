package trace

import (
	"strconv"
	"strings"

	"ohmwright/core/recording"
	"ohmwright/core/tool"
)

// addFault adds the fault of a recording's text.
func addFault(w *recording.Fault, f *tool.Faults) {
	line, column, given := strconv.Itoa(w.Line), strconv.Itoa(w.Column), w.Given
	add := func(code tool.Code, key string, args ...any) {
		f.Add(tool.Fault{Field: "recording", Code: code, Given: w.Given}, "recording."+key, args...)
	}
	switch w.Kind {
	case recording.TooLong:
		add(tool.OutOf, "too_long", strconv.Itoa(recording.MaxBytes))
	case recording.TooMany:
		add(tool.OutOf, "too_many", strconv.Itoa(recording.MaxSamples))
	case recording.Empty:
		add(tool.Missing, "empty")
	case recording.OneColumn:
		add(tool.Syntax, "one_column", line)
	case recording.NotNumber:
		add(tool.Syntax, "not_number", line, column, given)
	case recording.OutOfRange:
		add(tool.OutOf, "out_of_range", line, column, given)
	case recording.NotSorted:
		add(tool.Conflict, "not_sorted", line, column, given, w.Before)
	case recording.RepeatedTime:
		add(tool.Conflict, "repeated_time", line, column, given)
	case recording.AllZero:
		add(tool.OutOf, "all_zero", column)
	case recording.TooFew:
		samples, _ := strconv.Atoi(w.Given)
		add(tool.OutOf, f.Speak.Form("too_few", samples), w.Given, strconv.Itoa(recording.MinSamples))
	case recording.NoColumn:
		add(tool.Conflict, "no_column", column)
	case recording.UnknownUnit:
		add(tool.WrongUnit, "unknown_unit", line, column, given, strings.Join(w.Want, ", "))
	case recording.NeedsProbe:
		add(tool.WrongUnit, "needs_probe", column, w.Name)
	case recording.Ambiguous:
		add(tool.Ambiguous, "ambiguous", line, column, given, w.Reads[0], w.Reads[1])
	default:
		panic("trace: a fault of a recording without words: " + w.Kind.String())
	}
}
