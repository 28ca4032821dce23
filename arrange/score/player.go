package score

import "slices"

// A player plays one pass of a score into a performance.
type player struct {
	score *Score
	into  *Performance
	start int // tick of the performance at which the score's first tick is played, or would be
	from  int // tick of the score with which the pass begins: bar one's, without the pickup
	pass  int
	last  bool // nothing comes after this pass

	micros   int           // a quarter
	beats    []int         // ticks of a bar on which its beats begin
	ring     int           // ticks that sounds ring on where the last pass ends
	firstBar int           // index into the performance's bars
	sounding map[voice]int // index into the performance's notes of the latest of each voice
}

// A voice sounds one note after the other: a string of the chords, or a part.
type voice struct {
	part   Part
	number int // of the string
}

// bars lists the bars of the pass. Each has a label by how often the bars of its
// number have been played, which is counted on.
func (p *player) bars(times map[int]int) {
	p.firstBar = len(p.into.Bars)
	for i, b := range p.score.Bars {
		if b.Tick < p.from {
			continue
		}
		times[b.Number]++
		p.into.Bars = append(p.into.Bars, PlayedBar{
			Tick: p.start + b.Tick, Index: i, Pass: p.pass, Label: BarLabel(b.Number, times[b.Number]),
		})
	}
}

// notes plays all parts.
func (p *player) notes() {
	p.guide()
	p.chords()
	p.bass()
	p.groove()
}

// play adds a note that is written on a tick, unless the pass begins later, and that
// ends what its string sounded before.
func (p *player) play(written int, n Note) {
	if written < p.from {
		return
	}
	n.Pass = p.pass
	n.Bar = p.firstBar + (written-p.from)/p.score.Meter.Bar()
	v := voice{part: n.Part}
	if n.Part == Chords {
		v.number = n.String
	}
	if i, ok := p.sounding[v]; ok {
		before := &p.into.Notes[i]
		if late := before.Tick + 1 - n.Tick; late > 0 {
			n.Tick, n.Length = n.Tick+late, max(1, n.Length-late)
		}
		before.Length = min(before.Length, n.Tick-before.Tick)
	}
	p.sounding[v] = len(p.into.Notes)
	p.into.Notes = append(p.into.Notes, n)
}

// at returns the tick of the performance at which a written tick is played.
func (p *player) at(tick int) int { return p.start + p.score.Feel.Played(tick) }

// end returns the tick of the performance at which a sound ends that is written
// to end on a tick. At the very end it rings on.
func (p *player) end(tick int) int {
	if p.last && tick == p.score.Length() {
		return p.at(tick) + p.ring
	}
	return p.at(tick)
}

// guide plays the line's two voices.
func (p *player) guide() {
	thirds := p.score.Line
	if p.last {
		thirds = withoutWayBack(thirds)
	}
	for _, t := range thirds {
		right := p.handAt(t.Tick, GuideUpper)
		velocity := passingVelocity
		if t.Role == Arrival {
			velocity = arrivalVelocity
		}
		note := Note{Tick: p.at(t.Tick)}
		note.Length = p.end(t.Tick+t.Length) - note.Tick
		note.Part, note.Pitch, note.Place = GuideUpper, t.Notes.Upper, t.Places.Upper
		note.Velocity = right.around(velocity, guideSway)
		p.play(t.Tick, note)
		note.Part, note.Pitch, note.Place = GuideLower, t.Notes.Lower, t.Places.Lower
		note.Velocity = right.around(velocity, guideSway)
		p.play(t.Tick, note)
	}
}

// withoutWayBack returns the line as the last pass has it: what leads back to
// the beginning left out, the last arrival held instead.
func withoutWayBack(thirds []Third) []Third {
	back := slices.IndexFunc(thirds, func(t Third) bool { return t.LeadsBack })
	if back < 0 {
		return thirds
	}
	end := thirds[len(thirds)-1].Tick + thirds[len(thirds)-1].Length
	thirds = slices.Clone(thirds[:back])
	last := &thirds[back-1]
	last.Length = end - last.Tick
	return thirds
}

// bass plays the bass part.
func (p *player) bass() {
	notes := p.score.Bass
	if p.last {
		notes = p.heldAtEnd(notes)
	}
	for _, n := range notes {
		right := p.handAt(n.Tick, Bass)
		tick := p.at(n.Tick) + right.off(bassLate, p.micros)
		p.play(n.Tick, Note{
			Tick: tick, Length: max(1, p.end(n.Tick+n.Length)-tick), Pitch: n.Pitch, Place: n.Place,
			Velocity: right.around(bassVelocity, bassSway), Part: Bass,
		})
	}
}

// heldAtEnd returns the bass part as the last pass has it: the first note of the
// last chord held to the end.
func (p *player) heldAtEnd(notes []BassNote) []BassNote {
	bars := p.score.Bars
	spans := bars[len(bars)-1].Chords
	start := spans[len(spans)-1].Tick
	held := slices.IndexFunc(notes, func(n BassNote) bool { return n.Tick == start })
	if held < 0 {
		return notes
	}
	notes = slices.Clone(notes[:held+1])
	notes[held].Length = p.score.Length() - start
	return notes
}

// chords strums every chord of the pass.
func (p *player) chords() {
	strums := p.score.Strums
	for _, bar := range p.score.Bars {
		for _, span := range bar.Chords {
			end := span.Tick + span.Length
			n := 0
			for n < len(strums) && strums[n].Tick < end {
				n++
			}
			own := strums[:n]
			strums = strums[n:]
			if p.last && end == p.score.Length() && n > 1 {
				own = own[:1]
			}
			p.chord(own, end)
		}
	}
}

// chord plays the strokes of one chord. A string rings until it is struck again or
// the hand moves at the chord's end. A stroke begins before its tick by a third of its
// spread, so that it is on the tick that it is heard.
func (p *player) chord(strums []Strum, end int) {
	for i, stroke := range strums {
		right := p.handAt(stroke.Tick, Chords)
		velocity := p.strength(stroke, i == 0)
		notes := stroke.Notes
		if i > 0 && !stroke.Picked {
			notes = right.missed(notes)
		}
		room := p.at(stroke.Tick+stroke.Length) - p.at(stroke.Tick)
		spread := right.spread(len(notes), p.micros, room)
		if stroke.Picked {
			spread = 0
		}
		begin := p.at(stroke.Tick) - spread/3 + right.off(strumLate, p.micros)
		guide := p.guideAt(stroke.Tick)
		for j, n := range notes {
			tick := begin
			if j > 0 {
				tick += spread*j/(len(notes)-1) + right.off(stringLate, p.micros)
			}
			loud, yield := right.around(velocity-j, strumSway), 0
			if slices.Contains(guide, n.Pitch.MIDI()) {
				yield = loud - loud*belowGuide/100
			}
			length := max(1, p.end(end)-tick)
			if stroke.Damped {
				length = min(length, max(1, ticks(damped, p.micros)))
			}
			p.play(stroke.Tick, Note{
				Tick: tick, Length: length, Pitch: n.Pitch, Place: n.Place,
				Velocity: loud - yield, Yield: yield, Part: Chords,
			})
		}
	}
}

// strength returns the velocity of a stroke, which is the first of its chord or not.
func (p *player) strength(stroke Strum, first bool) int {
	velocity := strumVelocity
	switch {
	case stroke.Up:
		velocity = upVelocity
	case first:
		velocity = downVelocity
	}
	if stroke.Picked {
		velocity = pickVelocity
	}
	if stroke.Damped {
		velocity = dampedVelocity
	}
	if stroke.Accent {
		velocity += accent
	}
	in := stroke.Tick % p.score.Meter.Bar()
	if len(p.beats) == 4 && (in == p.beats[1] || in == p.beats[3]) {
		velocity += backbeat
	}
	return velocity
}

// guideAt returns the MIDI keys of the third that begins on a tick of the score.
func (p *player) guideAt(tick int) []int {
	i, found := slices.BinarySearchFunc(p.score.Line, tick, func(t Third, tick int) int { return t.Tick - tick })
	if !found {
		return nil
	}
	third := p.score.Line[i]
	return []int{third.Notes.Upper.MIDI(), third.Notes.Lower.MIDI()}
}
