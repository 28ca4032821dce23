package audiofile

import (
	"math"

	"thirdwise/synth/exact"

	"github.com/mewkiz/flac/frame"
)

// predictor finds how the subframes of a FLAC block are predicted (RFC 9639,
// sections 9.2.5 to 9.2.7): by a fixed predictor, or by the linear one that
// autocorrelation of the windowed block and Levinson and Durbin's recursion give
// (J. Makhoul, Linear Prediction: A Tutorial Review, Proc. IEEE 63 (1975)). The
// residual is divided into partitions with a Rice parameter each. Its memory is
// used again for each block.
type predictor struct {
	window    []float64
	windowed  [flacBlock]float64
	mid, side [flacBlock]int32
	residual  [flacBlock]uint32
}

const (
	// maxOrder is the highest order of a linear predictor that is tried. Decaying
	// strings gain by two more than the usual eight, and hardly by further ones.
	maxOrder = 10
	// maxPartitions is the largest number of partitions as a power of two.
	maxPartitions = 6
	// coefficientBits is the precision of predictor coefficients, the most that
	// section 9.2.6 allows but the value that is forbidden.
	coefficientBits = 15
)

// plan is how a channel is held as a subframe, and how many bits that takes.
type plan struct {
	header frame.SubHeader
	bits   int
}

// stereo returns how two channels are held and how each subframe is predicted:
// left and right themselves or, where that is shorter, one or both of their
// mean and difference (section 4.2).
func (p *predictor) stereo(left, right []int32, depth int) (frame.Channels, frame.SubHeader, frame.SubHeader) {
	mid, side := p.mid[:len(left)], p.side[:len(left)]
	for i, l := range left {
		r := right[i]
		mid[i], side[i] = (l+r)>>1, l-r
	}
	l, r := p.plan(left, depth), p.plan(right, depth)
	m, s := p.plan(mid, depth), p.plan(side, depth+1)

	channels, first, second := frame.ChannelsLR, l, r
	for _, other := range []struct {
		channels      frame.Channels
		first, second plan
	}{
		{frame.ChannelsLeftSide, l, s},
		{frame.ChannelsSideRight, s, r},
		{frame.ChannelsMidSide, m, s},
	} {
		if other.first.bits+other.second.bits < first.bits+second.bits {
			channels, first, second = other.channels, other.first, other.second
		}
	}
	return channels, first.header, second.header
}

// plan finds the shortest way to hold a channel. One that prediction does not
// shorten, and silence, are left to the library.
func (p *predictor) plan(samples []int32, depth int) plan {
	best := plan{frame.SubHeader{Pred: frame.PredVerbatim}, len(samples) * depth}
	r := p.autocorrelation(samples)
	if r[0] == 0 {
		best.bits = depth
		return best
	}
	if coeffs, shift := quantised(linear(r, len(samples), depth)); len(coeffs) > 0 {
		header := frame.SubHeader{
			Pred:       frame.PredFIR,
			CoeffPrec:  coefficientBits,
			CoeffShift: shift,
			Coeffs:     coeffs,
		}
		p.keepShorter(&best, header, samples, coeffs, len(coeffs)*(depth+coefficientBits))
	}
	if order, length := fixed(samples, depth); length < best.bits {
		header := frame.SubHeader{Pred: frame.PredFixed}
		p.keepShorter(&best, header, samples, frame.FixedCoeffs[order], order*depth)
	}
	return best
}

// keepShorter completes the header of a predicted subframe, whose samples and
// coefficients at the beginning take some bits, head, and keeps it if it is shorter
// than the best so far.
func (p *predictor) keepShorter(best *plan, header frame.SubHeader, samples, coeffs []int32, head int) {
	residual := p.residual[:len(samples)]
	if !predict(residual, samples, coeffs, header.CoeffShift) {
		return
	}
	rice, length := partitioned(residual, len(coeffs))
	if length += head; length >= best.bits {
		return
	}
	header.Order = len(coeffs)
	header.ResidualCodingMethod = codingMethod(rice)
	header.RiceSubframe = rice
	*best = plan{header, length}
}

// fixed returns the order of the fixed predictor (section 9.2.5) that suits the
// samples, and about how many bits they take with it. Its residual is the
// difference of that order; the first samples, which not all orders predict,
// are left out of the comparison.
func fixed(samples []int32, depth int) (order, length int) {
	const highest = 4
	if len(samples) <= highest {
		return 0, math.MaxInt
	}
	var sums [highest + 1]uint64
	var before0, before1, before2, before3 int64 // differences at the sample before
	for i, x := range samples {
		d0 := int64(x)
		d1 := d0 - before0
		d2 := d1 - before1
		d3 := d2 - before2
		d4 := d3 - before3
		before0, before1, before2, before3 = d0, d1, d2, d3
		if i < highest {
			continue
		}
		sums[0] += uint64(max(d0, -d0))
		sums[1] += uint64(max(d1, -d1))
		sums[2] += uint64(max(d2, -d2))
		sums[3] += uint64(max(d3, -d3))
		sums[4] += uint64(max(d4, -d4))
	}
	length = math.MaxInt
	for o, sum := range sums {
		_, taken := riceParameter(2*sum, len(samples)-highest)
		if taken += o * depth; taken < length {
			order, length = o, taken
		}
	}
	return order, length
}

// linear returns the coefficients of the linear predictor that promises the
// shortest subframe for n samples of the autocorrelation r; none where none
// shortens it.
func linear(r [maxOrder + 1]float64, n, depth int) []float64 {
	var coeffs, best [maxOrder]float64
	order, shortest := 0, float64(n*depth)
	residual := r[0]
	for next := 1; next <= maxOrder && next < n; next++ {
		// Levinson and Durbin's step to the next order.
		k := r[next]
		for j := range next - 1 {
			k -= coeffs[j] * r[next-1-j]
		}
		k /= residual
		previous := coeffs
		coeffs[next-1] = k
		for j := range next - 1 {
			coeffs[j] = previous[j] - k*previous[next-2-j]
		}
		residual *= 1 - k*k
		if !(residual > 0) {
			break
		}
		length := float64(n-next)*riceBits(residual/float64(n)) + float64(next*(depth+coefficientBits))
		if length < shortest {
			order, shortest, best = next, length, coeffs
		}
	}
	return best[:order]
}

// riceBits estimates the bits that a sample of the residual takes: a Laplace
// distribution of the given variance has that entropy, ½·log2(2e²·variance),
// and a Rice code comes close to it.
func riceBits(variance float64) float64 {
	return max(1, 0.5*exact.Log(2*math.E*math.E*variance)*math.Log2E)
}

// autocorrelation returns that of the samples under a Tukey window whose
// tapers take half of it, for lags from 0 to maxOrder.
func (p *predictor) autocorrelation(samples []int32) (r [maxOrder + 1]float64) {
	p.fitWindow(len(samples))
	w := p.windowed[:len(samples)]
	for i, weight := range p.window {
		w[i] = weight * float64(samples[i])
	}
	for lag := range min(len(w), maxOrder+1) {
		r[lag] = dot(w[lag:], w)
	}
	return r
}

func (p *predictor) fitWindow(n int) {
	if len(p.window) == n {
		return
	}
	p.window = make([]float64, n)
	for i := range p.window {
		fromEdge := (float64(min(i, n-1-i)) + 1) / (float64(n) / 4)
		p.window[i] = 0.5 - 0.5*math.Cos(math.Pi*min(1, fromEdge))
	}
}

// dot returns the inner product of a and the beginning of b.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	for len(a) >= 4 && len(b) >= 4 {
		s0 += a[0] * b[0]
		s1 += a[1] * b[1]
		s2 += a[2] * b[2]
		s3 += a[3] * b[3]
		a, b = a[4:], b[4:]
	}
	for i, x := range a {
		s0 += x * b[i]
	}
	return s0 + s1 + s2 + s3
}

// quantised returns the coefficients as whole numbers of coefficientBits bits,
// to be divided by 2^shift; nil when they are too large for that. The error of
// each is carried over to the next.
func quantised(coeffs []float64) (whole []int32, shift int32) {
	largest := 0.0
	for _, c := range coeffs {
		largest = max(largest, math.Abs(c))
	}
	const limit = 1 << (coefficientBits - 1)
	_, exponent := math.Frexp(largest) // largest < 2^exponent
	shift = int32(min(coefficientBits-1-exponent, 15))
	if shift < 0 {
		return nil, 0
	}
	carried := 0.0
	for _, c := range coeffs {
		carried += math.Ldexp(c, int(shift))
		rounded := min(max(math.Round(carried), -limit), limit-1)
		carried -= rounded
		whole = append(whole, int32(rounded))
	}
	return whole, shift
}

// predict fills residual with what linear prediction leaves of the samples, the
// first of them as they are, signs folded to even and odd (section 9.2.7). It
// reports whether all of it fits into 32 bits.
func predict(residual []uint32, samples, coeffs []int32, shift int32) bool {
	order := len(coeffs)
	backwards := make([]int64, order)
	for i, c := range coeffs {
		backwards[order-1-i] = int64(c)
	}
	overflow := int64(0)
	for i := order; i < len(samples) && i < len(residual); i++ {
		sum := int64(0)
		history := samples[i-order : i : i]
		for j, c := range backwards[:len(history)] {
			sum += c * int64(history[j])
		}
		e := int64(samples[i]) - sum>>shift
		overflow |= e ^ int64(int32(e))
		residual[i] = uint32(e<<1 ^ e>>63)
	}
	return overflow == 0
}
