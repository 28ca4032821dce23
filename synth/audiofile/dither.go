package audiofile

import (
	"encoding/binary"
	"fmt"
	"io"
	"math/rand/v2"
)

// Quantise returns a writer that makes samples, times a gain, whole steps of a depth in
// bits, 16 or 24, and hands them on as PCM, as an [Encoder] takes it. A step is
// 2^(1−depth); what is beyond the range from −1 to one step below 1 is held to the
// nearest limit.
//
// At 16 bits the steps are dithered with noise of triangular distribution,
// two steps wide, independent in each channel and each frame: the error is
// then noise of constant power whatever the signal does (S. Lipshitz,
// R. Wannamaker, J. Vanderkooy, Quantization and Dither: A Theoretical Survey,
// J. Audio Eng. Soc. 40 (1992)). At 24 bits samples are rounded: the error lies
// near −146 dBFS, below the noise of any converter, and a float32 near full
// scale has no finer steps than these.
//
// The noise of a frame depends on its number alone. The same samples give the
// same steps, in blocks of any size.
func Quantise(depth int, gain float32, next io.Writer) Writer {
	q := &quantiser{depth: depth, gain: gain, next: next}
	luck := rand.NewPCG(1, 2)
	for i := range q.lanes {
		q.lanes[i] = luck.Uint64()
	}
	return q
}

// blockFrames is how many frames are worked on at once: what belongs to them stays in
// the processor's nearest cache.
const blockFrames = 1024

type quantiser struct {
	depth int
	gain  float32
	next  io.Writer
	frame int // number of the next frame, within the noise
	lanes [noiseLanes]uint64
	noise [blockFrames]uint64
	pcm   [6 * blockFrames]byte
}

func (q *quantiser) Write(left, right []float32) error {
	if len(left) != len(right) {
		return fmt.Errorf("block of %d samples left and %d right", len(left), len(right))
	}
	for len(left) > 0 {
		n := min(len(left), blockFrames-q.frame)
		pcm := q.pcm[:n*frameBytes(q.depth)]
		if q.depth == 16 {
			if q.frame == 0 {
				makeNoise(q.noise[:], &q.lanes)
			}
			dither(pcm, left[:n], right[:n], q.gain, q.noise[q.frame:q.frame+n])
		} else {
			round24(pcm, left[:n], right[:n], q.gain)
		}
		q.frame = (q.frame + n) % blockFrames
		if _, err := q.next.Write(pcm); err != nil {
			return err
		}
		left, right = left[n:], right[n:]
	}
	return nil
}

// frameBytes returns the bytes of a frame at a depth in bits.
func frameBytes(depth int) int { return 2 * depth / 8 }

// round24 fills PCM with the nearest steps of 24 bits for samples times a gain.
func round24(pcm []byte, left, right []float32, gain float32) {
	scale := gain * (1 << (23 + 8))
	right = right[:len(left)]
	for i, x := range left {
		if len(pcm) < 6 {
			return
		}
		l, r := rounded24(x*scale), rounded24(right[i]*scale)
		binary.LittleEndian.PutUint32(pcm, l&0xffffff|r<<24)
		binary.LittleEndian.PutUint16(pcm[4:], uint16(r>>8))
		pcm = pcm[6:]
	}
}

// rounded24 returns the nearest whole step of 24 bits for a number that counts 256th
// parts of one.
func rounded24(x float32) uint32 {
	const half = 1 << 7
	s := (int64(x) + half) >> 8
	if s != s<<40>>40 {
		s = held(x, 1<<23)
	}
	return uint32(s)
}

// held returns the step for a sample that is out of the range −size to
// size−1, or so far out that its fixed-point number has overflowed.
func held(sample float32, size int64) int64 {
	if sample < 0 {
		return -size
	}
	return size - 1
}
