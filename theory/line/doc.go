// Package line finds the line of thirds that joins the chords of a chart.
//
// In go the chords, each with its stretch of time and the scale in force, and what
// the line may use: a rhythm or how one is to be made, a compass, the thirds that a
// hand can play. Out comes the best line. What "best" is, the table of costs says;
// where the thirds lie on a guitar is the business of package neck.
//
// It is made in two stages. First package rhythm says where thirds begin, phrase by
// phrase: these are the onsets. Then each onset is given a third.
//
// Every chord, with the scale that is in force over it, is a station: a ladder of
// thirds, one rung a staff step. The first onset of a chord is its arrival, which
// takes one of the rungs that belong to the chord (•); the others may take any
// rung. A heading is the direction in which the line has come, and whether it has
// just turned.
//
//	       station C           station Dm
//	B–D    |   . . .         |   . . . .
//	A–C    |   . . A–C       |   . . . .
//	G–B    |   . G–B .  \    |   . . . .
//	F–A    |   . . .     \   | • F–A . .      turned down, to the arrival
//	E–G    | • E–G  rising   |   . . . .
//	D–F    |   . . .         | • . . . .
//	C–E    | • . . .         |   . . . .
//	onsets:    1 3 4             1 ...
//
// The search has two levels. The lower one goes through a phrase from onset to onset:
// inside, up to the phrase's last arrival, and then along a lead to the beginning of the
// next phrase. What a way ahead costs depends on where the line is, its heading, its last
// arrival, the phrase's highest rung and the motif that it has stated. The upper level
// goes from phrase to phrase, knowing of each only on which rung it begins:
//
//	phrase 1                 phrase 2                 phrase 3
//	• begins on E–G   ----   • begins on G–B   ----   • begins on C–E
//	• begins on C–E   -  -   • begins on E–G   -  -   • begins on E–G
//	                   \/                       \/
//	          each way is searched on the lower level, and only
//	          where a bound does not rule it out
//
//	one way:  E–G  G–B  A–C  ...  F–A (last arrival)  E–G  F–A  | G–B
//	          |---------- inside ------------------|  |- lead --|
//
// A part that is repeated is one unit on the upper level. Its last phrase has two
// leads, one back to its beginning and one on to what follows, and its way inside is
// the best for both. A line that goes round leads back to the rung on which it began.
//
// The package is pure: no files, no clock, no randomness.
package line
