package paper

// A Beginning is what begins with a measure, and so how well a row begins with it.
type Beginning int

// The beginnings.
const (
	PhraseBegins Beginning = iota
	HalfBegins             // half of a phrase of four bars, or another ending
	NothingBegins
)

// What becomes of phrases in a row costs.
const (
	lonelyCost = 3.0 // a row of one bar
	joinCost   = 1.5 // a phrase begins inside a row
	halfCost   = 1.0 // a row begins with half a phrase, or another ending
	insideCost = 4.0 // or with neither
	endingCost = 1.5 // an ending is broken
)

// Phrases tell how well measures stand in rows.
type Phrases struct {
	notation *Notation
	begins   []Beginning // what begins with each measure
}

// Phrases finds what begins with each measure. A phrase begins with a section, with a
// line of the chart as the teacher wrote it, and behind a pickup, which is not counted; else
// four bars behind the one before. A second ending stands in the place of the first.
func (n *Notation) Phrases() Phrases {
	begins := make([]Beginning, len(n.Measures))
	var count, first int // bars of the phrase before a measure, before an ending
	for i := range n.Measures {
		m := &n.Measures[i]
		if i == 0 || m.Section != "" || m.LineBegins || n.FollowsPickup(i) {
			count = 0
		}
		begins[i] = [4]Beginning{PhraseBegins, NothingBegins, HalfBegins, NothingBegins}[count%4]
		if m.Ending != nil && m.Ending.Begins {
			if m.Ending.Times[0] == 1 {
				first = count
			} else if count > 0 {
				begins[i], count = HalfBegins, first
			}
		}
		count++
	}
	return Phrases{n, begins}
}

// Begins returns what begins with a measure.
func (p Phrases) Begins(i int) Beginning { return p.begins[i] }

// Counted returns how many measures from the first to the last count in a row: a pickup
// does not, where another shares its row.
func (p Phrases) Counted(first, last int) int {
	if first < last && p.notation.FollowsPickup(first+1) {
		first++
	}
	return last - first + 1
}

// RowCost returns what a row of measures first to last costs: a row should begin with a
// phrase, and hold no other, and nothing should stand in it alone.
func (p Phrases) RowCost(first, last int) float64 {
	cost := [...]float64{PhraseBegins: 0, HalfBegins: halfCost, NothingBegins: insideCost}[p.begins[first]]
	if p.Counted(first, last) == 1 {
		cost += lonelyCost
	}
	for i := first + 1; i <= last; i++ {
		if p.begins[i] == PhraseBegins && !p.notation.FollowsPickup(i) {
			cost += joinCost
		}
	}
	if e := p.notation.Measures[last].Ending; e != nil && !e.Ends {
		cost += endingCost
	}
	return cost
}

// FollowsPickup reports whether a measure is the first behind a pickup, with which it
// shares a row.
func (n *Notation) FollowsPickup(i int) bool { return i == 1 && n.Measures[0].Number == 0 }
