package quantity

import "slices"

// A Preference says in which units a person reads. Its zero value is the
// trade's own: US customary.
type Preference struct {
	System System   `json:"system,omitempty"`
	Own    []string `json:"own,omitempty"` // names of units that are read whatever the system: "bar"
}

// Unit returns the unit in which the person reads what the trade gives in like.
// Where both systems share a unit, it is that.
func (p Preference) Unit(like Unit) Unit {
	for _, u := range units {
		if u.Kind == like.Kind && u != like && u.System != Common && slices.Contains(p.Own, u.Name) && u.System == p.system() {
			return u
		}
	}
	if like.System == Common || like.System == p.system() {
		return like
	}
	if c, ok := like.Counterpart(); ok {
		return c
	}
	return like
}

func (p Preference) system() System {
	if p.System == "" {
		return Customary
	}
	return p.System
}

// Format prints v in the unit in which the person reads what the trade gives in
// like. In like itself it has the digits given, fewer than zero meaning as many
// as the unit has in the trade; in another unit it is as fine: its last digit
// is worth at most twice as much.
func (p Preference) Format(v Value, like Unit, digits int) string {
	if like.Kind == "" {
		like = DefaultUnit(v.Kind)
	}
	u := p.Unit(like)
	if u == like {
		return Format(v, like, digits)
	}
	if digits < 0 {
		digits = like.Decimals
	}
	return Format(v, u, asFine(like, u, digits))
}
