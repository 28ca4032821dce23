// Package player makes what a page plays: the parts of a score, bar by bar, at
// any tempo, each bar a few frames at a time.
//
// A page chooses which bar comes next and when it begins; it may go round some
// bars for ever, or change the tempo at any bar. So each bar is made on its own,
// from its first note until the last has died away, and the page adds up what
// overlaps:
//
//	bar 3   ──────────────────────~~~~~
//	bar 4                         ──────────────────────~~~~~
//	bar 3                                               ─────── …
//
// One after the other, the bars of the chart are the samples of a kit's tracks.
package player

import (
	"fmt"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth"
)

// A Player makes the bars of a score. Two goroutines must not use it at once.
type Player struct {
	score *score.Score
	rate  int
	gain  float64
	clips *synth.Clips
	laid  []*laidOut // the latest last
}

// New returns a player of a score at a rate of 44,100 or 48,000 samples a second
// and a gain in dB.
func New(s *score.Score, rate int, gain float64) *Player {
	return &Player{score: s, rate: rate, gain: gain, clips: synth.NewPageClips()}
}

// Next returns a player of another score, or of the same as it has been changed, that
// has the sounds which p has made.
func (p *Player) Next(s *score.Score, rate int, gain float64) *Player {
	return &Player{score: s, rate: rate, gain: gain, clips: p.clips}
}

// kept is how many performances stay laid out: the chart as it goes round and as
// it ends, at the tempo that is heard and at the one that comes next.
const kept = 4

// A laidOut is the chart, played once at a tempo.
type laidOut struct {
	tempo       int
	ends        bool
	performance *score.Performance
	parts       *synth.Parts
}

// Once returns the chart, played once at a tempo in beats per minute without a
// count-in: as it goes round, or as it ends. The click is in it all through, for a page
// counts in with any bar of it, and has it as loud as one likes.
func Once(s *score.Score, tempo int, ends bool) *score.Performance {
	once := *s
	once.ClickEnds = false
	if !ends {
		return once.Loop(tempo)
	}
	once.Passes, once.CountIn = 1, 0
	return once.Perform(tempo)
}

func (p *Player) layOut(tempo int, ends bool) (*laidOut, error) {
	at := slices.IndexFunc(p.laid, func(l *laidOut) bool { return l.tempo == tempo && l.ends == ends })
	if at >= 0 {
		found := p.laid[at]
		p.laid = append(slices.Delete(p.laid, at, at+1), found)
		return found, nil
	}
	played := Once(p.score, tempo, ends)
	parts, err := synth.NewParts(played, !ends, p.rate, p.gain, p.clips)
	if err != nil {
		return nil, err
	}
	if len(p.laid) == kept {
		p.laid = slices.Delete(p.laid, 0, 1)
	}
	p.laid = append(p.laid, &laidOut{tempo, ends, played, parts})
	return p.laid[len(p.laid)-1], nil
}

// A Bar is a bar of the chart in the making.
type Bar struct {
	passages []*synth.Passage // nil of a part that has ended, or is not asked for
	blocks   [][]float32
}

// Bar begins a bar of the score, counted from 0, at a tempo from 20 to 400 beats
// per minute, with some of the parts. Ends tells that nothing comes after this
// time through the chart.
func (p *Player) Bar(index, tempo int, ends bool, parts []score.Part) (*Bar, error) {
	if index < 0 || index >= len(p.score.Bars) {
		return nil, fmt.Errorf("bar %d of %d", index+1, len(p.score.Bars))
	}
	if index == 0 && p.score.Pickup {
		ends = true // what goes round leaves the pickup out
	}
	laid, err := p.layOut(tempo, ends)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(laid.performance.Bars, func(b score.PlayedBar) bool { return b.Index == index })
	if at < 0 {
		return nil, fmt.Errorf("bar %d is not played", index+1)
	}
	b := &Bar{}
	for _, part := range parts {
		passage, err := laid.parts.Passage(part, at, p.score.Meter.Bar())
		if err != nil {
			return nil, err
		}
		for len(b.passages) <= int(part) {
			b.passages, b.blocks = append(b.passages, nil), append(b.blocks, nil)
		}
		b.passages[part] = passage
	}
	return b, nil
}

// Read returns the next frames of each part, left and then right, nil of one that
// has ended; nothing is the end of the bar. It uses the memory again at the next
// call.
func (b *Bar) Read(frames int) [][]float32 {
	blocks, ended := make([][]float32, len(b.passages)), true
	for i, passage := range b.passages {
		if passage == nil {
			continue
		}
		if len(b.blocks[i]) != 2*frames {
			b.blocks[i] = make([]float32, 2*frames)
		}
		if !passage.Read(b.blocks[i][:frames], b.blocks[i][frames:]) {
			b.passages[i] = nil
			continue
		}
		blocks[i], ended = b.blocks[i], false
	}
	if ended {
		return nil
	}
	return blocks
}
