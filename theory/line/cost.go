package line

import "thirdwise/theory/line/motif"

// costTable is what a line is weighed by.
type costTable struct {
	Far, Beyond, Hand, Opening            int
	Vague, Bare, Doubled, Unaltered, Home int
	ForeignStrong, ForeignBeat            int
	Hanging, Loose, Avoided, Suspended    int
	Turn, Zigzag, Back                    int
	Skip, LooseSkip, Landing, Leap, Jump  int
	Same, Stay, Stuck, Repeat, Restart    int
	Inflected, Augmented                  int
	Plateau, Ending, Again                int
	Mirrored, Fitted, Unlike              int
}

// costOf says what the line weighs. The line with the smallest sum is taken. One
// unit is a third that lies a staff step farther from the phrase's curve than it
// need. The reasons are common practice; the values are our own, fitted to lines
// written by hand.
var costOf = costTable{
	// Where a third lies.
	Far:     1,  // on arrivals and strong beats, each staff step beyond one away from the curve: a phrase has a direction
	Beyond:  4,  // in addition, on the whole neck, each step more than a fifth above it: the body is in the way
	Hand:    2,  // each unit of the hand's effort: a stretch is for where nothing else is
	Opening: 10, // in addition, each unit of it where the line begins: the hand has yet to find its place

	// How a chord begins.
	Vague:     12,  // without the chord's own third: the chord is hard to tell
	Bare:      8,   // in addition, fifth and seventh alone: it sounds like another chord
	Doubled:   2,   // on its root, which the bass has: third and fifth tell more
	Unaltered: 50,  // without the tone that is not the key's: the ear waits for it
	Home:      400, // the end on the tonic's chord without the tonic: no end at all

	// What sounds against a chord.
	ForeignStrong: 90, // on a strong beat, no note of the chord: it sounds wrong
	ForeignBeat:   40, // on another beat
	Hanging:       5,  // held for a beat or left before a rest, each note that is not the chord's
	Loose:         3,  // on a beat, each note that is not the chord's
	Avoided:       10, // on a beat or held, a semitone above one of the chord's: it rubs against that
	Suspended:     90, // the third against a sustained fourth

	// How one third follows another.
	Turn:      5,  // the line changes its direction
	Zigzag:    8,  // it changes back at once: to and fro between two thirds
	Back:      6,  // in addition, by a skip: what is leapt over is heard twice and filled by nothing
	Skip:      5,  // a third leapt over, within the chord, which it outlines, or between two arrivals
	LooseSkip: 25, // a third leapt over from or to what is not the chord's
	Landing:   14, // an arrival reached by other than a step
	Leap:      8,  // each staff step beyond two
	Jump:      20, // in addition, where no breath goes before it
	Same:      12, // the same arrival again: nothing seems to happen
	Stay:      6,  // in addition or after a detour, on the letters of the arrival before it: the line goes nowhere
	Stuck:     10, // in addition, where the chord goes on: neither moves
	Repeat:    30, // a third struck again: a stutter
	Restart:   14, // the same behind a breath
	Inflected: 2,  // the same letters with other accidentals
	Augmented: 40, // a voice moves by an augmented second

	// How a phrase goes.
	Plateau: 7,  // its highest third is reached a second time
	Ending:  12, // a repeated part is left otherwise than it leads back: a second ending to read
	Again:   5,  // a third that an earlier variant has at the same time, for up to three such

	// How a bar says again what the phrase has stated.
	Mirrored: 2, // upside down: an answer, but not the nearest
	Fitted:   2, // each move that goes the same way, but not as far
	Unlike:   4, // each other move: the motif is lost
}

// likenessCost is what it costs to say a move of the motif again.
var likenessCost = [...]int{motif.Mirrored: costOf.Mirrored, motif.Fitted: costOf.Fitted, motif.Unlike: costOf.Unlike}
