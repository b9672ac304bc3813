package job

import "strings"

// An entry has no field of its own for the leads that were taken off: a program of an earlier day refuses a document with a field that it
// does not know. So they stand in the text of the meter, which such a program shows as it is.

const leads = "leads "

// WithLeads returns the Meter of a reading from which the leads of the meter were taken off: what is known of the meter, "; ", and the
// leads, such as "leads 0.3 ohm".
func WithLeads(meter, ohms string) string {
	switch {
	case ohms == "":
		return meter
	case meter == "":
		return leads + ohms
	}
	return meter + "; " + leads + ohms
}

// Leads takes a Meter apart again.
func Leads(text string) (meter, ohms string) {
	if i := strings.LastIndex(text, "; "+leads); i >= 0 {
		return text[:i], text[i+2+len(leads):]
	}
	if ohms, ok := strings.CutPrefix(text, leads); ok {
		return "", ohms
	}
	return text, ""
}
