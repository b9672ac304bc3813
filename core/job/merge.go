package job

import "maps"

// Merge joins two copies of a job that were both added to. Every entry of both is kept: those of a, then those that b alone has, numbered
// anew, with what they correct. Facts and forms are those of the copy that was changed later; a's if both were changed at the same time.
// The error is [Other] if they are not the same job, and [Large] if both together are beyond a limit; nothing is lost then, as both
// copies are still there. Merging once more changes nothing.
func Merge(a, b *Job) (*Job, error) {
	if a.ID != b.ID {
		return nil, Other
	}
	newer, older := a, b
	if later(b.Changed, a.Changed) {
		newer, older = b, a
	}
	j := &Job{ID: a.ID, Made: a.Made, Changed: newer.Changed, Archived: newer.Archived, Facts: newer.Facts.clone(),
		Forms: maps.Clone(newer.Forms)}
	if later(a.Made, b.Made) {
		j.Made = b.Made
	}
	j.Entries = mergeEntries(a.Entries, b.Entries)
	j.Photos = mergePhotos(newer.Photos, older.Photos)
	j.fill()
	if len(j.Entries) > MostEntries || len(j.Photos) > MostPhotos {
		return nil, Large
	}
	if err := j.check(); err != nil {
		return nil, err
	}
	return j, nil
}

func (f Facts) clone() Facts {
	return Facts{maps.Clone(f.Given), maps.Clone(f.Units), maps.Clone(f.Rows), maps.Clone(f.From)}
}

// mergeEntries returns a's entries and then those of b that a does not have. An entry that both have was copied with the job, or is the
// same thing noted by two tabs at the same moment.
func mergeEntries(a, b []Entry) []Entry {
	out := append([]Entry{}, a...)
	have := map[Entry][]int{} // indices of a's entries that none of b was found to be
	for i, e := range a {
		have[e] = append(have[e], i)
	}
	at := make([]int, len(b)) // the new numbers of b's entries
	for i, e := range b {
		if e.Corrects > 0 {
			e.Corrects = at[e.Corrects-1]
		}
		if same := have[e]; len(same) > 0 {
			at[i], have[e] = same[0]+1, same[1:]
			continue
		}
		out = append(out, e)
		at[i] = len(out)
	}
	return out
}

// mergePhotos returns the photographs of both, those of the first where both have one of the same ID.
func mergePhotos(first, second []Photo) []Photo {
	out, have := append([]Photo{}, first...), map[string]bool{}
	for _, p := range first {
		have[p.ID] = true
	}
	for _, p := range second {
		if !have[p.ID] {
			out = append(out, p)
		}
	}
	return out
}
