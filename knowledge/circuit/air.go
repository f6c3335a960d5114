package circuit

import (
	"cmp"
	"math"

	"provingbench/knowledge/quantity"
)

// Constants of the U.S. Standard Atmosphere, 1976, up to 11 km.
const (
	seaPressure    = 101325.0  // Pa
	seaTemperature = 288.15    // K
	lapse          = 0.0065    // K/m
	earth          = 6356766.0 // m, the radius that its heights are turned with
	exponent       = 9.80665 * 0.0289644 / (8.31432 * lapse)
)

// StandardAir is the pressure at which the sheet's zero of the sensor holds:
// one atmosphere, 14.7 psi absolute.
const StandardAir quantity.Pressure = seaPressure

var (
	validHeight  = [2]quantity.Distance{-500, 6000}
	validSetting = [2]quantity.Pressure{90e3, 110e3}
	validAir     = [2]quantity.Pressure{45e3, 112e3}
)

// Air is the absolute pressure of the air around the truck.
type Air struct {
	Pressure quantity.Pressure
	Limit    quantity.Pressure // the most by which it can be off
	From     string            // where it comes from, in words
}

// How far an air pressure can be off.
const (
	// WeatherLimit is for one that follows from height alone: from a deep low to a
	// strong high (from memory).
	WeatherLimit quantity.Pressure = 3500
	// ReportLimit is for one from a weather report of the day (from memory).
	ReportLimit quantity.Pressure = 400
	// BarometerLimit is for a barometer or a telephone at the place (from memory).
	BarometerLimit quantity.Pressure = 200
)

// SeaLevel is the air at sea level in standard weather.
func SeaLevel() Air { return Air{StandardAir, WeatherLimit, "sea level, whatever the weather"} }

// AtHeight returns the pressure of the standard atmosphere at a height, which is
// the air's there give or take the weather.
//
//	p = 101 325 Pa · (1 − 0.0065 H / 288.15)^5.25588   H = r·z / (r + z), r = 6 356 766 m, z in m
//
// z must lie in −500 m to 6000 m.
// Errors: *quantity.RangeError naming Height.
// Source: U.S. Standard Atmosphere, 1976, equations 18 and 33a; checked against its table in air_test.go.
func AtHeight(z quantity.Distance) (Air, error) {
	if err := checkHeight(z); err != nil {
		return Air{}, err
	}
	h := earth * float64(z) / (earth + float64(z))
	return Air{quantity.Pressure(seaPressure * math.Pow(1-lapse*h/seaTemperature, exponent)), WeatherLimit, "standard atmosphere at the height"}, nil
}

// ByReport returns the pressure of the air at a height for the barometer that a
// weather report gives, which is carried down to the sea (altimeter setting).
//
//	p = [A^n − p₀^n · 0.0065 z / 288]^(1/n) + 0.3 hPa   with n = 0.190263, p₀ = 1013.25 hPa
//
// setting must lie in 900 hPa to 1100 hPa, z in −500 m to 6000 m.
// Errors: *quantity.RangeError naming Setting or Height.
// Source: Smithsonian Meteorological Tables, 6th edition, page 269; checked against an open meteorological library's tests in air_test.go.
func ByReport(setting quantity.Pressure, z quantity.Distance) (Air, error) {
	if err := cmp.Or(
		within(Setting, setting.Value(), validSetting[0].Value(), validSetting[1].Value(), quantity.InchMercury),
		checkHeight(z),
	); err != nil {
		return Air{}, err
	}
	const n = 1 / exponent
	p := math.Pow(math.Pow(float64(setting), n)-math.Pow(seaPressure, n)*lapse*float64(z)/288, 1/n) + 30
	return Air{quantity.Pressure(p), ReportLimit, "weather report, carried to the height"}, nil
}

// ByBarometer returns the air that a barometer at the place shows.
//
// p must lie in 450 hPa to 1120 hPa.
// Errors: *quantity.RangeError naming Barometer.
// Source: none is needed: it is the reading itself.
func ByBarometer(p quantity.Pressure) (Air, error) {
	if err := within(Barometer, p.Value(), validAir[0].Value(), validAir[1].Value(), quantity.InchMercury); err != nil {
		return Air{}, err
	}
	return Air{p, BarometerLimit, "barometer at the place"}, nil
}

func checkHeight(z quantity.Distance) error {
	return within(Height, z.Value(), validHeight[0].Value(), validHeight[1].Value(), quantity.FootHigh)
}

func (a Air) check() error {
	return cmp.Or(
		within(AirPressure, a.Pressure.Value(), validAir[0].Value(), validAir[1].Value(), quantity.PSI),
		within(AirPressure+"'s uncertainty", a.Limit.Value(), quantity.Pressure(0).Value(), quantity.Pressure(2e4).Value(), quantity.PSI),
	)
}
