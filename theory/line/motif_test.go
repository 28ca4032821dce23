package line_test

import "thirdwise/theory/line"

// A saidAgain prices how a line says its motif again, which is counted here from what the
// costs say of it: the first four moves of the first bar that states it, and in the other
// such bars those that begin at the same slots.
type saidAgain struct {
	p       *pricer
	first   int         // segment that states
	moves   map[int]int // by the slot in the bar, at which they begin
	segment int         // that says it again
	sign    int         // of its first move that goes anywhere beside the stated one; 0 before it
}

func motifOf(p *pricer) *saidAgain {
	s := &saidAgain{p: p, first: -1, moves: map[int]int{}}
	for _, n := range p.notes {
		if s.first < 0 && p.stated[n.Span] {
			s.first = n.Span
		}
	}
	return s
}

// price is what the move from the i-th third costs.
func (s *saidAgain) price(i, steps int) int {
	n := s.p.notes[i]
	slot := n.Tick - n.Span*bar
	steps = max(-3, min(3, steps))
	if !s.p.stated[n.Span] {
		return 0
	}
	if n.Span == s.first {
		if len(s.moves) < 4 {
			s.moves[slot] = steps
		}
		return 0
	}
	if s.segment != n.Span {
		s.segment, s.sign = n.Span, 0
	}
	stated, known := s.moves[slot]
	if !known {
		return 0
	}
	if s.sign == 0 && stated*steps != 0 {
		s.sign = 1
		if stated*steps < 0 {
			s.sign = -1
			return line.CostOf.Mirrored
		}
	}
	if s.sign < 0 {
		steps = -steps
	}
	switch {
	case stated == steps:
		return 0
	case stated*steps > 0:
		return line.CostOf.Fitted
	}
	return line.CostOf.Unlike
}
