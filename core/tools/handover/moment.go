package handover

import (
	"slices"
	"strings"

	"ohmwright/core/wording"
)

// A moment is a time as a clock on the wall showed it, and by how much that clock is ahead of UTC: +01:00, or Z. The page hands each time
// over with its own offset, since clocks are changed twice a year.
type moment struct{ day, time, offset string }

// momentOf reads a time of RFC 3339; ok is false for any other text.
func momentOf(when string) (m moment, ok bool) {
	const minutes = len("2026-11-23T08:02")
	if len(when) <= minutes || when[10] != 'T' {
		return m, false
	}
	m = moment{day: when[:10], time: when[11:minutes], offset: "Z"}
	if strings.HasSuffix(when, "Z") {
		return m, true
	}
	m.offset = when[len(when)-len("+01:00"):]
	sign, digits := m.offset[0], m.offset[1:3]+m.offset[4:]
	return m, (sign == '+' || sign == '-') && m.offset[3] == ':' && strings.Trim(digits, "0123456789") == ""
}

// zone writes a clock's offset: UTC+01:00, or UTC.
func (m moment) zone() string {
	if m.offset == "Z" || m.offset[1:] == "00:00" {
		return "UTC"
	}
	return "UTC" + strings.Replace(m.offset, "-", "\u2212", 1)
}

// A clock writes the times of one record.
type clock struct {
	speak *wording.Speaker
	zones []string // of the record's times, each once
}

// clockOf returns the clock for the times that a record tells of.
func clockOf(r record, s *wording.Speaker) clock {
	c := clock{speak: s}
	note := func(when string) {
		if m, ok := momentOf(when); ok && !slices.Contains(c.zones, m.zone()) {
			c.zones = append(c.zones, m.zone())
		}
	}
	for _, one := range r.readings {
		note(one.when)
	}
	for _, a := range r.answers {
		note(a.when)
	}
	for _, one := range r.steps {
		note(one.when)
	}
	return c
}

// told writes a time: with its offset only where the record has times of several, since one is said once for all. Any text that is no
// time is written as it is.
func (c clock) told(when string) string {
	m, ok := momentOf(when)
	switch {
	case !ok:
		return when
	case len(c.zones) > 1:
		return c.speak.Say("moment.zone", m.day, m.time, m.zone())
	}
	return c.speak.Say("moment", m.day, m.time)
}

// once returns the offset that holds for all times; "" if there is none, or several.
func (c clock) once() string {
	if len(c.zones) == 1 {
		return c.zones[0]
	}
	return ""
}
