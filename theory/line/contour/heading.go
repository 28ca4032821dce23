package contour

// A Heading is how a line has come where it is.
type Heading int

// The headings.
const (
	Still      Heading = iota // from nowhere
	Falling                   //
	TurnedDown                // falling, but rising just before
	TurnedUp                  // rising, but falling just before
	Rising                    //
	Headings                  // how many there are
)

// Turn returns the heading after a move of so many steps; one that stays keeps the
// heading before it.
func (h Heading) Turn(steps int) Heading {
	came := h.Direction()
	switch {
	case steps < 0 && came == Rising:
		return TurnedDown
	case steps < 0:
		return Falling
	case steps > 0 && came == Falling:
		return TurnedUp
	case steps > 0:
		return Rising
	}
	return h
}

// Turned reports whether the last move went back from where the one before it led.
func (h Heading) Turned() bool { return h == TurnedDown || h == TurnedUp }

// Direction returns the heading without its past.
func (h Heading) Direction() Heading {
	switch h {
	case TurnedDown:
		return Falling
	case TurnedUp:
		return Rising
	}
	return h
}
