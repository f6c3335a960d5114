package fluid

import (
	"math"

	"provingbench/knowledge/quantity"
)

// ValidIndex is the range of viscosities at 100 °C for which there is a
// viscosity index: from 2 mm²/s, as D2270 says, to more than any oil has.
var ValidIndex = [2]quantity.Kinematic{2e-6, 2e-3}

// indexRow holds from its first number on: L = a·Y² + b·Y + c and
// H = d·Y² + e·Y + f, with Y in mm²/s.
type indexRow struct{ from, a, b, c, d, e, f float64 }

// indexRows are the equations that D2270 prints beside its table (table X2.1);
// the last one is the law over 70 mm²/s.
var indexRows = [...]indexRow{
	{2.0, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077},
	{3.8, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183},
	{4.4, 2.5000, -7.2143, 13.812, 0.82143, 1.5679, 0.119},
	{5.0, 0.10100, 16.6350, -45.469, 0.04985, 9.1613, -18.557},
	{6.4, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656},
	{7.0, 0.01191, 21.4750, -72.870, 0.79762, -0.7321, 14.610},
	{7.7, 0.41858, 16.1558, -56.040, 0.05794, 10.5156, -28.240},
	{9.0, 0.88779, 7.5527, -16.600, 0.26665, 6.7015, -10.810},
	{12, 0.76720, 10.7972, -38.180, 0.20073, 8.4658, -22.490},
	{15, 0.97305, 5.3135, -2.200, 0.28889, 5.9741, -4.930},
	{18, 0.97256, 5.2500, -0.980, 0.24504, 7.4160, -16.730},
	{22, 0.91413, 7.4759, -21.820, 0.20323, 9.1267, -34.230},
	{28, 0.87031, 9.7157, -50.770, 0.18411, 10.1015, -46.750},
	{40, 0.84703, 12.6752, -133.310, 0.17029, 11.4866, -80.620},
	{55, 0.85921, 11.1009, -83.190, 0.17130, 11.3680, -76.940},
	{70, 0.83531, 14.6731, -216.246, 0.16841, 11.8493, -96.947},
}

// bases returns the viscosities at 40 °C, in mm²/s, of the oils of index 0 and
// 100 that have y at 100 °C.
func bases(y float64) (l, h float64) {
	row := indexRows[0]
	for _, r := range indexRows[1:] {
		if y >= r.from {
			row = r
		}
	}
	return (row.a*y+row.b)*y + row.c, (row.d*y+row.e)*y + row.f
}

// Index returns the viscosity index of a fluid with these viscosities. D2270
// reports it as a whole number, halves to the even one.
//
//	VI = 100 · (L − U)/(L − H)                          up to 100 (procedure A)
//	VI = (10^N − 1)/0.00715 + 100, N = lg(H/U)/lg Y     over 100 (procedure B)
//
// Y is the viscosity at 100 °C and U that at 40 °C; L and H are U of the two
// oils that the index compares with. at100 must lie in ValidIndex, at40 over
// at100 and under 100 000 mm²/s. It assumes a fluid without wax at 40 °C.
// Errors: *quantity.RangeError naming the argument.
// Source: ASTM D2270, procedures A and B, with L and H by table X2.1; checked against the whole of table 1 in index_test.go.
func Index(at40, at100 quantity.Kinematic) (float64, error) {
	mm := quantity.SquareMillimetrePerSecond
	if err := quantity.Within("fluid", "viscosity at 100 °C", at100.Value(), ValidIndex[0].Value(), ValidIndex[1].Value(), mm); err != nil {
		return 0, err
	}
	if err := quantity.Within("fluid", "viscosity at 40 °C", at40.Value(), at100.Value(), quantity.Kinematic(0.1).Value(), mm); err != nil {
		return 0, err
	}
	y, u := mm.From(float64(at100)), mm.From(float64(at40))
	l, h := bases(y)
	if u >= h {
		return 100 * (l - u) / (l - h), nil
	}
	n := math.Log(h/u) / math.Log(y)
	return (math.Pow(10, n)-1)/0.00715 + 100, nil
}

// Index returns the viscosity index of the fluid.
//
//	Index of its viscosities at 40 °C and 100 °C
//
// Errors: *quantity.RangeError where the fluid is thinner than the index knows.
// Source: ASTM D2270 and, for other temperatures than those two, ASTM D341; checked in index_test.go.
func (f Fluid) Index() (float64, error) {
	at40, err := f.Kinematic(quantity.FromCelsius(40))
	if err != nil {
		return 0, err
	}
	at100, err := f.Kinematic(quantity.FromCelsius(100))
	if err != nil {
		return 0, err
	}
	return Index(at40, at100)
}
