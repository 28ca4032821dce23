// Package exact has functions of package math that give the same bits natively and in
// WebAssembly. Package math has its exponential and its logarithm in assembly for some
// processors, which may round the last bit another way; what stands here is made of
// those of its functions that are Go throughout.
package exact

import "math"

// Exp returns e to the power of x.
func Exp(x float64) float64 { return math.Exp2(x * math.Log2E) }

// Log returns the natural logarithm of x, which is positive and finite; of 0 it
// returns −Inf.
func Log(x float64) float64 {
	if x == 0 {
		return math.Inf(-1)
	}
	fraction, exponent := math.Frexp(x)
	return math.Log1p(fraction-1) + float64(exponent)*math.Ln2
}

// Pow returns x, which is not negative, to the power of y, which is positive where x
// is 0.
func Pow(x, y float64) float64 { return math.Exp2(y * Log(x) * math.Log2E) }

// Decibels returns the level of an amplitude against 1, in dB.
func Decibels(amplitude float64) float64 { return 20 * math.Log10E * Log(amplitude) }

// Amplitude returns the amplitude that has a level in dB against 1.
func Amplitude(decibels float64) float64 { return math.Exp2(decibels / 20 * math.Ln10 * math.Log2E) }

// Abs returns the magnitude of z.
func Abs(z complex128) float64 { return math.Sqrt(real(z)*real(z) + imag(z)*imag(z)) }

// ExpComplex returns e to the power of z.
func ExpComplex(z complex128) complex128 {
	sin, cos := math.Sincos(imag(z))
	size := Exp(real(z))
	return complex(size*cos, size*sin)
}
