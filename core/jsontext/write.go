package jsontext

//go:generate go run ohmwright/cmd/members ../..

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// An Object is a struct that JSON has as an object. The method is written by cmd/members, from the struct's json tags.
type Object interface {
	// Members tells a visitor of each member in turn. A nil pointer says that it is Missing, and tells of what it would have.
	Members(*Visitor)
}

// A Visitor is told the members of an object: it writes them, or it notes what they are.
type Visitor struct {
	b       []byte
	shape   *Shape // what is noted; nil if members are written
	missing bool   // the object is a nil pointer: nothing is written
	left    int    // items of the list that are still to come
	fault   error
}

// AppendObject appends an object as encoding/json would write it, byte for byte, but for a list of objects that is nil: that is [] here.
// The error says that there is a number which JSON has not.
func AppendObject(b []byte, o Object) ([]byte, error) {
	v := &Visitor{b: b}
	v.object(o)
	return v.b, v.fault
}

// Missing says that the object is a nil pointer.
func (v *Visitor) Missing() { v.missing = true }

// Are tells of members: their names with a space between them, and a value for each: a pointer to a string, bool, int or float64, or to a
// pointer to a string or float64, or to a list of strings or ints; or an Object. A name that ends in ? is left out where its value is
// empty; * stands for an object whose members are members of this one.
func (v *Visitor) Are(names string, values ...any) {
	for _, value := range values {
		var name string
		name, names, _ = strings.Cut(names, " ")
		name, optional := strings.CutSuffix(name, "?")
		switch {
		case v.shape != nil:
			v.shape.add(name, optional, value)
		case name == "*":
			within, _ := value.(Object)
			within.Members(v)
			v.missing = false
		case !v.missing:
			before := len(v.b)
			v.name(name)
			if !v.value(value) && optional {
				v.b = v.b[:before]
			}
		}
	}
}

// List tells of a list of n objects: each then is an Item. What they are is shown by none, a nil pointer.
func (v *Visitor) List(name string, n int, none Object) {
	switch {
	case v.shape != nil:
		v.shape.Members = append(v.shape.Members, Member{Name: name, Shape: Shape{Type: "array", Items: ShapeOf(none)}})
	case !v.missing:
		v.name(name)
		v.b = append(v.b, '[')
		if n == 0 {
			v.b = append(v.b, ']')
		}
		v.left = n
	}
}

// Item tells of the next object of a list.
func (v *Visitor) Item(o Object) {
	left := v.left - 1
	v.object(o)
	if left == 0 {
		v.b = append(v.b, ']')
	} else {
		v.b = append(v.b, ',')
	}
	v.left = left
}

// name writes a member's name, and what parts it from the one before.
func (v *Visitor) name(name string) {
	if v.b[len(v.b)-1] != '{' {
		v.b = append(v.b, ',')
	}
	v.b = append(v.b, '"')
	v.b = append(v.b, name...)
	v.b = append(v.b, '"', ':')
}

// object writes an object, null for a nil pointer, and reports whether there is one.
func (v *Visitor) object(o Object) bool {
	before := len(v.b)
	v.b = append(v.b, '{')
	o.Members(v)
	if v.missing {
		v.missing = false
		v.null(before)
		return false
	}
	v.b = append(v.b, '}')
	return true
}

func (v *Visitor) null(at int) { v.b = append(v.b[:at], "null"...) }

// value writes a value, and reports whether it is not empty.
func (v *Visitor) value(value any) bool {
	switch p := value.(type) {
	case *string:
		v.b = AppendEscaped(v.b, *p)
		return *p != ""
	case *bool:
		v.b = strconv.AppendBool(v.b, *p)
		return *p
	case *int:
		v.b = strconv.AppendInt(v.b, int64(*p), 10)
		return *p != 0
	case *float64:
		v.number(*p)
		return *p != 0
	case **float64:
		if *p != nil {
			v.number(**p)
			return true
		}
	case **string:
		if *p != nil {
			v.b = AppendEscaped(v.b, **p)
			return true
		}
	case *[]string:
		if *p != nil {
			v.b = AppendEscapedList(v.b, *p)
			return len(*p) > 0
		}
	case *[]int:
		if *p != nil {
			v.b = append(v.b, '[')
			for i, n := range *p {
				if i > 0 {
					v.b = append(v.b, ',')
				}
				v.b = strconv.AppendInt(v.b, int64(n), 10)
			}
			v.b = append(v.b, ']')
			return len(*p) > 0
		}
	case Object:
		return v.object(p)
	}
	v.null(len(v.b))
	return false
}

// number writes a number. One that JSON has not is a fault.
func (v *Visitor) number(f float64) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		v.fault = errors.New("json: unsupported value: " + strconv.FormatFloat(f, 'g', -1, 64))
		return
	}
	v.b = AppendNumber(v.b, f)
}

// AppendNumber appends a finite number as ECMAScript writes it, which is how encoding/json does: with as few digits as tell it from its
// neighbours, and an exponent below 1e-6 and from 1e21 on, of which 1e-09 is 1e-9.
func AppendNumber(b []byte, f float64) []byte {
	form := byte('f')
	if size := math.Abs(f); size != 0 && (size < 1e-6 || size >= 1e21) {
		form = 'e'
	}
	b = strconv.AppendFloat(b, f, form, -1, 64)
	if n := len(b); form == 'e' && n >= 4 && b[n-4] == 'e' && b[n-3] == '-' && b[n-2] == '0' {
		b[n-2] = b[n-1]
		b = b[:n-1]
	}
	return b
}
