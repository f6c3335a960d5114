package network

import "math"

// Sharp is the discharge coefficient of a sharp-edged orifice in turbulent flow.
//
// Source: Merritt, Hydraulic Control Systems (1967), section 3-4: about 0.6 to
// 0.65 whatever the shape.
const Sharp = 0.62

// transition is the Reynolds number under which the laminar law of an orifice
// takes over: C = δ √Re with δ = 0.2 for a sharp edge gives (0.62/0.2)².
// Source: Merritt, Hydraulic Control Systems (1967), section 3-4; from memory.
const transition = 9.6

// Orifice returns the laminar and the turbulent resistance of a sharp-edged
// round hole of diameter d, in metre, for a fluid of density rho, in kg/m³, and
// dynamic viscosity mu, in Pa s.
//
//	Δp = R q + K q²   with K = ρ / (2 C² A²), A = π d²/4, R = K · Re π d μ / (4 ρ)
//
// C is Sharp; Re is the transition, 9.6, where both parts are alike. Far under it
// the discharge coefficient falls with √Re, far over it it is C. d, rho and mu
// must be positive.
// Errors: none; what is not positive gives what is not finite.
// Source: Merritt, Hydraulic Control Systems (1967), section 3-4; checked in network_test.go.
func Orifice(d, rho, mu float64) (r, k float64) {
	a := math.Pi * d * d / 4
	k = rho / (2 * Sharp * Sharp * a * a)
	return k * transition * math.Pi * d * mu / (4 * rho), k
}

// ends is the loss of getting into a gap at a square edge and out of it, in
// velocity heads: a half and one.
// Source: Idelchik, Handbook of Hydraulic Resistance, diagram 4-15; from memory.
const ends = 1.5

// Slot returns the laminar and the turbulent resistance of a gap of height h
// between two faces of width w, along a way of length l, all in metre, for a fluid
// of density rho, in kg/m³, and dynamic viscosity mu, in Pa s.
//
//	Δp = R q + K q²   with R = 12 μ l / (w h³), K = 1.5 ρ / (2 (w h)²)
//
// A narrow gap is all friction; a wide short one is ruled by its ends, which keep
// the fluid from being faster than its pressure can make it. h must be small
// against w. All must be positive.
// Errors: none; what is not positive gives what is not finite.
// Source: plane Poiseuille flow, Merritt, Hydraulic Control Systems (1967), section 3-3, and Idelchik; checked in network_test.go.
func Slot(w, h, l, rho, mu float64) (r, k float64) {
	return 12 * mu * l / (w * h * h * h), ends * rho / (2 * w * h * w * h)
}
