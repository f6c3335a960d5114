package store

import (
	"encoding/json"
	"fmt"
	"time"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Keys in the box.
const (
	settingsKey = "provingbench.settings"
	valuesKey   = "provingbench.values"
)

// Settings are the user's ways, the same for all jobs.
type Settings struct {
	Units quantity.Preference `json:"units"`
	Meter string              `json:"meter,omitempty"` // the instrument at hand, as its owner calls it

	// What was last typed about the instrument, for the next reading.
	Leads   string `json:"leads,omitempty"`
	Percent string `json:"percent,omitempty"`
	Digits  string `json:"digits,omitempty"`

	Gloves bool   `json:"gloves,omitempty"` // larger targets
	Text   string `json:"text,omitempty"`   // size of the text: "", "large" or "huge"
	Awake  bool   `json:"awake,omitempty"`  // the screen stays lit during a check

	Exported time.Time `json:"exported,omitzero"` // when all jobs were last saved as a file
}

// Settings returns the user's ways. What is kept and can't be read is the
// standard ones; they are soon set again.
func (s *Store) Settings() Settings {
	var kept Settings
	text, ok, err := s.box.Get(settingsKey)
	if err != nil || !ok || json.Unmarshal([]byte(text), &kept) != nil {
		return Settings{}
	}
	return kept
}

// SetSettings keeps the user's ways.
func (s *Store) SetSettings(x Settings) error {
	text, err := json.Marshal(x)
	if err != nil {
		return fmt.Errorf("store: encoding settings: %w", err)
	}
	if err := s.box.Set(settingsKey, string(text)); err != nil {
		return fmt.Errorf("store: saving settings: %w", err)
	}
	return nil
}

// Values returns the user's own acceptance values by their ids. What is kept
// and can't be read is set aside, as jobs are.
func (s *Store) Values() map[string]unit.OwnLimit {
	text, ok, err := s.box.Get(valuesKey)
	if err != nil || !ok {
		return nil
	}
	var own map[string]unit.OwnLimit
	if json.Unmarshal([]byte(text), &own) != nil {
		if s.box.Set(asidePrefix+"values", text) == nil {
			_ = s.box.Remove(valuesKey) // if it stays, it is only read and set aside again
		}
		s.notices = append(s.notices, Notice{asidePrefix + "values", "Your own values were damaged and have been set aside. Readings are judged by the sheet that comes with the tool."})
		return nil
	}
	return own
}

// SetValues keeps the user's own acceptance values.
func (s *Store) SetValues(own map[string]unit.OwnLimit) error {
	text, err := json.Marshal(own)
	if err != nil {
		return fmt.Errorf("store: encoding values: %w", err)
	}
	if err := s.box.Set(valuesKey, string(text)); err != nil {
		return fmt.Errorf("store: saving values: %w", err)
	}
	return nil
}
