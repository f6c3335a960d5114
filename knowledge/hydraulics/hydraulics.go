// Package hydraulics computes the pressures of the unit's circuits at every port,
// in every range and at every throttle, healthy or with faults, and what a
// pressure log says about faults.
//
//   - Steady: the state of a setting, with Places and Links for a picture of it.
//   - Gauges, Gauge.Read: the readings of the catalogue's pressure tests.
//   - FaultModels: what each hydraulic fault of the catalogue does to the model.
//   - Explain: which faults explain a log, how well, and what to read next.
//   - Shift: a move in time, and whether it flares or ties up.
//
// # What it assumes
//
// The model is typical of the class and nobody's drawing: its dimensions
// (Parameters) are invented for the demo or from memory, and chosen together so
// that the healthy unit gives the unit sheet's pressures. It shows what moves
// with what; it is no source of any figure. Fluid is incompressible and of one
// temperature. The computer holds governor pressure to its target of 1 psi for
// each mile per hour unless a fault keeps it from doing so; the three solenoids
// are on or off. Shift valves jump when their forces say so, and stay by their
// hysteresis. In time, only one passage fills at once, and the pump keeps up the
// line.
//
// # What it leaves out
//
// How a pressure trembles with air in the fluid, pulses of the solenoids, the
// converter's own pressures at speed, centrifugal pressure in turning clutches,
// the throttle cable's geometry, and every valve that only softens a shift except
// for the accumulators.
//
// Sources: package network and its sources for the flows; the maker's handbooks
// that the unit sheet names for the pressures; the application chart for what is
// on in which gear. Where feeds branch is from memory.
package hydraulics
