//go:build js && wasm

package main

import (
	"encoding/json"
	"errors"

	"ohmwright/core/job"
	"ohmwright/core/page"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// A refusal says why there is no job: one of core/job's faults, and the same in words.
type refusal struct {
	Fault string `json:"fault"`
	Text  string `json:"text"`
}

func refuse(fault error, speak *wording.Speaker) refusal {
	kind := job.Damaged
	errors.As(fault, &kind)
	return refusal{string(kind), speak.Say("job." + string(kind))}
}

// whole returns a job as an answer.
func whole(j *job.Job) json.RawMessage { return json.RawMessage(`{"job":` + job.Write(j) + `}`) }

// jobRead reads a job that was kept, imported or opened: jobRead(text, language, locale) is {"job": …}, complete and in order, or a
// refusal {"fault": "damaged", "newer", "large" or "other", "text": …}.
func jobRead(texts []string) any {
	j, err := job.Read(texts[0])
	if err != nil {
		return refuse(err, speaker(texts[1], texts[2]))
	}
	return whole(j)
}

// jobNote returns what a form adds to a job's record: jobNote(job, tool, form as JSON, language, locale, when, who) is {"entries": […]},
// numbered behind those that the job has.
func jobNote(texts []string) any {
	speak := speaker(texts[3], texts[4])
	j, err := job.Read(texts[0])
	if err != nil {
		return refuse(err, speak)
	}
	t, ok := tools.Named(texts[1])
	given := map[string]string{}
	if err := json.Unmarshal([]byte(texts[2]), &given); err != nil || !ok {
		return fault("jobNote: no such tool or form")
	}
	entries := page.Journal(j, t, given, speak, texts[5], texts[6])
	return json.RawMessage(append(job.AppendEntries([]byte(`{"entries":`), entries, len(j.Entries)+1), '}'))
}

// jobMerge joins two copies of a job: jobMerge(job, job, language, locale) is {"job": …} or a refusal.
func jobMerge(texts []string) any {
	speak := speaker(texts[2], texts[3])
	a, err := job.Read(texts[0])
	if err != nil {
		return refuse(err, speak)
	}
	b, err := job.Read(texts[1])
	if err != nil {
		return refuse(err, speak)
	}
	j, err := job.Merge(a, b)
	switch {
	case errors.Is(err, job.Other):
		return refusal{string(job.Other), speak.Say("job.not_same")}
	case err != nil:
		return refuse(err, speak)
	}
	return whole(j)
}

// jobRecord returns what the handover takes over from a job: jobRecord(job) is {"given": {flat key: text}} or a refusal.
func jobRecord(texts []string) any {
	j, err := job.Read(texts[0])
	if err != nil {
		return refuse(err, speaker(texts[1], texts[2]))
	}
	return map[string]any{"given": page.Record(j)}
}

// jobLine returns a job's line in a list: jobLine(job, language, locale) is {"name", "said", "when"} or a refusal.
func jobLine(texts []string) any {
	speak := speaker(texts[1], texts[2])
	j, err := job.Read(texts[0])
	if err != nil {
		return refuse(err, speak)
	}
	name, said, when := page.Line(j, speak)
	return map[string]string{"name": name, "said": said, "when": when}
}
