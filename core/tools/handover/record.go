package handover

import (
	"cmp"
	"slices"
	"strings"

	"ohmwright/core/handover"
	"ohmwright/core/job"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

// A record is what the request holds, as it was typed.
type record struct {
	vehicle, tag, odometer, complaint string
	codes                             []string
	supply                            string
	cause, repair                     string
	parts, torques                    [][2]string // name and number; bolts and all that was noted of their torque
	lengths                           []string    // of bolts, by row
	newReading, newAt                 string
	fluid, relearnBy, customer, toDo  string
	who, date                         string
	readings                          []reading
	answers                           []answer
	steps                             []step
	notMade                           []untested
	drawn                             string // link of the circuit's answer
	judges                            []judge
}

type reading struct {
	tool, what, name, place, value, at, supply, meter, leads, when, who string
	corrected                                                           string // no, yes or withdrawn
	asTool, asWhat                                                      string // where it was taken over, and as what
}

// stands reports whether a reading was neither corrected nor withdrawn.
func (r reading) stands() bool { return r.corrected == "no" }

type answer struct{ tool, verdict, said, when, who string }

type step struct{ what, said, when, who string }

type untested struct{ tool, test string }

// A judge is a row of the specification that readings were judged by.
type judge struct {
	name, min, max, nominal, tolerance, at, from, to, appliesTo, source string
	applies, settled                                                    bool // it is the one taken; a known good part settled that
}

func recordOf(r *tool.Record, f *tool.Faults) record {
	rec := record{
		vehicle: trimmed(vehicle, r), tag: trimmed(tag, r), odometer: trimmed(odometer, r), complaint: trimmed(complaint, r),
		supply: supply.Sound(r), cause: trimmed(cause, r), repair: trimmed(repair, r),
		newReading: newReading.Sound(newPart.Of(r)), newAt: newAt.Sound(newPart.Of(r)),
		fluid: trimmed(fluid, r), relearnBy: trimmed(learnt, r), customer: trimmed(customer, r), toDo: trimmed(toDo, r),
		who: trimmed(who, r), date: trimmed(date, r),
	}
	rec.codes = codesOf(r)
	for _, row := range parts.Of(r) {
		rec.parts = append(rec.parts, [2]string{trimmed(partName, row), trimmed(partNumber, row)})
	}
	for _, row := range bolts.Of(r) {
		rec.lengths = append(rec.lengths, length.Sound(row))
	}
	rec.fromJob(r)
	alone := rec.alone()
	for _, row := range torques.Of(r) {
		set := torque.Sound(row)
		if torque.Given(row) && torque.OK(row) {
			set = f.Speak.Of(quantity.OfTorque, float64(torque.Of(row)), 0)
		}
		by := cmp.Or(trimmed(torquer, row), alone)
		rec.torques = append(rec.torques, [2]string{trimmed(torqueOf, row), f.Speak.List(set, trimmed(wrench, row), by)})
	}
	return rec
}

// fromJob reads what the page took from the job's entries.
func (rec *record) fromJob(r *tool.Record) {
	for _, row := range readings.Of(r) {
		rec.readings = append(rec.readings, reading{trimmed(from, row), trimmed(what, row), trimmed(name, row), trimmed(place, row),
			trimmed(value, row), trimmed(at, row), trimmed(ownSupply, row), trimmed(meter, row), trimmed(offLeads, row), trimmed(when, row),
			trimmed(by, row), corrected.Of(row), trimmed(asTool, row), trimmed(asWhat, row)})
	}
	for _, row := range answers.Of(r) {
		rec.answers = append(rec.answers, answer{trimmed(from, row), trimmed(verdict, row), trimmed(said, row), trimmed(when, row),
			trimmed(by, row)})
	}
	for _, row := range steps.Of(r) {
		rec.steps = append(rec.steps, step{trimmed(what, row), trimmed(said, row), trimmed(when, row), trimmed(by, row)})
	}
	for _, row := range notMade.Of(r) {
		rec.notMade = append(rec.notMade, untested{trimmed(from, row), trimmed(test, row)})
	}
	for _, row := range judgedBy.Of(r) {
		rec.judges = append(rec.judges, judge{trimmed(name, row), trimmed(rowMin, row), trimmed(rowMax, row), trimmed(nominal, row),
			trimmed(tolerance, row), trimmed(at, row), trimmed(validFrom, row), trimmed(validTo, row), trimmed(appliesTo, row),
			trimmed(source, row), applies.Of(row) == "yes", settled.Of(row) == "yes"})
	}
	rec.drawn = trimmed(drawn, r)
}

// alone returns who works on the job, if nobody else is named in its record; else "": whoever does now need not have done what bears no
// name.
func (rec record) alone() string {
	by := map[string]bool{"": true, rec.who: true}
	for _, one := range rec.readings {
		by[one.who] = true
	}
	for _, one := range rec.answers {
		by[one.who] = true
	}
	for _, one := range rec.steps {
		by[one.who] = true
	}
	if len(by) > 2 {
		return ""
	}
	return rec.who
}

// codesOf returns the codes, each with its failure type.
func codesOf(r *tool.Record) (list []string) {
	add := func(code, kind string) {
		if kind != "" && code != "" {
			code += "-" + kind
		}
		if code != "" && !slices.Contains(list, code) {
			list = append(list, code)
		}
	}
	add(trimmed(code, r), trimmed(failureType, r))
	for _, row := range codes.Of(r) {
		add(trimmed(moreCode, row), trimmed(moreType, row))
	}
	return list
}

// concluded returns what the circuit tool last decided, which is the cause where nobody wrote another. That a test is to be made, or made
// again, is none. The record has one answer for each winding.
func (rec record) concluded() (answer, bool) {
	for _, a := range slices.Backward(rec.answers) {
		if a.tool == "circuit" && !slices.Contains([]string{"test", "again", "stop"}, a.verdict) {
			return a, true
		}
	}
	return answer{}, false
}

// recorded says which of the things that a record usually has are there.
func (rec record) recorded(q handover.Question) map[job.Need]bool {
	_, concluded := rec.concluded()
	all := func(ok func(reading) bool) bool {
		return !slices.ContainsFunc(rec.readings, func(one reading) bool { return one.stands() && !ok(one) })
	}
	warm := slices.ContainsFunc(rec.readings, func(one reading) bool { return one.stands() && one.what == "winding_temperature" })
	return map[job.Need]bool{
		job.NeedVehicle: rec.vehicle != "", job.NeedTag: rec.tag != "",
		job.NeedOdometer: rec.odometer != "", job.NeedComplaint: rec.complaint != "",
		job.NeedCause: rec.cause != "" || concluded, job.NeedRepair: rec.repair != "", job.NeedWho: rec.who != "",
		job.NeedReadings:    len(rec.readings) > 0,
		job.NeedTemperature: warm || all(func(one reading) bool { return one.at != "" || !inOhms(one.value) }),
		job.NeedMeter:       all(func(one reading) bool { return one.meter != "" || !measured(one.value) }),
		job.NeedReread:      q.Reread != handover.NotRecorded || len(rec.codes) == 0 && q.Cleared == handover.NotNeeded,
		job.NeedRoadTest:    q.Road != handover.NotRecorded,
	}
}

// inOhms reports whether a reading is of a resistance, in whose record the temperature counts.
func inOhms(value string) bool {
	_, err := quantity.Parse(value, quantity.Point, quantity.OfResistance)
	return err == nil || value == "OL"
}

// measured reports whether a reading is a number, rather than a word such as yes.
func measured(value string) bool { return strings.ContainsAny(value, "0123456789") || value == "OL" }
