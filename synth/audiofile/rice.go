package audiofile

import (
	"math"
	"math/bits"

	"github.com/mewkiz/flac/frame"
)

// The largest Rice parameters of 4 and of 5 bits; one more means another thing
// (section 9.2.7).
const (
	maxRice1 = 14
	maxRice2 = 30
)

// codingMethod returns the one whose parameters have room for the residual's.
func codingMethod(rice *frame.RiceSubframe) frame.ResidualCodingMethod {
	for _, part := range rice.Partitions {
		if part.Param > maxRice1 {
			return frame.ResidualCodingMethodRice2
		}
	}
	return frame.ResidualCodingMethodRice1
}

// partitioned divides the folded residual into the number of partitions that
// takes the fewest bits, and returns that number of bits. The first partition
// lacks the samples before order.
func partitioned(residual []uint32, order int) (*frame.RiceSubframe, int) {
	n := len(residual)
	most := min(maxPartitions, bits.TrailingZeros(uint(n)))
	for most > 0 && n>>most <= order {
		most--
	}
	sums := make([]uint64, 1<<most)
	size := n >> most
	for i := range sums {
		for _, e := range residual[max(i*size, order) : (i+1)*size] {
			sums[i] += uint64(e)
		}
	}
	best, shortest := (*frame.RiceSubframe)(nil), math.MaxInt
	for power := most; power >= 0; power-- {
		rice := &frame.RiceSubframe{PartOrder: power, Partitions: make([]frame.RicePartition, 1<<power)}
		length := 0
		for i := range rice.Partitions {
			count := n >> power
			if i == 0 {
				count -= order
			}
			param, taken := riceParameter(sums[i], count)
			rice.Partitions[i].Param = param
			length += taken
		}
		if length < shortest {
			best, shortest = rice, length
		}
		for i := range len(sums) / 2 {
			sums[i] = sums[2*i] + sums[2*i+1]
		}
		sums = sums[:max(1, len(sums)/2)]
	}
	return best, shortest
}

// riceParameter returns the Rice parameter that suits count numbers of the
// given sum, and the bits that they take with it: each has a stop bit and the
// parameter's low bits, and in all as many ones as the numbers make when they
// are divided by 2^parameter, whose fractions drop half a step on average.
func riceParameter(sum uint64, count int) (param uint, length int) {
	const parameterBits = 4
	length = math.MaxInt
	for k := uint(0); k <= maxRice2; k++ {
		ones := int((2*sum+uint64(count))>>(k+1)) - count/2
		l := parameterBits + count*int(1+k) + ones
		if l >= length {
			break
		}
		param, length = k, l
	}
	return param, length
}
