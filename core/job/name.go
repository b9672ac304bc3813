package job

import "strings"

// IsName reports whether a text is well formed as the name of a tool: small letters and _, beginning with a letter.
func IsName(s string) bool { return isPart(s, false) && len(s) <= 40 }

// IsKey reports whether a text is well formed as a flat key: one to six names joined by dots; all but the first may have digits. A name
// that means something to every JavaScript object is none: the page keeps what is under a key in an object.
func IsKey(s string) bool {
	if s == "" || len(s) > 200 {
		return false
	}
	for i := 0; ; i++ {
		part, rest, more := strings.Cut(s, ".")
		if i == 6 || !isPart(part, i > 0) {
			return false
		}
		if !more {
			return true
		}
		s = rest
	}
}

func isPart(s string, digits bool) bool {
	if s == "" || s[0] == '_' || s == "constructor" || s == "prototype" {
		return false
	}
	for i := range len(s) {
		if c := s[i]; !isSmall(c) && c != '_' && !(digits && isDigit(c)) {
			return false
		}
	}
	return true
}

func isSmall(c byte) bool { return c >= 'a' && c <= 'z' }
func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// IsID reports whether a text is well formed as the ID of a job.
func IsID(s string) bool { return len(s) >= 10 && len(s) <= 40 && isCode(s) }

func isPhotoID(s string) bool { return s != "" && len(s) <= 40 && isCode(s) }

func isCode(s string) bool {
	for i := range len(s) {
		if !isSmall(s[i]) && !isDigit(s[i]) {
			return false
		}
	}
	return true
}

func isPicture(s string) bool { return s == "image/jpeg" || s == "image/png" || s == "image/webp" }

// isBase64 reports whether a text is standard base64 with its padding.
func isBase64(s string) bool {
	data := strings.TrimRight(s, "=")
	if len(s)%4 != 0 || len(s)-len(data) > 2 {
		return false
	}
	for i := range len(data) {
		if c := data[i]; !isSmall(c) && !(c >= 'A' && c <= 'Z') && !isDigit(c) && c != '+' && c != '/' {
			return false
		}
	}
	return true
}

// IsTime reports whether a text is a time as RFC 3339 writes it in UTC: 2026-11-27T07:10:00Z, with or without a fraction of a second.
func IsTime(s string) bool {
	const form = "dddd-dd-ddTdd:dd:dd"
	if len(s) < len(form)+1 || len(s) > 30 || s[len(s)-1] != 'Z' {
		return false
	}
	for i := range len(form) {
		if form[i] == 'd' && !isDigit(s[i]) || form[i] != 'd' && s[i] != form[i] {
			return false
		}
	}
	if fraction := s[len(form) : len(s)-1]; fraction != "" {
		if fraction[0] != '.' || len(fraction) == 1 || strings.Trim(fraction[1:], "0123456789") != "" {
			return false
		}
	}
	in := func(at, min, max int) bool {
		n := int(s[at]-'0')*10 + int(s[at+1]-'0')
		return n >= min && n <= max
	}
	return in(5, 1, 12) && in(8, 1, 31) && in(11, 0, 23) && in(14, 0, 59) && in(17, 0, 60)
}
