package source

// A Pos is a place in a file.
type Pos struct {
	Line   int `json:"line,omitempty"`   // from 1; 0 where no place is to blame
	Column int `json:"column,omitempty"` // from 1, in characters
}

// A Span is a stretch of characters in one line of a file.
type Span struct {
	Pos
	Length int `json:"length,omitempty"` // characters; 0 where none can be marked
}
