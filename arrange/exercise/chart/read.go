package chart

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/remedy"
)

// Limits of a repeat and of a section's name.
const (
	maxTimes   = 99
	maxSection = 40 // characters
)

// Read reads a chart in a key and a meter. In the zero Meter, bars have no length
// and shares are not checked. What is wrong is noted as mistakes of the text; the
// bars are whole only where there are none.
func Read(t source.Text, k theory.Key, m meter.Meter) []Bar {
	signs := scan(t)
	if !slices.ContainsFunc(signs, func(s sign) bool { return s.kind == barLine }) {
		t.Mistake("the chart has no bar lines", "put | between bars"+inBars(signs, k))
		return nil
	}
	r := reader{key: k, meter: m, solfege: slices.ContainsFunc(signs, func(s sign) bool { return s.kind == word && surelyRomance.MatchString(s.String()) })}
	for _, s := range signs {
		switch s.kind {
		case barLine:
			r.barLine(s)
		case sectionName:
			r.section(s)
		case endingTimes:
			r.ending(s)
		case word:
			r.word(s)
		case stray:
			r.faulty = true
		}
		r.last = s
	}
	r.end()
	if len(r.bars) == 0 && !r.faulty {
		t.Mistake("the chart has no bars", "write chords between bar lines, as in | C | Am | Dm | G |")
	}
	return r.bars
}

// A reader is the state in which the reader is.
type reader struct {
	key   theory.Key
	meter meter.Meter
	bars  []Bar

	solfege bool // chords are named Do, Re, Mi

	words    []sign // of the bar that is being read
	last     sign   // the sign before this one, without characters at the start
	named    *sign  // a section whose bar has not begun
	pickup   bool   // the first bar is a pickup
	opening  *sign  // the |: of the repeat that is not done
	opened   int    // the bar that follows opening, as an index into bars
	endings  endings
	unfolded int  // bars so far, repeats written out
	tooMany  bool // MaxBars has been passed and noted
	faulty   bool // something has been noted
}

func (r *reader) mistake(t source.Text, message, words string) { r.slip(t, message, remedy.Say(words)) }

func (r *reader) slip(t source.Text, message string, why remedy.Remedy) {
	t.Slip(message, why)
	r.faulty = true
}

// barLine closes the bar before it, if there is one, and may close or open a repeat.
func (r *reader) barLine(s sign) {
	switch {
	case len(r.words) > 0:
		r.closeBar()
	case r.emptyBefore(s):
		r.mistake(r.last.Through(s.Text), "this bar has no chord", "write a chord, N.C. for silence or % for the bar before")
	}
	if s.closes {
		r.closeRepeat(s)
	}
	if s.opens || strings.HasSuffix(s.String(), "||") && !s.closes {
		r.finishEndings()
	}
	if s.opens {
		r.openRepeat(s)
	}
}

// emptyBefore reports whether a bar without a chord lies between the sign before
// and this bar line. A line break, a section's name or a repeat's count makes
// two bar lines one, and so does the sign of a repeat beside another bar line.
// Whether a repeat is empty is seen when it closes.
func (r *reader) emptyBefore(s sign) bool {
	if r.last.Len() == 0 || r.last.kind != barLine || r.last.Span().Line != s.Span().Line {
		return false
	}
	together := !r.last.opens && (r.last.closes != s.closes || s.opens) // :| |: and :| | and | :| and | |:
	emptyRepeat := r.last.opens && s.closes
	return !together && !emptyRepeat
}

// section takes the name of the section that begins with the next bar, or the word
// that makes it a pickup.
func (r *reader) section(s sign) {
	if len(r.words) > 0 {
		r.mistake(s.Text, fmt.Sprintf("the section %s begins within a bar", source.Quoted(s.name())), "close the bar before it with |")
		return
	}
	if !r.endings.begun(len(r.bars)) {
		r.finishEndings()
	}
	switch {
	case isPickup(s.name()) && len(r.bars) > 0:
		r.mistake(s.Text, "a pickup stands before bar one only", "move it to the beginning of the chart")
	case isPickup(s.name()) && r.opening != nil:
		r.pickupRepeated(s)
	case isPickup(s.name()):
		r.pickup = true
	case r.named != nil:
		r.mistake(s.Text, fmt.Sprintf("two sections begin here, %s and %s", source.Quoted(r.named.name()), source.Quoted(s.name())), "give it one name")
	case s.name() == "":
		r.mistake(s.Text, "the section has no name", "write one between the brackets, as in [A]")
	case len([]rune(s.name())) > maxSection:
		r.mistake(s.Text, "the section's name is too long", fmt.Sprintf("use at most %d characters", maxSection))
	default:
		r.named = &s
	}
}

func (r *reader) pickupRepeated(s sign) {
	r.mistake(s.Text, "a pickup is not repeated", "write |: after its bar")
}

// isPickup reports whether the name in brackets says that a pickup begins.
func isPickup(name string) bool {
	return slices.Contains([]string{"pickup", "pick-up", "pick up", "upbeat", "anacrusis", "auftakt"}, strings.ToLower(name))
}

// word takes a chord, a slash or a %, or the count of the repeat before it.
func (r *reader) word(s sign) {
	times, isCount := repeatCount(s.String())
	switch {
	case !isCount, grip.MatchString(s.String()) && !r.last.closes:
		if len(r.words) == 0 && r.endings.closed {
			r.finishEndings()
		}
		r.words = append(r.words, s)
	case r.endings.closed:
		r.mistake(s.Text, fmt.Sprintf("the endings say how often this repeat is played, not %s", s.Quoted()), "leave the count out")
	case r.last.kind != barLine || !r.last.closes || r.last.opens || len(r.bars) == 0:
		r.mistake(s.Text, fmt.Sprintf("the count %s follows no repeat", s.Quoted()), "write it right after :|, as in |: C | G :| x3")
	case times < 2 || times > maxTimes:
		r.mistake(s.Text, fmt.Sprintf("the count %s is out of range", s.Quoted()), fmt.Sprintf("use x2 to x%d", maxTimes))
	default:
		closing := &r.bars[len(r.bars)-1]
		if closing.RepeatTimes > 0 { // otherwise its repeat is a mistake noted before
			r.count((times-closing.RepeatTimes)*(len(r.bars)-r.opened), s)
			closing.RepeatTimes = times
		}
	}
}

// multiplied are the characters before a repeat's count.
const multiplied = "xX×"

// repeatCount reads x3, x 3, 3x or (x3); a number beyond reason is 0.
func repeatCount(s string) (times int, ok bool) {
	s = strings.Trim(s, "()")
	digits := strings.TrimSpace(strings.Trim(s, multiplied))
	if digits == s || digits == "" || strings.Trim(digits, "0123456789") != "" {
		return 0, false
	}
	times, err := strconv.Atoi(digits)
	if err != nil {
		return 0, true
	}
	return times, true
}

func (r *reader) openRepeat(s sign) {
	if r.opening != nil {
		r.mistake(s.Text, fmt.Sprintf("a repeat begins inside the one that opens on line %d", r.opening.Span().Line), "close that one with :| first")
		return
	}
	if r.pickup && len(r.bars) == 0 {
		r.pickupRepeated(s)
	}
	r.opening, r.opened = &s, len(r.bars)
}

func (r *reader) closeRepeat(s sign) {
	switch {
	case r.opening == nil:
		r.mistake(s.Text, "this repeat has no beginning", "write |: before the bar it goes back to")
	case len(r.bars) == r.opened:
		r.mistake(s.Text, "this repeat has no bars", "write what it repeats between |: and :|")
	case len(r.endings.begin) > 0:
		r.closeEnding(s)
		return
	default:
		r.bars[len(r.bars)-1].RepeatTimes = 2
		r.count(len(r.bars)-r.opened, s)
	}
	r.opening = nil
}

// closeBar turns the words gathered into a bar.
func (r *reader) closeBar() {
	bar := Bar{At: r.words[0].Span().Pos, RepeatOpens: r.opening != nil && r.opened == len(r.bars)}
	r.count(1, r.words[0])
	if r.named != nil {
		bar.Section = r.named.name()
		r.named = nil
	}
	bar.Pickup = r.pickup && len(r.bars) == 0
	bar.Ending = r.endings.times()
	bar.Chords = r.chords()
	if r.opening != nil && r.words[0].String() == "1" && len(r.words) > 1 && strings.ContainsRune("ABCDEFG", r.words[1].Rune(0)) {
		r.words[0].Warn("1 is read as a scale degree", remedy.Say("if an ending begins here, write 1."))
	}
	r.bars = append(r.bars, bar)
	r.words = r.words[:0]
}

// timesSaid returns the count, as a chart has it, that the words behind a repeat stand
// for at the end of the chart: x3 for 3, "3 times" and "three times"; "" where they are
// something else.
func (r *reader) timesSaid() string {
	if len(r.bars) == 0 || r.bars[len(r.bars)-1].RepeatTimes == 0 {
		return ""
	}
	number := map[string]string{"twice": "2", "thrice": "3", "two": "2", "three": "3", "four": "4"}
	first := strings.ToLower(r.words[0].String())
	said := cmp.Or(number[first], first)
	behind := ""
	if len(r.words) == 2 {
		behind = strings.ToLower(r.words[1].String())
	}
	times, err := strconv.Atoi(said)
	if err != nil || times < 2 || len(r.words) > 2 || !slices.Contains([]string{"", "times", "mal", "fois", "veces", "volte"}, behind) {
		return ""
	}
	return fmt.Sprintf("x%d", times)
}

// count adds bars to the unfolded chart.
func (r *reader) count(bars int, s sign) {
	r.unfolded += bars
	if r.unfolded > MaxBars && !r.tooMany {
		r.tooMany = true
		r.mistake(s.Text, fmt.Sprintf("the chart passes %d bars here, repeats written out", MaxBars), "shorten it, or raise passes instead")
	}
}

// end notes what the end of the chart leaves open, or without bars.
func (r *reader) end() {
	if len(r.words) > 0 {
		first := r.words[0]
		if times := r.timesSaid(); times != "" {
			r.slip(first.Through(r.last.Text), "a count of times stands behind this repeat", remedy.Write("write %s", times))
		} else {
			r.closeBar()
			first.Lacks("the last bar is not closed", r.last.Text, remedy.Write("end it with%s", " |"))
			r.faulty = true
		}
	}
	r.finishEndings()
	if r.opening != nil {
		r.mistake(r.opening.Text, "this repeat has no end", "write :| after the last bar that it repeats")
	}
	if r.named != nil {
		r.mistake(r.named.Text, fmt.Sprintf("no bar follows the section %s", source.Quoted(r.named.name())), "write its bars, or take the name out")
	}
	if r.pickup && len(r.bars) < 2 {
		r.mistake(r.last.Text, "no bar follows the pickup", "write the bar that it leads to")
	}
}
