package unit

// Feature is something that can be seen on a unit or its truck and tells the
// versions apart.
type Feature struct {
	ID         string
	See        string // what is seen, in one line
	Where      string
	Versions   []Version // the versions that show it
	Acceptance string    // id of an acceptance value that differs with it, or empty
	From       Provenance
}

// Features lists what tells the versions apart, easiest to see first. A figure
// that differs by version is not repeated here; it stands in the unit sheet.
var Features = []Feature{
	{
		ID: "throttle-cable", See: "A cable from the engine moves the throttle lever", Where: "left side of the case",
		Versions: Versions, Acceptance: "throttle-cable-gauge",
		From: Provenance{Kind: Memory, Note: "The first late trucks, to about 2005, have one too, so it rules no version out; confirm in the maker's manual."},
	},
	{
		ID: "throttle-actuator", See: "An electric motor moves the throttle lever; there is no cable", Where: "left side of the case",
		Versions: []Version{Late},
		From:     Provenance{Kind: Published, Source: "S8", Note: "On late diesels; that it came about 2005 is from memory."},
	},
	{
		ID: "gas-v8", See: "A gas V8 drives it", Where: "under the hood",
		Versions: []Version{Light},
		From:     Provenance{Kind: Memory, Note: "The version follows the engine it was built for; a swapped unit breaks the rule."},
	},
	{
		ID: "diesel-or-v10", See: "A diesel or a V10 drives it", Where: "under the hood",
		Versions: []Version{Mid, Late}, Acceptance: "front-band-backoff-turns",
		From: Provenance{Kind: Published, Source: "S27", Note: "Band turns differ by engine (also S28 and S29); a swapped unit breaks the rule."},
	},
	{
		ID: "vent-with-spring", See: "A vent with a visible spring on the valve body: the lower-pressure body", Where: "valve body, pan off",
		Versions: []Version{Light, Mid}, Acceptance: "line-maximum",
		From: Provenance{Kind: Published, Source: "S4"},
	},
	{
		ID: "no-vent", See: "No vent with a spring on the valve body: the higher-pressure body", Where: "valve body, pan off",
		Versions: []Version{Late}, Acceptance: "line-maximum",
		From: Provenance{Kind: Published, Source: "S4", Note: "Derived from the vent's meaning."},
	},
	{
		ID: "four-overdrive-discs", See: "Four discs in the overdrive clutch", Where: "overdrive unit, apart",
		Versions: []Version{Light},
		From:     Provenance{Kind: Published, Source: "S25", Note: "Printed for the light version; the count of the mid version was not found."},
	},
	{
		ID: "five-or-six-overdrive-discs", See: "Five discs with a wave spring, or six, in the overdrive clutch", Where: "overdrive unit, apart",
		Versions: []Version{Late},
		From:     Provenance{Kind: Published, Source: "S41"},
	},
	{
		ID: "wide-plate-slot", See: "The upper separator plate has the wider lock-up vent slot", Where: "valve body on the bench",
		Versions: []Version{Mid}, Acceptance: "plate-slot-width",
		From: Provenance{Kind: Published, Source: "S48", Note: "Diesels of 1999 and 2000."},
	},
}

// FeatureByID returns the feature of that id.
func FeatureByID(id string) (Feature, bool) {
	for _, f := range Features {
		if f.ID == id {
			return f, true
		}
	}
	return Feature{}, false
}

// Identify returns the versions that show every one of the features, in rising
// capacity. Nothing seen leaves all versions. Features that contradict each other
// leave none: the unit was put together from two. Unknown ids say nothing.
func Identify(seen []string) []Version {
	var fit []Version
	for _, v := range Versions {
		all := true
		for _, id := range seen {
			if f, ok := FeatureByID(id); ok && !contains(f.Versions, v) {
				all = false
			}
		}
		if all {
			fit = append(fit, v)
		}
	}
	return fit
}
