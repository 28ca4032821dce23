// Package contour holds the curves along which the phrases of a line rise and fall: a
// question rises to its high point in its third quarter and stays open, an answer has it
// sooner and falls (common practice). It is pure.
//
//	question              answer
//	          . .            . .
//	      .         .     .       .
//	  .                             .
//	------------------  ----------------- middle of the compass
//	                                  .
//
// A heading says how a line goes at a moment, and whether it has just turned.
package contour

// curves says how a question and an answer rise and fall: how far, in per cent of the way
// from the middle of the compass, they lie at a part of their length, in per cent too.
var curves = [][]struct{ at, height int }{
	{{0, 0}, {70, 50}, {100, 20}},
	{{0, 10}, {35, 80}, {100, -25}},
}

// widest is how many staff steps a curve goes from the middle at most: a fourth and a
// little more, so that a phrase stays within an octave.
const widest = 4

// At returns the staff step where a phrase's curve runs at a part of its length, in per
// cent, within a compass of staff steps. Phrases are counted from 0; odd ones answer.
func At(phrase, part, low, high int) int {
	points := curves[phrase%len(curves)]
	i := 1
	for i+1 < len(points) && points[i].at < part {
		i++
	}
	from, to := points[i-1], points[i]
	part = min(to.at, max(from.at, part))
	height := from.height + (to.height-from.height)*(part-from.at)/(to.at-from.at)
	swing := min(widest, max(0, (high-low)/2-1))
	return (50*(low+high) + swing*height + 50) / 100
}
