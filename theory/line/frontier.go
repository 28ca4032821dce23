package line

// A beginning is a way over the first onsets of a stretch.
type beginning struct {
	state   state
	rung    int
	at      int // index of the onset that it has come to; their number where it is complete
	cost    int
	promise int // the least that a way can cost that begins so
	before  *beginning
	order   int
}

// A frontier is a heap of beginnings, the most promising first. Of equals it is the
// longest, and of these the one that was found first, so that the same search
// always finds the same way.
type frontier struct {
	heap  []*beginning
	count int
}

func (f *frontier) next() int {
	f.count++
	return f.count
}

func (f *frontier) Len() int { return len(f.heap) }

func (f *frontier) Less(i, j int) bool {
	a, b := f.heap[i], f.heap[j]
	switch {
	case a.promise != b.promise:
		return a.promise < b.promise
	case a.at != b.at:
		return a.at > b.at
	}
	return a.order < b.order
}

func (f *frontier) Swap(i, j int) { f.heap[i], f.heap[j] = f.heap[j], f.heap[i] }
func (f *frontier) Push(x any)    { f.heap = append(f.heap, x.(*beginning)) }

func (f *frontier) Pop() any {
	last := f.heap[len(f.heap)-1]
	f.heap = f.heap[:len(f.heap)-1]
	return last
}
