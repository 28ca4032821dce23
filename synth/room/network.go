package room

// A network is delays that feed each other, and what becomes of a sound between them.
// Each delay is a ring of samples: what goes in is written at the same place in all of
// them, and what comes out is read from as many frames before as the delay is long.
type network struct {
	memory [delays]samples
	at     int         // index in each ring at which the next frame goes in
	from   [delays]int // indices at which it comes out

	feedback                     [lines]float32
	diffusion, dull, mean, level float32
}

// ring is the frames of a ring: more than the longest delay has at 48,000 Hz.
const ring = 2048

// samples are those of a ring, with its last ones before them, so that every sample
// stands behind the one before it, and its first ones behind them, so that a kernel may
// read some frames beyond its end.
type samples [margin + ring + margin]float32

const margin = 8

// reachable returns for how many frames all delays can be read and written in one
// piece, at most those asked for.
func (n *network) reachable(frames int) int {
	frames = min(frames, ring-n.at)
	if n.at < margin { // what is written here is not behind the end yet
		frames = min(frames, margin-n.at)
	}
	for _, from := range n.from {
		frames = min(frames, (ring-from+margin-1)&^(margin-1))
	}
	return frames
}

// advance moves on by some frames, as many as are reachable.
func (n *network) advance(frames int) {
	began := n.at
	n.at = (n.at + frames) % ring
	for i := range n.from {
		n.from[i] = (n.from[i] + frames) % ring
	}
	for i := range n.memory {
		m := &n.memory[i]
		if began < margin {
			copy(m[margin+ring:], m[margin:])
		}
		if n.at < began {
			copy(m[:margin], m[ring:])
		}
	}
}

// in returns the places in a delay where so many frames go in.
func (n *network) in(delay, frames int) []float32 {
	return n.memory[delay][margin+n.at:][:frames]
}

// out returns the sample of a delay that came out last, and behind it so many that come
// out now.
func (n *network) out(delay, frames int) (last float32, now []float32) {
	from := margin + n.from[delay]
	return n.memory[delay][from-1], n.memory[delay][from:][:frames]
}
