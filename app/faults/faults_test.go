package faults

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func TestCausesComeInTheOrderOfHowOftenTheyAreSeen(t *testing.T) {
	c := &catalogue.Catalogue{Faults: []catalogue.Fault{
		{ID: "rare-but-always", Frequency: catalogue.Rare, Symptoms: []catalogue.Link{{ID: "y", Level: catalogue.Always}}},
		{ID: "common-and-often", Frequency: catalogue.Common, Symptoms: []catalogue.Link{{ID: "y", Level: catalogue.Often}}},
		{ID: "other", Frequency: catalogue.Common, Symptoms: []catalogue.Link{{ID: "z", Level: catalogue.Always}}},
	}}
	got := causes(c, "y")
	require.Len(t, got, 2)
	assert.Equal(t, "common-and-often", got[0].fault.ID)
}

func TestIndicationsStrongestFirst(t *testing.T) {
	c := shipped.Catalogue()
	for i := range c.Faults {
		list := indications(c, c.Faults[i].ID)
		for k := 1; k < len(list); k++ {
			assert.GreaterOrEqual(t, strength(list[k-1].level, list[k].level), 0, c.Faults[i].ID)
		}
	}
}

func TestWhen(t *testing.T) {
	assert.Equal(t, "when hot, under heavy throttle, in the 2-3 shift", When(catalogue.Condition{Gear: "2-3", Temperature: "hot", Throttle: "heavy"}))
	assert.Equal(t, "in reverse", When(catalogue.Condition{Gear: "R"}))
	assert.Empty(t, When(catalogue.Condition{}))
}

func TestRepairShowsOnlyTheTrucksOwnValues(t *testing.T) {
	c, b := shipped.Catalogue(), sheet.Book()
	a, ok := b.Acceptance("front-band-backoff-turns")
	require.True(t, ok)
	f := c.Fault("front-band-loose")
	require.Contains(t, f.Repair.Uses, a.ID)
	html := app.HTMLString(Repair(c, unit.Sheet{Book: b, Version: unit.Mid, Build: unit.Stock}, f))
	all := app.HTMLString(Repair(c, unit.Sheet{Book: b}, f))
	for _, l := range a.Limits {
		own := len(l.Condition.Versions) == 0 || l.Condition.Versions[0] == unit.Mid
		if own {
			assert.Contains(t, html, l.MinText)
		} else {
			assert.NotContains(t, html, ">"+l.MinText+"<", "another version's turns break a band")
		}
		assert.Contains(t, all, l.MinText, "as long as nobody said which version, all are shown")
	}
}

func TestRepairLeadsToItsProofAndTheFaultToItsPart(t *testing.T) {
	c, b := shipped.Catalogue(), sheet.Book()
	for i := range c.Faults {
		f := &c.Faults[i]
		html := app.HTMLString(Repair(c, unit.Sheet{Book: b}, f))
		require.NotEmpty(t, f.Repair.Proof, f.ID)
		for _, id := range f.Repair.Proof {
			assert.Contains(t, html, route.Check(id).Href(), f.ID)
		}
		require.NotNil(t, c.Part(f.Part), f.ID)
		assert.Contains(t, parts(c, f), lower(c.Part(f.Part).Name))
	}
}
