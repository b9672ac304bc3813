package jsontext

// A Shape is what stands in a place of JSON, whatever the values are.
type Shape struct {
	Type    string   // as JSON Schema calls it; of a whole number "", which says nothing
	Members []Member // of an object
	Items   *Shape   // of an array
}

// A Member is a member of objects.
type Member struct {
	Name     string
	Optional bool // it may be left out
	Shape
}

// ShapeOf returns the shape of an object, which may be a nil pointer.
func ShapeOf(o Object) *Shape {
	s := &Shape{Type: "object"}
	o.Members(&Visitor{shape: s})
	return s
}

// add notes a member that a visitor is told of.
func (s *Shape) add(name string, optional bool, value any) {
	m := Member{Name: name, Optional: optional}
	switch v := value.(type) {
	case *string, **string:
		m.Type = "string"
	case *bool:
		m.Type = "boolean"
	case *float64, **float64:
		m.Type = "number"
	case *[]string:
		m.Type, m.Items = "array", &Shape{Type: "string"}
	case *[]int:
		m.Type, m.Items = "array", &Shape{}
	case Object:
		m.Shape = *ShapeOf(v)
	}
	if name != "*" {
		s.Members = append(s.Members, m)
		return
	}
	for _, within := range m.Members { // left out as a whole
		within.Optional = true
		s.Members = append(s.Members, within)
	}
}
