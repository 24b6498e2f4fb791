package inci

import "testing"

func BenchmarkLimitsOf(b *testing.B) {
	Limits(EU)
	b.ReportAllocs()
	for b.Loop() {
		LimitsOf("SODIUM BENZOATE", EU)
	}
}

// BenchmarkLimitTable is what the first question about limits pays.
func BenchmarkLimitTable(b *testing.B) {
	sources()
	for b.Loop() {
		newLimitTable(EU)
	}
}

func BenchmarkProhibited(b *testing.B) {
	Prohibited("AQUA", EU)
	b.ReportAllocs()
	for b.Loop() {
		Prohibited("SODIUM BICARBONATE", EU)
	}
}

func BenchmarkBanTable(b *testing.B) {
	for b.Loop() {
		newBanTable(bansEUText)
	}
}
