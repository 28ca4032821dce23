package source

// A Pos is a place in a file.
type Pos struct {
	Line   int `json:"line,omitempty"`   // from 1; 0 where no place is to blame
	Column int `json:"column,omitempty"` // from 1, in characters
}

// A Span is a stretch of characters in one line of a file.
type Span struct {
	Pos
	Length int `json:"-"` // characters; 0 where none can be marked
}

// through returns the span from the beginning of one to the end of another, or
// the first alone where they stand in different lines.
func (s Span) through(last Span) Span {
	if last.Line == s.Line {
		s.Length = last.Column + last.Length - s.Column
	}
	return s
}
