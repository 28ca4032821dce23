package paper

// A Beginning is what begins with a measure, and so how well a row begins with it.
type Beginning int

// The beginnings.
const (
	PhraseBegins Beginning = iota
	HalfBegins             // half of a phrase of four bars, or another ending
	NothingBegins
)

// Beginnings returns what begins with each measure. A phrase begins with a section, with a
// line of the chart as the teacher wrote it, and behind a pickup, which is not counted; else
// four bars behind the one before. A second ending stands in the place of the first.
func (n *Notation) Beginnings() []Beginning {
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
	return begins
}

// FollowsPickup reports whether a measure is the first behind a pickup, with which it
// shares a row.
func (n *Notation) FollowsPickup(i int) bool { return i == 1 && n.Measures[0].Number == 0 }
