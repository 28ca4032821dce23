package arrange

import (
	"slices"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// bassNeck is a bass guitar in its usual tuning, E1 A1 D2 G2: the guitar's four
// low strings an octave lower.
var bassNeck = func() neck.Neck {
	var tuning neck.Tuning
	for _, p := range neck.Standard()[:4] {
		p.Octave--
		tuning = append(tuning, p)
	}
	return neck.Neck{Tuning: tuning}
}()

// The bass's compass as MIDI keys: from its lowest string to C3, below the
// guide and out of its way.
const (
	bassLowest  = 28
	bassHighest = 48
	bassMiddle  = 36
)

// bassCosts says what the bass weighs; the part with the smallest sum is played.
var bassCosts = struct {
	far, repeat, skip, leap, octave, harsh, approach int
}{
	far:      1,  // each third of an octave away from the middle
	repeat:   8,  // the same note twice
	skip:     2,  // a third
	leap:     4,  // a fourth or fifth
	octave:   9,  // anything wider
	harsh:    3,  // a note that is not the chord's
	approach: 40, // the last note before a chord is no step from its root
}

// A bassBeat is one note that the bass is going to play: when, and what it can
// be.
type bassBeat struct {
	tick, end int
	choice    []theory.Pitch
	chord     theory.Chord
	leads     bool // the last before another chord
}

// bass writes the bass part once through the chart, so that it can go round. It
// is a shortest path over what each note can be, one for each beginning.
func bass(s *score.Score, setting exercise.Bass) []score.BassNote {
	if setting == exercise.NoBass {
		return nil
	}
	beats := bassBeats(s, setting)
	if len(beats) == 0 {
		return nil
	}
	best, least := []int(nil), unreachable
	for first := range beats[0].choice {
		if path, cost := bassPath(beats, first); cost < least {
			best, least = path, cost
		}
	}
	notes := make([]score.BassNote, len(beats))
	for b, choice := range best {
		p := beats[b].choice[choice]
		notes[b] = score.BassNote{
			Tick: beats[b].tick, Length: beats[b].end - beats[b].tick,
			Pitch: p, Place: bassNeck.Places(p)[0],
		}
	}
	return notes
}

// unreachable is the cost of what cannot be. Sums of a few stay far from overflow.
const unreachable = 1 << 40

// bassPath returns the best choice for each beat where that for the first is
// given, and what it costs, the way back to the first included.
func bassPath(beats []bassBeat, first int) (path []int, cost int) {
	costs := make([]int, len(beats[0].choice))
	for i := range costs {
		costs[i] = unreachable
	}
	costs[first] = beats[0].cost(beats[0].choice[first])
	before := make([][]int, len(beats))
	for b := 1; b < len(beats); b++ {
		now := beats[b]
		sums := make([]int, len(now.choice))
		before[b] = make([]int, len(now.choice))
		for i, to := range now.choice {
			own := now.cost(to)
			for j, from := range beats[b-1].choice {
				sum := costs[j] + own + beats[b-1].move(from, to)
				if j == 0 || sum < sums[i] {
					sums[i], before[b][i] = sum, j
				}
			}
		}
		costs = sums
	}
	last, cost := 0, unreachable
	for i, from := range beats[len(beats)-1].choice {
		sum := costs[i] + beats[len(beats)-1].move(from, beats[0].choice[first])
		if sum < cost {
			last, cost = i, sum
		}
	}
	path = make([]int, len(beats))
	for b := len(beats) - 1; b >= 0; b-- {
		path[b] = last
		if b > 0 {
			last = before[b][last]
		}
	}
	return path, cost
}

// bassBeats lists when the bass plays and what each note can be.
func bassBeats(s *score.Score, setting exercise.Bass) []bassBeat {
	step := s.Meter.Beat()
	if setting == exercise.RootFifth && s.Meter.Unit == 4 {
		step *= 2
	}
	if s.Meter.Uneven() { // its beats are eighths apart by turns two and three
		step = s.Meter.UnitTicks()
	}
	var beats []bassBeat
	for _, bar := range s.Bars {
		for _, span := range bar.Chords {
			if span.None {
				continue
			}
			end := span.Tick + span.Length
			first := len(beats)
			beats = append(beats, bassBeat{tick: span.Tick, end: end, chord: span.Chord, choice: octaves(span.Chord.Bass)})
			for tick := span.Tick + step; tick < end; tick += step {
				if s.Meter.Uneven() && !slices.Contains(s.Meter.BeatStarts(), tick-bar.Tick) {
					continue
				}
				beats[len(beats)-1].end = tick
				beats = append(beats, bassBeat{tick: tick, end: end, chord: span.Chord})
			}
			for i := first + 1; i < len(beats); i++ {
				switch {
				case setting == exercise.Walking:
					for l := theory.C; l <= theory.B; l++ {
						beats[i].choice = append(beats[i].choice, octaves(span.Scale.Tone(l))...)
					}
				case (i-first)%2 == 1 && span.Chord.Bass != span.Chord.Fifth():
					beats[i].choice = octaves(span.Chord.Fifth())
				default:
					beats[i].choice = octaves(span.Chord.Root)
				}
			}
			beats[len(beats)-1].leads = setting == exercise.Walking && len(beats) > first+1
		}
	}
	return beats
}

// octaves returns every pitch of a tone in the bass's compass.
func octaves(t theory.Tone) []theory.Pitch {
	var all []theory.Pitch
	for key := bassLowest; key <= bassHighest; key++ {
		if key%12 == t.Class() {
			all = append(all, t.Sounding(key))
		}
	}
	return all
}

// cost is the cost of a note as such.
func (b bassBeat) cost(p theory.Pitch) int {
	cost := bassCosts.far * distance(p.MIDI(), bassMiddle) / 4
	if p.Tone != b.chord.Bass && !b.chord.Contains(p.Tone) {
		cost += bassCosts.harsh
	}
	return cost
}

// move is the cost of going on from a note of this beat to one of the next.
func (b bassBeat) move(from, to theory.Pitch) int {
	steps := distance(from.Staff(), to.Staff())
	cost := 0
	if b.leads && steps != 1 {
		cost = bassCosts.approach
	}
	switch {
	case steps == 0:
		return cost + bassCosts.repeat
	case steps == 1:
		return cost
	case steps == 2:
		return cost + bassCosts.skip
	case steps <= 4:
		return cost + bassCosts.leap
	}
	return cost + bassCosts.octave
}

func distance(a, b int) int { return max(a-b, b-a) }
