package unit

// Coil is the winding of a solenoid.
type Coil struct {
	ID         string
	Name       string
	Does       string // what the solenoid does when it is energised
	Unpowered  string // what the unit does when it is not
	Driven     string // how the computer drives it
	Acceptance string // id of the winding's resistance
	From       Provenance
}

// Coils lists the three coils in the valve body.
var Coils = []Coil{
	{
		ID: "governor-solenoid", Name: "Governor pressure solenoid",
		Does:       "lowers governor pressure: 1 A on average gives none",
		Unpowered:  "stays open, so that governor pressure is at its highest and the truck launches in 3rd",
		Driven:     "pulse-width modulated at 512 Hz; battery voltage comes through the transmission relay and the computer switches the ground. Polarity matters. Never hold battery voltage on it: the current averages 1 A only because it is chopped.",
		Acceptance: "governor-solenoid-coil",
		From:       Provenance{Kind: Published, Source: "S11", Note: "Normally open: S10; current: S11 and S14; launch in 3rd: S10 and S15."},
	},
	{
		ID: "overdrive-solenoid", Name: "Overdrive solenoid",
		Does:       "closes a vent, so that line pressure moves the 3-4 valve",
		Unpowered:  "leaves the vent open; there is no 4th",
		Driven:     "on or off; battery voltage comes through the transmission relay and the computer switches the ground",
		Acceptance: "overdrive-solenoid-coil",
		From:       Provenance{Kind: Published, Source: "S60", Note: "Relay and ground switching: S18."},
	},
	{
		ID: "converter-clutch-solenoid", Name: "Converter clutch solenoid",
		Does:       "closes a vent, so that line pressure moves the converter clutch valve",
		Unpowered:  "leaves the vent open; the converter clutch stays off",
		Driven:     "battery voltage comes through the transmission relay and the computer switches the ground",
		Acceptance: "converter-clutch-solenoid-coil",
		From:       Provenance{Kind: Memory, Note: "Taken to work as the overdrive solenoid does; confirm in the maker's manual."},
	},
}

// CoilByID returns the coil of that id.
func CoilByID(id string) (Coil, bool) {
	for _, c := range Coils {
		if c.ID == id {
			return c, true
		}
	}
	return Coil{}, false
}

// Sensor is something that tells the computer what the unit does.
type Sensor struct {
	ID          string
	Name        string
	Where       string
	Tells       string
	Acceptances []string
	From        Provenance
}

// Sensors lists the sensors.
var Sensors = []Sensor{
	{
		ID: "governor-sensor", Name: "Governor pressure sensor", Where: "on the valve body, beside the governor pressure solenoid",
		Tells:       "absolute governor pressure, so that altitude and weather move its zero. The computer averages it as zero while the truck stands, every 3 s, during a pulse of 95 % duty.",
		Acceptances: []string{"governor-sensor-zero", "governor-sensor-high", "governor-sensor-jumper", "sensor-supply"},
		From:        Provenance{Kind: Published, Source: "S11", Note: "Zeroing: S14. The place is from memory, confirm in the maker's manual."},
	},
	{
		ID: "fluid-temperature-sensor", Name: "Fluid temperature sensor", Where: "inside the governor pressure sensor",
		Tells:       "fluid temperature. No text read says whether its resistance rises or falls with temperature: compare two readings at two known temperatures, never convert ohms.",
		Acceptances: []string{"fluid-temperature-sensor-room"},
		From:        Provenance{Kind: Published, Source: "S19", Note: "A sister vehicle's handbook (S20) prints twice the resistance."},
	},
	{
		ID: "output-speed-sensor", Name: "Output speed sensor", Where: "in the overdrive housing",
		Tells:       "output shaft speed; without it the computer cannot match governor pressure to road speed",
		Acceptances: []string{},
		From:        Provenance{Kind: Memory, Note: "The code that it sets is published (S62); the place is from memory, confirm in the maker's manual."},
	},
	{
		ID: "throttle-sensor", Name: "Throttle position sensor", Where: "at the throttle body, or at the pedal on late trucks",
		Tells:       "throttle opening; noise on it makes 4th and the converter clutch come and go",
		Acceptances: []string{"sensor-supply"},
		From:        Provenance{Kind: Published, Source: "S65", Note: "The place is from memory, confirm in the maker's manual."},
	},
}

// SensorByID returns the sensor of that id.
func SensorByID(id string) (Sensor, bool) {
	for _, s := range Sensors {
		if s.ID == id {
			return s, true
		}
	}
	return Sensor{}, false
}
