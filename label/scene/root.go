package scene

import "math/bits"

// Root returns the square root of n, rounded down; 0 where n is negative.
func Root(n int64) int64 {
	if n <= 0 {
		return 0
	}
	// Newton's steps fall to the root from any start above it. The first, from the power of two below the root, wants
	// no division.
	k := (bits.Len64(uint64(n)) - 1) / 2
	x := (int64(1)<<k+n>>k)/2 + 1
	for {
		y := (x + n/x) / 2
		if y >= x {
			return x
		}
		x = y
	}
}
