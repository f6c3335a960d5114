package unit

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"

	"provingbench/knowledge/quantity"
)

// authored reads data/ as it is written, so that facts of the trade can be held
// against it here, beside the data, without what is generated from it.
func authored(t *testing.T) *Book {
	t.Helper()
	read := func(path string, into any) {
		f, err := os.Open(path)
		require.NoError(t, err)
		defer f.Close()
		d := yaml.NewDecoder(f)
		d.KnownFields(true)
		require.NoError(t, d.Decode(into), path)
	}
	var b Book
	var sources []struct{ ID, Title string }
	read("data/sources.yaml", &sources)
	for _, s := range sources {
		b.Sources = append(b.Sources, Source{s.ID, s.Title})
	}
	paths, err := filepath.Glob("data/acceptance/*.yaml")
	require.NoError(t, err)
	for _, path := range paths {
		var rec struct {
			Name, Group, Quantity, Where string
			Limits                       []struct {
				Condition  Condition
				Min, Max   string
				Provenance Provenance
			}
		}
		read(path, &rec)
		a := Acceptance{
			ID: strings.TrimSuffix(filepath.Base(path), ".yaml"), Name: rec.Name, Group: rec.Group,
			Quantity: quantity.Kind(rec.Quantity), Where: rec.Where,
		}
		side := func(text string) *quantity.Value {
			if text == "" {
				return nil
			}
			r, err := quantity.Parse(a.Quantity, text, quantity.Unit{})
			require.NoError(t, err, "%s: %s", path, text)
			v := r.Value()
			return &v
		}
		for _, l := range rec.Limits {
			a.Limits = append(a.Limits, Limit{
				Condition: l.Condition, Min: side(l.Min), Max: side(l.Max), MinText: l.Min, MaxText: l.Max, Provenance: l.Provenance,
			})
		}
		b.Acceptances = append(b.Acceptances, a)
	}
	require.NotEmpty(t, b.Acceptances)
	return &b
}

// passes reports whether a reading lies in every limit that holds, without
// regard to how well it was measured.
func passes(t *testing.T, limits []Limit, text string) bool {
	t.Helper()
	require.NotEmpty(t, limits)
	for _, l := range limits {
		kind := quantity.Kind("")
		for _, v := range []*quantity.Value{l.Min, l.Max} {
			if v != nil {
				kind = v.Kind
			}
		}
		x := quantity.MustParse(kind, text).SI
		if l.Min != nil && x < l.Min.SI || l.Max != nil && x > l.Max.SI {
			return false
		}
	}
	return true
}

// Facts that a practitioner of the trade holds to be true of this class of unit
// (common practice where no source is named).
func TestDataAgreesWithTheTrade(t *testing.T) {
	book := authored(t)
	tests := []struct {
		id      string
		version Version
		build   Build
		reading string
		pass    bool
		source  string
	}{
		{"mating-flatness", Light, Stock, "0.015 in", false, "common practice"},
		{"mating-flatness", Late, Raised, "0.001 in", true, "common practice"},
		{"forward-line-ceiling", Mid, Stock, "280 psi", false, "common practice: 275 psi is never good in a forward range"},
		{"forward-line-ceiling", Mid, Raised, "280 psi", false, "common practice: not on a raised build either"},
		{"line-drive-idle", Mid, Stock, "57 psi", true, "maker's handbook, 1990: hydraulic pressure tests"},
		{"line-drive-idle", Late, Stock, "57 psi", true, "rebuilder's booklet for the late version"},
		{"line-drive-idle", Mid, Stock, "120 psi", false, "a raised setting is a fault on a stock unit"},
		{"line-drive-idle", Mid, Raised, "120 psi", true, "common practice: raised builds range from about 110 to 200 psi"},
		{"line-drive-idle", Mid, Raised, "57 psi", false, "common practice"},
		{"line-drive-full", Late, Stock, "93 psi", true, "rebuilder's booklet for the late version: 95 psi maximum"},
		{"line-drive-full", Late, Raised, "220 psi", true, "common practice: a constant 220 psi is tolerable in a working truck"},
		{"line-drive-full", Late, Raised, "240 psi", false, "common practice"},
		{"line-maximum", Light, Stock, "150 psi", false, "rebuilder's booklet: about 135 psi for light and mid"},
		{"line-maximum", Late, Stock, "150 psi", true, "rebuilder's booklet: about 170 psi for late"},
		{"governor-standstill", Mid, Stock, "2 psi", true, "maker's handbook, 2003"},
		{"governor-standstill", Mid, Stock, "8 psi", false, "maker's handbook, 2003"},
		{"governor-solenoid-coil", Late, Stock, "4.2 ohm", true, "owners' forum, one truck with a sound coil"},
		{"overdrive-solenoid-coil", Late, Stock, "4.2 ohm", false, "maker's handbook, 1999: solenoid circuit tests"},
		{"overdrive-solenoid-coil", Late, Stock, "33 ohm", true, "maker's handbook, 1999: solenoid circuit tests"},
		{"front-band-torque", Light, Stock, "72 ft-lb", false, "owners' forum: inch-pounds, not foot-pounds"},
		{"front-band-torque", Light, Stock, "72 in-lb", true, "maker's handbook, 2007: band adjustment"},
	}
	for _, tt := range tests {
		t.Run(tt.id+" "+tt.reading, func(t *testing.T) {
			limits := Sheet{Book: book, Version: tt.version, Build: tt.build}.Limits(tt.id)
			assert.Equal(t, tt.pass, passes(t, limits, tt.reading), tt.source)
		})
	}
}

// Source of the metric figures: the same handbooks, which print both units.
func TestDataInMetric(t *testing.T) {
	book := authored(t)
	for _, tt := range []struct {
		id, metric string
		within     float64 // half of the last printed digit, SI
	}{
		{"front-band-torque", "8 N·m", 0.5},
		{"valve-body-to-case", "12 N·m", 0.5},
		{"pan-bolts", "17 N·m", 0.75}, // 17.6 in full: the handbook cuts instead of rounding
		{"temperature-seals", "121 °C", 0.5},
		{"temperature-hot-strategy", "127 °C", 0.5},
		{"throttle-cable-gauge", "4.57 mm", 0.000005},
		{"input-end-play", "2.13 mm", 0.000005},
	} {
		a, ok := book.Acceptance(tt.id)
		require.True(t, ok)
		want := quantity.MustParse(a.Quantity, tt.metric).SI
		assert.InDelta(t, want, a.Limits[0].Max.SI, tt.within, tt.id)
	}
}

var metricUnit = regexp.MustCompile(`\d ?(kPa|mm|Nm|N·m|°C|L)\b`)

func TestDataIsWhole(t *testing.T) {
	book := authored(t)
	groups := []string{"pressure", "governor", "electrical", "adjustment", "torque", "fluid", "heat", "clearance", "valve-body", "shift"}
	for _, a := range book.Acceptances {
		assert.Contains(t, groups, a.Group, a.ID)
		assert.NotEmpty(t, a.Name, a.ID)
		assert.NotEmpty(t, a.Where, a.ID)
		assert.NotEmpty(t, a.Limits, a.ID)
		for _, l := range a.Limits {
			assert.False(t, l.Min == nil && l.Max == nil, "%s: a limit without a figure", a.ID)
			if l.Min != nil && l.Max != nil {
				assert.LessOrEqual(t, l.Min.SI, l.Max.SI, a.ID)
			}
			for _, text := range []string{l.MinText, l.MaxText} {
				assert.False(t, metricUnit.MatchString(text), "%s: %s is not as printed", a.ID, text)
			}
			p := l.Provenance
			assert.Contains(t, []ProvenanceKind{Published, CommonPractice, Memory}, p.Kind, a.ID)
			if p.Kind == Published {
				assert.NotEmpty(t, p.Source, a.ID)
			}
			if p.Kind == Memory {
				assert.Contains(t, strings.ToLower(p.Note), "confirm in the maker's manual", a.ID)
			}
			if p.Source != "" {
				_, ok := book.Source(p.Source)
				assert.True(t, ok, "%s: source %s", a.ID, p.Source)
			}
			for _, v := range l.Condition.Versions {
				assert.Contains(t, Versions, v, a.ID)
			}
			for _, b := range l.Condition.Builds {
				assert.Contains(t, []Build{Stock, Raised}, b, a.ID)
			}
			if r := l.Condition.Range; r != "" {
				assert.Contains(t, Ranges, Range(r), a.ID)
			}
			if g := l.Condition.Gear; g != "" {
				_, ok := RowOf(Gear(g))
				assert.True(t, ok, "%s: gear %s", a.ID, g)
			}
			assert.Contains(t, []string{"", "idle", "half", "full"}, l.Condition.Throttle, a.ID)
			assert.Contains(t, []string{"", "cold", "hot"}, l.Condition.Fluid, a.ID)
		}
	}
}

// A note that speaks of a source names one that exists.
func TestNotesNameSources(t *testing.T) {
	book := authored(t)
	mention := regexp.MustCompile(`\bS\d+\b`)
	check := func(where string, p Provenance) {
		ids := mention.FindAllString(p.Note, -1)
		if p.Source != "" {
			ids = append(ids, p.Source)
		}
		for _, id := range ids {
			_, ok := book.Source(id)
			assert.True(t, ok, "%s: source %s", where, id)
		}
	}
	for _, a := range book.Acceptances {
		for _, l := range a.Limits {
			check(a.ID, l.Provenance)
		}
	}
	for _, e := range Elements {
		check(string(e.ID), e.From)
	}
	for _, r := range Chart {
		check(r.Name, r.From)
	}
	for _, l := range Levers {
		check(l.Lever+" "+l.Setting, l.From)
	}
	acceptance := func(where, id string) {
		_, ok := book.Acceptance(id)
		assert.True(t, ok, "%s: acceptance value %s", where, id)
	}
	for _, p := range Ports {
		check(p.ID, p.From)
		check(p.ID, p.LocationFrom)
		for _, id := range p.Acceptances {
			acceptance(p.ID, id)
		}
	}
	for _, c := range Coils {
		check(c.ID, c.From)
		acceptance(c.ID, c.Acceptance)
	}
	for _, s := range Sensors {
		check(s.ID, s.From)
		for _, id := range s.Acceptances {
			acceptance(s.ID, id)
		}
	}
	for _, f := range Features {
		check(f.ID, f.From)
		if f.Acceptance != "" {
			acceptance(f.ID, f.Acceptance)
		}
	}
}

// A gauge must show all that may come at its port: a stock unit's highest limit
// lies within the gauge's scale, for the windows measured there. The handbook's
// own 100 psi gauge is right for a stock unit in forward ranges only.
func TestGaugesReachTheirWindows(t *testing.T) {
	book := authored(t)
	for _, p := range Ports {
		if p.ID == "line" {
			continue // the port's note says when the smaller gauge will do
		}
		for _, id := range p.Acceptances {
			a, _ := book.Acceptance(id)
			for _, l := range a.LimitsFor("", Stock) {
				if l.Max != nil {
					assert.LessOrEqual(t, l.Max.SI, p.Gauge.SI, "%s: %s", p.ID, id)
				}
			}
		}
	}
}

func TestPortsAgreeWithTheChart(t *testing.T) {
	rear, ok := PortByID("rear-servo")
	require.True(t, ok)
	overdrive, ok := PortByID("overdrive-clutch")
	require.True(t, ok)
	front, ok := PortByID("front-servo")
	require.True(t, ok)
	for _, tt := range []struct {
		port    Port
		element ElementID
	}{{rear, RearBand}, {overdrive, OverdriveClutch}, {front, FrontClutch}} {
		var on []Gear
		for _, r := range Chart {
			if r.Has(tt.element) && !r.Braking() {
				on = append(on, r.Gear)
			}
		}
		assert.Equal(t, on, tt.port.Pressurised, "%s carries pressure where %s is on", tt.port.ID, tt.element)
	}
	_, ok = PortByID("none")
	assert.False(t, ok)
}

func TestIdentify(t *testing.T) {
	assert.Equal(t, Versions, Identify(nil))
	assert.Equal(t, []Version{Light, Mid}, Identify([]string{"vent-with-spring"}), "rebuilder's booklet for the late version")
	assert.Equal(t, []Version{Late}, Identify([]string{"throttle-actuator"}))
	assert.Equal(t, []Version{Mid}, Identify([]string{"vent-with-spring", "diesel-or-v10"}))
	assert.Equal(t, []Version{Mid, Late}, Identify([]string{"throttle-cable", "diesel-or-v10"}), "the first late trucks have a cable")
	assert.Empty(t, Identify([]string{"throttle-actuator", "vent-with-spring"}), "put together from two units")
	assert.Equal(t, Versions, Identify([]string{"unheard of"}))
}

func TestCoilAndSensorLookup(t *testing.T) {
	c, ok := CoilByID("governor-solenoid")
	require.True(t, ok)
	assert.Equal(t, "governor-solenoid-coil", c.Acceptance)
	_, ok = CoilByID("none")
	assert.False(t, ok)
	s, ok := SensorByID("fluid-temperature-sensor")
	require.True(t, ok)
	assert.NotEmpty(t, s.Tells)
	_, ok = SensorByID("none")
	assert.False(t, ok)
}
