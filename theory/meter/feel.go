package meter

// Feel says how short notes are played.
type Feel int

// The feels.
const (
	Straight        Feel = iota
	Swing                // the off-beat eighth falls on the last third of the beat
	SwingSixteenths      // the off-beat sixteenth falls on the last third of the eighth
)

var feelNames = [...]string{
	Straight:        "straight",
	Swing:           "swing",
	SwingSixteenths: "swing sixteenths",
}

// Feels returns every feel.
func Feels() []Feel { return []Feel{Straight, Swing, SwingSixteenths} }

// String returns the feel's name, as an exercise writes it.
func (f Feel) String() string { return feelNames[f] }

// Fits reports whether music in a meter can be played with the feel. Eighths swing
// where the beat is a quarter and all beats are alike; sixteenths swing anywhere
// but in 2/2.
func (f Feel) Fits(m Meter) bool {
	switch f {
	case Swing:
		return m.Unit == 4
	case SwingSixteenths:
		return m.Unit != 2
	}
	return true
}

// swung says where the ticks of a quarter note are played when its eighths swing;
// what lies between two rows is in proportion. The off-beat eighth falls on the
// last third, the sixteenths nearly halve what comes before and behind it, and
// triplets stay where they are, but for the third that follows an off-beat eighth
// by so little that nobody hears it. So no tick goes back behind an earlier one.
var swung = [...]struct{ written, played int }{
	{0, 0},
	{120, 156}, // the second sixteenth
	{160, 160}, // the second note of a triplet
	{240, 320}, // the off-beat eighth
	{320, 324}, // the third note of a triplet
	{360, 400}, // the fourth sixteenth
	{480, 480},
}

// Played returns where a written tick is played. Ticks keep their order, and those
// that lie 20 apart or more (10 where sixteenths swing), in step with the beat,
// are still apart.
func (f Feel) Played(tick int) int {
	switch f {
	case Swing:
		return tick - tick%Quarter + swing(tick%Quarter)
	case SwingSixteenths:
		const eighth = Quarter / 2
		return tick - tick%eighth + swing(2*(tick%eighth))/2
	}
	return tick
}

// swing returns where a tick of a quarter note is played.
func swing(tick int) int {
	row := 1
	for swung[row].written < tick {
		row++
	}
	from, to := swung[row-1], swung[row]
	return from.played + (tick-from.written)*(to.played-from.played)/(to.written-from.written)
}
