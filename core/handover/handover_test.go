package handover

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/job"
)

func all() map[job.Need]bool {
	recorded := map[job.Need]bool{}
	for _, n := range job.Needs {
		recorded[n] = true
	}
	return recorded
}

func n(v int) *int { return &v }

// done is a record without gaps, of which nothing is open.
func done() Question {
	return Question{
		Recorded: all(), Cleared: Done, Reread: Clear, Relearn: NotNeeded, Road: Gone,
		Counts: []Count{{Part: Bolts, Off: n(14), On: n(14)}, {Part: Bolts, Row: 1, Off: n(3), On: n(3)}, {Part: Plugs, Off: n(0), On: n(0)}},
	}
}

func TestComplete(t *testing.T) {
	assert.Equal(t, Finding{Differ: []Count{}, Open: []Item{}, Missing: []job.Need{}, Verdict: Complete}, done().Find())
}

func TestNothingRecorded(t *testing.T) {
	f := Question{}.Find()
	assert.Equal(t, Gaps, f.Verdict)
	assert.Equal(t, job.Needs, f.Missing)
	assert.Empty(t, f.Open)
}

func TestCounts(t *testing.T) {
	for name, c := range map[string]struct {
		count   Count
		differ  bool
		open    []Item
		verdict Verdict
	}{
		"one missing":     {Count{Part: Bolts, Row: 1, Off: n(3), On: n(2)}, true, []Item{}, CountsDiffer},
		"one left over":   {Count{Part: Seals, Off: n(3), On: n(4)}, true, []Item{}, CountsDiffer},
		"one not clicked": {Count{Part: Plugs, Off: n(1), On: n(0)}, true, []Item{}, CountsDiffer},
		"not counted":     {Count{Part: Tubes}, false, []Item{}, Complete},
		"counted off":     {Count{Part: Tubes, Off: n(2)}, false, []Item{CountAgain}, OpenItems},
		"counted on":      {Count{Part: Tubes, On: n(2)}, false, []Item{CountAgain}, OpenItems},
	} {
		q := done()
		q.Counts = append(q.Counts, c.count)
		f := q.Find()
		if c.differ {
			assert.Equal(t, []Count{c.count}, f.Differ, name)
		} else {
			assert.Empty(t, f.Differ, name)
		}
		assert.Equal(t, c.open, f.Open, name)
		assert.Equal(t, c.verdict, f.Verdict, name)
	}
}

func TestOpen(t *testing.T) {
	for item, change := range map[Item]func(*Question){
		ClearCodes: func(q *Question) { q.Cleared = NotDone },
		CodeBack:   func(q *Question) { q.Reread = CameBack },
		ToRelearn:  func(q *Question) { q.Relearn = Open },
		ToTest:     func(q *Question) { q.Road = NotDone },
		StillShows: func(q *Question) { q.Road = Shows },
		Else:       func(q *Question) { q.ToDo = true },
	} {
		q := done()
		change(&q)
		f := q.Find()
		assert.Equal(t, []Item{item}, f.Open)
		assert.Equal(t, OpenItems, f.Verdict)
		q.Counts[0].On = n(13)
		assert.Equal(t, CountsDiffer, q.Find().Verdict, "a count that differs is graver than %s", item)
	}
}

func TestGaps(t *testing.T) {
	for _, need := range job.Needs {
		q := done()
		q.Recorded[need] = false
		assert.Equal(t, []job.Need{need}, q.Find().Missing)
		assert.Equal(t, Gaps, q.Find().Verdict)
	}
}
