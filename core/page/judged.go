package page

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/job"
	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tools"
)

// limits are the names of what says how far a row of a specification reaches, and besides those what a row says of itself.
var (
	limits = []string{"min", "max", "nominal", "tolerance", "at", "valid_from", "valid_to"}
	spoken = []string{"name", "applies_to", "source"}
)

// A judge is a row of a specification by which readings were judged, under the names of the fields of "judged_by".
type judge map[string]string

// judges returns the rows of the specification that answers rest on, each once. Those that a tool took for the one that applies, rather
// than for one of several, have applies=yes. They are read from the answers' links: what applied when the verdict was told.
func judges(answers []job.Entry) (rows []judge) {
	for _, e := range answers {
		d, _ := link.Read(e.Link, tools.English())
		if d.Tool == nil {
			continue
		}
		d = d.Compact()
		for _, f := range d.Tool.Fields {
			switch {
			case f.Fact == "spec":
				rows = withJudge(rows, judgeIn(d, f.Name+".", true))
			case f.Fact == "settled":
				settle(rows, judgeIn(d, f.Name+".", true))
			case f.Fact == "specs":
				for n := range d.Rows()[f.Name] {
					rows = withJudge(rows, judgeIn(d, rowKey(f.Name, n), false))
				}
			case f.Name == "windings": // a bench sheet's rows may have one of their own
				for n := range d.Rows()[f.Name] {
					rows = withJudge(rows, judgeIn(d, rowKey(f.Name, n), true))
				}
			}
		}
	}
	return rows
}

// settle marks the row that was taken as settled by a known good part, if it is that row; nil marks none.
func settle(rows []judge, row judge) {
	for _, o := range rows {
		if row != nil && o["applies"] != "" && o.limits() == row.limits() {
			o["settled"] = "yes"
		}
	}
}

// rowKey is the beginning of the keys of a list's row.
func rowKey(list string, n int) string { return list + "." + strconv.Itoa(n) + "." }

// judgeIn returns the row whose keys in a draft begin with a prefix; nil if it has no limits there.
func judgeIn(d link.Draft, prefix string, applies bool) judge {
	row := judge{}
	for _, name := range slices.Concat(limits, spoken) {
		if text := strings.TrimSpace(d.Given[prefix+name]); text != "" {
			row[name] = text
		}
	}
	if row["min"]+row["max"]+row["nominal"] == "" {
		return nil
	}
	for _, name := range []string{"at", "spec_at"} {
		if at := d.Tool.Field(prefix + name); row["at"] == "" && row["valid_from"]+row["valid_to"] == "" && at != nil {
			row["at"] = cmp.Or(strings.TrimSpace(d.Given[prefix+name]), at.Default)
		}
	}
	if applies {
		row["applies"] = "yes"
	}
	return row
}

// withJudge adds a row, or what it says beyond one that is there already with the same limits; nil adds nothing.
func withJudge(rows []judge, row judge) []judge {
	if row == nil {
		return rows
	}
	i := slices.IndexFunc(rows, func(o judge) bool { return o.limits() == row.limits() })
	if i < 0 {
		return append(rows, row)
	}
	for name, text := range row {
		if rows[i][name] == "" {
			rows[i][name] = text
		}
	}
	return rows
}

// limits returns the same text for rows with the same limits, whatever units they were typed in.
func (j judge) limits() string {
	var all []string
	for _, name := range limits {
		text := j[name]
		for _, k := range []quantity.Kind{quantity.OfResistance, quantity.OfTemperature, quantity.OfRatio} {
			if v, err := quantity.Parse(text, quantity.Point, k); err == nil {
				text = quantity.Format(v.In, "", k, quantity.Point)
				break
			}
		}
		all = append(all, text)
	}
	return strings.Join(all, " ")
}
