package handover

import (
	"strconv"

	"ohmwright/core/handover"
	"ohmwright/core/tool"
)

type result struct {
	Overall string   `json:"overall"`
	Differ  []differ `json:"differ"`
	Open    []string `json:"open"`
	Missing []string `json:"missing"`
}

type differ struct {
	What   string `json:"what"`
	Length string `json:"length,omitempty"`
	Off    int    `json:"off"`
	On     int    `json:"on"`
}

func tell(q question, f handover.Finding, a *tool.Answer) *result {
	res := &result{Overall: string(f.Verdict), Differ: []differ{}, Open: []string{}, Missing: []string{}}
	for _, c := range f.Differ {
		one := differ{What: string(c.Part), Off: *c.Off, On: *c.On}
		field := string(c.Part)
		if c.Part == handover.Bolts {
			one.Length, field = q.r.lengths[c.Row], tool.JoinPath(field, strconv.Itoa(c.Row))
		}
		res.Differ = append(res.Differ, one)
		more := "fewer"
		if one.On > one.Off {
			more = "more"
		}
		a.WarnBy(more, "counts_differ", field, countName(a.Speak, q.r, c), strconv.Itoa(one.Off), strconv.Itoa(one.On))
	}
	for _, item := range f.Open {
		res.Open = append(res.Open, string(item))
	}
	for _, need := range f.Missing {
		res.Missing = append(res.Missing, string(need))
	}
	a.Brief = false // this tool has no working to leave out
	if len(f.Differ) > 0 {
		a.Caution("count_first")
	}
	a.Caution("fluid_level", "road_test", "maker_first")
	return res
}
