package page

import (
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/web/player"
	"thirdwise/synth"
)

// A Piece is a score as a page knows it: what it shows, and when what sounds.
type Piece struct {
	kit.Description
	Name     string  `json:"name"` // of the kit
	Gain     float64 `json:"gain"` // dB, of all parts
	Lead     int     `json:"lead"` // frames before its first beat at which a bar's samples begin
	BarTicks int     `json:"barTicks"`
	Beat     int     `json:"beat"`   // ticks
	Pickup   bool    `json:"pickup"` // the first bar is played the first time only
	// ClickEnds tells that the click ends with the count-in.
	ClickEnds bool   `json:"clickEnds,omitempty"`
	Parts     []Part `json:"parts"`
	Presets   []Mix  `json:"presets"`
	Played    []int  `json:"played"`  // tick at which each third of the line is played, swing counted in
	Written   []int  `json:"written"` // of each bar, which of the bars on the sheet it is, from 0
	Caution   string `json:"caution"`
}

// A Part is one that sounds in a score.
type Part struct {
	Number int    `json:"number"`
	Name   string `json:"name"` // as the mix of it alone is called
}

// A Mix is parts that are heard together.
type Mix struct {
	Name  string `json:"name"`
	Parts []int  `json:"parts"` // numbers
}

// Describe describes a score for a page.
func Describe(s *score.Score, name string, gain float64) Piece {
	p := Piece{
		Description: kit.Describe(s),
		Name:        name,
		Gain:        gain,
		Lead:        synth.Lead,
		BarTicks:    s.Meter.Bar(),
		Beat:        s.Meter.Beat(),
		Pickup:      s.Pickup,
		ClickEnds:   s.ClickEnds,
		Caution:     paper.Caution,
	}
	p.Written = make([]int, len(s.Bars))
	for i, written := range s.WrittenBars() {
		for _, bar := range written.Bars {
			p.Written[bar] = i
		}
	}
	sounds := map[score.Part]bool{score.Click: true}
	for _, ends := range []bool{true, false} {
		if ends && !s.Pickup {
			continue // what goes round leaves a pickup out: it is as at the end
		}
		performance := player.Once(s, s.Tempo(), ends)
		first := performance.Bars[0]
		from := s.Bars[first.Index].Tick
		p.Played = slices.DeleteFunc(p.Played, func(tick int) bool { return tick >= from })
		sounds[score.Groove] = len(performance.Percussion) > 0
		for _, n := range performance.Notes {
			sounds[n.Part] = true
			if n.Part == score.GuideLower {
				p.Played = append(p.Played, from+n.Tick-first.Tick)
			}
		}
	}
	for _, mix := range score.Mixes() {
		parts := slices.DeleteFunc(slices.Clone(mix.Parts()), func(part score.Part) bool { return !sounds[part] })
		switch {
		case len(mix.Parts()) > 1:
			p.addPreset(mix.String(), parts)
		case len(parts) == 1:
			p.Parts = append(p.Parts, Part{int(parts[0]), mix.String()})
		}
	}
	return p
}

// addPreset adds a mix, unless one of the same parts is there.
func (p *Piece) addPreset(name string, parts []score.Part) {
	mix := Mix{Name: name}
	for _, part := range parts {
		mix.Parts = append(mix.Parts, int(part))
	}
	if len(parts) > 0 && !slices.ContainsFunc(p.Presets, func(m Mix) bool { return slices.Equal(m.Parts, mix.Parts) }) {
		p.Presets = append(p.Presets, mix)
	}
}

// eachStrip sets a score's music for screens from a telephone's to a desktop's, on
// both staves and on each alone, and calls yield with each.
func eachStrip(s *score.Score, yield func(Strip) error) error {
	notation := paper.Notate(s)
	var written drawing.Outlines
	for _, staves := range []string{"both", "tab", "notation"} {
		music, err := musicOn(notation, staves)
		if err != nil {
			return err
		}
		widest := 0.0
		for _, width := range []float64{30, 44, 64, 96, 140} { // staff spaces
			rows, width := broken(music, width)
			if width <= widest {
				continue
			}
			widest = width
			strip, err := newStrip(music, rows, width, staves, nil, &written, func(string) bool { return true })
			if err != nil {
				return err
			}
			if err := yield(strip); err != nil {
				return err
			}
		}
	}
	return nil
}
