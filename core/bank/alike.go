package bank

import (
	"math"
	"slices"
	"sort"

	"ohmwright/core/measure"
	"ohmwright/core/winding"
)

// least is a resistance, in ohm, that nothing is divided by.
const least = 1e-9

// less is a reading without the leads, in ohm.
func less(m winding.Measurement) float64 { return float64(m.Reading.Ohms - m.Leads) }

// hasValue reports whether a winding was read and is not over the limit.
func hasValue(row Row) bool { return row.Reading != nil && !row.Reading.Over }

// compareAlike sets each winding beside the median of those with the same specification: the odd one out.
//
//	q = R/median, p = 2 n Φ(−(|q − 1| − t)/u), at most 1; odd if p ≤ α
//
// t is how far alike windings may be from their median, α the false alarms accepted on the whole sheet, n all rows compared on it
// (Bonferroni). So a sheet whose windings are all within t of their true median is said to have an odd one with a probability of
// at most α, wherever within t they are. The meter's common error, the leads and the temperature are the same for all rows and
// cancel in q: see [winding.Beside]. A median, because one bad winding, or nearly half of them, hardly moves it.
func (q Question) compareAlike(rows []Judged) {
	groups, n := q.alikeRows()
	for _, group := range groups {
		odd := 0
		middle := q.middle(group)
		for _, i := range group {
			a := q.besideMiddle(i, middle, n)
			a.Of = len(group)
			rows[i].Alike = &a
			if a.Verdict == LikeOdd {
				odd++
			}
		}
		if 2*odd < len(group) {
			continue
		}
		for _, i := range group {
			rows[i].Alike.Verdict = LikeDisagree
		}
	}
}

// alikeRows returns the rows with values, by specification, where there are enough of them; and how many these are. Rows without a
// specification are taken as alike among themselves.
func (q Question) alikeRows() (groups [][]int, n int) {
	for i, row := range q.Rows {
		if !hasValue(row) {
			continue
		}
		k := slices.IndexFunc(groups, func(g []int) bool { return SameSpec(q.Rows[g[0]].Spec, row.Spec) })
		if k < 0 {
			groups = append(groups, []int{i})
		} else {
			groups[k] = append(groups[k], i)
		}
	}
	groups = slices.DeleteFunc(groups, func(g []int) bool {
		if len(g) < Fewest {
			return true
		}
		sum := 0.0
		for _, i := range q.middle(g) {
			sum += less(q.measured(q.Rows[i]))
		}
		return sum <= least
	})
	for _, g := range groups {
		n += len(g)
	}
	return groups, n
}

// SameSpec reports whether two specifications are the same; rows without any have the same.
func SameSpec(a, b *winding.Row) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Band == b.Band && a.At == b.At
}

// middle returns the row, or the two rows, in the middle of a group by their readings.
func (q Question) middle(group []int) []int {
	sorted := slices.Clone(group)
	sort.SliceStable(sorted, func(i, j int) bool { return q.Rows[sorted[i]].Reading.Ohms < q.Rows[sorted[j]].Reading.Ohms })
	n := len(sorted)
	return sorted[(n-1)/2 : n/2+1]
}

// besideMiddle compares a row with the median, of n rows compared on the sheet.
func (q Question) besideMiddle(i int, middle []int, n int) Alike {
	others := make([]winding.Measurement, len(middle))
	for k, row := range middle {
		others[k] = q.measured(q.Rows[row])
	}
	e := winding.Beside(q.measured(q.Rows[i]), others...)
	k := float64(len(others)) // the median of an even number is half the sum of the two in the middle
	e = measure.Estimate{Value: e.Value * k, U: e.U * k}
	p := chance(e, float64(q.AlikeWithin), n)
	return Alike{Ratio: e, P: p, Verdict: q.likeness(e, p)}
}

// chance is the most that a ratio has of being so far from 1 by chance, where all n compared are within t of it.
func chance(e measure.Estimate, t float64, n int) float64 {
	c := measure.Conform(e, measure.Band{Min: 1 - t, Max: 1 + t})
	return math.Min(1, 2*float64(n)*(1-math.Max(c.Below, c.Above)))
}

func (q Question) likeness(e measure.Estimate, p float64) Likeness {
	t := float64(q.AlikeWithin)
	switch {
	case p <= float64(q.FalseAlarm):
		return LikeOdd
	case measure.Conform(e, measure.Band{Min: 1 - t, Max: 1 + t}).Verdict() == measure.Within:
		return LikeAlike
	}
	return LikeUnsure
}

// shared finds out whether the bank is off as a whole: most windings are outside their specification to one side, and by one factor.
// Then the temperature, the meter, its leads or the specification is likelier to be wrong than so many windings at once. It marks
// the rows that this explains. Nil where it is not so.
func (q Question) shared(rows []Judged) *Shared {
	var group []int
	read := 0
	for i, r := range rows {
		if r.Read {
			read++
		}
		if s := q.Rows[i].Spec; hasValue(q.Rows[i]) && s != nil && s.Nominal > 0 && less(q.measured(q.Rows[i])) > least {
			group = append(group, i)
		}
	}
	if len(group) < Fewest {
		return nil
	}
	sort.SliceStable(group, func(i, j int) bool { return q.factor(rows, group[i]) < q.factor(rows, group[j]) })
	middle := group[len(group)/2]
	var agree []int
	out := map[measure.Verdict]int{}
	for _, i := range group {
		// Each row's ratio to the middle one, both as shares of the middle of their rows.
		e := winding.Beside(q.measured(q.Rows[i]), q.measured(q.Rows[middle]))
		by := q.factor(rows, i) / q.factor(rows, middle) / e.Value
		e = measure.Estimate{Value: e.Value * by, U: e.U * by}
		if chance(e, float64(q.AlikeWithin), len(group)) > float64(q.FalseAlarm) {
			agree = append(agree, i)
			out[rows[i].Winding.Rows[0].Verdict]++
		}
	}
	side := measure.Below
	if out[measure.Above] > 0 {
		side = measure.Above
	}
	most := out[side]
	if most < Fewest || most != out[measure.Below]+out[measure.Above] || 2*most < len(agree) || 2*len(agree) <= read {
		return nil
	}
	for _, i := range agree {
		rows[i].Explained = rows[i].Winding.Rows[0].Verdict == side
	}
	s := &Shared{Side: side, Rows: len(agree), FitsAt: *rows[middle].Winding.Rows[0].HealthyAt, Second: second(rows, agree, side)}
	corrected, nominal := rows[middle].Winding.Rows[0].Corrected, float64(q.Rows[middle].Spec.Nominal)
	s.Factor = measure.Estimate{Value: corrected.Value / nominal, U: corrected.U / nominal}
	return s
}

// factor is a winding as a share of the middle of its specification, at one temperature.
func (q Question) factor(rows []Judged, i int) float64 {
	return rows[i].Winding.Rows[0].Corrected.Value / float64(q.Rows[i].Spec.Nominal)
}

// second says what the second unit tells of a factor that these rows share.
func second(rows []Judged, agree []int, side measure.Verdict) Second {
	fits, too := 0, 0
	for _, i := range agree {
		switch o := rows[i].Other; {
		case o == nil || len(o.Rows) == 0:
		case o.Rows[0].Verdict == measure.Within:
			fits++
		case o.Rows[0].Verdict == side:
			too++
		}
	}
	switch {
	case 2*fits > len(agree):
		return SecondFits
	case 2*too > len(agree):
		return SecondToo
	}
	return SecondSilent
}
