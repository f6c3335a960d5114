package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func feet(x float64) quantity.Distance { return quantity.Distance(quantity.FootHigh.SI(x)) }

func TestAtHeightAgainstTheTable(t *testing.T) {
	const reprint = "U.S. Standard Atmosphere, 1976, table in feet as an engineering handbook site reprints it"
	const memory = "U.S. Standard Atmosphere, 1976, table I in metres, from memory"
	tests := []struct {
		height quantity.Distance
		unit   quantity.Unit
		want   float64
		half   float64
		source string
	}{
		{0, quantity.PSI, 14.696, 0.0005, reprint},
		{feet(5000), quantity.PSI, 12.228, 0.0005, reprint},
		{feet(10000), quantity.PSI, 10.108, 0.0005, reprint},
		{feet(15000), quantity.PSI, 8.297, 0.0005, reprint},
		{0, quantity.Hectopascal, 1013.25, 0.005, memory},
		{1000, quantity.Hectopascal, 898.76, 0.005, memory},
		{2000, quantity.Hectopascal, 795.01, 0.005, memory},
		{3000, quantity.Hectopascal, 701.21, 0.005, memory},
		{4000, quantity.Hectopascal, 616.60, 0.005, memory},
		{5000, quantity.Hectopascal, 540.48, 0.005, memory},
		{0, quantity.InchMercury, 29.92126, 0.00001, "barometric formula, table of layers: 29.92126 inHg at the sea"},
	}
	for _, tt := range tests {
		if tt.height > validHeight[1] {
			continue
		}
		air, err := AtHeight(tt.height)
		require.NoError(t, err)
		assert.InDelta(t, tt.want, tt.unit.From(float64(air.Pressure)), tt.half, "%v m: %s", tt.height, tt.source)
	}
}

func TestByReportAgainstALibrary(t *testing.T) {
	const library = "tests of an open meteorological library, altimeter setting to station pressure"
	tests := []struct {
		setting float64
		unit    quantity.Unit
		height  quantity.Distance
		want    float64 // hPa
		delta   float64
		source  string
	}{
		// The library computes n from another gas constant for air, which is worth
		// up to 0.05 hPa here.
		{29.8, quantity.InchMercury, 500, 950.96498, 0.05, library},
		{1000, quantity.Hectopascal, 2000, 784.262996, 0.05, library},
		{1005, quantity.Hectopascal, 1500, 838.651657, 0.05, library},
		{1010, quantity.Hectopascal, 1000, 896.037821, 0.05, library},
		{1013, quantity.Hectopascal, 500, 954.639265, 0.05, library},
		// This program leaves the 0.3 hPa out.
		{30.20, quantity.InchMercury, feet(5045), 849.77, 0.31, "a barometry program's example: 5045 ft, 30.20 inHg, 84 977 Pa"},
		{30.37, quantity.InchMercury, feet(7014), 793.75, 0.31, "a barometry program's example: 7014 ft, 30.37 inHg, 79 375 Pa"},
	}
	for _, tt := range tests {
		air, err := ByReport(quantity.Pressure(tt.unit.SI(tt.setting)), tt.height)
		require.NoError(t, err)
		assert.InDelta(t, tt.want, quantity.Hectopascal.From(float64(air.Pressure)), tt.delta, tt.source)
	}
	standard, err := AtHeight(1500)
	require.NoError(t, err)
	report, err := ByReport(StandardAir, 1500)
	require.NoError(t, err)
	assert.InDelta(t, float64(standard.Pressure), float64(report.Pressure), float64(ReportLimit)/2, "identity: standard weather is the standard atmosphere")
}

func TestAirErrors(t *testing.T) {
	_, err := AtHeight(9000)
	assert.EqualError(t, err, "circuit: height above the sea 29527.6 ft is outside -1640.42 ft to 19685 ft")
	_, err = ByReport(quantity.Pressure(quantity.InchMercury.SI(2.992)), 0)
	assert.ErrorContains(t, err, Setting)
	_, err = ByReport(StandardAir, quantity.Distance(math.NaN()))
	assert.ErrorContains(t, err, Height)
	_, err = ByBarometer(1)
	assert.ErrorContains(t, err, Barometer)
	air, err := ByBarometer(84000)
	require.NoError(t, err)
	assert.Equal(t, BarometerLimit, air.Limit)
	assert.NoError(t, SeaLevel().check())
}
