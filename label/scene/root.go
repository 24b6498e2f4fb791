package scene

import "math/bits"

// Root returns the square root of n, rounded down; 0 where n is negative.
func Root(n int64) int64 {
	if n <= 0 {
		return 0
	}
	// Newton's steps fall to the root from any start above it, and a power of two is never far above.
	x := int64(1) << ((bits.Len64(uint64(n)) + 1) / 2)
	for {
		y := (x + n/x) / 2
		if y >= x {
			return x
		}
		x = y
	}
}
