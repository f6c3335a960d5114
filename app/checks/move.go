package checks

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
)

// Move is how far an entry moved a fault.
type Move struct {
	Fault         *catalogue.Fault
	Before, After float64
	Proved        bool
}

// Moves compares two answers: the faults that lead in either, as they stand
// after, the first n of each.
func Moves(before, after *diagnosis.Answer, n int) []Move {
	if before == nil || after == nil {
		return nil
	}
	was := map[string]float64{}
	leading := map[string]bool{}
	for i, s := range before.Ranked {
		was[s.Fault.ID] = s.Probability
		if i < n {
			leading[s.Fault.ID] = true
		}
	}
	var moves []Move
	for i, s := range after.Ranked {
		if i < n || leading[s.Fault.ID] {
			moves = append(moves, Move{s.Fault, was[s.Fault.ID], s.Probability, s.Proved})
		}
	}
	return moves
}

// moved shows how an entry changed the ranking.
func moved(moves []Move) app.UI {
	var rows []app.UI
	for _, m := range moves {
		name := []app.UI{app.A().Href(route.Fault(m.Fault.ID).Href()).Text(m.Fault.Name)}
		if m.Proved {
			name = append(name, part.Proved())
		}
		rows = append(rows, app.Tr().Body(
			app.Th().Scope("row").Body(name...),
			app.Td().Class("moves__number").Text(part.Percent(m.Before)),
			app.Td().Class("moves__number", "moves__number--after").Text(part.Percent(m.After)),
		))
	}
	return app.Table().Class("moves").Body(
		app.Caption().Class("moves__caption").Text("How it moves the causes"),
		app.THead().Body(app.Tr().Body(
			app.Th().Scope("col").Text("Cause"),
			app.Th().Scope("col").Class("moves__number").Text("Before"),
			app.Th().Scope("col").Class("moves__number").Text("Now"),
		)),
		app.TBody().Body(rows...),
	)
}
