package rhythm

// setLengths lets each note sound until the next begins or its chord ends, and then
// makes the rests: those that are written, and in made bars those by which the line
// breathes.
func (m Maker) setLengths(notes []Note, spans []Span, phrases []Phrase) {
	for i := range notes {
		n := &notes[i]
		s := spans[n.Span]
		end := s.End
		if i+1 < len(notes) {
			next := notes[i+1]
			if next.Span == n.Span || spans[n.Span].Leads && !spans[n.Span].Last {
				end = next.Tick
			}
		}
		n.Length = end - n.Tick
	}
	first := 0
	for _, p := range phrases {
		last := first
		moves := false
		for last < len(notes) && notes[last].Span < p.First+p.Spans {
			moves = moves || !notes[last].Arrival
			last++
		}
		for i := first; moves && i < last; i++ {
			m.breathe(notes, spans, i, i+1 == last)
		}
		first = last
	}
	for i := range notes {
		notes[i].Length = m.cut(notes[i], spans) - notes[i].Tick
	}
}

// breathe ends a note early where it is held for long: an arrival before the line
// moves on, and the last note of a phrase.
func (m Maker) breathe(notes []Note, spans []Span, i int, ends bool) {
	const longest, held = 2 * eighth, 3 * eighth
	n := &notes[i]
	span := spans[n.Span]
	if _, written := m.Written[span.Bar]; written || span.Last {
		return
	}
	var rest int
	switch {
	case ends:
		rest = min(longest, n.Length/4)
	case n.Arrival && notes[i+1].Span == n.Span:
		rest = min(longest, n.Length-held)
	default:
		return
	}
	align := eighth
	if eighth%m.Grid != 0 && m.Grid%eighth != 0 { // triplets rest from a beat on
		align = 2 * eighth
	}
	bar := n.Tick - n.Tick%m.Meter.Bar()
	end := n.Tick + n.Length
	from := bar + (end-rest-bar+align-1)/align*align
	if end-from >= eighth {
		n.Length = from - n.Tick
	}
}

// cut returns where a note ends if a written rhythm has a rest before its end.
func (m Maker) cut(n Note, spans []Span) int {
	end := n.Tick + n.Length
	for i := n.Span; i < len(spans) && spans[i].Start < end; i++ {
		signs, ok := m.Written[spans[i].Bar]
		if !ok {
			continue
		}
		bar, step := spans[i].Start-spans[i].Start%m.Meter.Bar(), m.Meter.Bar()/len(signs)
		for j, sign := range signs {
			if tick := bar + j*step; sign == Rest && tick > n.Tick {
				end = min(end, tick)
			}
		}
	}
	return end
}
