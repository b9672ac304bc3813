// Package portable has functions that package math answers differently in the last bits on different machines, such as a server and a
// browser: there math uses instructions of the machine's own. These give the same bits wherever a float64 is one of IEEE 754. So what
// hangs on a comparison (which test comes next, which digit is printed) is the same for everyone.
//
// Products that are added to something are converted to float64 first: the language forbids to fuse what is converted, and without that
// some machines round once where others round twice. Functions of math that are not here (Sqrt, Expm1, Log1p, Sin, Cbrt, Pow10, and Pow
// of whole exponents) are computed alike on amd64 and in WebAssembly. A test in core holds that nobody uses the others directly.
package portable

import "math"

const (
	ln2Hi = 6.93147180369123816490e-01 // its last 21 bits are 0, so that a product with a small whole number is exact
	ln2Lo = math.Ln2 - ln2Hi
)

// Exp returns e^x.
//
//	e^x = 2^k e^r, |r| ≤ ln 2/2, e^r by its series to r¹³/13!
//
// It is within 2 units of the last place (checked against math.Exp).
func Exp(x float64) float64 {
	switch {
	case x != x:
		return x
	case x > 709.782712893384:
		return math.Inf(1)
	case x < -745.1332191019412:
		return 0
	}
	k := math.Floor(float64(x*math.Log2E) + 0.5)
	hi, lo := x-float64(k*ln2Hi), float64(k*ln2Lo)
	r := hi - lo
	p := float64(r*(1./6227020800)) + 1./479001600
	p = float64(p*r) + 1./39916800
	p = float64(p*r) + 1./3628800
	p = float64(p*r) + 1./362880
	p = float64(p*r) + 1./40320
	p = float64(p*r) + 1./5040
	p = float64(p*r) + 1./720
	p = float64(p*r) + 1./120
	p = float64(p*r) + 1./24
	p = float64(p*r) + 1./6
	p = float64(p*r) + 1./2
	y := 1 + (r + float64(r*r*p))
	if k < -1021 { // in two steps: the result may be below the least normal number
		return y * power(int(k)+200) * power(-200)
	}
	if k > 1023 {
		return y * 2 * power(int(k)-1)
	}
	return y * power(int(k))
}

// power returns 2^k for k from −1022 to 1023.
func power(k int) float64 { return math.Float64frombits(uint64(k+1023) << 52) }

// decays are e^(−j ln 2/64).
var decays = func() (table [64]float64) {
	for j := range table {
		table[j] = Exp(-float64(j) * math.Ln2 / 64)
	}
	return table
}()

// Decay returns e^(−x) for x from 0 to 708, in half the time of [Exp].
//
//	e^(−x) = 2^(−k/64) e^(−r), |r| ≤ ln 2/128, 2^(−k/64) from a table and e^(−r) by its series to r⁴/4!
//
// It is within 2e-13 of its value (checked against math.Exp).
func Decay(x float64) float64 {
	k := int(float64(x*(64/math.Ln2)) + 0.5)
	r := x - float64(float64(k)*(math.Ln2/64))
	z := float64(r * r)
	p := (1 - r) + float64(z*((0.5-float64(r*(1./6)))+float64(z*(1./24))))
	return p * decays[k&63] * power(-(k >> 6))
}

// Log returns the natural logarithm of x.
//
//	x = 2^k (1 + f), √½ ≤ 1 + f < √2;  ln(1 + f) = 2 artanh s = f − s (f − 2 s²/3 − 2 s⁴/5 − …), s = f/(2 + f)
//
// It is within 2 units of the last place (checked against math.Log).
func Log(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 1) {
		return math.Log(x) // the special cases are the same everywhere
	}
	m, k := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m, k = 2*m, k-1
	}
	f := m - 1
	s := f / (2 + f)
	z := s * s
	p := 2.0 / 25
	for _, c := range [...]float64{2. / 23, 2. / 21, 2. / 19, 2. / 17, 2. / 15, 2. / 13, 2. / 11, 2. / 9, 2. / 7, 2. / 5, 2. / 3} {
		p = float64(p*z) + c
	}
	n := float64(k)
	return float64(n*ln2Hi) + (f - (float64(s*(f-float64(z*p))) - float64(n*ln2Lo)))
}

// Log2 returns the logarithm of x to base 2. It is exact for powers of 2.
func Log2(x float64) float64 {
	m, k := math.Frexp(x)
	if m == 0.5 {
		return float64(k - 1)
	}
	return float64(Log(m)*math.Log2E) + float64(k)
}

// Log10 returns the logarithm of x to base 10. It is exact for powers of 10.
func Log10(x float64) float64 {
	y := Log(x) * math.Log10E
	if n := math.Round(y); math.Abs(y-n) < 1e-9 && math.Pow10(int(n)) == x {
		return n
	}
	return y
}

// Pow returns x^y for x > 0, and as math.Pow does for a whole y.
func Pow(x, y float64) float64 {
	if y == math.Trunc(y) || !(x > 0) {
		return math.Pow(x, y) // computed by multiplying
	}
	return Exp(y * Log(x))
}

// Hypot returns √(p² + q²), without overflow on the way.
func Hypot(p, q float64) float64 {
	p, q = math.Abs(p), math.Abs(q)
	if p < q {
		p, q = q, p
	}
	if p == 0 || math.IsInf(p, 1) {
		return p
	}
	q /= p
	return p * math.Sqrt(1+float64(q*q))
}

// Erfc returns the complementary error function, 2/√π ∫ e^(−t²) dt from x on.
//
//	below 1.5: 1 − 2/√π x e^(−x²) Σ (2x²)ⁿ/(1·3·5…(2n+1));  else e^(−x²)/(x√π) · 1/(1 + a/(1 + 2a/(1 + 3a/…))), a = 1/(2x²)
//
// It is within 1e-13 of its value (checked against math.Erfc).
func Erfc(x float64) float64 {
	const series, nothing = 1.5, 27.3 // beyond which the result is below the least number
	switch {
	case x < 0:
		return 2 - Erfc(-x)
	case x > nothing:
		return 0
	case x != x:
		return x
	case x < series:
		sum, term := 1.0, 1.0
		for n := 1.0; term > sum*1e-17; n++ {
			term *= 2 * x * x / (2*n + 1)
			sum += term
		}
		return 1 - 2/math.SqrtPi*x*square(x)*sum
	}
	a, below := 1/(2*x*x), 1.0
	for n := math.Floor(20 + 240/(x*x)); n > 0; n-- {
		below = 1 + float64(n*a)/below
	}
	return square(x) / (x * math.SqrtPi * below)
}

// square returns e^(−x²). x is cut in two, so that the square of the first part is exact.
func square(x float64) float64 {
	cut := math.Float64frombits(math.Float64bits(x) &^ (1<<27 - 1))
	return Exp(-cut*cut) * Exp(-float64((x-cut)*(x+cut)))
}
