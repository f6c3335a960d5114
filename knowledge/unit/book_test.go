package unit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

// psi returns a pressure for a hand-made limit.
func psi(x float64) *quantity.Value {
	v := quantity.PSI.Of(x)
	return &v
}

// handMade is a book of invented figures.
func handMade() *Book {
	demo := Provenance{Kind: Demo}
	return &Book{
		Sources: []Source{{"S1", "an invented handbook"}},
		Acceptances: []Acceptance{
			{ID: "line", Quantity: quantity.KindPressure, Limits: []Limit{
				{Condition: Condition{Range: "D", Note: "all"}, Max: psi(11), Provenance: demo},
				{Condition: Condition{Range: "D", Builds: []Build{Raised}}, Max: psi(22), Provenance: demo},
				{Condition: Condition{Range: "R"}, Max: psi(33), Provenance: demo},
				{Condition: Condition{Range: "D", Versions: []Version{Late}, Builds: []Build{Stock}}, Max: psi(44), Provenance: demo},
				{Condition: Condition{Range: "D", Versions: []Version{Light, Mid}}, Max: psi(55), Provenance: demo},
			}},
			{ID: "late-only", Quantity: quantity.KindPressure, Limits: []Limit{
				{Condition: Condition{Versions: []Version{Late}}, Min: psi(1), Max: psi(1), Provenance: demo},
			}},
			{ID: "no-figure", Quantity: quantity.KindLength},
		},
	}
}

// maxima returns the limits' maxima in psi.
func maxima(limits []Limit) []int {
	var out []int
	for _, l := range limits {
		out = append(out, int(quantity.PSI.From(l.Max.SI)+0.5))
	}
	return out
}

func TestLimitsFor(t *testing.T) {
	a, ok := handMade().Acceptance("line")
	require.True(t, ok)
	tests := []struct {
		name    string
		version Version
		build   Build
		want    []int
	}{
		{"light stock: nothing names stock, so all that are open stay", Light, Stock, []int{11, 33, 55}},
		{"late stock: the one that names stock takes the place of the general one in D", Late, Stock, []int{33, 44}},
		{"light raised: both general ones in D give way, R stays", Light, Raised, []int{22, 33}},
		{"late raised", Late, Raised, []int{22, 33}},
		{"version unknown", "", Raised, []int{22, 33}},
		{"build unknown: nothing gives way", Late, "", []int{11, 22, 33, 44}},
		{"nothing known", "", "", []int{11, 22, 33, 44, 55}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, maxima(a.LimitsFor(tt.version, tt.build)))
		})
	}
	assert.Len(t, a.Limits, 5, "looking up leaves the book as it is")
	assert.Equal(t, []int{11, 22, 33, 44, 55}, maxima(a.Limits))
}

func TestBookLookup(t *testing.T) {
	b := handMade()
	_, ok := b.Acceptance("none")
	assert.False(t, ok)
	s, ok := b.Source("S1")
	assert.True(t, ok)
	assert.Equal(t, "an invented handbook", s.Title)
	_, ok = b.Source("S9")
	assert.False(t, ok)
}

func TestIsSetting(t *testing.T) {
	assert.True(t, Limit{Min: psi(1), Max: psi(1)}.IsSetting())
	assert.False(t, Limit{Min: psi(1), Max: psi(2)}.IsSetting())
	assert.False(t, Limit{Max: psi(2)}.IsSetting())
	assert.False(t, Limit{}.IsSetting())
}

func TestSheet(t *testing.T) {
	book := Sheet{Book: handMade(), Version: Late, Build: Raised}
	assert.Equal(t, []int{22, 33}, maxima(book.Limits("line")))
	assert.Empty(t, book.Limits("none"))
	assert.Empty(t, book.Limits("no-figure"))
	assert.Empty(t, Sheet{Book: handMade(), Version: Light}.Limits("late-only"), "figures of another version give no verdict")
	assert.Empty(t, Sheet{}.Limits("line"))

	own, err := book.With("line", OwnLimit{Min: psi(60), Max: psi(70), Source: "the manual on the shelf", At: "page 7"})
	require.NoError(t, err)
	require.Len(t, own.Limits("line"), 1)
	l := own.Limits("line")[0]
	assert.Equal(t, []int{70}, maxima(own.Limits("line")))
	assert.Equal(t, Provenance{Kind: Own, At: "page 7", Note: "the manual on the shelf"}, l.Provenance)
	assert.Equal(t, []string{"line"}, own.OwnIDs())
	assert.Equal(t, []int{22, 33}, maxima(book.Limits("line")), "the first sheet stays as it was")

	back := own.Without("line")
	assert.Equal(t, []int{22, 33}, maxima(back.Limits("line")))
	assert.Equal(t, []int{70}, maxima(own.Limits("line")))
}

func TestSheetRefuses(t *testing.T) {
	ohm := quantity.Value{Kind: quantity.KindResistance, SI: 4}
	nan := quantity.Value{Kind: quantity.KindPressure}
	nan.SI -= nan.SI / nan.SI
	tests := []struct {
		id   string
		own  OwnLimit
		want OwnLimitReason
	}{
		{"none", OwnLimit{Max: psi(1), Source: "x"}, NoAcceptance},
		{"line", OwnLimit{Max: psi(1)}, NoSource},
		{"line", OwnLimit{Max: psi(1), Source: " "}, NoSource},
		{"line", OwnLimit{Source: "x"}, NoValue},
		{"line", OwnLimit{Max: &ohm, Source: "x"}, OtherQuantity},
		{"line", OwnLimit{Max: &nan, Source: "x"}, NotFinite},
		{"line", OwnLimit{Min: psi(2), Max: psi(1), Source: "x"}, Crossed},
	}
	for _, tt := range tests {
		t.Run(string(tt.want), func(t *testing.T) {
			s := Sheet{Book: handMade()}
			got, err := s.With(tt.id, tt.own)
			var e *OwnLimitError
			require.ErrorAs(t, err, &e)
			assert.Equal(t, tt.want, e.Reason)
			assert.Empty(t, got.OwnIDs())
		})
	}
	_, err := (Sheet{}).With("line", OwnLimit{Max: psi(1), Source: "x"})
	assert.EqualError(t, err, "unit: line: there is no acceptance value of that id")
}
