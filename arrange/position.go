package arrange

import (
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// positions returns the positions to try: the one asked for, or else all from the
// lowest up and the whole neck after them.
func (a *arranger) positions() []neck.Position {
	if a.Position != neck.Lowest {
		return []neck.Position{a.Position}
	}
	return append(a.Neck.Candidates(), neck.Free)
}

// lineInFirst finds the best line in the first of some positions in which it hardly
// wants for thirds. Where it does in all of them, it is the first in which there is a
// line at all; where there is none, the error is that of the last.
func (a *arranger) lineInFirst(positions []neck.Position) error {
	var failure error
	for _, p := range positions {
		found, err := a.lineIn(p, 1)
		if err != nil {
			failure = err
			continue
		}
		atEase := a.atEase(found, p)
		if atEase || a.score.Line == nil {
			a.score.Position, a.score.Line = p, found
		}
		if atEase {
			break
		}
	}
	if a.score.Line == nil {
		return failure
	}
	return nil
}

// One third of a line in so many may want for another in its position. Over common
// progressions in all keys that parts the lines with room, in which none to one in seven
// does, from those that run to and fro before a hole, with one in six to two in three.
const seldom = 7

// atEase reports whether a line hardly wants for thirds in a position.
func (a *arranger) atEase(found []score.Third, p neck.Position) bool {
	return seldom*a.wants(found, p) <= len(found) && alternates(found) < 0
}

// wants counts where a line goes otherwise than it might because a third cannot be
// played in a position: where it passes over one that cannot, and where it steps back
// at once before one. The ends of the compass that the exercise asks for are no want
// of the position.
func (a *arranger) wants(found []score.Third, p neck.Position) int {
	scales := a.scalesAt(found)
	lacking := func(i, staff int) bool {
		_, ok := a.Neck.Effort(scales[i].Third(staff), p)
		return !ok
	}
	count := 0
	for i := range len(found) - 1 {
		now, next := found[i].Notes.Staff(), found[i+1].Notes.Staff()
		for staff := min(now, next) + 1; staff < max(now, next); staff++ {
			if lacking(i, staff) {
				count++
			}
		}
		ahead := now - next
		back := i > 0 && found[i-1].Notes.Staff() == next && max(ahead, -ahead) == 1
		if back && lacking(i, now+ahead) {
			count++
		}
	}
	return count
}

// scalesAt returns the scale in force as each third of a line begins.
func (a *arranger) scalesAt(found []score.Third) []theory.Scale {
	scales := make([]theory.Scale, len(found))
	at := 0
	for i, third := range found {
		for at+1 < len(a.spans) && a.spans[at+1].Tick <= third.Tick {
			at++
		}
		scales[i] = a.spans[at].Scale
	}
	return scales
}
