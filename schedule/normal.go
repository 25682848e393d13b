package schedule

import "math"

// The standard normal distribution.

// cut returns the mean of a standard normal distribution of which only what
// lies between low and high is left, and by how much its variance has shrunk.
func cut(low, high float64) (mean, shrink float64) {
	mass := cumulative(high) - cumulative(low)
	if mass < 1e-9 { // so far off that it is as good as at the nearer end
		if low > 0 {
			return low, 1
		}
		return high, 1
	}
	atLow, atHigh := density(low), density(high)
	mean = (atLow - atHigh) / mass
	shrink = mean * mean
	if !math.IsInf(high, 0) {
		shrink += high * atHigh / mass
	}
	if !math.IsInf(low, 0) {
		shrink -= low * atLow / mass
	}
	return mean, min(max(shrink, 0), 1)
}

func density(x float64) float64    { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
func cumulative(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// quantile is the inverse of cumulative.
func quantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
