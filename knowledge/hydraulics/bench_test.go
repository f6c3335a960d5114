package hydraulics_test

import (
	"testing"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/unit"
)

func BenchmarkSteady(b *testing.B) {
	s := hydraulics.Gauges[5].At
	s.Version, s.Build, s.Temperature = unit.Late, unit.Stock, hydraulics.Hot
	for range b.N {
		if _, err := hydraulics.Steady(s); err != nil {
			b.Fatal(err)
		}
	}
}
