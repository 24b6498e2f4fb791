package scene

import "math/bits"

// Root returns the square root of n, rounded down; 0 where n is negative.
func Root(n int64) int64 {
	if n <= 0 {
		return 0
	}
	// Newton's steps fall to the root from any start above it. The first is the tangent to the root at 9/4 of the power
	// of four below n, which is nowhere below the root and at most a twelfth above.
	k := (bits.Len64(uint64(n)) - 1) / 2
	x := n>>k/3 + int64(3)<<k/4 + 2
	for {
		y := (x + n/x) / 2
		if y >= x {
			return x
		}
		x = y
	}
}
