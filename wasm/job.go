//go:build js && wasm

package main

import (
	"errors"

	"ohmwright/core/job"
	"ohmwright/core/jsontext"
	"ohmwright/core/page"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// A refusal says why there is no job: one of core/job's faults, and the same in words.
type refusal struct {
	Fault string `json:"fault"`
	Text  string `json:"text"`
}

// ofJob returns a function of the module whose first text is a job. The rest of its texts go to answer; the reader's language and locale
// are those at an index among them. A text that is no job is refused: {"fault": "damaged", "newer", "large" or "other", "text": …}.
func ofJob(language int, answer func(j *job.Job, rest []string, speak *wording.Speaker) []byte) func([]string) []byte {
	return func(texts []string) []byte {
		rest := texts[1:]
		speak := speaker(rest[language], rest[language+1])
		j, err := job.Read(texts[0])
		if err != nil {
			kind := job.Damaged
			errors.As(err, &kind)
			return object(&refusal{string(kind), speak.Say("job." + string(kind))})
		}
		return answer(j, rest, speak)
	}
}

// jobRead reads a job that was kept, imported or opened: jobRead(job, language, locale) is {"job": …}, complete and in order.
var jobRead = ofJob(0, func(j *job.Job, _ []string, _ *wording.Speaker) []byte {
	return []byte(`{"job":` + job.Write(j) + `}`)
})

// jobNote returns what a form adds to a job's record: jobNote(job, tool, form, language, locale, when, who) is {"entries": […]},
// numbered behind those that the job has.
var jobNote = ofJob(2, func(j *job.Job, rest []string, speak *wording.Speaker) []byte {
	t, named := tools.Named(rest[0])
	given, read := formOf(rest[1])
	if !named || !read {
		return refused("jobNote: no such tool or form")
	}
	entries := page.Journal(j, t, given, speak, rest[4], rest[5])
	return append(job.AppendEntries([]byte(`{"entries":`), entries, len(j.Entries)+1), '}')
})

// jobRecord returns what the handover takes over from a job: jobRecord(job, language, locale) is {"given": {flat key: text}}.
var jobRecord = ofJob(0, func(j *job.Job, _ []string, _ *wording.Speaker) []byte {
	return append(jsontext.AppendMap([]byte(`{"given":`), page.Record(j)), '}')
})

// jobLine returns a job's line in a list: jobLine(job, language, locale) is {"name", "said", "when"}.
var jobLine = ofJob(0, func(j *job.Job, _ []string, speak *wording.Speaker) []byte {
	name, said, when := page.Line(j, speak)
	return jsontext.AppendMap(nil, map[string]string{"name": name, "said": said, "when": when})
})
