package job

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// grown adds n random entries to a copy of a job, as a page would.
func grown(t *testing.T, j *Job, n int, random *rand.Rand) *Job {
	out, err := Read(Write(j))
	require.NoError(t, err)
	for range n {
		when := fmt.Sprintf("2026-11-24T08:%02d:%02dZ", random.IntN(3), random.IntN(3)) // often the same moment
		e := Entry{Kind: Reading, Tool: "circuit", What: "current_on", Value: fmt.Sprint(random.IntN(3), " A"), When: when}
		switch of := 1 + random.IntN(len(out.Entries)+1); random.IntN(3) {
		case 0:
			out.Append(e)
		case 1:
			out.Correct(of, e)
		case 2:
			out.Withdraw(of, when, "")
		}
	}
	out.Changed = fmt.Sprintf("2026-11-24T09:00:%02dZ", random.IntN(60))
	return out
}

// counts returns how often each entry is in a job, told by what it says and what it corrects, told in the same way.
func counts(j *Job) map[string]int {
	said, counts := make([]string, len(j.Entries)), map[string]int{}
	for i, e := range j.Entries {
		of := ""
		if e.Corrects > 0 {
			of = said[e.Corrects-1]
		}
		e.Corrects = 0
		said[i] = fmt.Sprint(e, "(", of, ")")
		counts[said[i]]++
	}
	return counts
}

func TestMergeKeepsEverything(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		start := grown(t, New("tarn24000001", monday), random.IntN(6), random)
		a, b := grown(t, start, random.IntN(6), random), grown(t, start, random.IntN(6), random)
		m, err := Merge(a, b)
		require.NoError(t, err)
		require.Equal(t, a.Entries, m.Entries[:len(a.Entries)], "the first one's entries stay where they are")
		of, want := counts(m), counts(a)
		for said, n := range counts(b) {
			want[said] = max(want[said], n)
			require.GreaterOrEqual(t, of[said], n, "b's entry is kept, and corrects what it corrected: %s", said)
		}
		again, err := Merge(m, b)
		require.NoError(t, err)
		require.Equal(t, m.Entries, again.Entries, "merging once more changes nothing")
		again, err = Merge(m, a)
		require.NoError(t, err)
		require.Equal(t, m.Entries, again.Entries)
		again, err = Merge(a, a)
		require.NoError(t, err)
		require.Equal(t, a, again)
		other, err := Merge(b, a)
		require.NoError(t, err)
		require.Equal(t, len(m.Entries), len(other.Entries), "either way round, nothing is twice")
		back, err := Read(Write(m))
		require.NoError(t, err)
		require.Equal(t, m, back)
	}
}

func TestMergeMovesCorrections(t *testing.T) {
	start := New("tarn24000001", monday)
	start.Append(Entry{Kind: Reading, Tool: "winding", What: "reading", Value: "5.3 ohm", When: monday})
	a, b := read(t, Write(start)), read(t, Write(start))
	a.Append(Entry{Kind: Step, What: "plug_cleaned", When: tuesday})
	own := b.Append(Entry{Kind: Reading, Tool: "loop", What: "current", Value: "1.6 A", When: tuesday})
	b.Correct(own, Entry{Kind: Reading, Tool: "loop", What: "current", Value: "1.7 A", When: tuesday})
	b.Withdraw(1, tuesday, "")
	b.Changed = tuesday
	b.Facts.Given["vehicle"] = "Tarn 24"
	m, err := Merge(a, b)
	require.NoError(t, err)
	corrects := []int{}
	for _, e := range m.Entries {
		corrects = append(corrects, e.Corrects)
	}
	assert.Equal(t, []int{0, 0, 0, 3, 1}, corrects)
	assert.Equal(t, "Tarn 24", m.Facts.Given["vehicle"], "later wins")
	assert.Equal(t, tuesday, m.Changed)
	m.Facts.Given["vehicle"] = "another"
	assert.Equal(t, "Tarn 24", b.Facts.Given["vehicle"], "the copies are not touched")
}

func TestMergeRefuses(t *testing.T) {
	a, b := New("tarn24000001", monday), New("tarn24000002", monday)
	_, err := Merge(a, b)
	assert.Equal(t, Other, err)
	b.ID = a.ID
	for i := range MostEntries {
		e := Entry{Kind: Step, What: "plug_cleaned", When: monday, Said: fmt.Sprint("a", i)}
		a.Append(e)
		e.Said = fmt.Sprint("b", i)
		b.Append(e)
	}
	_, err = Merge(a, b)
	assert.Equal(t, Large, err)
}

func FuzzRead(f *testing.F) {
	f.Add(small)
	f.Add(`{"ohmwright":"job","v":1,"id":"tarn24000001","made":"2026-11-23T07:10:00Z","changed":"2026-11-23T07:10:00Z"}`)
	f.Add(`{"ohmwright":"job","v":2}`)
	f.Fuzz(func(t *testing.T, text string) {
		j, err := Read(text)
		if err != nil {
			switch err {
			case Damaged, Newer, Large, Other:
			default:
				t.Fatalf("not one of the faults: %v", err)
			}
			return
		}
		once := Write(j)
		back, err := Read(once)
		if err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, once)
		}
		assert.Equal(t, j, back)
		if again := Write(back); again != once {
			t.Fatalf("not one form:\n%s\n%s", once, again)
		}
	})
}

// FuzzMerge takes two lists of entries, three bytes each: what is done, on which entry, and when.
func FuzzMerge(f *testing.F) {
	f.Add([]byte("\x00\x00\x00\x01\x01\x00"), []byte("\x00\x00\x01\x02\x01\x00\x01\x01\x01"))
	f.Add([]byte{}, []byte("\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, first, second []byte) {
		a, b := built(first), built(second)
		m, err := Merge(a, b)
		if err != nil {
			if err == Large && (len(a.Entries)+len(b.Entries) > MostEntries) {
				return
			}
			t.Fatal(err)
		}
		of := counts(m)
		for _, j := range []*Job{a, b} {
			for said, n := range counts(j) {
				if of[said] < n {
					t.Fatalf("lost: %s", said)
				}
			}
			again, err := Merge(m, j)
			if err != nil || Write(again) != Write(m) {
				t.Fatalf("not idempotent: %v", err)
			}
		}
		if back, err := Read(Write(m)); err != nil || Write(back) != Write(m) {
			t.Fatalf("cannot be read back: %v", err)
		}
	})
}

func built(acts []byte) *Job {
	j := New("tarn24000001", monday)
	for acts = acts[:min(len(acts), 300)]; len(acts) >= 3; acts = acts[3:] {
		e := Entry{Kind: Reading, Tool: "loop", What: "current", Value: fmt.Sprint(acts[2]%4, " A"), When: monday}
		switch of := int(acts[1]); acts[0] % 4 {
		case 0:
			j.Append(e)
		case 1:
			j.Correct(of, e)
		case 2:
			j.Withdraw(of, monday, "")
		case 3:
			j.Append(Entry{Kind: Step, What: "done", When: monday})
		}
	}
	return j
}
