package exact

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Package math is the reference: its functions are right to the last bits.
func TestFunctionsAreThoseOfPackageMath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-200, 200).Draw(t, "x")
		y := rapid.Float64Range(-200, 200).Draw(t, "y")
		positive := math.Exp(x)
		assert.InEpsilon(t, positive, Exp(x), 1e-12)
		assert.InDelta(t, x, Log(positive), 1e-13*math.Abs(x)+1e-15)
		assert.InEpsilon(t, math.Pow(positive, 0.3), Pow(positive, 0.3), 1e-12)
		assert.InDelta(t, 20*math.Log10(positive), Decibels(positive), 1e-11)
		assert.InEpsilon(t, math.Pow(10, x/20), Amplitude(x), 1e-12)
		assert.InEpsilon(t, cmplx.Abs(complex(x, y)+1e-9), Abs(complex(x, y)+1e-9), 1e-12)
		assert.InEpsilon(t, 1, Abs(ExpComplex(complex(x, y))/cmplx.Exp(complex(x, y))), 1e-12)
	})
	assert.True(t, math.IsInf(Log(0), -1))
	assert.True(t, math.IsInf(Decibels(0), -1))
	assert.Zero(t, Pow(0, 0.5))
}
