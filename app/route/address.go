package route

import (
	"net/url"
	"strings"
)

// Address is where a screen is found, from the tool's own root: "/checks/fluid-level/".
// It begins and ends with a slash and may carry a query and a fragment. It is
// not a string on purpose: what goes into a link is Address.Href, which knows
// the folder that the tool is hosted in.
type Address string

// prefix is the folder that the tool is hosted in, without a slash at its end.
var prefix string

// SetPrefix tells in which folder the tool is hosted: "/tools/bench/", or "/"
// for the root of a host. The browser's main function and the site builder
// call it before anything is rendered.
func SetPrefix(folder string) {
	prefix = strings.TrimRight(folder, "/")
}

// Href is the address as the browser needs it in a link.
func (a Address) Href() string {
	return prefix + string(a)
}

// With is the address with the given query. Empty values are left out, so that
// one state has one address.
func (a Address) With(query url.Values) Address {
	kept := url.Values{}
	for name, values := range query {
		for _, v := range values {
			if v != "" {
				kept.Add(name, v)
			}
		}
	}
	path, _, _ := strings.Cut(string(a), "?")
	if len(kept) == 0 {
		return Address(path)
	}
	return Address(path + "?" + kept.Encode())
}

// At is the address of a place within the screen, by the id of its element.
func (a Address) At(id string) Address {
	path, _, _ := strings.Cut(string(a), "#")
	return Address(path + "#" + id)
}

// Within reports whether the address is b or lies below it. Menus use it to
// mark where the user is.
func (a Address) Within(b Address) bool {
	if b == Home() {
		return a == b
	}
	return strings.HasPrefix(string(a), string(b))
}

// Home is where the tool opens.
func Home() Address { return "/" }

// Find is where a complaint is taken in and followed to its cause.
func Find() Address { return "/find/" }

// Checks is the list of all checks.
func Checks() Address { return "/checks/" }

// Check is one check, by its id in the catalogue.
func Check(id string) Address { return record("checks", id) }

// Fault is one fault, by its id in the catalogue.
func Fault(id string) Address { return record("faults", id) }

// Symptom is one symptom, by its id in the catalogue.
func Symptom(id string) Address { return record("symptoms", id) }

// Codes is the list of all fault codes.
func Codes() Address { return "/codes/" }

// Code is one fault code, by its id in the catalogue.
func Code(id string) Address { return record("codes", id) }

// Figures is the unit sheet.
func Figures() Address { return "/figures/" }

// FigureGroup is one group of the unit sheet's acceptance values.
func FigureGroup(group string) Address { return record("figures", group) }

// Bench is the list of calculators.
func Bench() Address { return "/bench/" }

// Calculator is one calculator of the bench, by its name.
func Calculator(name string) Address { return record("bench", name) }

// Learn is the start of the part for students.
func Learn() Address { return "/learn/" }

// Chart shows which element holds in which gear.
func Chart() Address { return "/learn/chart/" }

// Circuit shows the hydraulic model, and which faults explain gauge readings.
func Circuit() Address { return "/learn/circuit/" }

// Quiz asks about the chart.
func Quiz() Address { return "/learn/quiz/" }

// Practice is where students work on made-up trucks.
func Practice() Address { return "/learn/practice/" }

// Tree is the decision tree of one symptom, by its id in the catalogue.
func Tree(symptom string) Address { return record("learn/tree", symptom) }

// Raised tells what usual modifications buy and cost.
func Raised() Address { return "/learn/raised/" }

// Search is the answer to what was typed into the search; its query is q.
func Search() Address { return "/search/" }

// Jobs is the list of what has been worked on.
func Jobs() Address { return "/jobs/" }

// JobPlan is the work that follows from what was proved on the truck at hand.
func JobPlan() Address { return "/jobs/plan/" }

// JobProof is the checks that are done again after the repair.
func JobProof() Address { return "/jobs/proof/" }

// ShopSheet is the job at hand on paper, for the shop.
func ShopSheet() Address { return "/jobs/shop-sheet/" }

// CustomerSheet is the job at hand on paper, for the customer.
func CustomerSheet() Address { return "/jobs/customer-sheet/" }

// Transfer takes jobs and values out of this browser and into it.
func Transfer() Address { return "/jobs/transfer/" }

// Settings is the user's ways: units, light, size, gloves.
func Settings() Address { return "/settings/" }

// About holds the general cautions, the sources and how to use the tool.
func About() Address { return "/about/" }

func record(shelf, id string) Address {
	return Address("/" + shelf + "/" + url.PathEscape(id) + "/")
}
