package route

import (
	"net/url"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"

	"provingbench/knowledge/catalogue"
)

type plain struct {
	app.Compo
	Name string
}

func (p *plain) Title() string       { return p.Name }
func (p *plain) Description() string { return "About " + p.Name + "." }
func (p *plain) Render() app.UI      { return app.H1().Text(p.Name) }

func small() *Site {
	one := func(name string) func() Screen {
		return func() Screen { return &plain{Name: name} }
	}
	each := func(kind string) func(string) Screen {
		return func(id string) Screen { return &plain{Name: kind + " " + id} }
	}
	return &Site{
		Name: "Tool",
		Catalogue: &catalogue.Catalogue{
			Symptoms: []catalogue.Symptom{{ID: "no-reverse"}},
			Faults:   []catalogue.Fault{{ID: "fluid-low"}},
			Checks:   []catalogue.Check{{ID: "fluid-level"}},
			Codes:    []catalogue.Code{{ID: "p1757"}},
		},
		Groups:      []string{"pressure"},
		Calculators: []string{"coil"},
		Screens: Screens{
			Home: one("home"), Find: one("find"), Checks: one("checks"), Figures: one("figures"),
			Bench: one("bench"), Learn: one("learn"), Chart: one("chart"), Circuit: one("circuit"), Quiz: one("quiz"), Practice: one("practice"), Jobs: one("jobs"),
			JobPlan: one("plan"), JobProof: one("proof"), ShopSheet: one("shop"), Customer: one("customer"), Transfer: one("transfer"), Settings: one("settings"),
			Codes: one("codes"), Code: each("code"), Raised: one("raised"),
			About: one("about"), Search: one("search"), Missing: one("missing"),
			Check: each("check"), Fault: each("fault"), Symptom: each("symptom"), Tree: each("tree"),
			FigureGroup: each("group"), Calculator: each("calculator"),
			Frame: func(here Address, screen app.UI) app.UI {
				return app.Div().Body(app.P().Text(string(here)), app.Main().Body(screen))
			},
		},
	}
}

func TestAllListsEachAddressOnce(t *testing.T) {
	assert.ElementsMatch(t, []Address{
		"/", "/find/", "/checks/", "/checks/fluid-level/", "/faults/fluid-low/", "/symptoms/no-reverse/",
		"/codes/", "/codes/p1757/", "/figures/", "/figures/pressure/", "/bench/", "/bench/coil/", "/learn/", "/learn/chart/", "/learn/circuit/", "/learn/quiz/", "/learn/practice/",
		"/learn/tree/no-reverse/", "/learn/raised/", "/jobs/", "/jobs/plan/", "/jobs/proof/", "/jobs/shop-sheet/", "/jobs/customer-sheet/", "/jobs/transfer/", "/settings/", "/about/", "/search/",
	}, small().All())
}

func TestPageShowsTheScreenOfItsAddress(t *testing.T) {
	for address, name := range map[Address]string{
		Home():                "home",
		Check("fluid-level"):  "check fluid-level",
		Fault("fluid-low"):    "fault fluid-low",
		Symptom("no-reverse"): "symptom no-reverse",
		Tree("no-reverse"):    "tree no-reverse",
		Code("p1757"):         "code p1757",
		FigureGroup("torque"): "missing",
		Check("no-such"):      "missing",
		Missing():             "missing",
	} {
		page := small().Page(address)
		assert.Equal(t, name+" – Tool", page.Heading(), address)
		assert.Equal(t, "About "+name+".", page.Summary(), address)
		assert.Contains(t, app.HTMLString(page), "<h1>"+name+"</h1>", address)
	}
}

// Two addresses in a row never share the element around the screen: go-app would
// keep what was typed on the first.
func TestScreensDoNotTakeOverFromEachOther(t *testing.T) {
	first, second := small().Page(Check("a")), small().Page(Check("b"))
	second.Turn = first.Turn + 1
	assert.Contains(t, app.HTMLString(first), `<div class="screen">`)
	assert.Contains(t, app.HTMLString(second), `<section class="screen">`)
}

func TestHref(t *testing.T) {
	defer SetPrefix("/")
	for folder, want := range map[string]string{
		"/":           "/jobs/",
		"":            "/jobs/",
		"/some/path/": "/some/path/jobs/",
		"/some/path":  "/some/path/jobs/",
	} {
		SetPrefix(folder)
		assert.Equal(t, want, Jobs().Href(), folder)
	}
}

func TestAddressParts(t *testing.T) {
	assert.Equal(t, Address("/find/?s=burnt-fluid&s=no-reverse"),
		Find().With(url.Values{"s": {"burnt-fluid", "no-reverse"}, "t": {""}}))
	assert.Equal(t, Find(), Find().With(url.Values{"s": {"x"}}).With(nil), "a new query takes the place of the old one")
	assert.Equal(t, Address("/checks/fluid-level/#results"), Check("fluid-level").At("before").At("results"))
	assert.True(t, Check("fluid-level").Within(Checks()))
	assert.False(t, Checks().Within(Home()))
	assert.True(t, Home().Within(Home()))
	assert.False(t, Fault("fluid-low").Within(Checks()))
}
