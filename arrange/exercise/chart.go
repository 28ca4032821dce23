package exercise

import (
	"fmt"
	"strconv"
	"strings"

	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// The chart is read in two steps.
//
// A scanner (chart_scan.go) divides the text into signs: bar lines with or
// without repeat dots, section names, and words. It knows nothing of what may
// follow what.
//
// The reader below takes one sign after the other. It is always in one of two
// states: between bars, where a section name, a repeat count or a bar line may
// stand, or in a bar, where words gather until the next bar line closes it. The
// first bar line of a chart may be left out, since nothing is lost with it; the
// last may not, since a chart without it was probably cut off. A line may end
// with a bar line and the next one begin with another: both are the same.
//
// A closed bar's words become chords with equal shares of its ticks.

// MaxBars is how many bars a chart may have with its repeats written out.
const MaxBars = 4096

// Limits of a repeat and of a section's name.
const (
	maxTimes   = 99
	maxSection = 40 // characters
)

// chart reads the chart in a key and a meter. In the zero Meter, bars have no
// length and shares are not checked.
func (p *exerciseParser) chart(t text, k theory.Key, m meter.Meter) []ChartBar {
	r := chartReader{exerciseParser: p, key: k, meter: m}
	before := len(p.mistakes)
	for _, s := range scanChart(t) {
		r.sign(s)
	}
	r.end()
	if len(r.bars) == 0 && len(p.mistakes) == before {
		p.mistake(t.whole(), "the chart has no bars", "write chords between bar lines, as in: | C | Am | Dm | G |")
	}
	return r.bars
}

// A chartReader is the state in which the reader is.
type chartReader struct {
	*exerciseParser
	key   theory.Key
	meter meter.Meter
	bars  []ChartBar

	words    []chartSign // of the bar that is being read
	last     *chartSign  // the sign before this one, nil at the start
	section  *chartSign  // named, but its bar has not begun
	opening  *chartSign  // the |: that no :| has closed
	opened   int         // the bar that follows opening, as an index into bars
	unfolded int         // bars so far, repeats written out
	tooMany  bool        // MaxBars has been passed and noted
}

func (r *chartReader) sign(s chartSign) {
	switch s.kind {
	case barLine:
		r.barLine(s)
	case sectionName:
		r.name(s)
	case word:
		r.word(s)
	case stray:
		r.mistake(s.Span, s.text, s.remedy)
	}
	r.last = &s
}

func (r *chartReader) word(s chartSign) {
	times, isCount := repeatCount(s.text)
	if !isCount {
		r.words = append(r.words, s)
		return
	}
	if r.last == nil || r.last.kind != barLine || !r.last.closes || r.last.opens || len(r.bars) == 0 {
		r.mistake(s.Span, fmt.Sprintf("the count %s follows no repeat", quoted(s.text)), "write it right behind :|, as in: |: C | G :| x3")
		return
	}
	if times < 2 || times > maxTimes {
		r.mistake(s.Span, fmt.Sprintf("the count %s is out of range", quoted(s.text)), fmt.Sprintf("use x2 to x%d", maxTimes))
		return
	}
	closing := &r.bars[len(r.bars)-1]
	if closing.RepeatTimes > 0 { // otherwise its repeat is a mistake noted before
		r.count((times-closing.RepeatTimes)*(len(r.bars)-r.opened), s)
		closing.RepeatTimes = times
	}
}

// repeatCount reads x3; a number beyond reason is 0.
func repeatCount(s string) (times int, ok bool) {
	digits := strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(s, "x"), "X"), "×")
	if digits == s || digits == "" || strings.Trim(digits, "0123456789") != "" {
		return 0, false
	}
	times, err := strconv.Atoi(digits)
	if err != nil {
		return 0, true
	}
	return times, true
}

func (r *chartReader) name(s chartSign) {
	switch {
	case len(r.words) > 0:
		r.mistake(s.Span, fmt.Sprintf("the section %s begins within a bar", quoted(s.text)), "close the bar before it with |")
	case r.section != nil:
		r.mistake(s.Span, fmt.Sprintf("two sections begin here, %s and %s", quoted(r.section.text), quoted(s.text)), "name one")
	case s.text == "":
		r.mistake(s.Span, "the section has no name", "write one between the brackets, as in [A]")
	case len([]rune(s.text)) > maxSection:
		r.mistake(s.Span, "the section's name is too long", fmt.Sprintf("use at most %d characters", maxSection))
	default:
		r.section = &s
	}
}

func (r *chartReader) barLine(s chartSign) {
	switch {
	case len(r.words) > 0:
		r.closeBar()
	case r.emptyBefore(s):
		r.mistake(r.last.through(s.Span), "a bar without a chord", "write a chord, N.C. for silence or % for the bar before")
	}
	if s.closes {
		r.closeRepeat(s)
	}
	if s.opens {
		r.openRepeat(s)
	}
}

// emptyBefore reports whether a bar without a chord lies between the sign before
// and this bar line. A line break, a section's name or a repeat's count makes
// two bar lines one, and so do the signs of two repeats that meet. Whether a
// repeat is empty is seen when it closes.
func (r *chartReader) emptyBefore(s chartSign) bool {
	if r.last == nil || r.last.kind != barLine || r.last.Line != s.Line {
		return false
	}
	meet := r.last.closes && s.opens
	emptyRepeat := r.last.opens && s.closes
	return !meet && !emptyRepeat
}

func (r *chartReader) closeRepeat(s chartSign) {
	switch {
	case r.opening == nil:
		r.mistake(s.Span, "this repeat has no beginning", "write |: before the bar it goes back to")
	case len(r.bars) == r.opened:
		r.mistake(s.Span, "this repeat has no bars", "write what it repeats between |: and :|")
	default:
		r.bars[len(r.bars)-1].RepeatTimes = 2
		r.count(len(r.bars)-r.opened, s)
	}
	r.opening = nil
}

func (r *chartReader) openRepeat(s chartSign) {
	if r.opening != nil {
		r.mistake(s.Span, fmt.Sprintf("a repeat begins within the repeat of line %d, column %d", r.opening.Line, r.opening.Column), "close that one with :| first")
		return
	}
	r.opening, r.opened = &s, len(r.bars)
}

// count adds bars to the unfolded chart.
func (r *chartReader) count(bars int, s chartSign) {
	r.unfolded += bars
	if r.unfolded > MaxBars && !r.tooMany {
		r.tooMany = true
		r.mistake(s.Span, fmt.Sprintf("the chart passes %d bars here, repeats written out", MaxBars), "shorten it, or raise passes instead")
	}
}

// closeBar turns the words gathered into a bar.
func (r *chartReader) closeBar() {
	bar := ChartBar{Pos: r.words[0].Pos}
	r.count(1, r.words[0])
	if r.section != nil {
		bar.Section = r.section.text
		r.section = nil
	}
	bar.RepeatOpens = r.opening != nil && r.opened == len(r.bars)
	bar.Chords = r.chords()
	r.bars = append(r.bars, bar)
	r.words = r.words[:0]
}

// chords gives the words of a bar their shares of it.
func (r *chartReader) chords() []ChartChord {
	if len(r.words) == 1 && r.words[0].text == "%" {
		return r.barBefore(r.words[0])
	}
	share := r.share()
	var chords []ChartChord
	for i, w := range r.words {
		switch w.text {
		case "/":
			if i == 0 {
				r.mistake(w.Span, "a slash has no chord before it in its bar", "begin the bar with the chord that it prolongs")
			}
			if len(chords) > 0 {
				chords[len(chords)-1].Length += share
			}
		case "%":
			r.mistake(w.Span, "% stands beside chords", "let it stand alone in its bar, or use / to prolong a chord")
		default:
			c := r.chord(w)
			c.Tick, c.Length = i*share, share
			chords = append(chords, c)
		}
	}
	return chords
}

// barBefore repeats the chords of the bar before, at the place of the %.
func (r *chartReader) barBefore(w chartSign) []ChartChord {
	if len(r.bars) == 0 {
		r.mistake(w.Span, "% repeats the bar before, but this is the first", "write its chords")
		return nil
	}
	chords := append([]ChartChord(nil), r.bars[len(r.bars)-1].Chords...)
	for i := range chords {
		chords[i].Pos = w.Pos
	}
	return chords
}

// share returns the ticks of each of the bar's shares.
func (r *chartReader) share() int {
	shares, ticks := len(r.words), barTicks(r.meter)
	if ticks%shares == 0 {
		return ticks / shares
	}
	fewer, more := shares, shares
	for ticks%fewer != 0 {
		fewer--
	}
	for more < ticks && ticks%more != 0 {
		more++
	}
	r.mistake(r.words[0].through(r.words[shares-1].Span), fmt.Sprintf("%d shares do not divide a bar of %s into whole ticks", shares, r.meter),
		fmt.Sprintf("use %d or %d, with / to prolong a chord", fewer, more))
	return 0
}

// barTicks returns the length of a bar in ticks, 0 in the zero Meter.
func barTicks(m meter.Meter) int {
	if m == (meter.Meter{}) {
		return 0
	}
	return m.Bar()
}

// end notes what the end of the chart leaves open.
func (r *chartReader) end() {
	if len(r.words) > 0 {
		first := r.words[0]
		r.closeBar()
		r.mistake(first.Span, "the last bar is not closed", "end it with |")
	}
	if r.opening != nil {
		r.mistake(r.opening.Span, "this repeat has no end", "write :| behind the bar it closes with")
	}
	if r.section != nil {
		r.mistake(r.section.Span, fmt.Sprintf("no bar follows the section %s", quoted(r.section.text)), "write its bars, or take the name out")
	}
}
