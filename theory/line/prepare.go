package line

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"thirdwise/theory"
	"thirdwise/theory/line/contour"
	"thirdwise/theory/line/motif"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
)

// A search looks for the best line over one list of segments.
type search struct {
	Maker
	ladder
	segments []Segment
	notes    []rhythm.Note
	long     bool // it has more than hoppedOnsets notes
	phrases  []phrase
	units    []unit
	heard    map[heardAt]int // by how many earlier variants
}

// A phrase is a phrase's notes, each with what can sound there.
type phrase struct {
	rhythm.Phrase
	onsets []*onset
	inside int // how many of them there are up to its last arrival
}

// An onset is a place in the line's rhythm where a third begins.
type onset struct {
	rhythm.Note
	*station
	beat     meter.Strength
	motif    motif.Place // what it does for the phrase's motif
	curve    int         // the rung where the phrase's curve runs
	rests    bool        // a rest follows
	hangs    bool        // a rest follows, or it lasts a beat
	afresh   bool        // a rest or a long third goes before it
	restarts bool        // a rest goes before it, and it is no arrival's only upbeat
	opening  bool        // the line begins with it
	home     bool        // the line ends with it, on the tonic's chord
	next     bool        // it begins the phrase behind those that are searched
	goesOn   bool        // its chord is the one before it in the phrase, so that the motif would be the same bar
	only     int         // the one rung that it then can have
	costs    []int       // of each rung, however it is reached
	from     [][]move    // by the rung that the line comes from, the ways to go on
	hops     []hop       // see hopsFrom
	hopsAt   [][2]int32  // where those from a state begin and end, by its index
}

// curveAt returns the rung where a phrase's curve runs at a tick.
func (s *search) curveAt(p rhythm.Phrase, tick int) int {
	bar := s.Rhythm.Meter.Bar()
	start := s.segments[p.First].Start - p.Before*bar
	return contour.At(p.Index, 100*(tick-start)/(p.Bars*bar), s.Low, cmp.Or(s.CurveHigh, s.High)) - s.low
}

// newSearch lays out everything among which a search chooses.
func newSearch(m Maker, segments []Segment, variant int, heard map[heardAt]int) (*search, error) {
	m.Rhythm.Style += variant - 1
	s := &search{Maker: m, segments: segments, heard: heard}
	s.ladder = ladder{low: m.Low, high: m.High, maker: m}
	written := map[int][]rhythm.Sign{}
	maps.Copy(written, m.Rhythm.Written)
	for bar, slots := range m.Own {
		var signs []rhythm.Sign
		for _, slot := range slots {
			signs = append(signs, slot.Sign)
			if slot.Lower != nil {
				s.low, s.high = min(s.low, slot.Lower.Staff()), max(s.high, slot.Lower.Staff())
			}
		}
		written[bar] = signs
	}
	s.Rhythm.Written = written
	s.ladder.low, s.ladder.high = s.low, s.high

	spans := s.spans()
	phrases := s.Rhythm.Divide(spans, s.Repeats)
	s.notes = s.Rhythm.Notes(spans, phrases)
	s.long = len(s.notes) > hoppedOnsets
	if err := s.place(phrases); err != nil {
		return nil, err
	}
	s.findUnits()
	return s, nil
}

// spans returns the segments as the rhythm sees them.
func (s *search) spans() []rhythm.Span {
	spans := make([]rhythm.Span, len(s.segments))
	for i, g := range s.segments {
		last := i+1 == len(s.segments)
		spans[i] = rhythm.Span{Start: g.Start, End: g.End, Bar: g.Bar, Section: g.Section}
		if i == s.Home {
			spans[i].Section = max(1, g.Section)
		}
		spans[i].Leads = last && s.Closed || !last && s.segments[i+1].Start == g.End
		spans[i].Last = last && !s.Closed
	}
	for _, part := range s.Repeats { // it leads on each time if it does once
		var ends []*rhythm.Span
		leads := false
		next := part.First
		for time := range part.Times {
			next += part.Length
			end := &spans[next-1]
			ends, leads = append(ends, end), leads || end.Leads
			next += part.Ending(time)
		}
		for _, end := range ends {
			end.Leads, end.Last = leads, end.Last || leads && !end.Leads
		}
	}
	return spans
}

// place gives each note of the phrases what can sound there.
func (s *search) place(phrases []rhythm.Phrase) error {
	stations := map[stationKey]*station{}
	n := 0
	for _, p := range phrases {
		placed := phrase{Phrase: p}
		for ; n < len(s.notes) && s.notes[n].Span < p.First+p.Spans; n++ {
			o, err := s.onset(p, n, stations)
			if err != nil {
				return err
			}
			placed.onsets = append(placed.onsets, o)
			if o.Arrival {
				placed.inside = len(placed.onsets)
			}
		}
		if len(placed.onsets) > 0 {
			s.phrases = append(s.phrases, placed)
		}
	}
	s.markEnds()
	for _, p := range s.phrases {
		s.markMotif(p.onsets)
		for i, o := range p.onsets {
			o.afresh = i > 0 && s.breathes(p.onsets[i-1])
			o.restarts = i > 0 && p.onsets[i-1].rests && i+1 < len(p.onsets) && !p.onsets[i+1].Arrival
			o.from = make([][]move, len(o.rungs))
			for rung := range o.rungs {
				o.costs = append(o.costs, s.cost(o, rung))
			}
		}
	}
	return nil
}

// markMotif says what the onsets of a phrase do for its motif.
func (s *search) markMotif(onsets []*onset) {
	notes := make([]motif.Note, len(onsets))
	bar := s.Rhythm.Meter.Bar()
	for i, o := range onsets {
		start := s.segments[o.Span].Start / bar * bar
		o.goesOn = o.Span > onsets[0].Span && s.segments[o.Span].Chord == s.segments[o.Span-1].Chord
		notes[i] = motif.Note{Bar: start, Offset: max(0, o.Tick-start), States: o.Statement && !o.goesOn}
	}
	for i, place := range motif.Places(notes) {
		onsets[i].motif = place
	}
}

// breathes reports whether what follows an onset begins afresh.
func (s *search) breathes(o *onset) bool { return o.rests || o.Length > s.Rhythm.Meter.Beat() }

// markEnds marks the onset with which the line begins, and the one with which it ends
// at home.
func (s *search) markEnds() {
	if len(s.phrases) == 0 {
		return
	}
	s.phrases[0].onsets[0].opening = true
	last := s.phrases[len(s.phrases)-1]
	end := last.onsets[last.inside-1]
	end.home = end.Arrival && s.segments[end.Span].Chord.Root.Class() == s.Key.Tonic.Class()
}

type stationKey struct {
	scale   theory.Scale
	root    theory.Tone
	quality theory.Quality
}

func (s *search) onset(p rhythm.Phrase, n int, stations map[stationKey]*station) (*onset, error) {
	note := s.notes[n]
	segment := s.segments[note.Span]
	key := stationKey{segment.Scale, segment.Chord.Root, segment.Chord.Quality}
	if stations[key] == nil {
		stations[key] = s.station(segment)
	}
	o := &onset{Note: note, station: stations[key], beat: s.Rhythm.Meter.StrengthAt(note.Tick), curve: s.curveAt(p, note.Tick)}
	until := segment.End
	if n+1 < len(s.notes) {
		until = s.notes[n+1].Tick
	}
	o.rests = note.Tick+note.Length < until
	o.hangs = o.rests || note.Length >= s.Rhythm.Meter.Beat()
	playable := slices.ContainsFunc(o.rungs, func(r voicing) bool { return r.ok })
	written, err := s.written(segment, note)
	switch {
	case err != nil:
		return nil, err
	case written != nil:
		o.station = s.fixed(segment, *written)
	case note.Arrival && len(o.arrivals) == 0, !note.Arrival && !playable:
		return nil, &Error{note.Span, fmt.Sprintf("none of the thirds of %s can be played here", segment.Chord), nil}
	}
	return o, nil
}

// written returns the third that is written for a note, or nil.
func (s *search) written(segment Segment, note rhythm.Note) (*theory.Third, error) {
	bars := segment.Bar
	start := segment.Start - segment.Start%s.Rhythm.Meter.Bar()
	if note.Tick < segment.Start { // pushed out of the bar before
		bars, start = s.segments[note.Span-1].Bar, note.Tick-note.Tick%s.Rhythm.Meter.Bar()
	}
	slots := s.Own[bars]
	if slots == nil {
		return nil, nil
	}
	step := s.Rhythm.Meter.Bar() / len(slots)
	at := (note.Tick - start) / step
	if start+at*step != note.Tick || slots[at].Lower == nil {
		return nil, nil
	}
	lower := *slots[at].Lower
	third := theory.Third{Lower: lower, Upper: segment.Scale.At(lower.Staff() + 2)}
	if !third.IsThird() {
		return nil, &Error{note.Span, fmt.Sprintf("%s has no third over %s: %s lies %s above it",
			lower, segment.Chord, third.Upper, semitones(third.Upper.MIDI()-lower.MIDI())), &OwnNote{bars, at}}
	}
	if s.Effort != nil {
		if _, ok := s.Effort(third); !ok {
			return nil, &Error{note.Span, fmt.Sprintf("%s cannot be played", third), &OwnNote{bars, at}}
		}
	}
	return &third, nil
}

func semitones(n int) string {
	if n == 1 {
		return "1 semitone"
	}
	return fmt.Sprintf("%d semitones", n)
}
