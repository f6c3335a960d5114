package catalogue

// Level is how strongly a fault shows, or how often a finding is seen without
// any fault of the catalogue.
type Level string

// The levels, from certain to impossible.
const (
	Always    Level = "always"
	Usually   Level = "usually"
	Often     Level = "often"
	Sometimes Level = "sometimes"
	Seldom    Level = "seldom"
	Hardly    Level = "hardly"
	Never     Level = "never"
)

// Levels lists the levels from certain to impossible.
var Levels = []Level{Always, Usually, Often, Sometimes, Seldom, Hardly, Never}

// Probability returns the number behind a level; ok is false for an unknown name.
// The numbers are the catalogue's own scale (from memory of how technicians use
// the words, not measured); Never still leaves room for a slip of the pen.
func (l Level) Probability() (p float64, ok bool) {
	switch l {
	case Always:
		return 0.98, true
	case Usually:
		return 0.80, true
	case Often:
		return 0.55, true
	case Sometimes:
		return 0.25, true
	case Seldom:
		return 0.08, true
	case Hardly:
		return 0.02, true
	case Never:
		return 0.001, true
	}
	return 0, false
}

// Frequency is how common a fault is among trucks that come in with a complaint.
type Frequency string

// The frequencies.
const (
	Common     Frequency = "common"
	Occasional Frequency = "occasional"
	Uncommon   Frequency = "uncommon"
	Rare       Frequency = "rare"
)

// Frequencies lists the frequencies from common to rare.
var Frequencies = []Frequency{Common, Occasional, Uncommon, Rare}

// Probability returns the share of trucks that come in with the fault; ok is
// false for an unknown name. The scale is the catalogue's own, from memory.
func (f Frequency) Probability() (p float64, ok bool) {
	switch f {
	case Common:
		return 0.05, true
	case Occasional:
		return 0.02, true
	case Uncommon:
		return 0.008, true
	case Rare:
		return 0.003, true
	}
	return 0, false
}
